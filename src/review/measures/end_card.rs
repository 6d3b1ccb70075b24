//! The end card against the board at the end of the line.

use shakmaty::Position;

use crate::attempt::{Attempt, EndCard, Mover};
use crate::board::{Line, exchange, line, sacrifice};
use crate::review::analysis::position::AnalysedPosition;
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::notes::{EndCardRead, Held};
use crate::review::wording;

/// The card of the sitting, where one was filled in; else the one in a comment on the choice's lines.
pub(crate) fn read(analysis: &TreeAnalysis<'_>, attempt: Option<&Attempt>) -> Option<EndCardRead> {
    match attempt.and_then(Attempt::end_card) {
        Some(card) => Some(against_the_board(analysis, card)),
        None => in_notes(analysis),
    }
}

/// The first card that stands in the choice's lines as a comment ([`EndCard::in_comment`]).
fn in_notes(analysis: &TreeAnalysis<'_>) -> Option<EndCardRead> {
    let tree = analysis.tree;
    let standing = tree
        .nodes()
        .filter(|(id, _)| tree.stands(*id) && analysis.is_under_choice(*id));
    let (card, unread) = standing
        .filter_map(|(id, node)| EndCard::in_comment(&node.comment, id))
        .find(|(card, unread)| !card.is_empty() || unread.is_some())?;
    let mut read = against_the_board(analysis, &card);
    read.sentences
        .extend(unread.map(|e| wording::card_unread(&e)));
    Some(read)
}

fn against_the_board(analysis: &TreeAnalysis<'_>, card: &EndCard) -> EndCardRead {
    let mut read = EndCardRead {
        path: analysis.tree.sans(card.node),
        mover: None,
        material: None,
        plan: card.plan.trim().to_owned(),
        follows: Vec::new(),
        sentences: Vec::new(),
        node: card.node,
    };
    if let Some(place) = analysis.place(card.node) {
        read.mover = mover(card, &place.line);
        read.material = material(card, &place.line);
        read.follows = follows(place);
    }
    let place = analysis.place(card.node);
    let follows = place.map(|p| line::numbered(p.line.position(), &read.follows));
    let way = wording::path(analysis.tree, &read.path);
    read.sentences = wording::card_sentences(&read, &way, follows.as_deref());
    read
}

fn mover(card: &EndCard, line: &Line) -> Option<Held> {
    let words = |own| if own { tr!("you") } else { tr!("he") };
    let said = card.mover?;
    let is_own = line.is_players_turn();
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
    let end = after_captures(line);
    let counted_on = said.points() != points(line) && said.points() == points(&end);
    let is = if counted_on {
        wording::material_after_captures(&end)
    } else {
        wording::material_stands(line)
    };
    Some(Held {
        said: said.to_string(),
        is,
        holds: counted_on || said.points() == points(line),
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

fn follows(place: &AnalysedPosition) -> Vec<String> {
    let told = proof_line::told(&place.line, place.expected(), place.worth);
    line::sans(place.line.position(), told)
}
