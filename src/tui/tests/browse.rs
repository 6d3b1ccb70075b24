//! Home, the collection and its filters, and the tour.

use std::sync::Arc;

use crate::app::testing::app::{Counting, Trial, drill};
use crate::tui::router::Router;
use crate::tui::tests::harness::{Rig, context};
use crate::tui::{Start, Touring};

/// Four positions that differ in everything a filter asks for: the Saavedra position; two knights; the
/// start of a game; a position that is made to be played out.
fn four() -> Trial {
    let mut ladder = drill("steps", "4k3/8/8/8/8/8/4P3/4K3 b - - 0 1", "Kd7");
    ladder.themes = vec!["ladder-1".to_owned()];
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    let drills = vec![
        drill(
            "saavedra-1895",
            "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1",
            "c7 Rd6+",
        ),
        drill("knights", "4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 30", "Nbd2"),
        drill("start", start, "e4"),
        ladder,
    ];
    Trial::new(drills, Arc::new(Counting))
}

/// Numbers of the positions that are listed.
fn listed(rig: &Rig) -> Vec<usize> {
    let text = rig.text();
    let numbers = text.lines().filter_map(|line| {
        let rest = line
            .trim_start_matches(['>', ' '])
            .strip_prefix("Position ")?;
        rest.split_whitespace().next()?.parse().ok()
    });
    numbers.collect()
}

#[test]
fn the_collection_is_filtered_by_what_the_board_shows() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>c");
    insta::assert_snapshot!(rig.text(), @r"
    Positions                                                               4 in all

      1 any task  2 any phase  3 any men  4 tried or not  5 either side

    > Position 1    White to move    8 min  not tried
      Position 2    White to move    8 min  not tried
      Position 3    White to move    8 min  not tried
      Position 4    Black to move    8 min  not tried















    Enter open  0 all  n next new  x play out  F1 help  Esc back
    ");
    for (keys, numbers) in [
        ("1", vec![1, 2, 3]),
        ("1", vec![4]),
        ("0", vec![1, 2, 3, 4]),
        ("2", vec![3]),
        ("222", vec![1, 2, 3, 4]),
        ("33", vec![1]),
        ("3", vec![2]),
        ("3", vec![4]),
        ("5", vec![]),
        ("5", vec![4]),
        ("03331", vec![2]),
        ("04", vec![1, 2, 3, 4]),
        ("4", vec![]),
        ("4", vec![1, 2, 3, 4]),
    ] {
        rig.keys(keys);
        assert_eq!(listed(&rig), numbers, "{keys}:\n{}", rig.text());
    }
}

/// What was locked counts as tried, with its date and without its result.
#[test]
fn what_was_tried_is_told_by_its_date_alone() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>c7 Rd6+ Kc5 +-<Enter><F10>yl");
    rig.keys("c");
    assert!(rig.text().contains("tried 2026-11-25"), "{}", rig.text());
    rig.keys("n");
    assert!(rig.text().contains("> Position 2"), "{}", rig.text());
    rig.keys("44");
    assert_eq!(listed(&rig), [1], "{}", rig.text());
    for told in ["c7", "0.", "finding", "sound"] {
        assert!(!rig.text().contains(told), "{told}:\n{}", rig.text());
    }
}

#[test]
fn a_click_turns_a_filter_and_opens_a_position() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>")
        .click_on("4 positions")
        .click_on("4 positions");
    rig.click_on("any men").click_on("with queens");
    assert_eq!(listed(&rig), [1], "{}", rig.text());
    rig.click_on("Position 1").wait_for("Enter start");
}

/// From the collection back to the collection, with the filters as they were.
#[test]
fn a_list_that_is_seen_again_stands_as_it_was() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>c333<F1><Esc>");
    assert_eq!(listed(&rig), [2], "{}", rig.text());
}

fn toured(trial: &Trial, touring: Touring) -> Rig {
    let mut ctx = context(&trial.app);
    ctx.display.tour = touring;
    Rig::with_router(Router::new(ctx, &Start::Home).unwrap(), (80, 24))
}

#[test]
fn the_tour_goes_beside_a_sitting() {
    let trial = Trial::usual();
    let mut rig = toured(&trial, Touring::Once);
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: White to move                                                   8:00

    8                             White to move, move 1.
    7                             No castling rights are left.
    6     K  P
    5           r                 White: king, pawn
    4                             Black: king, rook
    3
    2                             You have 8 minutes from when you start (+ -).
    1  k                          The board stays as it is while you write.
       a  b  c  d  e  f  g  h
                                  Look first. Then write down every candidate move
    Tour 1 of 7 (F12 ends it)     you consider, the lines you see and how you judge
    Write down what you would     where they end. Nothing is said about it until you
    calculate at the board, then  lock it.
    see where it and the truth
    part. First look. Enter starts
    the clock.





    Enter start  + more time  f flip  s sight  x hide  F1 help  Esc leave
    ");
    rig.keys("<Enter>");
    insta::assert_snapshot!(rig.text(), @r"
    Position 1: White to move                                                   8:00

    8                            Type a candidate or a whole line (Nxe4 dxe4 Qxe4)
    7                            and Enter. Behind a move: = +/= +- or 65% judges
    6     K  P                   it, {words} comment on it.
    5           r
    4
    3
    2
    1  k
       a  b  c  d  e  f  g  h

    White to move, move 1.
    No castling rights are       Tour 2 of 7 (F12 ends it)
    left.                        Type the first move you think of, as you would
    White: king, pawn            write it on a score sheet, and press Enter.
    Black: king, rook





    candidate >
    F10 choose  Enter write  Tab candidate  F4 strike  F8 undo  F1 help  Esc leave
    ");
    for (keys, number) in [
        ("Kb7<Enter>", 3),
        ("Rd7+<Enter>", 3),
        ("=<Enter>", 3),
        ("<Enter><Enter>Kc7<Enter>", 4),
        ("<F10>", 5),
        ("<Enter>", 5),
        ("y", 6),
    ] {
        rig.keys(keys);
        let step = format!("Tour {number} of 7");
        assert!(rig.text().contains(&step), "{keys}:\n{}", rig.text());
    }
    rig.keys("<Enter>").wait_for("Tour 7 of 7");
    rig.keys("<Esc>");
    assert!(!rig.text().contains("Tour"), "{}", rig.text());
    assert!(trial.app.maintenance().has_toured());
}

#[test]
fn the_tour_is_shown_once_and_on_asking() {
    let trial = Trial::usual();
    let mut rig = toured(&trial, Touring::Once);
    rig.keys("<F12>");
    assert!(!rig.text().contains("Tour"), "{}", rig.text());
    let mut rig = toured(&trial, Touring::Once);
    assert!(!rig.text().contains("Tour"), "{}", rig.text());
    rig.keys("<F1>t");
    assert!(rig.text().contains("Tour 1 of 7"), "{}", rig.text());
    rig.keys("<Enter>Kb7<Enter><Esc>?t");
    assert!(rig.text().contains("Tour 1 of 7"), "{}", rig.text());
    let rig = toured(&trial, Touring::Now);
    assert!(rig.text().contains("Tour 1 of 7"), "{}", rig.text());
}

/// The tour hides no line of a screen at its smallest that is needed: what stands there is still there.
#[test]
fn the_tour_hides_nothing_that_is_needed() {
    let trial = Trial::usual();
    let (mut with, mut without) = (
        toured(&trial, Touring::Now),
        Rig::new(&trial.app, &Start::Home),
    );
    for keys in [
        "",
        "<Enter>",
        "Kb7 Rd7+ =<Enter>",
        "<Enter>Kc7 Rd2<Enter>",
        "<F10>",
    ] {
        let (with, without) = (with.keys(keys).text(), without.keys(keys).text());
        let told = without.split_whitespace().filter(|w| w.len() > 3);
        for word in told {
            assert!(
                with.contains(word),
                "'{word}' is hidden:\n{with}\n{without}"
            );
        }
    }
}

/// Leaving asks nothing, and happens by q alone.
#[test]
fn home_is_left_by_its_key_alone() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc><Esc><Esc>");
    assert!(!rig.router.lock().is_over());
    assert!(rig.text().starts_with("Foreply"), "{}", rig.text());
    rig.keys("q");
    assert!(rig.router.lock().is_over());
}

#[test]
fn a_position_and_its_minutes_are_given_on_the_screens() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>pnot a position<Enter>");
    assert!(rig.text().contains("position as FEN >"), "{}", rig.text());
    rig.keys("<Ctrl-U>4k3/8/8/8/8/8/4P3/4K3 w - - 0 1<Enter>");
    let text = rig.text();
    assert!(text.contains("Own position: White to move"), "{text}");
    assert!(text.contains("There is no time limit"), "{text}");
    rig.keys("++");
    assert!(rig.text().contains("You have 10 minutes"), "{}", rig.text());
    rig.keys("+--<Enter>e4<Enter>");
    let begun = trial.app.attempts().unfinished().unwrap().remove(0);
    let attempt = trial.app.attempts().attempt(&begun.id).unwrap();
    assert_eq!(attempt.opened().budget_ms, Some(300_000));
    // One step back: to where it came from.
    rig.keys("<Esc>");
    assert!(rig.text().contains("The sitting is kept"), "{}", rig.text());
}

/// Rights and all men can be read beside the smallest board.
#[test]
fn rights_and_men_are_whole_at_the_smallest_size() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Drill("start".to_owned()));
    rig.keys("<Enter>e4 e5<Enter>");
    insta::assert_snapshot!(rig.text(), @r"
    Position 3: White to move                                                   8:00

    8  r  n  b  q  k  b  n  r      1.e4 e5
    7  p  p  p  p  p  p  p  p
    6
    5
    4
    3
    2  P  P  P  P  P  P  P  P
    1  R  N  B  Q  K  B  N  R
       a  b  c  d  e  f  g  h

    White to move, move 1.
    White may castle on both
    sides; Black may castle on
    both sides.
    White: K Q 2R 2B 2N 8P
    Black: K Q 2R 2B 2N 8P




    after e4 e5 >
    F10 choose  Enter write  Tab candidate  F4 strike  F8 undo  F1 help  Esc leave
    ");
}

/// The overview counts what it hides in words: a plus would read as a verdict.
#[test]
fn the_overview_writes_no_verdict_of_its_own() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Drill("start".to_owned()));
    rig.keys("<Enter>e4 e5 Nf3 Nc6<Enter><F2>");
    assert!(rig.text().contains("1.e4 (3 more)"), "{}", rig.text());
}

/// The figures open the method, and it leads back to them.
#[test]
fn the_figures_say_how_they_are_made() {
    let trial = four();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Esc>g");
    assert!(
        rig.text().contains("Figures of all attempts"),
        "{}",
        rig.text()
    );
    rig.keys("m");
    assert!(
        rig.text().contains("Each figure has its method."),
        "{}",
        rig.text()
    );
    rig.keys("<Esc>");
    assert!(
        rig.text().contains("Figures of all attempts"),
        "{}",
        rig.text()
    );
}
