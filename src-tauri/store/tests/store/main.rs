//! The job file from outside: what was confirmed is there, whatever happened to the process, the
//! disk or the file.

mod any_log;
mod appending;
mod attachments;
mod copying;
mod damage;
mod disk;
mod formats;
mod kill;
mod opening;
mod other_process;
mod samples;
mod system_calls;
mod two_processes;
