//! The worst places of a section for normal and shear stress together.

use haunch_mechanics::section::{Equivalent, ForcesAlong};
use haunch_quantity::Preferences;
use haunch_quantity::typed::{Length, Typed};
use smol_str::SmolStr;

use super::geometry::Geometry;
use crate::blocks::limits::place_text;
use crate::blocks::material::MaterialLimit;

/// The stress may be taken too high by this share and no more; else it has no value.
const EXCESS: f64 = 1e-4;

/// The worst place of the parts of one grade of material.
pub(crate) struct CriticalPlace {
    /// Pa, never too small; not a number where it was not found closely enough.
    pub(crate) stress: f64,
    /// The part and the level, in words.
    pub(crate) name: SmolStr,
    /// Along a beam, in m.
    pub(crate) at: f64,
    /// The limits of its material.
    pub(crate) limits: Vec<MaterialLimit>,
}

/// One place for each grade; none where a shear stress is not known.
pub(super) fn places(
    geometry: &Geometry,
    equivalent: Equivalent,
    stops: &[Length],
    forces: &dyn ForcesAlong,
) -> Vec<CriticalPlace> {
    let used = geometry.grades_used();
    let of_grade = |&grade: &usize| {
        let parts = geometry.parts_of(grade);
        let section = &geometry.section;
        let found = section.critical_stress(&parts, equivalent, stops, forces);
        let found = found.ok()?;
        let (stress, excess) = (found.stress.si(), found.excess.si());
        let level = place_text(found.place.y.si(), None, &Preferences::default());
        Some(CriticalPlace {
            stress: if excess <= EXCESS * stress {
                stress
            } else {
                f64::NAN
            },
            name: format!("{} at y = {level}", geometry.name(found.part)).into(),
            at: found.at.si(),
            limits: geometry.limits(found.part),
        })
    };
    used.iter().filter_map(of_grade).collect()
}
