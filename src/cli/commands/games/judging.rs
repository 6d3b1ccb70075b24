//! Every move of the games, judged: what several of the commands begin with.

use crate::app::{App, AppError, JudgedGames};
use crate::cli::Failure;
use crate::cli::args::{Global, Judging};
use crate::cli::shell::error::held_back;
use crate::cli::shell::progress_bar::Progress;
use crate::games::survey::Settings;
use crate::report;

/// Every move of the games with what the judge says of it.
pub(super) fn judged(
    global: &Global,
    app: &App,
    args: &Judging,
) -> Result<(JudgedGames, Settings), Failure> {
    if args.over {
        app.games().say_over()?;
    }
    let settings = settings(args);
    let bar = Progress::timed(global.quiet, tr!("judging"));
    let judged = app
        .games()
        .judge_games(&settings, &mut |step| bar.show(step.done, step.of))?;
    drop(bar);
    let mut held: Vec<String> = judged.held_back.iter().map(|g| held_back(g)).collect();
    held.extend(judged.waiting.iter().map(|(id, game)| {
        let (id, game) = (id.clone(), game.clone());
        AppError::ThoughtsOpen { game, id }.to_string()
    }));
    global.tell(&held);
    if judged.games.is_empty() {
        return Err(Failure::inputs(held));
    }
    Ok((judged, settings))
}

/// How closely the judge is to look.
pub(super) fn settings(args: &Judging) -> Settings {
    Settings {
        nodes: args.nodes,
        ..Settings::default()
    }
}

/// Who judged, for the foot of a page.
pub(super) fn by(judged: &JudgedGames) -> report::games::By<'_> {
    report::games::By {
        engine: &judged.judge,
        nodes: judged.nodes,
    }
}
