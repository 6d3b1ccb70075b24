use super::*;
use std::fs;

/// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory).
const SAAVEDRA: &str = "\
- id: saavedra-1895
  title: The pawn that would not queen
  fen: 8/8/1KP5/3r4/8/8/8/k7 w - - 0 1
  task: win
  minutes: 8
  source: \"F. Saavedra, 1895 (from memory)\"
  themes: [underpromotion, stalemate-defence]
  lines: [\"1.c7 Rd6+ 2. Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4 c8=R Ra4 Kb3\", \"c7 Rd6+ Kc5 Rd1\"]
";

fn told(text: &str) -> String {
    let errors = load(text, "mine.yaml").unwrap_err();
    let lines: Vec<String> = errors.iter().map(ToString::to_string).collect();
    lines.join("\n")
}

/// The Saavedra record with one line replaced.
fn with(field: &str, line: &str) -> String {
    let start = SAAVEDRA.find(&format!("  {field}:")).unwrap();
    let end = start + SAAVEDRA[start..].find('\n').unwrap();
    format!("{}{line}{}", &SAAVEDRA[..start], &SAAVEDRA[end..])
}

#[test]
fn a_record_becomes_a_drill() {
    let drill = load(SAAVEDRA, "x").unwrap().remove(0);
    assert_eq!(
        (drill.id.as_str(), drill.task, drill.minutes),
        ("saavedra-1895", Task::Win, 8)
    );
    assert_eq!(drill.themes, ["underpromotion", "stalemate-defence"]);
    // Two lines that part after two moves.
    assert_eq!(drill.solution.leaves().len(), 2);
    assert_eq!(drill.solution.len(), 15);
    assert_eq!(drill.note, None);
}

#[test]
fn a_drill_may_have_no_published_line() {
    let drill = load(&with("lines", "  lines: []"), "x").unwrap().remove(0);
    assert!(drill.solution.is_empty());
}

#[test]
fn what_is_written_is_read_back() {
    let mut drills = load(SAAVEDRA, "x").unwrap();
    drills[0].note = Some("6.c8=Q: \"Rc4+\" # stalemate".to_owned());
    let text = write(&drills).unwrap();
    assert_eq!(load(&text, "x").unwrap(), drills);
    let all = builtin().unwrap();
    assert_eq!(load(&write(all).unwrap(), "x").unwrap(), all);
}

#[test]
fn the_collection_is_sound() {
    let drills = builtin().unwrap_or_else(|errors| panic!("{errors:#?}"));
    assert!(drills.len() >= 12, "only {} drills", drills.len());
    for drill in drills {
        assert!(
            !drill.source.is_empty() && !drill.solution.is_empty(),
            "{}",
            drill.id
        );
    }
}

#[test]
fn every_leniency() {
    let windows = format!(
        "\u{FEFF}# mine\r\n---\r\n{}",
        SAAVEDRA.replace('\n', "\r\n")
    );
    assert_eq!(load(&windows, "x").unwrap(), load(SAAVEDRA, "x").unwrap());
    let dash = SAAVEDRA.replacen("- id", "-\n  id", 1);
    assert_eq!(load(&dash, "x").unwrap().len(), 1);
    let spelt = with("lines", "  lines: [\"c7 rd6+ b6b5\"]").replace("rd6", "Rd6");
    assert_eq!(load(&spelt, "x").unwrap().len(), 1);
}

#[test]
fn fields_that_are_unknown_or_missing_or_of_the_wrong_kind() {
    insta::assert_snapshot!(told(&with("minutes", "  mintes: 8")), @"mine.yaml:5:3: drill 'saavedra-1895': unknown field `mintes`, expected one of `id`, `title`, `fen`, `task`, `minutes`, `source`, `themes`, `lines`, `grade`, `known-by`, `note`");
    insta::assert_snapshot!(told(&with("minutes", "  minutes: five")), @r#"mine.yaml:5:12: drill 'saavedra-1895': minutes: invalid type: string "five", expected u32"#);
    insta::assert_snapshot!(told(&with("task", "  task: lose")), @"mine.yaml:4:9: drill 'saavedra-1895': task: unknown variant `lose`, expected one of `win`, `draw`, `move`");
    insta::assert_snapshot!(told(&with("source", "  # none")), @"mine.yaml:1:3: drill 'saavedra-1895': missing field `source`; add it (fields: id, title, fen, task, minutes, source, themes, lines, grade, note)");
    insta::assert_snapshot!(told(&with("title", "  title: White: a plan")), @"mine.yaml:2:15: drill 'saavedra-1895': mapping values are not allowed in this context; indent every field of a drill by two blanks, and put texts that hold ': ' in quotes");
    insta::assert_snapshot!(told(&with("title", " title: badly indented")), @"mine.yaml:1:3: drill 'saavedra-1895': missing field `title`; add it (fields: id, title, fen, task, minutes, source, themes, lines, grade, note)");
    insta::assert_snapshot!(told(&with("lines", "  lines: c7")), @r#"mine.yaml:8:10: drill 'saavedra-1895': lines: invalid type: string "c7", expected a list of texts"#);
    insta::assert_snapshot!(told(&format!("{SAAVEDRA}  minutes: 9\n")), @"mine.yaml:1:3: drill 'saavedra-1895': duplicate field `minutes`");
}

#[test]
fn everything_wrong_with_a_record_is_told_at_once() {
    let text = SAAVEDRA
        .replace("id: saavedra-1895", "id: Saavedra 1895")
        .replace("minutes: 8", "minutes: 0")
        .replace("title: The pawn that would not queen", "title: ~")
        .replace("[underpromotion, ", "[under promotion, ")
        .replace("Kc5 Rd1", "Kd9");
    insta::assert_snapshot!(told(&text), @r"
    mine.yaml:1:3: drill 'Saavedra 1895': 'Saavedra 1895' is no id; use small letters, digits and single hyphens, at most 64 characters
    mine.yaml:2:3: drill 'Saavedra 1895': the title is empty; fill it in
    mine.yaml:5:3: drill 'Saavedra 1895': 0 minutes; a drill has 1 to 120
    mine.yaml:7:3: drill 'Saavedra 1895': 'under promotion' is no theme; use small letters, digits and single hyphens, at most 64 characters
    mine.yaml:8:3: drill 'Saavedra 1895': after c7 Rd6+: 'Kd9' is not a move: '9' is no rank; ranks are 1 to 8
    ");
}

#[test]
fn moves_that_no_solution_can_have() {
    let lines = |text: &str| told(&with("lines", &format!("  lines: [\"{text}\"]")));
    insta::assert_snapshot!(lines("c7 Rd6+ Kc6"), @"mine.yaml:8:3: drill 'saavedra-1895': after c7 Rd6+: 'Kc6' is not legal in 8/2P5/1K1r4/8/8/8/8/k7 w - - 1 2");
    insta::assert_snapshot!(lines("Qh4"), @"mine.yaml:8:3: drill 'saavedra-1895': 'Qh4' is not legal in 8/8/1KP5/3r4/8/8/8/k7 w - - 0 1");
    insta::assert_snapshot!(lines("c7 --"), @"mine.yaml:8:3: drill 'saavedra-1895': after c7: '--' passes; a solution consists of moves");
    insta::assert_snapshot!(lines("1. 2."), @"mine.yaml:8:3: drill 'saavedra-1895': a line without a move; remove it");
    insta::assert_snapshot!(told(&with("minutes", "  minutes: 8\n  grade: 6")), @r#"mine.yaml:1:3: drill 'saavedra-1895': 6 is no grade; a grade is 1 to 5"#);
    let knights = with("fen", "  fen: 4k3/8/8/8/8/8/8/1N2K1N1 w - - 0 1");
    let knights = knights.replace("1.c7", "Ne2 Kd8 Nc3 Ke8 Nd5 Kd8 Nf3");
    insta::assert_snapshot!(told(&knights), @r"
    mine.yaml:8:3: drill 'saavedra-1895': after Ne2 Kd8: 'Nc3' can be Nbc3 or Nec3; write which
    mine.yaml:8:3: drill 'saavedra-1895': 'c7' is not legal in 4k3/8/8/8/8/8/8/1N2K1N1 w - - 0 1
    ");
}

#[test]
fn positions_that_are_none() {
    let fen = |text: &str| told(&with("fen", &format!("  fen: {text}")));
    insta::assert_snapshot!(fen("8/8/1KP5/3r4/8/8/8/8 w - - 0 1"), @"mine.yaml:3:3: drill 'saavedra-1895': '8/8/1KP5/3r4/8/8/8/8 w - - 0 1' is not a possible position: a king is missing");
    insta::assert_snapshot!(fen("nonsense"), @"mine.yaml:3:3: drill 'saavedra-1895': 'nonsense' is not a FEN position: invalid board part in fen");
    insta::assert_snapshot!(fen("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"), @"mine.yaml:3:3: drill 'saavedra-1895': the game is over here: stalemate");
}

#[test]
fn one_bad_record_does_not_hide_another() {
    let text = format!(
        "# three\n{}{}{SAAVEDRA}",
        with("minutes", "  minutes: x"),
        with("task", "  tsak: win").replace("saavedra-1895", "other")
    );
    insta::assert_snapshot!(told(&text), @r#"
    mine.yaml:6:12: drill 'saavedra-1895': minutes: invalid type: string "x", expected u32
    mine.yaml:13:3: drill 'other': unknown field `tsak`, expected one of `id`, `title`, `fen`, `task`, `minutes`, `source`, `themes`, `lines`, `grade`, `known-by`, `note`
    "#);
    insta::assert_snapshot!(told(&format!("{SAAVEDRA}{SAAVEDRA}")), @"mine.yaml:9:3: drill 'saavedra-1895': the drill on line 1 has the same id; choose another");
}

#[test]
fn texts_that_are_no_list_of_drills() {
    insta::assert_snapshot!(told(""), @"mine.yaml: the file holds no drill");
    insta::assert_snapshot!(told("# nothing\n"), @"mine.yaml: the file holds no drill");
    insta::assert_snapshot!(told("drills:\n  - id: x\n"), @"mine.yaml:1: a drill begins with '- ' at the start of a line; this belongs to none");
    insta::assert_snapshot!(told("- a\u{1b}[2Jb\n"), @"mine.yaml:1:1: control characters are not allowed at position 3");
    insta::assert_snapshot!(told("- id: [\n"), @"mine.yaml:1:7: drill '[': id: invalid type: sequence, expected a text");
    insta::assert_snapshot!(told(&format!("{SAAVEDRA}---\n{SAAVEDRA}")), @"mine.yaml:1: drill 'saavedra-1895': deserializing from YAML containing more than one document is not supported; remove the line '---' between the drills");
}

#[test]
fn sizes_are_bounded() {
    insta::assert_snapshot!(told(&"x".repeat(FILE_MAX + 1)), @"mine.yaml: the file is larger than 256 KiB; divide it");
    insta::assert_snapshot!(told(&with("title", &format!("  title: {}", "x".repeat(5000)))), @"mine.yaml:2:10: drill 'saavedra-1895': title: a text of 5000 bytes, more than 4096");
    insta::assert_snapshot!(told(&with("themes", &format!("  themes: [{}]", "a, ".repeat(100)))), @"mine.yaml:7:11: drill 'saavedra-1895': themes: a list of more than 64 entries");
    insta::assert_snapshot!(told(&"- id: x\n".repeat(1001)), @"mine.yaml: the file holds more than 1000 drills; divide it");
}

/// A quarter of a megabyte that unfolds to gigabytes in a reader without bounds.
#[test]
fn repeated_references_are_cut_off() {
    let long = "x".repeat(100_000);
    let many = "*a, ".repeat(35_000);
    let bomb = with("themes", &format!("  themes: [&a {long}, {many}]"));
    assert!(bomb.len() < FILE_MAX);
    insta::assert_snapshot!(told(&bomb), @"mine.yaml:7:12: drill 'saavedra-1895': themes[0]: a text of 100000 bytes, more than 4096");
    let short = with(
        "themes",
        &format!("  themes: [&a {}, {many}]", "x".repeat(4000)),
    );
    insta::assert_snapshot!(told(&short), @"mine.yaml:7:11: drill 'saavedra-1895': themes: a list of more than 64 entries");
}

#[test]
fn files_that_cannot_be_read() {
    let home = tempfile::tempdir().unwrap();
    let told = |path: &std::path::Path| {
        let text = load_file(path).unwrap_err()[0].to_string();
        text.replace(&home.path().display().to_string(), "HOME")
    };
    insta::assert_snapshot!(told(&home.path().join("none.yaml")), @"HOME/none.yaml: No such file or directory (os error 2)");
    insta::assert_snapshot!(told(home.path()), @"HOME: this is no regular file");
    let latin = home.path().join("latin.yaml");
    fs::write(&latin, b"- id: caf\xe9\n").unwrap();
    insta::assert_snapshot!(told(&latin), @"HOME/latin.yaml: byte 10 is not UTF-8; save the file as UTF-8");
    let large = home.path().join("large.yaml");
    fs::write(&large, "#".repeat(FILE_MAX * 2)).unwrap();
    insta::assert_snapshot!(told(&large), @"HOME/large.yaml: the file is larger than 256 KiB; divide it");
    let good = home.path().join("good.yaml");
    fs::write(&good, SAAVEDRA).unwrap();
    assert_eq!(load_file(&good).unwrap().len(), 1);
}

proptest::proptest! {
    /// Whatever a file holds, it is drills or messages that name the file.
    #[test]
    fn no_text_is_too_strange(text in "(- |id: |\\PC|\n|  |fen|\\*|&a|\\[|\"|:){0,60}") {
        if let Err(errors) = load(&text, "mine.yaml") {
            assert!(!errors.is_empty());
            assert!(errors.iter().all(|e| e.to_string().starts_with("mine.yaml:")));
        }
    }
}
