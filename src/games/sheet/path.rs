//! Playing a sheet on from a position, as far as it fits.

use std::rc::Rc;

use shakmaty::{Chess, Move, Position};

use super::cost::{self, Habits};
use super::{Entry, Slip};
use crate::notation::meanings;

/// Ways in which the words can be read that are followed at once.
const WAYS: usize = 24;

/// A game up to some entry of the sheet.
#[derive(Debug, Clone)]
pub(super) struct Way {
    pub(super) pos: Chess,
    /// The next entry.
    pub(super) at: usize,
    /// The last half-move; the ones before it by its links.
    pub(super) last: Option<Rc<Step>>,
    pub(super) slips: Vec<Slip>,
    pub(super) cost: f64,
    /// The same way right behind its last slip.
    pub(super) slipped: Option<Rc<Way>>,
}

/// A half-move with the entry that says it.
#[derive(Debug)]
pub(super) struct Step {
    mv: Move,
    entry: Option<usize>,
    before: Option<Rc<Step>>,
}

impl Way {
    pub(super) fn new(start: &Chess) -> Self {
        Self {
            pos: start.clone(),
            at: 0,
            last: None,
            slips: Vec::new(),
            cost: 0.0,
            slipped: None,
        }
    }

    /// With the mark that its last slip is right behind it.
    pub(super) fn marked(mut self) -> Self {
        self.slipped = None;
        self.slipped = Some(Rc::new(self.clone()));
        self
    }

    /// One half-move on.
    pub(super) fn play(&mut self, mv: &Move, entry: Option<usize>) {
        self.pos.play_unchecked(mv);
        self.last = Some(Rc::new(Step {
            mv: mv.clone(),
            entry,
            before: self.last.take(),
        }));
    }

    /// The game, and the entry behind each move.
    pub(super) fn game(&self) -> (Vec<Move>, Vec<Option<usize>>) {
        let (mut moves, mut from) = (Vec::new(), Vec::new());
        let mut at = self.last.as_deref();
        while let Some(step) = at {
            moves.push(step.mv.clone());
            from.push(step.entry);
            at = step.before.as_deref();
        }
        moves.reverse();
        from.reverse();
        (moves, from)
    }
}

/// Follows the sheet from a way on; gives where each of its readings ends, and every way on the road (`on_the_road`).
pub(super) fn follow(
    from: Way,
    entries: &[Entry],
    habits: Habits,
    on_the_road: &mut dyn FnMut(&Way),
) -> Vec<Way> {
    let mut open = vec![from];
    let mut ended = Vec::new();
    while let Some(mut way) = open.pop() {
        loop {
            on_the_road(&way);
            let Some(entry) = entries.get(way.at) else {
                break;
            };
            let Ok(token) = &entry.token else {
                break;
            };
            let mut fits = meanings(token, &way.pos);
            let Some(first) = fits.pop() else {
                break;
            };
            for other in &fits {
                if open.len() >= WAYS {
                    break;
                }
                let mut twin = way.clone();
                twin.cost += cost::OPEN + cost::marks(token, &way.pos, other, habits);
                twin.play(other, Some(way.at));
                twin.at += 1;
                open.push(twin);
            }
            if !fits.is_empty() {
                way.cost += cost::OPEN;
            }
            way.cost += cost::marks(token, &way.pos, &first, habits);
            way.play(&first, Some(way.at));
            way.at += 1;
        }
        ended.push(way);
    }
    ended
}
