//! `foreply engine`: the embedded engine as a UCI process, and the tools it was made with. The one file
//! outside the engine's room that may start it.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::cli::Failure;
use crate::cli::args::{Engine, EngineCommand};
use crate::cli::shell::error::print;
use crate::engine::{self, SelfPlay, Source};

pub(crate) fn run(args: Engine) -> Result<(), Failure> {
    match args.command {
        None => engine::run_stdio()
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
        Some(EngineCommand::Tune {
            output,
            files,
            epochs,
            threads,
        }) => tune(&output, &files, epochs, threads),
        Some(EngineCommand::Calibrate {
            files,
            stride,
            nodes,
            threads,
            write,
        }) => {
            let from = nodes.map_or(Source::Games, |nodes| Source::Search { nodes, threads });
            calibrate(&files, stride, from, write.as_deref())
        }
    }
}

fn bench(depth: i32) -> Result<(), Failure> {
    let outcome = engine::bench(depth);
    let speed = outcome.nodes as f64 / outcome.elapsed.as_secs_f64().max(1e-9);
    let milliseconds = |d: Duration| d.as_secs_f64() * 1000.0;
    print(&format!(
        "{} nodes, {speed:.0} nodes/s\n\
         {:.0} moves/s generated and played without a search; {:.3} nodes a move\n\
         stops after {:.1} ms (median), {:.1} ms (worst)\n",
        outcome.nodes,
        outcome.ceiling,
        speed / outcome.ceiling,
        milliseconds(outcome.stop.0),
        milliseconds(outcome.stop.1),
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

fn calibrate(
    files: &[PathBuf],
    stride: usize,
    from: Source,
    output: Option<&Path>,
) -> Result<(), Failure> {
    let calibrated = engine::calibrate(&read(files)?, stride, from).map_err(Failure::input)?;
    if let Some(path) = output {
        fs::write(path, calibrated.source)
            .map_err(|e| Failure::input(format!("{}: {e}", path.display())))?;
    }
    print(&calibrated.report)
}

fn tune(output: &Path, files: &[PathBuf], epochs: usize, threads: usize) -> Result<(), Failure> {
    let fitted = engine::fit(&read(files)?, epochs, threads.max(1));
    fs::write(output, fitted.source)
        .map_err(|e| Failure::input(format!("{}: {e}", output.display())))?;
    print(&format!(
        "{} positions, held-out loss {:.5} -> {:.5}\n",
        fitted.positions, fitted.before, fitted.after
    ))
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
