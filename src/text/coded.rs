//! Enumerations that programs read by their codes, in the schemas of the formats.

/// The schema of an enumeration that is written by its `code()`, one of `ALL`.
macro_rules! coded {
    ($kind:ident) => {
        impl schemars::JsonSchema for $kind {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($kind).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let codes: Vec<&str> = $kind::ALL.iter().map(|kind| kind.code()).collect();
                schemars::json_schema!({ "enum": codes })
            }
        }
    };
}

pub(crate) use coded;
