//! Two pictures of a game as SVG, drawn like the other charts: three bands, and the time of both sides. Both colours of a
//! page, light and dark, show them: areas are in the colour of the text, told apart by how much of it shows.

use super::chart::{begin, escaped};

/// The shares at one place; the rest is loss.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Band {
    pub win: f64,
    pub draw: f64,
}

const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 180.0;
const LEFT: f64 = 44.0;
const RIGHT: f64 = 20.0;
const TOP: f64 = 10.0;
const BELOW: f64 = 28.0;
/// Labels that fit side by side.
const LABELS: usize = 8;

/// Win from below, draw above it, and the rest to the top; `label` names a place.
pub(super) fn bands(title: &str, of: &[Band], label: &dyn Fn(usize) -> String) -> String {
    let mut out = begin(title, HEIGHT);
    let x = across(of.len());
    let edge = |share: &dyn Fn(&Band) -> f64| -> Vec<String> {
        let points = of.iter().enumerate();
        points.map(|(i, b)| at(x(i), up(share(b)))).collect()
    };
    let win = edge(&|b| b.win);
    let both = edge(&|b| b.win + b.draw);
    out.push_str(&area(&win, 0.75, &x, of.len()));
    let back: Vec<String> = win.iter().rev().cloned().collect();
    let between = [both, back].concat();
    out.push_str(&polygon(&between, 0.3));
    let (right, bottom, top) = (x(of.len().saturating_sub(1)), up(0.0), up(1.0));
    out.push_str(&format!(
        "<rect x=\"{LEFT:.1}\" y=\"{top:.1}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"none\" stroke=\"currentColor\" stroke-opacity=\".4\"/>",
        (right - LEFT).max(0.0),
        bottom - top
    ));
    for (share, words) in [(0.0, "0"), (0.5, "50"), (1.0, "100")] {
        out.push_str(&words_at(LEFT - 6.0, up(share) + 4.0, "end", words));
    }
    let every = of.len().div_ceil(LABELS).max(1);
    for i in (every..of.len()).step_by(every) {
        out.push_str(&words_at(x(i), HEIGHT - 8.0, "middle", &label(i)));
    }
    out + "</svg>"
}

/// Lengths up for the player and down for the other, one beside the next, on one scale.
pub(super) fn two_sided(title: &str, of: &[(f64, bool)]) -> String {
    let mut out = begin(title, HEIGHT);
    let most = of
        .iter()
        .map(|o| o.0)
        .filter(|v| v.is_finite())
        .fold(0.0, f64::max);
    let middle = TOP + (HEIGHT - TOP - BELOW) / 2.0;
    let half = (HEIGHT - TOP - BELOW) / 2.0;
    let x = across(of.len());
    let width = (x(1) - x(0)).max(0.5);
    for (i, (value, own)) in of.iter().enumerate() {
        let length = if most > 0.0 && value.is_finite() {
            value.max(0.0) / most * half
        } else {
            0.0
        };
        let (y, opacity) = if *own {
            (middle - length, 0.75)
        } else {
            (middle, 0.3)
        };
        out.push_str(&format!(
            "<rect x=\"{:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{length:.1}\" fill=\"currentColor\" fill-opacity=\"{opacity}\"/>",
            x(i)
        ));
    }
    out.push_str(&format!(
        "<line x1=\"{LEFT}\" y1=\"{middle:.1}\" x2=\"{:.1}\" y2=\"{middle:.1}\" stroke=\"currentColor\" stroke-opacity=\".4\"/>",
        WIDTH - RIGHT
    ));
    let words = format!("{most:.0}");
    out.push_str(&words_at(LEFT - 6.0, TOP + 8.0, "end", &words));
    out.push_str(&words_at(LEFT - 6.0, HEIGHT - BELOW, "end", &words));
    out + "</svg>"
}

/// The place of each of so many across the picture.
fn across(count: usize) -> impl Fn(usize) -> f64 {
    let step = (WIDTH - LEFT - RIGHT) / (count.saturating_sub(1).max(1) as f64);
    move |i| LEFT + step * i as f64
}

fn up(share: f64) -> f64 {
    let share = if share.is_finite() {
        share.clamp(0.0, 1.0)
    } else {
        0.0
    };
    TOP + (1.0 - share) * (HEIGHT - TOP - BELOW)
}

fn at(x: f64, y: f64) -> String {
    format!("{x:.1},{y:.1}")
}

fn area(edge: &[String], opacity: f64, x: &dyn Fn(usize) -> f64, count: usize) -> String {
    let floor = [at(x(count.saturating_sub(1)), up(0.0)), at(x(0), up(0.0))];
    polygon(&[edge, &floor].concat(), opacity)
}

fn polygon(points: &[String], opacity: f64) -> String {
    format!(
        "<polygon points=\"{}\" fill=\"currentColor\" fill-opacity=\"{opacity}\"/>",
        points.join(" ")
    )
}

fn words_at(x: f64, y: f64, anchor: &str, words: &str) -> String {
    format!(
        "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\" fill=\"currentColor\">{}</text>",
        escaped(words)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_fill_the_frame_and_hostile_numbers_stay_in_it() {
        let half = Band {
            win: 0.5,
            draw: 0.25,
        };
        let odd = Band {
            win: f64::NAN,
            draw: f64::INFINITY,
        };
        let svg = bands("shares <1>", &[half, half, odd], &|i| format!("<{i}>"));
        // Half of the frame, 10 to 152 down, is at 81; three quarters at 45.5.
        assert!(
            svg.contains("44.0,81.0") && svg.contains("44.0,45.5"),
            "{svg}"
        );
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
        assert!(svg.contains("&lt;1&gt;") && !svg.contains("<1>"), "{svg}");
        assert!(bands("nothing", &[], &|_| String::new()).ends_with("</svg>"));
    }

    #[test]
    fn the_longest_think_fills_its_half() {
        let svg = two_sided("time", &[(10.0, true), (5.0, false), (f64::NAN, true)]);
        assert!(
            svg.contains("height=\"71.0\"") && svg.contains("height=\"35.5\""),
            "{svg}"
        );
        assert!(svg.contains(">10<") && !svg.contains("NaN"), "{svg}");
    }
}
