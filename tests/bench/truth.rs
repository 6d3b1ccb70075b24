//! Whether the review tells the truth, and what it costs.
//!
//! See [`args::USAGE`]. The bench writes trees with known omissions at published positions, and the
//! published solutions themselves, has them reviewed, and holds every finding against a reference that
//! searches many times longer: recall and precision for each kind, and the false findings in full.

use std::process::ExitCode;
use std::sync::Arc;

use foreply::store::Store;

#[path = "truth/args.rs"]
mod args;
#[path = "truth/asked.rs"]
mod asked;
#[path = "truth/held.rs"]
mod held;
#[path = "truth/log.rs"]
mod log;
#[path = "truth/published.rs"]
mod published;
#[path = "../support/published_rows.rs"]
mod published_rows;
#[path = "truth/speed.rs"]
mod speed;
#[path = "truth/trees.rs"]
mod trees;

use args::Args;

fn main() -> ExitCode {
    match Args::read(std::env::args().skip(1)).and_then(|args| run(&args)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(words) => {
            eprintln!("{words}");
            ExitCode::from(2)
        }
    }
}

fn run(args: &Args) -> Result<(), String> {
    let store = match &args.cache {
        Some(dir) => Some(Arc::new(Store::open(dir).map_err(|e| e.to_string())?)),
        None => None,
    };
    let jobs = args
        .jobs
        .unwrap_or_else(|| std::thread::available_parallelism().map_or(1, usize::from));
    if args.speed {
        return speed::run(args, jobs);
    }
    if args.published {
        let judge = asked::judge(args.engine.as_deref(), args.jobs, store)?;
        return published::run(args, &judge, jobs);
    }
    held::run(args, store.as_ref(), jobs)
}
