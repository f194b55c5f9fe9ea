//! What depends on what: every file that a build writes, and the content of
//! all it is made of.
//!
//! A build keeps [`stamps`] in its output folder: which documents it checked,
//! what they looked up and said, which files it wrote and from what. The next
//! build asks in two steps.
//!
//! 1. **Standing**: has any content changed that a document rests on (its own
//!    file, the dishes it takes, the settings, tables, profile, fonts, the
//!    call, the day, the program)? If not, and its outputs are as they were
//!    written, it is not even read.
//! 2. **Needs**: else it is checked, and its card's data are compared with
//!    those of the card that is there. Only a card that would differ is set.
//!
//! So the first step may be coarse, a whole larder file, say, while the second
//! is exact: a changed larder row sets the cards of its dishes and no others.
//! Content is hashed; times of files only save reading what surely did not
//! change (see [`stamps::Seen`]).

pub mod dot;
pub mod files;
pub mod make;
pub mod ninja;
pub mod stamps;

use std::collections::BTreeMap;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// Hash of some content: BLAKE3, the first 128 bits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Content([u8; 16]);

/// As bytes in one piece: stamps hold tens of thousands.
impl Serialize for Content {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_bytes(&self.0)
    }
}

impl<'de> Deserialize<'de> for Content {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Bytes;
        impl serde::de::Visitor<'_> for Bytes {
            type Value = Content;

            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("16 bytes")
            }

            fn visit_bytes<E: serde::de::Error>(self, bytes: &[u8]) -> Result<Content, E> {
                bytes.try_into().map(Content).map_err(|_| E::invalid_length(bytes.len(), &self))
            }
        }
        deserializer.deserialize_bytes(Bytes)
    }
}

impl Content {
    pub fn of(bytes: impl AsRef<[u8]>) -> Self {
        Self::first(blake3::hash(bytes.as_ref()))
    }

    /// Of anything that can be written as data. What cannot be is like
    /// nothing else, so that nothing rests on it.
    pub fn of_data(data: &(impl Serialize + ?Sized)) -> Self {
        let mut hasher = blake3::Hasher::new();
        match serde_json::to_writer(std::io::BufWriter::with_capacity(16 << 10, &mut hasher), data) {
            Ok(()) => Self::first(hasher.finalize()),
            Err(_) => Self::of(format!("{:?}", std::time::Instant::now())),
        }
    }

    fn first(hash: blake3::Hash) -> Self {
        let mut first = [0; 16];
        first.iter_mut().zip(hash.as_bytes()).for_each(|(to, from)| *to = *from);
        Self(first)
    }
}

impl std::fmt::Debug for Content {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.iter().take(4).try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

/// What an output is made of: a word for each input, and its content. Two
/// builds with the same deciding inputs write the same bytes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Needs {
    /// Together these decide every byte.
    decide: BTreeMap<String, Content>,
    /// Why the data is what it is, for people who ask.
    told: BTreeMap<String, Content>,
    /// The standing of the document, where only one is in it.
    standing: Option<Content>,
}

impl Needs {
    pub fn of(word: impl Into<String>, content: Content) -> Self {
        Self::default().with(word, content)
    }

    /// An input that decides.
    #[must_use]
    pub fn with(mut self, word: impl Into<String>, content: Content) -> Self {
        self.decide.insert(word.into(), content);
        self
    }

    /// An input whose part in the output stands in the data already; it only
    /// says why the data changed.
    #[must_use]
    pub fn told(mut self, word: impl Into<String>, content: Content) -> Self {
        self.told.insert(word.into(), content);
        self
    }

    /// The same for many.
    #[must_use]
    pub fn all_told(mut self, told: impl IntoIterator<Item = (String, Content)>) -> Self {
        self.told.extend(told);
        self
    }

    /// As long as this stands, the output is up to date.
    #[must_use]
    pub fn under(mut self, standing: Content) -> Self {
        self.standing = Some(standing);
        self
    }

    /// All that decides, in one.
    pub fn decided(&self) -> Content {
        Content::of_data(&self.decide.iter().map(|(word, content)| (word, content.0)).collect::<Vec<_>>())
    }

    pub fn standing(&self) -> Option<Content> {
        self.standing
    }

    /// Every input by its word.
    pub fn inputs(&self) -> BTreeMap<&str, Content> {
        self.told.iter().chain(&self.decide).map(|(word, content)| (word.as_str(), *content)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn content_is_known_by_its_bytes() {
        assert_eq!(Content::of("a"), Content::of(b"a"));
        assert_ne!(Content::of("a"), Content::of("b"));
        assert_eq!(Content::of_data("a"), Content::of("\"a\""));
    }

    #[test]
    fn what_tells_does_not_change_what_decides() {
        let needs = Needs::of("data", Content::of("1"));
        let told = needs.clone().told("dish", Content::of("2"));
        assert_eq!(needs.decided(), told.decided());
        assert_ne!(needs.decided(), needs.with("fonts", Content::of("3")).decided());
    }
}
