//! Moves that stand already: corrected, put elsewhere, marked. Nothing here asks whether they are possible.

use crate::app::AppError;
use crate::text;
use crate::tree::NodeId;
use crate::tui::input::action::{Action, WritingAction};
use crate::tui::nav::sessions::OpenAttempt;
use crate::tui::widgets::chrome::Notice;

/// What there is to say of it, or why it could not be done.
pub(super) type Mended = Result<Option<Notice>, AppError>;

pub(super) fn only(open: &mut OpenAttempt) -> Mended {
    match open.sitting.tree().node(open.cursor) {
        Some(node) => {
            let only = !node.only;
            open.sitting.only(open.cursor, only)?;
            Ok(None)
        }
        None => wants_a_move(),
    }
}

fn wants_a_move() -> Mended {
    let words = tr!("Put the cursor on a move first.");
    Ok(Some(Notice::Alert(words.to_owned())))
}

/// First the move under the cursor is taken, then the same key says where it belongs.
pub(super) fn take(open: &mut OpenAttempt, action: Action) -> Mended {
    let Some((node, _)) = open.held.take_if(|(_, held)| *held == action) else {
        let Some(node) = open.sitting.tree().node(open.cursor) else {
            return wants_a_move();
        };
        let (key, what) = match action {
            Action::Writing(WritingAction::Take) => {
                ("F7", tr!("behind the move it is to stand below"))
            }
            _ => (
                tr!("Ctrl-T"),
                tr!("on the move that leads to the same position"),
            ),
        };
        let words = tr!(
            "{} is taken: {key} again {what}; Esc lets it be.",
            text::safe(&node.text)
        );
        open.held = Some((open.cursor, action));
        return Ok(Some(Notice::Quiet(words)));
    };
    if action == Action::Writing(WritingAction::Take) {
        open.sitting.relocate(node, open.cursor)?;
    } else {
        let other = (open.cursor != node && open.cursor != NodeId::ROOT).then_some(open.cursor);
        open.sitting.same_as(node, other)?;
    }
    open.cursor = node;
    open.show_cursor();
    Ok(None)
}

pub(super) fn same_as(open: &mut OpenAttempt, line: &str) -> Mended {
    if open.cursor == NodeId::ROOT {
        return wants_a_move();
    }
    match written(open, line) {
        Some(node) => {
            let other = (node != NodeId::ROOT).then_some(node);
            open.sitting.same_as(open.cursor, other)?;
            open.line.finish();
        }
        None => return Ok(Some(not_written(line))),
    }
    Ok(None)
}

pub(super) fn move_to(open: &mut OpenAttempt, line: &str) -> Mended {
    if open.cursor == NodeId::ROOT {
        return wants_a_move();
    }
    match written(open, line) {
        Some(parent) => {
            open.sitting.relocate(open.cursor, parent)?;
            open.line.finish();
        }
        None => return Ok(Some(not_written(line))),
    }
    Ok(None)
}

/// The end of a line from the position on, where it is written as it is typed.
fn written(open: &OpenAttempt, line: &str) -> Option<NodeId> {
    let tree = open.sitting.tree();
    let words = line.split_whitespace();
    words
        .into_iter()
        .try_fold(NodeId::ROOT, |at, word| tree.find_as_typed(at, word))
}

fn not_written(line: &str) -> Notice {
    let words = tr!("'{}' is not written in your tree.", text::safe(line));
    Notice::Alert(words)
}

/// The move under the cursor comes into the line.
pub(super) fn begin_to_correct(open: &mut OpenAttempt) -> Mended {
    let Some(node) = open.sitting.tree().node(open.cursor) else {
        return wants_a_move();
    };
    let line = tr!("correct {}", open.letters.shown(&node.text));
    open.line.set(&line);
    Ok(None)
}

/// The move under the cursor gets another text.
pub(super) fn correct(open: &mut OpenAttempt, text: &str) -> Mended {
    if open.cursor == NodeId::ROOT {
        return wants_a_move();
    }
    let text = open.letters.typed_word(text);
    open.sitting.retype(open.cursor, &text)?;
    open.line.finish();
    Ok(None)
}

/// The words on the move come into the line.
pub(super) fn reword(open: &mut OpenAttempt) {
    let words = open.sitting.tree().node(open.cursor);
    let words = words.map(|n| n.comment.clone()).unwrap_or_default();
    open.line.set(&format!("{{{words}"));
}
