//! What a progress report holds.

use super::{Empty, Surface, Value, any_of, held, value};
use crate::app::testing::app::Trial;
use crate::progress::account::{Account, Change, Plan, Verdict};
use crate::progress::causes::Cause;
use crate::progress::converting::{Converting, Row};
use crate::progress::course::Week;
use crate::progress::difficulty::Stratum;
use crate::progress::judgement::{Against, Error, Judgement};
use crate::progress::report::{Group, Report};
use crate::progress::stats::forecast::{Bin, Brier};
use crate::progress::stats::{Interval, Rate};
use crate::progress::{Feature, Moment, Spot, State};
use crate::report;
use crate::review::FindingKind;
use crate::tui::tests::surfaces;

use Surface::{Html, Json, Large, Small, Text};

const LINES: &[Surface] = &[Small, Large, Text];
const PEOPLE: &[Surface] = &[Small, Large, Text, Html];

/// Cells of the report that stay empty.
const EMPTY: &[Empty] = &[
    (
        "difference of a blind spot",
        PEOPLE,
        "the two rates are told; the number within the strata is for programs",
    ),
    (
        "certainty of a blind spot",
        PEOPLE,
        "'blind spot' or 'not enough yet' tells it in words",
    ),
    (
        "verdicts counted",
        LINES,
        "the diagram below counts them, tenth by tenth",
    ),
    (
        "play-outs not judged",
        &[Html],
        "the page is for showing; the command says what to do about them",
    ),
    (
        "habit of the plan",
        PEOPLE,
        "its words stand beside its change",
    ),
];

fn rate(part: u64, of: u64) -> Rate {
    Rate { part, of }
}

fn interval(low: f64, high: f64) -> Interval {
    Interval { low, high }
}

fn change(part: u64) -> Change {
    Change {
        now: rate(part, 1_009),
        before: rate(part + 2, 1_013),
        difference: 0.31,
        interval: interval(0.17, 0.19),
        verdict: Verdict::Worse,
    }
}

fn error() -> Error {
    Error {
        signed: 0.23,
        interval: Some(interval(0.11, 0.29)),
        absolute: 0.37,
        verdicts: 1_019,
        attempts: 1_021,
    }
}

fn row(part: u64) -> Row {
    Row {
        words: "zqrow",
        won: rate(part, 1_031),
        interval: interval(0.1, 0.2),
        enough: false,
    }
}

fn report() -> Report {
    let feature = Feature::all().next().unwrap();
    Report {
        attempts: 1_033,
        uncounted: 1_039,
        gone: 1_049,
        future: 1_051,
        groups: vec![Group {
            words: "zqgroup".to_owned(),
            attempts: 1_061,
            missed: rate(503, 1_063),
        }],
        main: Some(Group {
            words: "zqmain".to_owned(),
            attempts: 1_061,
            missed: rate(503, 1_063),
        }),
        spots: vec![Spot {
            feature,
            words: "zqspot",
            missed: rate(509, 1_069),
            interval: interval(0.41, 0.43),
            others: Some(rate(521, 1_087)),
            difference: Some(0.4711),
            p: Some(0.0012),
            state: State::Found,
            moments: vec![("zqattempt".to_owned(), 0)],
        }],
        moments: [(
            "zqattempt".to_owned(),
            vec![Moment {
                path: vec!["Zqpath".to_owned()],
                resource: "Zqresource".to_owned(),
            }],
        )]
        .into(),
        judgement: Judgement {
            all: Some(error()),
            parts: vec![("zqpart", error())],
            diagram: vec![Bin {
                stated: 0.67,
                came: 0.71,
                count: 1_091,
            }],
            results: vec![Against {
                words: "zqagainst",
                games: 1_093,
                brier: Brier {
                    score: 0.123,
                    reliability: 0.127,
                    resolution: 0.131,
                    uncertainty: 0.137,
                    within: 0.139,
                    count: 1_097,
                },
                enough: false,
            }],
        },
        weeks: vec![Week {
            from: jiff::civil::date(2026, 3, 2),
            attempts: 1_103,
            needed: 51.3,
            reached: 52.3,
            sound: 53.3,
            reached_share: 0.57,
            sound_share: 0.59,
            interval: Some(interval(0.4, 0.6)),
            first_reply_ms: Some(3_671_000),
            dropped: Some(0.73),
        }],
        difficulty: vec![Stratum {
            needed: "zqneeded",
            plausible: "zqplausible",
            attempts: 1_109,
            reached: 0.77,
            held: 0.79,
            interval: Some(interval(0.7, 0.8)),
            first_reply_ms: Some(3_732_000),
        }],
        grades: vec![(3, rate(523, 1_117))],
        converting: Converting {
            play_outs: vec![row(541)],
            unjudged: 1_123,
            twice: rate(547, 1_129),
            own_games: vec![row(557)],
            judged: 1_151,
        },
        account: Account {
            plan: Plan {
                sittings: Some(1_153),
                habit: Some("zqhabitname".to_owned()),
            },
            sittings: 1_163,
            before: 1_171,
            all: change(563),
            habit: Some(("zqhabit", change(569))),
            solved_again: rate(571, 1_181),
        },
        kinds: vec![(FindingKind::StoppedShort.into(), 1_187)],
        causes: vec![Cause {
            words: "zqcause".to_owned(),
            count: 1_193,
            kinds: vec![("zqkind".to_owned(), 1_201)],
            listed: false,
            agrees: Some(997),
        }],
    }
}

fn values(report: &Report) -> Vec<Value> {
    let Report {
        attempts: _,
        uncounted,
        gone,
        future,
        groups,
        main,
        spots,
        moments,
        judgement,
        weeks,
        difficulty,
        grades,
        converting,
        account,
        kinds,
        causes,
    } = report;
    let mut all = vec![
        value("attempts not counted", uncounted),
        value("attempts whose drill is gone", gone),
        value("attempts in the future", future),
        value("moment of a blind spot", &moments["zqattempt"][0].resource),
    ];
    for Group {
        words,
        attempts,
        missed,
    } in groups
    {
        all.extend([
            value("group", words),
            value("attempts of a group", attempts),
        ]);
        all.extend(of_rate("missed of a group", missed));
    }
    let main = main.as_ref().map_or("", |m| &m.words);
    all.push(value("the main group", main));
    all.extend(spots.iter().flat_map(of_spot));
    all.extend(of_judgement(judgement));
    all.extend(weeks.iter().flat_map(of_week));
    all.extend(difficulty.iter().flat_map(of_stratum));
    for (_, solved) in grades {
        all.extend(of_rate("solved of a grade", solved));
    }
    all.extend(of_converting(converting));
    all.extend(of_account(account));
    for (kind, count) in kinds {
        all.extend([
            any_of("kind of finding", &[kind.label(), kind.code()]),
            value("findings of a kind", count),
        ]);
    }
    all.extend(causes.iter().flat_map(of_cause));
    all
}

fn of_rate(name: &'static str, rate: &Rate) -> [Value; 2] {
    let Rate { part, of } = rate;
    [value(name, part), value(name, of)]
}

fn share(name: &'static str, share: f64) -> Value {
    let percent = format!("{:.0}", share * 100.0);
    any_of(name, &[&percent, &share.to_string()])
}

fn of_spot(spot: &Spot) -> Vec<Value> {
    let Spot {
        feature: _,
        words,
        missed,
        interval: Interval { low, high: _ },
        others,
        difference,
        p,
        state: _,
        moments,
    } = spot;
    let mut all = vec![
        any_of("blind spot", &[words, "Zqspot"]),
        share("interval of a blind spot", *low),
        value("difference of a blind spot", difference.unwrap_or(0.0)),
        value("certainty of a blind spot", p.unwrap_or(0.0)),
        value("attempt of a moment", &moments[0].0),
    ];
    all.extend(of_rate("missed of a blind spot", missed));
    all.extend(
        others
            .iter()
            .flat_map(|o| of_rate("others beside a blind spot", o)),
    );
    all
}

fn of_judgement(judgement: &Judgement) -> Vec<Value> {
    let Judgement {
        all,
        parts,
        diagram,
        results,
    } = judgement;
    let mut values = Vec::new();
    values.extend(all.iter().flat_map(of_error));
    for (words, error) in parts {
        values.push(value("part of the game", words));
        values.extend(of_error(error));
    }
    for Bin {
        stated,
        came,
        count,
    } in diagram
    {
        values.extend([
            share("what was stated", *stated),
            share("what came", *came),
            value("verdicts of a tenth", count),
        ]);
    }
    for Against {
        words,
        games,
        brier,
        enough: _,
    } in results
    {
        values.extend([
            value("games against results", words),
            value("number of those games", games),
        ]);
        values.extend(of_brier(brier));
    }
    values
}

fn of_error(error: &Error) -> Vec<Value> {
    let Error {
        signed,
        interval,
        absolute,
        verdicts,
        attempts,
    } = error;
    let low = interval.map_or(0.0, |i| i.low);
    vec![
        any_of(
            "lean of verdicts",
            &[&format!("{signed:+.2}"), "+23", "\"signed\": 0.23"],
        ),
        any_of(
            "interval of the lean",
            &[&format!("{low:+.2}"), "+11", "\"low\": 0.11"],
        ),
        share("how far verdicts are off", *absolute),
        value("verdicts counted", verdicts),
        value("attempts with verdicts", attempts),
    ]
}

fn of_brier(brier: &Brier) -> Vec<Value> {
    let Brier {
        score,
        reliability,
        resolution,
        uncertainty,
        within,
        count,
    } = brier;
    vec![
        value("Brier score", score),
        value("reliability", reliability),
        value("resolution", resolution),
        value("uncertainty", uncertainty),
        value("within groups", within),
        value("forecasts", count),
    ]
}

fn time(name: &'static str, ms: Option<u64>) -> Value {
    let ms = ms.unwrap_or(0);
    any_of(name, &[&crate::text::clock(ms), &ms.to_string()])
}

fn of_week(week: &Week) -> Vec<Value> {
    let Week {
        from,
        attempts,
        needed,
        reached,
        sound,
        reached_share,
        sound_share,
        interval: _,
        first_reply_ms,
        dropped,
    } = week;
    vec![
        value("week", from),
        value("attempts of a week", attempts),
        value("needed in a week", needed),
        value("reached in a week", reached),
        value("sound in a week", sound),
        share("share reached in a week", *reached_share),
        share("share held in a week", *sound_share),
        time("first reply in a week", *first_reply_ms),
        share("time dropped in a week", dropped.unwrap_or(0.0)),
    ]
}

fn of_stratum(stratum: &Stratum) -> Vec<Value> {
    let Stratum {
        needed,
        plausible,
        attempts,
        reached,
        held,
        interval: _,
        first_reply_ms,
    } = stratum;
    vec![
        value("depth of a stratum", needed),
        value("plausible moves of a stratum", plausible),
        value("attempts of a stratum", attempts),
        share("reached in a stratum", *reached),
        share("held in a stratum", *held),
        time("first reply in a stratum", *first_reply_ms),
    ]
}

fn of_converting(converting: &Converting) -> Vec<Value> {
    let Converting {
        play_outs,
        unjudged,
        twice,
        own_games,
        judged,
    } = converting;
    let mut all = vec![
        value("play-outs not judged", unjudged),
        value("own games judged", judged),
    ];
    all.extend(of_rate("won twice", twice));
    for Row {
        words,
        won,
        interval: _,
        enough: _,
    } in play_outs.iter().chain(own_games)
    {
        all.push(value("kind of games", words));
        all.extend(of_rate("games won", won));
    }
    all
}

fn of_account(account: &Account) -> Vec<Value> {
    let Account {
        plan,
        sittings,
        before,
        all,
        habit,
        solved_again,
    } = account;
    let Plan {
        sittings: planned,
        habit: named,
    } = plan;
    let planned = planned.unwrap_or(0);
    let mut values = vec![
        any_of(
            "planned",
            &[&planned.to_string(), &(4 * planned).to_string()],
        ),
        value("habit of the plan", named.clone().unwrap_or_default()),
        value("sittings now", sittings),
        value("sittings before", before),
    ];
    values.extend(of_change(all));
    if let Some((words, change)) = habit {
        values.push(any_of("habit", &[words, "Zqhabit"]));
        values.extend(of_change(change));
    }
    values.extend(of_rate("solved again", solved_again));
    values
}

fn of_change(change: &Change) -> Vec<Value> {
    let Change {
        now,
        before,
        difference,
        interval,
        verdict,
    } = change;
    let mut all = vec![
        share("change in points", *difference),
        share("interval of a change", interval.low),
        any_of("verdict on a change", &[verdict.words(), "\"worse\""]),
    ];
    all.extend(of_rate("missed now", now));
    all.extend(of_rate("missed before", before));
    all
}

fn of_cause(cause: &Cause) -> Vec<Value> {
    let Cause {
        words,
        count,
        kinds,
        listed: _,
        agrees,
    } = cause;
    let agrees = agrees.unwrap_or(0);
    vec![
        value("cause", words),
        value("how often a cause was given", count),
        value("kind beside a cause", &kinds[0].0),
        value("how often beside a kind", kinds[0].1),
        any_of(
            "whether a cause is listed",
            &["no longer on your list", "\"listed\": false"],
        ),
        value("how often a cause agrees", agrees),
    ]
}

#[test]
fn a_progress_report_reaches_every_surface() {
    let trial = Trial::usual();
    let report = report();
    let told = || report::progress_text(&report);
    let shown = [
        (Small, surfaces::of_progress(&trial, told(), (80, 24))),
        (Large, surfaces::of_progress(&trial, told(), (140, 45))),
        (Text, told()),
        (Html, report::progress_html(&report).unwrap()),
        (Json, report::progress_json(&report).unwrap()),
    ];
    held(&values(&report), &shown, EMPTY);
}
