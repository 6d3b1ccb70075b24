//! Basic endings: won ones are won from random starts, drawn ones are seen as drawn.

use shakmaty::{CastlingMode, Chess, Color, Outcome, Position, fen::Fen, uci::UciMove};

use super::{Engine, best, field};

/// The engine plays both sides from `fen`; gives the outcome and the number of half-moves.
fn play_out(engine: &Engine, fen: &str, nodes: u32) -> (Option<Outcome>, u32) {
    let mut chess: Chess = fen
        .parse::<Fen>()
        .unwrap()
        .into_position(CastlingMode::Standard)
        .unwrap();
    let mut moves = String::new();
    for ply in 0..200 {
        if chess.is_game_over() || chess.halfmoves() >= 100 {
            return (chess.outcome(), ply);
        }
        engine.send(&format!("position fen {fen} moves{moves}"));
        engine.send(&format!("go nodes {nodes}"));
        let lines = engine.until("bestmove");
        let m = best(&lines)
            .parse::<UciMove>()
            .unwrap()
            .to_move(&chess)
            .expect("a legal move");
        moves += &format!(" {}", m.to_uci(CastlingMode::Standard));
        chess.play_unchecked(&m);
    }
    (chess.outcome(), 200)
}

/// Limits in half-moves: longest mates are 10 moves with the queen, 16 with the rook, 33 with bishop
/// and knight (complete tables, from memory), given half as much again, and the fifty-move rule.
#[test]
fn won_endings_are_won() {
    let engine = Engine::start();
    for (fen, limit) in [
        ("8/8/8/3k4/8/8/8/KQ6 w - - 0 1", 30),
        ("8/8/3k4/8/8/8/6K1/7R w - - 0 1", 48),
        ("8/8/8/4k3/8/8/1K6/7R b - - 0 1", 48),
        ("8/8/3k4/8/8/4KN2/8/5B2 w - - 0 1", 99),
        ("k7/8/8/8/3K4/8/8/1N3B2 w - - 0 1", 99),
        ("8/8/8/3k4/8/8/8/1BBK4 w - - 0 1", 57),
        ("8/8/8/4k3/8/4K3/4P3/8 b - - 0 1", 80),
    ] {
        engine.send("ucinewgame");
        let (outcome, plies) = play_out(&engine, fen, 20_000);
        assert_eq!(
            outcome,
            Some(Outcome::Decisive {
                winner: Color::White
            }),
            "{fen}"
        );
        assert!(plies <= limit, "{fen}: {plies} half-moves");
    }
}

/// The same draws, and rook against bishop, played out with the engine on both sides, with as many nodes as the won
/// ones: with 4,000 it is a matter of luck.
#[test]
fn drawn_endings_are_held() {
    let engine = Engine::start();
    for fen in [
        "7k/8/8/7P/8/6K1/4B3/8 w - - 0 1",
        "8/8/8/3k4/8/5NN1/3K4/8 w - - 0 1",
        "8/8/8/3kb3/8/7R/3K4/8 w - - 0 1",
        "4k3/8/R7/3KP3/8/7r/8/8 b - - 0 1",
    ] {
        engine.send("ucinewgame");
        let (outcome, plies) = play_out(&engine, fen, 20_000);
        let decided = matches!(outcome, Some(Outcome::Decisive { .. }));
        assert!(!decided, "{fen}: decided after {plies} half-moves");
    }
}

/// Wrong bishop, lone knights, rook's pawn: textbook draws.
#[test]
fn drawn_endings_are_seen() {
    let engine = Engine::start();
    for fen in [
        "7k/8/8/7P/8/6K1/4B3/8 w - - 0 1",
        "8/8/8/3k4/8/5NN1/3K4/8 w - - 0 1",
        "7k/8/8/7P/8/6K1/8/8 w - - 0 1",
        "8/8/8/3k4/8/3B4/3K4/8 w - - 0 1",
        "8/8/8/3kb3/8/7R/3K4/8 w - - 0 1",
    ] {
        let lines = engine.search(&format!("fen {fen}"), "nodes 50000");
        let score = field(&lines, "score", 2);
        assert_eq!(score[0], "cp", "{fen}");
        assert!(
            score[1].parse::<i32>().unwrap().abs() <= 60,
            "{fen}: {score:?}"
        );
    }
}
