//! `foreply experiment`: whether the practice works.

use jiff::tz::TimeZone;

use crate::cli::args::{ExperimentCommand, Global, Page, ShowExperiment, StartExperiment};
use crate::cli::{Failure, locate, open_app};
use crate::report;

pub(crate) fn run(global: &Global, command: &ExperimentCommand) -> Result<(), Failure> {
    match command {
        ExperimentCommand::Start(args) => start(global, args),
        ExperimentCommand::Show(args) => show(global, args),
        ExperimentCommand::Stop(_) => {
            open_app::writing(global)?.experiments().stop()?;
            global.tell(&[tr!(
                "the experiment is given up; what was counted stays, and it is not tested"
            )
            .to_owned()]);
            Ok(())
        }
    }
}

fn start(global: &Global, args: &StartExperiment) -> Result<(), Failure> {
    let app = open_app::writing(global)?;
    let drawn = app.experiments().start(&args.habit, args.weeks, None)?;
    global.tell(&[tr!(
        "drawn and kept; the sum over the draw is {}. `foreply` now offers positions to practise and to measure with; `foreply experiment show` tells what it has come to",
        drawn.check()
    )]);
    Ok(())
}

fn show(global: &Global, args: &ShowExperiment) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let app = open_app::reading(global)?;
    let found = app.experiments().report(&TimeZone::system())?;
    let page = match form {
        Page::Text => report::experiment_text(found.as_ref()),
        Page::Json => report::experiment_json(found.as_ref()).map_err(Failure::input)?,
        Page::Html => report::experiment_html(found.as_ref()).map_err(Failure::input)?,
    };
    target.write(&page)
}
