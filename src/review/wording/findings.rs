//! Findings in sentences, and the question that belongs to each.

use shakmaty::{Move, Position};

use super::{illegal_move, material};
use crate::board::sacrifice::Gives;
use crate::board::{Line, Rule, line, motif};
use crate::review::model::evidence::Evidence;
use crate::review::model::fault::{ChoiceCause, EndError, Fault, HeldBack};
use crate::review::model::finding::{FindingKind, Sacrifice, Turn};
use crate::review::model::verdicts::standing;
use crate::text;
use crate::tree::NodeId;

/// The finding in plain sentences.
pub(in super::super) fn sentence(evidence: &Evidence<'_>) -> String {
    let told = Told(evidence);
    let sentence = match evidence.fault {
        Fault::MissedCandidate { equal, .. } => told.missed_candidate(equal),
        Fault::WrongChoice { cause, .. } => told.wrong_choice(*cause),
        Fault::MissedResource { .. } => told.missed_resource(),
        Fault::MissedReply { .. } => told.missed_reply(),
        Fault::EndOfLine {
            error: EndError::SeenMisjudged,
            gives_up: false,
            ..
        }
        | Fault::SeenMisjudged { .. } => told.seen_misjudged(),
        Fault::EndOfLine {
            error: EndError::Misjudged,
            gives_up: false,
            ..
        } => told.misjudged(),
        Fault::EndOfLine { .. } => told.stopped_short(),
        Fault::GameOver => told.game_over(),
        Fault::FearedReply { .. } => told.feared_too_much(),
        Fault::MissedThreat { .. } => told.missed_threat(),
        Fault::IllegalMove { node, meant } => {
            illegal_move::sentence(evidence, *node, meant.as_ref())
        }
        Fault::FalseMate { .. } => told.false_mate(),
        Fault::BareCandidate { .. } => told.bare_candidate(),
    };
    sentence + held_back(evidence.held_back)
}

/// Why a true finding is not counted, as a sentence after it.
fn held_back(why: Option<HeldBack>) -> &'static str {
    match why {
        Some(HeldBack::FewWouldFindIt) => " Few would find it at the board.",
        Some(HeldBack::NoWayIn) => " The engine finds no way in: ask your coach.",
        None => "",
    }
}

/// The one question to ask next time.
pub(in super::super) fn question(evidence: &Evidence<'_>) -> &'static str {
    let pos = evidence.line.position();
    let resource = evidence.fault.resource();
    let forcing = resource.is_some_and(|mv| motif::is_forcing(pos, mv));
    if *evidence.fault == Fault::GameOver {
        return "After the last move: does the other side still have a move?";
    }
    match (evidence.fault.kind(), forcing) {
        (FindingKind::MissedCandidate, true) => {
            "Which checks and captures do you have, before anything else?"
        }
        (FindingKind::MissedCandidate, false) => "Which quiet move would change the position most?",
        (FindingKind::WrongChoice, _) => "What is his best answer to each of your candidates?",
        (FindingKind::MissedResource, _) => "Before the natural move: what else do you have here?",
        (FindingKind::MissedDefence, true) => "What can he check, take or threaten now?",
        (FindingKind::MissedDefence, false) => {
            "If he does nothing forcing: which quiet move does he have?"
        }
        (FindingKind::MissedCounterSacrifice, _) => "What can he give up here?",
        (FindingKind::StoppedShort, _) => {
            "At the end of the line: which checks, captures and threats are left?"
        }
        (FindingKind::Misjudged | FindingKind::SeenMisjudged | FindingKind::MissedThreat, _) => {
            "At the end of the line: who would you rather be, and why?"
        }
        (FindingKind::FearedTooMuch, _) => "And if he does that: what happens to you?",
        (FindingKind::IllegalMove, _) => {
            "Where does each piece stand now? Name the squares before you go on."
        }
        (FindingKind::BareCandidate, _) => "What is the most unpleasant thing he can answer?",
    }
}

struct Told<'e>(&'e Evidence<'e>);

impl Told<'_> {
    fn missed_candidate(&self, equal: &[Move]) -> String {
        let line = self.line_and_outcome();
        if equal.is_empty() {
            return format!("Not among your candidates: {line}");
        }
        let root = self.0.line.position();
        let mut all = vec![self.resource()];
        all.extend(equal.iter().map(|mv| line::san(root, mv)));
        format!(
            "None of {} was among your candidates; any of them was better: {line}",
            text::list(&all)
        )
    }

    fn wrong_choice(&self, cause: ChoiceCause) -> String {
        let choice = self.0.choice.map(|c| self.0.tree.san(c));
        let choice = choice.unwrap_or_default();
        let why = match cause {
            ChoiceCause::AgainstOwnVerdicts => " By your own verdicts it was the better one.",
            ChoiceCause::RefutationMissed => {
                " What speaks against your choice was not in your tree."
            }
            ChoiceCause::EndMisjudged => " You judged the end of your line too kindly.",
            ChoiceCause::NeverCalculated => " You wrote it down and did not calculate it.",
            ChoiceCause::Unknown => "",
        };
        format!(
            "You had {} on your list and chose {choice}.{why} Best was {}",
            self.resource(),
            self.line_and_outcome()
        )
    }

    fn missed_resource(&self) -> String {
        let you_had = self.written();
        let after = self.last_move();
        format!(
            "After {after} you had {you_had}. Better was {}",
            self.line_and_outcome()
        )
    }

    fn missed_reply(&self) -> String {
        let after = self.last_move();
        let you_had = self.written();
        let how = self
            .given()
            .map_or("He also has".to_owned(), |given| format!("He {given}:"));
        format!(
            "After {after} you had {you_had}. {how} {}",
            self.line_and_outcome()
        )
    }

    fn game_over(&self) -> String {
        let rest = self.line_and_outcome();
        format!(
            "Your line ends with {}{rest}{}",
            self.last_move(),
            self.said()
        )
    }

    fn misjudged(&self) -> String {
        let best = if self.is_players_turn() {
            "Your best is"
        } else {
            "His best is"
        };
        format!(
            "Your line ends with {}.{} {best} {}",
            self.last_move(),
            self.said(),
            self.line_and_outcome()
        )
    }

    fn stopped_short(&self) -> String {
        let (last, said) = (self.last_move(), self.said());
        let rest = self.line_and_outcome();
        if self.is_players_turn() {
            return format!(
                "Your line stops with {last} and it is your turn.{said} One move on comes {rest}"
            );
        }
        let how = self
            .given()
            .map_or("One move on comes".to_owned(), |given| {
                format!("One move on he {given}:")
            });
        format!("Your line stops with {last} and it is his turn.{said} {how} {rest}")
    }

    fn false_mate(&self) -> String {
        let typed = self.0.tree.node(self.0.place).map(|n| n.text.as_str());
        format!(
            "{} is no mate: there is {}",
            typed.unwrap_or_default(),
            self.line_and_outcome()
        )
    }

    fn feared_too_much(&self) -> String {
        let path = self.0.tree.path(self.0.place);
        let candidate = path.first().map(|c| self.0.tree.san(*c));
        let reply = self.last_move();
        let line = self.line_and_outcome();
        format!(
            "You rejected {} because of {reply}. After it comes {line} Nothing bad happens to you.",
            candidate.unwrap_or_default()
        )
    }

    fn missed_threat(&self) -> String {
        let choice = self.last_move();
        format!(
            "Before your move he was threatening {}, and none of your lines meets it. After {choice} comes {}",
            self.resource(),
            self.line_and_outcome()
        )
    }

    fn seen_misjudged(&self) -> String {
        format!(
            "You saw {}, his best reply.{} Best then is {}",
            self.last_move(),
            self.said(),
            self.line_and_outcome()
        )
    }

    fn bare_candidate(&self) -> String {
        format!(
            "You chose {} without writing one reply to it. His best is {}.",
            self.last_move(),
            self.resource()
        )
    }

    fn is_players_turn(&self) -> bool {
        self.0.line.turn() == self.0.line.player()
    }

    /// What he said of the place, where he said something.
    fn said(&self) -> String {
        let words = |e| format!(" You judged: {}.", standing(e));
        self.0.stated.map_or_else(String::new, words)
    }

    /// How the opponent gives something up, where he does: 'gives up ...' or 'lets you take ...'.
    fn given(&self) -> Option<String> {
        let Sacrifice { gives, active, .. } = self.0.sacrifice?;
        match gives {
            Gives::Pawn => None,
            Gives::Exchange => Some("gives up the exchange".to_owned()),
            gives if active => Some(format!("gives up {}", gives.words())),
            Gives::Queen => Some("lets you take his queen".to_owned()),
            gives => Some(format!("lets you take {}", gives.words())),
        }
    }

    fn resource(&self) -> String {
        let pos = self.0.line.position();
        let resource = self.0.fault.resource();
        resource.map(|mv| line::san(pos, mv)).unwrap_or_default()
    }

    /// The move that led to the place; nothing at the root.
    fn last_move(&self) -> String {
        if self.0.place == NodeId::ROOT {
            String::new()
        } else {
            self.0.tree.san(self.0.place)
        }
    }

    /// The moves that were written at the place.
    fn written(&self) -> String {
        let standing = self.0.tree.standing(self.0.place);
        let moves: Vec<String> = standing.map(|c| self.0.tree.san(c)).collect();
        text::list(&moves)
    }

    /// The proof, then what it comes to.
    fn line_and_outcome(&self) -> String {
        let proof = line::sans(self.0.line.position(), self.0.told);
        format!("{}{}", proof.join(" "), self.outcome())
    }

    fn outcome(&self) -> String {
        let mut end = self.0.line.clone();
        for mv in self.0.told {
            if end.push(mv).is_err() {
                break;
            }
        }
        if let Some(words) = ended(&end) {
            return format!(", {words}.");
        }
        let then = standing(self.0.truth);
        if end.occurrences_since_root() > 1 {
            return format!(", and the position repeats. Then {then}.");
        }
        let by_opponent = self.0.truth < self.0.believed;
        let won = material::won(self.0.line, &end, by_opponent);
        let won = won.map_or_else(String::new, |w| format!("; {w}"));
        format!("{won}. Then {then}.{}", self.harm())
    }

    fn harm(&self) -> &'static str {
        match self.0.zugzwang {
            Some(Turn::Player) => " After it every move of yours harms you.",
            Some(Turn::Opponent) => " After it every move of his harms him.",
            None => "",
        }
    }
}

/// How the game is over at the end of a line, by rule alone.
fn ended(end: &Line) -> Option<String> {
    let player_to_move = end.position().turn() == end.player();
    Some(match end.rule().filter(|r| !r.is_claim())? {
        Rule::Checkmate if player_to_move => "and you are mated".to_owned(),
        Rule::Checkmate => "and he is mated".to_owned(),
        rule => format!("and it is {}: a draw", rule.words()),
    })
}
