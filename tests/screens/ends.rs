//! However the program ends: nothing that was shown is lost, and the terminal is given back.

use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::thread;
use std::time::Duration;

use super::{FOREPLY, Terminal, tmux_is_there};

const DRILL: &str = "practice saavedra-1895";

#[test]
fn what_was_shown_survives_kill_9() {
    if !tmux_is_there("what_was_shown_survives_kill_9") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = Terminal::start(home.path(), DRILL);
    screen.wait_for("White to move, move 1.").keys(&["Enter"]);
    screen.wait_for("candidate >");
    screen.line("c7 Rd6+ Kb5 Rd5+", "after c7 Rd6+ Kb5 Rd5+ >");
    screen.signal("-9");
    screen.wait_for("exit code 137");
    drop(screen);

    let screen = Terminal::start(home.path(), "");
    screen.wait_for("> go on: Position").keys(&["Enter"]);
    screen.wait_for("after c7 Rd6+ Kb5 Rd5+ >");
    screen.line("Kb4", "Rd5+ 3.Kb4");
}

#[test]
fn signals_give_the_terminal_back_and_keep_the_sitting() {
    if !tmux_is_there("signals_give_the_terminal_back_and_keep_the_sitting") {
        return;
    }
    for signal in ["-TERM", "-HUP", "-INT", "-QUIT"] {
        let home = tempfile::tempdir().unwrap();
        let screen = Terminal::start(home.path(), DRILL);
        screen.wait_for("White to move, move 1.").keys(&["Enter"]);
        screen.wait_for("candidate >").line("c7", "1.c7");
        assert_eq!(screen.ask("#{alternate_on} #{mouse_any_flag}"), "1 1");
        screen.signal(signal);
        screen.wait_for("exit code 0");
        let flags = screen.ask("#{alternate_on} #{mouse_any_flag} #{cursor_flag}");
        assert_eq!(flags, "0 0 1", "{signal}");
        drop(screen);
        let screen = Terminal::start(home.path(), "");
        screen.wait_for("> go on: Position");
    }
}

/// Ctrl-Z gives the terminal to the shell, and `fg` brings the sitting back as it was.
#[test]
fn the_shell_may_have_the_terminal_meanwhile() {
    if !tmux_is_there("the_shell_may_have_the_terminal_meanwhile") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = Terminal::shell();
    let home = home.path().display();
    screen.types(&format!("'{FOREPLY}' --home '{home}' {DRILL}"));
    screen.keys(&["Enter"]).wait_for("White to move, move 1.");
    screen.keys(&["Enter"]).wait_for("candidate >");
    screen.line("c7", "after c7 >").keys(&["C-z"]);
    screen.wait_for("topped").wait_for("shell>");
    let flags = screen.ask("#{alternate_on} #{mouse_any_flag} #{cursor_flag}");
    assert_eq!(flags, "0 0 1");
    screen.types("fg").keys(&["Enter"]).wait_for("after c7 >");
    screen.line("Rd6+", "after c7 Rd6+ >");
}

/// The window is closed: the program must not stay behind (crossterm 0.28 loops over the end of file).
#[test]
fn the_program_ends_with_its_terminal() {
    if !tmux_is_there("the_program_ends_with_its_terminal") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = Terminal::start(home.path(), DRILL);
    screen.wait_for("White to move, move 1.").keys(&["Enter"]);
    screen.wait_for("candidate >").line("c7", "1.c7");
    let process = format!("/proc/{}", screen.process());
    drop(screen);
    for _ in 0..100 {
        if !Path::new(&process).exists() {
            break;
        }
        thread::sleep(Duration::from_millis(100));
    }
    assert!(!Path::new(&process).exists(), "the program is still there");
    let screen = Terminal::start(home.path(), "");
    screen.wait_for("> go on: Position");
}

#[test]
fn a_window_made_smaller_and_larger_again_shows_everything() {
    if !tmux_is_there("a_window_made_smaller_and_larger_again_shows_everything") {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let screen = Terminal::start(home.path(), DRILL);
    screen.wait_for("White to move, move 1.").keys(&["Enter"]);
    screen.wait_for("candidate >").line("c7", "1.c7");
    screen.tmux(&["resize-window", "-x", "60", "-y", "20"]);
    screen.wait_for("this window has 60").types("x");
    screen.tmux(&["resize-window", "-x", "130", "-y", "45"]);
    screen.wait_for("1.c7").wait_for("after c7 >");
    assert!(!screen.text().contains("after c7 > x"), "{}", screen.text());
}

/// Without a terminal: the message, exit code 2, and nothing drawn.
fn without_terminal(term: &str) -> Output {
    let home = tempfile::tempdir().unwrap();
    // A session of its own has no controlling terminal.
    Command::new("setsid")
        .args(["--wait", FOREPLY, "--home"])
        .arg(home.path())
        .env("TERM", term)
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

#[test]
fn without_a_terminal_the_program_says_so() {
    for (term, why) in [
        ("dumb", "TERM is 'dumb'"),
        ("", "TERM is not set"),
        ("xterm", ""),
    ] {
        let out = without_terminal(term);
        let message = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{message}");
        assert!(message.contains("no terminal to draw on"), "{message}");
        assert!(message.contains(why), "{message}");
        assert_eq!(message.lines().count(), 1, "{message}");
        assert!(out.stdout.is_empty());
    }
}
