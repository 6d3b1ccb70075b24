//! How a finding is told: the form of its proof, what is one fact, and where it stands.

use crate::review::tests::fixture::{QUIET, reviewed, tree};
use crate::review::{FindingHeading, FindingKind, FindingStatus, Review};

fn counted(review: &Review) -> Vec<(FindingKind, &str)> {
    review
        .counted()
        .map(|f| (f.kind, f.resource.as_str()))
        .collect()
}

#[test]
fn an_offer_is_proved_by_taking_it_and_declining_comes_after() {
    let ends = [
        ("h3 h6", 0.60),
        ("h3 Bxh3 Bxh3 a5", 0.05),
        ("h3 Bxh3 a4", 0.30),
    ];
    let review = reviewed(&tree(QUIET, &["h3 h6"]), &ends);
    let finding = &review.findings[0];
    assert_eq!(finding.kind, FindingKind::MissedCounterSacrifice);
    assert_eq!(finding.proof.join(" "), "Bxh3 Bxh3 a5");
    assert_eq!(finding.declined.join(" "), "Bxh3 a4");
    insta::assert_snapshot!(finding.sentence, @"After 7.h3 you had 7...h6. He gives up a piece with 7...Bxh3. If you take: 8.Bxh3 a5. Then you are lost. If you do not take: 8.a4; he has won a pawn. Then you are clearly worse.");
    // Where the engine's own line takes, there is nothing more to tell.
    let ends = [
        ("h3 h6", 0.60),
        ("h3 Bxh3 Bxh3 a5", 0.30),
        ("h3 Bxh3 a4", 0.20),
    ];
    let taken = reviewed(&tree(QUIET, &["h3 h6"]), &ends);
    assert!(taken.findings[0].declined.is_empty());
    insta::assert_snapshot!(taken.findings[0].sentence, @"After 7.h3 you had 7...h6. He gives up a piece with 7...Bxh3: 8.Bxh3 a5. Then you are clearly worse.");
}

#[test]
fn an_offer_that_helps_nobody_who_makes_it_is_not_proved_by_taking_it() {
    // He judged too harshly: what the opponent can do best gives a piece, and taking it would be a mistake.
    let line = "h3 h6 e3";
    let ends = [
        ("h3 h6 e3 Bxh3 Bxh3 a5", 0.05),
        ("h3 h6 e3 Bxh3 a4 a5", 0.50),
        ("c4", 0.50),
    ];
    let review = reviewed(&tree(QUIET, &[&format!("{line} -+")]), &ends);
    let finding = review
        .findings
        .iter()
        .find(|f| f.resource == "Bxh3")
        .unwrap();
    assert!(finding.declined.is_empty(), "{}", finding.sentence);
    assert_eq!(finding.proof[..2], ["Bxh3", "a4"]);
    assert!(!finding.sentence.contains("If you"), "{}", finding.sentence);
}

#[test]
fn the_same_move_missed_at_two_places_is_one_finding() {
    let lines = ["h3 h6 a3 a6 =", "h3 h6 b3 b6 ="];
    let ends = [
        ("h3 h6 a3 a6", 0.5),
        ("h3 h6 b3 b6", 0.5),
        ("h3 h6 a3 e4", 0.25),
        ("h3 h6 b3 e4", 0.30),
    ];
    let review = reviewed(&tree(QUIET, &lines), &ends);
    assert_eq!(counted(&review), [(FindingKind::MissedDefence, "e4")]);
    let finding = &review.findings[0];
    assert_eq!(finding.paths[0].join(" "), "h3 h6 a3");
    assert_eq!(finding.also, [["h3", "h6", "b3"]]);
    insta::assert_snapshot!(finding.sentence, @"After 8.a3 you had 8...a6. He also has 8...e4. Then you are clearly worse. The same after 7.h3 h6 8.b3.");
}

#[test]
fn a_fear_the_choice_it_led_to_and_its_verdict_are_one_finding() {
    let ends = [("h3 h6", 0.40), ("c4 d4 e3", 0.62)];
    let review = reviewed(&tree(QUIET, &["h3 h6 =", "c4 d4 -/+"]), &ends);
    assert_eq!(counted(&review), [(FindingKind::FearedTooMuch, "e3")]);
    insta::assert_snapshot!(review.findings[0].sentence, @"You rejected 7.c4 because of 7...d4 and chose 7.h3. The answer is 8.e3. Then you are slightly better. Nothing bad happens to you. With 7.h3 you are slightly worse.");
    insta::assert_snapshot!(review.opening, @"The decisive point: 7...d4 was nothing to fear; after it you are slightly better.");
    insta::assert_snapshot!(review.findings[0].question, @"After 7...d4: what exactly happens to you?");
}

#[test]
fn nothing_bad_is_said_only_where_nothing_bad_happens() {
    let ends = [("h3 h6", 0.20), ("c4 d4 e3", 0.34)];
    let review = reviewed(&tree(QUIET, &["h3 h6 =", "c4 d4 -+"]), &ends);
    let feared = review
        .findings
        .iter()
        .find(|f| f.kind == FindingKind::FearedTooMuch);
    let sentence = &feared.unwrap().sentence;
    assert!(!sentence.contains("Nothing bad"), "{sentence}");
    insta::assert_snapshot!(sentence, @"You rejected 7.c4 because of 7...d4 and chose 7.h3. The answer is 8.e3. Then you are clearly worse. You are no worse off than after any other move. With 7.h3 you are lost.");
}

#[test]
fn a_piece_lost_on_the_chosen_line_always_counts() {
    // His own verdict is so low that the loss changes nothing of it.
    let ends = [("Bh6 d4", 0.50), ("Bh6 gxh6", 0.15), ("c4", 0.15)];
    let review = reviewed(&tree(QUIET, &["Bh6 d4 -+"]), &ends);
    assert!(
        counted(&review).contains(&(FindingKind::MissedDefence, "gxh6")),
        "{:#?}",
        review.findings
    );
    // A quiet reply that costs as much does not touch a choice he gave up himself.
    let ends = [("h3 h6", 0.50), ("h3 d4", 0.15), ("c4", 0.15)];
    let review = reviewed(&tree(QUIET, &["h3 h6 -+"]), &ends);
    assert!(!counted(&review).contains(&(FindingKind::MissedDefence, "d4")));
}

#[test]
fn what_stops_short_of_a_few_quiet_moves_is_an_opinion() {
    let line = "h3 h6 e3 a5 a3 a4";
    let told = |worth: f64, rest: &str| {
        let ends = [(format!("{line} {rest}"), worth), ("c4".to_owned(), worth)];
        let ends: Vec<(&str, f64)> = ends.iter().map(|(p, e)| (p.as_str(), *e)).collect();
        let review = reviewed(&tree(QUIET, &[&format!("{line} +-")]), &ends);
        (review.findings[0].kind, review.findings[0].class)
    };
    // The knight could be taken on the way, so something seems to come; but nothing does.
    let (quiet, taken) = ("Kh2 d4 Nxe5 Re8 Nf3 Rb8", "Kh2 d4 Nxe5 Nxe5 f4 Nc6");
    let as_kind = |class| (FindingKind::StoppedShort, class);
    assert_eq!(told(0.70, quiet), as_kind(FindingStatus::Close));
    assert_eq!(told(0.70, taken), as_kind(FindingStatus::Counted));
    // Slightly better for won is no shade.
    assert_eq!(told(0.60, quiet), as_kind(FindingStatus::Counted));
}

#[test]
fn a_win_with_a_falling_score_is_told_as_less() {
    let ends = [("h3 h6", 0.99), ("h3 d4", 0.785)];
    let review = reviewed(&tree(QUIET, &["h3 h6"]), &ends);
    insta::assert_snapshot!(review.findings[0].sentence, @"After 7.h3 you had 7...h6. He also has 7...d4. Then you are winning, but you have less than without it.");
}

#[test]
fn what_does_not_count_stands_under_its_heading() {
    let heading = |lines: &[&str], ends: &[(&str, f64)]| {
        let review = reviewed(&tree(QUIET, lines), ends);
        let mut rest = review
            .findings
            .iter()
            .filter(|f| f.class != FindingStatus::Counted);
        rest.next()
            .map(|f| (f.heading().unwrap(), f.resource.clone()))
    };
    let close = heading(&["h3 h6"], &[("h3 h6", 0.58), ("h3 d4", 0.50)]);
    assert_eq!(close, Some((FindingHeading::OnYourWay, "d4".to_owned())));
    let other = heading(
        &["h3 h6", "c4 h6"],
        &[("h3 h6", 0.60), ("c4 h6", 0.60), ("c4 d4", 0.20)],
    );
    assert_eq!(
        other,
        Some((FindingHeading::OtherCandidates, "d4".to_owned()))
    );
}

#[test]
fn the_review_opens_with_the_decisive_point() {
    let opening =
        |lines: &[&str], ends: &[(&str, f64)]| reviewed(&tree(QUIET, lines), ends).opening;
    insta::assert_snapshot!(opening(&["h3 h6"], &[("h3 h6", 0.60), ("h3 d4", 0.40)]), @"The decisive point: after 7.h3 he has 7...d4; with it you are slightly worse, without it you are slightly better.");
    insta::assert_snapshot!(opening(&["h3 h6"], &[("c4", 0.62), ("h3 h6", 0.40)]), @"The decisive point: 7.c4 was not on your list; with 7.c4 you are slightly better, with 7.h3 you are slightly worse.");
    insta::assert_snapshot!(opening(&["h3 h6", "c4 d4"], &[("h3 h6", 0.40), ("c4 d4", 0.60)]), @"The decisive point: the choice between 7.c4 and 7.h3; with 7.c4 you are slightly better, with 7.h3 you are slightly worse.");
    insta::assert_snapshot!(opening(&["h3 h6 e3 40%"], &[("h3 h6 e3", 0.40), ("h3 h6 c4", 0.60)]), @"The decisive point: after 7.h3 h6 you have 8.c4; with it you are slightly better, without it you are slightly worse.");
    insta::assert_snapshot!(opening(&["h3 h6 e3 +-"], &[("h3 h6 e3 a5", 0.45), ("c4", 0.45)]), @"The decisive point: after 7.h3 h6 8.e3 he has 8...a5; you judged: you are winning; in truth the position is level.");
    insta::assert_snapshot!(opening(&["h3 h6 ="], &[("h3 h6", 0.5)]), @"Your tree holds.");
}
