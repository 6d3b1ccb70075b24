//! `foreply schema`: what the documents for programs look like.

use std::fmt::Write;

use crate::cli::Failure;
use crate::cli::args::Schema;
use crate::cli::shell::error::print;
use crate::report;
use crate::text;

pub(crate) fn run(args: &Schema) -> Result<(), Failure> {
    let Some(name) = &args.name else {
        return print(&list()?);
    };
    let found = report::schema(name).ok_or_else(|| {
        let names = report::schemas().into_iter().map(|s| s.name.to_owned());
        let names: Vec<String> = names.collect();
        Failure::input(tr!(
            "there is no format '{name}'; there are {}",
            text::list(&names)
        ))
    })?;
    print(&found.map_err(Failure::input)?)
}

/// A line a format: its name, and what it is.
fn list() -> Result<String, Failure> {
    let mut out = String::new();
    for schema in report::schemas() {
        let of = report::schema(schema.name)
            .transpose()
            .map_err(Failure::input)?;
        let of: serde_json::Value =
            serde_json::from_str(&of.unwrap_or_default()).map_err(Failure::input)?;
        let words = of.get("description").and_then(|d| d.as_str());
        let words = words.unwrap_or_default();
        let first = words
            .split("\n\n")
            .next()
            .unwrap_or_default()
            .replace('\n', " ");
        for (at, row) in text::wrap(&first, 64).iter().enumerate() {
            let head = if at == 0 { schema.name } else { "" };
            // Writing into a string does not fail.
            let _ = writeln!(out, "{head:<14}{row}");
        }
    }
    Ok(out)
}
