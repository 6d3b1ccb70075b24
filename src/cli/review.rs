//! `foreply review`: written variations against the truth.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::args::{Form, Global, Review as Args};
use super::failure::print;
use super::progress::Progress;
use super::{Failure, files};
use crate::app::{Answered, App, NOTES_MAX, Note, SittingId, notes};
use crate::report::{self, Reviewed, Sheet};
use crate::tree::{NodeId, Tree};

pub(super) fn run(global: &Global, args: &Args) -> Result<(), Failure> {
    let is_file =
        args.what == "-" || Path::new(&args.what).exists() || args.what.contains(['.', '/']);
    if is_file {
        file(global, args)
    } else {
        attempt(global, args)
    }
}

/// One attempt of the store.
fn attempt(global: &Global, args: &Args) -> Result<(), Failure> {
    let app = open(global, args)?;
    let id = named(&app, &args.what)?;
    if let Some(line) = &args.answer {
        return print(&answered(&app.answer(&id, line)?));
    }
    let bar = Progress::new(global.quiet, "comparing");
    let review = app.review(&id, &mut |done, all| bar.show(done, all))?;
    drop(bar);
    let heading = format!("Attempt {id}");
    let attempt = app.attempt(&id)?;
    let tree = (attempt.tree(), attempt.choice());
    output(args, &[Reviewed { heading, review }], &[tree])
}

/// The attempt of that name, or the newest one for 'last'.
pub(super) fn named(app: &App, what: &str) -> Result<SittingId, Failure> {
    if what != "last" {
        return Ok(SittingId(what.to_owned()));
    }
    let newest = app.history()?.into_iter().next();
    newest.map(|(id, _)| id).ok_or_else(|| {
        Failure::input("there is no locked attempt yet; `foreply` opens a position to begin with")
    })
}

fn answered(answer: &Answered) -> String {
    let reply = answer.reply.join(" ");
    format!(
        "Your line: {}\nAnswered:  {reply}. Then {}.\n",
        answer.line.join(" "),
        answer.standing
    )
}

/// All notes of a PGN file. What cannot be read is told at the end; the rest is reviewed.
fn file(global: &Global, args: &Args) -> Result<(), Failure> {
    let found = notes(&read(&args.what)?);
    let errors: Vec<String> = found
        .errors
        .iter()
        .map(|e| format!("{}: {e}", args.what))
        .collect();
    if found.trees.is_empty() && errors.is_empty() {
        return Err(Failure::input(format!(
            "{}: no written variations; put what you saw behind a move in brackets: 17. Nd4 (17. Rd1 Qe7 18. c4)",
            args.what
        )));
    }
    let reviews = review_all(global, args, &found.trees)?;
    let trees: Vec<Written<'_>> = found.trees.iter().map(of_note).collect();
    output(args, &reviews, &trees)?;
    if errors.is_empty() {
        Ok(())
    } else {
        Err(Failure::inputs(errors))
    }
}

fn review_all(global: &Global, args: &Args, trees: &[Note]) -> Result<Vec<Reviewed>, Failure> {
    if trees.is_empty() {
        return Ok(Vec::new());
    }
    let app = open(global, args)?;
    let mut reviews = Vec::new();
    for (number, note) in trees.iter().enumerate() {
        let bar = Progress::new(global.quiet, &format!("{} of {}", number + 1, trees.len()));
        let review = app.review_note(note, &mut |done, all| bar.show(done, all))?;
        reviews.push(Reviewed {
            heading: note.heading.clone(),
            review,
        });
    }
    Ok(reviews)
}

fn open(global: &Global, args: &Args) -> Result<App, Failure> {
    let mut config = global.config()?;
    config.nodes = args.nodes.or(config.nodes);
    config.ahead = false;
    let app = App::open(config)?;
    global.tell(app.notices());
    Ok(app)
}

/// A tree with the choice in it.
type Written<'a> = (&'a Tree, Option<NodeId>);

fn of_note(note: &Note) -> Written<'_> {
    (&note.written.tree, note.written.choice)
}

/// The reviews as one page.
fn page(args: &Args, reviews: &[Reviewed], trees: &[Written<'_>]) -> Result<String, Failure> {
    let sheets: Vec<Sheet<'_>> = reviews
        .iter()
        .zip(trees)
        .map(|(of, (tree, choice))| Sheet {
            heading: &of.heading,
            tree,
            choice: *choice,
            review: &of.review,
        })
        .collect();
    let title = match reviews {
        [only] => only.heading.clone(),
        _ => Path::new(&args.what)
            .file_stem()
            .map_or("Reviews".into(), |n| n.to_string_lossy())
            .into_owned(),
    };
    report::html(&title, &sheets).map_err(Failure::input)
}

fn output(args: &Args, reviews: &[Reviewed], trees: &[Written<'_>]) -> Result<(), Failure> {
    if reviews.is_empty() {
        return Ok(());
    }
    let text = match args.format {
        Form::Text => report::text(reviews),
        Form::Json => report::json(reviews).map_err(Failure::input)?,
        Form::Html => page(args, reviews, trees)?,
    };
    match &args.output {
        Some(path) => files::write(path, &text),
        None => print(&text),
    }
}

pub(super) fn read(what: &str) -> Result<Vec<u8>, Failure> {
    let failed = |e: io::Error| {
        Failure::input(format!(
            "{what}: {e}; give a PGN file, - for standard input, or the name of an attempt"
        ))
    };
    let mut bytes = Vec::new();
    if what == "-" {
        io::stdin()
            .lock()
            .take(NOTES_MAX + 1)
            .read_to_end(&mut bytes)
            .map_err(failed)?;
    } else {
        let file = File::open(what).map_err(failed)?;
        if !file.metadata().map_err(failed)?.is_file() {
            return Err(Failure::input(format!(
                "{what}: not a regular file; give a PGN file, or - for standard input"
            )));
        }
        file.take(NOTES_MAX + 1)
            .read_to_end(&mut bytes)
            .map_err(failed)?;
    }
    if bytes.len() as u64 > NOTES_MAX {
        return Err(Failure::input(format!(
            "{what}: larger than {} MiB; split it",
            NOTES_MAX >> 20
        )));
    }
    Ok(bytes)
}
