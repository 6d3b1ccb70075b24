//! Progress as JSON.

use super::published::{Published, document_json};
use crate::progress::Report;

impl Published for Report {
    const FORMAT: &'static str = "foreply-progress";
}

/// The document, with a line break at its end.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn progress_json(report: &Report) -> Result<String, serde_json::Error> {
    document_json(report)
}
