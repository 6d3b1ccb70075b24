//! What is told before the review is whole.

use super::super::{Settings, review};
use crate::review::tests::fixture::{Fixed, Heard, input, tree};

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
    let mut heard = Heard::default();
    let whole = review(&input(&tree), &judge, &Settings::default(), &mut heard).unwrap();
    assert_eq!(heard.right.as_ref().unwrap().1, whole.right);
    assert!(!heard.findings.is_empty());
    assert_eq!(heard.told(), whole.findings[..heard.findings.len()]);
    assert!(
        heard.findings[0].0 < heard.answered(),
        "told before the end"
    );
    assert!(
        heard
            .progress
            .iter()
            .all(|(answered, asked)| answered <= asked)
    );
}
