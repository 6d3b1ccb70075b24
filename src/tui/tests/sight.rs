//! What of the board is seen, and with which signs.

use super::rig::{Rig, desk};
use crate::app::trial::Trial;
use crate::attempt::Sight;
use crate::tui::Start;
use crate::tui::board_view::Glyphs;
use crate::tui::model::Model;

/// The board is gone while he writes, and the attempt knows it.
#[test]
fn sight_none_hides_the_board_while_writing() {
    let trial = Trial::usual();
    let mut desk = desk(&trial.app);
    desk.sight = Sight::None;
    let model = Model::new(desk, &Start::Drill("saavedra-1895".to_owned())).unwrap();
    let mut rig = Rig::with_model(model, (80, 24));
    assert!(rig.text().contains("6     K  P"), "{}", rig.text());
    rig.keys("<Enter>c7<Enter>");
    assert!(
        rig.text().contains("The board is hidden."),
        "{}",
        rig.text()
    );
    let id = trial.app.unfinished().unwrap().remove(0).id;
    let attempt = trial.app.attempt(&id).unwrap();
    assert_eq!(attempt.opened().sight, Sight::None);
}

/// The board follows the cursor where the player has asked for it.
#[test]
fn sight_follow_moves_the_board_with_the_cursor() {
    let trial = Trial::usual();
    let mut desk = desk(&trial.app);
    desk.sight = Sight::Follow;
    let model = Model::new(desk, &Start::Drill("saavedra-1895".to_owned())).unwrap();
    let mut rig = Rig::with_model(model, (80, 24));
    rig.keys("<Enter>c7<Enter>");
    assert!(rig.text().contains("7        P"), "{}", rig.text());
    rig.keys("<Left>");
    assert!(rig.text().contains("6     K  P"), "{}", rig.text());
}

/// Without colours dark squares carry a mark and chess figures tell White from Black.
#[test]
fn without_colours_everything_can_still_be_read() {
    let trial = Trial::usual();
    let mut desk = desk(&trial.app);
    desk.glyphs = Glyphs {
        ascii: false,
        plain: true,
    };
    let model = Model::new(desk, &Start::Drill("saavedra-1895".to_owned())).unwrap();
    let rig = Rig::with_model(model, (80, 24));
    let text = rig.text();
    assert!(text.contains("6     ♔  ♙  :     :     :"), "{text}");
    assert!(text.contains("5  :     :  ♜  :     :"), "{text}");
}
