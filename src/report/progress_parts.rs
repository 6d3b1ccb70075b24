//! What the sections of the progress page are made of.

use super::paragraph as lead;

pub(super) fn paragraph(text: &str) -> String {
    lead(text, "")
}

/// A heading of a section, underlined.
pub(super) fn heading(text: &str) -> String {
    format!("\n{text}\n{}\n", "-".repeat(crate::text::width(text)))
}

pub(super) fn percent(share: f64) -> String {
    format!("{:.0}", share * 100.0)
}

/// A share as a bar of `width` characters.
pub(super) fn bar(share: f64, width: usize) -> String {
    let full = (share.clamp(0.0, 1.0) * width as f64).round() as usize;
    format!("{}{}", "#".repeat(full), ".".repeat(width - full))
}
