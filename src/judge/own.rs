//! What the embedded engine is, for the cache: a sum over its sources.
//!
//! The program's file changes with every build, the engine seldom. A sum over what it is made of, the numbers of its
//! network with it, is sound where a few measured answers would not be: a change that touches rare positions only
//! changes it as well.

use std::sync::OnceLock;

use include_dir::{Dir, DirEntry, include_dir};

static SOURCES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/src/engine");

const MANIFEST: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"));

/// Another text for another engine. Comments and blank lines do not count.
pub(super) fn fingerprint() -> &'static str {
    static SUM: OnceLock<String> = OnceLock::new();
    SUM.get_or_init(|| {
        let mut all = files(&SOURCES);
        all.push(("shakmaty".to_owned(), rules().as_bytes()));
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
fn files<'a>(folder: &'a Dir<'a>) -> Vec<(String, &'a [u8])> {
    let mut found = Vec::new();
    for entry in folder.entries() {
        match entry {
            DirEntry::Dir(inner) => found.extend(files(inner)),
            DirEntry::File(file) => {
                found.push((file.path().display().to_string(), file.contents()));
            }
        }
    }
    found
}

/// CRC-32 and the number of bytes that went into it. Names count: a file that moves is another module. So does every
/// byte of what is no source text.
fn sum(mut files: Vec<(String, &[u8])>) -> String {
    files.sort();
    let mut sum = Sum::default();
    for (name, content) in &files {
        sum.line(name.as_bytes());
        match std::str::from_utf8(content) {
            Ok(text) if !name.ends_with(".bin") => {
                let code = text.lines().map(str::trim);
                code.filter(|line| !line.is_empty() && !line.starts_with("//"))
                    .for_each(|line| sum.line(line.as_bytes()));
            }
            _ => sum.line(content),
        }
    }
    format!("{:08x}-{}", sum.crc.finalize(), sum.bytes)
}

#[derive(Default)]
struct Sum {
    crc: crc32fast::Hasher,
    bytes: usize,
}

impl Sum {
    fn line(&mut self, part: &[u8]) {
        self.crc.update(part);
        self.crc.update(b"\n");
        self.bytes += part.len() + 1;
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    fn of(files: &[(&str, &'static str)]) -> String {
        let bytes = |(n, t): &(&str, &'static str)| ((*n).to_owned(), t.as_bytes());
        sum(files.iter().map(bytes).collect())
    }

    /// Another network is another engine, though its text would be none, or one that a trim leaves alike.
    #[test]
    fn every_byte_of_a_network_counts() {
        let of = |bytes: &'static [u8]| sum(vec![("net.bin".to_owned(), bytes)]);
        let nets: [&[u8]; 5] = [b"\xff\x01", b"\xff\x02", b"//1", b"//2", b" //1\n"];
        let sums: HashSet<String> = nets.map(of).into();
        assert_eq!(sums.len(), nets.len());
        assert!(files(&SOURCES).iter().any(|(name, bytes)| {
            name.ends_with("net.bin") && bytes.starts_with(b"FORENET1") && bytes.len() > 100_000
        }));
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
        fn below(folder: &std::path::Path, found: &mut Vec<(String, Vec<u8>)>) {
            for entry in std::fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    below(&path, found);
                } else {
                    let content = std::fs::read(&path).unwrap();
                    found.push((path.display().to_string(), content));
                }
            }
        }
        let root = concat!(env!("CARGO_MANIFEST_DIR"), "/src/engine/");
        let mut found = Vec::new();
        below(root.as_ref(), &mut found);
        let found = found
            .iter()
            .map(|(p, t)| (p.trim_start_matches(root).to_owned(), t.as_slice()));
        let pinned = ("shakmaty".to_owned(), rules().as_bytes());
        assert_eq!(sum(found.chain([pinned]).collect()), fingerprint());
        // Without `=` another version could come with the same line.
        assert!(rules().contains("\"=0."), "{}", rules());
    }
}
