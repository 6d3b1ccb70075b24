//! Playing a position out: a game that is kept move by move.

use std::sync::Arc;

use serde::{Deserialize, Serialize};
use shakmaty::Position;

use super::{App, AppError, Clock, Sitting, SittingId, Subject};
use crate::attempt::{Attempt, Origin, Sight, past_as_uci};
use crate::board::{Line, line};
use crate::notation::{self, Reading};
use crate::playout::{
    self, Account, ClockSet, End, Event, Game, Goal, Level, Opened, Outcome, What,
};
use crate::store::{Record, Store};

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
    pub outcome: Option<Summed>,
    /// Expected score of the player at the root; `None` until the account was made.
    pub start: Option<f64>,
}

/// How a game came out, as it is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Summed {
    Won,
    Drawn,
    Lost,
    Held,
}

impl From<Outcome> for Summed {
    fn from(outcome: Outcome) -> Self {
        match outcome {
            Outcome::Won => Self::Won,
            Outcome::Drawn => Self::Drawn,
            Outcome::Lost => Self::Lost,
            Outcome::Held => Self::Held,
        }
    }
}

impl From<Summed> for Outcome {
    fn from(summed: Summed) -> Self {
        match summed {
            Summed::Won => Self::Won,
            Summed::Drawn => Self::Drawn,
            Summed::Lost => Self::Lost,
            Summed::Held => Self::Held,
        }
    }
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

/// A game that is going on, or over.
pub struct Playing {
    id: GameId,
    game: Game,
    app: App,
    clock: Arc<dyn Clock>,
    /// Tick of the clock at which the playing time was zero, as far as gaps allow.
    zero: i128,
}

/// Time that may pass without an event: what a crash gives the player at most.
const HEARTBEAT_MS: u64 = 5_000;

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
        let id = fresh(store, wall_ms)?;
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
        let playing = self.playing(id, game);
        playing.summarise(None)?;
        Ok(playing)
    }

    fn playing(&self, id: GameId, game: Game) -> Playing {
        Playing {
            zero: i128::from(self.clock.ticks_ms()) - i128::from(game.last_ms()),
            clock: self.clock.clone(),
            app: self.clone(),
            id,
            game,
        }
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
        let mut playing = self.playing(id.clone(), self.game(id)?);
        if playing.game.end().is_none() {
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

    /// True where the last two finished games from this position, with these terms, were both won: the
    /// position counts as converted.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn is_converted(&self, root: &str, level: Level) -> Result<bool, AppError> {
        let games = self.games_played_out()?;
        let last: Vec<Summed> = games
            .iter()
            .filter(|(_, g)| g.root == root && g.level == level)
            .filter_map(|(_, g)| g.outcome)
            .take(2)
            .collect();
        Ok(last == [Summed::Won, Summed::Won])
    }

    /// What was written in a game is not judged before the game is over.
    pub(super) fn refuse_in_play(&self, attempt: &Attempt) -> Result<(), AppError> {
        match &attempt.opened().origin {
            Origin::Playout { game, .. } => {
                let game = GameId(game.clone());
                let over = self.game(&game)?.end().is_some();
                over.then_some(()).ok_or(AppError::GameGoesOn(game.0))
            }
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
        self.playing(id.clone(), game)
            .summarise(Some(account.start))?;
        Ok(account)
    }
}

/// The position after so many moves of a game, with all that was played before it.
fn rooted(game: &Game, ply: usize) -> Line {
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

fn fresh(store: &Store, wall_ms: i64) -> Result<GameId, AppError> {
    let mut number = 0;
    loop {
        let id = format!("{:013}-{number:04}", wall_ms.max(0));
        if store.events::<Event>(&id)?.is_empty() {
            return Ok(GameId(id));
        }
        number += 1;
    }
}

/// Another opponent every time, and the same one in every replay of the game.
fn seed(wall_ms: i64) -> u64 {
    wall_ms.unsigned_abs().wrapping_mul(0x9e37_79b9_7f4a_7c15)
}

impl Playing {
    #[must_use]
    pub fn id(&self) -> &GameId {
        &self.id
    }

    #[must_use]
    pub fn game(&self) -> &Game {
        &self.game
    }

    /// Playing time now, in milliseconds.
    #[must_use]
    pub fn now_ms(&self) -> u64 {
        let now = i128::from(self.clock.ticks_ms()) - self.zero;
        u64::try_from(now).unwrap_or(0).max(self.game.last_ms())
    }

    /// The player's time left; `None` without a clock.
    #[must_use]
    pub fn left_ms(&self) -> Option<u64> {
        self.game.left_at(self.now_ms())
    }

    /// To be called now and then: keeps the running clock, and calls the flag. True where the flag has
    /// just fallen.
    ///
    /// # Errors
    /// The event could not be kept.
    pub fn tick(&mut self) -> Result<bool, AppError> {
        if !self.game.is_his_move() || self.game.is_adjourned() {
            return Ok(false);
        }
        if self.left_ms() == Some(0) {
            self.record(What::FlagFell)?;
            return Ok(true);
        }
        if self.now_ms() >= self.game.last_ms() + HEARTBEAT_MS {
            self.record(What::Ran)?;
        }
        Ok(false)
    }

    /// Plays the player's move.
    ///
    /// # Errors
    /// The text is no move, not legal, or fits several moves (here that must be said: a move is to be
    /// made); it is not his move; the game is over; or the move could not be kept. A move after the
    /// flag has fallen is not played: the game is over then.
    pub fn play(&mut self, text: &str) -> Result<(), AppError> {
        if self.tick()? {
            return Err(AppError::Line("your time is over".to_owned()));
        }
        let mv = self.would_play(text)?;
        let uci = line::uci(&mv);
        self.record(What::Moved {
            uci,
            expected: None,
        })
    }

    /// The move the text means here.
    ///
    /// # Errors
    /// As [`Playing::play`].
    pub fn would_play(&self, text: &str) -> Result<shakmaty::Move, AppError> {
        if self.game.end().is_none() && !self.game.is_his_move() {
            return Err(AppError::Line("it is not your move yet".to_owned()));
        }
        let token = notation::parse(text).map_err(|e| AppError::Line(e.to_string()))?;
        match notation::resolve(&token, self.game.line()) {
            Reading::Legal(mv) => Ok(mv),
            Reading::Ambiguous(_) => Err(AppError::Line(format!(
                "several pieces can play '{text}': add the file or the rank it comes from"
            ))),
            _ => Err(AppError::Line(format!(
                "'{text}' is not a legal move; nothing was played"
            ))),
        }
    }

    /// Lets the engine answer a draw offer, and play where it is its turn. `None` where there is
    /// nothing for it to do; else what it did, in a few words.
    ///
    /// # Errors
    /// The engine failed, twice (the game is kept and goes on with the next call), or its move could
    /// not be kept.
    pub fn engine_turn(&mut self) -> Result<Option<String>, AppError> {
        if !self.engine_has_to_act() {
            return Ok(None);
        }
        let says = self.app.engine_says(&self.game)?;
        self.take(says).map(Some)
    }

    /// True where a draw offer waits for its answer, or the engine is to move.
    #[must_use]
    pub fn engine_has_to_act(&self) -> bool {
        let its_move = self.game.line().turn() != self.game.side();
        self.game.end().is_none() && (its_move || self.game.offered())
    }

    /// What [`App::engine_says`] to the game as it stands happens; gives it in a few words.
    ///
    /// # Errors
    /// The game has gone on since, or it could not be kept.
    pub fn take(&mut self, says: EngineSays) -> Result<String, AppError> {
        let mut said = Vec::new();
        if let Some(agreed) = says.draw {
            self.record(What::DrawAnswered { agreed })?;
            said.push(
                if agreed {
                    "He agrees to a draw."
                } else {
                    "He declines."
                }
                .to_owned(),
            );
        }
        if says.resigns {
            self.record(What::EngineResigned)?;
            said.push("He resigns.".to_owned());
        } else if let Some(reply) = says.reply {
            let pos = self.game.line().position();
            let dots = pos.turn().fold_wb(".", "...");
            said.push(format!(
                "{}{dots} {}",
                pos.fullmoves(),
                line::san(pos, &reply.mv)
            ));
            self.record(What::Moved {
                uci: line::uci(&reply.mv),
                expected: Some(reply.expected),
            })?;
        }
        Ok(said.join(" "))
    }

    /// The player's plan in his own words.
    ///
    /// # Errors
    /// The game is over, or the event could not be kept.
    pub fn plan(&mut self, text: &str) -> Result<(), AppError> {
        let text = text.trim().to_owned();
        self.record(What::Planned { text })
    }

    /// He offers a draw; the engine answers at its next turn ([`Playing::engine_turn`]).
    ///
    /// # Errors
    /// The game is over, or the event could not be kept.
    pub fn offer_draw(&mut self) -> Result<(), AppError> {
        self.record(What::DrawOffered)
    }

    /// He claims a draw for the position as it stands (FIDE Laws, articles 9.2 and 9.3).
    ///
    /// # Errors
    /// There is nothing to claim, or the event could not be kept.
    pub fn claim(&mut self) -> Result<(), AppError> {
        self.record(What::Claimed)
    }

    /// # Errors
    /// The game is over, or the event could not be kept.
    pub fn resign(&mut self) -> Result<(), AppError> {
        self.record(What::Resigned)
    }

    /// The game is interrupted; the clock stands until it is taken up again.
    ///
    /// # Errors
    /// The event could not be kept.
    pub fn adjourn(&mut self) -> Result<(), AppError> {
        if self.game.end().is_some() || self.game.is_adjourned() {
            return Ok(());
        }
        self.record(What::Adjourned)
    }

    /// Opens a sitting on the position as it stands: candidates and lines before the move. The clock of
    /// the game runs on.
    ///
    /// # Errors
    /// It is not his move, or the sitting could not be kept.
    pub fn write(&mut self) -> Result<Sitting, AppError> {
        if !self.game.is_his_move() {
            return Err(AppError::Line("you write before your own moves".to_owned()));
        }
        let here = rooted(&self.game, self.game.moves().len());
        let origin = Origin::Playout {
            game: self.id.0.clone(),
            ply: self.game.moves().len(),
        };
        self.app.open_at(origin, &here, None, Sight::Root)
    }

    /// The sitting is what he wrote before his next move.
    ///
    /// # Errors
    /// It is not his move, or the event could not be kept.
    pub fn wrote(&mut self, sitting: &SittingId) -> Result<(), AppError> {
        let sitting = sitting.0.clone();
        self.record(What::Thought { sitting })
    }

    /// The one place where the state changes: after the event is on disk.
    fn record(&mut self, what: What) -> Result<(), AppError> {
        let event = Event {
            at_ms: self.now_ms(),
            what,
        };
        let mut next = self.game.clone();
        next.apply(&event)?;
        let store = self.app.kept.store();
        store.append_event(&self.id.0, self.game.events() as u64, &event)?;
        let over = self.game.end().is_none() && next.end().is_some();
        self.game = next;
        if over || matches!(event.what, What::Adjourned) {
            self.summarise(None)?;
        }
        Ok(())
    }

    fn summarise(&self, start: Option<f64>) -> Result<(), AppError> {
        let opened = self.game.opened();
        let summary = GameSummary {
            wall_ms: opened.wall_ms,
            origin: opened.origin.clone(),
            root: line::fen(self.game.line().root()),
            side: opened.side,
            goal: opened.goal,
            level: opened.level,
            clocked: opened.clock.is_some(),
            moves: self.game.own_moves(),
            outcome: self.game.outcome().map(Summed::from),
            start,
        };
        Ok(self.app.kept.store().put(&self.id.0, &summary)?)
    }

    /// How it ended; `None` while it goes on.
    #[must_use]
    pub fn end(&self) -> Option<End> {
        self.game.end()
    }
}
