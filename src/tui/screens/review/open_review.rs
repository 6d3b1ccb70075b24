//! The review: what held first, then one finding at a time, with the board at its moment.
//!
//! What the screen, its view and the responses have in common.

use std::collections::HashSet;

use crate::app::AttemptId;
use crate::attempt::Attempt;
use crate::board::Line;
use crate::coach::CoachWord;
use crate::notation::Reading;
use crate::progress::Moment;
use crate::review::Finding;
use crate::tree::{NodeId, Tree};
use crate::tui::forms::drill_source::DrillSource;
use crate::tui::forms::played_line::play;
use crate::tui::forms::review_words::coach_words;
use crate::tui::input::action::{Action, CommonAction, ReviewAction, WritingAction};
use crate::tui::nav::context::Context;
use crate::tui::screens::review::engine_requests::EngineRequests;
use crate::tui::screens::review::partial::ReviewSnapshot;
use crate::tui::screens::review::response_input::ResponseInput;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::page::PageScroll;
use crate::tui::widgets::tree_cursor as walk;

/// A review on the screen.
pub struct OpenReview {
    pub(crate) label: String,
    pub(crate) snapshot: ReviewSnapshot,
    pub(crate) attempt: Attempt,
    pub(crate) source: Option<DrillSource>,
    /// When and how it was written.
    pub(crate) circumstances: Vec<String>,
    pub(crate) look: BoardAppearance,
    /// What coaches said to it.
    pub(crate) coach: Vec<CoachWord>,
    /// Which stop.
    pub(crate) at: usize,
    /// Which of the two lines is stepped through.
    pub(crate) own: bool,
    /// Half-moves played on the board.
    pub(crate) step: usize,
    pub(crate) numbers: bool,
    pub(crate) pane: ReviewPane,
    pub(crate) scroll: PageScroll,
    /// The move of the tree that is looked at.
    pub(crate) cursor: NodeId,
    /// Where the attempt is kept; `None` where nothing can be added to it.
    pub(crate) id: Option<AttemptId>,
    pub(crate) asking: ResponseInput,
    pub(crate) requests: EngineRequests,
    pub(crate) notice: Option<Notice>,
    /// The board is seen from the opponent's side.
    pub(crate) his_side: bool,
    /// A coach has just ruled on a finding: the review is computed again.
    pub(crate) ruled: bool,
    /// How often something came from behind the screen.
    pub(crate) arrivals: usize,
    /// A moment that is shown in place of a finding, until one is asked for.
    pub(crate) moment: Option<Moment>,
}

/// What stands beside the board.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReviewPane {
    Findings,
    Tree,
    Source,
    Figures,
    /// Lines he holds against the review, and their answers.
    Doubts,
}

impl OpenReview {
    /// What is snapshot of a review, whole or not.
    #[must_use]
    pub fn new(ctx: &Context, label: &str, snapshot: ReviewSnapshot, attempt: Attempt) -> Self {
        let mut screen = Self {
            label: label.to_owned(),
            source: DrillSource::of(&ctx.app, &attempt),
            circumstances: attempt.circumstances(&ctx.display.zone),
            look: BoardAppearance::of(attempt.tree().root().root()),
            snapshot,
            coach: coach_words(&attempt),
            attempt,
            at: 0,
            own: false,
            step: 0,
            numbers: false,
            pane: ReviewPane::Findings,
            scroll: PageScroll::default(),
            cursor: NodeId::ROOT,
            id: None,
            asking: ResponseInput::Nothing,
            requests: EngineRequests::default(),
            notice: None,
            his_side: false,
            ruled: false,
            arrivals: 0,
            moment: None,
        };
        screen.turn_to(0);
        screen
    }

    /// The review of a kept attempt: it can be answered.
    #[must_use]
    pub fn kept_as(mut self, id: AttemptId) -> Self {
        self.id = Some(id);
        self
    }

    /// Shows one moment of the attempt first: as the finding that tells of it, where one does.
    #[must_use]
    pub fn opened_at(mut self, moment: Option<Moment>) -> Self {
        if moment.is_some() {
            self.moment = moment;
            self.turn_to(0);
            self.find_moment();
        }
        self
    }

    fn find_moment(&mut self) {
        let Some(moment) = &self.moment else { return };
        let tells = |f: &Finding| f.paths.contains(&moment.path) && f.resource == moment.resource;
        if let Some(at) = self.snapshot.findings().iter().position(tells) {
            self.moment = None;
            self.turn_to(self.place_of_finding(at));
        }
    }

    /// What comes from behind the screen.
    pub fn listen(&mut self, ctx: &Context) {
        let id = self.id.as_ref();
        let more = id.is_some_and(|id| self.snapshot.listen(ctx, id));
        if more {
            self.find_moment();
        }
        let answered = self.hear_engine(ctx);
        self.arrivals += usize::from(more || answered);
    }

    /// The tree that is shown: his own, with what coaches added.
    pub(crate) fn shown_tree(&self) -> &Tree {
        let coached = self.attempt.coached();
        coached.map_or(self.attempt.tree(), |c| c.tree())
    }

    /// The attempt has got something more.
    pub(crate) fn take(&mut self, attempt: Attempt) {
        self.coach = coach_words(&attempt);
        self.attempt = attempt;
    }

    /// The moves of the line that is stepped through.
    pub(crate) fn stepped(&self) -> Vec<String> {
        let rows = self.rows();
        match rows.other {
            Some((_, other)) if !self.own && self.pane != ReviewPane::Tree => other,
            _ => rows.own,
        }
    }

    /// Half-moves that the board has followed.
    pub(crate) fn step(&self) -> usize {
        match self.pane {
            ReviewPane::Tree => self.shown_tree().ply(self.cursor),
            _ => self.step,
        }
    }

    /// The position after the steps, as far as the moves are possible.
    #[must_use]
    pub fn position(&self) -> Line {
        let moves = self.stepped();
        let steps = moves.get(..self.step()).unwrap_or(&moves);
        play(self.attempt.tree().root(), steps)
    }

    /// To the moment of a stop: of a finding the position in which the overlooked move is on.
    pub(super) fn turn_to(&mut self, at: usize) {
        self.at = at;
        self.own = false;
        self.scroll.reset();
        self.step = self.first_step();
        if self.pane == ReviewPane::Tree {
            self.cursor = self.stop_node();
        }
    }

    pub(super) fn run(&mut self, action: Action) {
        match action {
            Action::Review(ReviewAction::NextFinding | ReviewAction::PreviousFinding) => {
                self.turn(action == Action::Review(ReviewAction::NextFinding));
            }
            Action::Review(ReviewAction::Swap) => self.swap(),
            Action::Review(ReviewAction::Numbers) => self.numbers ^= true,
            Action::Review(ReviewAction::Tree) => self.show_tree(),
            Action::Review(ReviewAction::Figures) => self.show(ReviewPane::Figures),
            Action::Review(ReviewAction::HisSide) => self.turn_round(),
            Action::Common(CommonAction::Letters) => self.look.letters ^= true,
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::Common(CommonAction::Coordinates) => self.look.coordinates ^= true,
            action if self.pane == ReviewPane::Tree => self.walk(action),
            Action::Review(ReviewAction::Forward) => self.forward(),
            Action::Review(ReviewAction::Backward) => self.step = self.step.saturating_sub(1),
            action => self.scroll.walk(action),
        }
    }

    /// To the next stop or the one before; from a moment to where it was.
    fn turn(&mut self, on: bool) {
        let last = self.stops().len().saturating_sub(1);
        if self.moment.take().is_some() {
            self.turn_to(self.place_of_finding(0).min(last));
        } else if on && self.at < last {
            self.turn_to(self.at + 1);
        } else if !on && self.at > 0 {
            self.turn_to(self.at - 1);
        }
    }

    /// Through the tree, move by move.
    fn walk(&mut self, action: Action) {
        let tree = self.shown_tree();
        let none = HashSet::new();
        let to = match action {
            Action::Review(ReviewAction::Backward) => tree.parent(self.cursor),
            Action::Review(ReviewAction::Forward) => tree.children(self.cursor).first().copied(),
            Action::Common(CommonAction::Up) => Some(walk::row_or_root(tree, self.cursor, &none)),
            Action::Common(CommonAction::Down) => Some(walk::row(tree, self.cursor, true, &none)),
            Action::Writing(WritingAction::NextCandidate) => {
                Some(walk::candidate(tree, self.cursor, true))
            }
            Action::Writing(WritingAction::PreviousCandidate) => {
                Some(walk::candidate(tree, self.cursor, false))
            }
            action => return self.scroll.walk(action),
        };
        if let Some(to) = to {
            self.look_at(to);
        }
    }

    /// Puts the cursor of the tree on a move.
    pub(super) fn look_at(&mut self, node: NodeId) {
        if self.cursor != node {
            self.scroll.reset();
        }
        self.cursor = node;
    }

    /// Stops at the first move that cannot be played.
    fn forward(&mut self) {
        let moves = self.stepped();
        let next = self.step + 1;
        let possible = |moves| play(self.attempt.tree().root(), moves).ply() == next;
        if moves.get(..next).is_some_and(possible) {
            self.step = next;
        }
    }

    fn swap(&mut self) {
        self.own ^= true;
        self.step = self.step.min(self.rows().shared);
    }

    /// The board from the opponent's side, and the true line as his plan.
    fn turn_round(&mut self) {
        self.his_side ^= true;
        let own = self.attempt.tree().root().player();
        self.look.below = if self.his_side { own.other() } else { own };
        if self.his_side {
            self.own = false;
            let rows = self.rows();
            let other = rows.other.map_or(rows.own.len(), |(_, line)| line.len());
            self.step = rows.shared.min(other);
        }
    }

    /// The tree opens at the move that is spoken of.
    fn show_tree(&mut self) {
        let node = self.stop_node();
        self.show(ReviewPane::Tree);
        self.cursor = node;
    }

    pub(super) fn show(&mut self, pane: ReviewPane) {
        self.scroll.reset();
        self.pane = if self.pane == pane {
            ReviewPane::Findings
        } else {
            pane
        };
    }

    /// Whether a move that is marked as leading to the same position as another does so: the same men,
    /// side to move and rights (FIDE Laws of Chess, 9.2.3). `None` where nothing is marked or no
    /// position can be compared.
    fn same(&self, id: NodeId) -> Option<bool> {
        let tree = self.attempt.tree();
        let other = tree.node(id)?.same_as?;
        let position = |n| tree.line(n).map(|l| l.position().clone());
        Some(position(id)? == position(other)?)
    }

    /// What became of a written move, in a word or two, and who added it.
    pub(crate) fn marks(&self) -> impl Fn(NodeId) -> Option<String> + '_ {
        let missed: HashSet<NodeId> = self.snapshot.findings().iter().map(|f| f.at).collect();
        let unjudged = self.snapshot.whole().into_iter().flat_map(|r| &r.unjudged);
        let unjudged: HashSet<NodeId> = unjudged.map(|u| u.node).collect();
        let held: HashSet<NodeId> = self.snapshot.right().iter().map(|r| r.node).collect();
        move |id| {
            let coached = self.attempt.coached();
            if let Some(by) = coached.and_then(|c| c.added_by(id)) {
                return Some(tr!("by {by}"));
            }
            let reading = self.attempt.tree().node(id).map(|n| &n.reading);
            let word = if matches!(reading, Some(Reading::Phantom(_))) {
                Some(tr!("not possible"))
            } else if missed.contains(&id) {
                Some(tr!("missed here"))
            } else if self.same(id) == Some(false) {
                Some(tr!("not the same position"))
            } else if unjudged.contains(&id) {
                Some(tr!("not judged"))
            } else {
                held.contains(&id).then_some(tr!("held"))
            };
            let said = coached.is_some_and(|c| c.remarks().any(|(node, ..)| node == id));
            let coach = said.then_some(tr!("coach"));
            let words: Vec<&str> = word.into_iter().chain(coach).collect();
            (!words.is_empty()).then(|| words.join("; "))
        }
    }
}
