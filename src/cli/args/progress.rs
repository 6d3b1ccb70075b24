//! The arguments of `foreply progress`.

use super::form::PageTarget;

#[derive(Debug, clap::Args)]
pub(crate) struct ProgressPage {
    #[command(flatten)]
    pub page: PageTarget,
    /// Reviews the locked attempts that are not counted yet, and counts them
    #[arg(long)]
    pub count: bool,
    /// Plan: sittings a week
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=50))]
    pub sittings: Option<u32>,
    /// Plan: one habit to change, by its name as in the JSON
    #[arg(long, value_name = "NAME")]
    pub habit: Option<String>,
    /// For the eve of a game instead: three positions you have solved and two habits, nothing new
    #[arg(long)]
    pub eve: bool,
    /// On that page also what the games of your opponent say, as counts
    #[arg(long, value_name = "NAME", requires = "eve")]
    pub against: Option<String>,
    /// A PGN file with games of his; can be given several times
    #[arg(long, value_name = "FILE", requires = "against")]
    pub games: Vec<String>,
}
