//! One entry, as a flat JSON object.

use std::fmt;

use borespoke_core::engine::Cylinder;
use borespoke_core::record::{
    Bore, LeakReading, Observation, PlugSign, Sight, Stated, Stroke, Valves,
};
use borespoke_speech::language::{Meaning, Which};
use serde::Serialize;

/// An entry: `kind` says which of the other fields are there. `value` is the middle of a range,
/// whose ends are `from` and `to`.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct WireEntry {
    /// cranking, leak-down, look, listening, borescope, correction, withdrawal, gap, remark; or an act that
    /// is no entry: skip, unit, next-step, stop.
    pub kind: &'static str,
    /// What kind of entry a correction puts in place.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub of: Option<&'static str>,
    /// The cylinder's number.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cylinder: Option<u8>,
    /// The number, in `unit`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// psi, kPa, bar, kgf/cm2, percent, thou, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<&'static str>,
    /// Whether oil was put in before cranking.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wet: Option<bool>,
    /// The stroke a pressure was read after, when it was not the final one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stroke: Option<u8>,
    /// Whether the valves were tapped before.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tapped: Option<bool>,
    /// The lower end of a range.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<f64>,
    /// The upper end of a range.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<f64>,
    /// Whether it was called approximate.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub about: bool,
    /// Supply side of a two-gauge tester, in `unit`; `value` is the cylinder side then.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply: Option<f64>,
    /// Where air was heard.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<&'static str>,
    /// What the plug looks like.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub signs: Vec<PlugSign>,
    /// What a borescope showed; there but empty when nothing wrong was to be seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seen: Option<Vec<Sight>>,
    /// The words of a remark.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
}

impl WireEntry {
    fn of_kind(kind: &'static str, cylinder: Option<Cylinder>) -> Self {
        Self { kind, cylinder: cylinder.map(Cylinder::number), ..Self::default() }
    }

    fn with_value(mut self, unit: &'static str, stated: Stated<f64>) -> Self {
        self.unit = Some(unit);
        self.about = stated.about;
        self.value = Some(stated.up_to.map_or(stated.value, |to| f64::midpoint(stated.value, to)));
        self.from = stated.up_to.is_some().then_some(stated.value);
        self.to = stated.up_to;
        self
    }

    /// An observation put in the place of an earlier one.
    #[must_use]
    pub fn correction(observation: &Observation) -> Self {
        let entry = Self::from(observation);
        Self { of: Some(entry.kind), kind: "correction", ..entry }
    }

    /// An entry taken back; `cylinder` when it was named.
    #[must_use]
    pub fn withdrawal(cylinder: Option<Cylinder>) -> Self {
        Self::of_kind("withdrawal", cylinder)
    }
}

impl fmt::Display for WireEntry {
    /// In words: "cylinder 3: 105 psi dry".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut words = vec![match self.of {
            Some(of) => format!("{} of {of}", self.kind),
            None => self.kind.to_owned(),
        }];
        if let Some(cylinder) = self.cylinder {
            words.push(format!("cylinder {cylinder}"));
        }
        if let (Some(value), Some(unit)) = (self.value, self.unit) {
            let about = if self.about { "about " } else { "" };
            words.push(match (self.from, self.to) {
                (Some(from), Some(to)) => format!("{about}{from} to {to} {unit}"),
                _ => format!("{about}{value} {unit}"),
            });
        }
        words.extend(self.wet.map(|wet| if wet { "wet" } else { "dry" }.to_owned()));
        words.extend(self.tapped.filter(|tapped| *tapped).map(|_| "after tapping".to_owned()));
        words.extend(self.at.map(str::to_owned));
        words.extend(self.signs.iter().map(|sign| sign.name().to_owned()));
        if let Some(seen) = &self.seen {
            let sights = seen.iter().map(|sight| sight.name().to_owned());
            words.extend(sights);
            words.extend(seen.is_empty().then(|| "nothing wrong to be seen".to_owned()));
        }
        words.extend(self.text.clone());
        f.write_str(&words.join(" "))
    }
}

/// A stated value with its number taken out.
fn number<Q: Copy>(stated: &Stated<Q>, value: impl Fn(Q) -> f64) -> Stated<f64> {
    Stated { value: value(stated.value), up_to: stated.up_to.map(value), about: stated.about }
}

impl From<&Observation> for WireEntry {
    fn from(observation: &Observation) -> Self {
        let cylinder = observation.cylinder();
        match observation {
            Observation::Cranking(read) => {
                let unit = read.pressure.value.unit().symbol();
                let stroke = match read.stroke {
                    Stroke::Final => None,
                    Stroke::After(strokes) => Some(strokes.get()),
                };
                Self {
                    wet: Some(read.bore == Bore::Wet),
                    stroke,
                    ..Self::of_kind("cranking", cylinder)
                }
                .with_value(unit, number(&read.pressure, |p| p.value()))
            }
            Observation::LeakDown(read) => {
                let entry = Self {
                    tapped: (read.valves == Valves::Tapped).then_some(true),
                    ..Self::of_kind("leak-down", cylinder)
                };
                match &read.reading {
                    LeakReading::Percent { leak } => {
                        entry.with_value("percent", number(leak, |p| p.percent()))
                    }
                    LeakReading::Pressures { supply, cylinder_side } => {
                        let unit = cylinder_side.unit();
                        Self { supply: Some(supply.gauge().in_unit(unit)), ..entry }
                            .with_value(unit.symbol(), Stated::exactly(cylinder_side.value()))
                    }
                }
            }
            Observation::Listening(heard) => {
                Self { at: Some(heard.at.name()), ..Self::of_kind("listening", cylinder) }
            }
            Observation::Look(look) => {
                Self { signs: look.signs.clone(), ..Self::of_kind("look", cylinder) }
            }
            Observation::Borescope(look) => {
                Self { seen: Some(look.seen.clone()), ..Self::of_kind("borescope", cylinder) }
            }
            Observation::Gap(read) => Self::of_kind("gap", cylinder)
                .with_value(read.gap.value.unit().symbol(), number(&read.gap, |g| g.value())),
            Observation::Remark(remark) => {
                Self { text: Some(remark.text.clone()), ..Self::of_kind("remark", cylinder) }
            }
        }
    }
}

impl From<&Meaning> for WireEntry {
    fn from(meaning: &Meaning) -> Self {
        let named = |which: Which| match which {
            Which::Last => None,
            Which::Cylinder(cylinder) => Some(cylinder),
        };
        match meaning {
            Meaning::State(statement) => Self::from(&statement.observation()),
            Meaning::Correct { statement, .. } => Self::correction(&statement.observation()),
            Meaning::Withdraw(which) => Self::withdrawal(named(*which)),
            Meaning::Repeat { cylinder, .. } => Self::of_kind("repeat", Some(*cylinder)),
            Meaning::Skip { to } => Self::of_kind("skip", *to),
            Meaning::Unit(unit) => {
                Self { unit: Some(unit.symbol()), ..Self::of_kind("unit", None) }
            }
            Meaning::NextStep => Self::of_kind("next-step", None),
            Meaning::StopListening => Self::of_kind("stop", None),
            Meaning::Remark { cylinder, text } => {
                Self { text: Some(text.clone()), ..Self::of_kind("remark", *cylinder) }
            }
        }
    }
}
