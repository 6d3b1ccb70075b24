//! What this engine is, for whoever keeps its answers: a sum over its sources, made when it is compiled.
//!
//! The program's file changes with every build, the engine seldom. A sum over what it is made of, the numbers of its
//! network with it, is sound where a few measured answers would not be: a change that touches rare positions only
//! changes it as well. Nothing of what is summed up goes into the program.

use xxhash_rust::const_xxh3::xxh3_64_with_seed;

/// Another number for another engine. Comments and blank lines of sources do not count.
pub const IDENTITY: u64 = sum(FILES);

type Content<'a> = (&'a str, &'a [u8]);

macro_rules! files {
    ($($name:literal)*) => {
        &[$(($name, include_bytes!($name))),*]
    };
}

const FILES: &[Content] = files!(
    "../board/random.rs"
    "Cargo.toml"
    "bench.rs"
    "board.rs"
    "calibrate.rs"
    "clock.rs"
    "evaluation/endings.rs"
    "evaluation/learned/mod.rs"
    "evaluation/learned/net.bin"
    "evaluation/learned/net.rs"
    "evaluation/learned/sums.rs"
    "evaluation/mod.rs"
    "evaluation/pawn_ending.rs"
    "evaluation/scale.rs"
    "exchange.rs"
    "fitted.rs"
    "gamefile.rs"
    "generate.rs"
    "history.rs"
    "identity.rs"
    "keys.rs"
    "mod.rs"
    "moves.rs"
    "package.rs"
    "picker.rs"
    "position/legality.rs"
    "position/mod.rs"
    "position/play.rs"
    "protocol.rs"
    "record.rs"
    "reductions.rs"
    "search/draw.rs"
    "search/mod.rs"
    "search/moves.rs"
    "search/node.rs"
    "search/prune.rs"
    "search/quiesce.rs"
    "search/root.rs"
    "selfplay.rs"
    "session.rs"
    "strength.rs"
    "table.rs"
    "team.rs"
    "types.rs"
    "wdl.rs"
    "worker.rs"
);

/// Names count: a file that moves is another module. So does every byte of what is no source text.
#[allow(long_running_const_eval)] // Less than a second, whenever the engine is compiled.
const fn sum(files: &[Content]) -> u64 {
    let mut sum = 0;
    let mut rest = files;
    while let Some(((name, content), others)) = rest.split_first() {
        sum = xxh3_64_with_seed(name.as_bytes(), sum);
        sum = if ends_with(name.as_bytes(), b".bin") {
            xxh3_64_with_seed(content, sum)
        } else {
            code(content, sum)
        };
        rest = others;
    }
    sum
}

const fn ends_with(name: &[u8], end: &[u8]) -> bool {
    let Some(start) = name.len().checked_sub(end.len()) else {
        return false;
    };
    let mut i = 0;
    while i < end.len() {
        if name[start + i] != end[i] {
            return false;
        }
        i += 1;
    }
    true
}

/// Adds the lines that are compiled.
const fn code(text: &[u8], mut sum: u64) -> u64 {
    let mut rest = text;
    while !rest.is_empty() {
        let mut end = 0;
        while end < rest.len() && rest[end] != b'\n' {
            end += 1;
        }
        let line = rest.split_at(end).0.trim_ascii();
        if !line.is_empty() && !matches!(line, [b'/', b'/', ..] | [b'#', b' ', ..]) {
            sum = xxh3_64_with_seed(line, sum);
        }
        rest = rest
            .split_at(if end < rest.len() { end + 1 } else { end })
            .1;
    }
    sum
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::{Path, PathBuf};

    use super::*;

    fn of(files: &[(&str, &str)]) -> u64 {
        let bytes: Vec<Content> = files.iter().map(|(n, t)| (*n, t.as_bytes())).collect();
        sum(&bytes)
    }

    /// Another network is another engine, though its text would be none, or one that a trim leaves alike.
    #[test]
    fn every_byte_of_a_network_counts() {
        let nets: [&[u8]; 5] = [b"\xff\x01", b"\xff\x02", b"//1", b"//2", b" //1\n"];
        let sums: BTreeSet<u64> = nets.iter().map(|net| sum(&[("net.bin", net)])).collect();
        assert_eq!(sums.len(), nets.len());
        assert!(FILES.iter().any(|(name, bytes)| {
            name.ends_with("net.bin") && bytes.starts_with(b"FORENET1") && bytes.len() > 100_000
        }));
    }

    #[test]
    fn only_what_is_compiled_counts() {
        let one = of(&[("a.rs", "// Why.\nfn a() {\n    b()\n}\n"), ("b.rs", "x")]);
        let other = of(&[
            ("a.rs", "fn a() {\n    // How.\n\n    b()\n}"),
            ("b.rs", "x"),
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

    /// Every file that is there now is in the sum of this build, but what only tests are made of.
    #[test]
    fn no_source_is_missing() {
        fn is_of_tests(path: &Path) -> bool {
            let name = path.file_name().and_then(|n| n.to_str());
            name.is_some_and(|n| n == "tests.rs" || n.ends_with("_tests.rs"))
        }
        fn below(folder: &Path, found: &mut Vec<PathBuf>) {
            for entry in std::fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    below(&path, found);
                } else if !is_of_tests(&path) {
                    found.push(path);
                }
            }
        }
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let mut found = Vec::new();
        below(root, &mut found);
        let name = |path: &PathBuf| {
            let name = path.strip_prefix(root).unwrap().to_string_lossy();
            name.replace('\\', "/")
        };
        // The generator lies with the program's board.
        let mut there: BTreeSet<String> = found.iter().map(name).collect();
        there.insert("../board/random.rs".to_owned());
        let summed: BTreeSet<String> = FILES.iter().map(|(n, _)| (*n).to_owned()).collect();
        assert_eq!(there, summed);
        // Without `=` another version could come with the same line.
        let manifest = include_str!("Cargo.toml");
        assert!(manifest.contains("\nshakmaty = \"=0."), "{manifest}");
    }
}
