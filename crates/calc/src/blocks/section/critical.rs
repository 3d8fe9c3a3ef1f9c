//! The worst places of a section for normal and shear stress together.

use std::sync::{Arc, OnceLock};

use haunch_mechanics::section::{Equivalent, ForcesAlong, StressGauge};
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
    pub(crate) limits: Arc<[MaterialLimit]>,
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

/// The stress of moment and shear together in the parts of each grade of material, by what is asked of
/// both; none where it is not known.
#[derive(Debug, Clone, Default)]
pub(super) struct Gauges {
    von_mises: OnceLock<Option<Vec<StressGauge>>>,
    greatest: OnceLock<Option<Vec<StressGauge>>>,
    least: OnceLock<Option<Vec<StressGauge>>>,
}

impl Geometry {
    /// In the order of the grades that are used.
    pub(super) fn gauges(&self, equivalent: Equivalent) -> Option<&[StressGauge]> {
        let gauges = match equivalent {
            Equivalent::VonMises => &self.gauges.von_mises,
            Equivalent::Greatest => &self.gauges.greatest,
            Equivalent::Least => &self.gauges.least,
        };
        let of_grade = |&grade: &usize| {
            let parts = self.parts_of(grade);
            self.section.stress_gauge(&parts, equivalent)
        };
        let known = gauges.get_or_init(|| self.grades_used().iter().map(of_grade).collect());
        known.as_deref()
    }
}
