//! Numbers for people.

use std::borrow::Cow;
use std::fmt::Display;

use super::chosen::chosen;
use super::conventions::{Locale, Numbers};

/// `1.5`, with so many decimals.
#[must_use]
pub fn decimal(value: f64, places: usize) -> String {
    local(&format!("{value:.places$}"))
}

/// `+1.5`: the same with its sign.
#[must_use]
pub fn signed(value: f64, places: usize) -> String {
    local(&format!("{value:+.places$}"))
}

/// A number with as many decimals as it has: `7.5` points, and `7`.
#[must_use]
pub fn plain(value: f64) -> String {
    local(&value.to_string())
}

/// An expected score or a difference of two, as the literature has them: `.38` without the nought before the point. Where
/// the point is a comma it stands, since `,38` in a list is two commas: `0,38`.
#[must_use]
pub fn share(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.strip_prefix("0.") {
        Some(part) => below_one(part, chosen().numbers),
        None => local(&text),
    }
}

/// A number below one by its decimals.
fn below_one(part: &str, numbers: Numbers) -> String {
    let nought = if numbers.point == "." { "" } else { "0" };
    format!("{nought}{}{part}", numbers.point)
}

/// A whole number; its digits in groups where a locale is chosen that has any.
#[must_use]
pub fn whole(n: impl Display) -> String {
    local(&n.to_string())
}

/// A large whole number, whose digits are in groups also where nothing is chosen: `200,000`.
#[must_use]
pub fn thousands(n: impl Display) -> String {
    let numbers = match chosen() {
        Locale::STANDARD => Numbers {
            between: ",",
            groups: &[3],
            ..Locale::STANDARD.numbers
        },
        other => other.numbers,
    };
    with_signs(&n.to_string(), numbers)
}

/// A fixed sentence with the numbers in it (`.85`, `0.70`, `3,501`) as the reader writes them. For sentences of ours alone:
/// it knows no number of an article from a decimal.
#[must_use]
pub fn figures_in(sentence: &str) -> Cow<'_, str> {
    if chosen() == Locale::STANDARD {
        return Cow::Borrowed(sentence);
    }
    let mut out = String::with_capacity(sentence.len());
    let mut rest = sentence;
    let mut free = true;
    while let Some(c) = rest.chars().next() {
        let number = if free { leading_number(rest) } else { "" };
        if number.is_empty() {
            out.push(c);
            free = !(c.is_alphanumeric() || c == '.');
            rest = rest.get(c.len_utf8()..).unwrap_or_default();
        } else {
            out.push_str(&rewritten(number));
            free = false;
            rest = rest.get(number.len()..).unwrap_or_default();
        }
    }
    Cow::Owned(out)
}

/// The number that a text begins with: digits, in groups of three or not, and decimals; empty where there is none.
fn leading_number(text: &str) -> &str {
    let digits = |from: usize| {
        let rest = text.get(from..).unwrap_or_default();
        let end = rest.find(|c: char| !c.is_ascii_digit());
        end.unwrap_or(rest.len())
    };
    let mut end = digits(0);
    while text.get(end..).is_some_and(|t| t.starts_with(',')) && digits(end + 1) == 3 {
        end += 4;
    }
    if text.get(end..).is_some_and(|t| t.starts_with('.')) && digits(end + 1) > 0 {
        end += 1 + digits(end + 1);
    }
    text.get(..end).unwrap_or_default()
}

/// A number as English prose has it, as the reader writes it.
fn rewritten(number: &str) -> String {
    let numbers = chosen().numbers;
    match (number.contains(','), number.strip_prefix('.')) {
        (_, Some(part)) => below_one(part, numbers),
        (true, None) => with_signs(&number.replace(',', ""), numbers),
        // Not in groups as it stands: a year, a rating.
        (false, None) => number.replace('.', numbers.point),
    }
}

fn local(text: &str) -> String {
    with_signs(text, chosen().numbers)
}

/// A number as Rust writes it, with these signs.
fn with_signs(text: &str, numbers: Numbers) -> String {
    let digits = text.trim_start_matches(['+', '-']);
    let sign = text.strip_suffix(digits).unwrap_or_default();
    let (whole, part) = match digits.split_once('.') {
        Some((whole, part)) => (whole, Some(part)),
        None => (digits, None),
    };
    // 'NaN' and 'inf' are no digits.
    let whole = match whole.bytes().all(|b| b.is_ascii_digit()) {
        true => grouped(whole, numbers),
        false => whole.to_owned(),
    };
    match part {
        Some(part) => format!("{sign}{whole}{}{part}", numbers.point),
        None => format!("{sign}{whole}"),
    }
}

/// The digits in groups from the right: POSIX, LC_NUMERIC, `grouping`. A size of nothing ends them.
fn grouped(digits: &str, numbers: Numbers) -> String {
    if numbers.between.is_empty() {
        return digits.to_owned();
    }
    let mut sizes = numbers.groups.iter().map(|n| usize::try_from(*n).ok());
    let (mut groups, mut rest) = (Vec::new(), digits);
    let mut size = None;
    loop {
        if let Some(next) = sizes.next() {
            size = next.filter(|n| *n > 0);
        }
        let at = size
            .and_then(|n| rest.len().checked_sub(n))
            .filter(|at| *at > 0);
        let Some(at) = at else { break };
        let (before, group) = rest.split_at(at);
        groups.push(group);
        rest = before;
    }
    groups.push(rest);
    groups.reverse();
    groups.join(numbers.between)
}
