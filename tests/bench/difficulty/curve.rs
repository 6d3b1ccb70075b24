//! How far the difficulty orders the errors.

use foreply::games::account::difficulty::{self, Difficulty, HARD, VERY_HARD};

use super::again::{Interval, samples};
use super::collect::{OTHER_IMPRESSIONS, Seen};

/// A position that is not decided: how hard, and whether the player erred.
#[derive(Clone, Copy)]
struct Judged<'a> {
    seen: &'a Seen,
    difficulty: Difficulty,
    erred: bool,
}

/// Whether a position belongs to a part of the sample.
type Inside = Box<dyn Fn(&Judged) -> bool>;

type Term = fn(&Difficulty) -> f64;

/// What is held against the errors.
const TERMS: [(&str, Term); 5] = [
    ("D as told", |d| d.value()),
    ("risk", |d| d.risk),
    ("first impression", |d| d.impression),
    ("1.5 risk + 2 first impression", |d| {
        1.5 * d.risk + 2.0 * d.impression
    }),
    ("moves that do not keep, of the legal ones", |d| {
        1.0 - d.keep as f64 / d.legal as f64
    }),
];

/// Expected scores beyond which a position is decided.
const OPEN: std::ops::RangeInclusive<f64> = 0.10..=0.97;

/// Prints all of it.
pub fn curve(seen: &[Seen]) {
    let all: Vec<Judged> = seen.iter().filter_map(judged).collect();
    if all.is_empty() {
        return;
    }
    let errors = all.iter().filter(|j| j.erred).count();
    let games: std::collections::BTreeSet<usize> = all.iter().map(|j| j.seen.game).collect();
    println!(
        "{} positions of {} games, {errors} errors of .10 or more; intervals: 95 %, whole games drawn again",
        all.len(),
        games.len()
    );
    if errors < 5 {
        println!("  too few errors to say anything");
        return;
    }
    let half = |which: usize| -> Vec<Judged> {
        all.iter()
            .filter(|j| j.seen.game % 2 == which)
            .copied()
            .collect()
    };
    for (words, of) in [
        ("all", all.clone()),
        ("even games", half(0)),
        ("odd games", half(1)),
    ] {
        println!("{words}: {} positions", of.len());
        for (name, term) in TERMS {
            line(name, &of, term);
        }
        others(&of);
    }
    parts(&all);
    borders(&half(0), &half(1));
}

fn judged(seen: &Seen) -> Option<Judged<'_>> {
    let legal = seen.searches.first()?.len();
    let difficulty = difficulty::measured(&seen.searches, legal)?;
    let open = difficulty.legal > 1 && OPEN.contains(&seen.best);
    open.then_some(Judged {
        seen,
        difficulty,
        erred: seen.best - seen.came >= difficulty::ERROR,
    })
}

fn line(name: &str, of: &[Judged], term: Term) {
    let values: Vec<(usize, (f64, bool))> = of
        .iter()
        .map(|j| (j.seen.game, (term(&j.difficulty), j.erred)))
        .collect();
    let [area, times, share] = samples(&values, figures);
    let percent = |i: Interval| {
        format!(
            "{:.0} % [{:.0}-{:.0}]",
            100.0 * i.mean,
            100.0 * i.low,
            100.0 * i.high
        )
    };
    println!(
        "  {name:<42} area {:.3} [{:.3}-{:.3}]  hardest tenth {:.1} [{:.1}-{:.1}] times the easiest fifth  hardest fifth {} of the errors",
        area.mean,
        area.low,
        area.high,
        times.mean,
        times.low,
        times.high,
        percent(share)
    );
}

/// Area under the curve: how often a position with an error is harder than one without (Mann-Whitney, 1947).
fn area(sorted: &[(f64, bool)]) -> f64 {
    let (mut rank_sum, mut errors) = (0.0, 0.0);
    let mut at = 0;
    while at < sorted.len() {
        let same = sorted[at..].iter().take_while(|x| x.0 == sorted[at].0);
        let end = at + same.count();
        let rank = (at + 1 + end) as f64 / 2.0;
        for x in &sorted[at..end] {
            if x.1 {
                rank_sum += rank;
                errors += 1.0;
            }
        }
        at = end;
    }
    let others = sorted.len() as f64 - errors;
    (rank_sum - errors * (errors + 1.0) / 2.0) / (errors * others)
}

/// The area, the errors of the hardest tenth against the easiest fifth, and the hardest fifth's share of all errors.
fn figures(of: &[(f64, bool)]) -> [f64; 3] {
    let mut sorted = of.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let n = sorted.len();
    let errors = |part: &[(f64, bool)]| part.iter().filter(|x| x.1).count() as f64;
    // Half an error more on either side, so that an easiest fifth without any is told as a number (F. J. Anscombe, On estimating
    // binomial response relations, Biometrika 43, 1956; from memory).
    let share = |part: &[(f64, bool)]| (errors(part) + 0.5) / (part.len() as f64 + 1.0);
    [
        area(&sorted),
        share(&sorted[n - n / 10..]) / share(&sorted[..n / 5]),
        errors(&sorted[n - n / 5..]) / errors(&sorted),
    ]
}

/// A form of the difficulty; `None` where what it needs was not asked.
type Form = fn(&Judged) -> Option<f64>;

/// D with every move searched in another number of nodes: the place among the other truths.
fn by_truth(of: &Judged, which: usize) -> Option<f64> {
    let searches = &of.seen.searches;
    let truth = difficulty::IMPRESSIONS.len() + 2 + OTHER_IMPRESSIONS.len() + which;
    let some = [0, truth, 2, 3].map(|i| searches.get(i).cloned());
    let [Some(glance), Some(truth), Some(first), Some(second)] = some else {
        return None;
    };
    let other = difficulty::measured(&[glance, truth, first, second], of.difficulty.legal)?;
    Some(other.value())
}

/// What the program's two first impressions give away, held against a search that sees further.
fn held_deep(of: &Judged) -> Option<f64> {
    let deep = &of.seen.deep;
    let top = deep
        .iter()
        .map(|(_, worth)| *worth)
        .fold(f64::NAN, f64::max);
    let given = |at: usize| {
        let (mv, _) = of.seen.searches.get(at)?.first()?;
        let (_, worth) = deep.iter().find(|(m, _)| m == mv)?;
        Some((top - worth).clamp(0.0, difficulty::CAP))
    };
    Some(given(2)? + given(3)?)
}

/// Other forms of the difficulty, where they were asked for, and how much better than the program's own each is in the same
/// positions.
fn others(all: &[Judged]) {
    let forms: [(&str, Form); 5] = [
        ("every move with 32,000 nodes", |j| by_truth(j, 0)),
        ("every move with 64,000 nodes", |j| by_truth(j, 1)),
        ("first impressions held deep, alone", held_deep),
        ("the same and half the risk", |j| {
            Some(held_deep(j)? + 0.5 * j.difficulty.risk)
        }),
        ("the same and 1.5 risk", |j| {
            Some(held_deep(j)? + 1.5 * j.difficulty.risk)
        }),
    ];
    for (name, form) in forms {
        let values: Vec<(usize, (f64, bool, f64))> = all
            .iter()
            .filter_map(|j| Some((j.seen.game, (form(j)?, j.erred, j.difficulty.value()))))
            .collect();
        if values.is_empty() {
            continue;
        }
        let [area, gain, times] = samples(&values, |of| {
            let other: Vec<(f64, bool)> = of.iter().map(|x| (x.0, x.1)).collect();
            let own: Vec<(f64, bool)> = of.iter().map(|x| (x.2, x.1)).collect();
            let (other, own) = (figures(&other), figures(&own));
            [other[0], other[0] - own[0], other[1]]
        });
        println!(
            "  {name:<42} {} positions, area {:.3} [{:.3}-{:.3}], {:+.3} [{:+.3} to {:+.3}] against D as told; hardest tenth {:.1} [{:.1}-{:.1}] times",
            values.len(),
            area.mean,
            area.low,
            area.high,
            gain.mean,
            gain.low,
            gain.high,
            times.mean,
            times.low,
            times.high
        );
    }
}

/// Where it orders well and where it does not.
fn parts(all: &[Judged]) {
    println!("D by parts of the sample:");
    let rated = |from: u32, to: u32| {
        move |j: &Judged| j.seen.mover().is_some_and(|r| (from..to).contains(&r))
    };
    let standing = |from: f64, to: f64| move |j: &Judged| (from..to).contains(&j.seen.best);
    let parts: [(&str, Inside); 7] = [
        ("rated below 2000", Box::new(rated(0, 2000))),
        ("rated 2000 to 2200", Box::new(rated(2000, 2200))),
        ("rated from 2200 on", Box::new(rated(2200, 9999))),
        ("standing worse (below .35)", Box::new(standing(0.0, 0.35))),
        (
            "standing level (.35 to .65)",
            Box::new(standing(0.35, 0.65)),
        ),
        (
            "standing better (from .65 on)",
            Box::new(standing(0.65, 1.1)),
        ),
        (
            "two to five moves possible",
            Box::new(|j| j.difficulty.legal <= 5),
        ),
    ];
    for (words, inside) in &parts {
        let of: Vec<Judged> = all.iter().filter(|j| inside(j)).copied().collect();
        let errors = of.iter().filter(|j| j.erred).count();
        println!("  {words}: {} positions, {errors} errors", of.len());
        if errors >= 15 {
            line("", &of, |d| d.value());
        }
    }
}

/// The borders of the words, as the first half has them, and what they part on the second.
fn borders(first: &[Judged], second: &[Judged]) {
    let mut values: Vec<f64> = first.iter().map(|j| j.difficulty.value()).collect();
    values.sort_by(f64::total_cmp);
    let at = |share: usize| {
        values
            .get(values.len() * share / 10)
            .copied()
            .unwrap_or_default()
    };
    println!(
        "borders on the even games: hardest fifth from {:.2} on (told {HARD}), hardest tenth from {:.2} on (told {VERY_HARD})",
        at(8),
        at(9)
    );
    let errors = |from: f64, to: f64| {
        let of = second
            .iter()
            .filter(|j| (from..to).contains(&j.difficulty.value()));
        let of: Vec<&Judged> = of.collect();
        let errors = of.iter().filter(|j| j.erred).count();
        format!(
            "{errors} of {} ({:.1} %)",
            of.len(),
            100.0 * errors as f64 / of.len().max(1) as f64
        )
    };
    println!(
        "errors on the odd games: easy {}, neither {}, hard {}, very hard {}",
        errors(f64::NEG_INFINITY, HARD / 2.0),
        errors(HARD / 2.0, HARD),
        errors(HARD, VERY_HARD),
        errors(VERY_HARD, f64::INFINITY)
    );
    let mut both: Vec<Judged> = [first, second].concat();
    both.sort_by(|a, b| a.difficulty.value().total_cmp(&b.difficulty.value()));
    let shares: Vec<String> = both
        .chunks(both.len().div_ceil(10).max(1))
        .map(|tenth| {
            let errors = tenth.iter().filter(|j| j.erred).count();
            format!("{:.1}", 100.0 * errors as f64 / tenth.len() as f64)
        })
        .collect();
    println!(
        "from tenth to tenth of D the share of errors: {} %",
        shares.join(", ")
    );
}
