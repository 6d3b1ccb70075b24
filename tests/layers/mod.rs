//! The floors of the house: imports only go down. The table here is the one in `DEVELOPERS.md`.

mod paths;
mod wings;

use std::fs;
use std::path::{Path, PathBuf};

/// What knows neither scores nor a player.
const LOW: &[&str] = &["tree", "notation", "board", "text"];
/// The rooms of the fourth floor, one a line: none knows another.
const FOURTH: &[&str] = &[
    "coach",    // out to a coach and back
    "games",    // his own games
    "playout",  // positions played out
    "progress", // across attempts
];

/// The room that every other may know: all texts go through it.
const EVERYWHERE: &str = "translation";

/// Each room with the rooms it may import, in groups.
const ROOMS: &[(&str, &[&[&str]])] = &[
    ("board", &[]),
    ("score", &[&["text"]]),
    ("store", &[&["platform"]]),
    ("platform", &[]),
    ("text", &[]),
    ("translation", &[]),
    ("engine", &[&["board"]]),
    ("notation", &[&["board", "text"]]),
    ("tree", &[&["notation", "board", "text"]]),
    ("drill", &[LOW]),
    ("judge", &[&["board", "score", "store", "text", "platform"]]),
    ("attempt", &[LOW, &["store"]]),
    (
        "review",
        &[LOW, &["attempt", "judge", "score", "drill", "store"]],
    ),
    ("coach", &[LOW, &["review", "score", "attempt", "store"]]),
    (
        "games",
        &[LOW, &["review", "judge", "score", "drill", "store"]],
    ),
    (
        "playout",
        &[LOW, &["review", "attempt", "judge", "score", "store"]],
    ),
    (
        "progress",
        &[
            &["review", "score", "attempt", "drill"],
            &["board", "store", "text"],
        ],
    ),
    (
        "report",
        &[
            LOW,
            FOURTH,
            &["review", "attempt", "judge", "score", "drill"],
        ],
    ),
    (
        "app",
        &[
            LOW,
            FOURTH,
            &["review", "attempt", "judge", "score", "drill", "store"],
            &["platform"],
        ],
    ),
    (
        "tui",
        &[
            LOW,
            FOURTH,
            &["app", "review", "score", "attempt", "drill", "platform"],
        ],
    ),
    (
        "cli",
        &[
            LOW,
            FOURTH,
            &["app", "tui", "report", "platform"],
            &["review", "attempt", "judge", "score", "drill", "store"],
        ],
    ),
    ("main", &[&["cli"]]),
    ("lib", &[]),
];

/// The files outside `engine/` that may name it: what starts it, and what asks which one it is.
const NAME_THE_ENGINE: [&str; 3] = ["cli/commands/engine.rs", "judge/own.rs", "lib.rs"];

#[test]
fn imports_only_go_down() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut faults = Vec::new();
    let files = rust_files(&src);
    assert!(
        files.len() > 30,
        "only {} files found under src",
        files.len()
    );
    for file in files {
        let relative = file
            .strip_prefix(&src)
            .unwrap()
            .to_string_lossy()
            .replace('\\', "/");
        let room = relative.split(['/', '.']).next().unwrap();
        let Some((_, allowed)) = ROOMS.iter().find(|(name, _)| *name == room) else {
            faults.push(format!(
                "src/{relative}: the room '{room}' is not in the table"
            ));
            continue;
        };
        let text = fs::read_to_string(&file).unwrap();
        for (number, line) in text.lines().enumerate() {
            if line.trim_end().ends_with("crate::{") {
                faults.push(format!(
                    "src/{relative}:{}: one `use` for each room, so that it can be checked",
                    number + 1
                ));
            }
            for used in imports(line) {
                let own = used == room
                    || used == EVERYWHERE
                    || (used == "engine" && NAME_THE_ENGINE.contains(&relative.as_str()));
                if !own && !allowed.iter().any(|group| group.contains(&used.as_str())) {
                    faults.push(format!(
                        "src/{relative}:{}: {room} may not import {used}",
                        number + 1
                    ));
                }
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn the_check_sees_what_it_must() {
    assert_eq!(imports("use crate::engine::bench;"), ["engine"]);
    assert_eq!(
        imports("    let x = crate::store::open(crate::text::safe(y));"),
        ["store", "text"]
    );
    assert_eq!(imports("use foreply::cli;"), ["cli"]);
    assert_eq!(
        imports("use crate::{attempt::Event, tree::{Node, NodeId}};"),
        ["attempt", "tree"]
    );
    assert_eq!(
        imports("// crate::engine is not imported here"),
        Vec::<String>::new()
    );
}

/// A file that needs more is doing a second thing.
const LINES_MAX: usize = 500;

#[test]
fn no_file_is_longer_than_500_lines() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut long = Vec::new();
    for file in ["src", "tests"]
        .iter()
        .flat_map(|f| rust_files(&root.join(f)))
    {
        let lines = fs::read_to_string(&file).unwrap().lines().count();
        if lines > LINES_MAX {
            long.push(format!("{}: {lines} lines", file.display()));
        }
    }
    assert!(long.is_empty(), "\n{}", long.join("\n"));
}

#[test]
fn no_circle_of_files_inside_a_room() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    for (room, _) in ROOMS.iter().filter(|(room, _)| src.join(room).is_dir()) {
        for circle in paths::circles(&paths::imports_of(&src, room)) {
            found.push(format!("{room}: {}", circle.join(", ")));
        }
    }
    assert!(
        found.is_empty(),
        "files that import each other:\n{}",
        found.join("\n")
    );
}

#[test]
fn wings_import_only_what_the_table_says() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut faults = Vec::new();
    let mut met = vec![false; wings::RULES.len()];
    for (room, _) in ROOMS.iter().filter(|(room, _)| src.join(room).is_dir()) {
        for (file, imported) in paths::imports_of(&src, room) {
            for (number, rule) in wings::RULES.iter().enumerate() {
                if !rule.is_about(&file) {
                    continue;
                }
                met[number] = true;
                let bad = imported.iter().filter(|path| !rule.allows(&file, path));
                faults.extend(bad.map(|path| format!("{file} may not name {path}: {}", rule.why)));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
    for (number, rule) in wings::RULES.iter().enumerate() {
        assert!(
            met[number],
            "no file is under {:?}: the rule holds nothing",
            rule.of
        );
    }
}

pub(crate) fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}

/// The rooms a line names by `crate::` or `foreply::`, comments left out.
fn imports(line: &str) -> Vec<String> {
    let code = line.split("//").next().unwrap_or_default();
    let mut found = Vec::new();
    for marker in ["crate::", "foreply::"] {
        for (at, _) in code.match_indices(marker) {
            let rest = &code[at + marker.len()..];
            match rest.strip_prefix('{') {
                Some(group) => found.extend(heads(group)),
                None => found.extend(first_word(rest)),
            }
        }
    }
    found
}

/// The first words of the items of a brace group, nested groups left out.
fn heads(group: &str) -> Vec<String> {
    let mut depth = 0;
    let mut item = String::new();
    let mut items = Vec::new();
    for c in group.chars() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => items.push(std::mem::take(&mut item)),
            c if depth == 0 => item.push(c),
            _ => {}
        }
    }
    items.push(item);
    items.iter().filter_map(|i| first_word(i.trim())).collect()
}

fn first_word(text: &str) -> Option<String> {
    let word: String = text
        .chars()
        .take_while(|c| c.is_ascii_alphanumeric() || *c == '_')
        .collect();
    (!word.is_empty() && word.starts_with(|c: char| c.is_ascii_lowercase())).then_some(word)
}
