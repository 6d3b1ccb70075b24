//! What he thought of a game before any engine spoke, and beside it what decided it: as text, JSON and a page.

use std::fmt::Write;

use askama::Template;
use serde::Serialize;

use super::games::By;
use super::paragraph;
use super::published::{Published, document_json};
use super::sheet::sheet;
use crate::games::moment::Moment;
use crate::games::survey::Surveyed;
use crate::games::thoughts::Thoughts;
use crate::games::thoughts::compare::{Compared, MarkKind, MarkRead, Turned};
use crate::games::wording::sentence;
use crate::games::{OwnGame, wording};
use crate::review::standing;
use crate::score::PlayerScore;
use crate::text::{capital, dates_in, number, safe, share, whole};

/// His thoughts held against the game.
#[derive(Clone, Copy)]
pub struct ThoughtsTold<'a> {
    pub thoughts: &'a Thoughts,
    pub surveyed: &'a Surveyed,
    pub compared: &'a Compared,
    pub moments: &'a [Moment],
    pub by: By<'a>,
}

/// What he has said so far. Nothing is told about it.
#[must_use]
pub fn thoughts_text(game: &OwnGame, thoughts: &Thoughts) -> String {
    let mut out = heading(game);
    for said in said(game, thoughts) {
        out.push_str(&paragraph(&said, ""));
    }
    if thoughts.is_empty() {
        out.push_str(&paragraph(
            tr!("Nothing is written yet. Go through the game as it was and mark the moments at which you think it was decided: \
             --mark MOVE, with --saw LINE, --felt VERDICT and --feared WORDS; one sentence on the game with --sentence; \
             and at last --lock. No engine speaks of the game before that."),
            "",
        ));
    }
    let _ = writeln!(out, "\n{}", state(thoughts));
    out
}

fn state(thoughts: &Thoughts) -> &'static str {
    match thoughts.locked_ms {
        Some(_) => tr!("Locked."),
        None => tr!("Not locked: no engine speaks of this game yet."),
    }
}

fn heading(game: &OwnGame) -> String {
    let heading = safe(&dates_in(&game.heading())).into_owned();
    format!(
        "{}{}\n",
        paragraph(&heading, ""),
        "-".repeat(78.min(heading.chars().count()))
    )
}

/// His words, a paragraph each.
fn said(game: &OwnGame, thoughts: &Thoughts) -> Vec<String> {
    let mut said = Vec::new();
    if !thoughts.sentence.is_empty() {
        said.push(tr!("On the game: '{}'", safe(&thoughts.sentence)));
    }
    for mark in &thoughts.marks {
        let mut words = tr!("Move {}:", game.number(mark.ply));
        match mark.verdict {
            Some(verdict) => {
                let _ = write!(words, " {}.", capital(&verdict.words()));
            }
            None => words.push_str(tr!(" marked.")),
        }
        if !mark.feared.is_empty() {
            let _ = write!(words, "{}", tr!(" Feared: '{}'.", safe(&mark.feared)));
        }
        if mark.attempt.is_some() {
            words.push_str(tr!(" What you saw is written down."));
        }
        said.push(words);
    }
    said
}

/// The whole, with what decided the game.
#[must_use]
pub fn thoughts_read_text(of: &ThoughtsTold<'_>) -> String {
    let game = &of.surveyed.game;
    let mut out = heading(game);
    if !of.thoughts.sentence.is_empty() {
        let said = tr!("On the game: '{}'", safe(&of.thoughts.sentence));
        out.push_str(&paragraph(&said, ""));
    }
    for line in summary(of) {
        out.push_str(&paragraph(&line, ""));
    }
    out.push_str(tr!("\nWhere the game turned\n"));
    if of.compared.turning.is_empty() {
        out.push_str(tr!("  nowhere: no move of either side gave much away\n"));
    }
    for turned in &of.compared.turning {
        out.push_str(&paragraph(&turning_words(game, turned), "  "));
    }
    if !of.compared.marks.is_empty() {
        out.push_str(tr!("\nYour moments\n"));
    }
    for mark in &of.compared.marks {
        out.push_str(&paragraph(&mark_words(game, of.compared, mark), "  "));
    }
    if !of.moments.is_empty() {
        out.push_str(tr!("\nMoments worth calculating again\n"));
    }
    for moment in of.moments {
        out.push_str(&paragraph(&moment_words(game, moment), "  "));
    }
    let _ = write!(out, "\n{}", paragraph(&foot(of.by), ""));
    out
}

/// How many he named, and what that counts for.
fn summary(of: &ThoughtsTold<'_>) -> Vec<String> {
    let compared = of.compared;
    let mut lines = Vec::new();
    let (named, all) = (compared.recognised(), compared.turning.len());
    lines.push(match all {
        0 => tr!("The game had no turning point.").to_owned(),
        1 if named == 1 => tr!("The game had one turning point, and you named it.").to_owned(),
        1 => tr!("The game had one turning point, and you did not name it.").to_owned(),
        n if named == n => tr!("You named all {} turning points of the game.", number(n)),
        n => tr!(
            "You named {} of the {} turning points of the game.",
            none_or(named),
            number(n)
        ),
    });
    let (wrong, marks) = (
        compared.marks.len() - compared.right(),
        compared.marks.len(),
    );
    if wrong > 0 {
        lines.push(match marks {
            1 => tr!("The moment that you marked was none.").to_owned(),
            marks => tr!(wrong; "Of your {} moments {} was none." | "Of your {} moments {} were none.", number(marks), number(wrong)),
        });
    }
    if of.thoughts.late {
        lines.push(
            tr!("Written after the judge had spoken of the game: kept, and not counted in your figures.").to_owned(),
        );
    }
    lines
}

fn none_or(n: usize) -> String {
    match n {
        0 => tr!("none").to_owned(),
        n => number(n),
    }
}

pub(super) fn stood(expected: f64) -> String {
    standing(PlayerScore::new(expected)).to_string()
}

fn turning_words(game: &OwnGame, turned: &Turned) -> String {
    let at = game.numbered(turned.point.ply);
    let named = if turned.recognised {
        tr!("named")
    } else {
        tr!("not named")
    };
    let whose = if turned.his { tr!("your") } else { tr!("his") };
    let better = match turned.best == turned.played || turned.best.is_empty() {
        true => String::new(),
        false => tr!(" Better was {at}{}.", turned.best),
    };
    tr!(
        "{at}{} ({whose} move, {named}): before, {}; after, {}.{better}",
        turned.played,
        stood(turned.point.before),
        stood(turned.point.after)
    )
}

fn mark_words(game: &OwnGame, compared: &Compared, mark: &MarkRead) -> String {
    let at = game.numbered(mark.ply);
    let what = match mark.kind {
        MarkKind::Turning(t) => compared.turning.get(t).map_or_else(String::new, |turned| {
            match turned.point.plies.contains(&mark.ply) {
                true => tr!("a turning point").to_owned(),
                false => tr!(
                    "beside the turning point {}{}",
                    game.numbered(turned.point.ply),
                    turned.played
                ),
            }
        }),
        MarkKind::Critical => tr!("critical, and you found the one good move near by").to_owned(),
        MarkKind::None => tr!("none: little hung on it").to_owned(),
    };
    let mut words = format!("{at}{}: {what}.", mark.played);
    if let Some(verdict) = mark.verdict {
        let _ = write!(
            words,
            "{}",
            tr!(
                " You felt: {}; in truth: {}.",
                verdict.words(),
                stood(mark.truth)
            )
        );
    }
    if !mark.feared.is_empty() {
        let _ = write!(words, "{}", tr!(" You feared: '{}'.", safe(&mark.feared)));
    }
    if let Some(fear) = &mark.fear {
        let after = stood(fear.then);
        let _ = match fear.real {
            true => write!(
                words,
                "{}",
                tr!(
                    " That was real: {} was as good as any reply of his; {after}.",
                    fear.reply
                )
            ),
            false => write!(
                words,
                "{}",
                tr!(" There was less in it: after {} {after}.", fear.reply)
            ),
        };
    }
    if let Some(attempt) = &mark.attempt {
        let _ = write!(words, "{}", tr!(" What you saw: foreply review {attempt}"));
    }
    words
}

pub(super) fn moment_words(game: &OwnGame, moment: &Moment) -> String {
    let at = game.numbered(moment.ply);
    let first = moment.reasons.first().map_or("", |r| r.words());
    format!(
        "{at}{} ({first}): {} {}",
        moment.played,
        wording::in_the_game(moment, &at),
        sentence(moment, &at)
    )
}

/// Who judged, and what outranks him.
pub(super) fn foot(by: By<'_>) -> String {
    tr!(
        "Judged by {}, {} nodes for each position, four times as many where something hangs on it. A turning point gives away \
         {} or more of the expected score; a moment of yours names it from up to two half-moves away (common practice, no \
         source). A coach's judgement outranks an engine's number.",
        safe(by.engine),
        whole(by.nodes),
        share(0.1, 2)
    )
}

/// His own thoughts on a game (`foreply games recall --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    game: &'a str,
    heading: String,
    side: &'static str,
    thoughts: &'a Thoughts,
    #[serde(skip_serializing_if = "Option::is_none")]
    judge: Option<By<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    summary: Option<Vec<String>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    compared: Option<&'a Compared>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    moments: Vec<MomentTold<'a>>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-thoughts";
}

#[derive(Serialize, schemars::JsonSchema)]
struct MomentTold<'a> {
    ply: usize,
    number: String,
    played: &'a str,
    best: &'a str,
    reasons: Vec<&'static str>,
    sentence: String,
}

fn document<'a>(game: &'a OwnGame, thoughts: &'a Thoughts) -> Document<'a> {
    Document {
        game: &game.id,
        heading: game.heading(),
        side: game.side.fold_wb("white", "black"),
        thoughts,
        judge: None,
        summary: None,
        compared: None,
        moments: Vec::new(),
    }
}

/// What he has said so far, format `foreply-thoughts`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn thoughts_json(game: &OwnGame, thoughts: &Thoughts) -> Result<String, serde_json::Error> {
    document_json(&document(game, thoughts))
}

/// The whole, in the same format with more fields.
///
/// # Errors
/// As [`thoughts_json`].
pub fn thoughts_read_json(of: &ThoughtsTold<'_>) -> Result<String, serde_json::Error> {
    let game = &of.surveyed.game;
    let moments = of.moments.iter().map(|moment| MomentTold {
        ply: moment.ply,
        number: game.numbered(moment.ply),
        played: &moment.played,
        best: &moment.best,
        reasons: moment.reasons.iter().map(|r| r.code()).collect(),
        sentence: moment_words(game, moment),
    });
    let document = Document {
        judge: Some(of.by),
        summary: Some(summary(of)),
        compared: Some(of.compared),
        moments: moments.collect(),
        ..document(game, of.thoughts)
    };
    document_json(&document)
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("Your own thoughts") }}</h1>
<p>{{ heading }}</p>
{% for line in said %}<p>{{ line }}</p>
{% endfor %}
{% for line in summary %}<p><strong>{{ line }}</strong></p>
{% endfor %}
{% if read %}<h2>{{ tr!("Where the game turned") }}</h2>
{% if turning.is_empty() %}<p>{{ tr!("Nowhere: no move of either side gave much away.") }}</p>{% endif %}
<ul>{% for line in turning %}<li>{{ line }}</li>
{% endfor %}</ul>
{% endif %}
{% if !marks.is_empty() %}<h2>{{ tr!("Your moments") }}</h2>
<ul>{% for line in marks %}<li>{{ line }}</li>
{% endfor %}</ul>
{% endif %}
{% if !moments.is_empty() %}<h2>{{ tr!("Moments worth calculating again") }}</h2>
<ul>{% for line in moments %}<li>{{ line }}</li>
{% endfor %}</ul>
{% endif %}
<p class="quiet">{{ foot }}</p>
"#
)]
struct Html {
    heading: String,
    said: Vec<String>,
    read: bool,
    summary: Vec<String>,
    turning: Vec<String>,
    marks: Vec<String>,
    moments: Vec<String>,
    foot: String,
}

/// What he has said so far, as a page.
///
/// # Errors
/// The template fails; ours does not.
pub fn thoughts_html(game: &OwnGame, thoughts: &Thoughts) -> Result<String, askama::Error> {
    let html = Html {
        heading: safe(&dates_in(&game.heading())).into_owned(),
        said: said(game, thoughts),
        read: false,
        summary: Vec::new(),
        turning: Vec::new(),
        marks: Vec::new(),
        moments: Vec::new(),
        foot: state(thoughts).to_owned(),
    };
    sheet(tr!("your own thoughts"), &html)
}

/// The whole, as a page.
///
/// # Errors
/// As [`thoughts_html`].
pub fn thoughts_read_html(of: &ThoughtsTold<'_>) -> Result<String, askama::Error> {
    let (game, compared) = (&of.surveyed.game, of.compared);
    let sentence = &of.thoughts.sentence;
    let said = (!sentence.is_empty()).then(|| tr!("On the game: '{}'", safe(sentence)));
    let html = Html {
        heading: safe(&dates_in(&game.heading())).into_owned(),
        said: said.into_iter().collect(),
        read: true,
        summary: summary(of),
        turning: compared
            .turning
            .iter()
            .map(|t| turning_words(game, t))
            .collect(),
        marks: compared
            .marks
            .iter()
            .map(|m| mark_words(game, compared, m))
            .collect(),
        moments: of.moments.iter().map(|m| moment_words(game, m)).collect(),
        foot: foot(of.by),
    };
    sheet(tr!("your own thoughts"), &html)
}
