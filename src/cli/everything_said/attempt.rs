//! What an attempt and its coach's layer hold, event by event.

use super::{Empty, SCREENS, Surface, Value, any_of, value};
use crate::attempt::{
    Attempt, AttemptEvent, BoardVisibility, EndCard, FindingId, FindingSelector, Opened, Origin,
    Remark, SentFinding,
};

use Surface::{Html, Json, Plain, Text};

/// Why a cell of the attempt stays empty.
pub(super) const EMPTY: &[Empty] = &[
    (
        "opened: the drill",
        SCREENS,
        "the title says its number, which is how positions are called before and after the lock",
    ),
    (
        "opened: the drill",
        &[Plain, Text, Html, Json],
        "an attempt is called by its own name there; `source` and `foreply drills` tell the drill",
    ),
    (
        "sent: findings",
        super::ALL,
        "what went out stands in the file that went out; the findings themselves are told",
    ),
];

/// All values of one attempt.
pub(super) fn values(attempt: &Attempt) -> Vec<Value> {
    super::sitting::events(attempt).flat_map(of_event).collect()
}

fn of_event(event: &AttemptEvent) -> Vec<Value> {
    match event {
        AttemptEvent::Opened(opened) => of_opened(opened),
        AttemptEvent::Added { parent: _, text } => vec![value("a written move", text)],
        AttemptEvent::Struck { node: _ } => {
            vec![any_of("a struck move", &["[Kb7]", "<s>", "struck"])]
        }
        AttemptEvent::Judged { node: _, verdict } => {
            vec![value(
                "a verdict",
                verdict.map_or(String::new(), |v| v.to_string()),
            )]
        }
        AttemptEvent::Commented { node: _, text } => vec![value("words on a move", text)],
        AttemptEvent::Chosen { node: _ } => vec![any_of(
            "the choice",
            &[
                "you chose c7",
                "c7 (your choice)",
                "Chosen: c7",
                "Chosen: <strong>c7",
                "\"choice\": \"c7\"",
            ],
        )],
        AttemptEvent::EndStated(card) => of_card(card),
        AttemptEvent::Only { node: _, only: _ } => {
            vec![any_of(
                "a move that is only named",
                &["(only", "Only named"],
            )]
        }
        AttemptEvent::SameAs { node: _, other: _ } => {
            vec![any_of(
                "two ways to one position",
                &["(same as", "The same as"],
            )]
        }
        AttemptEvent::Locked => vec![any_of("the time that was used", &["14:32"])],
        AttemptEvent::NowSeen { text } => vec![value("what was seen in the second look", text)],
        AttemptEvent::SecondLook => vec![any_of("the second look", &["econd look", "second_look"])],
        AttemptEvent::Explained { spot, cause, text } => {
            let FindingId {
                at: _,
                kind: _,
                resource,
            } = spot;
            vec![
                value("the move of an answer", resource),
                value("a cause", cause),
                value("words on a cause", text),
            ]
        }
        AttemptEvent::Remarked { spot: _, text } => vec![value("a note", text)],
        AttemptEvent::Contested { spot: _, struck: _ } => {
            vec![any_of(
                "a finding that is not let stand",
                &["do not let it stand"],
            )]
        }
        AttemptEvent::Doubted { line } => vec![value("a line against the review", line)],
        AttemptEvent::Sent {
            wall_ms: _,
            findings,
            // For knowing again what comes back: `coach homework` tells the tasks, and the name is the player's own.
            homework: _,
            player: _,
        } => findings.iter().map(of_sent).collect(),
        AttemptEvent::Coached {
            by,
            wall_ms: _,
            remark,
        } => of_remark(by, remark),
        AttemptEvent::Overruled {
            by,
            wall_ms: _,
            finding,
            reason,
        } => {
            let FindingSelector {
                path: _,
                kind: _,
                resource,
            } = finding;
            vec![
                value("who struck a finding", by),
                value("why a finding was struck", reason),
                value(
                    "a ruling on a finding that the review no longer has",
                    resource.as_deref().unwrap_or("none"),
                ),
            ]
        }
        // What came to nothing, what only orders, and when he was away: the tree is what it left.
        AttemptEvent::Started
        | AttemptEvent::Restored { node: _ }
        | AttemptEvent::Reordered { node: _, place: _ }
        | AttemptEvent::Moved { node: _, parent: _ }
        | AttemptEvent::Retyped { node: _, text: _ }
        | AttemptEvent::Undone
        | AttemptEvent::Redone
        | AttemptEvent::Left
        | AttemptEvent::Resumed
        | AttemptEvent::Clarified { node: _, uci: _ }
        | AttemptEvent::Upheld {
            by: _,
            wall_ms: _,
            finding: _,
        } => Vec::new(),
    }
}

fn of_opened(opened: &Opened) -> Vec<Value> {
    let Opened {
        origin,
        start_fen,
        past: _,
        budget_ms,
        sight,
        wall_ms: _,
        quick,
    } = opened;
    let quick = quick.map_or("", |_| "quick calculation");
    let origin = match origin {
        Origin::Drill(id) => id.clone(),
        Origin::Homework { by } => by.clone(),
        Origin::Position | Origin::Playout { .. } | Origin::Notes(_) => String::new(),
    };
    let sight = match sight {
        BoardVisibility::Root => "board at the position",
        BoardVisibility::Follow => "board following the lines",
        BoardVisibility::None => "board hidden",
    };
    let board = start_fen.split(' ').next().unwrap_or_default();
    vec![
        value("opened: the drill", origin),
        value("opened: the position", board),
        value(
            "opened: the time",
            budget_ms.map_or(String::new(), crate::text::clock),
        ),
        value("opened: the board", sight),
        value("opened: the day", "Written on "),
        value("opened: quick", quick),
    ]
}

fn of_card(card: &EndCard) -> Vec<Value> {
    let EndCard {
        node: _,
        mover: _,
        material: _,
        plan,
    } = card;
    vec![value("the plan on the end card", plan)]
}

fn of_sent(sent: &SentFinding) -> Value {
    let SentFinding { finding: _, text } = sent;
    value("sent: findings", text)
}

fn of_remark(by: &str, remark: &Remark) -> Vec<Value> {
    let mut values = vec![value("the coach's name", by)];
    values.extend(match remark {
        Remark::Added { parent: _, text } => vec![value("a coach's move", text)],
        Remark::Judged { node: _, verdict } => vec![value("a coach's verdict", verdict)],
        Remark::Marked { node: _, nags: _ } => vec![
            value("a coach's glyph", "a good move"),
            value("a coach's glyph without a name", "$147"),
        ],
        Remark::Said { node: _, text } => vec![value("a coach's words", text)],
        Remark::Homework { node: _, due } => vec![
            value("homework", "homework"),
            value("the day of homework", due.as_deref().unwrap_or("none")),
        ],
    });
    values
}
