//! What depends on what: every file that a build writes, and the content of
//! all it is made of.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// Hash of some content (BLAKE3).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Content([u8; 32]);

impl Content {
    pub fn of(bytes: impl AsRef<[u8]>) -> Self {
        Self(*blake3::hash(bytes.as_ref()).as_bytes())
    }

    /// Of anything that can be written as data. What cannot be is like
    /// nothing else, itself included, so that nothing rests on it.
    pub fn of_data(data: &impl Serialize) -> Self {
        let mut hasher = blake3::Hasher::new();
        match serde_json::to_writer(&mut hasher, data) {
            Ok(()) => Self(*hasher.finalize().as_bytes()),
            Err(_) => Self::of(format!("{:?}", std::time::Instant::now())),
        }
    }
}

impl std::fmt::Debug for Content {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self([a, b, c, d, ..]) = self;
        write!(f, "{a:02x}{b:02x}{c:02x}{d:02x}")
    }
}

/// What an output is made of: a word for each input, and its content. Two
/// builds with the same needs write the same bytes.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Needs {
    /// Together these decide every byte.
    decide: BTreeMap<String, Content>,
    /// Why the data is what it is, for people who ask.
    told: BTreeMap<String, Content>,
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
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn content_is_known_by_its_bytes() {
        assert_eq!(Content::of("a"), Content::of([b'a']));
        assert_ne!(Content::of("a"), Content::of("b"));
        assert_eq!(Content::of_data(&"a"), Content::of("\"a\""));
    }

    #[test]
    fn what_tells_does_not_change_what_decides() {
        let needs = Needs::of("data", Content::of("1"));
        let told = needs.clone().told("dish", Content::of("2"));
        assert_eq!(needs.decide, told.decide);
        assert_ne!(needs, told);
    }
}
