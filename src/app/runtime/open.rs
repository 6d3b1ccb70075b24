//! From settings to a running application.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::app::attempts::repository::Kept;
use crate::app::runtime::judge_provider::Bench;
use crate::app::{App, AppError, Clock, SystemClock};
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
    /// The store must be written. Without it a store that is open in another window, or that may not be
    /// written, is read as it stands.
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
            true => Store::open(&config.home)?,
            false => Store::open_or_read(&config.home)?,
        };
        let store = Arc::new(store);
        let (drills, wrong) = match config.drills {
            Some(drills) => (drills, Vec::new()),
            None => with_own(&store)?,
        };
        let (tables, left_out) = config.tables.as_deref().map(Tables::open).unzip();
        let bench = Bench::engine(command, engine, store.clone(), tables);
        let clock = Arc::new(SystemClock::new());
        let mut app = Self::wire(store, bench, drills, review, clock, config.ahead);
        let notices = app
            .notices
            .iter()
            .cloned()
            .chain(left_out.into_iter().flatten())
            .chain(wrong);
        app.notices = notices.collect();
        Ok(app)
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
        let store = Arc::new(Store::open(home)?);
        let bench = Bench::ready(judge);
        Ok(Self::wire(store, bench, drills, settings, clock, false))
    }

    fn wire(
        store: Arc<Store>,
        bench: Bench,
        drills: Vec<Drill>,
        settings: Settings,
        clock: Arc<dyn Clock>,
        ahead: bool,
    ) -> Self {
        Self {
            notices: store.notices().into(),
            kept: Arc::new(Kept::new(store)),
            bench: Arc::new(bench),
            drills: drills.into(),
            settings,
            clock,
            offered: Arc::default(),
            jobs: Arc::default(),
            ahead,
        }
    }
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
