//! No number and no date gets to a reader but as his locale has it: every surface is made again in one that has no point
//! between figures at all, and looked through for what is written otherwise.

use super::Surface;
use crate::text::within;
use crate::tui::tests::past_the_locale::{french, past_the_locale, without_tags};

/// What people are shown, in that locale. What programs read is not made in one, which `tests/locale.rs` holds.
pub(super) fn elsewhere(shown: &dyn Fn() -> Vec<(Surface, String)>) {
    for (surface, text) in within(french(), shown) {
        let text = match surface {
            Surface::Json => continue,
            Surface::Html => without_tags(&text),
            _ => text,
        };
        let past = past_the_locale(&text);
        assert!(past.is_empty(), "{surface:?}: {past:?}");
    }
}
