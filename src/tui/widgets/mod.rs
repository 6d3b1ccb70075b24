//! TODO

pub mod board;
pub mod canvas;
pub mod chrome;
pub mod line_editor;
pub mod list;
pub mod variation_tree;
