//! The fields that each kind of block knows: `WORD = …` under its heading.

use haunch_quantity::Dimension;
use haunch_syntax::{BlockKind, Sense};

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FieldKind {
    /// Words in quotes.
    Text,
    /// A quantity of this dimension.
    Quantity(Dimension),
    /// One or more quantities of this dimension.
    List(Dimension),
}

/// A field of a block.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub kind: FieldKind,
    /// The sense words of which one is required; none where it takes none.
    pub senses: &'static [Sense],
    /// What it means.
    pub meaning: &'static str,
}

impl Field {
    /// What the field is, without what the meaning says of special cases after a comma.
    pub(crate) fn in_short(&self) -> &'static str {
        self.meaning.split(',').next().unwrap_or(self.meaning)
    }
}

const fn text(name: &'static str, meaning: &'static str) -> Field {
    Field {
        name,
        kind: FieldKind::Text,
        senses: &[],
        meaning,
    }
}

const fn quantity(name: &'static str, dimension: Dimension, meaning: &'static str) -> Field {
    Field {
        name,
        kind: FieldKind::Quantity(dimension),
        senses: &[],
        meaning,
    }
}

const SHEET: &[Field] = &[
    text("title", "what is calculated"),
    text("project", "the project"),
    text("member", "the member's mark"),
    text("drawing", "the drawing that shows it"),
    text("revision", "the revision of this calculation"),
    text("prepared", "who prepared it, and when"),
    text("checked", "who checked it, when, and which revision"),
    text("approved", "who approved it, when, and which revision"),
];

const MATERIAL: &[Field] = &[
    quantity("E", Dimension::STRESS, "modulus of elasticity"),
    quantity("G", Dimension::STRESS, "shear modulus"),
    quantity("density", Dimension::DENSITY, "mass per volume"),
    quantity(
        "thermal_expansion",
        Dimension::THERMAL_EXPANSION,
        "coefficient of linear thermal expansion",
    ),
];

const FORCES: &[Field] = &[
    Field {
        name: "M",
        kind: FieldKind::Quantity(Dimension::MOMENT),
        senses: &[Sense::Sagging, Sense::Hogging],
        meaning: "bending moment about the x axis",
    },
    Field {
        name: "My",
        kind: FieldKind::Quantity(Dimension::MOMENT),
        senses: &[Sense::LeftInTension, Sense::RightInTension],
        meaning: "bending moment about the y axis",
    },
    quantity("V", Dimension::FORCE, "shear force along y"),
    Field {
        name: "N",
        kind: FieldKind::Quantity(Dimension::FORCE),
        senses: &[Sense::Tension, Sense::Compression],
        meaning: "axial force through the centroid",
    },
];

const BEAM: &[Field] = &[
    quantity("length", Dimension::LENGTH, "length of a beam of one span"),
    Field {
        name: "spans",
        kind: FieldKind::List(Dimension::LENGTH),
        senses: &[],
        meaning: "lengths of the spans from the start",
    },
    Field {
        name: "effective_length",
        kind: FieldKind::List(Dimension::LENGTH),
        senses: &[],
        meaning: "length between the points of inflexion when it buckles, about both axes or about x, y",
    },
];

/// The fields of a kind of block.
pub fn of(kind: BlockKind) -> &'static [Field] {
    match kind {
        BlockKind::Sheet => SHEET,
        BlockKind::Material => MATERIAL,
        BlockKind::Section => &[],
        BlockKind::Forces => FORCES,
        BlockKind::Beam => BEAM,
    }
}

/// A field by its name.
pub fn find(kind: BlockKind, name: &str) -> Option<&'static Field> {
    of(kind).iter().find(|field| field.name == name)
}

/// Whether a sense turns a magnitude negative: stress, axial force and moments are positive in
/// tension, sagging, and with the left side in tension.
pub(crate) fn is_negative(sense: Sense) -> bool {
    matches!(
        sense,
        Sense::Hogging | Sense::Compression | Sense::RightInTension
    )
}
