//! The end card as a dialogue: what is asked of the board at the end of the choice's line, what counts
//! as an answer, and the card in words.
//!
//! The questions are the same whatever was written, so that they give nothing away.

use crate::attempt::{EndCard, Material, Mover, PLAN_MAX};
use crate::text;

/// How the end of a line is judged, in the words of the question.
pub const SIGNS: &str = tr_later!(
    "= level, +/= +/- +- White is better, clearly better, winning, =/+ -/+ -+ the \
                     same for Black, 65% what you expect to score, ~ unclear. Enter alone leaves it open."
);

/// What the end card asks, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndCardQuestion {
    Mover,
    Material,
    Plan,
}

impl EndCardQuestion {
    /// The question after this one.
    #[must_use]
    pub fn next(self) -> Option<Self> {
        match self {
            Self::Mover => Some(Self::Material),
            Self::Material => Some(Self::Plan),
            Self::Plan => None,
        }
    }

    /// What stands before the line in which it is answered.
    #[must_use]
    pub fn prompt(self) -> &'static str {
        match self {
            Self::Mover => tr!("who moves >"),
            Self::Material => tr!("material >"),
            Self::Plan => tr!("plan >"),
        }
    }

    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Mover => tr!("Who is to move there? 'me' or 'him'. Enter alone leaves it open."),
            Self::Material => {
                tr!(
                    "How does the material stand, from your side? '=', '+1', 'pawn up', 'exchange down'. \
                 Enter alone leaves it open."
                )
            }
            Self::Plan => tr!("What would you do then? One sentence. Enter alone leaves it open."),
        }
    }
}

/// Puts one answer on the card; an empty one leaves it open.
///
/// # Errors
/// What is no answer to the question, in words.
pub fn state(card: &mut EndCard, ask: EndCardQuestion, said: &str) -> Result<(), String> {
    if said.is_empty() {
        return Ok(());
    }
    match ask {
        EndCardQuestion::Mover => {
            let mover = Mover::read(&said.to_lowercase());
            card.mover = Some(mover.ok_or(tr!("Say 'me' or 'him'."))?);
        }
        EndCardQuestion::Material => {
            let material = Material::parse(said).map_err(|e| e.to_string())?;
            card.material = Some(material);
        }
        EndCardQuestion::Plan if said.chars().count() > PLAN_MAX => {
            return Err(tr!(
                "A plan has at most {PLAN_MAX} characters: say it in one sentence."
            ));
        }
        EndCardQuestion::Plan => card.plan = said.to_owned(),
    }
    Ok(())
}

/// The card in words, as far as it is filled in.
#[must_use]
pub fn said(card: &EndCard) -> String {
    let mover = card.mover.map(|m| match m {
        Mover::Me => tr!("You are to move.").to_owned(),
        Mover::Him => tr!("He is to move.").to_owned(),
    });
    let material = card.material.as_ref().map(|m| tr!("Material: {m}."));
    let plan = (!card.plan.is_empty()).then(|| tr!("Plan: {}", card.plan));
    let parts: Vec<String> = mover.into_iter().chain(material).chain(plan).collect();
    text::safe(&parts.join(" ")).into_owned()
}
