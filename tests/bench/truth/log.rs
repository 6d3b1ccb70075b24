//! What the bench found, position by position: kept in a file, one JSON value a line, and added up.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs::{File, OpenOptions};
use std::io::Write as _;
use std::path::Path;

use serde::{Deserialize, Serialize};

/// What the reference says of a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Held {
    /// The gap is at least delta.
    True,
    /// Between half of delta and delta.
    Close,
    False,
}

/// A finding.
#[derive(Debug, Serialize, Deserialize)]
pub struct Told {
    pub kind: String,
    pub held: Held,
    /// Whether its line proves it, where one is told.
    #[serde(default)]
    pub proved: Option<bool>,
    pub words: String,
}

/// A known omission.
#[derive(Debug, Serialize, Deserialize)]
pub struct Omitted {
    pub what: String,
    pub told: bool,
    pub words: String,
}

/// All trees of one position.
#[derive(Debug, Serialize, Deserialize)]
pub struct Outcome {
    pub id: String,
    /// Those that count.
    pub findings: Vec<Told>,
    /// Those told beside the choice.
    #[serde(default)]
    pub beside: Vec<Told>,
    /// Those that the reference confirms.
    pub omissions: Vec<Omitted>,
    /// For each sound tree, whether its review is clean.
    pub sound: Vec<bool>,
}

impl Outcome {
    pub fn new(id: &str) -> Self {
        Self {
            id: id.to_owned(),
            findings: Vec::new(),
            beside: Vec::new(),
            omissions: Vec::new(),
            sound: Vec::new(),
        }
    }

    /// What is wrong here, a line each.
    pub fn told(&self) -> String {
        let mut out = String::new();
        for (what, findings) in [("", &self.findings), (" beside", &self.beside)] {
            for told in findings.iter().filter(|f| f.held != Held::True) {
                let (held, kind) = (told.held, &told.kind);
                let _ = writeln!(out, "{held:?}{what}: {} {kind} {}", self.id, told.words);
            }
        }
        for told in self.findings.iter().filter(|f| f.proved == Some(false)) {
            let _ = writeln!(out, "Not proved: {} {} {}", self.id, told.kind, told.words);
        }
        for omitted in self.omissions.iter().filter(|o| !o.told) {
            let _ = writeln!(
                out,
                "Not told: {} ({}), {}",
                self.id, omitted.what, omitted.words
            );
        }
        out
    }
}

/// The outcomes so far.
pub struct Log {
    file: Option<File>,
    outcomes: Vec<Outcome>,
}

impl Log {
    /// Reads what earlier runs left in the file; it must begin with the same heading (engines and nodes).
    pub fn open(path: Option<&Path>, heading: &str) -> Result<Self, String> {
        let Some(path) = path else {
            return Ok(Self {
                file: None,
                outcomes: Vec::new(),
            });
        };
        let failed = |e: &dyn std::fmt::Display| format!("{}: {e}", path.display());
        let text = match std::fs::read_to_string(path) {
            Ok(text) => text,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => String::new(),
            Err(e) => return Err(failed(&e)),
        };
        let mut lines = text.lines();
        let new = match lines.next() {
            None => true,
            Some(first) if first == heading => false,
            Some(first) => return Err(failed(&format!("holds another run: {first}"))),
        };
        let outcomes: Result<Vec<Outcome>, _> = lines.map(serde_json::from_str).collect();
        let mut file = OpenOptions::new()
            .append(true)
            .create(true)
            .open(path)
            .map_err(|e| failed(&e))?;
        if new {
            writeln!(file, "{heading}").map_err(|e| failed(&e))?;
        }
        Ok(Self {
            file: Some(file),
            outcomes: outcomes.map_err(|e| failed(&e))?,
        })
    }

    pub fn has(&self, id: &str) -> bool {
        self.outcomes.iter().any(|o| o.id == id)
    }

    pub fn add(&mut self, outcome: Outcome) -> Result<(), String> {
        if let Some(file) = &mut self.file {
            let line = serde_json::to_string(&outcome).map_err(|e| e.to_string())?;
            writeln!(file, "{line}").map_err(|e| e.to_string())?;
        }
        self.outcomes.push(outcome);
        Ok(())
    }

    /// All outcomes added up.
    pub fn total(&self) -> String {
        let mut recall: BTreeMap<&str, [usize; 2]> = BTreeMap::new();
        let mut precision: BTreeMap<(&str, &str), [usize; 3]> = BTreeMap::new();
        for outcome in &self.outcomes {
            for omitted in &outcome.omissions {
                let [told, all] = recall.entry(&omitted.what).or_default();
                *told += usize::from(omitted.told);
                *all += 1;
            }
            let counted = outcome.findings.iter().map(|told| ("counted", told));
            let beside = outcome.beside.iter().map(|told| ("beside", told));
            for (class, told) in counted.chain(beside) {
                let [yes, close, no] = precision.entry((class, &told.kind)).or_default();
                *match told.held {
                    Held::True => yes,
                    Held::Close => close,
                    Held::False => no,
                } += 1;
            }
        }
        let mut out = format!("{} positions\n", self.outcomes.len());
        out += "--- recall, of the omissions that the reference confirms\n";
        for (what, [told, all]) in recall {
            let _ = writeln!(out, "  {what:26} {told:3} of {all:3}");
        }
        out += "--- findings: true, close, false\n";
        for ((class, kind), [yes, close, no]) in precision.iter().rev() {
            let _ = writeln!(out, "  {class:8} {kind:26} {yes:3} {close:3} {no:3}");
        }
        let counted = || self.outcomes.iter().flat_map(|o| &o.findings);
        let proved = counted().filter(|f| f.proved == Some(true)).count();
        let lines = counted().filter(|f| f.proved.is_some()).count();
        let _ = writeln!(
            out,
            "--- counted findings whose line proves them: {proved} of {lines}"
        );
        let sound = || self.outcomes.iter().flat_map(|o| &o.sound);
        let clean = sound().filter(|clean| **clean).count();
        let _ = writeln!(
            out,
            "--- sound trees that are clean: {clean} of {}",
            sound().count()
        );
        out
    }
}
