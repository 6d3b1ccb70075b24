//! The end card in sentences: what held first.

use crate::attempt::NotMaterial;

use crate::review::model::notes::{EndCardRead, Held};

/// `way` is the line the card speaks of, `follows` what should come after it; `None` where it cannot be played.
pub(crate) fn sentences(card: &EndCardRead, way: &str, follows: Option<&str>) -> Vec<String> {
    let Some(follows) = follows else {
        return vec![tr!(
            "What you said of the end of {way} cannot be held against a board: the line cannot be played."
        )];
    };
    let mut all = Vec::new();
    all.extend(right(card));
    all.extend(wrong(card.mover.as_ref(), mover));
    all.extend(wrong(card.material.as_ref(), material));
    all.extend(plan(card, follows));
    all
}

/// A balance of material in a comment that cannot be read as one.
pub(crate) fn unread(error: &NotMaterial) -> String {
    tr!("What you said of the material at the end of your line could not be read: {error}.")
}

fn right(card: &EndCardRead) -> Option<String> {
    let mover = card
        .mover
        .as_ref()
        .filter(|h| h.holds)
        .map(|h| match h.is.as_str() {
            "you" => tr!("it is your move").to_owned(),
            _ => tr!("it is his move").to_owned(),
        });
    let material = card.material.as_ref().filter(|h| h.holds);
    let material = material.map(|h| h.is.clone());
    let parts: Vec<String> = mover.into_iter().chain(material).collect();
    (!parts.is_empty()).then(|| {
        tr!(
            "At the end of your line you had the board right: {}.",
            parts.join(tr!(", and "))
        )
    })
}

fn wrong(held: Option<&Held>, words: fn(&Held) -> String) -> Option<String> {
    held.filter(|h| !h.holds).map(words)
}

fn mover(held: &Held) -> String {
    match held.is.as_str() {
        "you" => tr!("At the end of your line you took it to be his move; it is yours.").to_owned(),
        _ => tr!("At the end of your line you took it to be your move; it is his.").to_owned(),
    }
}

fn material(held: &Held) -> String {
    tr!(
        "At the end of your line you counted '{}'; on the board there {}.",
        held.said,
        held.is
    )
}

fn plan(card: &EndCardRead, follows: &str) -> Option<String> {
    if card.plan.is_empty() {
        return None;
    }
    let stop = if card.plan.ends_with(['.', '!', '?']) {
        ""
    } else {
        "."
    };
    let expected = match follows {
        "" => String::new(),
        moves => tr!(" What should come there: {moves}."),
    };
    Some(tr!("Your plan was: {}{stop}{expected}", card.plan))
}
