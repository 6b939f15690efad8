//! Colour arithmetic against outside tables.

use borespoke_core::record::Lab;
use borespoke_photo::colour::{difference, lab_of_srgb8};

fn rows(table: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    table.lines().skip(1).map(|line| line.split('\t').collect())
}

fn number(text: &str) -> f64 {
    text.parse().unwrap()
}

/// The 34 pairs of G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula:
/// implementation notes, supplementary test data, and mathematical observations", Color Research
/// and Application 30(1), 2005, table 1; values to four decimals as published. Pair 14 lies on the
/// jump of the mean hue, where the last bit of an arctangent decides between two values.
#[test]
fn ciede2000_gives_the_published_34_pairs() {
    let mut count = 0;
    for row in rows(include_str!("data/ciede2000-pairs.tsv")) {
        let value: Vec<f64> = row.iter().map(|text| number(text)).collect();
        let one = Lab { l: value[1], a: value[2], b: value[3] };
        let other = Lab { l: value[4], a: value[5], b: value[6] };
        for given in [difference(one, other), difference(other, one)] {
            let ok = (given - value[7]).abs() < 5.1e-5
                || (row[0] == "14" && (given - 4.746_066).abs() < 5e-6);
            assert!(ok, "pair {}: given {given}, published {}", row[0], value[7]);
        }
        count += 1;
    }
    assert_eq!(count, 34);
}

/// The 24 patches of a colour chart ("after November 2014" data) rounded to 8-bit sRGB and taken
/// back to CIELAB with colour-science 0.4.7; the table has four decimals.
#[test]
fn srgb_to_lab_gives_the_24_chart_patches() {
    let mut count = 0;
    for row in rows(include_str!("data/colorchecker.tsv")) {
        let coded = [2, 3, 4].map(|i| row[i].parse().unwrap());
        close(lab_of_srgb8(coded), [6, 7, 8].map(|i| number(row[i])), 6e-5, row[1]);
        count += 1;
    }
    assert_eq!(count, 24);
}

/// The corners of the cube and three plug colours, same source.
#[test]
fn srgb_to_lab_gives_the_corners_and_plug_colours() {
    for (coded, lab) in [
        ([255, 255, 255], [100.0, 0.0077, 0.0035]),
        ([0, 0, 0], [0.0, 0.0, 0.0]),
        ([119, 119, 119], [50.0344, 0.0044, 0.0020]),
        ([255, 0, 0], [53.2329, 80.1112, 67.2237]),
        ([0, 255, 0], [87.7370, -86.1829, 83.1878]),
        ([0, 0, 255], [32.3026, 79.1981, -107.8504]),
        ([210, 180, 140], [74.9745, 5.0257, 24.4307]),
        ([50, 40, 35], [17.0701, 3.6863, 5.0365]),
        ([200, 200, 195], [80.4757, -0.8990, 2.4983]),
    ] {
        close(lab_of_srgb8(coded), lab, 6e-5, &format!("{coded:?}"));
    }
}

fn close(given: Lab, wanted: [f64; 3], within: f64, what: &str) {
    for (given, wanted) in [given.l, given.a, given.b].into_iter().zip(wanted) {
        assert!((given - wanted).abs() <= within, "{what}: given {given}, wanted {wanted}");
    }
}

fn fixture(text: &str) -> serde_json::Value {
    serde_json::from_str(text).unwrap()
}

fn lab(value: &serde_json::Value) -> Lab {
    Lab {
        l: value[0].as_f64().unwrap(),
        a: value[1].as_f64().unwrap(),
        b: value[2].as_f64().unwrap(),
    }
}

/// 500 random pairs, half of them near each other, by colour-science 0.4.7 and scikit-image 0.26.0
/// (`data/make_fixtures.py`).
#[test]
fn ciede2000_gives_what_two_reference_libraries_give() {
    let fixture = fixture(include_str!("data/random-pairs.json"));
    let mut worst = 0.0f64;
    for library in ["colour-science", "scikit-image"] {
        let wanted = fixture[library].as_array().unwrap();
        assert_eq!(wanted.len(), 500);
        for (place, wanted) in wanted.iter().enumerate() {
            let given = difference(lab(&fixture["one"][place]), lab(&fixture["other"][place]));
            worst = worst.max((given - wanted.as_f64().unwrap()).abs());
        }
    }
    assert!(worst < 1e-6, "worst {worst}");
}

/// 200 random 8-bit values as sRGB, by colour-science 0.4.7.
#[test]
fn srgb_to_lab_gives_what_a_reference_library_gives() {
    let fixture = fixture(include_str!("data/conversions.json"));
    for (coded, wanted) in
        fixture["coded"].as_array().unwrap().iter().zip(fixture["sRGB"].as_array().unwrap())
    {
        let coded = [0, 1, 2].map(|i| u8::try_from(coded[i].as_u64().unwrap()).unwrap());
        let (given, wanted) = (lab_of_srgb8(coded), lab(wanted));
        close(given, [wanted.l, wanted.a, wanted.b], 1e-6, &format!("{coded:?}"));
    }
}
