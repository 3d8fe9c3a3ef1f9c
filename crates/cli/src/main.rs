//! The haunch program.
fn main() {}
