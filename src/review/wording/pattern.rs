//! Patterns by the names that the trade has for them: of a move, and of a mate.
//!
//! A name is given only where the board alone shows the pattern, by a definition that stands here or in
//! [`motif`], and only if a test below finds it in a published game.

use shakmaty::{Chess, Move, Position, Role, Square, attacks};

use crate::board::Line;
use crate::board::motif::{self, Motif};
use crate::notation;

const NAMES: [(Motif, &str); 8] = [
    (Motif::Checkmate, tr_later!("mate")),
    (Motif::DoubleCheck, tr_later!("a double check")),
    (Motif::DiscoveredCheck, tr_later!("a discovered check")),
    (Motif::DiscoveredAttack, tr_later!("a discovered attack")),
    (Motif::DoubleAttack, tr_later!("a double attack")),
    (Motif::Underpromotion, tr_later!("an underpromotion")),
    (Motif::PinMade, tr_later!("a pin")),
    (Motif::Intermezzo, tr_later!("an in-between move")),
];

/// The pattern of a move.
pub(super) fn of_move(line: &Line, mv: &Move) -> Option<&'static str> {
    let motifs = motif::motifs(line, mv);
    let named = NAMES.iter().find(|(m, _)| motifs.contains(m));
    named.map(|(_, name)| crate::translation::text(name))
}

/// What the first move of a told line does, as an addition to it that stands between commas; where the line does not
/// show it, nothing: a double attack after which nothing is taken is not the point.
pub(super) fn of_line(line: &Line, told: &[Move]) -> Option<String> {
    let whose = if line.is_players_turn() {
        tr!("his")
    } else {
        tr!("your")
    };
    let piece = |role| format!("{whose} {}", notation::piece_name(role));
    let motifs = motif::motifs_in_line(line, told);
    let has = |motif: Motif| motifs.contains(&motif);
    if has(Motif::TrappedPiece)
        && let Some(trapped) = trapped(line, told)
    {
        // TRANSLATORS: an addition between commas behind a move; the value is whose piece it is, as in 'your rook'.
        return Some(tr!("which traps {}", piece(trapped)));
    }
    // Both are of the man that takes what was moved.
    let guard = told.get(1).map(Move::role);
    if let Some(guard) = guard.filter(|_| has(Motif::Overload)) {
        return Some(tr!("which overloads {}", piece(guard)));
    }
    if let Some(guard) = guard.filter(|_| has(Motif::Deflection)) {
        return Some(tr!("a deflection of {}", piece(guard)));
    }
    if has(Motif::Opposition) {
        return Some(tr!("which takes the opposition").to_owned());
    }
    let takes = told.iter().step_by(2).skip(1).any(Move::is_capture);
    let shown = |motif: Motif| match motif {
        Motif::DoubleCheck | Motif::Underpromotion => true,
        Motif::DiscoveredCheck | Motif::DiscoveredAttack | Motif::DoubleAttack => takes,
        _ => false,
    };
    let named = NAMES.iter().find(|(m, _)| has(*m) && shown(*m));
    named.map(|(_, name)| crate::translation::text(name).to_owned())
}

/// True where the side that begins the line gives check with every move until a position has come again.
pub(super) fn is_perpetual_check(line: &Line, told: &[Move]) -> bool {
    motif::motifs_in_line(line, told).contains(&Motif::PerpetualCheck)
}

/// The piece that the first move traps, where it is taken later on in the line.
fn trapped(line: &Line, told: &[Move]) -> Option<Role> {
    let at = motif::trapped_piece(line, told.first()?)?;
    let role = line.position().board().role_at(at)?;
    let own = told.iter().step_by(2).skip(1);
    let mut taken = own.filter_map(Move::capture);
    taken.any(|r| r == role).then_some(role)
}

/// How a king is mated, where the picture has a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum MatePattern {
    /// The king stands on his own first rank, a rook or queen checks him along it, and before him, where he would
    /// flee, stand men of his own, a pawn among them, or squares that are covered.
    BackRank,
    /// A knight alone gives the check, and every square around the king holds a man of his own.
    Smothered,
}

/// The picture of a mate; `None` where there is none, or it has no name here.
pub(super) fn of_mate(pos: &Chess) -> Option<MatePattern> {
    if !pos.is_checkmate() {
        return None;
    }
    let (side, board) = (pos.turn(), pos.board());
    let (king, own) = (board.king_of(side)?, board.by_color(side));
    let mut checkers = pos.checkers().into_iter();
    let checker = checkers.next().filter(|_| checkers.next().is_none())?;
    let role = board.role_at(checker)?;
    let around = attacks::king_attacks(king);
    if role == Role::Knight && around.is_subset(own) {
        return Some(MatePattern::Smothered);
    }
    let home = side.fold_wb(shakmaty::Rank::First, shakmaty::Rank::Eighth);
    let along = king.rank() == home && checker.rank() == home;
    let before = |square: &Square| square.rank() != home;
    let pawns = board.pawns() & own;
    let walled = around.into_iter().filter(before).any(|s| pawns.contains(s));
    let heavy = matches!(role, Role::Rook | Role::Queen);
    (along && walled && heavy).then_some(MatePattern::BackRank)
}

#[cfg(test)]
mod tests {
    use shakmaty::san::San;

    use super::*;
    use crate::board::line::read_fen;

    const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";

    /// The line without its last move, and that.
    fn last(fen: &str, moves: &str) -> (Line, Move) {
        let mut line = Line::new(read_fen(fen).unwrap());
        for word in moves.split_whitespace() {
            let san: San = word.trim_end_matches(['+', '#']).parse().unwrap();
            let mv = san.to_move(line.position()).unwrap();
            line.push(&mv).unwrap();
        }
        let mv = line.pop().unwrap();
        (line, mv)
    }

    /// Each is in every textbook; the moves are from memory.
    #[test]
    fn each_name_is_found_in_a_published_game() {
        let reti = "rnb1kb1r/pp3ppp/2p2n2/4q3/4N3/3Q4/PPPB1PPP/2KR1BNR b kq - 1 8";
        let cases = [
            // R. Reti - S. Tartakower, Vienna 1910 (R. Reti, Modern Ideas in Chess, 1923).
            (reti, "Nxe4 Qd8+ Kxd8 Bg5+", "a double check"),
            (reti, "Nxe4 Qd8+ Kxd8 Bg5+ Kc7 Bd8#", "mate"),
            // C. Torre - E. Lasker, Moscow 1925, the see-saw.
            (
                START,
                "d4 Nf6 Nf3 e6 Bg5 c5 e3 cxd4 exd4 Be7 Nbd2 d6 c3 Nbd7 Bd3 b6 Nc4 Bb7 Qe2 Qc7 O-O \
                 O-O Rfe1 Rfe8 Rad1 Nf8 Bc1 Nd5 Ng5 b5 Na3 b4 cxb4 Nxb4 Qh5 Bxg5 Bxg5 Nxd3 Rxd3 \
                 Qa5 b4 Qf5 Rg3 h6 Nc4 Qd5 Ne3 Qb5 Bf6 Qxh5 Rxg7+ Kh8 Rxf7+",
                "a discovered check",
            ),
            // The queen is lost in the Advance Variation of the French Defence (common practice, no source).
            (
                START,
                "e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3 Qb6 Bd3 cxd4 cxd4 Nxd4 Nxd4 Qxd4 Bb5+",
                "a discovered attack",
            ),
            // P. Damiano, Questo libro e da imparare giocare a scachi, 1512.
            (
                START,
                "e4 e5 Nf3 f6 Nxe5 fxe5 Qh5+ g6 Qxe5+",
                "a double attack",
            ),
            // The trap of E. Lasker against A. Albin's counter-gambit.
            (
                START,
                "d4 d5 c4 e5 dxe5 d4 e3 Bb4+ Bd2 dxe3 Bxb4 exf2+ Ke2 fxg1=N+",
                "an underpromotion",
            ),
            // A. Nimzowitsch, Mein System, 1925: the pinned knight of his own defence.
            (START, "d4 Nf6 c4 e6 Nc3 Bb4", "a pin"),
            // E. Lasker - J. Bauer, Amsterdam 1889: the knight on h5 is taken a move later.
            (
                START,
                "f4 d5 e3 Nf6 b3 e6 Bb2 Be7 Bd3 b6 Nc3 Bb7 Nf3 Nbd7 O-O O-O Ne2 c5 Ng3 Qc7 Ne5 Nxe5 \
                 Bxe5 Qc6 Qe2 a6 Nh5 Nxh5 Bxh7+",
                "an in-between move",
            ),
        ];
        for (fen, moves, name) in cases {
            let (line, mv) = last(fen, moves);
            assert_eq!(of_move(&line, &mv), Some(name), "{moves}");
        }
        let (line, mv) = last(START, "e4 e5 Nf3");
        assert_eq!(of_move(&line, &mv), None);
    }

    /// A position in a published game or study and the line from there, with what its first move is called.
    #[test]
    fn what_a_line_shows_is_found_in_a_published_one() {
        let named = |before: &str, fen: &str, moves: &str| {
            let mut line = Line::new(read_fen(fen).unwrap());
            let read = |line: &Line, word: &str| {
                let san: San = word.trim_end_matches(['+', '#']).parse().unwrap();
                san.to_move(line.position()).unwrap()
            };
            for word in before.split_whitespace() {
                line.push(&read(&line, word)).unwrap();
            }
            let (from, mut told) = (line.clone(), Vec::new());
            for word in moves.split_whitespace() {
                told.push(read(&line, word));
                line.push(told.last().unwrap()).unwrap();
            }
            of_line(&from, &told)
        };
        let says = |words: &str| Some(words.to_owned());
        // E. Steiner - J. R. Capablanca, Budapest 1929: what threatened, had White taken on d4 with the queen.
        let noah = "r2qkbnr/3b1ppp/p2p4/1ppQ4/4P3/1B6/PPP2PPP/RNB1K2R b KQkq - 5 11";
        assert_eq!(
            named("", noah, "c4 Bxc4 bxc4"),
            says("which traps his bishop")
        );
        assert_eq!(named("", noah, "c4 Bxc4 Nf6"), None);
        // G. Rotlewi - A. Rubinstein, Lodz 1907.
        let rotlewi = "3r2k1/1b3ppp/pb2p3/1p2P3/1P2BPnP/P1r5/1B2Q2P/R4R1K b - - 0 23";
        let told = named("", rotlewi, "Rd2 Qxd2 Bxe4+ Qg2 Rh3");
        assert_eq!(told, says("a deflection of his queen"));
        // B. Horwitz and J. Kling, Chess Studies, 1851.
        let kling = "4k3/8/8/8/8/8/4P3/4K3 w - - 0 1";
        let told = named("Kf2 Ke7 Ke3 Ke6", kling, "Ke4 Kd6 Kf5");
        assert_eq!(told, says("which takes the opposition"));
        // P. Damiano, 1512: the name stands where the line takes what was attacked.
        let damiano = "e4 e5 Nf3 f6 Nxe5 fxe5 Qh5+ g6";
        let told = named(damiano, START, "Qxe5+ Qe7 Qxh8");
        assert_eq!(told, says("a double attack"));
        assert_eq!(named(damiano, START, "Qxe5+ Qe7"), None);
    }

    #[test]
    fn each_mate_is_found_in_a_published_game() {
        let picture = |fen: &str, moves: &str| {
            let (mut line, mv) = last(fen, moves);
            line.push(&mv).unwrap();
            of_mate(line.position())
        };
        // O. Bernstein - J. R. Capablanca, Moscow 1914, had White taken the queen.
        assert_eq!(
            picture(
                "3r2k1/p4ppp/1q6/1Nrn4/8/2p1P3/P1R1QPPP/2R3K1 w - - 8 27",
                "Nxc3 Nxc3 Rxc3 Rxc3 Rxc3 Qb2 Qxb2 Rd1#"
            ),
            Some(MatePattern::BackRank)
        );
        // G. Kieninger's trap in the Budapest Gambit, 1925.
        assert_eq!(
            picture(
                START,
                "d4 Nf6 c4 e5 dxe5 Ng4 Bf4 Nc6 Nf3 Bb4+ Nbd2 Qe7 a3 Ngxe5 axb4 Nd3#"
            ),
            Some(MatePattern::Smothered)
        );
        // Mates without such a picture: Reti's bishop, and the scholar's mate (G. Greco, 1620).
        let reti = "rnb1kb1r/pp3ppp/2p2n2/4q3/4N3/3Q4/PPPB1PPP/2KR1BNR b kq - 1 8";
        assert_eq!(picture(reti, "Nxe4 Qd8+ Kxd8 Bg5+ Kc7 Bd8#"), None);
        assert_eq!(picture(START, "e4 e5 Bc4 Bc5 Qh5 Nf6 Qxf7#"), None);
        // A rook on the last rank, but nothing of his own hems the king in.
        assert_eq!(picture("4k3/R7/1R6/8/8/8/8/4K3 w - - 0 1", "Rb8#"), None);
        assert_eq!(picture(START, "e4 e5"), None);
    }
}
