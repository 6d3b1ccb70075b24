//! What is typed or picked in answer to a review.

use crate::tui::input::bindings::KeyContext;
use crate::tui::widgets::line_editor::LineEditor;

/// What is typed or picked at the moment.
pub enum ResponseInput {
    /// Keys go to the review.
    Nothing,
    /// A line that is held against the review.
    Doubt(LineEditor),
    /// A note on the finding.
    Remark(LineEditor),
    /// The coach's name and why he strikes the finding.
    Strike(LineEditor),
    /// One of his causes, or with 0 one of his own; or one that goes from the list, or gets other words.
    Cause(Vec<String>, CausePurpose),
    /// The words of a cause of his own.
    OwnCause(LineEditor),
    /// Other words for a cause on his list.
    Reword(String, LineEditor),
    /// More words on a cause.
    Words(String, LineEditor),
}

/// What a cause is picked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CausePurpose {
    Give,
    Remove,
    Reword,
}

impl ResponseInput {
    /// The line that is typed.
    pub fn line(&mut self) -> Option<&mut LineEditor> {
        match self {
            Self::Doubt(line)
            | Self::Remark(line)
            | Self::Strike(line)
            | Self::OwnCause(line)
            | Self::Reword(_, line)
            | Self::Words(_, line) => Some(line),
            Self::Nothing | Self::Cause(..) => None,
        }
    }

    #[must_use]
    pub fn key_contexts(&self) -> &'static [KeyContext] {
        match self {
            Self::Nothing => &[KeyContext::Review],
            Self::Cause(..) => &[KeyContext::Cause],
            _ => &[KeyContext::Response, KeyContext::Line],
        }
    }
}
