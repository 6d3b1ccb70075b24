//! Moments in words.

use super::moment::{Moment, Reason};
use super::survey::EQUAL;
use crate::text;

/// The moment in words, after the fact: the reason, the move, what it cost.
#[must_use]
pub fn sentence(moment: &Moment, number: &str) -> String {
    let played = format!("{number}{}", moment.played);
    let best = format!("{number}{}", moment.best);
    let reply = moment.reply.as_deref().unwrap_or("the reply");
    let stood = |e: f64| crate::review::standing(crate::score::PlayerScore::new(e));
    let (before, after) = (stood(moment.before), stood(moment.after));
    let first = moment.reasons.first().copied().unwrap_or(Reason::Control);
    let mut text = match first {
        Reason::CouldBeSaved => format!(
            "Your opponent had let you back into the game; {best} keeps it alive, and {played} let it go to {reply}."
        ),
        Reason::ChanceNotTaken => format!(
            "Your opponent had just given something away. {best} takes it; after {played} {reply} it was gone."
        ),
        Reason::AdvantageSlipped => format!(
            "Before {played}: {before}. After it, with {reply}: {after}. {best} keeps the advantage."
        ),
        Reason::EqualTurnedWorse => {
            format!("The game was level until {played}; after {reply}: {after}. {best} holds.")
        }
        Reason::ReplyOverlooked => {
            format!("{played} runs into {reply}: {after}. With {best}: {before}.")
        }
        Reason::OnlyMoveMissed => format!(
            "One move was clearly better than all others here, {best}; you played {played}."
        ),
        Reason::OnlyMoveFound => {
            format!("One move was clearly better than all others, and you found it: {played}.")
        }
        Reason::FastWhereItMattered => format!(
            "{played} was among your fastest moves, and a lot hung on it. {best} was there."
        ),
        Reason::Drift => format!(
            "No single mistake, but over ten moves your position got worse; the most of it here, with {played} instead of {best}."
        ),
        Reason::Saved => format!(
            "You had been losing, your opponent let you back, and {played} took the chance."
        ),
        Reason::LongThink if moment.before - moment.after < EQUAL => {
            format!("A long think, and a good one: {played}.")
        }
        Reason::LongThink => format!("A long think that ended with {played}; {best} was better."),
        Reason::OutOfBook => format!("Here you left the ground that you know, with {played}."),
        Reason::OpeningOver if moment.before - moment.after < EQUAL => {
            format!("The opening was over, and {before}; {played} went on well.")
        }
        Reason::OpeningOver => {
            format!("The opening was over, and {before}; {best} was better than {played}.")
        }
        Reason::Control => format!("You thought well here: {played}."),
    };
    if moment.decided && first != Reason::Control {
        text.push_str(" It decided the game.");
    }
    text
}

/// 'In the game you took 11 minutes and played 17.g4.'
#[must_use]
pub fn in_the_game(moment: &Moment, number: &str) -> String {
    let took = moment.spent_ms.map(|ms| match ms / 1000 {
        s if s < 60 => format!("took {} and ", counted(s as usize, "second")),
        s => format!("took {} and ", counted(((s + 30) / 60) as usize, "minute")),
    });
    format!(
        "In the game you {}played {number}{}.",
        took.unwrap_or_default(),
        moment.played
    )
}

fn counted(n: usize, what: &str) -> String {
    format!(
        "{} {what}{}",
        text::number(n),
        if n == 1 { "" } else { "s" }
    )
}
