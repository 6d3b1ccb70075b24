//! Each reason in a position made for it, in words. The facts are those of the FIDE Laws, articles 3.2
//! to 3.9 (from memory); the positions are ours.

use insta::assert_snapshot;

use crate::board::{Line, line::read_fen};
use crate::notation::{Phantom, Reading, parse, resolve};

/// The position after some moves, given as a player types them.
fn line(fen: &str, moves: &str) -> Line {
    let mut line = Line::new(read_fen(fen).unwrap());
    for text in moves.split_whitespace() {
        match resolve(&parse(text).unwrap(), &line) {
            Reading::Legal(mv) => line.push(&mv).unwrap(),
            other => panic!("{text}: {other:?}"),
        }
    }
    line
}

fn phantom(text: &str, line: &Line) -> Phantom {
    match resolve(&parse(text).unwrap(), line) {
        Reading::Phantom(phantom) => phantom,
        other => panic!("{text}: {other:?}"),
    }
}

fn why(text: &str, fen: &str, moves: &str) -> String {
    let phantom = phantom(text, &line(fen, moves));
    let reasons: Vec<String> = phantom.reasons.iter().map(ToString::to_string).collect();
    let retained = phantom
        .retained
        .map_or(String::new(), |k| format!(" [retained {k}]"));
    reasons.join("; ") + &retained
}

#[test]
fn the_piece_never_was() {
    assert_snapshot!(why("Qd4", "4k3/8/8/8/8/8/8/R3K3 w - - 0 1", ""), @"there is no queen to move");
    assert_snapshot!(why("Rbd1", "4k3/8/8/8/8/8/8/R3K3 w - - 0 1", ""), @"there is no rook on the b-file");
    assert_snapshot!(why("Ra2-a4", "4k3/8/8/8/8/8/8/R3K3 w - - 0 1", ""), @"there is no rook on a2");
    assert_snapshot!(why("R2a4", "4k3/8/8/8/8/8/8/R3K3 w - - 0 1", ""), @"there is no rook on rank 2");
    assert_snapshot!(why("b2b4", "4k3/8/8/8/8/8/8/R3K3 w - - 0 1", ""), @"nothing stands on b2");
    assert_snapshot!(why("e8d8", "4k3/8/8/8/8/8/8/R3K3 w - - 0 1", ""), @"the king on e8 belongs to the other side");
}

#[test]
fn the_piece_was_captured() {
    assert_snapshot!(
        why("Ne5", "4k3/8/8/8/6b1/5N2/8/4K3 b - - 0 1", "Bxf3"),
        @"the knight was captured on f3 at ply 1 [retained 1]"
    );
}

#[test]
fn the_piece_moved_away() {
    assert_snapshot!(
        why("Re8", "8/8/8/7k/8/8/8/K3R3 w - - 0 1", "Rd1 Kg5 Rd3 Kg4"),
        @"the rook left e1 at ply 1; the rook on d3 does not move like that [retained 1]"
    );
    assert_snapshot!(
        why("Nf3", "4k3/8/8/8/8/8/8/4K1N1 w - - 0 1", "Nf3 Kd7"),
        @"the knight left g1 at ply 1; the knight on f3 does not move like that [retained 1]"
    );
}

#[test]
fn the_square_or_the_way_is_taken() {
    assert_snapshot!(
        why("Ra5", "4k3/8/8/8/8/P7/8/R3K3 w - - 0 1", ""),
        @"a pawn stands on a3"
    );
    assert_snapshot!(
        why("Ra5", "4k3/8/1n6/8/8/8/8/R3K3 b - - 0 1", "Na4"),
        @"a knight came to a4 at ply 1 [retained 1]"
    );
    assert_snapshot!(
        why("e5", "4k3/8/8/4p3/4P3/8/8/4K3 w - - 0 1", ""),
        @"a pawn stands on e5"
    );
    assert_snapshot!(
        why("e4", "4k3/8/8/8/8/4n3/4P3/4K3 w - - 0 1", ""),
        @"a knight stands on e3"
    );
}

#[test]
fn a_pawn_has_nothing_to_take() {
    assert_snapshot!(
        why("exd5", "4k3/8/8/8/4P3/8/8/4K3 w - - 0 1", ""),
        @"there is nothing to take on d5"
    );
    assert_snapshot!(
        why("exd5", "4k3/8/8/3n4/4P3/8/8/4K3 b - - 0 1", "Nf6"),
        @"there is nothing to take on d5 since ply 1 [retained 1]"
    );
}

/// FIDE Laws, article 3.7.3.2: 'only legal on the move following this advance'.
#[test]
fn taking_in_passing_is_over() {
    assert_snapshot!(
        why("exd6", "4k3/3p4/8/4P3/8/8/8/4K3 b - - 0 1", "d5 Kd2 Kd7"),
        @"the pawn on d5 can no longer be taken in passing"
    );
}

#[test]
fn the_piece_is_pinned() {
    assert_snapshot!(
        why("Nc5", "4k3/4r3/8/8/4N3/8/8/4K3 w - - 0 1", ""),
        @"the knight on e4 is pinned by the rook on e7"
    );
    assert_snapshot!(
        why("Nd5", "4k3/4r3/4n3/8/8/4N3/8/4K3 b - - 0 1", "Nf4"),
        @"the knight on e3 is pinned by the rook on e7, opened from e6 at ply 1 [retained 1]"
    );
}

#[test]
fn the_king_is_in_check() {
    assert_snapshot!(
        why("a4", "4k3/4r3/4n3/8/8/8/P7/4K3 b - - 0 1", "Nd4"),
        @"the king is in check by the rook on e7, opened from e6 at ply 1 [retained 1]"
    );
    assert_snapshot!(
        why("Ke2", "4k3/3r4/8/8/8/8/8/4K3 b - - 0 1", "Re7"),
        @"e2 is attacked by the rook on e7 since ply 1 [retained 1]"
    );
    assert_snapshot!(
        why("Kd8", "3nk3/8/8/8/8/8/8/3RK3 w - - 0 1", "Kf1 Nc6 Rd2"),
        @"d8 is attacked by the rook on d2 since ply 3"
    );
}

/// Both pawns leave the rank at once: the well-known exception when counting moves (common knowledge).
#[test]
fn taking_in_passing_opens_the_rank() {
    assert_snapshot!(
        why("exd6", "8/3p4/8/K3P2r/8/8/8/4k3 b - - 0 1", "d5"),
        @"taking in passing lays the king open to the rook on h5"
    );
}

/// FIDE Laws, article 3.8.2.
#[test]
fn castling_is_not_possible() {
    let free = "4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1";
    assert_snapshot!(why("O-O", free, "Rg1 Kd7 Rh1 Ke8"), @"the rook left h1 at ply 1; the right to castle was lost at ply 1 [retained 1]");
    assert_snapshot!(why("O-O", "4k3/8/8/8/8/8/8/R3K2R w Q - 0 1", ""), @"there is no right to castle to that side");
    assert_snapshot!(why("O-O", "4k1r1/8/8/8/8/8/8/R3K2R w KQ - 0 1", ""), @"the king would pass g1, attacked by the rook on g8");
    assert_snapshot!(why("O-O", "4kr2/8/8/8/8/8/8/R3K2R w KQ - 0 1", ""), @"the king would pass f1, attacked by the rook on f8");
    assert_snapshot!(why("O-O", "3rk3/4r3/8/8/8/8/8/R3K2R w KQ - 0 1", ""), @"the king is in check by the rook on e7");
    assert_snapshot!(why("O-O", "4k3/8/8/8/8/8/8/R3K1NR w KQ - 0 1", ""), @"a knight stands on g1");
    assert_snapshot!(why("e1g1", "4k3/8/8/8/8/8/8/R3K1NR w KQ - 0 1", ""), @"a knight stands on g1");
    assert_snapshot!(why("O-O-O", free, "Kd1 Kd7"), @"the king left e1 at ply 1; the right to castle was lost at ply 1 [retained 1]");
}

/// Queenside the rook may pass an attacked square: only the king's way counts (article 3.8.2.2).
#[test]
fn an_attack_on_b1_does_not_hinder_castling() {
    let line = line("1r2k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "");
    assert!(matches!(
        resolve(&parse("O-O-O").unwrap(), &line),
        Reading::Legal(_)
    ));
}

#[test]
fn the_piece_does_not_move_like_that() {
    assert_snapshot!(why("Nd5", "4k3/8/8/8/8/8/8/4K1N1 w - - 0 1", ""), @"the knight on g1 does not move like that");
    assert_snapshot!(why("e5", "4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", ""), @"the pawn on e2 does not move like that");
    assert_snapshot!(why("e4=Q", "4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", ""), @"a pawn is not promoted on e4");
    assert_snapshot!(why("g1f3q", "4k3/8/8/8/8/8/8/4K1N1 w - - 0 1", ""), @"the knight on g1 cannot be promoted");
}

/// The values a program gets.
#[test]
fn a_phantom_is_plain_data() {
    let phantom = phantom("Re8", &line("8/8/8/7k/8/8/8/K3R3 w - - 0 1", "Rd1 Kg5"));
    assert_snapshot!(
        serde_json::to_string(&phantom).unwrap(),
        @r#"{"reasons":[{"why":"moved-away","role":"rook","from":"e1","ply":1},{"why":"does-not-reach","role":"rook","from":"d1"}],"retained":1}"#
    );
}
