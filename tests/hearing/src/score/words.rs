//! Word errors of free text.

/// Edits that turn the reference into what was heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct WordErrors {
    /// Substitutions, insertions and deletions, the fewest.
    pub edits: usize,
    /// Words of the reference.
    pub words: usize,
}

impl WordErrors {
    /// Errors per word of the reference. 0 for no words.
    #[must_use]
    pub fn rate(self) -> f64 {
        if self.words == 0 { 0.0 } else { self.edits as f64 / self.words as f64 }
    }

    /// Adds another's.
    pub const fn merge(&mut self, other: Self) {
        self.edits += other.edits;
        self.words += other.words;
    }
}

/// Compares two texts word by word: case and punctuation do not count.
#[must_use]
pub fn word_errors(reference: &str, heard: &str) -> WordErrors {
    let (reference, heard) = (plain_words(reference), plain_words(heard));
    // Levenshtein distance, one row at a time.
    let mut row: Vec<usize> = (0..=heard.len()).collect();
    for (i, word) in reference.iter().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, other) in heard.iter().enumerate() {
            let kept = diagonal + usize::from(word != other);
            diagonal = row[j + 1];
            row[j + 1] = kept.min(row[j] + 1).min(diagonal + 1);
        }
    }
    WordErrors { edits: row[heard.len()], words: reference.len() }
}

fn plain_words(text: &str) -> Vec<String> {
    text.to_lowercase()
        .split_whitespace()
        .map(|word| word.chars().filter(|c| c.is_alphanumeric() || *c == '\'').collect::<String>())
        .filter(|word| !word.is_empty())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_and_punctuation_do_not_count() {
        let errors = word_errors("Turn that radio down, please.", "turn THAT radio down please");
        assert_eq!(errors, WordErrors { edits: 0, words: 5 });
    }

    #[test]
    fn nothing_said_and_something_heard_is_all_insertions() {
        assert_eq!(word_errors("", "thank you"), WordErrors { edits: 2, words: 0 });
    }

    /// Outside check. Source: the package jiwer 4.0.0 (`PyPI`), `jiwer.process_words` on the texts in
    /// lower case without punctuation: substitutions + insertions + deletions, and words of the
    /// reference. The file is written by `fixtures/word-errors.py`.
    #[test]
    fn word_errors_agree_with_jiwer() {
        let fixture = include_str!("../../fixtures/word-errors.tsv");
        let mut rows = 0;
        for line in fixture.lines().filter(|line| !line.starts_with('#')) {
            let columns: Vec<&str> = line.split('\t').collect();
            let [reference, heard, edits, words] = columns[..] else { panic!("{line}") };
            let expected =
                WordErrors { edits: edits.parse().unwrap(), words: words.parse().unwrap() };
            assert_eq!(word_errors(reference, heard), expected, "{line}");
            rows += 1;
        }
        assert!(rows > 100, "{rows}");
    }
}
