//! The foundations against published standards: perft counts, SAN, the Laws, the rating table. The
//! source stands in the header of each data file, or beside the check.

use foreply::board::{Line, Rule, line};
use foreply::judge::MoverScore;
use foreply::notation::{self, Reading};
use shakmaty::{CastlingMode, Position};

/// The lines of a data file without comments and blank lines, with their numbers.
fn data(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines()
        .enumerate()
        .map(|(n, l)| (n + 1, l))
        .filter(|(_, l)| !l.starts_with('#') && !l.trim().is_empty())
}

/// Leaves of the legal move tree, walked with `Line` (push and pop); at every node each move is written
/// in SAN and in UCI notation and must be read back as itself.
fn perft(line: &mut Line, depth: u32) -> u64 {
    let moves = line.position().legal_moves();
    if depth == 1 {
        return moves.len() as u64;
    }
    let mut leaves = 0;
    for mv in &moves {
        for text in [
            line::san(line.position(), mv),
            mv.to_uci(CastlingMode::Standard).to_string(),
        ] {
            let read = notation::resolve(&notation::parse(&text).unwrap(), line);
            assert_eq!(
                read,
                Reading::Legal(mv.clone()),
                "{text} in {}",
                line::fen(line.position())
            );
        }
        let key = line.key();
        line.push(mv).unwrap();
        leaves += perft(line, depth - 1);
        line.pop().unwrap();
        assert_eq!(line.key(), key);
    }
    leaves
}

#[test]
fn published_perft_counts_through_line_and_notation() {
    let mut checked = 0;
    for (number, text) in data(include_str!("data/perft.epd")) {
        let mut fields = text.split(';');
        let root = line::read_fen(fields.next().unwrap()).unwrap();
        for field in fields {
            let mut words = field
                .trim_start_matches('D')
                .split_whitespace()
                .map(|w| w.parse::<u64>().unwrap());
            let (depth, leaves) = (words.next().unwrap(), words.next().unwrap());
            if leaves <= 10_000 {
                let found = perft(&mut Line::new(root.clone()), u32::try_from(depth).unwrap());
                assert_eq!(found, leaves, "perft.epd line {number}, depth {depth}");
                checked += 1;
            }
        }
    }
    assert!(checked >= 18, "only {checked} counts checked");
}

#[test]
fn san_as_in_the_pgn_standard() {
    for (number, text) in data(include_str!("data/san-standard.tsv")) {
        let fields: Vec<&str> = text.split('\t').collect();
        let [fen, uci, san, section, shows] = fields[..] else {
            panic!("line {number} has no five fields")
        };
        let line = Line::new(line::read_fen(fen).unwrap());
        let Reading::Legal(mv) = notation::resolve(&notation::parse(uci).unwrap(), &line) else {
            panic!("line {number}: {uci} is not legal")
        };
        assert_eq!(
            line::san(line.position(), &mv),
            san,
            "line {number}, section {section}: {shows}"
        );
        assert_eq!(
            notation::resolve(&notation::parse(san).unwrap(), &line),
            Reading::Legal(mv),
            "line {number}: reading {san}"
        );
    }
}

/// The formula that turns centipawns into expected score is the logistic form of the rating curve; the
/// FIDE table is the normal form. They agree to .02 everywhere, and exactly enough to catch a wrong
/// base, divisor or sign.
#[test]
fn expected_score_against_the_fide_rating_table() {
    let mut rows = 0;
    for (number, text) in data(include_str!("data/fide-8-1-2.tsv")) {
        let fields: Vec<&str> = text.split('\t').collect();
        let [low, high, higher, lower] = fields[..] else {
            panic!("line {number} has no four fields")
        };
        let (low, higher, lower): (i32, f64, f64) = (
            low.parse().unwrap(),
            higher.parse().unwrap(),
            lower.parse().unwrap(),
        );
        let middle = high
            .parse::<i32>()
            .map_or(low, |high| i32::midpoint(low, high));
        let ours = MoverScore::from_centipawns(middle).value();
        assert!(
            (ours - higher).abs() <= 0.025,
            "line {number}: {middle} gives {ours}, the table {higher}"
        );
        assert!(
            (MoverScore::from_centipawns(-middle).value() - lower).abs() <= 0.025,
            "line {number}"
        );
        rows += 1;
    }
    assert!(rows >= 40);
}

fn after(fen: &str, moves: &str) -> Line {
    let mut line = Line::new(line::read_fen(fen).unwrap());
    for word in moves.split_whitespace() {
        let Reading::Legal(mv) = notation::resolve(&notation::parse(word).unwrap(), &line) else {
            panic!("{word} is not legal")
        };
        line.push(&mv).unwrap();
    }
    line
}

/// FIDE Laws of Chess in force from 1 January 2023, by article.
#[test]
fn the_laws_on_the_end_of_the_game() {
    let rooks = "r3k3/8/8/8/8/8/8/R3K3 w - - 0 1";
    let twice = "Ra2 Ra7 Ra1 Ra8 ";
    for (article, line, rule) in [
        (
            "5.1.1",
            after("k7/8/1K6/8/8/8/8/7R w - - 0 1", "Rh8"),
            Some(Rule::Checkmate),
        ),
        (
            "5.2.1",
            after("k7/8/K7/8/8/8/8/1R6 w - - 0 1", "Rb7"),
            Some(Rule::Stalemate),
        ),
        (
            "5.2.2",
            after("8/8/4k3/8/8/3KB3/8/8 w - - 0 1", ""),
            Some(Rule::DeadPosition),
        ),
        ("5.2.2", after("8/8/4k3/8/8/3KP3/8/8 w - - 0 1", ""), None),
        ("9.2.1", after(rooks, twice), None),
        (
            "9.2.1",
            after(rooks, &twice.repeat(2)),
            Some(Rule::Threefold),
        ),
        (
            "9.6.1",
            after(rooks, &twice.repeat(4)),
            Some(Rule::Fivefold),
        ),
        (
            "9.3.1",
            after("r3k3/8/8/8/8/8/8/R3K3 w - - 99 80", "Ra2"),
            Some(Rule::FiftyMoves),
        ),
        (
            "9.6.2",
            after("r3k3/8/8/8/8/8/8/R3K3 w - - 149 120", "Ra2"),
            Some(Rule::SeventyFiveMoves),
        ),
    ] {
        assert_eq!(line.rule(), rule, "article {article}");
    }
}

/// Article 9.2.3.1: a position in which a pawn could have been captured en passant is not the same
/// position afterwards. Only where the capture was possible at all.
#[test]
fn en_passant_makes_a_different_position_only_where_it_can_be_played() {
    let possible = after("4k3/8/8/8/3p4/8/4P3/4K3 w - - 0 1", "e4 Kd7 Kd1 Ke8 Ke1");
    assert_eq!(possible.occurrences(), 1);
    let impossible = after("4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", "e4 Kd7 Kd1 Ke8 Ke1");
    assert_eq!(impossible.occurrences(), 2);
}
