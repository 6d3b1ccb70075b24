//! Written trees out to a coach and back in, merged by author.
//!
//! Takes a locked attempt; gives it as PGN ([`written`]), with the findings of a review as a second
//! layer where they are asked for ([`told`]). Takes what came back from any PGN editor ([`compare`]);
//! gives what the coach wrote as events to append to the attempt, and what could not be taken, in
//! words. Nothing here writes into the player's tree, and nothing is guessed: what is not clear is a
//! conflict that is shown.
//!
//! Also holds a player's tree against a coach's own ([`model`]), and adds up the reviews of many students
//! ([`students`]).
//!
//! # What a coach can order by a word in a comment
//!
//! - `Overruled: why` strikes the findings of the place; `Overruled 2: why` finding 2 of the sent review
//! - `Upheld:`, `Upheld 2:` lets it stand again
//! - `Homework: what to do` makes the position after the move homework
//!
//! The colon belongs to the word; large or small letters do not matter.

mod brought;
mod desk;
mod gathered;
mod merge;
mod model;
mod order;
mod said;
mod send;
mod take;
#[cfg(test)]
mod tests;
mod words;

pub use brought::Taken;
pub use desk::{Student, students};
pub use model::{Missed, Model, model};
pub use order::{Order, orders};
pub use said::said;
pub use send::{Letter, tag, told, written};
pub use take::{Refused, compare};
