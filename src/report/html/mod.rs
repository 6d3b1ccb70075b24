//! A review as one page to read: no network, no other file, the player's tree first.
//!
//! Takes a written tree with its review; gives HTML 5. Everything that comes from a file or a keyboard
//! goes through the templates' escaping. The page can be read without its script: every line stands as
//! text, and each finding has the board of its place. The script steps through the lines, by click and
//! by the arrow keys.

mod board;
mod lines;
mod page;
#[cfg(test)]
mod tests;

use crate::review::Review;
use crate::tree::{NodeId, Tree};

/// What a page shows.
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'a> {
    /// The players and the move, or the attempt; may come from a file.
    pub heading: &'a str,
    pub tree: &'a Tree,
    pub choice: Option<NodeId>,
    pub review: &'a Review,
}

/// The page. `title` may come from a file.
///
/// # Errors
/// The template cannot be filled; ours can.
pub fn html(title: &str, sheets: &[Sheet<'_>]) -> Result<String, askama::Error> {
    page::render(title, sheets)
}
