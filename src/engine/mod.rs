//! The embedded UCI engine: our own search and evaluation, met by everyone else as a UCI process.
//!
//! Takes UCI commands on a reader, gives UCI answers on a writer ([`run`]); the program starts itself
//! again as `foreply engine` ([`run_stdio`]). Nothing else of the program calls into this room, so a
//! crash here is never a crash there. Deterministic with one thread, which is the default: the same
//! commands give the same bytes when limits are nodes or depth.
//!
//! # What to know before changing it
//!
//! `UCI_LimitStrength` with `UCI_Elo` 600 to 2400 plays weaker: fewer nodes, noise on every evaluation, a choice
//! among near-best moves; `Seed` (a number) makes it choose differently, the same seed the same way. Levels 300
//! points apart score 84 to 90 % against each other (100 games each; `--own-option UCI_Elo=...` and
//! `--option UCI_Elo=...` of the match runner); nobody measured them against rated people.
//!
//! Self-play takes `--nodes N` (a move), `--threads N`, `--first N` (numbers of games are seeds of openings) and
//! `--minutes N` (begins no game after that). Every game is written whole and at once; the same command on a
//! file of an earlier run plays only what is missing. `calibrate FILE... --write src/engine/fitted.rs` fits the
//! curve on all games, says how curves fitted to nine tenths of them hold on the last, and writes both into the source; with
//! games of people (PGN, both ratings) it searches their positions.
//!
//! Null moves are verified from depth 12 on and left out without pieces. With several lines asked for, a late line may
//! be given as a longer mate than it is. `Threads` (1, at most 64) sets lazy SMP (`team.rs`): helpers fill the shared
//! table, the leader answers. Only one thread is repeatable; a limit of nodes then holds for all together, give or take
//! 1,024 a thread.

mod bench;
mod calibrate;
mod clock;
pub mod evaluation;
mod exchange;
mod fitted;
mod gamefile;
mod generate;
mod history;
mod identity;
mod keys;
mod moves;
mod picker;
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
mod types;
mod wdl;
mod worker;

pub use bench::{CUT, Outcome};
pub use calibrate::{Calibrated, Rated, Source, calibrate, calibrate_rated};
pub use gamefile::play_into as self_play;
pub use identity::IDENTITY;
pub use selfplay::{Played, SelfPlay};
pub use session::run;

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
