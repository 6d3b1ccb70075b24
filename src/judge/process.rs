//! One child process that speaks lines: pipes, limits, its end.
//!
//! Nothing here waits for ever. The output is read by a thread of its own, which ends with the
//! pipe; every wait has a limit; the process is ended when its [`Process`] is dropped, and with it
//! every process that it has started itself and that has not left its group. Where this program ends without
//! dropping it, [`end_all`] does the same.

use std::collections::BTreeSet;
use std::fmt::Display;
use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, ExitStatus};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, SyncSender};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use super::EngineCommand;
use super::error::Fault;
use crate::platform;
use crate::text::limits::{ENGINE_LINE_MAX, ENGINE_LINES_WAITING};

/// How often it is asked whether the process is still there while it says nothing.
const LOOK: Duration = Duration::from_millis(100);
/// How long a process is given to end after `quit` before it is killed.
const PARTING: Duration = Duration::from_millis(200);

pub(super) struct Process {
    child: Child,
    input: ChildStdin,
    heard: Receiver<String>,
}

impl Process {
    pub(super) fn start(command: &EngineCommand) -> Result<Self, Fault> {
        let mut child = command
            .process()
            .spawn()
            .map_err(|e| Fault::Start(e.to_string()))?;
        let (Some(input), Some(output)) = (child.stdin.take(), child.stdout.take()) else {
            child.kill().ok();
            child.wait().ok();
            return Err(Fault::Start(tr!("it has no input or output").to_owned()));
        };
        running().insert(child.id());
        let (say, heard) = mpsc::sync_channel(ENGINE_LINES_WAITING);
        std::thread::spawn(move || listen(output, &say));
        Ok(Self {
            child,
            input,
            heard,
        })
    }

    /// Sends one line. Everything that is sent between two answers is far shorter than a pipe holds
    /// (4 KiB and more), so an engine that does not read cannot block this.
    pub(super) fn send(&mut self, doing: &'static str, line: &impl Display) -> Result<(), Fault> {
        let line = line.to_string();
        if line.contains(char::is_control) {
            return Err(Fault::Nonsense(
                tr!("a line for it would hold control characters").to_owned(),
            ));
        }
        let sent = self.input.write_all(format!("{line}\n").as_bytes());
        sent.map_err(|_| self.ended(doing))
    }

    /// Hears lines until `hear` has what it wants, at most for `limit`.
    pub(super) fn wait<T>(
        &mut self,
        doing: &'static str,
        limit: Duration,
        mut hear: impl FnMut(&str) -> Option<T>,
    ) -> Result<T, Fault> {
        let end = Instant::now() + limit;
        loop {
            // Asked for also while lines keep coming: an engine that never stops talking is silent on
            // what it was asked.
            let left = end.saturating_duration_since(Instant::now());
            match self.heard.recv_timeout(left.min(LOOK)) {
                Ok(line) => {
                    if let Some(wanted) = hear(&line) {
                        return Ok(wanted);
                    }
                }
                Err(RecvTimeoutError::Disconnected) => return Err(self.ended(doing)),
                // A process that it has left behind may hold the pipe open for it.
                Err(RecvTimeoutError::Timeout) if platform::has_ended(&mut self.child) => {
                    return Err(self.ended(doing));
                }
                Err(RecvTimeoutError::Timeout) => {}
            }
            if Instant::now() >= end {
                return Err(Fault::Silent {
                    doing,
                    seconds: limit.as_secs(),
                });
            }
        }
    }

    /// The pipe is closed: says how the process ended, or ends it where it goes on without a pipe.
    fn ended(&mut self, doing: &'static str) -> Fault {
        let how = match self.status_within(PARTING) {
            Some(status) => status.to_string(),
            None => tr!("it closed its output").to_owned(),
        };
        Fault::Died { doing, how }
    }

    fn status_within(&mut self, limit: Duration) -> Option<ExitStatus> {
        let end = Instant::now() + limit;
        loop {
            if platform::has_ended(&mut self.child) {
                return self.end();
            }
            if Instant::now() >= end {
                return None;
            }
            std::thread::sleep(Duration::from_millis(2));
        }
    }

    /// First the group, and its number is forgotten, while it cannot have been given to another.
    fn end(&mut self) -> Option<ExitStatus> {
        platform::end_group(&mut self.child);
        running().remove(&self.child.id());
        self.child.wait().ok()
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        self.input.write_all(b"stop\nquit\n").ok();
        if self.status_within(PARTING).is_none() {
            self.end();
        }
    }
}

/// The engines that are running, by the numbers of their processes.
static RUNNING: Mutex<BTreeSet<u32>> = Mutex::new(BTreeSet::new());

fn running() -> MutexGuard<'static, BTreeSet<u32>> {
    RUNNING.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Ends every engine at once, with all that it has started, for when the program ends: a thread that waits
/// for one never comes to drop it. The lock is held, so that no number is reaped meanwhile.
pub fn end_all() {
    for &number in running().iter() {
        platform::end_group_numbered(number);
    }
}

/// Reads lines until the pipe ends or nobody hears any more.
fn listen(output: ChildStdout, say: &SyncSender<String>) {
    let mut output = BufReader::new(output);
    while let Some(line) = next_line(&mut output) {
        let line = tidy(&line);
        if !line.is_empty() && say.send(line).is_err() {
            return;
        }
    }
}

/// The next line, cut to [`ENGINE_LINE_MAX`]; `None` at the end of the stream.
fn next_line(reader: &mut impl BufRead) -> Option<Vec<u8>> {
    let mut line = Vec::new();
    let read = reader
        .by_ref()
        .take(ENGINE_LINE_MAX)
        .read_until(b'\n', &mut line);
    if !matches!(read, Ok(1..)) {
        return None;
    }
    while line.last() != Some(&b'\n') {
        let mut rest = Vec::new();
        match reader
            .by_ref()
            .take(ENGINE_LINE_MAX)
            .read_until(b'\n', &mut rest)
        {
            Ok(1..) if rest.last() != Some(&b'\n') => {}
            _ => break,
        }
    }
    Some(line)
}

/// Words with one blank between them: the message parser loses fields at tabs and double blanks. A line
/// with other control characters is no line of the protocol and becomes empty.
fn tidy(line: &[u8]) -> String {
    let text = String::from_utf8_lossy(line);
    let words: Vec<&str> = text.split_whitespace().collect();
    let line = words.join(" ");
    if line.contains(char::is_control) {
        return String::new();
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_tidied_and_cut() {
        assert_eq!(tidy(b"info\tdepth  5 \r\n"), "info depth 5");
        assert_eq!(tidy(b"info \x1b[2J depth 5\n"), "");
        assert_eq!(tidy(b"\n"), "");
        let mut long = vec![b'x'; 3 * ENGINE_LINE_MAX as usize];
        long.extend_from_slice(b"\nreadyok\nlast");
        let mut reader = BufReader::new(long.as_slice());
        assert_eq!(
            next_line(&mut reader).unwrap().len(),
            ENGINE_LINE_MAX as usize
        );
        assert_eq!(next_line(&mut reader).unwrap(), b"readyok\n");
        assert_eq!(next_line(&mut reader).unwrap(), b"last");
        assert_eq!(next_line(&mut reader), None);
    }
}
