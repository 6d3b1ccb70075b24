//! The protocol (Stefan Meyer-Kahlen and Rudolf Huber, "Description of the universal chess
//! interface", April 2006), and what a rough caller may do to it.

use std::time::{Duration, Instant};

use shakmaty::{CastlingMode, Chess, Position, fen::Fen, uci::UciMove};

use super::{Engine, best, field};

const KIWIPETE: &str = "fen r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1";

#[test]
fn introduces_itself_and_is_ready() {
    let engine = Engine::start();
    engine.send("uci");
    let lines = engine.until("uciok");
    for option in ["Hash", "Threads", "MultiPV", "UCI_ShowWDL", "Clear Hash"] {
        assert!(
            lines
                .iter()
                .any(|l| l.starts_with(&format!("option name {option} type"))),
            "{option}"
        );
    }
    engine.send("isready");
    assert_eq!(engine.line(), "readyok");
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let run = || {
        let engine = Engine::start();
        let mut all = engine.search(KIWIPETE, "nodes 30000");
        all.extend(engine.search("startpos moves e2e4 e7e5", "depth 7"));
        all
    };
    let first = run();
    assert_eq!(first, run());
    // And with a memory that was used for something else before.
    let engine = Engine::start();
    engine.search("startpos", "nodes 20000");
    let mut again = engine.search(KIWIPETE, "nodes 30000");
    again.extend(engine.search("startpos moves e2e4 e7e5", "depth 7"));
    assert_eq!(first, again);
}

#[test]
fn stops_at_the_node_limit() {
    let engine = Engine::start();
    for limit in [1000, 12_345, 40_000] {
        let lines = engine.search(KIWIPETE, &format!("nodes {limit}"));
        let nodes: i64 = field(&lines, "nodes", 1)[0].parse().unwrap();
        assert!((nodes - limit).abs() <= 8, "{nodes} of {limit}");
    }
}

#[test]
fn every_line_of_several_is_different_legal_and_as_deep() {
    let engine = Engine::start();
    engine.send("setoption name MultiPV value 4");
    let lines = engine.search(KIWIPETE, "depth 6");
    let last: Vec<&String> = lines
        .iter()
        .filter(|l| l.starts_with("info depth 6 "))
        .collect();
    assert_eq!(last.len(), 4);
    let mut firsts: Vec<&str> = Vec::new();
    let mut scores: Vec<i32> = Vec::new();
    for line in last {
        let words: Vec<&str> = line.split(' ').collect();
        let pv = words.iter().position(|w| *w == "pv").unwrap() + 1;
        let fen = KIWIPETE.trim_start_matches("fen ");
        let mut chess: Chess = fen
            .parse::<Fen>()
            .unwrap()
            .into_position(CastlingMode::Standard)
            .unwrap();
        for word in &words[pv..] {
            let m = word
                .parse::<UciMove>()
                .unwrap()
                .to_move(&chess)
                .expect(word);
            chess.play_unchecked(&m);
        }
        firsts.push(words[pv]);
        let at = words.iter().position(|w| *w == "cp").unwrap() + 1;
        scores.push(words[at].parse().unwrap());
        let wdl = words.iter().position(|w| *w == "wdl").unwrap() + 1;
        let sum: u32 = words[wdl..wdl + 3]
            .iter()
            .map(|w| w.parse::<u32>().unwrap())
            .sum();
        assert_eq!(sum, 1000);
    }
    firsts.sort_unstable();
    firsts.dedup();
    assert_eq!(firsts.len(), 4);
    assert!(scores.is_sorted_by(|a, b| a >= b), "{scores:?}");
}

/// The best of several lines is the best of one: the move that stands out stays it, at about its worth.
#[test]
fn the_first_of_several_is_the_one_of_one() {
    let score = |lines: &[String]| -> i32 {
        let first = lines.iter().rev().find(|l| l.contains(" multipv 1 "));
        field(&[first.unwrap().clone()], "cp", 1)[0]
            .parse()
            .unwrap()
    };
    let one = Engine::start().search(KIWIPETE, "depth 8");
    let engine = Engine::start();
    engine.send("setoption name MultiPV value 3");
    let several = engine.search(KIWIPETE, "depth 8");
    assert_eq!(best(&one), best(&several));
    let (one, several) = (score(&one), score(&several));
    assert!((one - several).abs() <= 60, "{one} and {several}");
}

#[test]
fn searches_only_the_moves_it_is_told_to() {
    let engine = Engine::start();
    let lines = engine.search("startpos", "nodes 5000 searchmoves a2a3 h2h4");
    assert!(["a2a3", "h2h4"].contains(&best(&lines)));
    let lines = engine.search("startpos", "nodes 5000 searchmoves e2e5");
    assert_eq!(best(&lines), "(none)");
}

#[test]
fn a_finished_game_has_no_best_move() {
    let engine = Engine::start();
    let mated = engine.search("startpos moves f2f3 e7e5 g2g4 d8h4", "nodes 1000");
    assert_eq!(
        (best(&mated), field(&mated, "score", 2)),
        ("(none)", vec!["mate", "0"])
    );
    let stalemate = engine.search("fen k7/2Q5/8/8/8/8/8/2K5 b - - 0 1", "nodes 1000");
    assert_eq!(
        (best(&stalemate), field(&stalemate, "score", 2)),
        ("(none)", vec!["cp", "0"])
    );
}

#[test]
fn answers_while_it_searches_and_stops_at_once() {
    let engine = Engine::start();
    engine.send("position startpos");
    engine.send("go infinite");
    engine.send("isready");
    engine.until("readyok");
    engine.send("position startpos moves e2e4");
    engine.send("go nodes 1000");
    engine.until("bestmove");
    engine.until("bestmove");
    engine.send("go infinite");
    std::thread::sleep(Duration::from_millis(100));
    let asked = Instant::now();
    engine.send("stop");
    engine.until("bestmove");
    // The goal is 5 ms; the bound is wide because test machines are shared.
    assert!(asked.elapsed() < Duration::from_secs(2));
}

#[test]
fn refuses_what_is_no_position_and_goes_on() {
    let engine = Engine::start();
    for (position, reason) in [
        ("fen 8/8/8/8/8/8/8/8 w - - 0 1", "king"),
        ("fen nonsense", "fen"),
        ("startpos moves e2e5", "illegal move e2e5"),
        ("fen 1rk2r2/8/8/8/8/8/8/1RK2R2 w FBfb - 0 1", "refused"),
    ] {
        let lines = engine.search(position, "nodes 1000");
        assert!(
            lines[0].to_lowercase().contains(reason),
            "{position}: {}",
            lines[0]
        );
        assert_eq!(best(&lines), "(none)");
    }
    assert_ne!(best(&engine.search("startpos", "nodes 1000")), "(none)");
}

#[test]
fn survives_garbage_and_long_games() {
    let engine = Engine::start();
    for line in [
        "",
        "go go go",
        "position",
        "position fen",
        "setoption",
        "setoption name Hash value many",
        "setoption name MultiPV value -3",
        "\u{1b}[31m\u{7}",
        "stop",
        "ponderhit",
        "go depth x nodes y movetime z",
        "stop",
        "position startpos moves",
        "go wtime -5 btime -5 movestogo 0",
        "debug on",
        "register later",
    ] {
        engine.send(line);
    }
    let dance = " g1f3 g8f6 f3g1 f6g8".repeat(125);
    let lines = engine.search(&format!("startpos moves{dance}"), "nodes 2000");
    assert_ne!(best(&lines), "(none)");
    engine.send("isready");
    engine.until("readyok");
}

#[test]
fn the_end_of_the_input_ends_a_search() {
    let engine = Engine::start();
    engine.send("position startpos");
    engine.send("go infinite");
    let said = engine.end();
    assert!(said.last().unwrap().starts_with("bestmove "));
}
