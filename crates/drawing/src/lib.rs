//! Drawings as SVG, from the numbers of the mechanics alone.
//!
//! Where a page holds a drawing, its colours come from the page (`currentColor`), so that it is readable on
//! light and dark paper; where it is shown as a picture by itself, it brings its paper along. What matters is
//! told apart by the kind of line, not by colour.

mod outlines;
mod paper;
mod section;

pub use outlines::before_and_after;
pub use section::{Marks, section};
