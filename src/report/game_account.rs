//! The account of an own game, in sentences and as text; the page is beside it.

use std::fmt::Write;

use super::games::By;
use super::own_thoughts::{foot, moment_words, stood};
use super::paragraph;
use super::published::{Published, document_json};
use crate::games::account::bands::Shares;
use crate::games::account::passed::PassedChance;
use crate::games::account::preparation::PreparationEnd;
use crate::games::account::unconverted::{AdvantageDrop, Unconverted};
use crate::games::account::{DrawGrows, GameAccount, OpeningMet, StructureMet, Task, TaskKind};
use crate::games::survey::Surveyed;
use crate::games::thoughts::compare::Compared;
use crate::games::{OwnGame, result, structure};
use crate::text::{clock, dates_in, number, plain, safe};

/// The account with what it is of.
#[derive(Clone, Copy)]
pub struct AccountTold<'a> {
    pub surveyed: &'a Surveyed,
    pub account: &'a GameAccount,
    pub compared: Option<&'a Compared>,
    pub by: By<'a>,
}

/// A heading and its sentences.
pub(super) struct Section {
    pub title: &'static str,
    pub sentences: Vec<String>,
}

/// A row of the course.
pub(super) struct CourseRow {
    pub at: String,
    pub shares: Shares,
    /// Minutes and seconds that each had used by then, where known.
    pub own: String,
    pub his: String,
}

/// Moves between two rows of the course.
const EVERY: usize = 5;

/// The account as text.
#[must_use]
pub fn account_of_game_text(of: &AccountTold<'_>) -> String {
    let heading = heading(&of.surveyed.game);
    let mut out = format!(
        "{}{}\n",
        paragraph(&heading, ""),
        "-".repeat(78.min(heading.chars().count()))
    );
    for odd in &of.account.odd {
        out.push_str(&paragraph(&odd.sentence(), ""));
    }
    out.push_str(tr!(
        "\nThe course: your win, draw and loss, of a hundred such games\n"
    ));
    out.push_str(tr!(
        "  after      win draw loss                              used: you    he\n"
    ));
    for row in course(of) {
        let line = format!(
            "  {:<9} {:>4} {:>4} {:>4}  {}  {:>8} {:>5}",
            row.at,
            percent(row.shares.win),
            percent(row.shares.draw),
            percent(row.shares.loss),
            bands(&row.shares),
            row.own,
            row.his
        );
        let _ = writeln!(out, "{}", line.trim_end());
    }
    out.push_str(tr!("  # win, - draw, . loss\n"));
    out.push_str(&paragraph(&of.account.players.words(), "  "));
    for section in sections(of) {
        let _ = writeln!(out, "\n{}", section.title);
        for sentence in section.sentences {
            out.push_str(&paragraph(&sentence, "  "));
        }
    }
    let _ = write!(out, "\n{}", paragraph(&foot(of.by), ""));
    out
}

/// Players, event, date and result.
pub(super) fn heading(game: &OwnGame) -> String {
    let result = result(&game.game).map_or_else(String::new, |r| format!(", {r}"));
    safe(&format!("{}{result}", dates_in(&game.heading()))).into_owned()
}

pub(super) fn percent(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

/// The three shares as twenty signs.
fn bands(shares: &Shares) -> String {
    const WIDTH: f64 = 20.0;
    let win = (shares.win * WIDTH).round() as usize;
    let loss = ((shares.loss * WIDTH).round() as usize).min(20 - win);
    format!(
        "{}{}{}",
        "#".repeat(win),
        "-".repeat(20 - win - loss),
        ".".repeat(loss)
    )
}

/// The course, every few moves and at the end.
pub(super) fn course(of: &AccountTold<'_>) -> Vec<CourseRow> {
    let (game, account) = (&of.surveyed.game, of.account);
    let plies = account.moves.len();
    let used = |until: usize, his: bool| {
        let own = account.moves.iter().take(until).filter(|m| m.his == his);
        let times: Vec<u64> = own.filter_map(|m| m.spent_ms).collect();
        match times.is_empty() {
            true => String::new(),
            false => clock(times.iter().sum()),
        }
    };
    let mut rows = Vec::new();
    for (ply, mv) in account.moves.iter().enumerate() {
        let last = ply + 1 == plies;
        let black = game.numbered(ply).ends_with("...");
        if last || (black && game.number(ply).is_multiple_of(EVERY)) {
            rows.push(CourseRow {
                at: tr!("move {}", game.number(ply)),
                shares: mv.shares,
                own: used(ply + 1, true),
                his: used(ply + 1, false),
            });
        }
    }
    rows
}

/// All that is told in sentences.
pub(super) fn sections(of: &AccountTold<'_>) -> Vec<Section> {
    let (game, account) = (&of.surveyed.game, of.account);
    let of_list = |title, sentences: Vec<String>| Section { title, sentences };
    let draws = account.draws.iter().map(|d| draw(game, d)).collect();
    let moments = account
        .moments
        .iter()
        .map(|m| moment_words(game, m))
        .collect();
    let tasks = account.tasks.iter().map(|t| task(game, t)).collect();
    let passed = account.passed.iter().map(|p| chance(game, p)).collect();
    let lost = account.unconverted.as_ref().map(|u| unconverted(game, u));
    let opening = account.opening.iter().map(|o| opening(of, o));
    let structures = account
        .structures
        .iter()
        .flat_map(|s| structure_words(game, s));
    let preparation = account.preparation.iter().map(|p| preparation(game, p));
    let mut sections = vec![
        of_list(tr!("The draw grew"), draws),
        of_list(tr!("Moments"), moments),
        of_list(
            tr!("Named by you first"),
            of.compared.map(named).into_iter().collect(),
        ),
        of_list(tr!("Hard to play"), tasks),
        of_list(tr!("Chances that passed"), passed),
        of_list(
            tr!("The advantage that was not converted"),
            lost.unwrap_or_default(),
        ),
        of_list(
            tr!("Opening and structures"),
            opening.chain(structures).collect(),
        ),
        of_list(tr!("Preparation"), preparation.collect()),
        of_list(tr!("Time"), times(of)),
    ];
    sections.retain(|s| !s.sentences.is_empty());
    sections
}

/// What is said of single half-moves, in their order, for a board beside it: before the move that it is about.
#[must_use]
pub fn account_of_game_stops(of: &AccountTold<'_>) -> Vec<(usize, String)> {
    let (game, account) = (&of.surveyed.game, of.account);
    let draws = account.draws.iter().map(|d| (d.to, draw(game, d)));
    let moments = account.moments.iter();
    let moments = moments.map(|m| (m.ply, moment_words(game, m)));
    let tasks = account.tasks.iter().map(|t| (t.ply, task(game, t)));
    let passed = account.passed.iter().map(|p| (p.until, chance(game, p)));
    let lost = account.unconverted.iter().flat_map(|u| {
        let drops = u.drops.iter().map(|d| (d.ply, drop_words(game, d)));
        std::iter::once((u.peak, peak(game, u))).chain(drops)
    });
    let all = draws.chain(moments).chain(tasks).chain(passed).chain(lost);
    let mut all: Vec<(usize, String)> = all.collect();
    // Stable: of one move in the order of the page.
    all.sort_by_key(|stop| stop.0);
    all
}

fn named(compared: &Compared) -> String {
    let (named, all) = (compared.recognised(), compared.turning.len());
    tr!(all;
        "Before the judge spoke you named {named} of {all} turning point; `foreply games recall` shows them side by side."
        | "Before the judge spoke you named {named} of {all} turning points; `foreply games recall` shows them side by side."
    )
}

fn draw(game: &OwnGame, of: &DrawGrows) -> String {
    tr!(
        "From move {} to move {} a draw grew from {} to {} of a hundred, though you did not stand worse: {}.",
        game.number(of.from),
        game.number(of.to),
        percent(of.before),
        percent(of.after),
        of.kind.words()
    )
}

fn task(game: &OwnGame, of: &Task) -> String {
    let at = game.numbered(of.ply);
    let mv = format!("{at}{}", of.played);
    match of.kind {
        TaskKind::SetByPlayer => tr!("{mv} set him a hard task: {}.", of.words),
        TaskKind::SetByOpponent => tr!("{mv} set you a hard task: {}.", of.words),
        TaskKind::HarderForHimself => tr!(
            "{mv} cost little, but made it hard for yourself: {}. After the best move it would have stayed easy.",
            of.words
        ),
    }
}

fn chance(game: &OwnGame, of: &PassedChance) -> String {
    let reply = of
        .reply
        .as_ref()
        .map_or_else(String::new, |r| format!(" {r}"));
    tr!(
        "{}{}, {}, was there at {} turns, from move {} to move {}. After {}{}{reply} it was gone: with it {}, then {}.",
        game.numbered(of.from),
        of.chance,
        of.kind.words(),
        number(of.turns),
        game.number(of.from),
        game.number(of.until),
        game.numbered(of.until),
        of.played,
        stood(of.with),
        stood(of.then)
    )
}

fn peak(game: &OwnGame, of: &Unconverted) -> String {
    tr!(
        "You stood best before move {}: {}, by {}.",
        game.number(of.peak),
        stood(of.expected),
        of.kind.words()
    )
}

fn unconverted(game: &OwnGame, of: &Unconverted) -> Vec<String> {
    let first = peak(game, of);
    let none = of
        .drops
        .is_empty()
        .then(|| tr!("No single move gave much of it away.").to_owned());
    let drops = of.drops.iter().map(|d| drop_words(game, d));
    std::iter::once(first).chain(drops).chain(none).collect()
}

fn drop_words(game: &OwnGame, of: &AdvantageDrop) -> String {
    let at = game.numbered(of.ply);
    let time = match (of.spent_ms, of.left_ms) {
        (Some(spent), Some(left)) => tr!(" You took {} of {}.", clock(spent), clock(left)),
        _ => String::new(),
    };
    let (before, after) = (stood(of.before), stood(of.after));
    let what = match before == after {
        true => tr!("gave some of it away").to_owned(),
        false => tr!("before, {before}; after, {after}"),
    };
    tr!(
        "{at}{}: {what}; {at}{} keeps more.{time}",
        of.played,
        of.best
    )
}

fn opening(of: &AccountTold<'_>, met: &OpeningMet) -> String {
    let game = &of.surveyed.game;
    let eco = met
        .eco
        .as_ref()
        .map_or_else(String::new, |e| format!(" ({})", safe(e)));
    if met.games == 0 {
        return tr!("No earlier game of yours began like this{eco}.");
    }
    let last = met.plies.saturating_sub(1);
    let moves = of
        .account
        .moves
        .iter()
        .take(met.plies)
        .map(|m| m.san.clone());
    let moves: Vec<String> = moves.collect();
    let moves = crate::board::line::numbered(&game.game.start, &moves);
    let points = match met.finished {
        0 => String::new(),
        n => tr!(", {} of {n} points", plain(met.points)),
    };
    tr!(
        "Up to move {} as in {} of yours{eco}{points}: {moves}.",
        game.number(last),
        tr!(met.games; "{} earlier game" | "{} earlier games", crate::text::whole(met.games))
    )
}

fn structure_words(game: &OwnGame, of: &StructureMet) -> Vec<String> {
    let first = tr!(
        "From move {}: {}; in {} of yours.",
        game.number(of.from),
        structure::words(&of.key),
        tr!(of.games; "{} game" | "{} games", crate::text::whole(of.games))
    );
    let card = of
        .card
        .iter()
        .map(|(name, words)| tr!("Your card, {name}: '{}'", safe(words)));
    // A structure that he met once asks for no card yet.
    let asks = of.card.is_empty() && of.games > 1;
    let none = asks.then(|| tr!("No card of yours for it yet: foreply games plan {}", of.key));
    std::iter::once(first).chain(card).chain(none).collect()
}

fn preparation(game: &OwnGame, of: &PreparationEnd) -> String {
    if of.played.is_empty() {
        return tr!(
            "The whole game, {}, is in what you had prepared.",
            tr!(of.plies; "{} half-move" | "{} half-moves", crate::text::whole(of.plies))
        );
    }
    let at = game.numbered(of.plies);
    let prepared: Vec<String> = of.prepared.iter().map(|m| format!("{at}{m}")).collect();
    let prepared = crate::text::list(&prepared);
    let what = match (of.ended, of.his) {
        (true, _) => tr!("Your preparation ended before {at}{}.", of.played),
        (false, true) => tr!(
            "You left it with {at}{}; prepared was {prepared}.",
            of.played
        ),
        (false, false) => tr!(
            "He left it with {at}{}; you had prepared {prepared}.",
            of.played
        ),
    };
    let then: Vec<String> = of.then_ms.iter().map(|ms| clock(*ms)).collect();
    let then = match then.len() {
        0 => String::new(),
        1 => tr!(" For your next move you took {}.", then.join("")),
        n => tr!(
            " For your next {} moves you took {}.",
            number(n),
            crate::text::list(&then)
        ),
    };
    what + &then
}

/// The time of both, where it is known.
fn times(of: &AccountTold<'_>) -> Vec<String> {
    let trouble = of.surveyed.game.times.trouble_ms();
    let side = |his: bool, who: &str, has: &str| {
        let own: Vec<_> = of
            .account
            .moves
            .iter()
            .enumerate()
            .filter(|(_, m)| m.his == his)
            .collect();
        let longest = own.iter().filter_map(|(p, m)| Some((m.spent_ms?, *p, m)));
        let (ms, ply, mv) = longest.max_by_key(|l| l.0)?;
        let short = own
            .iter()
            .find(|(_, m)| m.left_ms.zip(trouble).is_some_and(|(left, t)| left < t));
        let short = short.map_or_else(String::new, |(p, _)| {
            tr!(
                " Short of time from move {} on.",
                of.surveyed.game.number(*p)
            )
        });
        Some(tr!(
            "{who} longest think was {}{}: {}.{short}{has}",
            of.surveyed.game.numbered(ply),
            mv.san,
            clock(ms)
        ))
    };
    [side(true, tr!("Your"), ""), side(false, tr!("His"), "")]
        .into_iter()
        .flatten()
        .collect()
}

/// The account of one game (`foreply games account --format json`).
#[derive(serde::Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    game: &'a str,
    heading: String,
    judge: By<'a>,
    account: &'a GameAccount,
    #[serde(skip_serializing_if = "Option::is_none")]
    compared: Option<&'a Compared>,
    told: Vec<SectionTold>,
}

#[derive(serde::Serialize, schemars::JsonSchema)]
struct SectionTold {
    title: &'static str,
    sentences: Vec<String>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-game-account";
}

/// The same, format `foreply-game-account`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn account_of_game_json(of: &AccountTold<'_>) -> Result<String, serde_json::Error> {
    let told = sections(of).into_iter().map(|s| SectionTold {
        title: s.title,
        sentences: s.sentences,
    });
    let document = Document {
        game: &of.surveyed.game.id,
        heading: of.surveyed.game.heading(),
        judge: of.by,
        account: of.account,
        compared: of.compared,
        told: told.collect(),
    };
    document_json(&document)
}
