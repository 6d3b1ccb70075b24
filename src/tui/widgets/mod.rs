//! TODO

pub mod board;
pub mod canvas;
pub mod chrome;
pub mod clock;
pub mod line_editor;
pub mod list;
pub mod position_text;
pub mod tree_cursor;
pub mod variation_tree;
