//! What the shipped collection is held to as a whole.

use std::collections::{BTreeMap, HashMap};

use shakmaty::{Color, Position};

use super::*;
use crate::board::{line, phase};

/// Every theme of the collection, with how many drills must have it at least.
const THEMES: &[(&str, usize)] = &[
    ("advantage", 30),
    ("attack", 60),
    ("back-rank", 4),
    ("bishop-sacrifice", 5),
    ("blockade", 1),
    ("candidates", 60),
    ("control", 100),
    ("counter-attack", 8),
    ("counter-sacrifice", 40),
    ("defence", 80),
    ("deflection", 5),
    ("desperado", 1),
    ("discovered-attack", 1),
    ("double-attack", 8),
    ("double-check", 3),
    ("ending", 15),
    ("exchange-sacrifice", 4),
    ("exposed-king", 4),
    ("interference", 1),
    ("intermezzo", 25),
    ("king-march", 5),
    ("knight-sacrifice", 4),
    ("ladder-1", 6),
    ("ladder-2", 6),
    ("ladder-3", 6),
    ("ladder-4", 6),
    ("mate", 25),
    ("opening", 60),
    ("opposition", 3),
    ("pawn-ending", 8),
    ("pawn-grab", 5),
    ("pawn-sacrifice", 1),
    ("perpetual", 5),
    ("pin", 5),
    ("promotion", 5),
    ("queen-sacrifice", 15),
    ("quiet-move", 100),
    ("retained-image", 1),
    ("rook-ending", 8),
    ("rook-sacrifice", 8),
    ("sacrifice", 40),
    ("stalemate-defence", 3),
    ("technique", 8),
    ("tempo", 5),
    ("trapped-piece", 4),
    ("underpromotion", 2),
    ("zugzwang", 7),
];

fn all() -> &'static [Drill] {
    builtin().unwrap()
}

/// The men and the side to move, as seen by the side to move, so that a position and its mirror image (colours
/// swapped, wings swapped) have one name.
fn placing(drill: &Drill) -> String {
    let position = drill.root.position();
    let mut board = position.board().clone();
    if position.turn() == Color::Black {
        board.flip_vertical();
        board.swap_colors();
    }
    let mut other = board.clone();
    other.flip_horizontal();
    let [one, other] = [board, other].map(|b| b.board_fen(shakmaty::Bitboard::EMPTY).to_string());
    one.min(other)
}

#[test]
fn no_position_stands_twice_even_mirrored() {
    let mut seen: HashMap<String, &str> = HashMap::new();
    let mut twice = Vec::new();
    for drill in all() {
        if let Some(first) = seen.insert(placing(drill), &drill.id) {
            twice.push(format!("{first} and {}", drill.id));
        }
    }
    assert!(twice.is_empty(), "{}", twice.join("\n"));
}

#[test]
fn the_themes_are_those_of_the_list() {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for theme in all().iter().flat_map(|d| &d.themes) {
        *counts.entry(theme).or_default() += 1;
    }
    let unknown: Vec<_> = counts
        .keys()
        .filter(|t| THEMES.iter().all(|(name, _)| name != *t))
        .collect();
    assert!(unknown.is_empty(), "{unknown:?}");
    for (theme, least) in THEMES {
        let found = counts.get(theme).copied().unwrap_or_default();
        assert!(found >= *least, "{theme}: {found}, wanted {least}");
    }
}

#[test]
fn the_spread_is_real() {
    let count = |holds: &dyn Fn(&Drill) -> bool| all().iter().filter(|d| holds(d)).count();
    let has = |d: &Drill, theme: &str| d.themes.iter().any(|t| t == theme);
    let total = all().len();
    assert!(total >= 240, "{total}");
    let black = count(&|d| d.root.player() == Color::Black);
    assert!(
        black * 3 >= total && black * 3 <= total * 2,
        "{black} of {total} with Black to move"
    );
    let controls = count(&|d| has(d, "control"));
    assert!(
        (total / 5..=total / 3).contains(&controls),
        "{controls} controls of {total}"
    );
    for phase in [
        phase::Phase::Opening,
        phase::Phase::Middlegame,
        phase::Phase::Ending,
    ] {
        let found = count(&|d| phase::of(d.root.position()) == phase);
        assert!(found >= 30, "{found} in the {}", phase.word());
    }
}

/// The year in which a drill was published: not later than 1969, and every source has one.
#[test]
fn every_source_has_a_year_before_1970() {
    for drill in all() {
        let digits: Vec<&str> = drill
            .source
            .split(|c: char| !c.is_ascii_digit())
            .filter(|w| w.len() == 4)
            .collect();
        let year = digits.iter().filter_map(|w| w.parse::<u32>().ok()).max();
        assert!(
            year.is_some_and(|y| (1400..1970).contains(&y)),
            "{}: {}",
            drill.id,
            drill.source
        );
        assert!(!drill.solution.is_empty(), "{}", drill.id);
        assert!(line::fen(drill.root.position()).contains(' '));
    }
}

/// A grade is at least what can be counted without a judge, and at most what the worst trap would make of it.
#[test]
fn the_grades_are_those_of_the_definition() {
    let mut counts: BTreeMap<Grade, usize> = BTreeMap::new();
    for drill in all() {
        let bound = |trap| grade::Measures::of(drill, trap).grade();
        let held = drill
            .grade
            .is_some_and(|g| (bound(0.0)..=bound(1.0)).contains(&g));
        assert!(held, "{}: {:?}", drill.id, drill.grade);
        *counts.entry(drill.grade.unwrap()).or_default() += 1;
    }
    assert!(
        counts.len() == 5 && counts.values().all(|n| *n >= 40),
        "{counts:?}"
    );
}

#[test]
fn grades_are_written_without_touching_anything_else() {
    let text = "# mine\n- id: a-b  # first\n  title: A\n  fen: 8/8/8/8/8/1k6/7r/K7 b - - 0 1\n  task: win\n  minutes: 5 # short\n  source: test\n  lines: [\"Rh1#\"]\n  grade: 5\n";
    let grade = Grade::try_from(2).unwrap();
    let graded = with_grades(text, &HashMap::from([("a-b".to_owned(), grade)]));
    assert_eq!(
        graded,
        text.replace("  grade: 5\n", "")
            .replace("# short\n", "# short\n  grade: 2\n")
    );
    assert_eq!(load(&graded, "x").unwrap()[0].grade, Some(grade));
    assert_eq!(with_grades(text, &HashMap::new()), text);
    assert_eq!(
        with_grades(&graded, &HashMap::from([("a-b".to_owned(), grade)])),
        graded
    );
}
