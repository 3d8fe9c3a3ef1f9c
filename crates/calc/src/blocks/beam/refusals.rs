//! Why a beam cannot be worked out, in an engineer's words.

use haunch_mechanics::beam::{BeamError, Mechanism, SupportKind};
use haunch_quantity::typed::Typed;

use super::reading::Reading;
use super::structure::Geometry;
use crate::finding::{Finding, Place};
use crate::findings;
use crate::line::LineId;

/// The finding for a beam or load case that the mechanics refuse; `load_lines` are the lines of the
/// case's loads.
pub(super) fn finding(
    reading: &Reading<'_>,
    geometry: &Geometry,
    load_lines: &[LineId],
    error: &BeamError,
) -> Finding {
    let context = reading.context;
    let name = context.name();
    let own = context.name_place();
    let line_place = |line: LineId| reading.line_place(line);
    let support_place = |index: usize| {
        let line = geometry.supports.get(index).and_then(|s| s.line);
        line.map_or(own, line_place)
    };
    let hinge_place = |index: usize| {
        geometry
            .hinges
            .get(index)
            .map_or(own, |hinge| line_place(hinge.line))
    };
    let hinge_text = |index: usize| {
        let hinge = geometry.hinges.get(index);
        let at = hinge.map(|hinge| reading.place_text(hinge.at.si(), &geometry.extent));
        format!("at {}", at.unwrap_or_default())
    };
    let load_place = |index: usize| load_lines.get(index).map_or(own, |line| line_place(*line));
    match error {
        BeamError::Mechanism(Mechanism::NothingHolds) => {
            findings::mechanism::nothing_holds(own, &name)
        }
        BeamError::Mechanism(Mechanism::TurnsAbout { support }) => {
            let at = geometry.supports.get(*support);
            let at = at.map(|s| reading.place_text(s.support.at.si(), &geometry.extent));
            findings::mechanism::turns(
                own,
                &name,
                support_place(*support),
                &format!("at {}", at.unwrap_or_default()),
            )
        }
        BeamError::Mechanism(Mechanism::Hinges { from, to, hinges }) => {
            let hinges: Vec<(Place, String)> = hinges
                .iter()
                .map(|&hinge| (hinge_place(hinge), hinge_text(hinge)))
                .collect();
            findings::mechanism::hinges(
                own,
                &name,
                &reading.place_text(from.si(), &geometry.extent),
                &reading.place_text(to.si(), &geometry.extent),
                &hinges,
            )
        }
        BeamError::SupportsCoincide { first, second } => findings::place::wrong(
            support_place(*second),
            "another support stands at this place. Keep one of the two.",
        )
        .with_related(support_place(*first), "the other support"),
        BeamError::HingesCoincide { first, second } => findings::place::wrong(
            hinge_place(*second),
            "another hinge is at this place. Keep one of the two.",
        )
        .with_related(hinge_place(*first), "the other hinge"),
        BeamError::HingeNotInside { hinge } => findings::place::wrong(
            hinge_place(*hinge),
            "a hinge joins two parts of a beam: its place is between the beam's ends.",
        ),
        BeamError::HingeAtFixedSupport { hinge, support } => findings::place::wrong(
            hinge_place(*hinge),
            "at a fixed support a hinge does not say which side is held. Make the support a pin, \
             or put the hinge beside it.",
        )
        .with_related(support_place(*support), "the fixed support"),
        BeamError::CoupleAtHinge { load, hinge, .. } => findings::place::wrong(
            load_place(*load),
            "a couple at a hinge does not say on which side it acts. Put it beside the hinge.",
        )
        .with_related(hinge_place(*hinge), "the hinge"),
        BeamError::LoadOutside { load, .. } => {
            findings::place::wrong(load_place(*load), "this load lies outside the beam.")
        }
        BeamError::LoadStretch { load, .. } => findings::place::wrong(
            load_place(*load),
            "a stretch ends after it begins: write the nearer place first.",
        ),
        BeamError::SupportOutside { support } => findings::place::wrong(
            support_place(*support),
            "this support lies outside the beam.",
        ),
        BeamError::SpringNotPositive { support } => findings::impossible_value::not_positive(
            support_place(*support),
            "the stiffness of a spring",
        ),
        BeamError::RigidityNeeded => {
            let is_spring =
                |s: &super::BeamSupport| matches!(s.support.kind, SupportKind::Spring(_));
            let what = if geometry.supports.iter().any(is_spring) {
                "stands on springs with"
            } else {
                "changes its section and has"
            };
            findings::missing_property::modulus(
                own,
                &format!("{name} {what} more supports than statics needs, and"),
                &super::section_name(context),
            )
        }
        BeamError::RigidityNeededFor { load, .. } => findings::missing_property::modulus(
            load_place(*load),
            &format!("this load on {name}, which has more supports than statics needs,"),
            &super::section_name(context),
        ),
        BeamError::Length
        | BeamError::RigidityNotPositive { .. }
        | BeamError::StretchPlace { .. }
        | BeamError::StretchesOverlap { .. }
        | BeamError::RigidityGap { .. }
        | BeamError::LoadNotFinite { .. }
        | BeamError::NoSuchSupport { .. }
        | BeamError::IllConditioned => findings::not_accurate::beam(own, &name),
    }
}
