//! Progress as plain text, 78 columns: depth and time, difficulty, and what came of play-outs and games.

use super::progress_parts::{bar, paragraph, percent};
use crate::progress::converting::{Converting, Row};
use crate::progress::course::Week;
use crate::progress::judgement::Against;
use crate::progress::recognising::Recognising;
use crate::progress::report::Report;
use crate::progress::stats::Rate;
use crate::text::{self, clock, decimal};

/// Weeks that are shown.
pub(super) const WEEKS: usize = 16;

/// Week by week, the latest weeks alone.
pub(super) fn weeks(weeks: &[Week]) -> String {
    if weeks.is_empty() {
        return paragraph(tr!("No attempt with a depth yet."));
    }
    let mut out = String::from(tr!(
        "                half-moves               at equal difficulty\n\
         \x20 from        n  needed reached sound  held                 reached   reply\n"
    ));
    for w in weeks.iter().rev().take(WEEKS).rev() {
        out.push_str(&format!(
            "  {} {:>2}  {:>6} {:>7} {:>5}  {} {:>3} %   {:>3} %  {:>6}\n",
            text::date(w.from),
            w.attempts,
            decimal(w.needed, 1),
            decimal(w.reached, 1),
            decimal(w.sound, 1),
            bar(w.sound_share, 14),
            percent(w.sound_share),
            percent(w.reached_share),
            w.first_reply_ms.map_or_else(String::new, clock)
        ));
    }
    out.push_str(&paragraph(
        tr!("Held and reached: shares of the depth that was needed. Reply: median time to the first reply that you \
         wrote."),
    ));
    let dropped: Vec<f64> = weeks.iter().filter_map(|w| w.dropped).collect();
    if let Some(last) = dropped.last() {
        out.push_str(&paragraph(&tr!(
            "Of your time in the last of these weeks {} % went to candidates that you dropped.",
            percent(*last)
        )));
    }
    out
}

/// The same attempts by difficulty, and by the grade of the drill.
pub(super) fn difficulty(report: &Report) -> String {
    let mut out = String::from(tr!(
        "  needed      plausible    n  held      95 %  reached   reply\n"
    ));
    for s in &report.difficulty {
        let interval = s.interval.map_or_else(String::new, |i| {
            format!(
                "{}-{} %",
                percent(i.low.clamp(0.0, 1.0)),
                percent(i.high.clamp(0.0, 1.0))
            )
        });
        out.push_str(&format!(
            "  {:<10}  {:<10} {:>3} {:>3} %  {interval:>8}    {:>3} %  {:>6}\n",
            s.needed,
            s.plausible,
            s.attempts,
            percent(s.held),
            percent(s.reached),
            s.first_reply_ms.map_or_else(String::new, clock)
        ));
    }
    for (grade, solved) in &report.grades {
        out.push_str(&tr!(
            "  drills of grade {grade}: {}\n",
            share(*solved, tr!("solved"))
        ));
    }
    out
}

/// '9 of 21 solved (24-63 %)'.
pub(super) fn share(rate: Rate, word: &str) -> String {
    let i = rate.wilson();
    tr!(
        "{} of {} {word} ({}-{} %)",
        text::whole(rate.part),
        text::whole(rate.of),
        percent(i.low),
        percent(i.high)
    )
}

/// How often advantages were won. Empty where there was no game.
pub(super) fn converting(of: &Converting) -> String {
    let mut out = String::new();
    if of.twice.of > 0 {
        out.push_str(&paragraph(&tr!(
            "Play-outs that were to be won: {} of {} positions won twice in a row.",
            of.twice.part,
            of.twice.of
        )));
        out.push_str(&rows(&of.play_outs));
    }
    if of.unjudged > 0 {
        out.push_str(&paragraph(&tr!(
            "{} more whose start nobody has judged: `foreply progress --count` does.",
            of.unjudged
        )));
    }
    if of.judged > 0 {
        out.push_str(&paragraph(&tr!(
            "Own games with a result that have been judged: {}; of those in which you stood better:",
            of.judged
        )));
        out.push_str(&rows(&of.own_games));
        if of.own_games.is_empty() {
            out.push_str(tr!("  none yet\n"));
        }
    }
    out
}

fn rows(rows: &[Row]) -> String {
    let row = |r: &Row| {
        let enough = if r.enough {
            ""
        } else {
            tr!("  not enough yet")
        };
        format!(
            "  {:<25} {}{enough}\n",
            text::figures_in(r.words),
            share(r.won, tr!("won"))
        )
    };
    rows.iter().map(row).collect()
}

/// How many turning points he named, and how many of his moments were one. Empty where nothing was written.
pub(super) fn recognising(of: &Recognising) -> String {
    let mut out = String::new();
    if of.games == 0 {
        return out;
    }
    for sentence in recognised(of) {
        out.push_str(&paragraph(&sentence));
    }
    for month in of.months.iter().filter(|_| of.months.len() > 1) {
        out.push_str(&tr!(
            "  {}  {:<8}  {}; of your moments {} of {} right\n",
            text::month(&month.month),
            tr!(month.games; "{} game" | "{} games", text::whole(month.games)),
            share(month.named, tr!("named")),
            month.right.part,
            month.right.of
        ));
    }
    out
}

/// The same without the months, a sentence each.
pub(super) fn recognised(of: &Recognising) -> Vec<String> {
    let enough = if of.enough {
        ""
    } else {
        tr!(" Not enough yet.")
    };
    vec![
        tr!(
            "Turning points in {} about which you wrote before the judge spoke: {}.{enough}",
            tr!(of.games; "{} game" | "{} games", text::whole(of.games)),
            share(of.named, tr!("named"))
        ),
        tr!(
            "Of your own moments {} of {} were turning points, or critical.",
            of.right.part,
            of.right.of
        ),
    ]
}

/// His verdicts against results, a sentence each.
pub(super) fn against(results: &[Against]) -> Vec<String> {
    let one = |a: &Against| {
        let b = a.brier;
        let enough = if a.enough {
            ""
        } else {
            tr!(" Not enough yet.")
        };
        tr!(
            "Against the results of {} ({}, with {} verdicts at the end of your line): Brier score {} \
             (reliability {}, resolution {}, uncertainty {}, within groups {}).{enough}",
            a.words,
            a.games,
            text::whole(b.count),
            decimal(b.score, 3),
            decimal(b.reliability, 3),
            decimal(b.resolution, 3),
            decimal(b.uncertainty, 3),
            decimal(b.within, 3)
        )
    };
    let scale = (!results.is_empty()).then(|| {
        tr!(
            "0 is the best score; whoever always says 50 % gets {} where no game is drawn.",
            text::share(0.25, 2)
        )
    });
    results.iter().map(one).chain(scale).collect()
}
