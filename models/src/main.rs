//! Fetches the weights of the recogniser and converts them.
fn main() {}
