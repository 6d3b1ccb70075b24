//! Written trees out to a coach and back in, merged by author.
//!
//! Takes a locked attempt; gives it as PGN ([`written`]), with the findings of a review as a second
//! layer where they are asked for ([`told`]). Takes what came back from any PGN editor ([`compare`]);
//! gives what the coach wrote as events to append to the attempt, and what could not be taken, in
//! words. Nothing here writes into the player's tree, and nothing is guessed: what is not clear is a
//! conflict that is shown.
//!
//! Also holds a player's tree against a coach's own ([`model`]), and adds up the reviews of many students
//! ([`students`]). A coach's own positions with the trees that he wants to be seen are [`collection`].
//!
//! # What a coach can order by a word in a comment
//!
//! - `Overruled: why` strikes the findings of the place; `Overruled 2: why` finding 2 of the sent review
//! - `Upheld:`, `Upheld 2:` lets it stand again
//! - `Homework: what to do` makes the position after the move homework, `Homework by 2026-12-05: what to do` until a day
//!
//! The colon belongs to the word; large or small letters do not matter.
//!
//! # How an answer is read
//!
//! `send` writes an attempt as PGN, `take` compares what came back with exactly what would be sent
//! now: places are joined by legal move (other texts by their letters), so order, main line and line breaks do
//! not matter; at each place the sent comments are taken out of those that came back, whole ones first, then as
//! whole words; what is left is the coach's. A verdict is his where it is not the player's. Nothing is guessed:
//! two new verdicts, changed words, a ruling on a number that was not sent are conflicts that are shown.
//!
//! All of it is events after the lock: `Sent` (with the findings as they were numbered), `Coached` (a `Remark`:
//! added, judged, marked, said, homework), `Overruled`, `Upheld`. `Attempt::coached()` is the layer they make; its
//! tree begins with the player's nodes under their own numbers, and `Attempt::tree()` never changes.
//!
//! A struck finding has `FindingStatus::Overruled`: `Review::counted()`, the history and `sound` leave it out, and it hides
//! nothing further down its line. **Whoever counts findings or trials must leave it out**: for a finding by its
//! class, for anything else by `Attempt::is_overruled(paths, kind.code(), resource)`. A ruling without a number in
//! an attempt that was sent without findings strikes all findings of its place (`Named` with neither kind nor
//! resource). `foreply coach take` computes the review again after a ruling.
//! A coach beside the player rules on the review screen (`CoachService::rule`); `Contested`, the player's own key `k`, strikes
//! nothing: it asks the coach to look. [`model`] holds a tree against the coach's, [`students`] adds up students.

mod brought;
pub mod collection;
mod desk;
mod gathered;
mod merge;
mod model;
mod order;
mod said;
mod send;
mod take;
#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;
mod words;

pub use brought::{Assignment, CoachImport};
pub use desk::{Student, students};
pub use model::{Missed, Model, model};
pub use order::{Order, orders};
pub use said::{CoachWord, layer};
pub use send::{CoachExport, TASK, tag, told, written};
pub use take::{Refused, compare, holds_all};
