//! The program: everything is in the library, so that it can be tested.

use std::process::ExitCode;

fn main() -> ExitCode {
    foreply::cli::main()
}
