//! Words to numbers: every number that can begin at a word, in any style it may be said or printed.

use super::Decimal;
use crate::language::words::{Token, Word};

/// A number read from the words, and how forced that is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Heard {
    /// The first word after it.
    pub(crate) end: usize,
    /// The number.
    pub(crate) value: Decimal,
    /// 0 when said in so many words; more the less likely it was meant so.
    pub(crate) cost: f64,
}

/// A comma inside one number is unlikely, a full stop more so.
const PAUSE_INSIDE: f64 = 3.0;
const STOP_INSIDE: f64 = 4.0;
/// A number spelled digit by digit.
const DIGIT_BY_DIGIT: f64 = 1.5;
/// Two pairs of digits ("ten thirty-four").
const TWO_PAIRS: f64 = 0.5;
/// A word that only sounds like a number ("to", "for").
const SOUNDS_LIKE: f64 = 0.6;
/// Figures that stand apart and are read as one ("20 3").
const SPLIT_FIGURES: f64 = 0.4;

/// What a word can be within a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Zero,
    Unit(u32),
    Teen(u32),
    Tens(u32),
    /// Two figures in one, such as 45.
    Pair(u32),
    /// A digit behind a zero, such as 05.
    Padded(u32),
    Large(u32),
    Hundred,
    Thousand,
}

const UNITS: [&str; 9] = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
const TEENS: [&str; 10] = [
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 8] =
    ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

fn position(list: &[&str], word: &str) -> Option<u32> {
    list.iter().position(|&entry| entry == word).and_then(|at| u32::try_from(at).ok())
}

fn part(word: &Word) -> Option<Part> {
    match &word.token {
        Token::Figure { value, whole, broken } if broken.is_empty() => {
            let number = value.as_whole()?;
            Some(match (whole.len(), number) {
                (1, 0) => Part::Zero,
                (1, _) => Part::Unit(number),
                (2, 10..=19) => Part::Teen(number),
                (2, 20..) if number % 10 == 0 => Part::Tens(number),
                (2, 20..) => Part::Pair(number),
                (2, _) => Part::Padded(number),
                (3.., 100..) => Part::Large(number),
                _ => return None,
            })
        }
        Token::Figure { .. } => None,
        Token::Plain(text) => match text.as_str() {
            "zero" | "oh" | "o" | "nought" | "naught" => Some(Part::Zero),
            "hundred" => Some(Part::Hundred),
            "thousand" => Some(Part::Thousand),
            "fourty" => Some(Part::Tens(40)),
            word => position(&UNITS, word)
                .map(|at| Part::Unit(at + 1))
                .or_else(|| position(&TEENS, word).map(|at| Part::Teen(at + 10)))
                .or_else(|| position(&TENS, word).map(|at| Part::Tens((at + 2) * 10))),
        },
    }
}

/// Words that only sound like a digit.
fn sounds_like(word: &Word) -> Option<u32> {
    let Token::Plain(text) = &word.token else { return None };
    match text.as_str() {
        "won" | "wan" => Some(1),
        "to" | "too" | "tu" => Some(2),
        "tree" | "free" => Some(3),
        "for" | "fore" => Some(4),
        "fife" | "fiver" => Some(5),
        "sicks" | "sex" => Some(6),
        "ate" => Some(8),
        "niner" => Some(9),
        _ => None,
    }
}

struct Reader<'w> {
    words: &'w [Word],
    from: usize,
}

impl Reader<'_> {
    fn part(&self, at: usize) -> Option<Part> {
        self.words.get(at).and_then(part)
    }

    fn is(&self, at: usize, word: &str) -> bool {
        self.words.get(at).is_some_and(|w| w.is(word))
    }

    fn figure(&self, at: usize) -> bool {
        matches!(self.words.get(at).map(|w| &w.token), Some(Token::Figure { .. }))
    }

    /// What the punctuation inside the number costs.
    fn pauses(&self, end: usize) -> f64 {
        self.words[(self.from + 1).min(end)..end]
            .iter()
            .map(|word| match (word.stop, word.pause && !word.comma) {
                (true, _) => STOP_INSIDE,
                (false, true) => PAUSE_INSIDE,
                (false, false) => 0.0,
            })
            .sum()
    }

    /// 0 to 99, in every length it can be read.
    fn below_hundred(&self, at: usize) -> Vec<(usize, u32, f64)> {
        match self.part(at) {
            Some(Part::Zero) => vec![(at + 1, 0, 0.0)],
            Some(Part::Unit(n) | Part::Teen(n) | Part::Pair(n)) => vec![(at + 1, n, 0.0)],
            Some(Part::Tens(n)) => {
                let mut found = vec![(at + 1, n, 0.0)];
                match self.part(at + 1) {
                    Some(Part::Unit(unit)) => {
                        let apart = self.figure(at) && self.figure(at + 1);
                        found.push((at + 2, n + unit, if apart { SPLIT_FIGURES } else { 0.0 }));
                    }
                    _ => {
                        if let Some(unit) = self.words.get(at + 1).and_then(sounds_like) {
                            found.push((at + 2, n + unit, SOUNDS_LIKE));
                        }
                    }
                }
                found
            }
            _ => Vec::new(),
        }
    }

    /// What may follow "hundred" or "thousand": nothing, or "and" and a number below a hundred.
    fn and_below_hundred(&self, at: usize) -> Vec<(usize, u32, f64)> {
        let mut found = vec![(at, 0, 0.0)];
        let after = if self.is(at, "and") { at + 1 } else { at };
        found.extend(self.below_hundred(after).into_iter().filter(|&(_, n, _)| n > 0));
        found
    }

    /// "a hundred and five", "two hundred", "twelve hundred", "hundred and ten", "100 and 5".
    fn hundreds(&self, at: usize) -> Vec<(usize, u32, f64)> {
        let mut heads = Vec::new();
        let article = self.is(at, "a");
        if article && self.part(at + 1) == Some(Part::Hundred) {
            heads.push((at + 2, 100, 0.0));
        }
        if self.part(at) == Some(Part::Hundred) {
            heads.push((at + 1, 100, 0.0));
        }
        for (end, n, cost) in self.below_hundred(at) {
            if n > 0 && self.part(end) == Some(Part::Hundred) {
                heads.push((end + 1, n * 100, cost));
            }
        }
        if let Some(Part::Large(n)) = self.part(at)
            && n % 100 == 0
            && n < 1000
        {
            heads.push((at + 1, n, SPLIT_FIGURES));
        }
        self.with_tails(heads)
    }

    /// "one thousand and thirty-four", "a thousand two hundred".
    fn thousands(&self, at: usize) -> Vec<(usize, u32, f64)> {
        let mut heads = Vec::new();
        if self.is(at, "a") && self.part(at + 1) == Some(Part::Thousand) {
            heads.push((at + 2, 1000, 0.0));
        }
        if let Some(Part::Unit(n)) = self.part(at)
            && self.part(at + 1) == Some(Part::Thousand)
        {
            heads.push((at + 2, n * 1000, 0.0));
        }
        let mut found = self.with_tails(heads.clone());
        for (end, head, cost) in heads {
            for (end, tail, more) in self.hundreds(end) {
                if tail < 1000 {
                    found.push((end, head + tail, cost + more));
                }
            }
        }
        found
    }

    fn with_tails(&self, heads: Vec<(usize, u32, f64)>) -> Vec<(usize, u32, f64)> {
        let mut found = Vec::new();
        for (end, head, cost) in heads {
            for (end, tail, more) in self.and_below_hundred(end) {
                found.push((end, head + tail, cost + more));
            }
        }
        found
    }

    /// "one forty-five", "two oh nine", "ten thirty-four".
    fn pairs(&self, at: usize) -> Vec<(usize, u32, f64)> {
        let mut found = Vec::new();
        for (middle, head, cost) in self.below_hundred(at) {
            if head == 0 {
                continue;
            }
            let style = if head < 10 { 0.0 } else { TWO_PAIRS };
            let apart = if self.figure(at) && self.figure(middle) { SPLIT_FIGURES } else { 0.0 };
            if let Some(Part::Padded(unit)) = self.part(middle) {
                found.push((middle + 1, head * 100 + unit, cost + style + apart));
            }
            if self.part(middle) == Some(Part::Zero) {
                if let Some(Part::Unit(unit)) = self.part(middle + 1) {
                    found.push((middle + 2, head * 100 + unit, cost + style + apart));
                } else if let Some(unit) = self.words.get(middle + 1).and_then(sounds_like) {
                    found.push((middle + 2, head * 100 + unit, cost + style + SOUNDS_LIKE));
                }
            }
            for (end, tail, more) in self.below_hundred(middle) {
                // "twenty" and "three forty" is not a number anybody says; "two" and "ten" is.
                if tail >= 10 {
                    found.push((end, head * 100 + tail, cost + style + apart + more));
                }
            }
        }
        found
    }

    /// "one four five", "six oh". Two to four digits, the first not a zero.
    fn digit_by_digit(&self, at: usize) -> Vec<(usize, u32, f64)> {
        let mut found = Vec::new();
        let mut value = 0;
        for length in 1..=4 {
            value = match self.part(at + length - 1) {
                Some(Part::Zero) if length > 1 => value * 10,
                Some(Part::Unit(n)) => value * 10 + n,
                _ => break,
            };
            if length > 1 {
                found.push((at + length, value, DIGIT_BY_DIGIT));
            }
        }
        found
    }

    /// "1,034", which may as well be cylinder one and 34.
    fn with_comma(&self, at: usize) -> Option<(usize, u32, f64)> {
        let (head, tail) = (self.words.get(at)?, self.words.get(at + 1)?);
        match (&head.token, &tail.token) {
            (
                Token::Figure { value: thousands, whole, broken },
                Token::Figure { value: rest, whole: digits, broken: none },
            ) if tail.comma
                && (1..=3).contains(&whole.len())
                && digits.len() == 3
                && broken.is_empty()
                && none.is_empty() =>
            {
                Some((at + 2, thousands.as_whole()? * 1000 + rest.as_whole()?, 0.0))
            }
            _ => None,
        }
    }

    fn whole(&self, at: usize) -> Vec<(usize, u32, f64)> {
        let mut found = self.below_hundred(at);
        if let Some(Part::Large(n)) = self.part(at) {
            found.push((at + 1, n, 0.0));
        }
        found.extend(self.with_comma(at));
        found.extend(self.hundreds(at));
        found.extend(self.thousands(at));
        found.extend(self.pairs(at));
        found.extend(self.digit_by_digit(at));
        found
    }

    /// What stands behind "point": digits one by one, or two at once ("point seventy-five").
    fn behind_point(&self, at: usize) -> Vec<(usize, i64, f64)> {
        let mut found = Vec::new();
        let mut thousandths = 0;
        for (place, scale) in [100, 10, 1].into_iter().enumerate() {
            let digit = match self.part(at + place) {
                Some(Part::Zero) => 0,
                Some(Part::Unit(n)) => i64::from(n),
                _ => break,
            };
            thousandths += digit * scale;
            found.push((at + place + 1, thousandths, 0.0));
        }
        for (end, n, cost) in self.below_hundred(at) {
            if n >= 10 {
                found.push((end, i64::from(n) * 10, cost));
            }
        }
        found
    }

    /// "and a half", "and a quarter", "and three quarters"; "1/2" as printed.
    fn broken(&self, at: usize) -> Vec<(usize, i64, f64)> {
        let mut found = Vec::new();
        let mut next = at;
        if self.is(next, "and") {
            next += 1;
        }
        let parts = next;
        if self.is(next, "a") {
            next += 1;
        }
        if self.is(next, "half") {
            found.push((next + 1, 500, 0.0));
        }
        if self.is(next, "quarter") {
            found.push((next + 1, 250, 0.0));
        }
        if self.part(parts) == Some(Part::Unit(3))
            && (self.is(parts + 1, "quarters") || self.is(parts + 1, "quarter"))
        {
            found.push((parts + 2, 750, 0.0));
        }
        if self.part(parts) == Some(Part::Unit(1)) && self.is(parts + 1, "over") {
            match self.part(parts + 2) {
                Some(Part::Unit(2)) => found.push((parts + 3, 500, 0.0)),
                Some(Part::Unit(4)) => found.push((parts + 3, 250, 0.0)),
                _ => {}
            }
        }
        found
    }

    fn decimals(&self, wholes: &[(usize, u32, f64)]) -> Vec<(usize, Decimal, f64)> {
        let mut found = Vec::new();
        let mut behind = |at: usize, whole: u32, cost: f64| {
            for (end, thousandths, more) in self.behind_point(at) {
                let value = Decimal::from_thousandths(i64::from(whole) * 1000 + thousandths);
                found.push((end, value, cost + more));
            }
        };
        if self.is(self.from, "point") {
            behind(self.from + 1, 0, 0.0);
        }
        for &(end, whole, cost) in wholes {
            if self.is(end, "point") {
                behind(end + 1, whole, cost);
            }
        }
        for &(end, whole, cost) in wholes {
            for (end, thousandths, more) in self.broken(end) {
                let value = Decimal::from_thousandths(i64::from(whole) * 1000 + thousandths);
                found.push((end, value, cost + more));
            }
        }
        found
    }
}

/// Every number that can begin at word `at`; for one end and value only the cheapest reading.
pub(crate) fn numbers_at(words: &[Word], at: usize) -> Vec<Heard> {
    if words.get(at).is_some_and(|word| word.is("minus") || word.is("negative")) {
        return numbers_at_plain(words, at + 1)
            .into_iter()
            .map(|heard| Heard { value: heard.value.negated(), ..heard })
            .collect();
    }
    numbers_at_plain(words, at)
}

fn numbers_at_plain(words: &[Word], at: usize) -> Vec<Heard> {
    let reader = Reader { words, from: at };
    let wholes = reader.whole(at);
    let mut all = reader.decimals(&wholes);
    all.extend(wholes.iter().map(|&(end, n, cost)| (end, Decimal::whole(n), cost)));
    if let Some(Word { token: Token::Figure { value, broken, .. }, .. }) = words.get(at)
        && !broken.is_empty()
    {
        all.push((at + 1, *value, 0.0));
    }
    let mut found: Vec<Heard> = Vec::with_capacity(all.len());
    for (end, value, cost) in all {
        let cost = cost + reader.pauses(end);
        match found.iter_mut().find(|heard| heard.end == end && heard.value == value) {
            Some(heard) => heard.cost = heard.cost.min(cost),
            None => found.push(Heard { end, value, cost }),
        }
    }
    found
}

/// Every cylinder number that can begin at word `at`, words that only sound like one included.
pub(crate) fn cylinder_at(words: &[Word], at: usize) -> Vec<Heard> {
    let reader = Reader { words, from: at };
    let mut found: Vec<Heard> = reader
        .below_hundred(at)
        .into_iter()
        .map(|(end, n, cost)| Heard {
            end,
            value: Decimal::whole(n),
            cost: cost + reader.pauses(end),
        })
        .collect();
    if let Some(n) = words.get(at).and_then(sounds_like) {
        found.push(Heard { end: at + 1, value: Decimal::whole(n), cost: SOUNDS_LIKE });
    }
    found
}
