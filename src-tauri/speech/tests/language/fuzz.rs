//! The parser against anything at all. `PROPTEST_CASES=1000000` makes it a long run.

use std::sync::LazyLock;

use borespoke_core::quantity::PressureUnit;
use borespoke_speech::language::{Context, Expect, Language, Meaning, Problem};
use proptest::prelude::*;

use crate::contexts::{cranked, in_unit, leaked, six};

fn languages() -> &'static [Language] {
    static LANGUAGES: LazyLock<Vec<Language>> =
        LazyLock::new(|| contexts().iter().map(Language::new).collect());
    &LANGUAGES
}

fn contexts() -> Vec<Context> {
    vec![
        cranked(),
        leaked(),
        six(Expect::Plugs),
        six(Expect::Anything),
        in_unit(PressureUnit::Bar),
        in_unit(PressureUnit::Kilopascal),
        Context { next: None, last: None, ..six(Expect::Cranking) },
    ]
}

/// What must hold of every text: no panic, every cylinder is one of the engine's, and what is not
/// an act keeps its words.
fn holds(text: &str) -> Result<(), TestCaseError> {
    for language in languages() {
        let heard = language.understand(text);
        for meaning in &heard.meanings {
            match meaning {
                Meaning::State(said) | Meaning::Correct { statement: said, .. } => {
                    prop_assert!(usize::from(said.cylinder.number()) <= 6);
                }
                Meaning::Remark { text: kept, .. } => prop_assert!(text.contains(kept.as_str())),
                _ => {}
            }
        }
    }
    Ok(())
}

const VOCABULARY: [&str; 72] = [
    "cylinder",
    "number",
    "plug",
    "one",
    "two",
    "three",
    "for",
    "to",
    "seven",
    "ten",
    "twenty",
    "forty-five",
    "hundred",
    "and",
    "a",
    "half",
    "point",
    "oh",
    "145",
    "1.45",
    "23",
    "3.145",
    "2145",
    "%",
    "percent",
    "psi",
    "P.S.I.",
    "bar",
    "kPa",
    "kilos",
    "thou",
    "mm",
    "gap",
    "dry",
    "wet",
    "no",
    "No.",
    "sorry",
    "make that",
    "scratch that",
    "take that back",
    "same again",
    "same as",
    "skip to",
    "next",
    "what's next",
    "stop listening",
    "about",
    "between",
    "or",
    "over",
    "after tapping",
    "first stroke",
    "final",
    "hissing",
    "at the",
    "tailpipe",
    "bubbles in the",
    "radiator",
    "sooty",
    "black",
    "white",
    "good",
    "is",
    "'s",
    ",",
    ".",
    "?",
    "-",
    "-5",
    "not",
    "leak",
];

fn soup() -> impl Strategy<Value = String> {
    prop::collection::vec((prop::sample::select(VOCABULARY.to_vec()), prop::bool::ANY), 0..30)
        .prop_map(|words| {
            words.iter().fold(String::new(), |text, (word, glued)| {
                if *glued && word.len() < 3 { text + word } else { text + " " + word }
            })
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, ..ProptestConfig::default() })]

    #[test]
    fn arbitrary_text_is_survived(text in "\\PC{0,200}") {
        holds(&text)?;
    }

    #[test]
    fn arbitrary_words_of_the_trade_are_survived(text in soup()) {
        holds(&text)?;
    }
}

#[test]
fn a_megabyte_of_text_is_a_remark() {
    let language = Language::new(&cranked());
    for piece in ["one ", "1. ", "cylinder three 145 psi. ", "no no no ", "a", "(", "-", "'s", "🔧"]
    {
        let text = piece.repeat(1_000_000 / piece.len());
        let heard = language.understand(&text);
        assert!(heard.meanings.iter().all(|meaning| !meaning.is_act()), "{piece:?}");
        assert!(
            heard.meanings.is_empty()
                || heard.problems.iter().any(|problem| matches!(problem, Problem::TooLong { .. }))
                || heard.meanings.len() == 1,
            "{piece:?}"
        );
    }
}
