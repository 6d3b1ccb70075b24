//! The arguments of `foreply judge`.

use std::path::PathBuf;

use clap::Subcommand;

#[derive(Debug, Subcommand)]
pub(crate) enum JudgeWork {
    /// Writes the questions about your games that no answer is kept for, in shards
    #[command(after_help = PLAN_EXAMPLE)]
    Plan(PlanWork),
    /// Answers one shard; killed at any time it goes on where it was
    #[command(after_help = ANSWER_EXAMPLE)]
    Answer(AnswerWork),
    /// Keeps the answers, so that nothing of it is asked again
    #[command(after_help = GATHER_EXAMPLE)]
    Gather(GatherWork),
}

pub(super) const PLAN_EXAMPLE: &str = "\
Example:
  foreply games add season.pgn --player 'Verrick, Ansa'
  foreply judge plan -o work            work/shard-0001.questions and so on

The questions are the first look at every position of your games, each position once: by far the most of the work.
What is looked at more closely after that is asked when the games are judged.";

pub(super) const ANSWER_EXAMPLE: &str = "\
Examples:
  foreply judge answer work/shard-0001.questions -o work/shard-0001.answers --jobs 1
  parallel --sshlogin one,two foreply judge answer {} -o {.}.answers ::: work/*.questions
  sbatch --array=1-40 --wrap 'foreply judge answer work/shard-$(printf %04d $SLURM_ARRAY_TASK_ID).questions \\
      -o work/shard-$(printf %04d $SLURM_ARRAY_TASK_ID).answers --jobs 1'

A worker needs no home folder and leaves nothing but its answers.";

pub(super) const GATHER_EXAMPLE: &str = "\
Example:
  foreply judge gather work/*.answers && foreply games moments

What another engine has answered is refused; what was cut off counts as far as it is whole.";

#[derive(Debug, clap::Args)]
pub(crate) struct PlanWork {
    /// The folder for the shards; it is made where it is not there
    #[arg(long, short, value_name = "DIR")]
    pub output: PathBuf,
    /// Nodes for each position, as `foreply games moments --nodes` will ask
    #[arg(long, value_name = "N", default_value_t = 20_000, value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
    pub nodes: u64,
    /// Questions in a shard
    #[arg(long, value_name = "N", default_value_t = 1000, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub questions: u32,
}

#[derive(Debug, clap::Args)]
pub(crate) struct AnswerWork {
    /// A file of questions
    pub shard: PathBuf,
    /// The file for the answers; what is in it already is not asked again
    #[arg(long, short, value_name = "FILE")]
    pub output: PathBuf,
}

#[derive(Debug, clap::Args)]
pub(crate) struct GatherWork {
    /// Files of answers
    #[arg(required = true, value_name = "FILE")]
    pub answers: Vec<PathBuf>,
}
