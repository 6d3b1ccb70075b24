//! What the judge says of every move of a game.

use shakmaty::{Move, Position};

use super::kept::OwnGame;
use crate::board::{Line, motif};
use crate::judge::{Answer, Judge, JudgeError, Question};

/// How closely the judge looks, and what counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Nodes for each position of a game.
    pub nodes: u64,
    /// What is found is asked again with this many times the nodes, each move alone.
    pub confirm: u64,
    /// A difference of expected scores that counts, as in a review.
    pub delta: f64,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            nodes: 20_000,
            confirm: 4,
            delta: 0.10,
        }
    }
}

/// Best moves that are asked for at the player's turn: the plausible ones.
pub const PLAUSIBLE: usize = 3;
/// Nodes that are asked for at once, which is what an interrupt can cost: enough for many processes to be busy
/// together, a second or two of one.
const CHUNK_NODES: u64 = 2_000_000;
/// Moves this near to the best are as good (as in a review).
pub const EQUAL: f64 = 0.03;
/// Half-moves of a line that are looked at.
const LINE_MAX: usize = 10;

/// One half-move of a game; all expected scores are the player's.
#[derive(Debug, Clone, PartialEq)]
pub struct Ply {
    /// Before the move, with best play.
    pub before: f64,
    /// After the move that was played, with best play from there.
    pub after: f64,
    /// The mover's best moves with their lines; at the opponent's turn one.
    pub best: Vec<Liked>,
    /// Legal moves.
    pub legal: usize,
}

/// A move the judge likes.
#[derive(Debug, Clone, PartialEq)]
pub struct Liked {
    /// Expected score of the player.
    pub expected: f64,
    /// The move and what follows.
    pub line: Vec<Move>,
}

/// A game with what the judge says of each of its half-moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Surveyed {
    pub game: OwnGame,
    pub plies: Vec<Ply>,
}

impl Surveyed {
    /// The move that was played at a half-move, and the best one there, in SAN; empty where there is none.
    #[must_use]
    pub fn sans(&self, ply: usize) -> (String, String) {
        let line = self.game.line_to(ply);
        let san = |mv: &Move| crate::board::line::san(line.position(), mv);
        let played = self.game.game.main_moves.get(ply);
        let best = self.plies.get(ply).and_then(|p| p.best.first());
        let best = best.and_then(|b| b.line.first());
        let legal = |mv: &&Move| line.position().is_legal(mv);
        (
            played.filter(legal).map(san).unwrap_or_default(),
            best.filter(legal).map(san).unwrap_or_default(),
        )
    }
}

impl Ply {
    /// What the move gave away; never negative.
    #[must_use]
    pub fn drop(&self) -> f64 {
        (self.before - self.after).max(0.0)
    }

    /// The search from the position after a move has looked one move further than the one before it: where
    /// the played move is among the liked ones, its score is the later one, and the order follows.
    fn settle(&mut self, played: Option<&Move>, his: bool) {
        let after = self.after;
        let liked = self.best.iter_mut().find(|l| l.line.first() == played);
        let Some(liked) = liked else { return };
        liked.expected = after;
        let sign = if his { 1.0 } else { -1.0 };
        let order = |a: &Liked, b: &Liked| (sign * b.expected).total_cmp(&(sign * a.expected));
        self.best.sort_by(order);
        self.before = self.best.first().map_or(self.before, |l| l.expected);
    }

    /// Stakes: the spread of expected score among the plausible moves, the best three as the judge sees
    /// them, and the one that was played. 0 where only one move is legal.
    #[must_use]
    pub fn stakes(&self) -> f64 {
        if self.legal < 2 {
            return 0.0;
        }
        let worst = self
            .best
            .iter()
            .map(|l| l.expected)
            .fold(self.after, f64::min);
        (self.before - worst).max(0.0)
    }

    /// Half-moves of the best line until its last check, capture or promotion is over, 1 to 10: how far
    /// one has to see at least. (A review's needed depth asks the judge at every move of it.)
    #[must_use]
    pub fn needed(&self, line: &Line) -> usize {
        let moves = self.best.first().map_or(&[][..], |l| l.line.as_slice());
        let mut pos = line.position().clone();
        let mut needed = 1;
        for (i, mv) in moves.iter().take(LINE_MAX).enumerate() {
            if !pos.is_legal(mv) {
                break;
            }
            if motif::is_forcing(&pos, mv) {
                needed = i + 1;
            }
            pos.play_unchecked(mv);
        }
        needed
    }
}

/// The questions of a game: every position, the last one included.
#[must_use]
pub fn questions(game: &OwnGame, settings: &Settings) -> Vec<Question> {
    let lines = game.lines().into_iter().enumerate();
    lines
        .map(|(ply, line)| Question {
            line,
            lines: if game.is_his(ply) { PLAUSIBLE } else { 1 },
            nodes: settings.nodes,
        })
        .collect()
}

/// Asks about every position of a game. `progress` is told after each few positions how many were new.
///
/// # Errors
/// The engine failed; what it had answered is kept by a judge that keeps its answers.
pub fn survey(
    game: &OwnGame,
    judge: &dyn Judge,
    settings: &Settings,
    progress: &mut dyn FnMut(usize),
) -> Result<Surveyed, JudgeError> {
    let questions = questions(game, settings);
    let mut answers = Vec::with_capacity(questions.len());
    for chunk in questions.chunks(chunk(settings.nodes)) {
        answers.extend(judge.answer(chunk)?);
        progress(chunk.len());
    }
    let worth: Vec<f64> = answers
        .iter()
        .enumerate()
        .map(|(ply, answer)| his(game, ply, answer.expected.value()))
        .collect();
    let plies = questions
        .iter()
        .zip(&answers)
        .zip(worth.windows(2))
        .enumerate()
        .map(|(ply, ((question, answer), pair))| {
            let mut scored = Ply {
                before: pair.first().copied().unwrap_or(0.5),
                after: pair.last().copied().unwrap_or(0.5),
                best: liked(game, ply, answer),
                legal: question.line.position().legal_moves().len(),
            };
            scored.settle(game.game.main_moves.get(ply), game.is_his(ply));
            scored
        })
        .collect();
    Ok(Surveyed {
        game: game.clone(),
        plies,
    })
}

/// Questions of so many nodes each that are asked at once, 16 to 128.
fn chunk(nodes: u64) -> usize {
    usize::try_from(CHUNK_NODES / nodes.max(1)).map_or(128, |n| n.clamp(16, 128))
}

fn liked(game: &OwnGame, ply: usize, answer: &Answer) -> Vec<Liked> {
    let of = |m: &crate::judge::Ranked| Liked {
        expected: his(game, ply, m.expected.value()),
        line: m.pv.clone(),
    };
    answer.moves.iter().map(of).collect()
}

/// The mover's expected score as the player's.
fn his(game: &OwnGame, ply: usize, mover: f64) -> f64 {
    if game.is_his(ply) { mover } else { 1.0 - mover }
}

/// Asks again about half-moves of either side with more nodes, on equal terms: the best move, the second
/// best and the played one, each alone from the position after it. `progress` is told after each few half-moves
/// how many were new.
///
/// # Errors
/// The engine failed.
pub fn confirm(
    surveyed: &mut Surveyed,
    plies: &[usize],
    judge: &dyn Judge,
    settings: &Settings,
    progress: &mut dyn FnMut(usize),
) -> Result<(), JudgeError> {
    let nodes = settings.nodes * settings.confirm;
    // Three moves of each half-move.
    for some in plies.chunks((chunk(nodes) / 3).max(1)) {
        let moves: Vec<Vec<Move>> = some.iter().map(|p| compared(surveyed, *p)).collect();
        let mut asked = Vec::new();
        for (ply, moves) in some.iter().zip(&moves) {
            let line = surveyed.game.line_to(*ply);
            let children = moves.iter().filter_map(|mv| line.child(mv).ok());
            asked.extend(children.map(|line| Question {
                line,
                lines: 1,
                nodes,
            }));
        }
        let mut answers = judge.answer(&asked)?.into_iter();
        for (ply, moves) in some.iter().zip(&moves) {
            let played = surveyed.game.game.main_moves.get(*ply);
            let his = surveyed.game.is_his(*ply);
            if let Some(at) = surveyed.plies.get_mut(*ply) {
                at.correct(moves.iter().zip(&mut answers), played, his);
            }
        }
        progress(some.len());
    }
    Ok(())
}

/// The moves of a half-move that are held against each other: the two best and the played one.
fn compared(surveyed: &Surveyed, ply: usize) -> Vec<Move> {
    let line = surveyed.game.line_to(ply);
    let best = surveyed.plies.get(ply).map_or(&[][..], |at| &at.best);
    let mut moves: Vec<Move> = best
        .iter()
        .take(2)
        .filter_map(|l| l.line.first().cloned())
        .collect();
    let played = surveyed.game.game.main_moves.get(ply);
    moves.extend(played.filter(|mv| !moves.contains(mv)).cloned());
    moves.retain(|mv| line.position().is_legal(mv));
    moves
}

impl Ply {
    /// Takes what was said of its moves from the positions after them.
    fn correct<'a>(
        &mut self,
        answers: impl Iterator<Item = (&'a Move, Answer)>,
        played: Option<&Move>,
        his: bool,
    ) {
        for (mv, answer) in answers {
            // The answer is that of whoever is to move after the move.
            let expected = if his {
                answer.expected.flip().value()
            } else {
                answer.expected.value()
            };
            if Some(mv) == played {
                self.after = expected;
            }
            let replies = answer.moves.into_iter().next().map(|m| m.pv);
            let line = std::iter::once(mv.clone()).chain(replies.unwrap_or_default());
            let liked = Liked {
                expected,
                line: line.collect(),
            };
            match self.best.iter_mut().find(|l| l.line.first() == Some(mv)) {
                Some(old) => *old = liked,
                None => self.best.push(liked),
            }
        }
        // Moves that were not asked again keep their place behind those that were.
        let sign = if his { 1.0 } else { -1.0 };
        self.best
            .sort_by(|a, b| (sign * b.expected).total_cmp(&(sign * a.expected)));
        let best = self.best.first().map_or(self.before, |l| l.expected);
        self.before = if his {
            best.max(self.after)
        } else {
            best.min(self.after)
        };
    }
}
