//! What the embedded engine is, for the cache: a sum over its sources.
//!
//! The program's file changes with every build, the engine seldom. A sum over what it is made of is sound where
//! a few measured answers would not be: a change that touches rare positions only changes it as well.

use std::sync::OnceLock;

use include_dir::{Dir, DirEntry, include_dir};

static SOURCES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/src/engine");

const MANIFEST: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"));

/// Another text for another engine. Comments and blank lines do not count.
pub(super) fn fingerprint() -> &'static str {
    static SUM: OnceLock<String> = OnceLock::new();
    SUM.get_or_init(|| {
        let mut all = files(&SOURCES);
        all.push(("shakmaty".to_owned(), rules()));
        sum(all)
    })
}

/// The line of the manifest that pins the crate with the rules of the game.
fn rules() -> &'static str {
    let mut lines = MANIFEST.lines();
    let pinned = lines.find(|line| line.starts_with("shakmaty ="));
    pinned.unwrap_or_default()
}

/// The files of a folder and all below it, by their paths.
fn files<'a>(folder: &'a Dir<'a>) -> Vec<(String, &'a str)> {
    let mut found = Vec::new();
    for entry in folder.entries() {
        match entry {
            DirEntry::Dir(inner) => found.extend(files(inner)),
            DirEntry::File(file) => {
                let text = file.contents_utf8().unwrap_or_default();
                found.push((file.path().display().to_string(), text));
            }
        }
    }
    found
}

/// CRC-32 and the number of bytes that went into it. Names count: a file that moves is another module.
fn sum(mut files: Vec<(String, &str)>) -> String {
    files.sort();
    let mut crc = crc32fast::Hasher::new();
    let mut bytes = 0;
    for (name, text) in &files {
        let code = text.lines().map(str::trim);
        let code = code.filter(|line| !line.is_empty() && !line.starts_with("//"));
        for part in std::iter::once(name.as_str()).chain(code) {
            crc.update(part.as_bytes());
            crc.update(b"\n");
            bytes += part.len() + 1;
        }
    }
    format!("{:08x}-{bytes}", crc.finalize())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(files: &[(&str, &'static str)]) -> String {
        sum(files.iter().map(|(n, t)| ((*n).to_owned(), *t)).collect())
    }

    #[test]
    fn only_what_is_compiled_counts() {
        let one = of(&[("a.rs", "// Why.\nfn a() {\n    b()\n}\n"), ("b.rs", "x")]);
        let other = of(&[
            ("b.rs", "x"),
            ("a.rs", "fn a() {\n    // How.\n\n    b()\n}"),
        ]);
        assert_eq!(one, other);
        for changed in [
            [("a.rs", "fn a() {\n    c()\n}"), ("b.rs", "x")],
            [("c.rs", "fn a() {\n    b()\n}"), ("b.rs", "x")],
            [("a.rs", "fn a() {\n    b()\n}"), ("b.rs", "y")],
        ] {
            assert_ne!(of(&changed), one, "{changed:?}");
        }
    }

    /// Every file that is there now is in the sum of this build.
    #[test]
    fn no_source_is_missing() {
        fn below(folder: &std::path::Path, found: &mut Vec<(String, String)>) {
            for entry in std::fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    below(&path, found);
                } else {
                    let text = std::fs::read_to_string(&path).unwrap();
                    found.push((path.display().to_string(), text));
                }
            }
        }
        let root = concat!(env!("CARGO_MANIFEST_DIR"), "/src/engine/");
        let mut found = Vec::new();
        below(root.as_ref(), &mut found);
        let found = found
            .iter()
            .map(|(p, t)| (p.trim_start_matches(root).to_owned(), t.as_str()));
        let rules = ("shakmaty".to_owned(), rules());
        assert_eq!(sum(found.chain([rules.clone()]).collect()), fingerprint());
        // Without `=` another version could come with the same line.
        assert!(rules.1.contains("\"=0."), "{}", rules.1);
    }
}
