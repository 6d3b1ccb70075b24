//! One case for each condition of a trial.

use super::super::{Review, Trial, Turn};
use crate::review::tests::fixture::{QUIET, reviewed, tree};

/// The review of some lines in it.
fn quiet(lines: &[&str], ends: &[(&str, f64)]) -> Review {
    reviewed(&tree(QUIET, lines), ends)
}

/// The trial behind these moves.
fn at<'r>(review: &'r Review, path: &[&str]) -> Option<&'r Trial> {
    review.trials.moments.iter().find(|t| t.path == path)
}

fn seen(lines: &[&str], ends: &[(&str, f64)], path: &[&str]) -> Option<bool> {
    at(&quiet(lines, ends), path).map(|t| t.seen)
}

#[test]
fn at_his_own_turn_the_best_move_is_to_be_written() {
    let ends = [("c4 h6", 0.62), ("h3 h6", 0.45)];
    let review = quiet(&["h3 h6"], &ends);
    let trial = at(&review, &[]).unwrap();
    assert_eq!(
        (trial.turn, trial.ply, trial.seen),
        (Turn::Player, 1, false)
    );
    assert_eq!(trial.resource, "c4");
    assert_eq!(seen(&["h3 h6", "c4 h6"], &ends, &[]), Some(true));
}

#[test]
fn a_move_as_good_as_the_best_is_as_good_to_see() {
    let ends = [("c4 h6", 0.62), ("Nc3 h6", 0.60), ("h3 h6", 0.45)];
    assert_eq!(seen(&["h3 h6", "Nc3 h6"], &ends, &[]), Some(true));
}

#[test]
fn where_little_hangs_on_the_move_there_is_no_trial() {
    // Less than half of delta.
    let ends = [("c4 h6", 0.62), ("h3 h6", 0.58)];
    assert_eq!(seen(&["h3 h6"], &ends, &[]), None);
    // Won either way.
    let ends = [("c4 h6", 0.99), ("h3 h6", 0.91)];
    assert_eq!(seen(&["h3 h6"], &ends, &[]), None);
}

#[test]
fn what_is_only_close_is_neither_seen_nor_missed() {
    // Between half of delta and delta: close, and not counted.
    let ends = [("c4 h6", 0.62), ("h3 h6", 0.55)];
    assert_eq!(seen(&["h3 h6"], &ends, &[]), None);
    assert_eq!(seen(&["h3 h6", "c4 h6"], &ends, &[]), Some(true));
}

#[test]
fn at_the_opponents_turn_his_best_reply_is_to_be_written() {
    let ends = [("h3 h6", 0.62), ("h3 e4", 0.40)];
    let review = quiet(&["h3 h6"], &ends);
    let trial = at(&review, &["h3"]).unwrap();
    assert_eq!(
        (trial.turn, trial.ply, trial.seen),
        (Turn::Opponent, 2, false)
    );
    assert_eq!(trial.resource, "e4");
    assert_eq!(seen(&["h3 h6", "h3 e4"], &ends, &["h3"]), Some(true));
}

#[test]
fn a_verdict_at_the_end_may_allow_for_what_comes() {
    let ends = [("h3 h6", 0.62), ("h3 e4", 0.40)];
    assert_eq!(seen(&["h3 40%"], &ends, &["h3"]), Some(true));
    assert_eq!(seen(&["h3 62%"], &ends, &["h3"]), Some(false));
    // Worse than it is: nobody knows what he saw.
    assert_eq!(seen(&["h3 10%"], &ends, &["h3"]), None);
}

#[test]
fn verdicts_are_stated_and_true() {
    let review = quiet(&["h3 h6 62%"], &[("h3 h6", 0.45)]);
    let [stated] = review.trials.verdicts.as_slice() else {
        panic!("{:?}", review.trials.verdicts);
    };
    assert_eq!(
        (stated.stated.value(), stated.truth.value(), stated.ply),
        (0.62, 0.45, 2)
    );
}

#[test]
fn plausible_moves_are_within_delta_of_the_best() {
    let ends = [("c4 h6", 0.62), ("Nc3 h6", 0.53), ("h3 h6", 0.45)];
    let review = quiet(&["h3 h6", "Nc3 h6"], &ends);
    assert_eq!(review.trials.plausible, 2);
    assert!((review.trials.standing.value() - 0.62).abs() < 1e-9);
}
