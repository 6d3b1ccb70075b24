use super::*;
use crate::board::line::read_fen;
use crate::board::walks;
use shakmaty::san::SanPlus;

const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";

fn line(fen: &str, moves: &str) -> Line {
    let mut line = Line::new(read_fen(fen).unwrap());
    for word in moves.split_whitespace() {
        let san: SanPlus = word.parse().unwrap();
        let mv = san.san.to_move(line.position());
        line.push(&mv.unwrap_or_else(|e| panic!("{word} of {moves}: {e}")))
            .unwrap();
    }
    line
}

/// The motifs of the last of the moves.
fn of(fen: &str, moves: &str) -> Vec<Motif> {
    let mut line = line(fen, moves);
    let last = line.pop().unwrap();
    motifs(&line, &last)
}

/// The motifs of the first of the moves, the others being its proof.
fn in_line(fen: &str, moves: &str) -> Vec<Motif> {
    motifs_in_line(&Line::new(read_fen(fen).unwrap()), line(fen, moves).moves())
}

/// One motif, a position and line whose last move has it, and one whose last move has not.
type Pair = (Motif, [&'static str; 2], [&'static str; 2]);

const BARE: &str = "4k3/8/8/8/8/8/8/R3K3 w Q - 0 1";
const CORNER: &str = "k7/8/1K6/8/8/8/8/1R6 w - - 0 1";
const NOAH: &str = "r1bqkbnr/2p2ppp/p2p4/1p6/3pP3/1B6/PPP2PPP/RNBQK2R w KQkq - 0 8";
const PINNED: &str = "4k3/8/4p3/3p4/8/8/8/3RR1K1 w - - 0 1";

/// Positions worked by hand unless a source stands beside them.
const PAIRS: [Pair; 33] = [
    (
        Motif::DoubleCheck,
        ["4k3/8/8/8/4N3/8/8/4RK2 w - - 0 1", "Nf6+"],
        ["4k3/8/8/8/4N3/8/8/4RK2 w - - 0 1", "Nc5+"],
    ),
    (Motif::Check, [BARE, "Ra8+"], [BARE, "Ra7"]),
    (
        Motif::Promotion,
        ["8/P6k/8/8/8/8/8/K7 w - - 0 1", "a8=Q"],
        ["8/7k/P7/8/8/8/8/K7 w - - 0 1", "a7"],
    ),
    (Motif::Capture, [PINNED, "Rxd5"], [PINNED, "Rd4"]),
    (Motif::ThreatOfMate, [CORNER, "Rh1"], [CORNER, "Rb4"]),
    (
        Motif::OtherThreat,
        ["4k3/8/8/3n4/8/8/8/4K2R w - - 0 1", "Rh5"],
        // Defended, it is no threat.
        ["4k3/8/4p3/3n4/8/8/8/4K2R w - - 0 1", "Rh5"],
    ),
    (
        Motif::OtherThreat,
        // A promotion is threatened.
        ["8/7k/P7/8/8/8/8/K7 w - - 0 1", "a7"],
        // It was already.
        ["8/P6k/8/8/8/8/8/K7 w - - 0 1", "Kb2"],
    ),
    (Motif::Quiet, [BARE, "Ra4"], [BARE, "Ra8+"]),
    (
        Motif::Underpromotion,
        ["8/P6k/8/8/8/8/8/K7 w - - 0 1", "a8=N"],
        ["8/P6k/8/8/8/8/8/K7 w - - 0 1", "a8=Q"],
    ),
    (
        Motif::EnPassant,
        ["4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 2", "exd6"],
        ["4k3/8/3p4/4P3/8/8/8/4K3 w - - 0 2", "exd6"],
    ),
    (Motif::Castling, [BARE, "O-O-O"], [BARE, "Kd1"]),
    (Motif::KingMove, [BARE, "Kd1"], [BARE, "O-O-O"]),
    (
        Motif::Backward,
        ["4k3/4N3/8/8/8/8/8/4RK2 w - - 0 1", "Nc6+"],
        ["6k1/8/2N5/8/8/8/8/4RK2 w - - 0 1", "Ne7+"],
    ),
    (
        Motif::Backward,
        ["4k3/8/8/8/8/8/q7/6K1 b - - 0 1", "Qa6"],
        ["4k3/8/8/8/8/8/q7/6K1 b - - 0 1", "Qb1+"],
    ),
    (Motif::Sideways, [BARE, "Rd1"], [BARE, "Ra4"]),
    (Motif::LongMove, [BARE, "Ra5"], [BARE, "Ra4"]),
    (
        Motif::Switchback,
        [BARE, "Ra4 Kd7 Ra1"],
        [BARE, "Ra4 Kd7 Ra2"],
    ),
    (
        Motif::DiscoveredCheck,
        ["4k3/4N3/8/8/8/8/8/4RK2 w - - 0 1", "Nc6+"],
        ["4k3/8/3N4/8/8/8/8/4RK2 b - - 0 1", "Kd7"],
    ),
    (
        Motif::DiscoveredAttack,
        ["3qk3/8/8/8/8/3B4/8/3RK3 w - - 0 1", "Ba6"],
        // A defended rook is no prey of a rook.
        ["3rk3/8/8/8/8/3B4/8/3RK3 w - - 0 1", "Ba6"],
    ),
    (
        Motif::DoubleAttack,
        ["r3k3/8/8/1N6/8/8/8/4K3 w - - 0 1", "Nc7+"],
        // On c7 the bishop d6 would take it.
        ["r3k3/8/3b4/1N6/8/8/8/4K3 w - - 0 1", "Nc7+"],
    ),
    (
        Motif::PinMade,
        ["4k3/8/2n5/8/8/8/8/4KB2 w - - 0 1", "Bb5"],
        ["4k3/8/2n5/8/8/8/8/4KB2 w - - 0 1", "Bg2"],
    ),
    (
        Motif::PinUsed,
        // The pawn e6 may not take back.
        [PINNED, "Rxd5"],
        ["6k1/8/4p3/3p4/8/8/8/3RR1K1 w - - 0 1", "Rxd5"],
    ),
    (
        Motif::PinUsed,
        // A pawn attacks the pinned knight.
        ["4k3/8/2n5/1B6/3P4/8/8/4K3 w - - 0 1", "d5"],
        ["4k3/8/2n5/1B6/3P4/8/8/4K3 w - - 0 1", "Kd2"],
    ),
    (
        Motif::PinBroken,
        ["4k3/8/8/8/4r3/P7/4N3/4K3 w - - 0 1", "Kd1"],
        ["4k3/8/8/8/4r3/P7/4N3/4K3 w - - 0 1", "a4"],
    ),
    (
        Motif::PinIgnored,
        // Kermur de Légal, Paris, about 1750 (from memory).
        [START, "e4 e5 Nf3 d6 Bc4 Bg4 Nc3 g6 Nxe5"],
        [START, "e4 e5 Nf3 d6 Bc4 Bg4 Nc3 g6 d3"],
    ),
    (
        Motif::Interposition,
        ["4r2k/8/8/8/8/8/3B4/4K3 w - - 0 1", "Be3"],
        ["4r2k/8/8/8/8/8/3B4/4K3 w - - 0 1", "Kd1"],
    ),
    (
        Motif::Intermezzo,
        ["3rk3/8/8/3n4/8/2N5/1P6/4K2Q b - - 0 1", "Nxc3 Qh5+"],
        ["3rk3/8/8/3n4/8/2N5/1P6/4K2Q b - - 0 1", "Nxc3 bxc3"],
    ),
    (
        Motif::CounterThreat,
        // The bishop g7 attacks the rook; the knight attacks the queen.
        ["3q2k1/6b1/8/8/5N2/8/8/R5K1 w - - 0 1", "Ne6"],
        ["3q2k1/6b1/8/8/5N2/8/8/R5K1 w - - 0 1", "Re1"],
    ),
    (
        Motif::Desperado,
        ["8/Bkp5/1p6/8/8/8/8/6K1 w - - 0 1", "Bxb6"],
        // It need not go there.
        ["8/1kp5/1p6/8/3B4/8/8/6K1 w - - 0 1", "Bxb6"],
    ),
    (
        Motif::OppositeColouredBishops,
        ["4k3/8/4b3/8/8/8/3B4/4K3 w - - 0 1", "Ke2"],
        ["4k3/4b3/8/8/8/8/3B4/4K3 w - - 0 1", "Ke2"],
    ),
    (
        Motif::TrappedPiece,
        // E. Steiner - J. R. Capablanca, Budapest 1929 (from memory); a move earlier the bishop had a way out.
        [NOAH, "Qxd4 c5 Qd5 Be6 Qc6+ Bd7 Qd5 c4"],
        [NOAH, "Qxd4 c5 Qd5 Be6 Qc6+ Bd7"],
    ),
    (
        Motif::Opposition,
        // B. Horwitz and J. Kling, Chess Studies, 1851 (from memory).
        ["4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", "Kf2 Ke7 Ke3 Ke6 Ke4"],
        ["4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", "Kf2 Ke7 Kf3"],
    ),
    (
        Motif::Checkmate,
        [CORNER, "Rh1 Kb8 Rh8#"],
        [CORNER, "Rh1 Kb8 Rh7"],
    ),
];

#[test]
fn each_motif_has_a_yes_and_a_no() {
    for (motif, [fen, moves], [other_fen, other_moves]) in PAIRS {
        let yes = of(fen, moves);
        assert!(yes.contains(&motif), "{motif:?} of {moves}: {yes:?}");
        let no = of(other_fen, other_moves);
        assert!(!no.contains(&motif), "{motif:?} of {other_moves}: {no:?}");
    }
}

#[test]
fn stalemate_is_seen_at_once_and_at_the_end_of_the_proof() {
    let at_once = "k7/8/K7/8/8/8/8/1R6 w - - 0 1";
    assert!(of(at_once, "Rb7").contains(&Motif::Stalemate));
    assert!(!of(at_once, "Rc1").contains(&Motif::Stalemate));
    // The rook that will not be taken, worked by hand.
    let mad = "7k/8/8/8/8/6q1/8/R6K w - - 0 1";
    assert!(in_line(mad, "Ra8+ Kg7 Rg8+ Kxg8").contains(&Motif::Stalemate));
    assert!(!in_line(mad, "Ra8+ Kg7 Rg8+").contains(&Motif::Stalemate));
}

#[test]
fn perpetual_check_is_a_row_of_checks_to_a_repetition() {
    // Worked by hand: queen checks on e8 and h5.
    let fen = "6k1/6p1/8/7Q/8/8/q7/7K w - - 0 1";
    assert!(in_line(fen, "Qe8+ Kh7 Qh5+ Kg8").contains(&Motif::PerpetualCheck));
    assert!(!in_line(fen, "Qe8+ Kh7 Qh5+").contains(&Motif::PerpetualCheck));
    // A repetition without checks is none.
    let still = "6k1/6p1/8/8/7Q/8/q7/7K w - - 0 1";
    assert!(!in_line(still, "Qg3 Kh7 Qh4+ Kg8").contains(&Motif::PerpetualCheck));
}

#[test]
fn a_guard_is_made_to_leave_what_it_guards() {
    // A. Rubinstein's rook (G. Rotlewi, Lodz 1907) and J. R. Capablanca's queen (O. Bernstein, Moscow 1914).
    let rotlewi = "3r2k1/1b3ppp/pb2p3/1p2P3/1P2BPnP/P1r5/1B2Q2P/R4R1K b - - 0 23";
    let bernstein = "3r2k1/p4ppp/1q6/8/8/2R1P3/P3QPPP/6K1 b - - 0 29";
    for (fen, moves) in [(rotlewi, "Rd2 Qxd2 Bxe4+"), (bernstein, "Qb2 Qxb2 Rd1#")] {
        let found = in_line(fen, moves);
        assert!(found.contains(&Motif::Deflection), "{moves}: {found:?}");
        assert!(!found.contains(&Motif::Overload), "{moves}: {found:?}");
    }
    // The queen that is not spared: the king guarded f7 (T. Petrosian - B. Spassky, Moscow 1966, game 10).
    let petrosian = "6k1/5r1p/p2N4/nppP2q1/2P5/1P2N3/PQ5P/7K w - - 0 30";
    assert!(in_line(petrosian, "Qh8+ Kxh8 Nxf7+").contains(&Motif::Deflection));
    // Two things to guard: J. R. Capablanca - H. Steiner, Los Angeles 1933; A. Nimzowitsch - A. Rubinstein, Dresden 1926.
    for (fen, moves) in [
        (
            "r5r1/pQ5p/1qp2R2/2k1p3/4P3/2PP4/P1P3PP/6K1 w - - 1 24",
            "Rxc6+ Qxc6 Qb4#",
        ),
        (
            "4r1q1/1p4kp/pbb3p1/4RpN1/1P1p1P1Q/3P4/P2B2PP/6K1 w - - 2 31",
            "Rxe8 Qxe8 Qxh7+",
        ),
    ] {
        let found = in_line(fen, moves);
        assert!(found.contains(&Motif::Overload), "{moves}: {found:?}");
        assert!(!found.contains(&Motif::Deflection), "{moves}: {found:?}");
    }
    // The queen stays where it guards, or the line ends before anything falls.
    for moves in ["Rd2 Qe1 Bxe4+", "Rd2 Qxd2"] {
        assert!(!in_line(rotlewi, moves).contains(&Motif::Deflection));
    }
}

#[test]
fn every_move_harms_where_passing_is_better() {
    assert!(every_move_harms(0.0, 0.5, 0.1));
    assert!(!every_move_harms(0.5, 0.55, 0.1));
    assert!(!every_move_harms(0.5, 0.0, 0.1));
}

#[test]
fn all_motifs_of_a_move_in_their_order() {
    assert_eq!(
        of(CORNER, "Rh1"),
        [Motif::ThreatOfMate, Motif::Sideways, Motif::LongMove]
    );
    assert_eq!(
        of("k7/8/1K6/8/8/8/8/7R w - - 0 1", "Rh8#"),
        [Motif::Check, Motif::LongMove, Motif::Checkmate]
    );
}

#[test]
fn the_names_in_files_stay() {
    let name = |m: Motif| serde_json::to_string(&m).unwrap();
    assert_eq!(name(Motif::DoubleCheck), "\"double-check\"");
    assert_eq!(name(Motif::OtherThreat), "\"other-threat\"");
    assert_eq!(name(Motif::PinIgnored), "\"pin-ignored\"");
    assert_eq!(
        name(Motif::OppositeColouredBishops),
        "\"opposite-coloured-bishops\""
    );
}

/// On 1,500 random moves: exactly one forcing class, first; check, capture and mate as the rules say;
/// and the same on the mirrored board.
#[test]
fn motifs_agree_with_the_rules_and_with_the_mirrored_board() {
    for (pos, mv) in walks::positions(1500, 4) {
        let found = motifs(&Line::new(pos.clone()), &mv);
        let forcing = found.iter().filter(|m| Motif::FORCING.contains(m)).count();
        assert_eq!((forcing, Motif::FORCING.contains(&found[0])), (1, true));
        let after = pos.clone().play(&mv).unwrap();
        let checks = matches!(found[0], Motif::Check | Motif::DoubleCheck);
        assert_eq!(checks, after.is_check());
        assert_eq!(found.contains(&Motif::Checkmate), after.is_checkmate());
        let (there, same) = walks::mirrored(&pos, &mv);
        assert_eq!(motifs(&Line::new(there), &same), found);
    }
}
