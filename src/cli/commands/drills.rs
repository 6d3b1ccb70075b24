//! `foreply drills`: the positions to practise with.

use std::collections::HashMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use crate::app::{App, Output, SolutionCheck};
use crate::board::line;
use crate::cli::args::{DrillForm, Drills, Global, form};
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app};
use crate::drill::{self, Drill, Grade, Task};
use crate::text;
use crate::tree::{NodeId, Tree};

pub(crate) fn run(global: &Global, command: &Drills) -> Result<(), Failure> {
    match command {
        Drills::List { own: false } => print(&list(locate::built_in()?)),
        Drills::List { own: true } => print(&names(added(&open_app::reading(global)?))),
        Drills::Show { drill } => show(global, drill),
        Drills::Check { file, nodes, grade } => check(global, file.as_deref(), *nodes, *grade),
        Drills::Add { files } => add(global, files),
        Drills::Remove { drills } => remove(global, drills),
        Drills::Export {
            file,
            drills,
            own,
            bare,
        } => {
            let (named, own, bare) = (drills.as_slice(), *own, *bare);
            export(global, file, &Export { named, own, bare })
        }
        Drills::FromAttempt { attempt, output } => from_attempt(global, attempt, output.as_deref()),
    }
}

/// Those that were added: they stand behind the collection.
fn added(app: &App) -> Vec<Drill> {
    let known = drill::builtin().unwrap_or_default();
    let is_added = |d: &&Drill| !d.is_of_own_game() && known.iter().all(|k| k.id != d.id);
    app.drills()
        .all()
        .iter()
        .filter(is_added)
        .cloned()
        .collect()
}

/// Name, minutes and side to move.
fn names(drills: Vec<Drill>) -> String {
    let row = |d: &Drill| {
        let side = d.root.player().fold_wb(tr!("White"), tr!("Black"));
        tr!(
            "{}  {side} to move  {:>3} min\n",
            text::fit(&d.id, 40),
            d.minutes
        )
    };
    drills.iter().map(row).collect()
}

fn add(global: &Global, files: &[PathBuf]) -> Result<(), Failure> {
    let mut drills = Vec::new();
    for file in files {
        drills.extend(locate::drills_of(file)?);
    }
    let done = open_app::writing(global)?.drills().add(&drills)?;
    let counts = [
        (done.new.len(), tr!("added")),
        (done.replaced.len(), tr!("replaced")),
        (done.same, tr!("there already")),
    ];
    let told: Vec<String> = counts
        .iter()
        .filter(|(n, _)| *n > 0)
        .map(|(n, what)| format!("{n} {what}"))
        .collect();
    if !told.is_empty() {
        print(&format!("{}\n", told.join(", ")))?;
    }
    if done.refused.is_empty() {
        return Ok(());
    }
    let refused = done.refused.iter();
    Err(Failure::inputs(
        refused
            .map(|(id, why)| tr!("drill '{id}': {why}"))
            .collect(),
    ))
}

fn remove(global: &Global, drills: &[String]) -> Result<(), Failure> {
    let app = open_app::writing(global)?;
    for id in drills {
        app.drills().remove(id)?;
    }
    Ok(())
}

/// Which drills go out, and with what.
struct Export<'a> {
    named: &'a [String],
    own: bool,
    bare: bool,
}

fn export(global: &Global, file: &Path, which: &Export<'_>) -> Result<(), Failure> {
    let Export { named, own, bare } = *which;
    let target = locate::target(global, Some(file), &[])?;
    let form = DrillForm::asked(file)?;
    if bare && form != DrillForm::Pgn {
        return Err(Failure::input(tr!(
            "{}: positions without their solution are written as PGN; end the name with .pgn",
            file.display()
        )));
    }
    let app = open_app::reading(global)?;
    let drills: Vec<Drill> = match (own, named) {
        (true, _) => added(&app),
        (false, []) => app.drills().all().to_vec(),
        (false, named) => {
            let one = |text: &String| locate::drill_in(&app, text);
            named.iter().map(one).collect::<Result<_, _>>()?
        }
    };
    if drills.is_empty() {
        return Err(Failure::input(tr!(
            "you added no drill yet; `foreply drills add FILE` does"
        )));
    }
    let text = match form {
        DrillForm::Epd => drill::write_epd(&drills),
        DrillForm::Pgn => drill::write_pgn(&drills, !bare),
        DrillForm::Yaml => drill::write(&drills).map_err(|e| locate::wrong_drills(&[e]))?,
    };
    target.write(&text)?;
    global.tell(&[tr!(drills.len();
        "{} drill written to {}" | "{} drills written to {}",
        drills.len(),
        file.display()
    )]);
    Ok(())
}

fn from_attempt(global: &Global, attempt: &str, output: Option<&Path>) -> Result<(), Failure> {
    let target = locate::target(global, output, &[])?;
    form::only(output, &["yaml", "yml"], "YAML")?;
    let app = open_app::reading(global)?;
    let id = locate::attempt(&app, attempt)?;
    let made = app.drills().from_attempt(&id)?;
    let text = drill::write(&[made]).map_err(|e| locate::wrong_drills(&[e]))?;
    target.write(&text)
}

/// Number, minutes and side to move: nothing that tells what to look for, or whose position it is.
fn list(drills: &[Drill]) -> String {
    let mut out = String::new();
    for (number, drill) in drills.iter().enumerate() {
        let side = drill.root.player().fold_wb(tr!("White"), tr!("Black"));
        // Writing into a string does not fail.
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "{:>3}  {side} to move  {:>3} min",
                number + 1,
                drill.minutes
            )
        );
    }
    out
}

/// The drill of the collection with that number (from 1) or name.
pub(crate) fn show(global: &Global, text: &str) -> Result<(), Failure> {
    let drill = locate::drill_in(&open_app::reading(global)?, text)?;
    let task = match drill.task {
        Task::Win => tr!("win"),
        Task::Draw => tr!("draw"),
        Task::Move => tr!("find the best move"),
    };
    let mut out = tr!(
        "{}\n{}\n{}\nTask: {task}\n",
        text::safe(&text::dates_in(&drill.title)),
        line::fen(drill.root.position()),
        text::safe(&text::dates_in(&drill.source))
    );
    if let Some(grade) = drill.grade {
        let _ = writeln!(out, "{}", tr!("Difficulty: {grade} of 5"));
    }
    for leaf in drill.solution.leaves() {
        let _ = writeln!(out, "  {}", numbered(&drill.solution, leaf));
    }
    if let Some(note) = &drill.note {
        for row in text::wrap(note, 78) {
            let _ = writeln!(out, "{row}");
        }
    }
    print(&out)
}

fn numbered(tree: &Tree, leaf: NodeId) -> String {
    tree.sans(leaf).join(" ")
}

fn check(global: &Global, file: Option<&Path>, nodes: u64, grade: bool) -> Result<(), Failure> {
    let drills = match file {
        Some(path) => drill::load_file(path).map_err(|errors| locate::wrong_drills(&errors))?,
        None => locate::built_in()?.to_vec(),
    };
    let mut config = global.config()?;
    config.nodes = Some(nodes);
    config.ahead = false;
    let app = open_app::opened(global, config)?;
    let bar = Progress::new(global.quiet, tr!("proving"));
    let mut failed = Vec::new();
    let mut out = String::new();
    let mut grades = HashMap::new();
    for (number, drill) in drills.iter().enumerate() {
        bar.show(number, drills.len());
        let proved = app.drills().prove(drill)?;
        let _ = writeln!(out, "{}", row(&proved));
        grades.insert(proved.id.clone(), proved.grade);
        if !proved.holds() {
            failed.push(tr!(
                "{}: {}; mend the drill, or say so in its note",
                proved.id,
                proved.doubts.join("; ")
            ));
        }
    }
    drop(bar);
    print(&out)?;
    if let Some(file) = file.filter(|_| grade) {
        write_grades(&global.home()?, file, &grades)?;
    }
    if failed.is_empty() {
        Ok(())
    } else {
        Err(Failure::inputs(failed))
    }
}

/// The text of the file is read again: [`drill::load_file`] keeps no comments.
fn write_grades(home: &Path, file: &Path, grades: &HashMap<String, Grade>) -> Result<(), Failure> {
    let fail = |e: String| Failure::input(format!("{}: {e}", file.display()));
    let text = std::fs::read_to_string(file).map_err(|e| fail(e.to_string()))?;
    let graded = drill::with_grades(&text, grades);
    // An EPD or PGN file has no place for a grade.
    let read = drill::load(&graded, &file.display().to_string())
        .map_err(|errors| locate::wrong_drills(&errors))?;
    if read.iter().any(|d| grades.get(&d.id).copied() != d.grade) {
        return Err(fail(
            tr!("the grades could not be written; write one field a line").to_owned(),
        ));
    }
    let output = Output::in_place(file, home).map_err(Failure::input)?;
    output.write(&graded).map_err(Failure::input)
}

fn row(proved: &SolutionCheck) -> String {
    let state = match (proved.doubts.is_empty(), proved.noted) {
        (true, _) => tr!("holds").to_owned(),
        (false, true) => tr!("noted: {}", proved.doubts.join("; ")),
        (false, false) => tr!("FAILS: {}", proved.doubts.join("; ")),
    };
    let next = match &proved.next {
        None => tr!("alone").to_owned(),
        Some((san, e)) => format!(
            "{} {san} {e}",
            if proved.only {
                tr!("only, next")
            } else {
                tr!("also")
            }
        ),
    };
    tr!(
        "{}  grade {}  {} {:>4}  {}  {state}",
        text::fit(&proved.id, 34),
        proved.grade,
        text::fit(&proved.solution.0, 7),
        proved.solution.1.to_string(),
        text::fit(&next, 22)
    )
}
