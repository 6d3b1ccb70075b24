//! The embedded engine as everyone else meets it: lines in, lines out.

mod bishop_knight;
mod calibrate;
mod endings;
mod strength;
mod studies;
mod tables;
mod threads;
mod torture;
mod uci;

use std::io::{BufReader, Read, Write};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::JoinHandle;
use std::time::Duration;

use shakmaty::{CastlingMode, Chess, Move, Position, fen::Fen, uci::UciMove};

/// Numbers that look random and are the same in every run (G. Marsaglia, "Xorshift RNGs", 2003).
pub struct Dice(pub u64);

impl Dice {
    /// A number under `limit`.
    pub fn below(&mut self, limit: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 20) % limit
    }
}

/// Bytes that arrive line by line, and end when the sender is dropped.
struct Lines(Receiver<String>, Vec<u8>);

impl Read for Lines {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        if self.1.is_empty() {
            match self.0.recv() {
                Ok(line) => self.1.extend(line.bytes().chain([b'\n'])),
                Err(_) => return Ok(0),
            }
        }
        let n = self.1.len().min(buffer.len());
        buffer[..n].copy_from_slice(&self.1[..n]);
        self.1.drain(..n);
        Ok(n)
    }
}

struct Listener(Sender<String>, Vec<u8>);

impl Write for Listener {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        for &byte in bytes {
            if byte == b'\n' {
                let line = String::from_utf8_lossy(&self.1).into_owned();
                self.1.clear();
                let _ = self.0.send(line);
            } else {
                self.1.push(byte);
            }
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

/// A running engine inside this process.
pub struct Engine {
    input: Option<Sender<String>>,
    output: Receiver<String>,
    thread: Option<JoinHandle<()>>,
}

impl Engine {
    pub fn start() -> Engine {
        let (input, lines) = channel();
        let (listener, output) = channel();
        let thread = std::thread::spawn(move || {
            let reader = BufReader::new(Lines(lines, Vec::new()));
            foreply::engine::run(reader, Listener(listener, Vec::new())).unwrap();
        });
        Engine {
            input: Some(input),
            output,
            thread: Some(thread),
        }
    }

    pub fn send(&self, line: &str) {
        self.input.as_ref().unwrap().send(line.to_owned()).unwrap();
    }

    pub fn line(&self) -> String {
        self.output
            .recv_timeout(Duration::from_secs(120))
            .expect("no line within two minutes")
    }

    /// Lines up to and with the first that starts with `word`.
    pub fn until(&self, word: &str) -> Vec<String> {
        let mut lines = vec![self.line()];
        while !lines.last().unwrap().starts_with(word) {
            lines.push(self.line());
        }
        lines
    }

    /// A search with an empty memory: all lines, `bestmove` last.
    pub fn search(&self, position: &str, limit: &str) -> Vec<String> {
        self.send("ucinewgame");
        self.send(&format!("position {position}"));
        self.send(&format!("go {limit}"));
        self.until("bestmove")
    }

    /// Ends the input and waits for the engine; gives what it still said.
    pub fn end(mut self) -> Vec<String> {
        self.input = None;
        self.thread.take().unwrap().join().unwrap();
        self.output.try_iter().collect()
    }
}

/// The words after `name` in the last line that has it.
pub fn field<'a>(lines: &'a [String], name: &str, count: usize) -> Vec<&'a str> {
    let has = |line: &&String| line.split(' ').any(|w| w == name);
    let line = lines.iter().rev().find(has).expect("no such field");
    line.split(' ')
        .skip_while(|w| *w != name)
        .skip(1)
        .take(count)
        .collect()
}

/// The moves of an info line, each played from `fen` on: all must be legal.
pub fn legal_line(fen: &str, line: &str) -> Vec<Move> {
    let mut chess: Chess = fen
        .parse::<Fen>()
        .unwrap()
        .into_position(CastlingMode::Standard)
        .unwrap();
    let moves = line.split(" pv ").nth(1).expect("a line with moves");
    let play = |name: &str| {
        let m = name.parse::<UciMove>().ok()?.to_move(&chess).ok()?;
        chess.play_unchecked(&m);
        Some(m)
    };
    let played: Option<Vec<Move>> = moves.split(' ').map(play).collect();
    played.unwrap_or_else(|| panic!("illegal in {fen}: {line}"))
}

pub fn best(lines: &[String]) -> &str {
    lines.last().unwrap().split(' ').nth(1).unwrap()
}
