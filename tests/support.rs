//! The program itself, run in a fresh home with a clean environment.

pub mod dice;
mod left_out;

pub use left_out::left_out;

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

/// A home folder that goes away with the test, and the program in it.
pub struct Program {
    pub home: tempfile::TempDir,
    /// Where output goes: nothing is written into the home.
    pub desk: tempfile::TempDir,
}

/// What a run printed, and its exit code.
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Ran {
    /// What it printed; it must have succeeded.
    pub fn ok(self, args: &[&str]) -> String {
        assert_eq!(self.code, 0, "{args:?}: {}", self.err);
        self.out
    }

    fn of(ran: Output) -> Self {
        Self {
            code: ran.status.code().unwrap_or(-1),
            out: String::from_utf8(ran.stdout).unwrap(),
            err: String::from_utf8(ran.stderr).unwrap(),
        }
    }
}

impl Program {
    pub fn new() -> Self {
        Self {
            home: tempfile::tempdir().unwrap(),
            desk: tempfile::tempdir().unwrap(),
        }
    }

    /// The command, before it is run.
    pub fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_foreply"));
        command
            .env_clear()
            .env("PATH", std::env::var_os("PATH").unwrap_or_default());
        command
            .arg("--home")
            .arg(self.home.path())
            .args(args)
            .stdin(Stdio::null());
        command.current_dir(env!("CARGO_MANIFEST_DIR"));
        command
    }

    pub fn run(&self, args: &[&str]) -> Ran {
        Ran::of(self.command(args).output().unwrap())
    }

    /// What a run prints that must succeed.
    pub fn ok(&self, args: &[&str]) -> String {
        self.run(args).ok(args)
    }

    /// A run with lines on standard input, which ends behind them.
    pub fn typed(&self, args: &[&str], lines: &str) -> Ran {
        let mut child = self
            .command(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // A program that has ended already closes the pipe: its exit code tells.
        let _ = child.stdin.take().unwrap().write_all(lines.as_bytes());
        Ran::of(child.wait_with_output().unwrap())
    }

    /// Writes a file into the home's parent folder and gives its path.
    pub fn file(&self, name: &str, text: &str) -> String {
        let path: PathBuf = self.home.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    }

    /// A path outside the home, at which nothing is yet.
    pub fn out(&self, name: &str) -> PathBuf {
        self.desk.path().join(name)
    }

    /// The text without the parts that differ from run to run.
    pub fn plain(&self, text: &str) -> String {
        text.replace(self.home.path().to_str().unwrap(), "HOME")
            .replace(self.desk.path().to_str().unwrap(), "DESK")
            .trim_end()
            .to_owned()
    }
}
