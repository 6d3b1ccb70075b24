//! The page in a browser that nobody looks at, and before a validator.

use std::path::Path;
use std::process::Command;

use crate::support::{Program, left_out};

/// Steps through the first finding's proof, unfolds, and says in the title what it saw.
const PROBE: &str = "<script>addEventListener('load', () => {
const own = document.querySelector('.own'), walk = own.querySelectorAll('.walk button');
const men = () => own.querySelectorAll('.men use').length + ':' + own.querySelector('figcaption').textContent;
const seen = [document.querySelector('details').open, men()];
walk[1].click(); walk[1].click(); seen.push(men());
own.dispatchEvent(new KeyboardEvent('keydown', {key: 'ArrowLeft', bubbles: true})); seen.push(men());
own.dispatchEvent(new KeyboardEvent('keydown', {key: 'Home', bubbles: true})); seen.push(men());
document.querySelector('summary').click(); seen.push(document.querySelector('details').open);
document.title = seen.join('|');
});</script></body>";

fn hostile() -> String {
    let words = "</q><script>alert(1)</script> &amp; \"x\" \u{1b}[31m";
    format!(
        "[Event \"<img src=x onerror=alert(1)>\"]\n[White \"O'Neil \\\"the <b>\\\" Pell\"]\n\
         [FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n1. c7 {{{words}}} Rd6+ 2. Kb5 (2. Kb7 Rd7 $10) (2. Qh8#) 2... Rd5+ *\n"
    )
}

fn page(program: &Program) -> String {
    let notes = program.file("n.pgn", &hostile());
    let target = program.out("page.html").to_str().unwrap().to_owned();
    let args = [
        "review", &notes, "--nodes", "100", "--format", "html", "-o", &target,
    ];
    let ran = program.run(&args);
    assert_eq!(ran.code, 0, "{}", ran.err);
    target
}

fn browser() -> Option<&'static str> {
    let found = ["chromium", "chromium-browser"].into_iter().find(|name| {
        let run = Command::new(name).arg("--version").output();
        run.is_ok_and(|r| r.status.success())
    });
    if found.is_none() {
        left_out("there is no chromium");
    }
    found
}

fn look(browser: &str, args: &[&str], page: &Path) -> String {
    let home = tempfile::tempdir().unwrap();
    let run = Command::new(browser)
        .args(["--headless", "--no-sandbox", "--disable-gpu"])
        .arg(format!("--user-data-dir={}", home.path().display()))
        .args(args)
        .arg(format!("file://{}", page.display()))
        .output()
        .unwrap();
    String::from_utf8_lossy(&run.stdout).into_owned()
}

#[test]
fn one_file_without_network_and_nothing_of_the_file_is_markup() {
    let program = Program::new();
    let text = std::fs::read_to_string(page(&program)).unwrap();
    assert_eq!(text.matches("<script>").count(), 1);
    assert!(!text.contains("<img") && !text.contains("<b>") && !text.contains('\u{1b}'));
    let outside = text.replace("http://www.w3.org/2000/svg", "");
    assert!(!outside.contains("http://") && !outside.contains("https://"));
    assert!(text.contains("alert(1)"), "the words are still there");
    // Without its script every line stands as text, the player's before the engine's.
    let (tree, judged) = (
        text.find("What was written").unwrap(),
        text.find("<details").unwrap(),
    );
    assert!(tree < judged && text.contains(">Qh8#<"));
}

#[test]
fn the_page_steps_unfolds_and_prints() {
    let Some(browser) = browser() else {
        return;
    };
    let program = Program::new();
    let path = page(&program);
    let text = std::fs::read_to_string(&path)
        .unwrap()
        .replace("</body>", PROBE);
    let probed = program.file("probed.html", &text);
    let dom = look(browser, &["--dump-dom"], Path::new(&probed));
    let title = dom
        .split("<title>")
        .nth(1)
        .and_then(|t| t.split("</title>").next());
    insta::assert_snapshot!(title.unwrap_or(&dom), @"false|4:White to move|4:After Rd6+|4:After c7|4:White to move|true");
    let pdf = program.home.path().join("page.pdf");
    let to = format!("--print-to-pdf={}", pdf.display());
    look(browser, &[&to], Path::new(&path));
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF-"));
}

#[test]
fn a_validator_has_nothing_against_it() {
    let program = Program::new();
    let path = page(&program);
    let installed = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/target/npm/node_modules/.bin/html-validate"
    );
    let Ok(run) = Command::new(installed)
        .args(["--preset", "standard", &path])
        .output()
    else {
        left_out("there is no html-validate under target/npm");
        return;
    };
    let said = String::from_utf8_lossy(&run.stdout).into_owned();
    assert!(run.status.success(), "{said}");
}
