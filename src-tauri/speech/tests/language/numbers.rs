//! Every number, in every style it is said and printed.

use borespoke_core::quantity::PressureUnit;
use borespoke_speech::language::{Decimal, Expect, Fact, Language, Meaning, say, styles};
use proptest::prelude::*;
use regex_automata::meta::Regex;

use crate::contexts::{cranked, in_unit, leaked, six};

fn whole(pattern: &str) -> Regex {
    Regex::new(&format!("^(?:{pattern})$")).unwrap()
}

fn pressure(language: &Language, text: &str) -> Option<f64> {
    let heard = language.understand(text);
    match &heard.meanings[..] {
        [Meaning::State(said)] if heard.problems.is_empty() => match &said.fact {
            Fact::Cranking { pressure, .. } if pressure.up_to.is_none() => {
                Some(pressure.value.value())
            }
            _ => None,
        },
        _ => None,
    }
}

#[test]
fn every_number_to_999_in_every_spoken_style_is_the_same_number() {
    let language = Language::new(&cranked());
    for n in 0..1000 {
        for style in styles(n) {
            for text in [
                format!("cylinder three {style} psi"),
                format!("Cylinder 3, {style} PSI."),
                format!("cylinder three {} psi", style.replace('-', " ")),
            ] {
                assert_eq!(pressure(&language, &text), Some(f64::from(n)), "{text}");
            }
        }
        let digits = format!(" Cylinder 3, {n} psi.");
        assert_eq!(pressure(&language, &digits), Some(f64::from(n)), "{digits}");
    }
}

#[test]
fn every_number_said_by_the_phone_comes_back() {
    let language = Language::new(&cranked());
    for n in 0..1000 {
        let said = say(Decimal::whole(n));
        let text = format!("cylinder three {said} psi");
        assert_eq!(pressure(&language, &text), Some(f64::from(n)), "{text}");
    }
    for tenths in 0..400 {
        let number = Decimal::from_thousandths(tenths * 100);
        let text = format!("cylinder three {} bar", say(number));
        assert_eq!(pressure(&language, &text), Some(number.value()), "{text}");
    }
}

#[test]
fn every_kilopascal_to_2000_in_every_spoken_style_is_the_same_number() {
    let language = Language::new(&in_unit(PressureUnit::Kilopascal));
    for n in 100..2000 {
        for style in styles(n) {
            let text = format!("cylinder three {style} kilopascals");
            assert_eq!(pressure(&language, &text), Some(f64::from(n)), "{text}");
        }
    }
}

#[test]
fn the_pattern_has_every_plausible_number_in_every_style_and_no_other_in_figures() {
    let language = Language::new(&cranked());
    let pattern = whole(language.pattern());
    for n in 0..1000 {
        let text = format!(" Cylinder 3, {n} psi.");
        assert_eq!(pattern.is_match(&text), n <= 300, "{text}");
    }
    for n in 0..=300 {
        for style in styles(n) {
            let text = format!(" Cylinder 3, {style} psi.");
            assert!(pattern.is_match(&text), "{text}");
        }
    }
}

#[test]
fn the_pattern_has_only_the_cylinders_there_are() {
    for expect in [Expect::Cranking, Expect::LeakDown, Expect::Anything] {
        let pattern = whole(Language::new(&six(expect)).pattern());
        for n in 0..=20 {
            let text = format!(" Cylinder {n}, 45 percent.");
            assert_eq!(pattern.is_match(&text), (1..=6).contains(&n), "{text}");
        }
    }
}

#[test]
fn the_pattern_has_the_whole_forms_of_a_reading() {
    let cranking = whole(Language::new(&cranked()).pattern());
    for text in [
        " Cylinder 3, 145 psi.",
        " Cylinder three 145 psi",
        " Cylinder 3 145 PSI.",
        " Number two, one ten dry, one forty wet.",
        " No, 140.",
        " Sorry, make that 140.",
        " 145.",
        " One forty-five.",
        " One, 150. Two, 145. Three, 160.",
        " Take that back.",
        " Same again.",
        " Skip to cylinder 5.",
        " What's next?",
        " Stop listening.",
        " Cylinder 3 about 140.",
        " Cylinder 3 between 140 and 145 psi.",
        " Cylinder 3, 10.5 bar.",
        " Cylinder two 140 bar, no, psi.",
        " Scratch that, cylinder three is 110.",
    ] {
        assert!(cranking.is_match(text), "{text}");
    }
    let leak = whole(Language::new(&leaked()).pattern());
    for text in [
        " Cylinder 3, 23%.",
        " Cylinder three, twenty-three percent.",
        " Cylinder 3, 23, 24%.",
        " Hissing at the tailpipe.",
        " Air in the oil filler.",
        " Bubbles in the radiator.",
        " Cylinder 3, 72 over 80.",
        " After tapping, 12%.",
    ] {
        assert!(leak.is_match(text), "{text}");
    }
    let plugs = whole(Language::new(&six(Expect::Plugs)).pattern());
    for text in [" Plug three is sooty.", " Number 3, gap 35 thou.", " Plug 2, wet with fuel."] {
        assert!(plugs.is_match(text), "{text}");
    }
    for text in ["Cylinder 3, 145 psi.", " Pass me the rag.", " Cylinder 7, 145 psi."] {
        assert!(!cranking.is_match(text), "{text}");
    }
}

proptest! {
    #[test]
    fn a_percentage_comes_back_however_it_is_printed(
        cylinder in 1_u32..=6,
        tenths in 0_i64..=1000,
        comma in prop::bool::ANY,
        sign in prop::sample::select(vec!["%", " percent", " per cent"]),
    ) {
        let language = Language::new(&leaked());
        let number = Decimal::from_thousandths(tenths * 100);
        let comma = if comma { "," } else { "" };
        let text = format!(" Cylinder {cylinder}{comma} {number}{sign}.");
        let heard = language.understand(&text);
        prop_assert!(heard.is_clear(), "{text} {heard:?}");
        let [Meaning::State(said)] = &heard.meanings[..] else { panic!("{text}") };
        let Fact::LeakDown { leak, .. } = &said.fact else { panic!("{text}") };
        prop_assert_eq!(u32::from(said.cylinder.number()), cylinder);
        prop_assert!((leak.value.percent() - number.value()).abs() < 1e-9);
    }
}
