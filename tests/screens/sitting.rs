//! A whole sitting, from the first look to the history.

use super::{Terminal, tmux_is_there};

/// The end of the Saavedra study (F. Saavedra, after G. Barbier, Glasgow Weekly Citizen, 1895): who
/// queens overlooks the rook's offer on c4, after which taking is stalemate.
pub(super) const BEFORE_QUEENING: &str =
    "practice --fen '8/2P5/8/8/3r4/8/2K5/k7 w - - 0 1' --minutes 5";

#[test]
fn a_sitting_is_written_locked_reviewed_and_found_again() {
    if !tmux_is_there("a_sitting_is_written_locked_reviewed_and_found_again") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = Terminal::start(home.path(), BEFORE_QUEENING);
    screen.wait_for("White to move, move 1.").keys(&["Enter"]);
    screen.wait_for("candidate >");
    screen.line("c8=Q Rd2+ Kxd2 +-", "White is winning.");
    screen.keys(&["Enter", "Enter"]).wait_for("candidate >");
    screen.line("Kb1 Rc4 =", "1.Kb1 Rc4 =");
    screen.keys(&["Enter"]).wait_for("candidate >");
    screen.line("Kc1 Rc4+ {too slow}", "{too slow}");
    screen.keys(&["Tab"]).wait_for("after c8=Q >");
    screen.keys(&["F10"]).wait_for("c 8 = Q");
    assert!(
        screen.text().contains("Write one more reply"),
        "{}",
        screen.text()
    );
    screen.types("y").wait_for("Locked 0:");
    screen.keys(&["Enter"]).wait_for("Depth in half-moves");
    screen.wait_for("Rc4+");
    assert!(
        screen.text().contains("you chose c8=Q"),
        "{}",
        screen.text()
    );
    screen.types("q").wait_for("Written last");
    screen.types("q").wait_for("exit code 0");
    drop(screen);

    let screen = Terminal::start(home.path(), "");
    screen
        .wait_for("Own position")
        .types("h")
        .wait_for("1 in all");
    screen.wait_for("c8=Q");
    screen.keys(&["Enter"]).wait_for("Depth in half-moves");
    assert!(screen.text().contains("Rc4+"), "{}", screen.text());
    screen.keys(&["C-c"]).wait_for("exit code 0");
}
