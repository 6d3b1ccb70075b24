//! What the judge says of every written position and of every move that must be compared there.
//!
//! Two moves are compared on equal terms only: each is played and its position searched alone with
//! the same number of nodes. At the opponent's turn every check, capture and promotion is searched by
//! itself, whatever the search of the position itself preferred: nothing rests on one search's pruning.

use std::collections::BTreeMap;

use shakmaty::{Color, Move, Position};

use crate::board::Line;
use crate::judge::{Answer, JudgeError, Question};
use crate::review::analysis::forcing_moves;
use crate::review::analysis::forcing_moves::Wanted;
use crate::review::analysis::judge_client::{Asker, for_player};
use crate::review::analysis::{player_valuation, refutation};
use crate::review::{Settings, Written};
use crate::tree::{NodeId, Sign, Tree, Verdict};

/// Best moves asked for at the root, where 'several are equally good' has to be noticed.
const ROOT_LINES: usize = 5;
/// This part of the nodes, and so many lines, go to a glance at what else could be played at a place.
const GLANCE: u64 = 8;
const GLANCE_LINES: usize = 3;

/// One move at a place. All expected scores are the player's, 0 to 1.
#[derive(Debug, Clone)]
pub(crate) struct Scored {
    pub mv: Move,
    /// The written node, where it was written.
    pub node: Option<NodeId>,
    /// Its position searched alone.
    pub alone: f64,
    /// The same with all that was learnt below, where it was written.
    pub worth: f64,
    /// What the judge expects to follow, this move first.
    pub pv: Vec<Move>,
    /// True where only the search of the position before it, or a small search, has scored it: good enough
    /// to say that it is nothing special, never a ground for a finding.
    pub rough: bool,
}

/// One written position.
#[derive(Debug, Clone)]
pub(crate) struct Place {
    pub line: Line,
    /// The moves that the search of the position itself preferred, with what they left the player, in its
    /// order.
    liked: Vec<Scored>,
    /// Moves by what they are worth to the side that plays them, the best first.
    pub moves: Vec<Scored>,
    /// The position searched alone.
    pub alone: f64,
    pub pv: Vec<Move>,
    /// Backed up from the moves, where they were compared.
    pub worth: f64,
    /// Moves to mate as the position's own search tells it, for the side to move: positive where it mates.
    pub mate: Option<i32>,
    /// Where the best reply was written: how much better the player stands after the next best one.
    pub margin: Option<f64>,
}

impl Place {
    /// A position about which nothing has been asked.
    pub(crate) fn bare(line: Line) -> Self {
        Self {
            line,
            liked: Vec::new(),
            moves: Vec::new(),
            alone: 0.5,
            pv: Vec::new(),
            worth: 0.5,
            mate: None,
            margin: None,
        }
    }

    pub(crate) fn is_players_turn(&self) -> bool {
        self.line.turn() == self.line.player()
    }

    /// Positive where `a` suits the side to move better than `b`, by that much.
    pub(crate) fn prefers(&self, a: f64, b: f64) -> f64 {
        if self.is_players_turn() { a - b } else { b - a }
    }

    pub(crate) fn written(&self) -> impl Iterator<Item = &Scored> {
        self.moves.iter().filter(|m| m.node.is_some())
    }

    pub(crate) fn unwritten(&self) -> impl Iterator<Item = &Scored> {
        self.moves.iter().filter(|m| m.node.is_none() && !m.rough)
    }

    /// The best that any move searched alone leaves the player.
    fn best_of_all(&self) -> Option<f64> {
        let alone = self.moves.iter().filter(|m| !m.rough).map(|m| m.alone);
        alone.reduce(|a, b| if self.prefers(b, a) > 0.0 { b } else { a })
    }

    pub(crate) fn best(&self) -> Option<&Scored> {
        self.moves.first()
    }
}

/// The truth about a written tree, as far as it was asked.
pub(crate) struct Survey<'a> {
    pub tree: &'a Tree,
    /// The move that was chosen, where it can be played.
    pub choice: Option<NodeId>,
    /// The move that was chosen, possible or not.
    committed: Option<NodeId>,
    pub settings: &'a Settings,
    pub places: BTreeMap<NodeId, Place>,
    /// What each place is worth by the player's own verdicts.
    own: BTreeMap<NodeId, f64>,
    /// What the opponent would play at the root if the player passed; `None` where nothing was chosen
    /// or the player is in check.
    pub threat: Option<Threat>,
}

/// The opponent's best move if the player passed.
#[derive(Debug, Clone)]
pub(crate) struct Threat {
    pub mv: Move,
}

impl<'a> Survey<'a> {
    /// Asks the judge about the whole tree.
    pub(crate) fn take(
        written: &Written<'a>,
        settings: &'a Settings,
        asker: &mut Asker<'_>,
    ) -> Result<Self, JudgeError> {
        let tree = written.tree;
        let mut survey = Self {
            tree,
            choice: written.choice.filter(|c| tree.legal(*c).is_some()),
            committed: written.choice,
            settings,
            places: BTreeMap::new(),
            own: BTreeMap::new(),
            threat: None,
        };
        survey.look(asker)?;
        survey.compare(asker)?;
        survey.force(asker)?;
        survey.back_up();
        survey.glance(asker)?;
        refutation::proposals(&mut survey, asker)?;
        survey.back_up();
        survey.own = player_valuation::values(&survey);
        Ok(survey)
    }

    /// Searches every standing position of the tree, and what the opponent threatens: his best move if the player
    /// passed at the root.
    fn look(&mut self, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
        let lines = standing_lines(self.tree);
        let nodes = asker.nodes;
        let question = |line: &Line, lines| Question {
            line: line.clone(),
            lines,
            nodes,
        };
        let mut questions: Vec<Question> = lines
            .iter()
            .map(|(id, line)| question(line, Self::wanted(*id)))
            .collect();
        let passed = self.tree.root().position().clone().swap_turn();
        let passed = passed.ok().filter(|_| self.choice.is_some());
        questions.extend(passed.map(|p| question(&Line::new(p), 1)));
        let mut answers = asker.ask(&questions)?.into_iter();
        let near = self.settings.delta;
        for ((id, line), answer) in lines.into_iter().zip(answers.by_ref()) {
            self.places.insert(id, place(line, &answer, near));
        }
        let threat = answers.next().and_then(|a| a.moves.into_iter().next());
        self.threat = threat.map(|m| Threat { mv: m.mv });
        Ok(())
    }

    /// How many best moves are asked for at a place. Elsewhere than at the root the question is the one
    /// by which the move before it is scored.
    fn wanted(id: NodeId) -> usize {
        if id == NodeId::ROOT { ROOT_LINES } else { 1 }
    }

    /// True where moves are compared: where something was written, where a verdict stands to be
    /// tested, and at the ends of the choice's lines, which the choice's worth rests on.
    pub(crate) fn is_compared(&self, id: NodeId) -> bool {
        id == NodeId::ROOT
            || self.is_under_choice(id)
            || self.tree.standing(id).next().is_some()
            || self.verdict(id).is_some()
    }

    /// Scores every move that matters, each alone: the written ones, and of those that the search of the
    /// position preferred the ones that could be better than all that was written.
    fn compare(&mut self, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
        let ids: Vec<NodeId> = self.compared().collect();
        let written = ids.iter().flat_map(|id| {
            let moves = self.tree.standing(*id).filter_map(|c| self.tree.legal(c));
            moves.map(|mv| (*id, mv.clone()))
        });
        let written: Vec<(NodeId, Move)> = written.collect();
        self.score_all(&written, asker)?;
        let mut proposed = Vec::new();
        for id in ids {
            let (tried, rough) = self.proposed(id);
            proposed.extend(tried.into_iter().map(|m| (id, m.mv)));
            if let Some(place) = self.places.get_mut(&id) {
                place.moves.extend(rough);
            }
        }
        self.score_all(&proposed, asker)
    }

    fn compared(&self) -> impl Iterator<Item = NodeId> + '_ {
        self.places
            .keys()
            .copied()
            .filter(|id| self.is_compared(*id))
    }

    /// The unwritten moves that the search of the position liked: those worth a search of their own, and
    /// the others. A move that its search does not show to be better than all that was written cannot
    /// become a finding, nor can one at the end of a line.
    fn proposed(&self, id: NodeId) -> (Vec<Scored>, Vec<Scored>) {
        let Some(place) = self.places.get(&id) else {
            return Default::default();
        };
        let near = self.settings.delta / 4.0;
        let best = place.best_of_all();
        let liked = place
            .liked
            .iter()
            .filter(|l| place.moves.iter().all(|m| m.mv != l.mv));
        let mut liked = liked.cloned();
        if best.is_none() {
            // The end of a line: its search is the search of its best move, and nothing is compared with it.
            let first = liked.next().map(|l| Scored { rough: false, ..l });
            return (Vec::new(), first.into_iter().chain(liked).collect());
        }
        liked.partition(|l| best.is_some_and(|b| place.prefers(l.alone, b) >= near))
    }

    fn score_all(
        &mut self,
        moves: &[(NodeId, Move)],
        asker: &mut Asker<'_>,
    ) -> Result<(), JudgeError> {
        let nodes = asker.nodes;
        for (id, scored) in self.score(moves, nodes, asker)? {
            if let Some(place) = self.places.get_mut(&id) {
                place.moves.push(scored);
            }
        }
        Ok(())
    }

    /// The opponent's checks, captures and promotions, each by itself.
    fn force(&mut self, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
        let opponents = self.compared().filter_map(|id| {
            let place = self.places.get(&id).filter(|p| !p.is_players_turn())?;
            let bar = place.best_of_all().unwrap_or(place.alone).min(place.alone);
            let known = place.moves.iter().map(|m| m.mv.clone()).collect();
            Some((
                id,
                Wanted {
                    line: place.line.clone(),
                    known,
                    bar,
                },
            ))
        });
        let (ids, wanted): (Vec<NodeId>, Vec<Wanted>) = opponents.unzip();
        for (id, found) in ids.into_iter().zip(forcing_moves::replies(&wanted, asker)?) {
            if let Some(place) = self.places.get_mut(&id) {
                place.moves.extend(found);
            }
        }
        Ok(())
    }

    /// What else could be played at each place, by a small search: how many moves are as good as the best,
    /// and how much worse the next one is. Grounds for saying that a move mattered, never for a finding.
    fn glance(&mut self, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
        let compared = self.compared().filter(|id| *id != NodeId::ROOT);
        let ids: Vec<NodeId> = compared.collect();
        let question = |id: &NodeId| {
            Some(Question {
                line: self.places.get(id)?.line.clone(),
                lines: GLANCE_LINES,
                nodes: (asker.nodes / GLANCE).max(1),
            })
        };
        let questions: Vec<Question> = ids.iter().filter_map(question).collect();
        let delta = self.settings.delta;
        for (id, answer) in ids.into_iter().zip(asker.ask(&questions)?) {
            if let Some(place) = self.places.get_mut(&id) {
                glanced(place, &answer, delta);
            }
        }
        Ok(())
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
                        rough: false,
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

    pub(crate) fn place(&self, id: NodeId) -> Option<&Place> {
        self.places.get(&id)
    }

    /// The root place; it is always there, since the root is always a position.
    #[allow(clippy::indexing_slicing)]
    pub(crate) fn root(&self) -> &Place {
        &self.places[&NodeId::ROOT]
    }

    /// The verdict that stands at a node: the player's sign or percentage; where he set none, 'level' for an
    /// end that his own words close with a repetition or a perpetual check.
    pub(crate) fn verdict(&self, id: NodeId) -> Option<Verdict> {
        let node = self.tree.node(id)?;
        let closed = || {
            let ends = self.tree.standing(id).next().is_none();
            (ends && player_valuation::is_closed(&node.comment))
                .then_some(Verdict::Sign(Sign::Level))
        };
        node.verdict.or_else(closed)
    }

    pub(crate) fn player(&self) -> Color {
        self.tree.root().player()
    }

    /// The choice among the root's scored moves.
    pub(crate) fn chosen(&self) -> Option<&Scored> {
        self.choice
            .and_then(|c| self.root().moves.iter().find(|m| m.node == Some(c)))
    }

    pub(crate) fn choice_worth(&self) -> Option<f64> {
        self.chosen().map(|m| m.worth)
    }

    /// What a place is worth by the player's own verdicts; level where there is none.
    pub(crate) fn own(&self, id: NodeId) -> f64 {
        self.own.get(&id).copied().unwrap_or(0.5)
    }

    /// True where `id` stands in the choice's part of the tree.
    pub(crate) fn is_under_choice(&self, id: NodeId) -> bool {
        self.committed
            .is_some_and(|c| self.tree.path(id).first() == Some(&c))
    }

    /// True where both scores lie so far on one side that the difference decides nothing, or are won (lost)
    /// both and differ only by more than any verdict can say.
    pub(crate) fn is_decided(&self, a: f64, b: f64) -> bool {
        let bar = self.settings.decided;
        let beyond = a.min(b) >= bar || a.max(b) <= 1.0 - bar;
        beyond || player_valuation::say_the_same(a, b, self.settings.delta)
    }
}

fn settle(place: &mut Place, below: &BTreeMap<NodeId, f64>) {
    for scored in &mut place.moves {
        if let Some(worth) = scored.node.and_then(|n| below.get(&n)) {
            scored.worth = *worth;
        }
    }
    let players = place.is_players_turn();
    limit_rough(place);
    place.moves.sort_by(|a, b| {
        let order = a.worth.total_cmp(&b.worth);
        let order = if players { order.reverse() } else { order };
        order.then(a.rough.cmp(&b.rough))
    });
    if let Some(best) = place.moves.first() {
        place.worth = best.worth;
    }
}

/// Puts in what a glance saw, by its difference from the first move of the same glance: scores of two searches
/// are not compared. What is delta worse is left out.
fn glanced(place: &mut Place, answer: &Answer, delta: f64) {
    let Some(first) = answer.moves.first() else {
        return;
    };
    let is_best = place.best().is_some_and(|b| b.mv == first.mv);
    let base = place
        .moves
        .iter()
        .find(|m| m.mv == first.mv)
        .map_or(place.worth, |m| m.worth);
    if let (true, Some(second)) = (is_best, answer.moves.get(1)) {
        place.margin = Some(first.expected.over(second.expected));
    }
    for seen in &answer.moves {
        let less = first.expected.over(seen.expected);
        if less > delta || place.moves.iter().any(|m| m.mv == seen.mv) {
            continue;
        }
        let worth = if place.is_players_turn() {
            base - less
        } else {
            base + less
        };
        let worth = worth.clamp(0.0, 1.0);
        place.moves.push(Scored {
            mv: seen.mv.clone(),
            node: None,
            alone: worth,
            worth,
            pv: seen.pv.clone(),
            rough: true,
        });
    }
}

/// What was only looked at roughly is no better than the best of what was searched.
fn limit_rough(place: &mut Place) {
    let searched = place.moves.iter().filter(|m| !m.rough).map(|m| m.worth);
    let players = place.is_players_turn();
    let better = |a: f64, b: f64| if players { a.max(b) } else { a.min(b) };
    let Some(best) = searched.reduce(better) else {
        return;
    };
    for rough in place.moves.iter_mut().filter(|m| m.rough) {
        rough.worth = if players {
            rough.alone.min(best)
        } else {
            rough.alone.max(best)
        };
    }
}

/// A place before its moves are compared. A proposed move is kept only where it is not already `near` worse
/// than the best.
fn place(line: Line, answer: &Answer, near: f64) -> Place {
    let alone = for_player(&line, answer);
    let own = line.turn() == line.player();
    let worth_it = answer
        .moves
        .iter()
        .filter(|m| answer.expected.over(m.expected) <= near);
    let liked = worth_it.map(|m| {
        let e = if own { m.expected } else { m.expected.flip() }.value();
        Scored {
            mv: m.mv.clone(),
            node: None,
            alone: e,
            worth: e,
            pv: m.pv.clone(),
            rough: true,
        }
    });
    Place {
        liked: liked.collect(),
        moves: Vec::new(),
        pv: answer
            .moves
            .first()
            .map(|m| m.pv.clone())
            .unwrap_or_default(),
        worth: alone,
        alone,
        mate: answer.moves.first().and_then(|m| m.mate),
        line,
        margin: None,
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
