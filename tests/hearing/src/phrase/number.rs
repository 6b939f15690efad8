//! Numbers as they are spoken.

use rand::RngExt;
use rand_chacha::ChaCha8Rng;

/// A way to say a whole number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// "one hundred and forty-five", "twenty-three".
    Plain,
    /// "one forty-five", "one oh five", "ten thirty-four".
    Pairs,
    /// "a hundred and five", "one hundred five".
    Hundred,
    /// "one four five".
    Digits,
}

impl Style {
    /// Mechanics mostly say pairs.
    pub fn any(random: &mut ChaCha8Rng) -> Self {
        match random.random_range(0..20) {
            0..12 => Self::Pairs,
            12..15 => Self::Plain,
            15..18 => Self::Hundred,
            _ => Self::Digits,
        }
    }
}

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
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
const TENS: [&str; 10] =
    ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

fn below_hundred(n: u32) -> String {
    match n {
        0..20 => SMALL[n as usize].to_owned(),
        _ if n.is_multiple_of(10) => TENS[(n / 10) as usize].to_owned(),
        _ => format!("{}-{}", TENS[(n / 10) as usize], SMALL[(n % 10) as usize]),
    }
}

/// A whole number below ten thousand.
pub fn whole(n: u32, style: Style) -> String {
    if n < 100 && style != Style::Digits || n < 10 {
        return below_hundred(n);
    }
    match style {
        Style::Digits => n
            .to_string()
            .bytes()
            .map(|digit| if digit == b'0' { "oh" } else { SMALL[usize::from(digit - b'0')] })
            .collect::<Vec<_>>()
            .join(" "),
        Style::Pairs if !n.is_multiple_of(1_000) => {
            let head = below_hundred(n / 100);
            match n % 100 {
                0 => format!("{head} hundred"),
                low @ 1..10 => format!("{head} oh {}", SMALL[low as usize]),
                low => format!("{head} {}", below_hundred(low)),
            }
        }
        Style::Hundred if (100..200).contains(&n) && n.is_multiple_of(2) => {
            let tail =
                if n == 100 { String::new() } else { format!(" and {}", below_hundred(n % 100)) };
            format!("a hundred{tail}")
        }
        Style::Hundred if n < 1_000 && !n.is_multiple_of(100) => {
            format!("{} hundred {}", SMALL[(n / 100) as usize], below_hundred(n % 100))
        }
        _ => {
            let mut parts = Vec::new();
            if n >= 1_000 {
                parts.push(format!("{} thousand", below_hundred(n / 1_000)));
            }
            if !(n / 100).is_multiple_of(10) {
                parts.push(format!("{} hundred", SMALL[(n / 100 % 10) as usize]));
            }
            if !n.is_multiple_of(100) {
                parts.push(format!("and {}", below_hundred(n % 100)));
            }
            parts.join(" ")
        }
    }
}

/// A number of tenths: "nine point five", "nine and a half", "nine".
pub fn tenths(n: u32, random: &mut ChaCha8Rng) -> String {
    let head = whole(n / 10, Style::Pairs);
    match n % 10 {
        0 => head,
        5 if n > 10 && random.random_bool(0.5) => format!("{head} and a half"),
        _ if n < 10 => format!(
            "{}point {}",
            if random.random_bool(0.5) { "zero " } else { "" },
            SMALL[n as usize]
        ),
        low => format!("{head} point {}", SMALL[low as usize]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_every_style() {
        let rows = [
            (145, Style::Pairs, "one forty-five"),
            (105, Style::Pairs, "one oh five"),
            (105, Style::Plain, "one hundred and five"),
            (105, Style::Hundred, "one hundred five"),
            (148, Style::Hundred, "a hundred and forty-eight"),
            (100, Style::Hundred, "a hundred"),
            (145, Style::Digits, "one four five"),
            (60, Style::Digits, "six oh"),
            (200, Style::Pairs, "two hundred"),
            (1_034, Style::Pairs, "ten thirty-four"),
            (1_034, Style::Plain, "one thousand and thirty-four"),
            (1_000, Style::Pairs, "one thousand"),
            (1_250, Style::Plain, "one thousand two hundred and fifty"),
            (23, Style::Pairs, "twenty-three"),
            (0, Style::Digits, "zero"),
        ];
        for (n, style, said) in rows {
            assert_eq!(whole(n, style), said);
        }
    }

    /// No two numbers below a thousand sound alike in one style.
    #[test]
    fn a_style_says_each_number_its_own_way() {
        for style in [Style::Plain, Style::Pairs, Style::Hundred, Style::Digits] {
            let mut said: Vec<String> = (0..1_000).map(|n| whole(n, style)).collect();
            said.sort();
            said.dedup();
            assert_eq!(said.len(), 1_000, "{style:?}");
        }
    }
}
