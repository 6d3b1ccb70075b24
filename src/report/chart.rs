//! Charts as SVG (W3C, Scalable Vector Graphics 1.1, 2011), drawn for paper: thin lines, no colour that
//! carries meaning alone. Each chart stands above a table with its numbers, so it is only described here
//! for readers that cannot see it.

/// One point of a chart: a label below it, a value from 0 to 1, and the bounds it may lie in.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    pub label: String,
    pub value: f64,
    pub bounds: Option<(f64, f64)>,
}

/// Narrow enough that the figures can be read on a telephone.
const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 220.0;
/// Room for labels at the left and below.
const LEFT: f64 = 44.0;
const BELOW: f64 = 28.0;
/// Room at the right, so that the last label is whole.
const RIGHT: f64 = 20.0;
const TOP: f64 = 10.0;
/// Room for words at the left of bars, and the height of one.
const WORDS: f64 = 206.0;
const ROW: f64 = 22.0;
/// Where the scale has its lines.
const SCALE: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];
/// Labels that fit side by side.
const LABELS: usize = 6;

/// Points joined by a line, with their bounds as whiskers, over a scale from 0 to 100 %. `title` is read
/// out where the chart is not seen.
#[must_use]
pub fn line(title: &str, points: &[Point]) -> String {
    let mut out = open(title);
    let step = (WIDTH - LEFT - RIGHT) / points.len().max(1) as f64;
    let place = |i: usize| LEFT + step * (i as f64 + 0.5);
    let path: Vec<String> = points
        .iter()
        .enumerate()
        .map(|(i, p)| at(place(i), up(p.value)))
        .collect();
    out.push_str(&format!(
        "<polyline points=\"{}\" class=\"line\"/>",
        path.join(" ")
    ));
    let every = points.len().div_ceil(LABELS).max(1);
    for (i, point) in points.iter().enumerate() {
        let (x, y) = (place(i), up(point.value));
        if let Some((low, high)) = point.bounds {
            out.push_str(&stroke(x, up(low), x, up(high)));
        }
        out.push_str(&format!(
            "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"3\" class=\"dot\"/>"
        ));
        if i % every == 0 {
            out.push_str(&text(x, HEIGHT - 8.0, "middle", &point.label));
        }
    }
    out + "</svg>"
}

/// Lengths one below the other, each with its words at the left and its bounds as a whisker, over a scale
/// from 0 to 100 %.
#[must_use]
pub fn rates(title: &str, points: &[Point]) -> String {
    let height = ROW * points.len() as f64 + BELOW;
    let across = |share: f64| WORDS + share.clamp(0.0, 1.0) * (WIDTH - WORDS - RIGHT);
    let mut out = begin(title, height);
    for share in SCALE {
        let x = across(share);
        out.push_str(&grid(x, 0.0, x, height - BELOW));
        let words = format!("{:.0} %", share * 100.0);
        out.push_str(&text(x, height - 8.0, "middle", &words));
    }
    for (i, point) in points.iter().enumerate() {
        let middle = ROW * (i as f64 + 0.5);
        out.push_str(&text(WORDS - 6.0, middle + 4.0, "end", &point.label));
        out.push_str(&format!(
            "<rect x=\"{WORDS}\" y=\"{:.1}\" width=\"{:.1}\" height=\"8\" class=\"bar\"/>",
            middle - 4.0,
            across(point.value) - WORDS
        ));
        if let Some((low, high)) = point.bounds {
            out.push_str(&stroke(across(low), middle, across(high), middle));
            for end in [low, high] {
                out.push_str(&stroke(
                    across(end),
                    middle - 4.0,
                    across(end),
                    middle + 4.0,
                ));
            }
        }
    }
    out + "</svg>"
}

/// What was said (across) against what was (up), with the line on which they agree. `weight` is how many
/// cases a point stands for.
#[must_use]
pub fn agreement(title: &str, points: &[(f64, f64, usize)]) -> String {
    let mut out = open(title);
    let x = |share: f64| LEFT + share.clamp(0.0, 1.0) * (WIDTH - LEFT - RIGHT);
    out.push_str(&format!(
        "<line x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\" class=\"broken\"/>",
        x(0.0),
        up(0.0),
        x(1.0),
        up(1.0)
    ));
    let most = points.iter().map(|p| p.2).max().unwrap_or(1).max(1) as f64;
    for (said, was, weight) in points {
        let radius = 3.0 + 7.0 * (*weight as f64 / most).sqrt();
        out.push_str(&format!(
            "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"{radius:.1}\" class=\"line\"/>",
            x(*said),
            up(*was)
        ));
    }
    for share in SCALE {
        out.push_str(&text(
            x(share),
            HEIGHT - 8.0,
            "middle",
            &format!("{:.0} %", share * 100.0),
        ));
    }
    out + "</svg>"
}

/// One bar: its name, its length on a scale of its own, and the number in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    pub label: String,
    pub value: f64,
    pub words: String,
}

/// Bars that lie below each other, each with its name before it and its number behind it. The longest fills
/// the room; a value below 0 or none at all has no length.
#[must_use]
pub fn bars(title: &str, bars: &[Bar]) -> String {
    const NAMES: f64 = 170.0;
    const NUMBERS: f64 = 80.0;
    const ROW: f64 = 22.0;
    let length = |v: f64| if v.is_finite() { v.max(0.0) } else { 0.0 };
    let most = bars.iter().map(|b| length(b.value)).fold(0.0, f64::max);
    let height = ROW * bars.len() as f64 + 4.0;
    let mut out = begin(title, height);
    for (i, bar) in bars.iter().enumerate() {
        let y = ROW * i as f64 + 4.0;
        let width = if most > 0.0 {
            length(bar.value) / most
        } else {
            0.0
        } * (WIDTH - NAMES - NUMBERS);
        out.push_str(&text(NAMES - 8.0, y + 12.0, "end", &bar.label));
        out.push_str(&format!(
            "<rect x=\"{NAMES}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{:.1}\" class=\"bar\"/>",
            ROW - 6.0
        ));
        out.push_str(&text(NAMES + width + 6.0, y + 12.0, "start", &bar.words));
    }
    out + "</svg>"
}

/// The beginning of a picture of some height.
pub(super) fn begin(title: &str, height: f64) -> String {
    let title = escaped(title);
    format!(
        "<svg viewBox=\"0 0 {WIDTH} {height}\" role=\"img\" aria-label=\"{title}\" xmlns=\"http://www.w3.org/2000/svg\" font-family=\"sans-serif\" font-size=\"12\"><title>{title}</title>"
    )
}

/// The frame: title, and the scale at the left.
fn open(title: &str) -> String {
    let mut out = begin(title, HEIGHT);
    for share in SCALE {
        let y = up(share);
        out.push_str(&grid(LEFT, y, WIDTH, y));
        out.push_str(&text(
            LEFT - 6.0,
            y + 4.0,
            "end",
            &format!("{:.0} %", share * 100.0),
        ));
    }
    out
}

fn grid(x1: f64, y1: f64, x2: f64, y2: f64) -> String {
    format!("<line x1=\"{x1:.1}\" y1=\"{y1:.1}\" x2=\"{x2:.1}\" y2=\"{y2:.1}\" class=\"grid\"/>")
}

fn up(share: f64) -> f64 {
    let height = HEIGHT - BELOW - TOP;
    TOP + (1.0 - share.clamp(0.0, 1.0)) * height
}

fn at(x: f64, y: f64) -> String {
    format!("{x:.1},{y:.1}")
}

fn stroke(x1: f64, y1: f64, x2: f64, y2: f64) -> String {
    format!("<line x1=\"{x1:.1}\" y1=\"{y1:.1}\" x2=\"{x2:.1}\" y2=\"{y2:.1}\" class=\"whisker\"/>")
}

fn text(x: f64, y: f64, anchor: &str, words: &str) -> String {
    format!(
        "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\" class=\"ink\">{}</text>",
        escaped(words)
    )
}

/// Safe between tags and in attributes.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in crate::text::safe(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_labels_stay_text_and_numbers_stay_in_the_frame() {
        let point = Point {
            label: "<script>\"&\u{1b}[2J".to_owned(),
            value: f64::NAN,
            bounds: Some((-3.0, f64::INFINITY)),
        };
        let svg = line("a <b> chart", &[point.clone(), point]);
        assert!(!svg.contains("<script") && !svg.contains('\u{1b}'), "{svg}");
        assert!(svg.contains("aria-label=\"a &lt;b&gt; chart\""));
        assert!(!svg.contains("inf"));
        assert_eq!(line("nothing", &[]).matches("<circle").count(), 0);
    }

    #[test]
    fn a_bar_is_as_long_as_its_share() {
        let point = |value, bounds| Point {
            label: "from .70 on".to_owned(),
            value,
            bounds,
        };
        let svg = rates("won", &[point(1.0, Some((0.5, 1.0))), point(0.0, None)]);
        assert!(
            svg.contains("width=\"194.0\"") && svg.contains("width=\"0.0\""),
            "{svg}"
        );
        assert!(svg.contains("viewBox=\"0 0 420 72\""), "{svg}");
        assert!(
            svg.contains("x1=\"303.0\" y1=\"11.0\" x2=\"400.0\""),
            "{svg}"
        );
    }

    #[test]
    fn agreement_lies_on_the_line() {
        let svg = agreement("said and was", &[(0.0, 0.0, 1), (1.0, 1.0, 4)]);
        assert!(svg.contains("cx=\"44.0\" cy=\"192.0\""), "{svg}");
        assert!(svg.contains("cy=\"10.0\" r=\"10.0\""), "{svg}");
    }
}
