//! A coach's own positions out to three students and back, as a table.

use crate::support::Program;

/// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory); R. Réti, Kagans Neueste Schachnachrichten,
/// 1921 (from memory).
const COLLECTION: &str = "[Event \"Secrets of the last rank\"]\n[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n\
    {Homework: how far does the pawn get?} 1. c7 Rd6+ 2. Kb5 Rd5+ 3. Kb4 Rd4+ 4. Kb3 Rd3+ 5. Kc2 \
    {towards the rook} Rd4 {a stalemate is set} 6. c8=R $1 (6. c8=Q Rc4+ $1) 6... Ra4 7. Kb3 $18 *\n\n\
    [FEN \"7K/8/k1P5/7p/8/8/8/8 w - - 0 1\"]\n\n\
    1. Kg7 h4 2. Kf6 {two ways at once} Kb6 (2... h3 3. Ke7 $10) 3. Ke5 $10 *\n";

/// One sitting on the next position of the homework.
fn sit(program: &Program, lines: &str) {
    let args = ["practice", "--homework", "--plain"];
    let typed = format!("{lines}choose\nyes\nlater\n");
    let shown = program.typed(&args, &typed).ok(&args);
    assert!(shown.contains("Homework from Bram Oskarn"), "{shown}");
    assert!(!shown.contains("stalemate is set"), "{shown}");
}

/// What a student writes, in a home of his own; gives the file for the coach.
fn student(handed_out: &str, name: Option<&str>, sittings: &[&str]) -> (Program, String) {
    let program = Program::new();
    let took = program.ok(&["coach", "take", handed_out]);
    assert!(
        took.contains("Bram Oskarn set 2 positions of Autumn as homework."),
        "{took}"
    );
    let again = program.ok(&["coach", "take", handed_out]);
    assert!(again.contains("nothing is new"), "{again}");
    for lines in sittings {
        sit(&program, lines);
    }
    let file = program.out("back.pgn").to_str().unwrap().to_owned();
    let mut send = vec!["coach", "send", "--homework", "-o", &file];
    if let Some(name) = name {
        send.extend(["--player", name]);
    }
    program.ok(&send);
    (program, file)
}

#[test]
fn three_students_and_one_table() {
    let coach = Program::new();
    let collection = coach.file("autumn.pgn", COLLECTION);
    let out = coach.out("for-students.pgn").to_str().unwrap().to_owned();
    let hand_out = [
        "coach",
        "hand-out",
        &collection,
        "--by",
        "Bram Oskarn",
        "--name",
        "Autumn",
        "--until",
        "2031-12-05",
        "-o",
        &out,
    ];
    let ran = coach.run(&hand_out);
    assert_eq!(ran.code, 0, "{}", ran.err);
    insta::assert_snapshot!(coach.plain(&ran.err), @"foreply: 2 positions written to DESK/for-students.pgn without your lines (8 points); what comes back: foreply coach table FILE... --model HOME/autumn.pgn");
    let handed = std::fs::read_to_string(&out).unwrap();
    for secret in ["c7", "rook", "stalemate", "Kg7", "Secrets", "$"] {
        assert!(!handed.contains(secret), "{secret}: {handed}");
    }
    assert!(
        handed.contains("{Homework by 2031-12-05: how far does the pawn get?}"),
        "{handed}"
    );

    let reti = "Kg7 h4 Kf6 h3 Ke7 =\n";
    let (ilse, of_ilse) = student(
        &out,
        Some("Marrowby, Ilse"),
        &[
            "c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4 c8=R Ra4 Kb3 +-\n",
            reti,
        ],
    );
    let (_doran, of_doran) = student(
        &out,
        Some("Pell, Doran"),
        &[
            "c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4 c8=Q +-\n",
            "Kg8 -+\n",
        ],
    );
    // He does not say who he is: the file says it.
    let (_pim, of_pim) = student(&out, None, &["c7 Rd6+ Kc5 =\n"]);
    let of_pim_named = coach.file("ostrell.pgn", &std::fs::read_to_string(&of_pim).unwrap());

    let listed = ilse.ok(&["coach", "homework"]);
    assert!(listed.contains("position 1 of Autumn: how far"), "{listed}");
    assert!(!listed.contains("To do"), "{listed}");

    let table = [
        "coach",
        "table",
        &of_ilse,
        &of_doran,
        &of_pim_named,
        "--model",
        &collection,
    ];
    insta::assert_snapshot!(coach.ok(&table), @r"
    Autumn: 2 positions, 3 students, what most missed first
    -------------------------------------------------------
    A  Marrowby, Ilse: 2 of 2 positions, saw 6 of 8 points.
    B  Pell, Doran: 2 of 2 positions, saw 2 of 8 points.
    C  ostrell: 1 of 2 positions, saw 0 of 5 points; not handed in: position 2.

    ABC  saw it
    -~.  0 of 2     Position 1, after 1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+ 4.Kb3 Rd3+
                    5.Kc2 Rd4: 6.c8=Q Rc4+
    -.   0 of 1     Position 2, after 1.Kg7 h4 2.Kf6: 2...Kb6 3.Ke5 (=)
    +-.  1 of 2     Position 1, after 1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+ 4.Kb3 Rd3+
                    5.Kc2 Rd4: 6.c8=R
    +-   1 of 2     Position 2, in the position: 1.Kg7 h4 2.Kf6 'two ways at once'
    ++~  2 of 3     Position 1, in the position: 1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+
                    4.Kb3 Rd3+ 5.Kc2 'towards the rook'
    +..  1 of 1     Position 1, after 1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+ 4.Kb3 Rd3+
                    5.Kc2 Rd4 6.c8=R: 6...Ra4 7.Kb3 (+-)
    +.   1 of 1     Position 2, after 1.Kg7 h4 2.Kf6: 2...h3 3.Ke7 (=)
    ++.  2 of 2     Position 1, after 1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4 Rd4+ 4.Kb3 Rd3+
                    5.Kc2: 5...Rd4 'a stalemate is set'

    + saw it, ~ saw a part of it, - came there and missed it, . his lines do not
    come there (of a finding: it was not found in his tree), blank: not handed in.
    ");

    let json = coach.ok(&[&table[..], &["--format", "json"]].concat());
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["format"], "foreply-coach-table");
    assert_eq!(json["students"].as_array().unwrap().len(), 3);
    let first = &json["rows"][0];
    assert_eq!(first["of"], "point");

    let html = coach.ok(&[&table[..], &["--format", "html"]].concat());
    assert!(
        html.contains("<th>Marrowby, Ilse</th>") && html.contains("<strong>missed</strong>"),
        "{html}"
    );

    // With the engine what it finds in several trees is a row of its own.
    let judged = coach.ok(&[&table[..], &["--review", "--nodes", "2000"]].concat());
    assert!(judged.contains("missed "), "{judged}");
    assert!(
        judged.contains("a coach's judgement outranks them"),
        "{judged}"
    );
}

#[test]
fn what_is_wrong_with_a_collection_is_told_and_nothing_is_written() {
    let coach = Program::new();
    let bad = coach.file(
        "bad.pgn",
        "[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n1. c7 Rh6 2. Kb5 Rb4 *\n\n[FEN \"7K/8/k1P5/7p/8/8/8/8 w - - 0 1\"]\n\n*\n",
    );
    let out = coach.out("x.pgn").to_str().unwrap().to_owned();
    let ran = coach.run(&["coach", "hand-out", &bad, "--by", "Bram Oskarn", "-o", &out]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(coach.plain(&ran.err), @r"
    foreply: HOME/bad.pgn: line 1 (game 1): Rh6 is not possible after c7
    foreply: HOME/bad.pgn: line 5 (game 2): no lines of yours in it; write what is to be seen as moves and variations
    ");
    assert!(!std::path::Path::new(&out).exists());
    let good = coach.file("good.pgn", COLLECTION);
    let ran = coach.run(&[
        "coach",
        "table",
        "tests/data/harrowmere-season.pgn",
        "--model",
        &good,
    ]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err
            .contains("no tree in these files is at a position of the collection"),
        "{}",
        ran.err
    );
    let ran = coach.run(&["coach", "table", "gone.pgn", "--model", &good]);
    assert_eq!(ran.code, 1);
}

/// A folder of files makes a folder of pages, and one that links them.
#[test]
fn a_folder_of_pages_has_an_index() {
    let coach = Program::new();
    let folder = coach.out("back");
    std::fs::create_dir(&folder).unwrap();
    let note = |name: &str, moves: &str| {
        format!("[White \"{name}\"]\n[FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n{moves} *\n")
    };
    for (file, name, moves) in [
        ("marrowby #1.pgn", "Marrowby, Ilse", "1. c7 Rd6+ 2. Kc5 $18"),
        ("pell.pgn", "Pell, <Doran>", "1. Kb7 Rd7+"),
    ] {
        std::fs::write(folder.join(file), note(name, moves)).unwrap();
    }
    let pages = coach.out("pages");
    let args = [
        "review",
        folder.to_str().unwrap(),
        "--nodes",
        "500",
        "--format",
        "html",
        "-o",
        pages.to_str().unwrap(),
    ];
    coach.ok(&args);
    let index = std::fs::read_to_string(pages.join("index.html")).unwrap();
    assert!(
        index.contains("<a href=\"./marrowby%20%231.html\">marrowby #1</a>"),
        "{index}"
    );
    assert!(index.contains("Pell, &#60;Doran&#62;"), "{index}");
    assert!(index.contains("2 pages with 2 trees."), "{index}");
    // A second run writes its own pages anew.
    coach.ok(&args);
    std::fs::write(folder.join("Index.pgn"), note("Quillan, Tove", "1. c7")).unwrap();
    let ran = coach.run(&args);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("give the file another name"),
        "{}",
        ran.err
    );
}
