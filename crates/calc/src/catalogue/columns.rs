//! Buckling of columns, plates and beams.

use super::{Entry, Shape, entry};

const EULER: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, chapter 11, from memory";
const PLATE: &str =
    "Timoshenko & Gere, Theory of Elastic Stability, 2nd edition, section 9.2, from memory";
const SIDEWAYS: &str =
    "Timoshenko & Gere, Theory of Elastic Stability, 2nd edition, section 6.3, from memory";
const CODE: &str = "EN 1993-1-1, section 6.3.1.2, from memory";

#[rustfmt::skip]
pub(super) static ENTRIES: &[Entry] = &[
    entry(Shape::Column, "Euler's critical load over the effective length", &["N_cr = pi^2*E*I/L^2", "N_cr = pi^2*E*I/(k_L*L)^2"], EULER),
    entry(Shape::Column, "Euler's critical load of a column fixed at its foot and free at its head", &["N_cr = pi^2*E*I/(4*L^2)"], EULER)
        .mistaken(&["N_cr = pi^2*E*I/(2*L^2)"]),
    entry(Shape::Column, "Euler's critical load of a column fixed at both ends", &["N_cr = 4*pi^2*E*I/L^2"], EULER),
    entry(Shape::Column, "Euler's critical load of a column fixed at one end and pinned at the other", &["N_cr = 2.046*pi^2*E*I/L^2", "N_cr = 2*pi^2*E*I/L^2"], EULER),
    entry(Shape::Column, "Euler's critical stress", &["sigma_cr = pi^2*E/lambda^2", "sigma_cr = pi^2*E*i^2/L^2", "sigma_cr = pi^2*E*I/(A*L^2)"], EULER),
    entry(Shape::Column, "slenderness of a column", &["lambda = L/i", "lambda = k_L*L/i", "lambda = L*sqrt(A/I)"], EULER),
    entry(Shape::Column, "relative slenderness of a column", &["lambda = sqrt(A*f_y/N_cr)"], CODE),
    entry(Shape::Column, "slenderness at which Euler's critical stress is the yield stress", &["lambda = pi*sqrt(E/f_y)"], CODE),
    entry(Shape::Column, "magnification of a moment by a normal force", &["larger = 1/(1 - N/N_cr)"], EULER),
    entry(Shape::Any, "critical stress of a plate", &["sigma_cr = k_p*pi^2*E*t^2/(12*(1 - nu^2)*b^2)"], PLATE)
        .mistaken(&["sigma_cr = k_p*pi^2*E*t^2/(12*(1 + nu^2)*b^2)", "sigma_cr = k_p*pi^2*E*t^2/(12*(1 - nu)^2*b^2)", "sigma_cr = k_p*pi*E*t^2/(12*(1 - nu^2)*b^2)"]),
    entry(Shape::Any, "critical moment of a narrow rectangle under a uniform moment", &["M_cr = pi/L*sqrt(E*I*G*J)"], SIDEWAYS),
];
