//! Several threads: everything still legal, stopped and answered; one thread as if there had never been
//! more.

use super::{Engine, best, field, legal_line};

const MIDDLEGAME: &str = "r1bq1rk1/ppp1npbp/3p1np1/3Pp3/2P1P3/2N2N2/PP2BPPP/R1BQ1RK1 b - - 0 9";

fn with_threads(threads: &str) -> Engine {
    let engine = Engine::start();
    engine.send(&format!("setoption name Threads value {threads}"));
    engine
}

#[test]
fn several_threads_give_legal_lines_and_moves() {
    let engine = with_threads("4");
    engine.send("setoption name MultiPV value 3");
    let lines = engine.search(&format!("fen {MIDDLEGAME}"), "depth 7");
    let last: Vec<&String> = lines
        .iter()
        .filter(|l| l.starts_with("info depth 7 "))
        .collect();
    assert_eq!(last.len(), 3);
    for line in lines.iter().filter(|l| l.contains(" pv ")) {
        legal_line(MIDDLEGAME, line);
    }
    let first = last[0].split(" pv ").nth(1).unwrap();
    assert!(first.starts_with(best(&lines)));
}

#[test]
fn several_threads_stop_and_start_again() {
    let engine = with_threads("3");
    for _ in 0..5 {
        engine.send(&format!("position fen {MIDDLEGAME}"));
        engine.send("go infinite");
        engine.send("isready");
        engine.until("readyok");
        engine.send("stop");
        engine.until("bestmove");
        // Nothing is said after the answer.
        engine.send("isready");
        assert_eq!(engine.line(), "readyok");
    }
    let lines = engine.search("fen k7/8/2K5/8/8/8/8/7R w - - 0 1", "depth 12");
    assert_eq!(field(&lines, "score", 2)[0], "mate");
}

#[test]
fn the_limit_of_nodes_holds_for_all_threads_together() {
    let lines = with_threads("4").search(&format!("fen {MIDDLEGAME}"), "nodes 100000");
    let nodes: i64 = field(&lines, "nodes", 1)[0].parse().unwrap();
    // Each thread tells its nodes every 1024.
    assert!((nodes - 100_000).abs() <= 8 * 1024, "{nodes}");
}

#[test]
fn back_to_one_thread_leaves_no_trace() {
    let alone = Engine::start().search(&format!("fen {MIDDLEGAME}"), "nodes 30000");
    let engine = with_threads("4");
    engine.search(&format!("fen {MIDDLEGAME}"), "nodes 50000");
    engine.send("setoption name Threads value 1");
    assert_eq!(
        engine.search(&format!("fen {MIDDLEGAME}"), "nodes 30000"),
        alone
    );
    engine.send("setoption name Threads value many");
    assert!(engine.line().contains("needs a whole number"));
}

#[test]
fn a_limited_engine_uses_one_thread_whatever_it_is_given() {
    let run = |threads: &str| {
        let engine = with_threads(threads);
        engine.send("setoption name UCI_LimitStrength value true");
        engine.send("setoption name UCI_Elo value 1500");
        engine.search(&format!("fen {MIDDLEGAME}"), "nodes 100000")
    };
    assert_eq!(run("1"), run("4"));
}
