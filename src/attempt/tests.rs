//! Undo, redo, and that any log that was built event by event folds again to the same state.

use proptest::prelude::*;

use super::{Attempt, AttemptEvent, BoardVisibility, FindingId, Opened, Origin, TimedAttemptEvent};
use crate::tree::{NodeId, Sign, Verdict};

fn opened() -> Attempt {
    let what = AttemptEvent::Opened(Opened {
        origin: Origin::Position,
        // F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895.
        start_fen: "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1".to_owned(),
        past: Vec::new(),
        budget_ms: None,
        sight: BoardVisibility::Root,
        wall_ms: 0,
        quick: None,
    });
    Attempt::open(&TimedAttemptEvent { at_ms: 0, what }).unwrap()
}

fn after(events: &[AttemptEvent]) -> Attempt {
    let mut attempt = opened();
    for what in events {
        let what = what.clone();
        attempt
            .apply(&TimedAttemptEvent { at_ms: 0, what })
            .unwrap();
    }
    attempt
}

fn added(parent: u32, text: &str) -> AttemptEvent {
    AttemptEvent::Added {
        parent: NodeId(parent),
        text: text.to_owned(),
    }
}

#[test]
fn redo_brings_back_what_undo_took() {
    let both = after(&[added(0, "c7"), added(1, "Rd6+")]);
    let back = after(&[
        added(0, "c7"),
        added(1, "Rd6+"),
        AttemptEvent::Undone,
        AttemptEvent::Undone,
        AttemptEvent::Redone,
        AttemptEvent::Redone,
    ]);
    assert_eq!(back.tree(), both.tree());
    let mut anew = after(&[added(0, "c7"), AttemptEvent::Undone, added(0, "Kb7")]);
    let redone = anew.apply(&TimedAttemptEvent {
        at_ms: 0,
        what: AttemptEvent::Redone,
    });
    insta::assert_snapshot!(redone.unwrap_err(), @"there is nothing to bring back");
    assert_eq!(anew.tree().len(), 1);
}

#[test]
fn a_move_goes_elsewhere_with_what_stands_below_it() {
    let mut attempt = after(&[
        added(0, "c7"),
        added(1, "Rd6+"),
        added(2, "Kb5"),
        added(0, "Kb7"),
        AttemptEvent::Chosen {
            node: Some(NodeId(1)),
        },
        AttemptEvent::Moved {
            node: NodeId(2),
            parent: NodeId(4),
        },
    ]);
    assert_eq!(attempt.tree().sans(NodeId(3)), ["Kb7", "Rd6", "Kb5"]);
    assert!(attempt.tree().children(NodeId(1)).is_empty());
    for (node, parent, words) in [
        (2, 3, "a move cannot stand below itself"),
        (9, 1, "there is no move number 9 in this tree"),
        (0, 1, "the root is a position, not a move"),
    ] {
        let what = AttemptEvent::Moved {
            node: NodeId(node),
            parent: NodeId(parent),
        };
        let refused = attempt
            .apply(&TimedAttemptEvent { at_ms: 0, what })
            .unwrap_err();
        assert_eq!(refused.to_string(), words);
    }
    let what = AttemptEvent::Moved {
        node: NodeId(1),
        parent: NodeId(3),
    };
    attempt
        .apply(&TimedAttemptEvent { at_ms: 0, what })
        .unwrap();
    assert_eq!(attempt.choice(), None, "it is no candidate any more");
}

#[test]
fn the_tree_is_final_and_what_is_added_stands_apart() {
    let mut attempt = after(&[
        added(0, "c7"),
        AttemptEvent::Chosen {
            node: Some(NodeId(1)),
        },
    ]);
    let spot = FindingId {
        at: NodeId(1),
        kind: "missed-resource".to_owned(),
        resource: "Rd4".to_owned(),
    };
    let explained = AttemptEvent::Explained {
        spot: spot.clone(),
        cause: "stopped too early".to_owned(),
        text: String::new(),
    };
    let event = |what: &AttemptEvent| TimedAttemptEvent {
        at_ms: 0,
        what: what.clone(),
    };
    let early = attempt.apply(&event(&explained)).unwrap_err();
    assert_eq!(early.to_string(), "the tree is not locked yet");
    attempt.apply(&event(&AttemptEvent::Locked)).unwrap();
    let tree = attempt.tree().clone();
    attempt.apply(&event(&explained)).unwrap();
    for what in [added(1, "Rd6+"), AttemptEvent::Undone, AttemptEvent::Redone] {
        let late = attempt.apply(&event(&what)).unwrap_err();
        assert_eq!(
            late.to_string(),
            "the tree is locked: it can no longer be changed"
        );
    }
    assert_eq!(attempt.tree(), &tree);
    assert_eq!(
        attempt.after().explained()[&spot].cause,
        "stopped too early"
    );
}

fn some_event() -> impl Strategy<Value = AttemptEvent> {
    let node = || (0u32..12).prop_map(NodeId);
    prop_oneof![
        6 => (node(), 0usize..6).prop_map(|(parent, i)| AttemptEvent::Added {
            parent,
            text: ["c7", "Rd6+", "Kb5", "Kb7", "Qh9", "--"][i].to_owned(),
        }),
        1 => node().prop_map(|node| AttemptEvent::Struck { node }),
        1 => node().prop_map(|node| AttemptEvent::Restored { node }),
        1 => (node(), 0usize..3).prop_map(|(node, place)| AttemptEvent::Reordered { node, place }),
        1 => node().prop_map(|node| AttemptEvent::Judged {
            node,
            verdict: Some(Verdict::Sign(Sign::WhiteWins)),
        }),
        1 => node().prop_map(|node| AttemptEvent::Commented { node, text: "words".to_owned() }),
        1 => node().prop_map(|node| AttemptEvent::Chosen { node: Some(node) }),
        3 => (node(), node()).prop_map(|(node, parent)| AttemptEvent::Moved { node, parent }),
        2 => (node(), 0usize..3).prop_map(|(node, i)| AttemptEvent::Retyped {
            node,
            text: ["c7", "Kb5", "Rd1"][i].to_owned(),
        }),
        1 => node().prop_map(|node| AttemptEvent::Only { node, only: true }),
        1 => (node(), node()).prop_map(|(node, other)| AttemptEvent::SameAs { node, other: Some(other) }),
        3 => Just(AttemptEvent::Undone),
        3 => Just(AttemptEvent::Redone),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// What is refused changes nothing; every prefix folds; undo to the start gives the empty tree and
    /// redo to the end the tree as it was.
    #[test]
    fn any_log_folds_and_can_be_undone_and_redone(events in prop::collection::vec(some_event(), 0..60)) {
        let mut attempt = opened();
        for what in events {
            let before = attempt.clone();
            if attempt.apply(&TimedAttemptEvent { at_ms: 0, what }).is_err() {
                prop_assert_eq!(&attempt, &before);
            }
        }
        prop_assert_eq!(&Attempt::fold(attempt.log()).unwrap(), &attempt);
        let (tree, choice) = (attempt.tree().clone(), attempt.choice());
        let mut undone = 0;
        while attempt.apply(&TimedAttemptEvent { at_ms: 0, what: AttemptEvent::Undone }).is_ok() {
            undone += 1;
        }
        prop_assert!(attempt.tree().is_empty());
        prop_assert_eq!(attempt.choice(), None);
        for _ in 0..undone {
            attempt.apply(&TimedAttemptEvent { at_ms: 0, what: AttemptEvent::Redone }).unwrap();
        }
        prop_assert_eq!(attempt.tree(), &tree);
        prop_assert_eq!(attempt.choice(), choice);
    }
}
