//! Expected result from a score: win, draw and loss in permille.
//!
//! Two logistic curves, one for winning and one for losing, as in the ordered logit model
//! (P. McCullagh, "Regression Models for Ordinal Data", Journal of the Royal Statistical Society B
//! 42(2), 1980): `win = s((x - a) / b)`, `loss = s((-x - a) / b)`, `s` the logistic function, `x`
//! the score in centipawns, `a` the width of the draw zone, `b` how fast certainty grows.

use super::types::MATE_BOUND;

/// Chances of the side to move in permille; they add up to 1000.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Wdl {
    pub win: u32,
    pub draw: u32,
    pub loss: u32,
}

/// Score at which winning becomes as likely as not, and spread, in centipawns.
const DRAW_ZONE: f64 = 110.0;
const SPREAD: f64 = 75.0;

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

/// Chances for a score of the side to move.
pub fn from_score(score: i32) -> Wdl {
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
    let x = f64::from(score);
    let win = (1000.0 * logistic((x - DRAW_ZONE) / SPREAD)).round() as u32;
    let loss = (1000.0 * logistic((-x - DRAW_ZONE) / SPREAD)).round() as u32;
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
            let (a, b) = (from_score(x), from_score(-x));
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
