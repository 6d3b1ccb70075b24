use super::*;

const POLISH: &str = r#"
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\n"
"Language: pl\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\n"

#, rust-format
msgid "{n} file"
msgid_plural "{n} files"
msgstr[0] "{n} plik"
msgstr[1] "{n} pliki"
msgstr[2] "{n} plików"

msgid "Nothing."
msgstr "Nic."

msgctxt "of a game"
msgid "draw"
msgstr "remis"

msgid "draw"
msgstr "rysuj"

#, rust-format
msgid "{} beats {:>4}, {share:.1} %"
msgstr "{share} % {{{1}}} < {0}"

#, fuzzy
msgid "Unsure."
msgstr "Niepewne."

#~ msgid "Gone."
#~ msgstr "Nie ma."
"#;

fn polish() -> &'static Catalogue {
    static READ: OnceLock<Catalogue> = OnceLock::new();
    READ.get_or_init(|| Catalogue::read(POLISH).unwrap())
}

#[test]
fn english_is_what_format_makes() {
    let (n, width, share) = (3, 6, 12.345);
    assert_eq!(tr!("Nothing."), "Nothing.");
    assert_eq!(tr!("{{braces}}"), "{braces}");
    assert_eq!(
        tr!("{n} of {} {{}} {:>3}|{0}", 7, 'x'),
        format!("{n} of {} {{}} {:>3}|{0}", 7, 'x')
    );
    assert_eq!(
        tr!("{share:.1} {a:?} {n:>width$}", a = "b"),
        format!("{share:.1} {a:?} {n:>width$}", a = "b")
    );
    assert_eq!(
        tr!("{:>w$}|", n, w = width),
        format!("{:>w$}|", n, w = width)
    );
    let forms = |n: usize| tr!(n; "{n} file" | "{n} files");
    assert_eq!(
        [forms(0), forms(1), forms(2)],
        ["0 files", "1 file", "2 files"]
    );
    assert_eq!(tr!(n - 2; "one {}" | "{} {n}", share), "one 12.345");
}

/// The numbers and forms of the table in the GNU gettext manual, section 'Additional functions for plural forms'.
#[test]
fn a_translation_has_its_own_order_and_plurals() {
    let told = with(polish(), || {
        let forms = [0, 1, 2, 5, 12, 22, 112, 122].map(|n| tr!(n; "{n} file" | "{n} files"));
        let share = 0.25;
        (
            forms.join(", "),
            tr!("{} beats {:>4}, {share:.1} %", "a", "b"),
        )
    });
    assert_eq!(
        told.0,
        "0 plików, 1 plik, 2 pliki, 5 plików, 12 plików, 22 pliki, 112 plików, 122 pliki"
    );
    assert_eq!(told.1, "0.2 % {   b} < a");
}

#[test]
fn context_parts_what_english_has_in_one_word_and_the_unsure_stays_english() {
    let told = with(polish(), || {
        [
            tr!("draw"),
            tr!("of a game" => "draw"),
            tr!("Nothing."),
            tr!("Unsure."),
            tr!("Gone."),
            tr!("Unheard of."),
        ]
    });
    assert_eq!(
        told,
        ["rysuj", "remis", "Nic.", "Unsure.", "Gone.", "Unheard of."]
    );
    assert_eq!((tr!("of a game" => "draw"), language()), ("draw", "en"));
    assert_eq!(with(polish(), language), "pl");
}

fn refused(body: &str) -> String {
    let head = "msgid \"\"\nmsgstr \"\"\n\"Content-Type: text/plain; charset=UTF-8\\n\"\n\"Language: pl\\n\"\n\"Plural-Forms: nplurals=2; plural=n>1;\\n\"\n\n";
    let faults = Catalogue::read(&format!("{head}{body}")).map(|_| "fits".to_owned());
    faults.unwrap_or_else(|faults| {
        let faults: Vec<String> = faults.iter().map(Fault::to_string).collect();
        faults.join("\n")
    })
}

#[test]
fn what_does_not_fit_is_refused_with_its_line() {
    let cases = [
        "msgid \"{n} of {}\"\nmsgstr \"{} z {n}\"\n",
        "msgid \"{n} of {}\"\nmsgstr \"{0} z {m}\"\n",
        "msgid \"{n} of {}\"\nmsgstr \"z {n}\"\n",
        "msgid \"{n} of {:.2}\"\nmsgstr \"{n} {:.3}\"\n",
        "msgid \"{n} of\"\nmsgstr \"{n} {\"\n",
        "msgid \"one {n}\"\nmsgid_plural \"all {n}\"\nmsgstr[0] \"a\"\nmsgstr[1] \"b {n}\"\n",
        "msgid \"one {n}\"\nmsgid_plural \"all {n}\"\nmsgstr[0] \"a {n}\"\nmsgstr[1] \"b\"\n",
        "msgid \"one {n}\"\nmsgid_plural \"all {n}\"\nmsgstr[0] \"a {n}\"\n",
        "msgid \"<b>one</b>\"\nmsgstr \"<b>jeden</b><script>\"\n",
        "msgid \"line\\n\"\nmsgstr \"linia\"\n",
        "msgid \"a\"\nmsgstr \"b\n",
        "msgid \"a\"\nmsgstr \"b\\x\"\n",
        "msgid \"a\"\nmsgstr \"b\u{1b}[2J\"\n",
        "msgid \"a\"\nmsgstr\n",
        "masgid \"a\"\nmsgstr \"b\"\n",
        "\n\"a\"\n",
        "msgid \"a\"\nmsgstr \"b\"\n\nmsgid \"a\"\nmsgstr \"c\"\n",
    ];
    let told: Vec<String> = cases.iter().map(|body| refused(body)).collect();
    insta::assert_snapshot!(told.join("\n"), @r#"
    fits
    line 7: {m} is no place for a value in the English text
    line 7: the translation has no {0}
    line 7: {0:.3} is no place for a value in the English text
    line 7: a '{' that is not closed: write '{{' for the brace itself
    line 7: the translation has no {n}
    line 7: the translation has no {n}
    line 7: the translation has 1 of the 2 forms that the header's Plural-Forms ask for
    line 7: the tags of the page are not those of the English text
    line 7: the English text and the translation do not both begin, or both end, with \n
    line 8: the text has no quotation mark at both ends
    line 8: '\x' is none of \n, \t, \" and \\
    line 8: a control character stands in the text
    line 8: the text has no quotation mark at both ends
    line 7: 'masgid' is no keyword of a PO file: msgctxt, msgid, msgid_plural, msgstr or msgstr[0] to msgstr[9]
    line 8: a text that belongs to no message
    line 1: a message stands there twice, or is not parted from the next by an empty line; msgfmt --check says which
    "#);
}

#[test]
fn a_file_without_a_sound_header_is_refused() {
    let rule = |rule: &str| {
        let text = format!(
            "msgid \"\"\nmsgstr \"Content-Type: text/plain; charset=UTF-8\\nPlural-Forms: {rule}\\n\"\n"
        );
        Catalogue::read(&text).is_ok()
    };
    assert!(rule("nplurals=2; plural=n != 1;") && rule("nplurals=1; plural=0;"));
    for wrong in [
        "nplurals=2; plural=n;",
        "nplurals=2; plural=n != ;",
        "nplurals=2; plural=1/(n-5);",
        "nplurals=0; plural=0;",
        "nplurals=99; plural=0;",
        "plural=0",
    ] {
        assert!(!rule(wrong), "{wrong}");
    }
    let deep = format!(
        "nplurals=1; plural={}0{};",
        "(".repeat(200),
        ")".repeat(200)
    );
    assert!(!rule(&deep));
    for text in [
        "",
        "#\n",
        "\"\"",
        "msgid",
        "msgid \"a\"\nmsgstr \"b\"\n",
        "msgstr[7] \"\"",
    ] {
        assert!(Catalogue::read(text).is_err(), "{text}");
    }
}

/// Not a panic on anything that begins like a PO file.
#[test]
fn any_text_is_read_or_refused() {
    use proptest::prelude::*;
    let line = prop_oneof![
        Just("msgid \"a {n}\"".to_owned()),
        Just("msgstr \"b\"".to_owned()),
        Just("msgid \"\"".to_owned()),
        Just("msgstr \"Plural-Forms: nplurals=2; plural=n;\\n\"".to_owned()),
        Just("msgid_plural \"x\"".to_owned()),
        Just("msgstr[3] \"x\"".to_owned()),
        Just("msgctxt \"x\"".to_owned()),
        Just("#, fuzzy".to_owned()),
        Just(String::new()),
        "[a-z\"#\\\\ {}]{0,12}",
    ];
    proptest!(|(lines in prop::collection::vec(line, 0..24))| {
        let _ = Catalogue::read(&lines.join("\n"));
    });
}

#[test]
fn a_check_counts_what_is_missing() {
    let template = "msgid \"\"\nmsgstr \"Plural-Forms: nplurals=2; plural=(n != 1);\\n\"\n\nmsgid \"Nothing.\"\nmsgstr \"\"\n\nmsgid \"Unsure.\"\nmsgstr \"\"\n\nmsgid \"More {n}\"\nmsgstr \"\"\n";
    let file = POLISH.to_owned() + "\nmsgid \"More {n}\"\nmsgstr \"Więcej\"\n";
    let check = check(template, &file).unwrap();
    assert_eq!((check.texts, check.translated), (3, 2));
    assert_eq!(check.missing.len(), 1);
    assert_eq!(check.missing[0].english, "Unsure.");
    assert!(check.missing[0].line.is_some());
    let lines: Vec<usize> = check.unfit.iter().map(|f| f.line).collect();
    let at = file
        .lines()
        .position(|l| l == "msgid \"More {n}\"")
        .unwrap()
        + 1;
    assert_eq!(lines, [at]);
    assert!(check.unknown.iter().any(|f| f.why == "draw"));
}

/// Forms of 0 to 30, then of 100, 101, 102, 103, 111, 112, 121, 199 and 1000, as Python 3.11's `gettext.c2py` gives them; the
/// rules are those of the GNU gettext manual but the last two.
#[test]
fn plural_rules_are_read_as_another_reader_reads_them() {
    let rules = [
        ("n != 1", "1011111111111111111111111111111111111111"),
        ("n>1", "0011111111111111111111111111111111111111"),
        ("0", "0000000000000000000000000000000000000000"),
        (
            "n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2",
            "2011122222222222222222111222222221122222",
        ),
        (
            "n%10==1 && n%100!=11 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2",
            "2011122222222222222220111222222201122022",
        ),
        (
            "n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 ? 4 : 5",
            "0123333333344444444444444444444555344445",
        ),
        (
            "n%100==1 ? 0 : n%100==2 ? 1 : n%100==3 || n%100==4 ? 2 : 3",
            "3012233333333333333333333333333301233333",
        ),
        (
            "n==1 ? 0 : n==2 ? 1 : 2",
            "2012222222222222222222222222222222222222",
        ),
        (
            "n==1 ? 0 : (n==0 || (n%100 > 0 && n%100 < 20)) ? 1 : 2",
            "1011111111111111111122222222222211111222",
        ),
        (
            "n%10==1 && n%100!=11 ? 0 : n != 0 ? 1 : 2",
            "2011111111111111111110111111111101111011",
        ),
        (
            "!(n == 1 || n == 2)",
            "1001111111111111111111111111111111111111",
        ),
        (
            "n==1?0:n<7?1:n<11?2:3*1+n/1000-0",
            "1011111222233333333333333333333333333334",
        ),
    ];
    let numbers = || (0..=30).chain([100, 101, 102, 103, 111, 112, 121, 199, 1000]);
    for (text, forms) in rules {
        let rule = plural_rule::Rule::parse(text).unwrap();
        let told: String = numbers()
            .map(|n| rule.form(n).unwrap().to_string())
            .collect();
        assert_eq!(told, forms, "{text}");
    }
}
