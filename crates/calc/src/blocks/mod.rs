//! Blocks: what the lines under a heading come to together.
//!
//! Each line of a block is worked out by itself ([`crate::outcome::Meaning::Line`] or a field's
//! value). The block takes those, the blocks that it refers to, and nothing else. If one of its
//! lines among geometry, material, supports or loads is broken, unknown or not supported, the
//! block has no results: each member keeps its dimension and loses its value.

pub(crate) mod context;
pub mod fields;
pub(crate) mod part_sizes;

mod beam;
pub mod fibre;
mod forces;
pub(crate) mod limits;
mod material;
mod members;
mod section;
mod sheet;
mod stated;

use std::sync::OnceLock;

use haunch_quantity::{Dimension, Preferences, Unit};
use haunch_syntax::BlockKind;
use haunch_text::Span;
use smol_str::SmolStr;

pub(crate) use beam::ScaledCase;
pub use beam::{
    AxisRigidities, BeamHinge, BeamLimit, BeamModel, BeamStretch, BeamSupport, BentSection,
    Buckling, BucklingLoads, Combination, LoadCase, Running, StandingWheels, StressWorking,
    WheelShare, WheelsWorking, WorstStanding,
};
pub(crate) use forces::ScaledForce;
pub use forces::{ForcesLimit, ForcesModel};
pub use material::MaterialModel;
pub use members::is_utilisation;
pub use section::{KernCorner, SectionModel, TableRow};

use crate::finding::Finding;
use crate::line::LineId;
use crate::outcome::Check;
use crate::value::{Evaluated, Kind};

pub(crate) use context::BlockContext;
use members::Members;

/// What a block comes to. Its results and what is shown at its lines follow from the model and are
/// worked out when they are asked for.
#[derive(Debug, Clone)]
pub struct BlockMeaning {
    /// The kind of block.
    pub kind: BlockKind,
    /// Its name; empty for `sheet`.
    pub name: SmolStr,
    /// What its results are computed from; none where a line of it is broken or unknown.
    pub model: Option<Model>,
    /// The checks that its limits state, in the order of their lines.
    pub checks: Vec<Check>,
    /// The stresses that a material, or a section without results, is known to limit.
    limited: Vec<material::StressLimit>,
    /// The results of forces and beams, kept once they were asked for; of beams without the utilisations.
    kept: OnceLock<Members>,
    /// The utilisations of beams, kept once they were asked for.
    kept_utilisations: OnceLock<Members>,
}

impl PartialEq for BlockMeaning {
    fn eq(&self, other: &BlockMeaning) -> bool {
        self.kind == other.kind
            && self.name == other.name
            && self.model == other.model
            && self.checks == other.checks
            && self.limited == other.limited
    }
}

/// What a block's results are computed from.
#[derive(Debug, Clone, PartialEq)]
pub enum Model {
    /// A sheet has no results.
    Sheet,
    /// A material.
    Material(MaterialModel),
    /// A cross section.
    Section(SectionModel),
    /// Forces on a section.
    Forces(ForcesModel),
    /// A beam.
    Beam(Box<BeamModel>),
}

/// Results to show at a line of a block, e.g. area and centroid at the end of a part's line.
#[derive(Debug, Clone, PartialEq)]
pub struct Annotation {
    /// The line.
    pub line: LineId,
    /// Labelled results in order, e.g. ("area", …).
    pub results: Vec<AnnotatedResult>,
}

/// One result to show at a line.
#[derive(Debug, Clone, PartialEq)]
pub struct AnnotatedResult {
    /// A short label in the trade's words; may be empty.
    pub label: SmolStr,
    /// The result.
    pub value: Evaluated,
    /// A word after the value, such as `tension` or `at 1.8 m`; may be empty.
    pub word: String,
    /// It is a utilisation and shown as a percentage.
    pub is_utilisation: bool,
}

impl AnnotatedResult {
    /// A labelled quantity without a word.
    pub(crate) fn new(label: &str, value: Evaluated) -> AnnotatedResult {
        AnnotatedResult {
            label: label.into(),
            value,
            word: String::new(),
            is_utilisation: false,
        }
    }
}

/// An argument of a block's function.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Argument {
    /// A quantity.
    Value(Evaluated),
    /// The name of a point of the section, dotted or not.
    Point(SmolStr),
}

/// Why a block's function gave nothing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum CallError {
    /// There is no such function.
    Unknown,
    /// An argument is wrong: its index and what is wrong, in words.
    Argument {
        /// Which argument.
        index: usize,
        /// What is wrong.
        message: String,
    },
    /// The arguments are right but there is no value there, and why.
    NoValue {
        /// The kind of the result.
        kind: Kind,
        /// Why.
        message: String,
    },
}

/// Why a result that a block of its kind can have is not among those of this one.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Absent {
    /// Something that it needs is missing.
    NoValue {
        /// The dimension that it would have.
        dimension: Dimension,
        /// What is missing, in words that go on a sentence.
        message: String,
    },
}

/// Everything that computing a block gives.
#[derive(Debug)]
pub(crate) struct BlockOutcome {
    pub(crate) meaning: BlockMeaning,
    pub(crate) findings: Vec<Finding>,
}

/// Computes a block of a kind from its lines.
pub(crate) fn compute(kind: BlockKind, context: &BlockContext<'_>) -> BlockOutcome {
    match kind {
        BlockKind::Sheet => sheet::compute(context),
        BlockKind::Material => material::compute(context),
        BlockKind::Section => section::compute(context),
        BlockKind::Forces => forces::compute(context),
        BlockKind::Beam => beam::compute(context),
    }
}

/// The words of the limits that a kind of block can state, each with the dimension of its bound.
pub fn limit_words(kind: BlockKind) -> Vec<(&'static str, Dimension)> {
    limits::stated_in(kind)
}

/// The kinds of a beam's supports.
pub fn support_words() -> &'static [&'static str] {
    &crate::findings::unknown_support::KINDS
}

/// What the editor shows at the lines of a block beside the lines' own values.
pub(crate) fn annotations(context: &BlockContext<'_>, block: &BlockMeaning) -> Vec<Annotation> {
    match &block.model {
        None | Some(Model::Sheet | Model::Material(_)) => Vec::new(),
        Some(Model::Section(model)) => section::annotations(context, model),
        Some(Model::Forces(model)) => forces::annotations(context, model, block),
        Some(Model::Beam(model)) => beam::annotations(context, model, &block.checks),
    }
}

/// What a block is, in words with an article.
pub(crate) fn describe(kind: BlockKind) -> &'static str {
    match kind {
        BlockKind::Sheet => "a sheet",
        BlockKind::Material => "a material",
        BlockKind::Section => "a section",
        BlockKind::Forces => "a set of forces",
        BlockKind::Beam => "a beam",
    }
}

/// The keyword of a block.
pub(crate) fn keyword(kind: BlockKind) -> &'static str {
    match kind {
        BlockKind::Sheet => "sheet",
        BlockKind::Material => "material",
        BlockKind::Section => "section",
        BlockKind::Forces => "forces",
        BlockKind::Beam => "beam",
    }
}

/// Whether a block's function takes the name of a point first.
pub(crate) fn takes_point(function: &str) -> bool {
    function == "stress" || forces::takes_name(function)
}

/// The kind of a result that is known by its name alone, while the block itself is not computed.
pub(crate) fn member_kind(kind: BlockKind, member: &str) -> Evaluated {
    let last = member.rsplit('.').next().unwrap_or(member);
    let dimension = match kind {
        BlockKind::Sheet => None,
        BlockKind::Material => material::member_dimension(last),
        BlockKind::Section => section::member_dimension(last),
        BlockKind::Forces => forces::member_dimension(last),
        BlockKind::Beam => beam::member_dimension(last),
    };
    dimension.map_or(Evaluated::UNKNOWN, Evaluated::dimension_only)
}

impl BlockMeaning {
    /// A block without results.
    pub(crate) fn without_results(kind: BlockKind, name: SmolStr) -> BlockMeaning {
        BlockMeaning {
            kind,
            name,
            model: None,
            checks: Vec::new(),
            limited: Vec::new(),
            kept: OnceLock::new(),
            kept_utilisations: OnceLock::new(),
        }
    }

    /// The stresses that it is known to limit, though it may have no results.
    fn stated(&self) -> Vec<material::StressLimit> {
        match &self.model {
            Some(Model::Section(section)) => limits::stated_by(section),
            _ => self.limited.clone(),
        }
    }

    /// The unit in which a result is shown where nothing else is said: places along a beam in that
    /// of its length, angles in the file's unit of angle or degrees. None for most results.
    pub fn unit_of(&self, member: &str, preferences: &Preferences) -> Option<Unit> {
        match &self.model {
            Some(Model::Beam(beam)) if beam::is_place(member) => beam.length_unit.clone(),
            Some(_) if matches!(member, "principal_angle" | "neutral_axis_angle") => {
                let listed = preferences.angle_unit().cloned();
                listed.or_else(|| Unit::parse("deg").ok())
            }
            _ => None,
        }
    }

    /// The names of the functions that give a result at a place.
    pub fn function_names(&self) -> Vec<SmolStr> {
        let names: &[&str] = match self.kind {
            BlockKind::Sheet | BlockKind::Material => &[],
            BlockKind::Section => section::FUNCTIONS,
            BlockKind::Forces => forces::FUNCTIONS,
            BlockKind::Beam => beam::FUNCTIONS,
        };
        names.iter().map(|name| SmolStr::new_static(name)).collect()
    }

    /// A result at a place, e.g. `M(1.2 m)`, `stress(A)`.
    pub(crate) fn call(&self, name: &str, arguments: &[Argument]) -> Result<Evaluated, CallError> {
        match self.kind {
            BlockKind::Sheet | BlockKind::Material => Err(CallError::Unknown),
            BlockKind::Section => section::call(self, name, arguments),
            BlockKind::Forces => forces::call(self, name, arguments),
            BlockKind::Beam => beam::call(self, name, arguments),
        }
    }

    /// Why a result that the block's kind knows is not there, though the block has results.
    pub(crate) fn absent(&self, name: &str) -> Option<Absent> {
        match &self.model {
            Some(Model::Section(model)) => section::absent(model, name),
            Some(Model::Forces(model)) => forces::absent(model, name),
            Some(Model::Beam(model)) => beam::absent(model, name),
            _ => None,
        }
    }
}

/// A stretch of a block's line, for findings.
pub(crate) fn whole_line(text: &str) -> Span {
    let end = text.trim_end().len();
    let start = text.len() - text.trim_start().len();
    Span::new(start.min(end), end)
}
