//! Standard input that never ends a line.

use std::io::Write;
use std::process::Stdio;

use crate::support::Program;

/// What the program says to an endless line, and its exit code. It must end by itself.
fn fed(args: &[&str]) -> (i32, String) {
    let program = Program::new();
    let mut child = program
        .command(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    let piece = [b'x'; 1 << 16];
    let mut taken = 0u64;
    // Until the program closes its end.
    while input.write_all(&piece).is_ok() {
        taken += 1;
        assert!(taken < 200, "{args:?} takes 13 MB of one line");
    }
    let ran = child.wait_with_output().unwrap();
    let told = String::from_utf8(ran.stderr).unwrap();
    (ran.status.code().unwrap_or(-1), program.plain(&told))
}

#[test]
fn an_endless_line_ends_the_command_and_not_the_memory() {
    let (code, told) = fed(&["practice", "saavedra-1895", "--plain"]);
    assert_eq!(code, 1, "{told}");
    assert!(
        told.contains("a line is longer than 1024 KiB; end it sooner"),
        "{told}"
    );
    let (code, told) = fed(&["playout", "saavedra-1895", "--plain", "--nodes", "100"]);
    assert_eq!(code, 1, "{told}");
    insta::assert_snapshot!(told, @"foreply: standard input: a line is longer than 1024 KiB; end it sooner");
    let (code, told) = fed(&["engine"]);
    assert_eq!(code, 3, "{told}");
    insta::assert_snapshot!(told, @"foreply: standard input or output: a line is longer than 1024 KiB; end it sooner");
}
