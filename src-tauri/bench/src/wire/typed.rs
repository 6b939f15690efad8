//! Typed entries: one JSON object per line, of the shape that `hear` writes, and two kinds more.

use std::num::NonZeroU8;

use borespoke_core::engine::{Cylinder, Engine, NoSuchCylinder};
use borespoke_core::quantity::{
    LeakPercent, LengthUnit, OutOfRange, PressureUnit, StatedLength, StatedPressure,
};
use borespoke_core::record::{
    AirExit, Bore, Borescope, Cranking, Gap, LeakDown, LeakReading, Listening, Look, Observation,
    PlugSign, Remark, Sight, Stated, Stroke, Valves,
};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A typed entry, its values checked.
#[derive(Debug, Clone, PartialEq)]
pub enum TypedEntry {
    /// An observation.
    Observe(Observation),
    /// An observation in the place of the newest one like it of the same cylinder.
    Correct(Observation),
    /// Takes back the newest entry, or the newest about a cylinder.
    Withdraw(Option<Cylinder>),
}

/// Why a typed entry cannot be taken.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum TypedError {
    /// Not a JSON object of the right shape.
    #[error("not an entry: {0}")]
    Shape(#[from] serde_json::Error),
    /// A kind that is not known.
    #[error(
        "kind: given \"{0}\", allowed are cranking, leak-down, tap, listening, look, borescope, gap, remark, correction, withdrawal"
    )]
    Kind(String),
    /// A field is missing.
    #[error("{kind}: \"{field}\" is missing")]
    Missing {
        /// The kind of entry.
        kind: String,
        /// The field.
        field: &'static str,
    },
    /// A unit that the quantity has not.
    #[error("{kind}: unit: given \"{given}\", allowed are {allowed}")]
    Unit {
        /// The kind of entry.
        kind: String,
        /// What was given.
        given: String,
        /// What is allowed.
        allowed: &'static str,
    },
    /// A place where no air comes out.
    #[error(
        "listening: at: given \"{0}\", allowed are intake, exhaust, oil filler, coolant, next plug hole, fitting, nowhere"
    )]
    Exit(String),
    /// A sign no plug has.
    #[error("look: signs: given \"{given}\", allowed are {}", signs())]
    Sign {
        /// What was given.
        given: String,
    },
    /// Something no borescope shows.
    #[error("borescope: seen: given \"{given}\", allowed are {}, or an empty list", sights())]
    Sight {
        /// What was given.
        given: String,
    },
    /// The engine has no such cylinder.
    #[error(transparent)]
    Cylinder(#[from] NoSuchCylinder),
    /// The quantity cannot have this value.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

fn signs() -> String {
    PlugSign::ALL.iter().filter_map(|sign| word_of(*sign)).collect::<Vec<_>>().join(", ")
}

fn sights() -> String {
    Sight::ALL.iter().filter_map(|sight| word_of(*sight)).collect::<Vec<_>>().join(", ")
}

/// The name of a sign or sight in files.
fn word_of(value: impl Serialize) -> Option<String> {
    serde_json::to_value(value).ok()?.as_str().map(str::to_owned)
}

#[derive(Deserialize)]
struct Raw {
    kind: String,
    #[serde(default)]
    of: Option<String>,
    #[serde(default)]
    cylinder: Option<u32>,
    #[serde(default)]
    value: Option<f64>,
    #[serde(default)]
    unit: Option<String>,
    #[serde(default)]
    wet: Option<bool>,
    #[serde(default)]
    stroke: Option<NonZeroU8>,
    #[serde(default)]
    tapped: Option<bool>,
    #[serde(default)]
    from: Option<f64>,
    #[serde(default)]
    to: Option<f64>,
    #[serde(default)]
    about: bool,
    #[serde(default)]
    supply: Option<f64>,
    #[serde(default)]
    at: Option<String>,
    #[serde(default)]
    signs: Vec<String>,
    #[serde(default)]
    seen: Option<Vec<String>>,
    #[serde(default)]
    text: Option<String>,
}

impl TypedEntry {
    /// Reads one line. `unit` is that of a pressure typed without one.
    ///
    /// # Errors
    /// [`TypedError`] naming the quantity, what was given and what is allowed.
    pub fn read(line: &str, engine: &Engine, unit: PressureUnit) -> Result<Self, TypedError> {
        let raw: Raw = serde_json::from_str(line)?;
        match raw.kind.as_str() {
            "withdrawal" => {
                let cylinder = raw.cylinder.map(|number| engine.cylinder(number)).transpose()?;
                Ok(Self::Withdraw(cylinder))
            }
            "correction" => {
                let of = raw.of.clone().unwrap_or_else(|| raw.kind_by_unit().to_owned());
                raw.observation(&of, engine, unit).map(Self::Correct)
            }
            kind => raw.observation(kind, engine, unit).map(Self::Observe),
        }
    }
}

impl Raw {
    /// What a correction is of when it does not say so: its unit and fields tell.
    fn kind_by_unit(&self) -> &'static str {
        match self.unit.as_deref() {
            Some("percent" | "%") => "leak-down",
            Some("thou" | "mm") => "gap",
            _ if self.at.is_some() => "listening",
            _ if !self.signs.is_empty() => "look",
            _ if self.seen.is_some() => "borescope",
            _ => "cranking",
        }
    }

    fn observation(
        &self,
        kind: &str,
        engine: &Engine,
        unit: PressureUnit,
    ) -> Result<Observation, TypedError> {
        let missing = |field| TypedError::Missing { kind: kind.to_owned(), field };
        let cylinder = self.cylinder.map(|number| engine.cylinder(number)).transpose()?;
        if kind == "remark" {
            let text = self.text.clone().ok_or_else(|| missing("text"))?;
            return Ok(Observation::Remark(Remark { cylinder, text }));
        }
        let named = cylinder.ok_or_else(|| missing("cylinder"));
        Ok(match kind {
            "cranking" => Observation::Cranking(Cranking {
                cylinder: named?,
                pressure: self.stated(kind, |value| {
                    Ok(StatedPressure::new(value, self.pressure_unit(kind, unit)?)?)
                })?,
                bore: if self.wet == Some(true) { Bore::Wet } else { Bore::Dry },
                stroke: self.stroke.map_or(Stroke::Final, Stroke::After),
                tester: None,
            }),
            "leak-down" | "tap" => Observation::LeakDown(LeakDown {
                cylinder: named?,
                reading: self.leak(kind, unit)?,
                valves: if kind == "tap" || self.tapped == Some(true) {
                    Valves::Tapped
                } else {
                    Valves::AsFound
                },
                tester: None,
            }),
            "listening" => {
                let at = self.at.as_deref().ok_or_else(|| missing("at"))?;
                let at = AirExit::ALL
                    .into_iter()
                    .find(|exit| exit.name() == at)
                    .ok_or_else(|| TypedError::Exit(at.to_owned()))?;
                Observation::Listening(Listening { cylinder: named?, at })
            }
            "look" => Observation::Look(Look {
                cylinder: named?,
                signs: self.plug_signs()?,
                picture: None,
                figures: None,
            }),
            "borescope" => {
                let seen = self.seen.as_deref().ok_or_else(|| missing("seen"))?;
                Observation::Borescope(Borescope { cylinder: named?, seen: sights_of(seen)? })
            }
            "gap" => Observation::Gap(Gap {
                cylinder: named?,
                gap: self
                    .stated(kind, |value| Ok(StatedLength::new(value, self.length_unit()?)?))?,
            }),
            other => return Err(TypedError::Kind(other.to_owned())),
        })
    }

    /// The value with its range and hedge. A range may be given by its ends alone.
    fn stated<Q>(
        &self,
        kind: &str,
        quantity: impl Fn(f64) -> Result<Q, TypedError>,
    ) -> Result<Stated<Q>, TypedError> {
        let missing = || TypedError::Missing { kind: kind.to_owned(), field: "value" };
        let value = self.from.or(self.value).ok_or_else(missing)?;
        Ok(Stated {
            value: quantity(value)?,
            up_to: self.to.map(quantity).transpose()?,
            about: self.about,
        })
    }

    fn leak(&self, kind: &str, unit: PressureUnit) -> Result<LeakReading, TypedError> {
        let Some(supply) = self.supply else {
            if !matches!(self.unit.as_deref(), None | Some("percent" | "%")) {
                return Err(self.wrong_unit(kind, "percent, or a pressure with \"supply\""));
            }
            let leak = self.stated(kind, |value| Ok(LeakPercent::new(value)?))?;
            return Ok(LeakReading::Percent { leak });
        };
        let unit = self.pressure_unit(kind, unit)?;
        let missing = || TypedError::Missing { kind: kind.to_owned(), field: "value" };
        Ok(LeakReading::Pressures {
            supply: StatedPressure::new(supply, unit)?,
            cylinder_side: StatedPressure::new(self.value.ok_or_else(missing)?, unit)?,
        })
    }

    fn pressure_unit(&self, kind: &str, unit: PressureUnit) -> Result<PressureUnit, TypedError> {
        match self.unit.as_deref() {
            None => Ok(unit),
            Some(said) => PressureUnit::ALL
                .into_iter()
                .find(|unit| unit.symbol().eq_ignore_ascii_case(said))
                .ok_or_else(|| self.wrong_unit(kind, "psi, kPa, bar, kgf/cm2")),
        }
    }

    fn length_unit(&self) -> Result<LengthUnit, TypedError> {
        match self.unit.as_deref() {
            Some("thou") => Ok(LengthUnit::Thou),
            Some("mm") => Ok(LengthUnit::Millimetre),
            _ => Err(self.wrong_unit("gap", "thou, mm")),
        }
    }

    fn wrong_unit(&self, kind: &str, allowed: &'static str) -> TypedError {
        let given = self.unit.clone().unwrap_or_default();
        TypedError::Unit { kind: kind.to_owned(), given, allowed }
    }

    fn plug_signs(&self) -> Result<Vec<PlugSign>, TypedError> {
        let said = self.text.iter().chain(&self.signs);
        said.map(|given| {
            PlugSign::ALL
                .into_iter()
                .find(|sign| {
                    sign.name().eq_ignore_ascii_case(given)
                        || word_of(*sign).is_some_and(|word| word.eq_ignore_ascii_case(given))
                })
                .ok_or_else(|| TypedError::Sign { given: given.clone() })
        })
        .collect()
    }
}

fn sights_of(words: &[String]) -> Result<Vec<Sight>, TypedError> {
    words
        .iter()
        .map(|given| {
            Sight::ALL
                .into_iter()
                .find(|sight| {
                    sight.name().eq_ignore_ascii_case(given)
                        || word_of(*sight).is_some_and(|word| word.eq_ignore_ascii_case(given))
                })
                .ok_or_else(|| TypedError::Sight { given: given.clone() })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use borespoke_core::engine::FiringOrder;

    use super::*;

    fn read(line: &str) -> Result<TypedEntry, TypedError> {
        let engine = Engine::new(FiringOrder::new([1, 3, 4, 2]).unwrap(), None).unwrap();
        TypedEntry::read(line, &engine, PressureUnit::Psi)
    }

    #[test]
    fn a_tap_is_a_leak_down_after_tapping() {
        let entry = read(r#"{"kind": "tap", "cylinder": 2, "value": 12, "unit": "percent"}"#);
        let Ok(TypedEntry::Observe(Observation::LeakDown(read))) = entry else {
            panic!("{entry:?}")
        };
        assert_eq!(read.valves, Valves::Tapped);
    }

    #[test]
    fn a_correction_knows_its_quantity_by_the_unit() {
        let entry =
            read(r#"{"kind": "correction", "cylinder": 2, "value": 12, "unit": "percent"}"#);
        assert!(matches!(entry, Ok(TypedEntry::Correct(Observation::LeakDown(_)))), "{entry:?}");
    }

    #[test]
    fn a_range_may_be_given_by_its_ends() {
        let entry = read(r#"{"kind": "leak-down", "cylinder": 2, "from": 23, "to": 24}"#);
        let Ok(TypedEntry::Observe(Observation::LeakDown(read))) = entry else {
            panic!("{entry:?}")
        };
        let LeakReading::Percent { leak } = read.reading else { panic!() };
        assert_eq!(leak.up_to.map(LeakPercent::percent), Some(24.0));
    }

    #[test]
    fn every_place_air_comes_out_can_be_typed() {
        for exit in AirExit::ALL {
            let line = format!(r#"{{"kind": "listening", "cylinder": 1, "at": "{exit}"}}"#);
            assert!(read(&line).is_ok(), "{line}");
        }
    }

    #[test]
    fn everything_a_borescope_shows_can_be_typed_and_nothing_too() {
        for sight in Sight::ALL {
            let line = format!(r#"{{"kind": "borescope", "cylinder": 1, "seen": ["{sight}"]}}"#);
            let entry = read(&line);
            let Ok(TypedEntry::Observe(Observation::Borescope(look))) = entry else {
                panic!("{entry:?}")
            };
            assert_eq!(look.seen, [sight]);
        }
        let nothing = read(r#"{"kind": "borescope", "cylinder": 1, "seen": []}"#);
        assert!(nothing.is_ok(), "{nothing:?}");
    }

    #[test]
    fn refusals_name_the_quantity_what_was_given_and_what_is_allowed() {
        for (line, told) in [
            (
                r#"{"kind": "cranking", "cylinder": 7, "value": 150}"#,
                "given 7, this engine has 1 to 4",
            ),
            (
                r#"{"kind": "leak-down", "cylinder": 1, "value": 900}"#,
                "given 900 percent, allowed 0 to 100",
            ),
            (
                r#"{"kind": "cranking", "cylinder": 1, "value": 150, "unit": "ft"}"#,
                "given \"ft\", allowed are psi",
            ),
            (
                r#"{"kind": "listening", "cylinder": 1, "at": "boot"}"#,
                "given \"boot\", allowed are intake",
            ),
            (
                r#"{"kind": "borescope", "cylinder": 1, "seen": ["boot"]}"#,
                "given \"boot\", allowed are scoring",
            ),
            (r#"{"kind": "borescope", "cylinder": 1}"#, "\"seen\" is missing"),
            (r#"{"kind": "cranking", "cylinder": 1}"#, "\"value\" is missing"),
        ] {
            let refusal = read(line).unwrap_err().to_string();
            assert!(refusal.contains(told), "{refusal}");
        }
    }
}
