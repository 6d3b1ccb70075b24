use super::*;

fn named(name: &str) -> Locale {
    let name = LocaleName::named(name).unwrap();
    name.locale(&|_| None).unwrap()
}

/// Signs and forms as the C library of 2022 has them (glibc 2.36, `locale -k LC_NUMERIC` and `locale -k d_fmt`), but for
/// the year of en-GB, which has two digits there and four in CLDR 42; `tests/locale.rs` holds them against the C library
/// that is there.
#[test]
fn numbers_and_dates_of_six_locales() {
    let day = jiff::civil::date(2026, 3, 4);
    let told = |name: &str| {
        within(named(name), || {
            [
                decimal(1234.5, 1),
                share(0.38, 2),
                signed(-0.5, 2),
                whole(1_234_567),
                date(day),
                day_and_month(day),
                month("2026-03"),
            ]
            .join(" | ")
        })
    };
    let table = [
        (
            "de",
            "1.234,5 | 0,38 | -0,50 | 1.234.567 | 04.03.2026 | 04.03 | 03.2026",
        ),
        (
            "fr",
            "1\u{202F}234,5 | 0,38 | -0,50 | 1\u{202F}234\u{202F}567 | 04/03/2026 | 04/03 | 03/2026",
        ),
        (
            "en-GB",
            "1,234.5 | .38 | -0.50 | 1,234,567 | 04/03/2026 | 04/03 | 03/2026",
        ),
        (
            "en-US",
            "1,234.5 | .38 | -0.50 | 1,234,567 | 03/04/2026 | 03/04 | 03/2026",
        ),
        (
            "cs",
            "1\u{202F}234,5 | 0,38 | -0,50 | 1\u{202F}234\u{202F}567 | 4.3.2026 | 4.3 | 3.2026",
        ),
        (
            "ru",
            "1\u{202F}234,5 | 0,38 | -0,50 | 1\u{202F}234\u{202F}567 | 04.03.2026 | 04.03 | 03.2026",
        ),
        (
            "C",
            "1234.5 | .38 | -0.50 | 1234567 | 2026-03-04 | 4 Mar | 2026-03",
        ),
    ];
    for (name, expected) in table {
        assert_eq!(told(name), expected, "{name}");
    }
}

/// Groups of three and then of two (CLDR 42, `as`: `12,34,567`), none at all, and what is no number.
#[test]
fn digits_in_groups_of_any_size() {
    let told = |name: &str, n: i64| within(named(name), || whole(n));
    assert_eq!(told("as_IN", 1_234_567), "12,34,567");
    assert_eq!(told("C", 1_234_567), "1234567");
    assert_eq!(told("de", 999), "999");
    assert_eq!(told("de", -1000), "-1.000");
    assert_eq!(within(named("de"), || decimal(f64::NAN, 2)), "NaN");
    assert_eq!(within(Locale::STANDARD, || thousands(200_000)), "200,000");
    assert_eq!(within(named("de"), || thousands(200_000)), "200.000");
}

#[test]
fn names_of_both_standards_mean_the_same() {
    let name = |text: &str| LocaleName::named(text).unwrap().name();
    for (typed, known) in [
        ("de", "de_DE"),
        ("DE_de.UTF-8", "de_DE"),
        ("de-AT", "de_AT"),
        ("en", "en_US"),
        ("pt", "pt_BR"),
        ("no", "nb_NO"),
        ("sv", "sv_SE"),
        ("sr-Latn-RS", "sr_RS@latin"),
        ("sr_RS.UTF-8@latin", "sr_RS@latin"),
        ("sr-Cyrl", "sr_RS"),
        ("zh-Hant", "zh_TW"),
        ("de_DE.ISO-8859-15@euro", "de_DE@euro"),
        (" posix ", "C"),
        ("C.UTF-8", "C"),
        ("System", "system"),
    ] {
        assert_eq!(name(typed), known, "{typed}");
        assert_eq!(name(known), known);
    }
}

#[test]
fn a_name_that_is_none_is_told_with_those_that_are() {
    let told = |text: &str| LocaleName::named(text).unwrap_err().to_string();
    let klingon = told("tlh-XX");
    assert!(
        klingon.starts_with("'tlh-XX' is no locale; write a language (de, fr, ru)"),
        "{klingon}"
    );
    assert!(
        klingon.contains(" cs csb cv cy da de doi ") && klingon.ends_with(" zu"),
        "{klingon}"
    );
    insta::assert_snapshot!(told("de-XX"), @"'de-XX' is no locale; of this language there are de-AT, de-BE, de-CH, de-DE, de-IT, de-LI and de-LU");
    insta::assert_snapshot!(told("pt-BR-abl1943"), @"'pt-BR-abl1943' is no locale; of this language there are pt-BR and pt-PT");
    insta::assert_snapshot!(told("eo-XX"), @"'eo-XX' is no locale; of this language there are eo");
    assert!(LocaleName::named("").is_err());
}

/// LC_ALL before the category before LANG, an empty one as if it were not there: POSIX, Base Definitions, 8.2.
#[test]
fn the_environment_is_read_as_posix_has_it() {
    let system = |set: &[(&str, &str)]| {
        LocaleName::System.locale(&|name| {
            let found = set.iter().find(|(n, _)| *n == name);
            found.map(|(_, value)| (*value).to_owned())
        })
    };
    let told = |set: &[(&str, &str)]| {
        within(system(set).unwrap(), || {
            format!("{} {}", decimal(0.5, 1), day("2026-03-14"))
        })
    };
    assert_eq!(told(&[]), "0.5 2026-03-14");
    assert_eq!(told(&[("LANG", "C.UTF-8")]), "0.5 2026-03-14");
    assert_eq!(told(&[("LANG", "de_DE.UTF-8")]), "0,5 14.03.2026");
    assert_eq!(
        told(&[
            ("LC_ALL", ""),
            ("LC_TIME", "en_GB.UTF-8"),
            ("LANG", "de_DE.UTF-8")
        ]),
        "0,5 14/03/2026"
    );
    assert_eq!(
        told(&[("LC_ALL", "fr_FR"), ("LC_NUMERIC", "C"), ("LC_TIME", "C")]),
        "0,5 14/03/2026"
    );
    let wrong = system(&[("LC_TIME", "xx_YY.UTF-8")])
        .unwrap_err()
        .to_string();
    assert!(
        wrong.starts_with("LC_TIME: 'xx_YY.UTF-8' is no locale; "),
        "{wrong}"
    );
}

/// Each locale that can be named by its language has a form with day, month and four digits of the year, of figures and
/// the usual signs.
#[test]
fn every_language_has_numbers_and_dates() {
    let mut count = 0;
    for language in known::languages() {
        let locale = named(language);
        let shown = within(locale, || date(jiff::civil::date(2026, 12, 31)));
        let figures: String = shown.chars().filter(char::is_ascii_digit).collect();
        let signs = |c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | '-' | '\u{A0}');
        assert!(
            shown.chars().all(signs) && figures.len() == 8,
            "{language}: {shown}"
        );
        assert_ne!(locale.dates, None, "{language}");
        let half = within(locale, || decimal(0.5, 1));
        assert_eq!(half.chars().count(), 3, "{language}: {half}");
        let plain = within(locale.in_ascii(), || {
            format!("{} {}", whole(1234), date(jiff::civil::date(2026, 12, 31)))
        });
        // A blank of its own between the parts of a date goes the same way.
        assert!(plain.is_ascii(), "{language}: {plain}");
        count += 1;
    }
    assert_eq!(count, 197);
}

/// As somebody types them, and what two readers would take for two days.
#[test]
fn days_are_typed_in_both_forms() {
    let read = |typed: &str, name: &str| {
        let day = TypedDate::of(typed).read(named(name));
        day.map(|d| d.to_string()).map_err(|e| e.to_string())
    };
    let day = Ok("2026-03-04".to_owned());
    for (typed, name) in [
        ("2026-03-04", "C"),
        ("2026-03-04", "de"),
        (" 04.03.2026 ", "de"),
        ("4.3.2026", "de"),
        ("4. 3. 2026", "cs"),
        ("04.03.2026.", "hr"),
        ("04/03/2026", "en-GB"),
        ("03/04/2026", "en-US"),
        ("04. 03. 2026", "sl"),
    ] {
        assert_eq!(read(typed, name), day, "{typed} in {name}");
    }
    insta::assert_snapshot!(read("04.03.2026", "C").unwrap_err(), @"'04.03.2026' is no day; write it as 2026-10-31");
    insta::assert_snapshot!(read("04/03/2026", "de").unwrap_err(), @"'04/03/2026' is no day; write it as 31.10.2026 or 2026-10-31");
    for (typed, name) in [
        ("04.03.26", "de"),
        ("31.02.2026", "de"),
        ("13/31/2026", "en-US"),
        ("31/12/2026", "en-US"),
        ("2026-3-4", "C"),
        ("20260304", "C"),
        ("2026-03-04T10:00", "C"),
        ("1.500", "de"),
        ("", "de"),
        ("soon", "C"),
    ] {
        assert!(read(typed, name).is_err(), "{typed} in {name}");
    }
}

#[test]
fn a_day_that_is_kept_is_shown_as_far_as_it_is_known() {
    let shown = |kept: &str| within(named("de"), || day(kept));
    for (kept, expected) in [
        ("2026-03-14", "14.03.2026"),
        ("2026.03.14", "14.03.2026"),
        ("2026.03.??", "03.2026"),
        ("2026.??.??", "2026"),
        ("????.??.??", "????.??.??"),
        ("2026.??.14", "2026.??.14"),
        ("2026-13-14", "2026-13-14"),
        ("no date", "no date"),
    ] {
        assert_eq!(shown(kept), expected);
        assert_eq!(within(Locale::STANDARD, || day(kept)), kept);
    }
    for kept in ["2026-03", "2026.03"] {
        assert_eq!(within(named("de"), || month(kept)), "03.2026");
        assert_eq!(within(Locale::STANDARD, || month(kept)), kept);
    }
    assert_eq!(within(named("de"), || month("2026.??")), "2026.??");
    let within_text = |text: &str| within(named("de"), || dates_in(text).into_owned());
    assert_eq!(
        within_text("Verrick, Ansa - Pell, Doran, Harrowmere Chess League 2026.02.14: move 17"),
        "Verrick, Ansa - Pell, Doran, Harrowmere Chess League 14.02.2026: move 17"
    );
    for same in [
        "own-2026-02-14-3f",
        "/tmp/2026-02-14",
        "12026-02-14",
        "2026-02-145",
        "2026-02-14-x",
        "é2026.02.14",
    ] {
        assert_eq!(within_text(same), same);
    }
}

#[test]
fn sentences_of_ours_get_his_figures() {
    let told = |text: &str| within(named("de"), || figures_in(text).into_owned());
    assert_eq!(
        told("In 3,501 positions rated 1495, area .576 (.479 to .666); 3.8, 3.0 % from -1.8 on."),
        "In 3.501 positions rated 1495, area 0,576 (0,479 to 0,666); 3,8, 3,0 % from -1,8 on."
    );
    assert_eq!(
        told("after 1.e4 e5 2...Nc6, b4.5"),
        "after 1.e4 e5 2...Nc6, b4.5"
    );
}

/// What was done inside has no effect outside, and none on another thread.
#[test]
fn a_locale_holds_within() {
    let german = named("de");
    assert_eq!(chosen(), Locale::STANDARD);
    within(german, || {
        assert_eq!(chosen(), german);
        within(Locale::STANDARD, || assert_eq!(chosen(), Locale::STANDARD));
        let other = std::thread::spawn(chosen).join().unwrap();
        assert_eq!((chosen(), other), (german, Locale::STANDARD));
    });
    let broken = std::panic::catch_unwind(|| within(german, || panic!("on purpose")));
    assert!(broken.is_err());
    assert_eq!(chosen(), Locale::STANDARD);
}

/// A line is not broken within a number.
#[test]
fn the_groups_of_a_number_stay_together() {
    let words = within(named("fr"), || format!("1 {}", whole(1_110)));
    assert_eq!(crate::text::wrap(&words, 6), ["1", "1\u{202F}110"]);
}
