//! A caller without manners: commands at any time, in any order, and very long games.

use shakmaty::{CastlingMode, Chess, Position, fen::Fen, uci::UciMove};

use super::{Dice, Engine, best};

/// A game of random moves that does not end before `plies`.
fn long_game(dice: &mut Dice, plies: usize) -> (String, Chess) {
    loop {
        let mut chess = Chess::default();
        let mut moves = String::new();
        for _ in 0..plies {
            let legal = chess.legal_moves();
            if legal.is_empty() || chess.is_insufficient_material() {
                break;
            }
            let m = &legal[dice.below(legal.len() as u64) as usize];
            moves += &format!(" {}", m.to_uci(CastlingMode::Standard));
            chess.play_unchecked(m);
        }
        let full = moves.split_whitespace().count() == plies;
        if full && !chess.is_game_over() {
            return (moves, chess);
        }
    }
}

fn legal(chess: &Chess, word: &str) -> bool {
    word.parse::<UciMove>()
        .is_ok_and(|m| m.to_move(chess).is_ok())
}

#[test]
fn games_of_five_hundred_half_moves_are_followed() {
    let mut dice = Dice(11);
    let engine = Engine::start();
    for _ in 0..5 {
        let (moves, chess) = long_game(&mut dice, 500);
        let lines = engine.search(&format!("startpos moves{moves}"), "nodes 2000");
        assert!(legal(&chess, best(&lines)), "{lines:?} after{moves}");
    }
}

/// Every `go` gets one answer, legal in the position that was set when it came, whatever is said in
/// between.
#[test]
fn every_go_is_answered_once_in_its_own_position() {
    let positions = [
        "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
        "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
        "8/2p2pk1/1p1p2p1/p2Pp2p/P1P1P2P/1P3PP1/6K1/8 b - - 0 40",
    ];
    let goes = [
        "go infinite",
        "go nodes 3000",
        "go depth 3",
        "go movetime 1",
    ];
    let noise = [
        "isready",
        "stop",
        "ucinewgame",
        "ponderhit",
        "setoption name Hash value 1",
        "setoption name MultiPV value 2",
        "setoption name MultiPV value 1",
        "setoption name Clear Hash",
        "position fen 9/9 w - -",
        "gibberish \u{0} \u{fffd}",
        "",
    ];
    for number in 0..4 {
        let mut dice = Dice(21 + number);
        let engine = Engine::start();
        engine.send(&format!("position fen {}", positions[0]));
        let (mut now, mut expected) = (Some(0), Vec::new());
        for _ in 0..120 {
            match dice.below(4) {
                0 => {
                    let chosen = dice.below(3) as usize;
                    engine.send(&format!("position fen {}", positions[chosen]));
                    now = Some(chosen);
                }
                1 => {
                    engine.send(goes[dice.below(4) as usize]);
                    expected.push(now);
                }
                _ => {
                    let line = noise[dice.below(noise.len() as u64) as usize];
                    engine.send(line);
                    if line.starts_with("position") {
                        now = None;
                    }
                }
            }
        }
        let answers: Vec<String> = engine
            .end()
            .into_iter()
            .filter(|l| l.starts_with("bestmove"))
            .collect();
        assert_eq!(answers.len(), expected.len(), "run {number}");
        for (line, position) in answers.iter().zip(expected) {
            let word = line.split(' ').nth(1).unwrap();
            match position {
                None => assert_eq!(word, "(none)", "run {number}"),
                Some(i) => {
                    let chess: Chess = positions[i]
                        .parse::<Fen>()
                        .unwrap()
                        .into_position(CastlingMode::Standard)
                        .unwrap();
                    assert!(
                        legal(&chess, word),
                        "run {number}: {word} in {}",
                        positions[i]
                    );
                }
            }
        }
    }
}

/// Castling written as the king taking its own rook, as for shuffled starts, is understood in a standard
/// game; shuffled starts themselves are refused (see `refuses_what_is_no_position_and_goes_on`).
#[test]
fn castling_onto_the_rook_is_the_same_castling() {
    let engine = Engine::start();
    let opening = "startpos moves e2e4 e7e5 g1f3 g8f6 f1c4 f8c5";
    let usual = engine.search(&format!("{opening} e1g1"), "depth 4");
    let other = engine.search(&format!("{opening} e1h1"), "depth 4");
    assert_ne!(best(&usual), "(none)");
    assert_eq!(usual, other);
}
