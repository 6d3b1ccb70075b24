//! `foreply engine`: the embedded engine as a UCI process. The one file outside the engine's room that
//! may start it.

use super::Failure;
use super::args::{Engine, EngineCommand};

pub(super) fn run(args: Engine) -> Result<(), Failure> {
    match args.command {
        None => crate::engine::run_stdio()
            .map_err(|e| Failure::engine(format!("standard input or output: {e}"))),
        Some(EngineCommand::Bench { depth }) => {
            let outcome = crate::engine::bench(depth.unwrap_or(crate::engine::BENCH_DEPTH));
            let speed = outcome.nodes as f64 / outcome.elapsed.as_secs_f64().max(1e-9);
            super::failure::print(&format!("{} nodes, {speed:.0} nodes/s\n", outcome.nodes))
        }
    }
}
