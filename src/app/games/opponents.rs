//! The opponent of the next round: his games among the own ones and in files.

use crate::app::AppError;
use crate::app::games::service::GameService;
use crate::games::opponent::{OpponentFacts, facts};
use crate::games::{OwnGame, Same, Times, same_name};
use crate::tree::pgn;

impl GameService {
    /// What the games of an opponent say: those that he played with the player, and those in texts of PGN. A game that
    /// cannot be read, or that stands in several places, counts once or not at all.
    ///
    /// # Errors
    /// There is no game of his, or the store cannot be read.
    pub fn opponent(&self, name: &str, texts: &[String]) -> Result<OpponentFacts, AppError> {
        let is_his = |other: Option<&str>| other.is_some_and(|n| same_name(name, n) == Same::Yes);
        let mut found: Vec<OwnGame> = Vec::new();
        let mut put = |game: OwnGame| {
            let there =
                |g: &OwnGame| g.game.main_moves == game.game.main_moves && g.date() == game.date();
            if !found.iter().any(there) {
                found.push(game);
            }
        };
        for own in self.own_games()? {
            if is_his(Some(own.opponent())) {
                put(OwnGame {
                    side: own.side.other(),
                    ..own
                });
            }
        }
        for text in texts {
            for game in pgn::games(text).filter_map(Result::ok) {
                let (white, black) = (is_his(game.tag("White")), is_his(game.tag("Black")));
                if white == black || game.main_moves.is_empty() {
                    continue;
                }
                put(OwnGame {
                    id: String::new(),
                    side: shakmaty::Color::from_white(white),
                    times: Times::of(&game),
                    game,
                });
            }
        }
        match found.last() {
            None => Err(AppError::NoGamesOf(name.to_owned())),
            Some(_) => Ok(facts(name, &found)),
        }
    }
}
