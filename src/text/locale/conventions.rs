//! What a locale says of numbers and dates.

/// How numbers and dates are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Locale {
    pub(super) numbers: Numbers,
    pub(super) dates: Option<DateForm>,
}

/// The signs in a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Numbers {
    pub point: &'static str,
    /// Between groups of digits; empty where there are none.
    pub between: &'static str,
    /// The sizes of the groups from the right, the last of which goes on.
    pub groups: &'static [i64],
}

/// A part of a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    Day,
    Month,
    Year,
}

/// Day, month and year in their order, each with the sign before it and whether it has two digits at least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct DateForm {
    pub parts: [(Part, bool, &'static str); 3],
}

/// In the place of the separators of a form with words.
const STROKE: &str = "/";

impl Locale {
    /// What stands where nothing is chosen, and in what is for programs: a point, no groups, days by ISO 8601.
    pub const STANDARD: Self = Self {
        numbers: Numbers {
            point: ".",
            between: "",
            groups: &[],
        },
        dates: None,
    };

    /// The same with nothing but ASCII: digits stand together where their separator would be none, and a point is a point.
    #[must_use]
    pub fn in_ascii(mut self) -> Self {
        if !self.numbers.between.is_ascii() {
            self.numbers.between = "";
        }
        if !self.numbers.point.is_ascii() {
            self.numbers.point = ".";
        }
        if let Some(form) = &mut self.dates {
            for part in form.parts.iter_mut().filter(|p| !p.2.is_ascii()) {
                part.2 = if part.2.starts_with('.') { "." } else { STROKE };
            }
        }
        self
    }
}

impl DateForm {
    /// Of a form of `strftime`, as `d_fmt` of the C library's locales is; `None` where it has no day, month and year.
    pub(super) fn of(form: &'static str) -> Option<Self> {
        let form = match form {
            "%F" => "%Y-%m-%d",
            "%D" => "%m/%d/%Y",
            form => form,
        };
        let mut parts = Vec::new();
        let mut words = false;
        let mut rest = form;
        loop {
            let (before, field) = rest.split_once('%').unwrap_or((rest, ""));
            words |= !before.chars().all(separates);
            if field.is_empty() {
                break;
            }
            let conversion = field.trim_start_matches(['E', 'O', '-', '_', '0', '^']);
            let flags = field.strip_suffix(conversion).unwrap_or_default();
            let letter = conversion.chars().next()?;
            rest = conversion.get(letter.len_utf8()..)?;
            let part = match letter {
                'd' | 'e' => Part::Day,
                'm' => Part::Month,
                'b' | 'B' | 'h' => {
                    words = true;
                    Part::Month
                }
                'Y' | 'y' => Part::Year,
                _ => {
                    words = true;
                    continue;
                }
            };
            let two_digits = letter != 'e' && !flags.contains('-');
            parts.push((part, two_digits, before));
        }
        let [first, second, third] = parts.try_into().ok()?;
        let mut form = Self {
            parts: [first, second, third],
        };
        let has = |part| form.parts.iter().any(|p| p.0 == part);
        if !(has(Part::Day) && has(Part::Month) && has(Part::Year)) {
            return None;
        }
        for (at, part) in form.parts.iter_mut().enumerate() {
            part.2 = match (at, words) {
                (0, _) => "",
                (_, true) => STROKE,
                (_, false) => kept_together(part.2),
            };
        }
        Some(form)
    }
}

/// A sign that stands between figures and is no word.
fn separates(c: char) -> bool {
    matches!(c, '.' | '/' | '-' | ' ')
}

/// A separator with a blank that no line is broken at.
fn kept_together(separator: &'static str) -> &'static str {
    match separator {
        ". " => ".\u{A0}",
        " " => "\u{A0}",
        other => other,
    }
}
