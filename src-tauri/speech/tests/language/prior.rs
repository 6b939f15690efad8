//! What the job makes likelier.

use borespoke_speech::language::{Context, Expect, Language, Meaning};

use crate::contexts::{cranked, six};

fn weight(context: &Context, text: &str) -> f64 {
    let language = Language::new(context);
    let heard = language.understand(text);
    let [meaning] = &heard.meanings[..] else { panic!("{text}: {heard:?}") };
    assert!(meaning.is_act(), "{text}: {heard:?}");
    language.weight(meaning)
}

#[test]
fn the_expected_cylinder_weighs_more_than_another() {
    // Cylinder five comes after one.
    let context = cranked();
    assert!(weight(&context, "cylinder five 145 psi") > weight(&context, "cylinder three 145 psi"));
}

#[test]
fn a_plausible_pressure_weighs_more_than_one_no_engine_of_the_kind_has() {
    let context = cranked();
    assert!(weight(&context, "cylinder five 145 psi") > weight(&context, "cylinder five 745 psi"));
}

#[test]
fn a_pressure_a_gauge_shows_every_day_weighs_more_than_a_few_psi_or_half_a_psi() {
    let context = cranked();
    let everyday = weight(&context, "cylinder five 105 psi");
    let low = weight(&context, "cylinder five 45 psi");
    assert!(everyday > low && low > weight(&context, "cylinder five 6 psi"));
    assert!(low > weight(&context, "cylinder five 145.5 psi"));
}

#[test]
fn the_quantity_in_hand_weighs_more_than_another() {
    let context = cranked();
    assert!(
        weight(&context, "cylinder five 45 psi") > weight(&context, "cylinder five 45 percent")
    );
}

#[test]
fn a_reading_weighs_more_than_a_correction_and_that_more_than_taking_back() {
    let context = cranked();
    let reading = weight(&context, "cylinder five 145 psi");
    let correction = weight(&context, "no, 145 psi");
    let withdrawal = weight(&context, "take that back");
    assert!(reading > correction && correction > withdrawal);
}

#[test]
fn a_weight_is_never_above_a_remark() {
    let context = six(Expect::Anything);
    let remark = Meaning::Remark { cylinder: None, text: String::new() };
    assert!(Language::new(&context).weight(&remark) >= weight(&context, "cylinder one 145 psi"));
}
