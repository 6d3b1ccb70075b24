//! The figures of a review as small pictures: depth, coverage, focus, time per candidate.

use crate::review::{Process, Review};
use crate::text;
use crate::tui::widgets::canvas::{Canvas, TextStyle};

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

struct Chart<'a> {
    canvas: &'a mut Canvas,
    x: usize,
    y: usize,
    width: usize,
    bottom: usize,
    ascii: bool,
}

impl Chart<'_> {
    fn head(&mut self, words: &str) {
        let rows = self.bottom.saturating_sub(self.y).min(2);
        if rows > 0 {
            let area = (self.x, self.y, self.width, rows);
            self.y = self.canvas.put_wrapped(area, words, TextStyle::ACCENT);
        }
    }

    fn row(&mut self, label: &str, (part, whole): (u64, u64), figure: &str) {
        if self.y >= self.bottom {
            return;
        }
        let room = self.width.saturating_sub(LABEL + FIGURE);
        self.canvas.put(
            self.x,
            self.y,
            &text::fit(label, LABEL - 1),
            TextStyle::QUIET,
        );
        let bar = bar(part, whole, room, self.ascii);
        let end = self
            .canvas
            .put(self.x + LABEL, self.y, &bar, TextStyle::PLAIN);
        let end = end.max(self.x + LABEL);
        self.canvas.put(end + 1, self.y, figure, TextStyle::PLAIN);
        self.y += 1;
    }

    fn words(&mut self, words: &str) {
        let rows = self.bottom.saturating_sub(self.y).min(2);
        if rows > 0 {
            let area = (self.x, self.y, self.width, rows);
            self.y = self.canvas.put_wrapped(area, words, TextStyle::QUIET);
        }
    }
}

/// Draws all figures into an area (column, row, columns, rows).
pub fn draw(
    canvas: &mut Canvas,
    (x, y, width, height): (usize, usize, usize, usize),
    review: &Review,
    ascii: bool,
) {
    let mut chart = Chart {
        canvas,
        x,
        y,
        width,
        bottom: y + height,
        ascii,
    };
    let depth = &review.depth;
    let rows = [
        ("needed", depth.needed),
        ("reached", depth.reached),
        ("sound", depth.sound),
    ];
    let most = rows.iter().map(|r| r.1).max().unwrap_or(0) as u64;
    chart.head("Depth of your choice, in half-moves");
    for (label, n) in rows {
        chart.row(label, (n as u64, most), &n.to_string());
    }
    let (coverage, focus) = (&review.coverage, &review.focus);
    chart.head("Of what mattered you wrote; of what you wrote mattered");
    for (label, written, of) in [
        ("coverage", coverage.written, coverage.of),
        ("focus", focus.written, focus.of),
    ] {
        let figure = format!("{written}/{of}");
        chart.row(label, (written as u64, of.max(1) as u64), &figure);
    }
    if let Some(process) = &review.process {
        times(&mut chart, process);
    }
}

fn times(chart: &mut Chart<'_>, process: &Process) {
    let most = process.per_candidate.iter().map(|c| c.1).max().unwrap_or(0);
    chart.head("Time per candidate, in the order of writing");
    for (san, ms) in &process.per_candidate {
        chart.row(san, (*ms, most), &text::clock(*ms));
    }
    let returns = match process.returns {
        0 => String::new(),
        1 => " You came back to one candidate.".to_owned(),
        n => format!(" You came back to candidates {} times.", text::number(n)),
    };
    let before = process.candidates_before_depth;
    chart.words(&format!(
        "Candidates named before the first reply: {before}.{returns}"
    ));
}
