//! What must never show before the commit.

use crate::app::testing::app::Trial;
use crate::tui::router::Router;
use crate::tui::tests::harness::{Rig, context};
use crate::tui::{Start, Touring};

fn written(trial: &Trial, keys: &str) -> Rig {
    let start = Start::Drill("saavedra-1895".to_owned());
    let mut rig = Rig::new(&trial.app, &start);
    rig.keys("<Enter>").keys(keys);
    rig
}

/// A legal and an illegal move of the same form look the same: letters apart, every cell has the
/// same colours and effects, and no word is added.
#[test]
fn a_possible_and_an_impossible_move_look_alike() {
    let trial = Trial::usual();
    for (possible, impossible) in [
        ("c7 Rd6+ Kb5<Enter>", "c8 Rd1+ Kb2<Enter>"),
        ("Kb7<Enter>", "Kb2<Enter>"),
        (
            "c7 Rd2 c8=Q +-<Enter>",
            "c4 Rh2 c9=Q +-<Enter>".replace('9', "8").as_str(),
        ),
        ("Kb7<Enter><F10>=<Enter>", "Kb2<Enter><F10>=<Enter>"),
        ("Kb7<Enter><F4>", "Kb2<Enter><F4>"),
        ("Kb7 <F8>", "Kb2 <F8>"),
    ] {
        let (one, other) = (written(&trial, possible), written(&trial, impossible));
        assert_eq!(one.styles(), other.styles(), "{possible} / {impossible}");
        assert_eq!(shape(&one.text()), shape(&other.text()));
    }
}

/// Letters and digits made equal.
fn shape(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_alphanumeric() { 'x' } else { c })
        .collect()
}

/// Mate, check and an ambiguous text are not commented on either.
#[test]
fn the_text_stands_exactly_as_typed() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Drill("knights".to_owned()));
    rig.keys("<Enter>Nd2 Ke7 Ne4+ Nxh8#<Enter>");
    let text = rig.text();
    assert!(text.contains("30.Nd2 Ke7 31.Ne4+ Nxh8#"), "{text}");
}

/// Keys that lead through every screen there is before the lock, with what must be on the screen then.
const BEFORE: &[(&str, &str)] = &[
    ("", "Tour 1 of 7"),
    ("s", "The board follows"),
    ("ss<F1>", "What you type and press"),
    ("<Esc>x<Enter>", "Tour 2 of 7"),
    ("Kb7 Rd7+ Kc6 +-<Enter>", "White is winning."),
    ("<Enter>", "Tour 3 of 7"),
    ("<F2>", "Kb7"),
    ("<F2>Kb7 Rd8 {words}<Enter>", "{words}"),
    ("<F12>Kxd5 xyz<Enter>", "'xyz' is not a move"),
    ("<Esc><F4>", "[Kxd5]"),
    ("<F8><F7>", "is taken"),
    ("<Esc><Ctrl-X>", "The clock stands."),
    ("<F1>", "What you type and press"),
    ("<Esc><Enter><F1>", "What you type and press"),
    ("<Esc><Tab><F10>", "Your tree, as it will stand"),
    ("e", "Who is to move there?"),
    ("me<Enter>", "How does the material stand"),
    ("=<Enter>", "What would you do then?"),
    ("push<Enter>", "You are to move."),
    ("n", "after Kb7"),
    ("<Esc>", "go on: Position 1"),
    ("<F1>", "What you type and press"),
    ("<Esc>c", "Positions"),
    ("1", "to calculate"),
    ("02223", "ending"),
    ("<F1>", "What you type and press"),
    ("<Esc><Esc>h", "Attempts"),
    ("b", "Habits"),
    ("<Esc><Esc>", "To practise now"),
    ("<Enter><Tab><F10>", "Lock the tree"),
];

/// Title, source, theme and solution of a drill are on no screen before the lock, nor is any score.
#[test]
fn nothing_of_the_drill_is_told() {
    let trial = Trial::usual();
    let mut ctx = context(&trial.app);
    ctx.display.tour = Touring::Once;
    let mut rig = Rig::with_router(Router::new(ctx, &Start::Home).unwrap(), (80, 24));
    for (keys, there) in BEFORE {
        let text = rig.keys(keys).text();
        assert!(
            text.contains(there),
            "{keys} did not lead to '{there}':\n{text}"
        );
        assert_eq!(told(&text), None, "{keys}:\n{text}");
    }
}

/// A word of the screen that tells something: of the drill's title, source, name and themes (but not the
/// small words in them), of its solution, or a score.
fn told(text: &str) -> Option<&str> {
    const DRILL: &[&str] = &[
        "title",
        "source",
        "tell",
        "something",
        "underpromotion",
        "saavedra",
        "1895",
        "win",
        "draw",
    ];
    const SOLUTION: &[&str] = &["c7", "rd6+", "kb5", "rd5+", "rd6", "rd5"];
    let is_score = |word: &str| {
        let digits = word.trim_start_matches(['+', '-']);
        digits.contains('.') && digits.parse::<f64>().is_ok() && !digits.ends_with('.')
    };
    text.split_whitespace().find(|word| {
        let bare = word
            .trim_matches(|c: char| "()[]{}.,:;'\"".contains(c))
            .to_lowercase();
        let parts = bare.split(|c: char| !c.is_alphanumeric());
        DRILL
            .iter()
            .any(|secret| parts.clone().any(|p| p == *secret))
            || SOLUTION.contains(&bare.as_str())
            || is_score(&bare)
    })
}

/// The search itself finds what it is to find.
#[test]
fn what_would_tell_something_is_found() {
    for text in [
        "It is c7",
        "try Rd6+.",
        "0.48",
        "+1.20 there",
        "Theme: underpromotion",
        "task: win",
    ] {
        assert!(told(text).is_some(), "{text}");
    }
}

/// The board stays at the root whatever is written and wherever the cursor is.
#[test]
fn the_board_stays_at_the_root() {
    let trial = Trial::usual();
    let board = |rig: &Rig| -> Vec<String> {
        let text = rig.text();
        let rows = text.lines().skip(2).take(9);
        rows.map(|l| format!("{l:<26}").chars().take(26).collect())
            .collect()
    };
    let mut rig = written(&trial, "");
    let before = board(&rig);
    assert!(
        before[1].contains('P') || before[2].contains('P'),
        "{before:?}"
    );
    for keys in ["c7 Rd6+ Kb5<Enter>", "<Left><Left>", "<F10>", "<Esc>"] {
        rig.keys(keys);
        if !keys.contains("F10") {
            assert_eq!(board(&rig), before);
        }
    }
}

/// The same move in other words joins what is written whether it is possible or not; another form of
/// it stands apart whether it is possible or not.
#[test]
fn joining_tells_nothing() {
    let trial = Trial::usual();
    for (possible, impossible) in [
        (
            "Kb7<Enter><Enter>Kxb7+ Rd1<Enter>",
            "Kb2<Enter><Enter>Kxb2+ Rd1<Enter>",
        ),
        (
            "Kb7<Enter><Enter>Kb6b7 Rd1<Enter>",
            "Kb2<Enter><Enter>Kb6b2 Rd1<Enter>",
        ),
    ] {
        let (one, other) = (written(&trial, possible), written(&trial, impossible));
        assert_eq!(one.styles(), other.styles(), "{possible} / {impossible}");
        assert_eq!(shape(&one.text()), shape(&other.text()));
    }
}
