//! Numbers and dates by locale, as somebody chooses them: held against the C library that is there, on every command for
//! people, with nothing changed in what programs read.

use std::path::Path;
use std::process::Command;

use foreply::text::{self, LocaleName};

use crate::support::{Program, left_out};

const DATA: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data");

/// Decimal point, separator of groups and the form of a date are those of the C library's own locales, which `localedef`
/// makes of their sources.
#[test]
fn signs_and_forms_are_those_of_the_c_library() {
    if !Path::new("/usr/share/i18n/locales/de_DE").exists() {
        return left_out("there are no sources of the C library's locales (Debian: locales)");
    }
    let folder = tempfile::tempdir().unwrap();
    let mut checked = 0;
    for name in ["de_DE", "fr_FR", "en_GB", "en_US", "cs_CZ", "ru_RU"] {
        let made = Command::new("localedef")
            .args(["-i", name, "-f", "UTF-8"])
            .arg(folder.path().join(format!("{name}.UTF-8")))
            .output();
        // It ends with 1 where it has only warned.
        if !made.is_ok_and(|m| m.status.code().is_some_and(|c| c <= 1)) {
            return left_out("there is no localedef");
        }
        let told = |keyword: &str| {
            let ran = Command::new("locale")
                .args(["-k", keyword])
                .env("LOCPATH", folder.path())
                .env("LC_ALL", format!("{name}.UTF-8"))
                .output()
                .unwrap();
            let text = String::from_utf8(ran.stdout).unwrap();
            let value = text.trim().split_once('=').unwrap().1;
            value.trim_matches('"').to_owned()
        };
        let locale = LocaleName::named(name).unwrap().locale(&|_| None).unwrap();
        let (number, day) = text::within(locale, || {
            let day = text::day("2026-03-04");
            (
                format!("{} {}", text::decimal(1234.5, 1), text::whole(1_234_567)),
                day,
            )
        });
        let (point, between) = (told("decimal_point"), told("thousands_sep"));
        assert_eq!(
            number,
            format!("1{between}234{point}5 1{between}234{between}567"),
            "{name}"
        );
        let form = told("d_fmt").replace("%y", "%Y");
        let day_of_it = form
            .replace("%-d", "4")
            .replace("%-m", "3")
            .replace("%d", "04")
            .replace("%m", "03")
            .replace("%Y", "2026");
        assert_eq!(day, day_of_it, "{name}");
        checked += 1;
    }
    assert_eq!(checked, 6);
}

/// An attempt with its coach's homework, an experiment and a season, judged.
fn season(program: &Program) {
    let games = format!("{DATA}/harrowmere-season.pgn");
    program.ok(&["games", "add", &games, "--player", "Verrick, Ansa"]);
    let notes = format!("{DATA}/harrowmere-homework.pgn");
    program.ok(&["review", &notes, "--mine", "--nodes", "300"]);
    let id = super::coach::attempt(program.home.path());
    let sent = program.out("sent.pgn");
    program.ok(&["coach", "send", &id.0, "-o", sent.to_str().unwrap()]);
    let text = std::fs::read_to_string(&sent).unwrap();
    let said = "$1 {Homework by 2031-12-05: try it.} 30. Re1 $18 *\n";
    let back = text.trim_end().trim_end_matches('*').to_owned() + said;
    let back = program.file("back.pgn", &back);
    program.ok(&["coach", "take", &back, "--by", "Bram Oskarn"]);
    program.ok(&[
        "experiment",
        "start",
        "--habit",
        "captures",
        "--habit",
        "checks",
    ]);
    program.ok(&["games", "moments", "--nodes", "300"]);
}

/// Commands with pages, and whether they take `--nodes`.
const PAGES: [(&[&str], bool); 13] = [
    (&["review", "last"], true),
    (&["history"], false),
    (&["progress"], false),
    (&["progress", "--eve"], false),
    (&["quick"], false),
    (&["experiment", "show"], false),
    (&["games", "clock"], true),
    (&["games", "openings"], false),
    (&["games", "recall", "last"], true),
    (&["games", "account", "last"], true),
    (&["games", "event"], true),
    (&["games", "opponent", "pell"], false),
    (&["method"], false),
];

fn page(program: &Program, (args, judged): (&[&str], bool), more: &[&str]) -> String {
    let few: &[&str] = if judged { &["--nodes", "300"] } else { &[] };
    program.ok(&[&["--quiet"], args, few, more].concat())
}

#[test]
fn every_page_is_in_his_locale_and_json_is_nobodys() {
    let program = Program::new();
    season(&program);
    let lists: [(&[&str], bool); 3] = [
        (&["coach", "homework"], false),
        (&["games", "list"], false),
        (&["games", "plan"], false),
    ];
    let all = PAGES.iter().chain(&lists).copied();
    // Once more before, so that what the first run keeps (a row of the history) is there for both.
    let json = |of, more: &[&str]| page(&program, of, &[&["--format", "json"], more].concat());
    for of in all.clone() {
        page(&program, of, &[]);
    }
    let standard: Vec<String> = all.clone().map(|of| json(of, &[])).collect();
    for (of, standard) in all.clone().zip(&standard) {
        for locale in ["de", "fr"] {
            assert_eq!(
                &json(of, &["--locale", locale]),
                standard,
                "{:?} in {locale}",
                of.0
            );
        }
    }
    program.file("settings.yaml", "locale: de\n");
    for (of, standard) in all.zip(&standard) {
        assert_eq!(&json(of, &[]), standard, "{:?} by the settings", of.0);
    }
    for (of, german, english) in [
        (PAGES[1], "28.02.2026", "2026.02.28"),
        (PAGES[6], "stood at 0,70 or more", "stood at 0.70"),
        (PAGES[6], "high from 0,10 on", "high from .10"),
        (PAGES[9], "14.03.2026", "2026.03.14"),
        (PAGES[12], "a search of 200.000 nodes", "200,000"),
        (PAGES[12], "at 0,64 made 0,70", "made .70"),
    ] {
        let told = |format| {
            let told = page(&program, of, &["--format", format]);
            told.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let (text, html) = (told("text"), told("html"));
        assert!(text.contains(german), "{:?}: {german} in {text}", of.0);
        for told in [text, html] {
            assert!(!told.contains(english), "{:?}: {english} in {told}", of.0);
        }
    }
    // In French no point stands between figures at all.
    for of in PAGES.iter().chain(&lists).copied() {
        for format in ["text", "html"] {
            let told = match (of.0, format) {
                // The list is for a terminal, and for programs.
                (["games", "list"], "html") => continue,
                (["games", "list"], _) => page(&program, of, &["--locale", "fr"]),
                _ => page(&program, of, &["--locale", "fr", "--format", format]),
            };
            let past = past_the_locale(&without_tags(&told));
            assert_eq!(past, Vec::<String>::new(), "{:?} as {format}", of.0);
        }
    }
    // What is typed outranks what is set, and C is what stands without either.
    let told = page(&program, PAGES[6], &["--locale", "C"]);
    assert!(told.contains("stood at 0.70 or more"), "{told}");
}

/// Words that are nothing but figures with a point between or before them, or a day as it is kept.
fn past_the_locale(text: &str) -> Vec<String> {
    // Articles of the Laws, the version of the program, and a coach's own words, which stay as he wrote them.
    const NONE: [&str; 5] = [
        "8.4",
        "11.3",
        "4.4",
        env!("CARGO_PKG_VERSION"),
        "2031-12-05",
    ];
    let words = text.split(|c: char| c.is_whitespace() || "()'\"".contains(c));
    let words = words.map(|w| w.trim_end_matches([',', '.', ';', ':']));
    let odd = words.filter(|w| {
        let figures = w.chars().all(|c| c.is_ascii_digit() || ".-+".contains(c));
        let parts: Vec<&str> = w.split(['.', '-']).collect();
        let point = w.contains('.') && parts.last().is_some_and(|p| !p.is_empty());
        let day = parts.len() == 3 && parts.iter().all(|p| p.len() >= 2);
        figures && (point || day) && !NONE.contains(w)
    });
    odd.map(str::to_owned).collect()
}

/// A page without its tags, style and script; a text as it is.
fn without_tags(page: &str) -> String {
    if !page.starts_with('<') {
        return page.to_owned();
    }
    let mut out = String::new();
    let mut rest = page;
    while let Some((words, tag)) = rest.split_once('<') {
        out.push_str(words);
        out.push(' ');
        let end = match ["style", "script"].iter().find(|n| tag.starts_with(**n)) {
            Some(name) => tag.split_once(&format!("</{name}>")),
            None => tag.split_once('>'),
        };
        rest = end.map_or("", |(_, behind)| behind);
    }
    out + rest
}

#[test]
fn a_day_is_typed_as_it_is_shown() {
    let program = Program::new();
    let list = |args: &[&str]| program.run(&[&["history"], args].concat());
    let shown = list(&["--from", "14.03.2026", "--locale", "de"]);
    assert_eq!(shown.code, 0, "{}", shown.err);
    assert!(shown.out.contains("from 14.03.2026"), "{}", shown.out);
    let standard = list(&[
        "--from",
        "2026-03-14",
        "--to",
        "2026-03-20",
        "--locale",
        "de",
    ]);
    assert!(
        standard.out.contains("from 14.03.2026, up to 20.03.2026"),
        "{}",
        standard.out
    );
    // Also where a program reads what comes of it.
    let json = ["--from", "14.03.2026", "--locale", "de", "--format", "json"];
    assert_eq!(list(&json).code, 0);
    for (typed, locale, forms) in [
        ("14.03.2026", "C", "write it as 2026-10-31"),
        ("14.03.26", "de", "write it as 31.10.2026 or 2026-10-31"),
        (
            "03/14/2026",
            "en-GB",
            "write it as 31/10/2026 or 2026-10-31",
        ),
    ] {
        let refused = list(&["--from", typed, "--locale", locale]);
        assert_eq!(refused.code, 2);
        let said = format!("foreply: --from: '{typed}' is no day; {forms}\n");
        assert_eq!(refused.err, said);
    }
    let sheet = "White: Verrick, Ansa\nDate: 14.03.2026\n1. e4 e5 2. Nf3 Nc6 1-0\n";
    let sheet = program.file("sheet.txt", sheet);
    let pgn = program.ok(&["games", "sheet", &sheet, "--locale", "de"]);
    assert!(pgn.contains("[Date \"2026.03.14\"]"), "{pgn}");
}

#[test]
fn a_locale_that_is_none_is_told() {
    let program = Program::new();
    let ran = program.run(&["history", "--locale", "klingon"]);
    assert_eq!(ran.code, 2);
    let said = "'klingon' is no locale; write a language (de, fr, ru), with a country where it has several";
    assert!(ran.err.contains(said), "{}", ran.err);
    program.file("settings.yaml", "locale: de-XX\n");
    let ran = program.run(&["history"]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err
            .contains("'de-XX' is no locale; of this language there are de-AT, de-BE"),
        "{}",
        ran.err
    );
    program.file("settings.yaml", "locale: system\n");
    let mut command = program.command(&["history"]);
    let ran = command.env("LC_TIME", "xx_YY.UTF-8").output().unwrap();
    let err = String::from_utf8_lossy(&ran.stderr).into_owned();
    assert_eq!(ran.status.code(), Some(1), "{err}");
    assert!(err.contains("LC_TIME: 'xx_YY.UTF-8' is no locale"), "{err}");
    let shown = |lang: &str| {
        let mut command = program.command(&["history", "--from", "2026-03-14"]);
        let ran = command.env("LANG", lang).output().unwrap();
        String::from_utf8_lossy(&ran.stdout).into_owned()
    };
    assert!(shown("de_DE.UTF-8").contains("from 14.03.2026"));
    assert!(shown("C.UTF-8").contains("from 2026-03-14"));
}

/// Nobody writes decimals past the locale: a format with decimals stands only where a drawing is made, where a number is
/// handed on to the locale, and in the engine's own measurements.
#[test]
fn decimals_are_made_in_one_room() {
    const MAY: [&str; 5] = [
        "report/chart.rs",
        "report/chart_bands.rs",
        "report/method/mod.rs",
        "cli/commands/engine.rs",
        "text/locale/figures.rs",
    ];
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let (mut looked_at, mut found) = (0, Vec::new());
    for file in super::layers::rust_files(&src) {
        let name = file
            .strip_prefix(&src)
            .unwrap()
            .to_string_lossy()
            .replace('\\', "/");
        let of_tests = name.contains("tests") || name.contains("everything_said");
        if of_tests || name.starts_with("engine/") {
            continue;
        }
        let whole = std::fs::read_to_string(&file).unwrap();
        let code = whole.split("#[cfg(test)]").next().unwrap_or_default();
        let makes = code.lines().any(|line| {
            let formats = line
                .split('{')
                .skip(1)
                .filter_map(|rest| rest.split('}').next());
            formats.into_iter().any(|f| {
                let spec = f.split_once(':').map_or("", |(_, spec)| spec);
                let in_spec = |c: char| c.is_alphanumeric() || "+<>^.$_".contains(c);
                let spec = if spec.chars().all(in_spec) { spec } else { "" };
                let places = spec.split_once('.').map_or("", |(_, places)| places);
                matches!(places.as_bytes(), [b'1'..=b'9', ..]) || places.ends_with('$')
            })
        });
        looked_at += 1;
        if makes && !MAY.contains(&name.as_str()) {
            found.push(name);
        }
    }
    assert!(looked_at > 300, "{looked_at}");
    assert_eq!(found, Vec::<String>::new());
}
