//! Games that were played out, as plain text, 78 columns, and as JSON.

use shakmaty::{Color, File, Position, Rank, Square};

use super::paragraph;
use super::published::{Published, document_json};
use crate::playout::{Account, AccountMove, Chance, Drift, Moment, score_sheet};
use crate::review::standing;
use crate::score::PlayerScore;
use crate::text::{capital, clock, safe, whole};

/// Heights of the chart, from lost to won.
const ROWS: usize = 5;
/// Columns of the chart in one strip.
const STRIP: usize = 60;

/// The account of a game for people.
#[must_use]
pub fn account_text(account: &Account) -> String {
    let mut out = format!("{}\n", safe(&account.root));
    out.push_str(&paragraph(&result(account), ""));
    out.push_str(&paragraph(&score_sheet(&account.moves).join(" "), ""));
    out.push('\n');
    out.push_str(&chart(&account.moves));
    out.push_str(&moments(&account.moments));
    for drift in &account.drifts {
        out.push_str(&paragraph(&drifted(drift), " - "));
    }
    if !account.simpler.is_empty() {
        out.push_str(tr!("\nSimpler was, not counted\n"));
    }
    for note in &account.simpler {
        out.push_str(&paragraph(&note.sentence, " - "));
    }
    for plan in &account.plans {
        out.push_str(&tr!("\nYour plan before move {}\n", plan.before_move));
        out.push_str(&paragraph(&format!("'{}'", plan.text), "   "));
        let played = plan.played.join(" ");
        out.push_str(&paragraph(&tr!("Then came: {played}"), "   "));
    }
    out.push('\n');
    out.push_str(&paragraph(
        &tr!(
            "Judged by {}, {} nodes a move. A coach's judgement outranks an engine's number.",
            account.judge,
            whole(account.nodes)
        ),
        "",
    ));
    out
}

/// Who played, and what came of it.
pub(super) fn result(account: &Account) -> String {
    let side = match account.moves.iter().find(|m| m.own) {
        Some(own) if own.white => tr!("You had White. "),
        Some(_) => tr!("You had Black. "),
        None => "",
    };
    let reached = if account.reached {
        tr!("You reached what you were to reach")
    } else {
        tr!("You did not reach what you were to reach")
    };
    let stalemate = account.stalemate_from.as_ref();
    let stalemate = stalemate.map_or(String::new(), |from| {
        let stood = standing(PlayerScore::new(from.before));
        tr!(
            " The stalemate gave half a point away: before {} {stood}.",
            from.played
        )
    });
    let last = account.left_behind().map_or(String::new(), |worth| {
        tr!(
            " In the last position {}.",
            standing(PlayerScore::new(worth))
        )
    });
    format!(
        "{side}{reached}: {}. {}.{stalemate}{last}",
        account.outcome.word(),
        capital(&account.end)
    )
}

impl Published for Account {
    const FORMAT: &'static str = "foreply-playout";
}

/// The account for programs: the value itself, with a name and a version.
///
/// # Errors
/// The value cannot be written as JSON, which does not happen to an account.
pub fn account_json(account: &Account) -> Result<String, serde_json::Error> {
    document_json(account)
}

/// How the player stood after each of his moves: one column a move, `#` as high as he stood.
fn chart(moves: &[AccountMove]) -> String {
    let own: Vec<&AccountMove> = moves.iter().filter(|m| m.own).collect();
    let mut out = String::new();
    for strip in own.chunks(STRIP) {
        for row in (0..ROWS).rev() {
            let word = match row {
                r if r + 1 == ROWS => tr!("winning"),
                2 => tr!("level"),
                0 => tr!("lost"),
                _ => "",
            };
            let columns: String = strip
                .iter()
                .map(|m| if level(m.after) >= row { '#' } else { ' ' })
                .collect();
            out.push_str(format!("{word:>9} |{columns}").trim_end());
            out.push('\n');
        }
        out.push_str(&format!("{:>9} +{}\n", "", "-".repeat(strip.len())));
        let numbers = ruler(strip);
        out.push_str(&format!("{:>9}  {}\n", tr!("move"), numbers.trim_end()));
    }
    out
}

/// The row that an expected score reaches.
fn level(worth: f64) -> usize {
    ((worth * ROWS as f64) as usize).min(ROWS - 1)
}

/// The number of every tenth move of a strip, under its column.
fn ruler(strip: &[&AccountMove]) -> String {
    let mut out = String::new();
    for (column, mv) in strip.iter().enumerate() {
        let first = column == 0 || mv.number.is_multiple_of(10);
        if first && (out.len() < column || column == 0) {
            out.push_str(&" ".repeat(column.saturating_sub(out.len())));
            out.push_str(&mv.number.to_string());
        }
    }
    out
}

fn moments(moments: &[Moment]) -> String {
    if moments.is_empty() {
        return tr!("\nNo single move gave the result away.\n").to_owned();
    }
    let mut out = String::new();
    for (number, moment) in moments.iter().enumerate() {
        out.push_str(&format!("\n{}. {}\n", number + 1, heading(moment)));
        out.push_str(&paragraph(&moment.sentence, "   "));
        if let Some(chance) = &moment.chance {
            out.push_str(&paragraph(&allowed(chance), "   "));
        }
    }
    out
}

pub(super) fn allowed(chance: &Chance) -> String {
    let then = if chance.taken {
        tr!("He played it")
    } else {
        tr!("He did not play it")
    };
    tr!(
        "What it allowed: {}, {}. {then}.",
        chance.reply,
        chance.kind
    )
}

pub(super) fn heading(moment: &Moment) -> String {
    let how = if moment.written {
        tr!("with lines written")
    } else {
        tr!("nothing written")
    };
    let left = moment
        .left_ms
        .map_or(String::new(), |ms| tr!(", {} left", clock(ms)));
    tr!(
        "{} ({}, after {}{left})",
        moment.played,
        how,
        clock(moment.took_ms)
    )
}

pub(super) fn drifted(drift: &Drift) -> String {
    tr!(
        "From move {} to move {} your position got worse step by step; no single move was the mistake. Before it: {}. After it: {}. What was the plan?",
        drift.from_move,
        drift.to_move,
        standing(PlayerScore::new(drift.before)),
        standing(PlayerScore::new(drift.after))
    )
}

/// The board in letters, White's men in capitals, seen from one side; eight rows and the files.
#[must_use]
pub fn board_text(pos: &shakmaty::Chess, seen_from: Color) -> String {
    let order =
        |color: Color| -> Vec<u32> { color.fold_wb((0..8).collect(), (0..8).rev().collect()) };
    let mut out = String::new();
    for rank in order(seen_from.other()) {
        let rank = Rank::new(rank);
        out.push(rank.char());
        for file in order(seen_from) {
            let square = Square::from_coords(File::new(file), rank);
            let man = pos.board().piece_at(square).map_or('.', |p| p.char());
            out.push(' ');
            out.push(man);
        }
        out.push('\n');
    }
    let files: Vec<String> = order(seen_from)
        .into_iter()
        .map(|f| File::new(f).char().to_string())
        .collect();
    out.push_str(&format!("  {}\n", files.join(" ")));
    out
}
