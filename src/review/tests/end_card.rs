//! The end card against the board at the end of the line.

use crate::attempt::{
    Attempt, AttemptEvent, BoardVisibility, EndCard, Material, Mover, Opened, Origin,
    TimedAttemptEvent,
};
use crate::review::EndCardRead;
use crate::review::tests::fixture::{one_sided, tree, turn, without_numbers};
use crate::tree::NodeId;

/// A position made for these tests, and the same with the colours swapped.
const FENS: [&str; 2] = [
    "r1bq1rk1/ppp1bppp/2n2n2/3pp3/8/3P1NP1/PPP1PPBP/RNBQ1RK1 w - - 0 7",
    "rnbq1rk1/ppp1ppbp/3p1np1/8/3PP3/2N2N2/PPP1BPPP/R1BQ1RK1 b - - 0 7",
];

fn attempt(fen: &str, line: &str, card: EndCard) -> Attempt {
    let mut whats = vec![AttemptEvent::Opened(Opened {
        origin: Origin::Position,
        start_fen: fen.to_owned(),
        past: Vec::new(),
        budget_ms: None,
        sight: BoardVisibility::Root,
        wall_ms: 0,
        quick: None,
    })];
    for (parent, text) in (0..).zip(line.split_whitespace()) {
        whats.push(AttemptEvent::Added {
            parent: NodeId(parent),
            text: text.to_owned(),
        });
    }
    whats.push(AttemptEvent::Chosen {
        node: Some(NodeId(1)),
    });
    whats.push(AttemptEvent::EndStated(card));
    let events = whats
        .into_iter()
        .map(|what| TimedAttemptEvent { at_ms: 0, what });
    Attempt::fold(&events.collect::<Vec<_>>()).unwrap()
}

fn read(line: &str, mover: Option<Mover>, material: &str, plan: &str) -> EndCardRead {
    let card = EndCard {
        mover,
        material: Material::parse(material).ok(),
        plan: plan.to_owned(),
        ..EndCard::new(NodeId(
            u32::try_from(line.split_whitespace().count()).unwrap(),
        ))
    };
    let one = |fen, line: &str, ends: &[(&str, f64)]| {
        let attempt = attempt(fen, line, card.clone());
        let review = one_sided(attempt.tree(), ends, Some(&attempt));
        review.end_card.unwrap()
    };
    let white = one(FENS[0], line, &[("c4 dxc4 dxc4 Qxd1 Rxd1", 0.5)]);
    let black = one(
        FENS[1],
        &turn(line),
        &[(&turn("c4 dxc4 dxc4 Qxd1 Rxd1"), 0.5)],
    );
    assert_eq!(
        without_numbers(&format!("{white:?}")),
        turn(&without_numbers(&format!("{black:?}")))
    );
    white
}

fn sentences(read: &EndCardRead) -> String {
    read.sentences.join(" | ")
}

#[test]
fn a_card_that_fits_the_board() {
    let card = read("c4 dxc4 dxc4", Some(Mover::Him), "=", "");
    insta::assert_snapshot!(sentences(&card), @"At the end of your line you had the board right: it is his move, and the material is level.");
    let card = read("c4 dxc4", None, "pawn down", "");
    insta::assert_snapshot!(sentences(&card), @"At the end of your line you had the board right: he has a pawn more.");
    let card = read("c4 dxc4", Some(Mover::Me), "", "");
    insta::assert_snapshot!(sentences(&card), @"At the end of your line you had the board right: it is your move.");
}

#[test]
fn who_counted_an_exchange_to_its_end_is_right() {
    // After dxc4 a pawn is missing; taken back, the material is level.
    let card = read("c4 dxc4", None, "level", "");
    assert!(card.material.as_ref().unwrap().holds);
    insta::assert_snapshot!(sentences(&card), @"At the end of your line you had the board right: the material is level once the captures are over.");
}

#[test]
fn a_card_that_does_not_fit_the_board() {
    let card = read("c4 dxc4", Some(Mover::Him), "piece up", "");
    insta::assert_snapshot!(sentences(&card), @"At the end of your line you took it to be his move; it is yours. | At the end of your line you counted 'piece up'; on the board there he has a pawn more.");
    let card = read("c4 dxc4 dxc4", Some(Mover::Me), "rook for knight", "");
    insta::assert_snapshot!(sentences(&card), @"At the end of your line you took it to be your move; it is his. | At the end of your line you counted 'rook for knight'; on the board there the material is level.");
}

#[test]
fn a_plan_is_set_beside_what_should_come_and_not_judged() {
    let card = read(
        "c4 dxc4 dxc4",
        None,
        "",
        "exchange queens and go for the d-file",
    );
    insta::assert_snapshot!(sentences(&card), @"Your plan was: exchange queens and go for the d-file. What should come there: 8...Qxd1 9.Rxd1.");
}

#[test]
fn a_card_on_a_line_that_cannot_be_played() {
    let card = read("c4 Qxc4 dxc4", Some(Mover::Him), "queen up", "");
    assert!(card.mover.is_none() && card.material.is_none());
    insta::assert_snapshot!(sentences(&card), @"What you said of the end of 7.c4 Qxc4 8.dxc4 cannot be held against a board: the line cannot be played.");
}

/// The card of a tree in notes, from a comment at the end of its line.
fn noted(comment: &str) -> Option<EndCardRead> {
    let one = |fen, turned: &dyn Fn(&str) -> String| {
        let mut tree = tree(fen, &[&turned("c4 dxc4"), &turned("h3 h6")]);
        tree.set_comment(NodeId(2), comment).unwrap();
        one_sided(&tree, &[(&turned("c4 dxc4 dxc4"), 0.5)], None).end_card
    };
    let white = one(FENS[0], &str::to_owned);
    let black = one(FENS[1], &turn);
    assert_eq!(
        without_numbers(&format!("{white:?}")),
        turn(&without_numbers(&format!("{black:?}")))
    );
    white
}

#[test]
fn a_card_in_notes_is_a_comment_of_an_agreed_form() {
    let card = noted("At the end: my move; material level; take back").unwrap();
    insta::assert_snapshot!(sentences(&card), @"At the end of your line you had the board right: it is your move, and the material is level once the captures are over. | Your plan was: take back. What should come there: 8.dxc4.");
    let card = noted("At the end: material fine; he is to move").unwrap();
    insta::assert_snapshot!(sentences(&card), @"At the end of your line you took it to be his move; it is yours. | What you said of the material at the end of your line could not be read: 'fine' is no balance of material; say it from your side: '=', '+1', '-3', 'pawn up', 'exchange down', '2 pawns up', 'rook for knight'.");
    assert!(noted("At the end he is lost").is_none());
    assert!(noted("At the end:").is_none());
}
