use super::*;
use crate::board::line::{read_fen, sans};
use crate::board::walks;
use shakmaty::san::SanPlus;

/// The position after `moves`, and its next move.
fn at(start: &Chess, moves: &str) -> (Chess, Move) {
    let mut line = Line::new(start.clone());
    for word in moves.split_whitespace() {
        let san: SanPlus = word.parse().unwrap();
        line.push(&san.san.to_move(line.position()).unwrap())
            .unwrap();
    }
    let last = line.pop().unwrap();
    (line.position().clone(), last)
}

/// What the last of the moves offers: what is given, whether actively, and by how many pawns.
fn offered(fen: &str, moves: &str) -> Option<(Gives, bool, i32)> {
    let (pos, mv) = at(&read_fen(fen).unwrap(), moves);
    offer(&pos, &mv).map(|o| (o.gives, o.active, o.pawns))
}

const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";

/// P. Morphy against the Duke of Brunswick and Count Isouard, Paris 1858 (from memory).
const MORPHY: &str = "e4 e5 Nf3 d6 d4 Bg4 dxe5 Bxf3 Qxf3 dxe5 Bc4 Nf6 Qb3 Qe7 Nc3 c6 Bg5 b5 Nxb5 cxb5 \
    Bxb5+ Nbd7 O-O-O Rd8 Rxd7 Rxd7 Rd1 Qe6 Bxd7+ Nxd7 Qb8+ Nxb8 Rd8#";

/// S. Reshevsky against T. Petrosian, Zurich 1953 (from memory), to 25... Re6.
const PETROSIAN: &str = "d4 Nf6 c4 e6 Nc3 Bb4 e3 O-O Bd3 d5 Nf3 c5 O-O Nc6 a3 Bxc3 bxc3 b6 cxd5 exd5 \
    Bb2 c4 Bc2 Bg4 Qe1 Ne4 Nd2 Nxd2 Qxd2 Bh5 f3 Bg6 e4 Qd7 Rae1 dxe4 fxe4 Rfe8 Qf4 b5 Bd1 Re7 Bg4 Qe8 \
    e5 a5 Re3 Rd8 Rfe1 Re6";

fn morphy(plies: usize) -> Option<(Gives, bool, i32)> {
    let moves: Vec<&str> = MORPHY.split_whitespace().take(plies).collect();
    offered(START, &moves.join(" "))
}

#[test]
fn morphy_gives_a_piece_the_exchange_and_the_queen() {
    // 10. Nxb5 cxb5 11. Bxb5+: a knight for two pawns; by value one pawn, to every player a piece.
    assert_eq!(morphy(19), Some((Gives::Piece, true, 1)));
    // 13. Rxd7: knight for rook, should the knight f6 take.
    assert_eq!(morphy(25), Some((Gives::Exchange, true, 2)));
    // 16. Qb8+ Nxb8.
    assert_eq!(morphy(31), Some((Gives::Queen, true, 9)));
    // 9. Bg5 gives nothing; 12. O-O-O leaves the pawn e4; 15. Bxd7+ Nxd7 is a bishop for a rook.
    assert_eq!(morphy(17), None);
    assert_eq!(morphy(23), Some((Gives::Pawn, false, 1)));
    assert_eq!(morphy(29), None);
}

#[test]
fn petrosian_gives_the_exchange_for_nothing() {
    assert_eq!(offered(START, PETROSIAN), Some((Gives::Exchange, true, 2)));
}

#[test]
fn anderssen_leaves_a_piece_where_it_stood() {
    // A. Anderssen - L. Kieseritzky, London 1851 (from memory): 11. Rg1, and the bishop on b5 hangs.
    let moves = "e4 e5 f4 exf4 Bc4 Qh4+ Kf1 b5 Bxb5 Nf6 Nf3 Qh6 d3 Nh5 Nh4 Qg5 Nf5 c6 g4 Nf6 Rg1";
    assert_eq!(offered(START, moves), Some((Gives::Piece, false, 3)));
    // It hung before: given only if a good move saved it.
    let (pos, mv) = at(&read_fen(START).unwrap(), moves);
    let saving = |fine: &Move| fine.to().to_string() == "a4";
    assert!(offer_given(&pos, &mv, saving).is_some());
    assert_eq!(offer_given(&pos, &mv, |_| false), None);
}

#[test]
fn rook_for_knight_and_pawn_is_the_exchange() {
    // The Sicilian pattern ...Rxc3, bxc3 Qxc3, worked by hand: -5 +3 +1.
    let rxc3 = "2r3k1/5ppp/8/q7/4P3/2N5/PPP2PPP/1K5R b - - 0 1";
    assert_eq!(
        offered(rxc3, "Rxc3"),
        Some((Gives::Exchange, true, 1)),
        "by value it would be a pawn"
    );
    // Without the queen behind it: -5 +3.
    let alone = "2r3k1/5ppp/8/8/4P3/2N5/PPP2PPP/1K5R b - - 0 1";
    assert_eq!(offered(alone, "Rxc3"), Some((Gives::Exchange, true, 2)));
    // A rook for a pawn is a rook.
    let pawn = "2r3k1/5ppp/8/8/4P3/2P5/PP3PPP/1K5R b - - 0 1";
    assert_eq!(offered(pawn, "Rxc3"), Some((Gives::Rook, true, 4)));
}

#[test]
fn a_bishop_for_two_pawns_is_a_piece_and_for_three_is_nothing() {
    // The Sicilian pattern Bxb5, axb5 Nxb5, worked by hand: -3 +1 +1.
    let bxb5 = "r5k1/5ppp/p7/1p6/2B5/2N5/5PPP/6K1 w - - 0 1";
    assert_eq!(offered(bxb5, "Bxb5"), Some((Gives::Piece, true, 1)));
    // Two minor pieces for rook and pawn, as in Bxf7+ Rxf7 Nxf7 Kxf7: 6 for 6.
    let f7 = "5rk1/5ppp/8/6N1/2B5/8/5PPP/6K1 w - - 0 1";
    assert_eq!(offered(f7, "Bxf7+"), None);
}

#[test]
fn a_pawn_offer_is_its_own_kind() {
    // The King's Gambit (R. Lopez de Segura, 1561, from memory) and the Queen's Gambit: exf4, dxc4; on
    // c4 nothing takes back before e3 or Qa4+.
    assert_eq!(offered(START, "e4 e5 f4"), Some((Gives::Pawn, true, 1)));
    assert_eq!(offered(START, "d4 d5 c4"), Some((Gives::Pawn, true, 1)));
    assert_eq!(offered(START, "e4 e5 Nf3"), None);
}

#[test]
fn what_is_lost_anyway_is_not_given() {
    // A knight's fork of king and rook: whatever the king does, the rook goes.
    let fork = "k3r3/2N5/8/8/8/8/8/6K1 b - - 0 1";
    assert_eq!(offered(fork, "Kb7"), None);
    // Without the check the rook could have gone, and b7 is a passive offer of it.
    let free = "1k2r3/2N5/8/8/8/8/8/6K1 b - - 0 1";
    assert_eq!(offered(free, "Ka7"), Some((Gives::Rook, false, 5)));
}

#[test]
fn more_than_is_lost_anyway_is_given() {
    let fork = read_fen("k3r3/2N5/8/8/8/8/8/6K1 b - - 0 1").unwrap();
    let (pos, mv) = at(&fork, "Kb7");
    let rook = made(&pos, &mv).unwrap();
    let piece = Offer {
        gives: Gives::Piece,
        pawns: 3,
        ..rook.clone()
    };
    assert!(rook.is_kept_by(Some(&piece)) && !piece.is_kept_by(Some(&rook)));
    assert!(piece.is_kept_by(None) && !rook.is_kept_by(Some(&rook)));
}

#[test]
fn sham_is_repaid_within_three_moves_and_real_is_not() {
    let moves: Vec<&str> = MORPHY.split_whitespace().take(31).collect();
    let (pos, _) = at(&read_fen(START).unwrap(), &moves.join(" "));
    assert!(is_sham(&pos, &played(&pos, "Qb8+ Nxb8 Rd8#")));
    assert!(!is_sham(&pos, &played(&pos, "Qb8+ Nxb8")));
    // 26. a4 Ne7 27. Bxe6 fxe6 28. Qf1 Nd5, as the game went on: never repaid.
    let (pos, _) = at(&read_fen(START).unwrap(), PETROSIAN);
    assert!(!is_sham(
        &pos,
        &played(&pos, "Re6 a4 Ne7 Bxe6 fxe6 Qf1 Nd5")
    ));
    // Worked by hand: a rook for a knight and nothing for it; a queen taken.
    let fork = read_fen("7k/5rpp/5n2/8/4N3/8/6PP/5R1K w - - 0 1").unwrap();
    let line = played(&fork, "Rxf6 gxf6 Nd6 Rf8 Kg1 Kg7 Nf7");
    assert!(!is_sham(&fork, &line), "three moves later it is not back");
    let repaid = read_fen("3r3k/6pp/8/8/6N1/8/6PP/1q1R3K w - - 0 1").unwrap();
    assert!(is_sham(&repaid, &played(&repaid, "Rxb1 Rd1+ Rxd1")));
}

fn played(pos: &Chess, moves: &str) -> Vec<Move> {
    let mut line = Line::new(pos.clone());
    for word in moves.split_whitespace() {
        let san: SanPlus = word.parse().unwrap();
        line.push(&san.san.to_move(line.position()).unwrap())
            .unwrap();
    }
    assert_eq!(sans(pos, line.moves()).join(" "), moves);
    line.moves().to_vec()
}

/// On 2,000 random positions: an offer is what its own sequence of captures loses, the men named are
/// among those lost, and the mirrored board gives the same offer.
#[test]
fn an_offer_is_what_its_sequence_loses_on_either_side_of_the_board() {
    let (mut seen, mut sacrifices) = (0, 0);
    for (pos, mv) in walks::positions(2000, 3) {
        let found = offer(&pos, &mv);
        let (flipped, move_there) = walks::mirrored(&pos, &mv);
        let there = offer(&flipped, &move_there);
        let told = |o: &Offer| (o.gives, o.active, o.taken, o.pawns);
        assert_eq!(found.as_ref().map(told), there.as_ref().map(told));
        let Some(offer) = found else { continue };
        let mut line = Line::new(pos.clone());
        line.push(&mv).unwrap();
        for reply in exchange::sequence(line.position(), &offer.accept) {
            line.push(&reply).unwrap();
        }
        let lost = balance(&pos, pos.turn()) - balance(line.position(), pos.turn());
        assert_eq!(lost, offer.pawns);
        seen += 1;
        sacrifices += usize::from(offer.is_sacrifice());
    }
    assert!(seen > 300 && sacrifices > 200, "{seen}, {sacrifices}");
}
