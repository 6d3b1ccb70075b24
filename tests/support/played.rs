//! Play-outs between scripted players, through the log and the fold that a real game goes through.

use foreply::attempt::{Origin, past_as_uci};
use foreply::board::random::after;
use foreply::board::{Line, line};
use foreply::judge::{Judge, Question};
use foreply::playout::{
    Game, Goal, Level, Opened, PlayoutEvent, Side, TimedPlayoutEvent, reply, resigns,
};
use shakmaty::{Move, Position};

/// The best move that a search of so many nodes finds.
pub fn best(judge: &dyn Judge, at: &Line, nodes: u64) -> Move {
    let question = Question {
        line: at.clone(),
        lines: 1,
        nodes,
    };
    let answer = judge.answer_one(question).unwrap();
    answer.moves.first().unwrap().mv.clone()
}

/// Any legal move: the same for the same position, place in the game and number.
pub fn random(at: &Line, number: u64) -> Move {
    let legal = at.position().legal_moves();
    let pick = after(after(at.key() as u64 ^ at.ply() as u64) ^ number) as usize;
    legal[pick % legal.len()].clone()
}

/// A game of the side to move, played by `player`, against the opponent of a level: to its end, or to so
/// many moves of the player's.
pub fn played(
    root: &Line,
    level: Level,
    judge: &dyn Judge,
    most: usize,
    player: &mut dyn FnMut(&Line) -> Move,
) -> Game {
    let mut game = opened(root, level, 1);
    while game.end().is_none() && game.own_moves() < most {
        if game.is_his_move() {
            let mv = player(game.line());
            step(&mut game, moved(&mv, None));
        } else if resigns(&game) {
            step(&mut game, PlayoutEvent::EngineResigned);
        } else {
            let said = reply(game.line(), level, 1, judge).unwrap().unwrap();
            step(&mut game, moved(&said.mv, Some(said.expected)));
        }
    }
    game
}

/// A game that is about to begin; the player has the side to move.
pub fn opened(root: &Line, level: Level, seed: u64) -> Game {
    let side: Side = root.player().into();
    let first = TimedPlayoutEvent {
        at_ms: 0,
        what: PlayoutEvent::Opened(Opened {
            origin: Origin::Position,
            start_fen: line::fen(root.start()),
            past: past_as_uci(root),
            side,
            goal: Goal::Win,
            level,
            clock: None,
            write_every: None,
            seed,
            wall_ms: 0,
        }),
    };
    Game::open(&first).unwrap()
}

pub fn moved(mv: &Move, expected: Option<f64>) -> PlayoutEvent {
    PlayoutEvent::Moved {
        uci: line::uci(mv),
        expected,
    }
}

pub fn step(game: &mut Game, what: PlayoutEvent) {
    game.apply(&TimedPlayoutEvent { at_ms: 0, what }).unwrap();
}
