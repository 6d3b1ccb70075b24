//! Blind spots with their moments, and the list of causes.

use crate::app::testing::app::Trial;
use crate::progress::Moment;
use crate::tui::Start;
use crate::tui::tests::harness::Rig;

fn reviewed(trial: &Trial) -> Rig {
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>Ka7 Rd7+ Kb8 +-<Enter><F10>y<Enter>")
        .wait_for("Depth in half-moves");
    rig
}

fn moment(path: &[&str], resource: &str) -> Moment {
    Moment {
        path: path.iter().map(|m| (*m).to_owned()).collect(),
        resource: resource.to_owned(),
    }
}

#[test]
fn a_blind_spot_opens_its_moments() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial);
    let (id, _) = trial.app.attempts().history().unwrap().remove(0);
    trial.plant_blind_spot(&id, moment(&["Ka7", "Rd7+"], "Kb8"));
    rig.keys("<Esc>").wait_for("To practise now");
    rig.keys("hb");
    insta::assert_snapshot!(rig.text().trim_end(), @r"
Habits                                                                   1 found

  Moves backward: 41 of 41 missed (91-100 %), your others of that depth and
  kind 0 of 41; 94 to 100 points more.
  Before you decide, look once more for moves backward.


> Moves backward:
    2026-11-25  Position 1: Kb8 after Ka7 Rd7+














Enter open  g figures  F1 help  Esc back
");
    rig.keys("<Enter><Enter>").wait_for("Not seen here: Kb8");
    rig.wait_for("No finding was made of it");
    let text = rig.text();
    assert!(text.contains("after Rd7+: White to move"), "{text}");
    assert!(text.contains("> the truth  1.Ka7 Rd7+ 2.[Kb8]"), "{text}");
    rig.keys("n");
    assert!(rig.text().contains("1 of "), "{}", rig.text());
    rig.keys("<Esc>");
    assert!(rig.text().contains("Habits"), "{}", rig.text());
}

/// A moment that a finding tells of opens as that finding.
#[test]
fn a_moment_that_became_a_finding_opens_as_the_finding() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial);
    let (id, _) = trial.app.attempts().history().unwrap().remove(0);
    let review = trial.app.reviews().review(&id, &mut |_, _| {}).unwrap();
    let finding = review.findings.last().unwrap();
    let path = finding.paths[0].iter().map(String::as_str);
    trial.plant_blind_spot(&id, moment(&path.collect::<Vec<_>>(), &finding.resource));
    rig.keys("<Esc>").wait_for("To practise now");
    rig.keys("hb<Enter><Enter>");
    let number = format!("{0} of {0}", review.findings.len());
    rig.wait_for(&number);
}

#[test]
fn causes_are_taken_off_the_list_and_reworded() {
    let trial = Trial::usual();
    let mut rig = reviewed(&trial);
    rig.keys("nw1<Enter>");
    let offered = trial.app.causes().all().unwrap();
    rig.keys("wd");
    assert!(
        rig.text().contains("Which one goes from your list?"),
        "{}",
        rig.text()
    );
    rig.keys("1");
    assert!(rig.text().contains("is off your list"), "{}", rig.text());
    assert_eq!(trial.app.causes().all().unwrap(), offered[1..]);
    // What was explained with it keeps it.
    rig.keys("<Esc>");
    assert!(rig.text().contains(&offered[0]), "{}", rig.text());
    rig.keys("we1<Ctrl-U>stopped too soon<Enter><Esc>");
    assert_eq!(trial.app.causes().all().unwrap()[0], "stopped too soon");
    assert!(!trial.app.causes().all().unwrap().contains(&offered[1]));
}

/// On the eve of a game nothing is new: what he solved stands in the place of the offers until he asks for them.
#[test]
fn the_eve_of_a_game_shows_what_was_solved() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>e");
    assert!(
        rig.text().contains("No position is solved yet"),
        "{}",
        rig.text()
    );
    let subject = crate::app::Subject::Drill("knights".to_owned());
    let mut sitting = trial
        .app
        .attempts()
        .open_sitting(&subject, None, crate::attempt::BoardVisibility::Root)
        .unwrap();
    sitting.start().unwrap();
    let root = crate::tree::NodeId::ROOT;
    let line = ["Nbd2", "Kd7"].map(|m| crate::app::EntryToken::Move(m.to_owned()));
    sitting.write(root, &line).unwrap();
    let first = sitting.tree().children(root)[0];
    sitting.choose(first).unwrap();
    sitting.lock().unwrap();
    trial
        .app
        .reviews()
        .review(sitting.id(), &mut |_, _| {})
        .unwrap();
    trial.clock.advance(86_400_000);
    let mut rig = Rig::new(&trial.app, &Start::Home);
    assert!(
        !rig.text().contains("Position 2: White to move"),
        "{}",
        rig.text()
    );
    rig.keys("e");
    let text = rig.text();
    assert!(
        text.contains("For the eve of a game: solved before"),
        "{text}"
    );
    assert!(text.contains("Position 2"), "{text}");
    assert!(!text.contains("Position 1"), "{text}");
    rig.keys("+");
    assert!(rig.text().contains("Position 1"), "{}", rig.text());
}
