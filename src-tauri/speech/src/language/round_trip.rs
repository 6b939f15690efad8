//! What the rules can make, the pattern matches and the parser reads back.

use borespoke_core::engine::{Engine, FiringOrder};
use borespoke_core::quantity::PressureUnit;
use regex_automata::meta::Regex;

use super::context::{Context, Expect};
use super::grammar::{Event, Mark, english, sample};
use super::problem::Problem;
use super::settle::Settled;
use super::{Language, Meaning, Understood};

/// A small generator with a seed, so that a failure comes back (Knuth's MMIX constants).
struct Seeded(u64);

impl Seeded {
    fn below(&mut self, n: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap_or(0) % n
    }
}

fn contexts() -> Vec<Context> {
    let six = || Engine::new(FiringOrder::new([1, 5, 3, 6, 2, 4]).unwrap(), None).unwrap();
    let expects = [Expect::Cranking, Expect::LeakDown, Expect::Plugs, Expect::Anything];
    let mut contexts: Vec<_> =
        expects.into_iter().map(|expect| Context::new(six(), expect)).collect();
    for unit in [PressureUnit::Bar, PressureUnit::Kilopascal, PressureUnit::KgfPerCm2] {
        let context = Context::new(six(), Expect::Cranking);
        contexts.push(Context { pressure_unit: unit, ..context });
    }
    contexts
}

/// Whether the text was read as meant, or it was seen that it can be taken two ways and this is
/// one of them.
fn read_as(understood: &Understood, meant: &[Meaning]) -> bool {
    understood.meanings == meant
        || understood.problems.iter().any(
            |problem| matches!(problem, Problem::Ambiguous(ways) if ways.iter().any(|way| way == meant)),
        )
}

fn names_two_cylinders(events: &[Event]) -> bool {
    let parts = |event: &Event| matches!(event, Event::Mark(Mark::Clause | Mark::Like));
    events
        .split(parts)
        .any(|clause| clause.iter().filter(|event| matches!(event, Event::Cylinder(_))).count() > 1)
}

#[test]
fn a_sentence_made_from_the_rules_matches_and_is_read_back() {
    let mut seeded = Seeded(2026);
    let mut failures = Vec::new();
    let (mut made, mut doubtful) = (0, 0);
    for context in contexts() {
        let language = Language::new(&context);
        let pattern = Regex::new(&format!("^(?:{})$", language.pattern())).unwrap();
        for _ in 0..600 {
            let (text, events) = sample(english(), &context, &mut |n| seeded.below(n));
            assert!(pattern.is_match(&text), "{text:?} is not matched");
            // Printed "no. 3", that is "number three", whatever was meant; and nobody says one
            // reading of two cylinders.
            if text.to_lowercase().contains("no. ") || names_two_cylinders(&events) {
                continue;
            }
            let mut settled = Settled::new(&context);
            settled.take(&events);
            if !settled.problems.is_empty() {
                // A sentence that makes no sense, such as a correction with nothing before it.
                continue;
            }
            made += 1;
            let understood = language.understand(&text);
            if understood.meanings != settled.meanings {
                doubtful += 1;
            }
            // Never something else: the same, or seen to be in doubt.
            if understood.problems.is_empty() && !read_as(&understood, &settled.meanings) {
                failures.push(format!(
                    "{text:?}\n  meant {:?}\n  read  {:?}",
                    settled.meanings, understood.meanings
                ));
            }
        }
    }
    println!("{made} made, {doubtful} in doubt, {} wrong", failures.len());
    assert!(failures.is_empty(), "{} of {made}:\n{}", failures.len(), failures.join("\n"));
}
