//! The columns of the history, and their widths.

use crate::text;

/// Widths of the columns; true for those that end at the right.
pub(super) const NARROW: [(usize, bool); 6] = [
    (10, false),
    (31, false),
    (7, true),
    (8, false),
    (8, true),
    (6, true),
];
const BROAD: [(usize, bool); 9] = [
    (10, false),
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
    let fitted = parts.iter().zip(widths).map(|(part, (width, right))| {
        let (width, right) = (*width, *right);
        let cut = text::fit(part.as_ref(), width);
        if right {
            format!("{:>width$}", cut.trim_end())
        } else {
            cut
        }
    });
    fitted.collect::<Vec<_>>().join(" ")
}
