//! Expected result from a score: win, draw and loss in permille.
//!
//! Two logistic curves, one for winning and one for losing, as in the ordered logit model
//! (P. McCullagh, "Regression Models for Ordinal Data", Journal of the Royal Statistical Society B
//! 42(2), 1980): `win = s((x - a) / b)`, `loss = s((-x - a) / b)`, `s` the logistic function, `x`
//! the score in centipawns, `a` the width of the draw zone, `b` how fast certainty grows.
//! `fitted.rs` holds the parameters and how well they hold on games that the fit has not seen;
//! `foreply engine calibrate FILE... --write src/engine/fitted.rs` writes it.

use super::evaluation::FULL_PHASE;
use super::types::MATE_BOUND;

/// Chances of the side to move in permille; they add up to 1000.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Wdl {
    pub win: u32,
    pub draw: u32,
    pub loss: u32,
}

/// The parameters `a` and `b`: `a = [0] + [1] phase`, `b = [2] + [3] phase`, in centipawns, with a
/// phase of 1 with all pieces on the board and 0 with pawns alone. A score `x` counts as
/// `x k / (k + |x|)` with `k = [4]`: large advantages are squandered more often than the logistic
/// curve says.
#[derive(Clone, Copy, Debug)]
pub struct Curve(pub [f64; 5]);

impl Curve {
    pub const FITTED: Curve = Curve(super::fitted::FITTED);

    /// Chances to win and to lose, from 0 to 1.
    pub fn chances(&self, score: f64, phase: f64) -> (f64, f64) {
        self.chances_ahead(score, phase, 0.0)
    }

    /// The same for who is ahead by so many centipawns more by playing better.
    pub fn chances_ahead(&self, score: f64, phase: f64, ahead: f64) -> (f64, f64) {
        let [a0, a1, b0, b1, k] = self.0;
        let score = score * k / (k + score.abs()) + ahead;
        let (zone, spread) = (a0 + a1 * phase, b0 + b1 * phase);
        (
            logistic((score - zone) / spread),
            logistic((-score - zone) / spread),
        )
    }
}

/// Natural exponential by halving the argument and a power series: only basic operations, whose
/// results IEEE 754 fixes, so that every machine prints the same digits.
fn exponential(x: f64) -> f64 {
    let x = x.clamp(-50.0, 50.0) / 1024.0;
    let mut term = 1.0;
    let mut sum = 1.0;
    for n in 1..8 {
        term *= x / f64::from(n);
        sum += term;
    }
    for _ in 0..10 {
        sum *= sum;
    }
    sum
}

fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + exponential(-x))
}

/// Chances for a score of the side to move, with the phase of the root from 0 to 24.
pub fn from_score(score: i32, phase: i32) -> Wdl {
    if score >= MATE_BOUND {
        return Wdl {
            win: 1000,
            draw: 0,
            loss: 0,
        };
    }
    if score <= -MATE_BOUND {
        return Wdl {
            win: 0,
            draw: 0,
            loss: 1000,
        };
    }
    let (win, loss) =
        Curve::FITTED.chances(f64::from(score), f64::from(phase) / f64::from(FULL_PHASE));
    let (win, loss) = (
        (1000.0 * win).round() as u32,
        (1000.0 * loss).round() as u32,
    );
    Wdl {
        win,
        draw: 1000 - win - loss,
        loss,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_are_mirrored_and_whole() {
        for x in (-3000..3000).step_by(37) {
            let (a, b) = (from_score(x, x.abs() % 25), from_score(-x, x.abs() % 25));
            assert_eq!((a.win, a.draw, a.loss), (b.loss, b.draw, b.win));
            assert_eq!(a.win + a.draw + a.loss, 1000);
        }
    }

    #[test]
    fn own_exponential_agrees_with_the_library() {
        for i in -400..400 {
            let x = f64::from(i) / 10.0;
            assert!((exponential(x) / x.exp() - 1.0).abs() < 1e-9);
        }
    }
}
