//! `verify`

use borespoke_bench::verify;

use crate::arguments::Verify;
use crate::failure::Failure;

pub fn run(arguments: &Verify) -> Result<(), Failure> {
    Ok(verify::verify(&arguments.document)?)
}
