//! Tests that need more than Rust.

use std::io::Write;

/// Says in one line what is not there to test with. Where `FOREPLY_TEST_ALL=1` is set, as in `.ci/run`, that is a failure:
/// there nothing is left out.
pub fn left_out(what: &str) {
    let all = std::env::var("FOREPLY_TEST_ALL").is_ok_and(|value| value == "1");
    assert!(!all, "FOREPLY_TEST_ALL is set, and {what}");
    // Not by a macro of the test harness, which keeps to itself what a passing test prints.
    let _ = writeln!(std::io::stderr(), "left out: {what}");
}
