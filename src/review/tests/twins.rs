//! One move in two spellings, and orders of moves that meet, are one place of the tree.

use crate::board::Line;
use crate::board::line::read_fen;
use crate::review::tests::fixture::{QUIET, one_sided, tree};
use crate::review::{FindingKind, FindingStatus};
use crate::tree::{Author, NodeId, Tree};

/// As somebody types who is told nothing: two spellings stay two nodes.
fn typed(fen: &str, lines: &[&str]) -> Tree {
    let mut tree = Tree::new(Line::new(read_fen(fen).unwrap()));
    for text in lines {
        let mut at = NodeId::ROOT;
        for word in text.split_whitespace() {
            at = tree.add_as_typed(at, word, Author::Player, 0).unwrap();
        }
    }
    tree
}

#[test]
fn a_reply_that_stands_under_the_other_spelling_was_seen() {
    let ends = [("h3 h6", 0.60), ("h3 d4", 0.40)];
    let both = typed(QUIET, &["h3 h6", "h2h3 d4"]);
    assert_eq!(both.len(), 4, "two spellings are two nodes");
    let review = one_sided(&both, &ends, None);
    assert!(review.is_clean(), "{:#?}", review.findings);
    let ends = [("h3 h6", 0.60), ("h3 a6", 0.60), ("h3 d4", 0.40)];
    let missed = one_sided(&typed(QUIET, &["h3 h6", "h2h3 a6"]), &ends, None);
    let found: Vec<_> = missed
        .findings
        .iter()
        .map(|f| f.resource.as_str())
        .collect();
    assert_eq!(found, ["d4"], "told once, not for each spelling");
    assert_eq!(missed.findings[0].class, FindingStatus::Counted);
    assert_eq!(
        missed.focus.of, 3,
        "the second spelling is no move of its own"
    );
}

#[test]
fn a_choice_in_the_second_spelling_is_the_same_choice() {
    let mut both = typed(QUIET, &["c4 d4", "h3 h6"]);
    let second = both
        .add_as_typed(NodeId::ROOT, "h2h3", Author::Player, 0)
        .unwrap();
    let ends = [("h3 h6", 0.60), ("h3 d4", 0.40), ("c4 d4", 0.40)];
    let judge = crate::review::tests::fixture::Fixed::new(both.root(), &ends);
    let written = crate::review::ReviewInput {
        tree: &both,
        choice: Some(second),
        attempt: None,
        ply_in_game: None,
    };
    let settings = crate::review::Settings::default();
    let review = crate::review::review(&written, &judge, &settings, &mut |_, _| {}).unwrap();
    let kinds: Vec<_> = review.counted().map(|f| f.kind).collect();
    assert_eq!(kinds, [FindingKind::MissedDefence]);
    assert_eq!(review.depth.reached, 2);
}

#[test]
fn orders_of_moves_that_meet_are_one_place() {
    // After 'a3 h6 h3' what stands after 'h3 h6 a3' was seen as well.
    let ends = [
        ("h3 h6 a3 a6", 0.60),
        ("h3 h6 a3 e4", 0.35),
        ("a3 h6 h3 e4", 0.35),
        ("a3 h6 h3 a6", 0.60),
    ];
    let met = one_sided(&tree(QUIET, &["h3 h6 a3 a6", "a3 h6 h3 e4"]), &ends, None);
    assert!(
        met.findings
            .iter()
            .all(|f| f.kind != FindingKind::MissedDefence),
        "{:#?}",
        met.findings
    );
    let ends = [&ends[..], &[("h3 h6 a3 h5", 0.60), ("a3 h6 h3 h5", 0.60)]].concat();
    let apart = one_sided(&tree(QUIET, &["h3 h6 a3 a6", "a3 h6 h3 h5"]), &ends, None);
    let missed: Vec<_> = apart.counted().map(|f| (f.kind, f.paths.len())).collect();
    assert_eq!(missed, [(FindingKind::MissedDefence, 2)]);
}

#[test]
fn what_is_overlooked_where_orders_meet_counts_for_the_choice() {
    // The line goes on under the other candidate only, and the choice leads there as well.
    let lines = ["h3 h6 a3", "a3 h6 h3 a6 b3 b6 ="];
    let ends = [
        ("a3 h6 h3 a6 b3 b6", 0.5),
        ("a3 h6 h3 a6 b3 e4", 0.2),
        ("h3 h6 a3 a6 b3 b6", 0.5),
        ("h3 h6 a3 a6 b3 e4", 0.2),
    ];
    let review = one_sided(&tree(QUIET, &lines), &ends, None);
    let counted: Vec<_> = review.counted().map(|f| f.resource.as_str()).collect();
    assert_eq!(counted, ["e4"]);
}

#[test]
fn nothing_is_sound_where_the_chosen_move_itself_gives_it_away() {
    let ends = [("h3 h6", 0.40), ("c4 d4", 0.60)];
    let review = one_sided(&tree(QUIET, &["h3 h6", "c4 d4"]), &ends, None);
    assert_eq!((review.depth.reached, review.depth.sound), (2, 0));
    let ends = [("h3 h6", 0.55), ("c4 d4", 0.60)];
    let review = one_sided(&tree(QUIET, &["h3 h6", "c4 d4"]), &ends, None);
    assert_eq!((review.depth.reached, review.depth.sound), (2, 2));
}

/// A table says it, and no engine: the rook's pawn that is no longer won (three men, textbooks).
#[test]
fn a_table_result_given_away_leaves_nothing_sound() {
    let fen = "8/8/8/1k6/8/8/P7/K7 w - - 0 1";
    let ends = [("Kb2 Ka4", 1.0), ("a3 Ka4", 0.5)];
    let review = one_sided(&tree(fen, &["a3 Ka4", "Kb2 Ka4"]), &ends, None);
    assert_eq!(review.depth.sound, 0);
}

#[test]
fn a_recapture_on_the_way_is_not_what_was_feared() {
    let fen = QUIET;
    // He feared the pawn that comes last, and that is harmless; the captures before it only lead there.
    let lines = ["h3 h6 =", "c4 dxc4 dxc4 Qxd1 Rxd1 e4 -/+"];
    let ends = [("h3 h6", 0.45), ("c4 dxc4 dxc4 Qxd1 Rxd1 e4 Nd4", 0.62)];
    let review = one_sided(&tree(fen, &lines), &ends, None);
    let feared: Vec<_> = (review.findings.iter())
        .filter(|f| f.kind == FindingKind::FearedTooMuch)
        .collect();
    assert_eq!(feared.len(), 1, "{:#?}", review.findings);
    assert_eq!(feared[0].paths[0].join(" "), "c4 dxc4 dxc4 Qxd1 Rxd1 e4");
}

#[test]
fn a_fear_that_an_own_move_on_the_way_made_true_is_not_unfounded() {
    // After 'c4 d4' he is well off; 'Nc3' throws it away, and what he feared then does harm.
    let lines = ["h3 h6 =", "c4 d4 Nc3 dxc3 -/+"];
    let ends = [
        ("h3 h6", 0.45),
        ("c4 d4 e3", 0.62),
        ("c4 d4 Nc3 dxc3", 0.10),
    ];
    let review = one_sided(&tree(QUIET, &lines), &ends, None);
    let kinds: Vec<_> = review.findings.iter().map(|f| f.kind).collect();
    assert!(!kinds.contains(&FindingKind::FearedTooMuch), "{kinds:?}");
}
