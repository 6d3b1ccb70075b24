use shakmaty::Chess;

use super::board::in_words;

const STYLE: &str = concat!(include_str!("base.css"), include_str!("page.css"));

/// Relative luminance and contrast ratio as defined in WCAG 2.1 (W3C Recommendation, 2018; formulas
/// from memory).
fn contrast(a: &str, b: &str) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn luminance(hex: &str) -> f64 {
    let hex = hex.trim_start_matches('#');
    let long = if hex.len() == 3 {
        hex.chars().flat_map(|c| [c, c]).collect()
    } else {
        hex.to_owned()
    };
    let part = |i: usize| {
        let c = f64::from(u8::from_str_radix(&long[i..i + 2], 16).unwrap()) / 255.0;
        if c <= 0.03928 {
            c / 12.92
        } else {
            ((c + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * part(0) + 0.7152 * part(2) + 0.0722 * part(4)
}

fn colour(scheme: &str, name: &str) -> String {
    let from = scheme.find(&format!("--{name}: ")).unwrap() + name.len() + 4;
    scheme[from..].split(';').next().unwrap().to_owned()
}

#[test]
fn the_formula_gives_its_known_values() {
    assert!((contrast("#000", "#fff") - 21.0).abs() < 0.01);
    assert!((contrast("#777777", "#ffffff") - 4.48).abs() < 0.01);
}

/// Level AA asks 4.5 for text, in every scheme the page has.
#[test]
fn text_can_be_read_in_light_dark_and_print() {
    let schemes: Vec<&str> = STYLE.split(":root").skip(1).collect();
    assert_eq!(schemes.len(), 3);
    for scheme in schemes {
        let ground = colour(scheme, "ground");
        for name in ["ink", "soft", "mark"] {
            let ratio = contrast(&colour(scheme, name), &ground);
            assert!(ratio >= 4.5, "{name} on {ground}: {ratio:.2}");
        }
    }
}

/// 3 is asked for graphics; black men stand on both kinds of square.
#[test]
fn men_stand_out_from_their_squares() {
    for square in ["#fffdf6", "#cdc5d3"] {
        assert!(STYLE.contains(square));
        assert!(contrast("#232c36", square) >= 3.0);
        assert!(
            contrast("#1b232c", square) >= 3.0,
            "the outline of white men"
        );
    }
}

#[test]
fn a_position_in_words() {
    insta::assert_snapshot!(in_words(&Chess::default()), @"White: king e1, queen d1, rooks a1 and h1, bishops c1 and f1, knights b1 and g1, pawns a2, b2, c2, d2, e2, f2, g2 and h2. Black: king e8, queen d8, rooks a8 and h8, bishops c8 and f8, knights b8 and g8, pawns a7, b7, c7, d7, e7, f7, g7 and h7. White to move.");
}
