use insta::assert_snapshot;
use proptest::prelude::*;
use shakmaty::{CastlingMode, Position};

use super::*;
use crate::attempt::{
    Attempt, AttemptEvent, BoardVisibility, FindingSelector, Opened, Origin, Remark, SentFinding,
    TimedAttemptEvent,
};
use crate::tree::pgn::games_as_they_stand;
use crate::tree::{NodeId, Verdict};

const BERNSTEIN: &str = "3r2k1/p4ppp/1q6/1Nrn4/8/2p1P3/P1R1QPPP/2R3K1 w - - 8 27";
const WALL: i64 = 1_795_608_000_000;

fn opened(fen: &str) -> Vec<TimedAttemptEvent> {
    let opened = AttemptEvent::Opened(Opened {
        origin: Origin::Position,
        start_fen: fen.to_owned(),
        past: Vec::new(),
        budget_ms: Some(600_000),
        sight: BoardVisibility::Root,
        wall_ms: WALL,
        quick: None,
    });
    vec![event(0, opened), event(5_000, AttemptEvent::Started)]
}

fn event(at_ms: u64, what: AttemptEvent) -> TimedAttemptEvent {
    TimedAttemptEvent { at_ms, what }
}

/// O. Bernstein - J. R. Capablanca, Moscow 1914, before 27.Nxc3; the notes are invented.
fn attempt() -> Attempt {
    let mut log = opened(BERNSTEIN);
    let add = |parent: u32, text: &str| AttemptEvent::Added {
        parent: NodeId(parent),
        text: text.to_owned(),
    };
    let say = |node: u32, text: &str| AttemptEvent::Commented {
        node: NodeId(node),
        text: text.to_owned(),
    };
    let judge = |node: u32, verdict| AttemptEvent::Judged {
        node: NodeId(node),
        verdict: Some(verdict),
    };
    let edits = [
        add(0, "Nxc3"),
        add(1, "Nxc3"),
        add(2, "Rxc3"),
        add(3, "Rxc3"),
        add(4, "Rxc3"),
        judge(5, Verdict::parse("+-").unwrap()),
        say(5, "A healthy pawn up."),
        add(0, "Nd4"),
        add(6, "Qa5"),
        judge(7, Verdict::Percent(45)),
        add(6, "Qh2"),
        say(8, "is that possible?"),
        add(0, "Qd3"),
        AttemptEvent::Struck { node: NodeId(9) },
        AttemptEvent::Chosen {
            node: Some(NodeId(1)),
        },
        AttemptEvent::Locked,
    ];
    for (i, what) in edits.into_iter().enumerate() {
        log.push(event(10_000 + i as u64 * 7_000, what));
    }
    Attempt::fold(&log).unwrap()
}

fn sent(attempt: &Attempt, told: &[SentFinding]) -> String {
    written(&CoachExport {
        attempt,
        id: "a-1",
        player: Some("Marrowby, Ilse"),
        told,
        homework: &[],
    })
}

fn take(attempt: &Attempt, text: &str) -> Result<CoachImport, Refused> {
    let game = games_as_they_stand(text).next().unwrap().unwrap();
    compare(&game, ("a-1", attempt), "Bram Oskarn", WALL)
}

/// The attempt with what was taken.
fn with(attempt: &Attempt, events: &[AttemptEvent]) -> Attempt {
    let mut attempt = attempt.clone();
    for what in events {
        let at_ms = attempt.last_ms();
        attempt.apply(&event(at_ms, what.clone())).unwrap();
    }
    attempt
}

fn told_here() -> Vec<SentFinding> {
    let path = ["Nxc3", "Nxc3", "Rxc3", "Rxc3", "Rxc3"];
    vec![SentFinding {
        finding: FindingSelector {
            path: path.map(str::to_owned).to_vec(),
            kind: Some("missed-counter-sacrifice".to_owned()),
            resource: Some("Qb2".to_owned()),
        },
        text: "Review 1, missed counter-sacrifice. He gives up his queen.".to_owned(),
    }]
}

/// Tag order and line length: PGN standard 1994, sections 8.1.1 and 8.2.1 (from memory).
#[test]
fn everything_he_wrote_stands_in_the_letter() {
    assert_snapshot!(sent(&attempt(), &[]), @r#"
[Event "Written variations"]
[Site "?"]
[Date "2026.11.25"]
[Round "?"]
[White "Marrowby, Ilse"]
[Black "?"]
[Result "*"]
[Annotator "Marrowby, Ilse"]
[Attempt "a-1"]
[FEN "3r2k1/p4ppp/1q6/1Nrn4/8/2p1P3/P1R1QPPP/2R3K1 w - - 8 27"]
[SetUp "1"]

{Time used: 1:50 of 10:00.} {Struck out: Qd3} 27. Nxc3 {Written at 0:05.} (27.
Nd4 {Written at 0:54.} {Written, not legal: Qh2 «Written at 1:15. is that
possible?»} 27... Qa5 {I expect 45%.} {Written at 1:01.}) 27... Nxc3 {Written
at 0:12.} 28. Rxc3 {Written at 0:19.} 28... Rxc3 {Written at 0:26.} 29. Rxc3
$18 {Written at 0:33.} {A healthy pawn up.} *
"#);
    let text = sent(&attempt(), &told_here());
    assert!(text.lines().all(|l| l.chars().count() < 80), "{text}");
}

#[test]
fn nothing_changed_is_nothing_new() {
    for told in [Vec::new(), told_here()] {
        let what = AttemptEvent::Sent {
            wall_ms: WALL,
            findings: told.clone(),
            homework: Vec::new(),
            player: None,
        };
        let attempt = with(&attempt(), &[what]);
        let taken = take(&attempt, &sent(&attempt, &told)).unwrap();
        assert!(taken.is_nothing(), "{taken:#?}");
        assert_eq!(
            (taken.conflicts.len(), taken.kept.len()),
            (0, 0),
            "{taken:#?}"
        );
    }
}

/// Reordered, promoted, other line breaks, everything in one comment, the time deleted.
const ANSWERED: &str = r#"[Event "?"]
[White "Marrowby, Ilse"]
[Annotator "Bram \"the Rook\" Oskarn"]
[FEN "3r2k1/p4ppp/1q6/1Nrn4/8/2p1P3/P1R1QPPP/2R3K1 w - - 8 27"]
[SetUp "1"]
[Attempt "a-1"]

{Time used: 1:50 of 10:00. Struck out: Qd3 A fine position to think about.}
27.Nd4 {Written at 0:54.
Written, not legal: Qh2 «Written at 1:15. is that possible?» } (27. Nxc3 $1 {Written at 0:05.} Nxc3
{Written at 0:12.} 28. Rxc3 {Written at 0:19.} Rxc3 {Written at 0:26.} 29. Rxc3 $18 $19 { What about the back
rank? A healthy pawn up. Overruled 1: she had seen it and told me. Homework: find it} 29... Qb2 $3 30. Qe1 (30. Rc2 Qb1+))
27... Qa5 {I expect 45%. Written at 1:01.} 28. Nb3 *
"#;

#[test]
fn a_coach_is_told_apart_from_his_student() {
    let what = AttemptEvent::Sent {
        wall_ms: WALL,
        findings: told_here(),
        homework: Vec::new(),
        player: None,
    };
    let attempt = with(&attempt(), &[what]);
    let taken = take(&attempt, ANSWERED).unwrap();
    let shown = serde_json::to_string_pretty(&taken).unwrap();
    assert_snapshot!(shown, @r#"
{
  "attempt": "a-1",
  "by": "Bram Oskarn",
  "lines": [
    [
      "Nxc3",
      "Nxc3",
      "Rxc3",
      "Rxc3",
      "Rxc3",
      "Qb2",
      "Qe1"
    ],
    [
      "Nxc3",
      "Nxc3",
      "Rxc3",
      "Rxc3",
      "Rxc3",
      "Qb2",
      "Rc2",
      "Qb1+"
    ],
    [
      "Nd4",
      "Qa5",
      "Nb3"
    ]
  ],
  "judged": [
    "after Nxc3: $1",
    "after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3: Black is winning",
    "after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3 Qb2: $3"
  ],
  "said": [
    [
      [],
      "A fine position to think about."
    ],
    [
      [
        "Nxc3",
        "Nxc3",
        "Rxc3",
        "Rxc3",
        "Rxc3"
      ],
      "What about the back rank? Overruled 1: she had seen it and told me. Homework: find it"
    ]
  ],
  "overruled": [
    "missed counter sacrifice (Qb2) after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3"
  ],
  "upheld": [],
  "homework": [
    [
      "Nxc3",
      "Nxc3",
      "Rxc3",
      "Rxc3",
      "Rxc3"
    ]
  ],
  "tasks": [
    {
      "path": [
        "Nxc3",
        "Nxc3",
        "Rxc3",
        "Rxc3",
        "Rxc3"
      ],
      "due": null,
      "words": "find it"
    }
  ],
  "conflicts": [],
  "kept": [
    "the choice Nxc3 (the file's main line is Nd4 now)"
  ]
}
"#);
    let after = with(&attempt, &taken.events);
    assert_eq!(after.tree(), attempt.tree(), "never over the player's");
    let path = &told_here()[0].finding.path;
    let paths = [path.clone()];
    assert!(after.is_overruled(&paths, "missed-counter-sacrifice", "Qb2"));
    assert!(!after.is_overruled(&paths, "missed-counter-sacrifice", "Qb1+"));
    let again = take(&after, ANSWERED).unwrap();
    assert!(again.is_nothing(), "{again:#?}");
}

#[test]
fn a_finding_stands_again() {
    let sent_first = AttemptEvent::Sent {
        wall_ms: WALL,
        findings: told_here(),
        homework: Vec::new(),
        player: None,
    };
    let attempt = with(&attempt(), &[sent_first]);
    let text = sent(&attempt, &told_here());
    let struck = text.replace("queen.}", "queen.} {Overruled: no.}");
    let after = with(&attempt, &take(&attempt, &struck).unwrap().events);
    assert_eq!(after.coached().unwrap().overruled().len(), 1);
    let upheld = text.replace("queen.}", "queen.} {UPHELD: yes.}");
    let taken = take(&after, &upheld).unwrap();
    assert_eq!(taken.upheld.len(), 1);
    let after = with(&after, &taken.events);
    assert_eq!(after.coached().unwrap().overruled().len(), 0);
}

#[test]
fn another_game_is_refused() {
    let other = "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n1. c7 *\n";
    assert_snapshot!(take(&attempt(), other).unwrap_err(), @"it begins in another position than attempt a-1: this is another game");
    let strange = format!("[FEN \"{BERNSTEIN}\"]\n\n27. a3 *\n");
    assert_snapshot!(take(&attempt(), &strange).unwrap_err(), @"it has none of the moves that were written in attempt a-1: this is another game");
}

#[test]
fn a_changed_word_is_a_conflict_and_a_dropped_one_stays() {
    let text = sent(&attempt(), &[]);
    let changed = text.replace("A healthy pawn up.", "A pawn up, but not healthy.");
    let taken = take(&attempt(), &changed).unwrap();
    assert_snapshot!(taken.conflicts.join("\n"), @"after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3 the sent comment 'A healthy pawn up.' is not there; it stays, and 'A pawn up, but not healthy.' is kept as the coach's");
    let dropped = text.replace("{A healthy pawn up.}", "");
    let taken = take(&attempt(), &dropped).unwrap();
    assert_snapshot!(taken.kept.join("\n"), @"the comment 'A healthy pawn up.' after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3");
    assert!(taken.is_nothing());
}

#[test]
fn two_verdicts_and_a_number_that_was_not_sent() {
    let text = sent(&attempt(), &[]).replace("$18", "$18 $10 $14 {Overruled 3: no}");
    let taken = take(&attempt(), &text).unwrap();
    assert_snapshot!(taken.conflicts.join("\n"), @r#"
after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3 there are several new verdicts: the position is level, White is slightly better; none was taken
after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3 finding 3 is ruled on, but none were sent
"#);
    assert!(taken.overruled.is_empty() && taken.judged.is_empty());
}

#[test]
fn orders_need_their_colon() {
    let numbers = |words: &str| match orders(words).as_slice() {
        [Order::Overruled { numbers, reason }] => Some((numbers.clone(), reason.clone())),
        _ => None,
    };
    assert_eq!(numbers("Overruled: why"), Some((vec![], "why".into())));
    assert_eq!(
        numbers("I think OVERRULED 2, 3 and 4:"),
        Some((vec![2, 3, 4], String::new()))
    );
    for words in [
        "overruled",
        "I was overruled by him: no",
        "preoverruled: x",
        "overruled 2",
    ] {
        assert_eq!(orders(words), vec![], "{words}");
    }
    assert_eq!(orders("Homework: this. Overruled: x").len(), 2);
}

/// Words with everything that PGN or another program may stumble on.
fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        Just("a plan (with ; and { in it".to_owned()),
        Just("a } brace and a \\ stroke".to_owned()),
        Just("50% of it is %100 long".to_owned()),
        Just("<b>&quot;bold&quot;</b> \u{201c}curly\u{201d} «nested»".to_owned()),
        Just("Written at 0:05. I expect 40%. $18".to_owned()),
        "[ -~]{0,90}",
        "\\PC{0,40}",
    ]
}

#[derive(Debug, Clone)]
struct Step {
    parent: usize,
    mv: usize,
    bad: bool,
    verdict: Option<u8>,
    words: String,
    struck: bool,
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    let verdict = prop_oneof![Just(None), (10u8..22).prop_map(Some)];
    let step = (0usize..40, 0usize..40, 0u8..6, verdict, words(), 0u8..8);
    let step = step.prop_map(|(parent, mv, bad, verdict, words, struck)| Step {
        parent,
        mv,
        bad: bad == 0,
        verdict,
        words,
        struck: struck == 0,
    });
    prop::collection::vec(step, 1..25)
}

fn grown(steps: &[Step], choose: bool) -> Attempt {
    let mut attempt = Attempt::fold(&opened(BERNSTEIN)).unwrap();
    let mut at_ms = 10_000;
    let mut record = |attempt: &mut Attempt, what| {
        at_ms += 1_234;
        // What cannot be done is left out.
        let _ = attempt.apply(&event(at_ms, what));
    };
    for step in steps {
        let tree = attempt.tree();
        let parent = NodeId(u32::try_from(step.parent % (tree.len() + 1)).unwrap());
        let moves = tree.line(parent).map(|l| l.position().legal_moves());
        let text = match moves {
            Some(moves) if !moves.is_empty() && !step.bad => moves[step.mv % moves.len()]
                .to_uci(CastlingMode::Standard)
                .to_string(),
            _ => ["--", "Qxh8#", "Nf3", "Rc1"][step.mv % 4].to_owned(),
        };
        record(&mut attempt, AttemptEvent::Added { parent, text });
        let node = NodeId(u32::try_from(attempt.tree().len()).unwrap());
        let verdict = step.verdict.map(|v| match v {
            21 => Verdict::Percent(65),
            nag => Verdict::from_nag(nag).unwrap(),
        });
        record(&mut attempt, AttemptEvent::Judged { node, verdict });
        let text = step.words.clone();
        record(&mut attempt, AttemptEvent::Commented { node, text });
        if step.struck {
            record(&mut attempt, AttemptEvent::Struck { node });
        }
    }
    if choose {
        let node = attempt.tree().standing(NodeId::ROOT).next();
        record(&mut attempt, AttemptEvent::Chosen { node });
    }
    record(&mut attempt, AttemptEvent::Locked);
    attempt
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// There and back without a change: nothing is new, nothing is missing, and what is sent again is
    /// the same, byte for byte.
    #[test]
    fn there_and_back(steps in steps(), choose: bool) {
        let attempt = grown(&steps, choose);
        let text = sent(&attempt, &[]);
        let taken = take(&attempt, &text).unwrap();
        prop_assert!(taken.is_nothing(), "{taken:#?}\n{text}");
        prop_assert!(taken.conflicts.is_empty() && taken.kept.is_empty(), "{taken:#?}\n{text}");
        prop_assert_eq!(sent(&with(&attempt, &taken.events), &[]), text);
    }

    /// A line and words of the coach come in whole, whatever else stands there, and once.
    #[test]
    fn a_remark_is_taken_once(steps in steps(), choose: bool) {
        let attempt = grown(&steps, choose);
        let text = sent(&attempt, &[]);
        // The game's result stands last; his own words may hold a star too.
        let before = text.trim_end().strip_suffix('*').unwrap();
        let answered = format!("{before}\n {{The coach says so.}} *\n");
        let taken = take(&attempt, &answered).unwrap();
        prop_assert_eq!(taken.said.len(), 1, "{:#?}\n{}", taken, answered);
        prop_assert_eq!(&taken.said[0].1, "The coach says so.");
        let after = with(&attempt, &taken.events);
        prop_assert_eq!(after.tree(), attempt.tree());
        prop_assert!(take(&after, &answered).unwrap().is_nothing());
    }
}

/// Nothing in a coach's file moves the player's tree or panics.
#[test]
fn ten_thousand_variations() {
    let mut text = format!("[FEN \"{BERNSTEIN}\"]\n[Attempt \"a-1\"]\n\n27. Nxc3 {{x}}");
    for i in 0..9_000 {
        text += &format!(" (27. Nd4 {{line {i} </script>\u{1b}[31m}})");
    }
    text += " *\n";
    let attempt = attempt();
    match take(&attempt, &text) {
        Ok(taken) => {
            assert_eq!(with(&attempt, &taken.events).tree(), attempt.tree());
            assert!(
                taken.conflicts[0].contains("longer than"),
                "{:?}",
                taken.conflicts
            );
        }
        Err(e) => panic!("{e}"),
    }
}

#[test]
fn a_remark_at_no_move_is_refused() {
    let mut coached = crate::attempt::Coached::new(attempt().tree());
    let node = NodeId(99);
    let text = String::new();
    assert!(coached.apply("x", &Remark::Said { node, text }).is_err());
}
