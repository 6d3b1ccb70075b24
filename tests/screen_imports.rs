//! Who may name whom among the screens, read from their imports. Silence before the lock is one of these
//! rules: where trees are written nothing may be at hand that tells how good they are.

use std::fs;
use std::path::{Path, PathBuf};

use crate::layers::rust_files;

/// Folders of what is on the screen before the lock.
const BEFORE_THE_LOCK: &[&str] = &["screens/writing", "screens/recalling", "input", "widgets"];

/// What must not be named there: rooms, the form with the solution, and use cases, one a line.
const TELLING: &[&str] = &[
    "crate::review",   // what was missed
    "crate::judge",    // what a position is worth
    "crate::progress", // what he usually misses
    "crate::playout",  // what the engine plays
    "crate::drill",    // solution, name and themes
    "drill_source",    // the form that shows them
    "finding_spot",    // the form that names findings
    "review_words",    // the form that tells them
    "reviews()",       // use cases of the review
    "progress()",      // use cases across attempts
];

#[test]
fn nothing_that_tells_is_at_hand_before_the_lock() {
    let mut faults = Vec::new();
    for folder in BEFORE_THE_LOCK {
        faults.extend(naming(folder, TELLING));
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn no_screen_knows_another_nor_who_shows_it() {
    let folders = [
        "browse",
        "writing",
        "review",
        "game",
        "overlays",
        "own_games",
        "recalling",
    ];
    let mut faults = Vec::new();
    for own in folders {
        let others: Vec<String> = folders
            .iter()
            .filter(|f| **f != own)
            .map(|f| format!("screens::{f}"))
            .chain(["tui::router", "tui::terminal", "tui::console"].map(str::to_owned))
            .collect();
        let others: Vec<&str> = others.iter().map(String::as_str).collect();
        faults.extend(naming(&format!("screens/{own}"), &others));
        // Beside its own state and view, a screen of the same folder is another screen too.
        faults.extend(
            naming(&format!("screens/{own}"), &["::screen::"])
                .into_iter()
                .filter(|fault| !fault.contains("nav::screen::")),
        );
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn what_is_shared_knows_no_screen() {
    let mut faults = Vec::new();
    for folder in ["input", "widgets", "forms", "nav", "console"] {
        faults.extend(naming(
            folder,
            &["tui::screens", "tui::router", "tui::terminal"],
        ));
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn the_terminal_library_stays_in_its_folder() {
    let tui = tui();
    let faults: Vec<String> = naming("", &["cursive"])
        .into_iter()
        .filter(|fault| !fault.starts_with("terminal/") && !fault.starts_with("tests/"))
        .collect();
    assert!(
        faults.is_empty(),
        "{}\n{}",
        tui.display(),
        faults.join("\n")
    );
}

fn tui() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src/tui")
}

/// Lines of code under a folder that hold one of the words, with file and number; comments left out.
fn naming(folder: &str, words: &[&str]) -> Vec<String> {
    let tui = tui();
    let files = rust_files(&tui.join(folder));
    assert!(!files.is_empty(), "no files under {folder}");
    let mut found = Vec::new();
    for file in files {
        let text = fs::read_to_string(&file).unwrap();
        let name = file.strip_prefix(&tui).unwrap().display().to_string();
        for (number, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or_default();
            if words.iter().any(|word| code.contains(word)) {
                found.push(format!("{name}:{}: {}", number + 1, code.trim()));
            }
        }
    }
    found
}
