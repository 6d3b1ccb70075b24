//! An invented event of five rounds, from the score sheets to the account of the next event. The games: recipe in
//! `tests/python/make_event.py`.

use foreply::tree::pgn::{self, Game};

use super::plain;
use crate::support::Program;

const EVENTS: &str = include_str!("../data/harrowmere-event.pgn");
const OPEN: &str = "Harrowmere Open";

fn games() -> Vec<Game> {
    pgn::games(EVENTS).collect::<Result<_, _>>().unwrap()
}

/// A game as it stands on paper: names, moves, the clock at every fifth move; `slip` puts another word in a move's place.
fn sheet(game: &Game, slip: Option<(usize, &str)>) -> String {
    let mut text = String::new();
    for (name, value) in &game.tags {
        text += &format!("{name}: {value}\n");
    }
    for (at, place) in game.main.iter().enumerate() {
        let mv = &game.moves[*place];
        let word = slip.filter(|s| s.0 == at).map_or(mv.text.as_str(), |s| s.1);
        text += word;
        if let Some(ms) = mv.clock_ms {
            let s = ms / 1000;
            text += &format!(" {}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
        }
        text.push(if at % 2 == 1 { '\n' } else { ' ' });
    }
    text + game.result.as_deref().unwrap_or("*") + "\n"
}

/// From each sheet a game; the sheet of round 3 has a slip of the pen, and the likeliest reading of it is the right one.
fn from_sheets(program: &Program) {
    for (at, game) in games()
        .iter()
        .filter(|g| g.tag("Event") == Some(OPEN))
        .enumerate()
    {
        // 11.Qc1 of round 3 is written as Qc2, which is possible too; five moves later 16.Qxh6 is not.
        let slip = (at == 2).then_some((20, "Qc2"));
        let paper = program.file(&format!("round-{}.txt", at + 1), &sheet(game, slip));
        let pgn_file = program.out(&format!("round-{}.pgn", at + 1));
        let pgn_file = pgn_file.to_str().unwrap();
        let mut args = vec!["games", "sheet", paper.as_str(), "-o", pgn_file];
        if slip.is_some() {
            assert_eq!(program.run(&args).code, 1, "the slip is seen");
            args.extend(["--repair", "1"]);
        }
        program.ok(&args);
        program.ok(&["games", "add", pgn_file, "--player", "Verrick, Ansa"]);
        let read = std::fs::read_to_string(pgn_file).unwrap();
        let read = pgn::games(&read).next().unwrap().unwrap();
        assert_eq!(read.main_moves, game.main_moves, "round {}", at + 1);
    }
}

#[test]
fn five_rounds_from_paper_to_the_next_event() {
    let program = Program::new();
    from_sheets(&program);
    let nodes = ["--nodes", "600"];
    // His own thoughts on the first round, before any engine.
    program.ok(&[
        "games",
        "recall",
        "2026.04.03",
        "--mark",
        "20",
        "--felt",
        "=",
        "--feared",
        "the rook",
    ]);
    let held = program.run(&[&["games", "event"][..], &nodes].concat());
    assert_eq!(held.code, 0, "{}", held.err);
    assert!(
        plain(&held.out).contains("left out, since it may be going on"),
        "{}",
        held.out
    );
    program.ok(&[
        "games",
        "recall",
        "2026.04.03",
        "--sentence",
        "I let it drift.",
        "--lock",
    ]);
    let read = program.ok(&[&["games", "recall", "2026.04.03"][..], &nodes].concat());
    assert!(read.contains("Where the game turned"), "{read}");
    // The event, and what he takes away from it.
    let event = program.ok(&[&["games", "event"][..], &nodes].concat());
    for words in [
        "Harrowmere Open, 2026.04.03 to 2026.04.06: ",
        "What runs through",
        "too few to say",
        "Nothing yet.",
    ] {
        assert!(plain(&event).contains(words), "{words}: {event}");
    }
    let json = program.ok(&[&["games", "event", "--format", "json"][..], &nodes].concat());
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["account"]["rounds"].as_array().unwrap().len(), 5);
    assert_eq!(
        json["account"]["recognised"]["of"],
        json["account"]["rounds"][0]["recognised"]["of"]
    );
    for (words, tie) in [
        ("His checks first.", Some("reply-overlooked")),
        ("Twenty minutes at move 30.", Some("clock:20")),
        ("Sleep before the double round.", None),
    ] {
        let mut args = vec!["games", "event", "last", "--takeaway", words];
        args.extend(tie.iter().flat_map(|t| ["--tie", t]));
        program.ok(&args);
    }
    let fourth = program.run(&["games", "event", "--takeaway", "More."]);
    assert_eq!(fourth.code, 1);
    assert!(
        fourth.err.contains("three takeaways already"),
        "{}",
        fourth.err
    );
    let wrong = program.run(&["games", "event", "--takeaway", "Luck.", "--tie", "luck"]);
    assert!(
        wrong.err.contains("'luck' cannot be counted; these can: "),
        "{}",
        wrong.err
    );
    let eve = program.ok(&["progress", "--eve"]);
    assert!(
        eve.contains("What you took away from your last event:")
            && eve.contains("'His checks first.'"),
        "{eve}"
    );
    // The next event opens with them.
    program.ok(&["games", "add", "tests/data/harrowmere-event.pgn"]);
    let next = plain(&program.ok(&[&["games", "event"][..], &nodes].concat()));
    assert!(
        next.starts_with("Island Cup, 2026.06.12 to 2026.06.14: "),
        "{next}"
    );
    assert!(next.contains("What you took away from Harrowmere Open: 'His checks first.' - Games without 'reply overlooked': before"), "{next}");
    assert!(next.contains("of 5, since then"), "{next}");
    assert!(next.contains("not yet to be told"), "{next}");
    assert!(
        next.contains("'Sleep before the double round.' - Tied to nothing that is counted."),
        "{next}"
    );
    let html = program.ok(&[&["games", "event", "--format", "html"][..], &nodes].concat());
    assert!(html.contains("<h2>Round by round</h2>"), "{html}");
    let list = program.ok(&["games", "event", "--list"]);
    assert!(
        list.contains("harrowmere-open-20260403") && list.contains("3 games"),
        "{list}"
    );
    // The opponent of the next round.
    let facts = program.ok(&["games", "opponent", "Pell, Doran"]);
    assert!(facts.contains("1 game with White, 1 with Black"), "{facts}");
}

/// The games are whole: python-chess made them, and our reader finds each move legal.
#[test]
fn the_event_is_read_whole() {
    let games = games();
    assert_eq!(games.len(), 8);
    for game in &games {
        assert_eq!(game.main_moves.len(), game.main.len());
        assert!(game.moves.iter().all(|m| m.clock_ms.is_some()));
        assert!(game.result.as_deref().is_some_and(|r| r != "*"));
    }
}
