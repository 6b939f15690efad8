//! Numbers as the recogniser prints them: every form of one number, and one pattern for all the
//! numbers of a span.
//!
//! The pattern is put together from sets of tails shared by many heads, so that the automaton made
//! of it stays small: 0 to 300 takes a few hundred states.

use std::collections::{BTreeMap, BTreeSet};

use super::said::{below_hundred, spelled};

type Set = BTreeSet<u32>;

const UNIT_WORDS: [&str; 10] =
    ["oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];

/// The forms in which a whole number below 10,000 is printed.
pub(crate) fn whole_printed(n: u32) -> Vec<String> {
    let mut forms = vec![n.to_string()];
    let mut words = Vec::new();
    let (high, low) = (n / 100, n % 100);
    if n < 100 {
        words.push(below_hundred(n));
    } else {
        let head = below_hundred(high);
        if low > 0 {
            forms.push(format!("{high}-{low:02}"));
            forms.push(format!("{high} {low:02}"));
            let tail = below_hundred(low);
            words.push(if low < 10 {
                format!("{head} oh {tail}")
            } else {
                format!("{head} {tail}")
            });
        }
        if !high.is_multiple_of(10) {
            words.extend(tailed(&format!("{head} hundred"), low));
            if high == 1 {
                words.extend(tailed("a hundred", low));
            }
            if n < 1000 && low > 0 {
                forms.push(format!("{high}00 and {low}"));
            }
        }
        if n < 1000 {
            words.push(spelled(n));
            forms.push(apart(n, "-"));
            forms.push(apart(n, " "));
        }
        if n >= 1000 {
            forms.push(format!("{},{:03}", n / 1000, n % 1000));
            let head = format!("{} thousand", below_hundred(n / 1000));
            words.extend(if high.is_multiple_of(10) {
                tailed(&head, low)
            } else {
                tailed(&format!("{head} {} hundred", below_hundred(high % 10)), low)
            });
        }
    }
    for form in words {
        if form.contains('-') {
            forms.push(form.replace('-', " "));
        }
        forms.push(form);
    }
    forms
}

/// "1-4-5".
fn apart(n: u32, gap: &str) -> String {
    n.to_string().chars().map(String::from).collect::<Vec<_>>().join(gap)
}

fn tailed(head: &str, low: u32) -> Vec<String> {
    if low == 0 {
        return vec![head.to_owned()];
    }
    let tail = below_hundred(low);
    vec![format!("{head} and {tail}"), format!("{head} {tail}")]
}

/// The forms in which a number with at most two digits behind the point is printed. `hundredths`
/// is the number times a hundred.
pub(crate) fn decimals_printed(hundredths: u32) -> Vec<String> {
    let (whole, broken) = (hundredths / 100, hundredths % 100);
    if broken == 0 {
        return plain_printed(whole);
    }
    let digits = format!("{broken:02}");
    let digits = digits.trim_end_matches('0');
    let spelled: Vec<_> = digits.bytes().map(|d| UNIT_WORDS[usize::from(d - b'0')]).collect();
    let spelled = spelled.join(" ");
    let mut forms = vec![format!("{whole}.{digits}"), format!("{whole} point {digits}")];
    if whole == 0 {
        forms.push(format!(".{digits}"));
        forms.push(format!("point {digits}"));
        forms.push(format!("point {spelled}"));
    }
    let mut words = vec![format!("{} point {spelled}", below_hundred(whole))];
    if broken == 50 && whole > 0 {
        forms.push(format!("{whole} and a half"));
        words.push(format!("{} and a half", below_hundred(whole)));
    }
    for form in words {
        if form.contains('-') {
            forms.push(form.replace('-', " "));
        }
        forms.push(form);
    }
    forms
}

fn plain_printed(n: u32) -> Vec<String> {
    if n >= 100 {
        return whole_printed(n);
    }
    let word = below_hundred(n);
    let mut forms = vec![n.to_string()];
    if word.contains('-') {
        forms.push(word.replace('-', " "));
    }
    forms.push(word);
    forms
}

/// A pattern for every printed form of the whole numbers from `least` to `most`, both below
/// 10,000.
pub(crate) fn whole_pattern(least: u32, most: u32) -> String {
    let most = most.min(9_999);
    let mut parts = Vec::new();
    let small: Set = (least..=most.min(99)).collect();
    push_unless_empty(&mut parts, figures(&small));
    push_unless_empty(&mut parts, words(&small, Case::Either));
    // Hundreds that take the same tails share them.
    let mut by_tails: BTreeMap<Set, Set> = BTreeMap::new();
    for n in least.max(100)..=most {
        by_tails.entry(Set::from([n / 100])).or_default().insert(n % 100);
    }
    let mut groups: BTreeMap<Set, Set> = BTreeMap::new();
    for (heads, tails) in by_tails {
        groups.entry(tails).or_default().extend(heads);
    }
    for (tails, heads) in &groups {
        parts.extend(hundreds(heads, tails));
    }
    any_of(&parts)
}

/// A pattern for every printed form of the numbers from `least` to `most` hundredths in steps of
/// `step` hundredths (1 or 10).
pub(crate) fn decimal_pattern(least: u32, most: u32, step: u32) -> String {
    let mut broken_of: BTreeMap<u32, Set> = BTreeMap::new();
    for hundredths in (least.next_multiple_of(step)..=most).step_by(step as usize) {
        broken_of.entry(hundredths / 100).or_default().insert(hundredths % 100);
    }
    let mut groups: BTreeMap<Set, Set> = BTreeMap::new();
    for (whole, broken) in broken_of {
        groups.entry(broken).or_default().insert(whole);
    }
    let mut parts = Vec::new();
    for (broken, wholes) in &groups {
        parts.extend(broken_numbers(wholes, broken));
    }
    any_of(&parts)
}

fn broken_numbers(wholes: &Set, broken: &Set) -> Vec<String> {
    let mut parts = Vec::new();
    if broken.contains(&0) {
        let small: Set = wholes.range(..100).copied().collect();
        push_unless_empty(&mut parts, figures(&small));
        push_unless_empty(&mut parts, words(&small, Case::Either));
        for &n in wholes.range(100..) {
            parts.push(whole_pattern(n, n));
        }
    }
    let digits = digits_behind_point(broken, |digit| digit.to_string(), "");
    let spelled = digits_behind_point(broken, |digit| UNIT_WORDS[digit as usize].to_owned(), " ");
    let (Some(digits), Some(spelled)) = (digits, spelled) else { return parts };
    let below: Set = wholes.range(..100).copied().collect();
    if below.is_empty() {
        return parts;
    }
    parts.push(format!("{}(?:\\.| point ){digits}", figures(&below)));
    parts.push(format!("{} point {spelled}", words(&below, Case::Either)));
    if below.contains(&0) {
        parts.push(format!("(?:\\.|[Pp]oint ){digits}"));
        parts.push(format!("[Pp]oint {spelled}"));
    }
    let above_zero: Set = below.range(1..).copied().collect();
    if broken.contains(&50) && !above_zero.is_empty() {
        let heads = [figures(&above_zero), words(&above_zero, Case::Either)];
        parts.push(format!("{} and a half", any_of(&heads)));
    }
    parts
}

/// The digits behind the point, without closing zeros: of 5, 50 and 55 hundredths "05", "5", "55".
fn digits_behind_point(broken: &Set, print: impl Fn(u32) -> String, gap: &str) -> Option<String> {
    let mut seconds_of: BTreeMap<u32, Set> = BTreeMap::new();
    for hundredths in broken.iter().filter(|&&hundredths| hundredths > 0) {
        seconds_of.entry(hundredths / 10).or_default().insert(hundredths % 10);
    }
    let mut groups: BTreeMap<Set, Vec<String>> = BTreeMap::new();
    for (first, seconds) in seconds_of {
        groups.entry(seconds).or_default().push(print(first));
    }
    let parts: Vec<_> = groups
        .iter()
        .map(|(seconds, firsts)| {
            let tails: Vec<_> = seconds.range(1..).map(|&digit| print(digit)).collect();
            let tail = match (tails.is_empty(), seconds.contains(&0)) {
                (true, _) => String::new(),
                (false, optional) => {
                    let mark = if optional { "?" } else { "" };
                    format!("(?:{gap}{}){mark}", any_of(&tails))
                }
            };
            format!("{}{tail}", any_of(firsts))
        })
        .collect();
    (!parts.is_empty()).then(|| any_of(&parts))
}

/// Numbers of three and four digits: hundreds `heads` with any of `tails` behind them.
fn hundreds(heads: &Set, tails: &Set) -> Vec<String> {
    let mut parts = Vec::new();
    let (short, long): (Set, Set) = heads.iter().partition(|&&head| head < 10);
    let behind: Set = tails.range(1..).copied().collect();
    for (heads, is_long) in [(short, false), (long, true)] {
        if heads.is_empty() {
            continue;
        }
        parts.push(format!("{}{}", figures(&heads), two_figures(tails)));
        if !behind.is_empty() {
            parts.push(format!("{}[- ]{}", figures(&heads), two_figures(&behind)));
        }
        parts.extend(spoken_pairs(&heads, &behind));
        let said_in_hundreds: Set =
            heads.iter().copied().filter(|head| !head.is_multiple_of(10)).collect();
        if !said_in_hundreds.is_empty() {
            let mut head = words(&said_in_hundreds, Case::Either);
            if heads.contains(&1) {
                head = any_of(&[head, "[Aa]".to_owned()]);
            }
            parts.push(format!("{head} hundred{}", and_tail(tails)));
        }
        if is_long {
            parts.extend(thousands(&heads, tails));
        } else {
            parts.extend(digit_by_digit(&heads, tails));
            if !behind.is_empty() {
                parts.push(format!("{}00 and {}", figures(&heads), figures(&behind)));
            }
        }
    }
    parts
}

/// "one forty-five", "one oh five".
fn spoken_pairs(heads: &Set, behind: &Set) -> Vec<String> {
    let heads = words(heads, Case::Either);
    let mut parts = Vec::new();
    let units: Set = behind.range(..10).copied().collect();
    let tens: Set = behind.range(10..).copied().collect();
    if !tens.is_empty() {
        parts.push(format!("{heads}[- ]{}", words(&tens, Case::Lower)));
    }
    if !units.is_empty() {
        parts.push(format!("{heads}[- ]oh[- ]{}", words(&units, Case::Lower)));
    }
    parts
}

/// "1-4-5", "one four five".
fn digit_by_digit(heads: &Set, tails: &Set) -> Vec<String> {
    let spoken = |digits: &Set| {
        any_of(
            &digits.iter().map(|&digit| UNIT_WORDS[digit as usize].to_owned()).collect::<Vec<_>>(),
        )
    };
    let mut parts = Vec::new();
    for (units, tens) in by_tens(tails.iter().copied()) {
        let (tens_class, units_class) = (digit_class(&tens), digit_class(&units));
        parts.push(format!("{}[- ]{tens_class}[- ]{units_class}", figures(heads)));
        let head = words(heads, Case::Either);
        parts.push(format!("{head}[- ]{}[- ]{}", spoken(&tens), spoken(&units)));
    }
    parts
}

/// "1,034", "one thousand and thirty-four", "one thousand two hundred".
fn thousands(heads: &Set, tails: &Set) -> Vec<String> {
    let mut parts = Vec::new();
    for &head in heads {
        parts.push(format!("{},{}{}", head / 10, head % 10, two_figures(tails)));
        let thousand = words(&Set::from([head / 10]), Case::Either);
        let hundred = match head % 10 {
            0 => String::new(),
            digit => format!(" {} hundred", below_hundred(digit)),
        };
        parts.push(format!("{thousand} thousand{hundred}{}", and_tail(tails)));
    }
    parts
}

/// " and forty-five", " forty-five", or nothing where the tail may be nought.
fn and_tail(tails: &Set) -> String {
    let behind: Set = tails.range(1..).copied().collect();
    if behind.is_empty() {
        return String::new();
    }
    let optional = if tails.contains(&0) { "?" } else { "" };
    format!("(?:(?: and)? {}){optional}", words(&behind, Case::Lower))
}

#[derive(Clone, Copy)]
enum Case {
    Lower,
    Either,
}

/// Numbers below a hundred in words.
fn words(numbers: &Set, case: Case) -> String {
    let cased = |word: String| match case {
        Case::Lower => word,
        Case::Either => either_case(&word),
    };
    let mut parts: Vec<_> = numbers.range(..20).map(|&n| cased(below_hundred(n))).collect();
    for (units, tens) in by_tens(numbers.range(20..).copied()) {
        let tens: Vec<_> = tens.into_iter().map(|ten| cased(below_hundred(ten * 10))).collect();
        let behind: Vec<_> = units.range(1..).map(|&n| below_hundred(n)).collect();
        let tail = match (behind.is_empty(), units.contains(&0)) {
            (true, _) => String::new(),
            (false, optional) => {
                format!("(?:[- ]{}){}", any_of(&behind), if optional { "?" } else { "" })
            }
        };
        parts.push(format!("{}{tail}", any_of(&tens)));
    }
    any_of(&parts)
}

/// Numbers below a hundred in figures.
fn figures(numbers: &Set) -> String {
    let units = numbers.range(..10).copied().collect();
    let mut parts = Vec::new();
    push_unless_empty(&mut parts, digit_class(&units));
    for (units, tens) in by_tens(numbers.range(10..).copied()) {
        parts.push(format!("{}{}", digit_class(&tens), digit_class(&units)));
    }
    any_of(&parts)
}

/// Numbers below a hundred in two figures, 05 for five.
fn two_figures(numbers: &Set) -> String {
    let parts: Vec<_> = by_tens(numbers.iter().copied())
        .into_iter()
        .map(|(units, tens)| format!("{}{}", digit_class(&tens), digit_class(&units)))
        .collect();
    any_of(&parts)
}

/// Units that the same tens take, with those tens.
fn by_tens(numbers: impl Iterator<Item = u32>) -> BTreeMap<Set, Set> {
    let mut units_of: BTreeMap<u32, Set> = BTreeMap::new();
    for n in numbers {
        units_of.entry(n / 10).or_default().insert(n % 10);
    }
    let mut groups: BTreeMap<Set, Set> = BTreeMap::new();
    for (ten, units) in units_of {
        groups.entry(units).or_default().insert(ten);
    }
    groups
}

fn digit_class(digits: &Set) -> String {
    let listed: String = digits.iter().map(u32::to_string).collect();
    match digits.len() {
        0 | 1 => listed,
        _ => format!("[{listed}]"),
    }
}

/// The word with its first letter in either case.
pub(crate) fn either_case(word: &str) -> String {
    match word.chars().next() {
        Some(first) if first.is_ascii_lowercase() => {
            format!("[{}{first}]{}", first.to_ascii_uppercase(), &word[1..])
        }
        _ => word.to_owned(),
    }
}

/// One of the patterns.
pub(crate) fn any_of(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        _ => format!("(?:{})", parts.join("|")),
    }
}

fn push_unless_empty(parts: &mut Vec<String>, part: String) {
    if !part.is_empty() {
        parts.push(part);
    }
}
