//! Writing the tree: what keys and typed lines do.
//!
//! Nothing here asks whether a move is possible; only what is no move of any kind is answered. The
//! file `entry_draw.rs` shows the state.

use super::board_view::BoardLook;
use super::command::{self, Do, Place};
use super::commit::Commit;
use super::entry_line::{Edit, EntryLine};
use super::frame::Answer;
use super::help::HelpScreen;
use super::key::Key;
use super::model::{Next, Screen};
use super::page::Hit;
use super::tree_view::walk;
use super::typed::{self, Typed};
use super::words;
use crate::app::{AppError, Piece, Sitting};
use crate::attempt::Sight;
use crate::text;
use crate::tree::NodeId;

const PLACES: &[Place] = &[Place::Entry, Place::Line];

/// The tree while it is written.
pub struct Entry {
    pub(super) sitting: Sitting,
    pub(super) label: String,
    pub(super) look: BoardLook,
    pub(super) cursor: NodeId,
    pub(super) line: EntryLine,
    pub(super) answer: Option<Answer>,
    pub(super) candidates_only: bool,
}

impl Entry {
    #[must_use]
    pub fn new(sitting: Sitting, label: String, look: BoardLook) -> Self {
        let hidden = sitting.attempt().opened().sight == Sight::None;
        // A sitting that is taken up again goes on below what was written last.
        let last = u32::try_from(sitting.tree().len()).unwrap_or(0);
        Self {
            sitting,
            label,
            look: BoardLook { hidden, ..look },
            cursor: NodeId(last),
            line: EntryLine::default(),
            answer: None,
            candidates_only: false,
        }
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        match command::find(PLACES, key) {
            Some(Do::Help) => {
                return Next::Over(Screen::Entry(Box::new(self)), HelpScreen::of(PLACES));
            }
            Some(Do::Back) if self.line.is_empty() => return self.leave(),
            Some(Do::Choose) => return self.choose(),
            Some(run) => {
                if let Err(error) = self.run(run) {
                    self.answer = Some(Answer::error(&error));
                }
            }
            None => {
                if let Key::Char(c) = key {
                    self.line.insert(c);
                }
            }
        }
        Next::Stay(Screen::Entry(Box::new(self)))
    }

    fn run(&mut self, run: Do) -> Result<(), AppError> {
        match run {
            Do::Open => return self.submit(),
            Do::Back => self.line.set(""),
            Do::Edit(edit) => self.edit(edit),
            Do::Up => self.cursor = walk::row(self.sitting.tree(), self.cursor, false),
            Do::Down => self.cursor = walk::row(self.sitting.tree(), self.cursor, true),
            Do::NextCandidate => self.walk_to_candidate(true),
            Do::PreviousCandidate => self.walk_to_candidate(false),
            Do::Candidates => self.candidates_only ^= true,
            Do::Flip => self.look.flip(),
            Do::Strike => return self.strike(),
            Do::Earlier => return self.reorder(false),
            Do::Later => return self.reorder(true),
            Do::Undo => return self.undo(),
            _ => {}
        }
        Ok(())
    }

    /// On an empty line the arrows walk the tree.
    fn edit(&mut self, edit: Edit) {
        let tree = self.sitting.tree();
        match edit {
            Edit::Left if self.line.is_empty() => {
                self.cursor = tree.parent(self.cursor).unwrap_or(NodeId::ROOT);
            }
            Edit::Right if self.line.is_empty() => {
                let next = tree.children(self.cursor).first();
                self.cursor = next.copied().unwrap_or(self.cursor);
            }
            edit => self.line.edit(edit),
        }
    }

    fn walk_to_candidate(&mut self, forward: bool) {
        self.cursor = walk::candidate(self.sitting.tree(), self.cursor, forward);
    }

    /// Enter: what could be read is kept; the rest stays in the line, marked.
    fn submit(&mut self) -> Result<(), AppError> {
        let text = self.line.text().to_owned();
        if text.trim().is_empty() {
            self.line.set("");
            self.cursor = walk::branch(self.sitting.tree(), self.cursor);
            return Ok(());
        }
        let typed = typed::read(&text);
        if self.cursor == NodeId::ROOT
            && !matches!(typed.pieces.first(), Some(Piece::Move(_)) | None)
        {
            let words = "A verdict or a comment belongs to a move: put the cursor on one.";
            self.answer = Some(Answer::Alert(words.to_owned()));
            return Ok(());
        }
        self.cursor = self.sitting.write(self.cursor, &typed.pieces)?;
        self.line.finish();
        self.reply(&text, &typed);
        Ok(())
    }

    /// Answers a line: the last verdict in words, or the first word that is no move of any kind.
    fn reply(&mut self, text: &str, typed: &Typed) {
        if let Some((bad, span)) = &typed.bad {
            let rest = text.get(span.start..).unwrap_or_default();
            self.line.set(rest);
            self.line.mark(bad.span.clone());
            self.answer = Some(Answer::Alert(format!("{bad}.{}", kept(&typed.pieces))));
        } else if let Some(Piece::Verdict(verdict)) = typed.pieces.last() {
            let words = format!("{verdict} {}.", verdict.words());
            self.answer = Some(Answer::Quiet(words));
        }
    }

    fn strike(&mut self) -> Result<(), AppError> {
        let Some(node) = self.sitting.tree().node(self.cursor) else {
            return Ok(());
        };
        let struck = node.struck;
        self.sitting.strike(self.cursor, !struck)
    }

    fn reorder(&mut self, later: bool) -> Result<(), AppError> {
        let tree = self.sitting.tree();
        let Some(parent) = tree.parent(self.cursor) else {
            return Ok(());
        };
        let all = tree.children(parent);
        let place = all.iter().position(|c| *c == self.cursor);
        let wanted = place.and_then(|p| if later { Some(p + 1) } else { p.checked_sub(1) });
        match wanted {
            Some(wanted) if wanted < all.len() => self.sitting.reorder(self.cursor, wanted),
            _ => Ok(()),
        }
    }

    /// Takes one change back; the cursor stays as near as it can.
    fn undo(&mut self) -> Result<(), AppError> {
        let path = self.sitting.tree().path(self.cursor);
        self.sitting.undo()?;
        let tree = self.sitting.tree();
        let left = path.iter().rev().find(|n| tree.node(**n).is_some());
        self.cursor = left.copied().unwrap_or(NodeId::ROOT);
        Ok(())
    }

    fn choose(mut self) -> Next {
        let tree = self.sitting.tree();
        let own = tree.path(self.cursor).first().copied();
        let only = match tree.children(NodeId::ROOT) {
            [only] => Some(*only),
            _ => None,
        };
        let Some(candidate) = own.or(only) else {
            let words = if tree.is_empty() {
                "Write the move you would play, then choose it."
            } else {
                "Put the cursor on the candidate you would play, then choose it."
            };
            return self.stay(Answer::Alert(words.to_owned()));
        };
        if !tree.stands(candidate) {
            let words = "That candidate is struck out: let it stand again first (F4).";
            return self.stay(Answer::Alert(words.to_owned()));
        }
        match self.sitting.choose(candidate) {
            Ok(()) => Next::Stay(Screen::Commit(Box::new(Commit::new(self)))),
            Err(error) => self.stay(Answer::error(&error)),
        }
    }

    fn leave(mut self) -> Next {
        match self.sitting.leave() {
            Ok(()) => Next::Home(Some(
                "The sitting is kept: go on with it any time.".to_owned(),
            )),
            Err(error) => self.stay(Answer::error(&error)),
        }
    }

    pub(super) fn stay(mut self, answer: Answer) -> Next {
        self.answer = Some(answer);
        Next::Stay(Screen::Entry(Box::new(self)))
    }

    /// A click on a move puts the cursor there; on a square it types the square's name.
    pub fn click(mut self, hit: Hit) -> Next {
        match hit {
            Hit::Node(node) => self.cursor = node,
            Hit::Square(square) => self.line.insert_word(&square.to_string()),
            Hit::Item(_) => {}
        }
        Next::Stay(Screen::Entry(Box::new(self)))
    }

    /// The clock and its note: what changes without a key.
    #[must_use]
    pub fn moving(&self) -> String {
        let left = self.sitting.left_ms();
        let clock = words::clock(left, self.sitting.used_ms());
        format!("{clock}{}", self.time_note().unwrap_or_default())
    }

    pub(super) fn time_note(&self) -> Option<&'static str> {
        let budget = self.sitting.attempt().opened().budget_ms;
        words::time_note(self.sitting.left_ms(), budget)
    }
}

/// ` Kept: Nxe4 dxe4.`, or nothing.
fn kept(pieces: &[Piece]) -> String {
    let moves: Vec<&str> = pieces
        .iter()
        .filter_map(|p| match p {
            Piece::Move(text) => Some(text.as_str()),
            _ => None,
        })
        .collect();
    match moves.as_slice() {
        [] => String::new(),
        moves => format!(" Kept: {}.", text::safe(&moves.join(" "))),
    }
}
