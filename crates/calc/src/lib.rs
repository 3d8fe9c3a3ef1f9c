//! What a file means: names, dimensions, values, findings; incremental.
//!
//! A [`Host`] holds the texts and applies changes; a [`Snapshot`] is an immutable view of what
//! they mean. Each logical line is read and computed by itself, from its tree and from what the
//! lines that it uses came to; a change computes again only the lines that it reaches. State is a
//! function of the texts alone.
//!
//! - [`state`](self): persistent collections of files and lines; `layout` keeps logical lines,
//!   `graph` names and their uses, `update` one change, `wave` the order of computing.
//! - `expression`: dimension and value of expressions; `inference`: dimensions of names without a
//!   definition, solved for within their line; `statements`: single lines; `blocks`:
//!   sections, materials, forces and beams; `capacity`: how much more can be carried.
//! - [`catalogue`]: the standard formulas of the trade, and how a line is found among them.
//! - [`findings`]: the catalogue of what can be wrong, and [`page`], how each is explained.

mod allowance;
mod capacity;
mod compute;
mod expression;
mod finding;
mod graph;
mod host;
mod inference;
mod layout;
mod line;
mod lints;
mod on_request;
mod outcome;
mod read_lately;
mod reads;
mod repair;
mod resolve;
mod rolled;
mod roots;
mod several;
mod sizing;
mod snapshot;
mod spelling;
mod state;
mod statements;
mod update;
mod uses;
mod value;
mod wave;

pub mod blocks;
pub mod catalogue;
pub mod findings;
pub mod page;

pub use expression::functions::{BUILT_IN, BuiltIn};
pub use expression::{constant, is_kept};
pub use finding::{Code, Finding, Place, Related, Repair, Severity};
pub use host::{Change, Changed, Host};
pub use inference::{Inferred, Needs};
pub use line::{FileId, LineId};
pub use on_request::OnRequest;
pub use outcome::{Capacity, Check, Meaning, NamedValue, Outcome};
pub use reads::point_argument;
pub use repair::{Reason, Reasons, Weighed};
pub use snapshot::{Definition, FullValue, LineView, Snapshot};
pub use uses::Use;
pub use value::{Evaluated, Kind, Value};
