//! Writing the tree: what keys and typed lines do.
//!
//! Nothing here asks whether a move is possible; only what is no move of any kind is answered. The
//! file `view.rs` shows the state.

use super::mending::{self, Mended};
use super::view::WritingView;
use crate::app::{AppError, EntryToken};
use crate::text;
use crate::tree::NodeId;
use crate::tui::input::action::{Action, CommonAction, EditAction, WritingAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::input::line_parser;
use crate::tui::input::line_parser::ParsedLine;
use crate::tui::input::typed_command;
use crate::tui::input::typed_command::TypedCommand;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::OpenAttempt;
use crate::tui::nav::tour_step::TourStep;
use crate::tui::widgets::canvas::{Canvas, ClickTarget};
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::tree_cursor as walk;

const CONTEXTS: &[KeyContext] = &[KeyContext::Writing, KeyContext::Line];

/// The tree while it is written.
pub struct WritingScreen {
    pub(crate) open: OpenAttempt,
    pub(crate) notice: Option<Notice>,
}

/// Where an input leads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WritingStep {
    GoesOn,
    AsksForHelp,
    /// The clock stands, and everything is kept.
    Left,
    /// The clock stands.
    Paused,
    /// A candidate is chosen.
    Chosen,
}

impl WritingScreen {
    #[must_use]
    pub fn new(open: OpenAttempt) -> Self {
        Self { open, notice: None }
    }

    /// What an input changes.
    pub(crate) fn apply(&mut self, input: ScreenInput) -> WritingStep {
        if let ScreenInput::Click(target) = input {
            self.click(target);
            return WritingStep::GoesOn;
        }
        self.notice = None;
        match input {
            // A blank folds on an empty line alone.
            ScreenInput::Action(Action::Writing(WritingAction::Fold))
                if !self.open.line.is_empty() =>
            {
                self.open.line.insert(' ');
            }
            ScreenInput::Action(Action::Common(CommonAction::Open)) => return self.enter(),
            ScreenInput::Action(action) => return self.act(action),
            ScreenInput::Char(c) => self.open.line.insert(c),
            _ => {}
        }
        WritingStep::GoesOn
    }

    /// Does what a key or a typed word says.
    fn act(&mut self, action: Action) -> WritingStep {
        match action {
            Action::Common(CommonAction::Help) => return WritingStep::AsksForHelp,
            Action::Common(CommonAction::Back) if self.open.held.is_some() => self.open.held = None,
            Action::Common(CommonAction::Back) if self.open.line.is_empty() => {
                return self.leave(WritingStep::Left);
            }
            Action::Writing(WritingAction::Leave) => return self.leave(WritingStep::Left),
            Action::Writing(WritingAction::Choose) => return self.choose(),
            Action::Writing(WritingAction::Pause) => return self.leave(WritingStep::Paused),
            action => {
                if let Err(error) = self.run(action) {
                    self.notice = Some(Notice::error(&error));
                }
            }
        }
        WritingStep::GoesOn
    }

    /// Enter: a typed command is obeyed, anything else is written.
    fn enter(&mut self) -> WritingStep {
        let text = self.open.line.text().to_owned();
        let done = match typed_command::read(&text) {
            Some(TypedCommand::Run(action)) => {
                self.open.line.set("");
                return self.act(action);
            }
            Some(TypedCommand::SameAs(line)) => self.mended(|open| mending::same_as(open, line)),
            Some(TypedCommand::MoveTo(line)) => self.mended(|open| mending::move_to(open, line)),
            Some(TypedCommand::Correct(text)) => self.mended(|open| mending::correct(open, text)),
            None => self.submit(),
        };
        if let Err(error) = done {
            self.notice = Some(Notice::error(&error));
        }
        WritingStep::GoesOn
    }

    fn run(&mut self, action: Action) -> Result<(), AppError> {
        match action {
            Action::Common(CommonAction::Back) => self.open.line.set(""),
            Action::Edit(edit) => self.edit(edit),
            Action::Common(CommonAction::Up) => {
                self.open.cursor = walk::row(
                    self.open.sitting.tree(),
                    self.open.cursor,
                    false,
                    &self.open.folded,
                )
            }
            Action::Common(CommonAction::Down) => {
                self.open.cursor = walk::row(
                    self.open.sitting.tree(),
                    self.open.cursor,
                    true,
                    &self.open.folded,
                )
            }
            Action::Writing(WritingAction::NextCandidate) => self.walk_to_candidate(true),
            Action::Writing(WritingAction::PreviousCandidate) => self.walk_to_candidate(false),
            Action::Writing(WritingAction::Candidates) => self.open.candidates_only ^= true,
            Action::Common(CommonAction::Flip) => self.open.look.flip(),
            Action::Writing(WritingAction::Strike) => return self.strike(),
            Action::Writing(WritingAction::Earlier) => return self.reorder(false),
            Action::Writing(WritingAction::Later) => return self.reorder(true),
            Action::Writing(WritingAction::Undo) => return self.undo(),
            Action::Writing(WritingAction::Redo) => return self.redo(),
            Action::Writing(WritingAction::Take) | Action::Writing(WritingAction::Same) => {
                return self.mended(|open| mending::take(open, action));
            }
            Action::Writing(WritingAction::Only) => return self.mended(mending::only),
            Action::Writing(WritingAction::Note) => mending::reword(&mut self.open),
            Action::Writing(WritingAction::Correct) => {
                return self.mended(mending::begin_to_correct);
            }
            Action::Writing(WritingAction::Fold) => self.fold(),
            Action::Common(CommonAction::Letters) => self.open.look.letters ^= true,
            _ => {}
        }
        Ok(())
    }

    /// On an empty line the arrows walk the tree.
    fn edit(&mut self, edit: EditAction) {
        let tree = self.open.sitting.tree();
        match edit {
            EditAction::Left if self.open.line.is_empty() => {
                self.open.cursor = tree.parent(self.open.cursor).unwrap_or(NodeId::ROOT);
            }
            EditAction::Right
                if self.open.line.is_empty() && !self.open.folded.contains(&self.open.cursor) =>
            {
                let next = tree.children(self.open.cursor).first();
                self.open.cursor = next.copied().unwrap_or(self.open.cursor);
            }
            edit => self.open.line.edit(edit),
        }
    }

    /// Moves that stand already are changed; what there is to say of it is said.
    fn mended(&mut self, change: impl FnOnce(&mut OpenAttempt) -> Mended) -> Result<(), AppError> {
        let said = change(&mut self.open)?;
        self.notice = said.or(self.notice.take());
        Ok(())
    }

    fn walk_to_candidate(&mut self, forward: bool) {
        self.open.cursor = walk::candidate(self.open.sitting.tree(), self.open.cursor, forward);
    }

    /// Enter: what could be read is kept; the rest stays in the line, marked.
    fn submit(&mut self) -> Result<(), AppError> {
        let text = self.open.line.text().to_owned();
        if text.trim().is_empty() {
            self.open.line.set("");
            self.open.cursor = walk::branch(self.open.sitting.tree(), self.open.cursor);
            return Ok(());
        }
        let typed = line_parser::read_in(&text, self.open.letters);
        if self.open.cursor == NodeId::ROOT
            && !matches!(typed.pieces.first(), Some(EntryToken::Move(_)) | None)
        {
            let words = tr!("A verdict or a comment belongs to a move: put the cursor on one.");
            self.notice = Some(Notice::Alert(words.to_owned()));
            return Ok(());
        }
        self.open.cursor = self.open.sitting.write(self.open.cursor, &typed.pieces)?;
        self.open.show_cursor();
        self.open.line.finish();
        self.reply(&text, &typed);
        Ok(())
    }

    /// Answers a line: the last verdict in words, or the first word that is no move of any kind.
    fn reply(&mut self, text: &str, typed: &ParsedLine) {
        if let Some((bad, span)) = &typed.bad {
            let rest = text.get(span.start..).unwrap_or_default();
            self.open.line.set(rest);
            self.open.line.mark(bad.span.clone());
            self.notice = Some(Notice::Alert(format!("{bad}.{}", kept(&typed.pieces))));
        } else if let Some(EntryToken::Verdict(verdict)) = typed.pieces.last() {
            let words = format!("{verdict} {}.", verdict.words());
            self.notice = Some(Notice::Quiet(words));
        }
    }

    fn strike(&mut self) -> Result<(), AppError> {
        let Some(node) = self.open.sitting.tree().node(self.open.cursor) else {
            return Ok(());
        };
        let struck = node.struck;
        self.open.sitting.strike(self.open.cursor, !struck)
    }

    fn reorder(&mut self, later: bool) -> Result<(), AppError> {
        let tree = self.open.sitting.tree();
        let Some(parent) = tree.parent(self.open.cursor) else {
            return Ok(());
        };
        let all = tree.children(parent);
        let place = all.iter().position(|c| *c == self.open.cursor);
        let wanted = place.and_then(|p| if later { Some(p + 1) } else { p.checked_sub(1) });
        match wanted {
            Some(wanted) if wanted < all.len() => {
                self.open.sitting.reorder(self.open.cursor, wanted)
            }
            _ => Ok(()),
        }
    }

    /// Takes one change back; the cursor stays as near as it can.
    fn undo(&mut self) -> Result<(), AppError> {
        let path = self.open.sitting.tree().path(self.open.cursor);
        let choice = self.open.sitting.attempt().choice();
        self.open.sitting.undo()?;
        let tree = self.open.sitting.tree();
        // The only change that the tree does not show.
        let chosen = choice.filter(|_| self.open.sitting.attempt().choice() != choice);
        if let Some(node) = chosen.and_then(|c| tree.node(c)) {
            let words = tr!("{} is no longer your choice.", text::safe(&node.text));
            self.notice = Some(Notice::Quiet(words));
        }
        let left = path.iter().rev().find(|n| tree.node(**n).is_some());
        self.open.cursor = left.copied().unwrap_or(NodeId::ROOT);
        Ok(())
    }

    fn redo(&mut self) -> Result<(), AppError> {
        let before = self.open.sitting.tree().len();
        self.open.sitting.redo()?;
        let after = self.open.sitting.tree().len();
        if after > before {
            self.open.cursor = NodeId(u32::try_from(after).unwrap_or(0));
            self.open.show_cursor();
        }
        Ok(())
    }

    fn fold(&mut self) {
        let has_more = !self
            .open
            .sitting
            .tree()
            .children(self.open.cursor)
            .is_empty();
        if !self.open.folded.remove(&self.open.cursor)
            && has_more
            && self.open.cursor != NodeId::ROOT
        {
            self.open.folded.insert(self.open.cursor);
        }
    }

    fn choose(&mut self) -> WritingStep {
        let chosen = match self.candidate() {
            Ok(candidate) => self.open.sitting.choose(candidate),
            Err(words) => return self.refuse(Notice::Alert(words.to_owned())),
        };
        match chosen {
            Ok(()) => WritingStep::Chosen,
            Err(error) => self.refuse(Notice::error(&error)),
        }
    }

    /// The candidate to choose, or why there is none.
    fn candidate(&self) -> Result<NodeId, &'static str> {
        let tree = self.open.sitting.tree();
        let own = tree.path(self.open.cursor).first().copied();
        let only = match tree.children(NodeId::ROOT) {
            [only] => Some(*only),
            _ => None,
        };
        match own.or(only) {
            None if tree.is_empty() => Err(tr!("Write the move you would play, then choose it.")),
            None => Err(tr!(
                "Put the cursor on the candidate you would play, then choose it."
            )),
            Some(candidate) if !tree.stands(candidate) => Err(tr!(
                "That candidate is struck out: let it stand again first (F4)."
            )),
            Some(candidate) => Ok(candidate),
        }
    }

    /// The clock stops; where that cannot be kept the writing goes on.
    fn leave(&mut self, left: WritingStep) -> WritingStep {
        match self.open.sitting.leave() {
            Ok(()) => left,
            Err(error) => self.refuse(Notice::error(&error)),
        }
    }

    fn refuse(&mut self, notice: Notice) -> WritingStep {
        self.notice = Some(notice);
        WritingStep::GoesOn
    }

    /// A click on a move puts the cursor there; on a square it types the square's name.
    fn click(&mut self, target: ClickTarget) {
        match target {
            ClickTarget::Node(node) => self.open.cursor = node,
            ClickTarget::Square(square) => self.open.line.insert_word(&square.to_string()),
            ClickTarget::Item(_) | ClickTarget::Filter(_) => {}
        }
    }
}

impl Screen for WritingScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, _ctx: &Context) -> Transition {
        match self.apply(input) {
            WritingStep::GoesOn => Transition::Stay(self),
            WritingStep::AsksForHelp => Transition::Push(self, Route::Help(CONTEXTS)),
            WritingStep::Left => Transition::Back(Notice::Quiet(
                crate::translation::text(labels::KEPT).to_owned(),
            )),
            WritingStep::Paused => Transition::Replace(Route::Pause(Box::new(self.open))),
            WritingStep::Chosen => Transition::Replace(Route::Commit(Box::new(self.open))),
        }
    }

    fn time_text(&self, _ctx: &Context) -> String {
        self.open.time_text()
    }

    fn tour_step(&self) -> Option<TourStep> {
        Some(self.open.tour_step())
    }

    fn close(&mut self) -> Result<(), AppError> {
        self.open.sitting.leave()
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let view = WritingView {
            open: &self.open,
            notice: self.notice.as_ref(),
        };
        view.draw(canvas, ctx);
    }
}

/// ` Kept: Nxe4 dxe4.`, or nothing.
fn kept(pieces: &[EntryToken]) -> String {
    let moves: Vec<&str> = pieces
        .iter()
        .filter_map(|p| match p {
            EntryToken::Move(text) => Some(text.as_str()),
            _ => None,
        })
        .collect();
    match moves.as_slice() {
        [] => String::new(),
        moves => tr!(" Kept: {}.", text::safe(&moves.join(" "))),
    }
}
