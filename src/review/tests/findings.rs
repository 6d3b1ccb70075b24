//! One case for each condition of each kind of finding.

use super::super::{FindingKind, FindingStatus};
use crate::board::motif::Motif;
use crate::review::Review;
use crate::review::tests::fixture::{QUIET, RETI_TARTAKOWER, first, reviewed, reviewed_with, tree};
use crate::tree::NodeId;

/// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895.
const SAAVEDRA: &str = "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1";
const TO_C2: &str = "c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4";

fn saavedra_truth() -> Vec<(String, f64)> {
    vec![
        (format!("{TO_C2} c8=Q Rc4+ Qxc4"), 0.5),
        (format!("{TO_C2} c8=Q Ra4"), 1.0),
        (format!("{TO_C2} c8=R Ra4 Kb3"), 1.0),
    ]
}

fn saavedra(lines: &[&str]) -> Review {
    let truth = saavedra_truth();
    let ends: Vec<(&str, f64)> = truth
        .iter()
        .take(3)
        .map(|(p, e)| (p.as_str(), *e))
        .collect();
    reviewed(&tree(SAAVEDRA, lines), &ends)
}

#[test]
fn queening_in_the_saavedra_position_stops_short_of_the_rook_sacrifice() {
    let review = saavedra(&[&format!("{TO_C2} c8=Q +-")]);
    let (kind, class, sentence) = first(&review);
    assert_eq!(
        (kind, class),
        (FindingKind::MissedCounterSacrifice, FindingStatus::Counted)
    );
    insta::assert_snapshot!(sentence, @"Your line stops with 6.c8=Q and it is his turn. You judged: you are winning. One move on he gives up a rook with 6...Rc4+: 7.Qxc4, and it is stalemate: a draw.");
}

#[test]
fn the_published_solution_of_the_saavedra_position_is_clean() {
    let review = saavedra(&[&format!("{TO_C2} c8=R Ra4 Kb3 +-")]);
    assert!(review.is_clean(), "{:#?}", review.findings);
    assert!(!review.right.is_empty());
}

#[test]
fn a_queen_offer_among_the_replies_is_a_counter_sacrifice() {
    let tree = tree(RETI_TARTAKOWER, &["Nxe4 Qxe4 Qxe4 -+"]);
    let review = reviewed(
        &tree,
        &[
            ("Nxe4 Qd8+ Kxd8 Bg5+ Kc7 Bd8#", 0.0),
            ("Nxe4 Qxe4 Qxe4", 1.0),
            ("Nxe4 Qd8+ Kxd8 Bg5+ Ke8 Rd8#", 0.0),
        ],
    );
    let (kind, class, sentence) = first(&review);
    assert_eq!(
        (kind, class),
        (FindingKind::MissedCounterSacrifice, FindingStatus::Counted)
    );
    insta::assert_snapshot!(sentence, @"After 8...Nxe4 you had 9.Qxe4. He gives up the queen with 9.Qd8+: 9...Kxd8 10.Bg5+ Kc7 11.Bd8#, and you are mated.");
}

#[test]
fn a_better_candidate_that_was_not_written() {
    let review = reviewed(&tree(QUIET, &["h3 h6"]), &[("c4", 0.62), ("h3 h6", 0.45)]);
    let (kind, class, sentence) = first(&review);
    assert_eq!(
        (kind, class),
        (FindingKind::MissedCandidate, FindingStatus::Counted)
    );
    insta::assert_snapshot!(sentence, @"7.c4 was not among your candidates, and is clearly better than 7.h3. Then you are slightly better. With 7.h3 the position is level.");
    insta::assert_snapshot!(review.findings[0].question, @"Which pawn can you push against his pawns here?");
    assert_eq!(review.findings[0].instead, ["h3", "h6"]);
}

#[test]
fn equally_good_moves_are_named_together() {
    let review = reviewed(
        &tree(QUIET, &["h3 h6"]),
        &[("c4", 0.62), ("Nc3", 0.61), ("h3 h6", 0.45)],
    );
    insta::assert_snapshot!(first(&review).2, @"You wrote neither 7.c4 nor 7.Nc3, and each of them is clearly better than 7.h3. For one, 7.c4. Then you are slightly better. With 7.h3 the position is level.");
}

#[test]
fn one_of_several_good_moves_written_is_enough() {
    let review = reviewed(&tree(QUIET, &["c4 d4"]), &[("c4 d4", 0.60), ("Nc3", 0.62)]);
    assert!(review.is_clean(), "{:#?}", review.findings);
}

fn beside_five_good_moves(h3: f64) -> Vec<(&'static str, f64)> {
    vec![
        ("c4", 0.60),
        ("Nc3", 0.60),
        ("e4", 0.60),
        ("a3", 0.60),
        ("Bg5", 0.60),
        ("h3 h6", h3),
    ]
}

/// None of five had to be found; but who gives away what all of them hold has overlooked something.
#[test]
fn five_good_moves_are_a_finding_where_the_written_one_gives_delta_away() {
    let h3 = tree(QUIET, &["h3 h6"]);
    let slightly = reviewed(&h3, &beside_five_good_moves(0.52));
    assert!(slightly.findings.is_empty(), "{:#?}", slightly.findings);
    let review = reviewed(&h3, &beside_five_good_moves(0.45));
    let (kind, class, sentence) = first(&review);
    assert_eq!(
        (kind, class),
        (FindingKind::MissedCandidate, FindingStatus::Counted)
    );
    insta::assert_snapshot!(sentence, @"At least five moves are better than 7.h3, and you wrote none of them. For one, 7.Bg5. Then you are slightly better. With 7.h3 the position is level. What speaks against 7.h3 is 7...h6.");
    insta::assert_snapshot!(review.opening, @"The decisive point: at least five moves are better than what you wrote, 7.Bg5 for one; with 7.Bg5 you are slightly better, with 7.h3 the position is level.");
    insta::assert_snapshot!(review.findings[0].question, @"What is his best answer to 7.h3?");
}

#[test]
fn a_gap_below_delta_is_close_and_not_counted() {
    let review = reviewed(&tree(QUIET, &["h3 h6"]), &[("c4", 0.58), ("h3 h6", 0.50)]);
    assert!(review.is_clean());
    assert_eq!(first(&review).1, FindingStatus::Close);
}

#[test]
fn shades_of_one_advantage_are_close_and_not_counted() {
    let candidates = |better, written| {
        let ends = [("c4", better), ("h3 h6", written)];
        let review = reviewed(&tree(QUIET, &["h3 h6"]), &ends);
        first(&review).1
    };
    assert_eq!(candidates(0.86, 0.70), FindingStatus::Close);
    assert_eq!(candidates(0.89, 0.70), FindingStatus::Counted);
    assert_eq!(candidates(0.97, 0.62), FindingStatus::Counted);
    assert_eq!(candidates(0.27, 0.11), FindingStatus::Close);
    assert_eq!(candidates(0.75, 0.55), FindingStatus::Counted);
}

#[test]
fn what_wins_as_well_is_no_oversight() {
    let review = |better| {
        reviewed(
            &tree(QUIET, &["h3 h6 e3"]),
            &[("h3 h6 e3", 0.82), ("h3 h6 c4", better)],
        )
    };
    assert!(review(0.99).is_clean(), "{:#?}", review(0.99).findings);
    let less = reviewed(
        &tree(QUIET, &["h3 h6 e3"]),
        &[("h3 h6 e3", 0.70), ("h3 h6 c4", 0.99)],
    );
    assert_eq!(first(&less).0, FindingKind::MissedResource);
}

#[test]
fn decided_positions_have_no_findings() {
    let review = reviewed(&tree(QUIET, &["h3 h6"]), &[("c4", 1.0), ("h3 h6", 0.90)]);
    assert!(review.findings.is_empty(), "{:#?}", review.findings);
}

#[test]
fn a_worse_candidate_was_chosen() {
    let ends = [("h3 h6", 0.40), ("c4 d4", 0.60)];
    let review = reviewed(&tree(QUIET, &["h3 h6", "c4"]), &ends);
    assert_eq!(first(&review).0, FindingKind::WrongChoice);
    insta::assert_snapshot!(first(&review).2, @"You had 7.c4 on your list and chose 7.h3. You wrote it down and did not calculate it. Best was 7.c4: 7...d4. Then you are slightly better. With 7.h3 you are slightly worse. What speaks against 7.h3 is 7...h6.");
    let review = reviewed(&tree(QUIET, &["h3 h6 =", "c4 d4 +/-"]), &ends);
    insta::assert_snapshot!(first(&review).2, @"You had 7.c4 on your list and chose 7.h3. By your own verdicts it was the better one. Best was 7.c4: 7...d4. Then you are slightly better. With 7.h3 you are slightly worse. What speaks against 7.h3 is 7...h6.");
}

#[test]
fn two_lines_that_are_refuted_alike_count_together() {
    let lines = ["h3 h6 a3 a6 =", "h3 h6 b3 b6 ="];
    let (one, other) = (("h3 h6 a3 e4", 0.25), ("h3 h6 b3 Nd4", 0.30));
    let told = |more: &[(&str, f64)]| {
        let written = [("h3 h6 a3 a6", 0.5), ("h3 h6 b3 b6", 0.5)];
        let review = reviewed(&tree(QUIET, &lines), &[&written, more].concat());
        let findings = review.findings.iter();
        let told = findings.map(|f| {
            (
                f.resource.clone(),
                f.class,
                (f.effect.value() * 100.0).round(),
            )
        });
        told.collect::<Vec<_>>()
    };
    let told_as = |resource: &str, class, effect| (resource.to_owned(), class, effect);
    // The other line still holds; what does not touch the choice must be plain. Then neither line holds.
    assert_eq!(told(&[one]), [told_as("e4", FindingStatus::Aside, 0.0)]);
    assert_eq!(told(&[("h3 h6 a3 e4", 0.35)]), []);
    assert_eq!(
        told(&[one, other]),
        [("e4", 20.0), ("Nd4", 20.0)].map(|(mv, effect)| told_as(
            mv,
            FindingStatus::Counted,
            effect
        ))
    );
    // After a reply that leaves nothing of the choice both of them say nothing new.
    let all = told(&[one, other, ("h3 Bxh3", 0.01)]);
    assert_eq!(
        all.iter().map(|t| (t.0.as_str(), t.1)).collect::<Vec<_>>(),
        [("Bxh3", FindingStatus::Counted)]
    );
}

#[test]
fn what_lies_little_above_delta_is_close() {
    let class = |gap: f64| {
        let ends = [("h3 h6", 0.55), ("h3 d4", 0.55 - gap)];
        let review = reviewed(&tree(QUIET, &["h3 h6"]), &ends);
        review.findings.first().map(|f| f.class)
    };
    assert_eq!(class(0.12), Some(FindingStatus::Close));
    assert_eq!(class(0.13), Some(FindingStatus::Counted));
}

#[test]
fn an_own_resource_on_the_way() {
    let ends = [("h3 h6 e3", 0.40), ("h3 h6 c4", 0.60)];
    let review = reviewed(&tree(QUIET, &["h3 h6 e3"]), &ends);
    assert_eq!(first(&review).0, FindingKind::MissedResource);
    insta::assert_snapshot!(first(&review).2, @"After 7...h6 you had 8.e3. Better was 8.c4. Then you are slightly better.");
}

#[test]
fn a_quiet_reply_is_a_missed_defence() {
    let ends = [("h3 h6", 0.60), ("h3 d4", 0.40)];
    let review = reviewed(&tree(QUIET, &["h3 h6"]), &ends);
    assert_eq!(first(&review).0, FindingKind::MissedDefence);
    insta::assert_snapshot!(first(&review).2, @"After 7.h3 you had 7...h6. He also has 7...d4. Then you are slightly worse.");
    insta::assert_snapshot!(review.findings[0].question, @"What does each of his pawn moves change here?");
    assert_eq!(review.depth.sound, 1);
}

#[test]
fn no_calculation_was_deep_enough_that_ends_before_the_finding() {
    let line = "h3 h6 e3 a5 a3 a4";
    let review = reviewed(
        &tree(QUIET, &[&format!("{line} +-")]),
        &[(&format!("{line} c4 d4"), 0.45), ("c4", 0.45)],
    );
    assert_eq!(first(&review).1, FindingStatus::Counted);
    assert_eq!(review.findings[0].ply, 7);
    let depth = review.depth;
    assert_eq!((depth.needed, depth.reached, depth.sound), (7, 6, 6));
}

#[test]
fn the_only_legal_move_is_the_right_choice() {
    let review = reviewed(
        &tree("7k/8/5K2/6Q1/8/8/8/8 b - - 0 1", &["Kh7 Qg7# +-"]),
        &[],
    );
    assert!(review.is_clean(), "{:#?}", review.findings);
    assert_eq!((review.coverage.written, review.coverage.of), (2, 2));
}

/// Queen against a bishop's pawn on the seventh: taking it is stalemate (G. Lolli, Osservazioni, 1763, from
/// memory).
#[test]
fn a_stalemate_taken_for_a_win() {
    let fen = "8/8/8/8/8/1Q5K/2p5/k7 w - - 0 1";
    let review = reviewed(&tree(fen, &["Qxc2 +-"]), &[("Qg3", 0.5)]);
    assert_eq!(
        (first(&review).0, first(&review).1),
        (FindingKind::Misjudged, FindingStatus::Counted)
    );
    insta::assert_snapshot!(first(&review).2, @"Your line ends with 1.Qxc2, and it is stalemate: a draw. You judged: you are winning.");
    insta::assert_snapshot!(review.findings[0].question, @"After the last move: does the other side still have a move?");
    let finding = &review.findings[0];
    assert_eq!((finding.resource.as_str(), finding.ply), ("Qxc2", 1));
    assert!(finding.proof.is_empty() && finding.instead.is_empty());
    assert_eq!((review.depth.needed, review.depth.sound), (1, 0));
    let review = reviewed(&tree(fen, &["Qxc2 ="]), &[("Qg3", 0.5)]);
    assert!(review.is_clean(), "{:#?}", review.findings);
}

#[test]
fn the_end_of_a_line_misjudged() {
    let review = reviewed(
        &tree(QUIET, &["h3 h6 e3 +-"]),
        &[("h3 h6 e3 a5", 0.45), ("c4", 0.45)],
    );
    assert_eq!(first(&review).0, FindingKind::Misjudged);
    insta::assert_snapshot!(first(&review).2, @"Your line ends with 8.e3. You judged: you are winning. His best is 8...a5. Then the position is level.");
}

#[test]
fn an_unclear_verdict_is_never_scored() {
    let review = reviewed(&tree(QUIET, &["h3 h6 e3 ~"]), &[("h3 h6 e3 a5", 0.95)]);
    assert!(review.is_clean(), "{:#?}", review.findings);
}

#[test]
fn the_choice_without_a_reply_is_bare_and_not_counted() {
    let review = reviewed(&tree(QUIET, &["h3"]), &[("h3 h6", 0.5)]);
    let (kind, class, sentence) = first(&review);
    assert_eq!(
        (kind, class),
        (FindingKind::BareCandidate, FindingStatus::Aside)
    );
    insta::assert_snapshot!(sentence, @"You chose 7.h3 without writing one reply to it. His best is 7...h6.");
}

/// Marked as standing alone on purpose, it is no oversight that no reply was written.
#[test]
fn a_choice_that_stands_alone_on_purpose_is_not_bare() {
    let mut alone = tree(QUIET, &["h3"]);
    alone.set_only(NodeId(1), true).unwrap();
    let review = reviewed(&alone, &[("h3 h6", 0.5)]);
    assert!(review.is_clean(), "{:#?}", review.findings);
}

#[test]
fn right_things_come_first() {
    let review = reviewed(
        &tree(QUIET, &["h3 d4 =", "c4"]),
        &[("h3 d4", 0.50), ("h3 h6", 0.60), ("c4 d4", 0.40)],
    );
    let notes: Vec<&str> = review.right.iter().map(|r| r.note.as_str()).collect();
    insta::assert_snapshot!(notes.join(" | "), @"You chose 7.h3: nothing better was there. | You saw 7...d4 after 7.h3: his best reply, and the one that matters. | You judged the end of 7.h3 d4 rightly.");
}

#[test]
fn a_reply_that_does_no_harm_was_feared() {
    let ends = [("h3 h6", 0.45), ("c4 d4 e3", 0.62)];
    let review = reviewed(&tree(QUIET, &["h3 h6 =", "c4 d4 -/+"]), &ends);
    let feared = review
        .findings
        .iter()
        .find(|f| f.kind == FindingKind::FearedTooMuch)
        .unwrap();
    assert_eq!(feared.class, FindingStatus::Counted);
    insta::assert_snapshot!(feared.sentence, @"You rejected 7.c4 because of 7...d4 and chose 7.h3. The answer is 8.e3. Then you are slightly better. Nothing bad happens to you. With 7.h3 the position is level.");
}

#[test]
fn a_feared_reply_that_does_harm_is_no_finding() {
    let ends = [("h3 h6", 0.55), ("c4 d4", 0.30)];
    let review = reviewed(&tree(QUIET, &["h3 h6 =", "c4 d4 -/+"]), &ends);
    assert!(
        review
            .findings
            .iter()
            .all(|f| f.kind != FindingKind::FearedTooMuch)
    );
}

#[test]
fn a_threat_that_no_line_meets() {
    let threat = |threat: &str, worth: f64| {
        let (comes, passed) = (format!("h3 {threat}"), format!("-- {threat} a3"));
        let other = format!("c4 {threat}");
        let ends = [(&*comes, worth), (&*other, 0.55), (&*passed, worth)];
        let review = reviewed(&tree(QUIET, &["h3"]), &ends);
        let mut found = review.findings.into_iter();
        found.find(|f| f.kind == FindingKind::MissedThreat).unwrap()
    };
    let found = threat("d4", 0.20);
    assert_eq!(
        (found.class, found.resource.as_str()),
        (FindingStatus::Counted, "d4")
    );
    insta::assert_snapshot!(found.sentence, @"Before your move he was threatening 7...d4, and none of your lines meets it. After 7.h3 comes 7...d4. Then you are lost.");
    // A quiet move that shows nothing and turns no verdict is an opinion; an attack is not, from twice delta on.
    assert_eq!(threat("d4", 0.30).class, FindingStatus::Close);
    assert_eq!(threat("e4", 0.30).class, FindingStatus::Counted);
    assert_eq!(threat("e4", 0.37).class, FindingStatus::Close);
    let ends = [("h3 d4", 0.20), ("c4 d4", 0.55), ("-- d4 h3", 0.20)];
    let review = reviewed(&tree(QUIET, &["h3 d4"]), &ends);
    assert!(
        review
            .findings
            .iter()
            .all(|f| f.kind != FindingKind::MissedThreat),
        "the threat was written"
    );
}

#[test]
fn the_critical_reply_was_seen_and_misjudged() {
    let ends = [("h3 d4 c3", 0.30), ("h3 h6", 0.60), ("c4", 0.30)];
    let tree = tree(QUIET, &["h3 d4 +-", "h3 d4 c3"]);
    let review = reviewed(&tree, &ends);
    let seen = review
        .findings
        .iter()
        .find(|f| f.kind == FindingKind::SeenMisjudged)
        .unwrap();
    insta::assert_snapshot!(seen.sentence, @"You saw 7...d4, his best reply. You judged: you are winning. Best then is 8.c3. Then you are clearly worse.");
}

/// The trebuchet, the textbook's mutual zugzwang (common practice, no source): with the kings on
/// d6 and c4 whoever has to move loses his pawn.
#[test]
fn every_move_harms_the_side_that_would_rather_pass() {
    let fen = "8/8/2K5/2Pp4/2k5/8/8/8 w - - 0 1";
    let tree = tree(fen, &["Kb6 d4 Kc7"]);
    let ends = [("Kd6", 1.0), ("Kb6 d4 Kc7", 0.5)];
    // After Kd6 and a pass of Black it is White who has to move.
    let level = [("8/8/3K4/2Pp4/2k5/8/8/8 w", 0.5)];
    let review = reviewed_with(&tree, &ends, &level);
    let finding = &review.findings[0];
    assert!(finding.motifs.contains(&Motif::EveryMoveHarms));
    insta::assert_snapshot!(finding.sentence, @"1.Kd6 was not among your candidates, and is far better than 1.Kb6. Then you are winning. After it every move of his harms him. With 1.Kb6 the position is level.");
    let won = [("8/8/3K4/2Pp4/2k5/8/8/8 w", 1.0)];
    let review = reviewed_with(&tree, &ends, &won);
    assert!(!review.findings[0].motifs.contains(&Motif::EveryMoveHarms));
}

/// A position made for this test: Black's knight on b4 is attacked and his bishop on f5 is not. What he plays
/// instead of saving the knight gives it up only if a good move would have saved it.
#[test]
fn what_no_good_move_would_have_saved_is_not_given_up() {
    let fen = "r2q1rk1/ppp2ppp/8/3p1b2/1n6/8/PPPP1PPP/R1BQKBNR w KQ - 0 1";
    let tree = tree(fen, &["a3 a6"]);
    let saved = [("a3 a6", 0.70), ("a3 d4 axb4", 0.20), ("a3 Nc6", 0.25)];
    let review = reviewed(&tree, &saved);
    assert_eq!(first(&review).0, FindingKind::MissedCounterSacrifice);
    insta::assert_snapshot!(first(&review).2, @"After 1.a3 you had 1...a6. He lets you take a piece with 1...d4: 2.axb4. Then you are lost, in spite of the material.");
    let only = [("a3 a6", 0.70), ("a3 d4 axb4", 0.20), ("a3 Nc6", 0.60)];
    assert_eq!(
        first(&reviewed(&tree, &only)).0,
        FindingKind::MissedCounterSacrifice
    );
    let lost = [("a3 a6", 0.90), ("a3 d4 axb4", 0.20), ("a3 Nc6", 0.85)];
    let review = reviewed(&tree, &lost);
    assert_eq!(first(&review).0, FindingKind::MissedDefence);
    insta::assert_snapshot!(first(&review).2, @"After 1.a3 you had 1...a6. He also has 1...d4. Then you are lost.");
}
