//! Cases that another finite-element library computed, in millimetres, and the numerical solution of
//! Saint-Venant's problem held against them.

use haunch_mechanics::section::Section;
use haunch_mechanics::torsion::{SaintVenant, saint_venant};
use haunch_quantity::typed::{Length, Ratio, Typed};
use toml::Value;

pub(crate) fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

pub(crate) fn float(value: &Value) -> f64 {
    value.as_float().expect("a number")
}

pub(crate) fn mm(value: f64) -> Length {
    Length::from_si(value * 1e-3)
}

/// The larger of width and depth: the scale that a result with nothing left of it is measured by.
pub(crate) fn size(section: &Section) -> f64 {
    let bounds = section.bounds();
    bounds.width().si().max(bounds.depth().si()) * 1e3
}

/// The solution for a section, and what of it does not agree with a case. A result of the library is taken to be
/// off by up to twice what its last refinement changed; `warping` is the largest error that ours may state of the
/// warping constant.
pub(crate) fn torsion(section: &Section, case: &Value, warping: f64) -> (SaintVenant, Vec<String>) {
    let found = saint_venant(section, Ratio::from_si(1e-3)).expect("a solution");
    let mut wrong = Vec::new();
    let mut check = |what: &str, within: bool| {
        if !within {
            wrong.push(format!("{what} {found:?} {case:?}"));
        }
    };
    let expected = |key: &str| {
        let change = float(&case[format!("{key}_change").as_str()]);
        (float(&case[key]), change)
    };
    check("error", found.relative_error().si() <= 1e-3);
    // Theirs is an upper bound.
    let (constant, change) = expected("torsion_constant");
    check("least", found.least.si() * 1e12 <= constant);
    check(
        "greatest",
        found.greatest.si() * 1e12 >= constant - 2.0 * change,
    );
    // The errors that are told hold, and are small.
    let off = |found: f64, (expected, change): (f64, f64), own: f64| {
        (found - expected).abs() <= 2.0 * change + own
    };
    let own = found.shear_centre_error.si() * 1e3;
    check("shear centre error", own <= 1e-3 * size(section));
    let [x, y] = [found.shear_centre.x, found.shear_centre.y].map(|own| own.si() * 1e3);
    check("x", off(x, expected("shear_centre_x"), own));
    check("y", off(y, expected("shear_centre_y"), own));
    let own = found.warping_constant_error.si() * 1e18;
    let constant = found.warping_constant.si() * 1e18;
    check("warping", off(constant, expected("warping_constant"), own));
    check("warping error", own <= warping * constant);
    (found, wrong)
}
