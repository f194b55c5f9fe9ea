//! The nearest word for a misspelt one.

/// The candidate nearest to `word`, if it is near enough to be a slip: at
/// most a third of the word's letters apart, and always at least one.
pub fn did_you_mean<'a, I>(word: &str, candidates: I) -> Option<&'a str>
where
    I: IntoIterator<Item = &'a str>,
{
    // Nothing here has so long a name, and the search grows with its length.
    const LONGEST: usize = 60;
    if word.len() > LONGEST {
        return None;
    }
    let word = word.to_lowercase();
    let allowed = (word.chars().count() / 3).max(1);
    candidates
        .into_iter()
        .map(|candidate| (strsim::osa_distance(&word, &candidate.to_lowercase()), candidate))
        .filter(|(distance, candidate)| {
            // A one-letter unit is near to everything of two letters.
            *distance <= allowed && (candidate.chars().count() > 1 || *distance == 0)
        })
        .min_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.cmp(b.1)))
        .map(|(_, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::did_you_mean;

    #[test]
    fn finds_slips_and_not_strangers() {
        let words = ["take", "step", "portion", "claim"];
        assert_eq!(did_you_mean("tkae", words), Some("take"));
        assert_eq!(did_you_mean("porton", words), Some("portion"));
        assert_eq!(did_you_mean("banana", words), None);
    }
}
