//! The letters that the catalogue is written in: what each stands for, and its dimension.
//!
//! The letters follow ISO 3898 (names and symbols of physical quantities in structural design; from
//! memory) and the habits of the trade (common practice, no source).

use haunch_quantity::Dimension;

use Dimension as D;

/// A letter of the catalogue.
#[derive(Debug)]
pub struct Letter {
    /// As the formulas write it.
    pub text: &'static str,
    /// The dimension of what it stands for.
    pub dimension: Dimension,
    /// What it stands for, in the trade's words.
    pub words: &'static str,
    /// What it stands for where a name of the author's can contradict it.
    pub(crate) role: Role,
}

/// What a letter stands for, as far as a name can tell it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Role {
    /// Nothing that a name would contradict.
    Any,
    Breadth,
    Depth,
    Diameter,
    Radius,
    /// From the axis to the place of a stress.
    ToEdge,
    /// The modulus of elasticity.
    Elastic,
    ShearModulus,
    FirstMoment,
    SectionModulus,
    SecondMoment,
    NormalStress,
    ShearStress,
}

const fn letter(text: &'static str, dimension: Dimension, words: &'static str) -> Letter {
    with_role(text, dimension, words, Role::Any)
}

const fn with_role(
    text: &'static str,
    dimension: Dimension,
    words: &'static str,
    role: Role,
) -> Letter {
    Letter {
        text,
        dimension,
        words,
        role,
    }
}

#[rustfmt::skip]
static LETTERS: &[Letter] = &[
    // sizes
    letter("A", D::AREA, "area"),
    letter("A_1", D::AREA, "area of the first part"),
    letter("A_2", D::AREA, "area of the second part"),
    letter("A_3", D::AREA, "area of the third part"),
    letter("A_m", D::AREA, "area enclosed by the middle line of the wall"),
    letter("a", D::LENGTH, "side, half an axis, or distance from the first support"),
    with_role("b", D::LENGTH, "breadth, half an axis, or distance from the other support", Role::Breadth),
    with_role("B", D::LENGTH, "breadth over all", Role::Breadth),
    with_role("h", D::LENGTH, "depth", Role::Depth),
    with_role("H", D::LENGTH, "depth over all", Role::Depth),
    with_role("d", D::LENGTH, "diameter", Role::Diameter),
    with_role("D", D::LENGTH, "outside diameter", Role::Diameter),
    with_role("r", D::LENGTH, "radius", Role::Radius),
    with_role("R", D::LENGTH, "outside radius", Role::Radius),
    letter("t", D::LENGTH, "thickness"),
    letter("s", D::LENGTH, "length of the middle line of the wall"),
    letter("e", D::LENGTH, "distance between axes"),
    letter("e_1", D::LENGTH, "distance of the first part from the axis"),
    letter("e_2", D::LENGTH, "distance of the second part from the axis"),
    with_role("y", D::LENGTH, "distance from the axis to the place of the stress", Role::ToEdge),
    letter("z", D::LENGTH, "distance from the axis to the centroid of what lies beyond"),
    letter("y_1", D::LENGTH, "height of the first part's centroid"),
    letter("y_2", D::LENGTH, "height of the second part's centroid"),
    letter("y_3", D::LENGTH, "height of the third part's centroid"),
    letter("ybar", D::LENGTH, "height of the centroid"),
    letter("i", D::LENGTH, "radius of gyration"),
    letter("L", D::LENGTH, "span or length"),
    letter("x", D::LENGTH, "distance along the beam"),
    // what sections have
    with_role("I", D::SECOND_MOMENT_OF_AREA, "second moment of area", Role::SecondMoment),
    letter("I_0", D::SECOND_MOMENT_OF_AREA, "second moment of area about the centroid"),
    letter("I_1", D::SECOND_MOMENT_OF_AREA, "second moment of the first part about its own centroid"),
    letter("I_2", D::SECOND_MOMENT_OF_AREA, "second moment of the second part about its own centroid"),
    letter("I_x", D::SECOND_MOMENT_OF_AREA, "second moment of area about x"),
    letter("I_y", D::SECOND_MOMENT_OF_AREA, "second moment of area about y"),
    letter("I_xy", D::SECOND_MOMENT_OF_AREA, "product of area"),
    letter("I_p", D::SECOND_MOMENT_OF_AREA, "polar second moment of area"),
    letter("J", D::SECOND_MOMENT_OF_AREA, "torsion constant"),
    with_role("W", D::FIRST_MOMENT_OF_AREA, "section modulus", Role::SectionModulus),
    with_role("W_x", D::FIRST_MOMENT_OF_AREA, "section modulus about x", Role::SectionModulus),
    with_role("W_y", D::FIRST_MOMENT_OF_AREA, "section modulus about y", Role::SectionModulus),
    letter("W_pl", D::FIRST_MOMENT_OF_AREA, "plastic section modulus"),
    letter("W_t", D::FIRST_MOMENT_OF_AREA, "section modulus in torsion"),
    with_role("Q", D::FIRST_MOMENT_OF_AREA, "first moment of area", Role::FirstMoment),
    // what acts and what follows
    letter("F", D::FORCE, "force"),
    letter("P", D::FORCE, "load at a place"),
    letter("w", D::FORCE_PER_LENGTH, "load per length"),
    letter("p", D::STRESS, "pressure"),
    letter("N", D::FORCE, "normal force"),
    letter("V", D::FORCE, "shear force"),
    letter("R_1", D::FORCE, "reaction"),
    letter("M", D::MOMENT, "bending moment"),
    letter("M_x", D::MOMENT, "bending moment about x"),
    letter("M_y", D::MOMENT, "bending moment about y"),
    letter("T", D::MOMENT, "torque"),
    with_role("sigma", D::STRESS, "normal stress", Role::NormalStress),
    with_role("sigma_x", D::STRESS, "normal stress along x", Role::NormalStress),
    with_role("sigma_y", D::STRESS, "normal stress along y", Role::NormalStress),
    letter("sigma_v", D::STRESS, "equivalent stress"),
    letter("sigma_1", D::STRESS, "principal stress"),
    with_role("tau", D::STRESS, "shear stress", Role::ShearStress),
    letter("tau_1", D::STRESS, "largest shear stress"),
    letter("q", D::FORCE_PER_LENGTH, "shear flow"),
    letter("v", D::LENGTH, "deflection"),
    letter("u", D::LENGTH, "change of length"),
    letter("theta", D::RATIO, "slope"),
    letter("phi", D::RATIO, "angle of twist"),
    letter("k", D::FORCE_PER_LENGTH, "stiffness: load for each unit of deflection"),
    letter("f_1", D::FREQUENCY, "lowest frequency"),
    letter("mu", D::MASS_PER_LENGTH, "mass per length"),
    // materials
    with_role("E", D::STRESS, "modulus of elasticity", Role::Elastic),
    with_role("G", D::STRESS, "shear modulus", Role::ShearModulus),
    letter("EI", D::FLEXURAL_RIGIDITY, "flexural rigidity"),
    letter("nu", D::RATIO, "Poisson's ratio"),
    letter("alpha", D::THERMAL_EXPANSION, "thermal expansion"),
    letter("dT", D::TEMPERATURE, "change of temperature"),
    letter("f_y", D::STRESS, "yield stress"),
    // columns
    letter("N_cr", D::FORCE, "critical load"),
    letter("sigma_cr", D::STRESS, "critical stress"),
    letter("M_cr", D::MOMENT, "critical moment"),
    letter("lambda", D::RATIO, "slenderness"),
    letter("k_L", D::RATIO, "effective length over length"),
    letter("k_p", D::RATIO, "buckling factor of the plate"),
    letter("shape_factor", D::RATIO, "shape factor"),
    letter("larger", D::RATIO, "magnification of the moment"),
];

/// A letter by its text.
pub fn letter_of(text: &str) -> Option<&'static Letter> {
    LETTERS.iter().find(|letter| letter.text == text)
}

/// Every letter.
pub fn letters() -> &'static [Letter] {
    LETTERS
}
