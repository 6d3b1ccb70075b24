//! The account of an own game, and the lines he had prepared.

use std::collections::HashMap;

use crate::app::AppError;
use crate::app::games::service::{GameService, Step};
use crate::games::account::preparation::{FILE_MAX, PreparedLines, book};
use crate::games::account::{self, GameAccount, Known};
use crate::games::moment::Habits;
use crate::games::plan::PlanCard;
use crate::games::survey::{Settings, Surveyed};
use crate::games::{OwnGame, thoughts};
use crate::tree::pgn;

/// The account of a game, with what it is made of.
#[derive(Debug, Clone)]
pub struct GameAccountRead {
    pub surveyed: Surveyed,
    pub account: GameAccount,
    /// His thoughts on it, where they are locked, held against it.
    pub compared: Option<thoughts::compare::Compared>,
    pub judge: String,
    pub nodes: u64,
}

impl GameService {
    /// The account of a game: judged, with what is known of his other games.
    ///
    /// # Errors
    /// His thoughts on it are begun and not locked, the game may be going on, the engine failed, or the store cannot be
    /// used.
    pub fn account_of_game(
        &self,
        game: &OwnGame,
        settings: &Settings,
        progress: &mut dyn FnMut(Step),
    ) -> Result<GameAccountRead, AppError> {
        let (surveyed, judge) = self.judge_whole(game, settings, progress)?;
        let others = self.own_games()?;
        let habits = Habits::of_games(others.iter());
        let store = self.repository.store();
        let cards: HashMap<String, PlanCard> = store.scan::<PlanCard>()?.into_iter().collect();
        let prepared: Vec<PreparedLines> = self.prepared()?.into_iter().map(|(_, p)| p).collect();
        let known = Known {
            others: &others,
            habits: &habits,
            cards: &|key| cards.get(key).cloned(),
            book: &book(prepared.iter(), game.side),
        };
        let of = surveyed.plies.len();
        let mut done = 0;
        let mut step = |more: usize| {
            done += more;
            progress(Step { done, of });
        };
        let account = account::account(
            &surveyed,
            &known,
            &*self.judges.judge()?,
            settings,
            &mut step,
        )?;
        let said = self.thoughts(game)?;
        let compared = said
            .locked_ms
            .map(|_| thoughts::compare::compare(&said, &surveyed, settings));
        if let Some(compared) = &compared {
            self.count_recognised(&said, compared, &game.id)?;
        }
        Ok(GameAccountRead {
            surveyed,
            account,
            compared,
            judge,
            nodes: settings.nodes,
        })
    }

    /// The files of prepared lines, by their names.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn prepared(&self) -> Result<Vec<(String, PreparedLines)>, AppError> {
        Ok(self.repository.store().scan::<PreparedLines>()?)
    }

    /// Keeps a file of prepared lines under a name; a later one of the same name takes its place. Gives how many games it
    /// holds.
    ///
    /// # Errors
    /// It is too large, holds no game that can be read, or could not be kept.
    pub fn prepare(&self, name: &str, white: bool, pgn_text: &str) -> Result<usize, AppError> {
        if pgn_text.len() > FILE_MAX {
            return Err(AppError::Prepared(tr!(
                "larger than {} MiB; split it",
                FILE_MAX >> 20
            )));
        }
        let games = pgn::games(pgn_text).collect::<Result<Vec<_>, _>>();
        let games = games.map_err(|e| AppError::Prepared(e.to_string()))?;
        if games.iter().all(|g| g.moves.is_empty()) {
            return Err(AppError::Prepared(tr!("no line in it").to_owned()));
        }
        let kept = PreparedLines {
            white,
            pgn: pgn_text.to_owned(),
        };
        self.repository.store().put(name, &kept)?;
        Ok(games.len())
    }

    /// Takes a file of prepared lines away.
    ///
    /// # Errors
    /// There is none of that name, or it could not be kept.
    pub fn unprepare(&self, name: &str) -> Result<(), AppError> {
        let there = self.prepared()?.iter().any(|(n, _)| n == name);
        if !there {
            return Err(AppError::NotPrepared(name.to_owned()));
        }
        self.repository.store().remove::<PreparedLines>(name)?;
        Ok(())
    }
}
