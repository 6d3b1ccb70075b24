//! Pieces by what they reach and where they stand.

use shakmaty::{Bitboard, attacks};

use super::{Board, Sink};
use crate::engine::generate::forward;
use crate::engine::position::{Position, pawn_attacks, piece_attacks};
use crate::engine::terms::*;
use crate::engine::types::*;

const FILE_A: Bitboard = Bitboard(0x0101_0101_0101_0101);
const CENTRE_FILES: Bitboard = Bitboard(0x3c3c_3c3c_3c3c_3c3c);
const CENTRE: Bitboard = Bitboard(0x0000_0018_1800_0000);
/// Ranks 4 to 6 of each side.
const OUTPOST_RANKS: [Bitboard; 2] = [
    Bitboard(0x0000_ffff_ff00_0000),
    Bitboard(0x0000_00ff_ffff_0000),
];
const MOBILITY: [usize; 6] = [
    0,
    MOBILITY_KNIGHT,
    MOBILITY_BISHOP,
    MOBILITY_ROOK,
    MOBILITY_QUEEN,
    0,
];

pub fn file_of(square: shakmaty::Square) -> Bitboard {
    Bitboard(FILE_A.0 << (at(square) & 7))
}

/// Squares attacked by a set of pawns.
pub fn pawn_set_attacks(colour: Colour, pawns: Bitboard) -> (Bitboard, Bitboard) {
    let step = forward(colour, pawns);
    (
        Bitboard((step.0 & !0x8080_8080_8080_8080) << 1),
        Bitboard((step.0 & !FILE_A.0) >> 1),
    )
}

/// All squares in front of a set, as far as the edge.
pub fn fill_forward(colour: Colour, set: Bitboard) -> Bitboard {
    let mut f = forward(colour, set);
    if colour == WHITE {
        f.0 |= f.0 << 8;
        f.0 |= f.0 << 16;
        f.0 |= f.0 << 32;
    } else {
        f.0 |= f.0 >> 8;
        f.0 |= f.0 >> 16;
        f.0 |= f.0 >> 32;
    }
    f
}

impl<'a> Board<'a> {
    pub fn new(p: &'a Position) -> Board<'a> {
        let empty = [Bitboard::EMPTY; 2];
        let mut board = Board {
            p,
            occupied: p.occupied(),
            by: [[Bitboard::EMPTY; 6]; 2],
            all: empty,
            twice: empty,
            area: empty,
            zone: empty,
            attackers: [[0; 6]; 2],
            hits: [0; 2],
        };
        for colour in [WHITE, BLACK] {
            let king = p.king(colour);
            let (left, right) = pawn_set_attacks(colour, p.men(colour, PAWN));
            let kings = attacks::king_attacks(king);
            board.by[colour][PAWN] = left | right;
            board.by[colour][KING] = kings;
            board.all[colour] = left | right | kings;
            board.twice[colour] = (left & right) | ((left | right) & kings);
            let inner = square((at(king) >> 3).clamp(1, 6) << 3 | (at(king) & 7).clamp(1, 6));
            board.zone[colour] = attacks::king_attacks(inner) | Bitboard::from_square(inner);
        }
        for colour in [WHITE, BLACK] {
            let low = [Bitboard(0xff_ff00), Bitboard(0x00ff_ff00_0000_0000)][colour];
            let pawns = p.men(colour, PAWN);
            let stuck = pawns & (low | forward(colour ^ 1, board.occupied));
            board.area[colour] =
                !(stuck | p.men(colour, KING) | p.men(colour, QUEEN) | board.by[colour ^ 1][PAWN]);
        }
        board
    }

    fn note(&mut self, colour: Colour, kind: Kind, reach: Bitboard) {
        self.by[colour][kind] |= reach;
        self.twice[colour] |= self.all[colour] & reach;
        self.all[colour] |= reach;
        let them = colour ^ 1;
        if (reach & self.zone[them]).any() {
            self.attackers[them][kind] += 1;
            self.hits[them] += (reach & self.by[them][KING]).count() as i32;
        }
    }
}

/// Counts mobility and placement of `colour`'s pieces and fills the attack sets of the board.
pub fn count(board: &mut Board, colour: Colour, sink: &mut impl Sink) {
    let p = board.p;
    let own_king = p.king(colour);
    // Pieces behind one another on a line work together: they see through each other.
    let queens = p.kind(QUEEN);
    let see_through = [
        Bitboard::EMPTY,
        Bitboard::EMPTY,
        board.occupied & !queens,
        board.occupied & !(p.men(colour, ROOK) | queens),
        board.occupied,
        Bitboard::EMPTY,
    ];
    // Pins of both sides are looked at from the king, so that evaluation does not depend on the turn.
    let pinned = pinned_men(p, colour);
    for kind in [KNIGHT, BISHOP, ROOK, QUEEN] {
        for from in p.men(colour, kind) {
            let mut reach = piece_attacks(kind, from, see_through[kind]);
            if pinned.contains(from) {
                reach &= attacks::ray(own_king, from);
            }
            board.note(colour, kind, reach);
            let squares = (reach & board.area[colour]).count();
            sink.add(colour, MOBILITY[kind] + squares, 1);
            match kind {
                KNIGHT | BISHOP => minor(board, colour, kind, from, reach, sink),
                ROOK => rook(board, colour, from, squares, sink),
                _ => queen(board, colour, from, sink),
            }
        }
    }
    if p.men(colour, BISHOP).more_than_one() {
        sink.add(colour, BISHOP_PAIR, 1);
    }
}

/// Men of `colour` that may not leave a line to their king.
pub fn pinned_men(p: &Position, colour: Colour) -> Bitboard {
    let king = p.king(colour);
    let none = Bitboard::EMPTY;
    let queens = p.kind(QUEEN);
    let snipers = p.side(colour ^ 1)
        & ((attacks::rook_attacks(king, none) & (p.kind(ROOK) | queens))
            | (attacks::bishop_attacks(king, none) & (p.kind(BISHOP) | queens)));
    let mut pinned = Bitboard::EMPTY;
    for sniper in snipers {
        let way = attacks::between(king, sniper) & p.occupied();
        if way.any() && !way.more_than_one() {
            pinned |= way & p.side(colour);
        }
    }
    pinned
}

fn minor(
    board: &Board,
    colour: Colour,
    kind: Kind,
    from: shakmaty::Square,
    reach: Bitboard,
    sink: &mut impl Sink,
) {
    let p = board.p;
    let enemy_pawns = p.men(colour ^ 1, PAWN);
    let outposts =
        OUTPOST_RANKS[colour] & board.by[colour][PAWN] & !enemy_reach(colour ^ 1, enemy_pawns);
    if outposts.contains(from) {
        sink.add(
            colour,
            if kind == KNIGHT {
                KNIGHT_OUTPOST
            } else {
                BISHOP_OUTPOST
            },
            1,
        );
    } else if kind == KNIGHT && (outposts & reach & !p.side(colour)).any() {
        sink.add(colour, KNIGHT_NEAR_OUTPOST, 1);
    }
    if forward(colour, Bitboard::from_square(from))
        .intersect(p.kind(PAWN))
        .any()
    {
        sink.add(colour, MINOR_BEHIND_PAWN, 1);
    }
    let steps = from.distance(p.king(colour)) as i32;
    sink.add(
        colour,
        if kind == KNIGHT {
            KNIGHT_FROM_KING
        } else {
            BISHOP_FROM_KING
        },
        steps,
    );
    if kind == BISHOP {
        let shade = if from.is_light() {
            Bitboard::LIGHT_SQUARES
        } else {
            Bitboard::DARK_SQUARES
        };
        let pawns = p.men(colour, PAWN) & shade;
        sink.add(colour, BISHOP_OWN_PAWNS, pawns.count() as i32);
        let blocked = pawns & CENTRE_FILES & forward(colour ^ 1, board.occupied);
        sink.add(colour, BISHOP_BLOCKED_PAWNS, blocked.count() as i32);
        if (attacks::bishop_attacks(from, p.kind(PAWN)) & CENTRE).more_than_one() {
            sink.add(colour, BISHOP_LONG_DIAGONAL, 1);
        }
    }
}

/// Squares that pawns of `colour` attack now or after going forward.
pub fn enemy_reach(colour: Colour, pawns: Bitboard) -> Bitboard {
    let (left, right) = pawn_set_attacks(colour, pawns | fill_forward(colour, pawns));
    left | right
}

fn rook(
    board: &Board,
    colour: Colour,
    from: shakmaty::Square,
    squares: usize,
    sink: &mut impl Sink,
) {
    let p = board.p;
    let file = file_of(from);
    if (file & p.men(colour, PAWN)).is_empty() {
        let open = (file & p.men(colour ^ 1, PAWN)).is_empty();
        sink.add(
            colour,
            if open {
                ROOK_OPEN_FILE
            } else {
                ROOK_HALF_OPEN_FILE
            },
            1,
        );
    } else if squares <= 3 {
        let (king, rook) = (at(p.king(colour)) & 7, at(from) & 7);
        if (king < 4) == (rook < king) && relative_rank(colour, p.king(colour)) < 2 {
            sink.add(colour, ROOK_SHUT_IN, 1);
        }
    }
    if relative_rank(colour, from) == 6 && relative_rank(colour, p.king(colour ^ 1)) >= 6 {
        sink.add(colour, ROOK_ON_SEVENTH, 1);
    }
}

fn queen(board: &Board, colour: Colour, from: shakmaty::Square, sink: &mut impl Sink) {
    let p = board.p;
    let none = Bitboard::EMPTY;
    let snipers = p.side(colour ^ 1)
        & ((attacks::rook_attacks(from, none) & p.kind(ROOK))
            | (attacks::bishop_attacks(from, none) & p.kind(BISHOP)));
    let exposed = snipers.into_iter().any(|s| {
        let way = attacks::between(from, s) & board.occupied;
        way.any() && !way.more_than_one()
    });
    if exposed {
        sink.add(colour, QUEEN_EXPOSED, 1);
    }
}

/// Squares from which a pawn of `colour` would attack `square`.
pub fn pawn_origins(colour: Colour, square: shakmaty::Square) -> Bitboard {
    pawn_attacks(colour ^ 1, square)
}
