//! The documents that programs read: each with its name and version first.
//!
//! Within a version fields may be added, and enumerations may get new members; nothing is renamed, taken away or given
//! another meaning without a new version.

use schemars::JsonSchema;
use serde::Serialize;

use crate::text::safe_json;

/// A document for programs.
pub(super) trait Published: Serialize + JsonSchema {
    /// The name that stands in it.
    const FORMAT: &'static str;
    const VERSION: u32 = 1;
}

/// A value as a document: its name and version first, then its own fields, with a line break at the end.
pub(super) fn document_json<T: Published>(value: &T) -> Result<String, serde_json::Error> {
    #[derive(Serialize)]
    struct Named<'a, T> {
        format: &'static str,
        version: u32,
        #[serde(flatten)]
        value: &'a T,
    }
    let named = Named {
        format: T::FORMAT,
        version: T::VERSION,
        value,
    };
    Ok(safe_json(serde_json::to_string_pretty(&named)?) + "\n")
}
