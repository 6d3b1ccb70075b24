//! Why a move of a game is worth a sitting.

use std::collections::{HashMap, HashSet};

use serde::Serialize;
use shakmaty::{Move, Position};

use super::kept::OwnGame;
use super::survey::{EQUAL, Ply, Settings, Surveyed};
use crate::board::Line;

/// From here on a side stands better by an advantage that should win (as the verdict 'clearly better').
pub const ADVANTAGE: f64 = 0.70;
/// Below here he was losing.
pub const LOSING: f64 = 0.30;
/// From here a lost game is a game again.
pub const ALIVE: f64 = 0.40;
/// Nothing can be learned where both sides of a drop lie beyond these.
const DECIDED: (f64, f64) = (0.03, 0.97);
/// What ten moves may lose together.
pub const DRIFT: f64 = 0.15;
pub const DRIFT_MOVES: usize = 10;
/// A position that stood in so many of his games is book.
pub const BOOK_GAMES: usize = 3;
/// No think under two minutes is long (common practice, no source).
pub const LONG_MS: u64 = 120_000;
/// One of so many of his thinks is long, and one is fast.
pub const THINKS_PART: usize = 5;

/// The reasons, in the order in which the first one is told.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Reason {
    /// He stood at .30 or less, the opponent let him up to .40 or more, and he fell back.
    CouldBeSaved,
    /// The opponent gave away delta or more, and he gave delta or more of it back.
    ChanceNotTaken,
    /// .70 or more before, delta or more lost.
    AdvantageSlipped,
    /// Level before (.40 to .60), under .40 and delta or more lower after.
    EqualTurnedWorse,
    /// Any other move that loses delta or more to a reply.
    ReplyOverlooked,
    /// The second-best move is delta or more worse, and he did not play the best.
    OnlyMoveMissed,
    /// Among his fastest fifth, and delta or more lost.
    FastWhereItMattered,
    /// .15 or more lost over ten of his moves, none of them delta by itself.
    Drift,
    /// The second-best move is delta or more worse, and he found the best.
    OnlyMoveFound,
    /// As `CouldBeSaved`, and he took the chance.
    Saved,
    /// In the top fifth of his own times, two minutes at least.
    LongThink,
    /// His first move in a position that he had not had before, in a game that began as others did.
    OutOfBook,
    /// The first move after the opening: no reason by itself, only for drills of openings.
    OpeningOver,
    /// Not a moment: he thought well here. So that being shown a position says nothing about it.
    Control,
}

impl Reason {
    /// The reason in a few words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::CouldBeSaved => tr!("could have been saved"),
            Self::ChanceNotTaken => tr!("chance not taken"),
            Self::AdvantageSlipped => tr!("advantage let slip"),
            Self::EqualTurnedWorse => tr!("level turned worse"),
            Self::ReplyOverlooked => tr!("reply overlooked"),
            Self::OnlyMoveMissed => tr!("only move missed"),
            Self::FastWhereItMattered => tr!("fast where it mattered"),
            Self::Drift => tr!("drift"),
            Self::OnlyMoveFound => tr!("only move found"),
            Self::Saved => tr!("saved"),
            Self::LongThink => tr!("long think"),
            Self::OutOfBook => tr!("out of book"),
            Self::OpeningOver => tr!("after the opening"),
            Self::Control => tr!("control"),
        }
    }

    /// All of them.
    pub const ALL: [Self; 14] = [
        Self::CouldBeSaved,
        Self::ChanceNotTaken,
        Self::AdvantageSlipped,
        Self::EqualTurnedWorse,
        Self::ReplyOverlooked,
        Self::OnlyMoveMissed,
        Self::FastWhereItMattered,
        Self::Drift,
        Self::OnlyMoveFound,
        Self::Saved,
        Self::LongThink,
        Self::OutOfBook,
        Self::OpeningOver,
        Self::Control,
    ];

    /// The name that is kept, as a theme of a drill: it never changes, whatever the words become.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::CouldBeSaved => "could-have-been-saved",
            Self::ChanceNotTaken => "chance-not-taken",
            Self::AdvantageSlipped => "advantage-let-slip",
            Self::EqualTurnedWorse => "level-turned-worse",
            Self::ReplyOverlooked => "reply-overlooked",
            Self::OnlyMoveMissed => "only-move-missed",
            Self::FastWhereItMattered => "fast-where-it-mattered",
            Self::Drift => "drift",
            Self::OnlyMoveFound => "only-move-found",
            Self::Saved => "saved",
            Self::LongThink => "long-think",
            Self::OutOfBook => "out-of-book",
            Self::OpeningOver => "after-the-opening",
            Self::Control => "control",
        }
    }

    /// The reason of a name; `None` for a theme that is none.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|r| r.code() == code)
    }
}

/// One move of a game that is worth a sitting.
#[derive(Debug, Clone, PartialEq)]
pub struct Moment {
    /// Which of the surveyed games.
    pub game: usize,
    pub ply: usize,
    /// All that hold, the first being the one that is told.
    pub reasons: Vec<Reason>,
    /// What there is to learn: see [`value`].
    pub value: f64,
    /// Expected score of the player before and after the move.
    pub before: f64,
    pub after: f64,
    /// Half-moves that one has to see.
    pub needed: usize,
    /// Milliseconds he took.
    pub spent_ms: Option<u64>,
    /// The best move, the one he played, and the reply to it, in SAN.
    pub best: String,
    pub played: String,
    pub reply: Option<String>,
    /// True where he never stood so well again, and the points are fewer than he stood to get.
    pub decided: bool,
}

/// What is known of the player over all his games.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Habits {
    /// A fifth of his own thinks are at least this long, in milliseconds.
    pub long_ms: Option<u64>,
    /// A fifth are at most this long.
    pub short_ms: Option<u64>,
    /// In how many of his games a position stood.
    positions: HashMap<u128, usize>,
}

impl Habits {
    /// Of all surveyed games. Book moves, moves without a choice and recaptures are no thinks.
    #[must_use]
    pub fn of(games: &[Surveyed]) -> Self {
        Self::of_games(games.iter().map(|g| &g.game))
    }

    /// The same of games that nobody has judged: no score is needed for it.
    #[must_use]
    pub fn of_games<'a>(games: impl Iterator<Item = &'a OwnGame> + Clone) -> Self {
        let mut positions = HashMap::new();
        for game in games.clone() {
            let keys: HashSet<u128> = game.lines().iter().map(Line::key).collect();
            for key in keys {
                *positions.entry(key).or_insert(0) += 1;
            }
        }
        let mut habits = Self {
            positions,
            ..Self::default()
        };
        let mut spent: Vec<u64> = games.flat_map(|game| habits.thinks(game)).collect();
        spent.sort_unstable();
        let count = spent.len();
        if count >= 10 {
            habits.long_ms = spent
                .get(count - count / THINKS_PART)
                .copied()
                .map(|ms| ms.max(LONG_MS));
            habits.short_ms = spent.get(count / THINKS_PART).copied();
        }
        habits
    }

    /// The times of his thinks in a game.
    fn thinks(&self, game: &OwnGame) -> Vec<u64> {
        let lines = game.lines();
        let own = lines
            .iter()
            .enumerate()
            .filter(|(ply, _)| game.is_his(*ply));
        own.filter_map(|(ply, line)| {
            let ms = game.times.spent(ply)?;
            let choice = line.position().legal_moves().len() > 1;
            let book = self
                .positions
                .get(&line.key())
                .is_some_and(|n| *n >= BOOK_GAMES);
            (choice && !book && !took_back(game, ply)).then_some(ms)
        })
        .collect()
    }

    /// In how many of his games the position before a half-move stood.
    fn met(&self, surveyed: &Surveyed, ply: usize) -> usize {
        let key = surveyed.game.line_to(ply).key();
        self.positions.get(&key).copied().unwrap_or(0)
    }

    /// True for a position that recurs in his games.
    #[must_use]
    pub fn is_book(&self, surveyed: &Surveyed, ply: usize) -> bool {
        self.met(surveyed, ply) >= BOOK_GAMES
    }
}

/// True where the move takes on the square where the move before it took.
#[must_use]
pub fn is_recapture(surveyed: &Surveyed, ply: usize) -> bool {
    took_back(&surveyed.game, ply)
}

fn took_back(game: &OwnGame, ply: usize) -> bool {
    let moves = &game.game.main_moves;
    let taking = |at: usize| moves.get(at).filter(|m| m.is_capture());
    let Some((before, here)) = ply.checked_sub(1).and_then(taking).zip(taking(ply)) else {
        return false;
    };
    before.to() == here.to()
}

/// True where the played move is the best, or as good.
#[must_use]
pub fn held(ply: &Ply) -> bool {
    ply.drop() < EQUAL
}

/// The half-moves whose scores decide about a moment, so that they are asked again.
#[must_use]
pub fn doubtful(surveyed: &Surveyed, settings: &Settings) -> Vec<usize> {
    let near = settings.delta * 0.75;
    (0..surveyed.plies.len())
        .filter(|ply| surveyed.game.is_his(*ply))
        .filter(|ply| {
            let at = surveyed.plies.get(*ply);
            at.is_some_and(|p| {
                !is_decided(p) && p.legal > 1 && (p.drop() >= near || gap(p) >= near)
            })
        })
        .collect()
}

/// True where all was decided before and after.
#[must_use]
pub fn is_decided(ply: &Ply) -> bool {
    let beyond = |e: f64| (e < DECIDED.0, e > DECIDED.1);
    let (a, b) = (beyond(ply.before), beyond(ply.after));
    (a.0 && b.0) || (a.1 && b.1)
}

/// How much worse the second-best move is; 0 where nothing is known of one.
#[must_use]
pub fn gap(ply: &Ply) -> f64 {
    match ply.best.as_slice() {
        [first, second, ..] => (first.expected - second.expected).max(0.0),
        _ => 0.0,
    }
}

/// Every half-move of a game for which a reason holds, with all its reasons; not yet chosen from.
#[must_use]
pub fn moments(games: &[Surveyed], at: usize, habits: &Habits, settings: &Settings) -> Vec<Moment> {
    let Some(surveyed) = games.get(at) else {
        return Vec::new();
    };
    let drift = drift(surveyed, settings);
    let mut found = Vec::new();
    for (ply, scored) in surveyed.plies.iter().enumerate() {
        if !surveyed.game.is_his(ply) || !may_be_chosen(surveyed, ply, habits) {
            continue;
        }
        let mut reasons = reasons(surveyed, ply, habits, settings);
        if drift == Some(ply) {
            reasons.push(Reason::Drift);
        }
        if reasons.is_empty() && is_control(surveyed, ply, habits, settings) {
            reasons.push(Reason::Control);
        }
        reasons.sort_unstable();
        if !reasons.is_empty() {
            found.push(moment(surveyed, at, ply, scored, reasons));
        }
    }
    found
}

/// The moment of one half-move for a reason that is given; `None` where the game has none.
#[must_use]
pub fn at(surveyed: &Surveyed, game: usize, ply: usize, reason: Reason) -> Option<Moment> {
    let scored = surveyed.plies.get(ply)?;
    Some(moment(surveyed, game, ply, scored, vec![reason]))
}

/// Neither decided, nor without a choice, nor book; no recapture, unless it was the wrong one.
fn may_be_chosen(surveyed: &Surveyed, ply: usize, habits: &Habits) -> bool {
    let Some(scored) = surveyed.plies.get(ply) else {
        return false;
    };
    let easy = is_recapture(surveyed, ply) && held(scored);
    scored.legal > 1 && !is_decided(scored) && !easy && !habits.is_book(surveyed, ply)
}

fn reasons(surveyed: &Surveyed, ply: usize, habits: &Habits, settings: &Settings) -> Vec<Reason> {
    let mut reasons = Vec::new();
    let Some(scored) = surveyed.plies.get(ply) else {
        return reasons;
    };
    let lost = scored.drop() >= settings.delta;
    let earlier = ply.checked_sub(1).and_then(|p| surveyed.plies.get(p));
    let erred = earlier.is_some_and(|p| scored.before - p.before >= settings.delta);
    let rescue = erred && earlier.is_some_and(|p| p.before <= LOSING) && scored.before >= ALIVE;
    if lost {
        reasons.push(lost_by(scored, erred, rescue));
    } else if rescue && held(scored) {
        reasons.push(Reason::Saved);
    }
    if gap(scored) >= settings.delta {
        reasons.push(match held(scored) {
            true => Reason::OnlyMoveFound,
            false => Reason::OnlyMoveMissed,
        });
    }
    let spent = surveyed.game.times.spent(ply);
    let at = |limit: Option<u64>| spent.zip(limit);
    if at(habits.long_ms).is_some_and(|(s, l)| s >= l) {
        reasons.push(Reason::LongThink);
    }
    if lost && at(habits.short_ms).is_some_and(|(s, l)| s <= l) {
        reasons.push(Reason::FastWhereItMattered);
    }
    let known = |ply: usize| habits.met(surveyed, ply) > 1;
    // His move before this one was still in a position that he knew.
    if ply >= 6 && !known(ply) && ply.checked_sub(2).is_some_and(known) {
        reasons.push(Reason::OutOfBook);
    }
    reasons
}

fn lost_by(scored: &Ply, erred: bool, rescue: bool) -> Reason {
    let level = (ALIVE..=1.0 - ALIVE).contains(&scored.before);
    if rescue {
        Reason::CouldBeSaved
    } else if erred {
        Reason::ChanceNotTaken
    } else if scored.before >= ADVANTAGE {
        Reason::AdvantageSlipped
    } else if level && scored.after < ALIVE {
        Reason::EqualTurnedWorse
    } else {
        Reason::ReplyOverlooked
    }
}

/// Where the most was lost of ten moves that lost .15 together, none of them delta: the first such ten.
fn drift(surveyed: &Surveyed, settings: &Settings) -> Option<usize> {
    let own: Vec<usize> = (0..surveyed.plies.len())
        .filter(|p| surveyed.game.is_his(*p))
        .collect();
    let drop = |ply: &usize| surveyed.plies.get(*ply).map_or(0.0, Ply::drop);
    let ten = own.windows(DRIFT_MOVES).find(|ten| {
        let fell = ten.first().zip(ten.last()).is_some_and(|(first, last)| {
            let ply = |p: &usize| surveyed.plies.get(*p);
            ply(first)
                .zip(ply(last))
                .is_some_and(|(a, b)| a.before - b.after >= DRIFT)
        });
        fell && ten.iter().all(|p| drop(p) < settings.delta)
    })?;
    ten.iter()
        .copied()
        .max_by(|a, b| drop(a).total_cmp(&drop(b)))
}

/// He thought well: something hung on the choice, the move was as good as the best, and it was not made among
/// his fastest.
fn is_control(surveyed: &Surveyed, ply: usize, habits: &Habits, settings: &Settings) -> bool {
    let Some(scored) = surveyed.plies.get(ply) else {
        return false;
    };
    let spent = surveyed.game.times.spent(ply);
    let slow = spent.zip(habits.short_ms).is_none_or(|(s, l)| s > l);
    held(scored)
        && slow
        && scored.stakes() >= settings.delta / 4.0
        && (0.15..=0.85).contains(&scored.before)
        && !is_recapture(surveyed, ply)
}

fn moment(
    surveyed: &Surveyed,
    game: usize,
    ply: usize,
    scored: &Ply,
    reasons: Vec<Reason>,
) -> Moment {
    let line = surveyed.game.line_to(ply);
    let needed = scored.needed(&line);
    let san = |mv: &Move| crate::board::line::san(line.position(), mv);
    let played = surveyed.game.game.main_moves.get(ply);
    let decided = has_decided(surveyed, ply);
    Moment {
        game,
        ply,
        value: value(scored, &reasons, needed, decided),
        before: scored.before,
        after: scored.after,
        needed,
        spent_ms: surveyed.game.times.spent(ply),
        best: scored
            .best
            .first()
            .and_then(|l| l.line.first())
            .map(&san)
            .unwrap_or_default(),
        played: played.map(&san).unwrap_or_default(),
        reply: played.and_then(|mv| reply(surveyed, ply, scored, mv)),
        reasons,
        decided,
    }
}

/// The best reply to the played move, in SAN.
fn reply(surveyed: &Surveyed, ply: usize, scored: &Ply, played: &Move) -> Option<String> {
    let after = surveyed.game.line_to(ply + 1);
    let own = scored.best.iter().find(|l| l.line.first() == Some(played));
    let next = || surveyed.plies.get(ply + 1)?.best.first()?.line.first();
    let mv = own.and_then(|l| l.line.get(1)).or_else(next)?;
    after
        .position()
        .is_legal(mv)
        .then(|| crate::board::line::san(after.position(), mv))
}

/// He lost by the move, never stood so well again, and got fewer points than he stood to get before.
fn has_decided(surveyed: &Surveyed, ply: usize) -> bool {
    let Some((scored, points)) = surveyed.plies.get(ply).zip(surveyed.game.points()) else {
        return false;
    };
    let later = surveyed.plies.iter().skip(ply + 1);
    let again = later.map(|p| p.before).fold(0.0, f64::max);
    scored.drop() >= EQUAL && points + 0.10 <= scored.before && again < scored.before - 0.05
}

/// What there is to learn, the measure of the ranking (common practice, no source): what was lost, half as
/// much again where it decided the result, and up to half as much again for the depth that one has to
/// see. Where nothing was lost a reason has a worth of its own, below that of any loss.
fn value(scored: &Ply, reasons: &[Reason], needed: usize, decided: bool) -> f64 {
    let own = |reason: &Reason| match reason {
        Reason::Drift => 0.08,
        Reason::Saved => 0.07,
        Reason::OnlyMoveFound => 0.06,
        // A long think about nothing teaches about time, which `games clock` shows.
        Reason::LongThink => (scored.stakes() / 3.0).min(0.04),
        Reason::OutOfBook => 0.03,
        Reason::OnlyMoveMissed => 0.05,
        Reason::Control => 0.01,
        _ => 0.0,
    };
    let own = reasons.iter().map(own).fold(0.0, f64::max);
    let result = if decided { 1.5 } else { 1.0 };
    let depth = 1.0 + needed as f64 / 20.0;
    scored.drop().max(own) * result * depth
}
