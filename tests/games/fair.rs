//! A game that may be going on is not judged (FIDE Laws of Chess, 11.3), by no command.

use crate::support::Program;

use super::moments::GAMES;

fn today() -> String {
    let now = jiff::Timestamp::now().to_zoned(jiff::tz::TimeZone::system());
    now.strftime("%Y.%m.%d").to_string()
}

/// The game of the other tests, begun today and open, with a note at its fourth move.
fn of_today() -> (String, String) {
    let today = today();
    let text = GAMES.replace("2026.02.14", &today).replace("0-1", "*");
    let noted = text.replace("4. Nxd4", "4. Nxd4 (4. Bc4 Nf6 5. O-O)");
    assert!(noted.contains("(4. Bc4"));
    (noted, today)
}

#[test]
fn a_game_of_today_without_a_result_is_not_judged_before_it_is_over() {
    let program = Program::new();
    let (text, today) = of_today();
    let games = program.file("games.pgn", &text);
    let added = program.run(&["games", "add", &games, "--player", "Ansa Verrick"]);
    assert!(
        added
            .out
            .contains("What you wrote at one move is now attempts from memory")
    );
    for command in ["moments", "clock"] {
        let held = program.run(&["games", command, "--nodes", "300"]);
        assert_eq!((held.code, held.out.as_str()), (1, ""));
        insta::allow_duplicates! {
            insta::assert_snapshot!(held.err.replace(&today, "TODAY").lines().next().unwrap_or_default(), @"foreply: Verrick, Ansa - Pell, Doran, Harrowmere Chess League, TODAY: no result and dated today, so it may be going on; it is not judged before you say that it is over with --over (FIDE Laws of Chess, 11.3: no analysis during play)");
        }
    }
    // What he wrote from memory is locked, but not compared either.
    let note = program.run(&["review", "last", "--nodes", "300"]);
    assert_eq!((note.code, note.out.as_str()), (1, ""));
    insta::assert_snapshot!(note.err.replace(&today, "TODAY").trim_end(), @"foreply: Verrick, Ansa - Pell, Doran, Harrowmere Chess League, TODAY: no result and dated today, so it may be going on; it is not judged before you say that it is over with `foreply games moments --over` (FIDE Laws of Chess, 11.3: no analysis during play)");
    let answer = program.run(&["review", "last", "--answer", "Bc4"]);
    assert_eq!((answer.code, answer.out.as_str()), (1, ""));
    let over = program.run(&["games", "moments", "--nodes", "300", "--over"]);
    assert_eq!(over.code, 0, "{}", over.err);
    assert_eq!(program.run(&["games", "moments", "--nodes", "300"]).code, 0);
    assert_eq!(program.run(&["review", "last", "--nodes", "300"]).code, 0);
}

#[test]
fn notes_in_a_file_are_no_way_around_it() {
    let program = Program::new();
    let (text, today) = of_today();
    let games = program.file("games.pgn", &text);
    let held = program.run(&["review", &games, "--nodes", "300"]);
    assert_eq!((held.code, held.out.as_str()), (1, ""));
    insta::assert_snapshot!(held.err.replace(&today, "TODAY").trim_end(), @"foreply: Verrick, Ansa - Pell, Doran, Harrowmere Chess League TODAY: no result and dated today, so it may be going on; it is not judged before you say that it is over with --over (FIDE Laws of Chess, 11.3: no analysis during play)");
    let over = program.run(&["review", &games, "--nodes", "300", "--over"]);
    assert_eq!(over.code, 0, "{}", over.err);
    assert!(over.out.contains("move 4, White"), "{}", over.out);
}

/// What he wrote is locked before the engine first speaks of it, also where the game was never added.
#[test]
fn notes_in_a_file_are_locked_before_they_are_judged() {
    let program = Program::new();
    let review = |text: &str| {
        let games = program.file("games.pgn", text);
        program.run(&["review", &games, "--nodes", "300", "--mine"])
    };
    let noted = GAMES.replace("4. Nxd4", "4. Nxd4 (4. Bc4 Nf6 5. O-O)");
    let first = review(&noted);
    assert_eq!(first.code, 0, "{}", first.err);
    insta::assert_snapshot!(first.err.trim_end(), @"foreply: 1 of 1 kept as your attempts from memory, counted apart (`foreply progress`); the others are kept already, were changed after a review, or another player wrote them.");
    assert_eq!(review(&noted).err, first.err.replace("1 of", "0 of"));
    let better = review(&noted.replace("Nf6 5. O-O", "Nf6 5. e5"));
    assert_eq!(better.code, 0, "{}", better.err);
    let today = today();
    insta::assert_snapshot!(better.err.replace(&today, "TODAY").trim_end(), @"
    foreply: Verrick, Ansa - Pell, Doran, Harrowmere Chess League 2026.02.14: move 4, White: these notes are not those that were locked on TODAY, before the engine first spoke of them; what is new in them is not from memory
    foreply: 0 of 1 kept as your attempts from memory, counted apart (`foreply progress`); the others are kept already, were changed after a review, or another player wrote them.
    ");
    // Another position of the same game is another note.
    let more = review(&noted.replace("3. d4", "3. d4 (3. Bb5 a6)"));
    assert!(more.err.contains("1 of 2 kept"), "{}", more.err);
    assert!(!more.err.contains("locked"), "{}", more.err);
}
