//! What we write, read by python-chess (PyPI `chess`), which shares no code with us: the same moves,
//! glyphs and end positions, and no complaint.

use crate::support::left_out;
use std::process::Command;

use foreply::board::{Line, line::fen, line::read_fen};
use foreply::tree::pgn::write_tree;
use foreply::tree::{Author, NodeId, Tree, Verdict};
use shakmaty::{CastlingMode, Position};

use crate::support::dice::Dice;

const ROOTS: [&str; 4] = [
    "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
    "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R b KQkq - 3 17",
    "8/PPP4k/8/2pPp3/5pP1/8/K4ppp/8 b - g3 0 40",
    "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1",
];

/// A tree with every kind of content: verdicts, percentages, words that PGN treats as its own, moves
/// that are not legal, passes.
fn tree(seed: u64) -> Tree {
    let mut dice = Dice(seed);
    let root = ROOTS[dice.roll(ROOTS.len())];
    let mut tree = Tree::new(Line::new(read_fen(root).unwrap()));
    for _ in 0..40 {
        let parent = NodeId(u32::try_from(dice.roll(tree.len() + 1)).unwrap());
        let moves = tree.line(parent).map(|l| l.position().legal_moves());
        let text = match moves {
            Some(moves) if !moves.is_empty() && dice.roll(8) > 0 => moves[dice.roll(moves.len())]
                .to_uci(CastlingMode::Standard)
                .to_string(),
            _ => ["--", "Qxh8#", "Nf3"][dice.roll(3)].to_owned(),
        };
        let node = tree.add(parent, &text, Author::Player, 0).unwrap();
        let verdict =
            [None, Some(18), Some(10), Some(13)][dice.roll(4)].and_then(Verdict::from_nag);
        tree.set_verdict(node, verdict).unwrap();
        let words = [
            "",
            "",
            "a plan (with ; and { in it",
            "a } brace",
            "50% of it is %100 long",
        ];
        tree.set_comment(node, words[dice.roll(words.len())])
            .unwrap();
    }
    tree
}

fn legal_children(tree: &Tree, id: NodeId) -> usize {
    let children = tree.children(id).iter();
    children.filter(|c| tree.legal(**c).is_some()).count()
}

/// The end positions of all lines, as far as they are legal.
fn ends(tree: &Tree) -> Vec<String> {
    let mut ends: Vec<String> = tree
        .nodes()
        .filter(|(id, _)| tree.legal(*id).is_some() && legal_children(tree, *id) == 0)
        .map(|(id, _)| fen(tree.line(id).unwrap().position()))
        .collect();
    ends.sort();
    ends
}

#[test]
fn an_independent_reader_finds_the_same() {
    let trees: Vec<Tree> = (1..=40).map(tree).collect();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("trees.pgn");
    let text: String = trees
        .iter()
        .map(|t| {
            let choice = t.standing(NodeId::ROOT).find(|c| t.legal(*c).is_some());
            write_tree(t, &[], choice)
        })
        .collect();
    std::fs::write(&file, text).unwrap();
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/python/read_pgn.py");
    let Ok(run) = Command::new("python3")
        .arg(script)
        .arg("--fens")
        .arg(&file)
        .output()
    else {
        left_out("there is no python3");
        return;
    };
    if run.status.code() == Some(2) {
        left_out(String::from_utf8_lossy(&run.stderr).trim());
        return;
    }
    let report: serde_json::Value = serde_json::from_slice(&run.stdout).unwrap();
    assert_eq!(report["errors"], serde_json::json!([]));
    let games = report["files"][0]["games"].as_array().unwrap();
    assert_eq!(games.len(), trees.len());
    for (game, tree) in games.iter().zip(&trees) {
        let legal = tree.nodes().filter(|(id, _)| tree.legal(*id).is_some());
        assert_eq!(game["moves"], legal.count());
        assert_eq!(game["root"], fen(tree.root().position()));
        assert_eq!(game["roster_first"], true);
        let mut found: Vec<String> = serde_json::from_value(game["ends"].clone()).unwrap();
        found.sort();
        assert_eq!(found, ends(tree));
    }
}
