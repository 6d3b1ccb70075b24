//! What is told of his own games, and of a coach's positions.

use super::measured::Measured;
use super::{Figure, count, part, percent, score, thousands};
use crate::games::account::bands::{self, Drawishness, Ratings, shares};
use crate::games::account::difficulty::{
    BEHIND, ERROR, GLANCE, HARD, IMPRESSIONS, LIKELY, PREFERRED, SOFT, VERY_HARD,
};
use crate::games::account::passed::{ALIVE as CHANCE, GONE, TURNS};
use crate::games::account::{DRAW_LOSS, DRAW_RISE, DRAW_WITHIN};
use crate::games::event::account::GAMES_MIN;
use crate::games::height::DROP;
use crate::games::moment::{
    ADVANTAGE, ALIVE, BOOK_GAMES, DRIFT, DRIFT_MOVES, LONG_MS, LOSING, THINKS_PART,
};
use crate::games::survey::{EQUAL, PLAUSIBLE, Settings};
use crate::games::thoughts::turning::NEAR;
use crate::games::time::{LONG_GAME_MS, TROUBLE_MS, TROUBLE_PART};
use crate::playout::Level;
use crate::review;
use crate::text::plain;

/// Examples of the bands: a level position, and two ratings.
const LEVEL_SCORE: f64 = 0.5;
const WEAK: u32 = 1700;
const STRONG: u32 = 2500;

pub(super) fn figures(measured: &Measured) -> Vec<Figure> {
    vec![
        moments(),
        clock(),
        bands(measured),
        difficulty(measured),
        chances(),
        turning(),
        event(),
        playout(),
        table(),
    ]
}

fn moments() -> Figure {
    let set = Settings::default();
    let delta = score(set.delta);
    Figure {
        code: "moments",
        title: tr!("The moments of your games"),
        told: tr!("foreply games moments, the account of a game."),
        formula: tr!(
            "Every position gets {} nodes, what is found {} times as many, each move alone. A reason is a loss of {delta} or more: \
             from {} on an advantage let slip; from {} up to {} and back a game that could have been saved; level turned worse; a \
             chance not taken; the only move missed; or {} over {DRIFT_MOVES} moves, none of them {delta}, a drift. Book is what \
             stood in {BOOK_GAMES} of your games; a long think is in your longest {} and {} minutes at least.",
            thousands(set.nodes),
            set.confirm,
            score(ADVANTAGE),
            score(LOSING),
            score(ALIVE),
            score(DRIFT),
            part(THINKS_PART as u64),
            LONG_MS / 60_000
        ),
        source: tr!("Our own choice; how long a long think is: common practice, no source.").to_owned(),
        assumption: tr!("What cost {delta} is worth a sitting."),
        wrong: tr!("Fewer nodes than in a review: a deep oversight is missed, and a sitting on the position tells it.").to_owned(),
        measured: Vec::new(),
    }
}

fn clock() -> Figure {
    Figure {
        code: "clock",
        title: tr!("Where the time went"),
        told: tr!("foreply games clock, the account of a game."),
        formula: tr!(
            "From the times in the PGN ([%clk]). Time trouble: less than {} minutes in a game of {} minutes or more, else a {} of \
             the first budget. Stakes: the spread of expected score among your {} best moves and the one you played. Long and fast \
             are your own longest and shortest {}, without book, recaptures and forced moves.",
            count(TROUBLE_MS / 60_000),
            LONG_GAME_MS / 60_000,
            part(TROUBLE_PART),
            count(PLAUSIBLE as u64),
            part(THINKS_PART as u64)
        ),
        source: tr!("FIDE Laws of Chess 8.4 (from memory) for time trouble in a long game; the rest is common practice, no source.").to_owned(),
        assumption: tr!("The clock was written down at every move, and increments are in the tag TimeControl.").to_owned(),
        wrong: tr!("Times that were filled in later; a long think that paid off moves later is counted where it was taken.").to_owned(),
        measured: Vec::new(),
    }
}

fn bands(measured: &Measured) -> Figure {
    let club = Ratings::default();
    let of = |kind: Drawishness| percent(shares(ADVANTAGE, club.threshold(kind)).draw);
    let strong = |rating: u32| {
        let both = Some(rating);
        let players = Ratings {
            white: both,
            black: both,
        };
        percent(shares(LEVEL_SCORE, players.threshold(Drawishness::QueenMiddlegame)).draw)
    };
    let (mean, apart) = bands::CLUB;
    Figure {
        code: "bands",
        title: tr!("Win, draw and loss of a game"),
        told: tr!("the course in the account of a game."),
        formula: tr!(
            "win = s(x - t), loss = s(-x - t), draw the rest, s the logistic function; x is chosen so that win + draw / 2 is the \
             expected score. t = that of the kind of position + {} + {} for each {} points that both are rated above {} on average \
             - {} times the square of (points between them / {}); without ratings as between players of {mean}, {apart} apart: \
             then at {} a draw is {} in a middlegame with queens and {} in a rook ending. Two of {WEAK} draw {} of level \
             middlegames with queens, two of {STRONG} {}. The draw grows where its share rises by {} or more within {DRAW_WITHIN} half-moves while you lose no \
             more than {}.",
            score(bands::LEVEL),
            score(bands::STRONGER),
            bands::POINTS,
            bands::MIDDLE,
            score(bands::APART),
            bands::POINTS,
            score(ADVANTAGE),
            of(Drawishness::QueenMiddlegame),
            of(Drawishness::RookEnding),
            strong(WEAK),
            strong(STRONG),
            score(DRAW_RISE),
            score(DRAW_LOSS)
        ),
        source: tr!("P. V. Rao and L. L. Kupper, Ties in paired-comparison experiments, Journal of the American Statistical Association \
                 62, 1967.")
            .to_owned(),
        assumption: tr!("Kinds of positions are told apart by their men alone.").to_owned(),
        wrong: tr!("The three are as wrong as the expected score that they make up. Pawn endings were too few to fit, and bishops of \
                opposite colours are set by the literature.")
            .to_owned(),
        measured: measured.benches.bands.clone(),
    }
}

fn difficulty(measured: &Measured) -> Figure {
    let [first, second, third, last] = IMPRESSIONS.map(thousands);
    Figure {
        code: "difficulty",
        title: tr!("Hard to play, in words"),
        told: tr!("the account of a game: 'only one move holds', 'the first impression deceives'."),
        formula: tr!(
            "Risk: of the weight of the {LIKELY} likeliest moves the share that gives away {} or more, each searched with {} nodes \
             behind it. A move weighs exp(E / {}), E from {GLANCE} nodes, and {} times as much for each search of {first}, \
             {second}, {third} and {last} nodes that prefers it (the first impressions). Hard from {} on, very hard from {}. It \
             knows neither the score nor the move that was played.",
            score(ERROR),
            thousands(BEHIND),
            score(SOFT),
            plain(PREFERRED),
            score(HARD),
            score(VERY_HARD)
        ),
        source: tr!("A. Anderson, J. Kleinberg and S. Mullainathan, Assessing human error against a benchmark of perfection, KDD 2016, \
                 for the share of moves that err; the rest is our own and fitted.")
            .to_owned(),
        assumption: tr!("What a very short search prefers is what a player looks at first.").to_owned(),
        wrong: tr!("A position can be hard for another reason: a long plan, an unknown structure, no time.").to_owned(),
        measured: measured.benches.difficulty.clone(),
    }
}

fn chances() -> Figure {
    Figure {
        code: "chances",
        title: tr!("Chances that passed, advantages that slipped"),
        told: tr!("the account of a game."),
        formula: tr!(
            "A chance: a move that was best or within {} of it at {TURNS} of your turns in a row or more, was not played, and then \
             was gone with {} or more, while you stood at {} or better. An advantage: {} or more, in a game that was not won; a \
             drop is a move of yours that gave away {} or more after the peak.",
            score(EQUAL),
            score(GONE),
            score(CHANCE),
            score(ADVANTAGE),
            score(DROP)
        ),
        source: tr!("Common practice, no source.").to_owned(),
        assumption: tr!(
            "The best {} moves of a turn hold the chance.",
            count(PLAUSIBLE as u64)
        ),
        wrong: tr!(
            "A chance behind {} better moves is not seen.",
            count(PLAUSIBLE as u64)
        ),
        measured: Vec::new(),
    }
}

fn turning() -> Figure {
    Figure {
        code: "turning-points",
        title: tr!("Turning points"),
        told: tr!("foreply games recall, the account of a game."),
        formula: tr!(
            "A half-move of either side that gives away {} or more in a game that was not decided; errors within {NEAR} half-moves \
             of each other are one.",
            score(Settings::default().delta)
        ),
        source: tr!("Our own choice; published games are held against it in the tests.").to_owned(),
        assumption: tr!("Games turn by single moves.").to_owned(),
        wrong: tr!("A game that drifts has no turning point, and is told as a drift.").to_owned(),
        measured: Vec::new(),
    }
}

fn event() -> Figure {
    Figure {
        code: "event",
        title: tr!("An event, and an opponent"),
        told: tr!("foreply games event, foreply games opponent."),
        formula: tr!(
            "Counts with Wilson's intervals; below {GAMES_MIN} games 'too few to say'. Of an opponent counts alone: no engine is \
             asked, and nothing is advised."
        ),
        source: tr!("See the intervals.").to_owned(),
        assumption: tr!("The rounds of one event belong together.").to_owned(),
        wrong: tr!("Pairings differ: a hard event looks like a bad one.").to_owned(),
        measured: Vec::new(),
    }
}

fn playout() -> Figure {
    Figure {
        code: "play-out",
        title: tr!("Playing a position out"),
        told: tr!("foreply playout, its account, and the ladder."),
        formula: tr!(
            "Levels are nodes, a spread of errors and a margin within which a worse move may be played; at full strength {} nodes, \
             an error of {} and a margin of {}. The account asks about every move of yours that cost {} again, and tells it.",
            thousands(Level::FULL.nodes()),
            Level::FULL.spread(),
            score(Level::FULL.margin()),
            score(review::Settings::default().delta.value())
        ),
        source: tr!("Our own choice.").to_owned(),
        assumption: tr!("A weaker engine errs where a weaker player does.").to_owned(),
        wrong: tr!("It does not: it overlooks deep things and never gets tired. Nobody has measured the levels against rated players.")
            .to_owned(),
        measured: Vec::new(),
    }
}

fn table() -> Figure {
    Figure {
        code: "coach-table",
        title: tr!("A coach's table: who saw what"),
        told: tr!("foreply coach table."),
        formula: tr!("A point is a stretch of the coach's tree, up to a fork, a move that he marked, or the end of the line. A student saw \
                  it where all its moves stand in his tree at the same place, by the way of legal moves to it; he came there where \
                  all moves before it do. Of several trees to one position the first counts.")
            .to_owned(),
        source: tr!("Our own choice.").to_owned(),
        assumption: tr!("What the coach wrote is what was to be seen.").to_owned(),
        wrong: tr!("A student who goes another way to the same position, or finds something as good, has not seen it by this count: \
                look at his tree.")
            .to_owned(),
        measured: Vec::new(),
    }
}
