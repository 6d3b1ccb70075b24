//! Files of self-play that grow: what an earlier run left is read, a game cut off in the middle is
//! dropped, and only what is missing is played.

use std::collections::HashSet;
use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind, Read, Seek, SeekFrom};
use std::path::Path;

use super::record::{BYTES, End, Record};
use super::selfplay::{self, Played, SelfPlay};

/// Plays a plan into a file, which may hold some of its games already.
///
/// # Errors
/// A file that cannot be read or written, or that holds something else than games of as many nodes a
/// move; it is then left as it is.
pub fn play_into(plan: &SelfPlay, path: &Path) -> io::Result<Played> {
    let mut file = OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .open(path)?;
    let done = kept(&mut file, plan.nodes)?;
    selfplay::play(plan, &done, file)
}

/// Numbers of the games in the file, which is cut and positioned after the last whole one.
fn kept(file: &mut File, nodes: u64) -> io::Result<HashSet<u64>> {
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes)?;
    let (records, _) = bytes.as_chunks::<BYTES>();
    let mut done = HashSet::new();
    let mut whole = 0;
    for (i, end) in records
        .iter()
        .enumerate()
        .filter_map(|(i, r)| Some((i, End::unpack(r)?)))
    {
        if end.nodes != nodes {
            return Err(refusal(&format!(
                "holds games of {} nodes a move, not {nodes}; name another file or --nodes {}",
                end.nodes, end.nodes
            )));
        }
        done.insert(end.game);
        whole = i + 1;
    }
    let foreign = |r: &[u8; BYTES]| Record::unpack(r).is_none() && End::unpack(r).is_none();
    if records.iter().any(foreign) || (records.is_empty() && !bytes.is_empty()) {
        return Err(refusal("holds no games of self-play; name another file"));
    }
    let length = (whole * BYTES) as u64;
    file.set_len(length)?;
    file.seek(SeekFrom::Start(length))?;
    Ok(done)
}

fn refusal(text: &str) -> io::Error {
    io::Error::new(ErrorKind::InvalidData, text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan(games: u64) -> SelfPlay {
        SelfPlay {
            first: 1,
            games,
            nodes: 100,
            threads: 1,
            time: None,
        }
    }

    #[test]
    fn a_broken_off_run_goes_on_where_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let (whole, broken) = (folder.path().join("whole"), folder.path().join("broken"));
        play_into(&plan(4), &whole).unwrap();
        play_into(&plan(2), &broken).unwrap();
        let bytes = std::fs::read(&broken).unwrap();
        // As if the machine had stopped in the middle of the third game.
        std::fs::write(&broken, [&bytes[..], &bytes[..BYTES + 5]].concat()).unwrap();
        play_into(&plan(4), &broken).unwrap();
        assert!(std::fs::read(&whole).unwrap() == std::fs::read(&broken).unwrap());
        assert_eq!(play_into(&plan(4), &broken).unwrap(), Played::default());
    }

    #[test]
    fn another_file_is_refused_and_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("games");
        play_into(&plan(1), &path).unwrap();
        let before = std::fs::read(&path).unwrap();
        let other = SelfPlay {
            nodes: 200,
            ..plan(2)
        };
        let error = play_into(&other, &path).unwrap_err().to_string();
        insta::assert_snapshot!(error, @"holds games of 100 nodes a move, not 200; name another file or --nodes 100");
        std::fs::write(folder.path().join("letter"), "Dear Sir").unwrap();
        let error = play_into(&plan(1), &folder.path().join("letter")).unwrap_err();
        insta::assert_snapshot!(error, @"holds no games of self-play; name another file");
        assert!(std::fs::read(&path).unwrap() == before);
        assert_eq!(
            std::fs::read(folder.path().join("letter")).unwrap().len(),
            8
        );
    }
}
