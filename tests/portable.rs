//! What one kind of system has stands in `src/platform/` alone. `.ci/run` also checks the whole program for Windows.

use std::path::Path;

/// What names one kind of system, or a library of one.
const NAMES: [&str; 8] = [
    "cfg(unix)",
    "cfg(not(unix))",
    "cfg(windows)",
    "target_os",
    "std::os::",
    "rustix::",
    "signal_hook::",
    "libc::",
];

fn sources(folder: &Path, found: &mut Vec<std::path::PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// What stands before the tests of a file.
fn without_tests(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let lines = text.lines().enumerate();
    lines.take_while(|(_, line)| {
        !line.starts_with("#[cfg(test)]") && !line.starts_with("#[cfg(all(test")
    })
}

#[test]
fn only_one_room_asks_which_system_it_is() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&src, &mut files);
    assert!(files.len() > 300, "{}", files.len());
    let mut faults = Vec::new();
    let mut inside = 0;
    for file in files {
        let name = file
            .strip_prefix(&src)
            .unwrap()
            .to_string_lossy()
            .replace('\\', "/");
        let text = std::fs::read_to_string(&file).unwrap();
        let is_test = name.contains("tests");
        for (number, line) in without_tests(&text).filter(|_| !is_test) {
            let names = NAMES.iter().any(|n| line.contains(n));
            match (names, name.starts_with("platform/")) {
                (true, true) => inside += 1,
                (true, false) => faults.push(format!("src/{name}:{}: {}", number + 1, line.trim())),
                (false, _) => {}
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
    assert!(
        inside > 10,
        "{inside}: the names are no longer those of the sources"
    );
}

/// Both files of the room give the same, so that what one kind of system can do is not forgotten for the others.
#[test]
fn both_kinds_of_systems_have_the_same_functions() {
    let functions = |name: &str| {
        let path = format!("{}/src/platform/{name}.rs", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        let begins = |line: &&str| line.starts_with("pub fn ");
        let name = |line: &str| line.split(['(', ' ']).nth(2).unwrap_or_default().to_owned();
        let mut names: Vec<String> = text.lines().filter(begins).map(name).collect();
        names.sort();
        names
    };
    assert_eq!(functions("unix"), functions("other"));
    assert!(functions("unix").len() > 10);
}
