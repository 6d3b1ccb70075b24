//! Reviews as JSON.

use serde::Serialize;

use super::Reviewed;
use super::published::{Published, document_json};
use crate::coach::{CoachWord, Model, Student};
use crate::review::{
    Coverage, Credit, Depth, EndCardRead, Expected, Finding, Focus, MoveRead, Note, Process,
    Unjudged,
};

/// Reviews of written trees against the truth (`foreply review --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    judge: JudgeName<'a>,
    attempts: Vec<Attempt<'a>>,
    /// One entry a student, where there are several reviews.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    students: Vec<Student>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-review";
}

#[derive(Serialize, schemars::JsonSchema)]
struct JudgeName<'a> {
    engine: &'a str,
    nodes: u64,
    tables: bool,
}

#[derive(Serialize, schemars::JsonSchema)]
struct Attempt<'a> {
    heading: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    student: Option<&'a str>,
    root: &'a str,
    ply_in_game: Option<usize>,
    choice: Option<&'a str>,
    expected: Expected,
    clean: bool,
    opening: &'a str,
    right: &'a [Credit],
    findings: &'a [Finding],
    #[serde(skip_serializing_if = "Option::is_none")]
    end_card: Option<&'a EndCardRead>,
    notes: &'a [Note],
    unjudged: &'a [Unjudged],
    moves: &'a [MoveRead],
    /// The written tree in rows, each move with what was said of it.
    tree: Vec<String>,
    depth: Depth,
    coverage: Coverage,
    focus: Focus,
    #[serde(skip_serializing_if = "Option::is_none")]
    process: Option<&'a Process>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    coach: Vec<&'a str>,
    /// The same piece by piece, each with its place in the tree.
    #[serde(skip_serializing_if = "<[CoachWord]>::is_empty")]
    coach_words: &'a [CoachWord],
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    circumstances: &'a [String],
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    second_look: &'a [String],
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    answers: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    model: Option<&'a Model>,
}

/// The document, with a line break at its end.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn json(reviews: &[Reviewed]) -> Result<String, serde_json::Error> {
    let first = reviews.first().map(|r| &r.review);
    let document = Document {
        judge: JudgeName {
            engine: first.map_or("", |r| &r.judge),
            nodes: first.map_or(0, |r| r.nodes),
            tables: first.is_some_and(|r| r.judge.contains("Syzygy")),
        },
        attempts: reviews.iter().map(attempt).collect(),
        students: match reviews {
            [] | [_] => Vec::new(),
            many => super::desk::of(many),
        },
    };
    document_json(&document)
}

fn attempt(reviewed: &Reviewed) -> Attempt<'_> {
    let of = &reviewed.review;
    Attempt {
        heading: &reviewed.of.heading,
        student: reviewed.of.student.as_deref(),
        root: &of.root,
        ply_in_game: of.ply_in_game,
        choice: of.choice.as_deref(),
        expected: of.expected,
        clean: of.is_clean(),
        opening: &of.opening,
        right: &of.right,
        findings: &of.findings,
        end_card: of.end_card.as_ref(),
        notes: &of.notes,
        unjudged: &of.unjudged,
        moves: &of.moves,
        tree: super::moves::rows(&reviewed.of, of)
            .into_iter()
            .map(|(_, words)| words)
            .collect(),
        depth: of.depth,
        coverage: of.coverage,
        focus: of.focus,
        process: of.process.as_ref(),
        coach: reviewed
            .of
            .coach
            .iter()
            .map(|w| w.sentence.as_str())
            .collect(),
        coach_words: &reviewed.of.coach,
        circumstances: &reviewed.of.circumstances,
        second_look: &reviewed.of.second_look,
        answers: &reviewed.of.answers,
        model: reviewed.of.model.as_ref(),
    }
}
