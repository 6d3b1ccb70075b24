//! A drill as it stands in the file, with every text and list bounded while it is read.
//!
//! The bounds are checked before anything is copied: a file can name one long text and repeat it by
//! reference tens of thousands of times, which the YAML library would copy each time.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{self, Deserialize, Deserializer, SeqAccess, Visitor};
use serde::{Serialize, Serializer};

use super::{Grade, Proof, Task};

/// Longest single text in bytes.
const TEXT_MAX: usize = 4096;
/// Longest list.
const LIST_MAX: usize = 64;

#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Record {
    pub(super) id: Text,
    pub(super) title: Text,
    pub(super) fen: Text,
    pub(super) task: Task,
    pub(super) minutes: u32,
    pub(super) source: Text,
    #[serde(default, skip_serializing_if = "List::is_empty")]
    pub(super) themes: List,
    pub(super) lines: List,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) grade: Option<Grade>,
    #[serde(default, rename = "known-by", skip_serializing_if = "Option::is_none")]
    pub(super) known_by: Option<Proof>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) note: Option<Text>,
}

/// A text of at most [`TEXT_MAX`] bytes, without blanks around it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Text(pub(super) String);

impl Serialize for Text {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Text {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_str(TextVisitor)
    }
}

struct TextVisitor;

impl Visitor<'_> for TextVisitor {
    type Value = Text;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(tr!("a text"))
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Text, E> {
        if text.len() > TEXT_MAX {
            return Err(E::custom(tr!(
                "a text of {} bytes, more than {TEXT_MAX}",
                text.len()
            )));
        }
        Ok(Text(text.trim().to_owned()))
    }
}

/// A list of at most [`LIST_MAX`] texts.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct List(pub(super) Vec<Text>);

impl List {
    fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Serialize for List {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for List {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let visitor = SeqVisitor {
            max: LIST_MAX,
            what: tr!("a list of texts"),
            item: PhantomData,
        };
        deserializer.deserialize_seq(visitor).map(Self)
    }
}

/// One record in the list that every record begins.
pub(super) struct Single(pub(super) Record);

impl<'de> Deserialize<'de> for Single {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let visitor = SeqVisitor {
            max: 1,
            what: tr!("one drill"),
            item: PhantomData,
        };
        let mut records: Vec<Record> = deserializer.deserialize_seq(visitor)?;
        let record = records.pop();
        record
            .map(Self)
            .ok_or_else(|| de::Error::custom(tr!("an empty list")))
    }
}

struct SeqVisitor<T> {
    max: usize,
    what: &'static str,
    item: PhantomData<T>,
}

impl<'de, T: Deserialize<'de>> Visitor<'de> for SeqVisitor<T> {
    type Value = Vec<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.what)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Vec<T>, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element()? {
            if items.len() >= self.max {
                return Err(de::Error::custom(tr!(
                    "a list of more than {} entries",
                    self.max
                )));
            }
            items.push(item);
        }
        Ok(items)
    }
}
