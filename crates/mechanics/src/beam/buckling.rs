//! Elastic buckling of a straight member.

use haunch_quantity::typed::{FlexuralRigidity, Force, Length, Typed};

/// Euler's buckling load `π²·EI/(k·L)²` of a straight, centrally compressed, elastic member.
///
/// `effective_length_factor` is `k`: 1 for pinned ends, 2 for a cantilever, 0.5 for fixed ends,
/// about 0.7 for one end fixed and one pinned. Valid while the stress at that load stays elastic.
/// Source: Euler 1744; Timoshenko and Gere, Theory of Elastic Stability, chapter 2 (from memory).
/// `None` unless all three are finite and above zero.
pub fn euler_load(
    rigidity: FlexuralRigidity,
    length: Length,
    effective_length_factor: f64,
) -> Option<Force> {
    let pi = std::f64::consts::PI;
    let effective = effective_length_factor * length.si();
    let all = [rigidity.si(), length.si(), effective_length_factor];
    let load = pi * pi * rigidity.si() / (effective * effective);
    (all.iter().all(|value| *value > 0.0) && load.is_finite() && load > 0.0)
        .then(|| Force::from_si(load))
}
