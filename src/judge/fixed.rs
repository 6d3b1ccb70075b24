//! A judge that answers from a table.

use shakmaty::san::SanPlus;

use super::{Answer, Basis, Judge, JudgeError, MoverScore, Question, Ranked, rules};
use crate::board::{Line, line};

/// Answers what a function says of a position: its good moves with their expected scores.
///
/// For tests, and for positions whose truth is known. The Laws come first here too.
pub struct FixedJudge<F> {
    says: F,
}

impl<F> FixedJudge<F>
where
    F: Fn(&Line) -> Vec<(String, f64)> + Send + Sync,
{
    /// `says` gives moves in Standard Algebraic Notation with their expected score for the side that
    /// plays them; several moves in one text are a line (`"Rd4 c8=R"`). A position without moves in
    /// the table is level.
    pub fn new(says: F) -> Self {
        Self { says }
    }

    fn one(&self, question: &Question) -> Result<Answer, JudgeError> {
        if let Some(answer) = rules::result(&question.line) {
            return Ok(answer);
        }
        let mut moves = (self.says)(&question.line)
            .into_iter()
            .map(|(text, expected)| ranked(&question.line, &text, expected))
            .collect::<Result<Vec<_>, _>>()?;
        moves.sort_by(|a, b| b.expected.value().total_cmp(&a.expected.value()));
        moves.truncate(question.lines.max(1));
        let answer = Answer {
            expected: moves.first().map_or(MoverScore::LEVEL, |m| m.expected),
            basis: Basis::Engine {
                depth: 1,
                nodes: question.nodes,
            },
            moves,
        };
        Ok(rules::with_claim(&question.line, answer))
    }
}

fn ranked(line: &Line, text: &str, expected: f64) -> Result<Ranked, JudgeError> {
    let wrong = |word: &str| JudgeError::Table {
        what: format!(
            "'{word}' of '{text}' is not legal in {}",
            line::fen(line.position())
        ),
    };
    let mut after = line.clone().rooted_here();
    for word in text.split_whitespace() {
        let san: SanPlus = word.parse().map_err(|_| wrong(word))?;
        let mv = san.san.to_move(after.position()).map_err(|_| wrong(word))?;
        after.push(&mv).map_err(|_| wrong(word))?;
    }
    let pv = after.moves().to_vec();
    Ok(Ranked {
        mv: pv.first().ok_or_else(|| wrong(""))?.clone(),
        expected: MoverScore::new(expected),
        mate: None,
        pv,
    })
}

impl<F> Judge for FixedJudge<F>
where
    F: Fn(&Line) -> Vec<(String, f64)> + Send + Sync,
{
    fn name(&self) -> String {
        "a table of known positions".to_owned()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        questions.iter().map(|q| self.one(q)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Rule;
    use crate::judge::question;

    fn ask(fen: &str, lines: usize) -> Result<Answer, JudgeError> {
        let judge = FixedJudge::new(|line: &Line| match question::position(line).to_string() {
            text if text.contains(" w ") => vec![("Kf1".into(), 0.5), ("e4 Kd7".into(), 0.8)],
            text if text.contains("/1R6/") => vec![("Qh4".into(), 0.3)],
            _ => Vec::new(),
        });
        let line = Line::new(line::read_fen(fen).unwrap());
        let question = Question {
            line,
            lines,
            nodes: 5,
        };
        Ok(judge.answer(&[question])?.remove(0))
    }

    #[test]
    fn the_best_move_of_the_table_is_the_answer() {
        let answer = ask("4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", 1).unwrap();
        assert_eq!((answer.expected.value(), answer.moves.len()), (0.8, 1));
        assert_eq!(answer.moves[0].pv.len(), 2);
        let level = ask("4k3/8/8/8/8/8/4P3/4K3 b - - 0 1", 1).unwrap();
        assert_eq!((level.expected.value(), level.moves.len()), (0.5, 0));
    }

    #[test]
    fn the_laws_come_first() {
        let mated = ask("R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1", 1).unwrap();
        assert_eq!(mated.basis, Basis::Rule(Rule::Checkmate));
        assert_eq!(mated.expected, MoverScore::LOST);
    }

    #[test]
    fn a_wrong_table_is_named() {
        let error = ask("4k3/8/8/8/8/8/1R6/4K3 b - - 0 1", 1).unwrap_err();
        insta::assert_snapshot!(error, @"the table of known positions is wrong: 'Qh4' of 'Qh4' is not legal in 4k3/8/8/8/8/8/1R6/4K3 b - - 0 1");
    }
}
