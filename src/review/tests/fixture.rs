//! A judge whose answers are given, trees from lines, and reviews that are always made twice: as given, and
//! with the board turned over and the colours swapped.

use std::collections::BTreeMap;

use shakmaty::{Chess, Color, Position, san::San};

use super::super::{
    Credit, Finding, FindingKind, FindingStatus, Review, ReviewInput, ReviewObserver, Settings,
    review,
};
use crate::attempt::Attempt;
use crate::board::{Line, line};
use crate::judge::{Answer, Basis, Judge, JudgeError, MoverScore, Question, Ranked};
use crate::tree::{Author, NodeId, Tree, Verdict};

/// A position made for these tests: everything quiet, White a bishop ahead (the worth is given, not counted).
pub(crate) const QUIET: &str = "r1bq1rk1/ppp2ppp/2n2n2/3pp3/8/3P1NP1/PPP1PPBP/RNBQ1RK1 w - - 0 7";
/// R. Reti - S. Tartakower, Vienna 1910 (R. Reti, Modern Ideas in Chess, 1923).
pub(crate) const RETI_TARTAKOWER: &str =
    "rnb1kb1r/pp3ppp/2p2n2/4q3/4N3/3Q4/PPPB1PPP/2KR1BNR b kq - 1 8";

/// A judge that knows the worth, for the player, of the ends of some lines; everything else is the
/// best of what is known below it, or as good as the position before. A line that begins with `--`
/// is what would follow if the player passed.
pub(crate) struct Fixed {
    ends: BTreeMap<Vec<String>, f64>,
    player: Color,
    /// The root, and the root after a pass: lines from anywhere else it does not know.
    roots: [String; 2],
    /// What positions after some other pass are worth to the side to move, by the board and turn of their
    /// FEN. An unknown one is won: who may move twice wins.
    passes: BTreeMap<String, f64>,
}

fn board(pos: &Chess) -> String {
    line::fen(pos)
        .split(' ')
        .take(2)
        .collect::<Vec<_>>()
        .join(" ")
}

impl Fixed {
    pub(crate) fn new(root: &Line, ends: &[(&str, f64)]) -> Self {
        let passed = root.position().clone().swap_turn().map(|p| board(&p));
        Self {
            ends: ends.iter().map(|(path, e)| (words(path), *e)).collect(),
            player: root.player(),
            roots: [board(root.position()), passed.unwrap_or_default()],
            passes: BTreeMap::new(),
        }
    }

    fn path(&self, line: &Line) -> Vec<String> {
        let passed = (line.player() != self.player).then(|| "--".to_owned());
        passed.into_iter().chain(line.sans()).collect()
    }

    fn next(&self, line: &Line) -> Vec<String> {
        let path = self.path(line);
        let below = self
            .ends
            .keys()
            .filter(|k| k.len() > path.len() && k.starts_with(&path));
        let mut moves: Vec<String> = below
            .map(|k| k[path.len()].clone())
            .filter(|m| m != "--")
            .collect();
        moves.dedup();
        moves
    }

    /// Worth for the player, and the line that shows it.
    fn worth(&self, line: &Line) -> (f64, Vec<shakmaty::Move>) {
        if let Some(rule) = line.rule() {
            let won = |w| f64::from(u8::from(w == self.player));
            return (rule.winner(line.turn()).map_or(0.5, won), Vec::new());
        }
        let mut best: Option<(f64, Vec<shakmaty::Move>)> = None;
        for san in self.next(line) {
            let mv = legal(line, &san);
            let (e, rest) = self.worth(&line.child(&mv).unwrap());
            let better = |b: f64| {
                if line.turn() == self.player {
                    e > b
                } else {
                    e < b
                }
            };
            if best.as_ref().is_none_or(|(b, _)| better(*b)) {
                best = Some((e, std::iter::once(mv).chain(rest).collect()));
            }
        }
        best.unwrap_or_else(|| {
            let known = self.ends.get(&self.path(line)).copied();
            (known.unwrap_or_else(|| self.before(line)), Vec::new())
        })
    }

    /// A move nobody speaks of changes nothing.
    fn before(&self, line: &Line) -> f64 {
        let mut before = line.clone();
        before.pop().map_or(0.5, |_| self.worth(&before).0)
    }

    fn ranked(&self, line: &Line, mv: shakmaty::Move) -> Ranked {
        let (e, rest) = self.worth(&line.child(&mv).unwrap());
        let pv: Vec<shakmaty::Move> = std::iter::once(mv.clone()).chain(rest).collect();
        let mate = mate(line, &pv);
        Ranked {
            mv,
            expected: self.own(line, e),
            mate,
            pv,
        }
    }

    fn own(&self, line: &Line, e: f64) -> MoverScore {
        MoverScore::new(if line.turn() == self.player {
            e
        } else {
            1.0 - e
        })
    }

    fn answer_one(&self, q: &Question) -> Answer {
        let root = board(q.line.root());
        if !self.roots.contains(&root) {
            return Answer {
                expected: MoverScore::new(self.passes.get(&root).copied().unwrap_or(1.0)),
                basis: Basis::Engine {
                    depth: 1,
                    nodes: q.nodes,
                },
                moves: Vec::new(),
            };
        }
        let (e, pv) = self.worth(&q.line);
        let others = self
            .next(&q.line)
            .into_iter()
            .map(|san| legal(&q.line, &san));
        let mut moves: Vec<Ranked> = Vec::new();
        for mv in pv.first().cloned().into_iter().chain(others) {
            if moves.len() < q.lines && moves.iter().all(|m| m.mv != mv) {
                moves.push(self.ranked(&q.line, mv));
            }
        }
        let basis = Basis::Engine {
            depth: 1,
            nodes: q.nodes,
        };
        Answer {
            expected: self.own(&q.line, e),
            basis,
            moves,
        }
    }
}

/// Moves to mate where the line ends in it: negative where the side to move is mated.
fn mate(line: &Line, pv: &[shakmaty::Move]) -> Option<i32> {
    let mut end = line.clone();
    for mv in pv {
        end.push(mv).unwrap();
    }
    let moves = i32::try_from(pv.len().div_ceil(2)).unwrap();
    let mated = end.rule() == Some(crate::board::Rule::Checkmate);
    mated.then_some(if end.turn() == line.turn() {
        -moves
    } else {
        moves
    })
}

impl Judge for Fixed {
    fn name(&self) -> String {
        "a table".to_owned()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        Ok(questions.iter().map(|q| self.answer_one(q)).collect())
    }
}

fn legal(line: &Line, san: &str) -> shakmaty::Move {
    san.parse::<San>()
        .unwrap()
        .to_move(line.position())
        .unwrap_or_else(|e| panic!("{san}: {e}"))
}

pub(crate) fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}

/// A tree from lines; a verdict may stand as the last word of a line.
pub(crate) fn tree(fen: &str, lines: &[&str]) -> Tree {
    let mut tree = Tree::new(Line::new(line::read_fen(fen).unwrap()));
    for text in lines {
        let mut at = NodeId::ROOT;
        for word in text.split_whitespace() {
            match Verdict::parse(word) {
                Ok(verdict) => tree.set_verdict(at, Some(verdict)).unwrap(),
                Err(_) => at = tree.add(at, word, Author::Player, 0).unwrap(),
            }
        }
    }
    tree
}

/// A tree as notes are reviewed, its first candidate being the choice.
pub(crate) fn input(tree: &Tree) -> ReviewInput<'_> {
    ReviewInput {
        tree,
        choice: tree.children(NodeId::ROOT).first().copied(),
        attempt: None,
        ply_in_game: None,
    }
}

/// What a review tells before it is whole, each with the number of questions that had been answered then.
#[derive(Default)]
pub(crate) struct Heard {
    pub progress: Vec<(usize, usize)>,
    pub opening: Option<(usize, String)>,
    pub right: Option<(usize, Vec<Credit>)>,
    pub findings: Vec<(usize, Finding)>,
}

impl Heard {
    pub(crate) fn answered(&self) -> usize {
        self.progress.last().map_or(0, |p| p.0)
    }

    /// Those that were told before what held was known.
    pub(crate) fn ahead(&self) -> usize {
        let right = self.right.as_ref().map_or(usize::MAX, |r| r.0);
        self.findings.iter().filter(|(at, _)| *at < right).count()
    }

    pub(crate) fn told(&self) -> Vec<Finding> {
        self.findings.iter().map(|(_, f)| f.clone()).collect()
    }
}

impl ReviewObserver for Heard {
    fn progress(&mut self, answered: usize, asked: usize) {
        self.progress.push((answered, asked));
    }

    fn right(&mut self, right: &[Credit]) {
        self.right = Some((self.answered(), right.to_vec()));
    }

    fn opening(&mut self, opening: &str) {
        assert!(self.findings.is_empty() && self.opening.is_none());
        self.opening = Some((self.answered(), opening.to_owned()));
    }

    fn finding(&mut self, finding: &Finding) {
        self.findings.push((self.answered(), finding.clone()));
    }
}

/// The review of a tree whose choice is its first candidate. The same tree with the colours swapped must
/// give the same review, sentence for sentence.
pub(crate) fn reviewed(tree: &Tree, ends: &[(&str, f64)]) -> Review {
    reviewed_with(tree, ends, &[])
}

/// The same, where positions after a pass are known: board and turn as in FEN, worth for the side to move.
pub(crate) fn reviewed_with(tree: &Tree, ends: &[(&str, f64)], passes: &[(&str, f64)]) -> Review {
    let known = |fen: &str| fen.to_owned();
    let there = passes.iter().map(|(f, e)| (known(f), *e)).collect();
    let review = by_judge(tree, ends, there, None);
    let turned: Vec<(String, f64)> = ends.iter().map(|(p, e)| (turn(p), *e)).collect();
    let turned: Vec<(&str, f64)> = turned.iter().map(|(p, e)| (p.as_str(), *e)).collect();
    let turned_board = |f: &str| {
        let fen = turned_fen(&format!("{f} - - 0 1"));
        fen.split(' ').take(2).collect::<Vec<_>>().join(" ")
    };
    let there = passes.iter().map(|(f, e)| (turned_board(f), *e)).collect();
    let other = by_judge(&turned_tree(tree), &turned, there, None);
    assert_eq!(
        told(&review),
        turn(&told(&other)),
        "the colours make a difference"
    );
    review
}

pub(crate) fn one_sided(tree: &Tree, ends: &[(&str, f64)], attempt: Option<&Attempt>) -> Review {
    by_judge(tree, ends, BTreeMap::new(), attempt)
}

fn by_judge(
    tree: &Tree,
    ends: &[(&str, f64)],
    passes: BTreeMap<String, f64>,
    attempt: Option<&Attempt>,
) -> Review {
    let written = ReviewInput {
        attempt,
        ..input(tree)
    };
    let judge = Fixed {
        passes,
        ..Fixed::new(tree.root(), ends)
    };
    review(&written, &judge, &Settings::default(), &mut |_, _| {}).unwrap()
}

/// Everything in a review but the position it is of.
fn told(review: &Review) -> String {
    let review = Review {
        root: String::new(),
        ..review.clone()
    };
    without_numbers(&format!("{review:#?}"))
}

/// The text without the numbers of moves: with the colours swapped they are others.
pub(crate) fn without_numbers(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, from) = rest.split_at(at);
        let digits = from
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(from.len());
        let after = &from[digits..];
        let dots = after.len() - after.trim_start_matches('.').len();
        let is_number = matches!(dots, 1 | 3)
            && after[dots..]
                .starts_with(|c: char| matches!(c, 'a'..='h' | 'N' | 'B' | 'R' | 'Q' | 'K' | 'O'));
        out.push_str(before);
        let kept = if is_number { "" } else { &from[..digits] };
        out.push_str(kept);
        rest = if is_number { &after[dots..] } else { after };
    }
    out + rest
}

/// The same text with the board turned over: the number of every square's rank, and that by which a
/// piece is told from its twin.
pub(crate) fn turn(text: &str) -> String {
    let mut before = ' ';
    let mut out = String::new();
    for c in text.chars() {
        let is_square = matches!(before, 'a'..='h' | 'N' | 'B' | 'R' | 'Q' | 'K');
        out.push(match c.to_digit(10) {
            Some(rank @ 1..=8) if is_square => char::from_digit(9 - rank, 10).unwrap_or(c),
            _ => c,
        });
        before = c;
    }
    out
}

/// The same tree with the board turned over and the colours swapped.
pub(crate) fn turned_tree(tree: &Tree) -> Tree {
    let fen = line::fen(tree.root().position());
    let mut turned = Tree::new(Line::new(line::read_fen(&turned_fen(&fen)).unwrap()));
    for (id, node) in tree.nodes() {
        let parent = tree.parent(id).unwrap();
        let twin = turned
            .add(parent, &turn(&node.text), node.author, node.at_ms)
            .unwrap();
        assert_eq!(twin, id);
        turned.set_verdict(id, node.verdict.map(swapped)).unwrap();
        turned.set_comment(id, &node.comment).unwrap();
        turned.set_only(id, node.only).unwrap();
    }
    turned
}

fn swapped(verdict: Verdict) -> Verdict {
    match verdict {
        Verdict::Sign(sign) => {
            let text = Verdict::Sign(sign).to_string();
            let swap = |c| match c {
                '+' => '-',
                '-' => '+',
                c => c,
            };
            [text.clone(), text.chars().map(swap).collect(), text.chars().rev().collect()]
                .iter()
                .filter_map(|t| Verdict::parse(t).ok())
                .find(|v| matches!(v, Verdict::Sign(s) if s.steps_for(Color::White) == -sign.steps_for(Color::White)))
                .unwrap()
        }
        other => other,
    }
}

fn turned_fen(fen: &str) -> String {
    let swap = |c: char| {
        if c.is_uppercase() {
            c.to_ascii_lowercase()
        } else {
            c.to_ascii_uppercase()
        }
    };
    let fields: Vec<&str> = fen.split(' ').collect();
    let ranks: Vec<String> = fields[0]
        .rsplit('/')
        .map(|r| r.chars().map(swap).collect())
        .collect();
    let mut castling: Vec<char> = fields[2].chars().map(swap).collect();
    castling.sort_unstable();
    let turn_of = if fields[1] == "w" { "b" } else { "w" };
    let castling: String = castling.into_iter().collect();
    format!(
        "{} {turn_of} {castling} {} {} {}",
        ranks.join("/"),
        turn(fields[3]),
        fields[4],
        fields[5]
    )
}

pub(crate) fn first(review: &Review) -> (FindingKind, FindingStatus, &str) {
    let finding = review.findings.first().expect("a finding");
    (finding.kind, finding.class, &finding.sentence)
}
