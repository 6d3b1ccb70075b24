//! Whose words a file holds: a coach's, or another player's on the same position.

use super::{BERNSTEIN, attempt};
use crate::support::Program;

/// A classmate's own tree, with two of the moves that the player wrote too.
fn classmate(tags: &str) -> String {
    format!(
        "{tags}[SetUp \"1\"]\n[FEN \"{BERNSTEIN}\"]\n\n27. Nxc3 {{I take it.}} Nxc3 28. Qe1 (27. Rxc3 Nxc3 28. Nxc3) *\n"
    )
}

fn send(program: &Program, id: &str) -> String {
    let out = program.out("sent.pgn").to_str().unwrap().to_owned();
    let ran = program.run(&[
        "coach",
        "send",
        id,
        "--player",
        "Marrowby, Ilse",
        "-o",
        &out,
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    std::fs::read_to_string(out).unwrap()
}

#[test]
fn a_classmates_tree_is_no_coachs_word() {
    let program = Program::new();
    let id = attempt(program.home.path());
    send(&program, &id.0);
    let refused = |tags: &str| {
        let file = program.file("x.pgn", &classmate(tags));
        let ran = program.run(&["coach", "take", &file]);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{tags}");
        program.plain(&ran.err).replace(&id.0, "ID")
    };
    insta::assert_snapshot!(refused("[White \"Quillan, Tove\"]\n[Black \"?\"]\n"), @"foreply: HOME/x.pgn: line 1 (game 1): nothing taken: 'Quillan, Tove' is named in it as the one who wrote it, and attempt ID is by 'Marrowby, Ilse': another player's tree is no coach's word; if a coach wrote it, say who with --by NAME");
    insta::assert_snapshot!(refused("[White \"Quillan, Tove\"]\n[Annotator \"Quillan, Tove\"]\n"), @"foreply: HOME/x.pgn: line 1 (game 1): nothing taken: 'Quillan, Tove' is named in it as the one who wrote it, and attempt ID is by 'Marrowby, Ilse': another player's tree is no coach's word; if a coach wrote it, say who with --by NAME");
    insta::assert_snapshot!(refused(""), @"foreply: HOME/x.pgn: line 1 (game 1): nothing taken: it neither says which attempt it answers nor holds all moves of attempt ID, which begins in its position: it may be another player's tree; if a coach wrote it, say who with --by NAME");
    // With the tag too: he wrote into her file, and put his name in it.
    let tagged = format!("[White \"Quillan, Tove\"]\n[Attempt \"{id}\"]\n");
    assert!(refused(&tagged).contains("'Quillan, Tove' is named in it"));
    // It is said whose words they are: then they are taken.
    let file = program.file("x.pgn", &classmate("[White \"Quillan, Tove\"]\n"));
    let ran = program.run(&["coach", "take", &file, "--by", "Bram Oskarn", "--dry-run"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("Bram Oskarn added"), "{}", ran.out);
}

/// A coach who answers in a program that drops the tag is known by his name, or by all the moves.
#[test]
fn an_answer_without_its_tag_is_known_again() {
    let program = Program::new();
    let id = attempt(program.home.path());
    let sent = send(&program, &id.0);
    let bare: String = sent
        .lines()
        .filter(|l| {
            !l.starts_with("[Attempt") && !l.starts_with("[Annotator") && !l.starts_with("[White")
        })
        .map(|l| format!("{l}\n"))
        .collect();
    let answered = bare.trim_end().trim_end_matches('*').to_owned() + "{Well seen.} *\n";
    let file = program.file("bare.pgn", &answered);
    let ran = program.run(&["coach", "take", &file, "--dry-run"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("coach wrote 1 comment"), "{}", ran.out);
    let named = format!(
        "[White \"Marrowby, Ilse\"]\n[Annotator \"Oskarn, Bram\"]\n[SetUp \"1\"]\n[FEN \"{BERNSTEIN}\"]\n\n27. Nxc3 {{Good.}} *\n"
    );
    let file = program.file("named.pgn", &named);
    let ran = program.run(&["coach", "take", &file, "--dry-run"]);
    assert!(
        ran.out.contains("Oskarn, Bram wrote 1 comment"),
        "{} {}",
        ran.out,
        ran.err
    );
}

/// One file to several students: each finds his own, and the others' are told.
#[test]
fn several_files_each_game_to_its_own_attempt() {
    let program = Program::new();
    let (one, two) = (attempt(program.home.path()), attempt(program.home.path()));
    let answer = |id: &str, words: &str| {
        send(&program, id)
            .trim_end()
            .trim_end_matches('*')
            .to_owned()
            + &format!("{{{words}}} *\n")
    };
    let both = format!(
        "{}\n{}",
        answer(&one.0, "To the first."),
        answer(&two.0, "To the second.")
    );
    let other = answer(&one.0, "Elsewhere.").replace(&one.0, "9990000000000-0000");
    let files = [
        program.file("both.pgn", &both),
        program.file("twice.pgn", &both),
        program.file("other.pgn", &other),
    ];
    let ran = program.run(&[
        "coach",
        "take",
        &files[0],
        &files[1],
        &files[2],
        "--by",
        "Bram Oskarn",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(ran.out.matches("wrote 1 comment").count(), 2, "{}", ran.out);
    assert_eq!(ran.out.matches("nothing new").count(), 2, "{}", ran.out);
    insta::assert_snapshot!(program.plain(&ran.err), @"foreply: HOME/other.pgn: line 1 (game 1): left out: it answers attempt 9990000000000-0000 by 'Marrowby, Ilse', which is not kept here");
    let alone = program.run(&["coach", "take", &files[2]]);
    assert_eq!(alone.code, 1, "nothing of it is kept here");
}
