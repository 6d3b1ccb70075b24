//! Homework by a word in a comment: set, done on a sitting, sent back, named as done or not.

use super::attempt;
use crate::support::Program;

/// The days of a run and its names.
fn without_days(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    let plain = words.iter().enumerate().map(|(at, w)| {
        if at > 0 && words[at - 1] == "attempt" {
            return "NAME".to_owned();
        }
        let bare = w.trim_matches(|c: char| !c.is_ascii_alphanumeric());
        let is_day = bare.len() == 10 && bare.matches('-').count() == 2;
        if is_day && bare != "2031-12-05" {
            w.replace(bare, "DAY")
        } else if bare.len() > 12 && bare.bytes().all(|b| b.is_ascii_digit() || b == b'-') {
            w.replace(bare, "ID")
        } else {
            (*w).to_owned()
        }
    });
    plain.collect::<Vec<_>>().join(" ")
}

#[test]
fn homework_is_set_done_sent_back_and_named() {
    let program = Program::new();
    let id = attempt(program.home.path());
    let sent = program.out("sent.pgn");
    let out = sent.to_str().unwrap();
    let send = [
        "coach",
        "send",
        &id.0,
        "--player",
        "Marrowby, Ilse",
        "-o",
        out,
    ];
    assert_eq!(program.run(&send).code, 0);
    let none = program.run(&["practice", "--homework", "--plain"]);
    assert_eq!(none.code, 1);
    insta::assert_snapshot!(none.err.trim(), @"foreply: no homework is left to do; `foreply coach homework` lists what was set");

    let text = std::fs::read_to_string(&sent).unwrap();
    let at = text.find("28. Rxc3").unwrap();
    let (before, behind) = text.split_at(at);
    let answered = format!("{before}{{Homework by 2031-12-05: is the pawn yours?}} {behind}");
    let answered = answered.trim_end().trim_end_matches('*').to_owned()
        + "{Homework: what happens on the back rank?} *\n";
    let back = program.file("back.pgn", &answered);
    let take = ["coach", "take", &back, "--by", "Bram Oskarn"];
    let ran = program.run(&take);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("set 2 as homework"), "{}", ran.out);
    // The same file once more, and twice at once, is nothing new.
    let again = program.run(&["coach", "take", &back, &back, "--by", "Bram Oskarn"]);
    assert_eq!(
        again.out.matches("nothing new from Bram Oskarn").count(),
        2,
        "{}",
        again.out
    );

    let listed = program.run(&["coach", "homework"]).out;
    insta::assert_snapshot!(without_days(&listed), @"To do - Bram Oskarn, DAY, by 2031-12-05, attempt NAME after Nxc3 Nxc3: is the pawn yours? - Bram Oskarn, DAY, attempt NAME after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3: what happens on the back rank? `foreply practice --homework` opens the first that is not done.");

    let lines = "Rxc3 Rxc3 Qe8+ =\nchoose\nyes\nlater\n";
    let args = ["practice", "--homework", "--plain"];
    let shown = program.typed(&args, lines).ok(&args);
    // What was played before is the tree he wrote.
    assert!(shown.contains("White: "), "{shown}");
    let listed = program.run(&["coach", "homework"]).out;
    insta::assert_snapshot!(without_days(&listed), @"To do - Bram Oskarn, DAY, attempt NAME after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3: what happens on the back rank? Done - Bram Oskarn, DAY, by 2031-12-05, attempt NAME after Nxc3 Nxc3: is the pawn yours? Done on DAY, attempt NAME `foreply practice --homework` opens the first that is not done.");

    let second = program.out("second.pgn");
    let out = second.to_str().unwrap();
    let ran = program.run(&["coach", "send", "--homework", "-o", out]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let text = std::fs::read_to_string(&second).unwrap();
    let comments: String = without_days(&text);
    let from = comments.find("{Task of").unwrap();
    insta::assert_snapshot!(comments[from..].split(" 28. ").next().unwrap(), @"{Task of DAY, by 2031-12-05, after Nxc3 Nxc3: is the pawn yours? Done on DAY, attempt NAME {Task of DAY, after Nxc3 Nxc3 Rxc3 Rxc3 Rxc3: what happens on the back rank? Not done.}");
    // Unchanged it brings nothing, whatever has been done since.
    let ran = program.run(&["coach", "take", out]);
    assert_eq!(
        (ran.code, ran.out.contains("nothing new")),
        (0, true),
        "{}",
        ran.out
    );
    assert!(!ran.out.contains('!'), "{}", ran.out);
    let nothing = program.run(&["coach", "send", "--homework", "-o", out]);
    assert_eq!(nothing.code, 1);
    insta::assert_snapshot!(nothing.err.trim(), @"foreply: nothing was written to homework since the last file went out; `foreply coach homework` lists what is set");
}
