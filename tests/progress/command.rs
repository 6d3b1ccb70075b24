//! `foreply progress` as it is typed.

use super::super::support::Program;

#[test]
fn zero_attempts_say_what_will_come() {
    let program = Program::new();
    let ran = program.run(&["progress"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    insta::assert_snapshot!(program.plain(&ran.out), @"
    No reviewed attempt yet, so there is nothing to count.

    What will stand here:
     - from 10 attempts on: whether your verdicts are too hopeful or too gloomy;
     - from 20 moments of one kind on: the kinds of moves that you miss more often
       than your others, each with the moments it is made of;
     - week by week: how deep your calculation held, and where your time went;
     - after a month: the last four weeks against the twelve before;
     - from 10 games on: how often you win what you should, in play-outs and in
       your own games.
    `foreply` opens the first position.
    ");
    let json = program.run(&["progress", "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(value["format"], "foreply-progress");
    assert_eq!(
        (&value["version"], &value["attempts"]),
        (&1.into(), &0.into())
    );
    let html = program.run(&["progress", "--format", "html"]);
    assert!(html.out.starts_with("<!DOCTYPE html>") && html.out.trim_end().ends_with("</html>"));
}

#[test]
fn a_plan_is_kept_and_an_unknown_habit_is_named() {
    let program = Program::new();
    let set = program.run(&["progress", "--sittings", "3", "--habit", "backward-moves"]);
    assert_eq!(set.code, 0, "{}", set.err);
    let json = program.run(&["progress", "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(value["account"]["plan"]["habit"], "backward-moves");
    assert_eq!(value["account"]["plan"]["sittings"], 3);
    let wrong = program.run(&["progress", "--habit", "bakward"]);
    assert_eq!(wrong.code, 1);
    let start =
        "foreply: there is no habit 'bakward'; these are: own-moves, replies, half-moves-1-2,";
    assert!(wrong.err.starts_with(start), "{}", wrong.err);
}

#[test]
fn the_eve_of_a_game_offers_nothing_new() {
    let program = Program::new();
    let eve = program.run(&["progress", "--eve"]);
    assert_eq!(eve.code, 0, "{}", eve.err);
    assert!(eve.out.contains("No position is solved yet"), "{}", eve.out);
    let json = program.run(&["progress", "--eve", "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(value["format"], "foreply-eve");
    assert_eq!(value["drills"], serde_json::json!([]));
    let page = program.run(&["progress", "--eve", "--format", "html"]);
    assert_eq!(page.code, 0, "{}", page.err);
    assert!(
        page.out.contains("<h1>The eve of a game</h1>"),
        "{}",
        page.out
    );
    let nobody = program.run(&["progress", "--eve", "--against", "Nobody, N"]);
    assert_eq!((nobody.code, nobody.out.as_str()), (1, ""));
    assert!(
        nobody.err.contains("no game of 'Nobody, N'"),
        "{}",
        nobody.err
    );
}
