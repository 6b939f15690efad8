//! Why a case could not be read.

use std::path::PathBuf;

use borespoke_core::engine::{EngineError, FiringOrderError, LayoutError, NoSuchCylinder};
use borespoke_core::quantity::OutOfRange;
use thiserror::Error;

/// Why a case could not be read.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum CaseError {
    /// There is no description.
    #[error("{} is missing", path.display())]
    Missing {
        /// Where it should be.
        path: PathBuf,
    },
    /// A file or folder could not be read.
    #[error("{}: {source}", path.display())]
    Unreadable {
        /// Which one.
        path: PathBuf,
        /// Why not.
        source: std::io::Error,
    },
    /// The description is not JSON, or not of the right shape.
    #[error("{}: {source}", path.display())]
    NotADescription {
        /// Which file.
        path: PathBuf,
        /// Where and why.
        source: serde_json::Error,
    },
    /// The engine says two different numbers of cylinders.
    #[error("engine: {said} cylinders, but the firing order has {fired}")]
    CylinderCount {
        /// The number under `cylinders`.
        said: usize,
        /// The length of the firing order.
        fired: usize,
    },
    /// Neither a firing order nor a number of cylinders that needs none.
    #[error("engine: no firing order given; it stands in the maker's manual, often on the engine")]
    NoFiringOrder,
    /// The firing order is wrong.
    #[error(transparent)]
    FiringOrder(#[from] FiringOrderError),
    /// The layout is wrong.
    #[error(transparent)]
    Layout(#[from] LayoutError),
    /// The engine does not hold together.
    #[error(transparent)]
    Engine(#[from] EngineError),
    /// A number outside what its quantity allows.
    #[error("{field}: {source}")]
    OutOfRange {
        /// Which field of the description.
        field: String,
        /// What was given and what is allowed.
        source: OutOfRange,
    },
    /// A value that is not understood.
    #[error("{field}: given {given}, allowed: {allowed}")]
    NotUnderstood {
        /// Which field of the description.
        field: String,
        /// What was given.
        given: String,
        /// What would be understood.
        allowed: &'static str,
    },
    /// A plug picture of a cylinder that is not there.
    #[error("{}: {source}", path.display())]
    Plug {
        /// Which picture.
        path: PathBuf,
        /// Why not.
        source: NoSuchCylinder,
    },
    /// A plug picture whose name has no cylinder.
    #[error("{}: the name says no cylinder; name it plug-1.jpg, plug-2.jpg ... or tray.jpg", path.display())]
    UnnamedPlug {
        /// Which picture.
        path: PathBuf,
    },
}
