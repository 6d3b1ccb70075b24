//! Fits what a score is worth to how games went on from there, and says how well the fit holds on
//! games that it has not seen.
//!
//! The fit is the ordered logit model of `wdl` by maximum likelihood. Reliability by tenths and the
//! parts of the Brier score: A. H. Murphy, "A New Vector Partition of the Probability Score", Journal
//! of Applied Meteorology 12(4), 1973; G. W. Brier, "Verification of Forecasts Expressed in Terms of
//! Probability", Monthly Weather Review 78(1), 1950.

use std::fmt::Write as _;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::Relaxed};
use std::sync::{Arc, Mutex, PoisonError};

use super::evaluation::{self, FULL_PHASE};
use super::record::{BYTES, Record};
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
}

/// A case from a score for the side to move; mates need no calibration.
fn case(record: &Record, score: i32) -> Option<Case> {
    let p = &record.position;
    let points = if p.turn == WHITE {
        record.points
    } else {
        2 - record.points
    };
    (score.abs() < MATE_BOUND).then(|| Case {
        score: f64::from(score),
        phase: f64::from(evaluation::phase(p)) / f64::from(FULL_PHASE),
        points: usize::from(points),
    })
}

/// Cases by the score that the game's own search gave.
fn recorded(records: &[Record]) -> Vec<Case> {
    let own = |r: &Record| {
        if r.position.turn == WHITE {
            r.score
        } else {
            -r.score
        }
    };
    records.iter().filter_map(|r| case(r, own(r))).collect()
}

/// Searches every record with `nodes` nodes.
fn search_all(records: &[Record], nodes: u64, threads: usize) -> Vec<Case> {
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
                    let p = &record.position;
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

/// Minimises the loss by trying steps along each parameter, halving them when none helps.
fn fit_curve(cases: &[Case]) -> Curve {
    let mut best = Curve::FITTED;
    let mut lowest = loss(cases, &best);
    let mut step = 16.0;
    while step > 0.2 {
        let mut improved = false;
        for i in 0..5 {
            for sign in [-1.0, 1.0] {
                let mut trial = best;
                trial.0[i] += sign * step * if i == 4 { 16.0 } else { 1.0 };
                if trial.0[2] < 20.0 || trial.0[2] + trial.0[3] < 20.0 || trial.0[4] < 200.0 {
                    continue;
                }
                let value = loss(cases, &trial);
                if value < lowest {
                    (best, lowest, improved) = (trial, value, true);
                }
            }
        }
        if !improved {
            step /= 2.0;
        }
    }
    best
}

/// Reliability by tenths of the expected score, and the Brier score with its parts.
fn reliability(cases: &[Case], curve: &Curve) -> String {
    let mut bins = [(0.0, 0.0, 0.0); 10];
    let (mut brier, mut total) = (0.0, 0.0);
    for case in cases {
        let (win, loss) = curve.chances(case.score, case.phase);
        let expected = win + (1.0 - win - loss) / 2.0;
        let made = case.points as f64 / 2.0;
        let bin = &mut bins[((expected * 10.0) as usize).min(9)];
        *bin = (bin.0 + 1.0, bin.1 + expected, bin.2 + made);
        brier += (expected - made).powi(2);
        total += made;
    }
    let n = cases.len().max(1) as f64;
    let base = total / n;
    let (mut unreliable, mut resolved) = (0.0, 0.0);
    let mut text = String::from("expected  made   off    positions\n");
    for (count, expected, made) in bins {
        if count > 0.0 {
            let (e, m) = (expected / count, made / count);
            unreliable += count * (e - m).powi(2) / n;
            resolved += count * (m - base).powi(2) / n;
            let _ = writeln!(text, "{e:.3}     {m:.3}  {:+.3}  {count}", m - e);
        }
    }
    let spread: f64 = cases
        .iter()
        .map(|c| (c.points as f64 / 2.0 - base).powi(2))
        .sum::<f64>()
        / n;
    let _ = writeln!(
        text,
        "Brier score {:.4} = reliability {unreliable:.4} - resolution {resolved:.4} + uncertainty {spread:.4} (+ spread within tenths)",
        brier / n
    );
    text
}

/// Fits the curve on one half of packed records, one of every `stride`, and reports on the other.
/// With `nodes` 0 the scores are those of the games themselves.
pub fn calibrate(bytes: &[u8], stride: usize, nodes: u64, threads: usize) -> String {
    let (chunks, _) = bytes.as_chunks::<BYTES>();
    let records: Vec<Record> = chunks
        .iter()
        .step_by(stride.max(1))
        .filter_map(Record::unpack)
        .collect();
    let cases = if nodes == 0 {
        recorded(&records)
    } else {
        search_all(&records, nodes, threads)
    };
    // Whole stretches of the file, so that one game is not on both sides.
    let (fitted, held_out) = cases.split_at(cases.len() / 2);
    let curve = fit_curve(fitted);
    format!(
        "{} positions searched with {nodes} nodes, half of them held out\nloss {:.4} before, {:.4} fitted, {:.4} held out\n{curve:?}\n{}",
        cases.len(),
        loss(held_out, &Curve::FITTED),
        loss(fitted, &curve),
        loss(held_out, &curve),
        reliability(held_out, &curve)
    )
}
