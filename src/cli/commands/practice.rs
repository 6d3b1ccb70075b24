//! `foreply` and `foreply practice`: the screens.

use std::io::IsTerminal;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crate::app::{App, Config};
use crate::attempt::Sight;
use crate::board::{Line, line};
use crate::cli::Failure;
use crate::cli::args;
use crate::cli::args::{Global, Practice};
use crate::cli::commands::drills;
use crate::games::OWN;
use crate::tui::{self, Options, Start, Touring, TuiError};

/// The screens on what to practise now.
pub(crate) fn home(global: &Global) -> Result<(), Failure> {
    let options = Options {
        tour: Touring::Once,
        ..Options::default()
    };
    open(global, global.config()?, &Start::Home, options)
}

/// The screens on one position.
pub(crate) fn run(global: &Global, args: &Practice) -> Result<(), Failure> {
    let mut config = global.config()?;
    let start = match (&args.drill, &args.fen) {
        (Some(text), _) if is_file(text) => {
            let drills = drills::of_file(Path::new(text))?;
            let start = match drills.as_slice() {
                [only] => Start::Drill(only.id.clone()),
                _ => Start::Home,
            };
            config.drills = Some(drills);
            start
        }
        (Some(text), _) if text.starts_with(OWN) => Start::Drill(text.clone()),
        (Some(text), _) => Start::Drill(drills::named(text)?),
        (None, Some(fen)) => Start::Position(Box::new(Line::new(
            line::read_fen(fen).map_err(Failure::input)?,
        ))),
        (None, None) => Start::Home,
    };
    let sight = match args.sight {
        args::Sight::Root => Sight::Root,
        args::Sight::Follow => Sight::Follow,
        args::Sight::None => Sight::None,
    };
    let options = Options {
        minutes: args.minutes,
        sight,
        look_s: args.look,
        tour: if args.tour {
            Touring::Now
        } else {
            Touring::Once
        },
        ..Options::default()
    };
    // A terminal that cannot place text gets lines, and is told so.
    let dumb = std::env::var("TERM").is_ok_and(|t| t == "dumb") && std::io::stdin().is_terminal();
    if dumb && !args.plain {
        global.tell(&["TERM is 'dumb': the sitting goes on in plain lines".to_owned()]);
    }
    if args.plain || dumb {
        return lines(global, config, &start, options);
    }
    open(global, config, &start, options)
}

/// The sitting on standard input and output.
fn lines(
    global: &Global,
    mut config: Config,
    start: &Start,
    options: Options,
) -> Result<(), Failure> {
    config.writing = true;
    let app = opened(global, config)?;
    let (mut input, mut output) = (std::io::stdin().lock(), std::io::stdout().lock());
    let streams: (&mut dyn std::io::BufRead, &mut dyn std::io::Write) = (&mut input, &mut output);
    Ok(tui::console::sitting::run(&app, start, options, streams)?)
}

/// True for the name of a file of drills; no drill has a dot or a slash in its name.
fn is_file(text: &str) -> bool {
    text.contains(['.', '/', '\\'])
}

fn open(
    global: &Global,
    mut config: Config,
    start: &Start,
    options: Options,
) -> Result<(), Failure> {
    config.writing = true;
    show(global, opened(global, config)?, start, options)
}

/// The application, with what it has to say of its opening told.
pub(crate) fn opened(global: &Global, config: Config) -> Result<App, Failure> {
    let app = App::open(config)?;
    global.tell(app.notices());
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
    #[cfg(unix)]
    crate::cli::shell::signals::leave_to_screens();
    let watch = Watch::over(app.clone());
    let kept = app.clone();
    let shown = tui::run(app, start, Options { ascii, ..options });
    watch.end(global);
    kept.leave();
    if let Err(TuiError::Panic(_)) = &shown {
        global.tell(&[format!(
            "everything kept is in {}",
            global.home()?.display()
        )]);
    }
    Ok(shown?)
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
            app.check_store().err().map(|e| e.to_string())
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
