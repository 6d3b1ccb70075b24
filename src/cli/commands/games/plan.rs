//! `foreply games plan`: what the player means to do in the pawn structures that he keeps meeting.

use crate::app::Structure as Found;
use crate::cli::args::{Global, Page, PlanCard as Args};
use crate::cli::shell::error::print;
use crate::cli::{Failure, open_app};
use crate::games::OwnGame;
use crate::games::plan::{Remark, Written};
use crate::games::structure;
use crate::report;
use crate::report::games_plans::{self as page, Structure};

pub(crate) fn run(global: &Global, args: &Args) -> Result<(), Failure> {
    let app = open_app::writing(global)?;
    let games = app.games().own_games()?;
    if games.is_empty() {
        return Err(crate::app::AppError::NoGames.into());
    }
    let mut all = app.games().structures(&games, usize::from(args.least))?;
    let Some(named) = &args.structure else {
        return match args.format {
            Page::Text => print(&page::list(&views(&all))),
            Page::Html => html(&views(&all), &games),
            Page::Json => json(&views(&all), &games),
        };
    };
    let at = find(&all, named)?;
    let found = all.get_mut(at).ok_or_else(|| missing(named))?;
    let written = written(args, found, &games)?;
    if written != Written::default() {
        let card = app.games().write_plan(&found.met.key, written)?;
        found.card = (!card.is_empty()).then_some(card);
    }
    let views = views(&all);
    let Some(view) = views.get(at) else {
        return Err(missing(named));
    };
    match args.format {
        Page::Text => print(&page::card(*view, &games)),
        Page::Html => html(std::slice::from_ref(view), &games),
        Page::Json => json(std::slice::from_ref(view), &games),
    }
}

fn json(views: &[Structure<'_>], games: &[OwnGame]) -> Result<(), Failure> {
    print(&page::plans_json(views, games).map_err(Failure::input)?)
}

fn html(views: &[Structure<'_>], games: &[OwnGame]) -> Result<(), Failure> {
    print(&report::plans_html(views, games).map_err(Failure::input)?)
}

fn views(all: &[Found]) -> Vec<Structure<'_>> {
    let numbered = all.iter().enumerate();
    numbered
        .map(|(i, s)| Structure {
            number: i + 1,
            met: &s.met,
            card: s.card.as_ref(),
        })
        .collect()
}

/// The place of a structure that is named by number or key.
fn find(all: &[Found], named: &str) -> Result<usize, Failure> {
    let number = named.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let by_key = || all.iter().position(|s| s.met.key == named);
    let found = number.filter(|n| *n < all.len()).or_else(by_key);
    found.ok_or_else(|| missing(named))
}

fn missing(named: &str) -> Failure {
    let why = if structure::is_key(named) {
        tr!("it stood in none of your games long enough")
    } else {
        tr!(
            "`foreply games plan` lists them with numbers and keys; --least 1 lists those of one game too"
        )
    };
    Failure::input(tr!(
        "there is no structure '{}' here: {why}",
        crate::text::safe(named)
    ))
}

fn written(args: &Args, found: &Found, games: &[OwnGame]) -> Result<Written, Failure> {
    let ids = |named: &[String]| -> Result<Vec<String>, Failure> {
        named.iter().map(|g| game(g, found, games)).collect()
    };
    let coach = args.coach.clone().zip(args.by.clone());
    Ok(Written {
        pawn_break: args.pawn_break.clone(),
        good_piece: args.good.clone(),
        bad_piece: args.bad.clone(),
        trade: args.trade.clone(),
        other_side: args.other.clone(),
        coach: coach.map(|(words, by)| Remark { by, words }),
        tried: ids(&args.tried)?,
        not_tried: ids(&args.not_tried)?,
    })
}

/// The identifier of a game of the structure, named by its number on the card or by itself.
fn game(named: &str, found: &Found, games: &[OwnGame]) -> Result<String, Failure> {
    let ids = found.met.games.iter().filter_map(|p| games.get(*p));
    let ids: Vec<&String> = ids.map(|g| &g.id).collect();
    let number = named.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let by_number = number.and_then(|n| ids.get(n).copied());
    let by_id = || ids.iter().copied().find(|id| *id == named);
    by_number.or_else(by_id).cloned().ok_or_else(|| {
        Failure::input(tr!(
            "there is no game '{}' with this structure; its games are numbered 1 to {} on the card",
            crate::text::safe(named),
            ids.len()
        ))
    })
}
