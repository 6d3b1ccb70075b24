//! Published problems and studies; author, work and year beside each, all from memory.

use super::{Engine, best, field};

#[test]
fn mates_of_published_problems_with_the_right_distance() {
    let engine = Engine::start();
    for (fen, key, moves, source) in [
        (
            "kbK5/pp6/1P6/8/8/8/8/R7 w - - 0 1",
            "a1a6",
            "2",
            "P. Morphy, attributed, New York Clipper 1856",
        ),
        (
            "5r1k/6pp/7N/8/2Q5/8/8/6K1 w - - 0 1",
            "c4g8",
            "2",
            "smothered mate after L. Lucena 1497",
        ),
        (
            "rnb1kb1r/pp3ppp/2p5/4q3/4n3/3Q4/PPPB1PPP/2KR1BNR w kq - 0 9",
            "d3d8",
            "3",
            "R. Reti against S. Tartakower, Vienna 1910",
        ),
        (
            "4kb1r/p2n1ppp/4q3/4p1B1/4P3/1Q6/PPP2PPP/2KR4 w k - 1 16",
            "b3b8",
            "2",
            "P. Morphy against the Duke of Brunswick and Count Isouard, Paris 1858",
        ),
        (
            "r1bk2nr/p2p1pNp/n2B4/1p1NP2P/6P1/3P1Q2/P1P1K3/q5b1 w - - 1 22",
            "f3f6",
            "2",
            "A. Anderssen against L. Kieseritzky, London 1851",
        ),
        (
            "rn3rk1/pbppq1pp/1p2pb2/4N2Q/3PN3/3B4/PPP2PPP/R3K2R w KQ - 4 11",
            "h5h7",
            "7",
            "Ed. Lasker against G. Thomas, London 1912 (played in 8, 7 is shortest)",
        ),
    ] {
        let lines = engine.search(&format!("fen {fen}"), "nodes 200000");
        assert_eq!(field(&lines, "score", 2), ["mate", moves], "{source}");
        assert_eq!(best(&lines), key, "{source}");
    }
}

/// F. Saavedra 1895 after G. Barbier: the pawn must become a rook, a queen is only a draw.
#[test]
fn saavedra_promotes_to_a_rook() {
    let engine = Engine::start();
    let end = engine.search("fen 8/2P5/8/8/3r4/8/2K5/k7 w - - 0 1", "nodes 200000");
    assert_eq!(best(&end), "c7c8r");
    let queen = engine.search(
        "fen 8/2P5/8/8/3r4/8/2K5/k7 w - - 0 1",
        "nodes 100000 searchmoves c7c8q",
    );
    assert_eq!(field(&queen, "score", 2), ["cp", "0"]);
    let start = engine.search("fen 8/8/1KP5/3r4/8/8/8/k7 w - - 0 1", "nodes 200000");
    assert_eq!(best(&start), "c6c7");
}

/// R. Réti 1921: the king runs after both pawns at once.
#[test]
fn reti_holds_the_draw() {
    let engine = Engine::start();
    let lines = engine.search("fen 7K/8/k1P5/7p/8/8/8/8 w - - 0 1", "nodes 200000");
    assert_eq!(
        (best(&lines), field(&lines, "score", 2)),
        ("h8g7", vec!["cp", "0"])
    );
}
