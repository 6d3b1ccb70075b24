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

use std::collections::HashSet;
use std::fmt::Write as _;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::Relaxed};
use std::sync::{Arc, Mutex, PoisonError};

use super::evaluation::{self, FULL_PHASE};
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
    /// Points doubled: 0, 1 or 2.
    points: usize,
    /// Number of its game in the order of the files.
    game: usize,
}

/// A kept position and the number of its game.
#[derive(Clone, Copy)]
struct Kept {
    record: Record,
    game: usize,
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

/// A case from a score for the side to move; mates need no calibration.
fn case(kept: &Kept, score: i32) -> Option<Case> {
    let p = &kept.record.position;
    let points = if p.turn == WHITE {
        kept.record.points
    } else {
        2 - kept.record.points
    };
    (score.abs() < MATE_BOUND).then(|| Case {
        score: f64::from(score),
        phase: f64::from(evaluation::phase(p)) / f64::from(FULL_PHASE),
        points: usize::from(points),
        game: kept.game,
    })
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

/// Searches every record with `nodes` nodes.
fn search_all(records: &[Kept], nodes: u64, threads: usize) -> Vec<Case> {
    let next = AtomicUsize::new(0);
    let cases = Mutex::new(Vec::new());
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
                    let Some(record) = records.get(i) else { return };
                    table.forget();
                    worker.forget();
                    let p = &record.record.position;
                    let best = worker
                        .think(p, &[p.key], &limits, &mut |_| ())
                        .first()
                        .cloned();
                    let Some(best) = best else { continue };
                    let Some(case) = case(record, best.score) else {
                        continue;
                    };
                    cases
                        .lock()
                        .unwrap_or_else(PoisonError::into_inner)
                        .push((i, case));
                }
            };
            // A thread that cannot be had is one less.
            let _ = std::thread::Builder::new()
                .stack_size(32 << 20)
                .spawn_scoped(scope, work);
        }
    });
    let mut cases = cases.into_inner().unwrap_or_else(PoisonError::into_inner);
    cases.sort_by_key(|(i, _)| *i);
    cases.into_iter().map(|(_, case)| case).collect()
}

fn loss(cases: &[Case], curve: &Curve) -> f64 {
    let total: f64 = cases
        .iter()
        .map(|c| {
            let (win, loss) = curve.chances(c.score, c.phase);
            let chance = [loss, 1.0 - win - loss, win][c.points];
            -chance.max(1e-6).ln()
        })
        .sum();
    total / cases.len().max(1) as f64
}

/// Least gain in mean loss that is worth a step.
const WORTH: f64 = 2e-6;

/// Minimises the loss by steps along each parameter, halved when none helps.
fn fit_curve(cases: &[Case]) -> Curve {
    let mut best = Curve::FITTED;
    let mut lowest = loss(cases, &best);
    let mut step = 32.0;
    while step > 0.4 {
        let before = lowest;
        for (i, sign) in (0..5).flat_map(|i| [(i, -1.0), (i, 1.0)]) {
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

/// The curve with one parameter moved, kept where it still rises: the last one in proportion, since
/// it counts by its size.
fn stepped(curve: &Curve, i: usize, step: f64) -> Curve {
    let mut trial = *curve;
    match i {
        4 => {
            trial.0[4] = (trial.0[4] * (1.0 + step / 64.0))
                .round()
                .clamp(200.0, 20_000.0)
        }
        _ => trial.0[i] += step,
    }
    trial.0[2] = trial.0[2].max(15.0);
    trial.0[3] = trial.0[3].max(15.0 - trial.0[2]);
    trial
}

/// A tenth of the expected score: positions, sums of expected and made points, and games.
#[derive(Clone, Default)]
struct Tenth {
    count: f64,
    expected: f64,
    made: f64,
    games: HashSet<usize>,
}

/// Reliability by tenths of the expected score, and the Brier score with its parts.
fn reliability(cases: &[(Case, Curve)]) -> String {
    let mut tenths = vec![Tenth::default(); 10];
    let (mut brier, mut total) = (0.0, 0.0);
    for (case, curve) in cases {
        let (win, loss) = curve.chances(case.score, case.phase);
        let expected = win + (1.0 - win - loss) / 2.0;
        let made = case.points as f64 / 2.0;
        let tenth = &mut tenths[((expected * 10.0) as usize).min(9)];
        tenth.count += 1.0;
        tenth.expected += expected;
        tenth.made += made;
        tenth.games.insert(case.game);
        brier += (expected - made).powi(2);
        total += made;
    }
    let n = cases.len().max(1) as f64;
    let base = total / n;
    let (mut unreliable, mut resolved) = (0.0, 0.0);
    let mut text = String::from(
        "| expected | made | off | positions | games |\n| --- | --- | --- | --- | --- |\n",
    );
    for tenth in tenths.iter().filter(|t| t.count > 0.0) {
        let (e, m) = (tenth.expected / tenth.count, tenth.made / tenth.count);
        unreliable += tenth.count * (e - m).powi(2) / n;
        resolved += tenth.count * (m - base).powi(2) / n;
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
        .map(|(c, _)| (c.points as f64 / 2.0 - base).powi(2))
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

/// Each case with the curve of the games outside its part.
fn predicted(cases: &[Case]) -> Vec<(Case, Curve)> {
    let outside = |part: usize| -> Vec<Case> {
        let others = cases.iter().filter(|c| c.game % PARTS != part);
        others.copied().collect()
    };
    let curves: Vec<Curve> = (0..PARTS).map(|part| fit_curve(&outside(part))).collect();
    cases
        .iter()
        .map(|case| (*case, curves[case.game % PARTS]))
        .collect()
}

fn mean_loss(cases: &[(Case, Curve)]) -> f64 {
    let total: f64 = cases
        .iter()
        .map(|(c, curve)| loss(std::slice::from_ref(c), curve))
        .sum();
    total / cases.len().max(1) as f64
}

/// Fits the curve on all games and reports how curves fitted in the same way hold on games that they
/// have not seen, one position of every `stride`.
///
/// # Errors
/// Fewer than 40 games, or files of positions without the ends of games: too little to hold any out.
pub fn calibrate(bytes: &[u8], stride: usize, from: Source) -> Result<Calibrated, String> {
    let (kept, nodes) = read(bytes, stride);
    let games = kept.iter().map(|k| k.game).collect::<HashSet<_>>().len();
    let Some((low, high)) = nodes.filter(|_| games >= 40) else {
        return Err(format!(
            "{games} games are too few to fit a curve and to hold some out; 40 are the least, some thousands the aim"
        ));
    };
    let cases = match from {
        Source::Games => recorded(&kept),
        Source::Search { nodes, threads } => search_all(&kept, nodes, threads),
    };
    let curve = fit_curve(&cases);
    let unseen = predicted(&cases);
    let played = if low == high {
        low.to_string()
    } else {
        format!("{low} to {high}")
    };
    let scores = match from {
        Source::Games => "the scores of the games' own searches".to_owned(),
        Source::Search { nodes, .. } => format!("scores of new searches of {nodes} nodes"),
    };
    let report = format!(
        "{games} games of {played} nodes a move, {scores}: {} positions,\n\
         each predicted by a curve fitted to the other nine tenths of the games.\n\
         Loss {:.4}, with the curve before {:.4} (of the curve fitted to all {:.4}).\n\n{}",
        cases.len(),
        mean_loss(&unseen),
        loss(&cases, &Curve::FITTED),
        loss(&cases, &curve),
        reliability(&unseen)
    );
    let source = source(&curve, &report);
    Ok(Calibrated { report, source })
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
mod tests {
    use super::*;

    /// Games whose results follow a known curve: the fit finds it again, and holds on other games.
    fn made_up(truth: &Curve, games: usize) -> Vec<Case> {
        let mut seed = 1;
        let mut chance = || {
            seed = super::super::keys::mix(seed);
            (seed >> 11) as f64 / (1u64 << 53) as f64
        };
        (0..games)
            .map(|game| {
                let (score, phase) = (1600.0 * chance() - 800.0, chance());
                let (win, loss) = truth.chances(score, phase);
                let roll = chance();
                let points = if roll < win {
                    2
                } else if roll < win + loss {
                    0
                } else {
                    1
                };
                Case {
                    score,
                    phase,
                    points,
                    game,
                }
            })
            .collect()
    }

    #[test]
    fn finds_the_curve_that_made_the_results() {
        let truth = Curve([90.0, -30.0, 50.0, 40.0, 3000.0]);
        let cases = made_up(&truth, 4_000);
        let fitted = fit_curve(&cases);
        assert!(loss(&cases, &fitted) <= loss(&cases, &truth));
        for (score, phase) in [(0.0, 0.5), (150.0, 0.2), (-300.0, 0.9), (600.0, 0.5)] {
            let (a, b) = (truth.chances(score, phase), fitted.chances(score, phase));
            assert!(
                (a.0 - b.0).abs() < 0.04 && (a.1 - b.1).abs() < 0.04,
                "{score}"
            );
        }
    }

    /// Worked by hand: one half expects a win that comes, the other a draw that is lost or won.
    #[test]
    fn brier_score_and_its_parts() {
        let sure = |score, points, game| Case {
            score,
            phase: 0.0,
            points,
            game,
        };
        let curve = Curve([100.0, 0.0, 1.0, 0.0, 1e12]);
        let cases = [
            sure(5000.0, 2, 0),
            sure(5000.0, 2, 1),
            sure(0.0, 0, 2),
            sure(0.0, 2, 2),
        ];
        let text = reliability(&cases.map(|case| (case, curve)));
        insta::assert_snapshot!(text, @r"
        | expected | made | off | positions | games |
        | --- | --- | --- | --- | --- |
        | 0.500 | 0.500 | +0.000 | 2 | 1 |
        | 1.000 | 1.000 | +0.000 | 2 | 2 |

        Brier score 0.1250: reliability 0.0000, resolution 0.0625, uncertainty 0.1875
        (the parts leave out the spread within a tenth).
        ");
    }

    #[test]
    fn too_few_games_are_refused() {
        let error = calibrate(&[], 1, Source::Games).unwrap_err();
        insta::assert_snapshot!(error, @"0 games are too few to fit a curve and to hold some out; 40 are the least, some thousands the aim");
    }
}
