//! Reference tables: `#` comments, a line of column names, tab-separated numbers.

/// The rows of a table.
pub fn rows(table: &str) -> Vec<Vec<f64>> {
    let body = table.lines().filter(|line| !line.starts_with('#') && !line.is_empty()).skip(1);
    body.map(|line| line.split('\t').map(|cell| cell.parse().unwrap()).collect()).collect()
}

/// Fails unless `ours` is `theirs` within a relative `tolerance`.
#[track_caller]
pub fn close(ours: f64, theirs: f64, tolerance: f64) {
    let off = (ours - theirs).abs() / theirs.abs().max(f64::MIN_POSITIVE);
    assert!(off <= tolerance, "ours {ours}, theirs {theirs}, off by {off:e}");
}

/// Fails unless `ours` rounds to the printed `theirs`: within half of its last digit, and a hair.
#[track_caller]
pub fn rounds_to(ours: f64, theirs: f64, last_digit: f64) {
    assert!((ours - theirs).abs() <= last_digit * 0.501, "ours {ours}, printed {theirs}");
}
