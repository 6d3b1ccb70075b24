//! The review: where a written tree and the truth part.
//!
//! Takes a written tree with its choice ([`Written`]) and a [`Judge`]; gives a [`Review`]: what was
//! right, the [`Finding`]s in order of what they cost, and how deep, how complete and how well aimed
//! the calculation was. It owns no threads and reads no clock: the same tree and judge give the same
//! review, byte for byte.

mod value;

pub use value::{
    Class, Coverage, Depth, Expected, Finding, Focus, Kind, Process, Review, Right, Sacrifice,
    Settings, Turn, Unjudged,
};
