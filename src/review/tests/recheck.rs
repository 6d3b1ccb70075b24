//! With how many nodes a finding is asked about again.

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

use super::super::{Finding, Settings, review};
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::review::tests::fixture::{Fixed, input, tree, turn, turned_tree};
use crate::tree::Tree;

/// A judge that thinks otherwise with twice the nodes, and again with four times: the last of its judges that has
/// so many answers.
struct Second<'a> {
    judges: [(u64, &'a Fixed); 3],
    /// All numbers of nodes that were asked for.
    asked: Mutex<BTreeSet<u64>>,
}

impl Judge for Second<'_> {
    fn name(&self) -> String {
        "three tables".to_owned()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let mut all = Vec::new();
        for question in questions {
            let mut asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
            asked.insert(question.nodes);
            let judges = self.judges.iter().rev();
            let (_, judge) = judges
                .clone()
                .find(|(nodes, _)| *nodes <= question.nodes)
                .unwrap_or(&self.judges[0]);
            all.extend(judge.answer(std::slice::from_ref(question))?);
        }
        Ok(all)
    }
}

const NODES: u64 = 200_000;

/// A reply that was not written leaves the player `gaps` less than the written one: at first sight, with twice and
/// with four times the nodes. What is told of it, and whether twice and four times were asked for.
fn told(gaps: [f64; 3]) -> (Option<Finding>, bool, bool) {
    let fen = "r1bq1rk1/ppp2ppp/2n2n2/3pp3/8/3P1NP1/PPP1PPBP/RNBQ1RK1 w - - 0 7";
    let written = tree(fen, &["h3 h6 60%"]);
    let white = told_of(&written, gaps, str::to_owned);
    let black = told_of(&turned_tree(&written), gaps, turn);
    assert_eq!((white.1, white.2), (black.1, black.2));
    assert_eq!(white.0.is_some(), black.0.is_some());
    white
}

fn told_of(tree: &Tree, gaps: [f64; 3], path: fn(&str) -> String) -> (Option<Finding>, bool, bool) {
    let (written, other) = (path("h3 h6"), path("h3 d4"));
    let judges = gaps.map(|gap| Fixed::new(tree.root(), &[(&written, 0.60), (&other, 0.60 - gap)]));
    let [first, twice, full] = &judges;
    let judge = Second {
        judges: [(0, first), (2 * NODES, twice), (4 * NODES, full)],
        asked: Mutex::default(),
    };
    let found = review(&input(tree), &judge, &Settings::default(), &mut |_, _| {}).unwrap();
    let asked = judge.asked.into_inner().unwrap();
    let counted = found.counted().next().cloned();
    (
        counted,
        asked.contains(&(2 * NODES)),
        asked.contains(&(4 * NODES)),
    )
}

#[test]
fn four_times_the_nodes_confirm_a_finding() {
    let (found, _, full) = told([0.20, 0.20, 0.20]);
    assert!(found.is_some() && full);
    let (found, _, full) = told([0.20, 0.20, 0.02]);
    assert!(found.is_none() && full);
}

#[test]
fn a_gap_that_is_large_at_both_sights_needs_only_half_of_them() {
    let (found, twice, full) = told([0.40, 0.40, 0.0]);
    assert!(found.is_some() && twice && !full);
}

#[test]
fn a_large_gap_that_becomes_smaller_is_asked_about_with_all_of_them() {
    let (found, twice, full) = told([0.40, 0.20, 0.02]);
    assert!(found.is_none() && twice && full);
    let (found, twice, full) = told([0.40, 0.20, 0.40]);
    assert!(found.is_some() && twice && full);
}

/// With more nodes the player has something better after his own line than was known there.
fn told_of_the_root(later: &[(&str, f64)]) -> Vec<String> {
    let fen = "r1bq1rk1/ppp2ppp/2n2n2/3pp3/8/3P1NP1/PPP1PPBP/RNBQ1RK1 w - - 0 7";
    let written = tree(fen, &["h3 h6"]);
    let first = Fixed::new(written.root(), &[("h3 h6 a3", 0.50), ("c4", 0.75)]);
    let later = Fixed::new(written.root(), later);
    let judge = Second {
        judges: [(0, &first), (2 * NODES, &first), (4 * NODES, &later)],
        asked: Mutex::default(),
    };
    let found = review(
        &input(&written),
        &judge,
        &Settings::default(),
        &mut |_, _| {},
    )
    .unwrap();
    let counted = found.counted().map(|f| f.resource.clone());
    counted.collect()
}

/// After 30...bxc3 of E. Bogoljubow - A. Alekhine (Hastings 1922) the search that was to confirm a mistake had found why it
/// is none, and the line that was known before was followed all the same.
#[test]
fn a_better_move_that_a_longer_search_finds_below_the_choice_is_believed() {
    let same = [("h3 h6 a3", 0.50), ("c4", 0.75)];
    assert_eq!(told_of_the_root(&same), ["c4"]);
    let better = [("h3 h6 a3", 0.50), ("h3 h6 Nh4", 0.75), ("c4", 0.75)];
    assert_eq!(told_of_the_root(&better), [""; 0]);
}
