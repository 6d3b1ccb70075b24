//! The circumstances of a sitting in words: only after the lock, since they say how it went.

use jiff::{Timestamp, tz::TimeZone};

use super::{Attempt, BoardVisibility, Origin};
use crate::board::line;
use crate::text::{self, clock};

impl Attempt {
    /// When it was written, with how much time and what of the board; then the position as FEN, and the game
    /// before it, where there is one.
    #[must_use]
    pub fn circumstances(&self, zone: &TimeZone) -> Vec<String> {
        let mut words = vec![self.sitting(zone)];
        let root = self.tree().root();
        words.push(tr!("Position: {}", line::fen(root.root())));
        if !root.past().is_empty() {
            let played = line::sans(root.start(), root.past());
            let played = line::numbered(root.start(), &played);
            words.push(tr!("Played before: {played}"));
        }
        words
    }

    /// Whether the times of its moves were taken: not of notes that were written elsewhere, nor before the lock.
    #[must_use]
    pub fn is_timed(&self) -> bool {
        self.locked_ms().is_some() && !matches!(self.opened().origin, Origin::Notes(_))
    }

    fn sitting(&self, zone: &TimeZone) -> String {
        let opened = self.opened();
        let day = Timestamp::from_millisecond(opened.wall_ms).map_or_else(
            |_| tr!("on an unknown day").to_owned(),
            |t| tr!("on {}", text::date(t.to_zoned(zone.clone()).date())),
        );
        if matches!(opened.origin, Origin::Notes(_)) {
            return tr!("Written elsewhere; taken in {day}. How long it took is not known.");
        }
        let used = self.locked_ms().unwrap_or(self.last_ms());
        let used = clock(used.saturating_sub(self.started_ms().unwrap_or(0)));
        let budget = match opened.budget_ms {
            Some(ms) => tr!("of {}", clock(ms)),
            None => tr!("without a limit").to_owned(),
        };
        let sight = match opened.sight {
            BoardVisibility::Root => tr!("with the board at the position"),
            BoardVisibility::Follow => tr!("with the board following the lines"),
            BoardVisibility::None => tr!("with the board hidden"),
        };
        let quick = match opened.quick {
            Some(_) => tr!(", as quick calculation"),
            None => "",
        };
        tr!("Written {day} in {used} {budget}{quick}, {sight}.")
    }
}
