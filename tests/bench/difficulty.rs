//! How far the difficulty of a position orders the errors of real games, and whether the three bands are true:
//! `cargo bench --bench difficulty -- FILE.pgn [--games N] [--every N] [--label NODES] [--jobs N] [--from MOVE] [--skip GAMES] [--bands]`.
//!
//! Of every so many positions from a move on: the difficulty as the account of a game tells it, and whether the player
//! gave away .10 or more there, judged with more nodes. Positions that are decided count for neither. Intervals are of
//! whole games drawn again (bootstrap; B. Efron, Bootstrap methods: another look at the jackknife, Annals of Statistics
//! 7, 1979). `--bands` asks for the bands alone, which costs one search a position; `--skip` passes over games on which something was fitted.
//! The games are given by path; none is shipped.

use std::fs;

use foreply::board::Line;
use foreply::board::random::SplitMix;
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
    game: usize,
    /// Both players are rated, and below 2000.
    club: bool,
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
    let alone = std::env::args().any(|word| word == "--bands");
    for (number, game) in with_result
        .skip(number("--skip").unwrap_or(0))
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
        if alone {
            expected(
                number,
                &game,
                &lines,
                &places,
                label as u64,
                &judge,
                &mut banded,
            );
            continue;
        }
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
    if !alone {
        curve(&seen);
    }
    bands(&banded);
}

fn number(name: &str) -> Option<usize> {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|word| word == name)?;
    words.get(at + 1)?.parse().ok()
}

/// What the bands are made of, alone.
fn expected(
    number: usize,
    game: &pgn::Game,
    lines: &[Line],
    places: &[usize],
    label: u64,
    judge: &dyn Judge,
    banded: &mut Vec<Banded>,
) {
    let questions: Vec<Question> = places
        .iter()
        .map(|ply| asked(&lines[*ply], label))
        .collect();
    let answers = judge.answer(&questions).expect("answers");
    for (ply, answer) in places.iter().zip(answers) {
        banded.push(as_banded(
            number,
            game,
            &lines[*ply],
            answer.expected.value(),
        ));
    }
}

fn asked(line: &Line, nodes: u64) -> Question {
    let line = line.clone();
    Question {
        line,
        lines: 1,
        nodes,
    }
}

/// `best` is what the side to move expects.
fn as_banded(number: usize, game: &pgn::Game, line: &Line, best: f64) -> Banded {
    let white = line.turn().is_white();
    Banded {
        kind: Drawishness::of(line.position()),
        expected: if white { best } else { 1.0 - best },
        points: points(game),
        game: number,
        club: is_club(game),
    }
}

/// White's points.
fn points(game: &pgn::Game) -> f64 {
    match result(game) {
        Some("1-0") => 1.0,
        Some("0-1") => 0.0,
        _ => 0.5,
    }
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
    let ask = |ply: usize| asked(&lines[ply], label);
    let here = places.iter().map(|p| ask(*p));
    let after = places.iter().map(|p| ask(p + 1));
    let answers = judge
        .answer(&here.chain(after).collect::<Vec<_>>())
        .expect("answers");
    let (before, after) = answers.split_at(places.len());
    let open: Vec<Line> = places.iter().map(|p| lines[*p].clone()).collect();
    let difficulty = difficulties(&open, judge, &mut |_| {}).expect("answers");
    for (((ply, before), after), difficulty) in places.iter().zip(before).zip(after).zip(difficulty)
    {
        let (best, came) = (before.expected.value(), 1.0 - after.expected.value());
        banded.push(as_banded(number, game, &lines[*ply], best));
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

fn is_club(game: &pgn::Game) -> bool {
    let rating = |name| game.tag(name).and_then(|r| r.parse::<u32>().ok());
    let both = [rating("WhiteElo"), rating("BlackElo")];
    both.iter().all(|r| r.is_some_and(|r| r < 2000))
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

/// Told against come, kind by kind, and all of them together against one t for every kind. Intervals: whole games drawn again.
fn bands(all: &[Banded]) {
    println!(
        "bands: kind of position, positions, games, t as told, t that fits these games best; draws as told, as they came, told less come with 95 %"
    );
    for kind in Drawishness::ALL {
        let of: Vec<&Banded> = all.iter().filter(|b| b.kind == kind).collect();
        if of.is_empty() {
            continue;
        }
        let steps = (1..=60).map(|i| f64::from(i) * 0.1);
        let loss_at = |t: f64| of.iter().map(|b| loss(b, t)).sum::<f64>();
        let best = steps
            .min_by(|a, b| loss_at(*a).total_cmp(&loss_at(*b)))
            .unwrap_or(0.0);
        let told = |b: &Banded| shares(b.expected, kind.threshold()).draw;
        let came = |b: &Banded| f64::from(u8::from(b.points == 0.5));
        let (off, low, high) = drawn_again(&of, &|b| told(b) - came(b));
        let mean = |value: &dyn Fn(&Banded) -> f64| {
            100.0 * of.iter().map(|b| value(b)).sum::<f64>() / of.len() as f64
        };
        let mut games: Vec<usize> = of.iter().map(|b| b.game).collect();
        games.dedup();
        println!(
            "  {:<32} {:>6} {:>4} {:>5.1} {best:>5.1}  {:>3.0} % {:>3.0} %  {:+.0} [{:+.0} to {:+.0}]",
            kind.words(),
            of.len(),
            games.len(),
            kind.threshold(),
            mean(&told),
            mean(&came),
            100.0 * off,
            100.0 * low,
            100.0 * high
        );
    }
    let every: Vec<&Banded> = all.iter().collect();
    let (club, strong): (Vec<&Banded>, Vec<&Banded>) = all.iter().partition(|b| b.club);
    for (words, of) in [("all", every), ("club", club), ("others", strong)] {
        if of.is_empty() {
            continue;
        }
        let told = |b: &Banded| loss(b, b.kind.threshold());
        let (mean, low, high) = drawn_again(&of, &told);
        let (gain, less, more) = drawn_again(&of, &|b| loss(b, 1.4) - told(b));
        let (plain, ..) = drawn_again(&of, &|b| -half(b).max(1e-3).ln());
        println!(
            "{words}: {} positions; logarithmic loss {mean:.3} [{low:.3}-{high:.3}], with one t of 1.4 for all kinds {gain:+.4} [{less:+.4} to {more:+.4}] more; whoever knows nothing has {plain:.3}",
            of.len()
        );
        let off = |b: &Banded| {
            shares(b.expected, b.kind.threshold()).draw - f64::from(u8::from(b.points == 0.5))
        };
        let (off, low, high) = drawn_again(&of, &off);
        println!(
            "  draws told less come {:+.1} points [{:+.1} to {:+.1}]",
            100.0 * off,
            100.0 * low,
            100.0 * high
        );
        // Tenths of the share of a draw as told.
        for tenth in 0..10 {
            let told = |b: &Banded| shares(b.expected, b.kind.threshold()).draw;
            let inside: Vec<&&Banded> = of
                .iter()
                .filter(|b| (told(b) * 10.0) as usize == tenth)
                .collect();
            if inside.len() >= 50 {
                let n = inside.len() as f64;
                let said = inside.iter().map(|b| told(b)).sum::<f64>() / n;
                let came = inside.iter().filter(|b| b.points == 0.5).count() as f64 / n;
                println!(
                    "  told {:>3.0} %: came {:>3.0} % of {}",
                    100.0 * said,
                    100.0 * came,
                    inside.len()
                );
            }
        }
    }
}

/// What was told of the result that came, as a loss.
fn loss(of: &Banded, t: f64) -> f64 {
    let s = shares(of.expected, t);
    let p = match of.points {
        1.0 => s.win,
        0.0 => s.loss,
        _ => s.draw,
    };
    -p.max(1e-3).ln()
}

/// A third of each result: whoever knows nothing.
fn half(_: &Banded) -> f64 {
    1.0 / 3.0
}

/// The mean of a value with its 95 % interval, whole games drawn again.
fn drawn_again(of: &[&Banded], value: &dyn Fn(&Banded) -> f64) -> (f64, f64, f64) {
    let mut by_game: std::collections::BTreeMap<usize, (f64, f64)> =
        std::collections::BTreeMap::new();
    for b in of {
        let sum = by_game.entry(b.game).or_default();
        *sum = (sum.0 + value(b), sum.1 + 1.0);
    }
    let sums: Vec<(f64, f64)> = by_game.into_values().collect();
    let mean = |of: &mut dyn Iterator<Item = (f64, f64)>| {
        let (sum, n) = of.fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
        sum / n
    };
    let mut dice = SplitMix(1);
    let mut means: Vec<f64> = (0..1000)
        .map(|_| {
            mean(&mut (0..sums.len()).map(|_| sums[(dice.roll() % sums.len() as u64) as usize]))
        })
        .collect();
    means.sort_by(f64::total_cmp);
    (mean(&mut sums.iter().copied()), means[25], means[974])
}
