//! `foreply coach hand-out` and `foreply coach table`: a coach's own positions out to many, and what came back.

use std::path::Path;

use crate::app::{App, Note, notes};
use crate::cli::args::{CollectionTable, Global, HandOut, Page, form};
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app};
use crate::coach::collection::{self, CollectedPosition, HandedIn};
use crate::report;
use crate::review::Review;
use crate::tree::pgn;

/// Writes the positions without the trees.
pub(super) fn hand_out(global: &Global, args: &HandOut) -> Result<(), Failure> {
    let inputs: Vec<&Path> = args.collection.iter().map(Path::new).collect();
    let target = locate::target(global, Some(&args.output), &inputs)?;
    form::only(
        Some(&args.output),
        &["pgn"],
        tr!("a game in PGN for each position"),
    )?;
    if args.by.trim().is_empty() {
        return Err(Failure::input(tr!(
            "--by is empty; your students see the name as that of their coach"
        )));
    }
    let locale = global.locale()?;
    let until = args.until.as_ref().map(|d| d.read(locale));
    let until = until
        .transpose()
        .map_err(|e| Failure::usage(tr!("--until: {e}")))?;
    let positions = positions(global, &args.collection)?;
    let with = collection::HandOut {
        name: args.name.trim(),
        by: args.by.trim(),
        due: until,
        words: args.words.trim(),
    };
    target.write(&collection::handed_out(&positions, &with))?;
    let (number, points) = (
        positions.len(),
        positions.iter().map(|p| p.points.len()).sum::<usize>(),
    );
    let file = args.output.display();
    global.tell(&[tr!(
        "{} written to {file} without your lines ({}); what comes back: foreply coach table FILE... --model {}",
        tr!(number; "{} position" | "{} positions", crate::text::whole(number)),
        tr!(points; "{} point" | "{} points", crate::text::whole(points)),
        args.collection.join(" --model ")
    )]);
    Ok(())
}

/// The collection as one, whatever it is made of.
fn positions(global: &Global, what: &[String]) -> Result<Vec<CollectedPosition>, Failure> {
    let (mut all, mut errors): (Vec<CollectedPosition>, Vec<String>) = (Vec::new(), Vec::new());
    let mut app: Option<App> = None;
    for name in what {
        let found = if is_file(name) {
            let bytes = locate::notes_file(name)?;
            let found = collection::collected(&pgn::decode(&bytes));
            errors.extend(found.errors.iter().map(|e| format!("{name}: {e}")));
            if found.positions.is_empty() && found.errors.is_empty() {
                errors.push(tr!("{name}: no game in it"));
            }
            found.positions
        } else {
            let app = match &app {
                Some(app) => app,
                None => app.insert(open_app::reading(global)?),
            };
            let id = locate::attempt(app, name)?;
            let attempt = app.attempts().attempt(&id)?;
            if attempt.locked_ms().is_none() {
                return Err(Failure::input(tr!(
                    "{name}: the sitting is not locked yet; what is written in it may still change"
                )));
            }
            let own = collection::collected_tree(attempt.tree());
            if own.points.is_empty() {
                errors.push(tr!("{name}: no move in it that is possible"));
            }
            vec![own]
        };
        for position in found {
            if all.iter().any(|p| p.key() == position.key()) {
                errors.push(tr!(
                    "{name}: a position that is in the collection already: {}",
                    position.key().fields()
                ));
            } else {
                all.push(position);
            }
        }
    }
    match errors.is_empty() {
        true => Ok(all),
        false => Err(Failure::inputs(errors)),
    }
}

fn is_file(name: &str) -> bool {
    name == "-" || name.contains(['.', '/', '\\']) || Path::new(name).exists()
}

/// A tree that came back: where from, and whose.
struct Back {
    student: String,
    note: Note,
}

/// One table of all that came back.
pub(super) fn table(global: &Global, args: &CollectionTable) -> Result<(), Failure> {
    let inputs: Vec<&Path> = args
        .files
        .iter()
        .chain(&args.model)
        .map(Path::new)
        .collect();
    let output = args.page.output.as_deref();
    let target = locate::target(global, output, &inputs)?;
    let form = Page::asked(args.page.format, output)?;
    let positions = positions(global, &args.model)?;
    let (back, errors) = back(global, &args.files, &positions)?;
    if back.is_empty() {
        let why =
            tr!("nothing came back: no tree in these files is at a position of the collection");
        return Err(match errors.is_empty() {
            true => Failure::input(why),
            false => Failure::inputs(errors),
        });
    }
    let reviews = reviews(global, args, &back)?;
    let handed_in: Vec<HandedIn<'_>> = back
        .iter()
        .enumerate()
        .map(|(at, back)| HandedIn {
            student: &back.student,
            tree: &back.note.written.tree,
            review: reviews.get(at),
        })
        .collect();
    let table = collection::table(&positions, &handed_in);
    let name = name(&args.model);
    target.tell(&match form {
        Page::Text => report::collection_text(&name, &table),
        Page::Json => report::collection_json(&name, &table).map_err(Failure::input)?,
        Page::Html => report::collection_html(&name, &table).map_err(Failure::input)?,
    })?;
    match errors.is_empty() {
        true => Ok(()),
        false => Err(Failure::inputs(errors)),
    }
}

/// What the collection is called: the names of its files without their endings, and of its sittings.
fn name(model: &[String]) -> String {
    let names = model.iter().map(|m| {
        let stem = Path::new(m).file_stem();
        stem.map_or_else(|| m.clone(), |s| s.to_string_lossy().into_owned())
    });
    names.collect::<Vec<_>>().join(", ")
}

/// The trees at positions of the collection, in the order of the files; what is wrong with a file stops no other.
fn back(
    global: &Global,
    files: &[String],
    positions: &[CollectedPosition],
) -> Result<(Vec<Back>, Vec<String>), Failure> {
    let (mut all, mut errors) = (Vec::new(), Vec::new());
    for file in &each(files)? {
        let bytes = match locate::notes_file(file) {
            Ok(bytes) => bytes,
            Err(failure) => {
                errors.extend(failure.into_messages());
                continue;
            }
        };
        // The positions are the coach's own: none of them is a game that goes on.
        let found = notes(&bytes, None);
        errors.extend(found.errors.iter().map(|e| format!("{file}: {e}")));
        let (own, other): (Vec<Note>, Vec<Note>) = found.trees.into_iter().partition(|note| {
            let key = crate::board::PositionKey::of(note.written.root().position());
            positions.iter().any(|p| p.key() == key)
        });
        if !other.is_empty() {
            global.tell(&[tr!(
                "{file}: {} at no position of the collection, left out",
                tr!(other.len(); "{} tree" | "{} trees", crate::text::whole(other.len()))
            )]);
        }
        let stem = Path::new(file).file_stem();
        let stem = stem.map_or_else(|| file.clone(), |s| s.to_string_lossy().into_owned());
        all.extend(own.into_iter().map(|note| Back {
            student: named(&note).unwrap_or_else(|| stem.clone()),
            note,
        }));
    }
    Ok((all, errors))
}

/// The name that stands in the file, where it is one.
fn named(note: &Note) -> Option<String> {
    let name = note.student.as_deref().map(str::trim);
    name.filter(|n| !matches!(*n, "" | "?" | "-"))
        .map(str::to_owned)
}

/// The files, and of a folder all PGN files in it.
fn each(files: &[String]) -> Result<Vec<String>, Failure> {
    let mut all = Vec::new();
    for file in files {
        match Path::new(file) {
            folder if folder.is_dir() => {
                let found = locate::pgn_files(folder)?;
                all.extend(found.iter().map(|p| p.display().to_string()));
            }
            _ => all.push(file.clone()),
        }
    }
    Ok(all)
}

/// The review of each tree in their order; none where the engine is not asked.
fn reviews(global: &Global, args: &CollectionTable, back: &[Back]) -> Result<Vec<Review>, Failure> {
    if !args.review {
        return Ok(Vec::new());
    }
    let mut config = global.config()?;
    config.nodes = args.nodes.or(config.nodes);
    config.ahead = false;
    let app = open_app::opened(global, config)?;
    let mut reviews = Vec::with_capacity(back.len());
    for (number, of) in back.iter().enumerate() {
        let bar = Progress::new(global.quiet, &tr!("{} of {}", number + 1, back.len()));
        reviews.push(
            app.notes()
                .review_note(&of.note, &mut |done, all| bar.show(done, all))?,
        );
    }
    Ok(reviews)
}
