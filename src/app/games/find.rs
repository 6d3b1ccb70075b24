//! Own games by name, and as a list.

use crate::app::AppError;
use crate::app::games::service::GameService;
use crate::games::thoughts::Thoughts;
use crate::games::{GameScores, OwnGame, may_be_going_on};

/// Games that are named where a text fits several.
const TOLD: usize = 6;

/// A game in the list of own games.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedGame {
    pub game: OwnGame,
    /// His thoughts are begun; whether they are locked.
    pub thoughts: Option<bool>,
    pub judged: bool,
    /// It may be going on, and he has not said that it is over.
    pub going_on: bool,
}

impl GameService {
    /// The own game that is meant: 'last' for the newest, its identifier or a beginning of it, or words that its players,
    /// event, round and date hold.
    ///
    /// # Errors
    /// There is none, or there are several; the store cannot be read.
    pub fn own_game(&self, text: &str) -> Result<OwnGame, AppError> {
        let mut games = self.own_games()?;
        if games.is_empty() {
            return Err(AppError::NoGames);
        }
        let text = text.trim();
        if text == "last" {
            return games.pop().ok_or(AppError::NoGames);
        }
        let begins = |g: &OwnGame| !text.is_empty() && g.id.starts_with(text);
        let mut places: Vec<usize> = places(&games, begins);
        if places.is_empty() {
            places = self::places(&games, |g| holds(g, text));
        }
        match places[..] {
            [] => Err(AppError::NoSuchOwnGame(text.to_owned())),
            [one] => Ok(games.swap_remove(one)),
            _ => Err(AppError::SeveralOwnGames {
                text: text.to_owned(),
                names: names(&games, &places),
            }),
        }
    }

    /// All own games in the order of their dates, with what has become of each.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn listed_games(&self) -> Result<Vec<ListedGame>, AppError> {
        let store = self.repository.store();
        let today = self.today();
        let games = self.own_games()?.into_iter();
        games
            .map(|game| {
                let thoughts = store.get::<Thoughts>(&game.id)?;
                let over = self.game_marks(&game.id)?.over;
                Ok(ListedGame {
                    thoughts: thoughts.map(|t| t.locked_ms.is_some()),
                    judged: store.get::<GameScores>(&game.id)?.is_some(),
                    going_on: !over && may_be_going_on(&game.game, &today),
                    game,
                })
            })
            .collect()
    }
}

fn places(games: &[OwnGame], is: impl Fn(&OwnGame) -> bool) -> Vec<usize> {
    let all = games.iter().enumerate();
    all.filter(|(_, g)| is(g)).map(|(i, _)| i).collect()
}

fn holds(game: &OwnGame, text: &str) -> bool {
    let round = game.game.tag("Round").unwrap_or_default();
    let all = tr!("{}, round {round}", game.heading()).to_lowercase();
    let mut words = text.split_whitespace().peekable();
    words.peek().is_some() && words.all(|word| all.contains(&word.to_lowercase()))
}

fn names(games: &[OwnGame], places: &[usize]) -> Vec<String> {
    let told = places.iter().rev().take(TOLD);
    let mut names: Vec<String> = told
        .filter_map(|p| games.get(*p))
        .map(|g| {
            format!(
                "{} ({}, {})",
                g.id,
                g.opponent(),
                crate::text::day(g.date())
            )
        })
        .collect();
    if places.len() > TOLD {
        names.push(tr!("{} more", places.len() - TOLD));
    }
    names
}
