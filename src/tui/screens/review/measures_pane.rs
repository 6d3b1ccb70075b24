//! The figures of a review as small pictures, and in words: depth, coverage, focus, time per candidate.

use crate::review::Review;
use crate::text;
use crate::tui::screens::review::pages::figures;
use crate::tui::widgets::canvas::TextStyle;
use crate::tui::widgets::page::TextPage;

/// Columns before a bar.
const LABEL: usize = 12;
/// Columns behind a bar, for its figure.
const FIGURE: usize = 8;

/// A bar of `part` in `whole`, at most `room` columns, at least one where there is anything.
fn bar(part: u64, whole: u64, room: usize, ascii: bool) -> String {
    let columns = u128::from(part) * room as u128;
    let columns = columns.div_ceil(u128::from(whole.max(1)));
    let columns = usize::try_from(columns).unwrap_or(room).min(room);
    let sign = if ascii { "#" } else { "▆" };
    sign.repeat(columns)
}

struct Chart {
    page: TextPage,
    width: usize,
    ascii: bool,
}

impl Chart {
    fn head(&mut self, words: &str) {
        self.page.say(words, TextStyle::ACCENT);
    }

    fn row(&mut self, label: &str, (part, whole): (u64, u64), figure: &str) {
        let room = self.width.saturating_sub(LABEL + FIGURE);
        let bar = bar(part, whole, room, self.ascii);
        let gap = if bar.is_empty() { "" } else { " " };
        let lead = format!("{} ", text::fit(label, LABEL - 1));
        self.page
            .hanging(&lead, &format!("{bar}{gap}{figure}"), TextStyle::PLAIN);
    }
}

/// All figures.
pub(super) fn page(review: &Review, width: usize, ascii: bool) -> TextPage {
    let mut chart = Chart {
        page: TextPage::new(width),
        width,
        ascii,
    };
    let depth = &review.depth;
    let rows = [
        (tr!("needed"), depth.needed),
        (tr!("reached"), depth.reached),
        (tr!("sound"), depth.sound),
    ];
    let most = rows.iter().map(|r| r.1).max().unwrap_or(0) as u64;
    chart.head(tr!("Depth of your choice, in half-moves"));
    for (label, n) in rows {
        chart.row(label, (n as u64, most), &n.to_string());
    }
    let (coverage, focus) = (&review.coverage, &review.focus);
    chart.head(tr!(
        "Of what mattered you wrote; of what you wrote mattered"
    ));
    for (label, written, of) in [
        (tr!("coverage"), coverage.written, coverage.of),
        (tr!("focus"), focus.written, focus.of),
    ] {
        let figure = format!("{written}/{of}");
        chart.row(label, (written as u64, of.max(1) as u64), &figure);
    }
    if let Some(process) = &review.process {
        let most = process.per_candidate.iter().map(|c| c.1).max().unwrap_or(0);
        chart.head(tr!("Time per candidate, in the order of writing"));
        for (san, ms) in &process.per_candidate {
            chart.row(san, (*ms, most), &text::clock(*ms));
        }
    }
    chart.page.gap();
    figures(&mut chart.page, review);
    chart.page
}
