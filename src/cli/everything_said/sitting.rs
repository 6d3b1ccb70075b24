//! A sitting with everything in it that can be in one: written, locked, looked at again, coached, answered.

use crate::app::testing::app::Trial;
use crate::app::{AttemptId, EntryToken, Subject};
use crate::attempt::{
    Attempt, AttemptEvent, BoardVisibility, EndCard, FindingId, FindingSelector, Material, Mover,
    Remark, SentFinding, TimedAttemptEvent,
};
use crate::coach::CoachImport;
use crate::tree::{NodeId, Verdict};

/// The way to the place of the first finding.
pub(super) const WAY: [&str; 2] = ["c7", "Rd6+"];

fn moves(text: &str) -> Vec<EntryToken> {
    let moves = text.split(' ').map(str::to_owned);
    moves.map(EntryToken::Move).collect()
}

fn verdict(text: &str) -> EntryToken {
    EntryToken::Verdict(Verdict::parse(text).unwrap())
}

/// The name of a finding about this move.
pub(super) fn spot(at: u32, resource: &str) -> FindingId {
    FindingId {
        at: NodeId(at),
        kind: "missed-counter-sacrifice".to_owned(),
        resource: resource.to_owned(),
    }
}

/// The Saavedra position (F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895, from memory)
/// with a tree of every kind of entry.
pub(super) fn sitting(trial: &Trial) -> (AttemptId, Attempt) {
    let subject = Subject::Drill("saavedra-1895".to_owned());
    let attempts = trial.app.attempts();
    let mut sitting = attempts
        .open_sitting(&subject, Some(23), BoardVisibility::Follow)
        .unwrap();
    sitting.start().unwrap();
    trial.clock.advance(7_000);
    let mut line = moves("c7 Rd6+ Kb5");
    line.push(verdict("37%"));
    line.push(EntryToken::Comment("zqcomment".to_owned()));
    let end = sitting.write(NodeId::ROOT, &line).unwrap();
    sitting.write(NodeId::ROOT, &moves("Kb7")).unwrap();
    sitting.write(NodeId::ROOT, &moves("Kc7")).unwrap();
    sitting.write(NodeId::ROOT, &moves("Ra1")).unwrap();
    sitting.strike(NodeId(4), true).unwrap();
    sitting.only(NodeId(5), true).unwrap();
    sitting.same_as(NodeId(5), Some(NodeId(1))).unwrap();
    sitting.reorder(NodeId(6), 1).unwrap();
    sitting.choose(NodeId(1)).unwrap();
    sitting
        .state_end(EndCard {
            node: end,
            mover: Some(Mover::Me),
            material: Some(Material::parse("+1").unwrap()),
            plan: "zqplan".to_owned(),
        })
        .unwrap();
    trial.clock.advance(865_000);
    sitting.lock().unwrap();
    for event in after() {
        sitting.add(event).unwrap();
        trial.clock.advance(1_000);
    }
    let id = sitting.id().clone();
    drop(sitting);
    coached(trial, &id);
    let attempt = trial.app.attempts().attempt(&id).unwrap();
    (id, attempt)
}

fn after() -> Vec<AttemptEvent> {
    let seen = spot(2, "Zqresource");
    vec![
        AttemptEvent::SecondLook,
        AttemptEvent::NowSeen {
            text: "zqseen".to_owned(),
        },
        AttemptEvent::Explained {
            spot: seen.clone(),
            cause: "zqcause".to_owned(),
            text: "zqwhy".to_owned(),
        },
        AttemptEvent::Remarked {
            spot: seen.clone(),
            text: "zqremark".to_owned(),
        },
        AttemptEvent::Contested {
            spot: seen,
            struck: true,
        },
        AttemptEvent::Doubted {
            line: "zqdoubt".to_owned(),
        },
    ]
}

fn coached(trial: &Trial, id: &AttemptId) {
    let by = || "Zqcoach".to_owned();
    let said = |remark| AttemptEvent::Coached {
        by: by(),
        wall_ms: 0,
        remark,
    };
    let finding = || FindingSelector {
        path: WAY.map(str::to_owned).to_vec(),
        kind: None,
        resource: Some("Kc4".to_owned()),
    };
    let node = NodeId(1);
    let events = vec![
        AttemptEvent::Sent {
            wall_ms: 0,
            findings: vec![SentFinding {
                finding: finding(),
                text: "zqsent".to_owned(),
            }],
            homework: vec!["Task of zqtask".to_owned()],
            player: Some("Zqstudent".to_owned()),
        },
        said(Remark::Added {
            parent: NodeId(2),
            text: "Kc5".to_owned(),
        }),
        said(Remark::Said {
            node,
            text: "zqsaid".to_owned(),
        }),
        said(Remark::Judged {
            node,
            verdict: Verdict::parse("83%").unwrap(),
        }),
        said(Remark::Marked {
            node,
            nags: vec![1, 147],
        }),
        said(Remark::Homework {
            node,
            due: Some("2031-12-05".to_owned()),
        }),
        AttemptEvent::Overruled {
            by: by(),
            wall_ms: 0,
            finding: finding(),
            reason: "zqreason".to_owned(),
        },
    ];
    let import = CoachImport {
        attempt: id.0.clone(),
        by: by(),
        lines: Vec::new(),
        judged: Vec::new(),
        said: Vec::new(),
        overruled: Vec::new(),
        upheld: Vec::new(),
        homework: Vec::new(),
        tasks: Vec::new(),
        conflicts: Vec::new(),
        kept: Vec::new(),
        events,
    };
    trial.app.coach().keep_taken(&import).unwrap();
}

/// Everything that happened, for taking apart.
pub(super) fn events(attempt: &Attempt) -> impl Iterator<Item = &AttemptEvent> {
    attempt
        .log()
        .iter()
        .map(|TimedAttemptEvent { at_ms: _, what }| what)
}
