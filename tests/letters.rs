//! Piece letters of other languages, as somebody uses them: typed in a sitting, shown as text and as a page, in notes and on a
//! score sheet; what programs read has the standard's.

use crate::support::Program;

/// A sitting on the Saavedra position, typed in French letters: R is the king, T the rook.
fn sitting(program: &Program) -> String {
    let fen = "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1";
    let args = ["practice", "--fen", fen, "--plain", "--letters", "french"];
    let lines = "c7 Td6+ Rb5 Td5+ {la Tour revient, Td5+} Rb4 =\ntree\nchoose\nyes\nlater\n";
    program.typed(&args, lines).ok(&args)
}

#[test]
fn a_sitting_in_french_letters() {
    let program = Program::new();
    let shown = sitting(&program);
    assert!(shown.contains("Td6+ 2.Rb5 Td5+"), "{shown}");
    assert!(shown.contains("la Tour revient, Td5+"), "{shown}");
    // What goes out to others is the standard's.
    let sent = program.out("sent.pgn").to_str().unwrap().to_owned();
    program.ok(&["coach", "send", "last", "--letters", "fr", "-o", &sent]);
    let pgn = std::fs::read_to_string(&sent).unwrap();
    let moves = pgn.split("\n\n").nth(1).unwrap();
    assert!(moves.contains("Rd6+") && moves.contains("Kb5"), "{pgn}");
    // The setting does what the flag does; JSON has the standard's whatever is set.
    program.file("settings.yaml", "letters: french\n");
    let few = ["review", "last", "--nodes", "500"];
    let text = program.ok(&few);
    assert!(text.contains("Td6+") && text.contains("Rb5"), "{text}");
    assert!(!text.contains("Kb5"), "{text}");
    let json = program.ok(&[&few[..], &["--format", "json"]].concat());
    assert!(
        json.contains("\"Kb5\"") && !json.contains("\"Rb5\""),
        "{json}"
    );
    let html = program.ok(&[&few[..], &["--format", "html"]].concat());
    assert!(html.contains(">Rb5<") && !html.contains(">Kb5<"), "{html}");
    let figures = program.ok(&[&few[..], &["--letters", "figurines"]].concat());
    assert!(figures.contains("♖d6+ 2.♔b5"), "{figures}");
    let english = program.ok(&[&few[..], &["--letters", "english"]].concat());
    assert!(english.contains("Rd6+ 2.Kb5"), "{english}");
}

#[test]
fn notes_and_a_score_sheet_in_german_letters() {
    let program = Program::new();
    let notes = program.file(
        "notes.pgn",
        "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n1. c7 Td6+ 2. Kb5 {Td5+ kommt} Td5+ 3. Kb4 $18 *\n",
    );
    let refused = program.run(&["review", &notes, "--nodes", "500"]);
    assert_eq!(refused.code, 1);
    assert!(refused.err.contains("'Td6+'"), "{}", refused.err);
    let read = program.ok(&["review", &notes, "--nodes", "500", "--letters", "german"]);
    assert!(read.contains("Td6+ 2.Kb5"), "{read}");
    let sheet = program.file(
        "sheet.txt",
        "White: Verrick, Ansa\nBlack: Pell, Doran\n1. e4 e5 2. Sf3 Sc6 3. Lb5 a6 4. Lxc6 dxc6 5. O-O Ld6\n1-0\n",
    );
    let pgn = program.ok(&["games", "sheet", &sheet, "--letters", "de"]);
    assert!(
        pgn.contains("2. Nf3 Nc6 3. Bb5 a6 4. Bxc6 dxc6 5. O-O Bd6"),
        "{pgn}"
    );
}

#[test]
fn letters_that_nobody_has_are_told() {
    let program = Program::new();
    let ran = program.run(&["history", "--letters", "klingon"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("'klingon' is none of the letters"),
        "{}",
        ran.err
    );
    program.file("settings.yaml", "letters: klingon\n");
    let ran = program.run(&["history"]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("'klingon' is none of the letters"),
        "{}",
        ran.err
    );
}
