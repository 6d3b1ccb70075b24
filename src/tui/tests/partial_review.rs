//! A review that comes bit by bit, or stops in the middle.

use std::sync::Arc;

use crate::app::testing::app::{Stopping, Trial, drill};
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

/// The line that is written below holds a move that is not possible: a finding that always counts.
const QUEEN_AND_ROOK: &str = "k7/8/8/3r4/8/8/8/K2Q4 w - - 0 1";

/// A tree that is locked and asked about, with a judge that stops.
fn asked(judge: Arc<Stopping>) -> (Trial, Rig) {
    let trial = Trial::new(vec![drill("rook", QUEEN_AND_ROOK, "Qxd5+")], judge);
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>Qe1 Rd8 Qh5 +-<Enter><Enter>Qd4 Rd6 Qh8+ =<Enter><Tab><F10>y<Enter>");
    (trial, rig)
}

/// How many questions the whole review takes, and the review.
fn whole() -> (usize, String) {
    let judge = Arc::new(Stopping::default());
    let (_trial, mut rig) = asked(judge.clone());
    rig.wait_for("Depth in half-moves");
    (judge.asked(), rig.text())
}

#[test]
fn findings_are_read_while_the_rest_is_computed() {
    let (all, text) = whole();
    let judge = Arc::new(Stopping::waiting_at(all));
    let (_trial, mut rig) = asked(judge.clone());
    rig.wait_for(" so far");
    let early = rig.text();
    assert!(early.contains("Still comparing:"), "{early}");
    assert!(early.contains("What held:"), "{early}");
    rig.keys("g");
    assert!(
        rig.text().contains("comes with the whole review"),
        "{}",
        rig.text()
    );
    rig.keys("g<Right><Left>");
    judge.go_on();
    rig.wait_for("Depth in half-moves");
    assert_eq!(rig.text(), text);
}

/// Wherever the engine dies: it is said, what was sure stays, and another try gives the same review.
#[test]
fn an_engine_that_dies_in_the_middle_is_told_and_tried_again() {
    let (all, text) = whole();
    let mut kept = 0;
    for at in [1, all / 2, all - 1, all] {
        let (_trial, mut rig) = asked(Arc::new(Stopping::failing_at(at)));
        rig.wait_for("the engine has died");
        let stopped = rig.text();
        assert!(
            stopped.contains("try again") || stopped.contains("r tries again"),
            "{stopped}"
        );
        kept += usize::from(stopped.contains(" so far"));
        // The judge fails at one question alone, so that the next try goes through.
        rig.keys("r").wait_for("Depth in half-moves");
        assert_eq!(rig.text(), text, "died at question {at} of {all}");
    }
    assert!(kept > 0, "nothing was ever sure before the end");
}
