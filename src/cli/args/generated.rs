//! The arguments of what the program writes about itself: completions for shells, manual pages.

use std::path::PathBuf;

pub(super) const COMPLETIONS_EXAMPLES: &str = "\
Examples:
  foreply completions bash > ~/.local/share/bash-completion/completions/foreply
  foreply completions zsh  > ~/.zfunc/_foreply         (a folder of $fpath)
  foreply completions fish > ~/.config/fish/completions/foreply.fish
  foreply completions powershell >> $PROFILE";

pub(super) const MAN_EXAMPLE: &str = "\
Example:
  foreply man ~/.local/share/man/man1     then: man foreply-review";

#[derive(Debug, clap::Args)]
pub(crate) struct Completions {
    /// The shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Man {
    /// The folder for the pages; it is made where it is not there
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}
