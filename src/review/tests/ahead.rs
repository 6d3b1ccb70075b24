//! What is told while most of the tree is still to be asked about.

use super::super::{Review, Settings, review};
use crate::review::tests::fixture::{Fixed, Heard, QUIET, input, tree};

/// The choice 'h3' with two lines, and three more candidates with lines of their own.
const LINES: [&str; 5] = [
    "h3 h6 e3 a5 a3 a4 b3 b6 +/-",
    "h3 a6 c3 b5 b3 Be6 +/-",
    "c4 d4 e3 a5 a3 a4 =",
    "Nc3 d4 Nb1 a5 a3 a4 =",
    "a3 a5 a4 h6 h3 b6 =",
];

fn heard(ends: &[(&str, f64)]) -> (Heard, Review) {
    let tree = tree(QUIET, &LINES);
    let judge = Fixed::new(tree.root(), ends);
    let mut heard = Heard::default();
    let review = review(&input(&tree), &judge, &Settings::default(), &mut heard).unwrap();
    (heard, review)
}

#[test]
fn the_refutation_of_the_choice_is_told_before_the_rest_is_asked_about() {
    let (heard, review) = heard(&[
        ("h3 h6 e3 a5 a3 a4 b3 b6", 0.70),
        ("h3 h6 e3 d4", 0.20),
        ("h3 a6 c3 b5 b3 Be6", 0.70),
        ("c4 d4 e3 a5 a3 a4", 0.50),
    ]);
    let (at, first) = heard.findings.first().unwrap();
    assert_eq!(first.resource, "d4");
    assert!(heard.ahead() > 0, "before the whole tree was looked at");
    assert!(*at * 2 < heard.answered(), "{at} of {}", heard.answered());
    // And it stays: the whole review begins with it, word for word.
    assert_eq!(review.findings.first(), Some(first));
    let (opened, opening) = heard.opening.as_ref().unwrap();
    assert_eq!((opened, opening), (at, &review.opening));
    assert!(opening.contains("d4"), "{opening}");
}

#[test]
fn a_much_better_candidate_is_told_ahead_too() {
    let (heard, review) = heard(&[
        ("Bh6", 0.85),
        ("h3 h6 e3 a5 a3 a4 b3 b6", 0.50),
        ("h3 a6 c3 b5 b3 Be6", 0.50),
        ("c4 d4 e3 a5 a3 a4", 0.50),
        ("Nc3 d4 Nb1 a5 a3 a4", 0.50),
        ("a3 a5 a4 h6 h3 b6", 0.50),
    ]);
    let (_, first) = heard.findings.first().unwrap();
    assert_eq!(first.resource, "Bh6");
    assert!(heard.ahead() > 0);
    assert_eq!(review.findings.first(), Some(first));
}

#[test]
fn a_small_oversight_before_it_does_not_hide_the_plain_one() {
    // After 'e3 a5' he had a little more, and then the line ends in ruins that he took for an advantage.
    let (heard, review) = heard(&[
        ("h3 h6 e3 a5 a3 a4 b3 b6 c3 e4", 0.20),
        ("h3 h6 e3 a5 c4", 0.35),
        ("h3 a6 c3 b5 b3 Be6", 0.70),
        ("c4 d4 e3 a5 a3 a4", 0.20),
        ("Nc3 d4 Nb1 a5 a3 a4", 0.20),
        ("a3 a5 a4 h6 h3 b6", 0.20),
    ]);
    let (_, first) = heard.findings.first().unwrap();
    assert_eq!(first.paths[0].join(" "), LINES[0].trim_end_matches(" +/-"));
    assert!(heard.ahead() > 0);
    assert_eq!(review.findings.first(), Some(first));
}

#[test]
fn what_was_there_before_on_the_line_is_left_to_the_whole() {
    let (heard, review) = heard(&[
        ("h3 h6 e3 a5 a3 a4 b3 b6", 0.70),
        ("h3 h6 e3 d4", 0.20),
        ("h3 d4", 0.15),
        ("h3 a6 c3 b5 b3 Be6", 0.70),
        ("c4 d4 e3 a5 a3 a4", 0.20),
        ("Nc3 d4 Nb1 a5 a3 a4", 0.20),
        ("a3 a5 a4 h6 h3 b6", 0.20),
    ]);
    assert_eq!(heard.ahead(), 0);
    assert!(review.counted().any(|f| f.resource == "d4"));
}

#[test]
fn what_is_not_plain_is_not_told_ahead() {
    let (heard, review) = heard(&[
        ("h3 h6 e3 a5 a3 a4 b3 b6", 0.70),
        ("h3 h6 e3 d4", 0.52),
        ("h3 a6 c3 b5 b3 Be6", 0.70),
    ]);
    assert!(review.counted().any(|f| f.resource == "d4"));
    assert_eq!(heard.ahead(), 0);
}
