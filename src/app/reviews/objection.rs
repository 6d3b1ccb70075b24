//! 'I do not believe it': a line of the player's own, held against a review and answered by a line.

use crate::app::reviews::service::ReviewService;
use crate::app::{AppError, AttemptId};
use crate::attempt::AttemptEvent;
use crate::board::line;
use crate::judge::Question;
use crate::notation::{self, Reading};
use crate::review;
use crate::score::PlayerScore;

/// What the judge answers to a line.
#[derive(Debug, Clone, PartialEq)]
pub struct ObjectionAnswer {
    /// The player's line in SAN.
    pub line: Vec<String>,
    /// What follows after it, in SAN; empty where the game is over.
    pub reply: Vec<String>,
    /// How the player stands then, in words.
    pub standing: String,
}

impl ReviewService {
    /// Answers a line from the root of a locked attempt, and keeps it with its time, apart from the tree.
    ///
    /// # Errors
    /// There is no such attempt or it is not locked; a word of the line is no legal move; the engine
    /// failed; the line could not be kept.
    pub fn answer(&self, id: &AttemptId, text: &str) -> Result<ObjectionAnswer, AppError> {
        let mut sitting = self.attempts.locked(id)?;
        if sitting.attempt().locked_ms().is_none() {
            return Err(AppError::NotLocked);
        }
        self.refuse_in_play(id, sitting.attempt())?;
        let mut played = sitting.attempt().tree().root().clone();
        for word in text.split_whitespace() {
            let token = notation::parse(word).map_err(|e| AppError::Line(e.to_string()))?;
            let Reading::Legal(mv) = notation::resolve(&token, &played) else {
                let at = played.sans().join(" ");
                return Err(AppError::Line(tr!(
                    "'{word}' is not a legal move after '{at}'"
                )));
            };
            played
                .push(&mv)
                .map_err(|e| AppError::Line(e.to_string()))?;
        }
        let question = Question {
            line: played.clone(),
            lines: 1,
            nodes: self.settings.nodes * self.settings.confirm,
        };
        let answer = self.judges.judge()?.answer_one(question)?;
        let worth = answer.worth_to(played.player(), &played).value();
        let reply = answer.moves.into_iter().next();
        let reply = reply.map(|m| m.pv).unwrap_or_default();
        sitting.record(AttemptEvent::Doubted {
            line: text.to_owned(),
        })?;
        Ok(ObjectionAnswer {
            line: played.sans(),
            reply: line::sans(played.position(), &reply),
            standing: review::standing(PlayerScore::new(worth)).to_owned(),
        })
    }
}
