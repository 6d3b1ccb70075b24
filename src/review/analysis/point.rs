//! Where a line has made its point: the first position in which what it claims can be seen.
//!
//! A proof is an argument and ends there, neither before nor after. What can be seen is the end of the game, a
//! repetition that saves, or material that is won once captures have run out and stays won as far as the line is
//! known. A line without such a position is a judgement: a few half-moves of it are told, and the standing.

use shakmaty::{Color, Move, Position};

use crate::board::{Line, sacrifice};
use crate::review::analysis::settling::is_settled;
use crate::review::model::evidence::Shown;
use crate::review::model::thresholds::{
    JUDGEMENT_MOST, JUDGEMENT_TOLD, LEVEL, MATE_SOON, PIECE, POINT_MAX, PROOF_TOLD_MAX,
};
use crate::score::PlayerScore;

/// The part of a line that is told, in half-moves, and what its end shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Point {
    pub plies: usize,
    pub shown: Shown,
}

/// What a line is to show.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Claim {
    /// What it leaves the player.
    pub truth: PlayerScore,
    /// The side that it is good for.
    pub gains: Color,
    /// Material is given up in it, so that its count says little.
    pub offers: bool,
}

/// The point of `moves` from `from` on.
pub(crate) fn of(from: &Line, moves: &[Move], claim: Claim) -> Point {
    let walk = Walk::of(from, moves, claim);
    let material = walk.material();
    if let Some(over) = walk.over() {
        return walk.ended(over, material);
    }
    if let Some(plies) = walk
        .repeats
        .filter(|_| LEVEL.contains(&claim.truth.value()))
    {
        let shown = Shown::Repetition;
        return Point { plies, shown };
    }
    material.map_or_else(|| walk.judgement(), Walk::won)
}

/// A line as far as it can be played, and does not go round.
struct Walk {
    /// The position before the first move and after each.
    reached: Vec<Line>,
    claim: Claim,
    /// Half-moves after which a position comes again.
    repeats: Option<usize>,
}

impl Walk {
    fn of(from: &Line, moves: &[Move], claim: Claim) -> Self {
        let mut walk = Self {
            reached: vec![from.clone()],
            claim,
            repeats: None,
        };
        for (i, mv) in moves.iter().enumerate() {
            let Some(next) = walk.reached.last().and_then(|l| l.child(mv).ok()) else {
                break;
            };
            if next.occurrences() > 1 {
                walk.repeats = Some(i + 1);
                walk.leave_the_circle(&next);
                break;
            }
            let over = next.position().is_game_over();
            walk.reached.push(next);
            if over {
                break;
            }
        }
        walk
    }

    /// What only goes round proves nothing: the line ends where the position stood for the first time.
    fn leave_the_circle(&mut self, again: &Line) {
        let first = self.reached.iter().position(|l| l.key() == again.key());
        if let Some(first) = first {
            self.reached.truncate(first.max(1) + 1);
        }
        // The move itself is told in any case.
        if self.reached.len() == 1 {
            self.reached.push(again.clone());
        }
    }

    fn last(&self) -> usize {
        self.reached.len() - 1
    }

    /// Half-moves after which the game is over.
    fn over(&self) -> Option<usize> {
        let is_over = |l: &Line| l.position().is_game_over();
        let last = self.reached.last().is_some_and(is_over);
        (last && self.last() > 0).then_some(self.last())
    }

    /// Where material is won and stays won: half-moves, and how much in pawns.
    fn material(&self) -> Option<(usize, i32)> {
        let before = self.balance(self.reached.first()?);
        let settled: Vec<(usize, i32)> = (self.reached.iter().enumerate().skip(1))
            .filter(|(_, line)| is_settled(line))
            .map(|(i, line)| (i, self.balance(line) - before))
            .collect();
        let (_, end) = settled.last().copied().filter(|(_, won)| *won >= 1)?;
        // What comes later may add to it: most of it must be there, and none of it may be lost again.
        let enough = |won: i32| won * 2 > end;
        let first = settled.iter().enumerate().find(|(i, (at, won))| {
            let fits = self.reached.get(*at).is_some_and(|l| self.fits(l));
            fits && enough(*won) && settled.iter().skip(*i).all(|(_, later)| later >= won)
        });
        first.map(|(_, point)| *point).filter(|p| p.0 <= POINT_MAX)
    }

    fn balance(&self, line: &Line) -> i32 {
        sacrifice::balance(line.position(), self.claim.gains)
    }

    fn won((plies, _): (usize, i32)) -> Point {
        Point {
            plies,
            shown: Shown::Material,
        }
    }

    /// The end of the game is the point, unless enough was won long before it.
    fn ended(&self, over: usize, material: Option<(usize, i32)>) -> Point {
        let much_earlier = material.filter(|(plies, won)| {
            *won >= PIECE && plies + MATE_SOON < over && !LEVEL.contains(&self.claim.truth.value())
        });
        if let Some(point) = much_earlier {
            return Self::won(point);
        }
        let is_mate = |l: &Line| l.position().is_checkmate();
        let mate = self.reached.last().is_some_and(is_mate);
        if mate && over > PROOF_TOLD_MAX && !self.is_forced_from(PROOF_TOLD_MAX) {
            return Point {
                plies: PROOF_TOLD_MAX,
                shown: Shown::EndFollows,
            };
        }
        Point {
            plies: over,
            shown: Shown::End,
        }
    }

    /// True where from there on the side that does not gain has one move only, or is in check.
    fn is_forced_from(&self, plies: usize) -> bool {
        let later = self.reached.iter().skip(plies);
        let mut theirs = later.filter(|l| l.turn() != self.claim.gains);
        theirs.all(|l| l.position().is_check() || l.position().legal_moves().len() <= 1)
    }

    /// True where the material, counted from the root, does not speak against the standing by a piece.
    fn fits(&self, line: &Line) -> bool {
        let player = line.player();
        let count = |pos| sacrifice::balance(pos, player);
        let won = count(line.position()) - count(line.root());
        let (worse, better) = (LEVEL.start(), LEVEL.end());
        let truth = self.claim.truth.value();
        self.claim.offers || !(won <= -PIECE && truth >= *worse || won >= PIECE && truth <= *better)
    }

    /// A few half-moves to a settled position, some more where there is none among them, and never to one that seems to
    /// say the contrary.
    fn judgement(&self) -> Point {
        let most = self.last().min(JUDGEMENT_MOST);
        let at = |i: &usize| self.reached.get(*i).filter(|line| self.fits(line));
        let settled = |i: &usize| at(i).is_some_and(is_settled);
        // What is offered must be seen taken.
        let few = if self.claim.offers {
            most
        } else {
            most.min(JUDGEMENT_TOLD)
        };
        let plies = (2..=few).rev().find(settled);
        let plies = plies.or_else(|| (few + 1..=most).find(settled));
        let plies = plies.or_else(|| (1..=most).rev().find(|i| at(i).is_some()));
        Point {
            plies: plies.unwrap_or(most.min(1)),
            shown: Shown::Nothing,
        }
    }
}

#[cfg(test)]
mod tests;
