//! How the player went about it, from the times of his entries.
//!
//! Entry time is typing time: these figures speak of entries, not of thoughts.

use crate::attempt::Attempt;
use crate::review::model::measures::Process;
use crate::tree::{NodeId, Tree};

/// The figures of one sitting.
pub(crate) fn process(attempt: &Attempt) -> Process {
    let tree = attempt.tree();
    let written: Vec<(NodeId, u64)> = tree.nodes().map(|(id, n)| (id, n.at_ms)).collect();
    let depth_of = |id: NodeId| tree.ply(id);
    let start = attempt.started_ms().unwrap_or(0);
    let first = |ply: usize| {
        written
            .iter()
            .find(|(id, _)| depth_of(*id) == ply)
            .map(|(_, at)| at.saturating_sub(start))
    };
    // The clock runs from the start of writing, not from the first look.
    let spent_ms = attempt
        .locked_ms()
        .unwrap_or(attempt.last_ms())
        .saturating_sub(start);
    let deeper = written
        .iter()
        .position(|(id, _)| depth_of(*id) > 1)
        .unwrap_or(written.len());
    Process {
        first_candidate_ms: first(1),
        first_reply_ms: first(2),
        candidates_before_depth: deeper,
        per_candidate: per_candidate(tree, &written, start),
        returns: returns(tree, &written),
        half_moves: written.len(),
        spent_ms,
        over_ms: attempt
            .opened()
            .budget_ms
            .map_or(0, |b| spent_ms.saturating_sub(b)),
    }
}

/// The time up to each entry belongs to the candidate it was written under.
fn per_candidate(tree: &Tree, written: &[(NodeId, u64)], start: u64) -> Vec<(String, u64)> {
    let mut times: Vec<(NodeId, u64)> = Vec::new();
    let mut last = start;
    for (id, at) in written {
        let Some(candidate) = tree.path(*id).first().copied() else {
            continue;
        };
        let spent = at.saturating_sub(last);
        last = *at;
        match times.iter_mut().find(|(c, _)| *c == candidate) {
            Some((_, sum)) => *sum += spent,
            None => times.push((candidate, spent)),
        }
    }
    times
        .into_iter()
        .map(|(id, ms)| (tree.san(id), ms))
        .collect()
}

/// How often an entry went back to a candidate that had been left for another.
fn returns(tree: &Tree, written: &[(NodeId, u64)]) -> usize {
    let candidates: Vec<NodeId> = written
        .iter()
        .filter_map(|(id, _)| tree.path(*id).first().copied())
        .collect();
    let mut left: Vec<NodeId> = Vec::new();
    let mut count = 0;
    for pair in candidates.windows(2) {
        if let [before, now] = pair
            && before != now
        {
            left.push(*before);
            count += usize::from(left.contains(now));
        }
    }
    count
}
