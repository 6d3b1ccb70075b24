//! The page itself.

use askama::Template;

use super::MEN;
use super::board::BoardSvg;
use super::lines::{Row, Step, reached, rows, steps};
use crate::report::moves::{candidates, rows as rows_of_moves};
use crate::report::text::{elsewhere as told_elsewhere, figures};
use crate::report::{Reviewed, Subject};
use crate::review::{Finding, FindingHeading, Review};
use crate::text::{capital, clock, dates_in, safe, safe_lines, whole};

const STYLE: &str = concat!(include_str!("base.css"), include_str!("page.css"));
const SCRIPT: &str = include_str!("page.js");

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<!DOCTYPE html>
<html lang="{{ crate::translation::language() }}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'">
<title>{{ title }}</title>
<style>
{{ style|safe }}</style>
</head>
<body>
{{ men|safe }}
<header>
<h1>{{ title }}</h1>
</header>
<main>
{% for part in parts %}{{ part|safe }}{% endfor %}
</main>
<footer>
<p>{{ foot }}</p>
<p>{{ tr!("For training only, never during a game in progress (FIDE Laws of Chess, article 11.3).") }}</p>
</footer>
<script>
{{ script|safe }}</script>
</body>
</html>
"##
)]
struct Page<'a> {
    title: &'a str,
    style: &'static str,
    script: &'static str,
    men: &'static str,
    parts: Vec<Part<'a>>,
    foot: String,
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<article class="attempt">
{% if !heading.is_empty() %}<h2>{{ heading }}</h2>
{% endif %}<p class="facts">{{ facts }}</p>
<section class="own stepper" aria-label="{{ tr!("What was written") }}">
<figure>{{ board|safe }}<figcaption>{{ turn }}</figcaption></figure>
<div class="tree">
<h3>{{ tr!("What was written") }}</h3>
{% if rows.is_empty() %}<p>{{ tr!("Nothing.") }}</p>{% else %}<ul>
{% for row in rows %}<li class="row in{{ row.indent }}">{% if row.coach %}<span class="by">{{ tr!("Coach:") }}</span> {% endif %}{% for m in row.steps %}{{ m|safe }}{% endfor %}</li>
{% endfor %}</ul>{% endif %}
{% if let Some(c) = choice %}<p class="choice">{{ tr!("Chosen:") }} <strong>{{ c }}</strong></p>{% endif %}
</div>
</section>
{% for group in coach %}<section>
<h3>{{ group.title }}</h3>
<ul>
{% for s in group.sentences %}<li>{{ s }}</li>
{% endfor %}</ul>
</section>
{% endfor %}<details class="judged">
<summary>{{ summary }}</summary>
<p class="opening">{{ opening }}</p>
{% if !right.is_empty() %}<section>
<h3>{{ tr!("What held") }}</h3>
<ul class="right">
{% for note in right %}<li>{{ note }}</li>
{% endfor %}</ul>
</section>
{% endif %}{% for f in findings %}<section class="finding stepper">
<h3>{{ f.title }}</h3>
<p class="sentence">{{ f.sentence }}</p>
<figure>{{ f.board|safe }}<figcaption>{{ f.place }}</figcaption></figure>
<div class="lines">
{% if !f.way.is_empty() %}<p class="line way"><span class="label">{{ tr!("The way there:") }}</span> {% for m in f.way %}{{ m|safe }}{% endfor %}</p>
{% endif %}{% if !f.instead.is_empty() %}<p class="line"><span class="label">{{ tr!("Written:") }}</span> {% for m in f.instead %}{{ m|safe }}{% endfor %}</p>
{% endif %}{% if !f.proof.is_empty() %}<p class="line proof"><span class="label">{{ tr!("The proof:") }}</span> {% for m in f.proof %}{{ m|safe }}{% endfor %}</p>
{% endif %}{% if !f.declined.is_empty() %}<p class="line"><span class="label">{{ tr!("If the offer is not taken:") }}</span> {% for m in f.declined %}{{ m|safe }}{% endfor %}</p>
{% endif %}{% for w in f.elsewhere %}<p class="line">{{ w }}</p>
{% endfor %}<p class="question"><span class="label">{{ tr!("Next time:") }}</span> {{ f.question }}</p>
</div>
</section>
{% endfor %}{% for group in others %}<section>
<h3>{{ group.title }}</h3>
<ul{% if group.struck %} class="struck"{% endif %}>
{% for s in group.sentences %}<li>{% if group.struck %}<s>{{ s }}</s>{% else %}{{ s }}{% endif %}</li>
{% endfor %}</ul>
</section>
{% endfor %}<p class="figures">{{ figures }}</p>
</details>
</article>
"##
)]
struct Part<'a> {
    heading: String,
    facts: String,
    board: BoardSvg,
    turn: String,
    rows: Vec<Row>,
    choice: Option<String>,
    /// What the coach said and wanted to be seen: outside of what is folded, since it outranks it.
    coach: Vec<Group>,
    summary: String,
    opening: String,
    right: Vec<String>,
    findings: Vec<Told<'a>>,
    others: Vec<Group>,
    figures: String,
}

struct Told<'a> {
    title: String,
    sentence: &'a str,
    question: &'a str,
    board: BoardSvg,
    place: String,
    way: Vec<Step>,
    instead: Vec<Step>,
    proof: Vec<Step>,
    declined: Vec<Step>,
    /// Where the same place, or the same oversight, comes again.
    elsewhere: Vec<String>,
}

struct Group {
    title: &'static str,
    struck: bool,
    sentences: Vec<String>,
}

pub(super) fn render(title: &str, reviews: &[Reviewed]) -> Result<String, askama::Error> {
    let title = dates_in(title);
    let title = safe(&title);
    let last = reviews.last().map(|r| &r.review);
    let mut parts: Vec<Part<'_>> = reviews.iter().map(Part::of).collect();
    if let [only] = parts.as_mut_slice() {
        // The page's own heading says it already.
        if only.heading == title {
            only.heading.clear();
        }
    }
    Page {
        title: &title,
        style: STYLE,
        script: SCRIPT,
        men: MEN,
        parts,
        foot: last.map(foot).unwrap_or_default(),
    }
    .render()
    .map(safe_lines)
}

fn foot(review: &Review) -> String {
    tr!(
        "Judged by {}, {} nodes a move. A coach's judgement outranks an engine's number.",
        safe(&review.judge),
        whole(review.nodes)
    )
}

impl<'a> Part<'a> {
    fn of(sheet: &'a Reviewed) -> Self {
        let root = sheet.of.tree.root();
        let review = &sheet.review;
        let turn = match root.player() {
            shakmaty::Color::White => tr!("White to move"),
            shakmaty::Color::Black => tr!("Black to move"),
        };
        let told = |(i, f)| Told::of(i, f, sheet);
        Self {
            heading: safe(&dates_in(&sheet.of.heading)).into_owned(),
            facts: facts(review),
            board: BoardSvg::new(root.position(), root.player()),
            turn: turn.to_owned(),
            rows: rows(&sheet.of),
            choice: sheet
                .of
                .choice
                .map(|c| safe(&sheet.of.tree.san(c)).into_owned()),
            coach: coach(sheet),
            summary: summary(review),
            opening: safe(&review.opening).into_owned(),
            right: review
                .right
                .iter()
                .map(|r| safe(&r.note).into_owned())
                .collect(),
            findings: review.counted().enumerate().map(told).collect(),
            others: others(sheet),
            figures: figures(review),
        }
    }
}

fn facts(review: &Review) -> String {
    let time = review.process.as_ref();
    let time = time.map(|p| tr!("Time used: {}. ", clock(p.spent_ms)));
    tr!("{}Position: {}", time.unwrap_or_default(), review.root)
}

fn summary(review: &Review) -> String {
    match review.counted().count() {
        0 if review.findings.is_empty() => {
            tr!("Compared with the truth: the tree holds").to_owned()
        }
        0 => tr!("Compared with the truth: the tree holds in what counts").to_owned(),
        n => {
            tr!(n; "Compared with the truth: 1 place where they part" | "Compared with the truth: {n} places where they part")
        }
    }
}

impl<'a> Told<'a> {
    fn of(number: usize, finding: &'a Finding, sheet: &Reviewed) -> Self {
        let root = sheet.of.tree.root();
        let path = finding.paths.first().map_or(&[][..], Vec::as_slice);
        let at = reached(root, path);
        let place = match path.last() {
            Some(last) => tr!("After {}", safe(last)),
            None => tr!("The position").to_owned(),
        };
        Self {
            title: format!("{}. {}", number + 1, capital(finding.kind.label())),
            sentence: &finding.sentence,
            question: &finding.question,
            board: BoardSvg::new(at.position(), root.player()),
            place,
            way: steps(root, path),
            instead: steps(&at, &finding.instead),
            proof: steps(&at, &finding.proof),
            declined: steps(&at, &finding.declined),
            elsewhere: elsewhere(&sheet.of, finding),
        }
    }
}

/// Other ways to the place, and other places at which the same was overlooked.
fn elsewhere(of: &Subject, finding: &Finding) -> Vec<String> {
    let told = told_elsewhere(of, finding);
    told.iter().map(|w| safe(w).into_owned()).collect()
}

fn coach(of: &Reviewed) -> Vec<Group> {
    let clean = |words: &[String]| words.iter().map(|w| safe(w).into_owned()).collect();
    let said: Vec<String> = of.of.coach.iter().map(|w| w.sentence.clone()).collect();
    let wanted = of.of.model.as_ref().map(crate::coach::Model::sentences);
    let mut groups = vec![
        Group {
            title: tr!("What the coach said"),
            struck: false,
            sentences: clean(&said),
        },
        Group {
            title: tr!("What the coach wanted you to see"),
            struck: false,
            sentences: clean(&wanted.unwrap_or_default()),
        },
    ];
    groups.push(Group {
        title: tr!("The sitting"),
        struck: false,
        sentences: clean(&of.of.circumstances),
    });
    let second_look = of.of.second_look.get(1..).unwrap_or_default();
    groups.push(Group {
        title: tr!("The second look, before the review"),
        struck: false,
        sentences: clean(second_look),
    });
    groups.retain(|g| !g.sentences.is_empty());
    groups
}

fn others(
    Reviewed {
        of: subject,
        review,
    }: &Reviewed,
) -> Vec<Group> {
    let of = |heading: FindingHeading| -> Vec<String> {
        let findings = review.findings.iter();
        let under = findings.filter(move |f| f.heading() == Some(heading));
        under
            .map(|f| safe(&subject.beside(f)).into_owned())
            .collect()
    };
    let mut groups: Vec<Group> = FindingHeading::ALL
        .into_iter()
        .map(|heading| Group {
            title: heading.words(),
            struck: heading == FindingHeading::Struck,
            sentences: of(heading),
        })
        .collect();
    let card = review.end_card.iter().flat_map(|c| c.sentences.iter());
    groups.push(Group {
        title: tr!("The end as you saw it"),
        struck: false,
        sentences: card.map(|s| safe(s).into_owned()).collect(),
    });
    let notes = review.notes.iter().map(|n| safe(&n.sentence).into_owned());
    groups.push(Group {
        title: tr!("Worth knowing"),
        struck: false,
        sentences: notes.collect(),
    });
    groups.push(Group {
        title: tr!("Not judged"),
        struck: false,
        sentences: review
            .unjudged
            .iter()
            .map(|u| safe(&format!("{}: {}.", u.path.join(" "), u.why)).into_owned())
            .collect(),
    });
    let clean = |words: Vec<String>| words.iter().map(|w| safe(w).into_owned()).collect();
    groups.push(Group {
        title: tr!("What was answered"),
        struck: false,
        sentences: clean(subject.answers.clone()),
    });
    groups.push(Group {
        title: tr!("The candidates, in the order of writing"),
        struck: false,
        sentences: clean(candidates(subject, review)),
    });
    let moves = rows_of_moves(subject, review).into_iter();
    groups.push(Group {
        title: tr!("The tree, the truth in square brackets"),
        struck: false,
        sentences: clean(moves.map(|(_, words)| words).collect()),
    });
    groups.retain(|g| !g.sentences.is_empty());
    groups
}
