//! System packages, installed by the command that needs them.

use std::process::{Command, Stdio};

use crate::run::{self, ChoreError};

/// Needed to compile: the recogniser is C++ bound through libclang; the microphone needs ALSA.
pub const BUILD: &[&str] = &["cmake", "clang", "libclang-dev", "libasound2-dev", "pkg-config"];
/// Needed to turn the document's pages into pictures.
pub const PAGES: &[&str] = &["poppler-utils"];
/// Needed by tests: voices to speak utterances, and strace to see and spoil what the store asks of
/// the system, and a validator for the schemas of `docs/schema`.
pub const TESTS: &[&str] = &["espeak-ng", "flite", "sox", "strace", "python3-jsonschema"];

/// Installs those of `wanted` that are missing. Only on Debian and its kin; elsewhere the
/// programs are expected to be there and the build says what is not.
///
/// # Errors
/// [`ChoreError::PackagesMissing`] when some are missing and this is not root.
pub fn ensure(wanted: &[&[&str]]) -> Result<(), ChoreError> {
    if !succeeds(Command::new("dpkg-query").arg("--version")) {
        return Ok(());
    }
    let missing: Vec<&str> =
        wanted.iter().flat_map(|set| set.iter().copied()).filter(|name| !installed(name)).collect();
    if missing.is_empty() {
        return Ok(());
    }
    if !is_root() {
        return Err(ChoreError::PackagesMissing(missing.join(" ")));
    }
    run::shown(Command::new("apt-get").args(["update", "-qq"]))?;
    run::shown(
        Command::new("apt-get")
            .env("DEBIAN_FRONTEND", "noninteractive")
            .args(["install", "-y", "-qq", "--no-install-recommends"])
            .args(missing),
    )
}

fn installed(name: &str) -> bool {
    Command::new("dpkg-query")
        .args(["-W", "-f", "${db:Status-Status}", name])
        .stderr(Stdio::null())
        .output()
        .is_ok_and(|output| output.stdout == b"installed")
}

fn is_root() -> bool {
    Command::new("id").arg("-u").output().is_ok_and(|output| output.stdout.trim_ascii() == b"0")
}

fn succeeds(command: &mut Command) -> bool {
    command
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}
