//! The review: what held first, then one finding at a time, with the board at its moment.
//!
//! `review_draw.rs` shows the state.

use std::collections::HashSet;
use std::sync::Arc;

use crate::app::{App, SittingId, Subject};
use crate::attempt::{Attempt, Origin};
use crate::board::Line;
use crate::drill::Grade;
use crate::notation::{self, Reading};
use crate::progress::Moment;
use crate::review::{Finding, Review};
use crate::tree::NodeId;
use crate::tui::input::bindings;
use crate::tui::input::bindings::Do;
use crate::tui::input::key::Key;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::game::screen::Playout;
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::review::partial::Told;
use crate::tui::screens::review::pending::Waiting;
use crate::tui::screens::review::responses::{Asking, Behind};
use crate::tui::widgets::board::BoardLook;
use crate::tui::widgets::chrome::Answer;

/// A review on the screen.
pub struct ReviewScreen {
    pub(crate) label: String,
    pub(crate) told: Told,
    pub(crate) attempt: Attempt,
    pub(crate) source: Option<Source>,
    pub(crate) look: BoardLook,
    /// Which finding.
    pub(crate) at: usize,
    /// Which of the two lines is stepped through.
    pub(crate) own: bool,
    /// Half-moves played on the board.
    pub(crate) step: usize,
    pub(crate) numbers: bool,
    pub(crate) pane: Pane,
    pub(crate) scrolled: usize,
    /// Where the attempt is kept; `None` where nothing can be added to it.
    pub(crate) id: Option<SittingId>,
    pub(crate) asking: Asking,
    pub(crate) behind: Behind,
    pub(crate) answer: Option<Answer>,
    /// The board is seen from the opponent's side.
    pub(crate) his_side: bool,
    /// A coach has just ruled on a finding: the review is computed again.
    pub(crate) ruled: bool,
    /// A moment that is shown in place of a finding, until one is asked for.
    pub(crate) moment: Option<Moment>,
}

/// What stands beside the board.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pane {
    Findings,
    Tree,
    Source,
    Figures,
    /// Lines he holds against the review, and their answers.
    Doubts,
}

/// Where a drill comes from, and its published solution: only after the commit.
pub struct Source {
    pub(crate) title: String,
    pub(crate) source: String,
    pub(crate) lines: Vec<String>,
    pub(crate) note: Option<String>,
    pub(crate) grade: Option<Grade>,
}

/// The two lines of a finding.
pub struct Rows {
    pub(crate) own: Vec<String>,
    pub(crate) truth: Vec<String>,
    /// Half-moves they share; the next one differs.
    pub(crate) shared: usize,
}

impl ReviewScreen {
    /// A whole review.
    #[must_use]
    pub fn new(desk: &Desk, label: &str, review: Arc<Review>, attempt: Attempt) -> Self {
        Self::telling(desk, label, Told::Whole(review), attempt)
    }

    /// What is told of a review, whole or not.
    #[must_use]
    pub fn telling(desk: &Desk, label: &str, told: Told, attempt: Attempt) -> Self {
        let mut screen = Self {
            label: label.to_owned(),
            source: Source::of(&desk.app, &attempt),
            look: BoardLook::of(attempt.tree().root().root()),
            told,
            attempt,
            at: 0,
            own: false,
            step: 0,
            numbers: false,
            pane: Pane::Findings,
            scrolled: 0,
            id: None,
            asking: Asking::Nothing,
            behind: Behind::default(),
            answer: None,
            his_side: false,
            ruled: false,
            moment: None,
        };
        screen.turn_to(0);
        screen
    }

    /// The review of a kept attempt: it can be answered.
    #[must_use]
    pub fn kept_as(mut self, id: SittingId) -> Self {
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
        if let Some(at) = self.told.findings().iter().position(tells) {
            self.moment = None;
            self.turn_to(at);
        }
    }

    /// What comes from behind the screen; true where it has to be drawn again.
    pub fn tick(&mut self, desk: &Desk) -> bool {
        let more = self
            .id
            .as_ref()
            .is_some_and(|id| self.told.listen(desk, id));
        if more {
            self.find_moment();
        }
        self.listen(desk) || more
    }

    pub(crate) fn finding(&self) -> Option<&Finding> {
        let all = self.told.findings();
        all.get(self.at).filter(|_| self.moment.is_none())
    }

    /// His line and the true one; without a finding the choice's own line.
    #[must_use]
    pub fn rows(&self) -> Rows {
        if let Some(moment) = &self.moment {
            return Rows {
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
            return Rows {
                shared: own.len(),
                truth: own.clone(),
                own,
            };
        };
        let path = finding.paths.first().cloned().unwrap_or_default();
        let shared = path.len();
        let behind = |line: &[String]| [path.as_slice(), line].concat();
        Rows {
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

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        match self.pressed(key, desk) {
            // What counts now, and what folds under it, follows from the ruling.
            Next::Stay(Screen::Review(screen)) if screen.ruled => match screen.id.clone() {
                Some(id) => Next::Stay(Waiting::begin(desk, id, screen.label)),
                None => Next::Stay(Screen::Review(screen)),
            },
            next => next,
        }
    }

    fn pressed(mut self, key: Key, desk: &Desk) -> Next {
        let run = bindings::find(self.places(), key);
        if run == Some(Do::Help) {
            let help = HelpScreen::of(self.places());
            return Next::Over(Screen::Review(Box::new(self)), help);
        }
        if !matches!(self.asking, Asking::Nothing) {
            self.type_key(key, desk);
            return Next::Stay(Screen::Review(Box::new(self)));
        }
        match run {
            Some(Do::Back) if self.pane != Pane::Findings => self.pane = Pane::Findings,
            Some(Do::Back) => return Next::Back,
            Some(run @ (Do::Doubt | Do::Remark | Do::Contest | Do::CoachStrikes | Do::Why)) => {
                self.begin(run, desk)
            }
            Some(Do::PlayOut) => return self.play_out(desk),
            Some(Do::Again) => {
                if let Some(id) = &self.id {
                    self.told.try_again(desk, id);
                }
            }
            Some(Do::Solution) => {
                self.show(Pane::Source);
                if self.pane == Pane::Source {
                    self.ask_for_proof(desk);
                }
            }
            Some(run) => self.run(run),
            None => {}
        }
        Next::Stay(Screen::Review(Box::new(self)))
    }

    /// The position of the attempt against the engine.
    fn play_out(mut self, desk: &Desk) -> Next {
        let root = self.attempt.tree().root().clone();
        match Playout::begin(desk, &Subject::Position(root)) {
            Ok(game) => Next::Over(Screen::Review(Box::new(self)), game),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::Review(Box::new(self)))
            }
        }
    }

    fn run(&mut self, run: Do) {
        match run {
            Do::NextFinding | Do::PreviousFinding if self.moment.take().is_some() => {
                self.turn_to(self.at);
            }
            Do::NextFinding if self.at + 1 < self.told.findings().len() => {
                self.turn_to(self.at + 1);
            }
            Do::PreviousFinding if self.at > 0 => self.turn_to(self.at - 1),
            Do::Forward => self.forward(),
            Do::Backward => self.step = self.step.saturating_sub(1),
            Do::Swap => self.swap(),
            Do::Numbers => self.numbers ^= true,
            Do::Tree => self.show(Pane::Tree),
            Do::Figures => self.show(Pane::Figures),
            Do::HisSide => self.turn_round(),
            Do::Letters => self.look.letters ^= true,
            Do::Flip => self.look.flip(),
            Do::Coordinates => self.look.coordinates ^= true,
            Do::Up => self.scrolled = self.scrolled.saturating_sub(1),
            Do::Down => self.scrolled = (self.scrolled + 1).min(self.attempt.tree().len()),
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

    fn show(&mut self, pane: Pane) {
        self.scrolled = 0;
        self.pane = if self.pane == pane {
            Pane::Findings
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
        let missed: HashSet<NodeId> = self.told.findings().iter().map(|f| f.at).collect();
        let unjudged = self.told.whole().into_iter().flat_map(|r| &r.unjudged);
        let unjudged: HashSet<NodeId> = unjudged.map(|u| u.node).collect();
        let held: HashSet<NodeId> = self.told.right().iter().map(|r| r.node).collect();
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

/// Plays moves in SAN as far as they are possible.
pub fn play(root: &Line, moves: &[String]) -> Line {
    let mut line = root.clone();
    for text in moves {
        let Ok(token) = notation::parse(text) else {
            break;
        };
        let Reading::Legal(mv) = notation::resolve(&token, &line) else {
            break;
        };
        if line.push(&mv).is_err() {
            break;
        }
    }
    line
}

impl Source {
    pub(crate) fn of(app: &App, attempt: &Attempt) -> Option<Self> {
        let Origin::Drill(id) = &attempt.opened().origin else {
            return None;
        };
        let (_, drill) = app.drills().find(id).ok()?;
        let tree = &drill.solution;
        let lines = tree
            .leaves()
            .into_iter()
            .map(|leaf| tree.sans(leaf).join(" "));
        Some(Self {
            title: drill.title.clone(),
            source: drill.source.clone(),
            lines: lines.collect(),
            note: drill.note.clone(),
            grade: drill.grade,
        })
    }
}
