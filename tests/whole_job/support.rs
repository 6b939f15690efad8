//! Runs the binary, and makes cases for it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

/// The repository's root.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

/// What a run of the binary gave.
pub struct Run {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Run {
    /// The JSON lines of standard output.
    pub fn lines(&self) -> Vec<Value> {
        self.out
            .lines()
            .map(|line| {
                serde_json::from_str(line).unwrap_or_else(|e| panic!("not JSON: {e}: {line}"))
            })
            .collect()
    }

    /// Asserts the exit code, showing what was said when it differs.
    #[track_caller]
    pub fn exits(self, code: i32) -> Self {
        assert_eq!(self.code, code, "stdout:\n{}\nstderr:\n{}", self.out, self.err);
        self
    }
}

/// Runs `borespoke` with these arguments.
pub fn borespoke<S: AsRef<std::ffi::OsStr>>(arguments: impl IntoIterator<Item = S>) -> Run {
    let output: Output = Command::new(env!("CARGO_BIN_EXE_borespoke"))
        .args(arguments)
        .current_dir(root())
        .env("NO_COLOR", "1")
        .output()
        .unwrap();
    Run {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// A case folder being put together.
pub struct CaseFolder {
    folder: tempfile::TempDir,
}

/// An in-line six, and nothing else said about it.
pub const SIX: &str = r#"{"invented": true, "customer": "A. Buyer (invented)",
    "engine": {"cylinders": 6, "firing_order": [1, 5, 3, 6, 2, 4], "layout": "in-line"}}"#;

impl CaseFolder {
    pub fn new(description: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("case.json"), description).unwrap();
        Self { folder }
    }

    pub fn with(self, name: &str, bytes: &[u8]) -> Self {
        let path = self.folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
        self
    }

    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    pub fn job_file(&self) -> PathBuf {
        self.folder.path().join("workshop.borespoke")
    }

    /// Takes the case into its job file.
    pub fn take(&self) -> Run {
        self.take_into(&self.job_file())
    }

    pub fn take_into(&self, file: &Path) -> Run {
        borespoke([
            "take".as_ref(),
            self.path().as_os_str(),
            "--into".as_ref(),
            file.as_os_str(),
            "--json".as_ref(),
        ])
    }
}

/// Runs a command that takes a job file, with JSON lines.
pub fn ask(command: &str, file: &Path) -> Run {
    borespoke([command.as_ref(), file.as_os_str(), "--json".as_ref()])
}

/// A 16-bit mono WAV of these samples.
pub fn wav(rate: u32, samples: impl IntoIterator<Item = i16>) -> Vec<u8> {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: rate,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut bytes = std::io::Cursor::new(Vec::new());
    let mut writer = hound::WavWriter::new(&mut bytes, spec).unwrap();
    for sample in samples {
        writer.write_sample(sample).unwrap();
    }
    writer.finalize().unwrap();
    bytes.into_inner()
}

/// Noise from a fixed seed (xorshift), so that a failure can be seen again.
pub fn noise(count: usize, amplitude: i16) -> Vec<i16> {
    let mut state = 0x2545_F491_u32;
    (0..count)
        .map(|_| {
            state ^= state << 13;
            state ^= state >> 17;
            state ^= state << 5;
            let unit = f64::from(state) / f64::from(u32::MAX) * 2.0 - 1.0;
            #[expect(clippy::cast_possible_truncation, reason = "within the amplitude")]
            let sample = (unit * f64::from(amplitude)) as i16;
            sample
        })
        .collect()
}
