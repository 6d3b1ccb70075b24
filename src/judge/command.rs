//! How an engine is started: a program and its arguments, never through a shell.

use std::ffi::OsString;
use std::fmt;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::UNIX_EPOCH;

use super::{JudgeError, own};
use crate::platform;

/// A program with its arguments.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EngineCommand {
    program: OsString,
    args: Vec<OsString>,
    /// The embedded engine of this very build.
    own: bool,
}

impl EngineCommand {
    /// The embedded engine: this very program, started again as `foreply engine`.
    ///
    /// # Errors
    /// The system does not tell where this program lies.
    pub fn own() -> Result<Self, JudgeError> {
        let program = std::env::current_exe().map_err(|e| JudgeError::Start {
            command: "foreply engine".to_owned(),
            reason: tr!("this program does not know where it lies ({e})"),
        })?;
        Ok(Self {
            own: true,
            ..Self::new(program, ["engine"])
        })
    }

    /// A program with arguments as they are.
    pub fn new(
        program: impl Into<OsString>,
        args: impl IntoIterator<Item = impl Into<OsString>>,
    ) -> Self {
        Self {
            program: program.into(),
            args: args.into_iter().map(Into::into).collect(),
            own: false,
        }
    }

    /// A command as it is written on a command line. Words are split at blanks, quotes and backslashes
    /// work as in a POSIX shell; nothing is expanded or run by a shell. `ssh host engine` works.
    ///
    /// # Errors
    /// The text is empty or a quote is not closed.
    pub fn parse(text: &str) -> Result<Self, JudgeError> {
        let wrong = |reason: &str| JudgeError::Command {
            text: text.chars().filter(|c| !c.is_control()).take(200).collect(),
            reason: reason.to_owned(),
        };
        let mut words = shlex::split(text)
            .ok_or_else(|| wrong(tr!("a quote is not closed")))?
            .into_iter();
        match words.next() {
            Some(program) if !program.is_empty() => Ok(Self::new(program, words)),
            _ => Err(wrong(tr!("it is empty"))),
        }
    }

    /// The process to be: its own pipes for input and output, its messages to nobody, since a screen
    /// may stand on standard error.
    pub(super) fn process(&self) -> Command {
        let mut command = Command::new(&self.program);
        command
            .args(&self.args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null());
        platform::lead_a_group(&mut command);
        if self.own {
            // The engine's table is read all over: with fewer pages fewer of its reads wait for their address.
            platform::take_large_pages(&mut command);
        }
        command
    }

    /// What tells an engine from another one under the same name. Of a stranger's: size and time of change of
    /// the program's file, where it is given with its folder. Of our own: the sum of its sources, since this
    /// program is built anew for many other reasons.
    pub(super) fn stamp(&self) -> String {
        if self.own {
            return own::fingerprint().to_owned();
        }
        let path = Path::new(&self.program);
        let Ok(file) = path.metadata() else {
            return String::new();
        };
        let changed = file
            .modified()
            .ok()
            .and_then(|t| t.duration_since(UNIX_EPOCH).ok())
            .map_or(0, |t| t.as_nanos());
        format!("{}-{changed}", file.len())
    }
}

impl fmt::Display for EngineCommand {
    /// The name of the program without its folder, and the arguments.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = Path::new(&self.program);
        let name = path.file_name().unwrap_or(path.as_os_str());
        f.write_str(&name.to_string_lossy())?;
        for arg in &self.args {
            write!(f, " {}", arg.to_string_lossy())?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_split_as_on_a_command_line_and_nothing_is_run() {
        let command =
            EngineCommand::parse("'/opt/my engine/bin' --book \"a b\" $HOME `id`").unwrap();
        assert_eq!(command.program, "/opt/my engine/bin");
        assert_eq!(command.args, ["--book", "a b", "$HOME", "`id`"]);
        assert_eq!(command.to_string(), "bin --book a b $HOME `id`");
    }

    /// A new build of the program finds what the same engine has answered: the file of the program is no part of
    /// what it is asked as.
    #[test]
    fn the_embedded_engine_is_known_by_its_sources() {
        let own = EngineCommand::own().unwrap();
        assert_eq!(own.stamp(), own::fingerprint());
        let program = own.program.clone();
        let stranger = EngineCommand::new(program, ["engine"]);
        assert_ne!(stranger.stamp(), own.stamp());
    }

    #[test]
    fn what_is_no_command_is_told_so() {
        let told = |text: &str| EngineCommand::parse(text).unwrap_err().to_string();
        insta::assert_snapshot!(told("  "), @r#"'  ' is not the command of an engine: it is empty; write it as on a command line, for example --engine "/opt/engine/bin/engine --uci""#);
        insta::assert_snapshot!(told("'engine"), @r#"''engine' is not the command of an engine: a quote is not closed; write it as on a command line, for example --engine "/opt/engine/bin/engine --uci""#);
    }
}
