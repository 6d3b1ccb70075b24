//! Findings against a reference that searches many times longer.

use std::collections::BTreeMap;

use foreply::board::Line;
use foreply::drill::{self, Drill};
use foreply::judge::{self as j, Judge as _, Question};
use foreply::review::{Class, Finding, Review, Settings, Written, review, value_of_verdict};
use foreply::tree::{NodeId, Tree};

use super::args::Args;
use super::asked::{Judge, Meter};
use super::trees::{Case, Omission, cases};

/// What the reference says of a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Held {
    /// The gap is at least delta.
    True,
    /// Between half of delta and delta.
    Close,
    False,
}

struct Bench<'a> {
    judge: &'a Judge,
    reference: &'a Judge,
    settings: Settings,
    /// Nodes of the reference.
    nodes: u64,
    /// For each omission: told, and of how many that the reference confirms.
    recall: BTreeMap<Omission, (usize, usize)>,
    /// For each kind: true, close, false.
    precision: BTreeMap<&'static str, [usize; 3]>,
    clean: (usize, usize),
}

pub fn run(args: &Args, judge: &Judge, reference: &Judge, jobs: usize) -> Result<(), String> {
    let settings = Settings {
        nodes: args.nodes,
        ..Settings::default()
    };
    let mut bench = Bench {
        judge,
        reference,
        settings,
        nodes: args.nodes * args.factor,
        recall: BTreeMap::new(),
        precision: BTreeMap::new(),
        clean: (0, 0),
    };
    let drills = drills(args)?;
    let step = args
        .sample
        .map_or(1, |n| drills.len().div_ceil(n.max(1)).max(1));
    println!(
        "reviewed by {} with {} nodes, held against {} with {}",
        judge.name(),
        args.nodes,
        reference.name(),
        bench.nodes
    );
    let meter = Meter::start(judge);
    for drill in drills.iter().step_by(step) {
        for case in cases(&drill.id, &drill.root, &drill.solution, judge, args.nodes)? {
            bench.case(&case)?;
        }
        bench.print();
    }
    println!("reviews: {}", meter.read(judge).line(jobs));
    Ok(())
}

/// The drills of the binary, or those of the files: YAML as it is; of PGN the trees, of EPD the positions are
/// drills without a solution.
fn drills(args: &Args) -> Result<Vec<Drill>, String> {
    if args.files.is_empty() {
        return drill::builtin()
            .map(<[Drill]>::to_vec)
            .map_err(|e| format!("{e:?}"));
    }
    let mut all = Vec::new();
    for file in &args.files {
        let read = || std::fs::read(file).map_err(|e| format!("{}: {e}", file.display()));
        match file.extension().and_then(|e| e.to_str()) {
            Some("epd") => all.extend(from_epd(&String::from_utf8_lossy(&read()?))),
            Some("pgn") => {
                let notes = foreply::app::notes(&read()?, None).trees;
                all.extend(notes.into_iter().map(|n| made(&n.heading, n.written.tree)));
            }
            _ => all.extend(drill::load_file(file).map_err(|e| format!("{e:?}"))?),
        }
    }
    Ok(all)
}

fn from_epd(text: &str) -> Vec<Drill> {
    let lines = text.lines().filter_map(|l| {
        let fen: Vec<&str> = l.split_whitespace().take(4).collect();
        let root = foreply::board::line::read_fen(&fen.join(" ")).ok()?;
        Some(made(&fen.join(" "), Tree::new(Line::new(root))))
    });
    lines.collect()
}

fn made(id: &str, solution: Tree) -> Drill {
    Drill {
        id: id.to_owned(),
        title: String::new(),
        root: solution.root().clone(),
        task: drill::Task::Move,
        minutes: 1,
        source: String::new(),
        themes: Vec::new(),
        solution,
        grade: None,
        note: None,
    }
}

impl Bench<'_> {
    fn case(&mut self, case: &Case) -> Result<(), String> {
        let choice = case.tree.standing(NodeId::ROOT).next();
        let written = Written {
            tree: &case.tree,
            choice,
            attempt: None,
            ply_in_game: None,
        };
        if choice.is_none() {
            return Ok(());
        }
        let found = review(&written, self.judge, &self.settings, &mut |_, _| {})
            .map_err(|e| e.to_string())?;
        if case.omission == Omission::None {
            self.clean.1 += 1;
            self.clean.0 += usize::from(found.is_clean());
        } else {
            self.recall(case, &found)?;
        }
        for finding in found.counted() {
            let held = self.held(&case.tree, choice, finding)?;
            let counts = self.precision.entry(finding.kind.words()).or_default();
            counts[held as usize] += 1;
            if held != Held::True {
                println!(
                    "{held:?}: {} ({}), {} after {}: {} [gap {}, effect {}]",
                    case.id,
                    case.omission.words(),
                    finding.kind.words(),
                    finding
                        .paths
                        .first()
                        .map(|p| p.join(" "))
                        .unwrap_or_default(),
                    finding.sentence,
                    finding.gap,
                    finding.effect
                );
            }
        }
        Ok(())
    }

    /// Counts the omission where the reference says that it is one.
    fn recall(&mut self, case: &Case, found: &Review) -> Result<(), String> {
        if !self.is_mistake(case)? {
            return Ok(());
        }
        let told = found.findings.iter().any(|f| {
            f.class != Class::Close
                && f.at == case.at
                && case.omission.told_by().contains(&f.kind.words())
        });
        let counts = self.recall.entry(case.omission).or_default();
        counts.1 += 1;
        counts.0 += usize::from(told);
        if !told {
            let others: Vec<String> = found
                .findings
                .iter()
                .map(|f| format!("{:?} {} {}", f.class, f.kind.words(), f.resource))
                .collect();
            println!(
                "Not told: {} ({}), after {}; told: {}",
                case.id,
                case.omission.words(),
                case.tree.sans(case.at).join(" "),
                others.join("; ")
            );
        }
        Ok(())
    }

    fn is_mistake(&self, case: &Case) -> Result<bool, String> {
        let Some(line) = case.tree.line(case.at) else {
            return Ok(false);
        };
        let truth = self.worth(&line)?;
        let decided = |a: f64, b: f64| {
            a.min(b) >= self.settings.decided || a.max(b) <= 1.0 - self.settings.decided
        };
        if let Some(stated) = case
            .tree
            .node(case.at)
            .and_then(|n| value_of_verdict(n.verdict?, line.player()))
        {
            return Ok(
                (truth - stated).abs() >= self.settings.delta + 0.05 && !decided(truth, stated)
            );
        }
        let written = self
            .best_written(&case.tree, case.at, &line)?
            .unwrap_or(truth);
        Ok(prefers(&line, truth, written) >= self.settings.delta && !decided(truth, written))
    }

    fn held(&self, tree: &Tree, choice: Option<NodeId>, finding: &Finding) -> Result<Held, String> {
        let words = finding.kind.words();
        let Some(line) = tree
            .line(finding.at)
            .filter(|_| words != "phantom move" && words != "bare candidate")
        else {
            return Ok(Held::True);
        };
        let delta = self.settings.delta;
        let verdict = tree
            .node(finding.at)
            .and_then(|n| value_of_verdict(n.verdict?, line.player()));
        let ends = tree.standing(finding.at).next().is_none();
        let gap = match (words, verdict) {
            ("missed threat", _) => {
                self.worth(tree.root())? - self.after(&line, &finding.resource)?
            }
            ("wrong choice", _) => {
                let chosen = choice.and_then(|c| tree.line(c)).ok_or("no choice")?;
                self.after(&line, &finding.resource)? - self.worth(&chosen)?
            }
            ("seen, misjudged" | "feared too much", Some(stated)) => {
                (self.worth(&line)? - stated).abs()
            }
            (_, Some(stated)) if ends => (self.worth(&line)? - stated).abs(),
            _ => {
                let resource = self.after(&line, &finding.resource)?;
                let written = self
                    .best_written(tree, finding.at, &line)?
                    .unwrap_or(resource);
                prefers(&line, resource, written)
            }
        };
        Ok(match gap {
            g if g >= delta => Held::True,
            g if g >= delta / 2.0 => Held::Close,
            _ => Held::False,
        })
    }

    fn best_written(&self, tree: &Tree, at: NodeId, line: &Line) -> Result<Option<f64>, String> {
        let mut best: Option<f64> = None;
        for child in tree.standing(at).filter_map(|c| tree.line(c)) {
            let worth = self.worth(&child)?;
            if best.is_none_or(|b| prefers(line, worth, b) > 0.0) {
                best = Some(worth);
            }
        }
        Ok(best)
    }

    fn after(&self, line: &Line, san: &str) -> Result<f64, String> {
        let san: shakmaty::san::SanPlus = san.parse().map_err(|_| format!("'{san}' is no move"))?;
        let mv = san
            .san
            .to_move(line.position())
            .map_err(|e| e.to_string())?;
        self.worth(&line.child(&mv).map_err(|e| e.to_string())?)
    }

    /// Worth for the player, by the reference.
    fn worth(&self, line: &Line) -> Result<f64, String> {
        let question = Question {
            line: line.clone(),
            lines: 1,
            nodes: self.nodes,
        };
        let answers: Vec<j::Answer> = self
            .reference
            .answer(&[question])
            .map_err(|e| e.to_string())?;
        let answer = answers.first().ok_or("no answer")?;
        let own = if line.turn() == line.player() {
            answer.expected
        } else {
            answer.expected.flip()
        };
        Ok(own.value())
    }

    fn print(&self) {
        println!("--- recall, of the omissions that the reference confirms");
        for (omission, (told, all)) in &self.recall {
            println!("  {:26} {told:3} of {all:3}", omission.words());
        }
        println!("--- counted findings: true, close, false");
        for (kind, [yes, close, no]) in &self.precision {
            println!("  {kind:26} {yes:3} {close:3} {no:3}");
        }
        println!(
            "--- sound trees that are clean: {} of {}",
            self.clean.0, self.clean.1
        );
    }
}

/// Positive where `a` suits the side to move better, scores being the player's.
fn prefers(line: &Line, a: f64, b: f64) -> f64 {
    if line.turn() == line.player() {
        a - b
    } else {
        b - a
    }
}
