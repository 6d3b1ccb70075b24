//! The rows of `tests/data/published.tsv`: whether the known mistake is told, and what that cost.

use foreply::drill;
use foreply::review::{FindingStatus, Review, ReviewInput, Settings, review};
use foreply::tree::{NodeId, Tree};

use super::args::Args;
use super::asked::{Judge, Meter};
use super::published_rows;

pub fn run(args: &Args, judge: &Judge, jobs: usize) -> Result<(), String> {
    let settings = Settings {
        nodes: args.nodes,
        ..Settings::default()
    };
    let drills = drill::builtin().map_err(|e| format!("{e:?}"))?;
    let all = Meter::start(judge);
    let (mut rows, mut found_all) = (0, 0);
    for row in published_rows::rows() {
        let id = row.id;
        let meter = Meter::start(judge);
        let written = published_rows::tree(&row.root(), row.lines);
        let review = reviewed(&written, judge, &settings)?;
        let told = review.findings.iter().find(|f| row.is_told_by(f));
        let class = told.map_or("NOT TOLD".to_owned(), |f| {
            format!("{:?} gap {} effect {}", f.class, f.gap, f.effect)
        });
        rows += 1;
        found_all += usize::from(told.is_some_and(|f| f.class != FindingStatus::Close));
        println!(
            "{id} ({}): {}: {class}\n    {:?}\n    {}",
            row.tags().collect::<Vec<_>>().join(", "),
            row.resource,
            review.depth,
            meter.read(judge).line(jobs)
        );
        for other in review.counted().filter(|f| f.resource != row.resource) {
            println!(
                "    also: {} {} gap {} effect {}",
                other.kind.label(),
                other.sentence,
                other.gap,
                other.effect
            );
        }
    }
    println!(
        "{found_all} of {rows} told\n    {}",
        all.read(judge).line(jobs)
    );
    solutions(drills, args, judge, &settings, jobs)
}

fn solutions(
    drills: &[drill::Drill],
    args: &Args,
    judge: &Judge,
    settings: &Settings,
    jobs: usize,
) -> Result<(), String> {
    let all = Meter::start(judge);
    let (mut rows, mut clean) = (0, 0);
    let step = args.sample.map_or(1, |n| drills.len().div_ceil(n.max(1)));
    for drill in drills.iter().step_by(step) {
        let review = reviewed(&drill.solution, judge, settings)?;
        rows += 1;
        clean += usize::from(review.is_clean());
        for finding in review.counted() {
            println!(
                "{}: {} gap {} effect {}: {}",
                drill.id,
                finding.kind.label(),
                finding.gap,
                finding.effect,
                finding.sentence
            );
        }
    }
    println!(
        "{clean} of {rows} solutions are clean\n    {}",
        all.read(judge).line(jobs)
    );
    Ok(())
}

fn reviewed(tree: &Tree, judge: &Judge, settings: &Settings) -> Result<Review, String> {
    let written = ReviewInput {
        tree,
        choice: tree.children(NodeId::ROOT).first().copied(),
        attempt: None,
        ply_in_game: None,
    };
    review(&written, judge, settings, &mut |_, _| {}).map_err(|e| e.to_string())
}
