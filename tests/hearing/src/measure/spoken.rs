//! Between the corpus's plain shapes and the types of `core` and `speech`.

use borespoke_core::engine::{Cylinder, Engine, FiringOrder};
use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedPressure};
use borespoke_core::record::{
    Bore, Cranking, LeakDown, LeakReading, Observation, Stated, Stroke, Valves,
};
use borespoke_speech::language::{Context, Expect, Fact, Meaning, Statement};

use crate::situation::{Quantity, Situation};
use crate::truth::{Entry, Kind};

/// The job's state for the spoken language.
///
/// # Panics
/// When the corpus has a situation that cannot be, which its own tests rule out.
#[must_use]
pub fn context(situation: &Situation) -> Context {
    let order = FiringOrder::new(situation.firing_order.iter().copied()).expect("a firing order");
    let engine = Engine::new(order, None).expect("no layout that could disagree");
    let expect = match situation.expect {
        Quantity::Cranking => Expect::Cranking,
        Quantity::LeakDown => Expect::LeakDown,
        Quantity::Plugs => Expect::Plugs,
    };
    let cylinder = |number| engine.cylinder(number).expect("a cylinder of the order");
    let next = cylinder(situation.next);
    let last = situation
        .last
        .as_ref()
        .map(|entry| observation(entry, cylinder(entry.cylinder.unwrap_or(1))));
    let mut context = Context::new(engine, expect);
    context.pressure_unit = unit(&situation.unit);
    context.bore = if situation.wet { Bore::Wet } else { Bore::Dry };
    context.next = Some(next);
    context.last = last;
    context
}

fn unit(name: &str) -> PressureUnit {
    PressureUnit::ALL.into_iter().find(|unit| unit.symbol() == name).unwrap_or(PressureUnit::Psi)
}

fn observation(entry: &Entry, cylinder: Cylinder) -> Observation {
    let value = entry.value.unwrap_or_default();
    if entry.kind == Kind::LeakDown {
        let leak = LeakPercent::new(value).expect("a leak of the corpus");
        return Observation::LeakDown(LeakDown {
            cylinder,
            reading: LeakReading::Percent { leak: Stated::exactly(leak) },
            valves: Valves::AsFound,
            tester: None,
        });
    }
    let unit = unit(entry.unit.as_deref().unwrap_or_default());
    let pressure = StatedPressure::new(value, unit).expect("a pressure of the corpus");
    Observation::Cranking(Cranking {
        cylinder,
        pressure: Stated::exactly(pressure),
        bore: if entry.wet { Bore::Wet } else { Bore::Dry },
        stroke: Stroke::Final,
        tester: None,
    })
}

/// What the meanings put in the log. Commands put nothing there.
#[must_use]
pub fn entries(meanings: &[Meaning], situation: &Situation) -> Vec<Entry> {
    meanings.iter().filter_map(|meaning| entry(meaning, situation)).collect()
}

fn entry(meaning: &Meaning, situation: &Situation) -> Option<Entry> {
    match meaning {
        Meaning::State(statement) => Some(stated(statement)),
        Meaning::Correct { statement, .. } => {
            Some(Entry { kind: Kind::Correction, ..stated(statement) })
        }
        Meaning::Withdraw(which) => {
            use borespoke_speech::language::Which;
            let cylinder = match which {
                Which::Last => situation.last.as_ref().and_then(|last| last.cylinder),
                Which::Cylinder(cylinder) => Some(u32::from(cylinder.number())),
            };
            Some(Entry { cylinder, ..Entry::of(Kind::Withdrawal) })
        }
        Meaning::Repeat { cylinder, .. } => {
            let cylinder = Some(u32::from(cylinder.number()));
            situation.last.clone().map(|last| Entry { cylinder, ..last })
        }
        Meaning::Remark { .. } => Some(Entry::of(Kind::Remark)),
        Meaning::Skip { .. } | Meaning::Unit(_) | Meaning::NextStep | Meaning::StopListening => {
            None
        }
    }
}

fn stated(statement: &Statement) -> Entry {
    let cylinder = Some(u32::from(statement.cylinder.number()));
    let of = |kind| Entry { cylinder, ..Entry::of(kind) };
    match &statement.fact {
        Fact::Cranking { pressure, bore, .. } => Entry {
            value: Some(pressure.value.value()),
            up_to: pressure.up_to.map(|up_to| up_to.value()),
            about: pressure.about,
            unit: Some(pressure.value.unit().symbol().to_owned()),
            wet: *bore == Bore::Wet,
            ..of(Kind::Cranking)
        },
        Fact::LeakDown { leak, .. } => Entry {
            value: Some(leak.value.percent()),
            up_to: leak.up_to.map(|up_to| up_to.percent()),
            about: leak.about,
            unit: Some("percent".to_owned()),
            ..of(Kind::LeakDown)
        },
        Fact::TwoGauge { cylinder_side, .. } => Entry {
            value: Some(cylinder_side.value()),
            unit: Some(cylinder_side.unit().symbol().to_owned()),
            ..of(Kind::LeakDown)
        },
        Fact::Plug { signs } => Entry {
            signs: signs
                .iter()
                .filter_map(|sign| serde_json::to_value(sign).ok()?.as_str().map(str::to_owned))
                .collect(),
            ..of(Kind::Look)
        },
        Fact::Gap { gap } => Entry {
            value: Some(gap.value.value()),
            up_to: gap.up_to.map(|up_to| up_to.value()),
            unit: Some(gap.value.unit().symbol().to_owned()),
            ..of(Kind::Gap)
        },
        Fact::Air { at } => Entry { at: Some(at.name().to_owned()), ..of(Kind::Listening) },
    }
}

#[cfg(test)]
mod tests {
    use borespoke_speech::language::Language;

    use super::*;
    use crate::corpus::{SEED, utterances};
    use crate::score::same_entries;

    /// Said word for word, nearly everything of the corpus is understood, and no talk becomes a
    /// reading: the grammar and the corpus were written apart.
    #[test]
    fn the_words_of_the_corpus_are_understood() {
        let (mut right, mut wrong, mut turned, mut all) = (0, Vec::new(), Vec::new(), 0);
        for utterance in utterances(SEED) {
            let understood =
                Language::new(&context(&utterance.situation)).understand(&utterance.words);
            let heard = entries(&understood.meanings, &utterance.situation);
            let line = format!(
                "{}: {:?} -> {heard:?} {:?}",
                utterance.id, utterance.words, understood.problems
            );
            if utterance.act.is_talk() {
                if heard.iter().any(|entry| entry.kind != Kind::Remark)
                    && understood.problems.is_empty()
                {
                    turned.push(line);
                }
                continue;
            }
            all += 1;
            if same_entries(&utterance.heard, &heard) {
                right += 1;
            } else {
                wrong.push(line);
            }
        }
        if let Ok(path) = std::env::var("MISUNDERSTOOD") {
            std::fs::write(path, [wrong.join("\n"), turned.join("\n")].join("\n--\n")).unwrap();
        }
        assert!(turned.is_empty(), "{turned:#?}");
        assert!(right * 1_000 >= all * 990, "{right} of {all}\n{wrong:#?}");
    }
}
