//! What a coach's file brought, as plain text and as JSON.

use serde::Serialize;

use super::paragraph;
use super::published::{Published, document_json};
use crate::coach::CoachImport;

/// One paragraph of what is new, then the details: `+` a line, `:` words, `!` a conflict, `=` what
/// stays.
#[must_use]
pub fn taken(taken: &CoachImport) -> String {
    let mut out = paragraph(&tr!("Attempt {}: {}", taken.attempt, summary(taken)), "");
    let lines = taken.lines.iter().map(|l| l.join(" "));
    items(&mut out, "  + ", lines);
    items(&mut out, "  $ ", taken.judged.iter().cloned());
    let said = taken
        .said
        .iter()
        .map(|(path, words)| match path.as_slice() {
            [] => words.clone(),
            path => format!("{}: {words}", path.join(" ")),
        });
    items(&mut out, "  : ", said);
    let prefixed = |word: &'static str| move |what: &String| format!("{word} {what}");
    items(
        &mut out,
        "  - ",
        taken.overruled.iter().map(prefixed(tr!("struck:"))),
    );
    items(
        &mut out,
        "  - ",
        taken.upheld.iter().map(prefixed(tr!("stands again:"))),
    );
    items(&mut out, "  ! ", taken.conflicts.iter().cloned());
    let kept = taken.kept.iter();
    items(
        &mut out,
        "  = ",
        kept.map(|k| tr!("not in the file, stays: {k}")),
    );
    out
}

/// What was done a number of times.
type Counted = fn(usize) -> String;

/// 'Bram Oskarn added 3 lines, overruled 1 finding, set 1 as homework.'
#[must_use]
pub fn summary(taken: &CoachImport) -> String {
    let counts: [(usize, Counted); 5] = [
        (
            taken.lines.len(),
            |n| tr!(n; "added {n} line" | "added {n} lines"),
        ),
        (
            taken.judged.len(),
            |n| tr!(n; "set {n} verdict" | "set {n} verdicts"),
        ),
        (
            taken.said.len(),
            |n| tr!(n; "wrote {n} comment" | "wrote {n} comments"),
        ),
        (
            taken.overruled.len(),
            |n| tr!(n; "overruled {n} finding" | "overruled {n} findings"),
        ),
        (
            taken.upheld.len(),
            |n| tr!(n; "let stand again {n} finding" | "let stand again {n} findings"),
        ),
    ];
    let some = counts.iter().filter(|c| c.0 > 0);
    let mut parts: Vec<String> = some.map(|(n, told)| told(*n)).collect();
    match taken.homework.len() {
        0 => {}
        n => parts.push(tr!("set {n} as homework")),
    }
    let conflicts = match taken.conflicts.len() {
        0 => String::new(),
        n => tr!(n; " {n} conflict." | " {n} conflicts."),
    };
    match parts.is_empty() {
        true => tr!("nothing new from {}.{conflicts}", taken.by),
        // TRANSLATORS: a coach, what he did ('added 3 lines, set 1 verdict'), and conflicts as a sentence.
        false => tr!("{} {}.{conflicts}", taken.by, parts.join(", ")),
    }
}

/// What coaches' files brought (`foreply coach take --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    attempts: &'a [&'a CoachImport],
    /// Positions that he handed out to write on.
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    tasks: &'a [SetTask],
}

/// A position that a coach handed out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct SetTask {
    /// The coach; may come from a file, as the next two may.
    pub by: String,
    /// What he calls the positions; may be empty.
    pub name: String,
    /// The number of the position among them.
    pub number: Option<u32>,
    /// The day by which it is to be done (YYYY-MM-DD).
    pub due: Option<String>,
    /// What to do, in the coach's words; may be empty.
    pub words: String,
    /// It, its day or its words were not known before.
    pub new: bool,
}

/// What was set: one sentence for each coach and name; nothing where nothing was.
#[must_use]
pub fn set_tasks(tasks: &[SetTask]) -> String {
    let mut groups: Vec<(&str, &str, usize, usize)> = Vec::new();
    for task in tasks {
        let known = groups
            .iter_mut()
            .find(|(by, name, ..)| (*by, *name) == (&task.by, &task.name));
        match known {
            Some((_, _, all, new)) => {
                *all += 1;
                *new += usize::from(task.new);
            }
            None => groups.push((&task.by, &task.name, 1, usize::from(task.new))),
        }
    }
    let mut out = String::new();
    for (by, name, all, new) in &groups {
        let of = match *name {
            "" => String::new(),
            name => tr!(" of {name}"),
        };
        let sentence = match (*new, *all) {
            (0, 1) => tr!("{by} had set the position{of} before; nothing is new."),
            (0, all) => tr!("{by} had set the {all} positions{of} before; nothing is new."),
            (1, 1) => tr!("{by} set a position{of} as homework."),
            (new, all) if new == all => tr!("{by} set {all} positions{of} as homework."),
            (new, all) => tr!(
                "{by} set {new} of {all} positions{of} as homework; the others were set before."
            ),
        };
        out += &paragraph(&sentence, "");
    }
    if tasks.iter().any(|t| t.new) {
        out += tr!(
            "`foreply practice --homework` opens the first; `foreply coach homework` lists them.\n"
        );
    }
    out
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-taken";
}

/// All of them as JSON.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn taken_json(all: &[&CoachImport], tasks: &[SetTask]) -> Result<String, serde_json::Error> {
    document_json(&Document {
        attempts: all,
        tasks,
    })
}

fn items(out: &mut String, lead: &str, of: impl Iterator<Item = String>) {
    for text in of {
        out.push_str(&paragraph(&text, lead));
    }
}
