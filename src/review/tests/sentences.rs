//! The program reads every sentence it makes of some hundred trees that nobody chose, and holds it against the board.
//!
//! The judge is a small one of its own: material once captures run out, and a little noise, so that the trees are
//! full of mistakes. What a sentence says is read back from its words alone.

use shakmaty::{Chess, Color, Move, Position, Role};

use crate::board::{Line, exchange, line, sacrifice};
use crate::judge::{Answer, Basis, Judge, JudgeError, MoverScore, Question, Ranked};
use crate::review::tests::fixture::{Heard, input};
use crate::review::{Finding, FindingKind, FindingStatus, Review, Settings, review};
use crate::tree::{Author, NodeId, Tree, Verdict};

/// `FOREPLY_TREES=N` reads as many.
fn trees() -> u64 {
    let set = std::env::var("FOREPLY_TREES").ok();
    set.and_then(|n| n.parse().ok()).unwrap_or(120)
}

struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % n
    }
}

/// Counts the pieces once captures run out.
struct Counter;

impl Counter {
    fn worth(&self, line: &Line) -> f64 {
        if let Some(rule) = line.rule() {
            return rule
                .winner(line.turn())
                .map_or(0.5, |w| f64::from(u8::from(w == line.turn())));
        }
        let pos = line.position();
        let won = exchange::best_capture(pos).map_or(0, |(won, _)| won);
        let noise = i32::try_from(line.key() % 120).unwrap() - 60;
        MoverScore::from_centipawns((sacrifice::balance(pos, pos.turn()) + won) * 100 + noise)
            .value()
    }

    fn ranked(&self, line: &Line) -> Vec<(f64, Move)> {
        let legal = line.position().legal_moves();
        let mut all: Vec<(f64, Move)> = legal
            .iter()
            .map(|mv| (1.0 - self.worth(&line.child(mv).unwrap()), mv.clone()))
            .collect();
        all.sort_by(|a, b| b.0.total_cmp(&a.0));
        all
    }

    fn follow(&self, line: &Line, mv: &Move) -> Vec<Move> {
        let mut line = line.child(mv).unwrap();
        let mut moves = vec![mv.clone()];
        while moves.len() < 6 && line.rule().is_none() {
            let Some((_, next)) = self.ranked(&line).into_iter().next() else {
                break;
            };
            line.push(&next).unwrap();
            moves.push(next);
        }
        moves
    }
}

impl Judge for Counter {
    fn name(&self) -> String {
        "a counter".to_owned()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let answer = |q: &Question| {
            let over = q.line.rule().is_some_and(|r| !r.is_claim());
            let best = if over {
                Vec::new()
            } else {
                self.ranked(&q.line)
            };
            let moves: Vec<Ranked> = best
                .into_iter()
                .take(q.lines)
                .map(|(e, mv)| Ranked {
                    expected: MoverScore::new(e),
                    mate: None,
                    pv: self.follow(&q.line, &mv),
                    mv,
                })
                .collect();
            Answer {
                expected: moves
                    .first()
                    .map_or(MoverScore::new(self.worth(&q.line)), |m| m.expected),
                basis: Basis::Engine {
                    depth: 1,
                    nodes: q.nodes,
                },
                moves,
            }
        };
        Ok(questions.iter().map(answer).collect())
    }
}

/// A tree of moves that nobody chose, from a position that a game of such moves has reached.
fn tree(dice: &mut Dice) -> Tree {
    let mut root = Line::new(Chess::default());
    for _ in 0..12 + dice.below(30) {
        let legal = root.position().legal_moves();
        if legal.is_empty() {
            break;
        }
        root.push(&legal[dice.below(legal.len())].clone()).unwrap();
    }
    let mut tree = Tree::new(root.rooted_here());
    let mut nodes = vec![NodeId::ROOT];
    for _ in 0..14 {
        let at = nodes[dice.below(nodes.len())];
        let line = tree.line(at).unwrap();
        let legal = line.position().legal_moves();
        if legal.is_empty() || line.ply() > 5 {
            continue;
        }
        let san = line::san(line.position(), &legal[dice.below(legal.len())]);
        nodes.push(tree.add(at, &san, Author::Player, 0).unwrap());
    }
    for leaf in tree.leaves() {
        let verdict = Verdict::Percent(u8::try_from(dice.below(101)).unwrap());
        tree.set_verdict(leaf, Some(verdict)).unwrap();
    }
    tree
}

/// How a standing ranks, by its words.
const STANDINGS: [&str; 7] = [
    "you are lost",
    "you are clearly worse",
    "you are slightly worse",
    "the position is level",
    "you are slightly better",
    "you are clearly better",
    "you are winning",
];

fn rank(words: &str) -> Option<usize> {
    STANDINGS.iter().position(|s| words.starts_with(s))
}

fn after<'t>(text: &'t str, mark: &str) -> Option<&'t str> {
    text.split_once(mark).map(|(_, rest)| rest)
}

/// What the words of a material phrase say, pawns, pieces, rooks and queens, for the player.
fn vector(phrase: &str) -> [i32; 4] {
    let mut vector = [0; 4];
    let mine = if phrase.starts_with("you") { 1 } else { -1 };
    let (gains, costs) = phrase.split_once(" for ").unwrap_or((phrase, ""));
    for (text, sign) in [(gains, mine), (costs, -mine)] {
        let words: Vec<&str> = text.split([' ', ',']).collect();
        for pair in words.windows(2) {
            let n = match pair[0] {
                "a" | "the" | "one" => 1,
                "two" => 2,
                "three" => 3,
                "four" => 4,
                "five" => 5,
                _ => 0,
            };
            let kinds: &[(usize, i32)] = match pair[1].trim_end_matches('s') {
                "pawn" => &[(0, 1)],
                "piece" => &[(1, 1)],
                "rook" => &[(2, 1)],
                "queen" => &[(3, 1)],
                "exchange" => &[(2, 1), (1, -1)],
                _ => &[],
            };
            for (kind, times) in kinds {
                vector[*kind] += sign * n * times;
            }
        }
    }
    vector
}

fn counted(pos: &Chess, player: Color) -> [i32; 4] {
    let of = |side: Color| {
        let men = pos.board().material_side(side);
        let n = |role| i32::from(*men.get(role));
        [
            n(Role::Pawn),
            n(Role::Knight) + n(Role::Bishop),
            n(Role::Rook),
            n(Role::Queen),
        ]
    };
    let (mine, his) = (of(player), of(player.other()));
    std::array::from_fn(|i| mine[i] - his[i])
}

fn played(from: &Line, sans: &[String]) -> Line {
    let mut line = from.clone();
    for san in sans {
        let san: shakmaty::san::San = san.parse().unwrap();
        line.push(&san.to_move(line.position()).unwrap()).unwrap();
    }
    line
}

/// The sentence about the end of the told line, up to the standing.
fn material_phrase(sentence: &str) -> Option<&str> {
    let starts = ["; you are ", "; he is ", "; you have ", "; he has "];
    let at = starts.iter().filter_map(|s| sentence.find(s)).min()?;
    sentence[at + 2..].split('.').next()
}

/// Reads one finding; gives how many things it could hold against the board.
fn read(tree: &Tree, finding: &Finding) -> usize {
    let sentence = finding.sentence.as_str();
    let place = played(tree.root(), &finding.paths[0]);
    let end = played(&place, &finding.proof);
    let told = format!(
        "{}\n{sentence}\n{finding:#?}",
        line::fen(tree.root().position())
    );
    assert!(
        !sentence.contains("  ") && !sentence.contains(" .") && !sentence.contains(",."),
        "{told}"
    );
    let player = tree.root().player();
    let mut held = numbers(&place, finding, &told);
    // A bare choice is told without its proof.
    let is_told = finding.kind != FindingKind::BareCandidate && !finding.proof.is_empty();
    if finding.declined.is_empty() && is_told {
        let position = end.position();
        assert_eq!(
            sentence.contains(" mated"),
            position.is_checkmate(),
            "{told}"
        );
        assert_eq!(
            sentence.contains("stalemate"),
            position.is_stalemate(),
            "{told}"
        );
        if sentence.contains("repeats") || sentence.contains("perpetual") {
            assert!(end.occurrences() > 1, "{told}");
            held += 1;
        }
        held += named(finding, &told);
        if let Some(phrase) = material_phrase(sentence) {
            let (before, now) = (
                counted(tree.root().position(), player),
                counted(position, player),
            );
            if !phrase.contains("new") {
                let change: [i32; 4] = std::array::from_fn(|i| now[i] - before[i]);
                assert_eq!(vector(phrase), change, "{phrase}: {told}");
                if phrase.ends_with("up") {
                    assert_eq!(vector(phrase), now, "{phrase}: {told}");
                }
            }
            held += 1;
        }
        if let Some(standing) = after(sentence, "Then ").and_then(rank) {
            let pawns = |v: [i32; 4]| v[0] + 3 * v[1] + 5 * v[2] + 9 * v[3];
            let net =
                pawns(counted(position, player)) - pawns(counted(tree.root().position(), player));
            let fits = !(net <= -3 && standing >= 3 || net >= 3 && standing <= 3);
            let spites = [
                "in spite of the material",
                "is the wrong one for the corner",
            ];
            let says_so = spites.iter().any(|words| sentence.contains(words));
            // What is still in the air is not counted in words.
            let is_silent = material_phrase(sentence).is_none();
            let holds = if says_so { !fits } else { fits || is_silent };
            assert!(holds, "{net} pawns: {told}");
            held += 1;
        }
    }
    held + direction(finding, &told)
}

/// A pattern by name can be read from the moves that are told.
fn named(finding: &Finding, told: &str) -> usize {
    let own: Vec<&String> = finding.proof.iter().step_by(2).collect();
    let has = |words: &str| finding.sentence.contains(words);
    let later = |sign: char| own.iter().skip(1).any(|san| san.contains(sign));
    let mut held = 0;
    for (name, holds) in [
        (
            "perpetual check",
            own.iter().rev().take(2).all(|san| san.contains('+')),
        ),
        ("which traps", later('x')),
        ("a deflection of", later('x') || later('#')),
        ("which overloads", later('x') || later('#')),
        (
            "which takes the opposition",
            own.first().is_some_and(|san| san.starts_with('K')),
        ),
        (
            "an underpromotion",
            own.first().is_some_and(|san| san.contains('=')),
        ),
    ] {
        assert!(!has(name) || holds, "{name}: {told}");
        held += usize::from(has(name));
    }
    held
}

/// Every move of the proof stands in the sentence with its number.
fn numbers(place: &Line, finding: &Finding, told: &str) -> usize {
    let mut line = place.clone();
    // A bare choice is told without the proof.
    for (i, san) in
        finding
            .proof
            .iter()
            .enumerate()
            .take(if finding.kind == FindingKind::BareCandidate {
                1
            } else {
                99
            })
    {
        let number = line.position().fullmoves();
        let numbered = match line.turn() {
            Color::White => format!("{number}.{san}"),
            Color::Black if i < 2 => format!("{number}...{san}"),
            Color::Black => san.clone(),
        };
        assert!(finding.sentence.contains(&numbered), "{numbered}: {told}");
        line = played(&line, std::slice::from_ref(san));
    }
    finding.proof.len()
}

/// What is better must not be told with a lower standing than what it is better than.
fn direction(finding: &Finding, told: &str) -> usize {
    let sentence = finding.sentence.as_str();
    let then = after(sentence, "Then ").and_then(rank);
    let said = after(sentence, "You judged: ").and_then(rank);
    let mut held = 0;
    if let (Some(then), Some(with)) = (
        then,
        sentence
            .rsplit_once(" With ")
            .and_then(|(_, w)| rank(after(w, " ")?)),
    ) {
        assert!(then >= with, "{told}");
        held += 1;
    }
    if let (Some(then), Some(said), FindingKind::MissedCounterSacrifice) =
        (then, said, finding.kind)
    {
        let falls = then < said || then == said && sentence.contains("too kindly");
        assert!(falls, "{told}");
        held += 1;
    }
    if sentence.contains("Nothing bad happens") {
        assert!(then.is_none_or(|r| r >= 3), "{told}");
        held += 1;
    }
    held
}

/// The opening compares two standings: for the player's own moves the first is the better one, for the opponent's
/// the worse one.
fn opening(review: &Review) -> usize {
    let Some(first) = review.counted().next() else {
        assert!(
            review.opening.starts_with("Your tree holds"),
            "{}",
            review.opening
        );
        return 1;
    };
    let opening = review.opening.as_str();
    assert!(
        opening.starts_with("The decisive point: ") && opening.ends_with('.'),
        "{opening}"
    );
    let with = after(opening, "with it ").and_then(rank);
    let without = after(opening, "without it ").and_then(rank);
    if let (Some(with), Some(without)) = (with, without) {
        assert_ne!(with, without, "{opening}");
        match first.kind {
            FindingKind::MissedDefence
            | FindingKind::MissedThreat
            | FindingKind::MissedCounterSacrifice => {
                assert!(with < without, "{opening}");
            }
            FindingKind::MissedResource => assert!(with > without, "{opening}"),
            _ => {}
        }
        return 1;
    }
    let said = after(opening, "you judged: ").and_then(rank);
    let truth = after(opening, "in truth ").and_then(rank);
    assert!(
        said.is_none() == truth.is_none() && (said.is_none() || said != truth),
        "{opening}"
    );
    usize::from(said.is_some())
}

#[test]
fn no_sentence_contradicts_the_board_or_its_own_numbers() {
    let mut dice = Dice(7);
    let (mut findings, mut held, mut openings, mut early) = (0, 0, 0, 0);
    // Each is printed where it is found, so that one run shows them all.
    let mut wrong = 0;
    for _ in 0..trees() {
        let tree = tree(&mut dice);
        let mut heard = Heard::default();
        let review = review(&input(&tree), &Counter, &Settings::default(), &mut heard).unwrap();
        // What was told on the way is final, so that nobody has to tell it twice.
        assert_eq!(heard.told(), review.findings[..heard.findings.len()]);
        let opened = heard.opening.as_ref();
        assert!(opened.is_none_or(|(_, o)| *o == review.opening));
        early += heard.findings.len();
        openings += opening(&review);
        let mut seen = Vec::new();
        for finding in &review.findings {
            findings += 1;
            let reading = std::panic::AssertUnwindSafe(|| read(&tree, finding));
            match std::panic::catch_unwind(reading) {
                Ok(things) => held += things,
                Err(_) => wrong += 1,
            }
            if finding.class == FindingStatus::Counted {
                let mark = (&finding.paths[0], &finding.resource);
                assert!(!seen.contains(&mark), "told twice: {mark:?}");
                seen.push(mark);
            }
        }
    }
    assert_eq!(wrong, 0, "sentences that contradict the board");
    let counts = (findings, held, openings, early);
    assert!(
        findings > 150 && held > 600 && openings > 40 && early > 20,
        "{counts:?}"
    );
}
