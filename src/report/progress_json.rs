//! Progress as JSON, format `foreply-progress`, version 1. Fields may be added; none is renamed.

use super::document_json;
use crate::progress::Report;

/// The document, with a line break at its end.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn progress_json(report: &Report) -> Result<String, serde_json::Error> {
    document_json("foreply-progress", report)
}
