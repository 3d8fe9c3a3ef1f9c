//! The judge of limits: which of several values comes nearest to its bound, whether it keeps it,
//! and what is printed. Forces blocks, beams and capacity searches judge through this page alone.
//!
//! # How a block uses it
//! 1. It lists the forces that its section is under as [`Action`]s: a forces block has one, a beam
//!    has the extremes of each combination.
//! 2. Every limit that applies is one [`StatedLimit`]: those of its own lines with
//!    [`StatedLimit::of_line`], and one for each subject that a material of its section limits
//!    with [`StatedLimit::of_materials`].
//! 3. [`StatedLimit::stress_demands`] gives what is compared; [`judge`] picks the governing one and
//!    gives the check, with a finding where it fails. Without demands the check is unknown.
//!
//! Own lines come first in a block's checks, so that `shelf.tension` is the block's own limit and
//! `shelf.tension.2` the material's.

use haunch_mechanics::section::{ForceRange, Forces};
use haunch_quantity::display::UTILISATION_TOLERANCE;
use haunch_quantity::typed::{Force, Length, Moment, Typed};
use haunch_quantity::{
    Dimension, Preferences, Quantity, Relation, Unit, format_against_limit, format_parts,
    format_utilisation, holds,
};
use haunch_syntax::BlockKind;
use smol_str::SmolStr;

use super::fibre::Fibre;
use super::material::{MaterialLimit, StressLimit};
use super::{BlockContext, SectionModel};
use crate::finding::{Finding, Place};
use crate::findings;
use crate::line::LineId;
use crate::outcome::Check;

/// What a limit is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitSubject {
    /// A stress of a section.
    Stress(StressLimit),
    /// The deflection of a beam, down or up.
    Deflection,
    /// The deflection of a beam sideways.
    SidewaysDeflection,
    /// The force with which a support pushes a beam up.
    Reaction,
    /// The force with which a support holds a beam down.
    Uplift,
    /// The force with which a support holds a beam sideways, either way.
    SidewaysReaction,
}

/// The stresses that can be limited, in the order of their checks.
pub(crate) const STRESSES: [StressLimit; 6] = [
    StressLimit::Tension,
    StressLimit::Compression,
    StressLimit::Shear,
    StressLimit::VonMises,
    StressLimit::PrincipalStress1,
    StressLimit::PrincipalStress2,
];

/// The words of the limits that a kind of block can state, each with the dimension of its bound.
pub(crate) fn stated_in(kind: BlockKind) -> Vec<(&'static str, Dimension)> {
    let stresses = STRESSES.map(LimitSubject::Stress);
    let of_beam = [
        LimitSubject::Deflection,
        LimitSubject::Reaction,
        LimitSubject::Uplift,
    ];
    let of_beam: &[LimitSubject] = match kind {
        BlockKind::Beam => &of_beam,
        _ => &[],
    };
    let subjects = stresses.iter().chain(of_beam);
    subjects
        .map(|subject| (subject.word(), subject.dimension()))
        .collect()
}

/// The stresses that the materials of a section limit.
pub(crate) fn stated_by(section: &SectionModel) -> Vec<StressLimit> {
    let is_stated = |stress: &StressLimit| {
        let limit = StatedLimit {
            subject: LimitSubject::Stress(*stress),
            bound: None,
            line: LineId(0),
        };
        limit.is_stated_by(section)
    };
    STRESSES.into_iter().filter(is_stated).collect()
}

impl LimitSubject {
    /// The subject of a limit's first word.
    pub(crate) fn from_word(word: &str) -> Option<LimitSubject> {
        match word {
            "deflection" => Some(LimitSubject::Deflection),
            "reaction" => Some(LimitSubject::Reaction),
            "uplift" => Some(LimitSubject::Uplift),
            word => StressLimit::from_word(word).map(LimitSubject::Stress),
        }
    }

    /// The same of what acts sideways; none where there is no such limit.
    pub(crate) fn sideways(self) -> Option<LimitSubject> {
        match self {
            LimitSubject::Deflection => Some(LimitSubject::SidewaysDeflection),
            LimitSubject::Reaction => Some(LimitSubject::SidewaysReaction),
            _ => None,
        }
    }

    /// Its word.
    pub(crate) fn word(self) -> &'static str {
        match self {
            LimitSubject::Stress(stress) => stress.word(),
            LimitSubject::Deflection => "deflection",
            LimitSubject::SidewaysDeflection => "deflection_sideways",
            LimitSubject::Reaction => "reaction",
            LimitSubject::Uplift => "uplift",
            LimitSubject::SidewaysReaction => "reaction_sideways",
        }
    }

    /// The dimension of its bound.
    pub(crate) fn dimension(self) -> Dimension {
        match self {
            LimitSubject::Stress(_) => Dimension::STRESS,
            LimitSubject::Deflection | LimitSubject::SidewaysDeflection => Dimension::LENGTH,
            LimitSubject::Reaction | LimitSubject::Uplift | LimitSubject::SidewaysReaction => {
                Dimension::FORCE
            }
        }
    }

    fn in_words(self) -> &'static str {
        match self {
            LimitSubject::Stress(StressLimit::Tension) => "the tensile stress",
            LimitSubject::Stress(StressLimit::Compression) => "the compressive stress",
            LimitSubject::Stress(StressLimit::Shear) => "the shear stress",
            LimitSubject::Stress(StressLimit::VonMises) => "the stress of von Mises",
            LimitSubject::Stress(StressLimit::PrincipalStress1) => "the greater principal stress",
            LimitSubject::Stress(StressLimit::PrincipalStress2) => {
                "the lesser principal stress, in compression,"
            }
            LimitSubject::Deflection => "the deflection",
            LimitSubject::SidewaysDeflection => "the sideways deflection",
            LimitSubject::Reaction => "the reaction",
            LimitSubject::Uplift => "the uplift",
            LimitSubject::SidewaysReaction => "the sideways reaction",
        }
    }

    /// The magnitude of a signed value that this limit looks at: a tensile stress is nothing to a
    /// limit on compression.
    pub(crate) fn magnitude(self, value: f64) -> f64 {
        match self {
            LimitSubject::Stress(StressLimit::Tension) | LimitSubject::Reaction => value.max(0.0),
            LimitSubject::Stress(StressLimit::Compression) | LimitSubject::Uplift => {
                (-value).max(0.0)
            }
            LimitSubject::Stress(_)
            | LimitSubject::Deflection
            | LimitSubject::SidewaysDeflection
            | LimitSubject::SidewaysReaction => value.abs(),
        }
    }
}

/// Forces on the section at one place, in SI units: axial force positive in tension, moment
/// positive sagging, moment about y positive with the left in tension, shear by its magnitude.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Action {
    pub(crate) axial: f64,
    pub(crate) moment: f64,
    pub(crate) moment_y: f64,
    pub(crate) shear: f64,
    /// Sideways shear by its magnitude; its stress is added to that of the upright shear.
    pub(crate) shear_sideways: f64,
    /// Where along a beam, in m from its start.
    pub(crate) at: Option<f64>,
    /// Under which combination.
    pub(crate) combination: Option<SmolStr>,
    /// Which spans are loaded and where wheels stand, in words.
    pub(crate) pattern: Option<SmolStr>,
}

impl Action {
    /// The same forces as the mechanics takes them.
    fn forces(&self) -> ForceRange {
        let forces = Forces {
            axial: Force::from_si(self.axial),
            moment_x: Moment::from_si(self.moment),
            moment_y: Moment::from_si(self.moment_y),
        };
        let sideways = Force::from_si(self.shear_sideways);
        ForceRange {
            shear_sideways: (sideways, sideways),
            ..ForceRange::constant(&forces, Force::from_si(self.shear))
        }
    }

    /// The stress that it gives at a fibre, Pa, positive in tension.
    pub(crate) fn stress_at(&self, fibre: &Fibre) -> f64 {
        self.axial * fibre.per_axial
            + self.moment * fibre.per_moment
            + self.moment_y * fibre.per_moment_y
    }
}

/// What a value is compared with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bound {
    /// What its magnitude may reach, in SI units, above zero.
    pub(crate) value: f64,
    /// Whether the bound itself is allowed.
    pub(crate) inclusive: bool,
    /// The line that states it.
    pub(crate) stated: LineId,
}

/// A value that is compared with a bound.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Demand {
    /// Signed, in SI units.
    pub(crate) value: f64,
    /// What its magnitude may reach, in SI units, above zero.
    pub(crate) bound: f64,
    /// Whether the bound itself is allowed.
    pub(crate) inclusive: bool,
    /// The line that states the bound.
    pub(crate) stated: LineId,
    /// The fibre or point of the section.
    pub(crate) point: Option<SmolStr>,
    /// The point is one that the file names; such a one is preferred to an extreme fibre at the
    /// same stress.
    pub(crate) is_named: bool,
    /// Where along a beam, in m from its start.
    pub(crate) at: Option<f64>,
    /// Under which combination.
    pub(crate) combination: Option<SmolStr>,
    /// Which spans are loaded and where wheels stand, in words.
    pub(crate) pattern: Option<SmolStr>,
}

impl Demand {
    /// How much of the bound is used.
    pub(crate) fn utilisation(&self, subject: LimitSubject) -> f64 {
        subject.magnitude(self.value) / self.bound
    }

    /// Whether the bound is kept.
    pub(crate) fn holds(&self, subject: LimitSubject) -> bool {
        let utilisation = self.utilisation(subject);
        if self.inclusive {
            holds(utilisation)
        } else {
            // What differs from the bound by rounding only has reached it.
            utilisation < 1.0 - UTILISATION_TOLERANCE
        }
    }

    /// Point, place and combination in words: `top, at 1.8 m, under strength`. Empty where none is
    /// known.
    pub(crate) fn place(&self, length_unit: Option<&Unit>, preferences: &Preferences) -> String {
        let at = self.at.map(|at| place_text(at, length_unit, preferences));
        let words = [
            ("", self.point.as_deref()),
            ("at ", at.as_deref()),
            ("under ", self.combination.as_deref()),
            ("", self.pattern.as_deref()),
        ];
        let mut text = String::new();
        for (before, word) in words {
            let Some(word) = word else { continue };
            if !text.is_empty() {
                text.push_str(", ");
            }
            text.push_str(before);
            text.push_str(word);
        }
        text
    }
}

/// A place along a beam, without the zeros that say nothing: `1.8 m`.
pub(crate) fn place_text(at: f64, unit: Option<&Unit>, preferences: &Preferences) -> String {
    // A wheel just beside a support is at the support to all who read it.
    const NOTHING: f64 = 1e-9;
    let at = if at.abs() < NOTHING { 0.0 } else { at };
    let Some(at) = Quantity::new(at, Dimension::LENGTH) else {
        return String::new();
    };
    let mut shown = format_parts(at, unit, preferences);
    if shown.digits.contains('.') && !shown.digits.contains('e') {
        let digits = shown.digits.trim_end_matches('0').trim_end_matches('.');
        shown.digits = digits.to_owned();
    }
    shown.to_string()
}

/// One limit of a block.
#[derive(Debug, Clone, PartialEq)]
pub struct StatedLimit {
    /// What is limited.
    pub subject: LimitSubject,
    /// The bound and whether it may be reached itself; none for the limits of the section's
    /// materials, where each fibre knows its own.
    pub bound: Option<(Quantity, bool)>,
    /// The line of the check: the limit's own, or the block's heading.
    pub line: LineId,
}

impl StatedLimit {
    /// A limit of the block's own line.
    pub(crate) fn of_line(
        subject: LimitSubject,
        bound: Quantity,
        inclusive: bool,
        line: LineId,
    ) -> StatedLimit {
        StatedLimit {
            subject,
            bound: Some((bound, inclusive)),
            line,
        }
    }

    /// The limits that the materials of sections state, one for each subject.
    pub(crate) fn of_materials(sections: &[&SectionModel], heading: LineId) -> Vec<StatedLimit> {
        STRESSES
            .into_iter()
            .map(|subject| StatedLimit {
                subject: LimitSubject::Stress(subject),
                bound: None,
                line: heading,
            })
            .filter(|limit| sections.iter().any(|section| limit.is_stated_by(section)))
            .collect()
    }

    /// Why the section's materials give no bound, where they state this limit by thickness, in
    /// words that go on a sentence.
    pub(crate) fn no_strength<'a>(&self, section: &'a SectionModel) -> Option<&'a str> {
        match self.subject {
            LimitSubject::Stress(subject) if self.bound.is_none() => section.no_strength(subject),
            _ => None,
        }
    }

    /// Why the limit cannot be worked out for a section, in words that go on a sentence.
    pub(crate) fn unknown_in<'a>(&self, section: &'a SectionModel) -> Option<&'a str> {
        let no_strength = self.no_strength(section);
        let LimitSubject::Stress(subject) = self.subject else {
            return None;
        };
        no_strength.or_else(|| {
            let no_shear = section.no_shear.as_deref();
            no_shear.filter(|_| subject.needs_shear())
        })
    }

    /// Whether a material of the section limits this stress.
    pub(crate) fn is_stated_by(&self, section: &SectionModel) -> bool {
        if self.no_strength(section).is_some() {
            return true;
        }
        let fibres = section.fibres.iter().flat_map(|fibre| fibre.limits.iter());
        let mut stated = fibres.chain(section.shear.iter().flat_map(|place| place.limits.iter()));
        stated.any(|limit| LimitSubject::Stress(limit.subject) == self.subject)
    }

    /// The bound of this limit, or each of those that the material states.
    pub(crate) fn bounds<'a>(
        &'a self,
        limits: &'a [MaterialLimit],
    ) -> impl Iterator<Item = Bound> + 'a {
        let own = self.bound.map(|(bound, inclusive)| Bound {
            value: bound.si(),
            inclusive,
            stated: self.line,
        });
        let of_material = limits.iter().filter(move |limit| {
            own.is_none() && LimitSubject::Stress(limit.subject) == self.subject
        });
        let of_material = of_material.map(|limit| Bound {
            value: limit.bound.si(),
            inclusive: limit.inclusive,
            stated: limit.line,
        });
        own.into_iter().chain(of_material)
    }

    /// The stresses that this limit is compared with, at every fibre and under every action. None
    /// for a limit on deflection.
    pub(crate) fn stress_demands(&self, section: &SectionModel, actions: &[Action]) -> Vec<Demand> {
        let mut demands = Vec::new();
        self.add_stress_demands(section, actions, &mut demands);
        demands
    }

    /// Adds them to others.
    pub(crate) fn add_stress_demands(
        &self,
        section: &SectionModel,
        actions: &[Action],
        demands: &mut Vec<Demand>,
    ) {
        let LimitSubject::Stress(subject) = self.subject else {
            return;
        };
        if self.no_strength(section).is_some() {
            return;
        }
        demands.reserve(actions.len() * section.fibres.len());
        for action in actions {
            let mut compare =
                |value: f64, limits: &[MaterialLimit], point: Option<&SmolStr>, is_named: bool| {
                    demands.extend(self.bounds(limits).map(|bound| Demand {
                        value,
                        bound: bound.value,
                        inclusive: bound.inclusive,
                        stated: bound.stated,
                        point: point.cloned(),
                        is_named,
                        at: action.at,
                        combination: action.combination.clone(),
                        pattern: action.pattern.clone(),
                    }));
                };
            if let Some(equivalent) = subject.together() {
                let zero = Length::from_si(0.0);
                for place in section.critical(equivalent, &[zero, zero], &action.forces()) {
                    compare(place.stress, &place.limits, Some(&place.name), false);
                }
            } else if subject == StressLimit::Shear {
                for place in &section.shear {
                    let value = (action.shear * place.per_shear).abs()
                        + (action.shear_sideways * place.per_shear_sideways).abs();
                    compare(value, &place.limits, None, false);
                }
            } else {
                for fibre in &section.fibres {
                    let stress = action.stress_at(fibre);
                    compare(
                        stress,
                        &fibre.limits,
                        Some(&fibre.name),
                        fibre.point.is_some(),
                    );
                }
            }
        }
    }
}

/// Utilisations that differ by less than this share differ by rounding only.
const EQUAL: f64 = 1e-12;

/// The demand that comes nearest to its bound or goes farthest beyond, with its utilisation. Among
/// equals the choice depends on names and places, never on the order of lines. None without
/// demands, or where a utilisation is no number.
pub(crate) fn governing(subject: LimitSubject, demands: &[Demand]) -> Option<(&Demand, f64)> {
    let mut largest = 0.0_f64;
    for demand in demands {
        let utilisation = demand.utilisation(subject);
        if !utilisation.is_finite() {
            return None;
        }
        largest = largest.max(utilisation);
    }
    let nearest = demands
        .iter()
        .filter(|demand| demand.utilisation(subject) >= largest * (1.0 - EQUAL));
    let chosen = nearest.min_by(|a, b| {
        let key = |demand: &Demand| (demand.holds(subject), !demand.is_named);
        key(a)
            .cmp(&key(b))
            .then_with(|| a.point.cmp(&b.point))
            .then_with(|| a.at.unwrap_or(0.0).total_cmp(&b.at.unwrap_or(0.0)))
            .then_with(|| a.combination.cmp(&b.combination))
            .then_with(|| a.pattern.cmp(&b.pattern))
            .then_with(|| a.value.total_cmp(&b.value))
            .then_with(|| a.bound.total_cmp(&b.bound))
    })?;
    Some((chosen, largest))
}

/// How the values of one check are printed, and where its finding stands.
pub(crate) struct Judgement<'a> {
    /// The block that the limit applies to.
    pub(crate) block: &'a BlockContext<'a>,
    /// Where a finding stands: the limit's line, or the block's name for a material's limit.
    pub(crate) place: Place,
    /// The unit in which the limit was written.
    pub(crate) unit: Option<&'a Unit>,
    /// The unit of places along a beam.
    pub(crate) length_unit: Option<&'a Unit>,
}

/// The check of a limit, and the finding where it is not kept.
pub(crate) fn judge(
    limit: &StatedLimit,
    demands: &[Demand],
    judgement: &Judgement<'_>,
) -> (Check, Option<Finding>) {
    let subject = limit.subject;
    let preferences = judgement.block.preferences;
    let mut check = unknown_check(&judgement.block.name(), subject, limit.line);
    let Some((demand, utilisation)) = governing(subject, demands) else {
        let finding = demands
            .iter()
            .any(|demand| !demand.value.is_finite())
            .then(|| findings::not_accurate::critical(judgement.place, subject.in_words()));
        return (check, finding);
    };
    let dimension = subject.dimension();
    let (Some(value), Some(bound)) = (
        Quantity::new(subject.magnitude(demand.value), dimension),
        Quantity::new(demand.bound, dimension),
    ) else {
        return (check, None);
    };
    let verdict = demand.holds(subject);
    let relation = if demand.inclusive {
        Relation::AtMost
    } else {
        Relation::Below
    };
    let (value, bound) =
        format_against_limit(value, bound, relation, verdict, judgement.unit, preferences);
    let sign = if demand.inclusive { "<=" } else { "<" };
    check.text = format!("{value} {sign} {bound}");
    check.utilisation = Some(utilisation);
    check.holds = Some(verdict);
    if utilisation > 0.0 {
        let place = demand.place(judgement.length_unit, preferences);
        check.place = (!place.is_empty()).then_some(place);
    }
    if verdict {
        return (check, None);
    }
    let used = format_utilisation(utilisation, preferences.digits());
    let mut finding = findings::limit_exceeded::finding(
        judgement.place,
        &check,
        subject.in_words(),
        (&value.to_string(), &bound.to_string()),
        demand.inclusive,
        &used.to_string(),
    );
    if demand.stated != limit.line {
        let text = judgement
            .block
            .state
            .cell(demand.stated)
            .map(|cell| &*cell.text);
        let stated = Place {
            line: demand.stated,
            span: super::whole_line(text.unwrap_or_default()),
        };
        finding = finding.with_related(stated, format!("{bound} is the limit stated here."));
    }
    (check, Some(finding))
}

/// The check of a limit that could not be compared with anything.
pub(crate) fn unknown_check(block: &str, subject: LimitSubject, line: LineId) -> Check {
    Check {
        kind: subject.word(),
        name: format!("{block}.{}", subject.word()),
        utilisation: None,
        holds: None,
        place: None,
        text: String::new(),
        line,
    }
}

/// The demands on one limit, with the name of its check: what a capacity search looks at.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LimitDemands {
    /// The name of the check.
    pub(crate) name: String,
    /// What is limited.
    pub(crate) subject: LimitSubject,
    /// What is compared.
    pub(crate) demands: Vec<Demand>,
}
