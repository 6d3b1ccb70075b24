//! Questions that are answered elsewhere, by any number of processes that know nothing of each other: as lines of text,
//! each with a checksum, so that a file that was cut off anywhere is good up to there.

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, EnPassantMode, Position};

use super::cache::{Kept, asked_of, key};
use super::{Answer, Question, rules};
use crate::board::line;

/// The first line of a file of questions, and of the answers to them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShardHead {
    /// Everything on which the answers depend besides the question ([`super::Judge::identity`]).
    pub engine: String,
    /// Its number, from 1, and how many there are.
    pub shard: usize,
    pub of: usize,
    /// Questions in it.
    pub questions: usize,
}

/// A question as it travels.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct PortableQuestion {
    /// The position after the last move that cannot be undone, and the moves since in UCI notation: all that repetition and
    /// move counting can depend on.
    fen: String,
    moves: Vec<String>,
    lines: usize,
    nodes: u64,
}

/// An answer as it travels, with its question.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PortableAnswer {
    question: PortableQuestion,
    kept: Kept,
}

impl PortableQuestion {
    /// The question; `None` where the Laws answer it and no engine need be asked.
    #[must_use]
    pub fn of(question: &Question) -> Option<Self> {
        if rules::result(&question.line).is_some() {
            return None;
        }
        let (from, moves) = question.line.since_irreversible();
        let mut fen = Fen::from_position(from.clone(), EnPassantMode::Legal);
        fen.0.fullmoves = std::num::NonZeroU32::MIN;
        Some(Self {
            fen: fen.to_string(),
            moves: moves
                .iter()
                .map(|m| m.to_uci(CastlingMode::Standard).to_string())
                .collect(),
            lines: rules::lines(question),
            nodes: question.nodes,
        })
    }

    /// The question again.
    ///
    /// # Errors
    /// A move in it is not legal, or it is no position.
    pub fn question(&self) -> Result<Question, String> {
        let line = line::replay(&self.fen, &self.moves)?;
        if line.position().legal_moves().is_empty() {
            return Err(tr!("the game is over in it").to_owned());
        }
        Ok(Question {
            line,
            lines: self.lines.max(1),
            nodes: self.nodes,
        })
    }

    /// The key under which the judge of that identity keeps its answer.
    #[must_use]
    pub fn key(&self, identity: &str) -> Option<String> {
        let question = self.question().ok()?;
        Some(key(&asked_of(identity, &question)))
    }
}

impl PortableAnswer {
    /// An answer of the judge of that identity.
    #[must_use]
    pub fn new(
        identity: &str,
        question: &PortableQuestion,
        asked: &Question,
        answer: &Answer,
    ) -> Self {
        Self {
            question: question.clone(),
            kept: Kept::new(asked_of(identity, asked), answer),
        }
    }

    #[must_use]
    pub fn question(&self) -> &PortableQuestion {
        &self.question
    }

    /// The key and the record under which the judge of that identity finds it again.
    ///
    /// # Errors
    /// It is not an answer of that judge to its question, or a move in it is not legal.
    pub fn checked(self, identity: &str) -> Result<(String, Kept), String> {
        let question = self.question.question()?;
        let asked = asked_of(identity, &question);
        if !self.kept.answers(&asked, &question.line) {
            return Err(tr!("it does not answer its question").to_owned());
        }
        Ok((key(&asked), self.kept))
    }
}

/// A value as one line of text with its checksum (XXH3 of Y. Collet, 64 bits, seed 0), and a line break.
///
/// # Errors
/// The value cannot be written as JSON; none of ours is of that kind.
pub fn line_of<T: Serialize>(value: &T) -> Result<String, serde_json::Error> {
    let json = serde_json::to_string(value)?;
    Ok(format!(
        "{:016x} {json}\n",
        xxhash_rust::xxh3::xxh3_64(json.as_bytes())
    ))
}

/// The value of such a line without its break; `None` where it is not as it was written.
#[must_use]
pub fn of_line<T: DeserializeOwned>(line: &str) -> Option<T> {
    let (sum, json) = line.split_once(' ')?;
    let wanted = format!("{:016x}", xxhash_rust::xxh3::xxh3_64(json.as_bytes()));
    (sum == wanted).then(|| serde_json::from_str(json).ok())?
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Line;
    use crate::judge::{FixedJudge, Judge};

    fn question() -> Question {
        let line = line::replay(
            "4k3/8/8/8/8/8/4P3/R3K3 w Q - 0 1",
            &["e2e4", "e8e7", "a1a7", "e7e6", "a7a8", "e6e7"],
        );
        Question {
            line: line.unwrap(),
            lines: 3,
            nodes: 500,
        }
    }

    #[test]
    fn a_question_comes_back_as_the_same_question() {
        let question = question();
        let portable = PortableQuestion::of(&question).unwrap();
        // The pawn move cannot be undone: what was before it is nothing to the answer.
        assert_eq!(portable.moves.len(), 5);
        let back = portable.question().unwrap();
        assert_eq!(back.signature(), question.signature());
        assert_eq!(PortableQuestion::of(&back).unwrap(), portable);
        let over = Line::new(line::read_fen("7k/6Q1/6K1/8/8/8/8/8 b - - 0 1").unwrap());
        let mate = Question {
            line: over,
            lines: 1,
            nodes: 1,
        };
        assert!(PortableQuestion::of(&mate).is_none());
    }

    #[test]
    fn an_answer_is_believed_only_from_its_own_judge_and_whole() {
        let judge = FixedJudge::new(|_: &Line| vec![("Ra7+ Ke6".to_owned(), 0.9)]);
        let question = question();
        let portable = PortableQuestion::of(&question).unwrap();
        let answer = judge.answer_one(question.clone()).unwrap();
        let sent = PortableAnswer::new("one", &portable, &question, &answer);
        let text = line_of(&sent).unwrap();
        let back: PortableAnswer = of_line(text.trim_end()).unwrap();
        assert_eq!(back, sent);
        assert_eq!(
            back.clone().checked("one").unwrap().0,
            portable.key("one").unwrap()
        );
        assert!(back.checked("another").is_err());
        assert_eq!(of_line::<PortableAnswer>(&text[..text.len() - 3]), None);
        assert_eq!(
            of_line::<PortableAnswer>(&text.trim_end().replace("500", "501")),
            None
        );
    }
}
