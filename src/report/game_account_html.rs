//! The account of an own game as one page that stands alone and can be printed.

use askama::Template;

use super::chart_bands::{self, Band};
use super::game_account::{AccountTold, CourseRow, Section, course, heading, percent, sections};
use super::own_thoughts::foot;
use super::sheet::sheet;
use crate::games::account::bands::Shares;

/// Every text that is put in is escaped; only the charts, which are ours, are not.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("The game") }}</h1>
<p>{{ heading }}</p>
{% for odd in odd %}<p><strong>{{ odd }}</strong></p>
{% endfor %}
<h2>{{ tr!("The course") }}</h2>
<p class="quiet">{{ tr!("Your win (dark, from below), draw and loss (white) after each half-move, of a hundred such games. {}", self.players) }}</p>
{{ bands|safe }}
{% if timed %}<p class="quiet">{{ tr!("Minutes for each half-move, yours dark and up, his light and down.") }}</p>
{{ times|safe }}{% endif %}
<div class="wide"><table>
<tr><th>{{ tr!("after") }}</th><th class="n">{{ tr!("win") }}</th><th class="n">{{ tr!("draw") }}</th><th class="n">{{ tr!("loss") }}</th>{% if timed %}<th class="n">{{ tr!("you used") }}</th><th class="n">{{ tr!("he used") }}</th>{% endif %}</tr>
{% for r in rows %}<tr><td>{{ r.at }}</td><td class="n">{{ share(r.shares.win) }}</td><td class="n">{{ share(r.shares.draw) }}</td><td class="n">{{ share(r.shares.loss) }}</td>{% if timed %}<td class="n">{{ r.own }}</td><td class="n">{{ r.his }}</td>{% endif %}</tr>
{% endfor %}</table></div>
{% for s in sections %}<h2>{{ s.title }}</h2>
<ul>{% for sentence in s.sentences %}<li>{{ sentence }}</li>
{% endfor %}</ul>
{% endfor %}
<p class="quiet">{{ foot }}</p>
"#
)]
struct Html {
    heading: String,
    odd: Vec<String>,
    players: String,
    bands: String,
    timed: bool,
    times: String,
    rows: Vec<CourseRow>,
    sections: Vec<Section>,
    foot: String,
}

impl Html {
    fn share(&self, share: &f64) -> String {
        percent(*share)
    }
}

/// The page.
///
/// # Errors
/// The template fails; ours does not.
pub fn account_of_game_html(of: &AccountTold<'_>) -> Result<String, askama::Error> {
    let account = of.account;
    let all = std::iter::once(account.start).chain(account.moves.iter().map(|m| m.shares));
    let bands: Vec<Band> = all.map(band).collect();
    let game = &of.surveyed.game;
    let label = |at: usize| game.number(at.saturating_sub(1)).to_string();
    let times: Vec<(f64, bool)> = account
        .moves
        .iter()
        .map(|m| (m.spent_ms.unwrap_or(0) as f64 / 60_000.0, m.his))
        .collect();
    let html = Html {
        heading: heading(game),
        odd: account
            .odd
            .iter()
            .map(crate::games::account::OddGame::sentence)
            .collect(),
        players: account.players.words(),
        bands: chart_bands::bands(
            tr!("Your win, draw and loss after each half-move"),
            &bands,
            &label,
        ),
        timed: account.moves.iter().any(|m| m.spent_ms.is_some()),
        times: chart_bands::two_sided(tr!("Minutes for each half-move"), &times),
        rows: course(of),
        sections: sections(of),
        foot: foot(of.by),
    };
    sheet(tr!("the game"), &html)
}

fn band(shares: Shares) -> Band {
    Band {
        win: shares.win,
        draw: shares.draw,
    }
}
