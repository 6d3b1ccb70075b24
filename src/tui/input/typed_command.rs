//! What can be typed instead of pressing a key: whole words that are no move of any kind.
//!
//! The screens and the plain sitting read the same words.

use crate::tui::input::action::{Action, CommonAction, WritingAction};

/// A command in typed words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TypedCommand<'a> {
    Run(Action),
    /// The move under the cursor leads to the same position as this line; an empty line takes it back.
    SameAs(&'a str),
    /// The move under the cursor, with what stands below it, goes behind this line.
    MoveTo(&'a str),
    /// The move under the cursor gets this text; what stands below it stays.
    Correct(&'a str),
}

/// One word, what it does, and its line in the help.
pub const TYPED_COMMANDS: &[(&str, Action, &str)] = &[
    (
        "undo",
        Action::Writing(WritingAction::Undo),
        "take the last line or change back",
    ),
    (
        "redo",
        Action::Writing(WritingAction::Redo),
        "bring back what was taken back",
    ),
    (
        "strike",
        Action::Writing(WritingAction::Strike),
        "strike the move under the cursor out, or let it stand again",
    ),
    (
        "only",
        Action::Writing(WritingAction::Only),
        "name the move as a candidate only, without a line on purpose",
    ),
    (
        "note",
        Action::Writing(WritingAction::Note),
        "put the words on the move into the line, to change them",
    ),
    (
        "fold",
        Action::Writing(WritingAction::Fold),
        "fold what stands below the move, or unfold it",
    ),
    (
        "pause",
        Action::Writing(WritingAction::Pause),
        "stop the clock; board and tree are hidden until you go on",
    ),
    (
        "choose",
        Action::Writing(WritingAction::Choose),
        "choose the candidate the cursor is in",
    ),
    (
        "leave",
        Action::Writing(WritingAction::Leave),
        "leave; everything is kept",
    ),
    ("help", Action::Common(CommonAction::Help), "this help"),
];

/// The commands with a line behind them, for the help.
pub const WITH_LINE: &[(&str, &str)] = &[
    (
        "correct Nbd2",
        "the move under the cursor was meant as this one; what stands below it stays",
    ),
    (
        "same as c4 d5",
        "the move under the cursor leads to the same position as that line; 'same as' alone takes it back",
    ),
    (
        "move to c4 d5",
        "the move under the cursor, with all below it, goes behind that line; 'move to' alone makes it a candidate",
    ),
];

/// Reads a line; `None` where it is no command.
#[must_use]
pub fn read(line: &str) -> Option<TypedCommand<'_>> {
    let line = line.trim();
    if let Some((_, action, _)) = TYPED_COMMANDS
        .iter()
        .find(|(word, ..)| line.eq_ignore_ascii_case(word))
    {
        return Some(TypedCommand::Run(*action));
    }
    behind(line, "same as")
        .map(TypedCommand::SameAs)
        .or_else(|| behind(line, "move to").map(TypedCommand::MoveTo))
        .or_else(|| behind(line, "correct").map(TypedCommand::Correct))
}

/// What follows the words, where the line begins with them.
pub fn behind<'a>(line: &'a str, words: &str) -> Option<&'a str> {
    let (head, rest) = line.split_at_checked(words.len())?;
    let ends = rest.is_empty() || rest.starts_with(char::is_whitespace);
    (head.eq_ignore_ascii_case(words) && ends).then(|| rest.trim())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation;

    #[test]
    fn typed_commands_are_read() {
        assert_eq!(
            read(" Undo "),
            Some(TypedCommand::Run(Action::Writing(WritingAction::Undo)))
        );
        assert_eq!(read("same as c4 d5"), Some(TypedCommand::SameAs("c4 d5")));
        assert_eq!(read("same as"), Some(TypedCommand::SameAs("")));
        assert_eq!(read("move to"), Some(TypedCommand::MoveTo("")));
        assert_eq!(read("correct Nbd2"), Some(TypedCommand::Correct("Nbd2")));
        assert_eq!(read("same assay"), None);
        assert_eq!(read("Nxe4 undo"), None);
        assert_eq!(read("ünd"), None);
    }

    /// No command can be mistaken for a move.
    #[test]
    fn no_typed_command_is_a_move() {
        for (word, ..) in TYPED_COMMANDS {
            assert!(notation::parse(word).is_err(), "{word}");
        }
    }
}
