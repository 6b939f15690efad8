//! Numbers that sound alike: ninety and nineteen, fifty and fifteen.

use super::Decimal;

/// The numbers that `value` is easily misheard as: the teen for the ten and the ten for the teen,
/// in the last two digits and in the first two of four.
#[must_use]
pub fn confusable(value: Decimal) -> Vec<Decimal> {
    let Some(n) = value.as_whole() else { return Vec::new() };
    let mut found = Vec::new();
    if let Some(low) = swapped(n % 100) {
        found.push(Decimal::whole(n - n % 100 + low));
    }
    if n >= 1000
        && let Some(high) = swapped(n / 100 % 100)
    {
        found.push(Decimal::whole(n - n / 100 % 100 * 100 + high * 100));
    }
    found
}

const fn swapped(n: u32) -> Option<u32> {
    match n {
        13..=19 => Some(n % 10 * 10),
        30 | 40 | 50 | 60 | 70 | 80 | 90 => Some(n / 10 + 10),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tens_and_teens_are_taken_for_each_other() {
        let rows: [(u32, &[u32]); 6] = [
            (90, &[19]),
            (19, &[90]),
            (115, &[150]),
            (150, &[115]),
            (145, &[]),
            (1350, &[1315, 3050]),
        ];
        for (n, want) in rows {
            let want: Vec<_> = want.iter().copied().map(Decimal::whole).collect();
            assert_eq!(confusable(Decimal::whole(n)), want, "{n}");
        }
    }
}
