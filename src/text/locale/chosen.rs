//! The locale of this run.

use std::cell::Cell;
use std::sync::OnceLock;

use super::conventions::Locale;

static CHOSEN: OnceLock<Locale> = OnceLock::new();

thread_local! {
    static HERE: Cell<Option<Locale>> = const { Cell::new(None) };
}

/// Says once, at the start, which locale this run has.
pub fn choose(locale: Locale) {
    // A second start in one process keeps the first.
    let _ = CHOSEN.set(locale);
}

/// The locale that holds here.
#[must_use]
pub fn chosen() -> Locale {
    let here = HERE.with(Cell::get);
    here.or_else(|| CHOSEN.get().copied())
        .unwrap_or(Locale::STANDARD)
}

/// Does something under another locale, in this thread alone: what is written for programs in the middle of a run that
/// speaks to people, and tests beside each other.
pub fn within<T>(locale: Locale, what: impl FnOnce() -> T) -> T {
    let _back = Back(HERE.replace(Some(locale)));
    what()
}

/// Puts the locale back, also where what was done has panicked.
struct Back(Option<Locale>);

impl Drop for Back {
    fn drop(&mut self) {
        HERE.set(self.0);
    }
}
