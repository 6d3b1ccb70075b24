//! Numbers and dates as the reader writes them.
//!
//! Takes the name of a locale, numbers and days; gives them as text. What is made for people goes through here; what is
//! made for programs (JSON, PGN, YAML, UCI, names of files) never does, or is made under [`Locale::STANDARD`].
//!
//! The data are those of the C library's locales, by the crate `pure-rust-locales`: constants, so that only what is asked
//! for is linked (ICU's data would be megabytes for the same three signs). They say decimal point, separator and groups of
//! digits, and the order and signs of a date. What this room takes otherwise, and why:
//!
//! - The texts are English, so a date is in figures alone: a month in German between English words helps nobody. Where a
//!   locale's own form has words or signs for the units in it, its order is kept, with strokes.
//! - A year has four digits, also where the form has two: 01/02/03 is read in three ways.
//! - `en`, `pt`, `zh` ... without a country are what CLDR's likely subtags say: `en-US`, `pt-BR`, `zh-CN`.
//! - A share is written `38 %`, as ISO 80000-1 has it in every language; the C library says nothing of it.
//! - Times of a chess clock (`1:23:45`) are FIDE's and PGN's, and stay.

mod chosen;
mod conventions;
mod dates;
mod figures;
mod known;
#[cfg(test)]
mod tests;
mod typed;

pub use chosen::{choose, chosen, within};
pub use conventions::Locale;
pub use dates::{date, date_columns, dates_in, day, day_and_month, month};
pub use figures::{decimal, figures_in, plain, share, signed, thousands, whole};
pub use known::{LocaleName, UnknownLocale};
pub use typed::{TypedDate, WrongDate};
