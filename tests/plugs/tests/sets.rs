//! The photo crate on a few of the rendered sets; `borespoke-plugs evaluate` runs them all. These
//! pictures are drawn: what holds here is not proven on photographs.

use borespoke_plugs::evaluate::{Pointing, evaluate};

#[test]
fn the_first_six_sets_come_out_right() {
    let tally = evaluate(0..6, Pointing::Found, false);
    assert_eq!(tally.found, tally.pictures, "{tally:?}");
    assert_eq!((tally.odd_sets, tally.named_alone), (2, 2), "{tally:?}");
    assert_eq!((tally.uniform_sets, tally.false_alarms), (2, 0), "{tally:?}");
    assert_eq!((tally.mixed_sets, tally.refused), (2, 2), "{tally:?}");
    assert_eq!(tally.refused_wrongly, 0, "{tally:?}");
}
