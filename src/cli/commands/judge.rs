//! `foreply judge`: the judge's work, spread over machines by whatever runner there is.

use crate::app::App;
use crate::cli::args::{AnswerWork, GatherWork, Global, JudgeWork, PlanWork};
use crate::cli::shell::error::{held_back, print};
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app};
use crate::games::survey::Settings;
use crate::text::whole;

pub(crate) fn run(global: &Global, command: &JudgeWork) -> Result<(), Failure> {
    match command {
        JudgeWork::Plan(args) => plan(global, args),
        JudgeWork::Answer(args) => answer(global, args),
        JudgeWork::Gather(args) => gather(global, args),
    }
}

fn plan(global: &Global, args: &PlanWork) -> Result<(), Failure> {
    let app = open_app::reading(global)?;
    let settings = Settings {
        nodes: args.nodes,
        ..Settings::default()
    };
    let each = usize::try_from(args.questions).unwrap_or(usize::MAX);
    let plan = app.judge_work().plan(&settings, each)?;
    std::fs::create_dir_all(&args.output)
        .map_err(|e| Failure::input(format!("{}: {e}", args.output.display())))?;
    for (at, text) in plan.shards.iter().enumerate() {
        let path = args.output.join(format!("shard-{:04}.questions", at + 1));
        locate::target(global, Some(&path), &[])?.write(text)?;
    }
    let held: Vec<String> = plan.held_back.iter().map(|g| held_back(g)).collect();
    global.tell(&held);
    print(&tr!(
        "{}, {}: {} to ask in {}, {} met before in these games, {} known\n",
        tr!(plan.games; "{} game" | "{} games", whole(plan.games)),
        tr!(plan.positions; "{} position" | "{} positions", whole(plan.positions)),
        whole(plan.questions),
        tr!(plan.shards.len(); "{} shard" | "{} shards", whole(plan.shards.len())),
        whole(plan.repeated),
        whole(plan.known),
    ))
}

/// A worker keeps nothing of its own: its store is a folder that goes away with it.
fn answer(global: &Global, args: &AnswerWork) -> Result<(), Failure> {
    let folder = tempfile::tempdir().map_err(Failure::input)?;
    let mut config = global.unset_config()?;
    config.home = folder.path().to_owned();
    config.ahead = false;
    let app = App::open(config)?;
    let bar = Progress::timed(global.quiet, tr!("answering"));
    let done = app
        .judge_work()
        .answer(&args.shard, &args.output, &mut |done, all| {
            bar.show(done, all)
        })?;
    drop(bar);
    global.tell(&[tr!(
        "{} answered in {}, {} of them before",
        tr!(done.questions; "{} question" | "{} questions", whole(done.questions)),
        args.output.display(),
        done.before
    )]);
    Ok(())
}

fn gather(global: &Global, args: &GatherWork) -> Result<(), Failure> {
    let app = open_app::writing(global)?;
    let (mut kept, mut open, mut errors) = (0, 0, Vec::new());
    for path in &args.answers {
        match app.judge_work().gather(path) {
            Ok(found) => {
                kept += found.kept;
                open += found.open;
                if found.torn {
                    errors.push(tr!(
                        "{}: it was cut off; what is whole is kept, `foreply judge answer` goes on with it",
                        path.display()
                    ));
                }
                if found.bad > 0 {
                    errors.push(tr!(
                        "{}: {} of its lines are no answer of this engine to their question; they were not kept",
                        path.display(),
                        found.bad
                    ));
                }
            }
            Err(why) => errors.push(why.to_string()),
        }
    }
    print(&tr!(
        "{} kept, {} of these shards still open\n",
        tr!(kept; "{} answer" | "{} answers", whole(kept)),
        tr!(open; "{} question" | "{} questions", whole(open))
    ))?;
    match errors.is_empty() {
        true => Ok(()),
        false => Err(Failure::inputs(errors)),
    }
}
