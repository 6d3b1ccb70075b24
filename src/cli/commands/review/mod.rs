//! `foreply review`: written variations against the truth.

pub mod streaming;

use std::ops::Range;
use std::path::{Path, PathBuf};

use jiff::tz::TimeZone;

use crate::app::notes;
use crate::app::{
    App, AppError, ChangedNotes, Clock, Note, Notes, ObjectionAnswer, SystemClock, date_of,
};
use crate::board::PositionKey;
use crate::cli::args::{Global, Page, Review as Args};
use crate::cli::commands::review::streaming::Telling;
use crate::cli::shell::error::held_back;
use crate::cli::shell::error::print;
use crate::cli::shell::files::Target;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, letters, locate, open_app};
use crate::coach;
use crate::report::{self, IndexedPage, Reviewed, Subject};
use crate::review::{Review, ReviewObserver};
use crate::text;
use crate::tree::Tree;

pub(crate) fn run(global: &Global, args: &Args) -> Result<(), Failure> {
    let path = Path::new(&args.what);
    let is_folder = args.what != "-" && path.is_dir();
    let form = match args.format {
        // What is named then is a folder too.
        Some(Page::Html) if is_folder => Page::Html,
        flag => {
            // That nothing of somebody else's is written over is asked first.
            if !is_folder {
                target(global, args)?;
            }
            Page::asked(flag, args.output.as_deref())?
        }
    };
    let args = &Args {
        format: Some(form),
        ..args.clone()
    };
    if is_folder {
        return folder(global, args, path);
    }
    if args.what == "-" || path.exists() || args.what.contains(['.', '/']) {
        file(global, args)
    } else {
        attempt(global, args)
    }
}

/// One attempt of the store.
fn attempt(global: &Global, args: &Args) -> Result<(), Failure> {
    let models = models(args)?;
    let target = target(global, args)?;
    let app = open(global, args)?;
    let id = locate::attempt(&app, &args.what)?;
    if let Some(line) = &args.answer {
        return print(&answered(
            &app.reviews().answer(&id, &letters::chosen().typed(line))?,
        ));
    }
    let attempt = app.attempts().attempt(&id)?;
    let coached = attempt.coached();
    let of = Subject {
        heading: tr!("Attempt {}", app.attempts().short_names()?.shown(&id.0)),
        student: None,
        tree: coached.map_or(attempt.tree(), |c| c.tree()).clone(),
        choice: attempt.choice(),
        model: held(&models, attempt.tree()),
        coach: coached.map(coach::layer).unwrap_or_default(),
        circumstances: attempt.circumstances(&TimeZone::system()),
        second_look: attempt.after().second_look(),
        answers: attempt.after().answers(),
    };
    let bar = Progress::new(global.quiet, tr!("comparing"));
    let reviewed = told(args, bar, of, &mut |watcher| {
        app.reviews().review(&id, watcher)
    })?;
    output(args, &target, &[reviewed])
}

/// Makes a review, and tells of it what is sure where it is told as text.
fn told(
    args: &Args,
    bar: Progress,
    of: Subject,
    make: &mut dyn FnMut(&mut dyn ReviewObserver) -> Result<Review, AppError>,
) -> Result<Reviewed, Failure> {
    let mut telling = Telling::new(bar, is_told_live(args).then_some(&of));
    let review = make(&mut telling)?;
    let rest = telling.rest();
    let reviewed = Reviewed { of, review };
    if let Some(rest) = rest {
        rest.tell(&reviewed)?;
    }
    Ok(reviewed)
}

/// True where the reviews go to standard output as text, one after the other.
fn is_told_live(args: &Args) -> bool {
    args.format == Some(Page::Text)
        && !args.table
        && args.output.as_deref().is_none_or(|o| o.as_os_str() == "-")
        && !Path::new(&args.what).is_dir()
}

/// Where the review goes; it must be nothing that is read for it.
fn target(global: &Global, args: &Args) -> Result<Target, Failure> {
    let model = args.model.as_deref();
    let inputs: Vec<&Path> = [Some(Path::new(&args.what)), model]
        .into_iter()
        .flatten()
        .collect();
    locate::target(global, args.output.as_deref(), &inputs)
}

fn answered(answer: &ObjectionAnswer) -> String {
    let reply = answer.reply.join(" ");
    tr!(
        "Your line: {}\nAnswered:  {reply}. Then {}.\n",
        answer.line.join(" "),
        answer.standing
    )
}

/// Today's date as PGN writes it; `None` where he has said that all games of the file are over.
fn today(args: &Args) -> Option<String> {
    (!args.over).then(|| date_of(SystemClock::new().wall_ms()))
}

/// All notes of a PGN file. What cannot be read is told at the end; the rest is reviewed.
fn file(global: &Global, args: &Args) -> Result<(), Failure> {
    let models = models(args)?;
    let target = target(global, args)?;
    let found = notes(&locate::own_notes(&args.what)?, today(args).as_deref());
    let errors = wrong_with(&args.what, &found);
    if found.trees.is_empty() && errors.is_empty() {
        return Err(Failure::input(no_notes(&args.what)));
    }
    if !found.trees.is_empty() {
        let app = open(global, args)?;
        output(
            args,
            &target,
            &review_all(global, args, &app, &models, &found.trees)?,
        )?;
    }
    match errors.is_empty() {
        true => Ok(()),
        false => Err(Failure::inputs(errors)),
    }
}

fn no_notes(what: &str) -> String {
    tr!(
        "{what}: no written variations; put what you saw behind a move in brackets: 17. Nd4 (17. Rd1 Qe7 18. c4)"
    )
}

fn wrong_with(what: &str, found: &Notes) -> Vec<String> {
    let errors = found.errors.iter().map(|e| format!("{what}: {e}"));
    errors
        .chain(found.held_back.iter().map(|g| held_back(g)))
        .collect()
}

/// All PGN files of a folder, each by itself: what is wrong with one is told at the end and stops no other. What
/// was answered stays in the store, so a run that was interrupted goes on where it stopped.
fn folder(global: &Global, args: &Args, folder: &Path) -> Result<(), Failure> {
    let models = models(args)?;
    let pages = pages(args)?;
    let files = locate::pgn_files(folder)?;
    // Everything that is written is asked about before the first question to the engine.
    let index = pages.map(|to| index_of(global, to, &files)).transpose()?;
    let pages = pages.map(|to| pages_of(global, to, &files)).transpose()?;
    let target = match pages {
        Some(_) => Target::Standard,
        None => {
            let read: Vec<&Path> = files.iter().map(PathBuf::as_path).collect();
            locate::target(global, args.output.as_deref(), &read)?
        }
    };
    let today = today(args);
    let app = open(global, args)?;
    let (mut all, mut errors) = (Vec::new(), Vec::new());
    // The pages that were written: their files, what they are called, and which of the reviews they hold.
    let mut written: Vec<(String, String, Range<usize>)> = Vec::new();
    for (number, path) in files.iter().enumerate() {
        let name = path.display().to_string();
        let found = match locate::own_notes(&name) {
            Ok(bytes) => notes(&bytes, today.as_deref()),
            Err(failure) => {
                errors.extend(failure.into_messages());
                continue;
            }
        };
        errors.extend(wrong_with(&name, &found));
        if found.trees.is_empty() {
            let told = !found.errors.is_empty() || !found.held_back.is_empty();
            errors.extend((!told).then(|| no_notes(&name)));
            continue;
        }
        let reviews = review_all(global, args, &app, &models, &found.trees)?;
        if let Some(page) = pages.as_ref().and_then(|pages| pages.get(number)) {
            page.tell(&html(&name, &reviews)?)?;
            let of = all.len()..all.len() + reviews.len();
            written.push((page_name(path), stem(path), of));
        }
        all.extend(reviews);
    }
    if let Some(index) = index {
        let pages: Vec<IndexedPage<'_>> = written
            .iter()
            .map(|(file, title, of)| IndexedPage {
                file,
                title,
                reviews: all.get(of.clone()).unwrap_or_default(),
            })
            .collect();
        index.tell(&report::index_html(&stem(folder), &pages).map_err(Failure::input)?)?;
    }
    match args.format {
        Some(Page::Json) => output(args, &target, &all)?,
        _ => target.tell(&report::desk(&all))?,
    }
    match errors.is_empty() {
        true => Ok(()),
        false => Err(Failure::inputs(errors)),
    }
}

/// The folder for pages, where pages are wanted; it is made if it is not there.
fn pages(args: &Args) -> Result<Option<&Path>, Failure> {
    if args.format != Some(Page::Html) {
        return Ok(None);
    }
    let Some(folder) = &args.output else {
        return Err(Failure::input(tr!(
            "a folder makes one page for each file; say with -o DIR where they go"
        )));
    };
    std::fs::create_dir_all(folder)
        .map_err(|e| Failure::input(format!("{}: {e}", folder.display())))?;
    Ok(Some(folder))
}

/// The page of each file, in their order.
fn pages_of(global: &Global, to: &Path, files: &[PathBuf]) -> Result<Vec<Target>, Failure> {
    let page = |file: &PathBuf| locate::target(global, Some(&to.join(page_name(file))), &[file]);
    files.iter().map(page).collect()
}

const INDEX: &str = "index.html";

/// The page that links them all.
fn index_of(global: &Global, to: &Path, files: &[PathBuf]) -> Result<Target, Failure> {
    let taken = files
        .iter()
        .find(|f| page_name(f).eq_ignore_ascii_case(INDEX));
    match taken {
        Some(file) => Err(Failure::input(tr!(
            "{}: its page would be {INDEX}, which is the page that links the others; give the file another name",
            file.display()
        ))),
        None => locate::target(global, Some(&to.join(INDEX)), &[]),
    }
}

fn page_name(file: &Path) -> String {
    format!("{}.html", stem(file))
}

/// What a file or folder is called, without its ending.
fn stem(path: &Path) -> String {
    // Of `.` and `..` the folder that they stand for.
    let named = match path.file_stem() {
        Some(stem) => Some(stem.to_owned()),
        None => path
            .canonicalize()
            .ok()
            .and_then(|p| p.file_stem().map(ToOwned::to_owned)),
    };
    named.map_or_else(
        || tr!("Reviews").to_owned(),
        |s| s.to_string_lossy().into_owned(),
    )
}

/// A coach's own trees, with the positions they are of.
type Models = Vec<(PositionKey, Tree)>;

fn models(args: &Args) -> Result<Models, Failure> {
    let Some(path) = &args.model else {
        return Ok(Models::new());
    };
    let name = path.display().to_string();
    let found = notes(&locate::notes_file(&name)?, None);
    if !found.errors.is_empty() {
        return Err(Failure::inputs(wrong_with(&name, &found)));
    }
    if found.trees.is_empty() {
        return Err(Failure::input(no_notes(&name)));
    }
    let trees = found.trees.into_iter().map(|n| n.written.tree);
    Ok(trees.map(|tree| (place(&tree), tree)).collect())
}

/// Without counters: a coach sets a position up by hand.
fn place(tree: &Tree) -> PositionKey {
    PositionKey::of(tree.root().position())
}

fn held(models: &Models, tree: &Tree) -> Option<coach::Model> {
    let at = place(tree);
    let (_, model) = models.iter().find(|(place, _)| *place == at)?;
    Some(coach::model(tree, model))
}

fn review_all(
    global: &Global,
    args: &Args,
    app: &App,
    models: &Models,
    trees: &[Note],
) -> Result<Vec<Reviewed>, Failure> {
    // Before the first question: what the engine says must not be able to find its way into them.
    let changed = app.notes().lock_notes(trees)?;
    global.tell(&changed.iter().map(changed_since).collect::<Vec<_>>());
    let mut reviews = Vec::new();
    for (number, note) in trees.iter().enumerate() {
        let bar = Progress::new(global.quiet, &tr!("{} of {}", number + 1, trees.len()));
        let of = Subject {
            heading: note.heading.clone(),
            student: note.student.clone(),
            tree: note.written.tree.clone(),
            choice: note.written.choice,
            model: held(models, &note.written.tree),
            coach: Vec::new(),
            circumstances: Vec::new(),
            second_look: Vec::new(),
            answers: Vec::new(),
        };
        let make = &mut |watcher: &mut dyn ReviewObserver| app.notes().review_note(note, watcher);
        reviews.push(told(args, bar, of, make)?);
    }
    if args.mine {
        keep(global, app, trees, &reviews, &changed)?;
    }
    Ok(reviews)
}

/// Keeps the trees as the player's own; says how many. What was changed after the engine had spoken of it is not
/// from memory.
fn keep(
    global: &Global,
    app: &App,
    trees: &[Note],
    reviews: &[Reviewed],
    changed: &[ChangedNotes],
) -> Result<(), Failure> {
    let mut kept = 0;
    for (number, (note, reviewed)) in trees.iter().zip(reviews).enumerate() {
        if changed.iter().all(|c| c.number != number) {
            kept += usize::from(app.notes().keep_note(note, &reviewed.review)?);
        }
    }
    global.tell(&[tr!(
        "{kept} of {} kept as your attempts from memory, counted apart (`foreply progress`); the others are kept \
         already, were changed after a review, or another player wrote them.",
        trees.len()
    )]);
    Ok(())
}

fn changed_since(changed: &ChangedNotes) -> String {
    tr!(
        "{}: these notes are not those that were locked on {}, before the engine first spoke of them; what is new \
         in them is not from memory",
        text::dates_in(&changed.heading),
        text::day(&date_of(changed.locked_ms))
    )
}

fn open(global: &Global, args: &Args) -> Result<App, Failure> {
    let mut config = global.config()?;
    config.nodes = args.nodes.or(config.nodes);
    config.ahead = false;
    open_app::opened(global, config)
}

/// The reviews as one page.
fn html(what: &str, reviews: &[Reviewed]) -> Result<String, Failure> {
    let title = match reviews {
        [only] => only.of.heading.clone(),
        _ => Path::new(what)
            .file_stem()
            .map_or(tr!("Reviews").into(), |n| n.to_string_lossy())
            .into_owned(),
    };
    report::html(&title, reviews).map_err(Failure::input)
}

fn output(args: &Args, target: &Target, reviews: &[Reviewed]) -> Result<(), Failure> {
    let text = match args.format {
        Some(Page::Json) => report::json(reviews).map_err(Failure::input)?,
        Some(Page::Html) => html(&args.what, reviews)?,
        _ if args.table => report::desk(reviews),
        _ if is_told_live(args) => report::text_foot(reviews),
        _ => report::text(reviews),
    };
    target.tell(&text)
}
