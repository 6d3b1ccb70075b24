//! Figures as the surfaces tell them.

use super::{Value, any_of, value};
use crate::progress::stats::Rate;

pub(super) fn of_rate(name: &'static str, rate: &Rate) -> [Value; 2] {
    let Rate { part, of } = rate;
    [value(name, part), value(name, of)]
}

pub(super) fn share(name: &'static str, share: f64) -> Value {
    let percent = format!("{:.0}", share * 100.0);
    any_of(name, &[&percent, &share.to_string()])
}

pub(super) fn time(name: &'static str, ms: Option<u64>) -> Value {
    let ms = ms.unwrap_or(0);
    any_of(name, &[&crate::text::clock(ms), &ms.to_string()])
}
