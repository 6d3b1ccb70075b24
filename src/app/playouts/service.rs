//! Playing a position out: a game that is kept move by move.

use shakmaty::Position;

use crate::app::Clock;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::attempts::service::AttemptService;
use crate::app::playouts::engine_decision::{EngineDecision, engine_decision};
use crate::app::playouts::records::{GameId, GameSummary, PlayoutTerms, converted, rooted};
use crate::app::playouts::session::{Parts, PlayoutSession};
use crate::app::practice::catalogue::DrillCatalogue;
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::app::{AppError, AttemptId, Subject};
use crate::attempt::{Attempt, Origin, past_as_uci};
use crate::board::{Line, line, random};
use crate::playout::{self, Account, Game, Level, Opened, PlayoutEvent, TimedPlayoutEvent};
use crate::review::Settings;
use crate::store::StoreError;
use std::sync::Arc;

/// Positions played out against the engine.
#[derive(Clone)]
pub struct PlayoutService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) drills: DrillCatalogue,
    pub(crate) judges: Arc<JudgeProvider>,
    pub(crate) settings: Settings,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) attempts: AttemptService,
}

impl PlayoutService {
    /// What a game that goes on needs.
    fn parts(&self) -> Parts {
        Parts {
            repository: self.repository.clone(),
            judges: self.judges.clone(),
            clock: self.clock.clone(),
            attempts: self.attempts.clone(),
        }
    }

    /// Begins a game from a drill's position, or from any.
    ///
    /// # Errors
    /// There is no such drill, the game is over in this position, or it could not be kept.
    pub fn open_playout(
        &self,
        subject: &Subject,
        terms: PlayoutTerms,
    ) -> Result<PlayoutSession, AppError> {
        let (origin, root) = match subject {
            Subject::Drill(id) | Subject::Quick { drill: id, .. } => (
                Origin::Drill(id.clone()),
                self.drills.find(id)?.1.root.clone(),
            ),
            Subject::Position(line)
            | Subject::Memory { line, .. }
            | Subject::Homework { line, .. } => (Origin::Position, line.clone()),
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
    ) -> Result<PlayoutSession, AppError> {
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
        let terms = PlayoutTerms {
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
        terms: PlayoutTerms,
    ) -> Result<PlayoutSession, AppError> {
        if let Some(rule) = root.rule().filter(|r| !r.is_claim()) {
            return Err(AppError::NothingToPlay(rule.words().to_owned()));
        }
        let wall_ms = self.clock.wall_ms();
        let id = GameId(
            self.repository
                .fresh_name::<TimedPlayoutEvent>(wall_ms, 0)?
                .0,
        );
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
        let first = TimedPlayoutEvent {
            at_ms: 0,
            what: PlayoutEvent::Opened(opened),
        };
        PlayoutSession::new(id, first, self.parts())
    }

    /// One game as its log has made it.
    ///
    /// # Errors
    /// There is no such game, or it is damaged.
    pub fn game(&self, id: &GameId) -> Result<Game, AppError> {
        let log: Vec<TimedPlayoutEvent> = self.repository.store().events(&id.0)?;
        if log.is_empty() {
            return Err(AppError::NoSuchGame(id.0.clone()));
        }
        Ok(Game::fold(&log)?)
    }

    /// Takes a game up again where its log ends; the clock goes on from there.
    ///
    /// # Errors
    /// There is no such game, it is damaged, or the event could not be kept.
    pub fn resume_playout(&self, id: &GameId) -> Result<PlayoutSession, AppError> {
        let mut playing = PlayoutSession::at(id.clone(), self.game(id)?, self.parts());
        if playing.game().end().is_none() {
            playing.record(PlayoutEvent::Resumed)?;
        }
        Ok(playing)
    }

    /// All games, the newest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn games_played_out(&self) -> Result<Vec<(GameId, GameSummary)>, AppError> {
        let index = self.repository.index()?;
        let rows = index.games.iter().rev();
        Ok(rows
            .map(|(id, s)| (GameId(id.clone()), s.clone()))
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

    /// As [`engine_decision`], for a worker beside the screens.
    ///
    /// # Errors
    /// The engine failed, twice.
    pub fn engine_says(&self, game: &Game) -> Result<EngineDecision, AppError> {
        engine_decision(&self.judges, game)
    }

    /// Asks the judge about the start of every play-out that is over and has not been judged; gives how many.
    pub(crate) fn judge_starts(&self) -> Result<usize, AppError> {
        let games = self.games_played_out()?;
        let open = |g: &GameSummary| g.outcome.is_some() && g.start.is_none();
        let open: Vec<_> = games.into_iter().filter(|(_, g)| open(g)).collect();
        for (id, summary) in &open {
            let game = match self.game(id) {
                Ok(game) => game,
                Err(why @ (AppError::Game(_) | AppError::Store(StoreError::Unreadable { .. }))) => {
                    let aside = self.repository.store().set_aside();
                    aside.add(&tr!("game '{}'", id.0), why.brief());
                    continue;
                }
                Err(other) => return Err(other),
            };
            let judge = self.judges.judge()?;
            let start = playout::start(&game, &*judge, self.settings.nodes)?;
            let summary = GameSummary {
                start: Some(start),
                ..summary.clone()
            };
            self.repository.put(&id.0, &summary)?;
        }
        Ok(open.len())
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
        let judge = self.judges.judge()?;
        let written = |name: &str| -> Option<Attempt> {
            let attempt = self.attempts.attempt(&AttemptId(name.to_owned())).ok()?;
            attempt.locked_ms().is_some().then_some(attempt)
        };
        let account = playout::account(&game, &*judge, &self.settings, &written, progress)?;
        if !self.repository.store().is_read_only() {
            PlayoutSession::at(id.clone(), game, self.parts()).summarise(Some(account.start))?;
        }
        Ok(account)
    }
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
    wall_ms.unsigned_abs().wrapping_mul(random::STEP)
}
