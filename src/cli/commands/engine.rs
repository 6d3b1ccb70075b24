//! `foreply engine`: the embedded engine as a UCI process, and the tools it was made with. The one file
//! outside the engine's room that may start it.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::board::Line;
use crate::cli::args::{Engine, EngineCommand, Global};
use crate::cli::shell::error::print;
use crate::cli::shell::files::Target;
use crate::cli::{Failure, locate};
use crate::engine::{self, Rated, SelfPlay, Source};
use crate::games;
use crate::games::account::bands::Ratings;
use crate::text::Capped;
use crate::tree::pgn;

pub(crate) fn run(global: &Global, args: Engine) -> Result<(), Failure> {
    match args.command {
        None => engine::run(Capped::new(std::io::stdin().lock()), std::io::stdout())
            .map_err(|e| Failure::engine(format!("standard input or output: {e}"))),
        Some(EngineCommand::Bench { depth }) => bench(depth.unwrap_or(engine::BENCH_DEPTH)),
        Some(EngineCommand::Selfplay {
            file,
            games,
            nodes,
            first,
            threads,
            minutes,
        }) => self_play(
            &file,
            &SelfPlay {
                first,
                games,
                nodes,
                threads: threads.max(1),
                time: minutes.map(|m| Duration::from_secs(m.saturating_mul(60))),
            },
        ),
        Some(EngineCommand::Calibrate {
            files,
            stride,
            nodes,
            threads,
            write,
        }) => {
            let target = target(global, write.as_deref(), &files)?;
            calibrate(&files, stride, nodes, threads, &target)
        }
    }
}

fn target(global: &Global, output: Option<&Path>, files: &[PathBuf]) -> Result<Target, Failure> {
    let read: Vec<&Path> = files.iter().map(PathBuf::as_path).collect();
    locate::target(global, output, &read)
}

fn bench(depth: i32) -> Result<(), Failure> {
    let outcome = engine::bench(depth);
    let speed = outcome.nodes as f64 / outcome.elapsed.as_secs_f64().max(1e-9);
    let milliseconds = |d: Duration| d.as_secs_f64() * 1000.0;
    print(&format!(
        "{} nodes, {speed:.0} nodes/s\n\
         {:.0} moves/s generated and played without a search; {:.3} nodes a move\n\
         stops after {:.1} ms (median), {:.1} ms (worst)\n\
         {} of {} searches cut off at {} nodes ended on a bound, and said so\n",
        outcome.nodes,
        outcome.ceiling,
        speed / outcome.ceiling,
        milliseconds(outcome.stop.0),
        milliseconds(outcome.stop.1),
        outcome.bounds.0,
        outcome.bounds.1,
        engine::CUT,
    ))
}

fn self_play(path: &Path, plan: &SelfPlay) -> Result<(), Failure> {
    let failed = |e: std::io::Error| Failure::input(format!("{}: {e}", path.display()));
    let played = engine::self_play(plan, path).map_err(failed)?;
    print(&format!(
        "{} games, {} positions\n",
        played.games, played.positions
    ))
}

/// Nodes for each position of a game of people.
const RATED_NODES: u64 = 100_000;
/// Half-moves of an opening: what is played there is known, and says little of the position.
const OPENING: usize = 16;

fn is_pgn(path: &Path) -> bool {
    path.extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("pgn"))
}

fn calibrate(
    files: &[PathBuf],
    stride: usize,
    nodes: Option<u64>,
    threads: usize,
    target: &Target,
) -> Result<(), Failure> {
    let calibrated = if files.iter().any(|f| is_pgn(f)) {
        let (rated, left_out) = rated(files, stride)?;
        if left_out > 0 {
            print(&tr!(
                left_out;
                "One game is left out: it cannot be read, or has no result or not both ratings.\n" |
                "{} games are left out: they cannot be read, or have no result or not both ratings.\n",
                left_out
            ))?;
        }
        engine::calibrate_rated(&rated, nodes.unwrap_or(RATED_NODES), threads)
    } else {
        let from = nodes.map_or(Source::Games, |nodes| Source::Search { nodes, threads });
        engine::calibrate(&read(files)?, stride, from)
    };
    let calibrated = calibrated.map_err(Failure::input)?;
    if target.is_file() {
        target.write(&calibrated.source)?;
    }
    print(&calibrated.report)
}

/// One position of every `stride` of the games with a result and both ratings, from their ninth move on; and how many
/// games are none of these.
fn rated(files: &[PathBuf], stride: usize) -> Result<(Vec<Rated>, usize), Failure> {
    let mut rated = Vec::new();
    let (mut number, mut left_out) = (0, 0);
    for path in files {
        if !is_pgn(path) {
            return Err(Failure::input(tr!(
                "{}: games (.pgn) and kept positions are not fitted together; give the one or the other",
                path.display()
            )));
        }
        let bytes = read(std::slice::from_ref(path))?;
        for game in pgn::games(&pgn::decode(&bytes)) {
            match game.ok().and_then(|game| positions(&game, number)) {
                Some(some) => {
                    number += 1;
                    rated.extend(some);
                }
                None => left_out += 1,
            }
        }
    }
    Ok((rated.into_iter().step_by(stride.max(1)).collect(), left_out))
}

/// What stood on the board after the opening, with who made what of it.
fn positions(game: &pgn::Game, number: usize) -> Option<Vec<Rated>> {
    let points = games::white_points(game)?;
    let Ratings { white, black } = Ratings::of(game);
    let rating = f64::from(white?) - f64::from(black?);
    let mut at = Line::new(game.start.clone());
    let reached = game.main_moves.iter().map_while(|mv| {
        let position = at.position().clone();
        at.push(mv).ok()?;
        Some(Rated {
            position,
            points,
            rating,
            game: number,
        })
    });
    Some(reached.skip(OPENING).collect())
}

/// The files one after the other.
fn read(files: &[PathBuf]) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    for path in files {
        let file =
            fs::read(path).map_err(|e| Failure::input(format!("{}: {e}", path.display())))?;
        bytes.extend(file);
    }
    Ok(bytes)
}
