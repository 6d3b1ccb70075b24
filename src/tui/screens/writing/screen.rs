//! Writing the tree: what keys and typed lines do.
//!
//! Nothing here asks whether a move is possible; only what is no move of any kind is answered. The
//! file `entry_draw.rs` shows the state.

use std::collections::HashSet;

use super::commit::Commit;
use crate::app::{AppError, Piece, Sitting};
use crate::attempt::Sight;
use crate::text;
use crate::tree::NodeId;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::input::line_parser;
use crate::tui::input::line_parser::Typed;
use crate::tui::input::typed_command;
use crate::tui::input::typed_command::Order;
use crate::tui::labels;
use crate::tui::router::{Next, Screen};
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::overlays::pause::Pause;
use crate::tui::widgets::board::BoardLook;
use crate::tui::widgets::canvas::Hit;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::line_editor::{Edit, EntryLine};
use crate::tui::widgets::variation_tree::walk;

const PLACES: &[Place] = &[Place::Entry, Place::Line];

/// The tree while it is written.
pub struct Entry {
    pub(crate) sitting: Sitting,
    pub(crate) label: String,
    pub(crate) look: BoardLook,
    pub(crate) cursor: NodeId,
    pub(crate) line: EntryLine,
    pub(crate) answer: Option<Answer>,
    pub(crate) candidates_only: bool,
    /// Moves below which nothing is shown; only here, never kept.
    pub(crate) folded: HashSet<NodeId>,
    /// A move that was taken, and what for.
    held: Option<(NodeId, Do)>,
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
            folded: HashSet::new(),
            held: None,
        }
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        match bindings::find(PLACES, key) {
            // A blank folds on an empty line alone.
            Some(Do::Fold) if !self.line.is_empty() => self.line.insert(' '),
            Some(Do::Open) => return self.enter(),
            Some(run) => return self.go(run),
            None => {
                if let Key::Char(c) = key {
                    self.line.insert(c);
                }
            }
        }
        Next::Stay(Screen::Entry(Box::new(self)))
    }

    /// Does what a key or a typed word says.
    fn go(mut self, run: Do) -> Next {
        match run {
            Do::Help => {
                return Next::Over(Screen::Entry(Box::new(self)), HelpScreen::of(PLACES));
            }
            Do::Back if self.held.is_some() => self.held = None,
            Do::Back if self.line.is_empty() => return self.leave(),
            Do::Leave => return self.leave(),
            Do::Choose => return self.choose(),
            Do::Pause => return Pause::of(self),
            run => {
                if let Err(error) = self.run(run) {
                    self.answer = Some(Answer::error(&error));
                }
            }
        }
        Next::Stay(Screen::Entry(Box::new(self)))
    }

    /// Enter: an order is obeyed, anything else is written.
    fn enter(mut self) -> Next {
        let text = self.line.text().to_owned();
        let done = match typed_command::read(&text) {
            Some(Order::Run(run)) => {
                self.line.set("");
                return self.go(run);
            }
            Some(Order::SameAs(line)) => self.same_as(line),
            Some(Order::MoveTo(line)) => self.move_to(line),
            None => self.submit(),
        };
        if let Err(error) = done {
            self.answer = Some(Answer::error(&error));
        }
        Next::Stay(Screen::Entry(Box::new(self)))
    }

    fn run(&mut self, run: Do) -> Result<(), AppError> {
        match run {
            Do::Back => self.line.set(""),
            Do::Edit(edit) => self.edit(edit),
            Do::Up => {
                self.cursor = walk::row(self.sitting.tree(), self.cursor, false, &self.folded)
            }
            Do::Down => {
                self.cursor = walk::row(self.sitting.tree(), self.cursor, true, &self.folded)
            }
            Do::NextCandidate => self.walk_to_candidate(true),
            Do::PreviousCandidate => self.walk_to_candidate(false),
            Do::Candidates => self.candidates_only ^= true,
            Do::Flip => self.look.flip(),
            Do::Strike => return self.strike(),
            Do::Earlier => return self.reorder(false),
            Do::Later => return self.reorder(true),
            Do::Undo => return self.undo(),
            Do::Redo => return self.redo(),
            Do::Take | Do::Same => return self.take(run),
            Do::Only => return self.only(),
            Do::Note => self.reword(),
            Do::Fold => self.fold(),
            Do::Letters => self.look.letters ^= true,
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
            Edit::Right if self.line.is_empty() && !self.folded.contains(&self.cursor) => {
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
        let typed = line_parser::read(&text);
        if self.cursor == NodeId::ROOT
            && !matches!(typed.pieces.first(), Some(Piece::Move(_)) | None)
        {
            let words = "A verdict or a comment belongs to a move: put the cursor on one.";
            self.answer = Some(Answer::Alert(words.to_owned()));
            return Ok(());
        }
        self.cursor = self.sitting.write(self.cursor, &typed.pieces)?;
        self.show_cursor();
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
        let choice = self.sitting.attempt().choice();
        self.sitting.undo()?;
        let tree = self.sitting.tree();
        // The only change that the tree does not show.
        let chosen = choice.filter(|_| self.sitting.attempt().choice() != choice);
        if let Some(node) = chosen.and_then(|c| tree.node(c)) {
            let words = format!("{} is no longer your choice.", text::safe(&node.text));
            self.answer = Some(Answer::Quiet(words));
        }
        let left = path.iter().rev().find(|n| tree.node(**n).is_some());
        self.cursor = left.copied().unwrap_or(NodeId::ROOT);
        Ok(())
    }

    fn redo(&mut self) -> Result<(), AppError> {
        let before = self.sitting.tree().len();
        self.sitting.redo()?;
        let after = self.sitting.tree().len();
        if after > before {
            self.cursor = NodeId(u32::try_from(after).unwrap_or(0));
            self.show_cursor();
        }
        Ok(())
    }

    fn only(&mut self) -> Result<(), AppError> {
        match self.sitting.tree().node(self.cursor) {
            Some(node) => {
                let only = !node.only;
                self.sitting.only(self.cursor, only)
            }
            None => self.wants_a_move(),
        }
    }

    fn wants_a_move(&mut self) -> Result<(), AppError> {
        self.answer = Some(Answer::Alert("Put the cursor on a move first.".to_owned()));
        Ok(())
    }

    /// First the move under the cursor is taken, then the same key says where it belongs.
    fn take(&mut self, run: Do) -> Result<(), AppError> {
        let Some((node, _)) = self.held.take_if(|(_, held)| *held == run) else {
            let Some(node) = self.sitting.tree().node(self.cursor) else {
                return self.wants_a_move();
            };
            let (key, what) = match run {
                Do::Take => ("F7", "behind the move it is to stand below"),
                _ => ("Ctrl-T", "on the move that leads to the same position"),
            };
            let words = format!(
                "{} is taken: {key} again {what}; Esc lets it be.",
                text::safe(&node.text)
            );
            self.answer = Some(Answer::Quiet(words));
            self.held = Some((self.cursor, run));
            return Ok(());
        };
        if run == Do::Take {
            self.sitting.relocate(node, self.cursor)?;
        } else {
            let other = (self.cursor != node && self.cursor != NodeId::ROOT).then_some(self.cursor);
            self.sitting.same_as(node, other)?;
        }
        self.cursor = node;
        self.show_cursor();
        Ok(())
    }

    fn same_as(&mut self, line: &str) -> Result<(), AppError> {
        if self.cursor == NodeId::ROOT {
            return self.wants_a_move();
        }
        match self.written(line) {
            Some(node) => {
                let other = (node != NodeId::ROOT).then_some(node);
                self.sitting.same_as(self.cursor, other)?;
                self.line.finish();
            }
            None => self.not_written(line),
        }
        Ok(())
    }

    fn move_to(&mut self, line: &str) -> Result<(), AppError> {
        if self.cursor == NodeId::ROOT {
            return self.wants_a_move();
        }
        match self.written(line) {
            Some(parent) => {
                self.sitting.relocate(self.cursor, parent)?;
                self.line.finish();
            }
            None => self.not_written(line),
        }
        Ok(())
    }

    /// The end of a line from the position on, where it is written as it is typed.
    fn written(&self, line: &str) -> Option<NodeId> {
        let tree = self.sitting.tree();
        let words = line.split_whitespace();
        words
            .into_iter()
            .try_fold(NodeId::ROOT, |at, word| tree.find_as_typed(at, word))
    }

    fn not_written(&mut self, line: &str) {
        let words = format!("'{}' is not written in your tree.", text::safe(line));
        self.answer = Some(Answer::Alert(words));
    }

    /// The words on the move come into the line.
    fn reword(&mut self) {
        let words = self.sitting.tree().node(self.cursor);
        let words = words.map(|n| n.comment.clone()).unwrap_or_default();
        self.line.set(&format!("{{{words}"));
    }

    fn fold(&mut self) {
        let has_more = !self.sitting.tree().children(self.cursor).is_empty();
        if !self.folded.remove(&self.cursor) && has_more && self.cursor != NodeId::ROOT {
            self.folded.insert(self.cursor);
        }
    }

    /// What hides the cursor is unfolded.
    pub(crate) fn show_cursor(&mut self) {
        for node in self.sitting.tree().path(self.cursor) {
            if node != self.cursor {
                self.folded.remove(&node);
            }
        }
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
            Ok(()) => Next::Home(Some(labels::KEPT.to_owned())),
            Err(error) => self.stay(Answer::error(&error)),
        }
    }

    pub(crate) fn stay(mut self, answer: Answer) -> Next {
        self.answer = Some(answer);
        Next::Stay(Screen::Entry(Box::new(self)))
    }

    /// A click on a move puts the cursor there; on a square it types the square's name.
    pub fn click(mut self, hit: Hit) -> Next {
        match hit {
            Hit::Node(node) => self.cursor = node,
            Hit::Square(square) => self.line.insert_word(&square.to_string()),
            Hit::Item(_) | Hit::Filter(_) => {}
        }
        Next::Stay(Screen::Entry(Box::new(self)))
    }

    /// The clock and its note: what changes without a key.
    #[must_use]
    pub fn moving(&self) -> String {
        let left = self.sitting.left_ms();
        let clock = labels::clock(left, self.sitting.used_ms());
        format!("{clock}{}", self.time_note().unwrap_or_default())
    }

    pub(crate) fn time_note(&self) -> Option<&'static str> {
        let budget = self.sitting.attempt().opened().budget_ms;
        labels::time_note(self.sitting.left_ms(), budget)
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
