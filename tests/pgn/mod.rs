//! PGN against the outside: what the PGN standard of 1994 says (section numbers beside each check, from
//! memory), and a published game.

mod reader;

use foreply::board::line::{fen, sans};
use foreply::tree::pgn::{Game, decode, games, write_game, write_tree, written_trees};
use foreply::tree::{Sign, Verdict};

/// P. Morphy against the Duke of Brunswick and Count Isouard, Paris 1858 (given in every collection
/// of his games; the score from memory). It has castling, disambiguation, checks and mate.
const PARIS_1858: &str = r#"[Event "Paris"]
[Site "Paris FRA"]
[Date "1858.??.??"]
[Round "?"]
[White "Morphy, Paul"]
[Black "Duke of Brunswick and Count Isouard"]
[Result "1-0"]

1. e4 e5 2. Nf3 d6 3. d4 Bg4 4. dxe5 Bxf3 5. Qxf3 dxe5 6. Bc4 Nf6 7. Qb3 Qe7 8.
Nc3 c6 9. Bg5 b5 10. Nxb5 cxb5 11. Bxb5+ Nbd7 12. O-O-O Rd8 13. Rxd7 Rxd7 14.
Rd1 Qe6 15. Bxd7+ Nxd7 16. Qb8+ Nxb8 17. Rd8# 1-0

"#;

fn read(text: &str) -> Game {
    games(text).next().unwrap().unwrap()
}

/// Section 3.2.2: export format is a fixed point. What is read from it and written is the same, byte
/// for byte.
#[test]
fn export_format_is_written_as_it_was_read() {
    assert_eq!(write_game(&read(PARIS_1858)), PARIS_1858);
}

/// The final position as known: the rook on d8 mates, the black king never moved.
#[test]
fn the_published_game_ends_in_its_known_position() {
    let game = read(PARIS_1858);
    assert_eq!(game.main_moves.len(), 33);
    let mut pos = game.start.clone();
    for mv in &game.main_moves {
        shakmaty::Position::play_unchecked(&mut pos, mv);
    }
    assert!(shakmaty::Position::is_checkmate(&pos));
    assert!(fen(&pos).starts_with("1n1Rkb1r/p4ppp/4q3/4p1B1/4P3/8/PPP2PPP/2K5 b"));
}

/// The same game without its export dress: long algebraic, engine style, digits, no checks, no `x`.
#[test]
fn import_format_gives_the_same_moves() {
    let wanted = read(PARIS_1858);
    let typed = "1.e2-e4 e7e5 2.g1f3 d6 3.d4 bg4 4.de5 B:f3 5.♕xf3 de5 6.Bc4 Nf6 7.Qb3 Qe7 8.Nc3 c6 9.Bg5 b5 \
                 10.Nb5 cb5 11.Bb5 Nbd7 12.0-0-0 Rd8 13.Rd7 Rd7 14.Rd1 Qe6 15.Bd7 Nd7 16.Qb8!! Nb8 17.Rd8 1-0";
    let game = read(typed);
    assert_eq!(game.main_moves, wanted.main_moves);
    assert_eq!(
        sans(&game.start, &game.main_moves),
        sans(&wanted.start, &wanted.main_moves)
    );
}

/// Section 10, the glyphs that judge a position: 10 to 12 drawish or level, 13 unclear, 14/15 slight,
/// 16/17 moderate, 18/19 decisive, 20/21 crushing advantage, white the even ones.
#[test]
fn glyphs_are_verdicts_by_the_numbers_of_the_standard() {
    let table = [
        (10, Some(Verdict::Sign(Sign::Level))),
        (11, Some(Verdict::Sign(Sign::Level))),
        (12, Some(Verdict::Sign(Sign::Level))),
        (13, Some(Verdict::Unclear)),
        (14, Some(Verdict::Sign(Sign::WhiteSlight))),
        (15, Some(Verdict::Sign(Sign::BlackSlight))),
        (16, Some(Verdict::Sign(Sign::WhiteClear))),
        (17, Some(Verdict::Sign(Sign::BlackClear))),
        (18, Some(Verdict::Sign(Sign::WhiteWins))),
        (19, Some(Verdict::Sign(Sign::BlackWins))),
        (20, Some(Verdict::Sign(Sign::WhiteWins))),
        (21, Some(Verdict::Sign(Sign::BlackWins))),
        (22, None),
        (1, None),
        (6, None),
    ];
    for (nag, verdict) in table {
        let game = read(&format!("1. e4 ${nag} *"));
        assert_eq!(game.moves[0].verdict, verdict, "${nag}");
        assert_eq!(game.moves[0].nags.is_empty(), verdict.is_some(), "${nag}");
    }
}

/// Section 8.2.3.8: `!` is $1, `?` $2, `!!` $3, `??` $4, `!?` $5, `?!` $6.
#[test]
fn suffix_annotations_are_the_glyphs_of_the_standard() {
    for (suffix, nag) in [
        ("!", 1),
        ("?", 2),
        ("!!", 3),
        ("??", 4),
        ("!?", 5),
        ("?!", 6),
    ] {
        assert_eq!(read(&format!("1. e4{suffix} *")).moves[0].nags, [nag]);
        assert_eq!(read(&format!("1. e4 {suffix} *")).moves[0].nags, [nag]);
    }
}

/// Section 5 and 6: a brace comment goes on over lines and does not nest, `;` goes to the end of the
/// line, `%` in the first column escapes it, elsewhere it does not.
#[test]
fn comments_and_escapes_are_those_of_the_standard() {
    let game = read("1. e4 {a { b\n% c} e5 ; d } 2. Nf3\n% 2. d4\n2. Nc3 *");
    let texts: Vec<&str> = game.moves.iter().map(|m| m.text.as_str()).collect();
    assert_eq!(texts, ["e4", "e5", "Nc3"]);
    assert_eq!(game.moves[0].comment, "a { b % c");
    assert_eq!(game.moves[1].comment, "d } 2. Nf3");
}

/// Section 4.1: ISO 8859-1; today's files are UTF-8.
#[test]
fn both_encodings_give_the_same_game() {
    let text = "[White \"Quillan, Tové\"]\n\n1. e4 {déjà vu} *\n";
    let latin: Vec<u8> = text
        .chars()
        .map(|c| u8::try_from(c as u32).unwrap())
        .collect();
    let one = decode(text.as_bytes());
    let other = decode(&latin);
    assert_eq!(read(&one), read(&other));
}

/// From game to written tree to file and back: nothing of the player's is lost on the way.
#[test]
fn what_was_written_in_a_game_survives_being_sent() {
    let notes = "1. e4 e5 2. Nf3 Nc6 3. Bc4 (3. Bb5 a6 (3... Nxe4 4. O-O {too greedy}) 4. Ba4 $14) \
                 (3. Qxf7+ Kxf7 $19 {I saw a queen on f3}) 3... Nf6 *";
    let trees = written_trees(&read(notes));
    assert_eq!(trees.len(), 1);
    let text = write_tree(&trees[0].tree, &[], trees[0].choice);
    let back = written_trees(&read(&text));
    assert_eq!(
        back[0].choice.map(|c| back[0].tree.san(c)),
        Some("Bc4".into())
    );
    let words = |w: &foreply::tree::pgn::Written| {
        let mut all: Vec<_> = w
            .tree
            .nodes()
            .map(|(id, n)| (w.tree.sans(id), n.verdict, n.comment.clone()))
            .collect();
        all.sort_by(|a, b| a.0.cmp(&b.0));
        all
    };
    assert_eq!(words(&back[0]), words(&trees[0]));
    assert!(text.contains("{Written, not legal: Qxf7+ Kxf7 $19 «I saw a queen on f3»}"));
}
