//! Made-up and rolled shapes by their dimensions, as exact outlines of lines and arcs.
//!
//! Every shape stands with the lower left corner of its smallest upright rectangle at the origin:
//! x runs from 0 to the width, y from 0 to the height. An
//! [`Outline`](crate::section::Outline) can then be moved, turned and mirrored.
//!
//! A size that cannot be drawn is named, with what would be possible: [`SizeProblem`]. Radii may
//! be 0; a radius of 0 is a sharp corner.
//!
//! An ellipse is followed by arcs instead, see [`Ellipse`].
//!
//! Round tubes, rectangles, circles and polygons from corner to corner are
//! [`Shape`](crate::section::Shape)s already.

mod angle;
mod channel;
mod corners;
mod hollow;
mod i_shape;
mod plain;
mod size;
mod tee;
mod zed;

pub use angle::Angle;
pub use channel::{Channel, Taper};
pub use hollow::{HollowRectangle, Pipe};
pub use i_shape::IShape;
pub use plain::{Ellipse, QuarterFillet, Trapezium, Triangle};
pub use size::{SizeName, SizeProblem};
pub use tee::Tee;
pub use zed::Zed;
