//! The vocabulary: from the tokenizer's printable spelling to the bytes that the weights file
//! holds.

use std::collections::{BTreeMap, HashMap};

use serde::Deserialize;

use crate::error::Error;

#[derive(Deserialize)]
struct Tokenizer {
    model: Bpe,
}

#[derive(Deserialize)]
struct Bpe {
    vocab: HashMap<String, u32>,
}

/// Words in the text part of every Whisper vocabulary; the special tokens come after them, and the
/// recogniser adds those itself.
pub const TEXT_TOKENS: usize = 50_257;

/// The bytes of each text token, by its number, from `tokenizer.json`.
///
/// # Errors
/// [`Error::Form`] when it is not such a file or has gaps.
pub fn tokens(tokenizer_json: &[u8]) -> Result<Vec<Vec<u8>>, Error> {
    let tokenizer: Tokenizer = serde_json::from_slice(tokenizer_json)
        .map_err(|e| Error::Form(format!("tokenizer.json: {e}")))?;
    let by_number: BTreeMap<usize, &String> = tokenizer
        .model
        .vocab
        .iter()
        .map(|(token, &number)| (number as usize, token))
        .filter(|&(number, _)| number < TEXT_TOKENS)
        .collect();
    if by_number.len() != TEXT_TOKENS {
        return Err(Error::Form(format!(
            "tokenizer.json: {} text tokens, expected {TEXT_TOKENS}",
            by_number.len()
        )));
    }
    let bytes = printable_bytes();
    Ok(by_number
        .into_values()
        .map(|token| {
            token
                .chars()
                .map(|c| bytes.get(&c).copied())
                .collect::<Option<Vec<u8>>>()
                .unwrap_or_else(|| token.clone().into_bytes())
        })
        .collect())
}

/// The byte-level tokenizer of GPT-2 writes each byte as one printable character: printable Latin-1
/// as itself, the other 68 bytes as the characters from U+0100 on, in order.
fn printable_bytes() -> HashMap<char, u8> {
    let printable = |b: u8| matches!(b, b'!'..=b'~' | 0xa1..=0xac | 0xae..=0xff);
    let mut map: HashMap<char, u8> =
        (0..=255u8).filter(|&b| printable(b)).map(|b| (char::from(b), b)).collect();
    map.extend(('\u{100}'..).zip((0..=255u8).filter(|&b| !printable(b))));
    map
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_256_bytes_have_256_characters() {
        let map = printable_bytes();
        assert_eq!(map.len(), 256);
        // The space is the best known of them.
        assert_eq!(map[&'Ġ'], b' ');
        assert_eq!(map[&'Ċ'], b'\n');
    }

    #[test]
    fn a_vocabulary_with_gaps_is_refused() {
        let error = tokens(br#"{"model":{"vocab":{"a":0,"b":2}}}"#).unwrap_err();
        assert!(error.to_string().contains("2 text tokens"), "{error}");
    }
}
