//! Runs another program, shows what is run, and says clearly when it fails.

use std::process::Command;

use miette::Diagnostic;
use thiserror::Error;

/// Why a chore stopped.
#[derive(Debug, Error, Diagnostic)]
pub enum ChoreError {
    /// A program ended with an error.
    #[error("`{command}` failed ({status})")]
    #[diagnostic(help("its own message stands above"))]
    Failed {
        /// The command line.
        command: String,
        /// How it ended.
        status: std::process::ExitStatus,
    },
    /// A program could not be started.
    #[error("`{program}` could not be started: {source}")]
    #[diagnostic(help("install {program} and run this again"))]
    NotStarted {
        /// The program.
        program: String,
        /// Why not.
        source: std::io::Error,
    },
    /// System packages are missing and cannot be installed from here.
    #[error("system packages are missing: {0}")]
    #[diagnostic(help("as root: apt-get install {0}"))]
    PackagesMissing(String),
    /// A file or folder could not be read or written.
    #[error("{what}: {source}")]
    File {
        /// Which one, and what was tried.
        what: String,
        /// Why not.
        source: std::io::Error,
    },
    /// A house rule is broken.
    #[error("{0}")]
    Rule(String),
}

impl ChoreError {
    /// A file operation that failed.
    pub fn file(what: &str, source: std::io::Error) -> Self {
        Self::File { what: what.to_owned(), source }
    }
}

/// Runs `command` with its output shown.
///
/// # Errors
/// [`ChoreError`] when it cannot be started or ends with an error.
pub fn shown(command: &mut Command) -> Result<(), ChoreError> {
    let line = words(command);
    eprintln!("$ {line}");
    let status = command.status().map_err(|source| not_started(command, source))?;
    if status.success() { Ok(()) } else { Err(ChoreError::Failed { command: line, status }) }
}

fn not_started(command: &Command, source: std::io::Error) -> ChoreError {
    ChoreError::NotStarted { program: command.get_program().to_string_lossy().into_owned(), source }
}

fn words(command: &Command) -> String {
    std::iter::once(command.get_program())
        .chain(command.get_args())
        .map(std::ffi::OsStr::to_string_lossy)
        .collect::<Vec<_>>()
        .join(" ")
}
