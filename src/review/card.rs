//! The end card against the board at the end of the line.

use shakmaty::Position;

use super::survey::{Place, Survey};
use super::value::{EndCardRead, Held};
use super::{proof, wording};
use crate::attempt::{Attempt, EndCard, Mover};
use crate::board::{Line, exchange, line, sacrifice};

/// The card of the sitting, where one was filled in.
pub(super) fn read(survey: &Survey<'_>, attempt: Option<&Attempt>) -> Option<EndCardRead> {
    let card = attempt?.end_card()?;
    let mut read = EndCardRead {
        path: survey.tree.sans(card.node),
        mover: None,
        material: None,
        plan: card.plan.trim().to_owned(),
        follows: Vec::new(),
        sentences: Vec::new(),
        node: card.node,
    };
    if let Some(place) = survey.place(card.node) {
        read.mover = mover(card, &place.line);
        read.material = material(card, &place.line);
        read.follows = follows(place);
    }
    read.sentences = wording::card_sentences(&read, survey.place(card.node).is_some());
    Some(read)
}

fn mover(card: &EndCard, line: &Line) -> Option<Held> {
    let words = |own| if own { "you" } else { "he" };
    let said = card.mover?;
    let is_own = line.turn() == line.player();
    (!line.position().is_game_over()).then(|| Held {
        said: words(said == Mover::Me).to_owned(),
        is: words(is_own).to_owned(),
        holds: is_own == (said == Mover::Me),
    })
}

/// Right is the count on the board, and the count once the captures that win something are over: a line
/// may end in the middle of an exchange that he has counted to its end.
fn material(card: &EndCard, line: &Line) -> Option<Held> {
    let said = card.material.as_ref()?;
    let player = line.player();
    let points = |line: &Line| sacrifice::balance(line.position(), player);
    let holds = said.points() == points(line) || said.points() == points(&after_captures(line));
    Some(Held {
        said: said.to_string(),
        is: wording::material_stands(line),
        holds,
    })
}

/// The line after the best exchange that the side to move has.
fn after_captures(line: &Line) -> Line {
    let mut end = line.clone();
    let best = exchange::best_capture(line.position());
    let moves = best.map(|(_, first)| exchange::sequence(line.position(), &first));
    for mv in moves.unwrap_or_default() {
        if end.push(&mv).is_err() {
            break;
        }
    }
    end
}

fn follows(place: &Place) -> Vec<String> {
    let moves = place.best().map_or(&place.pv, |m| &m.pv);
    line::sans(
        place.line.position(),
        proof::told(place, moves, place.worth),
    )
}
