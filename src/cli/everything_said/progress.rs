//! What a progress report holds.

use super::experiment::of_experiment;
use super::figures::{of_rate, share, time};
use super::filled_progress::filled;
use super::quick::of_quick;
use super::{Empty, Surface, Value, any_of, elsewhere, held, value};
use crate::app::testing::app::Trial;
use crate::progress::Spot;
use crate::progress::account::{Account, Change, Plan};
use crate::progress::causes::Cause;
use crate::progress::converting::{Converting, Row};
use crate::progress::course::Week;
use crate::progress::difficulty::Stratum;
use crate::progress::judgement::{Against, Error, Judgement};
use crate::progress::recognising::{Recognising, RecognisingMonth};
use crate::progress::report::{Group, Report};
use crate::progress::stats::Interval;
use crate::progress::stats::forecast::{Bin, Brier};
use crate::report;
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
        recognising,
        account,
        quick,
        experiment,
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
    all.extend(of_recognising(recognising));
    all.extend(of_account(account));
    all.extend(of_quick(quick));
    all.extend(experiment.iter().flat_map(of_experiment));
    for (kind, count) in kinds {
        all.extend([
            any_of("kind of finding", &[kind.label(), kind.code()]),
            value("findings of a kind", count),
        ]);
    }
    all.extend(causes.iter().flat_map(of_cause));
    all
}

fn of_spot(spot: &Spot) -> Vec<Value> {
    let Spot {
        feature: _,
        words,
        missed,
        interval: Interval { low, high: _ },
        others,
        difference,
        difference_interval,
        // Of what is still open alone: the rows below the blind spots tell it.
        needed: _,
        p,
        state: _,
        moments,
    } = spot;
    let mut all = vec![
        any_of("blind spot", &[words, "Zqspot"]),
        share("interval of a blind spot", *low),
        value("difference of a blind spot", difference.unwrap_or(0.0)),
        share(
            "interval of the difference of a blind spot",
            difference_interval.map_or(0.0, |i| i.low),
        ),
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

fn of_recognising(recognising: &Recognising) -> Vec<Value> {
    let Recognising {
        games,
        named,
        interval: _,
        right,
        enough: _,
        months,
    } = recognising;
    let mut all = vec![value("games written about first", games)];
    all.extend(of_rate("turning points named", named));
    all.extend(of_rate("moments of his that were right", right));
    for RecognisingMonth {
        month,
        games,
        named,
        right,
    } in months
    {
        all.push(value("month", month));
        all.push(value("games of a month", games));
        all.extend(of_rate("named in a month", named));
        all.extend(of_rate("right in a month", right));
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
    let report = filled();
    let told = || report::progress_text(&report);
    let shown = || {
        vec![
            (Small, surfaces::of_progress(&trial, told(), (80, 24))),
            (Large, surfaces::of_progress(&trial, told(), (140, 45))),
            (Text, told()),
            (Html, report::progress_html(&report).unwrap()),
            (Json, report::progress_json(&report).unwrap()),
        ]
    };
    held(&values(&report), &shown(), EMPTY);
    elsewhere(&shown);
}
