//! The embedded UCI engine: our own search and evaluation, met by everyone else as a UCI process.
//!
//! Takes UCI commands on a reader, gives UCI answers on a writer ([`run`]); the program starts itself
//! again as `foreply engine` ([`run_stdio`]). Nothing else of the program calls into this room, so a
//! crash here is never a crash there. Deterministic with one thread, which is the default: the same
//! commands give the same bytes when limits are nodes or depth.

mod bench;
mod calibrate;
mod clock;
pub mod evaluation;
mod exchange;
mod fitted;
mod gamefile;
mod generate;
mod history;
mod keys;
mod picker;
mod piece_square;
mod position;
mod protocol;
mod record;
mod reductions;
mod search;
mod selfplay;
mod session;
mod strength;
mod table;
mod team;
mod terms;
mod tune;
mod types;
mod wdl;
mod weights;
mod worker;

pub use bench::Outcome;
pub use calibrate::{Calibrated, Source, calibrate};
pub use gamefile::play_into as self_play;
pub use selfplay::{Played, SelfPlay};
pub use session::run;
pub use tune::{Fitted, fit};

/// Depth at which the bench is quoted in commit messages.
pub const BENCH_DEPTH: i32 = 12;

/// Speaks UCI on standard input and output until `quit` or the end of the input.
///
/// # Errors
/// Standard input that cannot be read.
pub fn run_stdio() -> std::io::Result<()> {
    run(std::io::stdin().lock(), std::io::stdout())
}

/// Fixed work on fixed positions: nodes are the fingerprint of the search, time tells its speed.
pub fn bench(depth: i32) -> Outcome {
    // The search recurses deeper than a main thread's stack may allow.
    let work = move || bench::run(depth);
    match std::thread::Builder::new()
        .stack_size(team::STACK)
        .spawn(work)
        .map(std::thread::JoinHandle::join)
    {
        Ok(Ok(outcome)) => outcome,
        _ => work(),
    }
}
