//! What is told, and in which order.
//!
//! Order: what counts first; then by effect on the choice, then by gap, then the earlier half-move.
//! Along one line only the first finding is told: a later one stays only if it still changes the
//! choice's worth once the earlier is granted.

use crate::review::analysis::choice_impact::Added;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::confirmed::{Confirmed, is_beside};
use crate::review::confirmation::facts::{self, Within};
use crate::review::confirmation::threshold;
use crate::review::findings::effect::{addition, effect, weigh};
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Ruling;
use crate::score::ScoreDiff;
use crate::tree::NodeId;

/// The findings that stand so far, and which of them were told already.
pub(crate) struct Ranking<'s, 'a> {
    analysis: &'s TreeAnalysis<'a>,
    standing: Vec<Entry<'s>>,
}

#[derive(Clone)]
struct Entry<'s> {
    finding: Confirmed<'s>,
    /// Its place among the findings told before all was asked.
    told: Option<usize>,
}

impl<'s, 'a> Ranking<'s, 'a> {
    /// `first` was told already.
    pub(crate) fn new(analysis: &'s TreeAnalysis<'a>, first: Option<Confirmed<'s>>) -> Self {
        let entry = |finding| Entry {
            finding,
            told: Some(0),
        };
        Self {
            analysis,
            standing: first.map(entry).into_iter().collect(),
        }
    }

    pub(crate) fn push(&mut self, finding: Confirmed<'s>) {
        self.standing.push(Entry {
            finding,
            told: None,
        });
    }

    /// True where the suspect would only repeat what a counted one above it on its line says.
    pub(crate) fn repeats(&self, suspect: &Suspect<'_>) -> bool {
        !suspect.fault.is_by_the_board() && is_folded(self.analysis, suspect, &self.standing)
    }

    /// The findings that are sure now, in the order of telling: counted, with nothing still to be asked about
    /// that could fold them or cost more. What is left may still gain as much as delta by being asked again.
    pub(crate) fn sure(&mut self, rest: &[Suspect<'_>]) -> Vec<&Confirmed<'s>> {
        let analysis = self.analysis;
        let costs = rest.iter().map(|s| s.effect + analysis.settings.delta);
        let most = costs.fold(ScoreDiff::ZERO, ScoreDiff::max);
        let mut told = self.standing.iter().filter(|e| e.told.is_some()).count();
        let all = folded(analysis, self.standing.clone());
        let fresh = all
            .iter()
            .filter(|e| e.finding.is_counted() && e.told.is_none());
        let mut new = Vec::new();
        for entry in fresh {
            let suspect = &entry.finding.suspect;
            let may_fold = rest.iter().any(|r| {
                is_above(analysis, r, suspect)
                    || facts::within(analysis, suspect, r).is_some()
                    || facts::within(analysis, r, suspect).is_some()
            });
            if suspect.effect < most || may_fold {
                break;
            }
            let mut standing = self.standing.iter_mut().enumerate();
            if let Some((at, sure)) = standing.find(|(_, e)| is_same(&e.finding, &entry.finding)) {
                sure.told = Some(told);
                // It is told as it stands now, with its other places, and stays so.
                sure.finding = entry.finding.clone();
                told += 1;
                new.push(at);
            }
        }
        let found = new.into_iter().filter_map(|at| self.standing.get(at));
        found.map(|e| &e.finding).collect()
    }

    /// All that is told, in its order.
    pub(crate) fn finish(self) -> Vec<Confirmed<'s>> {
        let entries = folded(self.analysis, self.standing);
        entries.into_iter().map(|e| e.finding).collect()
    }
}

fn is_same(a: &Confirmed<'_>, b: &Confirmed<'_>) -> bool {
    let (a, b) = (&a.suspect, &b.suspect);
    a.kind() == b.kind() && a.at == b.at && a.resource() == b.resource()
}

/// Suspects by what they seem to cost, each with its effect.
pub(crate) fn weighed<'s>(
    analysis: &TreeAnalysis<'_>,
    mut suspects: Vec<Suspect<'s>>,
) -> Vec<Suspect<'s>> {
    let mut all: Vec<_> = suspects.iter_mut().map(|s| (s, true)).collect();
    weigh(analysis, &mut all);
    suspects
}

/// The findings with their final ruling, in the order of telling.
fn folded<'s>(analysis: &TreeAnalysis<'_>, mut entries: Vec<Entry<'s>>) -> Vec<Entry<'s>> {
    let before: Vec<ScoreDiff> = entries.iter().map(|e| e.finding.suspect.effect).collect();
    let mut all: Vec<_> = entries
        .iter_mut()
        .map(|e| (&mut e.finding.suspect, e.finding.ruling.is_sure()))
        .collect();
    weigh(analysis, &mut all);
    // What was told stays as it was told.
    for (entry, effect) in entries.iter_mut().zip(before) {
        if entry.told.is_some() {
            entry.finding.suspect.effect = effect;
        }
    }
    for Entry { finding, told } in &mut entries {
        let beside = || is_beside(analysis, &finding.suspect, finding.ruling);
        // What was told as counted stays so, whatever came after it.
        if finding.ruling == Ruling::Counted && told.is_none() && beside() {
            finding.ruling = Ruling::Aside;
        }
    }
    sort(analysis, &mut entries);
    merge_transpositions(&mut entries);
    fold_along_lines(analysis, &mut entries);
    join_facts(analysis, &mut entries);
    let delta = analysis.settings.delta;
    entries.retain(|Entry { finding, .. }| {
        finding.ruling != Ruling::Aside || threshold::is_told_beside(delta, &finding.suspect)
    });
    sort(analysis, &mut entries);
    entries
}

/// By effect, then by gap, then the earlier half-move.
pub(crate) fn by_effect<'s, T>(
    analysis: &TreeAnalysis<'_>,
    all: &mut [T],
    suspect: impl Fn(&T) -> &Suspect<'s>,
) {
    all.sort_by(|a, b| {
        let (a, b) = (suspect(a), suspect(b));
        b.effect
            .total_cmp(&a.effect)
            .then(b.gap().total_cmp(&a.gap()))
            .then(a.ply(analysis).cmp(&b.ply(analysis)))
            .then(a.kind().cmp(&b.kind()))
            .then(a.at.cmp(&b.at))
    });
}

/// What was told already keeps its place; then what counts, by effect.
fn sort(analysis: &TreeAnalysis<'_>, entries: &mut [Entry<'_>]) {
    by_effect(analysis, entries, |e| &e.finding.suspect);
    entries.sort_by_key(|e| (e.finding.ruling.class(), e.told.unwrap_or(usize::MAX)));
}

fn is_folded(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>, standing: &[Entry<'_>]) -> bool {
    let above = granted_above(analysis, suspect, standing);
    !above.is_empty() && effect(analysis, suspect, &above) < analysis.settings.delta.half()
}

fn granted_above(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    standing: &[Entry<'_>],
) -> Vec<Added> {
    let counted = standing.iter().filter(|e| e.finding.is_counted());
    let above = counted.filter(|e| is_above(analysis, &e.finding.suspect, suspect));
    above.filter_map(|e| addition(&e.finding.suspect)).collect()
}

/// The same oversight in the same position, reached in two ways, is told once (with both ways).
fn merge_transpositions(entries: &mut Vec<Entry<'_>>) {
    let mut seen = Vec::new();
    entries.retain(|Entry { finding, .. }| {
        let suspect = &finding.suspect;
        let resource = suspect.resource().cloned();
        // Without a move the written nodes tell two of them apart.
        let node = suspect.illegal_node().unwrap_or(suspect.at);
        let node = resource.is_none().then_some(node);
        let mark = (suspect.kind(), suspect.place.line.key(), resource, node);
        let new = !seen.contains(&mark);
        seen.push(mark);
        new
    });
}

/// A later finding on a line folds under the first counted one above it.
fn fold_along_lines(analysis: &TreeAnalysis<'_>, entries: &mut [Entry<'_>]) {
    for later in 0..entries.len() {
        // What was told as counted stays so.
        let folds = |e: &Entry<'_>| {
            e.told.is_none()
                && e.finding.is_counted()
                && is_folded(analysis, &e.finding.suspect, entries)
        };
        if entries.get(later).is_some_and(folds)
            && let Some(entry) = entries.get_mut(later)
        {
            entry.finding.ruling = Ruling::Aside;
        }
    }
}

/// What is one fact is told once: at the place where it was first to be seen, among what counts alike. A fear
/// without ground names the cause of a wrong choice, and so takes it in whatever the order.
fn join_facts(analysis: &TreeAnalysis<'_>, entries: &mut Vec<Entry<'_>>) {
    let mut kept = 0;
    while kept < entries.len() {
        let mut at = 0;
        while at < entries.len() {
            match joined(analysis, entries, kept, at) {
                Some(within) => {
                    let other = entries.remove(at).finding;
                    kept -= usize::from(at < kept);
                    if let Some(entry) = entries.get_mut(kept) {
                        add_places(entry, other, within);
                    }
                }
                None => at += 1,
            }
        }
        kept += 1;
    }
}

/// How the entry `other` is told with the entry `kept`.
fn joined(
    analysis: &TreeAnalysis<'_>,
    entries: &[Entry<'_>],
    kept: usize,
    other: usize,
) -> Option<Within> {
    let (a, b) = (entries.get(kept)?, entries.get(other)?);
    let (told, in_it) = (&a.finding, &b.finding);
    let stands = |f: &Confirmed<'_>| f.ruling != Ruling::Overruled;
    if kept == other || b.told.is_some() || !stands(told) || !stands(in_it) {
        return None;
    }
    // What counts is never hidden in what does not.
    if told.ruling.class() > in_it.ruling.class() {
        return None;
    }
    let within = facts::within(analysis, &told.suspect, &in_it.suspect)?;
    let place = |f: &Confirmed<'_>| (f.suspect.ply(analysis), f.suspect.at);
    let first = a.told.is_some()
        || told.ruling.class() < in_it.ruling.class()
        || place(told) < place(in_it);
    (within == Within::Consequence || first).then_some(within)
}

fn add_places(entry: &mut Entry<'_>, other: Confirmed<'_>, within: Within) {
    // What was told already names no more places.
    if within == Within::SameMove && entry.told.is_none() {
        let also = std::iter::once(other.suspect.at).chain(other.also);
        entry.finding.also.extend(also);
        entry.finding.also.sort_unstable();
        entry.finding.also.dedup();
    }
    let effect = other.suspect.effect;
    if entry.finding.suspect.effect < effect && within == Within::SameMove && entry.told.is_none() {
        entry.finding.suspect.effect = effect;
    }
}

/// True where `a` stands on the way to `b`.
fn is_above(analysis: &TreeAnalysis<'_>, a: &Suspect<'_>, b: &Suspect<'_>) -> bool {
    let mut ways = analysis.ways(a.at);
    !ways.any(|way| way == b.at) && a.at != NodeId::ROOT && is_reached(analysis, a.at, b.at)
}

fn is_reached(analysis: &TreeAnalysis<'_>, from: NodeId, to: NodeId) -> bool {
    if analysis.is_plain() {
        analysis.tree.path(to).contains(&from)
    } else {
        analysis.above(to).contains(&from)
    }
}
