//! The columns of the history, and their widths.

use crate::text;

/// Columns of a date as ISO 8601 has it.
const DATE: usize = 10;
/// Widths of the columns; true for those that end at the right.
pub(super) const NARROW: [(usize, bool); 6] = [
    (DATE, false),
    (31, false),
    (7, true),
    (8, false),
    (8, true),
    (6, true),
];
const BROAD: [(usize, bool); 9] = [
    (DATE, false),
    (52, false),
    (7, true),
    (8, false),
    (8, true),
    (6, true),
    (6, true),
    (7, true),
    (5, true),
];

pub(super) fn columns(parts: &[impl AsRef<str>], wide: bool) -> String {
    let widths: &[(usize, bool)] = if wide { &BROAD } else { &NARROW };
    // A date that needs more takes it from the name beside it.
    let wider = text::date_columns().saturating_sub(DATE);
    let fitted = parts.iter().zip(widths).enumerate();
    let fitted = fitted.map(|(at, (part, (width, right)))| {
        let width = match at {
            0 => width + wider,
            1 => width.saturating_sub(wider),
            _ => *width,
        };
        let right = *right;
        let cut = text::fit(part.as_ref(), width);
        if right {
            format!("{:>width$}", cut.trim_end())
        } else {
            cut
        }
    });
    fitted.collect::<Vec<_>>().join(" ")
}
