//! Reviews at the edges: positions with hardly a move or none, positions that no game can reach, trees that are too
//! large, and the same bytes however many engines work and whatever is known already.

use crate::support::Program;

/// A game that begins in a position, with the moves of its written tree.
fn from(fen: &str, moves: &str) -> String {
    format!("[Event \"?\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{moves} *\n")
}

fn reviewed(fen: &str, moves: &str) -> crate::support::Ran {
    let program = Program::new();
    let file = program.file("edge.pgn", &from(fen, moves));
    program.run(&["review", &file, "--nodes", "500"])
}

#[test]
fn positions_that_no_game_reaches_are_refused_with_the_reason() {
    // The conditions of a legal position: FIDE Laws of Chess 2, 3.7 (pawns, promotion), 3.8 (castling), 3.9 (check).
    let refused = [
        (
            "4k3/8/8/8/8/8/4R3/4K3 w - - 0 1",
            "the side that is not to move stands in check",
        ),
        ("8/8/8/8/8/8/4R3/4K3 w - - 0 1", "a king is missing"),
        (
            "4k3/8/8/8/8/8/8/P3K3 w - - 0 1",
            "a pawn stands on the first or the last rank",
        ),
        (
            "4k3/8/8/8/P7/8/PPPPPPPP/4K3 w - - 0 1",
            "more men than pawns and promotions can give",
        ),
        (
            "4k3/8/3N1N2/8/8/8/4R3/4K3 b - - 0 1",
            "no move gives the check",
        ),
        (
            "4k3/8/8/8/8/8/8/1R2K1R1 w GB - 0 1",
            "castling of Chess960 is not supported",
        ),
    ];
    for (fen, why) in refused {
        let ran = reviewed(fen, "1. Ke2");
        assert_eq!(ran.code, 1, "{fen}: {}", ran.out);
        assert!(
            ran.err.contains("line 3, column 1") && ran.err.contains(why),
            "{}",
            ran.err
        );
        assert!(ran.out.is_empty(), "{}", ran.out);
    }
}

#[test]
fn a_root_in_check_with_one_move_or_with_none() {
    let mated = reviewed("R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1", "1... h6");
    assert!(
        mated
            .out
            .contains("h6 is not possible: the game is over there, by checkmate."),
        "{}",
        mated.out
    );
    assert!(!mated.out.contains("Your tree holds"), "{}", mated.out);
    let only = reviewed("7k/8/5K2/6Q1/8/8/8/8 b - - 0 1", "1... Kh7 2. Qg7# $18");
    assert!(only.out.contains("Your tree holds"), "{}", only.out);
    let check = reviewed("4k3/8/8/8/8/8/4r3/4K2R w K - 0 1", "1. O-O Kd7");
    assert!(check.out.contains("O-O is not possible"), "{}", check.out);
    assert_eq!([mated.code, only.code, check.code], [0, 0, 0]);
}

#[test]
fn a_line_of_400_half_moves_is_refused_where_it_is_too_long() {
    let there_and_back: String = (1..=100)
        .map(|n| format!("{}. Nf3 Nf6 {}. Ng1 Ng8 ", 2 * n - 1, 2 * n))
        .collect();
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    let ran = reviewed(start, &there_and_back);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("line 5, column")
            && ran
                .err
                .contains("a written line holds at most 200 half-moves"),
        "{}",
        ran.err
    );
}

#[test]
fn a_tree_beyond_the_limit_says_which() {
    let mut moves = "1. e4".to_owned();
    for _ in 0..11_000 {
        moves += " (1. d4 d5)";
    }
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    let ran = reviewed(start, &moves);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("10000 moves") || ran.err.contains("10,000 moves"),
        "{}",
        ran.err
    );
}

/// The same tree: with one engine or three, from nothing or with all answers known, by a stopped review that goes on.
#[test]
fn the_bytes_do_not_depend_on_jobs_or_on_what_is_known() {
    let fen = "3r2k1/p4ppp/1q6/1Nrn4/8/2p1P3/P1R1QPPP/2R3K1 w - - 8 27";
    let moves = "27. Nxc3 (27. Nd4 Qa5 28. Nb3 $10) 27... Nxc3 28. Rxc3 Rxc3 29. Rxc3 $18";
    let run = |program: &Program, jobs: &str, nodes: &str| {
        let file = program.file("tree.pgn", &from(fen, moves));
        let ran = program.run(&[
            "--jobs", jobs, "review", &file, "--nodes", nodes, "--format", "json",
        ]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out
    };
    let one = Program::new();
    let cold = run(&one, "1", "2000");
    assert!(cold.contains("\"findings\""));
    assert_eq!(run(&one, "3", "2000"), cold, "three engines, warm");
    assert_eq!(
        run(&Program::new(), "3", "2000"),
        cold,
        "three engines, cold"
    );
}
