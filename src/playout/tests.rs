//! The game as a fold, the opponent, and the account, without an engine.

use shakmaty::{Color, Position};

use super::course::Move;
use super::moments::drifts;
use super::*;
use crate::attempt::Origin;
use crate::board::{Line, Rule, line};
use crate::judge::FixedJudge;

const LADDER: &str = "8/8/8/8/8/4k3/8/R3K3 w - - 0 1";

fn opened(fen: &str, side: Side, clock: Option<ClockSet>) -> TimedPlayoutEvent {
    TimedPlayoutEvent {
        at_ms: 0,
        what: PlayoutEvent::Opened(Opened {
            origin: Origin::Position,
            start_fen: fen.to_owned(),
            past: Vec::new(),
            side,
            goal: Goal::Win,
            level: Level::FULL,
            clock,
            write_every: None,
            seed: 7,
            wall_ms: 0,
        }),
    }
}

fn at(at_ms: u64, what: PlayoutEvent) -> TimedPlayoutEvent {
    TimedPlayoutEvent { at_ms, what }
}

fn moved(at_ms: u64, uci: &str) -> TimedPlayoutEvent {
    at(
        at_ms,
        PlayoutEvent::Moved {
            uci: uci.to_owned(),
            expected: None,
        },
    )
}

fn game(fen: &str, side: Side, clock: Option<ClockSet>, events: &[TimedPlayoutEvent]) -> Game {
    let mut game = Game::open(&opened(fen, side, clock)).unwrap();
    for event in events {
        game.apply(event).unwrap();
    }
    game
}

const CLOCK: Option<ClockSet> = Some(ClockSet {
    base_ms: 60_000,
    increment_ms: 5_000,
});

#[test]
fn the_clock_runs_on_his_turn_and_gets_its_increment() {
    let game = game(
        LADDER,
        Side::White,
        CLOCK,
        &[moved(10_000, "a1a3"), moved(40_000, "e3e4")],
    );
    // 60 - 10 + 5; the engine's half minute is not his.
    assert_eq!(game.left_at(40_000), Some(55_000));
    assert_eq!(game.left_at(50_000), Some(45_000));
    assert_eq!(game.moves()[0].left_ms, Some(55_000));
    assert_eq!(game.moves()[1].left_ms, None);
}

/// FIDE Laws, article 6.9: the player whose time is over loses, but the game is drawn where the opponent
/// cannot checkmate by any possible series of legal moves.
#[test]
fn the_flag() {
    let over = game(
        LADDER,
        Side::Black,
        CLOCK,
        &[moved(0, "a1a3"), at(60_000, PlayoutEvent::FlagFell)],
    );
    assert_eq!(over.end(), Some(End::Flag(Color::Black)));
    assert_eq!(over.outcome(), Some(Outcome::Lost));
    let bare = game(
        LADDER,
        Side::White,
        CLOCK,
        &[at(60_000, PlayoutEvent::FlagFell)],
    );
    assert_eq!(bare.end(), Some(End::FlagDrawn));
    assert_eq!(bare.outcome(), Some(Outcome::Drawn));
    let mut early = game(LADDER, Side::White, CLOCK, &[]);
    insta::assert_snapshot!(early.apply(&at(59_999, PlayoutEvent::FlagFell)).unwrap_err(), @"the flag has not fallen: 1 ms are left");
}

/// FIDE Laws, articles 9.2 (claimed) and 9.6.1 (by itself).
#[test]
fn the_third_time_is_claimed_and_the_fifth_ends_the_game() {
    let round = ["a1a2", "e3f3", "a2a1", "f3e3"];
    let twice: Vec<TimedPlayoutEvent> = round.iter().cycle().take(8).map(|m| moved(0, m)).collect();
    let mut third = game(LADDER, Side::White, None, &twice);
    assert_eq!(third.claim(), Some(Rule::Threefold));
    third.apply(&at(0, PlayoutEvent::Claimed)).unwrap();
    assert_eq!(third.end(), Some(End::Claim(Rule::Threefold)));
    let four: Vec<TimedPlayoutEvent> = round.iter().cycle().take(16).map(|m| moved(0, m)).collect();
    let fifth = game(LADDER, Side::White, None, &four);
    assert_eq!(fifth.end(), Some(End::Rule(Rule::Fivefold)));
    let mut first = game(LADDER, Side::White, None, &[]);
    insta::assert_snapshot!(first.apply(&at(0, PlayoutEvent::Claimed)).unwrap_err(), @"there is nothing to claim: the position has not stood three times (article 9.2), and there were not 50 moves without a capture or a pawn move (article 9.3)");
}

/// So many moves of each side without a capture or a pawn move, each to a position that has stood least often.
fn wandering(moves: usize) -> Vec<TimedPlayoutEvent> {
    let mut at = Line::new(line::read_fen("k7/8/8/8/8/8/7P/3RK3 w - - 0 1").unwrap());
    let mut seen = std::collections::HashMap::new();
    let mut log = Vec::new();
    while log.len() < 2 * moves {
        let pos = at.position().clone();
        let quiet = pos
            .legal_moves()
            .into_iter()
            .filter(|m| !m.is_capture() && m.role() != shakmaty::Role::Pawn);
        // The last of 75 ends the game; until then nothing else may.
        let goes_on = |rule: Rule| rule.is_claim() || rule == Rule::SeventyFiveMoves;
        let next = quiet
            .filter_map(|m| at.child(&m).ok().map(|child| (m, child)))
            .filter(|(_, child)| child.rule().is_none_or(goes_on))
            .min_by_key(|(_, child)| seen.get(&child.key()).copied().unwrap_or(0_usize));
        let (mv, child) = next.unwrap();
        *seen.entry(child.key()).or_insert(0) += 1;
        log.push(moved(0, &line::uci(&mv)));
        at = child;
    }
    log
}

/// FIDE Laws, articles 9.3 (50 moves of each side, claimed) and 9.6.2 (75, by itself).
#[test]
fn fifty_moves_are_claimed_and_seventy_five_end_the_game() {
    let start = "k7/8/8/8/8/8/7P/3RK3 w - - 0 1";
    let log = wandering(75);
    let short = game(start, Side::White, None, &log[..98]);
    assert_eq!(short.claim(), None);
    let mut fifty = game(start, Side::White, None, &log[..100]);
    assert_eq!((fifty.claim(), fifty.end()), (Some(Rule::FiftyMoves), None));
    fifty.apply(&at(0, PlayoutEvent::Claimed)).unwrap();
    assert_eq!(fifty.outcome(), Some(Outcome::Drawn));
    let last = game(start, Side::White, None, &log[..149]);
    assert_eq!(last.end(), None);
    let over = game(start, Side::White, None, &log);
    assert_eq!(over.end(), Some(End::Rule(Rule::SeventyFiveMoves)));
    assert_eq!(over.outcome(), Some(Outcome::Drawn));
}

/// FIDE Laws, article 9.6.2, last sentence: a checkmate by the move that ends the 75 takes precedence.
#[test]
fn checkmate_outranks_the_seventy_fifth_move() {
    let mate = game(
        "k7/8/1K6/8/8/8/8/7R w - - 149 100",
        Side::White,
        None,
        &[moved(0, "h1h8")],
    );
    assert_eq!(mate.end(), Some(End::Rule(Rule::Checkmate)));
    let other = game(
        "k7/8/1K6/8/8/8/8/7R w - - 149 100",
        Side::White,
        None,
        &[moved(0, "h1g1")],
    );
    assert_eq!(other.end(), Some(End::Rule(Rule::SeventyFiveMoves)));
}

/// FIDE Laws, articles 5.2.1 (stalemate), 5.2.2 (dead position) and 5.1.2 (resignation).
#[test]
fn the_other_ends_of_a_game() {
    let stalemate = game(
        "k7/8/1K6/8/8/8/2Q5/8 w - - 0 1",
        Side::White,
        None,
        &[moved(0, "c2c7")],
    );
    assert_eq!(stalemate.end(), Some(End::Rule(Rule::Stalemate)));
    // The last pawn is taken: king against king.
    let bare = game(
        "8/8/8/3k4/4P3/8/8/7K b - - 0 1",
        Side::White,
        None,
        &[moved(0, "d5e4")],
    );
    assert_eq!(bare.end(), Some(End::Rule(Rule::DeadPosition)));
    assert_eq!(bare.outcome(), Some(Outcome::Drawn));
    let given_up = game(
        LADDER,
        Side::White,
        None,
        &[at(0, PlayoutEvent::EngineResigned)],
    );
    assert_eq!(given_up.outcome(), Some(Outcome::Won));
}

/// FIDE Laws, articles 5.2.3 and 9.1.2: a draw is agreed, and an offer stands until the other side
/// answers or moves.
#[test]
fn a_draw_is_agreed_or_not() {
    let offer = [
        at(0, PlayoutEvent::DrawOffered),
        at(0, PlayoutEvent::DrawAnswered { agreed: true }),
    ];
    let agreed = game(LADDER, Side::White, None, &offer);
    assert_eq!(
        (agreed.end(), agreed.outcome()),
        (Some(End::Agreed), Some(Outcome::Drawn))
    );
    let mut declined = game(LADDER, Side::White, None, &offer[..1]);
    declined
        .apply(&at(0, PlayoutEvent::DrawAnswered { agreed: false }))
        .unwrap();
    assert_eq!((declined.end(), declined.offered()), (None, false));
    let lapsed = game(
        LADDER,
        Side::White,
        None,
        &[offer[0].clone(), moved(0, "a1a3")],
    );
    assert!(!lapsed.offered());
}

/// FIDE Laws, article 6.9, by what the opponent has left: a knight alone can mate where the player's own
/// pawn can stand in his king's way, and cannot where he has a queen; a bishop alone never can.
#[test]
fn the_flag_by_material() {
    for (fen, end) in [
        ("8/8/8/8/8/3k2n1/6P1/K7 w - - 0 1", End::Flag(Color::White)),
        ("8/8/8/8/8/3k2n1/6Q1/K7 w - - 0 1", End::FlagDrawn),
        ("8/8/8/8/8/3k2p1/6Q1/K7 w - - 0 1", End::Flag(Color::White)),
    ] {
        let over = game(
            fen,
            Side::White,
            CLOCK,
            &[at(60_000, PlayoutEvent::FlagFell)],
        );
        assert_eq!(over.end(), Some(end), "{fen}");
    }
}

#[test]
fn what_cannot_follow_is_refused_and_changes_nothing() {
    let mut state = game(LADDER, Side::White, None, &[]);
    let before = state.clone();
    let mut refused = |event: &TimedPlayoutEvent| state.apply(event).unwrap_err().to_string();
    insta::assert_snapshot!(refused(&moved(0, "a1b2")), @"'a1b2' is not a legal move here");
    insta::assert_snapshot!(refused(&at(0, PlayoutEvent::DrawAnswered { agreed: true })), @"there is no draw offer to answer");
    insta::assert_snapshot!(refused(&opened(LADDER, Side::White, None)), @"a game is opened once, at the beginning of its log");
    assert_eq!(state, before);
    state.apply(&at(5, PlayoutEvent::Resigned)).unwrap();
    assert_eq!(state.outcome(), Some(Outcome::Lost));
    insta::assert_snapshot!(state.apply(&moved(6, "a1a2")).unwrap_err(), @"the game is over");
    insta::assert_snapshot!(state.apply(&at(4, PlayoutEvent::Resumed)).unwrap_err(), @"time runs backwards: 4 ms comes after 5 ms");
}

#[test]
fn holding_out_is_an_end_of_its_own() {
    let mut first = opened(LADDER, Side::Black, None);
    if let PlayoutEvent::Opened(opened) = &mut first.what {
        opened.goal = Goal::Hold { moves: 2 };
    }
    let mut state = Game::open(&first).unwrap();
    for uci in ["a1a2", "e3f3", "a2a1", "f3e3"] {
        assert_eq!(state.end(), None);
        state.apply(&moved(0, uci)).unwrap();
    }
    assert_eq!(state.end(), Some(End::HeldOut));
    assert!(Outcome::Held.reached(Goal::Hold { moves: 2 }));
    assert!(!Outcome::Drawn.reached(Goal::Win));
}

#[test]
fn any_prefix_of_a_log_folds() {
    let mut log = vec![opened(LADDER, Side::White, CLOCK)];
    log.extend([
        at(
            3,
            PlayoutEvent::Planned {
                text: "cut the king off".to_owned(),
            },
        ),
        moved(9, "a1a3"),
        at(10, PlayoutEvent::DrawOffered),
        at(11, PlayoutEvent::DrawAnswered { agreed: false }),
        moved(12, "e3e4"),
        at(13, PlayoutEvent::Adjourned),
        at(13, PlayoutEvent::Resumed),
        at(14, PlayoutEvent::Resigned),
    ]);
    for end in 1..=log.len() {
        let game = Game::fold(&log[..end]).unwrap();
        assert_eq!(game.events(), end);
    }
}

/// Of two moves of equal worth the one is played after which the natural reply loses.
#[test]
fn the_opponent_sets_problems() {
    let start = "4k3/8/8/8/8/8/4P3/4K2R w K - 0 1";
    let judge = FixedJudge::new(|at: &Line| {
        let played = at.sans();
        let played: Vec<&str> = played.iter().map(String::as_str).collect();
        match played.as_slice() {
            [] => vec![
                ("Rh7".into(), 0.50),
                ("Rh8+".into(), 0.50),
                ("e3".into(), 0.30),
            ],
            // After Rh7 his natural move gives everything away; only Kd8 holds.
            ["Rh7"] => vec![("Kf8".into(), 0.50), ("Kd8".into(), 0.49)],
            ["Rh7", "Kf8"] => vec![("Rb7".into(), 0.90)],
            ["Rh7", "Kd8"] => vec![("e3".into(), 0.51)],
            ["Rh8+"] => vec![("Kd7".into(), 0.50), ("Ke7".into(), 0.50)],
            _ => vec![],
        }
    });
    let root = Line::new(line::read_fen(start).unwrap());
    let reply = reply(&root, Level::FULL, 1, &judge).unwrap().unwrap();
    assert_eq!(line::san(root.position(), &reply.mv), "Rh7");
    assert!((reply.problem - 0.205).abs() < 0.01, "{}", reply.problem);
}

#[test]
fn a_level_is_a_number_from_1_to_10() {
    insta::assert_snapshot!(Level::try_from(11).unwrap_err(), @"a level is a number from 1 (beginner) to 10 (full strength), not 11");
    let all: Vec<Level> = (1..=10).map(|n| Level::try_from(n).unwrap()).collect();
    for pair in all.windows(2) {
        assert!(pair[0].nodes() < pair[1].nodes());
        assert!(pair[0].spread() >= pair[1].spread());
        assert!(pair[0].margin() >= pair[1].margin());
    }
}

fn own(number: usize, before: f64, after: f64) -> Move {
    Move {
        number,
        white: true,
        san: "Kd2".to_owned(),
        own: true,
        before,
        after,
        took_ms: 0,
        left_ms: None,
        written: false,
    }
}

#[test]
fn a_drift_has_no_single_mistake() {
    let slow: Vec<Move> = (0u8..5)
        .map(|n| {
            let start = 0.9 - 0.05 * f64::from(n);
            own(usize::from(n) + 20, start, start - 0.05)
        })
        .collect();
    let found = drifts(&slow, 0.10);
    assert_eq!(
        (found.len(), found[0].from_move, found[0].to_move),
        (1, 20, 24)
    );
    // The same loss in one move is a mistake, no drift.
    assert!(drifts(&[own(20, 0.9, 0.65)], 0.10).is_empty());
    // And a loss too small is none.
    assert!(drifts(&slow[..2], 0.10).is_empty());
}

/// The account of a game that threw a win away: the decision is told with the better move.
#[test]
fn the_move_that_gave_the_win_away_is_told() {
    // F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895: c8=Q lets Black draw.
    let fen = "8/2P5/8/8/3r4/8/2K5/k7 w - - 0 1";
    let log = [
        moved(30_000, "c7c8q"),
        moved(31_000, "d4c4"),
        moved(40_000, "c8c4"),
    ];
    let state = game(fen, Side::White, None, &log);
    assert_eq!(state.end(), Some(End::Rule(Rule::Stalemate)));
    // By position, since the review asks from roots of its own.
    let judge = FixedJudge::new(|at: &Line| {
        let fen = line::fen(at.position());
        let says: &[(&str, f64)] = match fen.split(" - ").next().unwrap_or_default() {
            "8/2P5/8/8/3r4/8/2K5/k7 w" => &[("c8=R Ra4 Kb3", 0.99), ("c8=Q Rc4+ Qxc4", 0.50)],
            "2R5/8/8/8/3r4/8/2K5/k7 b" => &[("Ra4 Kb3", 0.01)],
            "2R5/8/8/8/r7/8/2K5/k7 w" => &[("Kb3", 0.99)],
            "2Q5/8/8/8/3r4/8/2K5/k7 b" => &[("Rc4+ Qxc4", 0.50)],
            _ => &[],
        };
        says.iter()
            .map(|(text, e)| ((*text).to_owned(), *e))
            .collect()
    });
    let settings = crate::review::Settings::default();
    let account = account(&state, &judge, &settings, &|_| None, &mut |_, _| {}).unwrap();
    assert_eq!(account.outcome, Outcome::Drawn);
    assert!(!account.reached);
    assert_eq!(account.moments.len(), 1);
    let moment = &account.moments[0];
    assert_eq!(
        (moment.played.as_str(), moment.better.as_str()),
        ("1. c8=Q", "c8=R")
    );
    assert_eq!(moment.took_ms, 30_000);
    let chance = moment.chance.as_ref().unwrap();
    assert_eq!((chance.reply.as_str(), chance.taken), ("Rc4+", true));
    insta::assert_snapshot!(chance.kind, @"a sacrifice (a rook)");
    insta::assert_snapshot!(moment.sentence, @"After c8=Q comes Rc4+ Qxc4, and it is stalemate: a draw. c8=R was there: then you are winning.");
    let stalemate = account.stalemate_from.unwrap();
    assert_eq!(
        (stalemate.played.as_str(), stalemate.before),
        ("1. c8=Q", 0.99)
    );
}
