//! What the review stops at, one after the other, and the lines that are told there.

use crate::coach::CoachWord;
use crate::review::{EndCardRead, Finding, Note};
use crate::tree::NodeId;
use crate::tui::screens::review::open_review::{OpenReview, ReviewPane};

/// One stop of the review.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReviewStop {
    /// The opening, what held, and what is to come.
    Summary,
    /// What a coach said at one place; before the engine's findings, which it outranks.
    Coach(usize),
    Finding(usize),
    EndCard,
    Note(usize),
    /// What could not be judged.
    Unjudged,
}

/// The lines of a stop.
pub struct ComparedLines {
    pub(crate) own: Vec<String>,
    /// What is set beside his line, and its name; `None` where his line stands alone.
    pub(crate) other: Option<(&'static str, Vec<String>)>,
    /// Half-moves they share; the next one differs.
    pub(crate) shared: usize,
}

impl ComparedLines {
    fn alone(own: Vec<String>) -> Self {
        Self {
            shared: own.len(),
            own,
            other: None,
        }
    }

    /// Two lines that part behind a way.
    fn parting(way: &[String], own: &[String], name: &'static str, other: &[String]) -> Self {
        Self {
            own: [way, own].concat(),
            other: Some((name, [way, other].concat())),
            shared: way.len(),
        }
    }
}

impl OpenReview {
    /// All stops, in order.
    #[must_use]
    pub fn stops(&self) -> Vec<ReviewStop> {
        let mut stops = vec![ReviewStop::Summary];
        stops.extend((0..self.coach.len()).map(ReviewStop::Coach));
        stops.extend((0..self.snapshot.findings().len()).map(ReviewStop::Finding));
        if let Some(review) = self.snapshot.whole() {
            stops.extend(review.end_card.iter().map(|_| ReviewStop::EndCard));
            stops.extend((0..review.notes.len()).map(ReviewStop::Note));
            stops.extend((!review.unjudged.is_empty()).then_some(ReviewStop::Unjudged));
        }
        stops
    }

    /// Where it stands; none while a moment is shown in its place.
    #[must_use]
    pub fn stop(&self) -> Option<ReviewStop> {
        let shown = self.moment.is_none();
        self.stops().get(self.at).copied().filter(|_| shown)
    }

    pub(crate) fn finding(&self) -> Option<&Finding> {
        match self.stop()? {
            ReviewStop::Finding(i) => self.snapshot.findings().get(i),
            _ => None,
        }
    }

    pub(crate) fn coach_word(&self) -> Option<&CoachWord> {
        match self.stop()? {
            ReviewStop::Coach(i) => self.coach.get(i),
            _ => None,
        }
    }

    pub(crate) fn end_card(&self) -> Option<&EndCardRead> {
        match self.stop()? {
            ReviewStop::EndCard => self.snapshot.whole()?.end_card.as_ref(),
            _ => None,
        }
    }

    pub(crate) fn note(&self) -> Option<&Note> {
        match self.stop()? {
            ReviewStop::Note(i) => self.snapshot.whole()?.notes.get(i),
            _ => None,
        }
    }

    /// The place in the stops of a finding.
    pub(crate) fn place_of_finding(&self, finding: usize) -> usize {
        1 + self.coach.len() + finding
    }

    /// The written move that the stop is about.
    pub(crate) fn stop_node(&self) -> NodeId {
        let coach = self.coach_word().map(|w| w.at);
        let finding = self.finding().map(|f| f.at);
        let card = self.end_card().map(|c| c.node);
        let note = self.note().map(|n| n.node);
        let own = coach.or(finding).or(card).or(note);
        own.unwrap_or(NodeId::ROOT)
    }

    /// His line and what is set beside it.
    #[must_use]
    pub fn rows(&self) -> ComparedLines {
        if self.pane == ReviewPane::Tree {
            return self.rows_of_tree();
        }
        if let Some(moment) = &self.moment {
            let seen = std::slice::from_ref(&moment.resource);
            return ComparedLines::parting(&moment.path, &[], self.truth_name(), seen);
        }
        if let Some(finding) = self.finding() {
            let way = finding.paths.first().map_or(&[][..], Vec::as_slice);
            let name = self.truth_name();
            return ComparedLines::parting(way, &finding.instead, name, &finding.proof);
        }
        if let Some(word) = self.coach_word() {
            let own = self.line_from(word.at);
            let below = own.get(word.path.len()..).unwrap_or_default();
            return match word.line.as_slice() {
                [] if own.is_empty() => ComparedLines::alone(word.path.clone()),
                [] => ComparedLines::alone(own),
                line => ComparedLines::parting(&word.path, below, tr!("the coach"), line),
            };
        }
        if let Some(card) = self.end_card() {
            return ComparedLines::parting(&card.path, &[], tr!("then"), &card.follows);
        }
        if let Some(note) = self.note() {
            return ComparedLines::alone(note.path.clone());
        }
        ComparedLines::alone(self.choice_line())
    }

    fn choice_line(&self) -> Vec<String> {
        let choice = self.attempt.choice();
        choice.map_or_else(Vec::new, |choice| self.line_from(choice))
    }

    /// How far the board has followed the lines when a stop opens.
    pub(crate) fn first_step(&self) -> usize {
        match self.stop() {
            Some(ReviewStop::Summary | ReviewStop::Unjudged) => 0,
            Some(ReviewStop::Coach(_)) => self.coach_word().map_or(0, |w| w.path.len()),
            _ => self.rows().shared,
        }
    }

    fn truth_name(&self) -> &'static str {
        if self.his_side {
            tr!("his plan")
        } else {
            tr!("the truth")
        }
    }

    /// The line through the move under the cursor, and what was missed there.
    fn rows_of_tree(&self) -> ComparedLines {
        let own = match self.cursor {
            NodeId::ROOT => self.choice_line(),
            cursor => self.line_from(cursor),
        };
        let way = self.shown_tree().sans(self.cursor);
        let here = self.findings_at(self.cursor);
        match here.first() {
            Some(finding) => {
                let below = own.get(way.len()..).unwrap_or_default();
                ComparedLines::parting(&way, below, self.truth_name(), &finding.proof)
            }
            None => ComparedLines::alone(own),
        }
    }

    /// The findings at a written move, those that count first.
    pub(crate) fn findings_at(&self, node: NodeId) -> Vec<&Finding> {
        let all = self.snapshot.findings().iter();
        all.filter(|f| f.at == node).collect()
    }

    /// The way to a move and on along the first of the moves that stand.
    pub(crate) fn line_from(&self, node: NodeId) -> Vec<String> {
        let tree = self.shown_tree();
        let mut line = tree.sans(node);
        let mut at = tree.standing(node).next().filter(|_| node != NodeId::ROOT);
        while let Some(next) = at {
            line.push(tree.san(next));
            at = tree.standing(next).next();
        }
        line
    }
}
