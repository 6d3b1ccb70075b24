//! Piece letters of other languages on the screens.

use crate::app::testing::app::Trial;
use crate::notation::Letters;
use crate::tui::Start;
use crate::tui::router::Router;
use crate::tui::tests::harness::{Rig, context};
use crate::tui::widgets::canvas::{Canvas, TextStyle};

/// In French R is the king: what is typed is kept in English letters and shown as it was typed.
#[test]
fn moves_are_typed_and_shown_in_other_letters() {
    let trial = Trial::usual();
    let mut ctx = context(&trial.app);
    ctx.display.letters = Letters::French;
    let mut rig = Rig::with_router(Router::new(ctx, &Start::Home).unwrap(), (80, 24));
    rig.keys("<Enter>c7 Td6+ Rb5<Enter>");
    let text = rig.text();
    assert!(text.contains("Td6+") && text.contains("Rb5"), "{text}");
    let begun = trial.app.attempts().unfinished().unwrap().remove(0);
    let tree = trial
        .app
        .attempts()
        .attempt(&begun.id)
        .unwrap()
        .tree()
        .clone();
    let kept: Vec<String> = tree.nodes().map(|(_, n)| n.text.clone()).collect();
    assert_eq!(kept, ["c7", "Rd6+", "Kb5"]);
    // The line that he is typing stays as he types it, and a move that is to be corrected comes in his letters.
    rig.keys("Rb4");
    assert!(rig.text().contains("Rb4"), "{}", rig.text());
    rig.keys("<Ctrl-U><Ctrl-F>");
    assert!(rig.text().contains("correct Rb5"), "{}", rig.text());
}

/// Two letters for one move what follows in the row, and a gap takes it up.
#[test]
fn two_letters_for_a_king_keep_the_words_apart() {
    let mut canvas = Canvas::new(40, 2).letters(Letters::Russian);
    let end = canvas.put(0, 0, "Kb5", TextStyle::PLAIN);
    assert_eq!(end, 3);
    canvas.put(4, 0, "Rd5", TextStyle::PLAIN);
    canvas.put(12, 0, "Kb4", TextStyle::PLAIN);
    assert_eq!(canvas.to_text().lines().next(), Some("Крb5 Лd5    Крb4"));
}
