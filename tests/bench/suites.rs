//! Runs a suite of positions with known best moves (EPD, operations `bm` and `am`; EPD is part II of
//! the PGN standard of 1994) through any number of UCI engines.
//!
//! `cargo bench --bench suites -- FILE.epd [FILE.epd …] --nodes N | --movetime MS [--own CMD] [--engine CMD …]`
//! Without `--engine` only the program's own engine runs.

use std::process::ExitCode;
use std::time::Instant;

use shakmaty::{CastlingMode, Chess, Color, EnPassantMode, fen::Fen, san::San, uci::UciMove};

mod rival;
use rival::{Rival, options};

struct Task {
    id: String,
    chess: Chess,
    best: Vec<shakmaty::Move>,
    avoid: Vec<shakmaty::Move>,
}

/// Reads one line of EPD.
fn task(line: &str) -> Option<Task> {
    let mut words = line.splitn(5, char::is_whitespace);
    let fields: Vec<&str> = words.by_ref().take(4).collect();
    let chess: Chess = fields
        .join(" ")
        .parse::<Fen>()
        .ok()?
        .into_position(CastlingMode::Standard)
        .ok()?;
    let operations = words.next()?;
    let operands = |code: &str| -> Vec<&str> {
        operations
            .split(';')
            .filter_map(|op| op.trim().strip_prefix(code)?.strip_prefix(' '))
            .flat_map(str::split_whitespace)
            .collect()
    };
    let moves = |code| -> Vec<shakmaty::Move> {
        operands(code)
            .iter()
            .filter_map(|san| san.parse::<San>().ok()?.to_move(&chess).ok())
            .collect()
    };
    let id = operands("id").join(" ").trim_matches('"').to_owned();
    Some(Task {
        id,
        best: moves("bm"),
        avoid: moves("am"),
        chess: chess.clone(),
    })
}

fn solves(task: &Task, answer: &str) -> bool {
    let played = answer
        .parse::<UciMove>()
        .ok()
        .and_then(|m| m.to_move(&task.chess).ok());
    played.is_some_and(|m| {
        if task.best.is_empty() {
            !task.avoid.contains(&m)
        } else {
            task.best.contains(&m)
        }
    })
}

fn run(command: &str, tasks: &[Task], limit: &str) -> Result<(), String> {
    let mut rival = Rival::start(command)?;
    let started = Instant::now();
    let mut missed = Vec::new();
    let mut nodes = 0;
    for task in tasks {
        rival.new_game()?;
        let fen = Fen::from_position(task.chess.clone(), EnPassantMode::Legal);
        let answer = rival.search(&format!("fen {fen}"), limit)?;
        nodes += answer.nodes;
        if !solves(task, &answer.best) {
            missed.push(format!("{} ({})", task.id, answer.best));
        }
    }
    let solved = tasks.len() - missed.len();
    let seconds = started.elapsed().as_secs_f64();
    println!(
        "{command}: {solved}/{} with {limit}, {nodes} nodes in {seconds:.1} s",
        tasks.len()
    );
    println!("  missed: {}", missed.join(", "));
    Ok(())
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|w| w != "--bench")
        .collect();
    let files: Vec<&String> = words.iter().filter(|w| w.ends_with(".epd")).collect();
    let limit = match (
        options(&words, "--nodes").pop(),
        options(&words, "--movetime").pop(),
    ) {
        (Some(n), _) => format!("nodes {n}"),
        (None, Some(ms)) => format!("movetime {ms}"),
        (None, None) => "nodes 200000".to_owned(),
    };
    if files.is_empty() {
        println!("nothing to do: name a file of positions, as in -- FILE.epd --nodes 200000");
        return ExitCode::SUCCESS;
    }
    let own = format!(
        "{} engine",
        option_env!("CARGO_BIN_EXE_foreply").unwrap_or("foreply")
    );
    let mut engines = vec![options(&words, "--own").pop().unwrap_or(own)];
    engines.extend(options(&words, "--engine"));
    for file in files {
        let text = match std::fs::read_to_string(file) {
            Ok(text) => text,
            Err(error) => {
                eprintln!("{file}: {error}");
                return ExitCode::FAILURE;
            }
        };
        let lines: Vec<&str> = text.lines().filter(|l| !l.trim().is_empty()).collect();
        let tasks: Vec<Task> = lines.iter().filter_map(|l| task(l)).collect();
        let white = tasks
            .iter()
            .filter(|t| shakmaty::Position::turn(&t.chess) == Color::White)
            .count();
        println!(
            "{file}: {} of {} lines read, {white} with White to move",
            tasks.len(),
            lines.len()
        );
        for engine in &engines {
            if let Err(error) = run(engine, &tasks, &limit) {
                eprintln!("{error}");
                return ExitCode::FAILURE;
            }
        }
    }
    ExitCode::SUCCESS
}
