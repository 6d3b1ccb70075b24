//! How often the built-in engine tells won, drawn and lost endings apart, by material.
//!
//! `cargo bench --bench endings -- [--nodes N] [--positions N]` takes random legal positions of each material whose Syzygy
//! tables (R. de Man, 2013) lie in `tests/data/syzygy` and `tests/data/syzygy-results`, and holds the expected score after
//! a search of N nodes against the result that the tables give.
//!
//! A position is told right where a won one is above .75, a lost one below .25 and a drawn one between.

use std::path::Path;
use std::process::ExitCode;

use foreply::board::Line;
use foreply::judge::{EngineCommand, EngineJudge, Judge, Question, Settings};
use shakmaty::{CastlingMode, Chess, Color, Piece, Position, Role, Setup, Square};
use shakmaty_syzygy::{Tablebase, Wdl};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
/// The pawn anywhere, and on its seventh rank.
const CLASSES: [(&str, bool); 10] = [
    ("KQvK", false),
    ("KRvK", false),
    ("KPvK", false),
    ("KBNvK", false),
    ("KQvKQ", false),
    ("KQvKR", false),
    ("KQvKB", false),
    ("KQvKN", false),
    ("KQvKP", false),
    ("KQvKP", true),
];
/// Questions that are asked at once.
const AT_ONCE: usize = 200;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

fn run() -> Result<(), String> {
    let (nodes, positions) = (number("--nodes", 20_000)?, number("--positions", 1_000)?);
    let mut tables = Tablebase::new();
    for folder in ["syzygy", "syzygy-results"] {
        tables
            .add_directory(Path::new(ROOT).join("tests/data").join(folder))
            .map_err(|e| e.to_string())?;
    }
    let program = env!("CARGO_BIN_EXE_foreply");
    let command = EngineCommand::new(program, ["engine"]);
    let judge = EngineJudge::start(command, Settings::default()).map_err(|e| e.to_string())?;
    let mut dice = foreply::board::random::SplitMix(20_260_221);
    println!(
        "{nodes} nodes, {positions} positions each\n\nmaterial            won         drawn       lost        right"
    );
    for (class, seventh) in CLASSES {
        let chosen: Vec<(Chess, i8)> = (0..positions)
            .map(|_| position(class, seventh, &mut dice, &tables))
            .collect();
        let mut counts = [(0, 0); 3];
        for some in chosen.chunks(AT_ONCE) {
            let questions: Vec<Question> = some
                .iter()
                .map(|(chess, _)| Question {
                    line: Line::new(chess.clone()),
                    lines: 1,
                    nodes,
                })
                .collect();
            let answers = judge.answer(&questions).map_err(|e| e.to_string())?;
            for ((_, truth), answer) in some.iter().zip(answers) {
                let worth = answer.expected.value();
                let told = i8::from(worth > 0.75) - i8::from(worth < 0.25);
                let count = &mut counts[usize::from((1 - truth).unsigned_abs())];
                count.1 += 1;
                count.0 += u32::from(told == *truth);
            }
        }
        let right: u32 = counts.iter().map(|c| c.0).sum();
        let name = format!("{class}{}", if seventh { ", on the 7th" } else { "" });
        let [won, drawn, lost] = counts.map(|(right, of)| format!("{right}/{of}"));
        let share = f64::from(right) / positions as f64;
        println!("{name:<20}{won:<12}{drawn:<12}{lost:<12}{share:.3}");
    }
    Ok(())
}

fn number(name: &str, otherwise: u64) -> Result<u64, String> {
    let mut words = std::env::args().skip_while(|w| w != name).skip(1);
    match words.next() {
        None => Ok(otherwise),
        Some(word) => word
            .parse()
            .map_err(|_| format!("{name}: {word} is no number")),
    }
}

/// A random legal position of the material in which the game goes on, and its result for the side to move.
fn position(
    class: &str,
    seventh: bool,
    dice: &mut foreply::board::random::SplitMix,
    tables: &Tablebase<Chess>,
) -> (Chess, i8) {
    let (strong, weak) = class.split_once('v').unwrap_or((class, ""));
    let men: Vec<Piece> = [(strong, Color::White), (weak, Color::Black)]
        .into_iter()
        .flat_map(|(letters, color)| {
            letters
                .chars()
                .filter_map(Role::from_char)
                .map(move |role| Piece { color, role })
        })
        .collect();
    loop {
        let mut setup = Setup::empty();
        setup.turn = [Color::White, Color::Black][(dice.roll() % 2) as usize];
        for piece in &men {
            let mut square = Square::new((dice.roll() % 64) as u32);
            if seventh && piece.role == Role::Pawn {
                square = Square::from_coords(
                    square.file(),
                    piece
                        .color
                        .fold_wb(shakmaty::Rank::Seventh, shakmaty::Rank::Second),
                );
            }
            setup.board.set_piece_at(square, *piece);
        }
        let whole = setup.board.occupied().count() == men.len();
        let Ok(chess) = setup.position::<Chess>(CastlingMode::Standard) else {
            continue;
        };
        if !whole || chess.is_game_over() {
            continue;
        }
        // A position whose tables after a promotion are not at hand is another one's.
        if let Ok(wdl) = tables.probe_wdl_after_zeroing(&chess) {
            let result = match wdl {
                Wdl::Win => 1,
                Wdl::Loss => -1,
                _ => 0,
            };
            return (chess, result);
        }
    }
}
