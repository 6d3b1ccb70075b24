//! A coach's own positions, each with the tree that he wants to be seen: handed out without it, held against what
//! comes back.
//!
//! Takes PGN, a game for each position with his lines as variations; gives the file for the students ([`handed_out`]),
//! and, of the trees that came back, one table ([`table`]). His trees never go out: a file can be opened with any
//! editor, so what is in it is no secret, and what he wants to be seen may still change while the students write.
//! Students do not need his tree either: he has theirs when they send it.

mod handout;
mod points;
mod read;
mod table;

pub use handout::{HandOut, HandedTask, handed_out, handed_task};
pub use points::{Point, Seen, points, seen};
pub use read::{Collected, CollectedPosition, collected, collected_tree};
pub use table::{CollectionTable, HandedIn, Mark, Row, RowOf, StudentRow, TablePosition, table};
