//! The texts that people read, in the language of a translation: a PO file, the format of GNU gettext.
//!
//! Takes a catalogue once, at the start; gives the words for an English text. Without a catalogue, and for what it does
//! not have, the English text is what is shown. What programs read and what is kept is never looked up here.
//! The macros `tr!` and `tr_later!` (package `macro/`) stand around the texts; `foreply.pot`, made of the sources by a
//! test, holds all of them. No chess in here.

mod catalogue;
mod check;
#[cfg(test)]
pub(crate) mod foreign;
mod lines;
mod placeholders;
mod plural_rule;
#[cfg(test)]
mod tests;

use std::cell::Cell;
use std::fmt::{Arguments, Write};
use std::sync::OnceLock;

pub use catalogue::{Catalogue, Form};
pub use check::{Check, Missing, check};
pub use lines::Fault;

use placeholders::Part;

/// All texts of the program: what a translator begins with.
pub const TEMPLATE: &str = include_str!("foreply.pot");

static CHOSEN: OnceLock<Catalogue> = OnceLock::new();

thread_local! {
    /// Set while something is made that is kept, or handed on to programs.
    static ENGLISH: Cell<bool> = const { Cell::new(false) };
}

#[cfg(test)]
thread_local! {
    static TRIED: Cell<Option<&'static Catalogue>> = const { Cell::new(None) };
}

/// Says once, at the start, which translation this run has.
pub fn choose(catalogue: Catalogue) {
    // A second start in one process keeps the first.
    let _ = CHOSEN.set(catalogue);
}

/// The translation of one thread, for a test: other tests of the process go on in English.
#[cfg(test)]
pub(crate) fn with<T>(catalogue: &'static Catalogue, done: impl FnOnce() -> T) -> T {
    struct Back;
    impl Drop for Back {
        fn drop(&mut self) {
            TRIED.set(None);
        }
    }
    TRIED.set(Some(catalogue));
    let _back = Back;
    done()
}

/// What this makes is in English, whatever is chosen: it is kept, or read by programs.
pub fn in_english<T>(made: impl FnOnce() -> T) -> T {
    struct Back(bool);
    impl Drop for Back {
        fn drop(&mut self) {
            ENGLISH.set(self.0);
        }
    }
    let _back = Back(ENGLISH.replace(true));
    made()
}

fn chosen() -> Option<&'static Catalogue> {
    #[cfg(test)]
    let all = TRIED.get().or_else(|| CHOSEN.get());
    #[cfg(not(test))]
    let all = CHOSEN.get();
    all.filter(|_| !ENGLISH.get())
}

/// The language of the texts, as the header of the translation names it (BCP 47); `en` without one.
#[must_use]
pub fn language() -> &'static str {
    chosen().map_or("en", Catalogue::language)
}

/// A text without places for values, as it is shown.
#[must_use]
pub fn text(english: &'static str) -> &'static str {
    text_or(english, english)
}

/// The same for a text that is kept under another key than its words.
#[must_use]
pub fn text_or(key: &str, english: &'static str) -> &'static str {
    let Some(catalogue) = chosen() else {
        return english;
    };
    catalogue
        .message(key)
        .map_or(english, |form| form.plain.as_str())
}

/// The same for a text that does not live as long as the program, such as the help that the command line is made with.
#[must_use]
pub fn found(english: &str) -> Option<&'static str> {
    chosen()?.message(english).map(|form| form.plain.as_str())
}

/// A text that was kept, and may be one of ours or his own words: ours are in the template under that context.
#[must_use]
pub fn shown<'a>(context: &str, kept: &'a str) -> &'a str {
    chosen()
        .and_then(|catalogue| catalogue.message(&format!("{context}\u{4}{kept}")))
        .map_or(kept, |form| form.plain.as_str())
}

/// The translation of a text with places for values; `tr!` asks.
#[doc(hidden)]
#[must_use]
pub fn message(key: &str) -> Option<&'static Form> {
    chosen()?.message(key)
}

/// The form of the translation that goes with a number; `tr!` asks.
#[doc(hidden)]
#[must_use]
pub fn plural(key: &str, count: u64) -> Option<&'static Form> {
    chosen()?.plural(key, count)
}

/// A translated text with the values in their places; `tr!` calls it.
#[doc(hidden)]
#[must_use]
pub fn filled(form: &Form, values: &[(&str, &str, Arguments<'_>)]) -> String {
    let mut out = String::with_capacity(form.plain.len() + 16);
    for part in &form.parts {
        match part {
            Part::Words(words) => out.push_str(words),
            Part::Value { which, spec } => {
                let same = values.iter().find(|(w, s, _)| w == which && s == spec);
                // A translation may leave out how a value is written: it is written as in the source.
                let value = same.or_else(|| values.iter().find(|(w, ..)| w == which));
                if let Some((_, _, value)) = value {
                    // A String takes everything.
                    let _ = out.write_fmt(*value);
                }
            }
        }
    }
    out
}

/// What a plural form can go with.
pub trait Count {
    /// How many: the size of the number.
    fn count(&self) -> u64;
}

impl<T: Count + ?Sized> Count for &T {
    fn count(&self) -> u64 {
        (**self).count()
    }
}

macro_rules! counts {
    ($($number:ty),*) => {$(
        impl Count for $number {
            fn count(&self) -> u64 {
                u64::try_from(*self).unwrap_or(u64::MAX)
            }
        }
    )*};
}

counts!(u8, u16, u32, u64, usize);

impl Count for i32 {
    fn count(&self) -> u64 {
        self.unsigned_abs().into()
    }
}

impl Count for i64 {
    fn count(&self) -> u64 {
        self.unsigned_abs()
    }
}
