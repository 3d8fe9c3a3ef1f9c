//! The beam in its level plane: how it is held there, and what acts sideways.
//!
//! Everything sideways is everything upright turned by a quarter: left takes the place of bottom and
//! down. So the moment is positive with the left in tension, loads and deflections are positive to
//! the left, reactions to the right, and the same equations are solved.

use haunch_mechanics::beam::{
    Analysis, Beam, BeamError, Load, Loading, Response, Stiffness, Stretch, SupportKind,
};
use haunch_quantity::typed::{Curvature, Length, Typed};

use super::loads::CaseLoads;
use super::reading::{Lines, Reading};
use super::refusals;
use super::stretches::{Sections, Turned};
use super::structure::{BeamSupport, Geometry};
use crate::finding::Finding;
use crate::findings;
use crate::line::LineId;

/// The beam in its level plane.
pub(super) struct Level {
    analysis: Analysis,
    /// With what holds it sideways in place of what holds it up.
    geometry: Geometry,
    /// The turned principal axes of its one section.
    turned: Option<Turned>,
}

/// Where the level plane stands.
pub(super) enum Plane {
    /// Nothing acts in it.
    Idle,
    /// The beam moves sideways, and how far is not worked out; without moments there.
    NotWorkedOut,
    /// It is worked out.
    Known(Box<Level>),
}

/// What a load case does in both planes.
pub(super) struct BothPlanes {
    pub(super) upright: Response,
    pub(super) sideways: Option<Response>,
}

/// The level plane of a beam. None where it takes the beam's results; the reason is told.
pub(super) fn plane(
    reading: &mut Reading<'_>,
    lines: &Lines<'_>,
    geometry: &Geometry,
    sections: &Sections,
    acts: bool,
    wheels: Option<LineId>,
    redundants: usize,
) -> Option<Plane> {
    let is_turned = sections.used().any(|bent| bent.moves_sideways);
    if !acts && !is_turned {
        return Some(Plane::Idle);
    }
    if let Some(line) = wheels.filter(|_| is_turned) {
        // The worst places of wheels are sought where the axes do not turn.
        if !acts && redundants == 0 && geometry.sideways.is_empty() {
            return Some(Plane::NotWorkedOut);
        }
        let place = reading.line_place(line);
        let name = reading.context.name();
        reading.refuse(findings::not_supported::wheels_on_turned_axes(place, &name));
        return None;
    }
    let on_springs = |s: &BeamSupport| matches!(s.support.kind, SupportKind::Spring(_));
    let springs = geometry.supports.iter().any(on_springs);
    let mut used = sections.used();
    let (first, more) = (used.next()?, used.next().is_some());
    let mut turned = None;
    if is_turned {
        if springs || more || !geometry.sideways.is_empty() {
            // Moments down are those of statics, and none arise sideways.
            if !acts && redundants == 0 && geometry.sideways.is_empty() {
                return Some(Plane::NotWorkedOut);
            }
            let what = "a section whose principal axes are turned, on a beam that springs hold, that \
                        is held another way sideways than up, or that has several sections,";
            let place = reading.context.name_place();
            reading.refuse(findings::not_supported::finding(place, what));
            return None;
        }
        turned = Some(first.turned?);
    }
    let level = held_sideways(geometry);
    let beam = Beam {
        length: Length::from_si(geometry.extent.length),
        supports: level.supports.iter().map(|s| s.support).collect(),
        hinges: level.hinges.iter().map(|hinge| hinge.at).collect(),
        stiffness: stiffness(sections),
    };
    match Analysis::new(&beam) {
        Ok(analysis) => Some(Plane::Known(Box::new(Level {
            analysis,
            geometry: level,
            turned,
        }))),
        Err(error) => {
            let load = lines.loads.iter().find(|line| {
                matches!(&line.tree.statement, haunch_syntax::Statement::Load(load) if load.sideways.is_some())
            });
            let finding = match (&error, load) {
                (BeamError::Mechanism(_), Some(load)) => {
                    findings::mechanism::sideways(load.whole(), &reading.context.name())
                }
                _ => refusals::finding(reading, &level, &[], &error),
            };
            reading.refuse(finding);
            None
        }
    }
}

/// What holds the beam sideways: every support but springs, and the lines that say `sideways`, which
/// also take the place of what a support holds sideways where they stand.
pub(super) fn held_sideways(geometry: &Geometry) -> Geometry {
    let extent = &geometry.extent;
    let is_said = |own: &BeamSupport| {
        let at = own.support.at.si();
        geometry
            .sideways
            .iter()
            .any(|said| extent.is_same(said.support.at.si(), at))
    };
    let is_spring = |own: &BeamSupport| matches!(own.support.kind, SupportKind::Spring(_));
    let both_ways = geometry.supports.iter();
    let both_ways = both_ways.filter(|own| !is_spring(own) && !is_said(own));
    let mut supports: Vec<BeamSupport> = both_ways.chain(&geometry.sideways).cloned().collect();
    supports.sort_by(|a, b| a.support.at.si().total_cmp(&b.support.at.si()));
    Geometry {
        supports,
        ..geometry.clone()
    }
}

/// What is known of the flexural rigidity against bending sideways.
fn stiffness(sections: &Sections) -> Stiffness {
    let of = |stretch: &super::BeamStretch| {
        Some(Stretch {
            from: stretch.from,
            to: stretch.to,
            rigidity: sections.all.get(stretch.section)?.rigidity_sideways?,
        })
    };
    let stretches: Option<Vec<Stretch>> = sections.stretches.iter().map(of).collect();
    match (stretches, sections.stretches.as_slice()) {
        (Some(stretches), _) => match stretches.as_slice() {
            [only] => Stiffness::Uniform(only.rigidity),
            _ => Stiffness::Stepped(stretches),
        },
        (None, [_]) => Stiffness::UnknownUniform,
        (None, _) => Stiffness::Unknown,
    }
}

impl Level {
    /// What holds the beam sideways, in order from the start.
    pub(super) fn supports(&self) -> &[BeamSupport] {
        &self.geometry.supports
    }

    /// What the loads do in both planes. With turned principal axes the curvatures are
    /// κ = (Iyy·M − Ixy·My)/(E·(Ixx·Iyy − Ixy²)) down and (Ixx·My − Ixy·M)/(E·(…)) to the left
    /// (unsymmetrical bending, as `haunch_mechanics::section`). A uniform beam that is held alike
    /// both ways then has the moments of either plane by itself, and its deflections are sums:
    /// those of the plane, and −Ixy/Ixx or −Ixy/Iyy of the other's. A settlement or free curvature
    /// in one plane is one in both, so that the sums come to what is imposed.
    pub(super) fn responses(
        &self,
        reading: &mut Reading<'_>,
        upright: &Analysis,
        geometry: &Geometry,
        case: &CaseLoads,
    ) -> Option<BothPlanes> {
        let mut down = case.actions.clone();
        let mut left = case.sideways.clone();
        let mut left_lines = case.sideways_lines.clone();
        let mut down_lines = case.lines.clone();
        if let Some(turned) = self.turned {
            let whole = 1.0 / (1.0 - turned.share);
            let also_left = imposed_also(&mut down, whole, turned.xy_over_y);
            let also_down = imposed_also(&mut left, whole, turned.xy_over_x);
            for (index, imposed) in also_left {
                left_lines.extend(case.lines.get(index));
                left.push(imposed);
            }
            for (index, imposed) in also_down {
                down_lines.extend(case.sideways_lines.get(index));
                down.push(imposed);
            }
        }
        let solve =
            |analysis: &Analysis, loads: Vec<Load>| analysis.response(0, &Loading { loads });
        let mut refuse = |error: &BeamError, geometry: &Geometry, lines: &[LineId]| {
            let finding: Finding = refusals::finding(reading, geometry, lines, error);
            reading.refuse(finding);
        };
        let upright = match solve(upright, down) {
            Ok(response) => response,
            Err(error) => {
                refuse(&error, geometry, &down_lines);
                return None;
            }
        };
        let sideways = match solve(&self.analysis, left) {
            Ok(response) => response,
            Err(error) => {
                refuse(&error, &self.geometry, &left_lines);
                return None;
            }
        };
        let Some(turned) = self.turned.filter(|_| upright.deflection().is_some()) else {
            return Some(BothPlanes {
                upright,
                sideways: Some(sideways),
            });
        };
        let both = (
            upright.bent_also_by(-turned.xy_over_x, &sideways),
            sideways.bent_also_by(-turned.xy_over_y, &upright),
        );
        let (Some(upright), Some(sideways)) = both else {
            refuse(&BeamError::IllConditioned, geometry, &case.lines);
            return None;
        };
        Some(BothPlanes {
            upright,
            sideways: Some(sideways),
        })
    }
}

/// Makes settlements and free curvatures `whole` times as large, and gives what each is in the other
/// plane, with its index.
fn imposed_also(loads: &mut [Load], whole: f64, across: f64) -> Vec<(usize, Load)> {
    let mut also = Vec::new();
    for (index, load) in loads.iter_mut().enumerate() {
        if let Some(imposed) = scaled_imposed(load, whole) {
            also.extend(scaled_imposed(&imposed, across).map(|other| (index, other)));
            *load = imposed;
        }
    }
    also
}

/// A settlement or a free curvature times a factor; none for other loads.
fn scaled_imposed(load: &Load, factor: f64) -> Option<Load> {
    match *load {
        Load::Settlement { support, down } => Some(Load::Settlement {
            support,
            down: Length::from_si(factor * down.si()),
        }),
        Load::Curvature { from, to, sagging } => Some(Load::Curvature {
            from,
            to,
            sagging: Curvature::from_si(factor * sagging.si()),
        }),
        _ => None,
    }
}
