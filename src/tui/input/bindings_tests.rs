use std::collections::HashSet;

use super::*;
use crate::text;

const CONTEXTS: [&[KeyContext]; 33] = [
    &[Terms],
    &[Home],
    &[Fen, Line],
    &[Drills],
    &[Preview],
    &[Writing, Line],
    &[Paused],
    &[EndVerdict, Line],
    &[Confirm],
    &[Clarify],
    &[Locked],
    &[SecondLook, Line],
    &[PendingReview],
    &[Review],
    &[Response, Line],
    &[Cause],
    &[History],
    &[BlindSpots],
    &[Figures],
    &[Page],
    &[Quick],
    &[Filter, Line],
    &[Help],
    &[Game, Line],
    &[GameAccount],
    &[OwnGames],
    &[Recall],
    &[RecallLine, Line],
    &[RecallLock],
    &[Sheet, Line],
    &[OwnAccount],
    &[SheetReadings],
    &[SheetSide],
];

#[test]
fn every_binding_has_a_key_and_words() {
    for binding in KEY_BINDINGS {
        assert!(!binding.keys.is_empty(), "{:?} has no key", binding.action);
        assert!(
            !binding.words.is_empty(),
            "{:?} has no words",
            binding.action
        );
    }
}

#[test]
fn no_key_is_used_twice_on_one_screen() {
    for contexts in CONTEXTS {
        let mut seen = HashSet::new();
        for binding in KEY_BINDINGS
            .iter()
            .filter(|c| contexts.contains(&c.context))
        {
            for key in binding.keys {
                assert!(seen.insert(*key), "{contexts:?} uses {key} twice");
            }
        }
    }
}

/// Ctrl-C, -D, -Q, -S and -Z belong to the terminal (POSIX.1-2017, chapter 11.1.9: INTR, EOF,
/// START, STOP, SUSP).
#[test]
fn the_terminals_own_keys_are_left_alone() {
    for binding in KEY_BINDINGS {
        for key in binding.keys {
            assert!(!matches!(key, Ctrl('c' | 'd' | 'q' | 's' | 'z')), "{key}");
        }
    }
}

#[test]
fn every_context_has_help_and_a_way_back() {
    for contexts in CONTEXTS {
        let has = |action| {
            KEY_BINDINGS
                .iter()
                .any(|c| contexts.contains(&c.context) && c.action == action)
        };
        assert!(has(Action::Common(CommonAction::Back)), "{contexts:?}");
        assert!(
            has(Action::Common(CommonAction::Help)) || contexts == [Help],
            "{contexts:?}"
        );
    }
}

#[test]
fn every_bottom_line_fits_the_smallest_screen() {
    for contexts in CONTEXTS {
        let bar: Vec<String> = bar(contexts[0], &[])
            .iter()
            .map(|(key, short)| format!("{key} {short}"))
            .collect();
        let line = bar.join("  ");
        assert!(text::width(&line) <= 80, "{line}");
    }
}
