//! Rough handling: the mouse, windows of any size, pasted kilobytes, an engine that dies.

use std::fs;
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use super::sitting::BEFORE_QUEENING;
use super::{FOREPLY, PATIENCE, Terminal, tmux_is_there};

/// A first look at the position before the queening, and the entry open.
fn writing(home: &Path, options: &str) -> Terminal {
    let screen = Terminal::start(home, &format!("{options} {BEFORE_QUEENING}"));
    screen.wait_for("White to move, move 1.").keys(&["Enter"]);
    screen.wait_for("candidate >");
    screen
}

/// Locks a tree of two candidates.
fn lock(screen: &Terminal) {
    screen.line("c8=Q Rd2+ Kxd2 +-", "White is winning.");
    screen.keys(&["Enter", "Enter"]).wait_for("candidate >");
    screen.line("Kb1 Rc4 =", "1.Kb1 Rc4 =");
    screen.keys(&["Enter"]).wait_for("candidate >");
    screen.keys(&["Tab"]).wait_for("after c8=Q >");
    screen.keys(&["F10"]).wait_for("c 8 = Q");
    screen.types("y").wait_for("Locked 0:").keys(&["Enter"]);
}

/// A press of the left button as terminals tell it (xterm control sequences, "Extended coordinates",
/// SGR 1006: button; column; row, both from 1), and its release.
fn click(screen: &Terminal, words: &str) {
    let text = screen.text();
    let place = text.lines().enumerate().find_map(|(y, line)| {
        let at = line.find(words)?;
        Some((line[..at].chars().count() + 1, y + 1))
    });
    let (x, y) = place.unwrap_or_else(|| panic!("'{words}' is not on the screen:\n{text}"));
    screen.types(&format!("\x1b[<0;{x};{y}M\x1b[<0;{x};{y}m"));
}

/// Empties the line, until nothing comes any more.
fn clear(screen: &Terminal) {
    let start = Instant::now();
    let mut empty = 0;
    while empty < 3 {
        assert!(
            start.elapsed() < PATIENCE,
            "never empty:\n{}",
            screen.text()
        );
        screen.keys(&["C-e", "C-u"]);
        thread::sleep(Duration::from_millis(300));
        let text = screen.text();
        let is_empty = text.lines().any(|l| l.trim_end() == "after c8=Q >");
        empty = if is_empty { empty + 1 } else { 0 };
    }
}

#[test]
fn a_click_goes_to_a_move() {
    if !tmux_is_there("a_click_goes_to_a_move") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = writing(home.path(), "");
    screen.line("c8=Q Rd2+ Kxd2", "after c8=Q Rd2+ Kxd2 >");
    click(&screen, "1.c8=Q");
    screen.wait_for("after c8=Q >");
    click(&screen, "2.Kxd2");
    screen.wait_for("after c8=Q Rd2+ Kxd2 >");
}

#[test]
fn a_window_of_20_by_5_says_so_and_waits() {
    if !tmux_is_there("a_window_of_20_by_5_says_so_and_waits") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = writing(home.path(), "");
    screen.line("c8=Q Rd2+", "after c8=Q Rd2+ >");
    screen.tmux(&["resize-window", "-x", "20", "-y", "5"]);
    screen.wait_for("Foreply needs 80").wait_for("lost.");
    screen.types("Kb3").keys(&["Enter", "F10", "Escape"]);
    screen.tmux(&["resize-window", "-x", "80", "-y", "24"]);
    screen.wait_for("after c8=Q Rd2+ >");
    assert!(!screen.text().contains("Kb3"), "{}", screen.text());
    screen.line("Kxd2", "after c8=Q Rd2+ Kxd2 >");
}

/// What is pasted comes as keys. Whatever it is, nothing is torn and the next line is taken.
#[test]
fn pasted_kilobytes_do_no_harm() {
    if !tmux_is_there("pasted_kilobytes_do_no_harm") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = writing(home.path(), "");
    screen.line("c8=Q", "after c8=Q >");
    let odd =
        "将軍e\u{301}\u{200b}\u{202e}\u{1f469}\u{200d}\u{1f680}\u{2}\u{8}\u{b}\u{9b}2J\u{fffd} ";
    let pasted = home.path().join("pasted");
    fs::write(&pasted, odd.repeat(1_000)).unwrap();
    for arguments in [&["paste-buffer"][..], &["paste-buffer", "-p"]] {
        let loaded = screen.tmux(&["load-buffer", &pasted.to_string_lossy()]);
        assert!(loaded.status.success(), "{loaded:?}");
        screen.tmux(arguments);
        screen.wait_for("将軍");
        clear(&screen);
        screen.types("xyz");
        screen.wait_for("after c8=Q > xyz");
        screen.keys(&["C-u"]);
        assert!(screen.text().contains("Own position"), "{}", screen.text());
    }
    // Bytes that are no UTF-8.
    screen.tmux(&["send-keys", "-H", "ff", "fe", "c3", "28"]);
    clear(&screen);
    screen.line("Rd2+ Kxd2", "after c8=Q Rd2+ Kxd2 >");
}

/// Pasted lines are typed lines: a tree can be brought in whole.
#[test]
fn pasted_lines_are_written() {
    if !tmux_is_there("pasted_lines_are_written") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = writing(home.path(), "");
    screen.tmux(&["set-buffer", "c8=Q Rd2+ Kxd2 +-\n\n\nKb1 Rc4 =\n"]);
    screen.tmux(&["paste-buffer", "-p"]);
    screen
        .wait_for("1.c8=Q Rd2+ 2.Kxd2 +-")
        .wait_for("1.Kb1 Rc4 =");
}

/// A Ctrl-C among what is pasted is no key, nor is anything else that steers; not on any screen, and not where a paste is marked
/// that nobody asked to be marked.
#[test]
fn a_pasted_ctrl_c_ends_nothing() {
    if !tmux_is_there("a_pasted_ctrl_c_ends_nothing") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = writing(home.path(), "");
    screen.tmux(&["set-buffer", "c8=Q\u{3} Rd2+\u{1a}\u{4}\n"]);
    screen.tmux(&["paste-buffer", "-p"]);
    screen.wait_for("after c8=Q Rd2+ >");
    // The same bytes, as a terminal sends them by itself: ESC [ 200 ~ and ESC [ 201 ~.
    let marked = "\u{1b}[200~Kxd2\u{3}\n\u{1b}[201~";
    let bytes: Vec<String> = marked.bytes().map(|b| format!("{b:02x}")).collect();
    let words: Vec<&str> = bytes.iter().map(String::as_str).collect();
    screen.tmux(&[&["send-keys", "-H"], &words[..]].concat());
    screen.wait_for("after c8=Q Rd2+ Kxd2 >");
    // The terminal is given back as it was: what is pasted afterwards is not marked.
    screen.signal("-TERM");
    screen.wait_for("exit code 0");
    screen.tmux(&["set-buffer", "pasted"]);
    screen.tmux(&["paste-buffer", "-p"]);
    screen.wait_for("pasted");
    assert!(!screen.text().contains("200~"), "{}", screen.text());
}

#[test]
fn a_review_goes_on_in_a_window_of_another_size() {
    if !tmux_is_there("a_review_goes_on_in_a_window_of_another_size") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = writing(home.path(), "");
    lock(&screen);
    screen.tmux(&["resize-window", "-x", "20", "-y", "5"]);
    screen.wait_for("Foreply needs 80");
    screen.tmux(&["resize-window", "-x", "140", "-y", "45"]);
    screen.wait_for("Depth in half-moves").keys(&["n", "Right"]);
    screen.tmux(&["resize-window", "-x", "80", "-y", "24"]);
    screen.wait_for("1 of ");
    let bottom = screen.text().lines().last().map(str::to_owned);
    assert!(
        bottom.is_some_and(|b| b.contains("n next")),
        "{}",
        screen.text()
    );
    screen.types("q").wait_for("Written last");
}

/// An engine that answers until a file lies beside it, and then dies at every search.
#[test]
fn an_engine_that_dies_during_the_review_is_told_and_asked_again() {
    if !tmux_is_there("an_engine_that_dies_during_the_review_is_told_and_asked_again") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let (script, dead) = (home.path().join("engine.sh"), home.path().join("dead"));
    let text = format!(
        "while read -r line; do\n\
         case $line in go*) [ -e '{}' ] && exit 3 ;; esac\n\
         echo \"$line\"\ndone | '{FOREPLY}' engine\n",
        dead.display()
    );
    fs::write(&script, text).unwrap();
    let data = tempfile::tempdir().unwrap();
    let options = format!("--engine 'sh {}'", script.display());
    fs::write(&dead, "").unwrap();
    let screen = writing(data.path(), &options);
    lock(&screen);
    screen.wait_for("The review could not be made.");
    screen.wait_for("Press r to try again");
    screen.types("r").wait_for("The review could not be made.");
    fs::remove_file(&dead).unwrap();
    screen.types("r").wait_for("Depth in half-moves");
    screen.wait_for("Rc4+");
}
