//! The expected cranking pressure as a band.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::atmosphere::{ALTITUDE_NOTE, pressure_at_altitude};
use super::slider_crank::dynamic_ratio;
use crate::engine::Dimensions;
use crate::job::Conditions;
use crate::quantity::{AbsolutePressure, Bounds, GaugePressure, OutOfRange, PressureUnit};
use crate::source::Source;

/// Why nothing can be expected.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum ExpectationError {
    /// A number outside what its quantity allows.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The compression ratio was not given.
    #[error("compression ratio: not given; without it no cranking pressure can be expected")]
    NoCompressionRatio,
    /// The rod cannot turn with this stroke.
    #[error("rod length: given {rod} mm, allowed is more than half the stroke, {least} mm")]
    RodTooShort {
        /// The rod, mm.
        rod: f64,
        /// Half the stroke, mm.
        least: f64,
    },
}

/// The exponents between which the compression runs: 1 loses all its heat, 1.4 none.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "RawExponentRange")]
pub struct ExponentRange {
    low: f64,
    high: f64,
}

#[derive(Deserialize)]
struct RawExponentRange {
    low: f64,
    high: f64,
}

impl TryFrom<RawExponentRange> for ExponentRange {
    type Error = OutOfRange;
    fn try_from(raw: RawExponentRange) -> Result<Self, OutOfRange> {
        Self::new(raw.low, raw.high)
    }
}

impl ExponentRange {
    const BOUNDS: Bounds =
        Bounds { quantity: "exponent of the compression", unit: "", min: 1.0, max: 1.45 };

    /// With the ratio left after the intake closes.
    const DYNAMIC: Self = Self { low: 1.2, high: 1.3 };

    /// With the static ratio; it takes the late closing of the intake along.
    const STATIC: Self = Self { low: 1.1, high: 1.25 };

    /// Exponents from one to the other, in either order.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 1 to 1.45.
    pub fn new(one: f64, other: f64) -> Result<Self, OutOfRange> {
        let (one, other) = (Self::BOUNDS.check(one)?, Self::BOUNDS.check(other)?);
        Ok(Self { low: one.min(other), high: one.max(other) })
    }

    /// The lower.
    #[must_use]
    pub const fn low(self) -> f64 {
        self.low
    }

    /// The higher.
    #[must_use]
    pub const fn high(self) -> f64 {
        self.high
    }
}

/// Something the band rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Assumption {
    /// What, with its value, in plain words.
    pub says: String,
    /// Where it comes from; `None` when it was measured or given for this engine.
    pub source: Option<Source>,
}

/// The band a healthy engine's gauge would be expected in, and what that rests on. It is no limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ExpectedCranking {
    /// The lower end.
    pub low: GaugePressure,
    /// The upper end.
    pub high: GaugePressure,
    /// The ratio computed with: the dynamic one where the dimensions allow, else the static.
    pub ratio: f64,
    /// The pressure of the air around computed with.
    pub ambient: AbsolutePressure,
    /// The exponents computed with.
    pub exponents: ExponentRange,
    /// What the band rests on.
    pub assumptions: Vec<Assumption>,
}

/// Gauge pressure after a compression by `ratio` with this exponent, from the air around and with
/// nothing lost: ambient x (ratio^exponent - 1).
#[must_use]
pub fn cranking_pressure(ambient: AbsolutePressure, ratio: f64, exponent: f64) -> GaugePressure {
    GaugePressure::from_pascals(ambient.pascals() * (exponent * ratio.ln()).exp_m1())
}

/// The cranking pressure to expect of an engine with these dimensions under these conditions.
/// `exponents` replaces the usual range, for an engine whose own figures are known.
///
/// # Errors
/// [`ExpectationError`] when the compression ratio is missing or a dimension cannot be.
pub fn expected_cranking(
    dimensions: &Dimensions,
    conditions: &Conditions,
    exponents: Option<ExponentRange>,
) -> Result<ExpectedCranking, ExpectationError> {
    let mut assumptions = Vec::new();
    let (ratio, usual) = ratio(dimensions, &mut assumptions)?;
    let ambient = ambient(conditions, &mut assumptions)?;
    let exponents = match exponents {
        None => {
            assumptions.push(usual.assumption);
            usual.exponents
        }
        Some(given) => {
            let says = format!("exponent {} to {}, given for this engine", given.low, given.high);
            assumptions.push(Assumption { says, source: None });
            given
        }
    };
    assumptions.extend(of_the_test(conditions));
    Ok(ExpectedCranking {
        low: cranking_pressure(ambient, ratio, exponents.low),
        high: cranking_pressure(ambient, ratio, exponents.high),
        ratio,
        ambient,
        exponents,
        assumptions,
    })
}

struct UsualExponents {
    exponents: ExponentRange,
    assumption: Assumption,
}

/// The ratio to compute with, and the exponents usual with it.
fn ratio(
    dimensions: &Dimensions,
    assumptions: &mut Vec<Assumption>,
) -> Result<(f64, UsualExponents), ExpectationError> {
    let fixed = dimensions.compression_ratio.ok_or(ExpectationError::NoCompressionRatio)?;
    let given = (dimensions.stroke, dimensions.rod_length, dimensions.intake_closes);
    if let (Some(stroke), Some(rod), Some(closes)) = given {
        let dynamic = dynamic_ratio(fixed, stroke, rod, closes)?;
        let says = format!(
            "compression starts when the intake closes, {closes} after bottom dead centre: {:.2} to \
             1 is left of {} to 1",
            dynamic.ratio,
            fixed.to_one()
        );
        assumptions.push(Assumption { says, source: None });
        let exponents = ExponentRange::DYNAMIC;
        let assumption = Assumption {
            says: format!("exponent {} to {}", exponents.low, exponents.high),
            source: Some(Source::Published {
                document: "encyclopaedia article \"Compression ratio\"",
                place: "generally between 1.2 and 1.3 with the dynamic ratio",
            }),
        };
        return Ok((dynamic.ratio, UsualExponents { exponents, assumption }));
    }
    let says = format!(
        "compression from bottom dead centre, {} to 1: the stroke, the rod length or the closing of \
         the intake is not known",
        fixed.to_one()
    );
    assumptions.push(Assumption { says, source: None });
    let exponents = ExponentRange::STATIC;
    let assumption = Assumption {
        says: format!(
            "exponent {} to {} with the static ratio. Ours: one printed specification (9.5 to 1, 199 \
             psi standard, 156 psi limit) gives 1.19 and 1.09",
            exponents.low, exponents.high
        ),
        source: Some(Source::CommonPractice),
    };
    Ok((fixed.to_one(), UsualExponents { exponents, assumption }))
}

/// The pressure of the air around: the barometer's, else the standard one of the height, else of sea
/// level.
fn ambient(
    conditions: &Conditions,
    assumptions: &mut Vec<Assumption>,
) -> Result<AbsolutePressure, ExpectationError> {
    const BAROMETER: Bounds = Bounds { quantity: "barometer", unit: "kPa", min: 40.0, max: 120.0 };
    let kpa = |pressure: AbsolutePressure| format!("{:.1} kPa", pressure.pascals() / 1e3);
    let standard = || {
        Some(Source::Published {
            document: "ISO 2533, Standard atmosphere",
            place: "geopotential height",
        })
    };
    if let Some(barometer) = conditions.barometer {
        BAROMETER.check(barometer.pascals() / 1e3)?;
        let says = format!("air around at {}, by the barometer", kpa(barometer));
        assumptions.push(Assumption { says, source: None });
        return Ok(barometer);
    }
    let Some(height) = conditions.altitude else {
        let sea_level = AbsolutePressure::STANDARD_ATMOSPHERE;
        let says = format!("air around at {}, as at sea level: no height given", kpa(sea_level));
        assumptions.push(Assumption { says, source: standard() });
        return Ok(sea_level);
    };
    let pressure = pressure_at_altitude(height)?;
    let says = format!(
        "air around at {}, standard for {:.0} m. {ALTITUDE_NOTE}",
        kpa(pressure),
        height.metres()
    );
    assumptions.push(Assumption { says, source: standard() });
    Ok(pressure)
}

/// What of the procedure the band takes for granted: said where it was not, warned where it was done
/// otherwise.
fn of_the_test(conditions: &Conditions) -> Vec<Assumption> {
    let procedure = Source::Published {
        document: "US Army TM 5-4210-230-14&P-1, Addendum 2",
        place: "compression test, steps 1 to 6; the same in Ford 1996, section 03-00",
    };
    [
        (conditions.throttle_open, "throttle held wide open"),
        (conditions.all_plugs_out, "all plugs out"),
        (conditions.battery_charged, "battery charged"),
    ]
    .into_iter()
    .filter_map(|(done, what)| {
        let says = match done {
            Some(true) => return None,
            Some(false) => format!("{what}: was not; the gauge will show less"),
            None => format!("{what}: not said, taken for granted"),
        };
        Some(Assumption { says, source: Some(procedure) })
    })
    .chain([Assumption {
        says: "no leak, gauge held the highest pressure".to_owned(),
        source: Some(Source::CommonPractice),
    }])
    .collect()
}

impl ExpectedCranking {
    /// The band in words, in this unit.
    #[must_use]
    pub fn in_words(&self, unit: PressureUnit) -> String {
        let (low, high) = (self.low.in_unit(unit), self.high.in_unit(unit));
        let decimals = unit.decimals();
        format!("{low:.decimals$} to {high:.decimals$} {unit}")
    }
}
