//! `foreply coach`: attempts out to a coach, and his answer back in.

mod collection;

use jiff::tz::TimeZone;

use crate::app::{AnswerTerms, App, AppError, AttemptId, CoachAnswer, HandedOut, LetterTerms};
use crate::cli::args::{Coach, Format, Global, Homework, Page, Rule, Send, Take, form};
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app};
use crate::coach::CoachImport;
use crate::coach::collection::HandedTask;
use crate::report::{self, SetTask, Task};
use crate::review::Review;

pub(crate) fn run(global: &Global, command: &Coach) -> Result<(), Failure> {
    match command {
        Coach::Send(args) => send(global, args),
        Coach::Take(args) => take(global, args),
        Coach::HandOut(args) => collection::hand_out(global, args),
        Coach::Table(args) => collection::table(global, args),
        Coach::Homework(args) => homework(global, args),
        Coach::Rule(args) => rule(global, args),
    }
}

/// All attempts in one file; they count as sent once it is written.
fn send(global: &Global, args: &Send) -> Result<(), Failure> {
    let target = locate::target(global, Some(&args.output), &[])?;
    form::only(
        Some(&args.output),
        &["pgn"],
        tr!("a game in PGN for each attempt"),
    )?;
    let app = open_app::reading(global)?;
    let ids = ids(&app, args)?;
    let homework = app.homework().sentences(&TimeZone::system())?;
    let mut sendings = Vec::new();
    for id in &ids {
        let bar = Progress::new(global.quiet, &tr!("attempt {id}"));
        let terms = LetterTerms {
            player: args.player.as_deref(),
            review: args.with_review,
            // Once in a file is enough.
            homework: if sendings.is_empty() { &homework } else { &[] },
        };
        sendings.push(app.coach().letter(id, terms, &mut |done, all| {
            bar.show(done, all);
        })?);
    }
    let pgn: Vec<&str> = sendings.iter().map(|s| s.pgn.as_str()).collect();
    target.write(&pgn.join("\n"))?;
    let number = sendings.len();
    for sending in sendings {
        match app.coach().sent(sending) {
            // The letter is there: that is what was asked for.
            Err(AppError::Store(why)) => global.tell(&[tr!(
                "that it went out could not be noted ({why}); the file is complete"
            )]),
            noted => noted?,
        }
    }
    global.tell(&[tr!(number;
        "{number} attempt written to {}; what comes back goes in with 'foreply coach take FILE.pgn'"
        | "{number} attempts written to {}; what comes back goes in with 'foreply coach take FILE.pgn'",
        args.output.display()
    )]);
    Ok(())
}

/// Each once, in the order in which they are named, then what does homework.
fn ids(app: &App, args: &Send) -> Result<Vec<AttemptId>, Failure> {
    let mut ids: Vec<AttemptId> = Vec::new();
    for what in &args.attempts {
        let id = locate::attempt(app, what)?;
        if !ids.contains(&id) {
            ids.push(id);
        }
    }
    if args.homework {
        let unsent = app.homework().unsent()?;
        ids.extend(
            unsent
                .into_iter()
                .filter(|id| !args.attempts.contains(&id.0)),
        );
        ids.dedup();
    }
    if ids.is_empty() {
        return Err(Failure::input(tr!(
            "nothing was written to homework since the last file went out; `foreply coach homework` lists what is set"
        )));
    }
    Ok(ids)
}

/// What can be taken of the files is taken; the rest is told with its place.
fn take(global: &Global, args: &Take) -> Result<(), Failure> {
    if args.attempt.is_some() && args.files.len() > 1 {
        return Err(Failure::usage(tr!(
            "--attempt says what one file answers; give one file with it"
        )));
    }
    let app = open_app::reading(global)?;
    let to = args.attempt.as_deref();
    let to = to.map(|what| locate::attempt(&app, what)).transpose()?;
    let terms = AnswerTerms {
        by: args.by.as_deref(),
        to: to.as_ref(),
    };
    let mut reader = app.coach().reader();
    let (mut taken, mut tasks) = (Vec::new(), Vec::new());
    let (mut elsewhere, mut errors) = (Vec::new(), Vec::new());
    for file in &args.files {
        let bytes = match locate::notes_file(file) {
            Ok(bytes) => bytes,
            Err(failure) => {
                errors.extend(failure.into_messages());
                continue;
            }
        };
        let answers = reader.read(&bytes, terms)?;
        if answers.is_empty() {
            errors.push(tr!("{file}: no game in it"));
        }
        for answer in answers {
            match answer {
                CoachAnswer::Taken(t) => taken.push(*t),
                CoachAnswer::Task(by, task) => tasks.push((by, *task)),
                CoachAnswer::Refused { number, line, why } => errors.push(tr!(
                    "{file}: line {line} (game {number}): nothing taken: {why}"
                )),
                CoachAnswer::Unreadable(e) => errors.push(format!("{file}: {e}")),
                CoachAnswer::Elsewhere {
                    number,
                    line,
                    attempt,
                    student,
                } => {
                    let student = student.map_or_else(String::new, |s| tr!(" by '{s}'"));
                    elsewhere.push(tr!(
                        "{file}: line {line} (game {number}): left out: it answers attempt {attempt}{student}, which is not kept here"
                    ));
                }
            }
        }
    }
    // In a file to several students the others' games are no fault, unless nothing else is in it.
    match taken.is_empty() && tasks.is_empty() {
        true => errors.append(&mut elsewhere),
        false => global.tell(&elsewhere),
    }
    let set = match args.dry_run {
        true => vec![true; tasks.len()],
        false => {
            keep(global, &app, &taken)?;
            app.homework().set(&tasks)?
        }
    };
    let set: Vec<SetTask> = tasks.iter().zip(set).map(set_task).collect();
    let taken: Vec<&CoachImport> = taken.iter().collect();
    match args.format {
        Format::Json => print(&report::taken_json(&taken, &set).map_err(Failure::input)?)?,
        Format::Text => {
            print(&taken.iter().map(|t| report::taken(t)).collect::<String>())?;
            print(&report::set_tasks(&set))?;
        }
    }
    match errors.is_empty() {
        true => Ok(()),
        false => Err(Failure::inputs(errors)),
    }
}

fn set_task(((by, task), new): (&(String, HandedTask), bool)) -> SetTask {
    SetTask {
        by: by.clone(),
        name: task.name.clone(),
        number: task.number,
        due: task.due.map(|d| d.to_string()),
        words: task.words.clone(),
        new,
    }
}

/// Reviews whose findings were ruled on are computed again, so that every figure follows.
fn keep(global: &Global, app: &App, taken: &[CoachImport]) -> Result<(), Failure> {
    let mut ruled: Vec<AttemptId> = Vec::new();
    for taken in taken {
        let id = AttemptId(taken.attempt.clone());
        if app.coach().keep_taken(taken)? && !ruled.contains(&id) {
            ruled.push(id);
        }
    }
    for id in &ruled {
        review(global, app, id)?;
    }
    Ok(())
}

fn review(global: &Global, app: &App, id: &AttemptId) -> Result<Review, Failure> {
    let bar = Progress::new(global.quiet, tr!("comparing"));
    let shown = &mut |done, all| bar.show(done, all);
    Ok(app.reviews().review(id, shown)?)
}

fn homework(global: &Global, args: &Homework) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let app = open_app::reading(global)?;
    let (zone, names) = (TimeZone::system(), app.attempts().short_names()?);
    let today = app.homework().today(&zone);
    let tasks = app.homework().all()?.into_iter().map(|task| Task {
        by: task.by.clone(),
        set: report::day(task.set_ms, &zone),
        due: task.due.clone(),
        late: task.is_late(today),
        words: task.words.clone(),
        of: task
            .of
            .as_ref()
            .map_or_else(String::new, |of| names.shown(&of.0).to_owned()),
        handed_out: task.handed_out.as_ref().map(HandedOut::words),
        path: task.path.clone(),
        done: task.done.map(|done| report::TaskDone {
            attempt: names.shown(&done.attempt.0).to_owned(),
            on: report::day(done.wall_ms, &zone),
        }),
    });
    let tasks: Vec<Task> = tasks.collect();
    target.tell(&match form {
        Page::Text => report::homework_text(&tasks),
        Page::Json => report::homework_json(&tasks).map_err(Failure::input)?,
        Page::Html => report::homework_html(&tasks).map_err(Failure::input)?,
    })
}

/// A ruling, or the findings that can be ruled on.
fn rule(global: &Global, args: &Rule) -> Result<(), Failure> {
    let app = match args.finding {
        Some(_) => open_app::writing(global)?,
        None => open_app::reading(global)?,
    };
    let id = locate::attempt(&app, &args.attempt)?;
    let before = review(global, &app, &id)?;
    let (Some(number), Some(by)) = (args.finding, &args.by) else {
        return print(&report::findings_to_rule(
            &before,
            &app.attempts().attempt(&id)?,
        ));
    };
    let findings = report::to_rule(&before);
    let finding = findings.get(usize::from(number) - 1).ok_or_else(|| {
        let there = match findings.len() {
            0 => tr!("the review has none").to_owned(),
            n => tr!(n; "there is 1" | "there are {n}"),
        };
        Failure::input(tr!(
            "no finding {number}: {there}; `foreply coach rule {}` lists them",
            args.attempt
        ))
    })?;
    let why = args.why.as_deref().unwrap_or_default();
    app.coach()
        .rule(&id, finding, by, (!args.uphold).then_some(why))?;
    let after = review(global, &app, &id)?;
    print(&report::findings_to_rule(
        &after,
        &app.attempts().attempt(&id)?,
    ))
}
