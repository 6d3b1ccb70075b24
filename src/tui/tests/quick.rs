//! Quick calculation on the screens and on lines of text.

use std::sync::Arc;

use super::harness::Rig;
use crate::app::testing::app::{Counting, Trial, drill};
use crate::drill::Grade;
use crate::tui::console::sitting;
use crate::tui::{Options, Start};

fn trial() -> Trial {
    let graded = |id: &str, fen: &str| {
        let mut of = drill(id, fen, "Nxd5 Kd7 Ne3");
        of.grade = Grade::try_from(1).ok();
        of.minutes = 1;
        of
    };
    let drills = vec![
        graded("one", "4k3/8/8/3q4/8/4N3/8/4K3 w - - 0 1"),
        graded("two", "4k3/8/8/3q4/8/4N3/P7/4K3 w - - 0 1"),
    ];
    Trial::new(drills, Arc::new(Counting))
}

#[test]
fn a_sitting_as_every_other_that_ends_with_the_clock() {
    let trial = trial();
    let mut rig = Rig::new(&trial.app, &Start::Quick(None));
    assert!(rig.text().contains("you have 1:00 from"), "{}", rig.text());
    assert!(!rig.text().contains("more time"), "{}", rig.text());
    // The clock is not chosen, and nothing tells what the ladder is of.
    rig.keys("+");
    assert!(rig.text().contains("it cannot be chosen"), "{}", rig.text());
    for hint in ["adder", "half-moves", "ifficulty"] {
        assert!(!rig.text().contains(hint), "{}", rig.text());
    }
    rig.keys("<Enter>Nxd5 Kd7<Enter>");
    trial.clock.advance(61_000);
    rig.pump();
    assert!(
        rig.text().contains("Your time is over: choose"),
        "{}",
        rig.text()
    );
    rig.keys("Ne3<Enter>");
    assert!(rig.text().contains("your time is over"), "{}", rig.text());
    // What was typed stands in the line still; the lock is as ever.
    assert!(rig.text().contains("Ne3"), "{}", rig.text());
    rig.keys("<F10><Enter>y");
    assert!(rig.text().contains("Locked"), "{}", rig.text());
    rig.keys("<Enter>").wait_for("Depth in half-moves");
    rig.keys("q");
    let home = rig.text();
    assert!(home.contains("Quick calculation"), "{home}");
    assert!(home.contains("solved so far"), "{home}");
    // On the eve of a game nothing is new.
    rig.keys("e");
    assert!(!rig.text().contains("Quick calculation"), "{}", rig.text());
    rig.keys("+k");
    assert!(
        rig.text().contains("Quick calculation: you have"),
        "{}",
        rig.text()
    );
}

/// The page of the figures: reached from the home screen and from the figures, it opens positions and is read again after.
#[test]
fn what_speed_comes_to_is_a_page() {
    let trial = trial();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    for way in ["<Esc>s", "<Esc>gs"] {
        rig.keys(way);
        assert!(rig.text().contains("0 tries at speed."), "{}", rig.text());
        rig.keys("<Esc>");
    }
    assert!(rig.text().contains("Figures of all"), "{}", rig.text());
    // A ladder without positions says so, and the page stays.
    rig.keys("s2");
    let text = rig.text();
    assert!(text.contains("every position of ladder 2 was"), "{text}");
    rig.keys("1");
    assert!(rig.text().contains("you have 1:00 from"), "{}", rig.text());
    rig.keys("<Enter>Nxd5 Kd7<Enter><F10><Enter>y<Enter>");
    rig.wait_for("Depth in half-moves");
    // One position is left of it; after that there is none.
    rig.keys("qs");
    assert!(rig.text().contains("1 tries at speed."), "{}", rig.text());
    rig.keys("k<Enter>Nxd5 Kd7<Enter><F10><Enter>y<Enter>");
    rig.wait_for("Depth in half-moves").keys("qs");
    assert!(rig.text().contains("2 tries at speed."), "{}", rig.text());
    rig.keys("<Enter>");
    let text = rig.text();
    assert!(text.contains("every position of all ladders was"), "{text}");
    rig.keys("<Esc><Esc>k");
    let text = rig.text();
    assert!(text.contains("every position of all ladders was"), "{text}");
    rig.keys("ek");
    assert!(rig.text().contains("nothing at speed"), "{}", rig.text());
}

#[test]
fn the_same_on_lines_of_text() {
    let trial = trial();
    let mut out = Vec::new();
    let lines = "Nxd5 Kd7\nchoose\n\nyes\n\n\n";
    let start = Start::Quick(Some(1));
    let streams: (&mut dyn std::io::BufRead, &mut dyn std::io::Write) =
        (&mut lines.as_bytes(), &mut out);
    sitting::run(&trial.app, &start, Options::default(), streams).unwrap();
    let out = String::from_utf8(out).unwrap();
    assert!(out.contains("Quick calculation: you have 1:00"), "{out}");
    assert!(out.contains("Locked") || out.contains("Comparing"), "{out}");
}
