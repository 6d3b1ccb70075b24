//! What is told before the review is whole.

use super::super::{Credit, Finding, ReviewInput, ReviewObserver, Settings, review};
use crate::review::tests::fixture::{Fixed, tree};
use crate::tree::NodeId;

#[derive(Default)]
struct Heard {
    right: Vec<Credit>,
    findings: Vec<Finding>,
    progress: Vec<(usize, usize)>,
    /// Questions answered when the first finding was told.
    first_at: usize,
}

impl ReviewObserver for Heard {
    fn progress(&mut self, answered: usize, asked: usize) {
        self.progress.push((answered, asked));
    }

    fn right(&mut self, right: &[Credit]) {
        self.right = right.to_vec();
    }

    fn finding(&mut self, finding: &Finding) {
        if self.findings.is_empty() {
            self.first_at = self.progress.last().map_or(0, |p| p.0);
        }
        self.findings.push(finding.clone());
    }
}

#[test]
fn sure_findings_come_early_and_in_their_final_order() {
    let fen = "r1bq1rk1/ppp2ppp/2n2n2/3pp3/8/3P1NP1/PPP1PPBP/RNBQ1RK1 w - - 0 7";
    let lines = [
        "h3 h6 e3 a5 a3 a4 +-",
        "h3 a6 c3 b5 b3 Be6 =",
        "c4 d4 e3 =",
        "Nc3 d4 Nb1 =",
        "a3 a5 a4 =",
    ];
    let tree = tree(fen, &lines);
    let ends = [
        ("h3 h6 e3 a5 a3 a4", 0.30),
        ("h3 h6 c4", 0.60),
        ("h3 d4", 0.10),
        ("h3 a6 c3 b5 b3 Be6", 0.75),
        ("h3 a6 c3 Bf5", 0.40),
        ("c4 d4 e3 e4", 0.60),
        ("Nc3 d4 Nb1", 0.20),
        ("a3 e4", 0.15),
    ];
    let judge = Fixed::new(tree.root(), &ends);
    let written = ReviewInput {
        tree: &tree,
        choice: tree.children(NodeId::ROOT).first().copied(),
        attempt: None,
        ply_in_game: None,
    };
    let mut heard = Heard::default();
    let whole = review(&written, &judge, &Settings::default(), &mut heard).unwrap();
    assert_eq!(heard.right, whole.right);
    assert!(!heard.findings.is_empty());
    assert_eq!(heard.findings, whole.findings[..heard.findings.len()]);
    assert!(
        heard.first_at < heard.progress.last().unwrap().0,
        "told before the end"
    );
    assert!(
        heard
            .progress
            .iter()
            .all(|(answered, asked)| answered <= asked)
    );
}
