//! A coach at the player's own screens: a file for him, and his word on a finding.

use crate::app::testing::app::Trial;
use crate::app::{AnswerTerms, CoachAnswer, LetterTerms};
use crate::review::{FindingStatus, Review};
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

fn reviewed(trial: &Trial) -> Rig {
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>Ka7 Rd7+ Kb8 +-<Enter><F10>y<Enter>")
        .wait_for("Depth in half-moves");
    rig
}

fn review(trial: &Trial) -> Review {
    let (id, _) = trial.app.attempts().history().unwrap().remove(0);
    trial.app.reviews().review(&id, &mut |_, _| {}).unwrap()
}

/// In a column of forty a row is cut; what is marked is then told whole below the list.
#[test]
fn what_a_coach_has_set_is_told_whole() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial);
    let (id, _) = trial.app.attempts().history().unwrap().remove(0);
    let coach = trial.app.coach();
    let letter = coach
        .letter(&id, LetterTerms::default(), &mut |_, _| {})
        .unwrap();
    let pgn = letter.pgn.clone();
    coach.sent(letter).unwrap();
    let set = "{Homework by 2031-12-05: look for every check before you count the men.} *\n";
    let answer = pgn.trim_end().trim_end_matches('*').to_owned() + set;
    let terms = AnswerTerms {
        by: Some("Bram Oskarn"),
        to: None,
    };
    match coach
        .reader()
        .read(answer.as_bytes(), terms)
        .unwrap()
        .remove(0)
    {
        CoachAnswer::Taken(taken) => {
            coach.keep_taken(&taken).unwrap();
        }
        other => panic!("{other:?}"),
    }
    rig.keys("<Esc>");
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>");
    let text = rig.text();
    assert!(text.contains("Homework"), "{text}");
    let words: Vec<&str> = text.split_whitespace().collect();
    let all = words.join(" ");
    assert!(
        all.contains("count the men") && all.contains("(Bram Oskarn)"),
        "{text}"
    );
    // What it is called before it is solved says from whom it is, and nothing of what is in it.
    let mut rig = Rig::new(&trial.app, &Start::Homework);
    let text = rig.keys("").text();
    let title = text.lines().next().unwrap_or_default();
    assert!(
        title.starts_with("Homework from Bram Oskarn: Black to move"),
        "{text}"
    );
    assert!(!text.contains("Own position"), "{text}");
}

#[test]
fn a_coach_strikes_a_finding_and_lets_it_stand_again() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial);
    let before = review(&trial);
    rig.keys("n");
    assert!(rig.text().contains("1 of "), "{}", rig.text());
    // Without a name nothing is struck, and the way to say it is told.
    rig.keys("Kdrawn anyway<Enter>");
    assert!(rig.text().contains("a colon, and why"), "{}", rig.text());
    assert_eq!(review(&trial), before);
    rig.keys("Bram Oskarn: drawn anyway<Enter>")
        .wait_for("Depth in half-moves");
    let struck = review(&trial);
    let of_coach = struck
        .findings
        .iter()
        .filter(|f| f.class == FindingStatus::Overruled);
    assert_eq!(of_coach.count(), 1);
    let (id, summary) = trial.app.attempts().history().unwrap().remove(0);
    let attempt = trial.app.attempts().attempt(&id).unwrap();
    let ruling = &attempt.coached().unwrap().overruled()[0];
    assert_eq!(
        (ruling.by.as_str(), ruling.reason.as_str()),
        ("Bram Oskarn", "drawn anyway")
    );
    assert!(
        summary.reviewed.is_some(),
        "the history has the new figures"
    );
    // What he said comes first; what he struck stands behind the other findings now.
    rig.keys("n");
    let text = rig.text();
    assert!(text.contains("Your coach, 1 of 1"), "{text}");
    assert!(text.contains("Bram Oskarn struck a finding"), "{text}");
    assert!(text.contains("drawn anyway"), "{text}");
    for _ in 0..struck.findings.len() {
        rig.keys("n");
    }
    assert!(
        rig.text().contains("struck by your coach"),
        "{}",
        rig.text()
    );
    rig.keys("K").wait_for("Depth in half-moves");
    assert_eq!(review(&trial), before);
}

#[test]
fn the_history_writes_a_file_for_the_coach() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial);
    rig.keys("<Esc>h");
    rig.keys("c");
    assert!(
        rig.text().contains("Written without its review"),
        "{}",
        rig.text()
    );
    let (id, _) = trial.app.attempts().history().unwrap().remove(0);
    let file = trial.home().join(format!("for-coach/{id}.pgn"));
    let pgn = std::fs::read_to_string(file).unwrap();
    assert!(pgn.contains("Ka7") && !pgn.contains("Overruled"), "{pgn}");
}
