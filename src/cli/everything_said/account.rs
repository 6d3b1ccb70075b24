//! What the account of a game that was played out holds.

use super::{Empty, Surface, Value, any_of, elsewhere, held, value};
use crate::app::testing::app::Trial;
use crate::app::{PlayoutTerms, Subject};
use crate::playout::{
    Account, AccountMove, AccountPlan, Chance, Drift, Goal, Level, Moment, Outcome, Simpler,
    StalemateFrom,
};
use crate::report;
use crate::review::{FindingKind, standing};
use crate::score::PlayerScore;
use crate::tui::tests::surfaces;

use Surface::{Html, Json, Large, Small, Text};

const PEOPLE: &[Surface] = &[Small, Large, Text, Html];
const WORDS: &str = "people read the standing in words; the number is for programs";

/// Cells of the account that stay empty.
const EMPTY: &[Empty] = &[
    ("expected score at the start", PEOPLE, WORDS),
    ("expected score before a move", PEOPLE, WORDS),
    ("expected score after a move", PEOPLE, WORDS),
    ("expected score before a decision", PEOPLE, WORDS),
    ("expected score after a decision", PEOPLE, WORDS),
    ("what a drift lost", PEOPLE, WORDS),
    (
        "half-move of a decision",
        PEOPLE,
        "people read the number of the move",
    ),
    (
        "position of a decision",
        PEOPLE,
        "the screens show it as a board; text and page name the move",
    ),
    (
        "better move",
        PEOPLE,
        "the sentence of the decision names it",
    ),
    (
        "kind of a decision",
        PEOPLE,
        "a name for programs; the sentence says what it is",
    ),
    ("move of a simpler way", PEOPLE, "the sentence names it"),
    (
        "time of a move",
        &[Small, Large, Text],
        "a table of times belongs to a page; the decisions say theirs",
    ),
    (
        "time left after a move",
        &[Small, Large, Text],
        "a table of times belongs to a page; the decisions say theirs",
    ),
];

fn account() -> Account {
    Account {
        judge: "zqjudge".to_owned(),
        nodes: 7_340_033,
        root: "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1".to_owned(),
        outcome: Outcome::Lost,
        end: "zqend".to_owned(),
        reached: false,
        start: 0.911,
        stalemate_from: Some(StalemateFrom {
            played: "71. Zqstale".to_owned(),
            before: 0.913,
        }),
        moves: vec![AccountMove {
            number: 1,
            white: true,
            san: "Zqmove".to_owned(),
            own: true,
            before: 0.811,
            after: 0.821,
            took_ms: 3_671_000,
            left_ms: Some(3_732_000),
            written: true,
        }],
        moments: vec![Moment {
            ply: 0,
            played: "zqplayed".to_owned(),
            better: "Zqbetter".to_owned(),
            fen: "zqfen".to_owned(),
            before: 0.711,
            after: 0.721,
            took_ms: 3_793_000,
            left_ms: Some(3_854_000),
            written: true,
            kind: Some(FindingKind::StoppedShort),
            sentence: "Zqsentence.".to_owned(),
            chance: Some(Chance {
                reply: "Zqreply".to_owned(),
                kind: "zqkind".to_owned(),
                taken: true,
            }),
        }],
        drifts: vec![Drift {
            from: 1,
            to: 2,
            from_move: 173,
            to_move: 179,
            before: 0.95,
            after: 0.05,
            lost: 0.621,
        }],
        simpler: vec![Simpler {
            at_move: 181,
            sentence: "Zqsimpler.".to_owned(),
        }],
        plans: vec![AccountPlan {
            before_move: 191,
            text: "zqplan".to_owned(),
            played: vec!["Zqthen".to_owned()],
        }],
    }
}

fn time(name: &'static str, ms: u64) -> Value {
    any_of(name, &[&crate::text::clock(ms), &ms.to_string()])
}

fn values(account: &Account) -> Vec<Value> {
    let Account {
        judge,
        nodes,
        root,
        outcome,
        end,
        reached: _,
        start,
        stalemate_from,
        moves,
        moments,
        drifts,
        simpler,
        plans,
    } = account;
    let mut all = vec![
        value("judge", judge),
        value("nodes", nodes),
        value("position", root),
        any_of("result", &[outcome.word(), "\"outcome\": \"lost\""]),
        any_of("end", &[end, &crate::text::capital(end)]),
        any_of(
            "whether it was reached",
            &["did not reach", "\"reached\": false"],
        ),
        value("expected score at the start", start),
        any_of(
            "stalemate given away",
            &[stalemate_from
                .as_ref()
                .map_or("none", |s| s.played.as_str())],
        ),
    ];
    all.extend(moves.iter().flat_map(of_move));
    all.extend(moments.iter().flat_map(of_moment));
    all.extend(drifts.iter().flat_map(of_drift));
    for Simpler { at_move, sentence } in simpler {
        all.extend([
            value("move of a simpler way", at_move),
            value("simpler way", sentence),
        ]);
    }
    for AccountPlan {
        before_move,
        text,
        played,
    } in plans
    {
        all.extend([
            value("move of a plan", before_move),
            value("plan", text),
            value("what came of a plan", &played[0]),
        ]);
    }
    all
}

fn of_move(mv: &AccountMove) -> Vec<Value> {
    let AccountMove {
        number: _,
        white: _,
        san,
        own: _,
        before,
        after,
        took_ms,
        left_ms,
        written: _,
    } = mv;
    vec![
        value("move", san),
        value("expected score before a move", before),
        value("expected score after a move", after),
        time("time of a move", *took_ms),
        time("time left after a move", left_ms.unwrap_or(0)),
    ]
}

fn of_moment(moment: &Moment) -> Vec<Value> {
    let Moment {
        ply,
        played,
        better,
        fen,
        before,
        after,
        took_ms,
        left_ms,
        written: _,
        kind,
        sentence,
        chance,
    } = moment;
    let mut all = vec![
        value("half-move of a decision", format!("\"ply\": {ply}")),
        value("decision", played),
        value("better move", better),
        value("position of a decision", fen),
        value("expected score before a decision", before),
        value("expected score after a decision", after),
        time("time of a decision", *took_ms),
        time("time left at a decision", left_ms.unwrap_or(0)),
        any_of(
            "whether he wrote before it",
            &["with lines written", "\"written\": true"],
        ),
        value("kind of a decision", kind.map_or("", FindingKind::code)),
        value("sentence of a decision", sentence),
    ];
    if let Some(Chance {
        reply,
        kind,
        taken: _,
    }) = chance
    {
        all.extend([
            value("what it allowed", reply),
            value("kind of what it allowed", kind),
            any_of("whether he played it", &["He played it", "\"taken\": true"]),
        ]);
    }
    all
}

fn of_drift(drift: &Drift) -> Vec<Value> {
    let Drift {
        from: _,
        to: _,
        from_move,
        to_move,
        before,
        after,
        lost,
    } = drift;
    let words = |worth: &f64| standing(PlayerScore::new(*worth));
    vec![
        value("start of a drift", from_move),
        value("end of a drift", to_move),
        any_of("standing before a drift", &[words(before), "0.95"]),
        any_of("standing after a drift", &[words(after), "0.05"]),
        value("what a drift lost", lost),
    ]
}

#[test]
fn an_account_reaches_every_surface() {
    let trial = Trial::usual();
    let terms = || PlayoutTerms {
        side: None,
        goal: Goal::Win,
        level: Level::FULL,
        clock: None,
        write_every: None,
    };
    let game = || {
        let subject = Subject::Drill("saavedra-1895".to_owned());
        trial
            .app
            .playouts()
            .open_playout(&subject, terms())
            .unwrap()
    };
    let account = account();
    let told = report::account_text;
    let screens = |size| surfaces::of_account(&trial, (game(), &account), told, size);
    let shown = || {
        vec![
            (Small, screens((80, 24))),
            (Large, screens((140, 45))),
            (Text, report::account_text(&account)),
            (Html, report::account_html(&account).unwrap()),
            (Json, report::account_json(&account).unwrap()),
        ]
    };
    held(&values(&account), &shown(), EMPTY);
    elsewhere(&shown);
}
