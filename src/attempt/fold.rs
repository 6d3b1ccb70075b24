//! The state that follows from a log: a pure fold.

use super::{After, AttemptEvent, Coached, EndCard, Opened, PLAN_MAX, TimedAttemptEvent};
use crate::board::{Line, line};
use crate::tree::{Author, EditError, NodeId, Tree};

/// How far a sitting has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Looking at the position; entry has not begun.
    Looking,
    /// Writing.
    Writing,
    /// The tree is final.
    Locked,
}

/// Why an event cannot follow the log so far. The state is unchanged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FoldError {
    #[error("{}", tr!("the log does not begin with the opening of the sitting"))]
    NotOpened,
    #[error("{}", tr!("a sitting is opened once, at the beginning of its log"))]
    OpenedTwice,
    #[error("{}", tr!("the position of the sitting cannot be set up: {0}", _0))]
    Position(String),
    #[error(transparent)]
    Edit(#[from] EditError),
    #[error("{}", tr!("the tree is locked: it can no longer be changed"))]
    Locked,
    #[error("{}", tr!("the tree is not locked yet"))]
    NotLocked,
    #[error("{}", tr!("there is nothing to take back"))]
    NothingToUndo,
    #[error("{}", tr!("an end card speaks of the end of a written line"))]
    NotAnEnd,
    #[error("{}", tr!("a plan has at most {PLAN_MAX} characters"))]
    PlanTooLong,
    #[error("{}", tr!("there is nothing to bring back"))]
    NothingToRedo,
    #[error("{}", tr!("the choice must be one of the candidate moves"))]
    NotACandidate,
    #[error("{}", tr!("time runs backwards: {at_ms} ms comes after {last_ms} ms"))]
    TimeRunsBack { at_ms: u64, last_ms: u64 },
}

/// One attempt, as its log has made it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attempt {
    opened: Opened,
    tree: Tree,
    choice: Option<NodeId>,
    stage: Stage,
    last_ms: u64,
    started_ms: Option<u64>,
    locked_ms: Option<u64>,
    end_card: Option<EndCard>,
    after: After,
    coached: Option<Box<Coached>>,
    log: Vec<TimedAttemptEvent>,
}

impl Attempt {
    /// The state after a whole log.
    ///
    /// # Errors
    /// The log does not begin with `Opened`, or an event cannot follow those before it.
    pub fn fold(log: &[TimedAttemptEvent]) -> Result<Self, FoldError> {
        let (first, rest) = log.split_first().ok_or(FoldError::NotOpened)?;
        let mut attempt = Self::open(first)?;
        for event in rest {
            attempt.apply(event)?;
        }
        Ok(attempt)
    }

    /// The state after the first event.
    ///
    /// # Errors
    /// The event is not `Opened`, or its position is none.
    pub fn open(first: &TimedAttemptEvent) -> Result<Self, FoldError> {
        let AttemptEvent::Opened(opened) = &first.what else {
            return Err(FoldError::NotOpened);
        };
        Ok(Self {
            tree: Tree::new(root(opened)?),
            opened: opened.clone(),
            choice: None,
            stage: Stage::Looking,
            last_ms: first.at_ms,
            started_ms: None,
            locked_ms: None,
            end_card: None,
            after: After::default(),
            coached: None,
            log: vec![first.clone()],
        })
    }

    /// The state after one event more.
    ///
    /// # Errors
    /// The event cannot follow; the state is unchanged.
    pub fn apply(&mut self, event: &TimedAttemptEvent) -> Result<(), FoldError> {
        if event.at_ms < self.last_ms {
            return Err(FoldError::TimeRunsBack {
                at_ms: event.at_ms,
                last_ms: self.last_ms,
            });
        }
        self.step(event)?;
        self.last_ms = event.at_ms;
        self.log.push(event.clone());
        Ok(())
    }

    fn step(&mut self, event: &TimedAttemptEvent) -> Result<(), FoldError> {
        match &event.what {
            AttemptEvent::Opened(_) => Err(FoldError::OpenedTwice),
            AttemptEvent::Resumed | AttemptEvent::Left => Ok(()),
            AttemptEvent::Clarified { node, uci } if self.stage == Stage::Locked => {
                self.tree.clarify(*node, uci)?;
                match &mut self.coached {
                    Some(coached) => coached.clarify(*node, uci),
                    None => Ok(()),
                }
            }
            after if after.is_after() && self.stage == Stage::Locked => {
                self.after.take(event.at_ms, after);
                Ok(())
            }
            after if after.is_after() => Err(FoldError::NotLocked),
            AttemptEvent::Sent { .. }
            | AttemptEvent::Coached { .. }
            | AttemptEvent::Overruled { .. }
            | AttemptEvent::Upheld { .. }
                if self.stage == Stage::Locked =>
            {
                self.coach(&event.what)
            }
            AttemptEvent::Clarified { .. }
            | AttemptEvent::Sent { .. }
            | AttemptEvent::Coached { .. }
            | AttemptEvent::Overruled { .. }
            | AttemptEvent::Upheld { .. } => Err(FoldError::NotLocked),
            _ if self.stage == Stage::Locked => Err(FoldError::Locked),
            AttemptEvent::Started => {
                self.stage = Stage::Writing;
                self.started_ms.get_or_insert(event.at_ms);
                Ok(())
            }
            AttemptEvent::Locked => {
                self.stage = Stage::Locked;
                self.locked_ms = Some(event.at_ms);
                Ok(())
            }
            AttemptEvent::EndStated(card) => self.state_end(card),
            AttemptEvent::Undone => self.undo(),
            AttemptEvent::Redone => self.redo(),
            edit => self.edit(edit, event.at_ms),
        }
    }

    fn coach(&mut self, what: &AttemptEvent) -> Result<(), FoldError> {
        let tree = &self.tree;
        let new = || Box::new(Coached::new(tree));
        let coached = self.coached.get_or_insert_with(new);
        match what {
            AttemptEvent::Sent {
                findings,
                homework,
                player,
                ..
            } => coached.sent(findings, homework, player.as_ref()),
            AttemptEvent::Coached { by, remark, .. } => coached.apply(by, remark)?,
            AttemptEvent::Overruled {
                by,
                finding,
                reason,
                ..
            } => coached.overrule(by, finding, reason),
            AttemptEvent::Upheld { finding, .. } => coached.uphold(finding),
            _ => {}
        }
        Ok(())
    }

    fn edit(&mut self, what: &AttemptEvent, at_ms: u64) -> Result<(), FoldError> {
        match what {
            AttemptEvent::Added { parent, text } => {
                self.tree
                    .add_as_typed(*parent, text, Author::Player, at_ms)?;
            }
            AttemptEvent::Struck { node } => self.tree.set_struck(*node, true)?,
            AttemptEvent::Restored { node } => self.tree.set_struck(*node, false)?,
            AttemptEvent::Reordered { node, place } => self.tree.reorder(*node, *place)?,
            AttemptEvent::Judged { node, verdict } => self.tree.set_verdict(*node, *verdict)?,
            AttemptEvent::Commented { node, text } => self.tree.set_comment(*node, text)?,
            AttemptEvent::Chosen { node } => self.choose(*node)?,
            AttemptEvent::Moved { node, parent } => self.relocate(*node, *parent)?,
            AttemptEvent::Retyped { node, text } => self.tree.retype(*node, text)?,
            AttemptEvent::Only { node, only } => self.tree.set_only(*node, *only)?,
            AttemptEvent::SameAs { node, other } => self.tree.set_same_as(*node, *other)?,
            _ => {}
        }
        Ok(())
    }

    /// A chosen candidate that becomes an answer is chosen no longer.
    fn relocate(&mut self, node: NodeId, parent: NodeId) -> Result<(), FoldError> {
        self.tree.relocate(node, parent)?;
        if self.choice == Some(node) && parent != NodeId::ROOT {
            self.choice = None;
        }
        Ok(())
    }

    fn choose(&mut self, node: Option<NodeId>) -> Result<(), FoldError> {
        if node.is_some_and(|n| self.tree.parent(n) != Some(NodeId::ROOT) || !self.tree.stands(n)) {
            return Err(FoldError::NotACandidate);
        }
        self.choice = node;
        Ok(())
    }

    fn state_end(&mut self, card: &EndCard) -> Result<(), FoldError> {
        if self.tree.node(card.node).is_none() || !self.tree.stands(card.node) {
            return Err(FoldError::NotAnEnd);
        }
        if card.plan.chars().count() > PLAN_MAX {
            return Err(FoldError::PlanTooLong);
        }
        self.end_card = (!card.is_empty()).then(|| card.clone());
        Ok(())
    }

    /// Takes back the last edit that still counts, by building the tree again without it.
    fn undo(&mut self) -> Result<(), FoldError> {
        let (mut edits, _) = self.edits();
        edits.pop().ok_or(FoldError::NothingToUndo)?;
        let edits: Vec<TimedAttemptEvent> = edits.into_iter().cloned().collect();
        self.tree = Tree::new(root(&self.opened)?);
        self.choice = None;
        for event in &edits {
            self.edit(&event.what, event.at_ms)?;
        }
        // The number of a move that is gone may come again for another one.
        let gone =
            |card: &EndCard| !self.tree.stands(card.node) || self.tree.node(card.node).is_none();
        if self.end_card.as_ref().is_some_and(gone) {
            self.end_card = None;
        }
        Ok(())
    }

    /// Lets the edit that was taken back last stand again.
    fn redo(&mut self) -> Result<(), FoldError> {
        let (_, mut undone) = self.edits();
        let event = undone.pop().ok_or(FoldError::NothingToRedo)?.clone();
        self.edit(&event.what, event.at_ms)
    }

    /// The edits that count, and those that were taken back and can be brought back, the last one last.
    pub(super) fn edits(&self) -> (Vec<&TimedAttemptEvent>, Vec<&TimedAttemptEvent>) {
        let (mut edits, mut undone) = (Vec::new(), Vec::new());
        for event in &self.log {
            match event.what {
                AttemptEvent::Undone => undone.extend(edits.pop()),
                AttemptEvent::Redone => edits.extend(undone.pop()),
                _ if event.what.is_edit() => {
                    edits.push(event);
                    undone.clear();
                }
                _ => {}
            }
        }
        (edits, undone)
    }

    /// The circumstances of the sitting.
    #[must_use]
    pub fn opened(&self) -> &Opened {
        &self.opened
    }

    /// The written tree.
    #[must_use]
    pub fn tree(&self) -> &Tree {
        &self.tree
    }

    /// The candidate the player is going to play.
    #[must_use]
    pub fn choice(&self) -> Option<NodeId> {
        self.choice
    }

    /// The last move of the choice's line: from the choice on the first of the moves that stand. `None`
    /// before anything is chosen.
    #[must_use]
    pub fn end_of_choice(&self) -> Option<NodeId> {
        let first = |id: &NodeId| self.tree.standing(*id).next();
        std::iter::successors(self.choice, first).last()
    }

    /// What he said of the board at the end of his line. It speaks of the written move it names, which may
    /// since have been struck out or written on from.
    #[must_use]
    pub fn end_card(&self) -> Option<&EndCard> {
        self.end_card.as_ref()
    }

    #[must_use]
    pub fn stage(&self) -> Stage {
        self.stage
    }

    /// Sitting time of the last event, in milliseconds.
    #[must_use]
    pub fn last_ms(&self) -> u64 {
        self.last_ms
    }

    /// When writing began, in milliseconds of sitting time.
    #[must_use]
    pub fn started_ms(&self) -> Option<u64> {
        self.started_ms
    }

    /// When the tree was locked, in milliseconds of sitting time.
    #[must_use]
    pub fn locked_ms(&self) -> Option<u64> {
        self.locked_ms
    }

    /// The lines he held against the review, with the sitting time of each in milliseconds.
    #[must_use]
    pub fn doubts(&self) -> &[(u64, String)] {
        &self.after.doubts
    }

    /// Everything else that was added after the lock.
    #[must_use]
    pub fn after(&self) -> &After {
        &self.after
    }

    /// What coaches wrote to it; `None` where it was never sent and nothing came.
    #[must_use]
    pub fn coached(&self) -> Option<&Coached> {
        self.coached.as_deref()
    }

    /// True where a coach struck the finding of that kind and move at one of those paths.
    #[must_use]
    pub fn is_overruled(&self, paths: &[Vec<String>], kind: &str, resource: &str) -> bool {
        let coached = self.coached.as_deref();
        coached.is_some_and(|c| {
            let mut struck = c.overruled().iter();
            struck.any(|o| o.finding.names(paths, kind, resource))
        })
    }

    /// Everything that happened, in order.
    #[must_use]
    pub fn log(&self) -> &[TimedAttemptEvent] {
        &self.log
    }
}

impl AttemptEvent {
    /// True for what `Undone` can take back.
    #[must_use]
    pub fn is_edit(&self) -> bool {
        matches!(
            self,
            Self::Added { .. }
                | Self::Struck { .. }
                | Self::Restored { .. }
                | Self::Reordered { .. }
                | Self::Judged { .. }
                | Self::Commented { .. }
                | Self::Chosen { .. }
                | Self::Moved { .. }
                | Self::Retyped { .. }
                | Self::Only { .. }
                | Self::SameAs { .. }
        )
    }
}

/// The root line of a sitting.
fn root(opened: &Opened) -> Result<Line, FoldError> {
    line::replay(&opened.start_fen, &opened.past).map_err(FoldError::Position)
}

/// The moves of a line's past in the form [`Opened::past`] keeps them.
#[must_use]
pub fn past_as_uci(played: &Line) -> Vec<String> {
    played.past().iter().map(line::uci).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attempt::{BoardVisibility, Material, Mover, Origin};

    fn log(whats: Vec<AttemptEvent>) -> Vec<TimedAttemptEvent> {
        let opened = AttemptEvent::Opened(Opened {
            origin: Origin::Position,
            start_fen: "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1".to_owned(),
            past: Vec::new(),
            budget_ms: None,
            sight: BoardVisibility::Root,
            wall_ms: 0,
            quick: None,
        });
        let all = std::iter::once(opened)
            .chain([AttemptEvent::Started])
            .chain(whats);
        (0..)
            .zip(all)
            .map(|(at_ms, what)| TimedAttemptEvent { at_ms, what })
            .collect()
    }

    fn added(parent: u32, text: &str) -> AttemptEvent {
        AttemptEvent::Added {
            parent: NodeId(parent),
            text: text.to_owned(),
        }
    }

    fn stated(node: u32, material: &str) -> AttemptEvent {
        AttemptEvent::EndStated(EndCard {
            mover: Some(Mover::Him),
            material: Some(Material::parse(material).unwrap()),
            ..EndCard::new(NodeId(node))
        })
    }

    #[test]
    fn the_last_end_card_counts_and_an_empty_one_takes_it_back() {
        let mut events = vec![added(0, "c7"), stated(1, "rook down"), stated(1, "-4")];
        let attempt = Attempt::fold(&log(events.clone())).unwrap();
        let said = attempt.end_card().unwrap().material.as_ref().unwrap();
        assert_eq!(said.to_string(), "-4");
        events.push(AttemptEvent::EndStated(EndCard::new(NodeId(1))));
        assert_eq!(Attempt::fold(&log(events)).unwrap().end_card(), None);
    }

    #[test]
    fn an_end_card_goes_with_the_move_it_speaks_of() {
        let undone = vec![added(0, "c7"), added(1, "Rd6+"), stated(2, "=")];
        let kept = Attempt::fold(&log([undone.clone(), vec![added(2, "Kb5")]].concat())).unwrap();
        assert!(kept.end_card().is_some());
        let taken_back = [undone, vec![AttemptEvent::Undone, added(1, "Rd7")]].concat();
        assert_eq!(Attempt::fold(&log(taken_back)).unwrap().end_card(), None);
    }

    #[test]
    fn an_end_card_must_speak_of_a_written_move_before_the_lock() {
        let error = |whats| Attempt::fold(&log(whats)).unwrap_err();
        assert_eq!(error(vec![stated(0, "=")]), FoldError::NotAnEnd);
        assert_eq!(error(vec![stated(7, "=")]), FoldError::NotAnEnd);
        let locked = vec![added(0, "c7"), AttemptEvent::Locked, stated(1, "=")];
        assert_eq!(error(locked), FoldError::Locked);
        let long = EndCard {
            plan: "x".repeat(PLAN_MAX + 1),
            ..EndCard::new(NodeId(1))
        };
        let plan = vec![added(0, "c7"), AttemptEvent::EndStated(long)];
        insta::assert_snapshot!(error(plan), @"a plan has at most 400 characters");
    }
}
