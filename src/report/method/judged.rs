//! What the judge says, and what a review makes of it.

use super::measured::Measured;
use super::{Figure, count, percent, score, thousands};
use crate::progress::converting::HEIGHTS;
use crate::review::thresholds as at;
use crate::review::{FindingKind, FindingStatus, Settings};
use crate::score::MoverScore;
use crate::text::capital;

pub(super) fn judge(measured: &Measured) -> Vec<Figure> {
    let [lowest, ..] = HEIGHTS;
    let worth = |pawns: i32| {
        score((MoverScore::from_centipawns(pawns * 100).value() * 100.0).round() / 100.0)
    };
    vec![
        Figure {
            code: "expected-score",
            title: tr!("Expected score, and the curve behind it"),
            told: tr!("every review, account and chart; 'you are winning', 'level' and so on are its words."),
            formula: tr!(
                "E = win + draw / 2 of the side to move, as the engine gives the three (UCI_ShowWDL); of an engine that gives \
                 pawns alone E = 1 / (1 + 10^(-pawns / 4)): {} one pawn ahead, {} two, {} four. Differences of E are compared, \
                 never pawns.",
                worth(1),
                worth(2),
                worth(4)
            ),
            source: tr!("A. Elo, The Rating of Chessplayers, 1978, for the form; S. Fischer and P. Kannan, 2007, for the scale of \
                     pawns (from memory). The built-in engine's curve is fitted to results of its own games.")
                .to_owned(),
            assumption: tr!("Who plays on from there plays as well as the engine did in the games of the fit, both sides alike.")
                .to_owned(),
            wrong: tr!(
                "People do not play as an engine does: see what was measured. A position that is hard to play for one side counts as \
                 if it were not. How often you win from {} on is told by itself.",
                score(lowest)
            ),
            measured: measured
                .benches
                .curve
                .iter()
                .chain(&measured.benches.people)
                .cloned()
                .collect(),
        },
        Figure {
            code: "basis",
            title: tr!("What is asked first: rules, tables, engine"),
            told: tr!("'by table' behind a verdict, and the line below each review that names the judge."),
            formula: tr!(
                "A finished game is what the Laws say. With --tables, endgame tables answer what they hold (1, {} or 0 under \
                 the fifty-move rule) and outrank every engine. All else is a search of {} nodes from an empty table, asked \
                 once and kept: the same tree and judge give the same review, byte for byte.",
                crate::text::share(0.5, 1),
                thousands(at::NODES)
            ),
            source: tr!("FIDE Laws of Chess; the table format of R. de Man, 2013; UCI for engines.").to_owned(),
            assumption: tr!("The tables are whole, and the engine keeps to the nodes that it is given.").to_owned(),
            wrong: tr!("Without tables a drawn ending can look won, or a won one drawn; a deep quiet plan or a fortress is beyond \
                    so many nodes. 'I do not believe it' asks about your own line.")
                .to_owned(),
            measured: Vec::new(),
        },
        Figure {
            code: "doubt",
            title: tr!("'I do not believe it'"),
            told: tr!("the answer to a line of your own (key a in the review, foreply review --answer)."),
            formula: tr!(
                "The position at the end of your line is searched with {} times the nodes of a review, and the reply and the \
                 standing are told. The line is kept apart from the tree and changes no figure.",
                at::CONFIRM
            ),
            source: tr!("Our own choice.").to_owned(),
            assumption: tr!("A line answers a line better than a number does.").to_owned(),
            wrong: tr!("The engine may answer one line and fail at the next; a coach decides (foreply coach rule), and what he \
                    strikes counts nowhere.")
                .to_owned(),
            measured: Vec::new(),
        },
    ]
}

pub(super) fn review(measured: &Measured) -> Vec<Figure> {
    let set = Settings::default();
    let (delta, equal, decided) = (
        score(set.delta.value()),
        score(set.equal.value()),
        score(set.decided.value()),
    );
    let mut figures = vec![
        Figure {
            code: "finding",
            title: tr!("When a finding is told and counted"),
            told: tr!("every review; the counts in history, progress and the coach's tables."),
            formula: tr!(
                "Every written position is searched; at the root also each of your legal moves, and at the opponent's turn each check, \
                 capture and promotion, by itself: a search passes over what looks bad for two half-moves. \
                 Two moves differ from {delta} on (delta) and are equally good within {equal}. What differs at first sight is \
                 searched again, both moves alone, with {} times the nodes, and with {} times where they differ by less than {}. \
                 It counts where the gap is still {}, where the last board of the line that proves it, searched again, still \
                 shows half of it or, from {} on, {} times the nodes still find it (a repetition is searched from its last board as if nothing had gone \
                 before), and where it changes what the choice is \
                 worth in your own tree by half of delta or more. Between two moves that leave the same side better (from {} \
                 on, surely from {} on) it must be up to {} above delta. Beside the choice a gap is told from {} on and never \
                 counted. Where both moves are at least {decided}, or at most 1 less that, nothing was \
                 decided and nothing is found. Other words: {}.",
                set.confirm,
                at::FURTHER * set.confirm,
                score(at::LITTLE * set.delta.value()),
                score(at::EDGE * set.delta.value()),
                score(at::LITTLE * set.delta.value()),
                at::FURTHER * set.confirm,
                score(at::ONE_SIDED.0),
                score(at::ONE_SIDED.1),
                score(at::SHADES * set.delta.value()),
                score(at::BESIDE * set.delta.value()),
                statuses()
            ),
            source: tr!("Our own choice; the factors for shades and for what stands beside the choice are measured against more \
                     nodes of another engine.")
                .to_owned(),
            assumption: tr!(
                "{delta} is what a club player can feel, and {} times the nodes see what matters.",
                count(set.confirm)
            ),
            wrong: tr!("A gap near the bar can fall on either side of it: what is close is told as close. The engine's error is \
                    common to both searches.")
                .to_owned(),
            measured: measured.benches.truth.clone(),
        },
        Figure {
            code: "verdicts",
            title: tr!("What a verdict stands for"),
            told: tr!("'misjudged', 'stopped short', and the judgement part of progress."),
            formula: verdicts(),
            source: tr!("Common practice, no source; the signs are those of the PGN standard (NAG 10 to 21).").to_owned(),
            assumption: tr!("You mean by a sign what most annotators do.").to_owned(),
            wrong: tr!("If your 'slightly better' is another's 'clearly better', your own leaning shows it after some attempts.")
                .to_owned(),
            measured: Vec::new(),
        },
        Figure {
            code: "depth",
            title: tr!("Depth: needed, reached, sound"),
            told: tr!("the last lines of a review, the history, progress by weeks."),
            formula: tr!(
                "In half-moves. Needed: until the position under your choice is settled ({} half-moves in which the worth stays \
                 and nothing is to be taken), at most {}, and never less than to the first counted finding on the choice's \
                 line. Reached: how far your line under the choice goes along your best replies. Sound: of that, what comes \
                 before the first counted finding; 0 where the choice itself loses delta.",
                at::QUIET_PLIES,
                at::NEEDED_MAX
            ),
            source: tr!("Our own choice.").to_owned(),
            assumption: tr!("A calculation ends where nothing more happens.").to_owned(),
            wrong: tr!("A quiet plan of many moves looks settled at once; then needed is too small.").to_owned(),
            measured: Vec::new(),
        },
        Figure {
            code: "coverage",
            title: tr!("Coverage and aim"),
            told: tr!("'written: 10 of the 15 moves that a sound calculation contains; of 11 written moves 10 matter'."),
            formula: tr!(
                "The reference tree: at the root every move within {equal} of the best, {} at most, and the choice; for the \
                 opponent his best reply and the forcing ones nearly as good, {} at most; for you the best move; down to the \
                 needed depth, {} half-moves at most. Coverage is the share of it that you wrote, aim the share of what you \
                 wrote that is in it, each half-move weighing 1 over its distance from the root.",
                at::REFERENCE_ROOT_MOVES,
                at::REFERENCE_REPLIES,
                at::REFERENCE_DEPTH_MAX
            ),
            source: tr!("Our own choice.").to_owned(),
            assumption: tr!("What comes first must be seen first.").to_owned(),
            wrong: tr!("Moves that a human must look at before he can drop them are no part of it, so aim is harsh on care.")
                .to_owned(),
            measured: Vec::new(),
        },
        Figure {
            code: "process",
            title: tr!("How you went about it"),
            told: tr!("the process part of a review, and the time to the first reply in progress."),
            formula: tr!(
                "The times at which entries were kept: first candidate, first reply, time for each candidate, returns to one \
                 that was left. Under pressure is what was written with {} of the time or less to go.",
                percent(at::PRESSURE)
            ),
            source: tr!("Returns are reported and not judged: A. Kotov, Think Like a Grandmaster, 1971, wants none; A. de Groot, Het \
                     denken van den schaker, 1946, found that experts do.")
                .to_owned(),
            assumption: tr!("You write as you think.").to_owned(),
            wrong: tr!("They are typing times: who thinks first and types then shows short times. Notes from memory have none.")
                .to_owned(),
            measured: Vec::new(),
        },
    ];
    figures.splice(1..1, [kinds(&delta, &equal)]);
    figures
}

fn kinds(delta: &str, equal: &str) -> Figure {
    let of = |kind: FindingKind| -> String {
        let half = score(Settings::default().delta.half().value());
        match kind {
            FindingKind::MissedCandidate => tr!(
                "the best move that is not written beats the best written candidate by {delta}; where {} or more are within \
                 {equal} of each other, none of them had to be found, and it is told by what speaks against yours",
                at::MANY_EQUALS
            ),
            FindingKind::WrongChoice => tr!("a written candidate beats the choice by {delta}"),
            FindingKind::FearedTooMuch => tr!(
                "the reply for which a candidate was dropped leaves you within {half} of your best, and your verdict says {delta} \
                 less"
            ),
            FindingKind::MissedThreat => tr!(
                "if you passed, he would play the very move that your choice allows; it costs {delta} and stands in no line \
                 (it counts from {} on, from {} where it is quiet and its line shows no point)",
                score(at::THREAT * Settings::default().delta.value()),
                score(at::QUIET_THREAT)
            ),
            FindingKind::MissedResource => {
                tr!("at your turn in a line, what is not written beats what is by {delta}")
            }
            FindingKind::MissedDefence => tr!(
                "at his turn in a line, a reply that is not written leaves you {delta} worse than the written ones"
            ),
            FindingKind::MissedCounterSacrifice => {
                tr!("the same, and the reply gives up more than a pawn").to_owned()
            }
            FindingKind::SeenMisjudged => tr!(
                "his best reply, or one as good, is written, and your verdict there is {delta} off"
            ),
            FindingKind::StoppedShort => tr!(
                "your verdict at the end agrees with the men counted after all captures, is {delta} off, and something comes \
                 after your last move (it counts from {} on where that is quiet and shows no point)",
                score(at::OPINION_MOST)
            ),
            FindingKind::Misjudged => {
                tr!("a verdict is {delta} off and nothing happens any more, or not even the men agree with it")
            }
            FindingKind::IllegalMove => {
                tr!("a written move is not possible there, or a mate is none; what is below it is not judged").to_owned()
            }
            FindingKind::BareCandidate => {
                tr!("no reply to the choice is written though the game goes on; it counts for nothing by itself").to_owned()
            }
        }
    };
    let all = FindingKind::ALL
        .iter()
        .map(|k| format!("{}: {}", capital(k.label()), of(*k)));
    Figure {
        code: "finding-kinds",
        title: tr!("The kinds of finding and their thresholds"),
        told: tr!("the titles of the findings, the history's filter, the coach's tables."),
        formula: format!("{}.", all.collect::<Vec<_>>().join(". ")),
        source: tr!("Our own choice; what practice has changed stands in DEVELOPERS.md.").to_owned(),
        assumption: tr!("Worth is compared at every position of both sides, and any critical reply of his counts, not one line of \
                     an engine's.")
            .to_owned(),
        wrong: tr!(
            "Beyond most at the board is a proof of more than {} half-moves with {} quiet only-moves or more: it is told as hard \
             and not counted, and where that line is drawn is our own choice.",
            at::BEYOND_PLIES,
            at::BEYOND_QUIET
        ),
        measured: Vec::new(),
    }
}

fn statuses() -> String {
    let of = |status: FindingStatus| match status {
        FindingStatus::Counted => tr!("counted, as above"),
        FindingStatus::Close => tr!("close, a gap between half of delta and that"),
        FindingStatus::Aside => tr!("beside, true and without effect on the choice"),
        FindingStatus::Withheld => {
            tr!("hard, when few would find it at the board or the engine finds no way in")
        }
        FindingStatus::Overruled => tr!("struck, by a coach, and then in no figure"),
    };
    FindingStatus::ALL.map(of).join("; ")
}

fn verdicts() -> String {
    let words = [
        tr!("level"),
        tr!("slightly better"),
        tr!("clearly better"),
        tr!("winning"),
    ];
    let ranges = words
        .iter()
        .zip(at::SIGN_BOUNDS)
        .map(|(word, (from, to))| tr!("{word} {} to {}", score(from), score(to)));
    tr!(
        "Bounds in your expected score: {}; mirrored for the other side. A percentage stands for itself and {} to either side. \
         What is within the bounds is right; the distance to the nearer bound is how far it is off.",
        ranges.collect::<Vec<_>>().join(", "),
        score(at::PERCENT_WIDTH)
    )
}
