//! Many students' files at once, and a coach's own tree beside theirs.

use crate::support::Program;

const HOMEWORK: &str = include_str!("../data/harrowmere-homework.pgn");

/// The position is that of the first homework; F. Saavedra, after G. E. Barbier, 1895 (from memory).
const MODEL: &str = "[Event \"Model\"]\n[Annotator \"Oskarn, Bram\"]\n[SetUp \"1\"]\n\
    [FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 3 40\"]\n\n\
    1. c7 Rd6+ 2. Kb5 Rd5+ 3. Kb4 Rd4+ 4. Kb3 Rd3+ 5. Kc2 Rd4 6. c8=R {not a queen} Ra4 7. Kb3 *\n";

/// A folder with the homework, one more student, a broken file and one that is no PGN.
fn folder(program: &Program) -> String {
    let folder = program.home.path().join("in");
    std::fs::create_dir(&folder).unwrap();
    let other = HOMEWORK.replace("Marrowby, Ilse", "Quillan, Tove <b>");
    let file = |name: &str, text: &str| std::fs::write(folder.join(name), text).unwrap();
    file("a.pgn", HOMEWORK);
    file("b.PGN", &other);
    file("broken.pgn", "[Event \"x\"]\n\n1. e4 Kz9 *\n");
    file("empty.pgn", "");
    file("words.txt", "not read");
    folder.to_str().unwrap().to_owned()
}

fn errors(program: &Program, text: &str) -> Vec<String> {
    program.plain(text).lines().map(str::to_owned).collect()
}

#[test]
fn a_folder_becomes_a_table() {
    let program = Program::new();
    let ran = program.run(&["--quiet", "review", &folder(&program), "--nodes", "300"]);
    assert_eq!(ran.code, 1);
    let told = errors(&program, &ran.err);
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].contains("broken.pgn: line 3"), "{told:?}");
    assert!(
        told[1].contains("empty.pgn: no written variations"),
        "{told:?}"
    );
    let rows: Vec<&str> = ran.out.lines().collect();
    assert!(rows[0].starts_with("Student "), "{}", ran.out);
    for name in ["Marrowby, Ilse", "Quillan, Tove <b>"] {
        assert!(rows.iter().any(|r| r.starts_with(name)), "{}", ran.out);
    }
    assert!(rows.iter().all(|r| r.chars().count() <= 100), "{}", ran.out);
}

#[test]
fn a_folder_becomes_a_page_for_each_file() {
    let program = Program::new();
    let folder = folder(&program);
    let without = program.run(&["review", &folder, "--nodes", "300", "--format", "html"]);
    assert_eq!(without.code, 1);
    insta::assert_snapshot!(without.err.trim_end(), @"foreply: a folder makes one page for each file; say with -o DIR where they go");
    let out = program.out("out");
    let args = [
        "--quiet", "review", &folder, "--nodes", "300", "--format", "html", "-o",
    ];
    let ran = program.run(&[&args[..], &[out.to_str().unwrap()]].concat());
    assert_eq!(ran.code, 1, "{}", ran.err);
    let mut pages: Vec<_> = std::fs::read_dir(&out)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    pages.sort();
    assert_eq!(pages, ["a.html", "b.html", "index.html"]);
    let page = std::fs::read_to_string(out.join("b.html")).unwrap();
    assert!(page.contains("Quillan, Tove &#60;b&#62;") && !page.contains("Tove <b>"));
}

#[test]
fn a_coachs_tree_says_what_was_to_be_seen() {
    let program = Program::new();
    let (homework, model) = (
        program.file("h.pgn", HOMEWORK),
        program.file("m.pgn", MODEL),
    );
    let run = |format: &str| {
        let args = [
            "--quiet", "review", &homework, "--model", &model, "--nodes", "300", "--format",
        ];
        let ran = program.run(&[&args[..], &[format]].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out
    };
    let text = run("text");
    let missed = "c8=R, then Ra4 Kb3, and you did not write it. 'not a queen'";
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains(missed), "{text}");
    assert!(
        flat.contains("Of the 13 moves your coach wanted you to see you wrote 10."),
        "{text}"
    );
    // The second homework has no model.
    assert_eq!(text.matches("What your coach wanted you to see").count(), 1);
    assert!(run("html").contains("What the coach wanted you to see"));
    let json: serde_json::Value = serde_json::from_str(&run("json")).unwrap();
    assert_eq!(json["attempts"][0]["model"]["seen"], 10);
    assert_eq!(json["attempts"][0]["student"], "Marrowby, Ilse");
    assert_eq!(
        json["students"][0]["trees"],
        json["attempts"].as_array().unwrap().len()
    );
}
