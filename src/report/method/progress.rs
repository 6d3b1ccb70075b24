//! What many attempts say together.

use super::measured::Measured;
use super::{Figure, count, percent, score};
use crate::games::thoughts::turning::NEAR;
use crate::progress::Outcome;
use crate::progress::account::{BEFORE_DAYS, NOW_DAYS, TRIALS_MIN as MONTH_MIN};
use crate::progress::converting::{GAMES_MIN, HEIGHTS};
use crate::progress::difficulty::{CHOICES, DEPTHS};
use crate::progress::experiment::{HABITS, LEVEL, SIDE, WEEKS_MAX, WEEKS_MIN};
use crate::progress::judgement::{ATTEMPTS_MIN as JUDGED_MIN, LEAN, RESULTS_MIN};
use crate::progress::next::BLOCK;
use crate::progress::quick::{self, SPEED_MIN};
use crate::progress::recognising::ENOUGH;
use crate::progress::resolution::CASES_MIN;
use crate::progress::schedule::{DAY_MS, GAME_DAYS, REST_DAYS, RETENTION, due};
use crate::progress::spots::{ATTEMPTS_MIN, FALSE_SHARE, MORE, TRIALS_MIN};
use crate::progress::stats::Rate;
use crate::text::{decimal, list};

const WILSON: &str = "E. B. Wilson, Probable inference, the law of succession, and statistical inference, Journal of the American \
                      Statistical Association 22, 1927";
const NEWCOMBE: &str = "R. G. Newcombe, Interval estimation for the difference between independent proportions, Statistics in \
                        Medicine 17, 1998, method 10";

/// So many of so many, as an example.
const EXAMPLE: (u64, u64) = (3, 10);

pub(super) fn figures(measured: &Measured) -> Vec<Figure> {
    vec![
        intervals(measured),
        blind_spots(measured),
        judgement(measured),
        course(),
        month(),
        converting(),
        due_again(),
        next(),
        recognising(),
        resolutions(measured),
        at_speed(),
        experiment(),
    ]
}

fn intervals(measured: &Measured) -> Figure {
    let (part, of) = EXAMPLE;
    let seen = Rate::new(part, of).wilson();
    let (from, to) = measured.intervals.shares;
    let covered = measured.intervals.rows.iter().map(|c| {
        tr!(
            "of {} cases the interval holds the true share in {} % on average and {} % at worst",
            c.cases,
            decimal(c.mean, 1),
            decimal(c.least, 1)
        )
    });
    Figure {
        code: "intervals",
        title: tr!("Shares and their 95 % intervals"),
        told: tr!("every 'so many of so many' with a range behind it."),
        formula: tr!(
            "Wilson's score interval: {part} of {of} is {} to {}. The difference of two shares has the interval that Newcombe builds \
             from the two.",
            percent(seen.low),
            percent(seen.high)
        ),
        source: format!("{WILSON}; {NEWCOMBE}."),
        assumption: tr!("The cases are independent and of one kind.").to_owned(),
        wrong: tr!("Moments of one attempt are not independent: where that matters the attempt is the case (see each figure). \
                Looking every day finds what looking once would not.")
            .to_owned(),
        measured: vec![tr!(
            "Exactly, over true shares from {} to {}: {}.",
            score(from),
            score(to),
            covered.collect::<Vec<_>>().join("; ")
        )],
    }
}

fn blind_spots(measured: &Measured) -> Figure {
    Figure {
        code: "blind-spots",
        title: tr!("Blind spots"),
        told: tr!("progress, the list on the screens (b in the history), the habits of the eve."),
        formula: tr!(
            "Asked about from {TRIALS_MIN} moments of {ATTEMPTS_MIN} attempts on. A kind of move is a blind spot where you miss \
             it {} points more often than your other moves of the same strata (whose move, how deep, forcing or not; \
             Mantel and Haenszel), and where the procedure of Benjamini and Hochberg lets it stand at {} over all kinds that \
             are asked about. 'No weakness' is said only where the 95 % interval of that difference excludes {} points; \
             all else is 'not enough yet', with the number of moments that would tell.",
            (MORE * 100.0).round(),
            percent(FALSE_SHARE),
            (MORE * 100.0).round()
        ),
        source: tr!("N. Mantel and W. Haenszel, Statistical aspects of the analysis of data from retrospective studies of disease, \
                 Journal of the National Cancer Institute 22, 1959; Y. Benjamini and Y. Hochberg, Controlling the false \
                 discovery rate, Journal of the Royal Statistical Society B 57, 1995. The thresholds are our own choice.")
            .to_owned(),
        assumption: tr!("First sights of sittings with one sight of the board alone are counted; the strata take out what everybody \
                     misses more often.")
            .to_owned(),
        wrong: tr!("Positions that were chosen because of a weakness; tiredness that comes with one kind of position; looking \
                every day, for which the share of false names does not hold.")
            .to_owned(),
        measured: measured.blind_spots.sentences(),
    }
}

fn judgement(measured: &Measured) -> Figure {
    let of = &measured.verdicts;
    Figure {
        code: "judgement",
        title: tr!("Whether your verdicts lean, and how good they were"),
        told: tr!("progress: too hopeful, too gloomy; against results."),
        formula: tr!(
            "Stated less true expected score, one value an attempt (the mean of its verdicts), with the t interval of these \
             values. Too hopeful or gloomy where the 95 % interval lies on one side of 0, no lean where it stays within {}, \
             from {JUDGED_MIN} attempts on; all else is 'not enough yet'. Against results: the Brier score of what you \
             expected, with its parts, from {RESULTS_MIN} games on, play-outs and own games apart.",
            score(LEAN)
        ),
        source: tr!("G. W. Brier, Verification of forecasts expressed in terms of probability, Monthly Weather Review 78, 1950; A. H. \
                 Murphy, A new vector partition of the probability score, Journal of Applied Meteorology 12, 1973.")
            .to_owned(),
        assumption: tr!("The middle of a verdict's range is what you mean, and the judge is right on average.").to_owned(),
        wrong: tr!("A curve that is too bold makes you look gloomy; in an own game you knew the result when you wrote.").to_owned(),
        measured: vec![tr!(
            "Invented players, {} runs of {} attempts: one who is too hopeful by {} is told so in {} of a hundred, a sober one \
             is told something else than 'no lean' in {}.",
            of.runs,
            of.attempts,
            score(of.hope),
            of.hopeful_found,
            of.sober_wrong
        )],
    }
}

fn course() -> Figure {
    Figure {
        code: "course",
        title: tr!("Depth and time over the weeks"),
        told: tr!("progress: the weeks, and results by difficulty."),
        formula: tr!(
            "Each attempt is compared with the mean of all attempts of its difficulty: needed depth ({} half-moves) by plausible \
             moves ({}). A week's figure is the mean of all plus the mean of its differences, with a t interval; times are \
             medians, and a week's is the median of all times the median of its ratios.",
            DEPTHS.join(", "),
            CHOICES.join(", ")
        ),
        source: tr!("Indirect standardisation (common practice, no source).").to_owned(),
        assumption: tr!("Depth and the number of plausible moves are what makes a position hard.").to_owned(),
        wrong: tr!("A week of one theme, or a new habit of writing less: needed does not fall with it, reached does.").to_owned(),
        measured: Vec::new(),
    }
}

fn month() -> Figure {
    Figure {
        code: "month",
        title: tr!("The month against the quarter before"),
        told: tr!("progress: whether the habit you set yourself changes."),
        formula: tr!(
            "The last {NOW_DAYS} days against the {BEFORE_DAYS} before them, the share of misses within the same strata as for \
             blind spots, with its 95 % interval; nothing is said below {MONTH_MIN} moments on either side."
        ),
        source: tr!("As blind spots; {NEWCOMBE}."),
        assumption: tr!("The positions of both spans are of one kind.").to_owned(),
        wrong: tr!("A new collection, another time control, illness.").to_owned(),
        measured: Vec::new(),
    }
}

fn converting() -> Figure {
    let heights: Vec<String> = HEIGHTS.iter().map(|h| score(*h)).collect();
    Figure {
        code: "converting",
        title: tr!("Advantages brought home"),
        told: tr!("progress and the clock: how often you win from a height on."),
        formula: tr!(
            "Games won of those that stood at {} or better, once each; play-outs and own games apart; Wilson's interval; said \
             from {GAMES_MIN} games on.",
            list(&heights)
        ),
        source: tr!("{WILSON}. The heights are our own choice."),
        assumption: tr!("A position counts as reached when one search says so.").to_owned(),
        wrong: tr!("Opponents differ; a draw by agreement counts as not won; a height that was there for one move counts too.")
            .to_owned(),
        measured: Vec::new(),
    }
}

/// Days until a position comes back that is failed and then solved each time it does.
fn returns(times: usize) -> Vec<String> {
    let mut attempts = vec![(0, Outcome::Failed)];
    let mut days = Vec::new();
    for _ in 0..times {
        let Some(back) = due(&attempts) else {
            break;
        };
        let last = attempts.last().map_or(0, |(at, _)| *at);
        days.push(((back.at_ms - last) / DAY_MS).to_string());
        attempts.push((back.at_ms, Outcome::Solved));
    }
    days
}

fn due_again() -> Figure {
    Figure {
        code: "due",
        title: tr!("When a failed position comes back"),
        told: tr!("the home screen, what is due in progress, practice."),
        formula: tr!(
            "FSRS, version 6, with its published parameters, at a {} chance of remembering; failed is 'again', a choice that \
             held with a counted finding 'hard', solved 'good'. Never before {REST_DAYS} days; a position of your own games \
             not before {GAME_DAYS} days after the game. Failed once and solved each time, it comes back after {} days.",
            percent(f64::from(RETENTION)),
            list(&returns(4))
        ),
        source: tr!("J. Ye, J. Su and Y. Cao, A stochastic shortest path algorithm for optimizing spaced repetition scheduling, KDD \
                 2022.")
            .to_owned(),
        assumption: tr!("Calculations are forgotten as words are.").to_owned(),
        wrong: tr!("The parameters were fitted to vocabulary; what is remembered may be the move and not the calculation. Read the \
                dates as an order, not as a truth.")
            .to_owned(),
        measured: Vec::new(),
    }
}

fn next() -> Figure {
    Figure {
        code: "next",
        title: tr!("What is practised next"),
        told: tr!("the home screen; why a position was chosen is told after the lock."),
        formula: tr!(
            "What is due first, the longest overdue at the top, as much as the minutes hold; then new positions. Of every \
             {BLOCK} new ones one holds nothing special, at a place that follows no pattern; the others hold a blind spot \
             where the collection has one."
        ),
        source: tr!("Our own choice.").to_owned(),
        assumption: tr!("A player must not be able to tell from being shown a position that there is something in it.").to_owned(),
        wrong: tr!("A small collection runs out of positions that hold nothing special.").to_owned(),
        measured: Vec::new(),
    }
}

fn recognising() -> Figure {
    Figure {
        code: "recognising",
        title: tr!("Recognising the moments that decide"),
        told: tr!("foreply games recall, and progress by months."),
        formula: tr!(
            "Of the turning points of a game (see there) the share that you named before any engine spoke, at most {} \
             half-moves beside; of the moments that you named the share that were one, or critical. Wilson's interval; said \
             from {ENOUGH} turning points on.",
            count(NEAR as u64)
        ),
        source: tr!("{WILSON}. What a turning point is: our own choice."),
        assumption: tr!("You lock your thoughts before you look.").to_owned(),
        wrong: tr!("Who marks every move names every turning point: the second share tells that.")
            .to_owned(),
        measured: Vec::new(),
    }
}

fn resolutions(measured: &Measured) -> Figure {
    let of = &measured.resolutions;
    let rows = of.rows.iter().map(|p| {
        tr!(
            "from {} cases before and {} after in {:.0} of 100, wrongly in {:.0}",
            p.before,
            p.after,
            p.real,
            p.wrongly
        )
    });
    Figure {
        code: "resolutions",
        title: tr!("Whether a resolution held"),
        told: tr!("the account of an event: held, not held, not yet to be told."),
        formula: tr!(
            "The share before and the share since; held or not held only where the 95 % interval of their difference lies on \
             one side of 0, with {CASES_MIN} cases on either side at least."
        ),
        source: format!("{NEWCOMBE}."),
        assumption: tr!("Before and since, the games are of one kind.").to_owned(),
        wrong: tr!("A resolution is made after a bad event, and the next one is better by itself (regression to the mean).").to_owned(),
        measured: vec![tr!(
            "Exactly, a change from {} to {} is told {}.",
            percent(of.from),
            percent(of.to),
            rows.collect::<Vec<_>>().join("; ")
        )],
    }
}

/// How much longer or shorter a clock becomes, in percent.
fn change(octaves: f64) -> String {
    percent((octaves.exp2() - 1.0).abs())
}

fn at_speed() -> Figure {
    let mut ladders = Vec::new();
    for ladder in &quick::LADDERS {
        let (from, to) = (ladder.needed.start(), ladder.needed.end());
        ladders.push(match from == to {
            true => from.to_string(),
            false => tr!("{from} to {to}"),
        });
    }
    Figure {
        code: "at-speed",
        title: tr!("What calculation at speed comes to"),
        told: tr!("foreply quick, s on the home screen."),
        formula: tr!(
            "Ladders of positions that need {} half-moves. After one that you solve the clock becomes {} shorter ({} up to the \
             first that you do not solve), after one that you do not {} longer: so it settles where {:.0} of {:.0} are solved. That \
             clock is told from {} tries on, as the middle of what a logistic curve over the octaves of the clock leaves, its slope \
             not known, with the span that holds it with 95 %. A kind of finding comes of speed where it is more often here than \
             in sittings without a hurry within the same difficulty, from {SPEED_MIN} of either on.",
            list(&ladders),
            change(-quick::STEP),
            change(-quick::STEP * quick::FIRST),
            change(quick::STEP * quick::UP),
            quick::UP,
            quick::UP + 1.0,
            quick::TRIES_MIN
        ),
        source: tr!("C. Kaernbach, Simple adaptive testing with the weighted up-down method, Perception & Psychophysics 49, 1991; L. L. \
                 Kontsevich and C. W. Tyler, Bayesian adaptive estimation of psychometric slope and threshold, Vision Research 39, \
                 1999 (both from memory). Ladders and steps are our own choice.")
            .to_owned(),
        assumption: tr!("The positions of a ladder are equally hard, and you stay as you are while the tries are counted.").to_owned(),
        wrong: tr!("You become better: then the span holds where you were. Who writes less at speed has fewer findings too.").to_owned(),
        measured: Vec::new(),
    }
}

fn experiment() -> Figure {
    Figure {
        code: "experiment",
        title: tr!("Whether the practice works"),
        told: tr!("foreply experiment."),
        formula: tr!(
            "Each of {} or {} habits is practised from a week on that is drawn, {} weeks from either end at least, over {} to {} \
             weeks. The shares missed before and after in positions kept for measuring, and in own games, are held against all \
             draws that could have been: p is the share of them under which as few would be missed. Found where p is {} or less; \
             tested once, at the end.",
            count(*HABITS.start() as u64),
            count(*HABITS.end() as u64),
            count(SIDE as u64),
            WEEKS_MIN,
            WEEKS_MAX,
            score(LEVEL)
        ),
        source: tr!("P. Onghena, Behavioral Assessment 14, 1992; S. Bouwmeester and J. Jongerling, PLoS ONE 15(2), 2020, e0228355.")
            .to_owned(),
        assumption: tr!("What you miss of a habit does not depend on the week that was drawn but through the practice.").to_owned(),
        wrong: tr!("Few cases: the manual of foreply experiment says how often an effect would be found. Practice of one habit that \
                helps another hides the effect.")
            .to_owned(),
        measured: Vec::new(),
    }
}
