//! How far the difficulty orders the errors.

use foreply::games::account::difficulty::{self, Difficulty, HARD, VERY_HARD};

use super::again::{Interval, samples};
use super::collect::Seen;

/// A position that is not decided: how hard, and whether the player erred.
#[derive(Clone, Copy)]
struct Judged<'a> {
    seen: &'a Seen,
    difficulty: Difficulty,
    erred: bool,
}

/// Whether a position belongs to a part of the sample.
type Inside = Box<dyn Fn(&Judged) -> bool>;

type Term = fn(&Judged) -> f64;

/// What is held against the errors.
const TERMS: [(&str, Term); 4] = [
    ("D as told (the risk)", |j| j.difficulty.value()),
    ("first impression", |j| j.difficulty.impression),
    ("moves that do not keep, of the legal ones", |j| {
        1.0 - j.difficulty.keep as f64 / j.difficulty.legal as f64
    }),
    ("the risk by one search of every move", by_one_search),
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
    }
    parts(&all);
    borders(&half(0), &half(1));
}

fn judged(seen: &Seen) -> Option<Judged<'_>> {
    let legal = seen.searches.first()?.len();
    let difficulty = difficulty::measured(&seen.searches, seen.here, &seen.likely, legal)?;
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
        .map(|j| (j.seen.game, (term(j), j.erred)))
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

/// The area, the errors of the hardest tenth against the easiest fifth, and the hardest fifth's share of all errors. Positions
/// of one value share the errors among them, so that none is easier than its like by its place in the file.
fn figures(of: &[(f64, bool)]) -> [f64; 3] {
    let mut sorted = of.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let n = sorted.len();
    let errors = |part: &[(f64, bool)]| part.iter().filter(|x| x.1).count() as f64;
    let shared: Vec<f64> = sorted
        .chunk_by(|a, b| a.0 == b.0)
        .flat_map(|like| vec![errors(like) / like.len() as f64; like.len()])
        .collect();
    let sum = |part: &[f64]| part.iter().sum::<f64>();
    // Half an error more on either side, so that an easiest fifth without any is told as a number (F. J. Anscombe, On estimating
    // binomial response relations, Biometrika 43, 1956; from memory).
    let share = |part: &[f64]| (sum(part) + 0.5) / (part.len() as f64 + 1.0);
    [
        area(&sorted),
        share(&shared[n - n / 10..]) / share(&shared[..n / 5]),
        sum(&shared[n - n / 5..]) / sum(&shared),
    ]
}

/// The same risk, but with the likely moves' worth as the one search of every move tells it: how much it is worth to see further.
fn by_one_search(of: &Judged) -> f64 {
    let every = &of.seen.searches[1];
    let top = every.first().map_or(0.0, |(_, worth)| *worth);
    let worths: Vec<(String, f64)> = every.clone();
    difficulty::measured(&of.seen.searches, top, &worths, of.difficulty.legal)
        .map_or(0.0, |d| d.risk)
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
            line("", &of, |j| j.difficulty.value());
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
