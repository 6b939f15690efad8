//! The job file from outside: what was confirmed is there, whatever happened to the process, the
//! disk or the file.

mod appending;
mod samples;
