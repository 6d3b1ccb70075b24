//! A UCI engine as a child process, as the suite and match runners meet it.

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

/// What a search ended with.
#[derive(Clone, Debug, Default)]
pub struct Answer {
    /// In long algebraic notation, as the engine wrote it.
    pub best: String,
    /// Centipawns of the side to move; mates as 30000 less their length.
    pub score: i32,
    pub nodes: u64,
}

pub struct Rival {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    pub name: String,
}

impl Rival {
    /// Starts a command line (split at blanks) and waits for `uciok`.
    pub fn start(command: &str) -> Result<Rival, String> {
        let mut words = command.split_whitespace();
        let program = words.next().ok_or("an empty engine command")?;
        let mut child = Command::new(program)
            .args(words)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|e| format!("{command}: {e}"))?;
        let input = child.stdin.take().ok_or("no standard input")?;
        let output = BufReader::new(child.stdout.take().ok_or("no standard output")?);
        let mut rival = Rival {
            child,
            input,
            output,
            name: command.to_owned(),
        };
        rival.send("uci")?;
        rival.wait_for("uciok")?;
        Ok(rival)
    }

    /// Sets options given as `NAME=VALUE`.
    #[allow(dead_code)] // Not every runner that shares this file has options to set.
    pub fn set(&mut self, settings: &[String]) -> Result<(), String> {
        for setting in settings {
            let (name, value) = setting
                .split_once('=')
                .ok_or_else(|| format!("{setting}: not NAME=VALUE"))?;
            self.send(&format!("setoption name {name} value {value}"))?;
        }
        Ok(())
    }

    pub fn send(&mut self, line: &str) -> Result<(), String> {
        writeln!(self.input, "{line}").map_err(|e| format!("{}: {e}", self.name))
    }

    fn line(&mut self) -> Result<String, String> {
        let mut line = String::new();
        match self.output.read_line(&mut line) {
            Ok(0) => Err(format!("{} ended", self.name)),
            Ok(_) => Ok(line),
            Err(e) => Err(format!("{}: {e}", self.name)),
        }
    }

    fn wait_for(&mut self, word: &str) -> Result<(), String> {
        while self.line()?.trim() != word {}
        Ok(())
    }

    pub fn new_game(&mut self) -> Result<(), String> {
        self.send("ucinewgame")?;
        self.send("isready")?;
        self.wait_for("readyok")
    }

    /// Searches a position (`startpos` or `fen …`, with moves) with a limit such as `nodes 1000`.
    pub fn search(&mut self, position: &str, limit: &str) -> Result<Answer, String> {
        self.send(&format!("position {position}"))?;
        self.send(&format!("go {limit}"))?;
        let mut answer = Answer::default();
        loop {
            let line = self.line()?;
            let words: Vec<&str> = line.split_whitespace().collect();
            let after = |word: &str| {
                let at = words.iter().position(|w| *w == word)?;
                words.get(at + 1..)
            };
            if words.first() == Some(&"bestmove") {
                answer.best = words.get(1).copied().unwrap_or_default().to_owned();
                return Ok(answer);
            }
            if after("multipv").is_some_and(|w| w.first() != Some(&"1")) {
                continue;
            }
            match after("score") {
                Some(["cp", cp, ..]) => answer.score = cp.parse().unwrap_or(0),
                Some(["mate", n, ..]) => {
                    let n: i32 = n.parse().unwrap_or(0);
                    answer.score = if n > 0 { 30_000 - n } else { -30_000 - n };
                }
                _ => {}
            }
            if let Some([n, ..]) = after("nodes") {
                answer.nodes = n.parse().unwrap_or(0);
            }
        }
    }
}

impl Drop for Rival {
    fn drop(&mut self) {
        let _ = self.send("quit");
        std::thread::sleep(std::time::Duration::from_millis(20));
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The value after `--name` among the arguments; all of them if it is given more than once.
pub fn options(words: &[String], name: &str) -> Vec<String> {
    words
        .windows(2)
        .filter(|w| w[0] == name)
        .map(|w| w[1].clone())
        .collect()
}
