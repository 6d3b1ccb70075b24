//! What is told of an event. The screens show the text of the page as it is, so that it stands for them.

use super::{Empty, Surface, any_of, elsewhere, held, value};
use crate::games::account::OddGame;
use crate::games::event::GameEvent;
use crate::games::event::account::{Became, EventAccount, OversightCount, RoundTold};
use crate::games::event::countable::{Count, Countable};
use crate::games::event::takeaway::Takeaway;
use crate::progress::resolution::Resolution;
use crate::progress::stats::Rate;
use crate::report::games::By;
use crate::report::{self, EventTold};

use Surface::{Html, Json, Text};

const PEOPLE: &[Surface] = &[Text, Html];
const BY: By<'_> = By {
    engine: "Zqjudge",
    nodes: 1_301,
};

#[test]
fn the_account_of_an_event_reaches_every_surface() {
    let count = |part, of| Count { part, of };
    let account = EventAccount {
        rounds: vec![RoundTold {
            game: "zqid".to_owned(),
            round: Some(17),
            date: "2026.02.14".to_owned(),
            white: true,
            opponent: "Zqopponent".to_owned(),
            rating: Some(1_873),
            points: Some(0.5),
            peak: 0.88,
            peak_move: 1_409,
            became: Became::SlippedToDraw,
            trouble_from: Some(1_423),
            recognised: Some(count(1_427, 1_429)),
            odd: vec![OddGame::NoClock],
        }],
        points: 43.5,
        finished: 1_433,
        oversights: vec![
            OversightCount {
                code: "reply-overlooked",
                words: "zqoversight",
                games: 1_439,
                moments: 1_447,
                runs_through: true,
            },
            OversightCount {
                code: "drift",
                words: "zqbeside",
                games: 1_451,
                moments: 1_453,
                runs_through: false,
            },
        ],
        converted: count(1_459, 1_471),
        trouble: count(1_481, 1_483),
        lost_in_trouble: Some(0.081),
        lost_elsewhere: Some(0.017),
        early: count(1_487, 1_489),
        early_mean: Some(0.61),
        recognised: count(1_493, 1_499),
    };
    let EventAccount {
        rounds,
        points,
        finished,
        oversights,
        converted,
        trouble,
        lost_in_trouble,
        lost_elsewhere,
        early,
        early_mean: _,
        recognised,
    } = &account;
    let of_count = |name: &'static str, c: &Count| [value(name, c.part), value(name, c.of)];
    let round = &rounds[0];
    let mut values = vec![
        value("round", round.round.unwrap()),
        value("opponent", &round.opponent),
        value("rating", round.rating.unwrap()),
        value("move of the best chance", round.peak_move),
        any_of(
            "what became of it",
            &[round.became.words(), "slipped-to-draw"],
        ),
        value("time trouble from", round.trouble_from.unwrap()),
        value("game", &round.game),
        value("points of the event", points),
        value("games with a result", finished),
        any_of("through", &["zqoversight", "Zqoversight"]),
        value("moments through", oversights[0].moments),
        value("games through", oversights[0].games),
        value("beside", oversights[1].words),
        value("moments beside", oversights[1].moments),
        value("games beside", oversights[1].games),
        value("lost in trouble", lost_in_trouble.unwrap()),
        value("lost elsewhere", lost_elsewhere.unwrap()),
        any_of("odd", &["No clock times in it", "no-clock"]),
        value("words of a resolution", "Zqresolution"),
        value("what it is tied to", "Zqcounted"),
        value("before it", 1_511),
        value("since then", 1_523),
        any_of(
            "verdict on it",
            &["not yet to be told", "not-yet", "not held", "held"],
        ),
        value("the earlier event", "Zqearlier"),
        value("a takeaway", "Zqtakeaway"),
        any_of("what it counts", &["games won from .85 on", "converted"]),
        value("name of the event", "Zqevent"),
        value("odd about the event", "Zqodd"),
        value("judge", BY.engine),
    ];
    values.extend(of_count("named in a round", &round.recognised.unwrap()));
    values.extend(of_count("converted", converted));
    values.extend(of_count("in time trouble", trouble));
    values.extend(of_count("worse early", early));
    values.extend(of_count("named", recognised));
    let event = GameEvent {
        id: "zqevent-2026".to_owned(),
        name: "Zqevent".to_owned(),
        from: "2026.02.14".to_owned(),
        to: "2026.02.15".to_owned(),
        games: vec![0],
        odd: vec!["Zqodd".to_owned()],
    };
    let resolutions = [Resolution::of(
        "Zqresolution".to_owned(),
        Some("Zqcounted".to_owned()),
        Rate::new(3, 1_511),
        Rate::new(5, 1_523),
    )];
    let takeaways = [Takeaway {
        words: "Zqtakeaway".to_owned(),
        tied: Some(Countable::Converted),
    }];
    let told = EventTold {
        event: &event,
        account: &account,
        resolutions: &resolutions,
        earlier: Some("Zqearlier"),
        takeaways: &takeaways,
        held_back: &[],
        by: BY,
    };
    let shown = || {
        vec![
            (Text, report::event_text(&told)),
            (Html, report::event_html(&told).unwrap()),
            (Json, report::event_json(&told).unwrap()),
        ]
    };
    let empty: &[Empty] = &[
        ("game", PEOPLE, "round and opponent name it"),
        (
            "games beside",
            PEOPLE,
            "what does not run through is told with its moments alone",
        ),
    ];
    held(&values, &shown(), empty);
    elsewhere(&shown);
}
