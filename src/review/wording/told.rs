//! A finding's moves and lines in words, with the numbers of the game, and what a line comes to.

use shakmaty::{Chess, Move, Position};

use super::material;
use super::pattern::{self, MatePattern};
use crate::board::{Line, Rule, line, motif};
use crate::review::model::evidence::{Evidence, Shown, ToldLine};
use crate::review::model::fault::Fault;
use crate::review::model::finding::Turn;
use crate::review::model::thresholds::LEVEL;
use crate::review::model::verdicts::standing;
use crate::text;
use crate::tree::{NodeId, Tree};

/// A written way through the tree, as '7.h3 h6 8.e3'.
pub(in super::super) fn path(tree: &Tree, sans: &[String]) -> String {
    line::numbered(tree.root().position(), sans)
}

/// A written move with its number; nothing for the root.
pub(in super::super) fn written(tree: &Tree, id: NodeId) -> String {
    let path = tree.sans(id);
    if id == NodeId::ROOT {
        return String::new();
    }
    let Some((last, before)) = path.split_last() else {
        return String::new();
    };
    // Whose move it is follows from how many stand before it, whether they can be played or not.
    let root = tree.root().position();
    let ahead = before.len() + usize::from(root.turn().is_black());
    let first = usize::try_from(root.fullmoves().get()).unwrap_or(usize::MAX);
    let dots = if ahead.is_multiple_of(2) { "." } else { "..." };
    format!("{}{dots}{last}", first.saturating_add(ahead / 2))
}

/// One move with its number, as '29...Nc2+'.
pub(super) fn one(pos: &Chess, mv: &Move) -> String {
    line::numbered(pos, &[line::san(pos, mv)])
}

pub(super) struct Told<'e>(pub &'e Evidence<'e>);

impl Told<'_> {
    pub(super) fn is_players_turn(&self) -> bool {
        self.0.line.is_players_turn()
    }

    pub(super) fn resource(&self) -> String {
        let resource = self.0.fault.resource();
        resource
            .map(|mv| one(self.0.line.position(), mv))
            .unwrap_or_default()
    }

    /// The move that led to the place; nothing at the root.
    pub(super) fn last_move(&self) -> String {
        written(self.0.tree, self.0.place)
    }

    /// The way to the place.
    pub(super) fn way(&self) -> String {
        path(self.0.tree, &self.0.tree.sans(self.0.place))
    }

    /// The moves that were written at the place.
    pub(super) fn written(&self) -> String {
        let all = self.0.written.iter().map(|id| {
            // By whichever way it was written, it is told for this place.
            let san = self.0.tree.san(*id);
            line::numbered(self.0.line.position(), &[san])
        });
        text::list(&all.collect::<Vec<_>>())
    }

    pub(super) fn choice(&self) -> String {
        let choice = self.0.choice.map(|c| written(self.0.tree, c));
        choice.unwrap_or_default()
    }

    /// The resource, set apart, then what proves it, and what it comes to.
    pub(super) fn argument(&self) -> String {
        let (first, _) = self.apart(self.0.told);
        let named = self.named().map_or_else(String::new, |n| format!(", {n}"));
        first + &named + &self.proof()
    }

    /// The pattern of the resource, where it has a name and the told line shows it.
    pub(super) fn named(&self) -> Option<String> {
        pattern::of_line(self.0.line, &self.0.told.moves)
    }

    /// The same without the resource itself: the beginning of the sentence names it.
    pub(super) fn proof(&self) -> String {
        let evidence = self.0;
        let Some(declined) = evidence.declined else {
            let (_, rest) = self.apart(evidence.told);
            let rest = if rest.is_empty() {
                rest
            } else {
                format!(": {rest}")
            };
            return format!("{rest}{}{}", self.outcome(evidence.told), self.more());
        };
        let (takes, not) = if self.is_players_turn() {
            (tr!("If he takes"), tr!("If he does not take"))
        } else {
            (tr!("If you take"), tr!("If you do not take"))
        };
        let ((_, taken), (_, rest)) = (self.apart(evidence.told), self.apart(declined));
        format!(
            ". {takes}: {taken}{} {not}: {rest}{}{}",
            self.outcome(evidence.told),
            self.outcome(declined),
            self.more()
        )
    }

    /// The first move of a line, and the others, numbered from there.
    fn apart(&self, told: &ToldLine) -> (String, String) {
        let pos = self.0.line.position();
        let sans = line::sans(pos, &told.moves);
        let Some((first, rest)) = sans.split_first() else {
            return (String::new(), String::new());
        };
        let mut next = pos.clone();
        if let Some(mv) = told.moves.first() {
            next.play_unchecked(mv);
        }
        let first = line::numbered(pos, &[first]);
        (first, line::numbered(&next, rest))
    }

    /// What a line comes to: how the game ends, or the material and the standing.
    fn outcome(&self, told: &ToldLine) -> String {
        let end = self.end(told);
        if let Some(words) = ended(&end) {
            return format!(", {words}.");
        }
        if told.shown == Shown::EndFollows {
            let won = told.truth > told.truth.of_opponent();
            let words = if won { tr!("he") } else { tr!("you") };
            return tr!(", and {words} cannot escape mate for long.");
        }
        let then = standing(told.truth);
        if told.shown == Shown::Repetition {
            let checks = pattern::is_perpetual_check(self.0.line, &told.moves);
            let how = if checks {
                // TRANSLATORS: behind a line of moves: 'and it is perpetual check'.
                tr!("it is perpetual check")
            } else {
                tr!("the position repeats")
            };
            return tr!(", and {how}. Then {then}.");
        }
        let (root, player) = (self.0.line.root(), self.0.line.player());
        let count = material::count_of(root, end.position(), player, told.truth);
        let net = material::net(root, end.position(), player, told.truth);
        let net = net.filter(|_| count != material::Count::InTheAir);
        let net = net.map_or_else(String::new, |w| format!("; {w}"));
        let corner = motif::wrong_bishop_corner(end.position())
            .filter(|_| LEVEL.contains(&told.truth.value()));
        let spite = match (corner, count) {
            (Some(corner), _) => {
                tr!(", for the bishop is the wrong one for the corner {corner}")
            }
            (None, material::Count::Outweighed) => tr!(", in spite of the material").to_owned(),
            (None, material::Count::Fits | material::Count::InTheAir) => String::new(),
        };
        tr!("{net}. Then {then}{spite}{}.", self.shade(told))
    }

    /// Where the same words stand for what was believed, which way it was off.
    fn shade(&self, told: &ToldLine) -> &'static str {
        let believed = self.0.believed;
        if standing(told.truth) != standing(believed) {
            return "";
        }
        let falls = told.truth < believed;
        match self.0.fault {
            Fault::MissedReply { .. }
            | Fault::MissedResource { .. }
            | Fault::MissedThreat { .. } => less_or_more(falls),
            Fault::EndOfLine { .. } | Fault::SeenMisjudged { .. } if falls => {
                tr!(", but you judged it too kindly")
            }
            Fault::EndOfLine { .. } | Fault::SeenMisjudged { .. } => {
                tr!(", and you judged it too harshly")
            }
            _ => "",
        }
    }

    fn end(&self, told: &ToldLine) -> Line {
        let mut end = self.0.line.clone();
        for mv in &told.moves {
            if end.push(mv).is_err() {
                break;
            }
        }
        end
    }

    /// What a quiet resource does to the side that has to answer it.
    fn more(&self) -> String {
        match (self.0.zugzwang, self.0.threat) {
            (Some(Turn::Player), _) => tr!(" After it every move of yours harms you.").to_owned(),
            (Some(Turn::Opponent), _) => tr!(" After it every move of his harms him.").to_owned(),
            (None, Some(threat)) => {
                let sans = line::sans(threat.from.position(), &threat.moves);
                let line = line::numbered_after_pass(threat.from.position(), &sans);
                tr!(" The threat is {line}.")
            }
            (None, None) => String::new(),
        }
    }
}

/// What a move makes of a standing that has the same words with it and without it.
pub(super) fn less_or_more(falls: bool) -> &'static str {
    if falls {
        tr!(", but you have less than without it")
    } else {
        tr!(", and you have more than without it")
    }
}

/// How the game is over at the end of a line, by rule alone.
fn ended(end: &Line) -> Option<String> {
    let player_to_move = end.position().turn() == end.player();
    let rule = end.rule().filter(|r| !r.is_claim())?;
    let (mated, own) = if player_to_move {
        (tr!("you are mated"), tr!("your"))
    } else {
        (tr!("he is mated"), tr!("his"))
    };
    Some(match rule {
        Rule::Checkmate => match pattern::of_mate(end.position()) {
            Some(MatePattern::BackRank) => tr!("and {mated} on the back rank"),
            Some(MatePattern::Smothered) => tr!("and {mated}, smothered by {own} own men"),
            None => tr!("and {mated}"),
        },
        rule => tr!("and it is {}: a draw", rule.words()),
    })
}
