//! `foreply games recall`: his own thoughts first, then the game.

use crate::support::Program;

use super::moments::GAMES;

fn with_game() -> Program {
    let program = Program::new();
    let games = program.file("games.pgn", GAMES);
    let added = program.run(&["games", "add", &games, "--player", "Ansa Verrick"]);
    assert_eq!(added.code, 0, "{}", added.err);
    program
}

#[test]
fn the_judge_is_silent_until_his_thoughts_are_locked() {
    let program = with_game();
    let said = program.ok(&[
        "games",
        "recall",
        "pell",
        "--mark",
        "5",
        "--saw",
        "Qg4 d6 +-",
        "--saw",
        "Nxc6 bxc6",
        "--felt",
        "+/=",
        "--feared",
        "Nxg4, the knight on f6",
    ]);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("Move 5: White is slightly better. Feared: 'Nxg4, the knight on f6'. What you saw is written down."),
        "{said}"
    );
    // Neither the moments nor the review of what he saw speak before the lock.
    for args in [
        &["games", "moments", "--nodes", "300"][..],
        &["review", "last", "--nodes", "300"],
    ] {
        let held = program.run(args);
        assert_eq!(held.code, 1, "{args:?}: {}", held.out);
        assert_eq!(held.out, "");
        assert!(
            held.err.contains("foreply games recall 20260214-"),
            "{}",
            held.err
        );
        assert!(held.err.contains("--lock"), "{}", held.err);
    }
    program.ok(&[
        "games",
        "recall",
        "last",
        "--sentence",
        "I wanted mate too soon.",
        "--lock",
    ]);
    let again = program.run(&["games", "recall", "last", "--mark", "3"]);
    assert_eq!((again.code, again.out.as_str()), (1, ""));
    assert!(again.err.contains("locked"), "{}", again.err);
    let read = program.ok(&["games", "recall", "last", "--nodes", "2000"]);
    let read = read.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(read.contains("5.Qg4 (your move, named)"), "{read}");
    assert!(
        read.contains("On the game: 'I wanted mate too soon.'"),
        "{read}"
    );
    assert!(read.contains("5.Qg4: a turning point."), "{read}");
    assert!(
        read.contains("That was real: Nxg4 was as good as any reply of his"),
        "{read}"
    );
    let json = program.ok(&[
        "games", "recall", "last", "--nodes", "2000", "--format", "json",
    ]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["format"], "foreply-thoughts");
    assert_eq!(json["compared"]["marks"][0]["played"], "Qg4");
    let html = program.ok(&[
        "games", "recall", "last", "--nodes", "2000", "--format", "html",
    ]);
    assert!(html.contains("<h2>Where the game turned</h2>"), "{html}");
    // Counted once, whatever was asked how often.
    let progress = program.ok(&["progress", "--format", "json"]);
    let progress: serde_json::Value = serde_json::from_str(&progress).unwrap();
    let counted = &progress["recognising"];
    assert_eq!(
        (&counted["games"], &counted["named"]["part"]),
        (&1.into(), &1.into())
    );
}

/// What is written after the judge has spoken is kept, and not counted.
#[test]
fn what_comes_after_the_judge_is_not_counted() {
    let program = with_game();
    program.ok(&["games", "clock", "--nodes", "300"]);
    program.ok(&["games", "recall", "--mark", "4", "--lock"]);
    let read = program.ok(&["games", "recall", "--nodes", "2000"]);
    assert!(
        read.contains("Written after the judge had spoken"),
        "{read}"
    );
    let progress = program.ok(&["progress", "--format", "json"]);
    let progress: serde_json::Value = serde_json::from_str(&progress).unwrap();
    assert_eq!(progress["recognising"]["games"], 0);
}

#[test]
fn what_is_wrong_is_told_and_nothing_is_kept() {
    let program = with_game();
    for (args, words) in [
        (
            &["--mark", "300"][..],
            "there is no move 300 of yours in this game: your last one is move 6",
        ),
        (
            &["--mark", "5", "--felt", "good"],
            "'good' is not a verdict",
        ),
        (&["--mark", "5", "--saw", "Qg4 Kz9"], "--saw 'Qg4 Kz9'"),
        (&["--unmark", "5"], "nothing is marked there"),
        (&["--lock"], "there is nothing to lock"),
    ] {
        let ran = program.run(&[&["games", "recall", "last"][..], args].concat());
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{args:?}");
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
    }
    let none = program.run(&["games", "recall", "nobody"]);
    assert!(
        none.err.contains("`foreply games list` shows them"),
        "{}",
        none.err
    );
    let json = program.ok(&["games", "recall", "last", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["thoughts"]["marks"], serde_json::json!([]));
}

/// A note taken during play is against the Laws (FIDE Laws of Chess, 11.3).
#[test]
fn no_thoughts_on_a_game_that_may_be_going_on() {
    let program = Program::new();
    let now = jiff::Timestamp::now().to_zoned(jiff::tz::TimeZone::system());
    let today = now.strftime("%Y.%m.%d").to_string();
    let text = GAMES.replace("2026.02.14", &today).replace("0-1", "*");
    let games = program.file("games.pgn", &text);
    program.ok(&["games", "add", &games, "--player", "Ansa Verrick"]);
    let refused = program.run(&["games", "recall", "--mark", "5"]);
    assert_eq!(refused.code, 1);
    assert!(
        refused.err.contains("no notes are taken on it"),
        "{}",
        refused.err
    );
    let list = program.ok(&["games", "list"]);
    assert!(list.contains("may be going on"), "{list}");
    program.ok(&["games", "recall", "--mark", "5", "--over"]);
}
