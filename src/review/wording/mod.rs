//! All sentences of a review. Move first, then the reason, then one question to ask next time.
//!
//! No marks, no scolding, no number where a word does. A reason is given only where a rule, a motif or
//! a count of the pieces supports it. The player is 'you', the opponent 'he'.

mod end_card;
mod illegal_move;
mod material;
mod notes;

use shakmaty::Position;

use crate::board::sacrifice::Gives;
use crate::board::{Line, Rule, line, motif};
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::analysis::{player_valuation, proof_line};
use crate::review::findings::suspect::{Cause, Draft, HeldBack};
use crate::review::model::review::{Kind, Sacrifice};
use crate::text;
use crate::tree::NodeId;

pub(super) use end_card::{sentences as card_sentences, unread as card_unread};
pub(super) use material::{
    stands as material_stands, stands_after_captures as material_after_captures,
};
pub(super) use notes::{longest_resistance, mate_was_there, simpler, threat_note};

/// The player's standing in words, from his expected score (0 to 1). The bounds are those of the
/// verdict signs (common practice, no source).
#[must_use]
pub fn standing(e: f64) -> &'static str {
    match e {
        e if e >= 0.78 => "you are winning",
        e if e >= 0.65 => "you are clearly better",
        e if e > 0.55 => "you are slightly better",
        e if e >= 0.45 => "the position is level",
        e if e > 0.35 => "you are slightly worse",
        e if e > 0.22 => "you are clearly worse",
        _ => "you are lost",
    }
}

/// The finding in plain sentences. `proof` is the told part of its proof in SAN.
pub(super) fn sentence(survey: &Survey<'_>, draft: &Draft, proof: &[String]) -> String {
    let Some(place) = survey.place(draft.at) else {
        return String::new();
    };
    let told = Told {
        survey,
        draft,
        place,
        proof,
    };
    match draft.kind {
        Kind::MissedCandidate => told.missed_candidate(),
        Kind::WrongChoice => told.wrong_choice(),
        Kind::MissedResource => told.missed_resource(),
        Kind::PhantomMove if draft.resource.is_some() => told.false_mate(),
        Kind::PhantomMove => illegal_move::sentence(survey, draft),
        Kind::FearedTooMuch => told.feared_too_much(),
        Kind::MissedThreat => told.missed_threat(),
        Kind::SeenMisjudged => told.seen_misjudged(),
        Kind::BareCandidate => told.bare_candidate(),
        Kind::StoppedShort | Kind::Misjudged => told.end_of_line(),
        Kind::MissedDefence | Kind::MissedCounterSacrifice if draft.ends_there(survey) => {
            told.end_of_line()
        }
        Kind::MissedDefence | Kind::MissedCounterSacrifice => told.missed_reply(),
    }
}

/// Why a true finding is not counted, as a sentence after it.
pub(super) fn held_back(why: Option<HeldBack>) -> &'static str {
    match why {
        Some(HeldBack::FewWouldFindIt) => " Few would find it at the board.",
        Some(HeldBack::NoWayIn) => " The engine finds no way in: ask your coach.",
        None => "",
    }
}

/// The one question to ask next time.
pub(super) fn question(survey: &Survey<'_>, draft: &Draft) -> &'static str {
    let forcing = survey
        .place(draft.at)
        .zip(draft.resource.as_ref())
        .is_some_and(|(place, mv)| motif::is_forcing(place.line.position(), mv));
    if draft.is_over() {
        return "After the last move: does the other side still have a move?";
    }
    match (draft.kind, forcing) {
        (Kind::MissedCandidate, true) => {
            "Which checks and captures do you have, before anything else?"
        }
        (Kind::MissedCandidate, false) => "Which quiet move would change the position most?",
        (Kind::WrongChoice, _) => "What is his best answer to each of your candidates?",
        (Kind::MissedResource, _) => "Before the natural move: what else do you have here?",
        (Kind::MissedDefence, true) => "What can he check, take or threaten now?",
        (Kind::MissedDefence, false) => {
            "If he does nothing forcing: which quiet move does he have?"
        }
        (Kind::MissedCounterSacrifice, _) => "What can he give up here?",
        (Kind::StoppedShort, _) => {
            "At the end of the line: which checks, captures and threats are left?"
        }
        (Kind::Misjudged | Kind::SeenMisjudged | Kind::MissedThreat, _) => {
            "At the end of the line: who would you rather be, and why?"
        }
        (Kind::FearedTooMuch, _) => "And if he does that: what happens to you?",
        (Kind::PhantomMove, _) => {
            "Where does each piece stand now? Name the squares before you go on."
        }
        (Kind::BareCandidate, _) => "What is the most unpleasant thing he can answer?",
    }
}

struct Told<'a> {
    survey: &'a Survey<'a>,
    draft: &'a Draft,
    place: &'a Place,
    proof: &'a [String],
}

impl Told<'_> {
    fn missed_candidate(&self) -> String {
        let line = self.line_and_outcome();
        if self.draft.equals.is_empty() {
            return format!("Not among your candidates: {line}");
        }
        let root = self.survey.tree.root().position();
        let mut all = vec![self.resource()];
        all.extend(self.draft.equals.iter().map(|mv| line::san(root, mv)));
        format!(
            "None of {} was among your candidates; any of them was better: {line}",
            text::list(&all)
        )
    }

    fn wrong_choice(&self) -> String {
        let choice = self
            .survey
            .choice
            .map(|c| self.survey.tree.san(c))
            .unwrap_or_default();
        let why = match self.draft.cause {
            Cause::AgainstOwnVerdicts => " By your own verdicts it was the better one.",
            Cause::RefutationMissed => " What speaks against your choice was not in your tree.",
            Cause::EndMisjudged => " You judged the end of your line too kindly.",
            Cause::NeverCalculated => " You wrote it down and did not calculate it.",
            Cause::Unknown => "",
        };
        format!(
            "You had {} on your list and chose {choice}.{why} Best was {}",
            self.resource(),
            self.line_and_outcome()
        )
    }

    fn missed_resource(&self) -> String {
        let you_had = self.written();
        let after = self.last_move().unwrap_or_default();
        format!(
            "After {after} you had {you_had}. Better was {}",
            self.line_and_outcome()
        )
    }

    fn missed_reply(&self) -> String {
        let after = self.last_move().unwrap_or_default();
        let you_had = self.written();
        let how = self
            .given()
            .map_or("He also has".to_owned(), |given| format!("He {given}:"));
        format!(
            "After {after} you had {you_had}. {how} {}",
            self.line_and_outcome()
        )
    }

    fn end_of_line(&self) -> String {
        let last = self.last_move().unwrap_or_default();
        let said = player_valuation::stated(self.survey, self.draft.at);
        let said = said.map_or_else(String::new, |e| format!(" You judged: {}.", standing(e)));
        let rest = self.line_and_outcome();
        if self.draft.is_over() {
            return format!("Your line ends with {last}{rest}{said}");
        }
        if self.draft.kind == Kind::Misjudged {
            let best = if self.place.is_players_turn() {
                "Your best is"
            } else {
                "His best is"
            };
            return format!("Your line ends with {last}.{said} {best} {rest}");
        }
        if self.place.is_players_turn() {
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
        let typed = self
            .draft
            .node
            .and_then(|n| self.survey.tree.node(n))
            .map(|n| n.text.as_str());
        format!(
            "{} is no mate: there is {}",
            typed.unwrap_or_default(),
            self.line_and_outcome()
        )
    }

    fn feared_too_much(&self) -> String {
        let candidate = self
            .survey
            .tree
            .path(self.draft.at)
            .first()
            .map(|c| self.survey.tree.san(*c));
        let reply = self.last_move().unwrap_or_default();
        let line = self.line_and_outcome();
        format!(
            "You rejected {} because of {reply}. After it comes {line} Nothing bad happens to you.",
            candidate.unwrap_or_default()
        )
    }

    fn missed_threat(&self) -> String {
        let choice = self.last_move().unwrap_or_default();
        format!(
            "Before your move he was threatening {}, and none of your lines meets it. After {choice} comes {}",
            self.resource(),
            self.line_and_outcome()
        )
    }

    fn seen_misjudged(&self) -> String {
        let said = player_valuation::stated(self.survey, self.draft.at);
        let said = said.map_or_else(String::new, |e| format!(" You judged: {}.", standing(e)));
        format!(
            "You saw {}, his best reply.{said} Best then is {}",
            self.last_move().unwrap_or_default(),
            self.line_and_outcome()
        )
    }

    fn bare_candidate(&self) -> String {
        let choice = self.last_move().unwrap_or_default();
        format!(
            "You chose {choice} without writing one reply to it. His best is {}.",
            self.resource()
        )
    }

    /// How the opponent gives something up, where he does: 'gives up ...' or 'lets you take ...'.
    fn given(&self) -> Option<String> {
        let Sacrifice { gives, active, .. } = self.draft.sacrifice(self.survey)?;
        match gives {
            Gives::Pawn => None,
            Gives::Exchange => Some("gives up the exchange".to_owned()),
            gives if active => Some(format!("gives up {}", gives.words())),
            Gives::Queen => Some("lets you take his queen".to_owned()),
            gives => Some(format!("lets you take {}", gives.words())),
        }
    }

    fn resource(&self) -> String {
        let pos = self.place.line.position();
        self.draft
            .resource
            .as_ref()
            .map(|mv| line::san(pos, mv))
            .unwrap_or_default()
    }

    /// The move that led to the place.
    fn last_move(&self) -> Option<String> {
        (self.draft.at != NodeId::ROOT).then(|| self.survey.tree.san(self.draft.at))
    }

    /// The moves that were written at the place.
    fn written(&self) -> String {
        let moves: Vec<String> = self
            .survey
            .tree
            .standing(self.draft.at)
            .map(|c| self.survey.tree.san(c))
            .collect();
        text::list(&moves)
    }

    /// The proof, then what it comes to.
    fn line_and_outcome(&self) -> String {
        format!("{}{}", self.proof.join(" "), self.outcome())
    }

    fn outcome(&self) -> String {
        let moves = proof_line::told(self.place, &self.draft.proof, self.draft.truth);
        let mut end = self.place.line.clone();
        for mv in moves {
            if end.push(mv).is_err() {
                break;
            }
        }
        if let Some(words) = ended(&end) {
            return format!(", {words}.");
        }
        let harm = self.draft.harms.map_or("", |players| match players {
            true => " After it every move of yours harms you.",
            false => " After it every move of his harms him.",
        });
        if end.occurrences_since_root() > 1 {
            return format!(
                ", and the position repeats. Then {}.",
                standing(self.draft.truth)
            );
        }
        let won = material::won(
            &self.place.line,
            &end,
            self.draft.truth < self.draft.believed,
        );
        let won = won.map_or_else(String::new, |w| format!("; {w}"));
        format!("{won}. Then {}.{harm}", standing(self.draft.truth))
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

pub(super) fn right_choice(choice: &str) -> String {
    format!("You chose {choice}: nothing better was there.")
}

pub(super) fn right_candidate(candidate: &str) -> String {
    format!("You had {candidate} among your candidates: the best move was on your list.")
}

pub(super) fn right_reply(reply: &str, ply: usize) -> String {
    format!("You saw {reply} at half-move {ply}: his best reply, and the one that matters.")
}

pub(super) fn right_verdict(path: &[String]) -> String {
    format!("You judged the end of {} rightly.", path.join(" "))
}

pub(super) fn right_legal(ply: usize) -> String {
    match ply {
        1 => "Your moves can be played as you wrote them.".to_owned(),
        n => format!("Your longest line, {n} half-moves, can be played as you wrote it."),
    }
}

pub(super) fn ambiguous(text: &str, meanings: usize) -> String {
    format!("'{text}' can mean {meanings} different moves")
}

pub(super) fn unplaced(parent: &str) -> String {
    format!("it follows {parent}, which cannot be set on the board")
}

pub(super) fn pass_in_check() -> String {
    "nobody can pass while in check".to_owned()
}

pub(super) fn nothing_noted() -> String {
    "below the pass stands no move that could be played then".to_owned()
}
