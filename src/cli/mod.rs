//! The command line: one file per command.
//!
//! Takes the program's arguments; calls one use case of `app` each, hands the value to `report`,
//! prints. Output meant for programs goes to standard output alone; progress and messages to standard
//! error. Exit codes: 0 done, 1 bad input, 2 wrong usage, 3 engine, 4 store.

mod args;
mod backup;
mod drills;
mod engine;
mod failure;
mod files;
mod games;
mod practice;
mod progress;
mod review;
mod setup;

use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command};
pub use failure::Failure;

/// Runs the program with the arguments of the process.
#[must_use]
pub fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        // Help and version are no errors; clap knows which stream and which code.
        Err(e) => {
            let code = u8::try_from(e.exit_code()).unwrap_or(2);
            return if e.print().is_ok() {
                ExitCode::from(code)
            } else {
                ExitCode::from(2)
            };
        }
    };
    match run(args) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.report(),
    }
}

fn run(args: Args) -> Result<(), Failure> {
    let global = args.global;
    match args.command {
        None => practice::home(&global),
        Some(Command::Practice(practice)) => practice::run(&global, &practice),
        Some(Command::Review(review)) => review::run(&global, &review),
        Some(Command::Games(command)) => games::run(&global, &command),
        Some(Command::Drills(command)) => drills::run(&global, &command),
        Some(Command::Backup(args)) => backup::run(&global, &args),
        Some(Command::Restore(args)) => backup::restore(&global, &args),
        Some(Command::Setup(args)) => setup::run(&global, &args),
        Some(Command::Engine(command)) => engine::run(command),
    }
}
