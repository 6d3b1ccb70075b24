//! One place that turns an error into a message and an exit code.

use std::fmt::Display;
use std::io::{self, Write};
use std::process::ExitCode;

use crate::app::AppError;
use crate::text::safe_lines;
use crate::tui::TuiError;

/// Why a command did not do what it was asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failure {
    code: u8,
    messages: Vec<String>,
}

impl Failure {
    /// Something in a file or a position is wrong: exit code 1.
    pub fn input(message: impl Display) -> Self {
        Self {
            code: 1,
            messages: vec![message.to_string()],
        }
    }

    /// What it says, for a list of several.
    pub(crate) fn into_messages(self) -> Vec<String> {
        self.messages
    }

    /// Several things in the input are wrong: exit code 1.
    #[must_use]
    pub fn inputs(messages: Vec<String>) -> Self {
        Self { code: 1, messages }
    }

    /// The command was called wrongly: exit code 2.
    pub fn usage(message: impl Display) -> Self {
        Self {
            code: 2,
            messages: vec![message.to_string()],
        }
    }

    /// The engine failed: exit code 3.
    pub fn engine(message: impl Display) -> Self {
        Self {
            code: 3,
            messages: vec![message.to_string()],
        }
    }

    /// The store failed: exit code 4.
    pub fn store(message: impl Display) -> Self {
        Self {
            code: 4,
            messages: vec![message.to_string()],
        }
    }

    /// Prints the messages and gives the exit code.
    #[must_use]
    pub fn report(&self) -> ExitCode {
        let mut err = io::stderr().lock();
        for message in &self.messages {
            // Nobody is left to be told when standard error is gone.
            let _ = writeln!(err, "foreply: {}", safe_lines(message.clone()));
        }
        ExitCode::from(self.code)
    }
}

impl From<AppError> for Failure {
    fn from(error: AppError) -> Self {
        match error {
            AppError::Store(e) => Self::store(e),
            AppError::Judge(e) => Self::engine(e),
            e => Self::input(e),
        }
    }
}

impl From<TuiError> for Failure {
    fn from(error: TuiError) -> Self {
        Self {
            code: error.exit_code(),
            messages: vec![error.to_string()],
        }
    }
}

/// Prints a command's output. A reader that has gone away (`| head`) is no failure.
pub(crate) fn print(text: &str) -> Result<(), Failure> {
    print_as_it_is(&crate::cli::letters::told(text))
}

/// The same for what other programs read.
pub(crate) fn print_as_it_is(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != io::ErrorKind::BrokenPipe => {
            Err(Failure::input(tr!("standard output: {e}")))
        }
        _ => Ok(()),
    }
}

/// A game that may be going on is not judged.
pub(crate) fn held_back(game: &str) -> String {
    tr!(
        "{}: no result and dated today, so it may be going on; it is not judged before you say that it is over with --over (FIDE Laws of Chess, 11.3: no analysis during play)",
        crate::text::dates_in(game)
    )
}
