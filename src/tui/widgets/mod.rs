//! Values drawn on a [`canvas::Canvas`]: board, tree, lists, lines that are typed, and the words for what
//! a board does not show.
//!
//! A value and an area come in; styled words at places go out, with what a click on them means. A widget
//! keeps at most where its cursor is.
//!
//! It must never know a screen or the use cases. Nor may it know review, judge, progress or a drill's
//! solution: all of this is on the screen before the lock as well, where nothing may tell more than the
//! player has written.

pub mod board;
pub mod canvas;
pub mod chrome;
pub mod clock;
pub mod line_editor;
pub mod list;
pub mod men;
pub mod page;
pub mod position_text;
pub mod tree_cursor;
pub mod variation_tree;
