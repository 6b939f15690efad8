//! The committed clips of the demonstration case are what its script says.

use std::path::{Path, PathBuf};

use borespoke_hearing::clip;
use borespoke_hearing::demo::{self, Line};
use borespoke_hearing::truth::Kind;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data")
}

fn script() -> Vec<Line> {
    demo::read_script(&std::fs::read_to_string(folder().join("script.tsv")).unwrap()).unwrap()
}

#[test]
fn the_clips_in_name_order_are_the_script() {
    let mut there: Vec<String> = std::fs::read_dir(folder().join("clips"))
        .unwrap()
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect();
    there.sort();
    let said: Vec<String> = script().into_iter().map(|line| line.clip).collect();
    assert_eq!(there, said);
}

/// Made again, each clip comes out as it was committed. Fails when the script was changed and
/// `demo-clips` was not run.
#[test]
fn the_clips_are_made_from_the_script() {
    let made = tempfile::tempdir().unwrap();
    let script = script();
    demo::make_clips(&script, made.path()).unwrap();
    for line in script {
        let old = clip::read(&folder().join("clips").join(&line.clip)).unwrap();
        let new = clip::read(&made.path().join(&line.clip)).unwrap();
        assert_eq!(old.len(), new.len(), "{}: run demo-clips again", line.clip);
        // Mathematical functions differ in the last place between machines.
        let difference: Vec<f32> = old.iter().zip(&new).map(|(a, b)| a - b).collect();
        assert!(
            clip::rms(&difference) < 0.01 * clip::rms(&old),
            "{}: run demo-clips again",
            line.clip
        );
    }
}

#[test]
fn the_clips_are_small_and_short() {
    let mut bytes = 0;
    for line in script() {
        let path = folder().join("clips").join(&line.clip);
        bytes += std::fs::metadata(&path).unwrap().len();
        let spec = hound::WavReader::open(&path).unwrap().spec();
        assert_eq!((spec.channels, spec.sample_rate, spec.bits_per_sample), (1, 16_000, 16));
        let seconds = clip::read(&path).unwrap().len() as f32 / clip::RATE as f32;
        assert!((1.0..6.0).contains(&seconds), "{}: {seconds} s", line.clip);
    }
    assert!(bytes < 4_000_000, "{bytes} bytes");
}

/// What the case is meant to show: five leaks past a valve, three past its rings.
#[test]
fn the_script_tells_the_case() {
    let said: Vec<_> = script().into_iter().flat_map(|line| line.heard).collect();
    let last = |kind: &[Kind], cylinder, wet| {
        said.iter()
            .rfind(|e| kind.contains(&e.kind) && e.cylinder == Some(cylinder) && e.wet == wet)
            .and_then(|e| e.value)
    };
    let pressure = [Kind::Cranking, Kind::Correction];
    let (five_dry, five_wet) = (last(&pressure, 5, false), last(&pressure, 5, true));
    assert!(five_wet.unwrap() < 1.1 * five_dry.unwrap());
    let (three_dry, three_wet) = (last(&pressure, 3, false), last(&pressure, 3, true));
    assert!(three_wet.unwrap() > 1.1 * three_dry.unwrap());
    let order: Vec<u32> =
        said.iter().filter(|e| e.kind == Kind::LeakDown).filter_map(|e| e.cylinder).collect();
    assert_eq!(order, [1, 5, 3, 6, 2, 4]);
}
