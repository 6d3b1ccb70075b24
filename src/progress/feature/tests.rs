use super::*;

#[test]
fn numbers_and_names_are_each_used_once() {
    for (i, row) in ROWS.iter().enumerate() {
        assert!(row.0 < 62);
        assert!(
            ROWS[..i].iter().all(|r| r.0 < row.0 && r.2 != row.2),
            "{}",
            row.2
        );
        assert_eq!(Feature::named(row.2), Some(Feature(row.0)));
    }
}

/// What is in the store must mean the same for ever.
#[test]
fn kept_numbers_do_not_change() {
    let trial = Trial {
        turn: Turn::Opponent,
        ply: 4,
        seen: true,
        path: Vec::new(),
        resource: "Rxf3".to_owned(),
        class: Motif::Capture,
        motifs: vec![Motif::Backward],
        piece: Role::Rook,
        gives_up: true,
        phase: Phase::Middlegame,
        pressed: Some(false),
    };
    let bits = Bits::of(&trial, 0.5);
    assert_eq!(serde_json::to_string(&bits).unwrap(), "9228513628104294922");
    assert!(bits.seen() && !bits.with_seen(false).seen());
    let names: Vec<&str> = Feature::all()
        .filter(|f| bits.has(*f))
        .map(Feature::name)
        .collect();
    assert_eq!(
        names,
        [
            "replies",
            "half-moves-3-4",
            "captures",
            "backward-moves",
            "replies-that-give-up",
            "rook-moves",
            "when-level",
            "middlegames",
            "time-left"
        ]
    );
    assert_eq!(bits.stratum(), (4 + 1) * 7 + 3);
}

#[test]
fn the_question_itself_is_no_stratum() {
    let stratum = (4 + 1) * 7 + 3;
    assert_eq!(merged(stratum, Group::Turn), 7 + 3);
    assert_eq!(merged(stratum, Group::Depth), 4 * 7 + 3);
    assert_eq!(merged(stratum, Group::Class), (4 + 1) * 7);
    assert_eq!(merged(stratum, Group::Motif), stratum);
}
