//! The use cases, the same for the command line and for the screens.
//!
//! Takes a [`Config`] (folder, engine, time); gives [`App`]: one service for each subject, wired together. A service has
//! what it needs and no more (see its fields), and gives plain values. No drawing, no printing; time comes from a
//! [`Clock`] that is handed in.
//!
//! `runtime` opens the store and starts the judge; `projections` keeps what is counted up with the log;
//! everything else is one folder a service, its record of values beside it. Must never know: how anything is shown, or
//! which command asked.

mod attempts;
mod error;
mod games;
mod judging;
mod maintenance;
mod playouts;
mod practice;
mod progress;
mod projections;
mod reviews;
mod runtime;
#[cfg(test)]
pub(crate) mod testing;

use std::sync::Arc;

pub use attempts::homework::{HandedOut, HomeworkDone, HomeworkTask};
pub use attempts::listing::{HistoryFilter, HistoryKind, Listed, ListedWhat};
pub use attempts::records::{AttemptId, HistoryEntry, ReviewSummary};
pub use attempts::service::{AttemptService, OpenSitting, Subject};
pub use attempts::session::{AttemptSession, EntryToken};
pub use attempts::short_name::ShortNames;
pub use error::AppError;
pub use games::account::GameAccountRead;
pub use games::events::{EventRead, Reminder, TakeawayChange};
pub use games::find::ListedGame;
pub use games::memory_notes::RememberedNotes;
pub use games::openings::{Openings, Structure};
pub use games::service::{GameService, JudgedGames, Step, Whose, date_of};
pub use games::thoughts::ThoughtsRead;
pub use judging::answer::Answered;
pub use judging::gather::GatheredAnswers;
pub use judging::plan::{JudgeWorkService, WorkPlan};
pub use maintenance::backup::{inspect_backup, restore};
pub use maintenance::health::{Finding, State, setup};
pub use maintenance::output::{Asked, Output, OutputError};
pub use maintenance::service::MaintenanceService;
pub use playouts::engine_decision::EngineDecision;
pub use playouts::records::{GameId, GameSummary, PlayoutTerms, converted};
pub use playouts::service::PlayoutService;
pub use playouts::session::{GameCommand, PlayoutSession};
pub use practice::catalogue::DrillCatalogue;
pub use practice::drill_library::{AddedDrills, DrillService};
pub use practice::experiment::ExperimentService;
pub use practice::quick::{QuickOffer, QuickService};
pub use practice::recommendations::{PracticeService, PreGamePlan, Recommendation};
pub use practice::solution_check::SolutionCheck;
pub use progress::service::{BlindSpot, MissedMoment, ProgressService};
pub use reviews::causes::{CAUSES_MAX, CauseService};
pub use reviews::coach::{CoachLetter, CoachService, LetterTerms};
pub use reviews::coach_answers::{Answer as CoachAnswer, AnswerReader, AnswerTerms};
pub use reviews::homework::HomeworkService;
pub use reviews::notes::{ChangedNotes, NOTES_MAX, Note, NoteService, Notes, notes};
pub use reviews::objection::ObjectionAnswer;
pub use reviews::queue::{ReviewState, SoFar};
pub use reviews::service::ReviewService;
pub use runtime::clock::{Clock, SetClock, SystemClock};
pub use runtime::open::Config;
pub use runtime::settings_file::{Preset, SETTINGS_FILE};

pub use crate::judge::end_all as end_engines;
pub use crate::platform::is_same_file;
pub use crate::store::{BackedUp, Restored, SetAside, panic_is_handled};

/// The application: cheap to clone, shared between threads.
#[derive(Clone)]
pub struct App(Arc<Services>);

/// One service for each subject.
struct Services {
    clock: Arc<dyn Clock>,
    /// What was found when the store was opened, in sentences.
    notices: Vec<String>,
    attempts: AttemptService,
    reviews: ReviewService,
    causes: CauseService,
    coach: CoachService,
    homework: HomeworkService,
    judge_work: JudgeWorkService,
    notes: NoteService,
    drills: DrillService,
    practice: PracticeService,
    quick: QuickService,
    experiments: ExperimentService,
    progress: ProgressService,
    games: GameService,
    playouts: PlayoutService,
    maintenance: MaintenanceService,
}

impl App {
    /// Sittings: opened, taken up again, looked at.
    #[must_use]
    pub fn attempts(&self) -> &AttemptService {
        &self.0.attempts
    }

    /// Reviews of locked attempts.
    #[must_use]
    pub fn reviews(&self) -> &ReviewService {
        &self.0.reviews
    }

    /// The player's list of causes.
    #[must_use]
    pub fn causes(&self) -> &CauseService {
        &self.0.causes
    }

    /// The judge's work, portable.
    #[must_use]
    pub fn judge_work(&self) -> &JudgeWorkService {
        &self.0.judge_work
    }

    /// What a coach has set.
    #[must_use]
    pub fn homework(&self) -> &HomeworkService {
        &self.0.homework
    }

    /// Attempts out to a coach, and his answers.
    #[must_use]
    pub fn coach(&self) -> &CoachService {
        &self.0.coach
    }

    /// Notes in PGN files.
    #[must_use]
    pub fn notes(&self) -> &NoteService {
        &self.0.notes
    }

    /// The drills.
    #[must_use]
    pub fn drills(&self) -> &DrillService {
        &self.0.drills
    }

    /// What to practise.
    #[must_use]
    pub fn practice(&self) -> &PracticeService {
        &self.0.practice
    }

    /// Quick calculation.
    #[must_use]
    pub fn quick(&self) -> &QuickService {
        &self.0.quick
    }

    /// The experiment with his own practice.
    #[must_use]
    pub fn experiments(&self) -> &ExperimentService {
        &self.0.experiments
    }

    /// What the attempts say together.
    #[must_use]
    pub fn progress(&self) -> &ProgressService {
        &self.0.progress
    }

    /// The player's own games.
    #[must_use]
    pub fn games(&self) -> &GameService {
        &self.0.games
    }

    /// Positions played out against the engine.
    #[must_use]
    pub fn playouts(&self) -> &PlayoutService {
        &self.0.playouts
    }

    /// The store: checked, backed up, closed.
    #[must_use]
    pub fn maintenance(&self) -> &MaintenanceService {
        &self.0.maintenance
    }

    /// What the store had to mend when it was opened, and what else was found, in sentences.
    #[must_use]
    pub fn notices(&self) -> &[String] {
        &self.0.notices
    }

    /// Where time comes from.
    #[must_use]
    pub fn clock(&self) -> &dyn Clock {
        &*self.0.clock
    }
}
