//! A progress report with something in every place that cannot be mistaken for anything else.

use crate::progress::account::{Account, Change, Plan, Verdict};
use crate::progress::causes::Cause;
use crate::progress::converting::{Converting, Row};
use crate::progress::course::Week;
use crate::progress::difficulty::Stratum;
use crate::progress::judgement::{Against, Error, Judgement};
use crate::progress::quick::{Ladder, Quick, QuickWeek, SpeedError, Threshold};
use crate::progress::recognising::{Recognising, RecognisingMonth};
use crate::progress::report::{Group, Report};
use crate::progress::stats::forecast::{Bin, Brier};
use crate::progress::stats::{Interval, Rate};
use crate::progress::{Feature, Moment, Spot, State};
use crate::review::FindingKind;

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

pub(super) fn filled() -> Report {
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
            difference_interval: Some(interval(0.37, 0.59)),
            needed: None,
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
        recognising: Recognising {
            games: 1_213,
            named: rate(577, 1_217),
            interval: interval(0.1, 0.2),
            right: rate(587, 1_223),
            enough: false,
            months: ["2026-01", "2026-02"]
                .map(|month| RecognisingMonth {
                    month: month.to_owned(),
                    games: 1_229,
                    named: rate(593, 1_231),
                    right: rate(599, 1_237),
                })
                .into(),
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
        experiment: Some(super::experiment::filled()),
        quick: Quick {
            ladders: vec![Ladder {
                number: 3,
                needed: "zqneed".to_owned(),
                grades: "zqgrade".to_owned(),
                positions: 1_249,
                left: 1_259,
                solved: rate(601, 1_277),
                clock_ms: 3_793_000,
                threshold: Some(Threshold {
                    seconds: 3_854.0,
                    interval: interval(3_672.0, 4_011.0),
                    tries: 1_279,
                }),
                weeks: vec![QuickWeek {
                    from: jiff::civil::date(2026, 4, 6),
                    solved: rate(607, 1_283),
                    clock_ms: 4_044_000,
                    per_minute: 61.7,
                    interval: Some(interval(58.3, 64.1)),
                }],
            }],
            errors: vec![SpeedError {
                kind: FindingKind::MissedDefence.into(),
                quick: rate(613, 1_289),
                calm: rate(617, 1_291),
                difference: 0.83,
                interval: interval(0.69, 0.97),
                of_speed: true,
                enough: true,
            }],
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
