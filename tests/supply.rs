//! What the program is made of: licences that fit its own, sources, no build script of ours, no `unsafe`.
//!
//! Reads `cargo metadata` without the network, so of the machine's own kind alone: what other kinds would
//! need is not there before somebody builds for them. Advisories need the network as well and are not
//! looked at.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// Licences that may be combined with GPL version 3 (the Free Software Foundation's list of licences, from memory).
const FITTING: [&str; 14] = [
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Zlib",
    "Unicode-3.0",
    "Unicode-DFS-2016",
    "MPL-2.0",
    "CC0-1.0",
    "Unlicense",
    "0BSD",
    "BSL-1.0",
    "GPL-3.0",
];

/// The kind of this machine, as the compiler names it.
fn host() -> String {
    let ran = Command::new("rustc").arg("-vV").output().unwrap();
    let said = String::from_utf8(ran.stdout).unwrap();
    let host = said.lines().find_map(|line| line.strip_prefix("host: "));
    host.expect("rustc says its host").to_owned()
}

fn metadata() -> Value {
    let ran = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .args(["--filter-platform", &host()])
        .args([
            "--manifest-path",
            concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"),
        ])
        .output()
        .unwrap();
    assert!(
        ran.status.success(),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
    serde_json::from_slice(&ran.stdout).unwrap()
}

/// One choice of an expression such as `MIT OR Apache-2.0` must fit, each part of an `AND` of it.
fn fits(expression: &str) -> bool {
    let plain = expression.replace(['(', ')'], " ").replace('/', " OR ");
    let part = |text: &str| {
        let name = text.trim().split(" WITH ").next().unwrap_or_default();
        let name = name
            .trim_end_matches("-or-later")
            .trim_end_matches("-only")
            .trim_end_matches('+');
        FITTING.contains(&name)
    };
    plain
        .split(" OR ")
        .any(|choice| choice.split(" AND ").all(part))
}

#[test]
fn every_licence_fits_and_every_source_is_the_registry() {
    let metadata = metadata();
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 50);
    let mut faults = Vec::new();
    for package in packages {
        let name = package["name"].as_str().unwrap();
        let licence = package["license"].as_str().unwrap_or("none");
        if !fits(licence) {
            faults.push(format!("{name}: licence {licence}"));
        }
        // Our own packages have no source.
        let source = package["source"].as_str().unwrap_or("registry+own");
        if !source.starts_with("registry+") {
            faults.push(format!("{name}: from {source}"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Two versions of one crate cost building time and can disagree: these are known, each new one is a
/// decision.
#[test]
fn few_crates_stand_twice() {
    let lock = include_str!("../Cargo.lock");
    let mut versions: BTreeMap<&str, u32> = BTreeMap::new();
    for line in lock.lines() {
        if let Some(name) = line.strip_prefix("name = ") {
            *versions.entry(name.trim_matches('"')).or_default() += 1;
        }
    }
    let twice: Vec<&str> = versions
        .iter()
        .filter(|(_, n)| **n > 1)
        .map(|(name, _)| *name)
        .collect();
    assert!(
        twice.len() <= 20,
        "{} crates in more than one version: {twice:?}",
        twice.len()
    );
}

#[test]
fn no_build_script_and_no_unsafe_code_of_ours() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for package in [
        root.to_path_buf(),
        root.join("src/engine"),
        root.join("src/translation/macro"),
    ] {
        assert!(!package.join("build.rs").exists());
        let manifest = std::fs::read_to_string(package.join("Cargo.toml")).unwrap();
        assert!(manifest.contains("unsafe_code = \"forbid\""));
        assert!(!manifest.contains("build ="));
    }
}
