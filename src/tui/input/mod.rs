//! Keys, what they are bound to, and what can be typed.
//!
//! A [`key::KeyPress`] or a line of text comes in; an [`action::Action`], a
//! [`typed_command::TypedCommand`] or the parts of a line go out. Keys, bottom line and help are read
//! from the one list in [`bindings`].
//!
//! Nothing in here has a state. It must never know a screen, the program's use cases, nor whether a move
//! is possible or good: a line is taken apart by its form alone, and what it says before the lock must
//! not depend on more.

pub mod action;
pub mod bindings;
pub mod key;
pub mod line_parser;
pub mod typed_command;
