//! The opponent of the next round: his games among the own ones and in files.

use std::collections::BTreeMap;

use crate::app::AppError;
use crate::app::games::service::GameService;
use crate::games::opponent::{OpponentFacts, facts};
use crate::games::{OwnGame, Same, Times, name_words, same_name};
use crate::tree::pgn;

/// The name that is meant: the one that is written out, else the only one that holds all the words.
fn meant<'a>(text: &str, names: impl Iterator<Item = &'a str>) -> Result<String, AppError> {
    let wanted = name_words(text);
    let mut fitting: BTreeMap<Vec<String>, &str> = BTreeMap::new();
    for name in names {
        if same_name(text, name) == Same::Yes {
            return Ok(text.to_owned());
        }
        let words = name_words(name);
        if !wanted.is_empty() && wanted.iter().all(|w| words.contains(w)) {
            fitting.entry(words).or_insert(name);
        }
    }
    let mut names: Vec<String> = fitting.into_values().map(str::to_owned).collect();
    match names.len() {
        0 => Err(AppError::NoGamesOf(text.to_owned())),
        1 => Ok(names.swap_remove(0)),
        _ => Err(AppError::SeveralAttempts {
            text: text.to_owned(),
            names,
        }),
    }
}

impl GameService {
    /// What the games of an opponent say: those that he played with the player, and those in texts of PGN. A game that
    /// cannot be read, or that stands in several places, counts once or not at all.
    ///
    /// # Errors
    /// There is no game of his, or the store cannot be read.
    pub fn opponent(&self, name: &str, texts: &[String]) -> Result<OpponentFacts, AppError> {
        let own = self.own_games()?;
        let read: Vec<pgn::Game> = texts
            .iter()
            .flat_map(|text| pgn::games(text).filter_map(Result::ok))
            .collect();
        let named = read
            .iter()
            .flat_map(|game| [game.tag("White"), game.tag("Black")].into_iter().flatten());
        let name = &meant(name, own.iter().map(OwnGame::opponent).chain(named))?;
        let is_his = |other: Option<&str>| other.is_some_and(|n| same_name(name, n) == Same::Yes);
        let mut found: Vec<OwnGame> = Vec::new();
        let mut put = |game: OwnGame| {
            let there =
                |g: &OwnGame| g.game.main_moves == game.game.main_moves && g.date() == game.date();
            if !found.iter().any(there) {
                found.push(game);
            }
        };
        for own in own {
            if is_his(Some(own.opponent())) {
                put(OwnGame {
                    side: own.side.other(),
                    ..own
                });
            }
        }
        for game in read {
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
        match found.last() {
            None => Err(AppError::NoGamesOf(name.to_owned())),
            Some(_) => Ok(facts(name, &found)),
        }
    }
}
