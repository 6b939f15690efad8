//! Why a handover could not be made.

use thiserror::Error;

/// Why a handover could not be made.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum HandoverError {
    /// The table and the engine do not have the same cylinders.
    #[error("handover: the cylinder table has {rows} rows, the engine has {cylinders} cylinders")]
    TableMismatch {
        /// Rows in the table.
        rows: usize,
        /// Cylinders of the engine.
        cylinders: usize,
    },
    /// Two attached files with one name, or a name that is not a plain file name.
    #[error("handover: attached file \"{0}\": names must be plain file names, each used once")]
    AttachmentName(String),
    /// The typesetter refused the document. A fault of this program, not of the job.
    #[error(
        "handover: the page could not be set: {0}. The job itself is unharmed; please report this"
    )]
    Typesetter(String),
}
