//! Findings against a reference that searches many times longer.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use foreply::board::Line;
use foreply::drill::{self, Drill};
use foreply::judge::{self as j, Judge as _, Question};
use foreply::review::{
    Finding, FindingStatus, Review, ReviewInput, Settings, review, value_of_verdict,
};
use foreply::store::Store;
use foreply::tree::{NodeId, Tree};

use super::args::Args;
use super::asked::{self, Judge};
use super::log::{Held, Log, Omitted, Outcome, Told};
use super::trees::{Case, Omission, cases};

/// A finding's gap by the reference.
fn held_by(gap: f64, delta: f64) -> Held {
    match gap {
        g if g >= delta => Held::True,
        g if g >= delta / 2.0 => Held::Close,
        _ => Held::False,
    }
}

struct Bench<'a> {
    judge: &'a Judge,
    /// Makes the trees.
    maker: &'a Judge,
    reference: &'a Judge,
    settings: Settings,
    /// Nodes of the reference.
    nodes: u64,
    /// What the logarithm of the reference's odds is multiplied by.
    sharper: f64,
}

/// By how many centipawns the program makes the odds ten to one where an engine tells pawns alone
/// (`MoverScore::from_centipawns`).
const PROGRAMS_SCALE: f64 = 400.0;

/// The positions are shared among so many workers, each with an engine and a reference of its own.
pub fn run(args: &Args, store: Option<&Arc<Store>>, jobs: usize) -> Result<(), String> {
    let drills = drills(args)?;
    let chosen = spread(&drills, args.sample.map(|n| n + args.skip));
    let chosen: Vec<&Drill> = chosen.into_iter().skip(args.skip).collect();
    let (next, start) = (AtomicUsize::new(0), Instant::now());
    let log: Mutex<Option<Log>> = Mutex::new(None);
    let work = || -> Result<(), String> {
        let judge = asked::judge(args.engine.as_deref(), Some(1), store.cloned())?;
        let reference = asked::judge(args.reference.as_deref(), Some(1), store.cloned())?;
        let maker = match &args.trees_by {
            Some(command) => Some(asked::judge(Some(command), Some(1), store.cloned())?),
            None => None,
        };
        let bench = Bench {
            judge: &judge,
            maker: maker.as_ref().unwrap_or(&judge),
            reference: &reference,
            settings: Settings {
                nodes: args.nodes,
                ..Settings::default()
            },
            nodes: args.nodes * args.factor,
            sharper: args
                .scale
                .map_or(1.0, |scale| PROGRAMS_SCALE / f64::from(scale)),
        };
        let locked = || log.lock().unwrap_or_else(PoisonError::into_inner);
        {
            let mut log = locked();
            if log.is_none() {
                let heading = bench.heading();
                println!("{heading}");
                *log = Some(Log::open(args.log.as_deref(), &heading)?);
            }
        }
        while let Some(drill) = chosen.get(next.fetch_add(1, Ordering::Relaxed)) {
            let limit = args.minutes.map(|m| Duration::from_secs(60 * m));
            if limit.is_some_and(|limit| start.elapsed() >= limit) {
                break;
            }
            if locked().as_ref().is_some_and(|log| log.has(&drill.id)) {
                continue;
            }
            let outcome = bench.position(drill)?;
            if let Some(log) = locked().as_mut() {
                print!("{}", outcome.told());
                log.add(outcome)?;
            }
        }
        Ok(())
    };
    std::thread::scope(|scope| {
        let workers: Vec<_> = (0..jobs).map(|_| scope.spawn(work)).collect();
        workers.into_iter().try_for_each(|worker| {
            let done = worker.join();
            done.unwrap_or_else(|_| Err("a worker has panicked".to_owned()))
        })
    })?;
    let log = log.into_inner().unwrap_or_else(PoisonError::into_inner);
    let total = log.map(|log| log.total()).unwrap_or_default();
    println!("{total}{:.0} s", start.elapsed().as_secs_f64());
    Ok(())
}

/// At most so many drills, such that any beginning of them is spread over all: each next one lies the golden
/// section of the whole further on.
fn spread(drills: &[Drill], sample: Option<usize>) -> Vec<&Drill> {
    let golden = (5f64.sqrt() - 1.0) / 2.0;
    let mut places: Vec<usize> = Vec::new();
    let wanted = sample.unwrap_or(drills.len()).min(drills.len());
    for step in 0.. {
        if places.len() >= wanted {
            break;
        }
        let place = ((f64::from(step) * golden).fract() * drills.len() as f64) as usize;
        if !places.contains(&place) {
            places.push(place);
        }
    }
    places.into_iter().filter_map(|p| drills.get(p)).collect()
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
        known_by: None,
        note: None,
    }
}

impl Bench<'_> {
    fn heading(&self) -> String {
        format!(
            "reviewed by {} with {} nodes, held against {} with {}",
            self.judge.name(),
            self.settings.nodes,
            self.reference.name(),
            self.nodes
        )
    }

    fn position(&self, drill: &Drill) -> Result<Outcome, String> {
        let mut outcome = Outcome::new(&drill.id);
        let nodes = self.settings.nodes;
        for case in cases(&drill.root, &drill.solution, self.maker, nodes)? {
            self.case(&case, &mut outcome)?;
        }
        Ok(outcome)
    }

    fn case(&self, case: &Case, outcome: &mut Outcome) -> Result<(), String> {
        let choice = case.tree.standing(NodeId::ROOT).next();
        let written = ReviewInput {
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
            outcome.sound.push(found.is_clean());
        } else if let Some((truth, written)) = self.mistake(case)? {
            let omitted = omission(case, &found, truth, written);
            outcome.omissions.push(omitted);
        }
        for finding in &found.findings {
            let list = match finding.class {
                FindingStatus::Counted => &mut outcome.findings,
                // By the board alone.
                FindingStatus::Aside if finding.kind.label() != "bare candidate" => {
                    &mut outcome.beside
                }
                _ => continue,
            };
            let gap = self.gap(&case.tree, choice, finding)?;
            let mut told = told(case, finding, gap, &self.settings);
            told.proved = self.proved(&case.tree, finding)?;
            list.push(told);
        }
        Ok(())
    }

    /// What the place of the omission is worth by the reference, and what the tree makes of it, where that
    /// is a mistake.
    fn mistake(&self, case: &Case) -> Result<Option<(f64, f64)>, String> {
        let Some(line) = case.tree.line(case.at) else {
            return Ok(None);
        };
        let truth = self.worth(&line)?;
        let decided = |a: f64, b: f64| {
            let bar = self.settings.decided.value();
            a.min(b) >= bar || a.max(b) <= 1.0 - bar
        };
        let node = case.tree.node(case.at);
        let stated = node
            .and_then(|n| value_of_verdict(n.verdict?, line.player()))
            .map(|e| e.value());
        let (off, written, enough) = match stated {
            Some(stated) => (
                (truth - stated).abs(),
                stated,
                self.settings.delta.value() + 0.05,
            ),
            None => {
                let best = self.best_written(&case.tree, case.at, &line)?;
                let written = best.unwrap_or(truth);
                (
                    prefers(&line, truth, written),
                    written,
                    self.settings.delta.value(),
                )
            }
        };
        let is_one = off >= enough && !decided(truth, written);
        Ok(is_one.then_some((truth, written)))
    }

    /// What the finding is worth by the reference; `None` for kinds that the board alone decides.
    fn gap(
        &self,
        tree: &Tree,
        choice: Option<NodeId>,
        finding: &Finding,
    ) -> Result<Option<f64>, String> {
        let words = finding.kind.label();
        let Some(line) = tree
            .line(finding.at)
            .filter(|_| words != "phantom move" && words != "bare candidate")
        else {
            return Ok(None);
        };
        let verdict = tree
            .node(finding.at)
            .and_then(|n| value_of_verdict(n.verdict?, line.player()))
            .map(|e| e.value());
        let ends = tree.standing(finding.at).next().is_none();
        Ok(Some(match (words, verdict) {
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
        }))
    }

    /// Whether the line that is told proves its point: on its last board the reference still sees, for the same side, at least
    /// half of what it sees after the overlooked move. `None` where the board alone decides, or no line is told.
    fn proved(&self, tree: &Tree, finding: &Finding) -> Result<Option<bool>, String> {
        let kinds = ["phantom move", "bare candidate", "missed threat"];
        let Some(line) = tree
            .line(finding.at)
            .filter(|_| !kinds.contains(&finding.kind.label()) && finding.proof.len() > 1)
        else {
            return Ok(None);
        };
        let mut end = line.clone();
        for san in &finding.proof {
            let san: shakmaty::san::SanPlus =
                san.parse().map_err(|_| format!("'{san}' is no move"))?;
            let mv = san.san.to_move(end.position()).map_err(|e| e.to_string())?;
            end.push(&mv).map_err(|e| e.to_string())?;
        }
        let verdict = tree
            .node(finding.at)
            .and_then(|n| value_of_verdict(n.verdict?, line.player()))
            .map(|e| e.value());
        let believed = match verdict {
            Some(stated) => Some(stated),
            None => self.best_written(tree, finding.at, &line)?,
        };
        let Some(believed) = believed else {
            return Ok(None);
        };
        let promised = self.after(&line, &finding.resource)? - believed;
        let kept = self.worth(&end)? - believed;
        Ok(Some(kept * promised.signum() >= promised.abs() / 2.0))
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
        let odds = own.value() / (1.0 - own.value());
        Ok(1.0 / (1.0 + odds.powf(-self.sharper)))
    }
}

/// An omission that the reference confirms, and whether the review tells it.
fn omission(case: &Case, found: &Review, truth: f64, written: f64) -> Omitted {
    let told = found.findings.iter().any(|f| {
        f.class != FindingStatus::Close
            && f.at == case.at
            && case.omission.told_by().contains(&f.kind.label())
    });
    let others: Vec<String> = found
        .findings
        .iter()
        .map(|f| {
            format!(
                "{:?} {} {} by {}",
                f.class,
                f.kind.label(),
                f.resource,
                f.gap
            )
        })
        .collect();
    let choice = found.expected.choice.map_or(0.0, |e| e.value());
    Omitted {
        what: case.omission.words().to_owned(),
        told,
        words: format!(
            "after {} ({written:.2}, by the reference {truth:.2}); best {:.2}, choice {choice:.2}; told: {}",
            case.tree.sans(case.at).join(" "),
            found.expected.best.value(),
            others.join("; ")
        ),
    }
}

fn told(case: &Case, finding: &Finding, gap: Option<f64>, settings: &Settings) -> Told {
    let path = finding.paths.first().map(|p| p.join(" "));
    Told {
        proved: None,
        kind: finding.kind.label().to_owned(),
        held: gap.map_or(Held::True, |g| held_by(g, settings.delta.value())),
        words: format!(
            "({}) after {}: {} [gap {}, effect {}; by the reference {:.3}]",
            case.omission.words(),
            path.unwrap_or_default(),
            finding.sentence,
            finding.gap,
            finding.effect,
            gap.unwrap_or(finding.gap.value())
        ),
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
