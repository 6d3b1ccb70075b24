//! What the judge says of every written position and of every move that must be compared there.
//!
//! Two moves are compared on equal terms only: each is played and its position searched alone with
//! the same number of nodes. At the opponent's turn every check, capture and promotion is searched by
//! itself, whatever the search of the position itself preferred: nothing rests on one search's pruning.

use std::collections::BTreeMap;

use shakmaty::{Color, Move, Position};

use super::asker::{Asker, for_player};
use super::{Settings, Written, refute};
use crate::board::{Line, motif};
use crate::judge::{Answer, JudgeError, Question};
use crate::tree::{NodeId, Tree};

/// Best moves asked for at the root, where 'several are equally good' has to be noticed.
const ROOT_LINES: usize = 5;
/// Best moves asked for elsewhere.
const LINES: usize = 3;
/// Below the root the search that only proposes moves gets this part of the nodes: what it proposes is
/// searched again, each move alone.
const PROPOSE: u64 = 2;
/// A capture or promotion gets a full search only if this part of the nodes did not already show it
/// harmless. A check always gets one: what it gives up comes back late, after a small search's end.
pub(super) const SCREEN: u64 = 10;
/// Forcing replies that get a full search at one place, at most.
const FORCING_MAX: usize = 6;

/// One move at a place. All expected scores are the player's, 0 to 1.
#[derive(Debug, Clone)]
pub(super) struct Scored {
    pub mv: Move,
    /// The written node, where it was written.
    pub node: Option<NodeId>,
    /// Its position searched alone.
    pub alone: f64,
    /// The same with all that was learnt below, where it was written.
    pub worth: f64,
    /// What the judge expects to follow, this move first.
    pub pv: Vec<Move>,
}

/// One written position.
#[derive(Debug, Clone)]
pub(super) struct Place {
    pub line: Line,
    /// The moves that the search of the position itself preferred, in its order.
    liked: Vec<Move>,
    /// Moves by what they are worth to the side that plays them, the best first.
    pub moves: Vec<Scored>,
    /// The position searched alone.
    pub alone: f64,
    pub pv: Vec<Move>,
    /// Backed up from the moves, where they were compared.
    pub worth: f64,
}

impl Place {
    /// A position about which nothing has been asked.
    pub(super) fn bare(line: Line) -> Self {
        Self {
            line,
            liked: Vec::new(),
            moves: Vec::new(),
            alone: 0.5,
            pv: Vec::new(),
            worth: 0.5,
        }
    }

    pub(super) fn is_players_turn(&self) -> bool {
        self.line.turn() == self.line.player()
    }

    /// Positive where `a` suits the side to move better than `b`, by that much.
    pub(super) fn prefers(&self, a: f64, b: f64) -> f64 {
        if self.is_players_turn() { a - b } else { b - a }
    }

    pub(super) fn written(&self) -> impl Iterator<Item = &Scored> {
        self.moves.iter().filter(|m| m.node.is_some())
    }

    pub(super) fn unwritten(&self) -> impl Iterator<Item = &Scored> {
        self.moves.iter().filter(|m| m.node.is_none())
    }

    pub(super) fn best(&self) -> Option<&Scored> {
        self.moves.first()
    }
}

/// The truth about a written tree, as far as it was asked.
pub(super) struct Survey<'a> {
    pub tree: &'a Tree,
    pub choice: Option<NodeId>,
    pub settings: &'a Settings,
    pub places: BTreeMap<NodeId, Place>,
    /// What the opponent would play at the root if the player passed; `None` where nothing was chosen
    /// or the player is in check.
    pub threat: Option<Threat>,
}

/// The opponent's best move if the player passed.
#[derive(Debug, Clone)]
pub(super) struct Threat {
    pub mv: Move,
}

impl<'a> Survey<'a> {
    /// Asks the judge about the whole tree.
    pub(super) fn take(
        written: &Written<'a>,
        settings: &'a Settings,
        asker: &mut Asker<'_>,
    ) -> Result<Self, JudgeError> {
        let tree = written.tree;
        let mut survey = Self {
            tree,
            choice: written.choice.filter(|c| tree.legal(*c).is_some()),
            settings,
            places: BTreeMap::new(),
            threat: None,
        };
        survey.look(asker)?;
        survey.pass(asker)?;
        survey.compare(asker)?;
        survey.back_up();
        refute::proposals(&mut survey, asker)?;
        survey.back_up();
        Ok(survey)
    }

    /// Searches every standing position of the tree.
    fn look(&mut self, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
        let lines = standing_lines(self.tree);
        let question = |(id, line): &(NodeId, Line)| {
            let (lines, nodes) = self.wanted(*id, asker.nodes);
            Question {
                line: line.clone(),
                lines,
                nodes,
            }
        };
        let questions: Vec<Question> = lines.iter().map(question).collect();
        let near = self.settings.delta;
        for ((id, line), answer) in lines.into_iter().zip(asker.ask(&questions)?) {
            self.places.insert(id, place(line, &answer, near));
        }
        Ok(())
    }

    /// A null move at the root shows what the opponent threatens.
    fn pass(&mut self, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
        let passed = self.tree.root().position().clone().swap_turn();
        let (Ok(passed), Some(_)) = (passed, self.choice) else {
            return Ok(());
        };
        let answer = asker.ask_one(&Line::new(passed), 1, asker.nodes)?;
        self.threat = answer
            .and_then(|a| a.moves.into_iter().next())
            .map(|m| Threat { mv: m.mv });
        Ok(())
    }

    /// How many best moves are asked for at a place, and with how many nodes.
    fn wanted(&self, id: NodeId, nodes: u64) -> (usize, u64) {
        match id {
            NodeId::ROOT => (ROOT_LINES, nodes),
            id if self.is_compared(id) => (LINES, (nodes / PROPOSE).max(1)),
            _ => (1, nodes),
        }
    }

    /// True where moves are compared: where something was written, where a verdict stands to be
    /// tested, and at the ends of the choice's lines, which the choice's worth rests on.
    pub(super) fn is_compared(&self, id: NodeId) -> bool {
        id == NodeId::ROOT
            || self.is_under_choice(id)
            || self.tree.standing(id).next().is_some()
            || self.tree.node(id).is_some_and(|n| n.verdict.is_some())
    }

    /// Scores every move that matters, each alone.
    fn compare(&mut self, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
        let compared: Vec<NodeId> = self
            .places
            .keys()
            .copied()
            .filter(|id| self.is_compared(*id))
            .collect();
        let forcing = self.forcing_worth_a_search(&compared, asker)?;
        let mut wanted: Vec<(NodeId, Move)> = Vec::new();
        for id in compared {
            let moves = self.moves_to_score(id, forcing.get(&id).map_or(&[], Vec::as_slice));
            wanted.extend(moves.into_iter().map(|mv| (id, mv)));
        }
        let nodes = asker.nodes;
        for (id, scored) in self.score(&wanted, nodes, asker)? {
            if let Some(place) = self.places.get_mut(&id) {
                place.moves.push(scored);
            }
        }
        Ok(())
    }

    /// The written moves first, then what the search of the position liked, then forcing replies.
    fn moves_to_score(&self, id: NodeId, forcing: &[Move]) -> Vec<Move> {
        let Some(place) = self.places.get(&id) else {
            return Vec::new();
        };
        let written = self
            .tree
            .standing(id)
            .filter_map(|c| self.tree.legal(c).cloned());
        let liked = place.liked.iter().cloned();
        let mut moves: Vec<Move> = Vec::new();
        for mv in written.chain(liked).chain(forcing.iter().cloned()) {
            if !moves.contains(&mv) {
                moves.push(mv);
            }
        }
        moves
    }

    /// The opponent's checks, captures and promotions that a small search does not show to be harmless.
    fn forcing_worth_a_search(
        &self,
        compared: &[NodeId],
        asker: &mut Asker<'_>,
    ) -> Result<BTreeMap<NodeId, Vec<Move>>, JudgeError> {
        let mut wanted: Vec<(NodeId, Move)> = Vec::new();
        for id in compared {
            wanted.extend(self.forcing_replies(*id).into_iter().map(|mv| (*id, mv)));
        }
        let nodes = (asker.nodes / SCREEN).max(1);
        let mut kept: BTreeMap<NodeId, Vec<(f64, Move)>> = BTreeMap::new();
        for (id, scored) in self.score(&wanted, nodes, asker)? {
            let Some(place) = self.places.get(&id) else {
                continue;
            };
            let check = motif::gives_check(place.line.position(), &scored.mv);
            if check || scored.alone <= place.alone + self.settings.delta {
                kept.entry(id).or_default().push((scored.alone, scored.mv));
            }
        }
        Ok(kept
            .into_iter()
            .map(|(id, moves)| (id, most_dangerous(moves)))
            .collect())
    }

    fn forcing_replies(&self, id: NodeId) -> Vec<Move> {
        let Some(place) = self.places.get(&id).filter(|p| !p.is_players_turn()) else {
            return Vec::new();
        };
        let pos = place.line.position();
        let known = self.moves_to_score(id, &[]);
        let legal = pos.legal_moves().into_iter();
        legal
            .filter(|mv| motif::is_forcing(pos, mv) && !known.contains(mv))
            .collect()
    }

    /// Plays each move and searches what it leads to.
    fn score(
        &self,
        wanted: &[(NodeId, Move)],
        nodes: u64,
        asker: &mut Asker<'_>,
    ) -> Result<Vec<(NodeId, Scored)>, JudgeError> {
        let mut lines = Vec::new();
        let mut asked = Vec::new();
        for (id, mv) in wanted {
            if let Some(Ok(line)) = self.places.get(id).map(|p| p.line.child(mv)) {
                lines.push(line);
                asked.push((*id, mv));
            }
        }
        let searched = asker.after_moves(&lines, nodes)?;
        let scored = asked
            .into_iter()
            .zip(searched)
            .map(|((id, mv), (alone, pv))| {
                let node = self.child(id, mv);
                (
                    id,
                    Scored {
                        mv: mv.clone(),
                        node,
                        alone,
                        worth: alone,
                        pv,
                    },
                )
            });
        Ok(scored.collect())
    }

    /// The standing written move below `id` that is `mv`.
    fn child(&self, id: NodeId, mv: &Move) -> Option<NodeId> {
        self.tree
            .standing(id)
            .find(|c| self.tree.legal(*c) == Some(mv))
    }

    /// From the ends of the lines to the root: a place is worth its best move for the side to move.
    fn back_up(&mut self) {
        let mut ids: Vec<NodeId> = self.places.keys().copied().collect();
        ids.sort_by_key(|id| std::cmp::Reverse((self.tree.ply(*id), *id)));
        for id in ids {
            let below: BTreeMap<NodeId, f64> = self
                .tree
                .standing(id)
                .filter_map(|c| self.places.get(&c).map(|p| (c, p.worth)))
                .collect();
            if let Some(place) = self.places.get_mut(&id) {
                settle(place, &below);
            }
        }
    }

    pub(super) fn place(&self, id: NodeId) -> Option<&Place> {
        self.places.get(&id)
    }

    /// The root place; it is always there, since the root is always a position.
    pub(super) fn root(&self) -> &Place {
        &self.places[&NodeId::ROOT]
    }

    pub(super) fn player(&self) -> Color {
        self.tree.root().player()
    }

    /// The choice among the root's scored moves.
    pub(super) fn chosen(&self) -> Option<&Scored> {
        self.choice
            .and_then(|c| self.root().moves.iter().find(|m| m.node == Some(c)))
    }

    pub(super) fn choice_worth(&self) -> Option<f64> {
        self.chosen().map(|m| m.worth)
    }

    /// True where `id` stands in the choice's part of the tree.
    pub(super) fn is_under_choice(&self, id: NodeId) -> bool {
        self.choice
            .is_some_and(|c| self.tree.path(id).first() == Some(&c))
    }

    /// True where both scores lie so far on one side that the difference decides nothing.
    pub(super) fn is_decided(&self, a: f64, b: f64) -> bool {
        let bar = self.settings.decided;
        a.min(b) >= bar || a.max(b) <= 1.0 - bar
    }
}

fn settle(place: &mut Place, below: &BTreeMap<NodeId, f64>) {
    for scored in &mut place.moves {
        if let Some(worth) = scored.node.and_then(|n| below.get(&n)) {
            scored.worth = *worth;
        }
    }
    let players = place.is_players_turn();
    place.moves.sort_by(|a, b| {
        let order = a.worth.total_cmp(&b.worth);
        if players { order.reverse() } else { order }
    });
    if let Some(best) = place.moves.first() {
        place.worth = best.worth;
    }
}

/// The forcing replies that hurt the player most.
fn most_dangerous(mut moves: Vec<(f64, Move)>) -> Vec<Move> {
    moves.sort_by(|a, b| a.0.total_cmp(&b.0));
    moves
        .into_iter()
        .take(FORCING_MAX)
        .map(|(_, mv)| mv)
        .collect()
}

/// A place before its moves are compared. A proposed move is worth a search of its own where it is not
/// already `near` worse than the best.
fn place(line: Line, answer: &Answer, near: f64) -> Place {
    let alone = for_player(&line, answer);
    let worth_it = answer
        .moves
        .iter()
        .filter(|m| answer.expected.over(m.expected) <= near);
    Place {
        liked: worth_it.map(|m| m.mv.clone()).collect(),
        moves: Vec::new(),
        pv: answer
            .moves
            .first()
            .map(|m| m.pv.clone())
            .unwrap_or_default(),
        worth: alone,
        alone,
        line,
    }
}

/// The root and every standing move that has a position, in the order of writing.
fn standing_lines(tree: &Tree) -> Vec<(NodeId, Line)> {
    let mut lines = vec![(NodeId::ROOT, tree.root().clone())];
    for (id, _) in tree.nodes().filter(|(id, _)| tree.stands(*id)) {
        if let Some(line) = tree.line(id) {
            lines.push((id, line));
        }
    }
    lines
}
