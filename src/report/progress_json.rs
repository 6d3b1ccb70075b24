//! Progress as JSON, format `foreply-progress`, version 1. Fields may be added; none is renamed.

use serde::Serialize;

use crate::progress::Report;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    #[serde(flatten)]
    report: &'a Report,
}

/// The document, with a line break at its end.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn progress_json(report: &Report) -> Result<String, serde_json::Error> {
    let document = Document {
        format: "foreply-progress",
        version: 1,
        report,
    };
    Ok(serde_json::to_string_pretty(&document)? + "\n")
}
