//! What a stranger lays in the way: a backup whose settings name a program, and links under names that can be guessed.

use super::Row;
use super::home::{look, run};

/// Ways to write that a program is to be started; `{}` is the program.
const SETTINGS: [&str; 8] = [
    "engine: {}\n",
    "engine: '{}'\n",
    "{engine: \"{}\"}\n",
    "\u{FEFF}engine: {}\n",
    "---\nengine: >-\n  {}\n",
    "jobs: 1\nengine: &a {}\ntables: *a\n",
    "? engine\n: {}\n",
    "ascii: true\n\"eng\\u0069ne\": {}\n",
];

/// A restoring must bring none of it: no program is started by what comes next.
pub fn forged_settings(faults: u32) -> Row {
    let mut row = Row {
        what: "forged settings in a backup".to_owned(),
        ..Row::default()
    };
    for trial in 0..faults as usize {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        let started = path("started");
        let settings = SETTINGS[trial % SETTINGS.len()];
        let settings = settings.replace("{}", &format!("touch {}", started.display()));
        let file = path("forged.backup");
        std::fs::write(&file, backup(&settings)).unwrap();
        let home = path("home");
        let restored = run(&home, &["restore", file.to_str().unwrap()]);
        let setup = run(&home, &["setup"]);
        row.faults += 1;
        let said = String::from_utf8_lossy(&restored.stderr);
        let safe = !started.exists();
        row.opened += u32::from(restored.status.success() && setup.status.success());
        row.told += u32::from(said.contains("left out"));
        row.unnoticed += u32::from(!said.contains("left out"));
        row.lost += u64::from(!safe);
        row.recovered += u32::from(safe && setup.status.success());
    }
    row
}

/// A backup of these settings and nothing else, as anybody can write it.
fn backup(settings: &str) -> String {
    let json = serde_json::to_string(settings).unwrap();
    let body = format!("1 1 f/settings.yaml {json}");
    let sum = crc32fast::hash(body.as_bytes());
    let mut text = format!("foreply-backup 1\n{sum:08x} {body}\n");
    let sum = crc32fast::hash(text.as_bytes());
    text.push_str(&format!("end 1 {sum:08x}\n"));
    text
}

/// Links to somebody's file under every name that older versions wrote their parts to: it stays as it was.
pub fn planted_links(faults: u32) -> Row {
    let mut row = Row {
        what: "planted part files".to_owned(),
        ..Row::default()
    };
    for _ in 0..faults {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        let (home, victim) = (path("home"), path("victim"));
        std::fs::create_dir(&home).unwrap();
        std::fs::write(&victim, "a stranger's").unwrap();
        let names = [
            ".all.backup.part",
            ".page.txt.part",
            ".seen.backup.part",
            "home/journal.new",
            "home/projection-attempts.new",
            "home/.settings.yaml.part",
        ];
        for name in names {
            #[cfg(unix)]
            std::os::unix::fs::symlink(&victim, path(name)).unwrap();
        }
        let name = |name: &str| path(name).to_str().unwrap().to_owned();
        let backed = run(&home, &["backup", &name("all.backup")]);
        let page = run(&home, &["progress", "-o", &name("page.txt")]);
        let seen = look(&home, folder.path());
        row.faults += 1;
        row.opened += u32::from(seen.opened);
        let safe = std::fs::read_to_string(&victim).is_ok_and(|text| text == "a stranger's");
        row.lost += u64::from(!safe);
        row.recovered += u32::from(safe && backed.status.success() && page.status.success());
    }
    row
}
