//! What endings have names for.

use shakmaty::{Chess, Color, File, Position, Rank, Role, Square};

use super::Played;

/// Known error: whether it wins or saves anything is not asked.
pub(super) fn takes_opposition(played: &Played<'_>) -> bool {
    let board = played.next.board();
    let only = board.kings() | board.pawns();
    if played.mv.role() != Role::King || played.mv.is_castle() || board.occupied() != only {
        return false;
    }
    let both = board.king_of(Color::White).zip(board.king_of(Color::Black));
    both.is_some_and(|(white, black)| {
        let (files, ranks) = (
            white.file().distance(black.file()),
            white.rank().distance(black.rank()),
        );
        files.min(ranks) == 0 && matches!(files.max(ranks), 2 | 4 | 6)
    })
}

/// The corner in which a side with nothing but a king stands, or can step, where the other has but a bishop and pawns
/// of one rook's file that promote there, and the bishop never guards it: the wrong bishop. Known since G. Greco
/// (about 1620); a dead draw once the king has reached the corner.
#[must_use]
pub fn wrong_bishop_corner(pos: &Chess) -> Option<Square> {
    let board = pos.board();
    let strong = Color::ALL
        .into_iter()
        .find(|side| board.by_color(side.other()).count() == 1)?;
    let own = board.by_color(strong);
    let (pawns, bishops) = (own & board.pawns(), own & board.bishops());
    let bishop = bishops
        .into_iter()
        .next()
        .filter(|_| bishops.count() == 1)?;
    let file = pawns.into_iter().next()?.file();
    let on_one_file = pawns.into_iter().all(|pawn| pawn.file() == file);
    if own.count() != 2 + pawns.count() || !on_one_file || !matches!(file, File::A | File::H) {
        return None;
    }
    let last = strong.fold_wb(Rank::Eighth, Rank::First);
    let corner = Square::from_coords(file, last);
    let king = board.king_of(strong.other())?;
    let reached = king.distance(corner) <= 1;
    (reached && corner.is_light() != bishop.is_light()).then_some(corner)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;

    #[test]
    fn the_corner_is_that_of_the_pawn_and_not_of_the_bishop() {
        let corner = |fen: &str| wrong_bishop_corner(&read_fen(fen).unwrap());
        // Common practice, in every book on endings.
        assert_eq!(corner("k7/8/8/P1K5/8/4B3/8/8 w - - 0 1"), Some(Square::A8));
        assert_eq!(corner("8/8/5b2/8/8/7p/4k3/7K w - - 0 1"), Some(Square::H1));
        // The right bishop, a pawn beside the rook's file, a king that is far away, another man.
        for fen in [
            "k7/8/8/P1K5/8/3B4/8/8 w - - 0 1",
            "k7/8/8/1PK5/8/4B3/8/8 w - - 0 1",
            "8/8/4k3/P1K5/8/4B3/8/8 w - - 0 1",
            "k7/7p/8/P1K5/8/4B3/8/8 w - - 0 1",
            "k7/8/8/P1K5/8/4B3/3N4/8 w - - 0 1",
        ] {
            assert_eq!(corner(fen), None, "{fen}");
        }
    }
}
