//! What is committed of the corpus is what the generator makes.

use std::path::Path;

use borespoke_hearing::clip;
use borespoke_hearing::corpus::{self, SEED, Studio};

const AGAIN: &str = "run: cargo run --release -p borespoke-hearing --bin corpus commit";

#[test]
fn the_manifest_is_up_to_date() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("manifest.jsonl");
    let committed = std::fs::read_to_string(path).unwrap();
    // Not assert_eq: it would print two thousand lines twice.
    assert!(committed == corpus::manifest(&corpus::utterances(SEED)), "{AGAIN}");
}

#[test]
fn the_committed_clips_are_what_is_made_today() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("subset");
    let scratch = tempfile::tempdir().unwrap();
    let studio = Studio::open(scratch.path(), SEED).unwrap();
    let all = corpus::utterances(SEED);
    let subset = corpus::subset(&all);
    assert_eq!(subset.len(), std::fs::read_dir(&folder).unwrap().count(), "{AGAIN}");
    for (utterance, condition) in subset {
        let old = clip::read(&folder.join(format!("{}.wav", utterance.id))).unwrap();
        let (new, _) = studio.render(utterance, condition).unwrap();
        assert_eq!(old.len(), new.len(), "{}: {AGAIN}", utterance.id);
        let difference: Vec<f32> = old.iter().zip(&new).map(|(a, b)| a - b).collect();
        assert!(clip::rms(&difference) < 0.01 * clip::rms(&old), "{}: {AGAIN}", utterance.id);
    }
}
