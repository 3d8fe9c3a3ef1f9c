//! The limits of the materials for the walls of each part.
//!
//! Nominal strength falls with the thickness of an element as it was rolled, and standards state it by
//! ranges of thickness (EN 10025-2, EN 1993-1-1 table 3.1). Of the limits that a material states for
//! a thickness, each wall of a part has the one whose range is the first to reach it, and the part
//! has those of all its walls. A wall beyond every range has no strength.

use std::sync::Arc;

use haunch_quantity::{Preferences, Quantity};

use super::materials::Material;
use crate::blocks::limits::{STRESSES, place_text};
use crate::blocks::material::{MaterialLimit, StressLimit};

/// A wall as thick as the end of a range but for rounding belongs to it.
const SAME_THICKNESS: f64 = 1e-12;

/// Parts of one material with the same limits.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Grade {
    /// The index of the material.
    pub(super) material: usize,
    pub(super) limits: Arc<[MaterialLimit]>,
}

/// A stress that a material limits by thickness, but not for the walls of a part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NoStrength {
    pub(super) subject: StressLimit,
    /// In words that go on a sentence.
    pub(super) reason: String,
}

/// The limits for a part whose walls have these thicknesses, in m; none where they are not known.
pub(super) fn of_part(
    material: &Material,
    part: &str,
    walls: Option<&[f64]>,
) -> (Arc<[MaterialLimit]>, Vec<NoStrength>) {
    let mut limits = Vec::new();
    let mut lacking = Vec::new();
    for limit in material.limits.iter() {
        let is_meant = match limit.up_to {
            None => true,
            Some(up_to) => walls.is_some_and(|walls| {
                let is_own =
                    |wall: &f64| first_reaching(material, limit.subject, *wall) == Some(up_to.si());
                walls.iter().any(is_own)
            }),
        };
        if is_meant {
            limits.push(limit.clone());
        }
    }
    for subject in STRESSES {
        let Some(last) = ranges(material, subject).reduce(f64::max) else {
            continue;
        };
        let thickest = walls.and_then(|walls| walls.iter().copied().reduce(f64::max));
        let reason = match thickest {
            None => format!(
                "{} states its limit on {} by thickness, and the thickness of {part} is not known \
                 from its shape",
                material.name,
                subject.word()
            ),
            Some(wall) if first_reaching(material, subject, wall).is_none() => format!(
                "{part} is {} thick, and {} states its limit on {} up to {} only",
                text(wall),
                material.name,
                subject.word(),
                text(last)
            ),
            Some(_) => continue,
        };
        lacking.push(NoStrength { subject, reason });
    }
    // Most materials state no thickness: then their limits are shared, not copied.
    let limits = match limits.len() == material.limits.len() {
        true => material.limits.clone(),
        false => limits.into(),
    };
    (limits, lacking)
}

/// The ends of the ranges of thickness for one stress, m.
fn ranges(material: &Material, subject: StressLimit) -> impl Iterator<Item = f64> + '_ {
    let own = material.limits.iter();
    own.filter(move |limit| limit.subject == subject)
        .filter_map(|limit| limit.up_to.map(Quantity::si))
}

/// The end of the first range that reaches a thickness.
fn first_reaching(material: &Material, subject: StressLimit, wall: f64) -> Option<f64> {
    ranges(material, subject)
        .filter(|end| wall <= end * (1.0 + SAME_THICKNESS))
        .reduce(f64::min)
}

fn text(length: f64) -> String {
    place_text(length, None, &Preferences::default())
}
