//! The application, opened for a command, and the screens over it.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crate::app::{App, Config};
use crate::cli::args::Global;
use crate::cli::shell::error::Failure;
use crate::cli::{letters, told};
use crate::report;
use crate::tui::{self, Options, ReportTexts, Start, TuiError};

/// For a command that writes: nothing is worked on behind it.
pub(crate) fn writing(global: &Global) -> Result<App, Failure> {
    opened(global, config(global, true)?)
}

/// For a command that may go on where the store can only be read.
pub(crate) fn reading(global: &Global) -> Result<App, Failure> {
    opened(global, config(global, false)?)
}

fn config(global: &Global, writing: bool) -> Result<Config, Failure> {
    let mut config = global.config()?;
    config.ahead = false;
    config.writing = writing;
    Ok(config)
}

/// The application, with what it has to say of its opening told.
pub(crate) fn opened(global: &Global, config: Config) -> Result<App, Failure> {
    let app = App::open(config)?;
    global.tell(app.notices());
    global.tell_later(app.maintenance().set_aside());
    Ok(app)
}

/// The screens, until the player leaves.
pub(crate) fn show(
    global: &Global,
    app: App,
    start: &Start,
    options: Options,
) -> Result<(), Failure> {
    let ascii = global.ascii()?;
    crate::cli::shell::signals::leave_to_screens();
    let watch = Watch::over(app.clone());
    let kept = app.clone();
    let shown = tui::run(
        app,
        start,
        Options {
            ascii,
            letters: letters::chosen(),
            ..options
        },
        texts(),
    );
    watch.end(global);
    kept.maintenance().leave();
    if let Err(TuiError::Panic(_)) = &shown {
        global.tell(&[tr!("everything kept is in {}", global.home()?.display())]);
    }
    Ok(shown?)
}

/// The reports in the words of the commands.
pub(crate) fn texts() -> ReportTexts {
    ReportTexts {
        progress: report::progress_text,
        quick: report::quick_page,
        // What is wrong with the file that is built in would be told in its place.
        method: || report::method_text().unwrap_or_else(|error| error.to_string()),
        account: report::account_text,
        sheet: |sheet, fitted| report::sheet_pgn(sheet, fitted, None),
        opponent: report::opponent_text,
        event: |read| report::event_text(&told::event(read)),
        own_game_stops: |read| report::account_of_game_stops(&told::account(read)),
        own_game: |read| report::account_of_game_text(&told::account(read)),
        thoughts: |read| report::thoughts_read_text(&told::thoughts(read)),
    }
}

/// How long the screens are left alone before the store is looked at.
const CALM: Duration = Duration::from_secs(3);
const STEP: Duration = Duration::from_millis(50);

/// Looks at every value of the store while the screens stand, where opening has not: what it finds is
/// told at the end, and mended by the next start.
struct Watch {
    over: Arc<AtomicBool>,
    looking: JoinHandle<Option<String>>,
}

impl Watch {
    fn over(app: App) -> Self {
        let over = Arc::new(AtomicBool::new(false));
        let seen = over.clone();
        let looking = std::thread::spawn(move || {
            let began = Instant::now();
            while began.elapsed() < CALM {
                // Short, since the store is closed only when this has let go of it.
                std::thread::sleep(STEP);
                if seen.load(Ordering::Relaxed) {
                    return None;
                }
            }
            app.maintenance().check_store().err().map(|e| e.to_string())
        });
        Self { over, looking }
    }

    fn end(self, global: &Global) {
        self.over.store(true, Ordering::Relaxed);
        if let Ok(Some(damage)) = self.looking.join() {
            global.tell(&[damage]);
        }
    }
}
