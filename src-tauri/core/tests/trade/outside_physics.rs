//! The physics on random inputs against general reference libraries.
//!
//! `tests/outside/physics_reference.py` computes the answers and writes them, with the packages'
//! versions, to a JSON file; the one committed beside it is read unless `BORESPOKE_PHYSICS_REFERENCE`
//! names one that was made anew.

use std::{env, fs};

use crate::table::close;
use borespoke_core::expectation::{cranking_pressure, dynamic_ratio, standard_air};
use borespoke_core::flow::{Air, LeakDownSet};
use borespoke_core::quantity::{
    AbsolutePressure, Area, CompressionRatio, CrankAngle, GaugePressure, Length, PressureUnit,
    Temperature,
};
use serde::Deserialize;

const SAME: f64 = 1e-9;

#[derive(Deserialize)]
struct Reference {
    packages: std::collections::BTreeMap<String, String>,
    leak_downs: Vec<LeakDown>,
    compressions: Vec<Compression>,
    slider_cranks: Vec<SliderCrank>,
    atmospheres: Vec<Atmosphere>,
    units: Vec<Reading>,
}

#[derive(Deserialize)]
struct LeakDown {
    restrictor_m: f64,
    supply_pa: f64,
    ambient_pa: f64,
    celsius: f64,
    ratio: f64,
    held_pa: f64,
    flow_kg_s: f64,
}

#[derive(Deserialize)]
struct Compression {
    ambient_pa: f64,
    ratio: f64,
    exponent: f64,
    gauge_pa: f64,
}

#[derive(Deserialize)]
struct SliderCrank {
    stroke_m: f64,
    rod_m: f64,
    closes_degrees: f64,
    ratio: f64,
    stroke_left: f64,
    dynamic_ratio: f64,
}

#[derive(Deserialize)]
struct Atmosphere {
    height_m: f64,
    pressure_pa: f64,
    kelvin: f64,
    density_kg_m3: f64,
}

#[derive(Deserialize)]
struct Reading {
    value: f64,
    unit: PressureUnit,
    pascals: f64,
}

fn reference() -> Reference {
    let committed =
        concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/outside/physics-reference.json");
    let path = env::var("BORESPOKE_PHYSICS_REFERENCE").unwrap_or_else(|_| committed.to_owned());
    let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    serde_json::from_str(&text).unwrap()
}

#[test]
fn the_reference_names_its_packages() {
    let packages = reference().packages;
    for name in ["ambiance", "fluids", "numpy", "pint", "scipy"] {
        assert!(packages.contains_key(name), "{name}");
    }
}

/// Outside check. Source: fluids (critical pressure, nozzle expansibility) and scipy (`brentq`).
#[test]
fn leak_downs_agree_with_fluids_and_scipy() {
    let rows = reference().leak_downs;
    assert!(rows.len() >= 200);
    for row in rows {
        let restrictor = Length::from_metres(row.restrictor_m);
        let supply = GaugePressure::from_pascals(row.supply_pa);
        let set = LeakDownSet::new(restrictor, supply).unwrap();
        let air = Air::new(
            AbsolutePressure::from_pascals(row.ambient_pa),
            Temperature::from_celsius(row.celsius).unwrap(),
        )
        .unwrap();
        let leak = set.leak_at_held(GaugePressure::from_pascals(row.held_pa), air).unwrap();
        close(leak.ratio, row.ratio, SAME);
        close(leak.flow.kilograms_per_second(), row.flow_kg_s, SAME);
        let area = Area::from_square_metres(row.ratio * set.area().square_metres());
        close(set.reading(area, air).unwrap().held.pascals(), row.held_pa, SAME);
    }
}

/// Outside check. Source: fluids (`isentropic_T_rise_compression`), solved with scipy.
#[test]
fn compressions_agree_with_fluids() {
    let rows = reference().compressions;
    assert!(rows.len() >= 100);
    for row in rows {
        let ambient = AbsolutePressure::from_pascals(row.ambient_pa);
        let found = cranking_pressure(ambient, row.ratio, row.exponent);
        close(found.pascals(), row.gauge_pa, SAME);
    }
}

/// Outside check. Source: the distance between crank pin and piston pin, solved with scipy.
#[test]
fn slider_cranks_agree_with_the_geometry() {
    let rows = reference().slider_cranks;
    assert!(rows.len() >= 100);
    for row in rows {
        let found = dynamic_ratio(
            CompressionRatio::new(row.ratio).unwrap(),
            Length::from_metres(row.stroke_m),
            Length::from_metres(row.rod_m),
            CrankAngle::from_degrees(row.closes_degrees),
        )
        .unwrap();
        close(found.stroke_left, row.stroke_left, SAME);
        close(found.ratio, row.dynamic_ratio, SAME);
    }
}

/// Outside check. Source: ambiance (ICAO Doc 7488).
#[test]
fn atmospheres_agree_with_ambiance() {
    let rows = reference().atmospheres;
    assert!(rows.len() >= 50);
    for row in rows {
        let air = standard_air(Length::from_metres(row.height_m)).unwrap();
        close(air.pressure.pascals(), row.pressure_pa, SAME);
        close(air.temperature.kelvin(), row.kelvin, SAME);
        close(air.density, row.density_kg_m3, SAME);
    }
}

/// Outside check. Source: pint.
#[test]
fn units_agree_with_pint() {
    let rows = reference().units;
    assert!(rows.len() >= 40);
    for row in rows {
        close(GaugePressure::new(row.value, row.unit).pascals(), row.pascals, SAME);
    }
}
