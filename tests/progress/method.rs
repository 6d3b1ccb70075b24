//! The measured numbers of the method page: computed here and held against the file that is built in. After a deliberate
//! change `FOREPLY_MEASURE=1 cargo test --test integration method` writes it anew.

use std::ops::Range;

use foreply::progress::judgement::judgement;
use foreply::progress::resolution::{Held, Resolution};
use foreply::progress::stats::Rate;
use foreply::progress::{AttemptStatistics, Feature};
use serde_json::{Value, json};

use super::simulation::judged;
use super::simulation::player::{Dice, MOMENTS, Player, course, found};
use crate::support::Program;

const FILE: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/src/report/method/measured.json"
);
const RESULTS: &str = include_str!("../bench/RESULTS.md");

const RUNS: u64 = 200;
const AFTER: [usize; 4] = [50, 100, 200, 400];
/// By how much the hopeful are too hopeful; the change of a share; the shares that are gone through, in percent.
const HOPE: f64 = 0.10;
const FROM: f64 = 0.5;
const TO: f64 = 0.9;
const PERCENT: Range<i32> = 1..100;

/// Runs as parts of a hundred.
fn of_hundred(runs: u64) -> u64 {
    (100.0 * runs as f64 / RUNS as f64).round() as u64
}

fn blind_spots() -> Value {
    let planted = [
        ("backward-moves", 0.10),
        ("backward-moves", 0.20),
        ("backward-moves", 0.30),
        ("replies-that-give-up", 0.20),
    ];
    let rows = planted.map(|(name, more)| {
        let player = Player {
            weak: vec![(name, more)],
        };
        let named = found(&player, name, &AFTER, RUNS);
        json!({
            "words": Feature::named(name).unwrap().words(),
            "points": (100.0 * more).round() as u64,
            "named": named.iter().map(|(rate, _)| of_hundred(rate.part)).collect::<Vec<_>>(),
        })
    });
    let mut none = [0u64; AFTER.len()];
    for run in 0..RUNS {
        for (sum, named) in none.iter_mut().zip(course(&Player::default(), &AFTER, run)) {
            *sum += u64::from(!named.is_empty());
        }
    }
    let none = none.map(of_hundred);
    let moments = [*MOMENTS.start(), *MOMENTS.end()];
    json!({ "runs": RUNS, "moments": moments, "after": AFTER, "rows": rows, "none": none })
}

fn verdicts() -> Value {
    let says = |hope: f64, seed: u64| {
        let mut dice = Dice(seed);
        let attempts: Vec<AttemptStatistics> = (0..40).map(|_| judged(&mut dice, hope)).collect();
        let refs: Vec<&AttemptStatistics> = attempts.iter().collect();
        judgement(&refs, &[]).all.unwrap().words()
    };
    let count = |hope: f64, is: &dyn Fn(&str) -> bool| {
        of_hundred((0..RUNS).filter(|seed| is(says(hope, *seed))).count() as u64)
    };
    json!({
        "runs": RUNS,
        "attempts": 40,
        "hope": HOPE,
        "hopeful_found": count(HOPE, &|w| w == "too hopeful"),
        "sober_wrong": count(0.0, &|w| w != "no lean either way"),
    })
}

/// The probability of `k` of `n`.
fn binomial(k: u64, n: u64, p: f64) -> f64 {
    let mut chance = 1.0;
    for i in 0..k {
        chance *= (n - i) as f64 / (k - i) as f64 * p;
    }
    chance * (1.0 - p).powi((n - k) as i32)
}

/// Exactly, from the binomial distribution, with the verdict that the program itself gives.
fn told_as_held(before: u64, after: u64, p: f64, q: f64) -> f64 {
    let mut sum = 0.0;
    for a in 0..=before {
        for b in 0..=after {
            let counted = Some(String::new());
            let of = Resolution::of(
                String::new(),
                counted,
                Rate::new(a, before),
                Rate::new(b, after),
            );
            if of.verdict == Held::Held {
                sum += binomial(a, before, p) * binomial(b, after, q);
            }
        }
    }
    rounded(100.0 * sum)
}

fn rounded(value: f64) -> f64 {
    (10.0 * value).round() / 10.0
}

fn resolutions() -> Value {
    let of = [(10, 5), (10, 10), (40, 20)].map(|(before, after)| {
        json!({
            "before": before,
            "after": after,
            "real": told_as_held(before, after, FROM, TO),
            "wrongly": told_as_held(before, after, FROM, FROM),
        })
    });
    json!({ "from": FROM, "to": TO, "rows": of })
}

fn intervals() -> Value {
    let of = [10u64, 20, 50, 100].map(|cases| {
        let covered: Vec<f64> = PERCENT
            .map(|percent| {
                let p = f64::from(percent) / 100.0;
                let holds = |k: &u64| Rate::new(*k, cases).wilson().holds(p);
                let sum: f64 = (0..=cases)
                    .filter(holds)
                    .map(|k| binomial(k, cases, p))
                    .sum();
                100.0 * sum
            })
            .collect();
        let least = covered.iter().copied().fold(f64::INFINITY, f64::min);
        let mean = covered.iter().sum::<f64>() / covered.len() as f64;
        json!({ "cases": cases, "least": rounded(least), "mean": rounded(mean) })
    });
    let end = |percent: i32| f64::from(percent) / 100.0;
    json!({ "shares": [end(PERCENT.start), end(PERCENT.end - 1)], "rows": of })
}

#[test]
fn the_measured_numbers_are_those_that_come_out() {
    let kept: Value = serde_json::from_str(&std::fs::read_to_string(FILE).unwrap()).unwrap();
    let measured = json!({
        "blind_spots": blind_spots(),
        "verdicts": verdicts(),
        "resolutions": resolutions(),
        "intervals": intervals(),
        // Sentences of the benches are taken over by hand; see below.
        "benches": kept["benches"],
    });
    if std::env::var_os("FOREPLY_MEASURE").is_some() {
        let text = serde_json::to_string_pretty(&measured).unwrap() + "\n";
        std::fs::write(FILE, text).unwrap();
        return;
    }
    assert_eq!(measured, kept, "FOREPLY_MEASURE=1 writes the file anew");
}

/// What the page says of benches stands in their results, word for word but for line breaks.
#[test]
fn what_the_benches_measured_is_what_their_results_say() {
    let squeezed = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let results = squeezed(RESULTS);
    let kept: Value = serde_json::from_str(&std::fs::read_to_string(FILE).unwrap()).unwrap();
    let benches = kept["benches"].as_object().unwrap();
    for (bench, sentences) in benches {
        for sentence in sentences.as_array().unwrap() {
            let sentence = sentence.as_str().unwrap().trim_end_matches('.');
            assert!(
                results.contains(sentence),
                "{bench}: tests/bench/RESULTS.md does not say '{sentence}'; take its new figures over into {FILE}"
            );
        }
    }
}

/// The table in the manual of `foreply progress` is the same curve.
#[test]
fn the_manual_quotes_the_same_curve() {
    let program = Program::new();
    let manual = program.run(&["progress", "--help"]).out;
    let kept: Value = serde_json::from_str(&std::fs::read_to_string(FILE).unwrap()).unwrap();
    let numbers = |of: &Value| -> Vec<String> {
        of.as_array()
            .unwrap()
            .iter()
            .map(ToString::to_string)
            .collect()
    };
    let row = |begins: &str, of: &Value| {
        let line = manual
            .lines()
            .find(|l| l.trim_start().starts_with(begins))
            .unwrap_or_else(|| panic!("no row '{begins}' in {manual}"));
        let cells: Vec<&str> = line.trim_start()[begins.len()..]
            .split_whitespace()
            .collect();
        assert_eq!(cells, numbers(of), "{begins}");
    };
    for of in kept["blind_spots"]["rows"].as_array().unwrap() {
        let words = of["words"].as_str().unwrap();
        row(
            &format!("{words}, by {} points", of["points"]),
            &of["named"],
        );
    }
    row(
        "no weakness: something is named after all",
        &kept["blind_spots"]["none"],
    );
}

#[test]
fn the_page_is_told_as_text_json_and_html() {
    let program = Program::new();
    let text = program.run(&["method"]);
    assert_eq!(text.code, 0, "{}", text.err);
    assert!(
        text.out.contains("What would make it wrong"),
        "{}",
        text.out
    );
    let json = program.run(&["method", "--format", "json"]);
    let json: Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json["format"], "foreply-method");
    let figures: usize = json["chapters"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| c["figures"].as_array().unwrap().len())
        .sum();
    let html = program.run(&["method", "--format", "html"]).out;
    assert_eq!(html.matches("<section id=").count(), figures);
    assert_eq!(html.matches("href=\"#").count(), figures);
}

/// Numbers of the page that are no thresholds and nothing measured, with what they are.
const DEFINED: [(&str, &str); 10] = [
    ("95 %", "the level of every interval"),
    ("draw / 2", "what a draw is worth"),
    ("1 / (1 + 10^(-pawns / 4))", "the curve itself"),
    ("(1, {} or 0 under", "what the Laws give"),
    ("at most 1 less that", "the other end of the scale"),
    ("finding; 0 where", "no half-move at all"),
    ("weighing 1 over its distance", "a definition"),
    ("one side of 0", "no difference"),
    ("FSRS, version 6", "a name"),
    ("of 100, wrongly", "per cent"),
];

/// No number of a formula, an assumption or of what would make it wrong is typed by hand: all are put in from the constants that
/// the program counts with. Years and volumes of sources are names.
#[test]
fn no_number_of_the_page_is_typed_by_hand() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/report/method/");
    let mut seen = 0;
    for file in ["judged.rs", "progress.rs", "games.rs", "measured.rs"] {
        let source = std::fs::read_to_string(format!("{folder}{file}")).unwrap();
        for (field, words) in literals(&source) {
            if ["source", "code", "title", "told", "str"].contains(&field.as_str()) {
                continue;
            }
            seen += 1;
            let rest = DEFINED
                .iter()
                .fold(words.clone(), |rest, (phrase, _)| rest.replace(phrase, ""));
            let typed = put_in_left_out(&rest).chars().any(|c| c.is_ascii_digit());
            assert!(!typed, "{file}, {field}: a number is typed in '{words}'");
        }
    }
    assert!(seen > 60, "only {seen} texts were read");
    let found = literals("code: \"a\", formula: format!(\n \"so 7 {x} \\\n   are\", wrong: \"b\"");
    assert_eq!(found[1], ("formula".to_owned(), "so 7 {x} are".to_owned()));
    assert_eq!(put_in_left_out(&found[1].1), "so 7  are");
}

/// The texts of a source with the field that each is for; broken lines are joined.
fn literals(source: &str) -> Vec<(String, String)> {
    let code: Vec<&str> = source
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect();
    let code = code.join("\n");
    let (mut found, mut before, mut rest) = (Vec::new(), String::new(), code.as_str());
    while let Some(start) = rest.find('"') {
        before.push_str(&rest[..start]);
        let mut text = String::new();
        let mut chars = rest[start + 1..].char_indices();
        let mut end = rest.len();
        while let Some((at, c)) = chars.next() {
            match c {
                '"' => {
                    end = start + 1 + at + 1;
                    break;
                }
                '\\' => text.extend(chars.next().map(|(_, c)| c).filter(|c| *c != '\n')),
                c => text.push(c),
            }
        }
        let words: Vec<&str> = before
            .split(|c: char| !c.is_alphanumeric() && c != '_' && c != ':')
            .collect();
        let field = words.iter().rev().find_map(|w| w.strip_suffix(':'));
        let field = match before.trim_end().ends_with('=') {
            true => "str",
            false => field.unwrap_or_default(),
        };
        found.push((
            field.to_owned(),
            text.split_whitespace().collect::<Vec<_>>().join(" "),
        ));
        rest = rest.get(end..).unwrap_or_default();
    }
    found
}

/// A text without what is put into it.
fn put_in_left_out(text: &str) -> String {
    let mut depth = 0;
    let kept = text.chars().filter(|c| {
        match c {
            '{' => depth += 1,
            '}' => {
                depth -= 1;
                return false;
            }
            _ => {}
        }
        depth == 0
    });
    kept.collect()
}
