//! Names that stores and files hold: the list of DEVELOPERS.md against the code, and each of them read back. A name that
//! disappears here would be lost in every home that holds it.

use foreply::drill::Proof;
use foreply::games::event::countable::{Countable, Oversight};
use foreply::games::moment::Reason;
use foreply::progress::causes::{OFFERED, OfferedCause};
use foreply::review::{FindingKind, StoredFindingKind};

const GUIDE: &str = include_str!("../DEVELOPERS.md");

/// The codes in a row of the table.
fn listed(what: &str) -> Vec<&'static str> {
    let row = GUIDE
        .lines()
        .find(|l| l.starts_with(&format!("| {what} |")));
    let row = row.unwrap_or_else(|| panic!("DEVELOPERS.md has no row '{what}'"));
    row.split('`').skip(1).step_by(2).collect()
}

#[test]
fn finding_kinds() {
    let codes: Vec<&str> = FindingKind::ALL.map(FindingKind::code).to_vec();
    assert_eq!(codes, listed("finding kinds"));
    for code in codes {
        let kind = FindingKind::from_code(code).unwrap();
        let stored = serde_json::to_string(&StoredFindingKind::from(kind)).unwrap();
        assert_eq!(stored, format!("\"{code}\""));
    }
    // Of a later version: kept as it was read, and said to be so.
    let later: StoredFindingKind = serde_json::from_str("\"missed-rebuttal\"").unwrap();
    assert_eq!(
        serde_json::to_string(&later).unwrap(),
        "\"missed-rebuttal\""
    );
    assert!(
        later.label().contains("of a later version"),
        "{}",
        later.label()
    );
}

#[test]
fn reasons_of_a_moment() {
    let codes: Vec<&str> = Reason::ALL.map(Reason::code).to_vec();
    assert_eq!(codes, listed("reasons of a moment"));
    assert!(
        Reason::ALL
            .iter()
            .all(|r| Reason::from_code(r.code()) == Some(*r))
    );
    assert_eq!(Reason::from_code("own-game"), None);
}

/// A takeaway is kept with what it is tied to; of an oversight the reason's own code stands in it.
#[test]
fn what_takeaways_are_tied_to() {
    let all = [
        Countable::Oversight(Oversight::ReplyOverlooked),
        Countable::ClockAt30 { minutes: 20 },
        Countable::Converted,
        Countable::Recognised,
    ];
    for (tied, code) in all.iter().zip(listed("takeaways are tied to")) {
        let stored = serde_json::to_string(tied).unwrap();
        assert!(stored.contains(&format!("\"{code}\"")), "{stored}");
        assert_eq!(serde_json::from_str::<Countable>(&stored).unwrap(), *tied);
    }
    assert_eq!(listed("takeaways are tied to").len(), all.len());
}

#[test]
fn offered_causes() {
    let codes: Vec<&str> = OFFERED.iter().map(|c| c.code).collect();
    assert_eq!(codes, listed("offered causes"));
    for cause in &OFFERED {
        for words in std::iter::once(&cause.words).chain(cause.earlier) {
            let found = OfferedCause::of(&format!(" {} ", words.to_uppercase()));
            assert_eq!(found.map(|c| c.code), Some(cause.code), "{words}");
        }
    }
    assert_eq!(OfferedCause::of("slept badly"), None);
}

#[test]
fn known_by() {
    let codes: Vec<String> = [Proof::Table, Proof::Search]
        .iter()
        .map(|p| serde_json::to_string(p).unwrap().replace('"', ""))
        .collect();
    assert_eq!(codes, listed("known by"));
}
