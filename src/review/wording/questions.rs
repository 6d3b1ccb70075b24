//! The one question to ask next time: about the kind of move that was missed, and the man that makes it.

use super::nature;
use super::told::Told;
use crate::review::model::evidence::Evidence;
use crate::review::model::fault::Fault;
use crate::review::model::finding::FindingKind;
use crate::text::lower_first;

pub(in super::super) fn question(evidence: &Evidence<'_>) -> String {
    let told = Told(evidence);
    if *evidence.fault == Fault::GameOver {
        return tr!("After the last move: does the other side still have a move?").to_owned();
    }
    if evidence.fault.is_one_of_many() && evidence.choice.is_some() {
        return best_answer(&told);
    }
    match evidence.fault.kind() {
        FindingKind::MissedCandidate | FindingKind::MissedResource | FindingKind::MissedDefence => {
            of_the_move(evidence)
        }
        FindingKind::WrongChoice => best_answer(&told),
        FindingKind::MissedCounterSacrifice => given_up(evidence),
        FindingKind::StoppedShort => tr!(
            "At the end of your line: {}",
            lower_first(&of_the_move(evidence))
        ),
        FindingKind::Misjudged | FindingKind::SeenMisjudged => {
            tr!("At the end of the line: who would you rather be, and why?").to_owned()
        }
        FindingKind::MissedThreat => {
            tr!("Before your own move: what would he play if it were his turn?").to_owned()
        }
        FindingKind::FearedTooMuch => {
            tr!("After {}: what exactly happens to you?", told.last_move())
        }
        FindingKind::IllegalMove => {
            tr!("Where does each piece stand now? Name the squares before you go on.").to_owned()
        }
        FindingKind::BareCandidate => {
            tr!("What is the most unpleasant thing he can answer?").to_owned()
        }
    }
}

fn best_answer(told: &Told<'_>) -> String {
    tr!("What is his best answer to {}?", told.choice())
}

/// The question that looks for the resource by what kind of move it is.
fn of_the_move(evidence: &Evidence<'_>) -> String {
    let waits = evidence.zugzwang.is_some();
    let resource = evidence.fault.resource();
    resource.map_or_else(String::new, |mv| nature::question(evidence.line, mv, waits))
}

fn given_up(evidence: &Evidence<'_>) -> String {
    let Some(sacrifice) = evidence.sacrifice else {
        return of_the_move(evidence);
    };
    let what = sacrifice.gives.words();
    tr!("What would he gain by giving up {what} here?")
}
