//! `foreply games moments`: the positions worth a sitting.

use std::collections::HashSet;

use super::judging::{by, judged};
use crate::app::JudgedGames;
use crate::cli::args::{Format, Global, Moments, form};
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app};
use crate::drill::{self, Drill};
use crate::games::moment::Moment;
use crate::report;

pub(super) fn run(global: &Global, args: &Moments) -> Result<(), Failure> {
    let target = locate::target(global, args.output.as_deref(), &[])?;
    form::only(
        args.output.as_deref(),
        &["yaml", "yml"],
        tr!("drills as YAML"),
    )?;
    let app = open_app::writing(global)?;
    let (mut judged, settings) = judged(global, &app, &args.judging)?;
    let bar = Progress::timed(global.quiet, tr!("looking closer"));
    let mut chosen = app.games().moments(&mut judged, &settings, &mut |step| {
        bar.show(step.done, step.of)
    })?;
    drop(bar);
    // All of them are kept and offered; the limit is for what is told and written now.
    let mut drills = app.games().keep_moments(&judged, &chosen)?;
    if let Some(limit) = args.limit {
        chosen = best(chosen, usize::from(limit));
        let told: HashSet<String> = chosen.iter().filter_map(|m| id_of(&judged, m)).collect();
        drills.retain(|d| told.contains(&d.id));
    }
    if let Some(path) = &args.output {
        let text = drill::write(&drills)
            .map_err(|e| Failure::input(tr!("{}: {e}, with --limit N", path.display())))?;
        target.write(&text)?;
    }
    match args.format {
        Format::Json => print(
            &report::games::moments_json(&judged.games, &chosen, by(&judged))
                .map_err(Failure::input)?,
        ),
        Format::Text => {
            let text = report::games::moments(&judged.games, &chosen, by(&judged), args.tell);
            print(&text)?;
            print(&where_to(&drills, args))
        }
    }
}

/// The name of the drill of a moment.
fn id_of(judged: &JudgedGames, moment: &Moment) -> Option<String> {
    let drill = crate::games::drill(judged.games.get(moment.game)?, moment);
    drill.map(|d| d.id)
}

/// Those with the most to learn, in the order of the games.
fn best(mut chosen: Vec<Moment>, limit: usize) -> Vec<Moment> {
    let place = |m: &Moment| (m.game, m.ply);
    chosen.sort_by(|a, b| b.value.total_cmp(&a.value).then(place(a).cmp(&place(b))));
    chosen.truncate(limit);
    chosen.sort_by_key(place);
    chosen
}

fn where_to(drills: &[Drill], args: &Moments) -> String {
    let (Some(first), count) = (drills.first(), drills.len()) else {
        return String::new();
    };
    let file = args.output.as_ref().map(|p| {
        let path = p.display();
        tr!("{path} holds them; `foreply practice {path}` opens it. ")
    });
    let them = if count == 1 {
        tr!("it first").to_owned()
    } else {
        tr!(count; "the {count} position first" | "the {count} positions first")
    };
    tr!(
        "{}`foreply` offers {them}; `foreply practice {}` opens one.\n",
        file.unwrap_or_default(),
        first.id
    )
}
