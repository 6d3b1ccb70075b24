//! What is told of the opponent of the next round, and on the eve of a game. The screens show the text of the opponent as it is, so that it
//! stands for them; the eve itself stands on the home screen, which a test of its own walks.

use super::{Empty, Surface, Value, any_of, elsewhere, held, value};
use crate::games::opponent::{FirstMoves, OpponentFacts, UsedAt};
use crate::report::{self, Eve, Solved};

use Surface::{Html, Json, Text};

const PEOPLE: &[Surface] = &[Text, Html];

fn facts() -> OpponentFacts {
    OpponentFacts {
        name: "Zqopponent".to_owned(),
        white: 1_373,
        black: 1_381,
        timed: 1_399,
        results: [1_409, 1_423, 1_427],
        firsts: vec![
            FirstMoves {
                against: None,
                games: 1_429,
                moves: vec![("Zqfirst".to_owned(), 1_433)],
            },
            FirstMoves {
                against: Some("Zqagainst".to_owned()),
                games: 1_439,
                moves: vec![("Zqanswer".to_owned(), 1_447)],
            },
        ],
        used: vec![UsedAt {
            before_move: 1_451,
            games: 1_453,
            seconds: 3_671.0,
        }],
        trouble: 1_459,
        offered: 1_471,
        taken: 1_481,
        queens_off: 1_483,
        draws: 1_487,
        draw_moves: Some(1_489.0),
        short_draws: 1_493,
        from: "2026.01.zq".to_owned(),
        to: "2026.02.zq".to_owned(),
    }
}

fn values(of: &OpponentFacts) -> Vec<Value> {
    let OpponentFacts {
        name,
        white,
        black,
        timed,
        results: [won, drawn, lost],
        firsts,
        used,
        trouble,
        offered,
        taken,
        queens_off,
        draws,
        draw_moves,
        short_draws,
        from,
        to,
    } = of;
    let mut all = vec![
        value("name", name),
        value("games with White", white),
        value("games with Black", black),
        value("games with times", timed),
        value("won", won),
        value("drawn", drawn),
        value("lost", lost),
        value("in time trouble", trouble),
        value("exchanges offered", offered),
        value("exchanges taken", taken),
        value("queens off early", queens_off),
        value("draws", draws),
        value("length of draws", draw_moves.unwrap_or_default()),
        value("short draws", short_draws),
        value("first of his games", from),
        value("last of his games", to),
    ];
    for FirstMoves {
        against,
        games,
        moves,
    } in firsts
    {
        all.push(value("games of a first move", games));
        all.extend(against.iter().map(|mv| value("against what", mv)));
        for (mv, count) in moves {
            all.extend([value("a first move", mv), value("how often", count)]);
        }
    }
    for UsedAt {
        before_move,
        games,
        seconds,
    } in used
    {
        all.extend([
            value("where his clock is read", before_move),
            value("games in which it is", games),
            any_of("time that he had used", &["1:01:11", "3671"]),
        ]);
        assert_eq!(*seconds as u64, 3_671);
    }
    all
}

const EMPTY: &[Empty] = &[(
    "games of a first move",
    PEOPLE,
    "its moves are counted one by one",
)];

#[test]
fn an_opponent_reaches_every_surface() {
    let facts = facts();
    let shown = || {
        vec![
            (Text, report::opponent_text(&facts)),
            (Html, report::opponent_html(&facts).unwrap()),
            (Json, report::opponent_json(&facts).unwrap()),
        ]
    };
    held(&values(&facts), &shown(), EMPTY);
    elsewhere(&shown);
}

#[test]
fn the_eve_reaches_every_surface() {
    let facts = facts();
    let solved = [Solved {
        drill: "zqdrill".to_owned(),
        minutes: 1_499,
    }];
    let eve = Eve {
        drills: &solved,
        habits: &["Zqhabit.".to_owned()],
        takeaways: &["Zqtakeaway.".to_owned()],
        opponent: Some(&facts),
    };
    let Eve {
        drills,
        habits,
        takeaways,
        opponent,
    } = eve;
    let Solved { drill, minutes } = &drills[0];
    let mut all = vec![
        value("a solved position", drill),
        value("its minutes", minutes),
        value("a habit", &habits[0]),
        value("a takeaway", &takeaways[0]),
    ];
    all.extend(opponent.into_iter().flat_map(values));
    let shown = || {
        vec![
            (Text, report::eve_text(&eve)),
            (Html, report::eve_html(&eve).unwrap()),
            (Json, report::eve_json(&eve).unwrap()),
        ]
    };
    held(&all, &shown(), EMPTY);
    elsewhere(&shown);
}
