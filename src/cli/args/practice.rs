//! The arguments of `foreply practice`.

use clap::ValueEnum;

#[derive(Debug, clap::Args)]
pub(crate) struct Practice {
    /// A drill of the collection, by number or name; a file of drills (.yaml); or a position of your own
    /// games (own-...)
    #[arg(conflicts_with = "fen")]
    pub drill: Option<String>,
    /// A position in Forsyth-Edwards Notation
    #[arg(long)]
    pub fen: Option<String>,
    /// The first position that a coach has set and that is not done
    #[arg(long, conflicts_with_all = ["drill", "fen"])]
    pub homework: bool,
    /// Quick calculation: the next position of your ladder, under a clock that follows what you have solved
    #[arg(long, conflicts_with_all = ["drill", "fen", "homework", "minutes", "tour"])]
    pub quick: bool,
    /// Of this ladder, 1 to 4 by depth; `foreply quick` lists them
    #[arg(long, value_name = "N", requires = "quick", value_parser = clap::value_parser!(u8).range(1..=4))]
    pub ladder: Option<u8>,
    /// Thinking time, 1 to 120 [default: the drill's own]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=120))]
    pub minutes: Option<u32>,
    /// What of the board is seen while writing
    #[arg(long, value_enum, default_value_t = Sight::Root)]
    pub sight: Sight,
    /// Seconds in which the position is only looked at; without sight the board is hidden after them
    #[arg(long, value_name = "SECONDS", value_parser = clap::value_parser!(u32).range(1..=600))]
    pub look: Option<u32>,
    /// The same sitting as lines of text, without cursor control: for screen readers, simple terminals
    /// and scripts
    #[arg(long)]
    pub plain: bool,
    /// With the tour of one minute beside it; F12 ends it
    #[arg(long, conflicts_with = "plain")]
    pub tour: bool,
}

pub(super) const PRACTICE_EXAMPLES: &str = "\
Examples:
  foreply practice                        what is to be practised next
  foreply practice 12 --minutes 5         position 12 of the collection, in five minutes
  foreply practice saavedra-1895          a position by its name
  foreply practice my-drills.yaml         a file of drills of your own
  foreply practice --fen '8/2P5/8/8/3r4/8/2K5/k7 w - - 0 1'
  foreply practice 7 --look 60            a minute of looking before writing opens
  foreply practice 7 --sight none         without the board, after a first look
  foreply practice --homework             the first position of your coach's that is not done
  foreply practice --quick                the next position at speed; `foreply quick` tells what it comes to
  foreply practice --tour                 the tour of one minute, on a real position
  foreply practice 12 --letters german    Sf3, Txd8 and e8D, typed and shown
  foreply practice 12 --plain             the sitting as lines of text, no cursor control
  foreply practice 12 --plain <lines.txt  the same from a file, a line as you would type it

In the sitting: type a line of moves and Enter, a verdict (= +/- -+ 65%) or {words} behind a move; an
empty line goes back; F10 chooses and locks; F1 shows all keys. Esc leaves: every key is kept.

For training only, never during a game in progress: the FIDE Laws of Chess (article 11.3) and the
fair-play rules of every event forbid it. A coach's judgement outranks an engine's number.";

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Sight {
    /// The board stays at the position
    Root,
    /// The board follows the written moves
    Follow,
    /// The board is hidden while writing
    None,
}
