//! The state that follows from the log of a game: a pure fold.

use shakmaty::{Color, Move, Position};

use super::{End, Goal, Opened, PlayoutEvent, TimedPlayoutEvent};
use crate::board::{Line, line};

/// Why an event cannot follow the log so far. The state is unchanged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum GameError {
    #[error("{}", tr!("the log does not begin with the opening of the game"))]
    NotOpened,
    #[error("{}", tr!("a game is opened once, at the beginning of its log"))]
    OpenedTwice,
    #[error("{}", tr!("the position cannot be set up: {0}", _0))]
    Position(String),
    #[error("{}", tr!("the game is over"))]
    Over,
    #[error("{}", tr!("'{0}' is not a legal move here", _0))]
    Illegal(String),
    #[error("{}", tr!("it is not your move"))]
    NotYourMove,
    #[error("{}", tr!("it is not the engine's move"))]
    NotItsMove,
    #[error("{}", tr!("there is no draw offer to answer"))]
    NoOffer,
    #[error(
        "{}", tr!("there is nothing to claim: the position has not stood three times (article 9.2), and there were not 50 moves without a capture or a pawn move (article 9.3)"))]
    NoClaim,
    #[error("{}", tr!("the flag has not fallen: {0} ms are left", _0))]
    TimeLeft(u64),
    #[error("{}", tr!("time runs backwards: {at_ms} ms comes after {last_ms} ms"))]
    TimeRunsBack { at_ms: u64, last_ms: u64 },
}

/// One move of the game.
#[derive(Debug, Clone, PartialEq)]
pub struct PlayedMove {
    pub mv: Move,
    pub by: Color,
    /// Playing time the move took, in milliseconds.
    pub took_ms: u64,
    /// The player's time left after it, with the increment; `None` without a clock and for the engine.
    pub left_ms: Option<u64>,
    /// The sitting in which he wrote before it.
    pub sitting: Option<String>,
    /// What the engine thought its move was worth to it.
    pub expected: Option<f64>,
}

/// One game, as its log has made it.
#[derive(Debug, Clone, PartialEq)]
pub struct Game {
    opened: Opened,
    line: Line,
    moves: Vec<PlayedMove>,
    plans: Vec<(usize, String)>,
    offered: bool,
    sitting: Option<String>,
    end: Option<End>,
    adjourned: bool,
    last_ms: u64,
    turn_since_ms: u64,
    left_ms: Option<u64>,
    events: usize,
}

impl Game {
    /// The state after a whole log.
    ///
    /// # Errors
    /// The log does not begin with `Opened`, or an event cannot follow those before it.
    pub fn fold(log: &[TimedPlayoutEvent]) -> Result<Self, GameError> {
        let (first, rest) = log.split_first().ok_or(GameError::NotOpened)?;
        let mut game = Self::open(first)?;
        for event in rest {
            game.apply(event)?;
        }
        Ok(game)
    }

    /// The state after the first event.
    ///
    /// # Errors
    /// The event is not `Opened`, or its position is none.
    pub fn open(first: &TimedPlayoutEvent) -> Result<Self, GameError> {
        let PlayoutEvent::Opened(opened) = &first.what else {
            return Err(GameError::NotOpened);
        };
        let line = line::replay(&opened.start_fen, &opened.past).map_err(GameError::Position)?;
        let end = line.rule().filter(|r| !r.is_claim()).map(End::Rule);
        Ok(Self {
            left_ms: opened.clock.map(|c| c.base_ms),
            opened: opened.clone(),
            line,
            moves: Vec::new(),
            plans: Vec::new(),
            offered: false,
            sitting: None,
            end,
            adjourned: false,
            last_ms: first.at_ms,
            turn_since_ms: first.at_ms,
            events: 1,
        })
    }

    /// The state after one event more.
    ///
    /// # Errors
    /// The event cannot follow; the state is unchanged.
    pub fn apply(&mut self, event: &TimedPlayoutEvent) -> Result<(), GameError> {
        if event.at_ms < self.last_ms {
            return Err(GameError::TimeRunsBack {
                at_ms: event.at_ms,
                last_ms: self.last_ms,
            });
        }
        self.step(event)?;
        self.last_ms = event.at_ms;
        self.events += 1;
        Ok(())
    }

    fn step(&mut self, event: &TimedPlayoutEvent) -> Result<(), GameError> {
        match &event.what {
            PlayoutEvent::Opened(_) => return Err(GameError::OpenedTwice),
            // A finished game can be looked at again; nothing else happens to it.
            PlayoutEvent::Resumed => self.adjourned = false,
            _ if self.end.is_some() => return Err(GameError::Over),
            PlayoutEvent::Ran => {}
            PlayoutEvent::Adjourned => self.adjourned = true,
            PlayoutEvent::Moved { uci, expected } => self.moved(uci, *expected, event.at_ms)?,
            PlayoutEvent::Planned { text } => self.plans.push((self.moves.len(), text.clone())),
            PlayoutEvent::Thought { sitting } => {
                self.player_to_move()?;
                self.sitting = Some(sitting.clone());
            }
            PlayoutEvent::DrawOffered => self.offered = true,
            PlayoutEvent::DrawAnswered { agreed } => {
                if !std::mem::take(&mut self.offered) {
                    return Err(GameError::NoOffer);
                }
                self.end = agreed.then_some(End::Agreed);
            }
            PlayoutEvent::Claimed => {
                self.player_to_move()?;
                let rule = self.claim().ok_or(GameError::NoClaim)?;
                self.end = Some(End::Claim(rule));
            }
            PlayoutEvent::Resigned => self.end = Some(End::Resigned(self.side())),
            PlayoutEvent::EngineResigned => self.end = Some(End::Resigned(self.side().other())),
            PlayoutEvent::FlagFell => self.flag_fell(event.at_ms)?,
        }
        Ok(())
    }

    fn moved(&mut self, uci: &str, expected: Option<f64>, at_ms: u64) -> Result<(), GameError> {
        let mv = line::read_uci(self.line.position(), uci)
            .ok_or_else(|| GameError::Illegal(uci.to_owned()))?;
        let by = self.line.turn();
        let took_ms = at_ms - self.turn_since_ms;
        self.line
            .push(&mv)
            .map_err(|_| GameError::Illegal(uci.to_owned()))?;
        let own = by == self.side();
        if own && let (Some(left), Some(clock)) = (self.left_ms, self.opened.clock) {
            self.left_ms = Some(left.saturating_sub(took_ms) + clock.increment_ms);
        }
        self.moves.push(PlayedMove {
            mv,
            by,
            took_ms,
            left_ms: self.left_ms.filter(|_| own),
            sitting: if own { self.sitting.take() } else { None },
            expected,
        });
        self.turn_since_ms = at_ms;
        self.offered = false;
        self.end = self.ended();
        Ok(())
    }

    fn ended(&self) -> Option<End> {
        if let Some(rule) = self.line.rule().filter(|r| !r.is_claim()) {
            return Some(End::Rule(rule));
        }
        match self.opened.goal {
            Goal::Hold { moves } if self.own_moves() >= moves as usize => Some(End::HeldOut),
            _ => None,
        }
    }

    /// Article 6.9: lost, unless the opponent cannot checkmate by any possible series of legal moves.
    /// That is decided by material, as in article 5.2.2's common cases; blocked positions are missed.
    fn flag_fell(&mut self, at_ms: u64) -> Result<(), GameError> {
        let left = self.left_at(at_ms).ok_or(GameError::TimeLeft(u64::MAX))?;
        if left > 0 {
            return Err(GameError::TimeLeft(left));
        }
        let opponent = self.side().other();
        let harmless = self.line.position().has_insufficient_material(opponent);
        self.end = Some(if harmless {
            End::FlagDrawn
        } else {
            End::Flag(self.side())
        });
        Ok(())
    }

    fn player_to_move(&self) -> Result<(), GameError> {
        (self.line.turn() == self.side())
            .then_some(())
            .ok_or(GameError::NotYourMove)
    }

    #[must_use]
    pub fn opened(&self) -> &Opened {
        &self.opened
    }

    /// The game since the position that is played out, which is its root.
    #[must_use]
    pub fn line(&self) -> &Line {
        &self.line
    }

    /// The player's side.
    #[must_use]
    pub fn side(&self) -> Color {
        self.opened.side.into()
    }

    /// True where the player is to move and the game goes on.
    #[must_use]
    pub fn is_his_move(&self) -> bool {
        self.end.is_none() && self.line.turn() == self.side()
    }

    #[must_use]
    pub fn moves(&self) -> &[PlayedMove] {
        &self.moves
    }

    /// Moves the player has made.
    #[must_use]
    pub fn own_moves(&self) -> usize {
        let side = self.side();
        self.moves.iter().filter(|m| m.by == side).count()
    }

    /// His plans in his own words, each with the number of moves (of both sides) made before it.
    #[must_use]
    pub fn plans(&self) -> &[(usize, String)] {
        &self.plans
    }

    /// True where he has offered a draw and has no answer yet.
    #[must_use]
    pub fn offered(&self) -> bool {
        self.offered
    }

    /// The sitting in which he has written about the position as it stands.
    #[must_use]
    pub fn sitting(&self) -> Option<&str> {
        self.sitting.as_deref()
    }

    /// True where he wanted to write before this move and has not yet.
    #[must_use]
    pub fn must_write(&self) -> bool {
        let every = self.opened.write_every.map_or(0, |n| n as usize);
        self.is_his_move()
            && self.sitting.is_none()
            && every > 0
            && self.own_moves().is_multiple_of(every)
    }

    /// How the game has ended; `None` while it goes on.
    #[must_use]
    pub fn end(&self) -> Option<End> {
        self.end
    }

    /// What it was worth to the player; `None` while it goes on.
    #[must_use]
    pub fn outcome(&self) -> Option<super::Outcome> {
        let turn = self.line.turn();
        self.end.map(|end| end.outcome(self.side(), turn))
    }

    /// What the player to move may have declared drawn.
    #[must_use]
    pub fn claim(&self) -> Option<crate::board::Rule> {
        self.line.rule().filter(|r| r.is_claim())
    }

    #[must_use]
    pub fn is_adjourned(&self) -> bool {
        self.adjourned
    }

    /// Playing time of the last event, in milliseconds.
    #[must_use]
    pub fn last_ms(&self) -> u64 {
        self.last_ms
    }

    /// The player's time left at a moment of playing time; `None` without a clock.
    #[must_use]
    pub fn left_at(&self, at_ms: u64) -> Option<u64> {
        let left = self.left_ms?;
        Some(if self.is_his_move() {
            left.saturating_sub(at_ms.saturating_sub(self.turn_since_ms))
        } else {
            left
        })
    }

    /// Number of events in the log.
    #[must_use]
    pub fn events(&self) -> usize {
        self.events
    }
}
