//! The schemas of the documents that programs read, made of the very types that are written.

use schemars::Schema;
use schemars::generate::SchemaSettings;
use serde_json::{Value, json};

use super::published::Published;

/// A schema by its short name.
#[derive(Debug, Clone, Copy)]
pub struct SchemaOf {
    pub name: &'static str,
    make: fn() -> Schema,
}

/// All that can be asked for, in the order of their names; `drills` describes the files that are read.
#[must_use]
pub fn schemas() -> Vec<SchemaOf> {
    fn of<T: Published>() -> SchemaOf {
        SchemaOf {
            name: T::FORMAT.trim_start_matches("foreply-"),
            make: described::<T>,
        }
    }
    let mut all = vec![
        of::<super::json::Document<'_>>(),
        of::<super::taken::Document<'_>>(),
        of::<super::homework::Document<'_>>(),
        of::<super::method::Document>(),
        of::<super::collection::Document<'_>>(),
        of::<super::history::Document<'_>>(),
        of::<super::eve::Document<'_>>(),
        of::<super::games::Document<'_>>(),
        of::<super::games_list::Document<'_>>(),
        of::<super::game_account::Document<'_>>(),
        of::<super::event::Document<'_>>(),
        of::<super::opponent::Document<'_>>(),
        of::<super::own_thoughts::Document<'_>>(),
        of::<super::games_plans::Document<'_>>(),
        of::<super::games_openings::Document<'_>>(),
        of::<super::games_clock::Document<'_>>(),
        of::<super::score_sheet::Document>(),
        of::<super::setup::Document<'_>>(),
        of::<super::translation::Document<'_>>(),
        of::<crate::progress::Report>(),
        of::<crate::progress::quick::Quick>(),
        of::<super::experiment::Document<'_>>(),
        of::<crate::playout::Account>(),
        SchemaOf {
            name: "drills",
            make: drills,
        },
    ];
    all.sort_by_key(|s| s.name);
    all
}

/// The schema of that name (JSON Schema, draft 2020-12), with a line break at its end; `None` where there is none.
///
/// # Errors
/// A value cannot be written as JSON; a schema is not of that kind.
pub fn schema(name: &str) -> Option<Result<String, serde_json::Error>> {
    let found = schemas().into_iter().find(|s| s.name == name)?;
    let text = serde_json::to_string_pretty(&(found.make)());
    Some(text.map(|text| text + "\n"))
}

/// What a document looks like as it is written: with name and version, which the type itself does not have.
fn described<T: Published>() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    schema.insert("title".to_owned(), json!(T::FORMAT));
    let named = [
        ("format", json!({ "const": T::FORMAT })),
        ("version", json!({ "const": T::VERSION })),
    ];
    let object = schema.ensure_object();
    for (field, of) in named {
        let properties = object
            .entry("properties")
            .or_insert_with(|| Value::Object(serde_json::Map::new()));
        if let Value::Object(properties) = properties {
            properties.insert(field.to_owned(), of);
        }
        let required = object
            .entry("required")
            .or_insert_with(|| Value::Array(Vec::new()));
        if let Value::Array(required) = required {
            required.push(json!(field));
        }
    }
    schema
}

/// The files of drills, which are read and written as YAML.
fn drills() -> Schema {
    serde_json::from_str::<Value>(include_str!("../../drills/schema.json"))
        .ok()
        .and_then(|schema| Schema::try_from(schema).ok())
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_schema_is_an_object_or_the_list_of_drills() {
        let names: Vec<&str> = schemas().iter().map(|s| s.name).collect();
        assert!(names.windows(2).all(|n| n[0] < n[1]), "{names:?}");
        for name in names {
            let text = schema(name).unwrap().unwrap();
            let schema: Value = serde_json::from_str(&text).unwrap();
            let kind = if name == "drills" { "array" } else { "object" };
            assert_eq!(schema["type"], kind, "{name}");
            if kind == "object" {
                assert_eq!(
                    schema["properties"]["format"]["const"],
                    format!("foreply-{name}")
                );
            }
        }
        assert!(schema("no-such").is_none());
    }
}
