//! From settings to a running application.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::app::attempts::background::BackgroundAnalyst;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::attempts::selection::SelectionReasons;
use crate::app::attempts::service::AttemptService;
use crate::app::games::service::GameService;
use crate::app::judging::plan::JudgeWorkService;
use crate::app::maintenance::service::MaintenanceService;
use crate::app::playouts::service::PlayoutService;
use crate::app::practice::catalogue::DrillCatalogue;
use crate::app::practice::drill_library::DrillService;
use crate::app::practice::experiment::ExperimentService;
use crate::app::practice::quick::QuickService;
use crate::app::practice::recommendations::PracticeService;
use crate::app::progress::service::ProgressService;
use crate::app::reviews::causes::CauseService;
use crate::app::reviews::coach::CoachService;
use crate::app::reviews::homework::HomeworkService;
use crate::app::reviews::notes::NoteService;
use crate::app::reviews::queue::ReviewQueue;
use crate::app::reviews::service::ReviewService;
use crate::app::reviews::statistics::StatisticsRecorder;
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::app::{App, AppError, Clock, Services, SystemClock};
use crate::drill::{self, Drill};
use crate::judge::{self, EngineCommand, Judge, Tables};
use crate::review::Settings;
use crate::store::Store;

/// What the application is opened with.
#[derive(Debug, Clone)]
pub struct Config {
    /// The folder in which all is kept.
    pub home: PathBuf,
    /// The command of a UCI engine; `None` for the embedded one.
    pub engine: Option<String>,
    /// Engine processes side by side; `None` for one for each core.
    pub jobs: Option<usize>,
    /// Nodes per search; `None` for the default.
    pub nodes: Option<u64>,
    /// A folder of Syzygy endgame tables, which outrank the engine.
    pub tables: Option<PathBuf>,
    /// The drills to practise; `None` for the collection in the binary.
    pub drills: Option<Vec<Drill>>,
    /// The engine may work on what is written while the player writes. Nothing of it is seen, and the
    /// review is the same without it, only later.
    pub ahead: bool,
    /// The store must be written. Without it a store that may not be written is read as it stands.
    pub writing: bool,
}

impl Config {
    /// Everything at its default.
    #[must_use]
    pub fn new(home: PathBuf) -> Self {
        Self {
            home,
            engine: None,
            jobs: None,
            nodes: None,
            tables: None,
            drills: None,
            ahead: true,
            writing: false,
        }
    }

    pub(crate) fn engine(&self) -> Result<(EngineCommand, judge::Settings), AppError> {
        let command = match &self.engine {
            Some(text) => EngineCommand::parse(text)?,
            None => EngineCommand::own()?,
        };
        let mut settings = judge::Settings::default();
        settings.jobs = self.jobs.unwrap_or(settings.jobs);
        Ok((command, settings))
    }

    fn review(&self) -> Settings {
        let mut settings = Settings::default();
        settings.nodes = self.nodes.unwrap_or(settings.nodes);
        settings
    }
}

impl App {
    /// Opens the store and reads the drills. The engine is not started before it is needed.
    ///
    /// # Errors
    /// The store cannot be opened, the engine's command cannot be read, or the collection is wrong.
    pub fn open(config: Config) -> Result<Self, AppError> {
        let (command, engine) = config.engine()?;
        let review = config.review();
        let store = match config.writing {
            true => Store::open_beside(&config.home)?,
            false => Store::open_or_read(&config.home)?,
        };
        let store = Arc::new(store);
        let (drills, wrong) = match config.drills {
            Some(drills) => (drills, Vec::new()),
            None => with_own(&store)?,
        };
        let (tables, left_out) = config.tables.as_deref().map(Tables::open).unzip();
        let judges = JudgeProvider::engine(command, engine, store.clone(), tables);
        let notices = store.notices().iter().cloned();
        let notices = notices.chain(left_out.into_iter().flatten()).chain(wrong);
        Ok(Self::wire(Parts {
            notices: notices.collect(),
            repository: Arc::new(AttemptRepository::new(store)),
            judges: Arc::new(judges),
            drills: DrillCatalogue::new(drills),
            settings: review,
            clock: Arc::new(SystemClock::new()),
            ahead: config.ahead,
        }))
    }

    /// Puts the application together from given parts, for tests: it never thinks ahead.
    ///
    /// # Errors
    /// The store cannot be opened.
    pub fn with_parts(
        home: &Path,
        judge: Arc<dyn Judge>,
        drills: Vec<Drill>,
        settings: Settings,
        clock: Arc<dyn Clock>,
    ) -> Result<Self, AppError> {
        let store = Arc::new(Store::open_beside(home)?);
        Ok(Self::wire(Parts {
            notices: store.notices().to_vec(),
            repository: Arc::new(AttemptRepository::new(store)),
            judges: Arc::new(JudgeProvider::ready(judge)),
            drills: DrillCatalogue::new(drills),
            settings,
            clock,
            ahead: false,
        }))
    }

    /// Hands each service what it needs; those that need others come after them.
    fn wire(parts: Parts) -> Self {
        let Parts {
            notices,
            repository,
            judges,
            drills,
            settings,
            clock,
            ahead,
        } = parts;
        let reasons = SelectionReasons::new(repository.clone());
        let analyst = BackgroundAnalyst {
            judges: judges.clone(),
            settings,
        };
        let attempts = AttemptService {
            repository: repository.clone(),
            drills: drills.clone(),
            clock: clock.clone(),
            reasons: reasons.clone(),
            analyst: ahead.then_some(analyst),
        };
        let games = GameService {
            repository: repository.clone(),
            judges: judges.clone(),
            clock: clock.clone(),
        };
        let playouts = PlayoutService {
            repository: repository.clone(),
            drills: drills.clone(),
            judges: judges.clone(),
            settings,
            clock: clock.clone(),
            attempts: attempts.clone(),
        };
        let statistics = StatisticsRecorder {
            repository: repository.clone(),
            delta: settings.delta.value(),
        };
        let queue: Arc<ReviewQueue> = Arc::default();
        let reviews = ReviewService {
            repository: repository.clone(),
            judges: judges.clone(),
            settings,
            queue: queue.clone(),
            attempts: attempts.clone(),
            games: games.clone(),
            playouts: playouts.clone(),
            statistics: statistics.clone(),
        };
        let causes = CauseService {
            repository: repository.clone(),
            clock: clock.clone(),
        };
        let homework = HomeworkService {
            repository: repository.clone(),
            clock: clock.clone(),
        };
        let coach = CoachService {
            repository: repository.clone(),
            clock: clock.clone(),
            attempts: attempts.clone(),
            reviews: reviews.clone(),
            queue,
            games: games.clone(),
            homework: homework.clone(),
        };
        let judge_work = JudgeWorkService {
            repository: repository.clone(),
            judges: judges.clone(),
            games: games.clone(),
        };
        let notes = NoteService {
            repository: repository.clone(),
            judges: judges.clone(),
            settings,
            clock: clock.clone(),
            games: games.clone(),
            statistics,
        };
        let experiments = ExperimentService {
            repository: repository.clone(),
            clock: clock.clone(),
        };
        let practice = PracticeService {
            experiments: experiments.clone(),
            repository: repository.clone(),
            drills: drills.clone(),
            clock: clock.clone(),
            reasons,
            games: games.clone(),
        };
        let quick = QuickService {
            repository: repository.clone(),
            drills: drills.clone(),
        };
        let progress = ProgressService {
            experiments: experiments.clone(),
            repository: repository.clone(),
            drills: drills.clone(),
            clock: clock.clone(),
            causes: causes.clone(),
            games: games.clone(),
            playouts: playouts.clone(),
            reviews: reviews.clone(),
        };
        let maintenance = MaintenanceService {
            repository: repository.clone(),
            clock: clock.clone(),
        };
        let drills = DrillService {
            repository,
            catalogue: drills,
            judges,
            settings,
        };
        Self(Arc::new(Services {
            clock,
            notices,
            attempts,
            reviews,
            causes,
            coach,
            homework,
            judge_work,
            notes,
            drills,
            practice,
            quick,
            experiments,
            progress,
            games,
            playouts,
            maintenance,
        }))
    }
}

#[cfg(test)]
impl App {
    /// The same application, with an engine that works on what is written while the player writes.
    pub(crate) fn thinking_ahead(&self) -> Self {
        let (attempts, drills) = (&self.0.attempts, &self.0.drills);
        Self::wire(Parts {
            notices: self.notices().to_vec(),
            repository: attempts.repository.clone(),
            judges: drills.judges.clone(),
            drills: attempts.drills.clone(),
            settings: drills.settings,
            clock: attempts.clock.clone(),
            ahead: true,
        })
    }
}

/// What the services are made of.
struct Parts {
    notices: Vec<String>,
    repository: Arc<AttemptRepository>,
    judges: Arc<JudgeProvider>,
    drills: DrillCatalogue,
    settings: Settings,
    clock: Arc<dyn Clock>,
    ahead: bool,
}

/// The positions of own games, then the collection, then what was added to it; and what could not be read.
fn with_own(store: &Store) -> Result<(Vec<Drill>, Vec<String>), AppError> {
    let (mut drills, mut wrong) = crate::app::games::service::own_drills(store)?;
    drills.extend(builtin()?);
    let (added, bad) = crate::app::practice::drill_library::added(store)?;
    drills.extend(added);
    wrong.extend(bad);
    Ok((drills, wrong))
}

fn builtin() -> Result<Vec<Drill>, AppError> {
    drill::builtin().map(<[Drill]>::to_vec).map_err(|errors| {
        let words: Vec<String> = errors.iter().map(ToString::to_string).collect();
        AppError::Collection(words.join("; "))
    })
}
