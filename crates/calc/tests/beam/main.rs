//! Beams in files, through the public surface.

mod capacity;
mod combinations;
mod findings;
mod functions;
mod imposed;
mod limits;
mod order;
mod reading;
mod statics;
mod stretches;
