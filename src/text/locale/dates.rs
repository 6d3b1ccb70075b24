//! Days and months for people.

use std::borrow::Cow;

use jiff::civil::Date;

use super::chosen::chosen;
use super::conventions::{DateForm, Part};

/// `2026-03-14`, or as the locale has it: `14.03.2026`, `14/03/2026`.
#[must_use]
pub fn date(date: Date) -> String {
    day(&date.to_string())
}

/// A day that is kept as text, `2026-03-14` or as PGN has it, `2026.03.14`; what is not known of it is left out. Any other
/// text stays as it is.
#[must_use]
pub fn day(kept: &str) -> String {
    let Some((form, day)) = chosen().dates.zip(Kept::of(kept)) else {
        return kept.to_owned();
    };
    day.shown(form)
}

/// `2026-03`, or `2026.03` of a day as PGN has it; or as the locale has it: `03.2026`.
#[must_use]
pub fn month(kept: &str) -> String {
    let month = kept.split_once(['-', '.']).and_then(|(year, month)| {
        let kept = Kept {
            year: number(year, 4)??,
            month: number(month, 2)?,
            day: None,
        };
        kept.month.is_some().then_some(kept)
    });
    let Some((form, month)) = chosen().dates.zip(month) else {
        return kept.to_owned();
    };
    month.shown(form)
}

/// `14 Mar`, or as the locale has it: `14.03`. For the foot of a chart, where a year has no room.
#[must_use]
pub fn day_and_month(date: Date) -> String {
    let Some(form) = chosen().dates else {
        return date.strftime("%-d %b").to_string();
    };
    let parts = form.parts.iter().filter(|p| p.0 != Part::Year);
    joined(parts.map(|(part, two_digits, sign)| {
        let n = match part {
            Part::Day => date.day(),
            _ => date.month(),
        };
        (figures(n.unsigned_abs().into(), *two_digits), *sign)
    }))
}

/// A text that was kept with a day in it, as the heading of a game is, with that day as the reader writes it.
#[must_use]
pub fn dates_in(text: &str) -> Cow<'_, str> {
    const LENGTH: usize = "2026-03-14".len();
    let Some(form) = chosen().dates else {
        return Cow::Borrowed(text);
    };
    let mut out = String::new();
    let mut rest = text;
    let mut free = true;
    while let Some(c) = rest.chars().next() {
        let found = rest.get(..LENGTH).filter(|_| free).and_then(Kept::of);
        let behind = rest.get(LENGTH..).and_then(|b| b.chars().next());
        match found {
            // No part of a longer number, a name of a file or an id.
            Some(day) if !behind.is_some_and(|c| c.is_alphanumeric() || c == '-') => {
                out.push_str(&day.shown(form));
                rest = rest.get(LENGTH..).unwrap_or_default();
                free = false;
            }
            _ => {
                out.push(c);
                free = !(c.is_alphanumeric() || matches!(c, '-' | '.' | '/' | '_'));
                rest = rest.get(c.len_utf8()..).unwrap_or_default();
            }
        }
    }
    Cow::Owned(out)
}

/// The columns that a date takes in a table.
#[must_use]
pub fn date_columns() -> usize {
    crate::text::width(&day("2026-12-31"))
}

/// A day as it is kept, as far as it is known.
struct Kept {
    year: u16,
    month: Option<u16>,
    day: Option<u16>,
}

impl Kept {
    /// Of `2026-03-14`, `2026.03.14`, `2026.03.??` and `2026.??.??` (PGN standard, 8.1.1.3).
    fn of(text: &str) -> Option<Self> {
        let separator = ['-', '.'].into_iter().find(|s| text.contains(*s))?;
        let mut parts = text.split(separator);
        let kept = Self {
            year: number(parts.next()?, 4)??,
            month: number(parts.next()?, 2)?,
            day: number(parts.next()?, 2)?,
        };
        let right = kept.month.is_none_or(|m| (1..=12).contains(&m))
            && kept.day.is_none_or(|d| (1..=31).contains(&d))
            && (kept.month.is_some() || kept.day.is_none());
        (right && parts.next().is_none()).then_some(kept)
    }

    fn shown(&self, form: DateForm) -> String {
        joined(form.parts.iter().filter_map(|(part, two_digits, sign)| {
            let n = match part {
                Part::Day => self.day?,
                Part::Month => self.month?,
                Part::Year => return Some((format!("{:04}", self.year), *sign)),
            };
            Some((figures(n, *two_digits), *sign))
        }))
    }
}

/// So many digits, or as many question marks: `None` inside is what is not known, outside what is no number.
fn number(text: &str, digits: usize) -> Option<Option<u16>> {
    if text.len() != digits {
        return None;
    }
    match text.bytes().all(|b| b == b'?') {
        true => Some(None),
        false if text.bytes().all(|b| b.is_ascii_digit()) => Some(text.parse().ok()),
        false => None,
    }
}

fn figures(n: u16, two_digits: bool) -> String {
    match two_digits {
        true => format!("{n:02}"),
        false => n.to_string(),
    }
}

/// The parts, each but the first behind its sign.
fn joined(parts: impl Iterator<Item = (String, &'static str)>) -> String {
    let mut out = String::new();
    for (figures, sign) in parts {
        if !out.is_empty() {
            out.push_str(sign);
        }
        out.push_str(&figures);
    }
    out
}
