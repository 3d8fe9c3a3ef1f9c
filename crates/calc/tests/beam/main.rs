//! Beams in files, through the public surface.

mod buckling;
mod capacity;
mod combinations;
mod extremes;
mod findings;
mod functions;
mod imposed;
mod limits;
mod order;
mod patterns;
mod reactions;
mod reading;
mod sideways;
mod sideways_random;
mod sizing;
mod statics;
mod stretches;
mod wheels;
