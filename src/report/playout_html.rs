//! The account of a played-out game as one page of HTML that stands alone and can be printed.

use askama::Template;

use super::chart::{self, Point};
use super::playout::{allowed, drifted, heading, result};
use super::sheet::sheet;
use crate::playout::{Account, AccountMove, score_sheet};
use crate::review::standing;
use crate::score::PlayerScore;
use crate::text::clock;

/// Every text that is put in is escaped; only the chart, which is ours, is not.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("A game played out") }}</h1>
<p class="quiet">{{ account.root }}</p>
<p>{{ result }}</p>
<p>{{ sheet }}</p>
{{ scores|safe }}

<h2>{{ tr!("Where it slipped") }}</h2>
{% if account.moments.is_empty() %}<p>{{ tr!("No single move gave the result away.") }}</p>{% endif %}
{% for m in account.moments %}<p><strong>{{ heading(m) }}</strong><br>{{ m.sentence }}{% if let Some(c) = m.chance %} {{ allowed(c) }}{% endif %}</p>
{% endfor %}{% for d in account.drifts %}<p>{{ drifted(d) }}</p>
{% endfor %}
{% if !account.simpler.is_empty() %}<h2>{{ tr!("Simpler was, not counted") }}</h2>
{% for s in account.simpler %}<p>{{ s.sentence }}</p>
{% endfor %}{% endif %}
{% for p in account.plans %}<h2>{{ tr!("Your plan before move {}", p.before_move) }}</h2>
<p>'{{ p.text }}'</p>
<p>{{ tr!("Then came:") }} {{ p.played.join(" ") }}</p>
{% endfor %}
<h2>{{ tr!("Move by move") }}</h2>
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("move") }}</th><th>{{ tr!("then") }}</th><th class="n">{{ tr!("took") }}</th><th class="n">{{ tr!("left") }}</th><th>{{ tr!("written") }}</th></tr>
{% for m in own %}<tr><td>{{ m.numbered() }}</td><td>{{ standing(m.after) }}</td><td class="n">{{ took(m) }}</td><td class="n">{{ left(m) }}</td><td>{% if m.written %}{{ tr!("yes") }}{% endif %}</td></tr>
{% endfor %}</table></div>
<p class="quiet">{{ tr!("Judged by") }} {{ account.judge }}, {{ crate::text::whole(account.nodes) }} {{ tr!("nodes a move. A coach's judgement outranks an engine's\nnumber.")|safe }}</p>
"#
)]
struct Html<'a> {
    account: &'a Account,
    result: String,
    sheet: String,
    scores: String,
    own: Vec<&'a AccountMove>,
}

impl Html<'_> {
    fn standing(&self, worth: &f64) -> &'static str {
        standing(PlayerScore::new(*worth))
    }

    fn took(&self, mv: &AccountMove) -> String {
        clock(mv.took_ms)
    }

    fn left(&self, mv: &AccountMove) -> String {
        mv.left_ms.map_or_else(String::new, clock)
    }

    fn heading(&self, moment: &crate::playout::Moment) -> String {
        heading(moment)
    }

    fn allowed(&self, chance: &crate::playout::Chance) -> String {
        allowed(chance)
    }

    fn drifted(&self, drift: &crate::playout::Drift) -> String {
        drifted(drift)
    }
}

/// The page: the chart of expected scores with a table of the moves, and what the text tells.
///
/// # Errors
/// The template fails; ours does not.
pub fn account_html(account: &Account) -> Result<String, askama::Error> {
    let own: Vec<&AccountMove> = account.moves.iter().filter(|m| m.own).collect();
    let points: Vec<Point> = own
        .iter()
        .map(|m| Point {
            label: m.number.to_string(),
            value: m.after,
            bounds: None,
        })
        .collect();
    let html = Html {
        account,
        result: result(account),
        sheet: score_sheet(&account.moves).join(" "),
        scores: chart::line(tr!("Your expected score after each of your moves"), &points),
        own,
    };
    sheet(tr!("a game played out"), &html)
}
