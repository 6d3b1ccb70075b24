//! Openings of own games as text and JSON.

use std::fmt::Write;

use serde::Serialize;

use super::paragraph;
use super::published::{Published, document_json};
use crate::games::OwnGame;
use crate::games::opening::{Branch, Mark, Side};
use crate::text;

/// What a page of openings is made from.
#[derive(Debug, Clone, Copy)]
pub struct Openings<'a> {
    pub games: &'a [OwnGame],
    pub sides: &'a [Side],
    /// The marks of all games.
    pub all: &'a [Mark],
    pub judged: usize,
    pub from_fen: usize,
}

/// The trees, and what stands out in them.
#[must_use]
pub fn openings(page: &Openings<'_>) -> String {
    let mut out = String::new();
    for side in page.sides {
        let color = if side.white {
            tr!("White")
        } else {
            tr!("Black")
        };
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "With {color}: {}",
                tr!(side.all.games.len(); "{} game" | "{} games", text::whole(side.all.games.len()))
            )
        );
        out.push_str(tr!("              stood at     time used to\n"));
        out.push_str(tr!("    games points  12   20      12      20\n"));
        tree(&mut out, &side.all, 0);
        out.push('\n');
    }
    let told = standing_out(page);
    out.extend(told.iter().map(|line| paragraph(line, "")));
    if !told.is_empty() {
        out.push('\n');
    }
    out.push_str(&paragraph(&foot_sentences(page).join(" "), ""));
    out
}

/// Where he stood at a mark, and the time that he had used.
pub(super) fn figures(mark: &Mark) -> (String, String) {
    let stood = mark.expected;
    let stood = stood.map_or("-".to_owned(), |e| text::share(e, 2));
    let used = mark.used_seconds.map(|s| text::clock((s * 1000.0) as u64));
    (stood, used.unwrap_or("-".to_owned()))
}

fn tree(out: &mut String, branch: &Branch, depth: usize) {
    let marks: Vec<(String, String)> = branch.marks.iter().map(figures).collect();
    let stood: Vec<String> = marks.iter().map(|m| format!("{:>4}", m.0)).collect();
    let used: Vec<String> = marks.iter().map(|m| format!("{:>7}", m.1)).collect();
    let points = match branch.finished {
        0 => "-".to_owned(),
        _ => text::plain(branch.points),
    };
    let lead = format!(
        "{:>3} {:>5} {points:>6} {} {}  {}",
        branch.number,
        branch.games.len(),
        stood.join(" "),
        used.join(" "),
        "  ".repeat(depth.min(8)),
    );
    let mut words = numbered(branch.from, &branch.moves);
    if branch.branches.is_empty() && !branch.eco.is_empty() {
        let _ = write!(words, " ({})", branch.eco.join(", "));
    }
    if words.is_empty() {
        words.push_str(tr!("all games" => "all"));
    }
    out.push_str(&paragraph(&words, &lead));
    for below in &branch.branches {
        tree(out, below, depth + 1);
    }
    let told: usize = branch.branches.iter().map(|b| b.games.len()).sum();
    let alone = branch.games.len() - told;
    if told > 0 && alone > 0 {
        let lead = format!("{:>9}{}", alone, " ".repeat(35 + 2 * depth.min(8)));
        out.push_str(&paragraph(tr!("others"), &lead));
    }
}

/// `2...d6 3.d4 cxd4`: moves with their numbers.
pub(super) fn numbered(from: usize, moves: &[String]) -> String {
    let word = |(i, san): (usize, &String)| {
        let ply = from + i;
        match (ply.is_multiple_of(2), i) {
            (true, _) => format!("{}.{san}", ply / 2 + 1),
            (false, 0) => format!("{}...{san}", ply / 2 + 1),
            (false, _) => san.clone(),
        }
    };
    moves
        .iter()
        .enumerate()
        .map(word)
        .collect::<Vec<_>>()
        .join(" ")
}

/// The branches that leave him worse or short of time; what is told of a branch is not told of those below it.
pub(super) fn standing_out(page: &Openings<'_>) -> Vec<String> {
    let mut out = Vec::new();
    for side in page.sides {
        for branch in &side.all.branches {
            tell(&mut out, branch, page.all, (true, true));
        }
    }
    out
}

/// Tells of a branch and those below it, as far as `(worse, slow)` are still to be told.
fn tell(out: &mut Vec<String>, branch: &Branch, all: &[Mark], mut open: (bool, bool)) {
    if branch.games.len() < 2 {
        return;
    }
    if let Some(mark) = branch.worse().filter(|_| open.0) {
        let line = tr!(
            "Branch {}: worse after move {} ({} on average, {}).",
            branch.number,
            mark.after_move,
            text::decimal(mark.expected.unwrap_or_default(), 2),
            tr!(mark.judged; "{} judged game" | "{} judged games", text::whole(mark.judged))
        );
        out.push(line);
        open.0 = false;
    }
    if let Some((mark, mean)) = branch.slow(all).filter(|_| open.1) {
        let clock = |s: f64| text::clock((s * 1000.0) as u64);
        let line = tr!(
            "Branch {}: {} to move {}, against {} over all games.",
            branch.number,
            clock(mark.used_seconds.unwrap_or_default()),
            mark.after_move,
            clock(mean)
        );
        out.push(line);
        open.1 = false;
    }
    for below in &branch.branches {
        tell(out, below, all, open);
    }
}

/// What is to be known of the figures.
pub(super) fn foot_sentences(page: &Openings<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    let of = page.games.len();
    lines.push(match page.judged {
        0 => tr!("None of the games is judged yet, so nothing is said of where you stood; `foreply games moments` judges them.").to_owned(),
        n if n < of => tr!("{n} of {of} games are judged; `foreply games moments` judges the rest."),
        _ => tr!("Stood at: your expected score before the 13th and the 21st move, 0 to 1, over the games that went on so long.").to_owned(),
    });
    if page.all.iter().all(|m| m.timed == 0) {
        lines.push(tr!("No clock times in them.").to_owned());
    }
    if page.from_fen > 0 {
        let games = tr!(page.from_fen; "{} game" | "{} games", text::whole(page.from_fen));
        lines.push(tr!("Left out, with a start of its own: {games}."));
    }
    lines.push(tr!("Points are of the games with a result.").to_owned());
    lines
}

/// How he stood, and what time was left, when the opening was over (`foreply games openings --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    games: Vec<&'a str>,
    judged: usize,
    all: &'a [Mark],
    sides: &'a [Side],
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-openings";
}

/// The same; the numbers in `games` of a branch are places in `games`.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn openings_json(page: &Openings<'_>) -> Result<String, serde_json::Error> {
    let document = Document {
        games: page.games.iter().map(|g| g.id.as_str()).collect(),
        judged: page.judged,
        all: page.all,
        sides: page.sides,
    };
    document_json(&document)
}
