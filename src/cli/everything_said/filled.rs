//! A review with something in every place that cannot be mistaken for anything else.

use super::sitting::WAY;
use crate::board::motif::Motif;
use crate::board::phase::Phase;
use crate::board::sacrifice::Gives;
use crate::review::{
    Coverage, Credit, Depth, EndCardRead, Expected, Finding, FindingKind, FindingPart,
    FindingStatus, Focus, Held, MoveRead, Note, NoteKind, Process, Review, Sacrifice, Stated,
    Trials, Turn, Unjudged,
};
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

pub(super) fn words(text: &str) -> Vec<String> {
    text.split(' ').map(str::to_owned).collect()
}

fn way() -> Vec<String> {
    WAY.map(str::to_owned).to_vec()
}

fn finding() -> Finding {
    Finding {
        kind: FindingKind::MissedCounterSacrifice,
        class: FindingStatus::Counted,
        part: FindingPart::Choice,
        paths: vec![way(), words("Zqother Zqway")],
        also: vec![words("Zqalso")],
        resource: "Zqresource".to_owned(),
        proof: words("Zqresource Zqproof"),
        declined: words("Zqdeclined"),
        gap: ScoreDiff::new(0.61),
        effect: ScoreDiff::new(0.59),
        ply: 173,
        turn: Turn::Opponent,
        motifs: vec![Motif::Switchback],
        sacrifice: Some(Sacrifice {
            gives: Gives::Exchange,
            active: true,
            sham: true,
        }),
        sentence: "Zqsentence.".to_owned(),
        question: "Zqquestion?".to_owned(),
        at: NodeId(2),
        instead: words("Kb5 Zqinstead"),
    }
}

/// A review with something in every place.
pub(super) fn review() -> Review {
    let own = NodeId(1);
    let held = |said: &str, is: &str| Held {
        said: said.to_owned(),
        is: is.to_owned(),
        holds: false,
    };
    Review {
        judge: "zqjudge".to_owned(),
        nodes: 7_340_033,
        root: "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1".to_owned(),
        ply_in_game: Some(139),
        choice: Some("c7".to_owned()),
        expected: Expected {
            best: PlayerScore::new(0.91),
            choice: Some(PlayerScore::new(0.83)),
        },
        opening: "Zqopening.".to_owned(),
        right: vec![Credit {
            path: words("c7"),
            note: "Zqright.".to_owned(),
            node: own,
        }],
        findings: vec![finding()],
        end_card: Some(EndCardRead {
            path: words("c7 Rd6+ Kb5"),
            mover: Some(held("zqmoversaid", "zqmoveris")),
            material: Some(held("zqmaterialsaid", "zqmaterialis")),
            plan: "zqplanread".to_owned(),
            follows: words("Zqfollows"),
            sentences: vec!["Zqcard. Your plan was: zqplan.".to_owned()],
            node: NodeId(3),
        }),
        notes: vec![Note {
            about: NoteKind::LongestResistance,
            path: words("c7"),
            sentence: "Zqnote.".to_owned(),
            node: own,
        }],
        unjudged: vec![Unjudged {
            path: words("Ra1"),
            why: "zqunjudged".to_owned(),
            node: NodeId(6),
        }],
        moves: vec![MoveRead {
            path: words("c7 Rd6+ Kb5"),
            said: Some("zqsaidofit".to_owned()),
            truth: Some("zqtruth".to_owned()),
            worth: Some(PlayerScore::new(0.77)),
            node: NodeId(3),
        }],
        depth: Depth {
            needed: 211,
            reached: 223,
            longest: 227,
            sound: 229,
        },
        coverage: Coverage {
            share: 0.271,
            written: 233,
            of: 239,
        },
        focus: Focus {
            share: 0.283,
            written: 241,
            of: 251,
        },
        process: Some(Process {
            first_candidate_ms: Some(3_671_000),
            first_reply_ms: Some(3_732_000),
            candidates_before_depth: 263,
            per_candidate: vec![("c7".to_owned(), 3_793_000)],
            returns: 257,
            half_moves: 269,
            spent_ms: 3_854_000,
            over_ms: 3_915_000,
        }),
        trials: Trials {
            moments: vec![moment()],
            verdicts: vec![Stated {
                stated: PlayerScore::new(0.313),
                truth: PlayerScore::new(0.317),
                phase: Phase::Ending,
                ply: 331,
            }],
            plausible: 93_371,
            standing: PlayerScore::new(0.347),
        },
    }
}

fn moment() -> crate::review::Trial {
    crate::review::Trial {
        turn: Turn::Player,
        ply: 349,
        seen: true,
        path: words("Zqtrialway"),
        resource: "Zqtrial".to_owned(),
        class: Motif::Quiet,
        motifs: Vec::new(),
        piece: shakmaty::Role::King,
        gives_up: false,
        phase: Phase::Ending,
        pressed: None,
    }
}
