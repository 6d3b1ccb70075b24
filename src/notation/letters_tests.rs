//! Piece letters of other languages.

use std::borrow::Cow;

use super::letters::*;
/// PGN standard 1994, section 17, as it was published (from memory): one line a language, knight to king.
const STANDARD: &str = "czech JSVDK|danish SLTDK|dutch PLTDK|english NBRQK|estonian ROVLK|finnish RLTDK|french CFTDR|\
    german SLTDK|hungarian HFBVK|icelandic RBHDK|italian CATDR|norwegian SLTDK|polish SGWHK|portuguese CBTDR|\
    romanian CNTDR|spanish CATDR|swedish SLTDK";

#[test]
fn the_letters_are_those_of_the_standard() {
    let mut seen = 0;
    for row in STANDARD.split('|') {
        let (name, letters) = row.split_once(' ').unwrap();
        let mut own: Vec<&str> = Letters::named(name).unwrap().of_pieces().to_vec();
        own.reverse();
        assert_eq!(own.concat(), letters, "{name}");
        seen += 1;
    }
    assert_eq!(seen, 17);
    assert_eq!(Letters::named(" DE "), Ok(Letters::German));
    assert!(
        Letters::named("klingon")
            .unwrap_err()
            .to_string()
            .contains("'klingon' is none")
    );
}

#[test]
fn typed_moves_get_english_letters_and_nothing_else_does() {
    let typed = |letters: Letters, word: &str| letters.typed_word(word).into_owned();
    let german = |word: &str| typed(Letters::German, word);
    for (word, english) in [
        ("Sf3", "Nf3"),
        ("12.Sbxd7+", "12.Nbxd7+"),
        ("e8=D", "e8=Q"),
        ("exd8D#", "exd8Q#"),
        ("Tad1+-", "Rad1+-"),
        ("sf3", "nf3"),
        // English where German has no such letter.
        ("Nf3", "Nf3"),
        ("Bf3", "Bf3"),
        ("dxe4", "dxe4"),
        ("O-O", "O-O"),
        ("Danke", "Danke"),
        ("D", "D"),
    ] {
        assert_eq!(
            german(word).to_lowercase(),
            english.to_lowercase(),
            "{word}"
        );
    }
    // What both have is what the chosen language says.
    assert_eq!(typed(Letters::French, "Rf3"), "Kf3");
    assert_eq!(typed(Letters::French, "Cf3"), "Nf3");
    assert_eq!(typed(Letters::French, "Nf3"), "Nf3");
    assert_eq!(typed(Letters::Hungarian, "Bd1"), "Rd1");
    assert_eq!(typed(Letters::Estonian, "O-O-O"), "O-O-O");
    assert_eq!(typed(Letters::Estonian, "Oe3"), "Be3");
    assert_eq!(typed(Letters::Russian, "Кf3"), "Nf3");
    assert_eq!(typed(Letters::Russian, "Крf3"), "Kf3");
    assert_eq!(typed(Letters::Russian, "кf3").to_lowercase(), "nf3");
    assert_eq!(typed(Letters::English, "Sf3"), "Sf3");
}

#[test]
fn shown_moves_have_the_letters_of_the_language() {
    let text = "After 1.Nbd7 Rd6+ 2.Kb5 (or R1xa3, Ng1-f3) e8=Q, cxd8N and c8Q: Bern, Kb, Q-side, O-O. \
                R7/1Nb1k3/8/8/8/8/8/Kb6 w - - 0 1";
    insta::assert_snapshot!(Letters::German.shown(text), @"After 1.Sbd7 Td6+ 2.Kb5 (or T1xa3, Sg1-f3) e8=D, cxd8S and c8D: Bern, Kb, Q-side, O-O. R7/1Nb1k3/8/8/8/8/8/Kb6 w - - 0 1");
    insta::assert_snapshot!(Letters::Ukrainian.shown("1.Kb5 Rd5 2.Nxc3"), @"1.Крb5 Тd5 2.Кxc3");
    insta::assert_snapshot!(Letters::Figurines.shown("Qxf7# Nf3"), @"♕xf7# ♘f3");
    assert!(matches!(Letters::English.shown(text), Cow::Borrowed(_)));
    let page = "<style>a{b:Nf3}</style><p title=\"Nf3\">Nf3 &amp; <b>Rd1</b></p>";
    assert_eq!(
        Letters::German.shown_html(page),
        "<style>a{b:Nf3}</style><p title=\"Nf3\">Sf3 &amp; <b>Td1</b></p>"
    );
}

/// Whatever he writes comes back as he wrote it.
#[test]
fn what_is_typed_is_what_is_shown() {
    for (letters, ..) in TABLE {
        for (place, own) in letters.of_pieces().iter().enumerate() {
            for end in ["f3", "xd5+", "bxd7", "1e2", "h4#"] {
                let word = format!("{own}{end}");
                let english = letters.typed_word(&word).into_owned();
                let expected = format!("{}{end}", ENGLISH[place]);
                if letters != Letters::Figurines {
                    assert_eq!(english, expected, "{letters:?} {word}");
                }
                assert_eq!(letters.shown(&expected), word, "{letters:?}");
            }
        }
    }
}

#[test]
fn a_file_by_hand_keeps_what_the_standard_says() {
    let pgn = "[White \"Sf3, Ilse\"]\n\n1. e4 (1. Sf3 Sf6 {Sf3 is my move} 2. Lg5) 1... Rd8 ; Sf3\n2. Tad1 $1 *\n";
    assert_eq!(
        Letters::German.typed_pgn(pgn),
        "[White \"Sf3, Ilse\"]\n\n1. e4 (1. Nf3 Nf6 {Sf3 is my move} 2. Bg5) 1... Rd8 ; Sf3\n2. Rad1 $1 *\n"
    );
    // In French R is the king; in a file it is the rook that the standard has.
    assert_eq!(Letters::French.typed_pgn("1. Rd1 Cf6 *"), "1. Rd1 Nf6 *");
}
