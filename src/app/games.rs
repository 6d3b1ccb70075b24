//! Own games: taking them in, and what is asked of them.

use std::io::Read;

use super::{App, AppError};
use crate::games::{Added, Block, Importer, KeptGame, Marks, OwnGame, Player};

/// The key under which the player stands in the store: there is one.
const ME: &str = "me";

/// Who the games of a file are of.
#[derive(Debug, Clone, Default)]
pub struct Whose {
    /// The player's name; `None` for the one that the store knows.
    pub player: Option<String>,
    /// Other ways in which files write it.
    pub also: Vec<String>,
    /// Names that look like his and are somebody else's.
    pub not: Vec<String>,
}

impl App {
    /// The player whose games are kept; `None` before the first were added.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn player(&self) -> Result<Option<Player>, AppError> {
        Ok(self.kept.store().get(ME)?)
    }

    /// Adds the player's games of a PGN stream. `decide` is asked where a name is not sure; `progress`
    /// is told how many bytes have been read.
    ///
    /// # Errors
    /// Nobody knows whose games they are, the stream cannot be read, or the store failed; what was
    /// kept before stays.
    pub fn add_games(
        &self,
        stream: impl Read,
        whose: &Whose,
        decide: &mut dyn FnMut(&str) -> Option<bool>,
        progress: &mut dyn FnMut(u64),
    ) -> Result<Added, AppError> {
        let before = self.player()?;
        let player = named(before.clone(), whose)?;
        let (_, kept) = self.kept_games()?;
        let importer = Importer::new(player, &kept, decide);
        let mut number = self.kept.store().scan::<Block>()?.len();
        let mut keep = |games: Vec<KeptGame>| {
            number += 1;
            let key = format!("{number:06}");
            Ok::<(), AppError>(self.kept.store().put(&key, &Block { games })?)
        };
        let (added, player) = importer.read(stream, &mut keep, progress)?;
        let came = added.new + added.better + added.known > 0;
        if came && before.as_ref() != Some(&player) {
            self.kept.store().put(ME, &player)?;
        }
        Ok(added)
    }

    /// The kept texts of all games: the last of each id, in the order in which the ids came.
    fn kept_games(&self) -> Result<(usize, Vec<KeptGame>), AppError> {
        let blocks = self.kept.store().scan::<Block>()?;
        let count = blocks.len();
        let mut places = std::collections::HashMap::new();
        let mut games: Vec<KeptGame> = Vec::new();
        for kept in blocks.into_iter().flat_map(|(_, b)| b.games) {
            let place = *places.entry(kept.id.clone()).or_insert(games.len());
            match games.get_mut(place) {
                Some(old) => *old = kept,
                None => games.push(kept),
            }
        }
        Ok((count, games))
    }

    /// The player's games in the order of their dates.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn own_games(&self) -> Result<Vec<OwnGame>, AppError> {
        let (_, kept) = self.kept_games()?;
        let mut games: Vec<OwnGame> = kept.iter().filter_map(OwnGame::read).collect();
        games.sort_by(|a, b| (a.date(), &a.id).cmp(&(b.date(), &b.id)));
        Ok(games)
    }

    /// What happened to a game since it was added.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn game_marks(&self, id: &str) -> Result<Marks, AppError> {
        Ok(self.kept.store().get(id)?.unwrap_or_default())
    }
}

/// The player as the call names him, together with what the store knows.
fn named(known: Option<Player>, whose: &Whose) -> Result<Player, AppError> {
    use crate::games::{Same, same_name};
    let mut player = match (known, &whose.player) {
        (None, None) => return Err(AppError::WhoseGames),
        (None, Some(name)) => Player {
            name: name.trim().to_owned(),
            ..Player::default()
        },
        (Some(player), None) => player,
        (Some(mut player), Some(name)) => {
            let is = |n: &String| same_name(n, name) == Same::Yes;
            if !is(&player.name) && !player.also.iter().any(is) {
                if same_name(&player.name, name) == Same::No {
                    return Err(AppError::OtherPlayer(player.name));
                }
                player.also.push(name.trim().to_owned());
            }
            player
        }
    };
    player.also.extend(whose.also.iter().cloned());
    player.not.extend(whose.not.iter().cloned());
    Ok(player)
}
