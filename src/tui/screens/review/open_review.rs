//! The review: what held first, then one finding at a time, with the board at its moment.
//!
//! What the screen, its view and the responses have in common.

use std::collections::HashSet;

use crate::app::AttemptId;
use crate::attempt::Attempt;
use crate::board::Line;
use crate::notation::Reading;
use crate::progress::Moment;
use crate::review::Finding;
use crate::tree::NodeId;
use crate::tui::forms::drill_source::DrillSource;
use crate::tui::forms::played_line::play;
use crate::tui::input::action::{Action, CommonAction, ReviewAction};
use crate::tui::nav::context::Context;
use crate::tui::screens::review::engine_requests::EngineRequests;
use crate::tui::screens::review::partial::ReviewSnapshot;
use crate::tui::screens::review::response_input::ResponseInput;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::chrome::Notice;

/// A review on the screen.
pub struct OpenReview {
    pub(crate) label: String,
    pub(crate) snapshot: ReviewSnapshot,
    pub(crate) attempt: Attempt,
    pub(crate) source: Option<DrillSource>,
    pub(crate) look: BoardAppearance,
    /// Which finding.
    pub(crate) at: usize,
    /// Which of the two lines is stepped through.
    pub(crate) own: bool,
    /// Half-moves played on the board.
    pub(crate) step: usize,
    pub(crate) numbers: bool,
    pub(crate) pane: ReviewPane,
    pub(crate) scrolled: usize,
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

/// The two lines of a finding.
pub struct ComparedLines {
    pub(crate) own: Vec<String>,
    pub(crate) truth: Vec<String>,
    /// Half-moves they share; the next one differs.
    pub(crate) shared: usize,
}

impl OpenReview {
    /// What is snapshot of a review, whole or not.
    #[must_use]
    pub fn new(ctx: &Context, label: &str, snapshot: ReviewSnapshot, attempt: Attempt) -> Self {
        let mut screen = Self {
            label: label.to_owned(),
            source: DrillSource::of(&ctx.app, &attempt),
            look: BoardAppearance::of(attempt.tree().root().root()),
            snapshot,
            attempt,
            at: 0,
            own: false,
            step: 0,
            numbers: false,
            pane: ReviewPane::Findings,
            scrolled: 0,
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
            self.turn_to(at);
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

    pub(crate) fn finding(&self) -> Option<&Finding> {
        let all = self.snapshot.findings();
        all.get(self.at).filter(|_| self.moment.is_none())
    }

    /// His line and the true one; without a finding the choice's own line.
    #[must_use]
    pub fn rows(&self) -> ComparedLines {
        if let Some(moment) = &self.moment {
            return ComparedLines {
                own: moment.path.clone(),
                truth: [
                    moment.path.as_slice(),
                    std::slice::from_ref(&moment.resource),
                ]
                .concat(),
                shared: moment.path.len(),
            };
        }
        let Some(finding) = self.finding() else {
            let own = self.choice_line();
            return ComparedLines {
                shared: own.len(),
                truth: own.clone(),
                own,
            };
        };
        let path = finding.paths.first().cloned().unwrap_or_default();
        let shared = path.len();
        let behind = |line: &[String]| [path.as_slice(), line].concat();
        ComparedLines {
            own: behind(&finding.instead),
            truth: behind(&finding.proof),
            shared,
        }
    }

    fn choice_line(&self) -> Vec<String> {
        let tree = self.attempt.tree();
        let mut line = Vec::new();
        let mut at = self.attempt.choice();
        while let Some(node) = at {
            line.push(tree.san(node));
            at = tree.standing(node).next();
        }
        line
    }

    /// The moves of the line that is stepped through.
    pub(crate) fn stepped(&self) -> Vec<String> {
        let rows = self.rows();
        if self.own { rows.own } else { rows.truth }
    }

    /// The position after the steps, as far as the moves are possible.
    #[must_use]
    pub fn position(&self) -> Line {
        let moves = self.stepped();
        play(
            self.attempt.tree().root(),
            moves.get(..self.step).unwrap_or(&moves),
        )
    }

    /// To the moment of a finding: the position in which the overlooked move is on.
    fn turn_to(&mut self, at: usize) {
        self.at = at;
        self.own = false;
        self.step = if self.finding().is_some() || self.moment.is_some() {
            self.rows().shared
        } else {
            0
        };
    }

    pub(super) fn run(&mut self, action: Action) {
        match action {
            Action::Review(ReviewAction::NextFinding)
            | Action::Review(ReviewAction::PreviousFinding)
                if self.moment.take().is_some() =>
            {
                self.turn_to(self.at);
            }
            Action::Review(ReviewAction::NextFinding)
                if self.at + 1 < self.snapshot.findings().len() =>
            {
                self.turn_to(self.at + 1);
            }
            Action::Review(ReviewAction::PreviousFinding) if self.at > 0 => {
                self.turn_to(self.at - 1)
            }
            Action::Review(ReviewAction::Forward) => self.forward(),
            Action::Review(ReviewAction::Backward) => self.step = self.step.saturating_sub(1),
            Action::Review(ReviewAction::Swap) => self.swap(),
            Action::Review(ReviewAction::Numbers) => self.numbers ^= true,
            Action::Review(ReviewAction::Tree) => self.show(ReviewPane::Tree),
            Action::Review(ReviewAction::Figures) => self.show(ReviewPane::Figures),
            Action::Review(ReviewAction::HisSide) => self.turn_round(),
            Action::Common(CommonAction::Letters) => self.look.letters ^= true,
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::Common(CommonAction::Coordinates) => self.look.coordinates ^= true,
            Action::Common(CommonAction::Up) => self.scrolled = self.scrolled.saturating_sub(1),
            Action::Common(CommonAction::Down) => {
                self.scrolled = (self.scrolled + 1).min(self.attempt.tree().len())
            }
            _ => {}
        }
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
            self.step = self.rows().shared.min(self.rows().truth.len());
        }
    }

    pub(super) fn show(&mut self, pane: ReviewPane) {
        self.scrolled = 0;
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

    /// What became of a written move, in a word.
    pub(crate) fn marks(&self) -> impl Fn(NodeId) -> Option<&'static str> + '_ {
        let missed: HashSet<NodeId> = self.snapshot.findings().iter().map(|f| f.at).collect();
        let unjudged = self.snapshot.whole().into_iter().flat_map(|r| &r.unjudged);
        let unjudged: HashSet<NodeId> = unjudged.map(|u| u.node).collect();
        let held: HashSet<NodeId> = self.snapshot.right().iter().map(|r| r.node).collect();
        move |id| {
            let reading = self.attempt.tree().node(id).map(|n| &n.reading);
            if matches!(reading, Some(Reading::Phantom(_))) {
                Some("not possible")
            } else if missed.contains(&id) {
                Some("missed here")
            } else if self.same(id) == Some(false) {
                Some("not the same position")
            } else if unjudged.contains(&id) {
                Some("not judged")
            } else {
                held.contains(&id).then_some("held")
            }
        }
    }
}
