//! The three bands against results: draws told and come, by kind of position and by who played, and what the other half of the
//! games makes of the constants.

use foreply::games::account::bands::{Drawishness, Ratings, shares};

use super::again::{Interval, samples};
use super::collect::Seen;

/// A position: its kind, who played, White's expected score and his points.
struct Banded<'a> {
    seen: &'a Seen,
    kind: Drawishness,
    players: Ratings,
    expected: f64,
}

/// t of a position.
type Spread<'a> = &'a dyn Fn(&Banded) -> f64;

/// The constants of the form: what is added for all, for each hundred points of strength, for the square of the hundreds between the two.
type Constants = [f64; 3];

impl Banded<'_> {
    fn is_draw(&self) -> f64 {
        f64::from(u8::from(self.seen.points == 0.5))
    }

    /// t by other constants than the program's.
    fn t(&self, of: Constants) -> f64 {
        self.players.threshold_by(self.kind, of)
    }

    fn loss(&self, t: f64) -> f64 {
        let s = shares(self.expected, t);
        let p = match self.seen.points {
            1.0 => s.win,
            0.0 => s.loss,
            _ => s.draw,
        };
        -p.max(1e-3).ln()
    }
}

/// Prints all of it.
pub fn bands(all: &[Seen]) {
    let all: Vec<Banded> = all.iter().filter_map(banded).collect();
    if all.is_empty() {
        return;
    }
    let every: Vec<&Banded> = all.iter().collect();
    println!(
        "bands of {} positions; intervals: 95 %, whole games drawn again",
        every.len()
    );
    by_kind(&every);
    by_players(&every);
    crossed(&every);
    people(&every);
}

fn banded(seen: &Seen) -> Option<Banded<'_>> {
    let (white, black) = seen.ratings;
    Some(Banded {
        seen,
        kind: Drawishness::ALL
            .into_iter()
            .find(|k| k.words() == seen.kind)?,
        players: Ratings { white, black },
        expected: if seen.white_to_move {
            seen.best
        } else {
            1.0 - seen.best
        },
    })
}

/// The mean of a value over positions, by games.
fn mean(of: &[&Banded], value: &dyn Fn(&Banded) -> f64) -> Interval {
    let values: Vec<(usize, f64)> = of.iter().map(|b| (b.seen.game, value(b))).collect();
    let [mean] = samples(&values, |of| [of.iter().sum::<f64>() / of.len() as f64]);
    mean
}

fn draws(words: &str, of: &[&Banded], t: &dyn Fn(&Banded) -> f64) {
    let told = |b: &Banded| shares(b.expected, t(b)).draw;
    let (said, came) = (mean(of, &told), mean(of, &|b| b.is_draw()));
    let off = mean(of, &|b| told(b) - b.is_draw());
    println!(
        "  {words:<34} {:>5}  draws told {:>3.0} %, came {:>3.0} %: {:+.1} [{:+.1} to {:+.1}]",
        of.len(),
        100.0 * said.mean,
        100.0 * came.mean,
        100.0 * off.mean,
        100.0 * off.low,
        100.0 * off.high
    );
}

fn told(b: &Banded) -> f64 {
    b.players.threshold(b.kind)
}

fn by_kind(every: &[&Banded]) {
    println!("by kind of position:");
    for kind in Drawishness::ALL {
        let of: Vec<&Banded> = every.iter().copied().filter(|b| b.kind == kind).collect();
        if of.len() >= 20 {
            draws(kind.words(), &of, &told);
        }
    }
}

fn by_players(every: &[&Banded]) {
    println!("by who played, as the program tells it:");
    draws("all", every, &told);
    let unrated = |b: &Banded| Ratings::default().threshold(b.kind);
    for (from, to) in [(0, 2000), (2000, 2200), (2200, 2400), (2400, 9999)] {
        let inside = |b: &&&Banded| (from..to).contains(&(b.players.mean_and_apart().0 as u32));
        let of: Vec<&Banded> = every.iter().filter(inside).copied().collect();
        if of.len() >= 50 {
            draws(&format!("rated {from} to {to}"), &of, &told);
            draws("  the same, told without ratings", &of, &unrated);
        }
    }
    for (from, to) in [(0, 50), (50, 150), (150, 300), (300, 9999)] {
        let inside = |b: &&&Banded| (from..to).contains(&(b.players.mean_and_apart().1 as u32));
        let of: Vec<&Banded> = every.iter().filter(inside).copied().collect();
        if of.len() >= 50 {
            draws(&format!("{from} to {to} points apart"), &of, &told);
        }
    }
}

/// Each half told by the constants that fit the other half best, against one t for each kind and against those of the program.
fn crossed(every: &[&Banded]) {
    let half = |which: usize| -> Vec<&Banded> {
        every
            .iter()
            .copied()
            .filter(|b| b.seen.game % 2 == which)
            .collect()
    };
    let halves = [half(0), half(1)];
    let fits = [fitted(&halves[0]), fitted(&halves[1])];
    println!(
        "constants that fit the even games {:.2?}, the odd games {:.2?}",
        fits[0], fits[1]
    );
    let other = |b: &Banded| b.t(fits[1 - b.seen.game % 2]);
    draws("all, each half told by the other", every, &other);
    let ways: [(&str, Spread); 3] = [
        ("as the program tells it", &told),
        ("each half told by the other", &other),
        ("by kind alone", &|b| b.kind.threshold()),
    ];
    for (words, t) in ways {
        let loss = mean(every, &|b| b.loss(t(b)));
        let gain = mean(every, &|b| b.loss(b.kind.threshold()) - b.loss(t(b)));
        println!(
            "  logarithmic loss {words:<28} {:.4} [{:.3}-{:.3}]; less than by kind alone {:+.4} [{:+.4} to {:+.4}]",
            loss.mean, loss.low, loss.high, gain.mean, gain.low, gain.high
        );
    }
    println!("  whoever knows nothing has {:.3}", 3f64.ln());
    for tenth in 0..10 {
        let share = |b: &Banded| shares(b.expected, other(b)).draw;
        let inside: Vec<&Banded> = every
            .iter()
            .copied()
            .filter(|b| (share(b) * 10.0) as usize == tenth)
            .collect();
        if inside.len() >= 50 {
            draws("  this tenth of the draws as told", &inside, &other);
        }
    }
}

/// The constants of a grid under which these results are likeliest.
fn fitted(of: &[&Banded]) -> Constants {
    let mut best = (f64::INFINITY, [0.0; 3]);
    for level in 0..=14 {
        for stronger in 0..=5 {
            for apart in 0..=10 {
                let [level, stronger, apart] = [level, stronger, apart].map(f64::from);
                let constants = [0.05 * level - 0.2, 0.02 * stronger, 0.01 * apart];
                let sum: f64 = of.iter().map(|b| b.loss(b.t(constants))).sum();
                if sum < best.0 {
                    best = (sum, constants);
                }
            }
        }
    }
    best.1
}

/// What the expected score says against the points that people made from there.
fn people(every: &[&Banded]) {
    println!("expected score of the side that stands better, and its points:");
    let better = |b: &Banded| b.expected.max(1.0 - b.expected);
    let points = |b: &Banded| match b.expected >= 0.5 {
        true => b.seen.points,
        false => 1.0 - b.seen.points,
    };
    for (from, to) in [(0.5, 0.6), (0.6, 0.7), (0.7, 0.8), (0.8, 0.9), (0.9, 1.01)] {
        let inside = |b: &&&Banded| (from..to).contains(&better(b));
        let of: Vec<&Banded> = every.iter().filter(inside).copied().collect();
        if of.len() >= 50 {
            let (said, came) = (mean(&of, &better), mean(&of, &points));
            println!(
                "  told {:.2}: made {:.2} [{:.2}-{:.2}] of {} positions",
                said.mean,
                came.mean,
                came.low,
                came.high,
                of.len()
            );
        }
    }
}
