//! What a review holds, on all surfaces.

use super::filled::{review, words};
use super::sitting::sitting;
use super::{ALL, Empty, SCREENS, Surface, Value, any_of, attempt, elsewhere, held, value};
use crate::app::testing::app::Trial;
use crate::attempt::Attempt;
use crate::coach::{self, Missed, Model};
use crate::report::{self, Reviewed, Subject};
use crate::review::{
    Coverage, Credit, Depth, EndCardRead, Expected, Finding, Focus, Held, MoveRead, Note, Process,
    Review, Sacrifice, Trials, Unjudged,
};
use crate::score::PlayerScore;
use crate::tui::tests::surfaces;

use Surface::{Html, Json, Large, Plain, Small, Text};

const NUMBERS: &str = "expected scores are told on asking only: on the screens (e), by `numbers` in the plain \
                       sitting, and to programs";
const SENTENCE: &str = "the sentence of the finding tells the line move by move";
const OWN_LINE: &str = "the written tree stands there whole, and the sentence names the place";
const ACROSS: &str = "counted across attempts: the progress report tells it";

const PEOPLE: &[Surface] = &[Small, Large, Plain, Text, Html];

/// Cells of the review that stay empty.
const EMPTY: &[Empty] = &[
    ("best expected score", &[Text, Html], NUMBERS),
    ("expected score of the choice", &[Text, Html], NUMBERS),
    ("gap of a finding", &[Text, Html], NUMBERS),
    ("effect of a finding", &[Text, Html], NUMBERS),
    (
        "half-move of a finding",
        &[Text, Html],
        "the way to the place is told",
    ),
    (
        "motif of a finding",
        &[Text, Html],
        "the sentence says what kind of move it is where that explains it",
    ),
    (
        "what is given up",
        &[Text, Html],
        "the sentence says it where a rule supports it",
    ),
    (
        "how it is given up",
        &[Text, Html],
        "the sentence says it where a rule supports it",
    ),
    (
        "whose turn a finding is",
        &[Text, Html],
        "the way to the place and the moves tell it",
    ),
    ("proof of a finding", &[Text], SENTENCE),
    ("line of a declined offer", &[Text], SENTENCE),
    ("what was written instead", &[Text, Json], OWN_LINE),
    (
        "a verdict in words",
        &[Text, Html],
        "the verdict stands there as he typed it",
    ),
    ("worth of a written move", &[Text, Html], NUMBERS),
    (
        "half-moves of the game before",
        &[Text, Html],
        "the moves of the game before are told where they are known",
    ),
    (
        "longest line",
        &[Text, Html],
        "the written tree stands there whole",
    ),
    (
        "first candidate after",
        &[Text, Html],
        "a figure of the sitting: the screens (g), `figures`, and programs",
    ),
    (
        "first reply after",
        &[Text, Html],
        "a figure of the sitting: the screens (g), `figures`, and programs",
    ),
    (
        "candidates before depth",
        &[Text, Html],
        "a figure of the sitting: the screens (g), `figures`, and programs",
    ),
    (
        "returns",
        &[Text, Html],
        "a figure of the sitting: the screens (g), `figures`, and programs",
    ),
    (
        "half-moves written",
        &[Text, Html],
        "the written tree stands there whole",
    ),
    (
        "time over the budget",
        &[Text, Html],
        "time used and time given stand there",
    ),
    (
        "share of coverage",
        &[Small, Large, Plain, Text, Html],
        "a weighted share for programs; people read the two counts",
    ),
    (
        "share of focus",
        &[Small, Large, Plain, Text, Html],
        "a share for programs; people read the two counts",
    ),
    ("counted moves", ALL, ACROSS),
    ("counted verdicts", ALL, ACROSS),
    ("standing at the position", ALL, ACROSS),
    ("plausible moves", ALL, ACROSS),
    (
        "what the coach wanted",
        SCREENS,
        "a model tree is held against the attempt by `review --model` alone",
    ),
    (
        "what the coach wanted",
        &[Plain],
        "a model tree is held against the attempt by `review --model` alone",
    ),
    (
        "kind of a note",
        &[Small, Large, Plain, Text, Html],
        "a name for programs; the sentence says what it is",
    ),
    (
        "what he said of the mover",
        PEOPLE,
        "the sentences of the end card say it",
    ),
    (
        "what the mover is",
        PEOPLE,
        "the sentences of the end card say it",
    ),
    (
        "what he said of the material",
        PEOPLE,
        "the sentences of the end card say it",
    ),
    (
        "what the material is",
        PEOPLE,
        "the sentences of the end card say it",
    ),
    (
        "what follows the end card",
        &[Plain, Text, Html],
        "the sentences of the end card say it",
    ),
    (
        "plan read from the end card",
        PEOPLE,
        "the sentences of the end card say it",
    ),
];

/// All values of a review, taken apart without exception.
fn values(review: &Review) -> Vec<Value> {
    let Review {
        judge,
        nodes,
        root,
        ply_in_game,
        choice,
        expected: Expected {
            best,
            choice: of_choice,
        },
        opening,
        right,
        findings,
        end_card,
        notes,
        unjudged,
        moves,
        depth:
            Depth {
                needed,
                reached,
                longest,
                sound,
            },
        coverage,
        focus,
        process,
        trials:
            Trials {
                moments,
                verdicts,
                plausible,
                standing,
            },
    } = review;
    let number = |score: &PlayerScore| format!(".{}", (score.value() * 100.0).round());
    let ply = ply_in_game.map_or(String::new(), |ply| ply.to_string());
    let mut all = vec![
        value("judge", judge),
        value("nodes", nodes),
        value("position", root),
        value("half-moves of the game before", ply),
        value("chosen move", choice.clone().unwrap_or_default()),
        value("best expected score", number(best)),
        value(
            "expected score of the choice",
            of_choice.as_ref().map_or(String::new(), number),
        ),
        value("opening", opening),
        value("depth needed", needed),
        value("depth reached", reached),
        value("longest line", longest),
        value("depth sound", sound),
        value(
            "counted moves",
            moments
                .first()
                .map_or(String::new(), |m| m.resource.clone()),
        ),
        value(
            "counted verdicts",
            verdicts
                .first()
                .map_or(String::new(), |v| v.stated.value().to_string()),
        ),
        value("plausible moves", plausible),
        value("standing at the position", standing.value()),
    ];
    all.extend(right.iter().flat_map(of_credit));
    all.extend(findings.iter().flat_map(of_finding));
    all.extend(end_card.iter().flat_map(of_end_card));
    all.extend(notes.iter().flat_map(of_note));
    all.extend(unjudged.iter().flat_map(of_unjudged));
    all.extend(moves.iter().flat_map(of_move));
    all.extend(of_shares(coverage, focus));
    all.extend(process.iter().flat_map(of_process));
    all
}

fn of_credit(credit: &Credit) -> Vec<Value> {
    let Credit {
        path: _,
        note,
        node: _,
    } = credit;
    vec![value("what held", note)]
}

fn of_finding(finding: &Finding) -> Vec<Value> {
    let Finding {
        kind,
        class: _,
        part: _,
        paths,
        also,
        resource,
        proof,
        declined,
        gap,
        effect,
        ply,
        turn: _,
        motifs,
        sacrifice,
        sentence,
        question,
        at: _,
        instead,
    } = finding;
    let motif = motifs.first().map(|m| serde_json::to_value(m).unwrap());
    let motif = motif
        .and_then(|m| m.as_str().map(str::to_owned))
        .unwrap_or_default();
    let mut all = vec![
        any_of(
            "kind of a finding",
            &[
                kind.label(),
                &crate::text::capital(kind.label()),
                kind.code(),
            ],
        ),
        value("other way to the place", paths[1].last().unwrap()),
        value("same oversight elsewhere", also[0].last().unwrap()),
        value("move of a finding", resource),
        value("proof of a finding", proof.last().unwrap()),
        value("line of a declined offer", declined.last().unwrap()),
        value("gap of a finding", format!("{gap:.2}")),
        value("effect of a finding", format!("{effect:.2}")),
        value("half-move of a finding", ply),
        any_of(
            "whose turn a finding is",
            &["His move", "\"turn\": \"opponent\""],
        ),
        value("motif of a finding", motif),
        value("sentence of a finding", sentence),
        value("question of a finding", question),
        value("what was written instead", instead.last().unwrap()),
    ];
    all.extend(sacrifice.iter().flat_map(of_sacrifice));
    all
}

fn of_sacrifice(sacrifice: &Sacrifice) -> Vec<Value> {
    let Sacrifice {
        gives,
        active: _,
        sham: _,
    } = sacrifice;
    vec![
        any_of(
            "what is given up",
            &[gives.words(), "\"gives\": \"exchange\""],
        ),
        any_of(
            "how it is given up",
            &["by the man that moves; it is back", "\"sham\": true"],
        ),
    ]
}

fn of_end_card(card: &EndCardRead) -> Vec<Value> {
    let EndCardRead {
        path: _,
        mover,
        material,
        plan,
        follows,
        sentences,
        node: _,
    } = card;
    let Some(Held { said, is, holds: _ }) = mover else {
        return Vec::new();
    };
    let material = material.as_ref();
    vec![
        value("what he said of the mover", said),
        value("what the mover is", is),
        value(
            "what he said of the material",
            material.map_or("", |m| &m.said),
        ),
        value("what the material is", material.map_or("", |m| &m.is)),
        value("plan read from the end card", plan),
        value("what follows the end card", follows.last().unwrap()),
        value("sentence of the end card", &sentences[0]),
    ]
}

fn of_note(note: &Note) -> Vec<Value> {
    let Note {
        about,
        path: _,
        sentence,
        node: _,
    } = note;
    vec![
        value("kind of a note", about.code()),
        value("note", sentence),
    ]
}

fn of_unjudged(unjudged: &Unjudged) -> Vec<Value> {
    let Unjudged {
        path: _,
        why,
        node: _,
    } = unjudged;
    vec![value("why a move is not judged", why)]
}

fn of_move(read: &MoveRead) -> Vec<Value> {
    let MoveRead {
        path: _,
        said,
        truth,
        worth,
        node: _,
    } = read;
    let worth = worth.map_or(0.0, |w| w.value());
    vec![
        value("a verdict in words", said.clone().unwrap_or_default()),
        value("truth of a written move", truth.clone().unwrap_or_default()),
        value(
            "worth of a written move",
            format!(".{}", (worth * 100.0).round()),
        ),
    ]
}

fn of_shares(coverage: &Coverage, focus: &Focus) -> Vec<Value> {
    let Coverage { share, written, of } = coverage;
    let mut all = vec![
        value("share of coverage", share),
        value("coverage written", written),
        value("coverage of", of),
    ];
    let Focus { share, written, of } = focus;
    all.extend([
        value("share of focus", share),
        value("focus written", written),
        value("focus of", of),
    ]);
    all
}

fn of_process(process: &Process) -> Vec<Value> {
    let Process {
        first_candidate_ms,
        first_reply_ms,
        candidates_before_depth,
        per_candidate,
        returns,
        half_moves,
        spent_ms,
        over_ms,
    } = process;
    let time = |name, ms: u64| any_of(name, &[&crate::text::clock(ms), &ms.to_string()]);
    vec![
        time("first candidate after", first_candidate_ms.unwrap_or(0)),
        time("first reply after", first_reply_ms.unwrap_or(0)),
        value("candidates before depth", candidates_before_depth),
        time("time of a candidate", per_candidate[0].1),
        value("returns", returns),
        value("half-moves written", half_moves),
        time("time spent", *spent_ms),
        time("time over the budget", *over_ms),
    ]
}

fn subject(attempt: &Attempt) -> Subject {
    let coached = attempt.coached();
    Subject {
        heading: "Zqheading".to_owned(),
        student: None,
        tree: coached.map_or(attempt.tree(), |c| c.tree()).clone(),
        choice: attempt.choice(),
        model: Some(Model {
            wanted: 1,
            seen: 0,
            missed: vec![Missed {
                path: words("Zqwanted"),
                then: Vec::new(),
                verdict: String::new(),
                words: String::new(),
            }],
        }),
        coach: coached.map(coach::layer).unwrap_or_default(),
        circumstances: attempt.circumstances(&jiff::tz::TimeZone::UTC),
        second_look: attempt.after().second_look(),
        answers: attempt.after().answers(),
    }
}

#[test]
fn a_review_and_its_attempt_reach_every_surface() {
    let trial = Trial::usual();
    let (id, attempt) = sitting(&trial);
    let review = review();
    let shown = || {
        let reviewed = [Reviewed {
            of: subject(&attempt),
            review: review.clone(),
        }];
        vec![
            (
                Small,
                surfaces::of_review(&trial, &review, &attempt, (80, 24)),
            ),
            (
                Large,
                surfaces::of_review(&trial, &review, &attempt, (140, 45)),
            ),
            (Plain, surfaces::plain_review(&trial, &review, &id)),
            (Text, report::text(&reviewed)),
            (Html, report::html("Zqheading", &reviewed).unwrap()),
            (Json, report::json(&reviewed).unwrap()),
        ]
    };
    let mut all = values(&review);
    all.extend(attempt::values(&attempt));
    all.push(value("what the coach wanted", "Zqwanted"));
    let empty: Vec<Empty> = EMPTY.iter().chain(attempt::EMPTY).copied().collect();
    held(&all, &shown(), &empty);
    elsewhere(&shown);
}
