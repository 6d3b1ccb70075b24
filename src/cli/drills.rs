//! `foreply drills`: the positions to practise with.

use std::fmt::Write;
use std::path::Path;

use super::Failure;
use super::args::{Drills, Global};
use super::failure::print;
use super::progress::Progress;
use crate::app::{App, Proved};
use crate::board::line;
use crate::drill::{self, Drill, DrillError, Task};
use crate::text;
use crate::tree::{NodeId, Tree};

pub(super) fn run(global: &Global, command: &Drills) -> Result<(), Failure> {
    match command {
        Drills::List => print(&list(built_in()?)),
        Drills::Show { drill } => show(drill),
        Drills::Check { file, nodes } => check(global, file.as_deref(), *nodes),
    }
}

pub(super) fn built_in() -> Result<&'static [Drill], Failure> {
    drill::builtin().map_err(all)
}

fn all(errors: &[DrillError]) -> Failure {
    Failure::inputs(errors.iter().map(ToString::to_string).collect())
}

/// Number, minutes and side to move: nothing that tells what to look for, or whose position it is.
fn list(drills: &[Drill]) -> String {
    let mut out = String::new();
    for (number, drill) in drills.iter().enumerate() {
        let side = drill.root.player().fold_wb("White", "Black");
        // Writing into a string does not fail.
        let _ = writeln!(
            out,
            "{:>3}  {side} to move  {:>3} min",
            number + 1,
            drill.minutes
        );
    }
    out
}

/// The drill of the collection with that number (from 1) or name.
pub(super) fn find(text: &str) -> Result<&'static Drill, Failure> {
    let drills = built_in()?;
    let number = text.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let found = match number {
        Some(at) => drills.get(at),
        None => drills.iter().find(|d| d.id == text),
    };
    found.ok_or_else(|| {
        Failure::input(format!(
            "there is no drill '{text}'; `foreply drills list` shows them"
        ))
    })
}

/// The drills of a file.
pub(super) fn of_file(path: &Path) -> Result<Vec<Drill>, Failure> {
    drill::load_file(path).map_err(|errors| all(&errors))
}

fn show(text: &str) -> Result<(), Failure> {
    let drill = find(text)?;
    let task = match drill.task {
        Task::Win => "win",
        Task::Draw => "draw",
        Task::Move => "find the best move",
    };
    let mut out = format!(
        "{}\n{}\n{}\nTask: {task}\n",
        drill.title,
        line::fen(drill.root.position()),
        drill.source
    );
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

fn check(global: &Global, file: Option<&Path>, nodes: u64) -> Result<(), Failure> {
    let drills = match file {
        Some(path) => drill::load_file(path).map_err(|errors| all(&errors))?,
        None => built_in()?.to_vec(),
    };
    let mut config = global.config()?;
    config.nodes = Some(nodes);
    config.ahead = false;
    let app = App::open(config)?;
    global.tell(app.notices());
    let bar = Progress::new(global.quiet, "proving");
    let mut failed = Vec::new();
    let mut out = String::new();
    for (number, drill) in drills.iter().enumerate() {
        bar.show(number, drills.len());
        let proved = app.prove(drill)?;
        let _ = writeln!(out, "{}", row(&proved));
        if !proved.holds() {
            failed.push(format!(
                "{}: {}; mend the drill, or say so in its note",
                proved.id,
                proved.doubts.join("; ")
            ));
        }
    }
    drop(bar);
    print(&out)?;
    if failed.is_empty() {
        Ok(())
    } else {
        Err(Failure::inputs(failed))
    }
}

fn row(proved: &Proved) -> String {
    let state = match (proved.doubts.is_empty(), proved.noted) {
        (true, _) => "holds".to_owned(),
        (false, true) => format!("noted: {}", proved.doubts.join("; ")),
        (false, false) => format!("FAILS: {}", proved.doubts.join("; ")),
    };
    let next = proved.next.map_or("-".to_owned(), |e| e.to_string());
    format!(
        "{}  {} {:>4}  next {next:>4}  {state}",
        text::fit(&proved.id, 34),
        text::fit(&proved.solution.0, 7),
        proved.solution.1.to_string()
    )
}
