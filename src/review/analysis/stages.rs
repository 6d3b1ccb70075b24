//! How the judge is asked about every written position and every move that must be compared there.
//!
//! Two moves are compared on equal terms only: each is played and its position searched alone with
//! the same number of nodes. At the opponent's turn every check, capture and promotion is searched by
//! itself, whatever the search of the position itself preferred: nothing rests on one search's pruning.

use std::collections::BTreeMap;

use shakmaty::{Move, Position};

use crate::board::Line;
use crate::judge::{Answer, JudgeError, Question};
use crate::review::analysis::judge_client::{JudgeClient, played};
use crate::review::analysis::one_by_one::{self, Wanted};
use crate::review::analysis::position::{AnalysedMove, AnalysedPosition};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::analysis::{player_valuation, refutation};
use crate::review::model::input::ReviewInput;
use crate::review::model::settings::Settings;
use crate::review::model::thresholds::{
    FORCING_ROUNDS, GLANCE_LINES, GLANCE_PART, ROOT_LINES, WORTH_A_SEARCH, root_rounds,
};
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

impl<'a> TreeAnalysis<'a> {
    /// Asks the judge about the whole tree.
    pub(crate) fn of(
        written: &ReviewInput<'a>,
        settings: &'a Settings,
        client: &mut JudgeClient<'_>,
    ) -> Result<Self, JudgeError> {
        let mut analysis = Self::unasked(written, settings);
        analysis.look(client)?;
        let compared: Vec<NodeId> = analysis.compared().collect();
        analysis.compare(&compared, client)?;
        analysis.force(&compared, client)?;
        analysis.try_each(client)?;
        analysis.back_up();
        analysis.glance(client)?;
        analysis.refute(client)?;
        analysis.back_up();
        analysis.own = player_valuation::values(&analysis);
        Ok(analysis)
    }

    /// What [`of`](Self::of) will ask whatever the answers are.
    pub(crate) fn foreseen(&self, client: &JudgeClient<'_>) -> Vec<Question> {
        let lines = self
            .positions()
            .filter_map(|id| Some((id, self.tree.line(id)?)));
        let lines: Vec<(NodeId, Line)> = lines.collect();
        let searched = lines
            .iter()
            .map(|(id, line)| question(line, wanted(*id), client.nodes));
        let glanced = lines.iter().filter(|(id, _)| self.is_glanced_at(*id));
        let glances = glanced.map(|(_, line)| glance(line, client));
        searched.chain(self.passed(client)).chain(glances).collect()
    }

    /// What the opponent threatens: his best move if the player passed at the root.
    fn passed(&self, client: &JudgeClient<'_>) -> Option<Question> {
        let passed = self.tree.root().position().clone().swap_turn();
        let passed = passed.ok().filter(|_| self.choice.is_some());
        passed.map(|p| question(&Line::new(p), 1, client.nodes))
    }

    /// Searches every standing position of the tree, and what the opponent threatens: his best move if the player
    /// passed at the root.
    fn look(&mut self, client: &mut JudgeClient<'_>) -> Result<(), JudgeError> {
        let passed: Vec<Question> = self.passed(client).into_iter().collect();
        let all: Vec<NodeId> = self.positions().collect();
        let threat = self.look_at(all, &passed, client)?;
        // The one answer that is left is that to the pass, where it was asked about.
        let threat = threat.into_iter().next();
        self.threat = threat.and_then(|a| a.moves.into_iter().next().map(|m| m.mv));
        Ok(())
    }

    /// Searches the positions of some standing moves, each once, and with them what `others` ask; the answers to that. What
    /// cannot be played has no position.
    pub(crate) fn look_at(
        &mut self,
        ids: impl IntoIterator<Item = NodeId>,
        others: &[Question],
        client: &mut JudgeClient<'_>,
    ) -> Result<Vec<Answer>, JudgeError> {
        let fresh = ids.into_iter().filter(|id| !self.places.contains_key(id));
        let lines = fresh.filter_map(|id| Some((id, self.tree.line(id)?)));
        let lines: Vec<(NodeId, Line)> = lines.collect();
        let nodes = client.nodes;
        let own = lines
            .iter()
            .map(|(id, line)| question(line, wanted(*id), nodes));
        let questions: Vec<Question> = own.chain(others.iter().cloned()).collect();
        let mut answers = client.ask(&questions)?.into_iter();
        let near = self.settings.delta;
        for ((id, line), answer) in lines.into_iter().zip(answers.by_ref()) {
            self.places
                .insert(id, AnalysedPosition::new(line, &answer, near));
        }
        Ok(answers.collect())
    }

    /// Scores every move that matters at some places, each alone: the written ones, and of those that the search of
    /// the position preferred the ones that could be better than all that was written.
    fn compare(&mut self, ids: &[NodeId], client: &mut JudgeClient<'_>) -> Result<(), JudgeError> {
        self.score_written(ids, client)?;
        self.propose(ids, client)
    }

    /// Scores the written moves at some places, each alone and once.
    pub(crate) fn score_written(
        &mut self,
        ids: &[NodeId],
        client: &mut JudgeClient<'_>,
    ) -> Result<(), JudgeError> {
        let written = ids.iter().flat_map(|id| {
            let scored = self.place(*id).map_or(&[][..], |p| &p.moves);
            let moves = self.standing(*id).filter_map(|c| self.tree.legal(c));
            let fresh = moves.filter(move |mv| scored.iter().all(|m| m.mv != **mv));
            fresh.map(|mv| (*id, mv.clone()))
        });
        let written: Vec<(NodeId, Move)> = written.collect();
        self.score(&written, client)
    }

    /// Scores what the searches of some places preferred, where it could be better than all that was written there.
    pub(crate) fn propose(
        &mut self,
        ids: &[NodeId],
        client: &mut JudgeClient<'_>,
    ) -> Result<(), JudgeError> {
        let near = self.worth_a_search();
        let mut proposed = Vec::new();
        for id in ids {
            let Some(place) = self.places.get_mut(id) else {
                continue;
            };
            let (tried, rough) = place.proposed(near);
            proposed.extend(tried.into_iter().map(|m| (*id, m.mv)));
            place.moves.extend(rough);
        }
        self.score(&proposed, client)
    }

    /// By how much an unwritten move must look better than all that is known, to be searched in full.
    fn worth_a_search(&self) -> ScoreDiff {
        self.settings.delta.times(WORTH_A_SEARCH)
    }

    /// The opponent's checks, captures and promotions at some places, each by itself.
    pub(crate) fn force(
        &mut self,
        ids: &[NodeId],
        client: &mut JudgeClient<'_>,
    ) -> Result<(), JudgeError> {
        let opponents = ids.iter().filter_map(|id| {
            let place = self.places.get(id).filter(|p| !p.is_players_turn())?;
            let bar = place.best_of_all().unwrap_or(place.alone).min(place.alone);
            let known = place.moves.iter().map(|m| m.mv.clone()).collect();
            let line = place.line.clone();
            Some((*id, Wanted { line, known, bar }))
        });
        let (ids, wanted): (Vec<NodeId>, Vec<Wanted>) = opponents.unzip();
        for (id, found) in
            ids.into_iter()
                .zip(one_by_one::searched(&wanted, &FORCING_ROUNDS, client)?)
        {
            if let Some(place) = self.places.get_mut(&id) {
                place.moves.extend(found);
            }
        }
        Ok(())
    }

    /// The player's moves at the root, each by itself: what looks bad for two half-moves is passed over by the search of
    /// the position before it, and seen by that of the position after it.
    fn try_each(&mut self, client: &mut JudgeClient<'_>) -> Result<(), JudgeError> {
        let near = self.worth_a_search();
        let Some(root) = self.places.get_mut(&NodeId::ROOT) else {
            return Ok(());
        };
        let Some(bar) = root
            .best_of_all()
            .filter(|_| root.written().next().is_some())
        else {
            return Ok(());
        };
        let scored = root.moves.iter().filter(|m| !m.rough);
        let wanted = Wanted {
            line: root.line.clone(),
            known: scored.map(|m| m.mv.clone()).collect(),
            bar,
        };
        let rounds = root_rounds(near);
        let found = one_by_one::searched(&[wanted], &rounds, client)?;
        for scored in found.into_iter().flatten().filter(|m| !m.rough) {
            root.moves.retain(|m| m.mv != scored.mv);
            root.moves.push(scored);
        }
        Ok(())
    }

    /// Tests what was proposed to the player at the places that were compared by the opponent's forcing replies.
    pub(crate) fn refute(&mut self, client: &mut JudgeClient<'_>) -> Result<(), JudgeError> {
        refutation::proposals(&mut self.places, self.settings.delta.half(), client)
    }

    /// What else could be played at each place, by a small search: how many moves are as good as the best,
    /// and how much worse the next one is. Grounds for saying that a move mattered, never for a finding.
    fn glance(&mut self, client: &mut JudgeClient<'_>) -> Result<(), JudgeError> {
        let asked = self.places.keys().copied();
        let ids: Vec<NodeId> = asked.filter(|id| self.is_glanced_at(*id)).collect();
        let question = |id: &NodeId| Ok(glance(&self.asked(*id)?.line, client));
        let questions = ids.iter().map(question);
        let questions = questions.collect::<Result<Vec<Question>, JudgeError>>()?;
        let delta = self.settings.delta;
        for (id, answer) in ids.into_iter().zip(client.ask(&questions)?) {
            if let Some(place) = self.places.get_mut(&id) {
                place.glanced(&answer, delta);
            }
        }
        Ok(())
    }

    fn is_glanced_at(&self, id: NodeId) -> bool {
        id != NodeId::ROOT && self.is_compared(id)
    }

    /// Plays each move, searches what it leads to and keeps it at its place.
    fn score(
        &mut self,
        wanted: &[(NodeId, Move)],
        client: &mut JudgeClient<'_>,
    ) -> Result<(), JudgeError> {
        let lines = wanted
            .iter()
            .map(|(id, mv)| played(&self.asked(*id)?.line, mv));
        let lines = lines.collect::<Result<Vec<Line>, JudgeError>>()?;
        let searched = client.after_moves(&lines, client.nodes)?;
        for ((id, mv), (alone, pv)) in wanted.iter().zip(searched) {
            let node = self.child(*id, mv);
            let scored = AnalysedMove {
                mv: mv.clone(),
                node,
                alone,
                worth: alone,
                pv,
                rough: false,
            };
            if let Some(place) = self.places.get_mut(id) {
                place.moves.push(scored);
            }
        }
        Ok(())
    }

    /// The standing written move below `id` that is `mv`.
    fn child(&self, id: NodeId, mv: &Move) -> Option<NodeId> {
        self.standing(id).find(|c| self.tree.legal(*c) == Some(mv))
    }

    /// From the ends of the lines to the root: a place is worth its best move for the side to move.
    pub(crate) fn back_up(&mut self) {
        let mut ids: Vec<NodeId> = self.places.keys().copied().collect();
        ids.sort_by_key(|id| std::cmp::Reverse((self.tree.ply(*id), *id)));
        for id in ids {
            let below: BTreeMap<NodeId, PlayerScore> = self
                .standing(id)
                .filter_map(|c| self.places.get(&c).map(|p| (c, p.worth)))
                .collect();
            if let Some(place) = self.places.get_mut(&id) {
                place.settle(&below);
            }
        }
    }
}

/// How many best moves are asked for at a place. Elsewhere than at the root the question is the one
/// by which the move before it is scored.
fn wanted(id: NodeId) -> usize {
    if id == NodeId::ROOT { ROOT_LINES } else { 1 }
}

/// A small search of what else could be played.
fn glance(line: &Line, client: &JudgeClient<'_>) -> Question {
    question(line, GLANCE_LINES, (client.nodes / GLANCE_PART).max(1))
}

fn question(line: &Line, lines: usize, nodes: u64) -> Question {
    Question {
        line: line.clone(),
        lines,
        nodes,
    }
}
