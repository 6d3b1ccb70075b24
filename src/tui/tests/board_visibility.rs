//! What of the board is seen, and with which signs.

use crate::app::testing::app::Trial;
use crate::attempt::BoardVisibility;
use crate::tui::Start;
use crate::tui::router::Router;
use crate::tui::tests::harness::{Rig, context};
use crate::tui::widgets::board::Glyphs;

/// The board is gone while he writes, and the attempt knows it.
#[test]
fn sight_none_hides_the_board_while_writing() {
    let trial = Trial::usual();
    let mut ctx = context(&trial.app);
    ctx.new_attempts.sight = BoardVisibility::None;
    let router = Router::new(ctx, &Start::Drill("saavedra-1895".to_owned())).unwrap();
    let mut rig = Rig::with_router(router, (80, 24));
    assert!(rig.text().contains("6     K  P"), "{}", rig.text());
    rig.keys("<Enter>c7<Enter>");
    assert!(
        rig.text().contains("The board is hidden."),
        "{}",
        rig.text()
    );
    let id = trial.app.attempts().unfinished().unwrap().remove(0).id;
    let attempt = trial.app.attempts().attempt(&id).unwrap();
    assert_eq!(attempt.opened().sight, BoardVisibility::None);
}

/// The board follows the cursor where the player has asked for it.
#[test]
fn sight_follow_moves_the_board_with_the_cursor() {
    let trial = Trial::usual();
    let mut ctx = context(&trial.app);
    ctx.new_attempts.sight = BoardVisibility::Follow;
    let router = Router::new(ctx, &Start::Drill("saavedra-1895".to_owned())).unwrap();
    let mut rig = Rig::with_router(router, (80, 24));
    rig.keys("<Enter>c7<Enter>");
    assert!(rig.text().contains("7       [P]"), "{}", rig.text());
    rig.keys("<Left>");
    assert!(rig.text().contains("6     K  P"), "{}", rig.text());
}

/// Without colours dark squares carry a mark and chess figures tell White from Black.
#[test]
fn without_colours_everything_can_still_be_read() {
    let trial = Trial::usual();
    let mut ctx = context(&trial.app);
    ctx.display.glyphs = Glyphs {
        ascii: false,
        plain: true,
    };
    let router = Router::new(ctx, &Start::Drill("saavedra-1895".to_owned())).unwrap();
    let rig = Rig::with_router(router, (80, 24));
    let text = rig.text();
    assert!(text.contains("6     ♔  ♙  :     :     :"), "{text}");
    assert!(text.contains("5  :     :  ♜  :     :"), "{text}");
}

/// An impossible move is made by hand on the board like any other, so the board tells nothing.
#[test]
fn sight_follow_does_not_stop_before_an_impossible_move() {
    let trial = Trial::usual();
    let mut ctx = context(&trial.app);
    ctx.new_attempts.sight = BoardVisibility::Follow;
    let router = Router::new(ctx, &Start::Drill("saavedra-1895".to_owned())).unwrap();
    let mut rig = Rig::with_router(router, (80, 24));
    rig.keys("<Enter>Kb2 Rh1 Kb3<Enter>");
    assert!(rig.text().contains("3    [K]"), "{}", rig.text());
    assert!(
        rig.text().contains("1  k                    r"),
        "{}",
        rig.text()
    );
    rig.keys("<Left>");
    assert!(rig.text().contains("2     K"), "{}", rig.text());
}

/// What is seen is chosen at the first look, and the attempt knows it.
#[test]
fn sight_is_chosen_before_the_start() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    assert!(rig.text().contains("The board stays as it is"));
    rig.keys("s");
    assert!(rig.text().contains("The board follows what you write."));
    rig.keys("s");
    assert!(
        rig.text().contains("The board is hidden in 1:00"),
        "{}",
        rig.text()
    );
    trial.clock.advance(60_000);
    rig.pump();
    assert!(
        rig.text().contains("The board is hidden."),
        "{}",
        rig.text()
    );
    rig.keys("<Enter>c7<Enter>");
    let id = trial.app.attempts().unfinished().unwrap().remove(0).id;
    let attempt = trial.app.attempts().attempt(&id).unwrap();
    assert_eq!(attempt.opened().sight, BoardVisibility::None);
    assert_eq!(attempt.started_ms(), Some(60_000));
}

/// The first minute is for looking: writing opens when it is over.
#[test]
fn writing_can_be_closed_while_he_looks() {
    let trial = Trial::usual();
    let mut ctx = context(&trial.app);
    ctx.new_attempts.look_s = Some(60);
    let router = Router::new(ctx, &Start::Drill("saavedra-1895".to_owned())).unwrap();
    let mut rig = Rig::with_router(router, (80, 24));
    trial.clock.advance(15_000);
    rig.keys("<Enter>");
    assert!(
        rig.text().contains("writing opens in 0:45"),
        "{}",
        rig.text()
    );
    assert!(trial.app.attempts().unfinished().unwrap().is_empty());
    trial.clock.advance(45_000);
    rig.keys("<Enter>");
    assert!(rig.text().contains("candidate >"), "{}", rig.text());
}

/// The board is hidden while the clock stands, and the time does not count.
#[test]
fn a_pause_hides_board_and_tree() {
    let trial = Trial::usual();
    let mut rig = Rig::new(&trial.app, &Start::Home);
    rig.keys("<Enter>c7<Enter>");
    trial.clock.advance(60_000);
    rig.keys("<Ctrl-X>");
    let text = rig.text();
    assert!(text.contains("The clock stands."), "{text}");
    assert!(!text.contains("c7") && !text.contains("K  P"), "{text}");
    trial.clock.advance(600_000);
    rig.keys("<Enter>");
    assert!(rig.text().contains("7:00"), "{}", rig.text());
    rig.keys("pause<Enter><Esc>");
    assert!(rig.text().contains("The sitting is kept"), "{}", rig.text());
    assert_eq!(
        trial.app.attempts().unfinished().unwrap()[0].used_ms,
        60_000
    );
}
