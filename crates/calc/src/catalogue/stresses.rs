//! Stresses from forces and moments, and what a material makes of them.

use super::{Entry, Shape, entry};

const BENDING: &str =
    "Gere & Goodno, Mechanics of Materials, 7th edition, section 5.5, from memory";
const SHEAR: &str =
    "Gere & Goodno, Mechanics of Materials, 7th edition, sections 5.8 and 5.9, from memory";
const FLOW: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, section 5.11, from memory";
const COMBINED: &str =
    "Gere & Goodno, Mechanics of Materials, 7th edition, section 5.12, from memory";
const BOTH_WAYS: &str =
    "Gere & Goodno, Mechanics of Materials, 7th edition, section 6.4, from memory";
const AXIAL: &str =
    "Gere & Goodno, Mechanics of Materials, 7th edition, chapters 1 and 2, from memory";
const TORSION: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, chapter 3, from memory";
const ROARK: &str =
    "Young & Budynas, Roark's Formulas for Stress and Strain, 7th edition, table 10.1, from memory";
const PLANE: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, chapter 7, from memory";
const VESSELS: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, chapter 8, from memory";
const YIELD: &str =
    "Young & Budynas, Roark's Formulas for Stress and Strain, 7th edition, chapter 3, from memory";

#[rustfmt::skip]
pub(super) static ENTRIES: &[Entry] = &[
    // normal stress
    entry(Shape::Any, "axial stress", &["sigma = N/A"], AXIAL),
    entry(Shape::Any, "bending stress", &["sigma = M/W", "sigma = M*y/I"], BENDING),
    entry(Shape::Any, "bending stress at the edge of a section whose centroid is at half its depth", &["sigma = M*(h/2)/I"], BENDING),
    entry(Shape::Rectangle, "bending stress at the edge of a rectangle", &["sigma = 6*M/(b*h^2)"], BENDING),
    entry(Shape::Rectangle, "stress in a rectangle that yields in bending throughout", &["sigma = 4*M/(b*h^2)"], BENDING),
    entry(Shape::Circle, "bending stress at the edge of a circle", &["sigma = 32*M/(pi*d^3)", "sigma = 4*M/(pi*r^3)"], BENDING),
    entry(Shape::Any, "axial and bending stress where they add up", &["sigma = N/A + M/W", "sigma = N/A + M*y/I"], COMBINED),
    entry(Shape::Any, "axial and bending stress where they oppose", &["sigma = N/A - M/W", "sigma = N/A - M*y/I"], COMBINED),
    entry(Shape::Any, "bending stress from moments about both axes", &["sigma = M_x/W_x + M_y/W_y"], BOTH_WAYS),
    entry(Shape::Any, "axial stress and bending stress about both axes", &["sigma = N/A + M_x/W_x + M_y/W_y"], BOTH_WAYS),
    entry(Shape::Any, "stress under a normal force beside the centroid", &["sigma = N/A + N*e/W", "sigma = N/A + N*e*y/I"], COMBINED),
    // shear stress
    entry(Shape::Any, "average shear stress", &["tau = V/A"], SHEAR),
    entry(Shape::Any, "shear stress in bending", &["tau = V*Q/(I*b)"], SHEAR),
    entry(Shape::Any, "shear flow in bending", &["q = V*Q/I"], FLOW),
    entry(Shape::Rectangle, "largest shear stress in a rectangle", &["tau = 1.5*V/A", "tau = 1.5*V/(b*h)"], SHEAR),
    entry(Shape::Circle, "largest shear stress in a circle", &["tau = 4*V/(3*A)", "tau = 4*V/(3*pi*r^2)", "tau = 16*V/(3*pi*d^2)"], SHEAR),
    entry(Shape::ThinTube, "largest shear stress in a thin tube", &["tau = 2*V/A"], SHEAR),
    // torsion
    entry(Shape::Circle, "shear stress of a round bar or tube in torsion", &["tau = T*r/J", "tau = T*D/(2*J)"], TORSION),
    entry(Shape::Any, "shear stress in torsion", &["tau = T/W_t"], TORSION),
    entry(Shape::Circle, "largest shear stress of a circle in torsion", &["tau = 16*T/(pi*d^3)", "tau = 2*T/(pi*r^3)"], TORSION),
    entry(Shape::ThinPlate, "largest shear stress of a thin rectangle in torsion", &["tau = 3*T/(b*t^2)"], ROARK),
    entry(Shape::Cell, "shear stress of a closed thin wall in torsion", &["tau = T/(2*A_m*t)"], TORSION),
    entry(Shape::Cell, "shear flow of a closed thin wall in torsion", &["q = T/(2*A_m)"], TORSION),
    entry(Shape::Any, "angle of twist", &["phi = T*L/(G*J)"], TORSION),
    // stresses together
    entry(Shape::Any, "von Mises stress of a normal and a shear stress", &["sigma_v = sqrt(sigma^2 + 3*tau^2)"], YIELD)
        .mistaken(&["sigma_v = sqrt(sigma^2 + tau^2)", "sigma_v = sqrt(sigma^2 + 2*tau^2)"]),
    entry(Shape::Any, "von Mises stress of two normal stresses and a shear stress", &["sigma_v = sqrt(sigma_x^2 - sigma_x*sigma_y + sigma_y^2 + 3*tau^2)"], YIELD)
        .mistaken(&["sigma_v = sqrt(sigma_x^2 + sigma_x*sigma_y + sigma_y^2 + 3*tau^2)", "sigma_v = sqrt(sigma_x^2 + sigma_y^2 + 3*tau^2)", "sigma_v = sqrt(sigma_x^2 - sigma_x*sigma_y + sigma_y^2 + tau^2)"]),
    entry(Shape::Any, "equivalent stress after Tresca of a normal and a shear stress", &["sigma_v = sqrt(sigma^2 + 4*tau^2)"], YIELD),
    entry(Shape::Any, "larger principal stress", &["sigma_1 = (sigma_x + sigma_y)/2 + sqrt(((sigma_x - sigma_y)/2)^2 + tau^2)", "sigma_1 = sigma/2 + sqrt((sigma/2)^2 + tau^2)"], PLANE),
    entry(Shape::Any, "smaller principal stress", &["sigma_1 = (sigma_x + sigma_y)/2 - sqrt(((sigma_x - sigma_y)/2)^2 + tau^2)", "sigma_1 = sigma/2 - sqrt((sigma/2)^2 + tau^2)"], PLANE),
    entry(Shape::Any, "largest shear stress in the plane of two normal stresses and a shear stress", &["tau_1 = sqrt(((sigma_x - sigma_y)/2)^2 + tau^2)"], PLANE),
    entry(Shape::ThinTube, "hoop stress of a thin tube under pressure", &["sigma = p*r/t", "sigma = p*D/(2*t)"], VESSELS),
    entry(Shape::ThinTube, "stress along a closed thin tube under pressure", &["sigma = p*r/(2*t)", "sigma = p*D/(4*t)"], VESSELS),
    // material
    entry(Shape::Any, "shear modulus of an isotropic material", &["G = E/(2*(1 + nu))"], AXIAL)
        .mistaken(&["G = E/(2*(1 - nu))", "G = E/(1 + nu)", "G = E/(1 - 2*nu)", "G = E/(2 + nu)", "G = E/(2*(1 + 2*nu))"]),
    entry(Shape::Any, "change of length under a normal force", &["u = N*L/(E*A)"], AXIAL),
    entry(Shape::Any, "change of length under a change of temperature", &["u = alpha*dT*L"], AXIAL),
    entry(Shape::Any, "stress under a change of temperature that is prevented from changing the length", &["sigma = E*alpha*dT"], AXIAL),
];
