//! What the coach wanted to be seen: his own tree at a position beside the player's.

use std::collections::HashMap;

use serde::Serialize;
use shakmaty::Move;

use crate::tree::{NodeId, Tree};

/// Most moves that are named; a model tree of hundreds of moves is no longer a sentence.
const MISSED_MAX: usize = 40;

/// A player's tree held against a coach's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Model {
    /// Moves of the coach's tree.
    pub wanted: usize,
    /// Of those, how many the player wrote too, at the same place.
    pub seen: usize,
    /// Where the player's tree stops following his, in the order of his tree.
    pub missed: Vec<Missed>,
}

/// A move of the coach's that the player did not write, though he wrote all before it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Missed {
    /// The way there and the move, in SAN.
    pub path: Vec<String>,
    /// How the coach goes on, in SAN, along his first line.
    pub then: Vec<String>,
    /// His verdict on the move or at the end of that line, as a sign; empty where he gave none.
    pub verdict: String,
    /// His words on the move, or at the end of that line.
    pub words: String,
}

/// Holds a player's tree against the coach's tree of the same position. A place is the way of legal moves to it;
/// phantom moves of either are passed over.
#[must_use]
pub fn model(player: &Tree, coach: &Tree) -> Model {
    let mut found = Model {
        wanted: coach
            .nodes()
            .filter(|(id, _)| coach.legal(*id).is_some())
            .count(),
        seen: 0,
        missed: Vec::new(),
    };
    let mut todo = vec![(NodeId::ROOT, NodeId::ROOT)];
    while let Some((theirs, own)) = todo.pop() {
        let written = written(player, own);
        let wanted = coach
            .standing(theirs)
            .filter_map(|id| Some((coach.legal(id)?, id)));
        let mut below = Vec::new();
        for (mv, id) in wanted {
            match written.get(mv) {
                Some(same) => {
                    found.seen += 1;
                    below.push((id, *same));
                }
                None if found.missed.len() < MISSED_MAX => found.missed.push(missed(coach, id)),
                None => {}
            }
        }
        todo.extend(below.into_iter().rev());
    }
    found
}

fn written(tree: &Tree, at: NodeId) -> HashMap<&Move, NodeId> {
    tree.standing(at)
        .filter_map(|id| Some((tree.legal(id)?, id)))
        .collect()
}

fn missed(coach: &Tree, id: NodeId) -> Missed {
    let (mut end, mut then) = (id, Vec::new());
    while let Some(next) = coach.standing(end).find(|n| coach.legal(*n).is_some()) {
        then.push(coach.san(next));
        end = next;
    }
    let verdict = |at| coach.node(at).and_then(|n| n.verdict);
    let words = |at| {
        coach
            .node(at)
            .map(|n| n.comment.clone())
            .filter(|c| !c.is_empty())
    };
    Missed {
        path: coach.sans(id),
        then,
        verdict: verdict(id)
            .or(verdict(end))
            .map(|v| v.to_string())
            .unwrap_or_default(),
        words: words(id).or_else(|| words(end)).unwrap_or_default(),
    }
}

impl Model {
    /// Whether the player wrote all that the coach wanted.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.missed.is_empty()
    }

    /// One sentence, then one for each missed move.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let first = tr!(self.wanted;
            "Of the {} move your coach wanted you to see you wrote {}."
            | "Of the {} moves your coach wanted you to see you wrote {}.",
            self.wanted,
            self.seen
        );
        std::iter::once(first)
            .chain(self.missed.iter().map(Missed::sentence))
            .collect()
    }
}

impl Missed {
    fn sentence(&self) -> String {
        let (mv, way) = self
            .path
            .split_last()
            .map_or(("", &[][..]), |(m, w)| (m.as_str(), w));
        let place = match way {
            [] => tr!("In the position").to_owned(),
            way => tr!("After {}", way.join(" ")),
        };
        let then = match self.then.as_slice() {
            [] => String::new(),
            then => tr!(", then {}", then.join(" ")),
        };
        let sign = match self.verdict.as_str() {
            "" => String::new(),
            sign => format!(" ({sign})"),
        };
        let words = match self.words.trim() {
            "" => String::new(),
            words => format!(" '{words}'"),
        };
        tr!("{place} he wanted you to see {mv}{then}{sign}, and you did not write it.{words}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coach::testing::saavedra as tree;

    /// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory).
    #[test]
    fn where_the_player_stops_following() {
        let mut coach = tree(&["c7 Rd6+ Kb5 Rd5+ Kb4", "c7 Rd6+ Kc5 Rd1"]);
        let end = coach.leaves()[0];
        coach.set_comment(end, "towards the rook").unwrap();
        let player = tree(&["c7 Rd6+ Kb5", "Kc7"]);
        let held = model(&player, &coach);
        assert_eq!((held.wanted, held.seen), (7, 3));
        insta::assert_snapshot!(held.sentences().join("\n"), @r"
        Of the 7 moves your coach wanted you to see you wrote 3.
        After c7 Rd6+ he wanted you to see Kc5, then Rd1, and you did not write it.
        After c7 Rd6+ Kb5 he wanted you to see Rd5+, then Kb4, and you did not write it. 'towards the rook'
        ");
        assert!(model(&coach, &coach).is_whole());
        assert_eq!(model(&tree(&["Qh8"]), &coach).seen, 0);
    }
}
