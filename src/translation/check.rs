//! What a translation lacks and what does not fit, for whoever writes it.

use super::catalogue::{File, file, unfit};
use super::lines::Fault;

/// A text that is shown in English.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missing {
    /// The line of its message, where the file has one.
    pub line: Option<usize>,
    pub english: String,
}

/// How far a translation goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Check {
    pub language: String,
    /// Texts that the program has.
    pub texts: usize,
    /// Those of them that the file translates.
    pub translated: usize,
    /// Without a translation, or one that is not sure (fuzzy).
    pub missing: Vec<Missing>,
    /// Translations that do not fit their English text: the program refuses the file for them.
    pub unfit: Vec<Fault>,
    /// Messages whose English text the program does not have, or no more.
    pub unknown: Vec<Fault>,
}

/// Holds a translation against the texts of the program.
///
/// # Errors
/// It is no PO file.
pub fn check(template: &str, text: &str) -> Result<Check, Fault> {
    let wanted = file(template)?;
    let given = file(text)?;
    Ok(compared(&wanted, &given))
}

fn compared(wanted: &File, given: &File) -> Check {
    let mut missing = Vec::new();
    let mut translated = 0;
    let by_key: std::collections::HashMap<&str, &super::catalogue::Entry> =
        given.entries.iter().map(|e| (e.key.as_str(), e)).collect();
    for text in &wanted.entries {
        match by_key.get(text.key.as_str()) {
            Some(entry) if entry.counts() => translated += 1,
            entry => missing.push(Missing {
                line: entry.map(|e| e.line),
                english: text.id.clone(),
            }),
        }
    }
    let known: std::collections::HashSet<&str> =
        wanted.entries.iter().map(|e| e.key.as_str()).collect();
    let counted = || given.entries.iter().filter(|e| e.counts());
    let unfit = counted().filter_map(|e| {
        Some(Fault {
            line: e.line,
            why: unfit(e, given)?,
        })
    });
    let unknown = counted().filter(|e| !known.contains(e.key.as_str()));
    Check {
        language: given.language.clone(),
        texts: wanted.entries.len(),
        translated,
        missing,
        unfit: unfit.collect(),
        unknown: unknown
            .map(|e| Fault {
                line: e.line,
                why: e.id.clone(),
            })
            .collect(),
    }
}
