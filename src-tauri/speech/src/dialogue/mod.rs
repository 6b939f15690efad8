//! What a meaning does to the job.
