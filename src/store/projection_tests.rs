use std::collections::BTreeMap;

use proptest::prelude::*;
use serde::{Deserialize, Serialize};

use super::*;

#[derive(Debug, Serialize, Deserialize, PartialEq)]
struct Number(i64);

impl Record for Number {
    const TABLE: &'static str = "numbers";
    const VERSION: u32 = 1;
}

#[derive(Debug, Serialize, Deserialize)]
struct Other(i64);

impl Record for Other {
    const TABLE: &'static str = "others";
    const VERSION: u32 = 1;
}

/// Each number by its key, and their sum.
#[derive(Debug, Default, Clone, PartialEq, Serialize, Deserialize)]
struct Sums {
    numbers: BTreeMap<String, i64>,
    sum: i64,
}

impl Projection for Sums {
    const NAME: &'static str = "sums";
    const VERSION: u32 = 1;
    const SOURCES: &'static [&'static str] = &["numbers"];

    fn apply(&mut self, change: &Change<'_>) -> Result<(), StoreError> {
        let before = match change.record::<Number>()? {
            Some(Number(n)) => {
                self.sum += n;
                self.numbers.insert(change.key.to_owned(), n)
            }
            None => self.numbers.remove(change.key),
        };
        self.sum -= before.unwrap_or_default();
        Ok(())
    }
}

type Cache = ProjectionCache<Sums>;

/// What the tables say, without any projection.
fn counted(store: &Store) -> Sums {
    let all = store.scan::<Number>().unwrap();
    let numbers: BTreeMap<String, i64> = all.into_iter().map(|(k, n)| (k, n.0)).collect();
    let sum = numbers.values().sum();
    Sums { numbers, sum }
}

/// What is done to a store between two looks.
#[derive(Debug, Clone)]
enum Step {
    Put(u8, i8),
    Remove(u8),
    Other(i8),
    Batch(Vec<(u8, i8)>),
    Look,
    Save,
    Reopen,
    LoseFile,
    CutFile,
    LoseJournal,
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        6 => (0..6u8, any::<i8>()).prop_map(|(k, n)| Step::Put(k, n)),
        2 => (0..6u8).prop_map(Step::Remove),
        1 => any::<i8>().prop_map(Step::Other),
        2 => prop::collection::vec((0..6u8, any::<i8>()), 1..5).prop_map(Step::Batch),
        3 => Just(Step::Look),
        2 => Just(Step::Save),
        2 => Just(Step::Reopen),
        1 => Just(Step::LoseFile),
        1 => Just(Step::CutFile),
        1 => Just(Step::LoseJournal),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// In any order of events, whatever was saved, lost or damaged between: the projection is the fold of the log.
    #[test]
    fn a_projection_is_the_fold_of_the_log(steps in prop::collection::vec(step(), 1..40)) {
        let home = tempfile::tempdir().unwrap();
        let file = home.path().join("projection-sums");
        let mut store = Store::open(home.path()).unwrap();
        let mut cache = Cache::default();
        for step in steps {
            match step {
                Step::Put(key, n) => store.put(&format!("k{key}"), &Number(n.into())).unwrap(),
                Step::Remove(key) => drop(store.remove::<Number>(&format!("k{key}")).unwrap()),
                Step::Other(n) => store.put("other", &Other(n.into())).unwrap(),
                Step::Batch(all) => {
                    let mut batch = store.batch();
                    for (key, n) in all {
                        batch.put(&format!("k{key}"), &Number(n.into())).unwrap();
                    }
                    batch.keep().unwrap();
                }
                Step::Look => prop_assert_eq!(&*cache.current(&store).unwrap(), &counted(&store)),
                Step::Save => cache.save(&store),
                Step::Reopen | Step::LoseJournal => {
                    drop(store);
                    if matches!(step, Step::LoseJournal) {
                        std::fs::remove_file(home.path().join("journal")).unwrap();
                    }
                    store = Store::open(home.path()).unwrap();
                    cache = Cache::default();
                }
                Step::LoseFile => drop(std::fs::remove_file(&file)),
                Step::CutFile => {
                    if let Ok(text) = std::fs::read(&file) {
                        std::fs::write(&file, &text[..text.len() / 2]).unwrap();
                    }
                }
            }
        }
        prop_assert_eq!(&*cache.current(&store).unwrap(), &counted(&store));
        prop_assert_eq!(&*Cache::default().current(&store).unwrap(), &counted(&store));
    }
}

fn with_three(home: &Path) -> Store {
    let store = Store::open(home).unwrap();
    for n in 1..=3 {
        store.put(&format!("k{n}"), &Number(n)).unwrap();
    }
    store
}

/// What was saved is gone on with, and not made again: a wrong saved value is only seen where it is believed.
#[test]
fn what_was_saved_is_gone_on_with() {
    let home = tempfile::tempdir().unwrap();
    let store = with_three(home.path());
    let cache = Cache::default();
    assert_eq!(cache.current(&store).unwrap().sum, 6);
    cache.save(&store);
    let file = home.path().join("projection-sums");
    let text = std::fs::read_to_string(&file).unwrap();
    let json = text
        .split_once('\n')
        .unwrap()
        .1
        .replace("\"sum\":6", "\"sum\":100");
    let head = text.split_once('\n').unwrap().0;
    let head = &head[..head.len() - 8];
    let wrong = format!("{head}{:08x}\n{json}", crc32fast::hash(json.as_bytes()));
    std::fs::write(&file, &wrong).unwrap();
    store.put("k4", &Number(4)).unwrap();
    assert_eq!(Cache::default().current(&store).unwrap().sum, 104);
    // Of another version, or with a wrong checksum, it is not.
    std::fs::write(
        &file,
        wrong.replace("foreply-projection 1", "foreply-projection 2"),
    )
    .unwrap();
    assert_eq!(Cache::default().current(&store).unwrap().sum, 10);
    std::fs::write(&file, wrong.replace("\"sum\":100", "\"sum\":101")).unwrap();
    assert_eq!(Cache::default().current(&store).unwrap().sum, 10);
}

/// The file of another home, whose journal has come as far, is not believed.
#[test]
fn the_file_of_another_home() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let store = with_three(one.path());
    let cache = Cache::default();
    cache.current(&store).unwrap();
    cache.save(&store);
    let other = Store::open(two.path()).unwrap();
    for n in 5..=7 {
        other.put(&format!("k{n}"), &Number(n)).unwrap();
    }
    let name = "projection-sums";
    std::fs::copy(one.path().join(name), two.path().join(name)).unwrap();
    assert_eq!(Cache::default().current(&other).unwrap().sum, 18);
    other.put("k8", &Number(8)).unwrap();
    assert_eq!(Cache::default().current(&other).unwrap().sum, 26);
}

/// A second window reads the journal, and makes its projection of it.
#[test]
fn where_the_store_is_only_read() {
    let home = tempfile::tempdir().unwrap();
    let store = with_three(home.path());
    let path = home.path().to_owned();
    let why = StoreError::ReadOnly { path };
    let reader = super::super::recover::read_only(home.path(), &why).unwrap();
    assert!(reader.is_read_only());
    let cache = Cache::default();
    assert_eq!(cache.current(&reader).unwrap().sum, 6);
    assert_eq!(cache.current(&reader).unwrap().sum, 6);
    drop(store);
}
