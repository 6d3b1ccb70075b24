//! `foreply games`: own games, from PGN to the moments worth calculating.

pub mod openings;
pub mod plan;

use std::fmt::Write;
use std::fs::File;
use std::io::{self, BufRead, IsTerminal, Read};
use std::path::Path;

use crate::app::{App, AppError, Judged, Remembered, Whose};
use crate::cli::Failure;
use crate::cli::args::{AddGames, Clock, Format, Games, Global, Judging, Moments, Page};
use crate::cli::commands::practice;
use crate::cli::shell::error::print;
use crate::cli::shell::files;
use crate::cli::shell::progress_bar::Progress;
use crate::drill::{self, Drill};
use crate::games::Added;
use crate::games::clock;
use crate::games::conversion::conversion;
use crate::games::moment::{Habits, Moment};
use crate::games::survey::Settings;
use crate::report;
use crate::text::{number, safe};

/// Names that are listed where the player's is missing.
const NAMES_TOLD: usize = 12;

pub(crate) fn run(global: &Global, command: &Games) -> Result<(), Failure> {
    match command {
        Games::Add(args) => add(global, args),
        Games::Moments(args) => moments(global, args),
        Games::Clock(args) => clock(global, args),
        Games::Openings(args) => crate::cli::commands::games::openings::run(global, args),
        Games::Plan(args) => crate::cli::commands::games::plan::run(global, args),
    }
}

/// Every move of the games with what the judge says of it.
pub(crate) fn judged(
    global: &Global,
    app: &App,
    args: &Judging,
) -> Result<(Judged, Settings), Failure> {
    if args.over {
        app.say_over()?;
    }
    let settings = Settings {
        nodes: args.nodes,
        ..Settings::default()
    };
    let bar = Progress::timed(global.quiet, "judging");
    let judged = app.judge_games(&settings, &mut |step| bar.show(step.done, step.of))?;
    drop(bar);
    let held: Vec<String> = judged.held_back.iter().map(|g| held_back(g)).collect();
    global.tell(&held);
    if judged.games.is_empty() {
        return Err(Failure::inputs(held));
    }
    Ok((judged, settings))
}

pub(crate) fn held_back(game: &str) -> String {
    format!(
        "{game}: no result and dated today, so it may be going on; it is not judged before you say that it is over with --over (FIDE Laws of Chess, 11.3: no analysis during play)"
    )
}

fn moments(global: &Global, args: &Moments) -> Result<(), Failure> {
    let app = open(global)?;
    let (mut judged, settings) = judged(global, &app, &args.judging)?;
    let bar = Progress::timed(global.quiet, "looking closer");
    let mut chosen = app.moments(&mut judged, &settings, &mut |step| {
        bar.show(step.done, step.of)
    })?;
    drop(bar);
    if let Some(limit) = args.limit {
        chosen = best(chosen, usize::from(limit));
    }
    let drills = app.keep_moments(&judged, &chosen)?;
    if let Some(path) = &args.output {
        let text = drill::write(&drills)
            .map_err(|e| Failure::input(format!("{}: {e}, with --limit N", path.display())))?;
        files::write(path, &text)?;
    }
    match args.format {
        Format::Json => print(
            &report::games::moments_json(&judged.games, &chosen, by(&judged))
                .map_err(Failure::input)?,
        ),
        Format::Text => {
            let text = report::games::moments(&judged.games, &chosen, by(&judged), args.tell);
            print(&text)?;
            print(&where_to(&drills, args))
        }
    }
}

fn clock(global: &Global, args: &Clock) -> Result<(), Failure> {
    let app = open(global)?;
    let (judged, settings) = judged(global, &app, &args.judging)?;
    let (games, by) = (&judged.games, by(&judged));
    let times = clock::clock(games, &Habits::of(games), &settings);
    let heights = conversion(games);
    let page = match args.format {
        Page::Text => report::games_clock::clock(games, &times, &heights),
        Page::Json => {
            report::games_clock::clock_json(&times, &heights, by).map_err(Failure::input)?
        }
        Page::Html => report::clock_html(games, &times, &heights, by).map_err(Failure::input)?,
    };
    match &args.output {
        Some(path) => files::write(path, &page),
        None => print(&page),
    }
}

fn by(judged: &Judged) -> report::games::By<'_> {
    report::games::By {
        engine: &judged.judge,
        nodes: judged.nodes,
    }
}

/// Those with the most to learn, in the order of the games.
fn best(mut chosen: Vec<Moment>, limit: usize) -> Vec<Moment> {
    let place = |m: &Moment| (m.game, m.ply);
    chosen.sort_by(|a, b| b.value.total_cmp(&a.value).then(place(a).cmp(&place(b))));
    chosen.truncate(limit);
    chosen.sort_by_key(place);
    chosen
}

fn where_to(drills: &[Drill], args: &Moments) -> String {
    let (Some(first), count) = (drills.first(), drills.len()) else {
        return String::new();
    };
    let file = args.output.as_ref().map(|p| {
        let path = p.display();
        format!("{path} holds them; `foreply practice {path}` opens it. ")
    });
    let them = if count == 1 {
        "it first".to_owned()
    } else {
        format!("the {count} positions first")
    };
    format!(
        "{}`foreply` offers {them}; `foreply practice {}` opens one.\n",
        file.unwrap_or_default(),
        first.id
    )
}

pub(crate) fn open(global: &Global) -> Result<App, Failure> {
    let mut config = global.config()?;
    config.ahead = false;
    config.writing = true;
    practice::opened(global, config)
}

fn add(global: &Global, args: &AddGames) -> Result<(), Failure> {
    let app = open(global)?;
    let (stream, size) = stream(&args.file)?;
    let whose = Whose {
        player: args.player.clone(),
        also: args.also.clone(),
        not: args.not.clone(),
    };
    let bar = Progress::bytes(global.quiet, "reading", size);
    let mut ask = |name: &str| bar.pause(|| asked(name));
    let added = app.add_games(stream, &whose, &mut ask, &mut |read| bar.reached(read));
    drop(bar);
    let name = args.file.display().to_string();
    let added = added.map_err(|e| match e {
        AppError::File(e) => Failure::input(format!("{name}: {e}")),
        AppError::WhoseGames => whose_games(&args.file),
        e => e.into(),
    })?;
    let remembered = app.remember_notes()?;
    print(&told(&added))?;
    print(&from_memory(remembered))?;
    let wrong = wrong(&added, &name);
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(Failure::inputs(wrong))
    }
}

/// The bytes of a file and how many there are.
fn stream(path: &Path) -> Result<(Box<dyn Read>, u64), Failure> {
    if path.as_os_str() == "-" {
        return Ok((Box::new(io::stdin().lock()), 0));
    }
    let failed = |e: io::Error| {
        Failure::input(format!(
            "{}: {e}; give a PGN file, or - for standard input",
            path.display()
        ))
    };
    let file = File::open(path).map_err(failed)?;
    let kind = file.metadata().map_err(failed)?;
    if kind.is_dir() {
        return Err(Failure::input(format!(
            "{}: a folder; give a PGN file, or - for standard input",
            path.display()
        )));
    }
    Ok((Box::new(file), kind.len()))
}

/// The names of a file, for a player who has not said which one is his.
fn whose_games(path: &Path) -> Failure {
    let names = match path.as_os_str() == "-" {
        true => Vec::new(),
        false => File::open(path)
            .map(crate::games::names_in)
            .unwrap_or_default(),
    };
    let mut message = "whose games are they? Say it once with --player NAME".to_owned();
    list_names(&mut message, &names);
    Failure::usage(message)
}

fn list_names(message: &mut String, names: &[(String, usize)]) {
    if names.is_empty() {
        return;
    }
    message.push_str("; the names in the file:");
    for (name, games) in names.iter().take(NAMES_TOLD) {
        let _ = write!(message, "\n  {} ({})", safe(name), of_games(*games));
    }
    if names.len() > NAMES_TOLD {
        let _ = write!(message, "\n  and {} more", names.len() - NAMES_TOLD);
    }
}

fn of_games(count: usize) -> String {
    match count {
        1 => "1 game".to_owned(),
        n => format!("{n} games"),
    }
}

/// Asks at the terminal whether a name is the player's; `None` where nobody can answer.
fn asked(name: &str) -> Option<bool> {
    if !io::stdin().is_terminal() || !io::stderr().is_terminal() {
        return None;
    }
    loop {
        eprint!("Is '{}' you? [y/n] ", safe(name));
        let mut answer = String::new();
        if io::stdin().lock().read_line(&mut answer).ok()? == 0 {
            return None;
        }
        match answer.trim() {
            "y" | "Y" | "yes" => return Some(true),
            "n" | "N" | "no" => return Some(false),
            _ => {}
        }
    }
}

/// What was taken in, in sentences.
fn told(added: &Added) -> String {
    let mut out = format!("{} read: ", of_games(added.games));
    let mut parts = vec![format!("{} new of yours", number(added.new))];
    let more = [
        (added.known, "there already"),
        (added.better, "there with less, now replaced"),
        (added.others, "of other players"),
        (added.empty, "without a move"),
        (added.refused, "refused"),
    ];
    for (count, what) in more.iter().filter(|m| m.0 > 0) {
        parts.push(format!("{} {what}", number(*count)));
    }
    let _ = writeln!(out, "{}.", parts.join(", "));
    let came = added.new + added.better;
    if came > 0 {
        let without = came - added.with_clock;
        if added.with_clock == 0 {
            out.push_str("No clock times in them: all that is about time will be missing.\n");
        } else if without > 0 {
            let _ = writeln!(out, "{} of them without clock times.", of_games(without));
        }
        if added.with_notes > 0 {
            let _ = writeln!(
                out,
                "{} with variations of yours.",
                of_games(added.with_notes)
            );
        }
    }
    for phantom in &added.phantoms {
        let _ = writeln!(
            out,
            "line {}, column {} (game {}): '{}' in a variation is not possible: {}; it is kept as you wrote it",
            phantom.line,
            phantom.column,
            phantom.game,
            safe(&phantom.text),
            safe(&phantom.why)
        );
    }
    out
}

fn what_you_wrote(trees: usize) -> String {
    match trees {
        1 => "What you wrote at one move is".to_owned(),
        n => format!("What you wrote at {} moves is", number(n)),
    }
}

fn from_memory(remembered: Remembered) -> String {
    let mut out = String::new();
    if remembered.new > 0 {
        let _ = writeln!(
            out,
            "{} now attempts from memory, locked and counted apart; `foreply review last` reviews the last of them.",
            what_you_wrote(remembered.new)
        );
    }
    if remembered.late > 0 {
        let _ = writeln!(
            out,
            "{} more came after the judge had spoken of the game: they are kept in it, but are no attempts.",
            remembered.late
        );
    }
    out
}

/// What keeps the exit code from being 0.
fn wrong(added: &Added, file: &str) -> Vec<String> {
    let mut wrong: Vec<String> = added
        .refusals
        .iter()
        .map(|e| format!("{file}: {e}"))
        .collect();
    if added.refused > added.refusals.len() {
        let more = added.refused - added.refusals.len();
        wrong.push(format!("{file}: {} more refused", of_games(more)));
    }
    for (name, games) in &added.unsure {
        wrong.push(format!(
            "{file}: is '{name}' you ({})? Add the file again with --also \"{name}\" or --not \"{name}\"",
            of_games(*games)
        ));
    }
    let none = added.new + added.known + added.better + added.refused == 0;
    if none && added.unsure.is_empty() {
        let mut message = format!("{file}: no game of yours in {}", of_games(added.games));
        list_names(&mut message, &added.names);
        wrong.push(message);
    }
    wrong
}
