//! The arguments of `foreply schema`.

#[derive(Debug, clap::Args)]
pub(crate) struct Schema {
    /// The format by its name; without, the list of them
    pub name: Option<String>,
}

pub(super) const SCHEMA_EXAMPLES: &str = "\
Examples:
  foreply schema                          the names, and what each is
  foreply schema review > review.schema.json

The schemas are JSON Schema, draft 2020-12. Each document begins with its format and version. Within a version
fields may be added and enumerations may get new members; nothing is renamed, taken away or given another
meaning without a new version, so a program should pass over what it does not know.";
