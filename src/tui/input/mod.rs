//! TODO

pub mod action;
pub mod bindings;
pub mod key;
pub mod line_parser;
pub mod typed_command;
