//! Moments in words.

use super::moment::{Moment, Reason};
use super::survey::EQUAL;
use crate::text;

/// The moment in words, after the fact: the reason, the move, what it cost.
#[must_use]
pub fn sentence(moment: &Moment, number: &str) -> String {
    let played = format!("{number}{}", moment.played);
    let best = format!("{number}{}", moment.best);
    let reply = moment.reply.as_deref().unwrap_or(tr!("the reply"));
    let stood = |e: f64| crate::review::standing(crate::score::PlayerScore::new(e));
    let (before, after) = (stood(moment.before), stood(moment.after));
    let first = moment.reasons.first().copied().unwrap_or(Reason::Control);
    let mut text = match first {
        Reason::CouldBeSaved => tr!(
            "Your opponent had let you back into the game; {best} keeps it alive, and {played} let it go to {reply}."
        ),
        Reason::ChanceNotTaken => tr!(
            "Your opponent had just given something away. {best} takes it; after {played} {reply} it was gone."
        ),
        Reason::AdvantageSlipped => tr!(
            "Before {played}: {before}. After it, with {reply}: {after}. {best} keeps the advantage."
        ),
        Reason::EqualTurnedWorse => {
            tr!("The game was level until {played}; after {reply}: {after}. {best} holds.")
        }
        Reason::ReplyOverlooked => {
            tr!("{played} runs into {reply}: {after}. With {best}: {before}.")
        }
        Reason::OnlyMoveMissed => {
            tr!("One move was clearly better than all others here, {best}; you played {played}.")
        }
        Reason::OnlyMoveFound => {
            tr!("One move was clearly better than all others, and you found it: {played}.")
        }
        Reason::FastWhereItMattered => {
            tr!("{played} was among your fastest moves, and a lot hung on it. {best} was there.")
        }
        Reason::Drift => tr!(
            "No single mistake, but over ten moves your position got worse; the most of it here, with {played} instead of {best}."
        ),
        Reason::Saved => {
            tr!("You had been losing, your opponent let you back, and {played} took the chance.")
        }
        Reason::LongThink if moment.before - moment.after < EQUAL => {
            tr!("A long think, and a good one: {played}.")
        }
        Reason::LongThink => tr!("A long think that ended with {played}; {best} was better."),
        Reason::OutOfBook => tr!("Here you left the ground that you know, with {played}."),
        Reason::OpeningOver if moment.before - moment.after < EQUAL => {
            tr!("The opening was over, and {before}; {played} went on well.")
        }
        Reason::OpeningOver => {
            tr!("The opening was over, and {before}; {best} was better than {played}.")
        }
        Reason::Control => tr!("You thought well here: {played}."),
    };
    if moment.decided && first != Reason::Control {
        text.push_str(tr!(" It decided the game."));
    }
    text
}

/// 'In the game you took 11 minutes and played 17.g4.'
#[must_use]
pub fn in_the_game(moment: &Moment, number: &str) -> String {
    let took = moment.spent_ms.map(|ms| match ms / 1000 {
        s if s < 60 => tr!(s; "took {} second and " | "took {} seconds and ", text::number(s as usize)),
        s => {
            let minutes = (s + 30) / 60;
            tr!(minutes; "took {} minute and " | "took {} minutes and ", text::number(minutes as usize))
        }
    });
    tr!(
        "In the game you {}played {number}{}.",
        took.unwrap_or_default(),
        moment.played
    )
}
