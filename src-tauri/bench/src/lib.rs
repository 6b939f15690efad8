//! The one place that joins the parts: use cases as plain functions.
