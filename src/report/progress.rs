//! Progress as plain text, 78 columns.

use super::experiment::experiment_section;
use super::paragraph as lead;
use super::progress_parts::{bar, heading, paragraph, percent};
use super::progress_results::{against, converting, difficulty, recognising, share, weeks};
use super::quick::quick_section;
use crate::progress::account::{Account, Change};
use crate::progress::causes::{Cause, agreement};
use crate::progress::judgement::Judgement;
use crate::progress::report::Report;
use crate::progress::stats::{Interval, Rate};
use crate::progress::{Spot, State};
use crate::text::{capital, decimal, safe, signed};

/// Moments that are named for each blind spot.
const MOMENTS: usize = 5;
/// Properties that are listed besides the blind spots.
const OTHERS: usize = 8;

/// The page.
#[must_use]
pub fn progress_text(report: &Report) -> String {
    if report.attempts == 0 {
        return nothing_yet(report);
    }
    let mut out = String::new();
    out.push_str(&overview(report));
    out.push_str(&heading(tr!(
        "What you miss more often than your other moves"
    )));
    out.push_str(&blind_spots(report));
    out.push_str(&heading(tr!("Your verdicts, stated less true")));
    out.push_str(&judgement(&report.judgement));
    out.push_str(&heading(tr!("Week by week")));
    out.push_str(&weeks(&report.weeks));
    if !report.difficulty.is_empty() {
        out.push_str(&heading(tr!(
            "By difficulty: depth needed, plausible moves"
        )));
        out.push_str(&difficulty(report));
    }
    out.push_str(&became(report));
    out.push_str(&at_speed(report));
    out.push_str(&tried_out(report));
    out.push_str(&named(report));
    out.push_str(&heading(tr!(
        "The last four weeks against the twelve before"
    )));
    out.push_str(&account(&report.account));
    out.push_str(&heading(tr!(
        "Kinds of findings, and your own words for why"
    )));
    out.push_str(&kinds(report));
    out
}

/// What became of advantages, where there was any.
fn became(report: &Report) -> String {
    let told = converting(&report.converting);
    if told.is_empty() {
        return told;
    }
    heading(tr!("What became of your advantages")) + &told
}

/// The experiment, where there was one.
fn tried_out(report: &Report) -> String {
    let told = report.experiment.as_ref().map(experiment_section);
    told.map_or_else(String::new, |told| {
        heading(tr!("Is the practice working?")) + &told
    })
}

/// Quick calculation, where there was any.
fn at_speed(report: &Report) -> String {
    let told = quick_section(&report.quick);
    if told.is_empty() {
        return told;
    }
    heading(tr!("Calculation at speed")) + &told
}

/// How well he names where his own games turned, where he has written about one.
fn named(report: &Report) -> String {
    let told = recognising(&report.recognising);
    if told.is_empty() {
        return told;
    }
    heading(tr!("Where your own games turned, named by you first")) + &told
}

/// With nothing counted the page says what will stand here.
fn nothing_yet(report: &Report) -> String {
    let mut out = paragraph(tr!(
        "No reviewed attempt yet, so there is nothing to count."
    ));
    if report.uncounted > 0 {
        out.push_str(&paragraph(&uncounted(report.uncounted)));
    }
    out.push('\n');
    out.push_str(&paragraph(tr!("What will stand here:")));
    for text in [
        tr!("from 10 attempts on: whether your verdicts are too hopeful or too gloomy;"),
        tr!(
            "from 20 moments of one kind on: the kinds of moves that you miss more often than your \
         others, each with the moments it is made of;"
        ),
        tr!("week by week: how deep your calculation held, and where your time went;"),
        tr!("after a month: the last four weeks against the twelve before;"),
        tr!(
            "from 10 games on: how often you win what you should, in play-outs and in your own games."
        ),
    ] {
        out.push_str(&lead(text, " - "));
    }
    out.push_str(&paragraph(tr!("`foreply` opens the first position.")));
    out + &became(report) + &tried_out(report) + &named(report)
}

fn uncounted(count: usize) -> String {
    tr!(count;
        "{count} locked attempt is not counted: not reviewed yet, or reviewed by an older program. \
         `foreply progress --count` reviews and counts them."
        | "{count} locked attempts are not counted: not reviewed yet, or reviewed by an older program. \
         `foreply progress --count` reviews and counts them."
    )
}

/// A sentence about a number of attempts.
type Counted = fn(usize) -> String;

/// What is to be known of what was counted, and what was not.
pub(super) fn notes(report: &Report) -> Vec<String> {
    let odd: [(usize, Counted); 2] = [
        (report.gone, |n| {
            tr!(n;
                "{n} attempt at a drill that has since changed or gone; it counts as it was."
                | "{n} attempts at drills that have since changed or gone; they count as they were."
            )
        }),
        (report.future, |n| {
            tr!(n;
                "{n} attempt is dated in the future: was the clock wrong? Its position waits until then."
                | "{n} attempts are dated in the future: was the clock wrong? Their positions wait until then."
            )
        }),
    ];
    let odd = odd.into_iter().filter(|(count, _)| *count > 0);
    let left = (report.uncounted > 0).then(|| uncounted(report.uncounted));
    odd.map(|(count, told)| told(count)).chain(left).collect()
}

fn overview(report: &Report) -> String {
    let mut out = String::new();
    for group in &report.groups {
        out.push_str(&format!(
            "{:>5}  {}: {}\n",
            group.attempts,
            safe(&group.words),
            missed(group.missed)
        ));
    }
    for note in notes(report) {
        out.push_str(&paragraph(&note));
    }
    out
}

/// '9 of 21 missed (24-63 %)'.
fn missed(rate: Rate) -> String {
    share(rate, tr!("missed"))
}

fn blind_spots(report: &Report) -> String {
    let mut out = String::new();
    if let Some(main) = &report.main {
        out.push_str(&paragraph(&tr!("Counted: {}.", main.words)));
    }
    let found: Vec<&Spot> = of_state(report, State::Found);
    if found.is_empty() {
        out.push_str(&paragraph(&none_named(report)));
    }
    for (number, spot) in found.iter().enumerate() {
        out.push_str(&lead(&spot.sentence(), &format!("{}. ", number + 1)));
        out.push_str(&moments_text(report, spot));
        out.push_str(&lead(&tr!("Next time: {}", spot.habit()), "   "));
    }
    let mut others = String::new();
    for (state, words) in [
        (State::NoWeakness, tr!("no weakness")),
        (State::NotEnoughYet, tr!("not enough yet")),
        (State::Difficulty, tr!("depth and kind")),
    ] {
        for spot in of_state(report, state).into_iter().take(OTHERS) {
            others.push_str(&format!("  {:<15} {}\n", words, spot_row(spot)));
        }
    }
    if !others.is_empty() {
        out.push_str(&tr!(
            "\nThe rest, most trials first: points more often than your others of that depth\nand kind (95 %), and moments that would tell ten points from none:\n{others}"
        ));
    }
    out
}

/// What may be said where no blind spot is named: that there is none only where every kind that was asked about is told.
pub(super) fn none_named(report: &Report) -> String {
    let open = of_state(report, State::NotEnoughYet);
    let told = of_state(report, State::NoWeakness).len();
    let least = open.iter().filter_map(|s| s.needed).min();
    let least = least.map_or_else(String::new, |n| {
        tr!(" The first of them can be told from {n} moments on.")
    });
    match (open.len(), told) {
        (0, 0) => tr!("Nothing can be said yet: there are no moments to compare.").to_owned(),
        (0, 1) => tr!("No blind spot: the one kind of move that can be compared you do not miss ten points more often than \
                   your others.")
            .to_owned(),
        (0, n) => tr!(
            "No blind spot: none of the {n} kinds of move do you miss ten points more often than your others."
        ),
        (n, told) => {
            let told = match told {
                0 => String::new(),
                m => tr!(m; " Of 1 kind it is known that you do not miss ten points more." | " Of {m} kinds it is known that you do not miss ten points more."),
            };
            let kinds = tr!(n; "{n} kind of move is" | "{n} kinds of move are");
            tr!("No blind spot can be named yet: {kinds} still open.{told}{least}")
        }
    }
}

/// '-3 to 8': how many points more often than the others it is missed, with 95 %; empty where nothing is compared.
pub(super) fn points_more(spot: &Spot) -> String {
    let points = |x: f64| format!("{:.0}", x * 100.0).replace("-0", "0");
    spot.difference_interval.map_or_else(String::new, |i| {
        tr!("{} to {}", points(i.low), points(i.high))
    })
}

fn spot_row(spot: &Spot) -> String {
    let row = tr!(
        "{:>3} of {:<3} {}",
        spot.missed.part,
        spot.missed.of,
        spot.words
    );
    let more = points_more(spot);
    let needed = match (spot.state, spot.needed) {
        (State::NotEnoughYet, Some(needed)) => format!("{needed:>6}"),
        _ => String::new(),
    };
    if more.is_empty() {
        return crate::text::fit(&row, 60).trim_end().to_owned();
    }
    let row = format!("{} {more:>10} {needed}", crate::text::fit(&row, 42));
    row.trim_end().to_owned()
}

fn of_state(report: &Report, state: State) -> Vec<&Spot> {
    report.spots.iter().filter(|s| s.state == state).collect()
}

/// A missed moment: the command that opens its attempt, and what was to be seen where.
pub(super) struct Missed {
    pub(super) command: String,
    pub(super) words: String,
}

/// The latest missed moments a blind spot is made of, and how many more there are.
pub(super) fn moments(report: &Report, spot: &Spot) -> (Vec<Missed>, usize) {
    let row = |(id, at): &(String, usize)| {
        let moment = report.moments.get(id)?.get(*at)?;
        Some(Missed {
            command: tr!("foreply review {id}"),
            words: moment.words(),
        })
    };
    let mut rows: Vec<Missed> = spot.moments.iter().rev().filter_map(row).collect();
    let more = rows.len().saturating_sub(MOMENTS);
    rows.truncate(MOMENTS);
    (rows, more)
}

fn moments_text(report: &Report, spot: &Spot) -> String {
    let (rows, more) = moments(report, spot);
    let row = |m: &Missed| format!("   {}   {}", m.command, m.words);
    let mut rows: Vec<String> = rows.iter().map(row).collect();
    if more > 0 {
        rows.push(tr!("   and {more} more (--format json has all)"));
    }
    rows.iter().map(|r| safe(r).into_owned() + "\n").collect()
}

fn judgement(of: &Judgement) -> String {
    let Some(all) = &of.all else {
        return paragraph(tr!("No verdict written yet: put one at the end of a line."));
    };
    let row = |name: &str, e: &crate::progress::judgement::Error| {
        format!(
            "  {name:<17} {:>5} {}  {}  {:>5}  {}\n",
            signed(e.signed, 2),
            interval(e.interval),
            decimal(e.absolute, 2),
            e.attempts,
            e.words()
        )
    };
    let head = tr!("                    stated less true      off      n\n");
    let mut out = String::from(head);
    out.push_str(&row(tr!("all"), all));
    for (name, error) in &of.parts {
        out.push_str(&row(name, error));
    }
    out.push_str(tr!("\nYou said    it was\n"));
    for bin in &of.diagram {
        out.push_str(&format!(
            "  {:>3} %     {:>3} %  {}  {}\n",
            percent(bin.stated),
            percent(bin.came),
            bar(bin.came, 30),
            tr!(bin.count; "{} verdict" | "{} verdicts", crate::text::whole(bin.count))
        ));
    }
    for sentence in against(&of.results) {
        out.push_str(&paragraph(&sentence));
    }
    out
}

fn interval(of: Option<Interval>) -> String {
    of.map_or_else(
        || " ".repeat(16),
        |i| tr!("({} to {})", signed(i.low, 2), signed(i.high, 2)),
    )
}

fn account(of: &Account) -> String {
    let mut out = String::new();
    let planned = of
        .plan
        .sittings
        .map_or_else(String::new, |n| tr!(" (planned: {})", n * 4));
    out.push_str(&paragraph(&tr!(
        "Sittings: {} in four weeks{planned}, {} in the twelve before.",
        of.sittings,
        of.before
    )));
    out.push_str(&change(tr!("All that had to be seen"), &of.all));
    match &of.habit {
        Some((words, habit)) => out.push_str(&change(words, habit)),
        None => out.push_str(&paragraph(tr!(
            "No habit chosen. `foreply progress --sittings 3 --habit NAME` sets a month's plan."
        ))),
    }
    if of.solved_again.of > 0 {
        out.push_str(&paragraph(&tr!(
            "Failed before and tried again: {} of {} solved.",
            of.solved_again.part,
            of.solved_again.of
        )));
    }
    out
}

fn change(name: &str, of: &Change) -> String {
    if of.before.of == 0 {
        return paragraph(&tr!(
            "{}: {} now; nothing from the twelve weeks before to compare it with.",
            capital(name),
            missed(of.now)
        ));
    }
    paragraph(&tr!(
        "{}: {} now, {} before: {:+.0} points ({:+.0} to {:+.0}), {}.",
        capital(name),
        missed(of.now),
        missed(of.before),
        of.difference * 100.0,
        of.interval.low * 100.0,
        of.interval.high * 100.0,
        of.verdict.words()
    ))
}

fn kinds(report: &Report) -> String {
    let mut out = String::new();
    for (kind, count) in &report.kinds {
        out.push_str(&format!("  {count:>3}  {}\n", kind.label()));
    }
    if report.kinds.is_empty() {
        out.push_str(&paragraph(tr!("No finding counted yet.")));
    }
    out.push_str(&causes(&report.causes));
    out
}

/// His words, each with the kinds it was given for and whether the review says the same.
fn causes(causes: &[Cause]) -> String {
    let mut out = String::new();
    for cause in causes {
        let text = tr!(
            "'{}' for: {}. {}",
            cause.title(),
            cause.kinds_in_words(),
            cause.sentence()
        );
        out.push_str(&lead(text.trim_end(), &format!("  {:>3}  ", cause.count)));
    }
    if causes.is_empty() {
        out.push_str(&paragraph(tr!(
            "No cause given yet: the review asks why you missed a move."
        )));
    }
    let both = agreement(causes);
    if both.of > 0 {
        out.push_str(&paragraph(&tr!(
            "Where a kind of finding belongs to your words the two agree in {} of {}.",
            both.part,
            both.of
        )));
    }
    out
}
