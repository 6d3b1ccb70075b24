//! Moves that the board does not allow, and mates that are none.

use super::super::{FindingKind, FindingStatus};
use crate::review::tests::fixture::{QUIET, RETI_TARTAKOWER, first, reviewed, tree};

#[test]
fn an_impossible_choice_counts() {
    let review = reviewed(&tree(QUIET, &["Bxd5 h6", "c4 d4"]), &[("c4 d4", 0.5)]);
    assert_eq!(
        (first(&review).0, first(&review).1),
        (FindingKind::IllegalMove, FindingStatus::Counted)
    );
    assert_eq!(
        review.depth,
        crate::review::Depth {
            longest: 2,
            ..Default::default()
        }
    );
}

#[test]
fn nothing_can_be_played_when_the_game_is_over() {
    let review = reviewed(&tree("R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1", &["h6"]), &[]);
    assert_eq!(
        (first(&review).0, first(&review).1),
        (FindingKind::IllegalMove, FindingStatus::Counted)
    );
    insta::assert_snapshot!(first(&review).2, @"h6 is not possible: the game is over there, by checkmate.");
    assert!(review.right.is_empty());
}

/// W. Steinitz - C. von Bardeleben, Hastings 1895: the rook of e1 takes on e7 and is there no more.
#[test]
fn a_rook_that_has_left_cannot_take_back() {
    let fen = "r1r1k3/pp1qn2p/5pp1/3p2N1/6Q1/8/PP3PPP/2R1R1K1 w - - 2 22";
    let review = reviewed(
        &tree(fen, &["Rxe7+ Kf8 Qxd7 Rxc1+ Rxc1 +-"]),
        &[("Rxe7+ Kf8", 0.9)],
    );
    let phantom = review
        .findings
        .iter()
        .find(|f| f.kind == FindingKind::IllegalMove)
        .unwrap();
    assert_eq!(phantom.class, FindingStatus::Counted);
    assert_eq!(phantom.ply, 5);
}

#[test]
fn what_stands_below_an_impossible_move_is_not_judged_and_said_so() {
    let review = reviewed(&tree(QUIET, &["h3 Qxh3 gxh3"]), &[("h3 h6", 0.5)]);
    insta::assert_snapshot!(review.unjudged[0].why, @"it follows Qxh3, which cannot be set on the board");
}

#[test]
fn an_impossible_move_is_told_even_below_another_finding() {
    let tree = tree(RETI_TARTAKOWER, &["Nxe4 Qxe4 Qxe4 -+", "Nxe4 Qxe4 Qd5"]);
    let ends = [
        ("Nxe4 Qd8+ Kxd8 Bg5+ Kc7 Bd8#", 0.0),
        ("Nxe4 Qxe4 Qxe4", 1.0),
    ];
    let review = reviewed(&tree, &ends);
    let told: Vec<_> = review.findings.iter().map(|f| (f.kind, f.class)).collect();
    assert_eq!(
        told,
        [
            (FindingKind::MissedCounterSacrifice, FindingStatus::Counted),
            (FindingKind::IllegalMove, FindingStatus::Aside)
        ]
    );
    insta::assert_snapshot!(review.findings[1].sentence, @"Qd5 is not possible: your queen on e5 shields the king from his queen on e4, which came there one half-move earlier. It could be played if Qxe4 stood on the board, which you wrote in another line.");
}

#[test]
fn a_claimed_mate_that_is_none() {
    let review = reviewed(
        &tree(QUIET, &["h3 h6", "Bh6#"]),
        &[("h3 h6", 0.5), ("Bh6 gxh6", 0.2)],
    );
    let mate = review
        .findings
        .iter()
        .find(|f| f.kind == FindingKind::IllegalMove)
        .unwrap();
    insta::assert_snapshot!(mate.sentence, @"Bh6# is no mate: there is 7...gxh6; he has won a piece. Then you are lost.");
}

#[test]
fn a_slip_of_the_pen_is_told_and_not_counted() {
    let review = reviewed(&tree(QUIET, &["h3 Nd6"]), &[("h3 h6", 0.5)]);
    let slip = review
        .findings
        .iter()
        .find(|f| f.kind == FindingKind::IllegalMove)
        .unwrap();
    assert_eq!(slip.class, FindingStatus::Aside);
    insta::assert_snapshot!(slip.sentence, @"Nd6 is not possible: the knight on c6 does not move like that. Did you mean Nd7? It is judged as that and not counted.");
}

#[test]
fn a_move_of_another_line_is_a_forward_image() {
    let review = reviewed(&tree(QUIET, &["h3 h6 Nxd5", "Nc3 h6"]), &[("h3 h6", 0.5)]);
    let phantom = review
        .findings
        .iter()
        .find(|f| f.kind == FindingKind::IllegalMove)
        .unwrap();
    insta::assert_snapshot!(phantom.sentence, @"Nxd5 is not possible: the knight on b1 does not move like that. It could be played if Nc3 stood on the board, which you wrote in another line.");
}
