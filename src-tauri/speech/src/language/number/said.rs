//! Numbers to words: the way the phone says them, and every way a mechanic may.

use borespoke_core::engine::Cylinder;

use super::Decimal;

const BELOW_TWENTY: [&str; 20] = [
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

/// A number below a hundred in words.
pub(crate) fn below_hundred(n: u32) -> String {
    match n {
        0..20 => BELOW_TWENTY[n as usize].to_owned(),
        _ if n.is_multiple_of(10) => TENS[n as usize / 10 % 10].to_owned(),
        _ => format!("{}-{}", TENS[n as usize / 10 % 10], BELOW_TWENTY[n as usize % 10]),
    }
}

/// Every style in which a whole number below 10,000 is said, the plainest first.
#[must_use]
pub fn styles(n: u32) -> Vec<String> {
    let (high, low) = (n / 100, n % 100);
    let mut styles = Vec::new();
    match n {
        0..100 => styles.push(below_hundred(n)),
        100..10_000 => {
            let head = below_hundred(high);
            match low {
                0 => {}
                1..10 => styles.push(format!("{head} oh {}", below_hundred(low))),
                _ => styles.push(format!("{head} {}", below_hundred(low))),
            }
            if !high.is_multiple_of(10) {
                styles.extend(with_tail(&format!("{head} hundred"), low));
                if high == 1 {
                    styles.extend(with_tail("a hundred", low));
                }
            }
            if n >= 1000 {
                styles.extend(thousands(n));
            }
        }
        _ => {}
    }
    if (100..1000).contains(&n) {
        styles.push(spelled(n));
    }
    styles
}

/// Digit by digit: "one four five".
pub(super) fn spelled(n: u32) -> String {
    let digit = |digit: u8| match digit {
        b'0' => "oh",
        _ => BELOW_TWENTY[usize::from(digit - b'0')],
    };
    n.to_string().bytes().map(digit).collect::<Vec<_>>().join(" ")
}

fn with_tail(head: &str, low: u32) -> Vec<String> {
    if low == 0 {
        return vec![head.to_owned()];
    }
    let tail = below_hundred(low);
    vec![format!("{head} and {tail}"), format!("{head} {tail}")]
}

fn thousands(n: u32) -> Vec<String> {
    let head = format!("{} thousand", below_hundred(n / 1000));
    match n % 1000 {
        rest @ 0..100 => with_tail(&head, rest),
        rest => {
            let hundreds = format!("{head} {} hundred", below_hundred(rest / 100));
            with_tail(&hundreds, rest % 100)
        }
    }
}

/// The number as the phone says it: "one forty-five", "two oh nine", "nine point five".
#[must_use]
pub fn say(number: Decimal) -> String {
    let sign = if number.thousandths() < 0 { "minus " } else { "" };
    let thousandths = number.thousandths().unsigned_abs();
    let whole = u32::try_from(thousandths / 1000).unwrap_or(u32::MAX);
    let said = styles(whole).into_iter().next().unwrap_or_else(|| whole.to_string());
    let behind = format!("{:03}", thousandths % 1000);
    let behind: Vec<_> = behind
        .trim_end_matches('0')
        .bytes()
        .map(|digit| BELOW_TWENTY[usize::from(digit - b'0')])
        .collect();
    match (behind.is_empty(), whole) {
        (true, _) => format!("{sign}{said}"),
        (false, 0) => format!("{sign}point {}", behind.join(" ")),
        (false, _) => format!("{sign}{said} point {}", behind.join(" ")),
    }
}

/// A cylinder's number in words.
#[must_use]
pub fn say_cylinder(cylinder: Cylinder) -> String {
    below_hundred(u32::from(cylinder.number()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_phone_says_what_a_mechanic_says() {
        let rows = [
            ("145", "one forty-five"),
            ("209", "two oh nine"),
            ("200", "two hundred"),
            ("23", "twenty-three"),
            ("0", "zero"),
            ("9.5", "nine point five"),
            ("0.85", "point eight five"),
            ("1034", "ten thirty-four"),
            ("1000", "one thousand"),
            ("1200", "twelve hundred"),
        ];
        for (digits, want) in rows {
            let (whole, broken) = digits.split_once('.').unwrap_or((digits, ""));
            assert_eq!(say(Decimal::from_digits(whole, broken).unwrap()), want);
        }
    }
}
