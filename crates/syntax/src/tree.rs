//! The tree of one logical line.
//!
//! A line is read by itself: nothing here depends on another line. Every span is in bytes from the
//! start of the logical line (a line with its continuations). Expressions live in one arena per
//! line, children before their parents, so that no depth of nesting can exhaust a stack: walk
//! them in order of their ids.

use haunch_text::Span;
use smol_str::SmolStr;

/// A word as written, with its place. Compared in Unicode normal form C.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Name {
    /// The name in normal form C.
    pub text: SmolStr,
    /// Where it stands.
    pub span: Span,
}

/// The index of an expression in [`Tree::expressions`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ExpressionId(pub u32);

/// One logical line, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Tree {
    /// Whether the line starts with white space (then it belongs to the heading above).
    pub indented: bool,
    /// What the line says.
    pub statement: Statement,
    /// The expressions of the line, children before parents.
    pub expressions: Vec<Expression>,
    /// A trailing or whole-line comment, with its `#`.
    pub comment: Option<Span>,
    /// What could not be read. With any of these the statement may be [`Statement::Broken`].
    pub errors: Vec<SyntaxError>,
}

impl Tree {
    /// An expression out of the parentheses around it.
    pub fn inside(&self, mut id: ExpressionId) -> ExpressionId {
        while let Some(ExpressionKind::Group(inner)) =
            self.expressions.get(id.0 as usize).map(|own| &own.kind)
        {
            id = *inner;
        }
        id
    }

    /// Gives back the room that lists took while they grew: a file keeps a tree for each line.
    pub(crate) fn shrink(&mut self) {
        self.expressions.shrink_to_fit();
        for expression in &mut self.expressions {
            match &mut expression.kind {
                ExpressionKind::Literal(literal) => literal.parts.shrink_to_fit(),
                ExpressionKind::Path(path) => {
                    path.names.shrink_to_fit();
                    if let Some(arguments) = &mut path.arguments {
                        arguments.shrink_to_fit();
                    }
                }
                _ => {}
            }
        }
    }
}

/// An expression node.
#[derive(Debug, Clone, PartialEq)]
pub struct Expression {
    /// What it is.
    pub kind: ExpressionKind,
    /// Where it stands, parentheses of its own not included.
    pub span: Span,
}

/// What an expression is.
#[derive(Debug, Clone, PartialEq)]
pub enum ExpressionKind {
    /// A number with or without a unit: `12 kN`, `3/4 in`, `6 ft 3 in`, `1.5`.
    Literal(Literal),
    /// A name or a dotted path, calls included: `t`, `rail.ybar`, `sqrt(a)`, `hoist.M(1 m)`.
    Path(Path),
    /// `-a`
    Negate(ExpressionId),
    /// `not a`
    Not(ExpressionId),
    /// `(a)`, its span includes both parentheses.
    Group(ExpressionId),
    /// `a + b` and the like, also `and`, `or`.
    Binary {
        /// The operator.
        operator: BinaryOperator,
        /// Where the operator stands.
        operator_span: Span,
        /// Left operand.
        left: ExpressionId,
        /// Right operand.
        right: ExpressionId,
    },
    /// `a <= b`; comparisons are not chained.
    Compare {
        /// The relation.
        relation: Relation,
        /// Where the relation stands.
        relation_span: Span,
        /// Left side.
        left: ExpressionId,
        /// Right side.
        right: ExpressionId,
    },
    /// `a²`: a superscript power; the exponent is a whole number.
    Superscript {
        /// What is raised.
        base: ExpressionId,
        /// The power.
        exponent: i32,
        /// Where the superscript digits stand.
        exponent_span: Span,
    },
    /// `if c then a else b`
    Choice {
        /// The condition.
        condition: ExpressionId,
        /// The value where it holds.
        then: ExpressionId,
        /// The value where it does not.
        otherwise: ExpressionId,
    },
}

/// A number with or without a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Literal {
    /// One part for `12 kN`, two for `6 ft 3 in`.
    pub parts: Vec<LiteralPart>,
}

/// One number and its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct LiteralPart {
    /// The number.
    pub number: Number,
    /// Where the number stands.
    pub number_span: Span,
    /// The unit's chain as written, e.g. `kN/m`.
    pub unit: Option<UnitText>,
}

/// A number as written.
#[derive(Debug, Clone, PartialEq)]
pub enum Number {
    /// Decimal text such as `1.5e3`, without white space or separators.
    Decimal(SmolStr),
    /// `3/4` or `3 1/2` before a unit: whole numbers all.
    Fraction {
        /// The whole number before the fraction.
        whole: Option<SmolStr>,
        /// Above the stroke.
        numerator: SmolStr,
        /// Below the stroke.
        denominator: SmolStr,
    },
}

/// A unit as written.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitText {
    /// The chain as written, e.g. `kN*m`, `mm⁴`.
    pub text: SmolStr,
    /// Where it stands.
    pub span: Span,
    /// Words after the first `*`, `·` or `/`: each could also be the name of a value.
    pub later_words: Vec<Name>,
}

/// `a.b(c).d`: a name, then members and calls.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// The names, first the outermost; never empty.
    pub names: Vec<Name>,
    /// Arguments after the last name: `None` without parentheses.
    pub arguments: Option<Vec<ExpressionId>>,
    /// The parentheses of the arguments.
    pub arguments_span: Option<Span>,
}

/// An operator between two operands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BinaryOperator {
    /// `+`
    Add,
    /// `-`, `−`
    Subtract,
    /// `*`, `·`, `×`
    Multiply,
    /// `/`
    Divide,
    /// `^`
    Power,
    /// `and`
    And,
    /// `or`
    Or,
}

/// A relation between two sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relation {
    /// `<`
    Less,
    /// `<=`, `≤`
    LessOrEqual,
    /// `>`
    Greater,
    /// `>=`, `≥`
    GreaterOrEqual,
}

/// A word that states the sense of a force, moment or couple.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// `tension`
    Tension,
    /// `compression`
    Compression,
    /// `sagging`, `bottom in tension`
    Sagging,
    /// `hogging`, `top in tension`
    Hogging,
    /// `left in tension`
    LeftInTension,
    /// `right in tension`
    RightInTension,
    /// `clockwise`
    Clockwise,
    /// `anticlockwise`
    Anticlockwise,
    /// `top warmer`
    TopWarmer,
    /// `bottom warmer`
    BottomWarmer,
}

/// `[unit]` or `[any words]` at the end of a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// Brackets included.
    pub span: Span,
    /// What is between them.
    pub kind: ShownKind,
}

impl ExpressionKind {
    /// What is raised to a power, where this is one: `b` of `b^3` and of `b³`.
    pub fn raised(&self) -> Option<ExpressionId> {
        match self {
            ExpressionKind::Superscript { base, .. } => Some(*base),
            ExpressionKind::Binary {
                operator: BinaryOperator::Power,
                left,
                ..
            } => Some(*left),
            _ => None,
        }
    }
}

/// What stands between the brackets at the end of a formula.
#[derive(Debug, Clone, PartialEq)]
pub enum ShownKind {
    /// `[mm^4]`; the chain may be no known unit.
    Unit(UnitText),
    /// `[any length]`: the words after `any`, joined by single spaces.
    Any(Name),
}

/// What a line says.
#[derive(Debug, Clone, PartialEq)]
pub enum Statement {
    /// Nothing but white space or a comment.
    Empty,
    /// `NAME = …`
    Value(Value),
    /// `f(a, b) = … [unit]`
    Formula(Formula),
    /// `sheet`, `material N`, `section N [of N]`, `forces N on N`, `beam N of N`
    Heading(Heading),
    /// `note …`: the rest of the line.
    Note(Span),
    /// `results in mm, kN, 4 digits`
    ResultsIn(ResultsIn),
    /// `use "file" [as p]`
    Use(Use),
    /// `allow CODE [for NAME]`
    Allow(Allow),
    /// `verify expression`
    Verify(ExpressionId),
    /// `expect NAME = value [within tol]`
    Expect(Expect),
    /// `answer NAME ["words"]`
    Answer(Answer),
    /// `limit …`
    Limit(Limit),
    /// `[deduct] rect NAME …` and other shapes
    Part(Box<Part>),
    /// `point NAME at …`
    Point(Point),
    /// `support KIND at X [as NAME]`
    Support(Support),
    /// `hinge at X`
    Hinge(Position),
    /// `section NAME from X to X` in a beam
    SectionStretch(SectionStretch),
    /// `load CASE …`
    Load(Load),
    /// `combination NAME = …`
    Combination(Combination),
    /// A line that starts with a word of no statement, or that could not be read. In the first column it
    /// still owns the indented lines under it, and its name where one could be read, unless it begins with
    /// a word of a block's lines ([`Tree::belongs_to_block`]).
    Broken {
        /// The first word.
        keyword: Option<Name>,
        /// The name that the line would have given, where one could be read.
        name: Option<Name>,
        /// Every path that could be read on the line, so that uses of names are known.
        paths: Vec<Path>,
    },
}

/// `NAME = …`
#[derive(Debug, Clone, PartialEq)]
pub struct Value {
    /// The name that is given a value.
    pub name: Name,
    /// What it is given.
    pub body: ValueBody,
    /// A sense word after the expression.
    pub sense: Option<(Sense, Span)>,
    /// `[unit]` or `[any …]`.
    pub shown: Option<Shown>,
}

/// The right side of a value line.
#[derive(Debug, Clone, PartialEq)]
pub enum ValueBody {
    /// An expression.
    Expression(ExpressionId),
    /// `"words"`, quotes not included in the text; the span includes them.
    Text(Name),
    /// `4 m, 5 m`: two or more expressions.
    List(Vec<ExpressionId>),
    /// `largest CASE of BLOCK [under COMBINATION]`
    Search(Box<Search>),
    /// `smallest FROM to TO step STEP for BLOCK`
    Sizing(Box<Sizing>),
}

/// `largest CASE of BLOCK [under COMBINATION]`
#[derive(Debug, Clone, PartialEq)]
pub struct Search {
    /// `largest` or `smallest`.
    pub direction: SearchDirection,
    /// Where the word `largest` or `smallest` stands.
    pub direction_span: Span,
    /// What is made as large as possible: a load case, or a force of a `forces` block.
    pub subject: Name,
    /// The beam or forces block, a dotted name where it is of another file.
    pub block: Path,
    /// The combination.
    pub under: Option<Name>,
    /// From `largest` to the end.
    pub span: Span,
}

/// `smallest FROM to TO step STEP for BLOCK`: the first size of a range, from its lower or its upper
/// end, for which the limits of a block hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Sizing {
    /// From which end.
    pub direction: SearchDirection,
    /// The lower end.
    pub from: ExpressionId,
    /// The upper end.
    pub to: ExpressionId,
    /// From one size to the next.
    pub step: ExpressionId,
    /// The beam or forces block, a dotted name where it is of another file.
    pub block: Path,
    /// From the first word to the end.
    pub span: Span,
}

/// Which way a search goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SearchDirection {
    /// `largest`
    Largest,
    /// `smallest`
    Smallest,
}

/// `f(a, b) = … [unit]`
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// The formula's name.
    pub name: Name,
    /// Its arguments.
    pub parameters: Vec<Name>,
    /// The right side.
    pub body: ExpressionId,
    /// `[unit]` or `[any …]`.
    pub shown: Option<Shown>,
}

/// A block's first line.
#[derive(Debug, Clone, PartialEq)]
pub struct Heading {
    /// Which block.
    pub kind: BlockKind,
    /// Where the keyword stands.
    pub keyword_span: Span,
    /// The block's name; none for `sheet`.
    pub name: Option<Name>,
    /// `of MATERIAL`, `of SECTION`, `on SECTION`: a dotted name where it is of another file.
    pub of: Option<Path>,
}

/// The kinds of block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BlockKind {
    /// `sheet`
    Sheet,
    /// `material`
    Material,
    /// `section`
    Section,
    /// `forces`
    Forces,
    /// `beam`
    Beam,
}

impl BlockKind {
    /// Every kind.
    pub const ALL: [BlockKind; 5] = [
        BlockKind::Sheet,
        BlockKind::Material,
        BlockKind::Section,
        BlockKind::Forces,
        BlockKind::Beam,
    ];
}

/// `results in mm, kN, 4 digits`
#[derive(Debug, Clone, PartialEq)]
pub struct ResultsIn {
    /// The units in the order given.
    pub units: Vec<UnitText>,
    /// `N digits`: the number as written.
    pub digits: Option<Name>,
}

/// `use "file" [as p]`
#[derive(Debug, Clone, PartialEq)]
pub struct Use {
    /// The path, quotes not included in the text; the span includes them.
    pub path: Name,
    /// The name that stands for the file.
    pub alias: Option<Name>,
}

/// `allow CODE [for NAME]`
#[derive(Debug, Clone, PartialEq)]
pub struct Allow {
    /// The finding's code, kebab-case.
    pub code: Name,
    /// Only for this name (dotted names joined by `.`), quotes not included in the text.
    pub target: Option<Name>,
}

/// `expect NAME = value [within tol]`
#[derive(Debug, Clone, PartialEq)]
pub struct Expect {
    /// What is compared: any expression, most often a name.
    pub actual: ExpressionId,
    /// The independent value.
    pub expected: ExpressionId,
    /// How far they may differ.
    pub tolerance: Option<ExpressionId>,
}

/// `answer NAME ["words"]`
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The result: a path expression.
    pub value: ExpressionId,
    /// Words for the sheet, quotes not included in the text.
    pub words: Option<Name>,
}

/// `limit WORD [at SUPPORT | on span N] <= bound [under COMBINATION]`
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// `tension`, `compression`, `shear`, `deflection`, `reaction`, `uplift`, or another word.
    pub subject: Name,
    /// `sideways`, after a deflection.
    pub sideways: Option<Span>,
    /// Where it applies.
    pub place: LimitPlace,
    /// The relation.
    pub relation: Relation,
    /// Where the relation stands.
    pub relation_span: Span,
    /// The bound.
    pub bound: ExpressionId,
    /// `for thickness up to T`: the thickness of a wall up to which the bound is meant.
    pub up_to: Option<ExpressionId>,
    /// The combination.
    pub under: Option<Name>,
}

/// Where a limit applies.
#[derive(Debug, Clone, PartialEq)]
pub enum LimitPlace {
    /// Nothing said: everywhere.
    Everywhere,
    /// `at NAME`: at a support by its name.
    Support(Name),
    /// `at X`: at the support at a place.
    At(Position),
    /// `on span N`: the number as written.
    Span(Name),
}

/// `[deduct] SHAPE NAME sizes [details] [place] [turns] [of MATERIAL]`
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Whether it removes material.
    pub deduct: Option<Span>,
    /// The shape's words, e.g. `rect`, `round tube`, joined by a single space.
    pub shape: Name,
    /// The part's name.
    pub name: Name,
    /// Its sizes in order. A bare number takes the unit of the nearest size to its right that has one.
    /// The corners of a polygon are x and y in turn.
    pub sizes: Vec<ExpressionId>,
    /// `"IPE 200"`: the designation of a rolled part, quotes not included in the text.
    pub designation: Option<Name>,
    /// More sizes, each with its word.
    pub details: Vec<PartDetail>,
    /// Where it goes.
    pub place: PartPlace,
    /// How it is turned and mirrored, in the order given.
    pub turns: Vec<PartTurn>,
    /// Its material.
    pub of: Option<Path>,
}

/// `root 12 mm`, `bottom 300 x 25 mm` and the like: more sizes of a part with their word.
#[derive(Debug, Clone, PartialEq)]
pub struct PartDetail {
    /// `root`, `toe`, `corner`, `inner`, `taper`, `apex` or `bottom`.
    pub word: Name,
    /// The sizes in order.
    pub sizes: Vec<ExpressionId>,
}

/// `turned 90 deg`, `mirrored sideways`, `mirrored upside down`
#[derive(Debug, Clone, PartialEq)]
pub enum PartTurn {
    /// Turned by an angle, anticlockwise positive.
    Turned(ExpressionId, Span),
    /// Left and right exchanged.
    Sideways(Span),
    /// Top and bottom exchanged.
    UpsideDown(Span),
}

/// Where a part goes.
#[derive(Debug, Clone, PartialEq)]
pub enum PartPlace {
    /// No place: the first part, on y = 0 with its middle on x = 0.
    Unplaced,
    /// `at (x, y)`: the lower left corner.
    At {
        /// x of the left edge.
        x: ExpressionId,
        /// y of the bottom edge.
        y: ExpressionId,
        /// From `at` to the closing parenthesis.
        span: Span,
    },
    /// `above P centred on Q` and the like.
    Relative {
        /// Which side.
        relation: Side,
        /// Where the relation's words stand.
        relation_span: Span,
        /// The part it is placed on.
        on: Name,
        /// Sideways adjustments in the order given.
        adjustments: Vec<Adjustment>,
    },
}

/// A side on which a part is placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// `above P`
    Above,
    /// `below P`
    Below,
    /// `left of P`
    LeftOf,
    /// `right of P`
    RightOf,
    /// `in P`
    In,
}

/// A sideways adjustment of a part's place.
#[derive(Debug, Clone, PartialEq)]
pub enum Adjustment {
    /// `centred on Q`
    CentredOn(Name),
    /// `flush left` and the like
    Flush(Edge, Span),
    /// `inset D`
    Inset(ExpressionId, Span),
}

/// An edge of a part or section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// `left`
    Left,
    /// `right`
    Right,
    /// `top`
    Top,
    /// `bottom`
    Bottom,
}

/// `point NAME at … [of PART]`
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// The point's name.
    pub name: Name,
    /// Where it is.
    pub place: PointPlace,
    /// The part, where one is named.
    pub of: Option<Name>,
}

/// Where a point is.
#[derive(Debug, Clone, PartialEq)]
pub enum PointPlace {
    /// `at top`, `at top left`: one edge or two.
    Edges {
        /// `top` or `bottom`, where given.
        vertical: Option<Edge>,
        /// `left` or `right`, where given.
        horizontal: Option<Edge>,
        /// Where the words stand.
        span: Span,
    },
    /// `at (x, y)`
    At {
        /// x in the section's frame.
        x: ExpressionId,
        /// y in the section's frame.
        y: ExpressionId,
        /// The parentheses.
        span: Span,
    },
}

/// A place along a beam.
#[derive(Debug, Clone, PartialEq)]
pub struct Position {
    /// What is said.
    pub kind: PositionKind,
    /// Where it stands.
    pub span: Span,
}

/// What a place along a beam is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PositionKind {
    /// `start`
    Start,
    /// `middle`
    Middle,
    /// `end`
    End,
    /// A distance from the start.
    Distance(ExpressionId),
}

/// `support KIND [K] at X [as NAME]`
#[derive(Debug, Clone, PartialEq)]
pub struct Support {
    /// `pin`, `roller`, `fixed`, `spring`, or another word.
    pub kind: Name,
    /// The stiffness of a spring.
    pub stiffness: Option<ExpressionId>,
    /// `sideways`: it holds the beam sideways only.
    pub sideways: Option<Span>,
    /// Where it is.
    pub at: Position,
    /// Its name.
    pub name: Option<Name>,
}

/// `section NAME from X to X`: another section along a stretch of a beam
#[derive(Debug, Clone, PartialEq)]
pub struct SectionStretch {
    /// The section, a dotted name where it is of another file.
    pub section: Path,
    /// Where the stretch begins.
    pub from: Position,
    /// Where it ends.
    pub to: Position,
}

/// `load CASE …`
#[derive(Debug, Clone, PartialEq)]
pub struct Load {
    /// The load case.
    pub case: Name,
    /// What acts.
    pub kind: LoadKind,
    /// `clockwise`, `anticlockwise` or another sense word.
    pub sense: Option<(Sense, Span)>,
    /// Where it acts.
    pub place: LoadPlace,
    /// `up`
    pub up: Option<Span>,
    /// `leftwards` or `rightwards`
    pub sideways: Option<(Sideways, Span)>,
    /// `tributary W`
    pub tributary: Option<ExpressionId>,
}

/// The way of a load across the beam's upright plane, seen along the beam as its section is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sideways {
    /// `leftwards`
    Left,
    /// `rightwards`
    Right,
}

/// What acts.
#[derive(Debug, Clone, PartialEq)]
pub enum LoadKind {
    /// One quantity: its dimension tells the kind.
    Quantity(ExpressionId),
    /// `Q1 to Q2`: from one intensity to another.
    Varying(ExpressionId, ExpressionId),
    /// `self weight`
    SelfWeight(Span),
    /// `Q, Q`: the loads of wheels.
    Wheels(Vec<ExpressionId>),
}

/// Where a load acts.
#[derive(Debug, Clone, PartialEq)]
pub enum LoadPlace {
    /// Nothing said.
    Unsaid,
    /// `at X`
    At(Position),
    /// `throughout`
    Throughout(Span),
    /// `from X to X`
    Stretch(Position, Position),
    /// `on span N`: the number as written.
    Span(Name),
    /// `on any spans`: on whichever spans are worst.
    AnySpans(Span),
    /// `[at X, X] moving [one way]`: anywhere along the beam.
    Moving {
        /// How far each wheel is from the first one; empty for one wheel.
        distances: Vec<Position>,
        /// `moving`
        span: Span,
        /// `one way`
        one_way: Option<Span>,
    },
}

/// `combination NAME = …`
#[derive(Debug, Clone, PartialEq)]
pub struct Combination {
    /// The combination's name.
    pub name: Name,
    /// A sum of factored load cases.
    pub sum: ExpressionId,
}

/// What could not be read, in an engineer's words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SyntaxError {
    /// Which kind of mistake.
    pub kind: SyntaxErrorKind,
    /// The exact place.
    pub span: Span,
    /// What is wrong and what to do.
    pub message: String,
    /// Repairs: a title and the replacements that make it.
    pub repairs: Vec<SyntaxRepair>,
}

/// A repair of a reading error.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SyntaxRepair {
    /// What it does, e.g. "Write 3 m".
    pub title: String,
    /// Replacements, none overlapping.
    pub edits: Vec<(Span, String)>,
}

/// Kinds of reading mistakes; each is a finding with a code of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SyntaxErrorKind {
    /// Something is missing or one thing too many: the plain case.
    Unreadable,
    /// The first word is no statement's.
    UnknownStatement,
    /// A parenthesis or bracket without its partner.
    UnmatchedBracket,
    /// More than the allowed depth of parentheses.
    TooDeep,
    /// `1,000`
    ThousandsSeparator,
    /// `5e`, `1..5`, `3mm4`-like number mistakes
    MalformedNumber,
    /// `2 b` or `(a + b) c`: two operands side by side
    MissingOperator,
    /// `(a+b) mm`: a unit after something that is no number
    UnitAfterExpression,
    /// `3 [m]`: brackets after a bare number
    UnitInBrackets,
    /// `a < b < c`
    ChainedComparison,
    /// `a = b` inside an expression, `==`
    EqualityInExpression,
    /// A word that is reserved or built in used as a name
    ReservedName,
    /// A character that has no meaning here
    UnknownCharacter,
    /// A text without its closing quote
    UnclosedText,
    /// A continuation with no expression above it
    StrayContinuation,
    /// More continuations than allowed
    TooManyContinuations,
    /// A conflict marker left by a merge
    ConflictMarker,
    /// A line or file longer than can be read
    TooLong,
}
