//! A home that the program made before names and steps in the store were reworked (tests/data/home-first.tar.gz, with
//! what that program printed of it in `expected`): it opens, loses nothing, and says the same.
//!
//! It was made by the program itself at the end of November 2026: a study and a game position, reviewed with 2,000
//! nodes; causes from the list and in the player's own words, a note, a strike, a line against a finding; a coach's file
//! taken in that overrules a finding; a sitting that goes on; two games of the demo season with notes; homework
//! notes; a game played out and one adjourned; a month's plan, a plan card, an added drill.

use std::path::Path;
use std::process::Command;

use crate::support::{Program, left_out};

/// The attempt at the study, and one from memory.
const STUDY: &str = "1795940686881-0000";
const NOTE: &str = "1795940687662-0001";

struct Fixture {
    program: Program,
    folder: tempfile::TempDir,
}

impl Fixture {
    /// `None`, and said so, where there is no `tar`.
    fn unpacked() -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/home-first.tar.gz");
        let unpacked = Command::new("tar")
            .args(["xzf", file, "-C"])
            .arg(folder.path())
            .status();
        match unpacked {
            Ok(status) => assert!(status.success()),
            Err(_) => {
                left_out("there is no tar to unpack the old home with");
                return None;
            }
        }
        let program = Program::new();
        let home = folder.path().join("home");
        copy(&home, program.home.path());
        Some(Self { program, folder })
    }

    fn expected(&self, name: &str) -> String {
        std::fs::read_to_string(self.folder.path().join("expected").join(name)).unwrap()
    }

    fn out(&self, args: &[&str]) -> String {
        let ran = self.program.run(args);
        assert_eq!(ran.code, 0, "{args:?}: {}", ran.err);
        ran.out
    }

    /// An attempt as it goes to a coach.
    fn sent(&self, id: &str) -> String {
        let file = self.folder.path().join("sent.pgn");
        self.out(&["coach", "send", id, "-o", file.to_str().unwrap()]);
        std::fs::read_to_string(file).unwrap()
    }

    fn journal(&self) -> Vec<String> {
        let text = std::fs::read_to_string(self.program.home.path().join("journal")).unwrap();
        text.lines().skip(1).map(str::to_owned).collect()
    }
}

fn copy(from: &Path, to: &Path) {
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            std::fs::create_dir_all(&target).unwrap();
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), &target).unwrap();
        }
    }
}

#[test]
fn it_opens_and_says_the_same() {
    let Some(fixture) = Fixture::unpacked() else {
        return;
    };
    let before = fixture.journal();
    assert_eq!(fixture.sent(STUDY), fixture.expected("study.pgn"));
    // When a note was written nobody knows: the first program put the day on which it was read, and 0:00 at each move.
    let game = fixture.expected("game.pgn");
    let day = game.lines().find(|l| l.starts_with("[Date ")).unwrap();
    let game = game.replace(day, "[Date \"????.??.??\"]");
    let sent = fixture.sent(NOTE);
    let (before_it, _) = game.split_once("{Time used: 0:00.}").unwrap();
    let written = sent.strip_prefix(before_it).unwrap();
    assert_eq!(
        written.split_whitespace().collect::<Vec<_>>().join(" "),
        "34... Kb7 (34... Kd7 35. Nh4 Nd5 36. dxe5 $19) 35. Nh4 exd4 $16 *"
    );
    assert_eq!(
        fixture.out(&["playout", "--list"]),
        fixture.expected("playouts.txt")
    );
    let plans = fixture.out(&["games", "plan", "--least", "1"]);
    assert_eq!(plans, fixture.expected("plans.txt"));
    // What stood there stands there still, letter for letter: no record is written anew.
    let after = fixture.journal();
    assert_eq!(after[..before.len()], before);
}

/// What is kept under a name of a finding, a cause or a position finds it again.
#[test]
fn names_of_the_first_program_are_known() {
    let Some(fixture) = Fixture::unpacked() else {
        return;
    };
    let review: serde_json::Value =
        serde_json::from_str(&fixture.out(&["review", STUDY, "--format", "json"])).unwrap();
    let findings = review["attempts"][0]["findings"]
        .as_array()
        .unwrap()
        .clone();
    let struck: Vec<&serde_json::Value> = findings
        .iter()
        .filter(|f| f["class"] == "overruled")
        .collect();
    assert_eq!(
        struck.len(),
        1,
        "the coach's strike is known: {findings:#?}"
    );
    assert_eq!(struck[0]["kind"], "missed-counter-sacrifice");
    let progress = fixture.out(&["progress", "--format", "json"]);
    let progress: serde_json::Value = serde_json::from_str(&progress).unwrap();
    let text = progress.to_string();
    assert!(
        text.contains("did not look for his best reply"),
        "a cause: {text}"
    );
    assert!(
        text.contains("replies-that-give-up"),
        "the month's habit: {text}"
    );
    // The sitting that was begun goes on where it stood.
    let ran = fixture.program.run(&["practice", "--plain"]);
    assert!(
        ran.out.contains("1.e4 e5 2.Nf3") || ran.out.contains("e4 e5 Nf3"),
        "{}",
        ran.out
    );
    // His own games and the drill that he added.
    let drills = fixture.out(&["drills", "list", "--own"]);
    assert!(drills.contains("for-tuesday"), "{drills}");
    let games = fixture.out(&["games", "openings"]);
    assert!(games.contains("With White: 1 game"), "{games}");
}
