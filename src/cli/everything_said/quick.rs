//! What quick calculation holds.

use super::figures::{of_rate, share, time};
use super::filled_progress::filled;
use super::{Surface, Value, any_of, elsewhere, held, value};
use crate::app::testing::app::Trial;
use crate::progress::quick::{Ladder, Quick, QuickWeek, SpeedError, Threshold};
use crate::progress::stats::Interval;
use crate::report;
use crate::tui::tests::surfaces;

use Surface::{Html, Json, Large, Small, Text};

pub(super) fn of_quick(quick: &Quick) -> Vec<Value> {
    let Quick { ladders, errors } = quick;
    let mut all = Vec::new();
    for Ladder {
        number,
        needed,
        grades,
        positions,
        left,
        solved,
        clock_ms,
        threshold,
        weeks,
    } in ladders
    {
        all.extend([
            any_of(
                "number of a ladder",
                &[
                    &format!("Ladder {number}:"),
                    &format!("\"number\": {number}"),
                ],
            ),
            value("depth of a ladder", needed),
            value("grades of a ladder", grades),
            value("positions of a ladder", positions),
            value("positions left", left),
            time("next clock", Some(*clock_ms)),
        ]);
        all.extend(of_rate("solved at speed", solved));
        let Some(Threshold {
            seconds,
            interval: Interval { low, high },
            tries,
        }) = threshold
        else {
            continue;
        };
        all.extend([
            seconds_of("time for three of four", *seconds),
            seconds_of("least time for three of four", *low),
            seconds_of("most time for three of four", *high),
            value("tries of a ladder", tries),
        ]);
        for QuickWeek {
            from,
            solved,
            clock_ms,
            per_minute,
            interval,
        } in weeks
        {
            all.extend([
                value("week at speed", from),
                time("clock of a week", Some(*clock_ms)),
                value("sound in a minute", per_minute),
                value(
                    "interval of sound in a minute",
                    interval.map_or(0.0, |i| i.low),
                ),
            ]);
            all.extend(of_rate("solved at speed in a week", solved));
        }
    }
    for SpeedError {
        kind,
        quick,
        calm,
        difference,
        interval,
        of_speed: _,
        enough: _,
    } in errors
    {
        all.push(any_of(
            "kind of error at speed",
            &[kind.code(), &crate::text::capital(kind.label())],
        ));
        all.extend(of_rate("errors at speed", quick));
        all.extend(of_rate("errors without a hurry", calm));
        all.push(share("more errors at speed", *difference));
        all.push(share("interval of more errors", interval.low));
    }
    all
}

/// Seconds as a clock, or as programs read them.
fn seconds_of(name: &'static str, seconds: f64) -> Value {
    let ms = (seconds * 1000.0) as u64;
    any_of(name, &[&crate::text::clock(ms), &seconds.to_string()])
}

/// The page of its own; with all other figures it is held in [`super::progress`].
#[test]
fn quick_calculation_reaches_every_surface() {
    let trial = Trial::usual();
    let quick = filled().quick;
    let page = || report::quick_page(&quick);
    let shown = || {
        vec![
            (Small, surfaces::of_quick(&trial, page(), (80, 24))),
            (Large, surfaces::of_quick(&trial, page(), (140, 45))),
            (Text, report::quick_text(&quick)),
            (Html, report::quick_html(&quick).unwrap()),
            (Json, report::quick_json(&quick).unwrap()),
        ]
    };
    held(&of_quick(&quick), &shown(), &[]);
    elsewhere(&shown);
}
