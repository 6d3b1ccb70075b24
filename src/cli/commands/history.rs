//! `foreply history`: what was written, with the names that other commands take.

use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::app::{HistoryFilter, Listed, ListedWhat};
use crate::cli::args::{Global, History, Page};
use crate::cli::{Failure, locate, open_app};
use crate::report::{self, HistoryRow, RowReview};
use crate::text::{self, Locale, TypedDate};

pub(crate) fn run(global: &Global, args: &History) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let zone = TimeZone::system();
    let days = days(args, global.locale()?)?;
    let filter = filter(args, days, &zone)?;
    let app = open_app::reading(global)?;
    let mut listed = app.attempts().listed(&filter)?;
    let found = listed.len();
    listed.truncate(args.limit.unwrap_or(found));
    let rows: Vec<HistoryRow> = listed.into_iter().map(|l| row(l, &zone)).collect();
    let asked = asked(args, days);
    let page = match form {
        Page::Text => report::history_text(&rows, found, &asked),
        Page::Json => report::history_json(&rows, found).map_err(Failure::input)?,
        Page::Html => report::history_html(&rows, found, &asked).map_err(Failure::input)?,
    };
    target.tell(&page)
}

/// The first and the last day.
type Days = (Option<Date>, Option<Date>);

/// The days that were typed.
fn days(args: &History, locale: Locale) -> Result<Days, Failure> {
    let read = |flag: &str, typed: Option<&TypedDate>| {
        let day = typed.map(|d| d.read(locale)).transpose();
        day.map_err(|e| Failure::usage(format!("{flag}: {e}")))
    };
    Ok((
        read("--from", args.from.as_ref())?,
        read("--to", args.to.as_ref())?,
    ))
}

fn filter(args: &History, days: Days, zone: &TimeZone) -> Result<HistoryFilter, Failure> {
    let start = |date: Date| {
        let at = date.to_zoned(zone.clone());
        let wrong = |e| Failure::input(tr!("{}: {e}; name another day", text::date(date)));
        at.map(|z| z.timestamp().as_millisecond()).map_err(wrong)
    };
    let (from, to) = days;
    if let (Some(from), Some(to)) = (from, to)
        && from > to
    {
        return Err(Failure::input(tr!(
            "--from {} is after --to {}; nothing lies between them",
            text::date(from),
            text::date(to)
        )));
    }
    let after = to.map(|to| to.tomorrow().unwrap_or(to));
    Ok(HistoryFilter {
        from_ms: from.map(start).transpose()?,
        before_ms: after.map(start).transpose()?,
        words: args.opponent.clone(),
        kind: args.kind.map(Into::into),
        finding: args.finding.clone(),
        unreviewed: args.unreviewed,
    })
}

/// What was asked for, in words; empty where everything was.
fn asked(args: &History, (from, to): Days) -> Vec<String> {
    let from = from.map(|d| tr!("from {}", text::date(d)));
    let to = to.map(|d| tr!("up to {}", text::date(d)));
    let words = args.opponent.as_ref().map(|w| tr!("with '{w}'"));
    let kind = args
        .kind
        .map(|k| tr!("of the kind {}", crate::app::HistoryKind::from(k).code()));
    let finding = args.finding.as_ref().map(|f| tr!("with a finding {f}"));
    let waits = args.unreviewed.then(|| tr!("not reviewed yet").to_owned());
    [from, to, words, kind, finding, waits]
        .into_iter()
        .flatten()
        .collect()
}

fn row(listed: Listed, zone: &TimeZone) -> HistoryRow {
    let at = jiff::Timestamp::from_millisecond(listed.wall_ms());
    let date = at.map_or_else(
        |_| tr!("no date").to_owned(),
        |t| t.to_zoned(zone.clone()).date().to_string(),
    );
    let kind = listed.kind.code();
    let row = HistoryRow {
        name: listed.name,
        id: listed.id,
        date,
        kind,
        place: listed.place,
        ..HistoryRow::default()
    };
    match listed.what {
        ListedWhat::Attempt(entry) => HistoryRow {
            chosen: Some(entry.choice),
            moves: entry.moves,
            used_ms: Some(entry.used_ms),
            budget_ms: entry.budget_ms,
            quick: entry.quick,
            review: entry.reviewed.map(|r| RowReview {
                findings: r.kinds.iter().map(|k| k.code().to_owned()).collect(),
                labels: r.kinds.iter().map(|k| k.label().to_owned()).collect(),
                counted: r.findings,
                effect: r.effect,
                needed: r.needed,
                reached: r.reached,
                sound: r.sound,
                struck: (r.struck > 0).then_some(r.struck),
            }),
            ..row
        },
        ListedWhat::Playout(game) => HistoryRow {
            moves: game.moves,
            level: Some(game.level.into()),
            result: game.outcome.map(|outcome| outcome.word()),
            ..row
        },
    }
}
