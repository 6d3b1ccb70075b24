//! A match of the own engine against any UCI engine: openings played twice with colours swapped,
//! result with a 95 % interval, and a sequential test.
//!
//! `cargo bench --bench matches -- --engine CMD [--own CMD] [--games N] [--nodes N | --movetime MS]
//! [--own-option NAME=VALUE …] [--option NAME=VALUE …] [--threads N] [--openings FILE.epd]
//! [--first N] [--sprt LOW HIGH]`
//! Without a file the openings are eight random half-moves that both engines take for nearly level.
//!
//! Interval: normal approximation over pairs of games. Sequential test: A. Wald, "Sequential Tests of
//! Statistical Hypotheses", 1945, with the generalised likelihood ratio in normal approximation, error
//! rates .05; LOW and HIGH are Elo differences.

use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::Relaxed};

use shakmaty::{
    CastlingMode, Chess, Color, EnPassantMode, Outcome, Position, fen::Fen, uci::UciMove,
};

mod rival;
use rival::{Rival, options};

struct Plan {
    own: String,
    engine: String,
    own_options: Vec<String>,
    options: Vec<String>,
    limit: String,
    openings: Vec<String>,
}

/// A pair in which an engine ended, or answered no move of the position, counts for neither side and is
/// played no further; after so many the match is over.
const MOST_FAILURES: u32 = 10;

impl Plan {
    fn start(&self) -> Result<(Rival, Rival), String> {
        let mut own = Rival::start(&self.own)?;
        let mut other = Rival::start(&self.engine)?;
        own.set(&self.own_options)?;
        other.set(&self.options)?;
        Ok((own, other))
    }
}

/// Points of the own engine in a pair of games, doubled: 0 to 4, counted; and single results.
#[derive(Default)]
struct Score {
    pairs: [u32; 5],
    results: [u32; 3],
    failures: u32,
}

impl Score {
    fn games(&self) -> u32 {
        self.results.iter().sum()
    }

    /// Mean points per game and variance of a pair's mean.
    fn mean(&self) -> (f64, f64, f64) {
        let n: f64 = self.pairs.iter().map(|&c| f64::from(c)).sum();
        if n == 0.0 {
            return (0.5, 0.0, 0.0);
        }
        let value = |i: usize| i as f64 / 4.0;
        let mean = self
            .pairs
            .iter()
            .enumerate()
            .map(|(i, &c)| value(i) * f64::from(c))
            .sum::<f64>()
            / n;
        let spread = |(i, &c): (usize, &u32)| (value(i) - mean).powi(2) * f64::from(c);
        let variance = self.pairs.iter().enumerate().map(spread).sum::<f64>() / n;
        (mean, variance, n)
    }

    /// Log-likelihood ratio of the two hypotheses.
    fn ratio(&self, low: f64, high: f64) -> f64 {
        let (mean, variance, n) = self.mean();
        let expect = |elo: f64| 1.0 / (1.0 + 10_f64.powf(-elo / 400.0));
        let (a, b) = (expect(low), expect(high));
        if variance < 1e-9 {
            0.0
        } else {
            (b - a) * (2.0 * mean - a - b) * n / (2.0 * variance)
        }
    }

    fn print(&self, sprt: Option<(f64, f64)>) {
        let (mean, variance, n) = self.mean();
        let margin = 1.96 * (variance / n.max(1.0)).sqrt();
        let elo = |x: f64| -400.0 * (1.0 / x.clamp(1e-6, 1.0 - 1e-6) - 1.0).log10();
        let [lost, drawn, won] = self.results;
        print!(
            "{} games: +{won} ={drawn} -{lost}, {:.1} % ({:.1} to {:.1}), Elo {:+.0} ({:+.0} to {:+.0})",
            self.games(),
            100.0 * mean,
            100.0 * (mean - margin),
            100.0 * (mean + margin),
            elo(mean),
            elo(mean - margin),
            elo(mean + margin),
        );
        if let Some((low, high)) = sprt {
            print!(
                ", log-likelihood ratio {:+.2} for {high} against {low} Elo",
                self.ratio(low, high)
            );
        }
        println!(", {} broken off", self.failures);
    }
}

fn random_opening(number: usize) -> Option<Chess> {
    let mut chess = Chess::default();
    for ply in 0..8 {
        let legal = chess.legal_moves();
        let pick = foreply::board::random::after(foreply::board::random::after(number as u64) ^ ply)
            as usize;
        let m = legal.get(pick % legal.len().max(1))?.clone();
        chess.play_unchecked(&m);
    }
    (!chess.is_game_over()).then_some(chess)
}

fn opening(plan: &Plan, number: usize, own: &mut Rival) -> Result<Option<Chess>, String> {
    if plan.openings.is_empty() {
        let Some(chess) = random_opening(number) else {
            return Ok(None);
        };
        let fen = Fen::from_position(chess.clone(), EnPassantMode::Legal);
        own.new_game()?;
        let level = own
            .search(&format!("fen {fen}"), "nodes 30000")?
            .score
            .abs()
            <= 80;
        return Ok(level.then_some(chess));
    }
    let line = &plan.openings[number % plan.openings.len()];
    let fields: Vec<&str> = line.split_whitespace().take(4).collect();
    let chess = fields
        .join(" ")
        .parse::<Fen>()
        .ok()
        .and_then(|f| f.into_position(CastlingMode::Standard).ok());
    Ok(chess)
}

/// Points doubled of the player with White.
fn play(start: &Chess, white: &mut Rival, black: &mut Rival, limit: &str) -> Result<u32, String> {
    white.new_game()?;
    black.new_game()?;
    let mut chess = start.clone();
    let base = format!(
        "fen {}",
        Fen::from_position(start.clone(), EnPassantMode::Legal)
    );
    let mut moves = String::new();
    let mut seen = vec![start.clone()];
    let (mut decided, mut level) = (0_i32, 0);
    for ply in 0..500 {
        if let Some(outcome) = chess.outcome() {
            return Ok(match outcome {
                Outcome::Decisive {
                    winner: Color::White,
                } => 2,
                Outcome::Decisive {
                    winner: Color::Black,
                } => 0,
                Outcome::Draw => 1,
            });
        }
        if chess.halfmoves() >= 100 || seen.iter().filter(|c| **c == chess).count() >= 3 {
            return Ok(1);
        }
        let mover = if chess.turn() == Color::White {
            &mut *white
        } else {
            &mut *black
        };
        let answer = mover.search(&format!("{base} moves{moves}"), limit)?;
        let found = answer
            .best
            .parse::<UciMove>()
            .ok()
            .and_then(|m| m.to_move(&chess).ok());
        let Some(m) = found else {
            return Err(format!(
                "{} answered {} in {base} moves{moves}",
                mover.name, answer.best
            ));
        };
        // Both sides agree for long: the rest would only cost time.
        let score = if chess.turn() == Color::White {
            answer.score
        } else {
            -answer.score
        };
        decided = if score.abs() < 900 {
            0
        } else {
            decided + score.signum()
        };
        level = if score.abs() <= 10 { level + 1 } else { 0 };
        if decided.abs() >= 8 {
            return Ok(if decided > 0 { 2 } else { 0 });
        }
        if ply > 80 && level >= 16 {
            return Ok(1);
        }
        moves += &format!(" {}", m.to_uci(CastlingMode::Standard));
        chess.play_unchecked(&m);
        let irreversible = chess.halfmoves() == 0;
        if irreversible {
            seen.clear();
        }
        seen.push(chess.clone());
    }
    Ok(1)
}

fn pair(
    plan: &Plan,
    number: usize,
    own: &mut Rival,
    other: &mut Rival,
) -> Result<Option<[u32; 2]>, String> {
    let Some(start) = opening(plan, number, own)? else {
        return Ok(None);
    };
    let first = play(&start, own, other, &plan.limit)?;
    let second = 2 - play(&start, other, own, &plan.limit)?;
    Ok(Some([first, second]))
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let number = |name: &str, default: usize| {
        options(&words, name)
            .pop()
            .and_then(|w| w.parse().ok())
            .unwrap_or(default)
    };
    let Some(engine) = options(&words, "--engine").pop() else {
        println!(
            "nothing to do: name an opponent, as in -- --engine \"CMD ARGS\" --games 200 --nodes 20000"
        );
        return ExitCode::SUCCESS;
    };
    let limit = match (
        options(&words, "--movetime").pop(),
        number("--nodes", 20_000),
    ) {
        (Some(ms), _) => format!("movetime {ms}"),
        (None, nodes) => format!("nodes {nodes}"),
    };
    let openings = options(&words, "--openings")
        .pop()
        .map(std::fs::read_to_string);
    let openings = match openings {
        Some(Err(error)) => {
            eprintln!("openings: {error}");
            return ExitCode::FAILURE;
        }
        Some(Ok(text)) => text
            .lines()
            .filter(|l| !l.trim().is_empty())
            .map(str::to_owned)
            .collect(),
        None => Vec::new(),
    };
    let own = format!(
        "{} engine",
        option_env!("CARGO_BIN_EXE_foreply").unwrap_or("foreply")
    );
    let plan = Plan {
        own: options(&words, "--own").pop().unwrap_or(own),
        engine,
        own_options: options(&words, "--own-option"),
        options: options(&words, "--option"),
        limit,
        openings,
    };
    let sprt = words.iter().position(|w| w == "--sprt").and_then(|at| {
        Some((
            words.get(at + 1)?.parse::<f64>().ok()?,
            words.get(at + 2)?.parse::<f64>().ok()?,
        ))
    });
    let pairs = number("--games", 200).div_ceil(2) as u32;
    let next = AtomicUsize::new(number("--first", 0));
    let score = Mutex::new(Score::default());
    let finished = AtomicBool::new(false);
    println!("{} against {}, {}", plan.own, plan.engine, plan.limit);
    std::thread::scope(|scope| {
        for _ in 0..number("--threads", 1) {
            scope.spawn(|| work(&plan, &next, &score, &finished, pairs, sprt));
        }
    });
    score.into_inner().unwrap().print(sprt);
    ExitCode::SUCCESS
}

fn work(
    plan: &Plan,
    next: &AtomicUsize,
    score: &Mutex<Score>,
    finished: &AtomicBool,
    pairs: u32,
    sprt: Option<(f64, f64)>,
) {
    let mut rivals = None;
    while !finished.load(Relaxed) {
        let started = match rivals.take() {
            Some(both) => Ok(both),
            None => plan.start(),
        };
        let outcome = started.and_then(|(mut own, mut other)| {
            let points = pair(plan, next.fetch_add(1, Relaxed), &mut own, &mut other)?;
            rivals = Some((own, other));
            Ok(points)
        });
        let mut score = score.lock().unwrap();
        match outcome {
            Ok(None) => continue,
            Ok(Some([a, b])) => {
                score.pairs[(a + b) as usize] += 1;
                score.results[a as usize] += 1;
                score.results[b as usize] += 1;
            }
            Err(error) => {
                eprintln!("{error}");
                score.failures += 1;
                if score.failures >= MOST_FAILURES {
                    finished.store(true, Relaxed);
                }
                continue;
            }
        }
        let done = score.games() / 2;
        if done.is_multiple_of(50) {
            score.print(sprt);
        }
        let settled = sprt.is_some_and(|(low, high)| score.ratio(low, high).abs() > 2.944);
        if done >= pairs || settled {
            finished.store(true, Relaxed);
        }
    }
}
