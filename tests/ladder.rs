//! The ladder of positions to play out: what is known of them, and that they can be converted, but not by
//! moving at random.

use foreply::drill::{self, Drill, Proof, Task};
use foreply::playout::{Game, Level, Outcome};
use shakmaty::Chess;
use shakmaty_syzygy::{Tablebase, Wdl};

#[path = "support/played.rs"]
mod played;
#[path = "support/table_judge.rs"]
pub mod table_judge;

/// Positions of `cargo test`, from quick to convert: a pawn ending, a queen against a rook, a middlegame.
const SOME: [&str; 3] = ["ladder-07", "ladder-11", "ladder-15"];
/// Nodes of the perfect player's move, and the opponent's level, in `cargo test`.
const SMALL: (u64, u8) = (20_000, 3);
/// Moves of the player after which a game counts as not converted. The fifty-move rule may begin anew with
/// each capture and pawn move, so a game can last longer; none of a strong player has.
const MOST: usize = 150;

/// `FOREPLY_LADDER=NODES,LEVEL` plays all of them, so strongly.
fn asked() -> Option<(u64, u8)> {
    let text = std::env::var("FOREPLY_LADDER").ok()?;
    let (nodes, level) = text.split_once(',').expect("FOREPLY_LADDER=NODES,LEVEL");
    Some((nodes.parse().unwrap(), level.parse().unwrap()))
}

fn ladder() -> impl Iterator<Item = &'static Drill> {
    let all = drill::builtin().unwrap().iter();
    all.filter(|d| d.is_of_the_ladder())
}

/// What came of a game, in a row of the report.
fn told(drill: &Drill, who: &str, game: &Game) -> String {
    let end = game
        .end()
        .map_or("it goes on".to_owned(), |e| e.words(game.side()));
    let outcome = game.outcome().map_or("not won", Outcome::word);
    format!(
        "{:<10} {who:<8} {:>3} moves  {outcome}: {end}",
        drill.id,
        game.own_moves()
    )
}

/// Plays every drill with both players; the rows of those games that came out otherwise than they must.
fn wrong(drills: &[&Drill], (nodes, level): (u64, u8)) -> Vec<String> {
    let judge = table_judge::judge();
    let level = Level::try_from(level).unwrap();
    let mut wrong = Vec::new();
    for drill in drills {
        let mut perfect = |at: &_| played::best(&judge, at, nodes);
        let strong = played::played(&drill.root, level, &judge, MOST, &mut perfect);
        let weak = played::played(&drill.root, level, &judge, MOST, &mut |at| {
            played::random(at, 8)
        });
        for (who, game, must) in [("engine", strong, true), ("random", weak, false)] {
            let row = told(drill, who, &game);
            println!("{row}");
            if drill.task == Task::Win && (game.outcome() == Some(Outcome::Won)) != must {
                wrong.push(row);
            }
        }
    }
    wrong
}

/// Won positions are won by a scripted strong player and not by one who moves at random. Those of the last
/// step ('slight but lasting') are played and told, but not held to a result.
#[test]
fn won_positions_are_converted_and_not_by_chance() {
    let all: Vec<&Drill> = ladder().collect();
    let wrong = match asked() {
        Some(strength) => wrong(&all, strength),
        None => {
            let some: Vec<&Drill> = all
                .into_iter()
                .filter(|d| SOME.contains(&d.id.as_str()))
                .collect();
            assert_eq!(some.len(), SOME.len());
            wrong(&some, SMALL)
        }
    };
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The tables that are test data: three men, and the results of those four-men endings that the ladder has.
fn results() -> Tablebase<Chess> {
    let mut tables = Tablebase::new();
    for dir in ["syzygy", "syzygy-results"] {
        let dir = format!("{}/tests/data/{dir}", env!("CARGO_MANIFEST_DIR"));
        tables.add_directory(dir).unwrap();
    }
    tables
}

/// Each says by what the position is known: by table, which is proved here, or by deep search.
#[test]
fn every_position_says_what_proves_it() {
    let tables = results();
    let (mut by_table, mut by_search) = (0, 0);
    for drill in ladder() {
        match drill.known_by {
            Some(Proof::Table) => {
                by_table += 1;
                let result = tables
                    .probe_wdl_after_zeroing(drill.root.position())
                    .unwrap();
                assert_eq!((result, drill.task), (Wdl::Win, Task::Win), "{}", drill.id);
            }
            Some(Proof::Search) => by_search += 1,
            None => panic!("{}: nothing says what proves it", drill.id),
        }
    }
    assert_eq!((by_table, by_search), (4, 20));
}
