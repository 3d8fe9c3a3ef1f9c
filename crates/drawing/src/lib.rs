//! Drawings as SVG, from the numbers of the mechanics alone.
//!
//! Colours come from the page that holds a drawing (`currentColor`), so that it is readable on light
//! and dark paper; what matters is told apart by the kind of line, not by colour.

mod outlines;

pub use outlines::before_and_after;
