//! What was found on this machine, as JSON.

use serde::Serialize;

use super::published::{Published, document_json};

/// One thing that was looked at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct SetupRow {
    /// What it is about, in a word.
    pub about: String,
    pub state: SetupState,
    /// What was found, in words.
    pub found: String,
    /// What to do about it; `null` where nothing is to be done.
    pub mend: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SetupState {
    Good,
    /// It works, and could be better.
    Hint,
    /// Something does not work.
    Bad,
}

/// What was found on this machine, and what to mend (`foreply setup --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    findings: &'a [SetupRow],
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-setup";
}

/// As JSON.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn setup_json(findings: &[SetupRow]) -> Result<String, serde_json::Error> {
    document_json(&Document { findings })
}
