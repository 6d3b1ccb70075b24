//! How far the difficulty of a position orders the errors of real games, and whether the three bands are true:
//! `cargo bench --bench difficulty -- FILE.pgn [--games N] [--every N] [--label NODES] [--jobs N] [--from MOVE]`.
//!
//! Of every so many positions from a move on: the difficulty as the account of a game tells it, and whether the player
//! gave away .10 or more there, judged with more nodes. Positions that are decided count for neither. Intervals are of
//! whole games drawn again (bootstrap; B. Efron, Bootstrap methods: another look at the jackknife, Annals of Statistics
//! 7, 1979). The games are given by path; none is shipped.

use std::fs;

use foreply::board::random::SplitMix;
use foreply::board::{Line, line};
use foreply::games::account::bands::{Drawishness, shares};
use foreply::games::account::difficulty::{Difficulty, difficulties};
use foreply::games::result;
use foreply::judge::{self, EngineCommand, EngineJudge, Judge, Question};
use foreply::tree::pgn;

/// One position of a game.
struct Seen {
    game: usize,
    difficulty: Difficulty,
    erred: bool,
}

/// A position for the bands: its kind, White's expected score, and White's points.
struct Banded {
    kind: Drawishness,
    expected: f64,
    points: f64,
}

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let Some(path) = words.iter().find(|w| w.ends_with(".pgn")) else {
        println!("left out: no games given; cargo bench --bench difficulty -- FILE.pgn");
        return;
    };
    let bytes = fs::read(path).expect("the file can be read");
    let text = pgn::decode(&bytes);
    let command = EngineCommand::new(env!("CARGO_BIN_EXE_foreply"), ["engine"]);
    let command = match std::env::var("FOREPLY_BENCH_ENGINE") {
        Ok(other) => EngineCommand::new(other, ["engine"]),
        Err(_) => command,
    };
    let run = judge::Settings {
        jobs: number("--jobs").unwrap_or(2),
        ..judge::Settings::default()
    };
    let judge = EngineJudge::start(command, run).expect("an engine");
    let (every, label) = (
        number("--every").unwrap_or(4),
        number("--label").unwrap_or(50_000),
    );
    let from = number("--from").unwrap_or(9);
    let (mut seen, mut banded) = (Vec::new(), Vec::new());
    let games = pgn::games(&text).filter_map(Result::ok);
    let with_result = games.filter(|g| !g.from_fen && result(g).is_some());
    for (number, game) in with_result
        .take(number("--games").unwrap_or(usize::MAX))
        .enumerate()
    {
        let mut at = Line::new(game.start.clone());
        let mut lines = vec![at.clone()];
        for mv in &game.main_moves {
            at.push(mv).expect("a legal move");
            lines.push(at.clone().rooted_here());
        }
        let places: Vec<usize> = (2 * (from - 1)..game.main_moves.len())
            .filter(|p| (p + number) % every == 0)
            .collect();
        one_game(
            number,
            &game,
            &lines,
            &places,
            label as u64,
            &judge,
            &mut seen,
            &mut banded,
        );
        if number % 20 == 19 {
            eprintln!("{} games, {} positions", number + 1, seen.len());
        }
    }
    curve(&seen);
    bands(&banded);
}

fn number(name: &str) -> Option<usize> {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|word| word == name)?;
    words.get(at + 1)?.parse().ok()
}

#[expect(clippy::too_many_arguments, reason = "a bench's one loop")]
fn one_game(
    number: usize,
    game: &pgn::Game,
    lines: &[Line],
    places: &[usize],
    label: u64,
    judge: &dyn Judge,
    seen: &mut Vec<Seen>,
    banded: &mut Vec<Banded>,
) {
    let ask = |ply: &usize| Question {
        line: lines[*ply].clone(),
        lines: 1,
        nodes: label,
    };
    let here = places.iter().map(ask);
    let after = places.iter().map(|p| ask(&(p + 1)));
    let answers = judge
        .answer(&here.chain(after).collect::<Vec<_>>())
        .expect("answers");
    let (before, after) = answers.split_at(places.len());
    let open: Vec<Line> = places.iter().map(|p| lines[*p].clone()).collect();
    let difficulty = difficulties(&open, judge, &mut |_| {}).expect("answers");
    let points = match result(game) {
        Some("1-0") => 1.0,
        Some("0-1") => 0.0,
        _ => 0.5,
    };
    for (((ply, before), after), difficulty) in places.iter().zip(before).zip(after).zip(difficulty)
    {
        let (best, came) = (before.expected.value(), 1.0 - after.expected.value());
        let white = line::fen(lines[*ply].position()).contains(" w ");
        banded.push(Banded {
            kind: Drawishness::of(lines[*ply].position()),
            expected: if white { best } else { 1.0 - best },
            points,
        });
        let Some(difficulty) = difficulty.filter(|d| d.legal > 1) else {
            continue;
        };
        let best = best.max(came);
        if (0.10..=0.97).contains(&best) {
            seen.push(Seen {
                game: number,
                difficulty,
                erred: best - came >= 0.10,
            });
        }
    }
}

/// Area under the curve: how often a position with an error is harder than one without (Mann-Whitney, 1947).
fn area(of: &[(f64, bool)]) -> f64 {
    let mut sorted = of.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut rank_sum, mut errors) = (0.0, 0.0);
    let mut at = 0;
    while at < sorted.len() {
        let end = at
            + sorted[at..]
                .iter()
                .take_while(|x| x.0 == sorted[at].0)
                .count();
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
    let share = |part: &[(f64, bool)]| errors(part) / part.len().max(1) as f64;
    let easy = share(&sorted[..n / 5]).max(1e-9);
    [
        area(&sorted),
        share(&sorted[n - n / 10..]) / easy,
        errors(&sorted[n - n / 5..]) / errors(&sorted),
    ]
}

fn curve(seen: &[Seen]) {
    let errors = seen.iter().filter(|s| s.erred).count();
    let games = seen.iter().map(|s| s.game).max().map_or(0, |g| g + 1);
    println!(
        "{} positions of {games} games, {errors} errors of .10 or more",
        seen.len()
    );
    type Term = fn(&Difficulty) -> f64;
    let terms: [(&str, Term); 5] = [
        ("D as told", Difficulty::value),
        ("risk", |d| d.risk),
        ("first impression", |d| d.impression),
        ("1.5 risk + 4 first impression", |d| {
            1.5 * d.risk + 4.0 * d.impression
        }),
        ("moves that do not keep, of the legal ones", |d| {
            1.0 - d.keep as f64 / d.legal as f64
        }),
    ];
    for (name, term) in terms {
        let of = |s: &Seen| (term(&s.difficulty), s.erred);
        let all = figures(&seen.iter().map(of).collect::<Vec<_>>());
        let mut dice = SplitMix(1);
        let mut drawn: Vec<[f64; 3]> = (0..400)
            .map(|_| {
                let mut sample = Vec::new();
                for _ in 0..games {
                    let game = (dice.roll() % games as u64) as usize;
                    sample.extend(seen.iter().filter(|s| s.game == game).map(of));
                }
                figures(&sample)
            })
            .collect();
        let mut bound = |which: usize| {
            drawn.sort_by(|a, b| a[which].total_cmp(&b[which]));
            (drawn[9][which], drawn[389][which])
        };
        let ((a0, a1), (t0, t1), (f0, f1)) = (bound(0), bound(1), bound(2));
        println!(
            "{name:<42} area {:.3} [{a0:.3}-{a1:.3}]  hardest tenth {:.1} [{t0:.1}-{t1:.1}] times the easiest fifth  hardest fifth \
             {:.0} % [{:.0}-{:.0}] of the errors",
            all[0],
            all[1],
            100.0 * all[2],
            100.0 * f0,
            100.0 * f1
        );
    }
    let mut values: Vec<(f64, bool)> = seen
        .iter()
        .map(|s| (s.difficulty.value(), s.erred))
        .collect();
    values.sort_by(|a, b| a.0.total_cmp(&b.0));
    for tenth in values.chunks(values.len().div_ceil(10).max(1)) {
        let errors = tenth.iter().filter(|x| x.1).count();
        println!(
            "  D {:.2} to {:.2}: {errors} errors in {} positions ({:.1} %)",
            tenth[0].0,
            tenth[tenth.len() - 1].0,
            tenth.len(),
            100.0 * errors as f64 / tenth.len() as f64
        );
    }
}

fn bands(all: &[Banded]) {
    println!(
        "bands: kind of position, positions, t as told, t that fits these games best; draws as told and as they came"
    );
    for kind in Drawishness::ALL {
        let of: Vec<&Banded> = all.iter().filter(|b| b.kind == kind).collect();
        if of.is_empty() {
            continue;
        }
        let loss = |t: f64| -> f64 {
            let one = |b: &&Banded| {
                let s = shares(b.expected, t);
                let p = match b.points {
                    1.0 => s.win,
                    0.0 => s.loss,
                    _ => s.draw,
                };
                -p.max(1e-3).ln()
            };
            of.iter().map(one).sum::<f64>()
        };
        let steps = (1..=60).map(|i| f64::from(i) * 0.1);
        let best = steps
            .min_by(|a, b| loss(*a).total_cmp(&loss(*b)))
            .unwrap_or(0.0);
        let told = of
            .iter()
            .map(|b| shares(b.expected, kind.threshold()).draw)
            .sum::<f64>();
        let came = of.iter().filter(|b| b.points == 0.5).count() as f64;
        let n = of.len() as f64;
        println!(
            "  {:<32} {:>6} {:>5.1} {best:>5.1}  {:>3.0} % {:>3.0} %",
            kind.words(),
            of.len(),
            kind.threshold(),
            100.0 * told / n,
            100.0 * came / n
        );
    }
}
