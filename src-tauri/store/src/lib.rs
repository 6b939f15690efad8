//! The job file: one SQLite file per workshop, append-only.
