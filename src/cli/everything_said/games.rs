//! What is told of an own game: its account, and his thoughts beside it. The screens show the text of his
//! thoughts as it is, so that it stands for them.

use super::{Empty, Surface, Value, any_of, elsewhere, held, value};
use crate::app::GameAccountRead;
use crate::app::testing::app::Trial;
use crate::cli::open_app;
use crate::games::account::bands::{Drawishness, Ratings, Shares};
use crate::games::account::difficulty::Difficulty;
use crate::games::account::passed::{ChanceKind, PassedChance};
use crate::games::account::preparation::PreparationEnd;
use crate::games::account::unconverted::{AdvantageDrop, AdvantageKind, Unconverted};
use crate::games::account::{
    AccountMove, DrawGrows, GameAccount, OddGame, OpeningMet, StructureMet, Task, TaskKind,
};
use crate::games::moment::{Moment, Reason};
use crate::games::survey::Surveyed;
use crate::games::thoughts::compare::{Compared, FearRead, MarkKind, MarkRead, Turned};
use crate::games::thoughts::turning::TurningPoint;
use crate::games::thoughts::{ThoughtMark, Thoughts};
use crate::games::{KeptGame, OwnGame};
use crate::report::games::By;
use crate::report::{self, AccountTold, ThoughtsTold};
use crate::tree::{Sign, Verdict};
use crate::tui::tests::surfaces;

use Surface::{Html, Json, Large, Small, Text};

const PEOPLE: &[Surface] = &[Text, Html];
const EVERYBODY: &[Surface] = &[Small, Large, Text, Html];
const BY: By<'_> = By {
    engine: "Zqjudge",
    nodes: 1_301,
};

fn surveyed() -> Surveyed {
    let kept = KeptGame {
        id: "20260214-zqgame".to_owned(),
        white: true,
        pgn: "[White \"Zqwhite\"]\n[Black \"Zqblack\"]\n[Event \"Zqevent\"]\n\n1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 1-0".to_owned(),
        moves: String::new(),
    };
    Surveyed {
        game: OwnGame::read(&kept).unwrap(),
        plies: Vec::new(),
    }
}

fn moment() -> Moment {
    Moment {
        game: 0,
        ply: 2,
        reasons: vec![Reason::AdvantageSlipped],
        value: 0.2,
        before: 0.8,
        after: 0.5,
        needed: 3,
        spent_ms: Some(61_000),
        best: "Zqbest".to_owned(),
        played: "Zqplayed".to_owned(),
        reply: Some("Zqreply".to_owned()),
        decided: false,
    }
}

fn account() -> GameAccount {
    let shares = Shares {
        win: 0.13,
        draw: 0.28,
        loss: 0.59,
    };
    let mv = AccountMove {
        san: "Zqsan".to_owned(),
        his: true,
        shares,
        given: 0.4711,
        spent_ms: Some(3_671_000),
        left_ms: Some(3_732_000),
        difficulty: Some(Difficulty {
            risk: 0.4712,
            impression: 0.1234,
            keep: 1,
            legal: 1_303,
        }),
    };
    GameAccount {
        moves: vec![mv],
        start: shares,
        players: Ratings {
            white: Some(2_137),
            black: Some(2_141),
        },
        moments: vec![moment()],
        draws: vec![DrawGrows {
            from: 2,
            to: 4,
            before: 0.31,
            after: 0.67,
            kind: Drawishness::RookEnding,
        }],
        tasks: vec![Task {
            ply: 2,
            played: "Zqtask".to_owned(),
            kind: TaskKind::SetByPlayer,
            words: "zq hard words",
        }],
        passed: vec![PassedChance {
            chance: "Zqchance".to_owned(),
            from: 0,
            until: 2,
            turns: 1_307,
            played: "Zqlet".to_owned(),
            reply: Some("Zqgone".to_owned()),
            with: 0.8,
            then: 0.5,
            kind: ChanceKind::PawnBreak,
        }],
        unconverted: Some(Unconverted {
            peak: 4,
            expected: 0.83,
            kind: AdvantageKind::Exchange,
            drops: vec![AdvantageDrop {
                ply: 4,
                played: "Zqdrop".to_owned(),
                best: "Zqkeep".to_owned(),
                before: 0.83,
                after: 0.52,
                spent_ms: Some(3_733_000),
                left_ms: Some(3_794_000),
            }],
        }),
        opening: Some(OpeningMet {
            plies: 1,
            games: 1_319,
            points: 1_321.5,
            finished: 1_327,
            eco: Some("Zqeco".to_owned()),
        }),
        structures: vec![StructureMet {
            key: "w-d4e3-c6d5".to_owned(),
            from: 4,
            games: 1_361,
            card: vec![("the break", "Zqcard".to_owned())],
        }],
        preparation: Some(PreparationEnd {
            plies: 2,
            his: true,
            played: "Zqleft".to_owned(),
            prepared: vec!["Zqprepared".to_owned()],
            ended: false,
            then_ms: vec![3_795_000],
        }),
        odd: vec![OddGame::NoResult],
    }
}

fn time(name: &'static str, ms: u64) -> Value {
    any_of(name, &[&crate::text::clock(ms), &ms.to_string()])
}

fn hundredth(name: &'static str, share: f64) -> Value {
    any_of(
        name,
        &[&format!("{:.0}", share * 100.0), &share.to_string()],
    )
}

const EMPTY_ACCOUNT: &[Empty] = &[
    (
        "what a move gave away",
        EVERYBODY,
        "drops and moments tell what counts; the number is for programs",
    ),
    (
        "risk",
        EVERYBODY,
        "difficulty is told in words, never as a number",
    ),
    ("first impression", EVERYBODY, "as risk"),
    ("legal moves", EVERYBODY, "as risk"),
    (
        "his clock before a move",
        PEOPLE,
        "told where he drops something, and where he is short of time",
    ),
    (
        "key of a structure",
        EVERYBODY,
        "its pawns are told in words",
    ),
];

#[test]
fn the_account_of_a_game_reaches_every_surface() {
    let (surveyed, account) = (surveyed(), account());
    let GameAccount {
        moves,
        start: _,
        players: Ratings { white, black },
        moments,
        draws,
        tasks,
        passed,
        unconverted,
        opening,
        structures,
        preparation,
        odd: _,
    } = &account;
    let AccountMove {
        san,
        his: _,
        shares: Shares { win, draw, loss },
        given,
        spent_ms,
        left_ms,
        difficulty,
    } = &moves[0];
    let Difficulty {
        risk,
        impression,
        keep: _,
        legal,
    } = difficulty.unwrap();
    let mut values = vec![
        value("rating of White", white.unwrap()),
        value("rating of Black", black.unwrap()),
        value("a move", san),
        hundredth("win", *win),
        hundredth("draw", *draw),
        hundredth("loss", *loss),
        value("what a move gave away", given),
        time("time of a move", spent_ms.unwrap()),
        time("his clock before a move", left_ms.unwrap()),
        value("risk", risk),
        value("first impression", impression),
        value("legal moves", legal),
        value("a moment", &moments[0].played),
        any_of("what is odd", &["No result is written down", "no-result"]),
        value("judge", BY.engine),
        value("nodes", BY.nodes),
    ];
    let DrawGrows {
        from: _,
        to: _,
        before,
        after,
        kind,
    } = &draws[0];
    values.extend([
        hundredth("a draw before", *before),
        hundredth("a draw after", *after),
        value("kind of position", kind.words()),
    ]);
    let Task {
        ply: _,
        played,
        kind: _,
        words,
    } = &tasks[0];
    values.extend([value("a task", played), value("words of a task", words)]);
    let PassedChance {
        chance,
        from: _,
        until: _,
        turns,
        played,
        reply,
        with: _,
        then: _,
        kind,
    } = &passed[0];
    values.extend([
        value("a chance", chance),
        value("turns of a chance", turns),
        value("what was played for it", played),
        value("what took it away", reply.as_ref().unwrap()),
        any_of("kind of a chance", &[kind.words(), "pawn-break"]),
    ]);
    let Unconverted {
        peak: _,
        expected: _,
        kind,
        drops,
    } = unconverted.as_ref().unwrap();
    let AdvantageDrop {
        ply: _,
        played,
        best,
        before: _,
        after: _,
        spent_ms,
        left_ms,
    } = &drops[0];
    values.extend([
        any_of("kind of an advantage", &[&kind.words(), "\"exchange\""]),
        value("a drop", played),
        value("what keeps it", best),
        time("time of a drop", spent_ms.unwrap()),
        time("clock at a drop", left_ms.unwrap()),
    ]);
    let OpeningMet {
        plies: _,
        games,
        points,
        finished,
        eco,
    } = opening.as_ref().unwrap();
    values.extend([
        value("earlier games", games),
        value("their points", points),
        value("those with a result", finished),
        value("opening code", eco.as_ref().unwrap()),
    ]);
    let StructureMet {
        key,
        from: _,
        games,
        card,
    } = &structures[0];
    values.extend([
        value("key of a structure", key),
        value("games of a structure", games),
        value("field of a card", card[0].0),
        value("words of a card", &card[0].1),
    ]);
    let PreparationEnd {
        plies: _,
        his: _,
        played,
        prepared,
        ended: _,
        then_ms,
    } = preparation.as_ref().unwrap();
    values.extend([
        value("where it was left", played),
        value("what was prepared", &prepared[0]),
        time("time after it", then_ms[0]),
    ]);
    let told = AccountTold {
        surveyed: &surveyed,
        account: &account,
        compared: None,
        by: BY,
    };
    let trial = Trial::usual();
    let screen = |size| {
        let read = GameAccountRead {
            surveyed: surveyed.clone(),
            account: account.clone(),
            compared: None,
            judge: BY.engine.to_owned(),
            nodes: BY.nodes,
        };
        surfaces::of_own_account(&trial, (read, open_app::texts()), size)
    };
    let shown = || {
        vec![
            (Small, screen((80, 24))),
            (Large, screen((140, 45))),
            (Text, report::account_of_game_text(&told)),
            (Html, report::account_of_game_html(&told).unwrap()),
            (Json, report::account_of_game_json(&told).unwrap()),
        ]
    };
    held(&values, &shown(), EMPTY_ACCOUNT);
    elsewhere(&shown);
}

#[test]
fn his_thoughts_reach_every_surface() {
    let surveyed = surveyed();
    let verdict = Some(Verdict::Sign(Sign::WhiteClear));
    let thoughts = Thoughts {
        begun_ms: 1,
        locked_ms: Some(2),
        marks: vec![ThoughtMark {
            ply: 2,
            verdict,
            feared: "Zqfear".to_owned(),
            attempt: Some("zqattempt".to_owned()),
        }],
        sentence: "Zqsentence".to_owned(),
        late: true,
    };
    let compared = Compared {
        turning: vec![Turned {
            point: TurningPoint {
                plies: vec![1, 2],
                ply: 1,
                before: 0.8,
                after: 0.5,
            },
            recognised: true,
            his: false,
            played: "Zqturn".to_owned(),
            best: "Zqbetter".to_owned(),
        }],
        marks: vec![MarkRead {
            ply: 2,
            kind: MarkKind::Turning(0),
            verdict,
            feared: "Zqfear".to_owned(),
            fear: Some(FearRead {
                reply: "Zqreal".to_owned(),
                then: 0.5,
                real: true,
            }),
            attempt: Some("zqattempt".to_owned()),
            truth: 0.8,
            played: "Zqmark".to_owned(),
            best: "Zqinstead".to_owned(),
            lost: 0.4713,
        }],
    };
    let MarkRead {
        ply: _,
        kind: _,
        verdict: _,
        feared,
        fear,
        attempt,
        truth: _,
        played,
        best,
        lost,
    } = &compared.marks[0];
    let values = [
        value("sentence", &thoughts.sentence),
        value("fear", feared),
        value("the feared reply", &fear.as_ref().unwrap().reply),
        any_of("whether it was real", &["That was real", "\"real\": true"]),
        any_of("verdict", &["White is clearly better", "white-clear"]),
        value("attempt", attempt.as_ref().unwrap()),
        value("move of a moment", played),
        value("best move at a moment", best),
        value("what it gave away", lost),
        value("turning point", &compared.turning[0].played),
        value("better move there", &compared.turning[0].best),
        any_of(
            "whether it was named",
            &["his move, named", "\"recognised\": true"],
        ),
        any_of("late", &["after the judge had spoken", "\"late\": true"]),
        value("a moment of the program", "Zqplayed"),
        value("judge", BY.engine),
    ];
    let told = ThoughtsTold {
        thoughts: &thoughts,
        surveyed: &surveyed,
        compared: &compared,
        moments: &[moment()],
        by: BY,
    };
    let shown = || {
        vec![
            (Text, report::thoughts_read_text(&told)),
            (Html, report::thoughts_read_html(&told).unwrap()),
            (Json, report::thoughts_read_json(&told).unwrap()),
        ]
    };
    let empty: &[Empty] = &[
        (
            "best move at a moment",
            PEOPLE,
            "the turning point beside it tells the better move",
        ),
        (
            "what it gave away",
            PEOPLE,
            "told in words: before and after",
        ),
    ];
    held(&values, &shown(), empty);
    elsewhere(&shown);
}
