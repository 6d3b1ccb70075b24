//! The program in a real terminal: tmux, 80 by 24.

mod ends;
mod rough;
mod sitting;
mod whole_way;

use std::path::Path;
use std::process::{Command, Output};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use crate::support::left_out;

/// The program under test.
const FOREPLY: &str = env!("CARGO_BIN_EXE_foreply");
/// A debug build on a busy machine takes its time.
const PATIENCE: Duration = Duration::from_secs(180);

/// True where tmux is installed; says so where it is not.
fn tmux_is_there(test: &str) -> bool {
    let there = Command::new("tmux").arg("-V").output().is_ok();
    if !there {
        left_out(&format!("{test} needs tmux, which is not installed"));
    }
    there
}

/// A terminal with one program in it.
struct Terminal {
    socket: String,
}

impl Terminal {
    /// Starts the program with a home folder and arguments; the shell around it tells its exit code.
    fn start(home: &Path, args: &str) -> Self {
        let home = home.display();
        let script = format!(
            "env -u NO_COLOR '{FOREPLY}' --home '{home}' {args}; echo \"exit code $?\"; exec sleep 600"
        );
        Self::with(&["sh", "-c", &script])
    }

    /// Starts a shell that somebody types into.
    fn shell() -> Self {
        Self::with(&["env", "-u", "NO_COLOR", "PS1=shell> ", "sh", "-i"])
    }

    fn with(command: &[&str]) -> Self {
        static COUNT: AtomicUsize = AtomicUsize::new(0);
        let number = COUNT.fetch_add(1, Ordering::SeqCst);
        let terminal = Self {
            socket: format!("foreply-test-{}-{number}", std::process::id()),
        };
        let size = ["new-session", "-d", "-x", "80", "-y", "24"];
        let out = terminal.tmux(&[&size[..], command].concat());
        assert!(out.status.success(), "tmux: {out:?}");
        terminal
    }

    fn tmux(&self, args: &[&str]) -> Output {
        let base = ["-L", &self.socket, "-f", "/dev/null"];
        Command::new("tmux").args(base).args(args).output().unwrap()
    }

    /// Presses keys by their tmux names.
    fn keys(&self, names: &[&str]) -> &Self {
        self.tmux(&[&["send-keys"], names].concat());
        self
    }

    /// Types a text.
    fn types(&self, text: &str) -> &Self {
        self.tmux(&["send-keys", "-l", "--", text]);
        self
    }

    /// Types a line and Enter, and waits until it stands in the tree.
    fn line(&self, text: &str, shown: &str) -> &Self {
        self.types(text).keys(&["Enter"]).wait_for(shown)
    }

    fn text(&self) -> String {
        String::from_utf8_lossy(&self.tmux(&["capture-pane", "-p"]).stdout).into_owned()
    }

    /// Waits until some words are on the screen.
    fn wait_for(&self, words: &str) -> &Self {
        let start = Instant::now();
        while !self.text().contains(words) {
            assert!(
                start.elapsed() < PATIENCE,
                "'{words}' never came:\n{}",
                self.text()
            );
            thread::sleep(Duration::from_millis(30));
        }
        self
    }

    /// Something tmux knows about the terminal.
    fn ask(&self, what: &str) -> String {
        let out = self.tmux(&["display-message", "-p", what]);
        String::from_utf8_lossy(&out.stdout).trim().to_owned()
    }

    /// The process of the program itself, below the shell.
    fn process(&self) -> String {
        let shell = self.ask("#{pane_pid}");
        let children = std::fs::read_to_string(format!("/proc/{shell}/task/{shell}/children"));
        let child = children
            .unwrap()
            .split_whitespace()
            .next()
            .map(str::to_owned);
        child.unwrap()
    }

    fn signal(&self, name: &str) {
        let done = Command::new("kill").args([name, &self.process()]).status();
        assert!(done.unwrap().success());
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        self.tmux(&["kill-server"]);
    }
}
