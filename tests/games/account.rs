//! `foreply games account`, `prepare` and `opponent`, as a player meets them.

use super::plain;
use crate::support::Program;

use super::SEASON;
use super::moments::GAMES;

#[test]
fn one_game_on_a_page() {
    let program = Program::new();
    program.ok(&["games", "add", SEASON, "--player", "Verrick, Ansa"]);
    let lines = program.file(
        "against the french.pgn",
        "1. e4 e6 2. d4 d5 3. e5 c5 4. c3 Nc6 5. Nf3 Bd7 *",
    );
    let kept = program.ok(&["games", "prepare", &lines, "--side", "black"]);
    assert!(
        kept.contains("1 line is kept as 'against-the-french'"),
        "{kept}"
    );
    const ACCOUNT: [&str; 5] = ["games", "account", "2026.02.07", "--nodes", "2000"];
    let told = |more: &[&str]| program.ok(&[&ACCOUNT, more].concat());
    let account = plain(&told(&[]));
    for words in [
        "The course: your win, draw and loss, of a hundred such games",
        "Preparation Your preparation ended before 6.Nbd2.",
        "For your next three moves you took",
        "Opening and structures Up to move 5 as in",
        "Time Your longest think was",
    ] {
        assert!(account.contains(words), "{words}: {account}");
    }
    let json = told(&["--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["format"], "foreply-game-account");
    let moves = json["account"]["moves"].as_array().unwrap();
    assert_eq!(moves.len(), 92);
    for mv in moves {
        let shares = ["win", "draw", "loss"].map(|s| mv["shares"][s].as_f64().unwrap());
        assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-6, "{mv}");
    }
    let page = program.out("game.html");
    told(&["--format", "html", "-o", page.to_str().unwrap()]);
    let page = std::fs::read_to_string(page).unwrap();
    assert!(
        page.contains("<h2>The course</h2>") && page.matches("<svg").count() == 2,
        "{page}"
    );
    program.ok(&["games", "prepare", "--remove", "against-the-french"]);
    let none = program.run(&["games", "prepare", "--remove", "against-the-french"]);
    assert_eq!(none.code, 1);
    assert!(
        none.err.contains("no prepared lines are kept as"),
        "{}",
        none.err
    );
}

/// Half a game, a result that contradicts mate, no clock: one sentence each, and nothing refused.
#[test]
fn what_is_odd_about_a_game_is_told() {
    let program = Program::new();
    let mate = "[Event \"Harrowmere\"]\n[Date \"2026.01.02\"]\n[White \"Verrick, Ansa\"]\n[Black \"Pell, Doran\"]\n\
                [Result \"1-0\"]\n\n1. f3 e5 2. g4 Qh4# 1-0\n\n";
    let half = "[Event \"Harrowmere\"]\n[Date \"2026.01.03\"]\n[White \"Pell, Doran\"]\n[Black \"Verrick, Ansa\"]\n\n\
                1. e4 e5 2. Nf3 *\n";
    let games = program.file("odd.pgn", &format!("{mate}{half}"));
    program.ok(&["games", "add", &games, "--player", "Verrick, Ansa"]);
    let account = plain(&program.ok(&["games", "account", "2026.01.02", "--nodes", "300"]));
    assert!(
        account.contains("The result says 1-0, the board says 0-1 (checkmate)"),
        "{account}"
    );
    let account = plain(&program.ok(&["games", "account", "last", "--nodes", "300"]));
    assert!(account.contains("No result is written down"), "{account}");
    assert!(
        account.contains("Only three half-moves are written down"),
        "{account}"
    );
    assert!(account.contains("No clock times in it"), "{account}");
}

#[test]
fn an_account_waits_for_his_own_thoughts() {
    let program = Program::new();
    let games = program.file("games.pgn", GAMES);
    program.ok(&["games", "add", &games, "--player", "Ansa Verrick"]);
    program.ok(&["games", "recall", "--mark", "5"]);
    let held = program.run(&["games", "account", "--nodes", "300"]);
    assert_eq!((held.code, held.out.as_str()), (1, ""));
    assert!(
        held.err.contains("your own thoughts on it are begun"),
        "{}",
        held.err
    );
    program.ok(&["games", "recall", "--lock"]);
    let account = plain(&program.ok(&["games", "account", "--nodes", "2000"]));
    assert!(
        account.contains("Before the judge spoke you named 1 of 1 turning point"),
        "{account}"
    );
}

#[test]
fn the_opponent_is_told_in_counts() {
    let program = Program::new();
    program.ok(&["games", "add", SEASON, "--player", "Verrick, Ansa"]);
    let other = program.file(
        "league.pgn",
        "[Date \"2026.03.01\"]\n[White \"Pell, Doran\"]\n[Black \"Wick, Halvar\"]\n[Result \"1/2-1/2\"]\n\n1. e4 e5 1/2-1/2\n",
    );
    let facts = program.ok(&["games", "opponent", "Doran Pell", "--games", &other]);
    assert!(
        facts.contains("Doran Pell: 2 games with White, 1 with Black"),
        "{facts}"
    );
    assert!(facts.contains("1.e4 once"), "{facts}");
    let eve = program.ok(&["progress", "--eve", "--against", "Pell, Doran"]);
    assert!(eve.contains("1 game with White, 1 with Black"), "{eve}");
    let html = program.ok(&["games", "opponent", "Pell, Doran", "--format", "html"]);
    assert!(html.contains("Only counts, no advice"), "{html}");
    // His family name is enough where it is the only one.
    let short = program.ok(&["games", "opponent", "pell"]);
    assert!(short.contains("Pell, Doran"), "{short}");
    let none = program.run(&["games", "opponent", "Nobody"]);
    assert_eq!((none.code, none.out.as_str()), (1, ""));
}
