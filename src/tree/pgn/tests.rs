use insta::assert_snapshot;
use proptest::prelude::*;
use shakmaty::Position;

use super::*;
use crate::board::{
    Line,
    line::{fen, read_fen},
};
use crate::notation::{Reading, parse, walks};
use crate::tree::{Author, NodeId, Sign, Tree};

fn only(text: &str) -> Game {
    let mut read = games(text);
    let game = read.next().unwrap().unwrap();
    assert!(read.next().is_none());
    game
}

fn error(text: &str) -> String {
    games(text)
        .find_map(Result::err)
        .map_or("no error".into(), |e| e.to_string())
}

/// A tree in one line: moves with verdict and words, alternatives in brackets, `?` behind what is not
/// legal, `*` before the choice. What is not legal comes last.
fn told(tree: &Tree, choice: Option<NodeId>) -> String {
    fn below(tree: &Tree, at: NodeId, choice: Option<NodeId>) -> String {
        let mut children: Vec<NodeId> = tree.standing(at).collect();
        children.sort_by_key(|c| (tree.legal(*c).is_none(), Some(*c) != choice));
        let told: Vec<String> = children.iter().map(|c| one(tree, *c, choice)).collect();
        match told.as_slice() {
            [] => String::new(),
            [one] => format!(" {one}"),
            many => many.iter().map(|m| format!(" ({m})")).collect(),
        }
    }
    fn one(tree: &Tree, id: NodeId, choice: Option<NodeId>) -> String {
        let node = tree.node(id).unwrap();
        let mark = if Some(id) == choice { "*" } else { "" };
        let text = match tree.legal(id) {
            Some(_) => tree.san(id),
            None => {
                let text: String = node.text.split_whitespace().collect();
                format!("{}?", text.trim_start_matches("12."))
            }
        };
        let verdict = node.verdict.map_or(String::new(), |v| format!(" {v}"));
        let words = match node.comment.as_str() {
            "" => String::new(),
            words => format!(" '{words}'"),
        };
        format!("{mark}{text}{verdict}{words}{}", below(tree, id, choice))
    }
    below(tree, NodeId::ROOT, choice).trim().to_owned()
}

fn written(text: &str) -> Vec<String> {
    written_trees(&only(text))
        .iter()
        .map(|w| format!("{}: {}", w.game_ply, told(&w.tree, w.choice)))
        .collect()
}

const TAGGED: &str = r#"[Event "Harrowmere Chess League"]
[Site "Harrowmere"]
[Date "2031.10.04"]
[Round "1"]
[White "Ansa Verrick"]
[Black "Doran Pell"]
[Result "1-0"]

1. e4 {[%clk 0:59:30] the usual} e5 2. Nf3 $1 Nc6 (2... d6 3. d4 exd4
(3... Bg4 $6 4. dxe5 $18) 4. Nxd4 $14 {enough for me}) (2... Nc6 3. Bb5 a6) 3. Bb5 1-0
"#;

#[test]
fn a_game_is_read() {
    let game = only(TAGGED);
    assert_eq!(game.tag("White"), Some("Ansa Verrick"));
    assert_eq!(game.result.as_deref(), Some("1-0"));
    assert_eq!(game.main_moves.len(), 5);
    assert_eq!(game.moves[0].clock_ms, Some(3_570_000));
    assert_eq!(game.moves[0].comment, "the usual");
    assert_eq!(game.moves[2].nags, [1]);
    assert_eq!((game.moves[0].line, game.moves[0].column), (9, 4));
    assert_eq!((game.moves[3].line, game.moves[3].column), (9, 47));
}

#[test]
fn variations_are_what_the_side_to_move_wrote() {
    assert_snapshot!(
        written(TAGGED).join("\n"),
        @"3: (*Nc6 Bb5 a6) (d6 d4 (exd4 Nxd4 +/= 'enough for me') (Bg4 dxe5 +-))"
    );
}

#[test]
fn every_position_with_variations_is_one_tree() {
    let trees = written_trees(&only(
        "1. e4 {[%clk 0:10:00]} (1. d4 d5) e5 {[%clk 0:09:00]} 2. Nf3 {[%clk 0:08:30]} (2. f4 exf4 (2... d5)) *",
    ));
    let told: Vec<String> = trees.iter().map(|w| told(&w.tree, w.choice)).collect();
    assert_eq!(told, ["(*e4) (d4 d5)", "(*Nf3) (f4 (exf4) (d5))"]);
    assert_eq!(trees[1].clock_before_ms, Some(600_000));
    assert_eq!(trees[1].clock_after_ms, Some(510_000));
    assert_eq!(trees[1].root().past().len(), 2);
    assert_eq!(trees[1].game_ply, 2);
}

/// The line of the Saavedra position that queens (F. Saavedra, Glasgow Weekly Citizen, 1895).
#[test]
fn a_game_with_a_position_is_one_tree() {
    let text = r#"[SetUp "1"]
[FEN "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1"]

1. c7 Rd6+ 2. Kb5 (2. Kc5 Rd1 $10) 2... Rd5+ 3. Kb4 Rd4+ 4. Kb3 Rd3+ 5. Kc2 Rd4 6. c8=Q $18
(1. Kc7) *"#;
    assert!(error(text).contains("no error"));
    assert_snapshot!(
        written(text).join("\n"),
        @"0: *c7 Rd6+ (Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4 (c8=Q +-) (Kc7?)) (Kc5 Rd1 =)"
    );
}

#[test]
fn a_move_that_is_not_legal_is_kept_in_a_variation() {
    let text = "1. e4 e5 2. Nf3 (2. Qxe5+ Ke7 3. Bc4) *";
    let trees = written_trees(&only(text));
    let phantom = trees[0]
        .tree
        .nodes()
        .find(|(_, n)| n.text == "Qxe5+")
        .unwrap()
        .1;
    assert!(matches!(phantom.reading, Reading::Phantom(_)));
    assert_eq!(
        told(&trees[0].tree, trees[0].choice),
        "(*Nf3) (Qxe5+? Ke7? Bc4?)"
    );
    let source = &only(text).moves[trees[0].source[1]];
    assert_eq!((source.line, source.column), (1, 21));
}

/// A main line that is a written line keeps it as well.
#[test]
fn a_move_that_is_not_legal_is_kept_in_a_written_main_line() {
    let text = "[FEN \"4k3/8/8/8/8/8/8/R3K3 w - - 0 1\"]\n\n1. Ra8+ Kd7 2. Rb1# Kd6 *";
    assert_eq!(written(text), ["0: *Ra8+ Kd7 Rb1#? Kd6?"]);
}

#[test]
fn import_format_is_read_leniently() {
    for text in [
        "1. e4 e5 2. Nf3 Nc6 *",
        "1.e4 e5 2.Nf3 Nc6 *",
        "1 e4 1... e5 2 Nf3 2... Nc6 *",
        "1. e2-e4 e7e5 2. ♘f3 nc6 *",
        "1. e4! e5?! 2. Nf3 !? Nc6 *",
        "1. e4 $1 e5 ; the rest ( { \n 2. Nf3 Nc6 *",
        "1. e4 e5\n\n2. Nf3 Nc6\n",
        "1. e4 e5\r\n2. Nf3\rNc6 *",
        "% escaped 1. d4\n1. e4 e5\n%\n2. Nf3 Nc6 *",
        "\u{FEFF}1. e4 = e5 += 2. Nf3 Nc6 +- *",
        "...e4 1…e5 2. Nf3 . . Nc6 *",
    ] {
        let game = only(text);
        let sans = crate::board::line::sans(&game.start, &game.main_moves);
        assert_eq!(sans, ["e4", "e5", "Nf3", "Nc6"], "{text}");
    }
    let game = only("1. e4!? e5?? 2. Nf3!! ± Nc6 *");
    assert_eq!(game.moves[0].nags, [5]);
    assert_eq!(game.moves[1].nags, [4]);
    assert_eq!(game.moves[2].nags, [3]);
    assert_eq!(game.moves[2].verdict, Some(Verdict::Sign(Sign::WhiteClear)));
}

#[test]
fn promotions_and_taking_in_passing_in_brackets_are_no_variations() {
    let text = "[FEN \"4k3/P7/8/3pP3/8/8/8/4K3 w - d6 0 1\"]\n\n1. exd6 (e.p.) Kd7 2. a8(Q)+ *";
    assert_eq!(written(text), ["0: *exd6 Kd7 a8=Q"]);
}

#[test]
fn tags_are_read_leniently() {
    let game =
        only("[White \"A \\\"Q\\\" \\\\ V\"]\n[Black \"D \"Q\" P\"] [ Round  \"2\" ]\n1. e4 *");
    assert_eq!(game.tag("White"), Some("A \"Q\" \\ V"));
    assert_eq!(game.tag("Black"), Some("D \"Q\" P"));
    assert_eq!(game.tag("Round"), Some("2"));
}

#[test]
fn a_bad_game_does_not_lose_the_next() {
    let text = "[Event \"one\"]\n\n1. e4 Zz9 2. d4 *\n\n[Event \"two\"]\n[Round \"1\"]\n\n1. d4 d5 *\n\n\
                [Event three]\n[Round \"1\"]\n\n1. c4 *\n\n[Event \"four\"]\n\n1. c4 {\n\n[Event \"five\"]\n\n1. Nf3 *";
    let read: Vec<Result<Game, PgnError>> = games(text).collect();
    let told: Vec<String> = read
        .iter()
        .map(|g| match g {
            Ok(g) => format!("{} {}", g.number, g.tag("Event").unwrap_or_default()),
            Err(e) => format!("{} line {}", e.game, e.line),
        })
        .collect();
    assert_eq!(
        told,
        ["1 line 3", "2 two", "3 line 10", "4 line 17", "5 five"]
    );
}

/// Every message of the reader.
#[test]
fn errors_say_where_and_why() {
    assert_snapshot!(error("1. e4 e5\n2. Zz9 *"), @"line 2, column 4 (game 1): 'Zz9': 'Z' does not begin a move; a piece letter (K Q R B N), a square or O-O does");
    assert_snapshot!(error("1. e4 e4 *"), @"line 1, column 7 (game 1): 'e4': not legal here: the pawn on e7 does not move like that");
    assert_snapshot!(error("1. d4 d5 2. Nf3 e6 3. Nd2 *"), @"line 1, column 23 (game 1): 'Nd2': can mean Nbd2 and Nfd2");
    assert_snapshot!(error("1. e4 -- *"), @"line 1, column 7 (game 1): '--': nobody passes in a game");
    assert_snapshot!(error("(1. e4) *"), @"line 1, column 1 (game 1): '(': a variation stands behind the move it is an alternative to");
    assert_snapshot!(error("1. e4 (1. d4 *"), @"line 1, column 15 (game 1): '(': the variation of line 1, column 7 is not closed");
    assert_snapshot!(error("1. e4) *"), @"line 1, column 6 (game 1): ')': no variation is open here");
    assert_snapshot!(error("1. e4 {never"), @"line 1, column 7 (game 1): '{': this comment is not closed");
    assert_snapshot!(error("1. e4 } *"), @"line 1, column 7 (game 1): '}': this sign has no meaning here");
    assert_snapshot!(error("1. e4 $999 *"), @"line 1, column 7 (game 1): '$999': a glyph is $0 to $255");
    assert_snapshot!(error("1. e4 $ *"), @"line 1, column 7 (game 1): '$': a glyph is $0 to $255");
    assert_snapshot!(error("[Event x]\n\n1. e4 *"), @r#"line 1, column 1 (game 1): '[Event x]': a tag is written [Name "value"] on one line"#);
    assert_snapshot!(error("[FEN \"8/8\"]\n\n1. e4 *"), @"line 1, column 1 (game 1): 'FEN': '8/8' is not a FEN position: invalid board part in fen");
    let fen = |rest: &str| error(&format!("[FEN \"4k3/8/8/8/8/8/8/4K3{rest}\"]\n\n1. Kd1 *"));
    assert_snapshot!(fen(" w - - 99999999999x 1"), @"line 1, column 1 (game 1): 'FEN': '4k3/8/8/8/8/8/8/4K3 w - - 99999999999x 1' is not a FEN position: the halfmove clock and the number of the move are whole numbers, and stand last");
    assert_snapshot!(fen(" w - - 3+3 0 1"), @"line 1, column 1 (game 1): 'FEN': '4k3/8/8/8/8/8/8/4K3 w - - 3+3 0 1' is not a FEN position: the halfmove clock and the number of the move are whole numbers, and stand last");
    assert_snapshot!(fen("[Q] w - - 0 1"), @"line 1, column 1 (game 1): 'FEN': '4k3/8/8/8/8/8/8/4K3[Q] w - - 0 1' is not a FEN position: men in hand belong to another game");
    assert_snapshot!(error(&format!("1. e4 {{{}}} *", "x".repeat(70_000))), @"line 1, column 7 (game 1): '{': this comment is not closed within 65536 bytes");
    let words = format!("{{{}}}", "x".repeat(40_000));
    assert_snapshot!(error(&format!("1. e4 {words} {words} *")), @"line 1, column 40010 (game 1): 'xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…': the words on one move are longer than 65536 bytes");
    let deep: String = (0..=NESTING_MAX).map(|_| "e4 (").collect();
    assert_snapshot!(error(&format!("e4 ({deep}")), @"line 1, column 804 (game 1): '(': variations are nested at most 200 deep");
    let long = "Nf3 Nf6 Ng1 Ng8 ".repeat(51);
    assert_snapshot!(error(&format!("e4 ({long})")), @"line 1, column 805 (game 1): 'Nf3': a written line holds at most 200 half-moves");
    let many = "(d4) ".repeat(MOVES_MAX);
    assert_snapshot!(error(&format!("e4 {many}")), @"line 1, column 50000 (game 1): 'd4': a game holds at most 10000 moves, variations included");
}

fn tree_of(root: &str, lines: &[&str]) -> Tree {
    let mut tree = Tree::new(Line::new(read_fen(root).unwrap()));
    for line in lines {
        let mut at = NodeId::ROOT;
        for text in line.split_whitespace() {
            at = tree.add(at, text, Author::Player, 0).unwrap();
        }
    }
    tree
}

fn node(tree: &Tree, text: &str) -> NodeId {
    tree.nodes().find(|(_, n)| n.text == text).unwrap().0
}

/// PGN standard 1994, 8.1.1 (order of tags), 8.2.1 (line length), 8.2.2.2 (a black move gets its number
/// after comments and variations), 9.7 (SetUp and FEN); from memory.
#[test]
fn a_tree_is_written_in_export_format() {
    let mut tree = tree_of(
        "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1",
        &[
            "Kc7 Kb2",
            "c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4 c8=Q",
            "c7 Rd6+ Kc5 Rd1 Rd8 Kb4",
            "c7 Rd2",
        ],
    );
    let end = node(&tree, "c8=Q");
    tree.set_verdict(end, Some(Verdict::Sign(Sign::WhiteWins)))
        .unwrap();
    tree.set_comment(
        end,
        "he cannot stop the queen: there is no check left and my king stands well",
    )
    .unwrap();
    let reply = node(&tree, "Rd2");
    tree.set_verdict(reply, Some(Verdict::Percent(90))).unwrap();
    let rd1 = node(&tree, "Rd1");
    tree.set_comment(rd1, "a brace } in words").unwrap();
    let phantom = node(&tree, "Rd8");
    tree.set_comment(phantom, "brace } and «this»").unwrap();
    let choice = node(&tree, "c7");
    let tags = [
        ("White".to_owned(), "Tove Quillan".to_owned()),
        ("Annotator".to_owned(), "Tove \"T\" Quillan".to_owned()),
    ];
    let text = write_tree(&tree, &tags, Some(choice));
    assert_snapshot!(text, @r#"
    [Event "?"]
    [Site "?"]
    [Date "????.??.??"]
    [Round "?"]
    [White "Tove Quillan"]
    [Black "?"]
    [Result "*"]
    [Annotator "Tove \"T\" Quillan"]
    [FEN "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1"]
    [SetUp "1"]

    1. c7 (1. Kc7 Kb2) 1... Rd6+ (1... Rd2 {I expect 90%.}) 2. Kb5 (2. Kc5 Rd1
    ; a brace } in words
    {Written, not legal: Rd8 «brace \) and \<this\>» Kb4}) 2... Rd5+ 3. Kb4 Rd4+ 4.
    Kb3 Rd3+ 5. Kc2 Rd4 6. c8=Q $18 {he cannot stop the queen: there is no check
    left and my king stands well} *
    "#);
    let back = &written_trees(&only(&text))[0];
    assert_eq!(told(&back.tree, back.choice), told(&tree, Some(choice)));
}

#[test]
fn a_choice_that_is_not_legal_and_none_at_all_come_back() {
    let tree = tree_of("4k3/8/8/8/8/8/8/R3K3 w - - 0 1", &["Ra8+ Kd7", "Rb5 Kd8"]);
    let phantom = node(&tree, "Rb5");
    let text = write_tree(&tree, &[], Some(phantom));
    assert!(
        text.contains("{Chosen, not legal: Rb5 Kd8} 1. Ra8+"),
        "{text}"
    );
    let back = &written_trees(&only(&text))[0];
    assert_eq!(told(&back.tree, back.choice), told(&tree, Some(phantom)));
    let text = write_tree(&tree, &[], None);
    assert!(text.contains("{No move chosen.}"), "{text}");
    let back = &written_trees(&only(&text))[0];
    assert_eq!(told(&back.tree, back.choice), told(&tree, None));
}

#[test]
fn a_game_is_written_as_it_was_read() {
    let text = write_game(&only(TAGGED));
    assert_snapshot!(text, @r#"
    [Event "Harrowmere Chess League"]
    [Site "Harrowmere"]
    [Date "2031.10.04"]
    [Round "1"]
    [White "Ansa Verrick"]
    [Black "Doran Pell"]
    [Result "1-0"]

    1. e4 {[%clk 0:59:30]} {the usual} 1... e5 2. Nf3 $1 Nc6 (2... d6 3. d4 exd4
    (3... Bg4 $6 4. dxe5 $18) 4. Nxd4 $14 {enough for me}) (2... Nc6 3. Bb5 a6) 3.
    Bb5 1-0
    "#);
    let again = only(&text);
    assert_eq!(write_game(&again), text);
    assert_eq!(again.main_moves, only(TAGGED).main_moves);
}

fn words() -> impl Strategy<Value = String> {
    // Words as a player writes them, with every sign that PGN treats as its own.
    proptest::collection::vec("[a-zé%;(){}\\[«»\\\\$!.0-9]{1,9}", 0..20).prop_map(|w| w.join(" "))
}

fn verdict() -> impl Strategy<Value = Option<Verdict>> {
    prop_oneof![
        3 => Just(None),
        1 => (10u8..20).prop_map(Verdict::from_nag),
        1 => (0u8..=100).prop_map(|p| Some(Verdict::Percent(p))),
    ]
}

type Step = (
    prop::sample::Index,
    prop::sample::Index,
    u8,
    String,
    Option<Verdict>,
);

/// A tree grown at random: each step adds a legal move, a move of any kind or a pass somewhere.
fn grown(root: &Line, steps: &[Step]) -> Tree {
    let mut tree = Tree::new(root.clone());
    for (at, pick, kind, words, verdict) in steps {
        let parent = NodeId(at.index(tree.len() + 1) as u32);
        let legal = tree.line(parent).map(|l| l.position().legal_moves());
        let text = match (kind % 8, legal) {
            (0..5, Some(moves)) if !moves.is_empty() => {
                let mv = &moves[pick.index(moves.len())];
                mv.to_uci(shakmaty::CastlingMode::Standard).to_string()
            }
            (5, _) => "--".to_owned(),
            _ => [
                "Nf3",
                "Qxh8#",
                "e8(Q)",
                "exd6 e.p.",
                "O-O",
                "Rb1",
                "12. Kd2",
            ][pick.index(7)]
            .to_owned(),
        };
        let node = tree.add(parent, &text, Author::Player, 0).unwrap();
        tree.set_verdict(node, *verdict).unwrap();
        tree.set_comment(node, words).unwrap();
    }
    tree
}

fn steps(most: usize) -> impl Strategy<Value = Vec<Step>> {
    let step = (
        any::<prop::sample::Index>(),
        any::<prop::sample::Index>(),
        any::<u8>(),
        words(),
        verdict(),
    );
    proptest::collection::vec(step, 0..most)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// What is written comes back, and keeps to the width.
    #[test]
    fn a_tree_comes_back(line in walks::line(20), grown_by in steps(30), pick in any::<Option<prop::sample::Index>>()) {
        let tree = grown(&line, &grown_by);
        let candidates: Vec<NodeId> = tree.standing(NodeId::ROOT).collect();
        let choice = pick.filter(|_| !candidates.is_empty()).map(|p| candidates[p.index(candidates.len())]);
        let text = write_tree(&tree, &[], choice);
        prop_assert!(text.lines().filter(|l| !l.starts_with('[')).all(|l| l.chars().count() < 80), "{}", text);
        let game = games(&text).next().unwrap();
        prop_assert!(game.is_ok(), "{:?}\n{}", game, text);
        let back = written_trees(&game.unwrap());
        match back.first() {
            Some(back) => {
                prop_assert_eq!(told(&back.tree, back.choice), told(&tree, choice), "{}", text);
                prop_assert_eq!(fen(back.tree.root().position()), fen(tree.root().position()));
            }
            None => prop_assert!(tree.is_empty()),
        }
    }

    /// No text makes the reader panic or stand still, and no bytes the decoder.
    #[test]
    fn any_text_is_read(text in any::<String>()) {
        prop_assert!(games(&text).count() <= text.len() + 1);
    }

    #[test]
    fn any_bytes_are_read(bytes in any::<Vec<u8>>()) {
        let text = decode(&bytes);
        prop_assert!(games(&text).count() <= text.len() + 1);
    }

    #[test]
    fn any_text_of_pgn_signs_is_read(text in "([\\[\\](){};%$*.!? \n\"\\\\«»]|1-0|e4|Nf6|\\[A \"b\"\\]|12|O-O|Written, not legal: ){0,60}") {
        for game in games(&text).flatten() {
            let trees = written_trees(&game);
            prop_assert!(trees.iter().all(|t| t.source.len() == t.tree.len()));
            let again = write_game(&game);
            prop_assert!(games(&again).next().is_some());
        }
    }
}

/// Hostile sizes take time in proportion: nothing here is quadratic or deep. No clock in the test; it
/// would not end.
#[test]
fn hostile_input_ends() {
    for piece in [
        "1. ",
        "(",
        "[A \"b\"]\n\n{",
        "{",
        "[",
        "$",
        ".",
        "% \n",
        "\r",
        "Written, not legal: ",
        ";",
        "e4 (",
    ] {
        let text = piece.repeat(200_000 / piece.len());
        assert!(games(&text).count() <= text.len());
    }
    assert!(parse("e4").is_ok());
}
