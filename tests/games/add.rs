//! `foreply games add`: what goes in, what is refused and why, and whose games they are.

use crate::support::Program;

use super::SEASON;

/// A game with the tags that matter here.
fn game(white: &str, black: &str, date: &str, moves: &str) -> String {
    format!(
        "[Event \"Harrowmere Chess League\"]\n[Date \"{date}\"]\n[White \"{white}\"]\n[Black \"{black}\"]\n[Result \"*\"]\n\n{moves} *\n\n"
    )
}

fn add(program: &Program, text: &str, more: &[&str]) -> (i32, String, String) {
    let file = program.file("games.pgn", text);
    let args: Vec<&str> = ["games", "add", file.as_str()]
        .into_iter()
        .chain(more.iter().copied())
        .collect();
    let ran = program.run(&args);
    (ran.code, program.plain(&ran.out), program.plain(&ran.err))
}

const ANSA: [&str; 2] = ["--player", "Ansa Verrick"];

#[test]
fn the_same_game_twice_is_one_game() {
    let program = Program::new();
    let first = program.run(&["games", "add", SEASON, "--player", "Ansa Verrick"]);
    assert_eq!(first.code, 0, "{}", first.err);
    insta::assert_snapshot!(first.out.trim_end(), @"
    12 games read: twelve new of yours.
    5 games with variations of yours.
    What you wrote at 13 moves is now attempts from memory, locked and counted apart; `foreply review last` reviews the last of them.
    ");
    let again = program.run(&["games", "add", SEASON]);
    assert_eq!(again.code, 0);
    insta::assert_snapshot!(again.out.trim_end(), @"12 games read: no new of yours, twelve there already.");
}

#[test]
fn the_longer_version_of_a_game_takes_the_place_of_the_shorter() {
    let program = Program::new();
    let short = game(
        "Verrick, Ansa",
        "Pell, Doran",
        "2026.??.??",
        "1. e4 e5 2. Nf3",
    );
    let long = game(
        "VERRICK Ansa",
        "Doran Pell",
        "2026.02.14",
        "1. e4 e5 2. Nf3 Nc6 3. Bb5",
    );
    let other = game(
        "Verrick, Ansa",
        "Pell, Doran",
        "2026.02.15",
        "1. e4 e5 2. Nf3",
    );
    assert_eq!(add(&program, &short, &ANSA).0, 0);
    let (_, out, _) = add(&program, &format!("{long}{other}{short}"), &[]);
    insta::assert_snapshot!(out, @"
    3 games read: one new of yours, one there already, one there with less, now replaced.
    No clock times in them: all that is about time will be missing.
    ");
}

#[test]
fn a_bad_game_is_refused_and_the_rest_goes_in() {
    let program = Program::new();
    let bad = game(
        "Verrick, Ansa",
        "Pell, Doran",
        "2026.02.14",
        "1. e4 e5\n2. Ke3 Nc6",
    );
    let unclosed = game(
        "Pell, Doran",
        "Verrick, Ansa",
        "2026.02.15",
        "1. e4 (1. d4 e5",
    );
    let good = game(
        "Verrick, Ansa",
        "Pell, Doran",
        "2026.02.16",
        "1. e4 e5 2. Nf3",
    );
    let nul = game("Verrick, Ansa", "Pell, Doran", "2026.02.17", "1. e4 \0 e5");
    let of_others = game("Pell, Doran", "Quillan, Tove", "2026.02.14", "1. e4 Zz9");
    let (code, out, err) = add(
        &program,
        &format!("{bad}{unclosed}{good}{nul}{of_others}"),
        &ANSA,
    );
    assert_eq!(code, 1);
    insta::assert_snapshot!(out, @"
    5 games read: one new of yours, one of other players, three refused.
    No clock times in them: all that is about time will be missing.
    ");
    insta::assert_snapshot!(err, @"
    foreply: HOME/games.pgn: line 8, column 4 (game 1): 'Ke3': not legal here: the king on e1 does not move like that
    foreply: HOME/games.pgn: line 18, column 1 (game 2): '(': the variation of line 7, column 7 is not closed
    foreply: HOME/games.pgn: line 32, column 7 (game 4): '�': '�' does not begin a move; a piece letter (K Q R B N), a square or O-O does
    ");
}

#[test]
fn an_impossible_move_in_a_variation_is_kept_and_explained() {
    let program = Program::new();
    let text = game(
        "Verrick, Ansa",
        "Pell, Doran",
        "2026.02.14",
        "1. e4 e5 2. Nf3 Nc6 (2... d6 3. Nxe6 {a fork}) 3. Bb5",
    );
    let (code, out, _) = add(&program, &text, &ANSA);
    assert_eq!(code, 0);
    insta::assert_snapshot!(out, @"
    1 game read: one new of yours.
    No clock times in them: all that is about time will be missing.
    1 game with variations of yours.
    line 7, column 33 (game 1): 'Nxe6' in a variation is not possible: the knight on f3 does not move like that; it is kept as you wrote it
    ");
}

#[test]
fn a_player_who_does_not_say_who_he_is_sees_the_names() {
    let program = Program::new();
    let text = game("Verrick, Ansa", "Pell, Doran", "2026.02.14", "1. e4")
        + &game("Quillan, Tove", "Verrick, Ansa", "2026.02.15", "1. e4");
    let (code, _, err) = add(&program, &text, &[]);
    assert_eq!(code, 2);
    insta::assert_snapshot!(err, @"
    foreply: whose games are they? Say it once with --player NAME; the names in the file:
      Verrick, Ansa (2 games)
      Pell, Doran (1 game)
      Quillan, Tove (1 game)
    ");
    let (code, _, err) = add(&program, &text, &["--player", "Bram Oskarn"]);
    assert_eq!(code, 1);
    insta::assert_snapshot!(err, @"
    foreply: HOME/games.pgn: no game of yours in 2 games; the names in the file:
      Verrick, Ansa (2 games)
      Pell, Doran (1 game)
      Quillan, Tove (1 game)
    ");
}

#[test]
fn a_name_that_is_not_sure_is_asked_and_remembered() {
    let program = Program::new();
    let text = game("Verrick, A.", "Pell, Doran", "2026.02.14", "1. e4")
        + &game("Quillan, Tove", "Verrick, Ansa", "2026.02.15", "1. e4");
    let (code, out, err) = add(&program, &text, &ANSA);
    assert_eq!(code, 1);
    insta::assert_snapshot!(out, @"
    2 games read: one new of yours.
    No clock times in them: all that is about time will be missing.
    ");
    insta::assert_snapshot!(err, @r#"foreply: HOME/games.pgn: is 'Verrick, A.' you (1 game)? Add the file again with --also "Verrick, A." or --not "Verrick, A.""#);
    let (code, out, err) = add(&program, &text, &["--also", "A. Verrick"]);
    assert_eq!((code, err.as_str()), (0, ""));
    insta::assert_snapshot!(out, @"
    2 games read: one new of yours, one there already.
    No clock times in them: all that is about time will be missing.
    ");
    let third = game("Verrick, A", "Pell, Doran", "2026.03.14", "1. c4");
    assert_eq!(add(&program, &third, &[]).0, 0);
    let other = Program::new();
    let (code, out, _) = add(
        &other,
        &text,
        &["--player", "Ansa Verrick", "--not", "Verrick, A."],
    );
    assert_eq!(code, 0, "{out}");
}

#[test]
fn the_games_of_another_player_need_another_home() {
    let program = Program::new();
    let text = game("Verrick, Ansa", "Pell, Doran", "2026.02.14", "1. e4");
    assert_eq!(add(&program, &text, &ANSA).0, 0);
    let (code, _, err) = add(&program, &text, &["--player", "Doran Pell"]);
    assert_eq!(code, 1);
    insta::assert_snapshot!(err, @"foreply: the store holds the games of Ansa Verrick; add those of another player with --home DIR, or this spelling with --also NAME");
}

/// Nesting of ten thousand, a comment without end, and the other things that a file may hold: the game
/// behind them goes in, quickly and in bounded memory.
#[test]
fn hostile_files() {
    let good = game(
        "Verrick, Ansa",
        "Pell, Doran",
        "2026.02.16",
        "1. e4 e5 2. Nf3",
    );
    let tags = "[White \"Verrick, Ansa\"]\n[Black \"Pell, Doran\"]\n\n";
    let nested = format!("1. e4 {}{}", "(1. d4 ".repeat(10_000), ")".repeat(10_000));
    let cases = [
        (format!("{tags}{nested} *\n\n"), "nested at most"),
        (
            format!("{tags}1. e4 {{{}\n", "x".repeat(300_000)),
            "not closed within",
        ),
        (format!("{tags}1. e4 {{ oh\n"), "not closed"),
        (
            format!("{tags}{}\n", "e4 ".repeat(2_000_000)),
            "at most 4 MiB",
        ),
        (
            format!("{tags}\u{1b}[2J\u{202E} *\n"),
            "does not begin a move",
        ),
        (format!("{tags}1. e4 $999 *\n"), "glyph"),
    ];
    for (bad, why) in cases {
        let program = Program::new();
        let (code, out, err) = add(&program, &format!("{bad}{good}"), &ANSA);
        assert_eq!(code, 1, "{why}");
        assert!(out.contains("one new of yours"), "{why}: {out}{err}");
        assert!(err.contains(why), "{why}: {err}");
        assert!(!err.contains('\u{1b}') && err.len() < 1000, "{why}");
    }
}

#[test]
fn what_is_no_pgn_at_all() {
    let program = Program::new();
    for text in ["", "\n\n", "hello\n", "\0\0\0", "[White \"Verrick, Ansa\"]"] {
        let (code, out, err) = add(&program, text, &ANSA);
        assert!(
            code == 1 || out.contains("without a move"),
            "{text:?}: {out}{err}"
        );
    }
    let missing = program.run(&["games", "add", "missing.pgn", "--player", "x"]);
    assert_eq!(missing.code, 1);
    insta::assert_snapshot!(missing.err.trim_end(), @"foreply: missing.pgn: No such file or directory (os error 2); give a PGN file, or - for standard input");
}

#[test]
fn bytes_of_every_kind_are_read() {
    let text = game(
        "Quillan, Tové",
        "Verrick, Ansa",
        "2026.02.14",
        "1. e4 {déjà vu} e5",
    );
    let latin: Vec<u8> = text
        .chars()
        .map(|c| u8::try_from(c as u32).unwrap())
        .collect();
    let marked = [b"\xEF\xBB\xBF".as_slice(), text.as_bytes()].concat();
    for bytes in [
        text.clone().into_bytes(),
        latin,
        marked,
        text.replace('\n', "\r\n").into_bytes(),
        text.replace('\n', "\r").into_bytes(),
    ] {
        let program = Program::new();
        let path = program.home.path().join("bytes.pgn");
        std::fs::write(&path, bytes).unwrap();
        let ran = program.run(&[
            "games",
            "add",
            path.to_str().unwrap(),
            "--player",
            "Ansa Verrick",
        ]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        assert!(
            ran.out.starts_with("1 game read: one new of yours."),
            "{}",
            ran.out
        );
    }
}
