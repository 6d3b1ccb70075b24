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

use super::Reviewed;

pub(super) use board::BoardSvg;

/// The men that boards are made of, once in a page.
pub(super) const MEN: &str = include_str!("men.svg");

/// The page. `title` may come from a file.
///
/// # Errors
/// The template cannot be filled; ours can.
pub fn html(title: &str, reviews: &[Reviewed]) -> Result<String, askama::Error> {
    page::render(title, reviews)
}
