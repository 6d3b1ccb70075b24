//! What must never show before the commit.

use super::rig::Rig;
use crate::app::trial::Trial;
use crate::tui::Start;

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

/// Title, source, theme and solution of a drill are nowhere before the lock.
#[test]
fn nothing_of_the_drill_is_told() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    let mut seen = rig.text();
    for keys in [
        "<Enter>",
        "c7 Rd6+ Kb5 +-<Enter>",
        "<F2>",
        "<F1>",
        "<Esc><F10>",
        "<Esc><Esc>",
    ] {
        seen.push_str(&rig.keys(keys).text());
    }
    for secret in [
        "title",
        "source",
        "tell",
        "underpromotion",
        "Saavedra",
        "saavedra",
        "win",
    ] {
        let found = seen
            .lines()
            .find(|l| l.split(|c: char| !c.is_alphanumeric()).any(|w| w == secret));
        assert_eq!(found, None, "'{secret}' is told");
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
