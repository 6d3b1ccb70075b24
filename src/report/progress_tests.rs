//! The progress page, as text and as HTML, of an invented half year.

use jiff::tz::TimeZone;

use super::{progress_html, progress_text};
use crate::board::phase::Phase;
use crate::progress::converting::{Advantage, Played};
use crate::progress::judgement::Results;
use crate::progress::record::tests::plain;
use crate::progress::schedule::DAY_MS;
use crate::progress::stats::forecast::Forecast;
use crate::progress::{
    AttemptStatistics, Bits, Feature, Given, Moment, Outcome, Report, Source, report,
};
use crate::review::FindingKind;

/// Sixty sittings, one every other day, in which replies that give something up are missed.
fn given() -> Given {
    let mut counted: Vec<(String, AttemptStatistics)> =
        (0..60).map(|i| (format!("a{i:03}"), sitting(i))).collect();
    let mut notes = sitting(3);
    notes.source = Source::Notes;
    counted.push(("n001".to_owned(), notes));
    Given {
        counted,
        uncounted: 2,
        gone: 1,
        causes: [
            ("Stopped one move too early", "stopped-short"),
            ("stopped  one move too early", "missed-defence"),
            ("stopped one move too early", "stopped-short"),
            ("tired", "missed-counter-sacrifice"),
        ]
        .map(|(words, kind)| (words.to_owned(), kind.to_owned()))
        .into(),
        now_ms: 20_520 * DAY_MS,
        results: vec![Results {
            words: "your play-outs",
            games: 12,
            forecasts: (0..12).map(forecast).collect(),
        }],
        played: (0..24).map(played).collect(),
        own_games: (0..9).filter_map(|i| played(i).advantage).collect(),
        grades: (0..60).map(|i| (format!("r{i}"), 1 + i % 5)).collect(),
        ..Given::default()
    }
}

fn bits(names: &[&str], seen: bool) -> Bits {
    let features: Vec<Feature> = names.iter().map(|n| Feature::named(n).unwrap()).collect();
    Bits::with(&features, seen)
}

fn sitting(i: i64) -> AttemptStatistics {
    let phases = ["openings", "middlegames", "endings"];
    let phase = phases[(i / 3 % 3) as usize];
    let gives = [
        "replies",
        "half-moves-1-2",
        "captures",
        "replies-that-give-up",
        phase,
    ];
    let base = ["replies", "half-moves-1-2", "captures", "rook-moves", phase];
    let back = [
        "own-moves",
        "half-moves-3-4",
        "quiet-moves",
        "backward-moves",
    ];
    let mut c: AttemptStatistics = plain(20_400 * DAY_MS + 2 * i * DAY_MS);
    c.root = format!("r{i}");
    c.trials = vec![
        bits(&gives, i % 3 == 0),
        bits(&base, i % 5 != 0),
        bits(&back, i % 4 != 0),
    ];
    let stated = [0.18, 0.4, 0.5, 0.6, 0.715, 0.89][(i % 6) as usize];
    let off = 0.03 * (i % 7) as f32;
    c.verdicts = vec![(stated, stated - off, (i % 3) as u8), (0.89, 0.85, 2)];
    c.standing = [0.5, 0.8, 0.2][(i % 3) as usize];
    c.kinds =
        vec![[FindingKind::MissedDefence, FindingKind::StoppedShort][(i % 2) as usize].into()];
    c.outcome = [Outcome::Failed, Outcome::Solved, Outcome::Partly][(i % 3) as usize];
    c.needed = 2 + (i % 7) as u16;
    c.reached = c.needed.saturating_sub((i % 3) as u16);
    c.sound = (c.needed * (30 + i as u16) / 90).min(c.reached);
    c.plausible = 1 + (i % 4) as u16;
    c.first_reply_ms = Some(60_000 + 4_000 * (i % 11) as u64);
    (c.spent_ms, c.dropped_ms) = (Some(480_000), Some(120_000));
    c
}

fn forecast(i: u8) -> Forecast {
    Forecast {
        stated: [0.5, 0.6, 0.715, 0.89][usize::from(i % 4)],
        came: [1.0, 0.0, 0.5, 1.0][usize::from(i % 4)],
    }
}

fn played(i: u8) -> Played {
    let won = !i.is_multiple_of(3);
    Played {
        what: format!("p{}", i / 2),
        advantage: (i != 5).then(|| Advantage {
            from: [0.72, 0.88, 0.97][usize::from(i % 3)],
            phase: Some([Phase::Middlegame, Phase::Ending][usize::from(i % 2)]),
            clock: Some(i.is_multiple_of(4)),
            won,
        }),
        won,
    }
}

fn found() -> Report {
    let mut found = report(given(), &TimeZone::UTC);
    for (id, _) in found.spots[0].moments.clone() {
        let moment = Moment {
            path: vec!["Nd4".to_owned()],
            resource: "Rxf3".to_owned(),
        };
        found.moments.insert(id, vec![moment.clone(), moment]);
    }
    found
}

#[test]
fn the_page_names_the_weakness_and_opens_its_moments() {
    let text = progress_text(&found());
    if let Ok(path) = std::env::var("FOREPLY_WRITE_PAGE") {
        std::fs::write(path + ".txt", &text).unwrap();
    }
    let wanted = "1. Replies that give something up: 40 of 60 missed (54-77 %), your others of\n   that depth and kind 12 of 60; 31 to 62 points more.\n   foreply review a059   Rxf3 after Nd4\n";
    assert!(text.contains(wanted), "{text}");
    for part in [
        "2 locked attempts are not counted",
        "1 attempt at a drill that has since changed or gone",
        "    1  notes written from memory, first sight",
        "too hopeful",
        "       The review says the same in 2 of 3.",
        "agree in 2 of 3.",
        "Against the results of your play-outs (12, with 12 verdicts",
        "drills of grade 5: ",
        "from .70 on               15 of 23 won (45-81 %)",
        "from .95 on               7 of 7 won (65-100 %)  not enough yet",
        "1 more whose start nobody has judged",
    ] {
        assert!(text.contains(part), "no '{part}' in\n{text}");
    }
    assert!(text.lines().all(|l| crate::text::width(l) <= 79), "{text}");
}

#[test]
fn the_printed_page_has_each_chart_with_its_numbers() {
    let mut found = found();
    found.causes[0].words = "<b>&".to_owned();
    let html = progress_html(&found).unwrap();
    if let Ok(path) = std::env::var("FOREPLY_WRITE_PAGE") {
        std::fs::write(path, &html).unwrap();
    }
    assert_eq!(html.matches("<svg").count(), 5);
    for svg in html.split("</svg>").skip(1) {
        let table = svg.trim_start();
        assert!(
            table.starts_with("<div class=\"wide\" tabindex=\"0\"><table>"),
            "no table below a chart"
        );
    }
    assert!(html.contains("foreply review a059") && !html.contains("<b>&"));
    for part in [
        "not counted",
        "in 2 of 3",
        "Brier score",
        "15 of 23",
        "45-81 %",
    ] {
        assert!(html.contains(part), "no '{part}'");
    }
}

/// Games alone, and no attempt: what is known is shown beside what will come.
#[test]
fn games_without_attempts() {
    let given = Given {
        played: vec![played(0)],
        ..Given::default()
    };
    let report = report(given, &TimeZone::UTC);
    let (text, html) = (progress_text(&report), progress_html(&report).unwrap());
    assert!(text.contains("What will stand here"), "{text}");
    assert!(text.contains("from .70 on               0 of 1 won (0-79 %)  not enough yet"));
    assert!(html.contains("What will stand here") && html.contains("0 of 1"));
}
