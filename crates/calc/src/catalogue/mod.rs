//! The standard results of the trade as data, and how a line is found among them.
//!
//! An [`Entry`] is a formula in the notation itself, with its name in the trade's words, the shape or
//! case that it belongs to, and its source; its letters are those of [`symbols`]. A line is brought to
//! normal form (`form`) and looked up by what of that does not depend on names and constants
//! (`Form::signature`); what is found is then renamed into the line, symbols of one dimension for each
//! other (`matching`). What the names of the line say (`names`) tells apart what the form cannot.
//!
//! The sources are named from memory: `tests/catalogue.rs` compares each formula with a section or beam of the
//! program, `tests/derived` with what integration comes to.
//!
//! The index is built once, from the table alone; a lookup reads nothing but its line.

mod beams;
mod columns;
mod form;
mod index;
mod matching;
pub(crate) mod names;
mod plane_shapes;
mod stresses;
pub mod symbols;
mod written;

pub(crate) use index::Known;
pub(crate) use written::{Candidate, Written, stated};

use haunch_quantity::Dimension;

use crate::snapshot::LineView;

/// A standard result.
#[derive(Debug)]
pub struct Entry {
    /// The shape or the case of a beam that it belongs to.
    pub shape: Shape,
    /// What it is, in the trade's words.
    pub name: &'static str,
    /// The formula in the notation, and the same by other sizes.
    pub formulas: &'static [&'static str],
    /// Where it is published.
    pub source: &'static str,
    /// What is written for it by mistake: a power outside the parentheses in place of inside, a sign,
    /// a factor left out. None of these is another standard result.
    mistaken: &'static [&'static str],
    /// Seldom used: under a name that does not say what it gives, a slip is likelier.
    only_when_said: bool,
}

/// What a formula belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Any section or member.
    Any,
    /// A rectangle or a square.
    Rectangle,
    /// A hollow rectangle, or an I with equal flanges.
    HollowRectangle,
    /// A triangle.
    Triangle,
    /// A rhombus.
    Rhombus,
    /// A trapezium.
    Trapezium,
    /// A circle.
    Circle,
    /// A tube with a wall of any thickness.
    Tube,
    /// A tube with a thin wall, by its middle line.
    ThinTube,
    /// Half of a circle.
    Semicircle,
    /// A quarter of a circle.
    Quadrant,
    /// An ellipse.
    Ellipse,
    /// A thin rectangle in torsion.
    ThinPlate,
    /// A thin wall that closes.
    Cell,
    /// Another plane shape.
    Other,
    /// A beam on two simple supports.
    Simple,
    /// A beam fixed at one end.
    Cantilever,
    /// A beam with an overhang.
    Overhang,
    /// A beam fixed at both ends.
    Fixed,
    /// A beam fixed at one end and supported at the other; two equal spans.
    Propped,
    /// A column.
    Column,
}

impl Shape {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Shape::Any => "any",
            Shape::Rectangle => "rectangle",
            Shape::HollowRectangle => "hollow rectangle, I",
            Shape::Triangle => "triangle",
            Shape::Rhombus => "rhombus",
            Shape::Trapezium => "trapezium",
            Shape::Circle => "circle",
            Shape::Tube => "tube",
            Shape::ThinTube => "thin tube",
            Shape::Semicircle => "semicircle",
            Shape::Quadrant => "quarter of a circle",
            Shape::Ellipse => "ellipse",
            Shape::ThinPlate => "thin rectangle",
            Shape::Cell => "closed thin wall",
            Shape::Other => "other",
            Shape::Simple => "simple beam",
            Shape::Cantilever => "cantilever",
            Shape::Overhang => "overhang",
            Shape::Fixed => "beam fixed at both ends",
            Shape::Propped => "propped cantilever",
            Shape::Column => "column",
        }
    }

    /// Whether it is a plane figure of its own.
    pub(crate) fn is_plane(self) -> bool {
        !self.is_beam() && !matches!(self, Shape::Any | Shape::Column)
    }

    pub(crate) fn is_beam(self) -> bool {
        matches!(
            self,
            Shape::Simple | Shape::Cantilever | Shape::Overhang | Shape::Fixed | Shape::Propped
        )
    }
}

/// What a formula gives, as far as a name on the left can tell it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Gives {
    Area,
    Centroid,
    SecondMoment,
    PolarMoment,
    TorsionConstant,
    SectionModulus,
    PlasticModulus,
    TorsionModulus,
    FirstMoment,
    Gyration,
    NormalStress,
    Equivalent,
    ShearStress,
    ShearFlow,
    Moment,
    Reaction,
    Deflection,
    Slope,
    CriticalLoad,
    ShearModulus,
    Other,
}

impl Gives {
    pub(crate) const ALL: [Gives; 21] = [
        Gives::Area,
        Gives::Centroid,
        Gives::SecondMoment,
        Gives::PolarMoment,
        Gives::TorsionConstant,
        Gives::SectionModulus,
        Gives::PlasticModulus,
        Gives::TorsionModulus,
        Gives::FirstMoment,
        Gives::Gyration,
        Gives::NormalStress,
        Gives::Equivalent,
        Gives::ShearStress,
        Gives::ShearFlow,
        Gives::Moment,
        Gives::Reaction,
        Gives::Deflection,
        Gives::Slope,
        Gives::CriticalLoad,
        Gives::ShearModulus,
        Gives::Other,
    ];

    /// The dimension of it, where it has one.
    pub(crate) fn dimension(self) -> Option<Dimension> {
        Some(match self {
            Gives::Area => Dimension::AREA,
            Gives::Centroid | Gives::Gyration | Gives::Deflection => Dimension::LENGTH,
            Gives::SecondMoment | Gives::PolarMoment | Gives::TorsionConstant => {
                Dimension::SECOND_MOMENT_OF_AREA
            }
            Gives::SectionModulus
            | Gives::PlasticModulus
            | Gives::TorsionModulus
            | Gives::FirstMoment => Dimension::FIRST_MOMENT_OF_AREA,
            Gives::NormalStress | Gives::Equivalent | Gives::ShearStress | Gives::ShearModulus => {
                Dimension::STRESS
            }
            Gives::ShearFlow => Dimension::FORCE_PER_LENGTH,
            Gives::Moment => Dimension::MOMENT,
            Gives::Reaction | Gives::CriticalLoad => Dimension::FORCE,
            Gives::Slope => Dimension::RATIO,
            Gives::Other => return None,
        })
    }

    /// What the letter on the left of an entry stands for.
    fn of(letter: &str) -> Gives {
        match letter {
            "A" => Gives::Area,
            "ybar" => Gives::Centroid,
            "I" => Gives::SecondMoment,
            "I_p" => Gives::PolarMoment,
            "J" => Gives::TorsionConstant,
            "W" => Gives::SectionModulus,
            "W_pl" => Gives::PlasticModulus,
            "W_t" => Gives::TorsionModulus,
            "Q" => Gives::FirstMoment,
            "i" => Gives::Gyration,
            "sigma" | "sigma_1" | "sigma_cr" => Gives::NormalStress,
            "sigma_v" => Gives::Equivalent,
            "tau" | "tau_1" => Gives::ShearStress,
            "q" => Gives::ShearFlow,
            "M" => Gives::Moment,
            "R_1" => Gives::Reaction,
            "v" => Gives::Deflection,
            "theta" | "phi" => Gives::Slope,
            "N_cr" => Gives::CriticalLoad,
            "G" => Gives::ShearModulus,
            _ => Gives::Other,
        }
    }
}

const fn entry(
    shape: Shape,
    name: &'static str,
    formulas: &'static [&'static str],
    source: &'static str,
) -> Entry {
    Entry {
        shape,
        name,
        formulas,
        source,
        mistaken: &[],
        only_when_said: false,
    }
}

impl Entry {
    const fn mistaken(mut self, mistaken: &'static [&'static str]) -> Entry {
        self.mistaken = mistaken;
        self
    }

    const fn when_said(mut self) -> Entry {
        self.only_when_said = true;
        self
    }
}

/// Every entry, those of one subject together.
pub fn entries() -> impl Iterator<Item = &'static Entry> {
    [
        plane_shapes::ENTRIES,
        stresses::ENTRIES,
        beams::ENTRIES,
        columns::ENTRIES,
    ]
    .into_iter()
    .flatten()
}

/// The standard results that the formula of a value line is, the likeliest first; none where it is
/// none, or too plain for its name to tell.
pub fn named(line: LineView<'_>) -> Vec<&'static Entry> {
    let outcome = line.outcome();
    Written::of(line.tree(), line.text(), &outcome.expressions)
        .map(|written| written.named())
        .unwrap_or_default()
}
