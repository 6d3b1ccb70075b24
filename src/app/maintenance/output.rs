//! Where what a command makes may be written: nothing that is read, kept, or somebody else's is replaced unasked.
//!
//! A file that stands there already is replaced where it is as this program left it: the length and a hash of each file
//! that was written stand in the file `written` of the home folder. One that was changed since, a coach's answer for
//! instance, is somebody's work, and asked about.

use std::fs::{self, File, Metadata};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use xxhash_rust::xxh3::{Xxh3, xxh3_128};

use crate::platform::is_same_file;
use crate::store::{write_private, write_whole};

const LEDGER: &str = "written";
/// So many files are remembered, the newest last.
const REMEMBERED: usize = 1000;
/// A ledger that is larger is not ours: no line has more than 60 bytes.
const LEDGER_MAX: u64 = 60 * REMEMBERED as u64;

/// Why nothing was written.
#[derive(Debug, thiserror::Error)]
pub enum OutputError {
    #[error(
        "{}", tr!("{0}: this is what is read; choose another name for what is written; nothing was changed", _0.display()))]
    Input(PathBuf),
    #[error(
        "{}", tr!("{0}: this lies in the home folder, where the program keeps its own files; choose another folder; nothing \
         was changed", _0.display()))]
    Home(PathBuf),
    #[error(
        "{}", tr!("{0}: this file is there already, and not as this program left it; choose another name, or replace it with \
         --force; nothing was changed", _0.display()))]
    Foreign(PathBuf),
    #[error("{}", tr!("{0}: this is a folder; name a file in it; nothing was changed", _0.display()))]
    Folder(PathBuf),
    #[error("{}", tr!("{0}: this is a link that leads nowhere; choose another name; nothing was changed", _0.display()))]
    Nowhere(PathBuf),
    #[error("{path}: {error}")]
    System { path: PathBuf, error: io::Error },
}

/// Who asks.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    pub home: &'a Path,
    /// The files that the command reads; '-' is standard input.
    pub inputs: &'a [&'a Path],
    /// What somebody else has made may be replaced.
    pub force: bool,
}

/// A file that may be written.
#[derive(Debug, Clone)]
pub struct Output {
    /// As it was asked for.
    named: PathBuf,
    home: PathBuf,
    force: bool,
}

impl Output {
    /// To be asked before the work begins, so that no work is lost.
    ///
    /// # Errors
    /// It may not be written.
    pub fn to(path: &Path, asked: &Asked<'_>) -> Result<Self, OutputError> {
        for input in asked.inputs {
            let input = match input.as_os_str() == "-" {
                true => Path::new("/dev/stdin"),
                false => input,
            };
            if is_a_file(path) && is_same_file(path, input) {
                return Err(OutputError::Input(path.to_owned()));
            }
        }
        if !leads_elsewhere(path) && lies_in(path, asked.home) {
            return Err(OutputError::Home(path.to_owned()));
        }
        let output = Self {
            named: path.to_owned(),
            home: asked.home.to_owned(),
            force: asked.force,
        };
        output.place()?;
        Ok(output)
    }

    /// A file in a folder of the home that the program hands out itself.
    ///
    /// # Errors
    /// Somebody has changed what stands there.
    pub(crate) fn handed_out(path: &Path, home: &Path) -> Result<Self, OutputError> {
        let output = Self {
            named: path.to_owned(),
            home: home.to_owned(),
            force: false,
        };
        output.place()?;
        Ok(output)
    }

    /// As [`Output::to`], for a file that the command is to change in place.
    ///
    /// # Errors
    /// It may not be written.
    pub fn in_place(path: &Path, home: &Path) -> Result<Self, OutputError> {
        let output = Self {
            named: path.to_owned(),
            home: home.to_owned(),
            force: true,
        };
        output.place()?;
        Ok(output)
    }

    /// Writes it: whole or not at all, where it is a file; through it, where it is a pipe or a device.
    ///
    /// # Errors
    /// It may not be written any more, or the system refuses.
    pub fn write(&self, text: &str) -> Result<(), OutputError> {
        let failed = |error: io::Error| OutputError::System {
            path: self.named.clone(),
            error,
        };
        match self.place()? {
            Place::Through => fs::OpenOptions::new()
                .write(true)
                .open(&self.named)
                .and_then(|mut out| out.write_all(text.as_bytes()).and_then(|()| out.flush()))
                .map_err(failed),
            Place::File(path) => {
                write_whole(&path, text).map_err(failed)?;
                remember(&self.home, text.as_bytes());
                Ok(())
            }
        }
    }

    fn place(&self) -> Result<Place, OutputError> {
        let named = &self.named;
        let is_link = named.symlink_metadata().is_ok_and(|m| m.is_symlink());
        let meta = match named.metadata() {
            Ok(meta) => meta,
            Err(e) if e.kind() == io::ErrorKind::NotFound && !is_link => {
                return Ok(Place::File(named.clone()));
            }
            Err(_) if is_link => return Err(OutputError::Nowhere(named.clone())),
            Err(error) => {
                let path = named.clone();
                return Err(OutputError::System { path, error });
            }
        };
        if meta.is_dir() {
            return Err(OutputError::Folder(named.clone()));
        }
        if !meta.is_file() {
            return Ok(Place::Through);
        }
        if !self.force && !self.may_be_replaced(&meta) {
            return Err(OutputError::Foreign(named.clone()));
        }
        let real = named.canonicalize();
        real.map(Place::File).map_err(|error| OutputError::System {
            path: named.clone(),
            error,
        })
    }

    fn may_be_replaced(&self, there: &Metadata) -> bool {
        if there.len() == 0 {
            return true;
        }
        let lines = ledger(&self.home);
        let length = format!("{} ", there.len());
        // The file is read only where one of its length was written.
        lines.iter().any(|line| line.starts_with(&length))
            && hash_of(&self.named)
                .is_ok_and(|hash| lines.contains(&format!("{length}{hash:032x}")))
    }
}

enum Place {
    /// A pipe or a device.
    Through,
    /// The file itself, links followed.
    File(PathBuf),
}

fn is_a_file(path: &Path) -> bool {
    path.metadata().is_ok_and(|m| m.is_file())
}

/// True where a link or the name itself leads to no regular file.
fn leads_elsewhere(path: &Path) -> bool {
    path.metadata().is_ok_and(|m| !m.is_file() && !m.is_dir())
}

fn lies_in(path: &Path, home: &Path) -> bool {
    let Ok(home) = home.canonicalize() else {
        return false;
    };
    let above = path.parent().filter(|p| !p.as_os_str().is_empty());
    let above = above.unwrap_or(Path::new(".")).canonicalize();
    let inside = |real: io::Result<PathBuf>| real.is_ok_and(|real| real.starts_with(&home));
    inside(path.canonicalize()) || inside(above)
}

fn hash_of(path: &Path) -> io::Result<u128> {
    let mut file = File::open(path)?;
    let (mut hash, mut piece) = (Xxh3::new(), vec![0; 64 << 10]);
    loop {
        match file.read(&mut piece)? {
            0 => return Ok(hash.digest128()),
            n => hash.update(piece.get(..n).unwrap_or_default()),
        }
    }
}

fn ledger(home: &Path) -> Vec<String> {
    let path = home.join(LEDGER);
    let ours = path
        .metadata()
        .is_ok_and(|m| m.is_file() && m.len() <= LEDGER_MAX);
    let text = ours.then(|| fs::read_to_string(path).ok()).flatten();
    text.unwrap_or_default()
        .lines()
        .map(str::to_owned)
        .collect()
}

/// Where it cannot be remembered, the next command asks before it replaces the file; nothing else is amiss.
fn remember(home: &Path, bytes: &[u8]) {
    let line = format!("{} {:032x}", bytes.len(), xxh3_128(bytes));
    let mut lines = ledger(home);
    lines.retain(|l| *l != line);
    lines.push(line);
    let from = lines.len().saturating_sub(REMEMBERED);
    let text = lines.split_off(from).join("\n") + "\n";
    if home.is_dir() {
        let _ = write_private(&home.join(LEDGER), &text);
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::os::unix::fs::symlink;

    struct Desk {
        folder: tempfile::TempDir,
        home: PathBuf,
    }

    impl Desk {
        fn new() -> Self {
            let folder = tempfile::tempdir().unwrap();
            let home = folder.path().join("home");
            fs::create_dir(&home).unwrap();
            Self { folder, home }
        }

        fn path(&self, name: &str) -> PathBuf {
            self.folder.path().join(name)
        }

        fn try_write(&self, name: &str, inputs: &[&Path], force: bool) -> Result<(), OutputError> {
            let home = &self.home;
            let asked = Asked {
                home,
                inputs,
                force,
            };
            Output::to(&self.path(name), &asked)?.write(tr!("a page"))
        }

        fn told(&self, name: &str, inputs: &[&Path]) -> String {
            let refused = self.try_write(name, inputs, false).unwrap_err();
            let folder = self.folder.path().display().to_string();
            refused.to_string().replace(&folder, "DESK")
        }
    }

    #[test]
    fn what_is_read_is_not_written_whatever_it_is_called() {
        let desk = Desk::new();
        let notes = desk.path("mine.pgn");
        fs::write(&notes, "notes").unwrap();
        symlink(&notes, desk.path("link")).unwrap();
        fs::hard_link(&notes, desk.path("twin")).unwrap();
        for name in ["mine.pgn", "home/../mine.pgn", "link", "twin"] {
            for force in [false, true] {
                let done = desk.try_write(name, &[&notes], force);
                assert!(
                    matches!(done, Err(OutputError::Input(_))),
                    "{name} {done:?}"
                );
            }
        }
        insta::assert_snapshot!(desk.told("mine.pgn", &[&notes]), @"DESK/mine.pgn: this is what is read; choose another name for what is written; nothing was changed");
        assert_eq!(fs::read_to_string(&notes).unwrap(), "notes");
    }

    #[test]
    fn the_home_is_the_programs_own() {
        let desk = Desk::new();
        fs::write(desk.home.join("journal"), "kept").unwrap();
        symlink(desk.home.join("journal"), desk.path("link")).unwrap();
        for name in ["home/journal", "home/new", "link", "home/../home/new"] {
            let done = desk.try_write(name, &[], true);
            assert!(matches!(done, Err(OutputError::Home(_))), "{name} {done:?}");
        }
        insta::assert_snapshot!(desk.told("home/journal", &[]), @"DESK/home/journal: this lies in the home folder, where the program keeps its own files; choose another folder; nothing was changed");
        assert_eq!(
            fs::read_to_string(desk.home.join("journal")).unwrap(),
            "kept"
        );
    }

    #[test]
    fn a_file_is_replaced_as_long_as_nobody_else_has_touched_it() {
        let desk = Desk::new();
        desk.try_write("page", &[], false).unwrap();
        desk.try_write("page", &[], false).unwrap();
        fs::write(desk.path("page"), "a page, with a coach's words").unwrap();
        insta::assert_snapshot!(desk.told("page", &[]), @"DESK/page: this file is there already, and not as this program left it; choose another name, or replace it with --force; nothing was changed");
        // As long as the page, but another text.
        fs::write(desk.path("page"), "A PAGE").unwrap();
        assert!(desk.try_write("page", &[], false).is_err());
        desk.try_write("page", &[], true).unwrap();
        assert_eq!(fs::read_to_string(desk.path("page")).unwrap(), "a page");
        desk.try_write("page", &[], false).unwrap();
    }

    #[test]
    fn links_stay_and_lead_to_what_is_written() {
        let desk = Desk::new();
        fs::write(desk.path("real"), "").unwrap();
        symlink(desk.path("real"), desk.path("link")).unwrap();
        symlink(desk.path("gone"), desk.path("nowhere")).unwrap();
        desk.try_write("link", &[], false).unwrap();
        assert!(desk.path("link").symlink_metadata().unwrap().is_symlink());
        assert_eq!(fs::read_to_string(desk.path("real")).unwrap(), "a page");
        insta::assert_snapshot!(desk.told("nowhere", &[]), @"DESK/nowhere: this is a link that leads nowhere; choose another name; nothing was changed");
        fs::create_dir(desk.path("folder")).unwrap();
        insta::assert_snapshot!(desk.told("folder", &[]), @"DESK/folder: this is a folder; name a file in it; nothing was changed");
    }

    #[test]
    fn pipes_and_devices_are_written_through() {
        let desk = Desk::new();
        let pipe = desk.path("pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        assert!(made.unwrap().success());
        symlink(&pipe, desk.path("link")).unwrap();
        for name in ["pipe", "link"] {
            let from = pipe.clone();
            let reader = std::thread::spawn(move || fs::read_to_string(from).unwrap());
            desk.try_write(name, &[], false).unwrap();
            assert_eq!(reader.join().unwrap(), "a page");
        }
        symlink("/dev/null", desk.path("nothing")).unwrap();
        desk.try_write("nothing", &[], false).unwrap();
        assert!(
            desk.path("nothing")
                .symlink_metadata()
                .unwrap()
                .is_symlink()
        );
        assert!(!Path::new("/dev/null").metadata().unwrap().is_file());
    }
}
