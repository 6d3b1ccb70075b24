//! A conversation in the UCI protocol: one thread reads and answers, another one searches.
//!
//! What is printed for a search limited by nodes or depth depends on nothing but the input: times and
//! speeds are then left out, so that two runs can be compared byte for byte.

use std::io::{self, BufRead, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use shakmaty::{CastlingMode, Chess, Position as _, fen::Fen, uci::UciMove};

use super::clock;
use super::evaluation;
use super::position::Position;
use super::protocol::{Command, Go};
use super::strength::{self, Handicap};
use super::table::Table;
use super::team::{self, Team};
use super::types::*;
use super::wdl;
use super::worker::{Bound, Limits, Report};

const NAME: &str = concat!("Foreply ", env!("CARGO_PKG_VERSION"));
/// Megabytes of the transposition table.
const HASH: (usize, usize, usize) = (16, 1, 4096);
const MAX_LINES: usize = 256;

type Out = Arc<Mutex<Box<dyn Write + Send>>>;

/// The game so far: where it stands, and the keys of all positions for repetitions.
struct Game {
    chess: Chess,
    position: Position,
    keys: Vec<u64>,
}

struct Session {
    out: Out,
    stop: Arc<AtomicBool>,
    table: Arc<Table>,
    game: Option<Game>,
    lines: usize,
    show_wdl: bool,
    /// Whether `level` counts.
    limited: bool,
    level: usize,
    seed: u64,
    threads: usize,
    team: Option<Box<Team>>,
    job: Option<JoinHandle<Box<Team>>>,
    pondering: bool,
}

/// Answers UCI commands from `input` on `output` until `quit` or the end of the input. A search in
/// progress is then stopped and answered first.
///
/// # Errors
/// Whatever reading `input` gives; output that nobody reads is no error.
pub fn run(mut input: impl BufRead, output: impl Write + Send + 'static) -> io::Result<()> {
    let mut session = Session::new(Box::new(output));
    let mut line = Vec::new();
    loop {
        line.clear();
        if input.read_until(b'\n', &mut line)? == 0 {
            break;
        }
        if !session.obey(Command::parse(&String::from_utf8_lossy(&line))) {
            break;
        }
    }
    session.finish_search();
    Ok(())
}

fn locked(out: &Out) -> MutexGuard<'_, Box<dyn Write + Send>> {
    out.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Writes a line and flushes. A reader that is gone is noticed at the end of the input.
fn say(out: &Out, line: &str) {
    let mut out = locked(out);
    let _ = writeln!(out, "{line}").and_then(|()| out.flush());
}

impl Session {
    fn new(output: Box<dyn Write + Send>) -> Session {
        let stop = Arc::new(AtomicBool::new(false));
        let table = Arc::new(Table::new(HASH.0));
        Session {
            out: Arc::new(Mutex::new(output)),
            threads: 1,
            team: Some(Box::new(Team::new(&table, &stop, 1))),
            stop,
            table,
            game: Game::new(None, &[]).ok(),
            lines: 1,
            show_wdl: true,
            limited: false,
            level: strength::RANGE.1,
            seed: 0,
            job: None,
            pondering: false,
        }
    }

    /// Does what is asked; false to end the conversation.
    fn obey(&mut self, command: Command) -> bool {
        match command {
            Command::Uci => self.introduce(),
            Command::IsReady => say(&self.out, "readyok"),
            Command::NewGame => {
                self.finish_search();
                self.forget();
            }
            Command::SetOption { name, value } => {
                self.finish_search();
                self.set_option(&name, &value);
            }
            Command::Position { fen, moves } => {
                self.game = match Game::new(fen.as_deref(), &moves) {
                    Ok(game) => Some(game),
                    Err(reason) => {
                        say(
                            &self.out,
                            &format!("info string position refused: {reason}"),
                        );
                        None
                    }
                };
            }
            Command::Go(go) => {
                self.finish_search();
                self.go(&go);
            }
            Command::Stop => self.finish_search(),
            Command::PonderHit if self.pondering => self.finish_search(),
            Command::PonderHit | Command::Unknown => {}
            Command::Quit => return false,
        }
        true
    }

    fn introduce(&self) {
        for line in [
            format!("id name {NAME}"),
            "id author the Foreply authors".to_owned(),
            format!(
                "option name Hash type spin default {} min {} max {}",
                HASH.0, HASH.1, HASH.2
            ),
            format!(
                "option name Threads type spin default 1 min 1 max {}",
                team::MOST
            ),
            format!("option name MultiPV type spin default 1 min 1 max {MAX_LINES}"),
            "option name UCI_ShowWDL type check default true".to_owned(),
            "option name UCI_LimitStrength type check default false".to_owned(),
            format!(
                "option name UCI_Elo type spin default {} min {} max {}",
                strength::RANGE.1,
                strength::RANGE.0,
                strength::RANGE.1
            ),
            format!(
                "option name Seed type spin default 0 min 0 max {}",
                i32::MAX
            ),
            "option name Clear Hash type button".to_owned(),
            "uciok".to_owned(),
        ] {
            say(&self.out, &line);
        }
    }

    fn forget(&mut self) {
        self.table.forget();
        if let Some(team) = &mut self.team {
            team.forget();
        }
    }

    fn set_option(&mut self, name: &str, value: &str) {
        let number = value.parse::<usize>().ok();
        match (name.to_ascii_lowercase().as_str(), number) {
            ("hash", Some(megabytes)) => {
                self.table = Arc::new(Table::new(megabytes.clamp(HASH.1, HASH.2)));
                self.team = Some(self.new_team());
            }
            ("threads", Some(threads)) => {
                self.threads = threads.clamp(1, team::MOST);
                self.team = Some(self.new_team());
            }
            ("multipv", Some(lines)) => self.lines = lines.clamp(1, MAX_LINES),
            ("uci_showwdl", _) => self.show_wdl = value.eq_ignore_ascii_case("true"),
            ("clear hash", _) => self.forget(),
            ("uci_limitstrength", _) => {
                self.limited = value.eq_ignore_ascii_case("true");
                self.forget();
            }
            ("uci_elo", Some(level)) => {
                self.level = level.clamp(strength::RANGE.0, strength::RANGE.1);
                self.forget();
            }
            ("seed", Some(seed)) => {
                self.seed = seed as u64;
                self.forget();
            }
            ("hash" | "threads" | "multipv" | "uci_elo" | "seed", None) => {
                say(
                    &self.out,
                    &format!("info string option {name} needs a whole number"),
                );
            }
            _ => {}
        }
    }

    fn go(&mut self, go: &Go) {
        self.stop.store(false, Ordering::SeqCst);
        let Some(game) = &self.game else {
            say(&self.out, "info string no position to search");
            return say(&self.out, "bestmove (none)");
        };
        if !super::generate::any_legal(&game.position) {
            let score = if game.position.in_check() {
                "mate 0"
            } else {
                "cp 0"
            };
            say(&self.out, &format!("info depth 0 score {score}"));
            return say(&self.out, "bestmove (none)");
        }
        let Some(limits) = self.limits(game, go) else {
            say(&self.out, "info string no legal move among searchmoves");
            return say(&self.out, "bestmove (none)");
        };
        let Some(mut team) = self.team.take() else {
            return say(&self.out, "bestmove (none)");
        };
        let handicap = self.handicap();
        let printer = Printer {
            most: self.lines,
            out: self.out.clone(),
            show_wdl: self.show_wdl,
            timed: limits.nodes.is_none() && limits.depth.is_none(),
        };
        let (position, keys) = (game.position, game.keys.clone());
        let waits = go.infinite || go.ponder;
        let stop = self.stop.clone();
        self.table.new_search();
        self.pondering = go.ponder;
        let job = thread::Builder::new()
            .name("search".to_owned())
            .stack_size(team::STACK)
            .spawn(move || {
                let alone = handicap.is_some();
                let best = team.think(&position, &keys, &limits, alone, &mut |r| {
                    printer.line(&position, r)
                });
                let chosen = handicap.map_or(0, |h| h.choose(position.key, best));
                let answer =
                    best.get(chosen)
                        .map_or("(none)".to_owned(), |best| match best.line.get(1) {
                            Some(reply) => format!("{} ponder {reply}", best.mv),
                            None => best.mv.to_string(),
                        });
                // "infinite" is answered only after "stop", however early the search has run out.
                while waits && !stop.load(Ordering::SeqCst) {
                    thread::park_timeout(Duration::from_millis(50));
                }
                say(&printer.out, &format!("bestmove {answer}"));
                team
            });
        match job {
            Ok(handle) => self.job = Some(handle),
            Err(error) => {
                say(
                    &self.out,
                    &format!("info string no thread for the search: {error}"),
                );
                say(&self.out, "bestmove (none)");
                self.team = Some(self.new_team());
            }
        }
    }

    fn new_team(&self) -> Box<Team> {
        Box::new(Team::new(&self.table, &self.stop, self.threads))
    }

    /// Limits as the search wants them; `None` if `searchmoves` names no legal move.
    fn limits(&self, game: &Game, go: &Go) -> Option<Limits> {
        let mut limits = Limits {
            lines: self.lines,
            nodes: go.nodes,
            ..Limits::default()
        };
        if let Some(handicap) = self.handicap() {
            limits.nodes = Some(handicap.nodes.min(go.nodes.unwrap_or(u64::MAX)));
            limits.lines = limits.lines.max(handicap.candidates());
            (limits.noise, limits.seed) = (handicap.noise, handicap.seed);
        }
        limits.depth = go.depth.map(|d| d.clamp(1, MAX_PLY as u64) as i32);
        if let Some(mate) = go.mate {
            limits.depth = Some((2 * mate).clamp(1, MAX_PLY as u64) as i32);
        }
        if let Some(names) = &go.moves {
            limits.moves = names.iter().filter_map(|name| game.find(name)).collect();
            if limits.moves.is_empty() {
                return None;
            }
        }
        if !go.infinite && !go.ponder {
            (limits.soft_time, limits.hard_time) = clock::budget(go, game.position.turn);
        }
        Some(limits)
    }

    fn handicap(&self) -> Option<Handicap> {
        self.limited.then(|| Handicap::of(self.level, self.seed))
    }

    /// Ends a running search and takes its memory back.
    fn finish_search(&mut self) {
        self.pondering = false;
        let Some(job) = self.job.take() else {
            return;
        };
        self.stop.store(true, Ordering::SeqCst);
        job.thread().unpark();
        let back = job.join().ok();
        if back.is_none() {
            say(&self.out, "info string the search broke off");
            say(&self.out, "bestmove (none)");
        }
        self.team = Some(back.unwrap_or_else(|| self.new_team()));
    }
}

impl Game {
    /// Sets up a position (the starting one without `fen`) and plays the moves.
    fn new(fen: Option<&str>, moves: &[String]) -> Result<Game, String> {
        let mut chess = match fen {
            None => Chess::default(),
            Some(fen) => fen
                .parse::<Fen>()
                .map_err(|e| e.to_string())?
                .into_position(CastlingMode::Standard)
                .map_err(|e| e.to_string())?,
        };
        let refused = "castling rights of Chess960 are not supported";
        let mut position = Position::from_chess(&chess).ok_or(refused)?;
        let mut keys = vec![position.key];
        for name in moves {
            let m = find(&chess, name)
                .ok_or_else(|| format!("illegal move {}", name.escape_debug()))?;
            let packed = position
                .pack(&m)
                .ok_or_else(|| format!("illegal move {}", name.escape_debug()))?;
            chess.play_unchecked(&m);
            position = position.after(packed);
            keys.push(position.key);
        }
        Ok(Game {
            chess,
            position,
            keys,
        })
    }

    fn find(&self, name: &str) -> Option<Move> {
        self.position.pack(&find(&self.chess, name)?)
    }
}

fn find(chess: &Chess, name: &str) -> Option<shakmaty::Move> {
    name.parse::<UciMove>().ok()?.to_move(chess).ok()
}

/// Prints what a search reports.
struct Printer {
    out: Out,
    show_wdl: bool,
    timed: bool,
    /// Lines of a higher rank were searched for own use.
    most: usize,
}

impl Printer {
    fn line(&self, root: &Position, r: &Report) {
        if r.rank > self.most {
            return;
        }
        let mut text = format!(
            "info depth {} seldepth {} multipv {} score {}",
            r.depth,
            r.seldepth,
            r.rank,
            score(r.score)
        );
        text += match r.bound {
            None => "",
            Some(Bound::Lower) => " lowerbound",
            Some(Bound::Upper) => " upperbound",
        };
        if self.show_wdl {
            let w = wdl::from_score(r.score, evaluation::phase(root));
            text += &format!(" wdl {} {} {}", w.win, w.draw, w.loss);
        }
        text += &format!(" nodes {}", r.nodes);
        if self.timed {
            let ms = r.elapsed.as_millis();
            let speed = u128::from(r.nodes) * 1000 / ms.max(1);
            text += &format!(" nps {speed} hashfull {} time {ms}", r.fill);
        }
        text += " pv";
        let mut position = *root;
        for &m in r.line {
            // Whatever a table held: only legal moves leave the house.
            if !position.is_pseudo_legal(m) || !position.is_legal(m) {
                break;
            }
            text += &format!(" {m}");
            position = position.after(m);
        }
        say(&self.out, &text);
    }
}

/// A score in the protocol's words: centipawns, or moves to mate (negative: to being mated).
fn score(score: i32) -> String {
    if score.abs() < MATE_BOUND {
        return format!("cp {score}");
    }
    let moves = (MATE - score.abs() + 1) / 2;
    format!("mate {}{moves}", if score < 0 { "-" } else { "" })
}
