//! A game that is played out, while it goes on: each event is kept before it counts.

use std::sync::Arc;

use shakmaty::Position;

use crate::app::attempts::repository::AttemptRepository;
use crate::app::attempts::service::AttemptService;
use crate::app::playouts::engine_decision::{EngineDecision, engine_decision};
use crate::app::playouts::records::{GameId, GameSummary, rooted};
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::app::{AppError, AttemptSession, Clock, EntryToken};
use crate::attempt::{BoardVisibility, Origin};
use crate::board::line;
use crate::notation::{self, Reading};
use crate::playout::{End, Game, PlayoutEvent, TimedPlayoutEvent};
use crate::tree::NodeId;

/// What a game that goes on needs.
pub(crate) struct Parts {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) judges: Arc<JudgeProvider>,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) attempts: AttemptService,
}

/// A game that is going on, or over.
pub struct PlayoutSession {
    id: GameId,
    game: Game,
    parts: Parts,
    /// Tick of the clock at which the playing time was zero, as far as gaps allow.
    zero: i128,
    /// The first event, as long as it is not kept: a game that was only opened leaves nothing behind.
    unkept: Option<TimedPlayoutEvent>,
}

impl PlayoutSession {
    /// A game where its log ends.
    pub(crate) fn at(id: GameId, game: Game, parts: Parts) -> Self {
        Self {
            zero: i128::from(parts.clock.ticks_ms()) - i128::from(game.last_ms()),
            parts,
            id,
            game,
            unkept: None,
        }
    }

    /// A new game: its opening is kept with the first thing that happens.
    pub(crate) fn new(
        id: GameId,
        first: TimedPlayoutEvent,
        parts: Parts,
    ) -> Result<Self, AppError> {
        let game = Game::open(&first)?;
        Ok(Self {
            unkept: Some(first),
            ..Self::at(id, game, parts)
        })
    }

    /// False as long as nothing has happened since it was opened.
    #[must_use]
    pub fn is_kept(&self) -> bool {
        self.unkept.is_none()
    }

    fn keep_opening(&mut self) -> Result<(), AppError> {
        if let Some(first) = &self.unkept {
            let store = self.parts.repository.store();
            store.append_event(&self.id.0, 0, first)?;
            self.unkept = None;
            self.summarise(None)?;
        }
        Ok(())
    }
}

/// What a typed line asks for in a game. The screens and the plain lines read the same words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GameCommand<'a> {
    Nothing,
    Plan(&'a str),
    Write,
    Draw,
    Claim,
    Resign,
    Adjourn,
    /// Everything else is a move.
    Move(&'a str),
}

impl<'a> GameCommand<'a> {
    /// Reads a line.
    #[must_use]
    pub fn read(line: &'a str) -> Self {
        let line = line.trim();
        match line.split_once(' ').unwrap_or((line, "")) {
            ("", _) => Self::Nothing,
            ("plan", words) => Self::Plan(words.trim()),
            ("write", _) => Self::Write,
            ("draw", _) => Self::Draw,
            ("claim", _) => Self::Claim,
            ("resign", _) => Self::Resign,
            ("adjourn" | "quit", _) => Self::Adjourn,
            _ => Self::Move(line),
        }
    }
}

/// Time that may pass without an event: what a crash gives the player at most.
const HEARTBEAT_MS: u64 = 5_000;

impl PlayoutSession {
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
        let now = i128::from(self.parts.clock.ticks_ms()) - self.zero;
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
            self.record(PlayoutEvent::FlagFell)?;
            return Ok(true);
        }
        if self.is_kept() && self.now_ms() >= self.game.last_ms() + HEARTBEAT_MS {
            self.record(PlayoutEvent::Ran)?;
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
            return Err(AppError::Line(tr!("your time is over").to_owned()));
        }
        let mv = self.would_play(text)?;
        let uci = line::uci(&mv);
        self.record(PlayoutEvent::Moved {
            uci,
            expected: None,
        })
    }

    /// The move the text means here.
    ///
    /// # Errors
    /// As [`PlayoutSession::play`].
    pub fn would_play(&self, text: &str) -> Result<shakmaty::Move, AppError> {
        if self.game.end().is_none() && !self.game.is_his_move() {
            return Err(AppError::Line(tr!("it is not your move yet").to_owned()));
        }
        let token = notation::parse(text).map_err(|e| AppError::Line(e.to_string()))?;
        match notation::resolve(&token, self.game.line()) {
            Reading::Legal(mv) => Ok(mv),
            Reading::Ambiguous(_) => Err(AppError::Line(tr!(
                "several pieces can play '{text}': add the file or the rank it comes from"
            ))),
            _ => Err(AppError::Line(tr!(
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
        let says = engine_decision(&self.parts.judges, &self.game)?;
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
    pub fn take(&mut self, says: EngineDecision) -> Result<String, AppError> {
        let mut said = Vec::new();
        if let Some(agreed) = says.draw {
            self.record(PlayoutEvent::DrawAnswered { agreed })?;
            said.push(
                if agreed {
                    tr!("He agrees to a draw.")
                } else {
                    tr!("He declines.")
                }
                .to_owned(),
            );
        }
        if says.resigns {
            self.record(PlayoutEvent::EngineResigned)?;
            said.push(tr!("He resigns.").to_owned());
        } else if let Some(reply) = says.reply {
            let pos = self.game.line().position();
            let dots = pos.turn().fold_wb(".", "...");
            said.push(format!(
                "{}{dots} {}",
                pos.fullmoves(),
                line::san(pos, &reply.mv)
            ));
            self.record(PlayoutEvent::Moved {
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
        if text.is_empty() {
            return Err(AppError::Line(
                tr!("write your plan behind the word: plan trade queens, then push the a-pawn")
                    .to_owned(),
            ));
        }
        self.record(PlayoutEvent::Planned {
            text: text.to_owned(),
        })
    }

    /// He offers a draw; the engine answers at its next turn ([`PlayoutSession::engine_turn`]).
    ///
    /// # Errors
    /// The game is over, or the event could not be kept.
    pub fn offer_draw(&mut self) -> Result<(), AppError> {
        self.record(PlayoutEvent::DrawOffered)
    }

    /// He claims a draw for the position as it stands (FIDE Laws, articles 9.2 and 9.3).
    ///
    /// # Errors
    /// There is nothing to claim, or the event could not be kept.
    pub fn claim(&mut self) -> Result<(), AppError> {
        self.record(PlayoutEvent::Claimed)
    }

    /// # Errors
    /// The game is over, or the event could not be kept.
    pub fn resign(&mut self) -> Result<(), AppError> {
        self.record(PlayoutEvent::Resigned)
    }

    /// The game is interrupted; the clock stands until it is taken up again.
    ///
    /// # Errors
    /// The event could not be kept.
    pub fn adjourn(&mut self) -> Result<(), AppError> {
        if self.game.end().is_some() || self.game.is_adjourned() || !self.is_kept() {
            return Ok(());
        }
        self.record(PlayoutEvent::Adjourned)
    }

    /// Opens a sitting on the position as it stands: candidates and lines before the move. The clock of
    /// the game runs on.
    ///
    /// # Errors
    /// It is not his move, or the sitting could not be kept.
    pub fn write(&mut self) -> Result<AttemptSession, AppError> {
        if !self.game.is_his_move() {
            return Err(AppError::Line(
                tr!("you write before your own moves").to_owned(),
            ));
        }
        // What he writes names the game.
        self.keep_opening()?;
        let here = rooted(&self.game, self.game.moves().len());
        let origin = Origin::Playout {
            game: self.id.0.clone(),
            ply: self.game.moves().len(),
        };
        self.parts
            .attempts
            .open_at(origin, &here, None, BoardVisibility::Root)
    }

    /// Plays the move that ends what he wrote: it is a candidate of the sitting, its choice, and locked with
    /// it; then it is played.
    ///
    /// # Errors
    /// As [`PlayoutSession::play`], before anything is locked; or the events could not be kept.
    pub fn play_written(
        &mut self,
        sitting: &mut AttemptSession,
        text: &str,
    ) -> Result<(), AppError> {
        self.would_play(text)?;
        let node = sitting.write(NodeId::ROOT, &[EntryToken::Move(text.to_owned())])?;
        sitting.choose(node)?;
        sitting.lock()?;
        let sitting = sitting.id().0.clone();
        self.record(PlayoutEvent::Thought { sitting })?;
        self.play(text)
    }

    /// The one place where the state changes: after the event is on disk.
    pub(crate) fn record(&mut self, what: PlayoutEvent) -> Result<(), AppError> {
        let event = TimedPlayoutEvent {
            at_ms: self.now_ms(),
            what,
        };
        let mut next = self.game.clone();
        next.apply(&event)?;
        self.keep_opening()?;
        let store = self.parts.repository.store();
        store.append_event(&self.id.0, self.game.events() as u64, &event)?;
        let over = self.game.end().is_none() && next.end().is_some();
        self.game = next;
        if over || matches!(event.what, PlayoutEvent::Adjourned) {
            self.summarise(None)?;
        }
        Ok(())
    }

    pub(crate) fn summarise(&self, start: Option<f64>) -> Result<(), AppError> {
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
            outcome: self.game.outcome(),
            start,
        };
        Ok(self.parts.repository.store().put(&self.id.0, &summary)?)
    }

    /// How it ended; `None` while it goes on.
    #[must_use]
    pub fn end(&self) -> Option<End> {
        self.game.end()
    }
}
