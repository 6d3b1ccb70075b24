//! Reviews against published positions: the tree that is known to be wrong must be told so, by the
//! right finding, and the published solutions must be left in peace.

use std::collections::BTreeSet;

use foreply::drill;
use foreply::judge::{self, CachedJudge, EngineCommand, EngineJudge};
use foreply::review::{FindingStatus, Review, ReviewInput, Settings, review};
use foreply::tree::{NodeId, Tree};

#[path = "support/published_rows.rs"]
mod published_rows;

use published_rows::{rows, tree};

/// Rows that the embedded engine at its default budget may still leave untold, or tell as close: the goal
/// is none. A stronger engine (see `judge`) tells them.
const UNTOLD_MAX: usize = 3;
/// Sound solutions that it may still find fault with.
const FAULTED_MAX: usize = 1;

/// Solutions that the embedded engine alone cannot be held to, and why.
const NOT_WITHOUT_TABLES: [&str; 1] = [
    // A drawn rook ending that an engine takes for lost as long as it does not see the whole defence.
    "philidor-1777",
];

/// The embedded engine; another UCI engine where the environment names one, to tell a weak engine from
/// a wrong review.
fn judge() -> CachedJudge<EngineJudge> {
    let command = match std::env::var("FOREPLY_TEST_ENGINE") {
        Ok(text) => EngineCommand::parse(&text).unwrap(),
        Err(_) => EngineCommand::new(env!("CARGO_BIN_EXE_foreply"), ["engine"]),
    };
    CachedJudge::new(
        EngineJudge::start(command, judge::Settings::default()).unwrap(),
        None,
    )
}

fn reviewed(tree: &Tree, judge: &CachedJudge<EngineJudge>) -> Review {
    let choice = tree.children(NodeId::ROOT).first().copied();
    let written = ReviewInput {
        tree,
        choice,
        attempt: None,
        ply_in_game: None,
    };
    review(&written, judge, &Settings::default(), &mut |_, _| {}).unwrap()
}

/// What was found, in short, for the message of a failure.
fn told(review: &Review) -> String {
    let findings = review.findings.iter();
    let lines = findings.map(|f| {
        format!(
            "  {} {:?} ply {} {} gap {} effect {}: {}",
            f.kind.label(),
            f.class,
            f.ply,
            f.resource,
            f.gap,
            f.effect,
            f.sentence
        )
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// A reader holds the figures against the findings: no depth was needed that ends before a finding on the
/// choice's line, and nothing was sound beyond it.
fn assert_figures_and_findings_agree(row: usize, review: &Review) {
    let depth = review.depth;
    let row = format!("published.tsv, line {row}: {depth:?}");
    assert!(depth.sound <= depth.reached, "{row}");
    assert!(depth.reached <= depth.longest, "{row}");
    let of_choice = review.counted().filter(|f| {
        let path = f.paths.first().and_then(|p| p.first());
        path.is_some() && path == review.choice.as_ref()
    });
    if let Some(first) = of_choice.map(|f| f.ply).min() {
        assert!(depth.needed >= first, "{row}, a finding at {first}");
        assert!(depth.sound < first, "{row}, a finding at {first}");
    }
}

#[test]
fn the_rows_are_of_many_kinds() {
    let rows = rows();
    let positions: BTreeSet<&str> = rows.iter().map(|r| r.id).collect();
    assert!(positions.len() >= 25, "{} positions", positions.len());
    let wanted = [
        (8, &["sacrifice"][..]),
        (4, &["stalemate", "perpetual"]),
        (3, &["retained-image"]),
        (3, &["quiet"]),
        (2, &["underpromotion"]),
        (2, &["intermezzo"]),
    ];
    for (least, tags) in wanted {
        let tagged = rows.iter().filter(|r| r.tags().any(|t| tags.contains(&t)));
        let ids: BTreeSet<&str> = tagged.map(|r| r.id).collect();
        assert!(ids.len() >= least, "{tags:?}: {ids:?}");
    }
}

#[test]
fn the_known_mistake_is_told() {
    let judge = judge();
    let mut faults = Vec::new();
    for row in rows() {
        let (id, resource, ply) = (row.id, row.resource, row.ply);
        let review = reviewed(&tree(&row.root(), row.lines), &judge);
        let found = review
            .findings
            .iter()
            .any(|f| f.class != FindingStatus::Close && row.is_told_by(f));
        assert_figures_and_findings_agree(row.number, &review);
        // Whoever is shown a study is asked for its key, however hard it is.
        let withheld = review
            .findings
            .iter()
            .find(|f| f.class == FindingStatus::Withheld && row.is_told_by(f));
        assert!(
            withheld.is_none(),
            "published.tsv line {}: {withheld:?}",
            row.number
        );
        if !found {
            faults.push(format!(
                "published.tsv line {}: {id}: {resource} at half-move {ply} is not told\n{}",
                row.number,
                told(&review)
            ));
        }
    }
    assert!(
        faults.len() <= UNTOLD_MAX,
        "{} faults\n{}",
        faults.len(),
        faults.join("\n")
    );
}

#[test]
fn the_published_solutions_hold() {
    let judge = judge();
    let mut faults = Vec::new();
    // The starter collection stands for all of them: every drill takes a whole review, and `foreply
    // drills check` proves the others.
    let starter = drill::load(include_str!("../drills/starter.yaml"), "starter.yaml").unwrap();
    for drill in starter
        .iter()
        .filter(|d| !NOT_WITHOUT_TABLES.contains(&d.id.as_str()))
    {
        let review = reviewed(&drill.solution, &judge);
        if !review.is_clean() {
            faults.push(format!("{}:\n{}", drill.id, told(&review)));
        }
    }
    assert!(
        faults.len() <= FAULTED_MAX,
        "{} faults\n{}",
        faults.len(),
        faults.join("\n")
    );
}
