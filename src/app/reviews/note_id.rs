//! Which written tree of which game: what notes are locked under.

use serde::{Deserialize, Serialize};
use xxhash_rust::xxh3::xxh3_64;

use crate::board::PositionKey;
use crate::tree::pgn::{Game, Written};

/// The tags by which a game is known, and the place in it. Nothing of it is shown, so that better words for a heading
/// lose nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NoteId {
    /// The tags White, Black, Event and Date, as the file has them.
    tags: [Option<String>; 4],
    /// Half-moves of the game before the position.
    ply: usize,
    root: PositionKey,
}

impl NoteId {
    pub(crate) fn of(game: &Game, written: &Written) -> Self {
        let tag = |name| game.tag(name).map(str::to_owned);
        Self {
            tags: ["White", "Black", "Event", "Date"].map(tag),
            ply: written.game_ply,
            root: PositionKey::of(written.root().position()),
        }
    }

    pub(crate) fn root(&self) -> &PositionKey {
        &self.root
    }

    /// The key in the store; two places may share one, so the record holds the whole of it as well.
    pub(crate) fn key(&self) -> String {
        let mut text = String::new();
        for tag in &self.tags {
            // A control character, which no tag holds, keeps neighbours apart.
            text.push_str(tag.as_deref().unwrap_or("\u{1}"));
            text.push('\u{1f}');
        }
        text.push_str(&format!("{}\u{1f}{}", self.ply, self.root));
        format!("n-{:016x}", xxh3_64(text.as_bytes()))
    }

    /// The heading under which the first version of the program locked notes, and its key: read for ever, as it was
    /// made then.
    pub(crate) fn first_form(&self) -> (String, String) {
        let [white, black, event, date] = self.tags.each_ref().map(Option::as_deref);
        let players = format!("{} - {}", white.unwrap_or("?"), black.unwrap_or("?"));
        let event = [event, date].into_iter().flatten();
        let event = event.collect::<Vec<_>>().join(" ");
        let game = match event.is_empty() {
            true => players,
            false => format!("{players}, {event}"),
        };
        let side = match self.root.as_str().split('_').nth(1) {
            Some("b") => "Black",
            _ => "White",
        };
        let heading = format!("{game}: move {}, {side}", self.ply / 2 + 1);
        let sums = [&heading, self.root.as_str()].map(|t| crc32fast::hash(t.as_bytes()));
        let [heading_sum, root_sum] = sums;
        (heading, format!("{heading_sum:08x}-{root_sum:08x}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tree::pgn;

    fn ids(text: &str) -> Vec<NoteId> {
        let game = pgn::games(text).next().unwrap().unwrap();
        let written = pgn::written_trees(&game);
        written.iter().map(|w| NoteId::of(&game, w)).collect()
    }

    #[test]
    fn places_have_names_of_their_own() {
        let of = |tags: &str| ids(&format!("{tags}\n\n1. e4 (1. d4) 1... e5 (1... c5) *\n"));
        let one = of("[White \"Pell, Doran\"]\n[Black \"Verrick, Ansa\"]");
        let other = of("[White \"Verrick, Ansa\"]\n[Black \"Pell, Doran\"]");
        assert_eq!(one.len(), 2);
        let mut keys: Vec<String> = one.iter().chain(&other).map(NoteId::key).collect();
        assert_eq!(
            keys,
            of("[White \"Pell, Doran\"]\n[Black \"Verrick, Ansa\"]\n[Result \"1-0\"]")
                .iter()
                .chain(&other)
                .map(NoteId::key)
                .collect::<Vec<_>>()
        );
        keys.sort();
        keys.dedup();
        assert_eq!(keys.len(), 4);
        // Printed once and frozen: what is locked must be found again.
        assert_eq!(
            one[1].first_form().0,
            "Pell, Doran - Verrick, Ansa: move 1, Black"
        );
    }
}
