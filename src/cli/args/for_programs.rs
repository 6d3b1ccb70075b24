//! Whether what a command writes is read by a program.
//!
//! Where it is, the whole run keeps to the standard's numbers and dates: a document holds sentences that were made long
//! before it is written, and nobody's choice may change a byte of it.

use super::{Coach, Command, ExperimentCommand, Format, Games, Page, Review};

impl Command {
    /// Whether it writes for a program. Each command says so here, so that a new one cannot forget to.
    pub(crate) fn is_for_programs(&self) -> bool {
        match self {
            Self::Review(review) => is_json(review),
            Self::Games(games) => games.is_for_programs(),
            Self::History(args) => args.page.is_json(),
            Self::Playout(args) => {
                Page::asked(args.format, args.output.as_deref()) == Ok(Page::Json)
            }
            Self::Progress(args) => args.page.is_json(),
            Self::Quick(args) => args.page.is_json(),
            Self::Method(args) => args.page.is_json(),
            Self::Setup(args) => args.format == Format::Json,
            Self::Experiment(ExperimentCommand::Show(args)) => args.page.is_json(),
            Self::Coach(coach) => match coach {
                // A PGN file, with what was found in words.
                Coach::Send(_) => true,
                Coach::Take(args) => args.format == Format::Json,
                Coach::Table(args) => args.page.is_json(),
                Coach::Homework(args) => args.page.is_json(),
                Coach::HandOut(_) | Coach::Rule(_) => false,
            },
            // UCI; and a process that is started for every search reads no settings of people.
            Self::Engine(_) => true,
            Self::Schema(_) | Self::Completions(_) | Self::Man(_) | Self::Translation(_) => true,
            Self::Experiment(ExperimentCommand::Start(_) | ExperimentCommand::Stop(_))
            | Self::Practice(_)
            | Self::Drills(_)
            | Self::Backup(_)
            | Self::Restore(_)
            | Self::Judge(_) => false,
        }
    }
}

impl Games {
    fn is_for_programs(&self) -> bool {
        match self {
            Self::Sheet(args) => args.format == Format::Json,
            Self::List(args) => args.format == Format::Json,
            Self::Moments(args) => args.format == Format::Json,
            Self::Recall(args) => args.page.is_json(),
            Self::Account(args) => args.page.is_json(),
            Self::Event(args) => args.page.is_json(),
            Self::Opponent(args) => args.page.is_json(),
            Self::Clock(args) => Page::asked(args.format, args.output.as_deref()) == Ok(Page::Json),
            Self::Openings(args) => args.format == Page::Json,
            Self::Plan(args) => args.format == Page::Json,
            Self::Add(_) | Self::Prepare(_) => false,
        }
    }
}

fn is_json(review: &Review) -> bool {
    // A folder of pages is named by no form.
    review.format == Some(Page::Json)
        || Page::asked(review.format, review.output.as_deref()) == Ok(Page::Json)
}
