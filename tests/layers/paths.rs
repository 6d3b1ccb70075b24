//! What each file names of other files, read from its `use` lines and paths, and the circles they make.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Modules (`tui::widgets::board`) with what they import of any room, by the longest name of a module.
pub type Imports = BTreeMap<String, BTreeSet<String>>;

/// The files of a room with what they name. Tests are left out: they may know everything.
pub fn imports_of(src: &Path, room: &str) -> Imports {
    let modules: BTreeSet<String> = super::rust_files(src)
        .iter()
        .map(|file| module(src, file))
        .collect();
    let mut all = Imports::new();
    for file in super::rust_files(&src.join(room)) {
        let name = module(src, &file);
        let is_test = |part: &str| part == "tests" || part.ends_with("_tests") || part == "testing";
        if name.split("::").any(is_test) {
            continue;
        }
        let text = fs::read_to_string(&file).unwrap();
        let named = named(&without_tests(&text), &name);
        let mut imported = BTreeSet::new();
        for path in named {
            if let Some(to) = longest(&modules, &path)
                && to != name
            {
                imported.insert(to);
            }
        }
        all.insert(name, imported);
    }
    all
}

fn module(src: &Path, file: &Path) -> String {
    let relative = file.strip_prefix(src).unwrap().with_extension("");
    let mut parts: Vec<String> = relative
        .iter()
        .map(|part| part.to_string_lossy().into_owned())
        .collect();
    if parts.last().is_some_and(|last| last == "mod") {
        parts.pop();
    }
    parts.join("::")
}

/// Comments, and everything from the tests of the file on.
fn without_tests(text: &str) -> String {
    let mut code = String::new();
    let mut lines = text.lines().peekable();
    while let Some(line) = lines.next() {
        if line == "#[cfg(test)]" && lines.peek().is_some_and(|next| next.ends_with('{')) {
            break;
        }
        code.push_str(line.split("//").next().unwrap_or_default());
        code.push('\n');
    }
    code
}

/// All paths below the crate's root that a text names, of the module `own`.
fn named(code: &str, own: &str) -> Vec<String> {
    let mut found = Vec::new();
    for statement in code.split("use ").skip(1) {
        if let Some((tree, _)) = statement.split_once(';') {
            leaves("", tree, &mut found);
        }
    }
    for marker in ["crate::", "super::", "self::"] {
        for (at, _) in code.match_indices(marker) {
            let before = code[..at].chars().next_back();
            if !before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':') {
                let path = code[at..]
                    .chars()
                    .take_while(|c| c.is_alphanumeric() || *c == '_' || *c == ':');
                found.push(path.collect());
            }
        }
    }
    found
        .iter()
        .filter_map(|path| absolute(path, own))
        .collect()
}

/// The leaves of a tree of `use`.
fn leaves(before: &str, tree: &str, found: &mut Vec<String>) {
    let tree = tree.trim();
    let Some((head, rest)) = tree.split_once('{') else {
        let name = tree.split(" as ").next().unwrap_or_default().trim();
        found.push(format!("{before}{name}"));
        return;
    };
    let before = format!("{before}{}", head.trim());
    let inner = rest.rsplit_once('}').map_or(rest, |(inner, _)| inner);
    let mut depth = 0;
    let mut item = String::new();
    for c in inner.chars() {
        depth += i32::from(c == '{') - i32::from(c == '}');
        if c == ',' && depth == 0 {
            leaves(&before, &std::mem::take(&mut item), found);
        } else {
            item.push(c);
        }
    }
    if !item.trim().is_empty() {
        leaves(&before, &item, found);
    }
}

/// A path from the crate's root; `None` for one of another crate, or of the file's own children.
fn absolute(path: &str, own: &str) -> Option<String> {
    let mut at: Vec<&str> = own.split("::").collect();
    let mut parts = path.split("::").map(str::trim).peekable();
    match parts.next()? {
        "crate" => at.clear(),
        "self" => {}
        "super" => {
            at.pop();
            while parts.next_if(|part| *part == "super").is_some() {
                at.pop();
            }
        }
        _ => return None,
    }
    at.extend(parts.filter(|part| !part.is_empty()));
    Some(at.join("::"))
}

/// The longest module that a path begins with.
fn longest(modules: &BTreeSet<String>, path: &str) -> Option<String> {
    let mut path = path;
    loop {
        if modules.contains(path) {
            return Some(path.to_owned());
        }
        path = path.rsplit_once("::")?.0;
    }
}

/// The circles among modules of one room: groups in which each reaches each (R. Tarjan, SIAM Journal on
/// Computing 1, 1972; here by reachability, which is enough for some hundred files).
pub fn circles(imports: &Imports) -> Vec<Vec<String>> {
    let reach: BTreeMap<&str, BTreeSet<&str>> = imports
        .keys()
        .map(|from| (from.as_str(), reachable(imports, from)))
        .collect();
    let mut found: BTreeSet<Vec<String>> = BTreeSet::new();
    for (from, to) in &reach {
        let both = |other: &&&str| reach.get(**other).is_some_and(|back| back.contains(from));
        let circle: Vec<String> = to.iter().filter(both).map(|m| (*m).to_owned()).collect();
        if circle.len() > 1 {
            found.insert(circle);
        }
    }
    found.into_iter().collect()
}

fn reachable<'a>(imports: &'a Imports, from: &str) -> BTreeSet<&'a str> {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let mut left: Vec<&str> = vec![from];
    while let Some(at) = left.pop() {
        for to in imports.get(at).into_iter().flatten() {
            // A folder that names its own files is their table of contents.
            let own = at.len() < to.len() && to.starts_with(at) && to[at.len()..].starts_with("::");
            if !own && imports.contains_key(to) && seen.insert(to) {
                left.push(to);
            }
        }
    }
    seen
}

#[test]
fn paths_are_read_as_the_compiler_reads_them() {
    let code =
        "use crate::a::{b, c::{self, D}};\nuse super::e;\nfn f() { crate::g::h(); self::i::j() }";
    let mut found = named(code, "room::wing::file");
    found.sort();
    found.dedup();
    let expected = [
        "a::b",
        "a::c::D",
        "a::c::self",
        "g::h",
        "room::wing::e",
        "room::wing::file::i::j",
    ];
    for path in expected {
        assert!(found.iter().any(|f| f == path), "{path} of {found:?}");
    }
    let text = "use crate::a;\n// crate::b\n#[cfg(test)]\nmod tests {\n    use crate::c;\n}\n";
    assert_eq!(named(&without_tests(text), "room"), ["a", "a"]);
}

#[test]
fn circles_are_found() {
    let imports = |rows: &[(&str, &[&str])]| -> Imports {
        let row = |(from, to): &(&str, &[&str])| {
            let to = to.iter().map(|t| (*t).to_owned()).collect();
            ((*from).to_owned(), to)
        };
        rows.iter().map(row).collect()
    };
    let none = imports(&[
        ("r::a", &["r::b"]),
        ("r::b", &["r::c", "q::z"]),
        ("r::c", &[]),
    ]);
    assert!(circles(&none).is_empty());
    let three = imports(&[
        ("r::a", &["r::b"]),
        ("r::b", &["r::c"]),
        ("r::c", &["r::a"]),
    ]);
    assert_eq!(circles(&three), [["r::a", "r::b", "r::c"]]);
}
