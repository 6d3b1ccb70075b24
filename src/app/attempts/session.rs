//! One sitting: an attempt that grows, each event kept before it counts.

use std::sync::Arc;

use crate::app::attempts::background::BackgroundAnalysis;
use crate::app::attempts::records::AttemptId;
use crate::app::attempts::repository::{AttemptRepository, Step};
use crate::app::{AppError, Clock};
use crate::attempt::{
    Attempt, AttemptEvent, BoardVisibility, EndCard, Opened, Stage, TimedAttemptEvent,
};
use crate::notation::Reading;
use crate::tree::{NodeId, Tree, Verdict};

/// A piece of what the player writes in one go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EntryToken {
    /// A half-move below the last one.
    Move(String),
    /// A verdict on the move before it.
    Verdict(Verdict),
    /// Words on the move before it.
    Comment(String),
}

/// A sitting that is going on.
pub struct AttemptSession {
    id: AttemptId,
    attempt: Attempt,
    repository: Arc<AttemptRepository>,
    clock: Arc<dyn Clock>,
    /// Tick of the clock at which the sitting time was zero, as far as gaps allow.
    zero: i128,
    /// The first event is kept.
    begun: bool,
    /// Works on what is written; ends with the lock.
    ahead: Option<BackgroundAnalysis>,
}

impl AttemptSession {
    /// Opens a new sitting with its first event, which is kept together with the second: a sitting
    /// that was only looked at leaves nothing behind.
    ///
    /// # Errors
    /// The event does not open a sitting.
    pub(crate) fn open(
        id: AttemptId,
        first: &TimedAttemptEvent,
        repository: Arc<AttemptRepository>,
        clock: Arc<dyn Clock>,
    ) -> Result<Self, AppError> {
        let attempt = Attempt::open(first)?;
        let mut sitting = Self::at(id, attempt, repository, clock);
        sitting.begun = false;
        Ok(sitting)
    }

    /// Takes a sitting up where its log ends.
    pub(crate) fn at(
        id: AttemptId,
        attempt: Attempt,
        repository: Arc<AttemptRepository>,
        clock: Arc<dyn Clock>,
    ) -> Self {
        let zero = i128::from(clock.ticks_ms()) - i128::from(attempt.last_ms());
        Self {
            id,
            attempt,
            repository,
            clock,
            zero,
            begun: true,
            ahead: None,
        }
    }

    /// With a worker that thinks ahead.
    pub(crate) fn with(mut self, ahead: Option<BackgroundAnalysis>) -> Self {
        self.ahead = ahead;
        self.offer();
        self
    }

    fn offer(&self) {
        if let Some(ahead) = &self.ahead
            && !self.tree().is_empty()
        {
            ahead.offer(self.tree(), self.attempt.choice());
        }
    }

    #[must_use]
    pub fn id(&self) -> &AttemptId {
        &self.id
    }

    #[must_use]
    pub fn attempt(&self) -> &Attempt {
        &self.attempt
    }

    #[must_use]
    pub fn tree(&self) -> &Tree {
        self.attempt.tree()
    }

    #[must_use]
    pub fn stage(&self) -> Stage {
        self.attempt.stage()
    }

    /// Sitting time now, in milliseconds.
    #[must_use]
    pub fn now_ms(&self) -> u64 {
        let now = i128::from(self.clock.ticks_ms()) - self.zero;
        u64::try_from(now).unwrap_or(0).max(self.attempt.last_ms())
    }

    /// Thinking time used: since writing began, until the lock.
    #[must_use]
    pub fn used_ms(&self) -> u64 {
        let end = self.attempt.locked_ms().unwrap_or_else(|| self.now_ms());
        self.attempt
            .started_ms()
            .map_or(0, |start| end.saturating_sub(start))
    }

    /// Thinking time left, negative once the budget is overrun; `None` where there is no budget.
    #[must_use]
    pub fn left_ms(&self) -> Option<i64> {
        let budget = i64::try_from(self.attempt.opened().budget_ms?).ok()?;
        Some(budget - i64::try_from(self.used_ms()).unwrap_or(i64::MAX))
    }

    /// Writing begins; the clock of the entry runs.
    ///
    /// # Errors
    /// The event could not be kept, or the tree is locked.
    pub fn start(&mut self) -> Result<(), AppError> {
        self.record(AttemptEvent::Started)
    }

    /// Writes below `at`: moves one below the other, verdicts and words on the move before them.
    /// Gives the last move written (or `at`). What cannot stand there is refused as a whole, and so is
    /// what cannot be kept: a line is kept in one step.
    ///
    /// # Errors
    /// A piece cannot stand there, or the events could not be kept.
    pub fn write(&mut self, at: NodeId, pieces: &[EntryToken]) -> Result<NodeId, AppError> {
        if pieces.iter().any(|p| matches!(p, EntryToken::Move(_))) {
            self.in_time(pieces.len())?;
        }
        let mut copy = self.attempt.clone();
        let last = self.plan(&mut copy, at, pieces)?;
        self.keep(copy)?;
        self.offer();
        Ok(last)
    }

    /// In quick calculation nothing of the tree changes once the time is over. Where nothing stands there yet one move may be
    /// written all the same: he has to play something.
    fn in_time(&self, moves: usize) -> Result<(), AppError> {
        let over = self.attempt.opened().quick.is_some() && self.left_ms().is_some_and(|l| l < 0);
        match over && !(self.tree().is_empty() && moves == 1) {
            true => Err(AppError::TimeOver),
            false => Ok(()),
        }
    }

    /// Writes `pieces` into a copy of the attempt; gives the last move.
    fn plan(
        &self,
        copy: &mut Attempt,
        at: NodeId,
        pieces: &[EntryToken],
    ) -> Result<NodeId, AppError> {
        let mut at = at;
        // One time for all of it: what was written in one go is taken back in one.
        let at_ms = self.next_ms();
        for piece in pieces {
            // A move that stands there already is walked into: nothing happens to the tree.
            if let EntryToken::Move(text) = piece
                && let Some(twin) = copy.tree().find_as_typed(at, text)
                && copy.tree().node(twin).is_some_and(|n| !n.struck)
            {
                at = twin;
                continue;
            }
            let what = piece.event(at);
            copy.apply(&TimedAttemptEvent { at_ms, what })?;
            if let EntryToken::Move(text) = piece {
                at = copy.tree().find_as_typed(at, text).unwrap_or(at);
            }
        }
        Ok(at)
    }

    /// Strikes a move out, or lets it stand again.
    ///
    /// # Errors
    /// There is no such move, or the event could not be kept.
    pub fn strike(&mut self, node: NodeId, struck: bool) -> Result<(), AppError> {
        self.in_time(0)?;
        self.record(if struck {
            AttemptEvent::Struck { node }
        } else {
            AttemptEvent::Restored { node }
        })
    }

    /// Gives a move another place among its alternatives.
    ///
    /// # Errors
    /// There is no such place, or the event could not be kept.
    pub fn reorder(&mut self, node: NodeId, place: usize) -> Result<(), AppError> {
        self.record(AttemptEvent::Reordered { node, place })
    }

    /// Puts another text in the place of a written one.
    ///
    /// # Errors
    /// It is no move of any kind, the same text stands there, or the event could not be kept.
    pub fn retype(&mut self, node: NodeId, text: &str) -> Result<(), AppError> {
        self.in_time(0)?;
        let text = text.trim().to_owned();
        self.record(AttemptEvent::Retyped { node, text })
    }

    /// Takes the last edit back; of a line that was written in one go all of it.
    ///
    /// # Errors
    /// There is none, or the events could not be kept.
    pub fn undo(&mut self) -> Result<(), AppError> {
        self.repeat(&AttemptEvent::Undone, self.attempt.last_entry())
    }

    /// Brings back what was taken back last.
    ///
    /// # Errors
    /// There is none, or the events could not be kept.
    pub fn redo(&mut self) -> Result<(), AppError> {
        self.repeat(&AttemptEvent::Redone, self.attempt.last_undone())
    }

    fn repeat(&mut self, what: &AttemptEvent, times: usize) -> Result<(), AppError> {
        self.in_time(0)?;
        let mut next = self.attempt.clone();
        for _ in 0..times.max(1) {
            next.apply(&self.event(what.clone()))?;
        }
        self.keep(next)?;
        self.offer();
        Ok(())
    }

    /// Puts a move with what stands below it at another place in the tree.
    ///
    /// # Errors
    /// It cannot stand there, or the event could not be kept.
    pub fn relocate(&mut self, node: NodeId, parent: NodeId) -> Result<(), AppError> {
        self.in_time(0)?;
        self.record(AttemptEvent::Moved { node, parent })
    }

    /// Says whether a move is a candidate only, without a line on purpose.
    ///
    /// # Errors
    /// There is no such move, or the event could not be kept.
    pub fn only(&mut self, node: NodeId, only: bool) -> Result<(), AppError> {
        self.record(AttemptEvent::Only { node, only })
    }

    /// Says that a move leads to the same position as another one, in the player's eyes.
    ///
    /// # Errors
    /// One of them is no move of the tree, or the event could not be kept.
    pub fn same_as(&mut self, node: NodeId, other: Option<NodeId>) -> Result<(), AppError> {
        self.record(AttemptEvent::SameAs { node, other })
    }

    /// Chooses what of the board is seen while writing; only before anything is kept.
    ///
    /// # Errors
    /// The sitting has begun.
    pub fn see(&mut self, sight: BoardVisibility) -> Result<(), AppError> {
        self.open_anew(|opened| opened.sight = sight)
    }

    fn open_anew(&mut self, change: impl FnOnce(&mut Opened)) -> Result<(), AppError> {
        let first = self.attempt.log().first().cloned();
        let Some(mut first) = first.filter(|_| !self.begun) else {
            return Err(AppError::Begun);
        };
        if let AttemptEvent::Opened(opened) = &mut first.what {
            change(opened);
        }
        self.attempt = Attempt::open(&first)?;
        Ok(())
    }

    /// Chooses the thinking time, `None` for no limit; only before anything is kept.
    ///
    /// # Errors
    /// The sitting has begun, or it is quick calculation, whose clock is not chosen.
    pub fn give_time(&mut self, budget_ms: Option<u64>) -> Result<(), AppError> {
        if self.attempt.opened().quick.is_some() {
            return Err(AppError::QuickClock);
        }
        self.open_anew(|opened| opened.budget_ms = budget_ms)
    }

    /// Goes on after [`AttemptSession::leave`] without leaving the program: the time between does not count.
    ///
    /// # Errors
    /// The event could not be kept.
    pub fn go_on(&mut self) -> Result<(), AppError> {
        self.zero = i128::from(self.clock.ticks_ms()) - i128::from(self.attempt.last_ms());
        self.record(AttemptEvent::Resumed)
    }

    /// Adds what is said once the tree is locked: a second look, an answer to a finding.
    ///
    /// # Errors
    /// The tree is not locked, or the event could not be kept.
    pub fn add(&mut self, what: AttemptEvent) -> Result<(), AppError> {
        if !what.is_after() {
            return Err(AppError::NotLocked);
        }
        self.record(what)
    }

    /// Names the candidate the player is going to play. Naming the same one again is no event.
    ///
    /// # Errors
    /// The move is no standing candidate, or the event could not be kept.
    pub fn choose(&mut self, node: NodeId) -> Result<(), AppError> {
        if self.attempt.choice() == Some(node) {
            return Ok(());
        }
        self.record(AttemptEvent::Chosen { node: Some(node) })
    }

    /// Keeps what he says of the board at the end of his line; see [`EndCard`]. The same card again is no
    /// event.
    ///
    /// # Errors
    /// It speaks of no standing move, its plan is too long, or the event could not be kept.
    pub fn state_end(&mut self, card: EndCard) -> Result<(), AppError> {
        let said = self.attempt.end_card();
        if said == Some(&card) || said.is_none() && card.is_empty() {
            return Ok(());
        }
        self.record(AttemptEvent::EndStated(card))
    }

    /// Makes the tree final.
    ///
    /// # Errors
    /// No choice was made, or the event could not be kept.
    pub fn lock(&mut self) -> Result<(), AppError> {
        if self.attempt.choice().is_none() {
            return Err(AppError::NoChoice);
        }
        let mut next = self.attempt.clone();
        next.apply(&self.event(AttemptEvent::Locked))?;
        let mut step = self.repository.step();
        self.put_new_events(&mut step, &next)?;
        step.close(&self.id, &next)?;
        step.keep()?;
        self.stands(next);
        self.ahead = None;
        Ok(())
    }

    /// The player goes away; the time until now counts. Before writing has begun this is no event.
    ///
    /// # Errors
    /// The event could not be kept.
    pub fn leave(&mut self) -> Result<(), AppError> {
        match self.stage() {
            Stage::Writing => self.record(AttemptEvent::Left),
            Stage::Looking | Stage::Locked => Ok(()),
        }
    }

    /// Says, after the lock, which of its meanings an ambiguous text has.
    ///
    /// # Errors
    /// The tree is not locked, the move is not ambiguous, or `uci` is none of its meanings.
    pub fn clarify(&mut self, node: NodeId, uci: &str) -> Result<(), AppError> {
        self.record(AttemptEvent::Clarified {
            node,
            uci: uci.to_owned(),
        })
    }

    /// The standing moves whose text fits several legal moves, in the order of writing.
    #[must_use]
    pub fn ambiguous(&self) -> Vec<NodeId> {
        let tree = self.tree();
        tree.nodes()
            .filter(|(id, n)| matches!(n.reading, Reading::Ambiguous(_)) && tree.stands(*id))
            .map(|(id, _)| id)
            .collect()
    }

    pub(crate) fn record(&mut self, what: AttemptEvent) -> Result<(), AppError> {
        let mut next = self.attempt.clone();
        next.apply(&self.event(what))?;
        self.keep(next)?;
        self.offer();
        Ok(())
    }

    /// Sitting time now, but later than the entry before: entries are told apart by their times.
    fn next_ms(&self) -> u64 {
        let last = self.attempt.log().last();
        let after = last.filter(|event| event.what.is_entry());
        let after = after.map_or(0, |event| event.at_ms + 1);
        self.now_ms().max(after)
    }

    fn event(&self, what: AttemptEvent) -> TimedAttemptEvent {
        TimedAttemptEvent {
            at_ms: self.now_ms(),
            what,
        }
    }

    /// The attempt as it is to be, once its new events are on disk.
    fn keep(&mut self, next: Attempt) -> Result<(), AppError> {
        if next.log().len() == self.attempt.log().len() {
            return Ok(());
        }
        let mut step = self.repository.step();
        self.put_new_events(&mut step, &next)?;
        step.keep()?;
        self.stands(next);
        Ok(())
    }

    /// The events of `next` that are not kept yet; with the first ones the sitting is begun.
    fn put_new_events(&self, step: &mut Step<'_>, next: &Attempt) -> Result<(), AppError> {
        let kept = match self.begun {
            true => self.attempt.log().len(),
            false => 0,
        };
        if !self.begun && !next.log().is_empty() {
            step.begin(&self.id)?;
        }
        for (number, event) in next.log().iter().enumerate().skip(kept) {
            step.append(&self.id, number, event)?;
        }
        Ok(())
    }

    /// The one place where the state changes: after it is on disk.
    fn stands(&mut self, next: Attempt) {
        self.begun |= !next.log().is_empty();
        self.attempt = next;
    }
}

impl EntryToken {
    fn event(&self, at: NodeId) -> AttemptEvent {
        match self {
            Self::Move(text) => AttemptEvent::Added {
                parent: at,
                text: text.clone(),
            },
            Self::Verdict(verdict) => AttemptEvent::Judged {
                node: at,
                verdict: Some(*verdict),
            },
            Self::Comment(text) => AttemptEvent::Commented {
                node: at,
                text: text.clone(),
            },
        }
    }
}
