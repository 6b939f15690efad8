//! Printed text to words: what both the rules and the parser see of an utterance.
//!
//! The recogniser prints case, punctuation, signs and digits as it pleases. Here a sign becomes the
//! word it stands for, a number in digits becomes a [`Token::Figure`], and punctuation becomes a
//! mark on the word that follows it.

use std::ops::Range;

use super::number::Decimal;

/// A word or a number in digits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Token {
    /// A word in lower case.
    Plain(String),
    /// Digits, with or without a broken part.
    Figure {
        /// The number.
        value: Decimal,
        /// The digits before the point, as printed.
        whole: String,
        /// The digits behind the point, as printed.
        broken: String,
    },
}

/// A token and how it stands in the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Word {
    pub(crate) token: Token,
    /// Punctuation is printed before it.
    pub(crate) pause: bool,
    /// A full stop, question mark or the like is printed before it.
    pub(crate) stop: bool,
    /// A comma without a space joins it to the digits before: "1,034".
    pub(crate) comma: bool,
    /// Where it is in the text.
    pub(crate) span: Range<usize>,
}

impl Word {
    /// Whether it is this word.
    pub(crate) fn is(&self, word: &str) -> bool {
        matches!(&self.token, Token::Plain(text) if text == word)
    }
}

/// A remark in brackets (`[BLANK_AUDIO]`) longer than this is not one.
const LONGEST_ASIDE: usize = 60;

/// The words of `text`.
pub(crate) fn words(text: &str) -> Vec<Word> {
    let mut reader = Reader { text, at: 0, pause: false, stop: false, out: Vec::new() };
    while let Some(c) = reader.peek() {
        reader.step(c);
    }
    reader.out
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
    pause: bool,
    stop: bool,
    out: Vec<Word>,
}

impl Reader<'_> {
    fn rest(&self) -> &str {
        &self.text[self.at..]
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn before(&self) -> Option<char> {
        self.text[..self.at].chars().next_back()
    }

    fn digit_at(&self, offset: usize) -> bool {
        self.text.as_bytes().get(self.at + offset).is_some_and(u8::is_ascii_digit)
    }

    fn push(&mut self, token: Token, from: usize) {
        let span = from..self.at;
        let comma = matches!(token, Token::Figure { .. }) && self.text[..from].ends_with(',');
        self.out.push(Word { token, pause: self.pause, stop: self.stop, comma, span });
        self.pause = false;
        self.stop = false;
    }

    fn push_plain(&mut self, word: &str, from: usize) {
        self.push(Token::Plain(word.to_owned()), from);
    }

    fn sign(&mut self, c: char, word: &str) {
        let from = self.at;
        self.at += c.len_utf8();
        self.push_plain(word, from);
    }

    fn step(&mut self, c: char) {
        let starts_number = c.is_ascii_digit()
            || (c == '.' && self.digit_at(1) && self.before().is_none_or(char::is_whitespace));
        if starts_number {
            self.number();
        } else if c.is_alphabetic() {
            self.letters();
        } else if is_apostrophe(c) && self.is_of_a_number() {
            self.at += c.len_utf8();
            self.sign('s', "is");
        } else {
            self.sign_or_space(c);
        }
    }

    /// "3's", for "three is".
    fn is_of_a_number(&self) -> bool {
        let mut after = self.rest().chars().skip(1);
        self.before().is_some_and(|c| c.is_ascii_digit())
            && after.next() == Some('s')
            && after.next().is_none_or(|c| !c.is_alphanumeric())
    }

    fn sign_or_space(&mut self, c: char) {
        match c {
            '%' => self.sign(c, "percent"),
            '&' => self.sign(c, "and"),
            '/' => self.sign(c, "over"),
            '#' => self.sign(c, "number"),
            '½' => self.sign(c, "half"),
            '¼' => self.sign(c, "quarter"),
            // Money is not a reading, whatever the number.
            '$' | '£' | '€' => self.sign(c, "money"),
            '-' | '−' | '–' | '—' => self.dash(c),
            '[' => self.aside(c, ']'),
            '(' => self.aside(c, ')'),
            '*' | '♪' => self.aside(c, c),
            '.' | '?' | '!' | ';' | '…' | '\n' => {
                self.pause = true;
                self.stop = true;
                self.at += c.len_utf8();
            }
            ',' | ':' | '"' => {
                self.pause = true;
                self.at += c.len_utf8();
            }
            _ => self.at += c.len_utf8(),
        }
    }

    /// A dash before a number and after a space is a minus; between words it joins; else it parts.
    fn dash(&mut self, c: char) {
        let spaced = self.before().is_none_or(char::is_whitespace);
        if spaced && self.digit_at(c.len_utf8()) {
            self.sign(c, "minus");
            return;
        }
        self.at += c.len_utf8();
        self.pause |= spaced || self.peek().is_none_or(|next| !next.is_alphanumeric());
    }

    /// What the recogniser says about the sound ("(wind blowing)") is not what was said.
    fn aside(&mut self, open: char, close: char) {
        let from = self.at + open.len_utf8();
        let end = self.text[from..]
            .char_indices()
            .take(LONGEST_ASIDE)
            .find(|&(_, c)| c == close)
            .map(|(offset, c)| from + offset + c.len_utf8());
        self.at = end.unwrap_or(from);
        self.pause = true;
    }

    fn number(&mut self) {
        let from = self.at;
        let whole = self.digits();
        let mut broken = String::new();
        if self.peek() == Some('.') && self.digit_at(1) {
            self.at += 1;
            broken = self.digits();
        }
        let token = match Decimal::from_digits(&whole, &broken) {
            Some(value) => Token::Figure { value, whole, broken },
            None => Token::Plain(self.text[from..self.at].to_owned()),
        };
        self.push(token, from);
    }

    fn digits(&mut self) -> String {
        let rest = self.rest();
        let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        let digits = rest[..end].to_owned();
        self.at += end;
        digits
    }

    fn letters(&mut self) {
        let from = self.at;
        let rest = self.rest();
        let end =
            rest.find(|c: char| !c.is_alphabetic() && !is_apostrophe(c)).unwrap_or(rest.len());
        let mut word: String = rest[..end]
            .chars()
            .map(|c| if is_apostrophe(c) { '\'' } else { c })
            .flat_map(char::to_lowercase)
            .collect();
        self.at += end;
        self.initials(&mut word);
        // "No. 3" is how "number three" is often printed.
        if word == "no" && self.rest().starts_with(". ") && self.digit_at(2) {
            word.push('.');
            self.at += 1;
        }
        let (stem, tail) = split_contraction(&word);
        let stem = if sounds_like_cylinder(stem) { "cylinder" } else { stem };
        self.push_plain(stem, from);
        if let Some(tail) = tail {
            self.push_plain(tail, from);
        }
    }

    /// "P.S.I." is one word.
    fn initials(&mut self, word: &mut String) {
        if word.chars().count() != 1 {
            return;
        }
        let mut joined = false;
        loop {
            let mut chars = self.rest().chars();
            let (Some('.'), Some(letter)) = (chars.next(), chars.next()) else { break };
            if !letter.is_alphabetic() || chars.next().is_some_and(char::is_alphabetic) {
                break;
            }
            self.at += 1 + letter.len_utf8();
            word.extend(letter.to_lowercase());
            joined = true;
        }
        if joined && self.peek() == Some('.') {
            self.at += 1;
        }
    }
}

const fn is_apostrophe(c: char) -> bool {
    matches!(c, '\'' | '’' | '‘')
}

/// Whether a word is a spelling of "cylinder". The recogniser, which hears the word seldom, spells it
/// in dozens of ways ("Cyllander", "Sillender", "Slinder"); what they share is its consonants. Words
/// that share them but are words of their own ("slander") are no less likely to be it beside a number.
fn sounds_like_cylinder(word: &str) -> bool {
    if !word.starts_with(['c', 's', 'z']) {
        return false;
    }
    let mut consonants = String::new();
    let mut letters = word.chars().peekable();
    while let Some(letter) = letters.next() {
        let sound = match letter {
            'a' | 'e' | 'i' | 'o' | 'u' | 'y' | 'h' => continue,
            'c' if !letters.peek().is_some_and(|next| "eiy".contains(*next)) => 'k',
            'c' | 'z' => 's',
            other => other,
        };
        if !consonants.ends_with(sound) {
            consonants.push(sound);
        }
    }
    matches!(consonants.as_str(), "slndr" | "slndrs")
}

fn split_contraction(word: &str) -> (&str, Option<&'static str>) {
    const TAILS: [(&str, &str); 5] =
        [("'s", "is"), ("'re", "are"), ("'ve", "have"), ("'ll", "will"), ("'m", "am")];
    for (tail, full) in TAILS {
        if let Some(stem) = word.strip_suffix(tail)
            && !stem.is_empty()
        {
            return (stem, Some(full));
        }
    }
    (word.trim_matches('\''), None)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(text: &str) -> String {
        let show = |word: &Word| {
            let mark = if word.stop {
                "/ "
            } else if word.pause {
                ", "
            } else {
                ""
            };
            match &word.token {
                Token::Plain(text) => format!("{mark}{text}"),
                Token::Figure { value, .. } => format!("{mark}#{value}"),
            }
        };
        words(text).iter().map(show).collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn what_is_printed_becomes_what_was_said() {
        let rows = [
            (" Cylinder 3, 23%.", "cylinder #3 , #23 percent"),
            (" Cylinder three 145 psi", "cylinder three #145 psi"),
            ("145PSI", "#145 psi"),
            ("145 P.S.I.", "#145 psi"),
            ("1,034 kPa", "#1 , #34 kpa"),
            ("One, two", "one , two"),
            ("ten-point-five", "ten point five"),
            ("0.035", "#0.035"),
            (" .8 bar", "#0.8 bar"),
            ("1-45", "#1 #45"),
            (" -5 psi", "minus #5 psi"),
            ("3: 145", "#3 , #145"),
            ("72/80", "#72 over #80"),
            ("#3", "number #3"),
            ("No. 3", "no. #3"),
            ("No. Three", "no / three"),
            ("What's next?", "what is next"),
            ("three’s fine", "three is fine"),
            ("3's fine", "#3 is fine"),
            ("[BLANK_AUDIO]", ""),
            ("(wind blowing) 145", ", #145"),
            ("$145", "money #145"),
            ("9½", "#9 half"),
            ("123456789012", "123456789012"),
            ("'", ""),
        ];
        for (text, want) in rows {
            assert_eq!(seen(text).trim(), want, "{text:?}");
        }
    }

    #[test]
    fn cylinder_has_many_spellings() {
        for word in ["cylander", "cyllander", "sillender", "slinder", "cylindor", "sealander"] {
            assert!(sounds_like_cylinder(word), "{word}");
        }
        for word in
            ["calendar", "slender's", "sender", "cinder", "colander", "lender", "cylindrical"]
        {
            assert!(!sounds_like_cylinder(word), "{word}");
        }
    }

    #[test]
    fn spans_point_into_the_text() {
        let text = " Cylinder thrée, 23%.";
        let parts: Vec<_> = words(text).iter().map(|w| &text[w.span.clone()]).collect();
        assert_eq!(parts, ["Cylinder", "thrée", "23", "%"]);
    }
}
