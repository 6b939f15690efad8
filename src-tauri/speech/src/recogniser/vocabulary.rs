//! The word pieces of the network and their bytes.

/// A word piece, by its number.
pub(super) type Token = i32;

/// The text tokens, as a tree over their bytes.
pub(super) struct Vocabulary {
    bytes: Vec<Box<[u8]>>,
    tree: Vec<Branch>,
    /// The token that ends the text. The text tokens are those below it.
    pub(super) end: Token,
}

#[derive(Default)]
pub(super) struct Branch {
    /// The tokens that end here (more than one only if the vocabulary repeats itself).
    pub(super) tokens: Vec<Token>,
    /// Where each next byte leads, in the order of the bytes.
    pub(super) next: Vec<(u8, usize)>,
}

impl Vocabulary {
    /// Of the text tokens from 0 on; `end` is the token that ends the text.
    pub(super) fn new(bytes: Vec<Box<[u8]>>, end: Token) -> Self {
        let mut tree = vec![Branch::default()];
        for (token, bytes) in (0..).zip(&bytes) {
            let mut at = 0;
            for &byte in bytes {
                at = match tree[at].next.binary_search_by_key(&byte, |&(b, _)| b) {
                    Ok(i) => tree[at].next[i].1,
                    Err(i) => {
                        let new = tree.len();
                        tree.push(Branch::default());
                        tree[at].next.insert(i, (byte, new));
                        new
                    }
                };
            }
            // An empty token would let a text grow without end and say nothing.
            if at != 0 {
                tree[at].tokens.push(token);
            }
        }
        Self { bytes, tree, end }
    }

    pub(super) fn branch(&self, at: usize) -> &Branch {
        &self.tree[at]
    }

    /// Whether a token is only punctuation.
    pub(super) fn is_pause(&self, token: Token) -> bool {
        self.bytes_of(token).is_some_and(|bytes| {
            !bytes.is_empty()
                && bytes.iter().all(|b| matches!(b, b',' | b'.' | b';' | b':' | b'!' | b'?'))
        })
    }

    /// Whether a token begins a new word.
    pub(super) fn is_word(&self, token: Token) -> bool {
        self.bytes_of(token).is_some_and(|bytes| bytes.first() == Some(&b' '))
    }

    fn bytes_of(&self, token: Token) -> Option<&[u8]> {
        self.bytes.get(usize::try_from(token).ok()?).map(AsRef::as_ref)
    }

    /// The text of a row of tokens; the end token has none. Broken characters are replaced.
    pub(super) fn text(&self, tokens: &[Token]) -> String {
        let bytes: Vec<u8> = tokens
            .iter()
            .filter_map(|&token| self.bytes_of(token))
            .flat_map(|bytes| bytes.iter().copied())
            .collect();
        String::from_utf8_lossy(&bytes).into_owned()
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    pub(in crate::recogniser) fn small(words: &[&str]) -> Vocabulary {
        let bytes: Vec<Box<[u8]>> = words.iter().map(|w| w.as_bytes().into()).collect();
        let end = Token::try_from(bytes.len()).unwrap();
        Vocabulary::new(bytes, end)
    }

    #[test]
    fn text_of_tokens() {
        let vocabulary = small(&[" one", " two", "."]);
        assert_eq!(vocabulary.text(&[0, 1, 2, 3]), " one two.");
    }
}
