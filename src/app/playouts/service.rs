//! Playing a position out: a game that is kept move by move.

use serde::{Deserialize, Serialize};
use shakmaty::Position;

use crate::app::playouts::session::Playing;
use crate::app::{App, AppError, SittingId, Subject};
use crate::attempt::{Attempt, Origin, past_as_uci};
use crate::board::{Line, line};
use crate::playout::{self, Account, ClockSet, Event, Game, Goal, Level, Opened, Outcome, What};
use crate::store::Record;

/// The name of a game. Names sort in the order in which the games were opened.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct GameId(pub String);

impl std::fmt::Display for GameId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// One game in short: all that the list of games shows, and what conversion is counted from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GameSummary {
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    pub origin: Origin,
    /// The position that was played out (FEN).
    pub root: String,
    pub side: playout::Side,
    pub goal: Goal,
    pub level: Level,
    pub clocked: bool,
    /// Moves the player has made.
    pub moves: usize,
    /// `None` while it goes on.
    pub outcome: Option<Outcome>,
    /// Expected score of the player at the root; `None` until the account was made.
    pub start: Option<f64>,
}

impl Record for GameSummary {
    const TABLE: &'static str = "playout-summaries";
    const VERSION: u32 = 1;
}

/// How a game is to be played.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// The player's side; `None` for the side to move.
    pub side: Option<playout::Side>,
    pub goal: Goal,
    pub level: Level,
    pub clock: Option<ClockSet>,
    /// He wants to write before every so many moves of his.
    pub write_every: Option<u32>,
}

/// What the engine does at its turn.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct EngineSays {
    /// Its answer to a draw offer.
    pub draw: Option<bool>,
    pub resigns: bool,
    pub reply: Option<playout::Reply>,
}

impl App {
    /// Begins a game from a drill's position, or from any.
    ///
    /// # Errors
    /// There is no such drill, the game is over in this position, or it could not be kept.
    pub fn open_playout(&self, subject: &Subject, terms: Terms) -> Result<Playing, AppError> {
        let (origin, root) = match subject {
            Subject::Drill(id) => (Origin::Drill(id.clone()), self.drill(id)?.1.root.clone()),
            Subject::Position(line) => (Origin::Position, line.clone()),
        };
        self.begin_playout(origin, &root, terms)
    }

    /// Begins a game from a position of an earlier one: before the player's move of this number.
    ///
    /// # Errors
    /// There is no such game or move, or the game could not be kept.
    pub fn playout_again(
        &self,
        id: &GameId,
        from_move: Option<usize>,
    ) -> Result<Playing, AppError> {
        let old = self.game(id)?;
        let opened = old.opened();
        let root = match from_move {
            None => rooted(&old, 0),
            Some(number) => {
                let ply = own_ply(&old, number)
                    .ok_or_else(|| AppError::NoSuchMove(number, id.0.clone()))?;
                rooted(&old, ply)
            }
        };
        let terms = Terms {
            side: Some(opened.side),
            goal: opened.goal,
            level: opened.level,
            clock: opened.clock,
            write_every: opened.write_every,
        };
        self.begin_playout(opened.origin.clone(), &root, terms)
    }

    fn begin_playout(
        &self,
        origin: Origin,
        root: &Line,
        terms: Terms,
    ) -> Result<Playing, AppError> {
        if let Some(rule) = root.rule().filter(|r| !r.is_claim()) {
            return Err(AppError::NothingToPlay(rule.words().to_owned()));
        }
        let wall_ms = self.clock.wall_ms();
        let store = self.kept.store();
        let id = GameId(self.kept.fresh_name::<Event>(wall_ms, 0)?.0);
        let opened = Opened {
            origin,
            start_fen: line::fen(root.start()),
            past: past_as_uci(root),
            side: terms.side.unwrap_or_else(|| root.player().into()),
            goal: terms.goal,
            level: terms.level,
            clock: terms.clock,
            write_every: terms.write_every,
            seed: seed(wall_ms),
            wall_ms,
        };
        let first = Event {
            at_ms: 0,
            what: What::Opened(opened),
        };
        let game = Game::open(&first)?;
        store.append_event(&id.0, 0, &first)?;
        let playing = Playing::at(id, game, self.clone());
        playing.summarise(None)?;
        Ok(playing)
    }

    /// One game as its log has made it.
    ///
    /// # Errors
    /// There is no such game, or it is damaged.
    pub fn game(&self, id: &GameId) -> Result<Game, AppError> {
        let log: Vec<Event> = self.kept.store().events(&id.0)?;
        if log.is_empty() {
            return Err(AppError::NoSuchGame(id.0.clone()));
        }
        Ok(Game::fold(&log)?)
    }

    /// Takes a game up again where its log ends; the clock goes on from there.
    ///
    /// # Errors
    /// There is no such game, it is damaged, or the event could not be kept.
    pub fn resume_playout(&self, id: &GameId) -> Result<Playing, AppError> {
        let mut playing = Playing::at(id.clone(), self.game(id)?, self.clone());
        if playing.game().end().is_none() {
            playing.record(What::Resumed)?;
        }
        Ok(playing)
    }

    /// All games, the newest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn games_played_out(&self) -> Result<Vec<(GameId, GameSummary)>, AppError> {
        let all = self.kept.store().scan::<GameSummary>()?;
        Ok(all
            .into_iter()
            .rev()
            .map(|(id, s)| (GameId(id), s))
            .collect())
    }

    /// True where the last two finished games from this position at this level were both won: the position
    /// counts as converted.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn is_converted(&self, root: &str, level: Level) -> Result<bool, AppError> {
        Ok(converted(&self.games_played_out()?, root, level))
    }

    /// What was written in a game is not judged before the game is over.
    pub(crate) fn refuse_in_play(&self, id: &SittingId, attempt: &Attempt) -> Result<(), AppError> {
        match &attempt.opened().origin {
            Origin::Playout { game, .. } => {
                let game = GameId(game.clone());
                let over = self.game(&game)?.end().is_some();
                over.then_some(()).ok_or(AppError::GameGoesOn(game.0))
            }
            Origin::Notes(_) => self.first_judgement(id),
            _ => Ok(()),
        }
    }

    /// What the engine does in a game: its answer to a draw offer, its move. Changes nothing, so that it can
    /// run beside the screens.
    ///
    /// # Errors
    /// The engine failed, twice.
    pub fn engine_says(&self, game: &Game) -> Result<EngineSays, AppError> {
        let judge = self.bench.judge()?;
        let mut says = EngineSays::default();
        if game.offered() {
            says.draw = Some(playout::accepts_draw(game, &*judge)?);
        }
        if says.draw != Some(true) && game.line().turn() != game.side() {
            says.resigns = playout::resigns(game);
            if !says.resigns {
                let opened = game.opened();
                says.reply = playout::reply(game.line(), opened.level, opened.seed, &*judge)?;
            }
        }
        Ok(says)
    }

    /// Goes through a game: the expected score move by move, and the decisions that cost. What the
    /// player wrote in it is reviewed like any attempt.
    ///
    /// # Errors
    /// There is no such game, it is not over (its judgement would be help in a game in progress), or the
    /// engine failed.
    pub fn account(
        &self,
        id: &GameId,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<Account, AppError> {
        let game = self.game(id)?;
        if game.end().is_none() {
            return Err(AppError::GameGoesOn(id.0.clone()));
        }
        let judge = self.bench.judge()?;
        let written = |name: &str| -> Option<Attempt> {
            let attempt = self.attempt(&SittingId(name.to_owned())).ok()?;
            attempt.locked_ms().is_some().then_some(attempt)
        };
        let account = playout::account(&game, &*judge, &self.settings, &written, progress)?;
        if !self.kept.store().is_read_only() {
            Playing::at(id.clone(), game, self.clone()).summarise(Some(account.start))?;
        }
        Ok(account)
    }
}

/// As [`App::is_converted`], for games that are at hand, the newest first.
#[must_use]
pub fn converted(games: &[(GameId, GameSummary)], root: &str, level: Level) -> bool {
    let of_it = games
        .iter()
        .filter(|(_, g)| g.root == root && g.level == level);
    let last: Vec<Outcome> = of_it.filter_map(|(_, g)| g.outcome).take(2).collect();
    last == [Outcome::Won, Outcome::Won]
}

/// The position after so many moves of a game, with all that was played before it.
pub(crate) fn rooted(game: &Game, ply: usize) -> Line {
    let mut line = game.line().clone();
    while line.ply() > ply && line.pop().is_some() {}
    line.rooted_here()
}

/// Moves made before the player's move of this number.
fn own_ply(game: &Game, number: usize) -> Option<usize> {
    (0..game.moves().len()).find(|ply| {
        let here = game.line().position_at(*ply);
        here.is_some_and(|p| p.turn() == game.side() && p.fullmoves().get() as usize == number)
    })
}

/// Another opponent every time, and the same one in every replay of the game.
fn seed(wall_ms: i64) -> u64 {
    wall_ms.unsigned_abs().wrapping_mul(0x9e37_79b9_7f4a_7c15)
}
