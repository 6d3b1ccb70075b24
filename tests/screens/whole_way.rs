//! The whole way, as somebody goes it who starts the program for the first time.

use std::path::{Path, PathBuf};
use std::process::Command;

use super::{FOREPLY, Terminal, tmux_is_there};

/// The first position of the collection is O. Bernstein - J. R. Capablanca, Moscow 1914, before 27.Nxc3.
const LINE: &str = "Nxc3 Nxc3 Rxc3 Rxc3 Rxc3";

#[test]
fn from_the_first_start_to_a_coachs_answer_and_a_game() {
    if !tmux_is_there("from_the_first_start_to_a_coachs_answer_and_a_game") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = Terminal::start(home.path(), "");
    write_and_mend(&screen);
    lock_with_everything(&screen);
    read_the_review(&screen);
    screen.types("q").wait_for("Written last").types("h");
    screen.wait_for("1 in all").types("c");
    screen.wait_for("Written without its review");
    screen.keys(&["Escape"]).wait_for("Written last");
    screen.types("q").wait_for("exit code 0");
    drop(screen);

    answer(home.path());
    let screen = Terminal::start(home.path(), "");
    screen.wait_for("Written last").types("h");
    screen.wait_for("1 in all").keys(&["Enter"]);
    screen.wait_for("Depth in half-moves");
    screen.wait_for("What your coach said comes first");
    screen.types("n").wait_for("Your coach, 1 of 1");
    screen.wait_for("rank.");
    play_on(&screen);
}

/// The first look with the tour beside it, a line, and a slip in its middle that is mended.
fn write_and_mend(screen: &Terminal) {
    screen.wait_for("Enter start").wait_for("F12");
    screen.keys(&["Enter"]).wait_for("candidate >");
    screen.line("Nxc3 Nxc3 Rxc4 Rxc3 Rxc3", "Rxc4");
    screen.keys(&["F12", "Left", "Left", "C-f"]);
    screen.wait_for("correct Rxc4");
    screen.keys(&["BSpace"]).types("3").keys(&["Enter"]);
    screen.wait_for("28.Rxc3");
    assert!(!screen.text().contains("Rxc4"), "{}", screen.text());
    screen.keys(&["Right", "Right"]);
    screen.wait_for(&format!("after {LINE} >"));
    screen.line("+-", "White is winning.");
    screen.keys(&["Enter"]).wait_for("candidate >");
    screen.line("Nd4 Qa5 Nb3 =", "Nb3 =");
    screen.keys(&["Tab"]).wait_for("after Nxc3 >");
}

/// The commit with its end card, and the second look.
fn lock_with_everything(screen: &Terminal) {
    screen.keys(&["F10"]).wait_for("Lock the tree");
    screen.types("e").wait_for("who moves >");
    screen.types("him").keys(&["Enter"]).wait_for("material >");
    screen.types("pawn up").keys(&["Enter"]).wait_for("plan >");
    screen.types("push it").keys(&["Enter"]);
    screen.wait_for("Plan: push it").types("y");
    screen.wait_for("Locked 0:").types("2");
    screen.wait_for("now I see >").types("Qb2 hits two rooks");
    screen.keys(&["Enter"]).wait_for("  Qb2 hits two rooks");
    screen.keys(&["Escape"]).wait_for("Your tree is final");
}

/// The summary, the first finding, the tree with its cursor, the end card and the second look.
fn read_the_review(screen: &Terminal) {
    screen.keys(&["Enter"]).wait_for("Depth in half-moves");
    screen
        .wait_for("the truth part (n)")
        .types("n")
        .wait_for("1 of ");
    screen.types("t").wait_for("Your verdict");
    screen
        .keys(&["Up", "Up", "Up"])
        .wait_for("in the order of writing");
    screen
        .keys(&["NPage", "NPage"])
        .wait_for("Qb2 hits two rooks");
    screen.keys(&["Right", "Right"]).wait_for("The truth:");
    screen.keys(&["Escape"]).wait_for("1 of ");
    for _ in 0..12 {
        if screen.text().contains("as you saw it") {
            break;
        }
        screen.types("n");
        std::thread::sleep(std::time::Duration::from_millis(200));
    }
    screen.wait_for("The end of your line, as you saw it");
}

/// The coach writes into the file, and the answer is taken in.
fn answer(home: &Path) {
    let file = only_file(&home.join("for-coach"));
    let sent = std::fs::read_to_string(&file).unwrap();
    let words = "{Bram Oskarn: look at the back rank.} *";
    let end = sent.trim_end().strip_suffix('*').unwrap();
    let answered = format!("{}{words}\n", end.trim_end().to_owned() + " ");
    let back = home.join("back.pgn");
    std::fs::write(&back, answered).unwrap();
    let taken = Command::new(FOREPLY)
        .arg("--home")
        .arg(home)
        .args(["coach", "take", "--by", "Bram Oskarn"])
        .arg(&back)
        .output()
        .unwrap();
    assert!(taken.status.success(), "{taken:?}");
}

fn only_file(folder: &Path) -> PathBuf {
    let mut files = std::fs::read_dir(folder).unwrap();
    files.next().unwrap().unwrap().path()
}

/// A game from the review, one move, adjourned, and home.
fn play_on(screen: &Terminal) {
    screen.types("x").wait_for("Play it out");
    screen.types("---------").wait_for("1, a beginner");
    screen.keys(&["Enter"]).wait_for("your move");
    screen.types("Nd4").keys(&["Enter"]).wait_for("27. Nd4");
    screen.wait_for("27... ");
    screen.keys(&["Escape"]).wait_for("Adjourned");
    screen.keys(&["Escape"]).wait_for("Attempts and games");
    screen.wait_for("played out: level 1, 1 move, goes on");
    screen.keys(&["Escape"]).wait_for("go on: ");
    screen.types("q").wait_for("exit code 0");
}
