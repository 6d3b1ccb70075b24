//! The rows of `tests/data/published.tsv`: whether the known mistake is told, and what that cost.

use foreply::board::Line;
use foreply::drill;
use foreply::review::{Class, Review, Settings, Written, review};
use foreply::tree::{Author, NodeId, Tree, Verdict};

use super::args::Args;
use super::asked::{Judge, Meter};

pub fn run(args: &Args, judge: &Judge, jobs: usize) -> Result<(), String> {
    let settings = Settings {
        nodes: args.nodes,
        ..Settings::default()
    };
    let drills = drill::builtin().map_err(|e| format!("{e:?}"))?;
    let all = Meter::start(judge);
    let (mut rows, mut found_all) = (0, 0);
    let text = include_str!("../../data/published.tsv");
    for row in text.lines().filter(|l| !l.starts_with('#')) {
        let fields: Vec<&str> = row.split('\t').collect();
        let [id, lines, resource, ply, kinds] = fields[..] else {
            return Err(format!("no five fields: {row}"));
        };
        let drill = drills
            .iter()
            .find(|d| d.id == id)
            .ok_or(format!("no drill {id}"))?;
        let meter = Meter::start(judge);
        let review = reviewed(&tree(&drill.root, lines), judge, &settings)?;
        let told = review.findings.iter().find(|f| {
            let kind = f.kind.words().replace(", ", "-").replace(' ', "-");
            f.resource == resource
                && f.ply.to_string() == ply
                && kinds.split(' ').any(|k| k == kind)
        });
        let class = told.map_or("NOT TOLD".to_owned(), |f| {
            format!("{:?} gap {} effect {}", f.class, f.gap, f.effect)
        });
        rows += 1;
        found_all += usize::from(told.is_some_and(|f| f.class != Class::Close));
        println!(
            "{id}: {resource}: {class}\n    {}",
            meter.read(judge).line(jobs)
        );
        for other in review.counted().filter(|f| f.resource != resource) {
            println!(
                "    also: {} {} gap {} effect {}",
                other.kind.words(),
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
                finding.kind.words(),
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
    let written = Written {
        tree,
        choice: tree.children(NodeId::ROOT).first().copied(),
        attempt: None,
        ply_in_game: None,
    };
    review(&written, judge, settings, &mut |_, _| {}).map_err(|e| e.to_string())
}

/// A tree from lines between `|`; a verdict may end a line.
pub fn tree(root: &Line, lines: &str) -> Tree {
    let mut tree = Tree::new(root.clone());
    for line in lines.split('|') {
        let mut at = NodeId::ROOT;
        for word in line.split_whitespace() {
            match Verdict::parse(word) {
                Ok(verdict) => tree.set_verdict(at, Some(verdict)).unwrap(),
                Err(_) => at = tree.add(at, word, Author::Player, 0).unwrap(),
            }
        }
    }
    tree
}
