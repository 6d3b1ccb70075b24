//! Fits what a score is worth to how games went on from there, and says how well the fit holds on
//! games that it has not seen.
//!
//! The fit is the ordered logit model of `wdl` by maximum likelihood, on all games. What is said of it
//! comes from cross-validation by games (M. Stone, "Cross-Validatory Choice and Assessment of
//! Statistical Predictions", Journal of the Royal Statistical Society B 36(2), 1974): the games are
//! dealt into ten parts, and each part is predicted by a curve fitted to the nine others. Reliability by tenths and the
//! parts of the Brier score: A. H. Murphy, "A New Vector Partition of the Probability Score", Journal
//! of Applied Meteorology 12(4), 1973; G. W. Brier, "Verification of Forecasts Expressed in Terms of
//! Probability", Monthly Weather Review 78(1), 1950.
//!
//! In games of people who stands better is often the better player. So the difference of their ratings is a term of the fit, in
//! centipawns for each hundred points, and the curve is what is left between equals.

use std::collections::{HashMap, HashSet};
use std::fmt::Write as _;
use std::ops::Range;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::Relaxed};
use std::sync::{Arc, Mutex, PoisonError};

use shakmaty::Chess;

use super::evaluation::{self, FULL_PHASE};
use super::position::Position;
use super::record::{BYTES, End, Record};
use super::table::Table;
use super::types::*;
use super::wdl::Curve;
use super::worker::{Limits, Worker};

/// A searched position and how its game ended, both for the side to move.
#[derive(Clone, Copy)]
struct Case {
    score: f64,
    phase: f64,
    /// Rating of the side to move less that of the other, in hundreds; 0 in games of the engine.
    rating: f64,
    /// Points doubled: 0, 1 or 2.
    points: usize,
    /// Number of its game in the order of the files.
    game: usize,
    /// How much it counts.
    weight: f64,
}

/// A position of a game of people.
#[derive(Clone, Debug)]
pub struct Rated {
    pub position: Chess,
    /// White's points: 0, 0.5 or 1.
    pub points: f64,
    /// White's rating less Black's.
    pub rating: f64,
    /// Number of its game.
    pub game: usize,
}

/// A kept position and the number of its game.
#[derive(Clone, Copy)]
struct Kept {
    record: Record,
    game: usize,
}

/// What is fitted: the curve, and what a hundred rating points are worth in centipawns, `[0] + [1] phase`.
#[derive(Clone, Copy)]
struct Model {
    curve: Curve,
    rating: [f64; 2],
}

impl Model {
    const FITTED: Model = Model {
        curve: Curve::FITTED,
        rating: [0.0; 2],
    };
    /// Parameters of the curve, and of both.
    const CURVE: Range<usize> = 0..5;
    const ALL: Range<usize> = 0..7;
    const RATING: Range<usize> = 5..7;

    fn chances(&self, case: &Case) -> (f64, f64) {
        let [base, more] = self.rating;
        let ahead = (base + more * case.phase) * case.rating;
        self.curve.chances_ahead(case.score, case.phase, ahead)
    }
}

/// Which scores are fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Those of the searches that chose the moves.
    Games,
    /// Those of new searches with so many nodes, each with an empty memory, by so many threads.
    Search { nodes: u64, threads: usize },
}

/// What a calibration says and would write.
#[derive(Clone, Debug)]
pub struct Calibrated {
    pub report: String,
    /// Text of the source file that holds the curve.
    pub source: String,
}

impl Case {
    /// From a score for the side to move, White's points doubled and his rating less Black's; mates need no calibration.
    fn new(p: &Position, score: i32, points: u8, rating: f64, game: usize) -> Option<Self> {
        let points = usize::from(points.min(2));
        let (points, rating) = if p.turn == WHITE {
            (points, rating)
        } else {
            (2 - points, -rating)
        };
        (score.abs() < MATE_BOUND).then(|| Self {
            score: f64::from(score),
            phase: f64::from(evaluation::phase(p)) / f64::from(FULL_PHASE),
            rating: rating / 100.0,
            points,
            game,
            weight: 1.0,
        })
    }
}

fn case(kept: &Kept, score: i32) -> Option<Case> {
    let record = &kept.record;
    Case::new(&record.position, score, record.points, 0.0, kept.game)
}

/// Cases by the score that the game's own search gave.
fn recorded(kept: &[Kept]) -> Vec<Case> {
    let own = |k: &Kept| {
        if k.record.position.turn == WHITE {
            k.record.score
        } else {
            -k.record.score
        }
    };
    kept.iter().filter_map(|k| case(k, own(k))).collect()
}

/// One position of every `stride`, and the nodes per move of the games, as a range.
fn read(bytes: &[u8], stride: usize) -> (Vec<Kept>, Option<(u64, u64)>) {
    let (chunks, _) = bytes.as_chunks::<BYTES>();
    let (mut kept, mut nodes, mut game, mut number) = (Vec::new(), None, 0, 0);
    for chunk in chunks {
        if let Some(end) = End::unpack(chunk) {
            game += 1;
            let (low, high) = nodes.unwrap_or((end.nodes, end.nodes));
            nodes = Some((low.min(end.nodes), high.max(end.nodes)));
        } else if let Some(record) = Record::unpack(chunk) {
            if number % stride.max(1) == 0 {
                kept.push(Kept { record, game });
            }
            number += 1;
        }
    }
    (kept, nodes)
}

/// Searches every position with `nodes` nodes, each with an empty memory; `None` where there is no move.
fn search_all(positions: &[Position], nodes: u64, threads: usize) -> Vec<Option<i32>> {
    let next = AtomicUsize::new(0);
    let scores = Mutex::new(vec![None; positions.len()]);
    std::thread::scope(|scope| {
        for _ in 0..threads.max(1) {
            let work = || {
                let table = Arc::new(Table::new(16));
                let mut worker = Worker::new(table.clone(), Arc::new(AtomicBool::new(false)));
                let limits = Limits {
                    nodes: Some(nodes),
                    lines: 1,
                    ..Limits::default()
                };
                loop {
                    let i = next.fetch_add(1, Relaxed);
                    let Some(p) = positions.get(i) else { return };
                    table.forget();
                    worker.forget();
                    let lines = worker.think(p, &[p.key], &limits, &mut |_| ());
                    let score = lines.first().map(|best| best.score);
                    let mut scores = scores.lock().unwrap_or_else(PoisonError::into_inner);
                    if let Some(place) = scores.get_mut(i) {
                        *place = score;
                    }
                }
            };
            // A thread that cannot be had is one less.
            let _ = std::thread::Builder::new()
                .stack_size(32 << 20)
                .spawn_scoped(scope, work);
        }
    });
    scores.into_inner().unwrap_or_else(PoisonError::into_inner)
}

/// Cases by new searches.
fn searched(kept: &[Kept], nodes: u64, threads: usize) -> Vec<Case> {
    let positions: Vec<Position> = kept.iter().map(|k| k.record.position).collect();
    let scores = search_all(&positions, nodes, threads);
    let each = kept.iter().zip(scores);
    each.filter_map(|(kept, score)| case(kept, score?))
        .collect()
}

/// Cases of games of people.
fn played(rated: &[Rated], nodes: u64, threads: usize) -> Vec<Case> {
    let known = rated
        .iter()
        .filter_map(|r| Some((r, Position::from_chess(&r.position)?)));
    let (rated, positions): (Vec<&Rated>, Vec<Position>) = known.unzip();
    let scores = search_all(&positions, nodes, threads);
    let each = rated.into_iter().zip(&positions).zip(scores);
    each.filter_map(|((rated, p), score)| {
        let points = (2.0 * rated.points).round() as u8;
        Case::new(p, score?, points, rated.rating, rated.game)
    })
    .collect()
}

/// What each case loses by its model, on average.
fn mean_loss<'c>(cases: impl Iterator<Item = (&'c Case, &'c Model)>) -> f64 {
    let (mut total, mut weight) = (0.0, 0.0);
    for (case, model) in cases {
        let (win, loss) = model.chances(case);
        let chance = [loss, 1.0 - win - loss, win][case.points];
        total -= case.weight * chance.max(1e-6).ln();
        weight += case.weight;
    }
    total / f64::max(weight, 1e-9)
}

fn loss(cases: &[Case], model: &Model) -> f64 {
    mean_loss(cases.iter().map(|case| (case, model)))
}

/// Makes every game count the same: a long one has more positions, and no more of a result.
fn weigh_games_alike(cases: &mut [Case]) {
    let mut positions: HashMap<usize, f64> = HashMap::new();
    for case in cases.iter() {
        *positions.entry(case.game).or_default() += 1.0;
    }
    for case in cases {
        case.weight = positions.get(&case.game).map_or(1.0, |n| 1.0 / n);
    }
}

/// Least gain in mean loss that is worth a step.
const WORTH: f64 = 2e-6;

/// The model of least loss: the ratings' part first, since the curve must not take what is theirs.
fn fit(cases: &[Case], parameters: &Range<usize>) -> Model {
    let start = Model::FITTED;
    if parameters.end <= Model::RATING.start {
        return descend(cases, start, parameters);
    }
    descend(cases, descend(cases, start, &Model::RATING), parameters)
}

/// Minimises the loss by steps along each of the parameters, halved when none helps.
fn descend(cases: &[Case], start: Model, parameters: &Range<usize>) -> Model {
    let mut best = start;
    let mut lowest = loss(cases, &best);
    let mut step = 32.0;
    while step > 0.4 {
        let before = lowest;
        for (i, sign) in parameters.clone().flat_map(|i| [(i, -1.0), (i, 1.0)]) {
            let trial = stepped(&best, i, sign * step);
            let value = loss(cases, &trial);
            if value < lowest - WORTH {
                (best, lowest) = (trial, value);
            }
        }
        if lowest == before {
            step /= 2.0;
        }
    }
    best
}

/// The model with one parameter moved, the curve kept where it still rises: its last one in proportion, since
/// it counts by its size.
fn stepped(model: &Model, i: usize, step: f64) -> Model {
    let mut trial = *model;
    let curve = &mut trial.curve.0;
    match i {
        4 => {
            curve[4] = (curve[4] * (1.0 + step / 64.0))
                .round()
                .clamp(200.0, 20_000.0);
        }
        0..4 => curve[i] += step,
        _ => trial.rating[i - Model::RATING.start] += step,
    }
    let curve = &mut trial.curve.0;
    curve[2] = curve[2].max(15.0);
    curve[3] = curve[3].max(15.0 - curve[2]);
    trial
}

/// A tenth of the expected score: positions, sums of expected and made points, and games.
#[derive(Clone, Default)]
struct Tenth {
    count: usize,
    weight: f64,
    expected: f64,
    made: f64,
    games: HashSet<usize>,
}

/// Reliability by tenths of the expected score, and the Brier score with its parts.
fn reliability(cases: &[(Case, Model)]) -> String {
    let mut tenths = vec![Tenth::default(); 10];
    let (mut brier, mut total) = (0.0, 0.0);
    for (case, model) in cases {
        let (win, loss) = model.chances(case);
        let expected = win + (1.0 - win - loss) / 2.0;
        let made = case.points as f64 / 2.0;
        let tenth = &mut tenths[((expected * 10.0) as usize).min(9)];
        tenth.count += 1;
        tenth.weight += case.weight;
        tenth.expected += case.weight * expected;
        tenth.made += case.weight * made;
        tenth.games.insert(case.game);
        brier += case.weight * (expected - made).powi(2);
        total += case.weight * made;
    }
    let n = cases.iter().map(|(c, _)| c.weight).sum::<f64>().max(1e-9);
    let base = total / n;
    let (mut unreliable, mut resolved) = (0.0, 0.0);
    let mut text = String::from(
        "| expected | made | off | positions | games |\n| --- | --- | --- | --- | --- |\n",
    );
    for tenth in tenths.iter().filter(|t| t.count > 0) {
        let (e, m) = (tenth.expected / tenth.weight, tenth.made / tenth.weight);
        unreliable += tenth.weight * (e - m).powi(2) / n;
        resolved += tenth.weight * (m - base).powi(2) / n;
        let games = tenth.games.len();
        let _ = writeln!(
            text,
            "| {e:.3} | {m:.3} | {:+.3} | {} | {games} |",
            m - e,
            tenth.count
        );
    }
    let spread: f64 = cases
        .iter()
        .map(|(c, _)| c.weight * (c.points as f64 / 2.0 - base).powi(2))
        .sum::<f64>()
        / n;
    let _ = writeln!(
        text,
        "\nBrier score {:.4}: reliability {unreliable:.4}, resolution {resolved:.4}, uncertainty {spread:.4}\n\
         (the parts leave out the spread within a tenth).",
        brier / n
    );
    text
}

/// Parts of the games; each is predicted by a curve that has not seen it.
const PARTS: usize = 10;

/// Each case with the model of the games outside its part.
fn predicted(cases: &[Case], parameters: &Range<usize>) -> Vec<(Case, Model)> {
    let outside = |part: usize| -> Vec<Case> {
        let others = cases.iter().filter(|c| c.game % PARTS != part);
        others.copied().collect()
    };
    let models: Vec<Model> = (0..PARTS)
        .map(|part| fit(&outside(part), parameters))
        .collect();
    cases
        .iter()
        .map(|case| (*case, models[case.game % PARTS]))
        .collect()
}

/// With fewer games there are too few to fit a curve and to hold some out.
const LEAST: usize = 40;

fn too_few(games: usize, which: &str) -> String {
    format!(
        "{games} {which} are too few to fit a curve and to hold some out; {LEAST} are the least, some thousands the aim"
    )
}

/// Fits the curve on all games and reports how curves fitted in the same way hold on games that they
/// have not seen, one position of every `stride`.
///
/// # Errors
/// Fewer than 40 games, or files of positions without the ends of games: too little to hold any out.
pub fn calibrate(bytes: &[u8], stride: usize, from: Source) -> Result<Calibrated, String> {
    let (kept, nodes) = read(bytes, stride);
    let games = kept.iter().map(|k| k.game).collect::<HashSet<_>>().len();
    let Some((low, high)) = nodes.filter(|_| games >= LEAST) else {
        return Err(too_few(games, "games"));
    };
    let cases = match from {
        Source::Games => recorded(&kept),
        Source::Search { nodes, threads } => searched(&kept, nodes, threads),
    };
    let played = if low == high {
        low.to_string()
    } else {
        format!("{low} to {high}")
    };
    let scores = match from {
        Source::Games => "the scores of the games' own searches".to_owned(),
        Source::Search { nodes, .. } => format!("scores of new searches of {nodes} nodes"),
    };
    let model = fit(&cases, &Model::CURVE);
    let told = format!("{games} games of {played} nodes a move, {scores}");
    Ok(calibrated(
        &cases,
        &model,
        &Model::FITTED,
        &Model::CURVE,
        &told,
    ))
}

/// The same on games of people, with new searches of `nodes` nodes and the difference of ratings as a term.
///
/// # Errors
/// Fewer than 40 games.
pub fn calibrate_rated(rated: &[Rated], nodes: u64, threads: usize) -> Result<Calibrated, String> {
    let games = rated.iter().map(|r| r.game).collect::<HashSet<_>>().len();
    if games < LEAST {
        return Err(too_few(games, "games with a result and both ratings"));
    }
    let mut cases = played(rated, nodes, threads);
    weigh_games_alike(&mut cases);
    let before = fit(&cases, &Model::RATING);
    let model = descend(&cases, before, &Model::ALL);
    let [base, more] = model.rating;
    let told = format!(
        "{games} games of people with ratings, scores of searches of {nodes} nodes, each hundred points of difference\n\
         worth {base} centipawns and {more} more with all pieces on the board, every game of the same weight"
    );
    Ok(calibrated(&cases, &model, &before, &Model::ALL, &told))
}

fn calibrated(
    cases: &[Case],
    model: &Model,
    before: &Model,
    parameters: &Range<usize>,
    told: &str,
) -> Calibrated {
    let unseen = predicted(cases, parameters);
    let report = format!(
        "{told}: {} positions,\n\
         each predicted by a curve fitted to the other nine tenths of the games.\n\
         Loss {:.4}, with the curve before {:.4} (of the curve fitted to all {:.4}).\n\n{}",
        cases.len(),
        mean_loss(unseen.iter().map(|(case, model)| (case, model))),
        loss(cases, before),
        loss(cases, model),
        reliability(&unseen)
    );
    let source = source(&model.curve, &report);
    Calibrated { report, source }
}

/// The source file of a curve, with the report on it.
fn source(curve: &Curve, report: &str) -> String {
    let mut text = String::from(
        "//! The fitted curve, written by `foreply engine calibrate`; what it said:\n//!\n",
    );
    for line in report.lines() {
        let _ = writeln!(text, "{}", format!("//! {line}").trim_end());
    }
    let numbers: Vec<String> = curve.0.iter().map(|n| format!("{n:?}")).collect();
    let _ = writeln!(
        text,
        "\n/// Parameters of `wdl::Curve`.\npub const FITTED: [f64; 5] = [{}];",
        numbers.join(", ")
    );
    text
}

#[cfg(test)]
#[path = "calibrate_tests.rs"]
mod tests;
