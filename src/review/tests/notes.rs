//! Notes: threats that were written down, positions that are decided anyway, and lines closed in words.

use crate::review::tests::fixture::{QUIET, reviewed, tree};
use crate::review::{FindingKind, NoteKind, Review};
use crate::tree::NodeId;

fn notes(review: &Review) -> String {
    let lines = review
        .notes
        .iter()
        .map(|n| format!("{:?}: {}", n.about, n.sentence));
    lines.collect::<Vec<_>>().join(" | ")
}

#[test]
fn a_threat_note_that_is_true() {
    let ends = [("h3 h6", 0.55), ("-- d4 h3", 0.30)];
    let review = reviewed(&tree(QUIET, &["h3 h6", "-- d4"]), &ends);
    insta::assert_snapshot!(notes(&review), @"ThreatHolds: You noted his threat d4: it is one. Left alone he plays 7...d4 8.h3. Then you are clearly worse.");
    assert!(review.unjudged.is_empty(), "{:?}", review.unjudged);
    assert!(review.is_clean());
}

#[test]
fn a_threat_note_that_is_none() {
    let ends = [("h3 h6", 0.55), ("-- d4 h3", 0.53)];
    let review = reviewed(&tree(QUIET, &["h3 h6", "-- d4 h3"]), &ends);
    insta::assert_snapshot!(notes(&review), @"NoThreat: You noted his threat d4: it is none. Left alone he plays 7...d4 8.h3. Then the position is level, much as before.");
}

#[test]
fn what_is_neither_a_threat_nor_none_is_left_alone() {
    let ends = [("h3 h6", 0.55), ("-- d4 h3", 0.48)];
    let review = reviewed(&tree(QUIET, &["h3 h6", "-- d4"]), &ends);
    assert_eq!(review.notes, []);
}

#[test]
fn a_pass_that_cannot_be_checked_is_said_so() {
    let check = "4k3/8/8/8/8/8/4r3/4K3 w - - 0 1";
    let review = reviewed(&tree(check, &["Kxe2", "-- Rxe1"]), &[("Kxe2", 0.5)]);
    insta::assert_snapshot!(review.unjudged[0].why, @"nobody can pass while in check");
    let review = reviewed(&tree(QUIET, &["h3 h6", "-- Qa1"]), &[("h3 h6", 0.5)]);
    insta::assert_snapshot!(review.unjudged[0].why, @"below the pass stands no move that could be played then");
    assert_eq!(review.unjudged.len(), 1);
}

/// Philidor's mate, known since L. de Lucena, Repeticion de amores, 1497 (from memory).
const SMOTHERED: &str = "r6k/6pp/7N/8/2Q5/8/6PP/6K1 w - - 0 1";

#[test]
fn a_mate_where_everything_wins() {
    let ends = [("Qg8+ Rxg8 Nf7#", 1.0), ("Nf7+ Kg8 Nd6+ Kh8 Nf7+", 0.95)];
    let review = reviewed(&tree(SMOTHERED, &["Nf7+ Kg8"]), &ends);
    assert!(review.is_clean(), "{:#?}", review.findings);
    insta::assert_snapshot!(notes(&review), @"MateWasThere: You win either way. Mate in two was there: 1.Qg8+ Rxg8 2.Nf7#.");
}

/// Nothing better there, and a mate there, would not go together.
#[test]
fn a_choice_that_wins_too_is_called_so() {
    let ends = [("Qg8+ Rxg8 Nf7#", 1.0), ("Nf7+ Kg8 Nd6+ Kh8 Nf7+", 0.99)];
    let review = reviewed(&tree(SMOTHERED, &["Nf7+ Kg8"]), &ends);
    let held: Vec<&str> = review.right.iter().map(|c| c.note.as_str()).collect();
    assert!(held.contains(&"You chose 1.Nf7+: it wins too."), "{held:?}");
}

#[test]
fn the_longest_resistance_where_everything_loses() {
    // A ladder of two rooks, an exercise of every primer (common practice, no source).
    let fen = "5K2/r7/1r6/8/8/8/8/4k3 w - - 0 1";
    let ends = [("Ke8 Kd2 Kf8 Kc3 Ke8 Rb8#", 0.0), ("Kg8 Rb8#", 0.0)];
    let review = reviewed(&tree(fen, &["Kg8"]), &ends);
    insta::assert_snapshot!(notes(&review), @"LongestResistance: Every move loses. 1.Ke8 holds out longest: mate comes in three moves, after your choice in one.");
    assert!(review.is_clean());
}

#[test]
fn words_close_a_line_as_level() {
    let ends = [("h3 h6 e3 a5", 0.25), ("c4", 0.25)];
    let mut written = tree(QUIET, &["h3 h6 e3"]);
    written.set_comment(NodeId(3), "then rep.").unwrap();
    let review = reviewed(&written, &ends);
    let finding = &review.findings[0];
    assert_eq!(finding.kind, FindingKind::Misjudged);
    insta::assert_snapshot!(finding.sentence, @"Your line ends with 8.e3. You judged: the position is level. His best is 8...a5. Then you are clearly worse.");
    written.set_comment(NodeId(3), "a report on reps").unwrap();
    assert!(reviewed(&written, &ends).is_clean());
    let held = [("h3 h6 e3 a5", 0.5)];
    written.set_comment(NodeId(3), "perpetual check").unwrap();
    let review = reviewed(&written, &held);
    assert!(review.is_clean());
    let kinds: Vec<NoteKind> = review.notes.iter().map(|n| n.about).collect();
    assert_eq!(kinds, []);
}
