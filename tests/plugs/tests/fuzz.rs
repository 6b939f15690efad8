//! Damaged files; `borespoke-plugs fuzz` runs 100,000.

use borespoke_plugs::fuzz;

#[test]
fn damaged_files_make_no_panic() {
    let outcome = fuzz::run(0..900);
    assert_eq!(outcome.panicked, Vec::<u64>::new());
    assert_eq!(outcome.read + outcome.refused, 900);
    // Some changes do no harm, most do: a reader that takes all or none is broken.
    assert!(outcome.read > 20 && outcome.refused > 500, "{outcome:?}");
}
