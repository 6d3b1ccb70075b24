//! What the documents promise: commands that exist, files that are there, output that is really printed.

use std::path::Path;

use crate::support::Program;

const README: &str = include_str!("../README.md");
const GUIDE: &str = include_str!("../DEVELOPERS.md");
const RESULTS: &str = include_str!("bench/RESULTS.md");
const MANIFEST: &str = include_str!("../Cargo.toml");
/// A newcomer reads them in one go.
const README_MAX: usize = 150;
const GUIDE_MAX: usize = 180;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn they_stay_short() {
    assert!(README.lines().count() <= README_MAX);
    assert!(GUIDE.lines().count() <= GUIDE_MAX);
}

/// Whatever stands between backquotes and looks like a file of the project.
fn files(text: &str) -> Vec<&str> {
    let quoted = text.split('`').skip(1).step_by(2);
    let is_file = |w: &&str| {
        let ends = [".rs", ".md", ".json", ".sh", ".svg", ".tar.gz"]
            .iter()
            .any(|e| w.ends_with(e));
        (ends || w.ends_with('/')) && !w.contains([' ', '*', '<']) && !w.contains("NAME")
    };
    quoted.filter(is_file).collect()
}

#[test]
fn every_file_that_is_named_is_there() {
    let mut missing = Vec::new();
    for text in [README, GUIDE, RESULTS] {
        for file in files(text) {
            let there = [
                "",
                "src",
                "tests",
                "src/tui",
                "src/review",
                "src/app",
                "src/engine",
                "tests/layers",
            ]
            .iter()
            .any(|folder| root().join(folder).join(file).exists());
            if !there {
                missing.push(file);
            }
        }
    }
    assert!(missing.is_empty(), "named and not there: {missing:#?}");
    assert!(files(GUIDE).len() > 40, "{:?}", files(GUIDE));
}

/// Each picture is there for a light page and for a dark one.
#[test]
fn every_picture_is_there_light_and_dark() {
    let named: Vec<&str> = README
        .split('"')
        .filter(|w| w.starts_with("tests/pictures/"))
        .collect();
    assert!(named.len() >= 6, "{named:?}");
    for picture in &named {
        assert!(root().join(picture).exists(), "{picture}");
        let other = match picture.contains("-light.") {
            true => picture.replace("-light.", "-dark."),
            false => picture.replace("-dark.", "-light."),
        };
        assert!(named.contains(&other.as_str()), "{picture} has no {other}");
    }
}

#[test]
fn every_bench_that_is_named_is_there() {
    let mut met = 0;
    for text in [README, GUIDE, RESULTS] {
        for (_, rest) in text
            .match_indices("--bench ")
            .map(|(at, m)| (at, &text[at + m.len()..]))
        {
            let name: String = rest
                .chars()
                .take_while(|c| c.is_ascii_lowercase())
                .collect();
            if !name.is_empty() {
                met += 1;
                let entry = format!("name = \"{name}\"");
                assert!(MANIFEST.contains(&entry), "there is no bench '{name}'");
            }
        }
    }
    assert!(met > 10);
}

/// The command lines of a text: those that begin with `foreply`, in blocks or between backquotes, up to the words that
/// stand for something else.
fn commands(text: &str) -> Vec<Vec<String>> {
    let blocks = text.lines().filter_map(|l| l.strip_prefix("    "));
    let quoted = text.split('`').skip(1).step_by(2);
    let mut found = Vec::new();
    for line in blocks.chain(quoted) {
        let line = line.trim_start_matches("$ ");
        let mut words = line.split_whitespace();
        // A line of help that names the program alone speaks of the screens.
        if words.next() != Some("foreply") || line.starts_with("foreply  ") {
            continue;
        }
        let command: Vec<String> = words
            .take_while(|w| {
                w.chars().all(|c| c.is_ascii_lowercase() || c == '-') && !w.starts_with('-')
            })
            .map(str::to_owned)
            .collect();
        let options = line
            .split("  ")
            .next()
            .unwrap_or_default()
            .split_whitespace();
        let options = options.filter(|w| w.starts_with("--")).map(str::to_owned);
        found.push(command.into_iter().chain(options).collect());
    }
    found
}

#[test]
fn every_command_that_is_named_is_there() {
    let program = Program::new();
    let mut all: Vec<Vec<String>> = [README, GUIDE, RESULTS]
        .iter()
        .flat_map(|t| commands(t))
        .collect();
    all.sort();
    all.dedup();
    assert!(all.len() > 15, "{all:?}");
    for words in all {
        let is_option = |w: &&String| w.starts_with("--");
        let options: Vec<&String> = words.iter().filter(is_option).collect();
        let mut named: Vec<&str> = words
            .iter()
            .filter(|w| !is_option(w))
            .map(String::as_str)
            .collect();
        // What is no command is an argument: help is then that of the command before it.
        let help = loop {
            let args: Vec<&str> = named.iter().copied().chain(["--help"]).collect();
            let ran = program.run(&args);
            if ran.code == 0 {
                break ran.out;
            }
            assert!(named.pop().is_some(), "{words:?}: {}", ran.err);
        };
        let first = words.iter().find(|w| !is_option(w));
        assert!(
            first.is_none() || !named.is_empty(),
            "there is no command {words:?}"
        );
        for option in options {
            let name = option.trim_end_matches([',', '.', ';', ':']);
            assert!(help.contains(name), "{words:?}: the help knows no {name}");
        }
    }
}

/// The sample of the README is what the program prints.
#[test]
fn the_sample_review_is_real() {
    let program = Program::new();
    let ran = program.run(&["review", "tests/data/harrowmere-homework.pgn"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let begin = README
        .find("    $ foreply review tests/data/harrowmere-homework.pgn")
        .unwrap();
    let sample: Vec<&str> = README[begin..]
        .lines()
        .skip(1)
        .take_while(|l| l.is_empty() || l.starts_with("    "))
        .map(|l| l.strip_prefix("    ").unwrap_or(l))
        .collect();
    let sample = sample.join("\n");
    let sample = sample.trim();
    assert!(sample.lines().count() > 10);
    assert!(
        ran.out.contains(sample),
        "README has\n{sample}\n\nbut the program prints\n{}",
        ran.out
    );
}

/// What must be said where use can hurt.
#[test]
fn fair_play_and_the_coach_are_named_everywhere() {
    let program = Program::new();
    let mut told = vec![README.to_owned(), program.run(&["--help"]).out];
    for command in ["practice", "review", "games", "playout"] {
        told.push(program.run(&[command, "--help"]).out);
        told.push(program.run(&[command, "-h"]).out);
    }
    for text in told {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains("never during a game in progress"), "{text}");
        assert!(text.contains("article 11.3"), "{text}");
        assert!(text.contains("outranks an engine's number"), "{text}");
    }
}

/// The manual of a review explains every kind of finding by the name it is shown under.
#[test]
fn every_kind_of_finding_is_explained() {
    let help = Program::new().run(&["review", "--help"]).out;
    for kind in foreply::review::FindingKind::ALL {
        let name = format!("  {} ", kind.label());
        assert!(
            help.contains(&name),
            "`review --help` does not explain '{}'",
            kind.label()
        );
    }
}
