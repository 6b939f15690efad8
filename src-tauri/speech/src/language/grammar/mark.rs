//! The marks that the rules leave for meaning.

use borespoke_core::quantity::{LengthUnit, PressureUnit};
use borespoke_core::record::{AirExit, PlugSign};

/// What a piece of a sentence means. In the rules: `{name}`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Mark {
    /// A run of clauses begins.
    Breath,
    /// A clause begins.
    Clause,
    /// The clause puts right what came before.
    PutRight,
    /// Something was wrong, and no more was said.
    PutRightOnly,
    /// The cylinder was named by its number alone.
    BareAt,
    /// The sign is a word of praise, which people say of other things as well.
    Vague,
    /// Only the cylinder was wrong.
    OnlyCylinder,
    /// The next clause says what it was not.
    Not,
    /// This clause says what it was not.
    Denied,
    /// The clause is the upper end of a range.
    To,
    /// A range begins.
    Between,
    /// The value is approximate.
    About,
    /// A unit of pressure.
    Pressure(PressureUnit),
    /// A unit of length.
    Length(LengthUnit),
    /// Percent.
    Percent,
    /// The number is a cranking pressure.
    Cranking,
    /// The number is a leak-down.
    Leak,
    /// The number is a plug gap.
    Gap,
    /// Two pressures of a two-gauge tester.
    Over,
    /// As found.
    Dry,
    /// With oil.
    Wet,
    /// A number of strokes was said.
    Stroke,
    /// Which stroke.
    Nth(u8),
    /// Where the needle came to rest.
    Final,
    /// After a tap on the valves.
    Tapped,
    /// How a plug looks.
    Sign(PlugSign),
    /// A colour or a wetness that alone says nothing certain.
    Colour,
    /// Where air comes out.
    Air(AirExit),
    /// Something is taken back.
    Withdraw,
    /// The same reading again.
    Same,
    /// The cylinder after this is the one to copy.
    Like,
    /// On to a cylinder.
    Skip,
    /// On by one.
    SkipOne,
    /// What is the next step?
    NextStep,
    /// No more listening.
    Stop,
    /// Another unit from now on.
    UnitChange,
}

impl Mark {
    /// The mark of this name in the rules.
    pub(super) fn named(name: &str) -> Option<Self> {
        Some(match name {
            "breath" => Self::Breath,
            "clause" => Self::Clause,
            "put-right" => Self::PutRight,
            "put-right-only" => Self::PutRightOnly,
            "bare-at" => Self::BareAt,
            "vague" => Self::Vague,
            "only-cylinder" => Self::OnlyCylinder,
            "not" => Self::Not,
            "denied" => Self::Denied,
            "to" => Self::To,
            "between" => Self::Between,
            "about" => Self::About,
            "psi" => Self::Pressure(PressureUnit::Psi),
            "kpa" => Self::Pressure(PressureUnit::Kilopascal),
            "bar" => Self::Pressure(PressureUnit::Bar),
            "kgf" => Self::Pressure(PressureUnit::KgfPerCm2),
            "thou" => Self::Length(LengthUnit::Thou),
            "mm" => Self::Length(LengthUnit::Millimetre),
            "percent" => Self::Percent,
            "cranking" => Self::Cranking,
            "leak" => Self::Leak,
            "gap" => Self::Gap,
            "over" => Self::Over,
            "dry" => Self::Dry,
            "wet" => Self::Wet,
            "stroke" => Self::Stroke,
            "first" => Self::Nth(1),
            "second" => Self::Nth(2),
            "third" => Self::Nth(3),
            "fourth" => Self::Nth(4),
            "fifth" => Self::Nth(5),
            "sixth" => Self::Nth(6),
            "final" => Self::Final,
            "tapped" => Self::Tapped,
            "colour" => Self::Colour,
            "withdraw" => Self::Withdraw,
            "same" => Self::Same,
            "like" => Self::Like,
            "skip" => Self::Skip,
            "skip-one" => Self::SkipOne,
            "next-step" => Self::NextStep,
            "stop" => Self::Stop,
            "unit-change" => Self::UnitChange,
            _ => return Self::of_plug(name).or_else(|| Self::of_air(name)),
        })
    }

    fn of_plug(name: &str) -> Option<Self> {
        Some(Self::Sign(match name {
            "normal" => PlugSign::Normal,
            "dry-carbon" => PlugSign::DryCarbon,
            "oil-wet" => PlugSign::OilWet,
            "fuel-wet" => PlugSign::FuelWet,
            "blistered-white" => PlugSign::BlisteredWhite,
            "glazed" => PlugSign::Glazed,
            "bridged" => PlugSign::Bridged,
            "ash" => PlugSign::Ash,
            "melted" => PlugSign::Melted,
            "cracked" => PlugSign::Cracked,
            "metal-specks" => PlugSign::MetalSpecks,
            "worn" => PlugSign::Worn,
            _ => return None,
        }))
    }

    fn of_air(name: &str) -> Option<Self> {
        Some(Self::Air(match name {
            "intake" => AirExit::Intake,
            "exhaust" => AirExit::Exhaust,
            "oil-filler" => AirExit::OilFiller,
            "coolant" => AirExit::Coolant,
            "next-plug-hole" => AirExit::NextPlugHole,
            "fitting" => AirExit::Fitting,
            "nowhere" => AirExit::Nowhere,
            _ => return None,
        }))
    }
}
