//! The sentence that opens a review: the decisive point, where it lies and what it cost; or that the tree holds.

use super::told::{self, Told};
use crate::review::model::evidence::Evidence;
use crate::review::model::fault::Fault;
use crate::review::model::thresholds::MANY_EQUALS;
use crate::review::model::verdicts::standing;
use crate::text;

/// A tree that nothing is counted against; `remarks` says whether anything is told of it all the same.
pub(in super::super) fn holds(remarks: bool) -> String {
    if remarks {
        tr!("Your tree holds in what counts.").to_owned()
    } else {
        tr!("Your tree holds.").to_owned()
    }
}

/// The finding that counts first.
pub(in super::super) fn decisive(evidence: &Evidence<'_>) -> String {
    tr!("The decisive point: {}", point(evidence))
}

fn point(evidence: &Evidence<'_>) -> String {
    let told = Told(evidence);
    let (resource, way) = (told.resource(), told.way());
    match evidence.fault {
        many if many.is_one_of_many() => tr!(
            "at least {} moves are better than what you wrote, {resource} for one; {}",
            text::number(MANY_EQUALS),
            with_and_without(&told, &resource)
        ),
        Fault::MissedCandidate { .. } => tr!(
            "{resource} was not on your list; {}",
            with_and_without(&told, &resource)
        ),
        Fault::WrongChoice { .. } => tr!(
            "the choice between {resource} and {}; {}",
            told.choice(),
            with_and_without(&told, &resource)
        ),
        Fault::FearedReply { .. } => {
            tr!(
                "{} was nothing to fear; after it {}.",
                told.last_move(),
                standing(evidence.truth)
            )
        }
        Fault::IllegalMove { node, .. } => {
            let text = evidence.tree.node(*node).map_or("", |n| n.text.as_str());
            match way.is_empty() {
                true => tr!("{text} cannot be played."),
                false => tr!("after {way} the move {text} cannot be played."),
            }
        }
        Fault::FalseMate { .. } => tr!("{way} is no mate."),
        Fault::GameOver => tr!("after {way} the game is over.{}", told.said()),
        Fault::MissedThreat { .. } => tr!(
            "{} does nothing against his threat {resource}; {}",
            told.choice(),
            cost(evidence)
        ),
        Fault::EndOfLine { .. } | Fault::SeenMisjudged { .. } => {
            let has = if told.is_players_turn() {
                tr!("you have")
            } else {
                tr!("he has")
            };
            tr!("after {way} {has} {resource}; {}", verdict(evidence))
        }
        Fault::MissedReply { .. } => tr!("after {way} he has {resource}; {}", cost(evidence)),
        Fault::MissedResource { .. } => {
            tr!("after {way} you have {resource}; {}", cost(evidence))
        }
        Fault::BareCandidate { .. } => tr!("after {way} you looked at no reply."),
    }
}

/// What he said of the standing, and what is true.
fn verdict(evidence: &Evidence<'_>) -> String {
    let (truth, said) = (standing(evidence.truth), standing(evidence.believed));
    if truth == said {
        return match evidence.truth < evidence.believed {
            true => tr!("you judged it too kindly.").to_owned(),
            false => tr!("you judged it too harshly.").to_owned(),
        };
    }
    tr!("you judged: {said}; in truth {truth}.")
}

/// What the resource makes of the standing.
fn cost(evidence: &Evidence<'_>) -> String {
    let (truth, believed) = (standing(evidence.truth), standing(evidence.believed));
    if truth == believed {
        let falls = evidence.truth < evidence.believed;
        return format!("{truth}{}.", told::less_or_more(falls));
    }
    tr!("with it {truth}, without it {believed}.")
}

/// The standing with the better move and with the written one.
fn with_and_without(told: &Told<'_>, resource: &str) -> String {
    let evidence = told.0;
    let (truth, believed) = (standing(evidence.truth), standing(evidence.believed));
    let written = match evidence.compared {
        Some(id) => told::written(evidence.tree, id),
        None => return tr!("with it {truth}."),
    };
    if truth == believed {
        return tr!("with {resource} {truth}, and you have more than with {written}.");
    }
    tr!("with {resource} {truth}, with {written} {believed}.")
}
