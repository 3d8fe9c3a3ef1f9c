//! The shapes of the notation: their words, the order of their sizes, how they are written.

use haunch_mechanics::shapes::SizeName;

/// A shape that can be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ShapeKind {
    Rectangle,
    Circle,
    RoundTube,
    BoxTube,
    IShape,
    Tee,
    Channel,
    Zed,
    Angle,
    Triangle,
    Trapezium,
    Ellipse,
    QuarterFillet,
    Polygon,
    Rolled,
}

/// How a shape is written.
#[derive(Debug)]
pub(super) struct Form {
    pub(super) kind: ShapeKind,
    pub(super) words: &'static str,
    /// The sizes in their order; more than one list where their number may differ.
    pub(super) sizes: &'static [&'static [SizeName]],
    pub(super) details: &'static [DetailForm],
    /// What follows the name, and what it is.
    written: &'static str,
}

/// Sizes that follow a word.
#[derive(Debug)]
pub(super) struct DetailForm {
    pub(super) word: &'static str,
    pub(super) sizes: &'static [SizeName],
    pub(super) written: &'static str,
    /// Without it the shape is not known.
    pub(super) is_needed: bool,
}

const ROOT: DetailForm = DetailForm {
    word: "root",
    sizes: &[SizeName::RootRadius],
    written: "root R, the radius between web and flange or between the legs",
    is_needed: false,
};

const TOE: DetailForm = DetailForm {
    word: "toe",
    sizes: &[SizeName::ToeRadius],
    written: "toe R, the radius at the ends",
    is_needed: false,
};

use SizeName::{
    Apex, BottomThickness, BottomWidth, Diameter, FlangeThickness, Height, InnerRadius,
    OuterRadius, Radius, Slope, Thickness, TopThickness, TopWidth, WebThickness, Width,
};

static FORMS: &[Form] = &[
    Form {
        kind: ShapeKind::Rectangle,
        words: "rect",
        sizes: &[&[Width, Height]],
        details: &[],
        written: "B x H, its breadth and height",
    },
    Form {
        kind: ShapeKind::Circle,
        words: "circle",
        sizes: &[&[Diameter]],
        details: &[],
        written: "D, its diameter",
    },
    Form {
        kind: ShapeKind::RoundTube,
        words: "round tube",
        sizes: &[&[Diameter, Thickness]],
        details: &[],
        written: "D x T, its outer diameter and wall",
    },
    Form {
        kind: ShapeKind::BoxTube,
        words: "box tube",
        sizes: &[
            &[Width, Height, Thickness],
            &[Width, Height, WebThickness, FlangeThickness],
        ],
        details: &[
            DetailForm {
                word: "corner",
                sizes: &[OuterRadius],
                written: "corner R, the outer radius of its corners",
                is_needed: false,
            },
            DetailForm {
                word: "inner",
                sizes: &[InnerRadius],
                written: "inner R, the inner radius of its corners",
                is_needed: false,
            },
        ],
        written: "B x H x T, its breadth, height and wall, or B x H x W x F with the thickness of \
                  its upright and of its level walls",
    },
    Form {
        kind: ShapeKind::IShape,
        words: "I shape",
        sizes: &[&[TopWidth, Height, WebThickness, TopThickness]],
        details: &[
            DetailForm {
                word: "bottom",
                sizes: &[BottomWidth, BottomThickness],
                written: "bottom B x F, the breadth and thickness of another bottom flange",
                is_needed: false,
            },
            ROOT,
        ],
        written: "B x H x W x F, its breadth, height over all, web and flange thickness",
    },
    Form {
        kind: ShapeKind::Tee,
        words: "tee",
        sizes: &[&[Width, Height, WebThickness, FlangeThickness]],
        details: &[ROOT],
        written: "B x H x W x F, its breadth, height over all, web and flange thickness",
    },
    Form {
        kind: ShapeKind::Channel,
        words: "channel",
        sizes: &[&[Width, Height, WebThickness, FlangeThickness]],
        details: &[
            ROOT,
            TOE,
            DetailForm {
                word: "taper",
                sizes: &[Slope],
                written: "taper S, the slope of the inner faces of its flanges such as 8 %",
                is_needed: false,
            },
        ],
        written: "B x H x W x F, its breadth, height over all, web and flange thickness",
    },
    Form {
        kind: ShapeKind::Zed,
        words: "zed",
        sizes: &[&[Width, Height, WebThickness, FlangeThickness]],
        details: &[ROOT],
        written: "B x H x W x F, the breadth of each flange with the web, its height over all, web \
                  and flange thickness",
    },
    Form {
        kind: ShapeKind::Angle,
        words: "angle",
        sizes: &[&[Width, Height, Thickness]],
        details: &[ROOT, TOE],
        written: "B x H x T, the length of its level and its upright leg and their thickness",
    },
    Form {
        kind: ShapeKind::Triangle,
        words: "triangle",
        sizes: &[&[Width, Height]],
        details: &[DetailForm {
            word: "apex",
            sizes: &[Apex],
            written: "apex A, how far its apex is to the right of the left end of its base",
            is_needed: true,
        }],
        written: "B x H apex A, its base, its height, and how far its apex is to the right of the \
                  left end of the base",
    },
    Form {
        kind: ShapeKind::Trapezium,
        words: "trapezium",
        sizes: &[&[Width, TopWidth, Height]],
        details: &[],
        written: "B x T x H, its breadth at the bottom, its breadth at the top, and its height",
    },
    Form {
        kind: ShapeKind::Ellipse,
        words: "ellipse",
        sizes: &[&[Width, Height]],
        details: &[],
        written: "B x H, its breadth and height",
    },
    Form {
        kind: ShapeKind::QuarterFillet,
        words: "quarter fillet",
        sizes: &[&[Radius]],
        details: &[],
        written: "R, its radius",
    },
    Form {
        kind: ShapeKind::Polygon,
        words: "polygon",
        sizes: &[],
        details: &[],
        written: "(X, Y) (X, Y) (X, Y) and so on, its corners one after the other",
    },
    Form {
        kind: ShapeKind::Rolled,
        words: "rolled",
        sizes: &[],
        details: &[],
        written: "\"DESIGNATION\"",
    },
];

impl Form {
    /// The form of a shape's words; none for a shape that cannot be worked out.
    pub(super) fn of(words: &str) -> Option<&'static Form> {
        FORMS.iter().find(|form| form.words == words)
    }

    /// How it is written with a name, and what the sizes are.
    pub(super) fn written(&self, name: &str) -> String {
        format!("{} {name} {}", self.words, self.written)
    }

    /// A size in words.
    pub(super) fn said(&self, size: SizeName) -> &'static str {
        match (self.kind, size) {
            (ShapeKind::RoundTube, Diameter) => "outer diameter",
            (ShapeKind::RoundTube | ShapeKind::BoxTube, Thickness) => "wall",
            (ShapeKind::BoxTube, WebThickness) => "thickness of the upright walls",
            (ShapeKind::BoxTube, FlangeThickness) => "thickness of the level walls",
            (ShapeKind::Triangle, Width) => "base",
            (ShapeKind::Trapezium, Width) => "breadth at the bottom",
            (ShapeKind::Trapezium, TopWidth) => "breadth at the top",
            (_, Height) => "height",
            (_, Width) => "breadth",
            (_, TopWidth) => "breadth of the top flange",
            (_, BottomWidth) => "breadth of the bottom flange",
            (_, Thickness) => "thickness",
            (_, WebThickness) => "web thickness",
            (_, FlangeThickness) => "flange thickness",
            (_, TopThickness) => "thickness of the top flange",
            (_, BottomThickness) => "thickness of the bottom flange",
            (_, SizeName::RootRadius) => "root radius",
            (_, SizeName::ToeRadius) => "toe radius",
            (_, OuterRadius) => "outer corner radius",
            (_, InnerRadius) => "inner corner radius",
            (_, Radius) => "radius",
            (_, Diameter) => "diameter",
            (_, Slope) => "taper",
            (_, SizeName::MeasuredAt) => "place of the flange thickness",
            (_, Apex) => "apex",
        }
    }
}
