//! The limits that come with the program, as data, each with its source.
//!
//! The documents were read in excerpts; where one contradicts itself the limit's `note` says so
//! and says which reading is used here.

use super::limit::{AtLimit, Band, CrankingDemand, Demand, LeakDemand, LeakPart, Limit, Through};
use crate::quantity::{GaugePressure, Length, LengthUnit, PressureUnit, Share};
use crate::source::Source;

const fn psi(value: f64) -> GaugePressure {
    GaugePressure::new(value, PressureUnit::Psi)
}

const fn limit(id: &'static str, demand: Demand, at_limit: AtLimit, source: Source) -> Limit {
    Limit { id, demand, at_limit, through: Through::Any, source, note: "" }
}

const fn noted(limit: Limit, note: &'static str) -> Limit {
    Limit { note, ..limit }
}

const fn through(limit: Limit, through: Through) -> Limit {
    Limit { through, ..limit }
}

const fn inches(value: f64) -> Length {
    Length::new(value * 1000.0, LengthUnit::Thou)
}

const fn published(document: &'static str, place: &'static str) -> Source {
    Source::Published { document, place }
}

/// The test pressure of the aircraft differential test.
const EIGHTY_PSI: GaugePressure = psi(80.0);

pub(super) const LOWEST_75_OF_HIGHEST: Limit = noted(
    limit(
        "cranking-75-of-highest",
        Demand::Cranking(CrankingDemand::OfHighest { at_least: Share::whole_percent(75) }),
        AtLimit::Inside,
        published(
            "Ford 1996 F-series/Bronco Workshop Manual",
            "section 03-00; the same in US Army TM 5-4210-230-14&P-1, Addendum 2, and Ford LSG-875 \
             industrial engine service manual, p. 1-08",
        ),
    ),
    "Three quarters of the highest is computed; the printed chart rounds it to whole psi and \
     misprints 158 for a highest of 212 (three quarters is 159).",
);

pub(super) const LOWEST_70_OF_HIGHEST: Limit = limit(
    "cranking-70-of-highest",
    Demand::Cranking(CrankingDemand::OfHighest { at_least: Share::whole_percent(70) }),
    AtLimit::Inside,
    published("GM service manual, Pontiac Solstice 2006", "engine compression test"),
);

pub(super) const AT_LEAST_100_PSI: Limit = limit(
    "cranking-at-least-100-psi",
    // The manual prints 690 kPa (100 psi); the psi figure, the lower by 0.1 %, is used.
    Demand::Cranking(CrankingDemand::AtLeast { pressure: psi(100.0) }),
    AtLimit::Inside,
    published("GM service manual, Pontiac Solstice 2006", "engine compression test"),
);

pub(super) const WITHIN_10_PERCENT: Limit = noted(
    limit(
        "cranking-within-10-percent",
        Demand::Cranking(CrankingDemand::OfHighest { at_least: Share::whole_percent(90) }),
        AtLimit::Inside,
        published("motorcycle service manual, XVS1100", "chapter 3"),
    ),
    "The manual calls exactly 10 % both good and low; it counts as inside here.",
);

pub(super) const WITHIN_10_PSI: Limit = limit(
    "cranking-within-10-psi",
    Demand::Cranking(CrankingDemand::BelowHighest { at_most: psi(10.0) }),
    AtLimit::Inside,
    published("US Army TM 10-3930-618-20", "paragraph 2-12"),
);

pub(super) const WITHIN_20_OF_AVERAGE: Limit = limit(
    "cranking-20-below-average",
    Demand::Cranking(CrankingDemand::OfMean { at_least: Share::whole_percent(80) }),
    // "20 percent below the average" already calls for further checks.
    AtLimit::Outside,
    published("US Army TM 1-1500-204-23-1, General Aircraft Maintenance", "paragraph (d) 8"),
);

pub(super) const DIESEL_AT_LEAST_300_PSI: Limit = noted(
    limit(
        "cranking-diesel-at-least-300-psi",
        Demand::Cranking(CrankingDemand::AtLeast { pressure: psi(300.0) }),
        AtLimit::Inside,
        published("US Army TM 5-2420-230-24-2", "p. 14-22"),
    ),
    "For a used engine at 250 rpm cranking speed; a new one shows 350 psi.",
);

pub(super) const DIESEL_WITHIN_100_PSI: Limit = limit(
    "cranking-diesel-within-100-psi",
    Demand::Cranking(CrankingDemand::BelowHighest { at_most: psi(100.0) }),
    AtLimit::Inside,
    published("US Army TM 5-2420-230-24-2", "p. 14-22"),
);

const fn leak(id: &'static str, at_most: u8, part: LeakPart, source: Source) -> Limit {
    let at_most = Share::whole_percent(at_most);
    let demand = Demand::LeakDown(LeakDemand::LossAtMost { at_most, part });
    // Every source read says "more than", "not to exceed" or "<=".
    limit(id, demand, AtLimit::Inside, source)
}

const fn percent_band(
    up_to: u8,
    name: &'static str,
    asks: &'static str,
    acceptable: bool,
) -> Band<Share> {
    let up_to = Some(Share::whole_percent(up_to));
    Band { up_to, at_end: AtLimit::Inside, name, asks, acceptable }
}

pub(super) const PLAIN_LEAK_BANDS: Limit = noted(
    limit(
        "leak-plain-bands",
        Demand::LeakDown(LeakDemand::LossBands {
            bands: &[
                percent_band(10, "good", "nothing", true),
                percent_band(20, "fair", "watch it; listen where the air leaves", true),
                percent_band(30, "poor", "find where the air leaves", false),
                Band {
                    up_to: None,
                    at_end: AtLimit::Inside,
                    name: "major",
                    asks: "find where the air leaves before the engine works again",
                    acceptable: false,
                },
            ],
        }),
        AtLimit::Inside,
        Source::CommonPractice,
    ),
    "A percentage means nothing without the tester it was read on; these bands are said of \
     workshop testers in general.",
);

pub(super) const LEAK_20: Limit =
    leak("leak-20", 20, LeakPart::Total, published("Mazda B2300, 2008", "cylinder leakage test"));

pub(super) const LEAK_25: Limit = leak(
    "leak-25",
    25,
    LeakPart::Total,
    published("Chevrolet Silverado, 2005", "cylinder leakage test"),
);

const M104: Source =
    published("Mercedes-Benz 300CE 1993, engine M104", "testing cylinders for leaks");

pub(super) const LEAK_SPLIT: [Limit; 3] = [
    leak("leak-split-total-25", 25, LeakPart::Total, M104),
    leak("leak-split-valves-10", 10, LeakPart::ValvesAndGasket, M104),
    noted(
        leak("leak-split-rings-20", 20, LeakPart::Rings, M104),
        "Oil on the piston crown tells the rings from the valves and the gasket.",
    ),
];

pub(super) const LEAK_NEW_ENGINE: Limit = noted(
    limit(
        "leak-new-engine",
        Demand::LeakDown(LeakDemand::LossBands {
            bands: &[
                percent_band(5, "desirable", "nothing", true),
                percent_band(14, "acceptable", "nothing", true),
                Band {
                    up_to: None,
                    at_end: AtLimit::Inside,
                    name: "above a new engine's",
                    asks: "find where the air leaves",
                    acceptable: false,
                },
            ],
        }),
        AtLimit::Inside,
        published("motorcycle service manual, V-Star 1100", "chapter 2"),
    ),
    "For a new or rebuilt engine. The manual judges a used engine by the difference between its \
     cylinders.",
);

pub(super) const LEAK_10_TO_20: Limit = limit(
    "leak-10-to-20",
    Demand::LeakDown(LeakDemand::LossBands {
        bands: &[
            percent_band(10, "inside", "nothing", true),
            percent_band(20, "depends on the maker", "look up the maker's limit", true),
            Band {
                up_to: None,
                at_end: AtLimit::Inside,
                name: "too much",
                asks: "find where the air leaves",
                acceptable: false,
            },
        ],
    }),
    AtLimit::Inside,
    published("ASE engine repair study text", "cylinder leakage test"),
);

/// FAA AC 43.13-1B, change 1, paragraph 8-14: by the bore, not by the displacement as the text of
/// 1998 had it.
const BY_BORE: Through =
    Through::ByBore { large_from: inches(5.0), small: inches(0.040), large: inches(0.060) };

pub(super) const AIRCRAFT_60_OF_80: Limit = noted(
    through(
        leak(
            "aircraft-60-of-80",
            25,
            LeakPart::Total,
            published("FAA AC 43.13-1B", "chapter 8, section 1, paragraph 8-14 (i)"),
        ),
        BY_BORE,
    ),
    "For use where the engine maker gives nothing else (paragraph 8-1). A loss above 25 % is cause \
     to suspect the cylinder: run the engine at least 3 minutes and test again. The orifice goes \
     by bore, 0.040 in below 5.00 in and 0.060 in from there on (change 1), and the reading \
     depends on it.",
);

const fn psi_band(
    up_to: Option<f64>,
    at_end: AtLimit,
    name: &'static str,
    asks: &'static str,
    acceptable: bool,
) -> Band<GaugePressure> {
    let up_to = match up_to {
        Some(value) => Some(psi(value)),
        None => None,
    };
    Band { up_to, at_end, name, asks, acceptable }
}

/// The orifice of the Lycoming tester, the same manual, p. 193. For engines of 5 in bore and more the
/// circular's 0.060 in contradicts it; the maker's word counts (paragraph 8-1 of the circular).
const FORTY_THOU: Through = Through::Orifice { diameter: inches(0.040) };

const LYCOMING: Source = published(
    "Lycoming IO-390-D Series Engine Maintenance Manual, March 2020",
    "chapter 72-30, p. 196, table 2",
);

pub(super) const AIRCRAFT_HELD_BANDS: Limit = noted(
    through(
        limit(
            "aircraft-held-70-60",
            Demand::LeakDown(LeakDemand::HeldBands {
                supply: EIGHTY_PSI,
                bands: &[
                    psi_band(Some(10.0), AtLimit::Inside, "satisfactory", "nothing", true),
                    psi_band(
                        Some(20.0),
                        AtLimit::Outside,
                        "wear",
                        "repeat at the next 100 hours and watch it",
                        true,
                    ),
                    psi_band(
                        None,
                        AtLimit::Inside,
                        "worn or not conforming",
                        "turn the crank 3 times or run 3 minutes and repeat; then listen at the \
                     exhaust and intake ports",
                        false,
                    ),
                ],
            }),
            AtLimit::Inside,
            LYCOMING,
        ),
        FORTY_THOU,
    ),
    "Held with 80 psi supply through 0.040 in: 70 psi or more, 61 to 69, 60 or less. The table \
     prints 441 kPa for 69 psi, which is 476 kPa; the psi figures are used.",
);

pub(super) const AIRCRAFT_HELD_SPREAD: Limit = noted(
    through(
        limit(
            "aircraft-held-spread",
            Demand::LeakDown(LeakDemand::HeldSpreadBands {
                supply: EIGHTY_PSI,
                bands: &[
                    psi_band(Some(5.0), AtLimit::Inside, "satisfactory", "nothing", true),
                    psi_band(
                        Some(15.0),
                        AtLimit::Outside,
                        "apart",
                        "repeat after 10 hours; then find the cause",
                        true,
                    ),
                    psi_band(
                        None,
                        AtLimit::Inside,
                        "far apart",
                        "run 3 minutes and repeat; if it stays, put it right",
                        false,
                    ),
                ],
            }),
            AtLimit::Inside,
            LYCOMING,
        ),
        FORTY_THOU,
    ),
    "The table puts a spread of exactly 15 psi in two rows; it counts as far apart here.",
);

pub(super) const AIRCRAFT_MASTER_ORIFICE: Limit = noted(
    limit(
        "aircraft-master-orifice",
        Demand::LeakDown(LeakDemand::HeldAtLeastMaster { supply: EIGHTY_PSI, master: None }),
        AtLimit::Inside,
        published(
            "Continental service bulletin SB03-3",
            "and TSIO-360-RB manual, p. 20-10 and 20-4",
        ),
    ),
    "There is no fixed limit: it is what the tester shows through the calibrated master orifice \
     with 80 psi supply. A borescope look goes with it. At the valves, plugs and head joint no \
     leak at all is allowed (TSIO-520-BE manual, figure 9-3, step 7).",
);
