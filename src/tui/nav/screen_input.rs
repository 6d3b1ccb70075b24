//! What comes in at a screen.

use crate::tui::input::action::{Action, CommonAction};
use crate::tui::input::bindings::{self, KeyContext};
use crate::tui::input::key::KeyPress;
use crate::tui::widgets::canvas::ClickTarget;

/// What a screen has to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScreenInput {
    Action(Action),
    /// One of several, counted from 0: what a digit means where one picks.
    Pick(usize),
    /// A character that is bound to nothing.
    Char(char),
    /// Enter, where it is bound to nothing.
    Enter,
    /// Any other key that is bound to nothing.
    Unbound,
    Click(ClickTarget),
}

impl ScreenInput {
    /// What a key means where these bindings are valid.
    #[must_use]
    pub fn of_key(contexts: &[KeyContext], key: KeyPress) -> Self {
        match (bindings::find(contexts, key), key) {
            (Some(Action::Common(CommonAction::Pick)), _) => {
                let place = key.digit().and_then(|d| d.checked_sub(1));
                place.map_or(Self::Unbound, Self::Pick)
            }
            (Some(action), _) => Self::Action(action),
            (None, KeyPress::Char(c)) => Self::Char(c),
            (None, KeyPress::Enter) => Self::Enter,
            (None, _) => Self::Unbound,
        }
    }
}
