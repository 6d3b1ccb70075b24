//! What the embedded engine is, for the cache: a sum over its sources, which it makes when it is compiled.

use std::sync::OnceLock;

use crate::engine::IDENTITY;

/// Another text for another engine.
pub(super) fn fingerprint() -> &'static str {
    static SUM: OnceLock<String> = OnceLock::new();
    SUM.get_or_init(|| format!("{IDENTITY:016x}"))
}
