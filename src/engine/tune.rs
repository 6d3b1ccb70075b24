//! Fits the weights of the evaluation to the results of games.
//!
//! Logistic regression (D. R. Cox, "The Regression Analysis of Binary Sequences", Journal of the
//! Royal Statistical Society B 20(2), 1958): the expected points are the logistic function of the
//! evaluation, and the cross-entropy against the points made is brought down. Steps after D. Kingma
//! and J. Ba, "Adam: A Method for Stochastic Optimization", 2015. The points made are mixed with what
//! the search expected, since one game's result says little about each of its positions.

use std::fmt::Write as _;

use super::evaluation::{self, FULL_PHASE, Sink};
use super::piece_square::square_term;
use super::record::{BYTES, Record};
use super::terms::{self, COUNT};
use super::types::*;
use super::weights::WEIGHTS;

/// Share of the result in what is fitted to; the rest is the score of the search.
const RESULT_SHARE: f64 = 0.7;
/// Centipawns that multiply the odds by e; only fixes what a centipawn is.
const UNIT: f64 = 200.0;

/// Terms of one position: weight and count, White minus Black; danger separately for either king.
#[derive(Default)]
struct Trace {
    plain: Vec<(u16, i16)>,
    danger: [Vec<(u16, i16)>; 2],
}

fn tally(list: &mut Vec<(u16, i16)>, term: usize, times: i32) {
    if times == 0 {
        return;
    }
    match list.iter_mut().find(|(t, _)| usize::from(*t) == term) {
        Some((_, n)) => *n += times as i16,
        None => list.push((term as u16, times as i16)),
    }
}

impl Sink for Trace {
    fn add(&mut self, colour: Colour, term: usize, times: i32) {
        tally(
            &mut self.plain,
            term,
            if colour == WHITE { times } else { -times },
        );
    }

    fn danger(&mut self, colour: Colour, term: usize, times: i32) {
        tally(&mut self.danger[colour & 1], term, times);
    }

    fn close_danger(&mut self, _: Colour) {}
}

/// A position as the regression sees it.
struct Sample {
    terms: Box<[(u16, i16)]>,
    danger: [Box<[(u16, i16)]>; 2],
    middle: f32,
    end: f32,
    target: f32,
}

fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

fn sample(record: &Record) -> Sample {
    let p = &record.position;
    let mut trace = Trace::default();
    for square in p.occupied() {
        let man = p.on(square);
        let (kind, colour) = (kind_of(man), colour_of(man));
        trace.add(colour, square_term(kind, relative(colour, square)), 1);
        if kind != KING {
            trace.add(colour, terms::MATERIAL + kind, 1);
        }
    }
    let scale = evaluation::trace(p, &mut trace);
    trace.plain.retain(|(_, n)| *n != 0);
    let phase = f64::from(evaluation::phase(p)) / f64::from(FULL_PHASE);
    let made = f64::from(record.points) / 2.0;
    let expected = logistic(f64::from(record.score) / UNIT);
    let [white, black] = trace.danger;
    Sample {
        terms: trace.plain.into_boxed_slice(),
        danger: [white.into_boxed_slice(), black.into_boxed_slice()],
        middle: phase as f32,
        end: ((1.0 - phase) * scale) as f32,
        target: (RESULT_SHARE * made + (1.0 - RESULT_SHARE) * expected) as f32,
    }
}

type Weights = Vec<[f64; 2]>;

/// Units of danger to a king, and whether they are inside the range that costs.
fn danger(units: &[(u16, i16)], weights: &Weights) -> (f64, bool) {
    let sum: f64 = units
        .iter()
        .map(|&(t, n)| weights[usize::from(t)][0] * f64::from(n))
        .sum();
    (sum.clamp(0.0, 1600.0), sum > 0.0 && sum < 1600.0)
}

impl Sample {
    /// White's evaluation in centipawns.
    fn evaluate(&self, weights: &Weights) -> f64 {
        let (mut middle, mut end) = (0.0, 0.0);
        for &(t, n) in &self.terms {
            let w = weights[usize::from(t)];
            middle += w[0] * f64::from(n);
            end += w[1] * f64::from(n);
        }
        for (units, sign) in self.danger.iter().zip([-1.0, 1.0]) {
            let (u, _) = danger(units, weights);
            middle += sign * u * u / 2048.0;
            end += sign * u / 16.0;
        }
        middle * f64::from(self.middle) + end * f64::from(self.end)
    }

    /// Adds this position's gradient; gives its loss.
    fn learn(&self, weights: &Weights, gradient: &mut Weights) -> f64 {
        let expected = logistic(self.evaluate(weights) / UNIT);
        let target = f64::from(self.target);
        let error = (expected - target) / UNIT;
        let (middle, end) = (error * f64::from(self.middle), error * f64::from(self.end));
        for &(t, n) in &self.terms {
            let slot = &mut gradient[usize::from(t)];
            slot[0] += middle * f64::from(n);
            slot[1] += end * f64::from(n);
        }
        for (units, sign) in self.danger.iter().zip([-1.0, 1.0]) {
            let (u, inside) = danger(units, weights);
            if inside {
                let slope = sign * (middle * u / 1024.0 + end / 16.0);
                for &(t, n) in units {
                    gradient[usize::from(t)][0] += slope * f64::from(n);
                }
            }
        }
        let e = expected.clamp(1e-9, 1.0 - 1e-9);
        -(target * e.ln() + (1.0 - target) * (1.0 - e).ln())
    }
}

/// What a fit gave.
pub struct Fitted {
    pub positions: usize,
    /// Mean cross-entropy on the tenth of the positions that was held out, before and after.
    pub before: f64,
    pub after: f64,
    /// The new list of weights as source text.
    pub source: String,
}

fn mean_loss(samples: &[Sample], weights: &Weights) -> f64 {
    let mut scratch = vec![[0.0; 2]; COUNT];
    let total: f64 = samples.iter().map(|s| s.learn(weights, &mut scratch)).sum();
    total / samples.len().max(1) as f64
}

/// Gradient of the mean loss, worked out in parallel; the order of summing is fixed.
fn gradient(samples: &[Sample], weights: &Weights, threads: usize) -> Weights {
    let share = samples.len().div_ceil(threads.max(1)).max(1);
    let parts: Vec<Weights> = std::thread::scope(|scope| {
        let handles: Vec<_> = samples
            .chunks(share)
            .map(|chunk| {
                scope.spawn(move || {
                    let mut part = vec![[0.0; 2]; COUNT];
                    for sample in chunk {
                        sample.learn(weights, &mut part);
                    }
                    part
                })
            })
            .collect();
        handles.into_iter().filter_map(|h| h.join().ok()).collect()
    });
    let mut sum = vec![[0.0; 2]; COUNT];
    for part in parts {
        for (to, from) in sum.iter_mut().zip(part) {
            to[0] += from[0] / samples.len() as f64;
            to[1] += from[1] / samples.len() as f64;
        }
    }
    sum
}

/// Fits all weights to packed records in `epochs` steps over the whole set.
pub fn fit(bytes: &[u8], epochs: usize, threads: usize) -> Fitted {
    let (chunks, _) = bytes.as_chunks::<BYTES>();
    let share = chunks.len().div_ceil(threads.max(1)).max(1);
    let samples: Vec<Sample> = std::thread::scope(|scope| {
        let read = |part: &[[u8; BYTES]]| -> Vec<Sample> {
            part.iter()
                .filter_map(Record::unpack)
                .filter(|r| r.quiet)
                .map(|r| sample(&r))
                .collect()
        };
        let handles: Vec<_> = chunks
            .chunks(share)
            .map(|part| scope.spawn(move || read(part)))
            .collect();
        handles
            .into_iter()
            .filter_map(|h| h.join().ok())
            .flatten()
            .collect()
    });
    let (held_out, used) = samples.split_at(samples.len() / 10);
    let start: Weights = WEIGHTS
        .iter()
        .map(|w| [f64::from(w.middle()), f64::from(w.end())])
        .collect();
    let mut weights = start.clone();
    let (mut mean, mut square) = (vec![[0.0; 2]; COUNT], vec![[0.0; 2]; COUNT]);
    for epoch in 1..=epochs {
        let slope = gradient(used, &weights, threads);
        let rate = if epoch * 3 > epochs * 2 { 0.3 } else { 1.0 };
        let warm = (
            1.0 - 0.9_f64.powi(epoch as i32),
            1.0 - 0.999_f64.powi(epoch as i32),
        );
        for i in 0..COUNT {
            for half in 0..2 {
                // A faint pull to where it was: what no position speaks about stays.
                let g = slope[i][half] + 6e-9 * (weights[i][half] - start[i][half]);
                mean[i][half] = 0.9 * mean[i][half] + 0.1 * g;
                square[i][half] = 0.999 * square[i][half] + 0.001 * g * g;
                weights[i][half] -=
                    rate * (mean[i][half] / warm.0) / ((square[i][half] / warm.1).sqrt() + 1e-9);
            }
        }
    }
    Fitted {
        positions: samples.len(),
        before: mean_loss(held_out, &start),
        after: mean_loss(held_out, &weights),
        source: source(&weights),
    }
}

fn source(weights: &Weights) -> String {
    let mut text = String::from(
        "//! The weights of the evaluation in centipawns, middlegame and endgame, in the order of `terms`.\n\
         //!\n\
         //! Fitted by `foreply engine tune` to games of the engine against itself.\n\n\
         use super::terms::COUNT;\n\
         use crate::engine::types::Score;\n\n\
         const fn s(middle: i32, end: i32) -> Score {\n    Score::new(middle, end)\n}\n\n\
         #[rustfmt::skip]\n\
         pub const WEIGHTS: [Score; COUNT] = [\n",
    );
    let mut at = 0;
    for &(name, length) in terms::GROUPS {
        let _ = writeln!(text, "    // {name}");
        let group = &weights[at..at + length];
        at += length;
        for row in group.chunks(if name == "SQUARES" { 4 } else { 8 }) {
            let cells: Vec<String> = row
                .iter()
                .map(|w| format!("s({}, {}),", w[0].round() as i32, w[1].round() as i32))
                .collect();
            let _ = writeln!(text, "    {}", cells.join(" "));
        }
    }
    text + "];\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is tuned is what is played: the trace adds up to the evaluation, up to rounding.
    #[test]
    fn the_trace_adds_up_to_the_evaluation() {
        let weights: Weights = WEIGHTS
            .iter()
            .map(|w| [f64::from(w.middle()), f64::from(w.end())])
            .collect();
        for position in super::super::bench::positions() {
            let traced = sample(&Record {
                position,
                score: 0,
                points: 1,
                quiet: true,
            })
            .evaluate(&weights);
            let mut table = evaluation::PawnTable::default();
            let mut plain = f64::from(evaluation::evaluate(&position, &mut table));
            if position.turn == BLACK {
                plain = -plain;
            }
            assert!((traced - plain).abs() < 4.0, "{traced} {plain}");
        }
    }
}
