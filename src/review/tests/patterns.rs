//! Names that the trade has for what a line shows, in the sentences.

use crate::review::tests::fixture::{reviewed, tree};

fn sentence(fen: &str, written: &str, ends: &[(&str, f64)]) -> String {
    let review = reviewed(&tree(fen, &[written]), ends);
    let counted = review.counted().next();
    counted.map(|f| f.sentence.clone()).unwrap_or_default()
}

/// E. Steiner - J. R. Capablanca, Budapest 1929, with White's queen too early on d4 (the trap is older; from memory).
#[test]
fn a_piece_is_trapped() {
    let fen = "r2qkbnr/3b1ppp/p2p4/1ppQ4/4P3/1B6/PPP2PPP/RNB1K2R b KQkq - 5 11";
    let ends = [("Be6 Qc6+", 0.45), ("c4 Bxc4 bxc4 Qxc4", 0.85)];
    insta::assert_snapshot!(sentence(fen, "Be6 Qc6+", &ends), @"11...c4, which traps his bishop, was not among your candidates, and is far better than 11...Be6: 12.Bxc4 bxc4 13.Qxc4; you have a piece for two pawns. Then you are winning. With 11...Be6 the position is level.");
}

/// The corner that the bishop does not guard, worked by hand.
#[test]
fn a_bishop_is_the_wrong_one() {
    let fen = "8/1k6/8/P1K2n2/8/6P1/8/4B3 b - - 0 1";
    let ends = [("Ne7 Bd2", 0.10), ("Nxg3 Bxg3 Ka8", 0.50)];
    insta::assert_snapshot!(sentence(fen, "Ne7 Bd2", &ends), @"1...Nxg3 was not among your candidates, and is far better than 1...Ne7: 2.Bxg3 Ka8; he has won a piece for a pawn. Then the position is level, for the bishop is the wrong one for the corner a8. With 1...Ne7 you are lost.");
    // Not where the position is no draw.
    let ends = [("Ne7 Bd2", 0.10), ("Nxg3 Bxg3 Ka8", 0.30)];
    assert!(!sentence(fen, "Ne7 Bd2", &ends).contains("wrong"));
}
