//! Playing below full strength (UCI_LimitStrength and UCI_Elo of the protocol).

use super::{Engine, best, field};

const POSITION: &str = "startpos moves e2e4 e7e5 g1f3 b8c6 f1b5 a7a6";

fn limited(level: &str, seed: &str) -> Engine {
    let engine = Engine::start();
    engine.send("setoption name UCI_LimitStrength value true");
    engine.send(&format!("setoption name UCI_Elo value {level}"));
    engine.send(&format!("setoption name Seed value {seed}"));
    engine
}

#[test]
fn a_limited_engine_is_as_repeatable_as_a_full_one() {
    let run = |seed: &str| limited("900", seed).search(POSITION, "nodes 100000");
    assert_eq!(run("3"), run("3"));
    let answers: Vec<String> = (0..12)
        .map(|seed| best(&run(&seed.to_string())).to_owned())
        .collect();
    assert!(answers.iter().any(|a| *a != answers[0]), "{answers:?}");
}

#[test]
fn weaker_levels_look_at_fewer_nodes_and_report_as_many_lines_as_asked() {
    let nodes = |level: &str| -> u64 {
        let lines = limited(level, "0").search(POSITION, "nodes 100000");
        assert!(lines.iter().all(|l| !l.contains("multipv 2")));
        field(&lines, "nodes", 1)[0].parse().unwrap()
    };
    let found = ["900", "1500", "2100", "2400"].map(nodes);
    assert!(
        found.is_sorted() && found[0] < 500 && found[3] > 3_000,
        "{found:?}"
    );
    // Out of range counts as the nearest level.
    assert_eq!(nodes("9999"), found[3]);
}

#[test]
fn switching_the_limit_off_leaves_no_trace() {
    let full = Engine::start().search(POSITION, "nodes 20000");
    let engine = limited("600", "7");
    engine.search(POSITION, "nodes 20000");
    engine.send("setoption name UCI_LimitStrength value false");
    assert_eq!(engine.search(POSITION, "nodes 20000"), full);
    engine.send("setoption name UCI_Elo value strong");
    assert!(engine.line().contains("needs a whole number"));
}

#[test]
fn even_the_weakest_level_mates_when_the_mate_is_next() {
    for seed in ["1", "2", "3", "4"] {
        let lines =
            limited("600", seed).search("fen 6k1/5ppp/8/8/8/8/8/R3K3 w - - 0 1", "nodes 100");
        assert_eq!(best(&lines), "a1a8");
    }
}
