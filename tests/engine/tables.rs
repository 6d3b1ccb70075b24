//! Three-man endings against the best defence and the best attack that complete tables know (R. de
//! Man's Syzygy tables, 2013; `tests/data/syzygy`), and mate distances against the same tables.

use std::path::Path;

use shakmaty::{
    CastlingMode, Chess, Color, EnPassantMode, Move, Piece, Position, Role, Setup, Square,
    fen::Fen, uci::UciMove,
};
use shakmaty_syzygy::Tablebase;

use super::{Dice, Engine, best, field, legal_line};

struct Truth(Tablebase<Chess>);

impl Truth {
    fn new() -> Truth {
        let mut base = Tablebase::new();
        base.add_directory(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/syzygy"))
            .unwrap();
        Truth(base)
    }

    /// Half-moves to the next capture or pawn move for the side to move: above 0 won, below lost. With
    /// a queen or rook against a bare king that is the distance to mate, rounded up by at most one.
    fn distance(&self, chess: &Chess) -> i32 {
        i32::from(self.0.probe_dtz(chess).unwrap().ignore_rounding())
    }

    /// The same, as White sees it.
    fn for_white(&self, chess: &Chess) -> i32 {
        self.distance(chess) * chess.turn().fold_wb(1, -1)
    }

    /// What Black does best: a draw if there is one, else the longest way.
    fn defence(&self, chess: &Chess) -> Move {
        let worth = |m: &Move| match self.distance(&after(chess, m)) {
            0 => i32::MAX,
            distance => distance,
        };
        chess.legal_moves().into_iter().max_by_key(worth).unwrap()
    }

    /// What troubles Black most in a drawn position: few replies that hold, then the pawn forward.
    fn attack(&self, chess: &Chess) -> Move {
        let trouble = |m: &Move| {
            let next = after(chess, m);
            let holds = |reply: &&Move| self.distance(&after(&next, reply)) == 0;
            let replies = next.legal_moves();
            (
                replies.iter().filter(holds).count(),
                m.role() != Role::Pawn,
                u32::from(m.to()),
            )
        };
        chess.legal_moves().into_iter().min_by_key(trouble).unwrap()
    }
}

fn after(chess: &Chess, m: &Move) -> Chess {
    let mut next = chess.clone();
    next.play_unchecked(m);
    next
}

/// A legal position of both kings and White's men, all on random squares.
pub fn start(dice: &mut Dice, men: &[Role], turn: Color) -> Chess {
    loop {
        let mut setup = Setup::empty();
        setup.turn = turn;
        let mut put = |role, color| {
            let square = Square::new(dice.below(64) as u32);
            setup.board.set_piece_at(square, Piece { color, role });
        };
        put(Role::King, Color::White);
        put(Role::King, Color::Black);
        for &role in men {
            put(role, Color::White);
        }
        let whole = setup.board.occupied().count() == men.len() + 2;
        match setup.position::<Chess>(CastlingMode::Standard) {
            Ok(chess) if whole && !chess.is_game_over() => return chess,
            _ => {}
        }
    }
}

pub fn fen_of(chess: &Chess) -> String {
    Fen::from_position(chess.clone(), EnPassantMode::Legal).to_string()
}

fn answer(engine: &Engine, game: &str, chess: &Chess, nodes: u32) -> Move {
    engine.send(&format!("position fen {game}"));
    engine.send(&format!("go nodes {nodes}"));
    let lines = engine.until("bestmove");
    let m = best(&lines).parse::<UciMove>().unwrap().to_move(chess);
    m.unwrap_or_else(|_| panic!("illegal: {game}: {lines:?}"))
}

/// One side plays from the tables, the engine the other; `check` sees each position.
fn play(
    engine: &Engine,
    first: &Chess,
    side: Color,
    from_tables: &dyn Fn(&Chess) -> Move,
    check: &dyn Fn(&Chess),
) -> (Chess, u32) {
    let mut chess = first.clone();
    let mut game = fen_of(&chess) + " moves";
    engine.send("ucinewgame");
    let mut plies = 0;
    while !chess.is_game_over() && chess.halfmoves() < 100 && plies < 120 {
        let m = if chess.turn() == side {
            answer(engine, &game, &chess, 5_000)
        } else {
            from_tables(&chess)
        };
        game += &format!(" {}", m.to_uci(CastlingMode::Standard));
        chess.play_unchecked(&m);
        check(&chess);
        plies += 1;
    }
    (chess, plies)
}

fn wins_from_random_starts(men: &[Role], count: usize, limit: u32, number: u64) {
    let (truth, engine) = (Truth::new(), Engine::start());
    let mut dice = Dice(number);
    let mut done = 0;
    while done < count {
        let turn = [Color::White, Color::Black][done % 2];
        let first = start(&mut dice, men, turn);
        if truth.for_white(&first) <= 0 {
            continue;
        }
        done += 1;
        let fen = fen_of(&first);
        let won = |chess: &Chess| assert!(truth.for_white(chess) > 0, "{fen}: no longer won");
        let (last, plies) = play(&engine, &first, Color::White, &|c| truth.defence(c), &won);
        assert!(
            last.is_checkmate(),
            "{fen}: no mate after {plies} half-moves"
        );
        let moves = plies.div_ceil(2);
        assert!(moves <= limit, "{fen}: {moves} moves");
    }
}

/// No mate takes longer than 10 moves against the best defence (complete tables, from memory); half as
/// much again is allowed, a position that is no longer won is not.
#[test]
fn queen_against_king_is_won() {
    wins_from_random_starts(&[Role::Queen], 20, 15, 1);
}

/// No mate takes longer than 16 moves (complete tables, from memory); half as much again.
#[test]
fn rook_against_king_is_won() {
    wins_from_random_starts(&[Role::Rook], 20, 24, 2);
}

/// No mate takes longer than 28 moves (complete tables, from memory); half as much again.
#[test]
fn pawn_against_king_is_won_where_the_tables_win() {
    wins_from_random_starts(&[Role::Pawn], 20, 42, 3);
}

#[test]
fn pawn_against_king_is_held_where_the_tables_draw() {
    let (truth, engine) = (Truth::new(), Engine::start());
    let mut dice = Dice(4);
    let mut done = 0;
    while done < 12 {
        let first = start(&mut dice, &[Role::Pawn], Color::Black);
        let held = truth.defence(&first);
        // A pawn that falls at once is no test.
        if truth.distance(&first) != 0 || held.is_capture() {
            continue;
        }
        done += 1;
        let fen = fen_of(&first);
        let drawn = |chess: &Chess| assert_eq!(truth.distance(chess), 0, "{fen}: lost");
        let attack = |chess: &Chess| truth.attack(chess);
        play(&engine, &first, Color::Black, &attack, &drawn);
    }
}

/// Moves to mate for White, who is to move or has just moved.
fn moves_to_mate(truth: &Truth, chess: &Chess) -> i32 {
    let plies = truth.distance(chess);
    if plies > 0 {
        (plies + 1) / 2
    } else {
        -plies / 2 + 1
    }
}

#[test]
fn mates_are_as_long_as_the_tables_say() {
    let (truth, engine) = (Truth::new(), Engine::start());
    let mut dice = Dice(5);
    let mut done = 0;
    while done < 24 {
        let role = [Role::Queen, Role::Rook][done % 2];
        let chess = start(&mut dice, &[role], Color::White);
        let moves = moves_to_mate(&truth, &chess);
        if truth.distance(&chess) <= 0 || moves > 4 {
            continue;
        }
        done += 1;
        let fen = fen_of(&chess);
        let lines = engine.search(&format!("fen {fen}"), "nodes 200000");
        let said = field(&lines, "score", 2);
        assert_eq!(said, ["mate", moves.to_string().as_str()], "{fen}");
        // The line shown is the mate: legal to its end, and at its end there is nothing left to play.
        let shown = lines.iter().rev().find(|l| l.contains(" pv ")).unwrap();
        let line = legal_line(&fen, shown);
        assert_eq!(line.len() as i32, 2 * moves - 1, "{fen}: {shown}");
        let end = line.iter().fold(chess, |c, m| after(&c, m));
        assert!(end.is_checkmate(), "{fen}: {shown}");
    }
}

/// Of several lines none promises more than the tables allow, the first is exact, and a mate in at most
/// three is seen as a mate in every line that has one (in later ones perhaps as a longer mate: late moves
/// are reduced).
#[test]
fn several_lines_promise_what_the_tables_allow() {
    let (truth, engine) = (Truth::new(), Engine::start());
    engine.send("setoption name MultiPV value 50");
    let mut dice = Dice(6);
    let mut done = 0;
    while done < 4 {
        let chess = start(&mut dice, &[Role::Queen], Color::White);
        if moves_to_mate(&truth, &chess) != 3 || truth.distance(&chess) < 0 {
            continue;
        }
        done += 1;
        let fen = fen_of(&chess);
        let lines = engine.search(&format!("fen {fen}"), "depth 9");
        let deepest: Vec<&String> = lines
            .iter()
            .filter(|l| l.starts_with("info depth 9 "))
            .collect();
        assert_eq!(deepest.len(), chess.legal_moves().len(), "{fen}");
        for line in deepest {
            let next = after(&chess, &legal_line(&fen, line)[0]);
            let real = match truth.distance(&next) {
                0 => None,
                _ => Some(moves_to_mate(&truth, &next)),
            };
            let said = line.split(" score mate ").nth(1);
            let said = said.map(|rest| rest.split(' ').next().unwrap().parse::<i32>().unwrap());
            match (said, real) {
                (Some(said), Some(real)) => assert!(said >= real, "{fen}: {line}"),
                (Some(_), None) => panic!("{fen}: a drawn move as a mate: {line}"),
                (None, real) => assert!(real.is_none_or(|r| r > 3), "{fen}: missed: {line}"),
            }
            if line.contains(" multipv 1 ") {
                assert_eq!(said, real, "{fen}: {line}");
            }
        }
    }
}
