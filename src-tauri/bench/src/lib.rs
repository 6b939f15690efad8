//! The one place that joins the parts: use cases as plain functions. The shell and the command
//! line only call what is here.

pub mod case;
