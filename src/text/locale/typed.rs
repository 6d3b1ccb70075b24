//! Days that are typed.

use std::convert::Infallible;
use std::str::FromStr;

use jiff::civil::Date;

use super::chosen::within;
use super::conventions::{Locale, Part};
use super::dates::date;
use crate::text::safe;

/// A day as it was typed, to be read when his locale is known: `2026-03-14` (ISO 8601) always, and in the reader's own form.
/// The two cannot be taken for each other: the first begins with four digits and has hyphens.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypedDate(String);

/// What was typed is no day.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", tr!("'{typed}' is no day; write it as {forms}"))]
pub struct WrongDate {
    typed: String,
    forms: String,
}

impl FromStr for TypedDate {
    type Err = Infallible;

    fn from_str(typed: &str) -> Result<Self, Infallible> {
        Ok(Self::of(typed))
    }
}

impl TypedDate {
    /// What was typed.
    #[must_use]
    pub fn of(typed: &str) -> Self {
        Self(typed.trim().to_owned())
    }

    /// The day, as somebody of this locale means it.
    ///
    /// # Errors
    /// It is none, in neither form; also where its year has two digits, which say too little.
    pub fn read(&self, locale: Locale) -> Result<Date, WrongDate> {
        let standard = self.0.parse::<Date>().ok().filter(|_| is_iso(&self.0));
        standard
            .or_else(|| self.in_own_form(locale))
            .ok_or_else(|| {
                let shown = jiff::civil::date(2026, 10, 31);
                let (standard, own) = (shown.to_string(), within(locale, || date(shown)));
                WrongDate {
                    typed: safe(&self.0).into_owned(),
                    forms: match standard == own {
                        true => standard,
                        false => tr!("{own} or {standard}"),
                    },
                }
            })
    }

    /// In the order of the locale and with its signs, with or without noughts and blanks.
    fn in_own_form(&self, locale: Locale) -> Option<Date> {
        let form = locale.dates?;
        let bare = |text: &str| text.replace([' ', '\u{A0}', '\u{202F}'], "");
        let typed = bare(&self.0);
        let mut rest = typed.as_str();
        let (mut year, mut month, mut day) = (0, 0, 0);
        for (at, (part, _, sign)) in form.parts.iter().enumerate() {
            let sign = bare(sign);
            rest = match at {
                0 => rest,
                _ => rest.strip_prefix(sign.as_str())?,
            };
            let end = rest.find(|c: char| !c.is_ascii_digit());
            let (digits, behind) = rest.split_at(end.unwrap_or(rest.len()));
            match part {
                Part::Year if digits.len() == 4 => year = digits.parse().ok()?,
                Part::Month if digits.len() <= 2 => month = digits.parse().ok()?,
                Part::Day if digits.len() <= 2 => day = digits.parse().ok()?,
                _ => return None,
            }
            rest = behind;
        }
        // A form may end with a point, as in Croatian.
        match rest {
            "" | "." => Date::new(year, month, day).ok(),
            _ => None,
        }
    }
}

/// `2026-03-14`, all digits: of the many forms that ISO 8601 knows the one that everybody knows.
fn is_iso(text: &str) -> bool {
    text.len() == 10
        && text.bytes().enumerate().all(|(at, b)| match at {
            4 | 7 => b == b'-',
            _ => b.is_ascii_digit(),
        })
}
