//! The command line: one file per command.
//!
//! Takes the program's arguments; calls one use case of `app` each, hands the value to `report`,
//! prints. Output meant for programs goes to standard output alone; progress and messages to standard
//! error. Exit codes: 0 done, 1 bad input, 2 wrong usage, 3 engine, 4 store, 70 an error in the program.

mod args;
mod commands;
#[cfg(test)]
mod everything_said;
mod language;
mod letters;
mod locate;
mod open_app;
mod shell;
#[cfg(test)]
mod texts;
mod told;

use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use crate::app::{end_engines, panic_is_handled};
use args::{Args, Command, Global};
pub use shell::error::Failure;

/// Runs the program with the arguments of the process.
#[must_use]
pub fn main() -> ExitCode {
    // What is wrong with a translation is told once it is known that the command speaks in it.
    let chosen = language::choose(&language::Said::of(std::env::args_os()));
    let args = match Args::of_process() {
        Ok(args) => args,
        // Help and version are no errors; clap knows which stream and which code.
        Err(e) => {
            if let Err(failure) = chosen {
                return failure.report();
            }
            let code = u8::try_from(e.exit_code()).unwrap_or(2);
            return if e.print().is_ok() {
                ExitCode::from(code)
            } else {
                ExitCode::from(2)
            };
        }
    };
    if let Err(failure) = chosen
        && !language::does_without(&args)
    {
        return failure.report();
    }
    tell_panics();
    if !matches!(args.command, Some(Command::Engine(_))) {
        shell::signals::watch();
    }
    let done = catch_unwind(AssertUnwindSafe(|| run(args)));
    end_engines();
    match done {
        Ok(Ok(())) => ExitCode::SUCCESS,
        Ok(Err(failure)) => failure.report(),
        Err(_) => ExitCode::from(INTERNAL),
    }
}

/// Exit code of an error in the program itself (EX_SOFTWARE of BSD's sysexits).
const INTERNAL: u8 = 70;

/// Says in one line what went wrong, and that nothing kept is lost by it. The screens put their own in
/// its place while they stand.
fn tell_panics() {
    std::panic::set_hook(Box::new(|info| {
        if !panic_is_handled() {
            let what = info.to_string().replace('\n', " ");
            // Nobody is left to be told when standard error is gone.
            let _ = writeln!(
                std::io::stderr(),
                "{}",
                tr!(
                    "foreply: internal error: {}; what was kept is kept: `foreply setup` says where",
                    crate::text::safe(&what)
                )
            );
        }
    }));
}

fn run(args: Args) -> Result<(), Failure> {
    letters::choose(args.global.letters());
    let for_programs = args.command.as_ref().is_some_and(Command::is_for_programs);
    // What a program reads is the same whatever somebody has set, also in its sentences.
    if !for_programs {
        crate::text::choose(args.global.locale()?);
    }
    let done = obey(&args.global, args.command);
    args.global.tell_passed_over();
    done
}

fn obey(global: &Global, command: Option<Command>) -> Result<(), Failure> {
    match command {
        None => commands::practice::home(global),
        Some(Command::Practice(practice)) => commands::practice::run(global, &practice),
        Some(Command::Review(review)) => commands::review::run(global, &review),
        Some(Command::Games(command)) => commands::games::run(global, &command),
        Some(Command::History(args)) => commands::history::run(global, &args),
        Some(Command::Playout(args)) => commands::playout::run(global, &args),
        Some(Command::Progress(page)) => commands::progress::run(global, &page),
        Some(Command::Experiment(command)) => commands::experiment::run(global, &command),
        Some(Command::Quick(page)) => commands::quick::run(global, &page),
        Some(Command::Drills(command)) => commands::drills::run(global, &command),
        Some(Command::Backup(args)) => commands::backup::run(global, &args),
        Some(Command::Restore(args)) => commands::backup::restore(global, &args),
        Some(Command::Setup(args)) => commands::setup::run(global, &args),
        Some(Command::Coach(command)) => commands::coach::run(global, &command),
        Some(Command::Completions(args)) => commands::generated::completions(&args),
        Some(Command::Man(args)) => commands::generated::man(global, &args),
        Some(Command::Judge(command)) => commands::judge::run(global, &command),
        Some(Command::Translation(command)) => commands::translation::run(global, &command),
        Some(Command::Schema(args)) => commands::schema::run(&args),
        Some(Command::Method(args)) => commands::method::run(global, &args),
        Some(Command::Engine(command)) => commands::engine::run(global, command),
    }
}
