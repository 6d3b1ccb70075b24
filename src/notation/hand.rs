//! A move made as a hand makes it on a board that knows no rules.
//!
//! For a player who asked that the board follow what he writes: an impossible move must look like any
//! other, so the man that is named goes to the square that is named, wherever it came from.

use shakmaty::{Board, CastlingSide, Color, File, Piece, Role, Square, attacks};

use super::{Shape, Token};

/// The board after the named man has gone to the named square. Where several men could be meant, the
/// one that reaches the square as it moves goes, else the nearest; where there is none, one appears.
#[must_use]
pub fn by_hand(board: &Board, mover: Color, token: &Token) -> Board {
    let mut board = board.clone();
    match &token.shape {
        Shape::Pass => {}
        Shape::Castle(side) => castle(&mut board, mover, *side),
        Shape::Takes { from, to } => take(&mut board, mover, (*from, *to)),
        Shape::Step { to, promotion, .. } => {
            let from = origin(&board, mover, &token.shape);
            let man = from.and_then(|from| board.remove_piece_at(from));
            let role = wanted(&token.shape).or(man.map(|m| m.role));
            let role = promotion.or(role).unwrap_or(Role::Pawn);
            passed(&mut board, mover, from, *to, man.map(|m| m.role));
            board.set_piece_at(*to, Piece { color: mover, role });
        }
    }
    board
}

fn wanted(shape: &Shape) -> Option<Role> {
    match shape {
        Shape::Step { role, .. } => *role,
        _ => None,
    }
}

/// Where the man comes from.
fn origin(board: &Board, mover: Color, shape: &Shape) -> Option<Square> {
    let Shape::Step {
        role,
        file,
        rank,
        to,
        capture,
        ..
    } = shape
    else {
        return None;
    };
    let fits = |square: &Square| {
        role.is_none_or(|r| board.role_at(*square) == Some(r))
            && file.is_none_or(|f| square.file() == f)
            && rank.is_none_or(|r| square.rank() == r)
    };
    let men = board.by_color(mover).into_iter().filter(fits);
    men.min_by_key(|from| {
        (
            !reaches(board, mover, *from, (*to, *capture)),
            from.distance(*to),
        )
    })
}

/// True where the man on `from` moves or takes to `to` as men of its kind do.
fn reaches(board: &Board, mover: Color, from: Square, (to, capture): (Square, bool)) -> bool {
    let Some(piece) = board.piece_at(from) else {
        return false;
    };
    if piece.role != Role::Pawn {
        return attacks::attacks(from, piece, board.occupied()).contains(to);
    }
    let ahead = to.rank() > from.rank();
    let taken = board.color_at(to) == Some(mover.other());
    let takes = attacks::pawn_attacks(mover, from).contains(to) && (taken || capture);
    takes || (from.file() == to.file() && ahead == (mover == Color::White))
}

/// A pawn that goes aslant to an empty square takes the pawn beside it.
fn passed(board: &mut Board, mover: Color, from: Option<Square>, to: Square, man: Option<Role>) {
    let Some(from) = from.filter(|f| f.file() != to.file()) else {
        return;
    };
    let beside = Square::from_coords(to.file(), from.rank());
    let enemy = Piece {
        color: mover.other(),
        role: Role::Pawn,
    };
    if man == Some(Role::Pawn)
        && board.piece_at(to).is_none()
        && board.piece_at(beside) == Some(enemy)
    {
        board.discard_piece_at(beside);
    }
}

/// The pawn of a file takes on the file beside it: the one that has something to take, else the first.
fn take(board: &mut Board, mover: Color, (from, to): (File, File)) {
    let pawns = board.by_color(mover) & board.pawns();
    let steps = pawns.into_iter().filter_map(|square| {
        let ahead = square.offset(mover.fold_wb(8, -8))?;
        let target = Square::from_coords(to, ahead.rank());
        (square.file() == from).then_some((square, target))
    });
    let best = steps.min_by_key(|(_, target)| board.color_at(*target) != Some(mover.other()));
    let Some((square, target)) = best else { return };
    board.discard_piece_at(square);
    passed(board, mover, Some(square), target, Some(Role::Pawn));
    board.set_piece_at(target, Role::Pawn.of(mover));
}

fn castle(board: &mut Board, mover: Color, side: CastlingSide) {
    let rank = mover.fold_wb(shakmaty::Rank::First, shakmaty::Rank::Eighth);
    let Some(king) = board.king_of(mover) else {
        return;
    };
    let corner = match side {
        CastlingSide::KingSide => Square::from_coords(shakmaty::File::H, rank),
        CastlingSide::QueenSide => Square::from_coords(shakmaty::File::A, rank),
    };
    let rook = Role::Rook.of(mover);
    let man = board.remove_piece_at(king);
    if board.piece_at(corner) == Some(rook) {
        board.discard_piece_at(corner);
        board.set_piece_at(side.rook_to(mover), rook);
    }
    if let Some(man) = man {
        board.set_piece_at(side.king_to(mover), man);
    }
}

#[cfg(test)]
mod tests {
    use shakmaty::{Chess, Position};

    use super::*;
    use crate::board::{Line, line};
    use crate::notation::{Reading, parse, resolve};

    fn after(fen: &str, text: &str) -> String {
        let position = line::read_fen(fen).unwrap();
        let token = parse(text).unwrap();
        let board = by_hand(position.board(), position.turn(), &token);
        board.to_string()
    }

    /// Every legal move looks as the rules have it, so the hand tells nothing by a difference.
    #[test]
    fn a_legal_move_looks_as_the_rules_have_it() {
        let mut compared = 0;
        for fen in [
            "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
            "8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - - 0 1",
            "r2q1rk1/pP1p2pp/Q4n2/bbp1p3/Np6/1B3NBn/pPPP1PPP/R3K2R b KQ - 0 1",
            "rnbqkbnr/ppp1p1pp/8/3pPp2/8/8/PPPP1PPP/RNBQKBNR w KQkq f6 0 3",
        ] {
            let root = Line::new(line::read_fen(fen).unwrap());
            for mv in root.position().legal_moves() {
                let token = parse(&line::san(root.position(), &mv)).unwrap();
                let Reading::Legal(read) = resolve(&token, &root) else {
                    panic!("{mv} is legal")
                };
                let mut played: Chess = root.position().clone();
                played.play_unchecked(&read);
                let hand = by_hand(root.position().board(), root.turn(), &token);
                assert_eq!(&hand, played.board(), "{fen} {mv}");
                compared += 1;
            }
        }
        assert!(compared > 80);
    }

    #[test]
    fn an_impossible_move_is_made_all_the_same() {
        // F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895.
        let saavedra = "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1";
        assert_eq!(after(saavedra, "Kb2"), "8/8/2P5/3r4/8/8/1K6/k7");
        assert_eq!(after(saavedra, "c8=Q"), "2Q5/8/1K6/3r4/8/8/8/k7");
        assert_eq!(after(saavedra, "Qh5"), "8/8/1KP5/3r3Q/8/8/8/k7");
        assert_eq!(after(saavedra, "O-O"), "8/8/2P5/3r4/8/8/8/k5K1");
        let pawns = "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1";
        assert_eq!(after(pawns, "ed"), "4k3/8/8/3P4/8/8/8/4K3");
        assert_eq!(after(pawns, "ef"), "4k3/8/8/3p1P2/8/8/8/4K3");
        assert_eq!(after(saavedra, "ed"), "8/8/1KP5/3r4/8/8/8/k7");
        assert_eq!(after(saavedra, "--"), "8/8/1KP5/3r4/8/8/8/k7");
    }
}
