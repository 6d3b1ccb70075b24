//! The names of all properties, for the schemas of the formats that hold them.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::feature::Feature;

impl JsonSchema for Feature {
    fn schema_name() -> Cow<'static, str> {
        "Feature".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let names: Vec<&str> = Feature::all().map(Feature::name).collect();
        json_schema!({ "enum": names })
    }
}
