//! The effect of a move by the places above it, held against backing up the whole tree each time.

use shakmaty::Position as _;

use super::super::{ReviewInput, Settings};
use crate::board::walks::{Dice, ROOTS};
use crate::board::{Line, line};
use crate::review::analysis::choice_impact::{Added, Granted};
use crate::review::analysis::judge_client::JudgeClient;
use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::verdicts;
use crate::review::tests::fixture::Fixed;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::{Author, NodeId, Tree, Verdict};

/// A tree of random moves with a verdict at every other one.
fn tree(dice: &mut Dice) -> Tree {
    let root = line::read_fen(ROOTS[dice.below(ROOTS.len())]).unwrap();
    let mut tree = Tree::new(Line::new(root));
    for _ in 0..dice.below(30) + 5 {
        let at = NodeId(u32::try_from(dice.below(tree.len() + 1)).unwrap());
        let position = tree.line(at).unwrap();
        let legal = position.position().legal_moves();
        if legal.is_empty() || position.moves().len() > 6 {
            continue;
        }
        let mv = line::san(position.position(), &legal[dice.below(legal.len())]);
        let node = tree.add(at, &mv, Author::Player, 0).unwrap();
        let verdict = Verdict::Percent(u8::try_from(dice.below(101)).unwrap());
        let verdict = Some(verdict).filter(|_| dice.below(2) == 0);
        tree.set_verdict(node, verdict).unwrap();
    }
    tree
}

fn backed_up(analysis: &TreeAnalysis<'_>, id: NodeId, added: &[Added]) -> PlayerScore {
    let standing = analysis.standing(id);
    let written = standing.map(|c| backed_up(analysis, c, added));
    let here = added
        .iter()
        .filter(|a| analysis.ways(a.at).any(|way| way == id));
    let here = here.map(|a| verdicts::as_stated(a.worth));
    player_valuation::backed_up(analysis, id, written.chain(here)).unwrap()
}

fn is_close(a: ScoreDiff, b: ScoreDiff) -> bool {
    (a - b).abs() < ScoreDiff::new(1e-9)
}

#[test]
fn what_a_move_changes_is_found_above_it() {
    let mut dice = Dice(11);
    let mut changed = [0, 0];
    for _ in 0..300 {
        let tree = tree(&mut dice);
        let choice = tree.children(NodeId::ROOT).first().copied();
        let judge = Fixed::new(tree.root(), &[]);
        let settings = Settings::default();
        let written = ReviewInput {
            tree: &tree,
            choice,
            attempt: None,
            ply_in_game: None,
        };
        let mut quiet = |_, _| {};
        let mut client = JudgeClient::new(&judge, 1, &mut quiet);
        let analysis = TreeAnalysis::of(&written, &settings, &mut client).unwrap();
        let Some(choice) = analysis.choice else {
            continue;
        };
        let under: Vec<NodeId> = (tree.nodes().map(|(id, _)| id))
            .filter(|id| analysis.is_under_choice(*id))
            .collect();
        let mut some = |most: usize| -> Vec<Added> {
            let any = (0..dice.below(most)).map(|_| Added {
                at: under[dice.below(under.len())],
                worth: PlayerScore::new(dice.below(101) as f64 / 100.0),
            });
            any.collect()
        };
        let (granted, more) = (some(8), some(4));
        let weighed = Granted::new(&analysis, &granted);
        let value = |added: &[Added]| backed_up(&analysis, choice, added);
        for one in more {
            let truth = (value(&[&granted[..], &[one]].concat()) - value(&granted)).abs();
            assert!(is_close(weighed.effect(one), truth));
            changed[0] += usize::from(truth > ScoreDiff::ZERO);
        }
        for one in &granted {
            let beside = granted
                .iter()
                .filter(|a| !analysis.above(a.at).contains(&one.at));
            let beside: Vec<Added> = beside.copied().collect();
            let truth = (value(&[&beside[..], &[*one]].concat()) - value(&beside)).abs();
            assert!(is_close(weighed.effect_alone(*one), truth));
            changed[1] += usize::from(truth > ScoreDiff::ZERO);
        }
    }
    assert!(changed.iter().all(|n| *n > 50), "{changed:?}");
}
