//! The arguments of `foreply experiment`.

use super::form::PageTarget;

#[derive(Debug, clap::Subcommand)]
pub(crate) enum ExperimentCommand {
    /// Draws when each of two or three habits gets its block; from then on it cannot be changed
    #[command(
        after_help = "Example: foreply experiment start --habit replies-that-give-up --habit backward-moves --weeks 16"
    )]
    Start(StartExperiment),
    /// What it has come to
    #[command(after_help = "Example: foreply experiment show --format html -o experiment.html")]
    Show(ShowExperiment),
    /// Gives it up: it stays as it was, and is not tested
    #[command(after_help = "Example: foreply experiment stop --sure")]
    Stop(StopExperiment),
}

#[derive(Debug, clap::Args)]
pub(crate) struct StartExperiment {
    /// A habit, by its name as `foreply progress --format json` has it; two or three of them
    #[arg(long, value_name = "NAME", required = true)]
    pub habit: Vec<String>,
    /// Weeks, 12 to 26
    #[arg(long, value_name = "N", default_value_t = crate::progress::experiment::WEEKS)]
    pub weeks: u32,
}

#[derive(Debug, clap::Args)]
pub(crate) struct ShowExperiment {
    #[command(flatten)]
    pub page: PageTarget,
}

#[derive(Debug, clap::Args)]
pub(crate) struct StopExperiment {
    /// It cannot be taken up again
    #[arg(long, required = true)]
    pub sure: bool,
}

pub(super) const EXPERIMENT: &str = "\
WHAT IT IS
  An experiment with one player: yourself. For each of two or three habits it draws the week from which that habit
  is practised, at least three weeks from either end and no two in the same week. What you miss of each habit is
  counted before and from then on: in unseen drills, and in your own games once they are judged (`foreply games
  moments`). Half of the positions are for measuring, whatever is practised; blocks practise with the other half. Of
  every two new positions one is of either half, and which it was is told after the lock. The home screen says what
  is practised now. The weeks to come are not told, since whoever knows when a block begins waits for it; a sum over
  the draw is shown at once, and the draw itself at the end.

  At the end, and only then, the draw is tested by randomisation (P. Onghena, Behavioral Assessment 14, 1992; S.
  Bouwmeester and J. Jongerling, PLoS ONE 15(2), 2020, e0228355): in how many of all draws that could have been
  would as few be missed after as in yours? That holds whatever your misses do by themselves: practice that helps
  anyway, good and bad weeks. In one of twenty experiments without any effect something is found.

HOW OFTEN IT FINDS AN EFFECT
  Invented players who miss 45 of 100, with good and bad weeks and 5 points better at the end in any case; found in
  so many of 100 experiments (`cargo bench --bench experiment`, 1,000 a row):

    habits  weeks  cases a week each  no effect  10 points  20 points  30 points
       2      12           3               4          9         18         34
       2      12          12               5         16         39         67
       2      16           6               5         15         36         60
       2      26           6               5         21         50         79
       2      26          12               5         28         64         90
       3      12           6               4         17         42         70
       3      12          12               5         23         58         88
       3      16           6               5         20         52         84
       3      16          12               5         27         67         93
       3      26          12               5         40         84         97

  So expect it to find a large effect if you sit down often, a small one perhaps never. 'Not to be told' does not
  say that the practice is of no use.

EXAMPLES
  foreply experiment start --habit replies-that-give-up --habit backward-moves
  foreply experiment show
  foreply experiment stop --sure";
