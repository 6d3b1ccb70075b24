//! `foreply games moments`: from the store to drills that can be practised.

use crate::support::Program;

/// A short game with a blunder (the queen is left to the knight at move 5), and a calm one.
pub(super) const GAMES: &str = r#"[Event "Harrowmere Chess League"]
[Date "2026.02.14"]
[White "Verrick, Ansa"]
[Black "Pell, Doran"]
[Result "0-1"]
[TimeControl "3600"]

1. e4 {[%clk 0:59:50]} e5 {[%clk 0:59:50]} 2. Nf3 {[%clk 0:59:40]} Nc6 {[%clk 0:59:40]} 3. d4
{[%clk 0:59:00]} exd4 {[%clk 0:59:00]} 4. Nxd4 {[%clk 0:58:50]} Nf6 {[%clk 0:58:00]} 5. Qg4
{[%clk 0:47:50]} Nxg4 {[%clk 0:57:00]} 6. Nc3 {[%clk 0:47:00]} Nxd4 {[%clk 0:56:00]} 0-1

"#;

#[test]
fn moments_become_drills_and_tell_nothing_before_they_are_asked() {
    let program = Program::new();
    let games = program.file("games.pgn", GAMES);
    program.run(&["games", "add", &games, "--player", "Verrick"]);
    let added = program.run(&["games", "add", &games, "--player", "Ansa Verrick"]);
    assert_eq!(added.code, 0, "{}", added.err);
    let own = program.out("own.yaml");
    let own = own.to_str().unwrap();
    let quiet = program.run(&["games", "moments", "--nodes", "300", "-o", own]);
    assert_eq!(quiet.code, 0, "{}", quiet.err);
    assert!(
        !quiet.out.contains("Qg4") && !quiet.out.contains("Nxg4"),
        "{}",
        quiet.out
    );
    let yaml = std::fs::read_to_string(own).unwrap();
    assert!(
        yaml.contains("-5w\n")
            && yaml.contains("In the game you took eleven minutes and played 5.Qg4."),
        "{yaml}"
    );
    let drills = foreply::drill::load(&yaml, "own.yaml").unwrap();
    assert!(drills.iter().all(|d| d.minutes == drills[0].minutes));
    // The same names in the next run, and from the cache.
    let again = program.run(&["games", "moments", "--nodes", "300", "-o", own, "--tell"]);
    assert_eq!(std::fs::read_to_string(own).unwrap(), yaml);
    assert!(again.out.contains("Nxg4"), "{}", again.out);
    let json = program.run(&["games", "moments", "--nodes", "300", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json["format"], "foreply-moments");
    assert!(
        json["moments"]
            .as_array()
            .unwrap()
            .iter()
            .any(|m| m["played"] == "Qg4")
    );
}

#[test]
fn without_games_there_is_nothing_to_judge() {
    let ran = Program::new().run(&["games", "moments"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.err.trim_end(), @"foreply: there are no games of yours yet; add some: foreply games add FILE.pgn --player NAME");
}

/// The page of time: its charts and its numbers, and the advantage that was let slip.
#[test]
fn the_page_of_time_stands_alone() {
    let program = Program::new();
    let games = program.file("games.pgn", GAMES);
    program.run(&["games", "add", &games, "--player", "Ansa Verrick"]);
    let page = program.run(&["games", "clock", "--nodes", "300", "--format", "html"]);
    assert_eq!(page.code, 0, "{}", page.err);
    assert_eq!(page.out.matches("<svg").count(), 2, "{}", page.out);
    for part in [
        "<td>all moves</td><td class=\"n\">6</td>",
        "longest fifth",
        "</html>",
    ] {
        assert!(page.out.contains(part), "{part}: {}", page.out);
    }
    assert!(!page.out.contains("http://") || page.out.contains("http://www.w3.org"));
    let json = program.run(&["games", "clock", "--nodes", "300", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json["conversion"][0]["from"], 0.7);
}

/// A limit is for what is told now: the other positions are offered all the same.
#[test]
fn a_limit_throws_no_position_away() {
    let program = Program::new();
    let games = program.file("games.pgn", GAMES);
    program.run(&["games", "add", &games, "--player", "Verrick"]);
    let added = program.run(&["games", "add", &games, "--player", "Ansa Verrick"]);
    assert_eq!(added.code, 0, "{}", added.err);
    let path = |name| program.out(name).to_str().unwrap().to_owned();
    let (all, one) = (path("all.yaml"), path("one.yaml"));
    let moments = ["games", "moments", "--nodes", "300", "-o"];
    let ran = program.run(&[&moments[..], &[all.as_str()]].concat());
    assert_eq!(ran.code, 0, "{}", ran.err);
    let ran = program.run(&[&moments[..], &[one.as_str(), "--limit", "1"]].concat());
    assert_eq!(ran.code, 0, "{}", ran.err);
    let count = |file: &str| {
        let text = std::fs::read_to_string(file).unwrap();
        foreply::drill::load(&text, file).unwrap().len()
    };
    assert!(
        count(&all) > 1,
        "the test needs a game with several moments"
    );
    assert_eq!(count(&one), 1);
    let offered = path("offered.yaml");
    let ran = program.run(&["drills", "export", &offered]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let text = std::fs::read_to_string(&offered).unwrap();
    assert_eq!(text.matches("- id: own-").count(), count(&all));
}
