//! Findings in sentences.

use shakmaty::Move;

use super::told::{self, Told};
use super::{illegal_move, pattern};
use crate::board::sacrifice::Gives;
use crate::review::model::evidence::Evidence;
use crate::review::model::fault::{ChoiceCause, EndError, Fault, HeldBack};
use crate::review::model::finding::Sacrifice;
use crate::review::model::thresholds::{CLEARLY_BETTER_BY, FAR_BETTER_BY, LEVEL, MANY_EQUALS};
use crate::review::model::verdicts::standing;
use crate::text;

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
    sentence + &told.also() + held_back(evidence.held_back)
}

/// Why a true finding is not counted, as a sentence after it.
fn held_back(why: Option<HeldBack>) -> &'static str {
    match why {
        Some(HeldBack::FewWouldFindIt) => tr!(" Few would find it at the board."),
        Some(HeldBack::NoWayIn) => tr!(" The engine finds no way in: ask your coach."),
        None => "",
    }
}

impl Told<'_> {
    fn missed_candidate(&self, equal: &[Move]) -> String {
        let (best, than) = (self.resource(), self.compared());
        let better = self.how_much_better();
        if equal.is_empty() {
            let named = self.named().map_or_else(String::new, |n| format!(", {n},"));
            return tr!(
                "{best}{named} was not among your candidates, and is {better} than {than}{}{}",
                self.proof(),
                self.without()
            );
        }
        if self.0.fault.is_one_of_many() {
            return tr!(
                "At least {} moves are better than {than}, and you wrote none of them. For one, {}{}{}",
                text::number(MANY_EQUALS),
                self.argument(),
                self.without(),
                self.against()
            );
        }
        let root = self.0.line.position();
        let mut all = vec![best];
        all.extend(equal.iter().map(|mv| told::one(root, mv)));
        let none = match all.as_slice() {
            [one, other] => tr!("neither {one} nor {other}"),
            all => tr!("none of {}", text::list(all)),
        };
        tr!(
            "You wrote {none}, and each of them is {better} than {than}. For one, {}{}",
            self.argument(),
            self.without()
        )
    }

    /// By how much the truth is better than what is compared with it.
    fn how_much_better(&self) -> &'static str {
        match (self.0.truth - self.0.believed).value() {
            // TRANSLATORS: how much better, in: X was not among your candidates, and is far better than Y.
            gap if gap >= FAR_BETTER_BY => tr!("far better"),
            gap if gap >= CLEARLY_BETTER_BY => tr!("clearly better"),
            _ => tr!("better"),
        }
    }

    /// The written move at the root that is compared with something better.
    fn compared(&self) -> String {
        let compared = self.0.compared.map(|id| told::written(self.0.tree, id));
        // TRANSLATORS: behind 'better than'.
        compared.unwrap_or_else(|| tr!("what you wrote").to_owned())
    }

    /// What the written move leaves the player, where words tell it from what the better one does.
    fn without(&self) -> String {
        let (with, without) = (standing(self.0.truth), standing(self.0.believed));
        match self.0.compared {
            Some(_) if with != without => tr!(" With {} {without}.", self.compared()),
            _ => String::new(),
        }
    }

    fn wrong_choice(&self, cause: ChoiceCause) -> String {
        let choice = self.choice();
        let why = match cause {
            ChoiceCause::AgainstOwnVerdicts => tr!(" By your own verdicts it was the better one."),
            ChoiceCause::RefutationMissed => {
                tr!(" What speaks against your choice was not in your tree.")
            }
            ChoiceCause::EndMisjudged => tr!(" You judged the end of your line too kindly."),
            ChoiceCause::NeverCalculated => tr!(" You wrote it down and did not calculate it."),
            ChoiceCause::Unknown => "",
        };
        tr!(
            "You had {} on your list and chose {choice}.{why} Best was {}{}{}",
            self.resource(),
            self.argument(),
            self.without(),
            self.against(),
        )
    }

    /// Why the chosen move fails: what answers it, and the pattern's name where it has one.
    fn against(&self) -> String {
        let Some((mv, choice)) = self.0.against.zip(self.0.choice) else {
            return String::new();
        };
        let Some(line) = self.0.tree.line(choice) else {
            return String::new();
        };
        let pattern = pattern::of_move(&line, mv);
        let pattern = pattern.map_or_else(String::new, |p| format!(", {p}"));
        let answer = told::one(line.position(), mv);
        tr!(
            " What speaks against {} is {answer}{pattern}.",
            self.choice()
        )
    }

    fn missed_resource(&self) -> String {
        let you_had = self.written();
        let after = self.last_move();
        tr!(
            "After {after} you had {you_had}. Better was {}",
            self.argument()
        )
    }

    fn missed_reply(&self) -> String {
        let after = self.last_move();
        let you_had = self.written();
        tr!(
            "After {after} you had {you_had}. {}",
            self.he_has(tr!("He"), tr!("He also has"))
        )
    }

    /// The opponent's move with its proof: what `he` gives up by it, or that he `has` it.
    fn he_has(&self, he: &str, has: &str) -> String {
        // TRANSLATORS: {he}: 'He' or 'he also'; {given}: what he gives up, as in 'gives up a rook'; a move follows.
        let how = self.given().map(|given| tr!("{he} {given} with"));
        format!("{} {}", how.as_deref().unwrap_or(has), self.argument())
    }

    fn game_over(&self) -> String {
        let rest = self.argument();
        tr!(
            "Your line ends with {}{rest}{}",
            self.last_move(),
            self.said()
        )
    }

    fn misjudged(&self) -> String {
        let best = if self.is_players_turn() {
            tr!("Your best is")
        } else {
            tr!("His best is")
        };
        tr!(
            "Your line ends with {}.{} {best} {}",
            self.last_move(),
            self.said(),
            self.argument()
        )
    }

    fn stopped_short(&self) -> String {
        let (last, said) = (self.last_move(), self.said());
        if self.is_players_turn() {
            let rest = self.argument();
            return tr!(
                "Your line stops with {last} and it is your turn.{said} One move on comes {rest}"
            );
        }
        let how = self.he_has(tr!("One move on he"), tr!("One move on comes"));
        tr!("Your line stops with {last} and it is his turn.{said} {how}")
    }

    fn false_mate(&self) -> String {
        let typed = self.0.tree.node(self.0.place).map(|n| n.text.as_str());
        tr!(
            "{} is no mate: there is {}",
            typed.unwrap_or_default(),
            self.argument()
        )
    }

    fn feared_too_much(&self) -> String {
        let path = self.0.tree.path(self.0.place);
        let candidate = path.first().map(|c| told::written(self.0.tree, *c));
        let nothing = if self.0.truth.value() >= *LEVEL.start() {
            tr!("Nothing bad happens to you.")
        } else {
            tr!("You are no worse off than after any other move.")
        };
        tr!(
            "You rejected {} because of {} and chose {}. The answer is {} {nothing}{}",
            candidate.unwrap_or_default(),
            self.last_move(),
            self.choice(),
            self.argument(),
            self.with_the_choice()
        )
    }

    /// What the choice leaves, where it was the worse one for the sake of a fear.
    fn with_the_choice(&self) -> String {
        let chosen = self.0.choice_worth.map(standing);
        match chosen {
            Some(words) if words != standing(self.0.truth) => {
                tr!(" With {} {words}.", self.choice())
            }
            _ => String::new(),
        }
    }

    fn missed_threat(&self) -> String {
        tr!(
            "Before your move he was threatening {}, and none of your lines meets it. After {} comes {}",
            self.resource(),
            self.last_move(),
            self.argument()
        )
    }

    fn seen_misjudged(&self) -> String {
        tr!(
            "You saw {}, his best reply.{} Best then is {}",
            self.last_move(),
            self.said(),
            self.argument()
        )
    }

    fn bare_candidate(&self) -> String {
        tr!(
            "You chose {} without writing one reply to it. His best is {}.",
            self.last_move(),
            self.resource()
        )
    }

    /// What he said of the place, where he said something.
    pub(super) fn said(&self) -> String {
        let words = |e| tr!(" You judged: {}.", standing(e));
        self.0.stated.map_or_else(String::new, words)
    }

    /// How the opponent gives something up, where he does: 'gives up ...' or 'lets you take ...'.
    fn given(&self) -> Option<String> {
        let Sacrifice { gives, active, .. } =
            self.0.sacrifice.filter(|_| !self.is_players_turn())?;
        match gives {
            Gives::Pawn => None,
            Gives::Exchange => Some(tr!("gives up the exchange").to_owned()),
            gives if active => Some(tr!("gives up {}", gives.words())),
            // TRANSLATORS: behind 'he', before 'with' and a move.
            Gives::Queen => Some(tr!("lets you take his queen").to_owned()),
            gives => Some(tr!("lets you take {}", gives.words())),
        }
    }

    /// Where else the same was overlooked.
    fn also(&self) -> String {
        let ways = self.0.also.iter().map(|id| {
            let way = told::path(self.0.tree, &self.0.tree.sans(*id));
            tr!("after {way}")
        });
        match ways.collect::<Vec<_>>() {
            ways if ways.is_empty() => String::new(),
            ways => tr!(" The same {}.", text::list(&ways)),
        }
    }
}
