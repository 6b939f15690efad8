//! Reads a network in `CTranslate2`'s binary form (`model.bin`, version 6).
//!
//! The form, little-endian: version, name and revision of the specification, count, and per
//! variable its name, rank, dimensions, type and bytes; then aliases, which are not needed here.

use std::collections::HashMap;

use half::f16;

use crate::error::Error;

/// A variable of the network.
#[derive(Debug, Clone, PartialEq)]
pub struct Tensor<'a> {
    /// Dimensions, the slowest first.
    pub shape: Vec<usize>,
    /// The numbers.
    pub numbers: Numbers<'a>,
}

/// The numbers of a variable, in the file's own bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Numbers<'a> {
    /// Single precision.
    F32(&'a [u8]),
    /// Half precision.
    F16(&'a [u8]),
    /// A type that no matrix here has.
    Other(u8),
}

impl Tensor<'_> {
    /// The numbers in single precision.
    ///
    /// # Errors
    /// [`Error::Form`] for a type other than single or half precision.
    pub fn to_f32(&self) -> Result<Vec<f32>, Error> {
        match self.numbers {
            Numbers::F32(b) => Ok(b.as_chunks().0.iter().map(|&x| f32::from_le_bytes(x)).collect()),
            Numbers::F16(b) => {
                Ok(b.as_chunks().0.iter().map(|&x| f16::from_le_bytes(x).to_f32()).collect())
            }
            Numbers::Other(kind) => {
                Err(Error::Form(format!("a matrix of type {kind}; only floats are known")))
            }
        }
    }
}

/// All variables by name.
pub type Network<'a> = HashMap<String, Tensor<'a>>;

/// Reads a network.
///
/// # Errors
/// [`Error::Form`] when the bytes end early, or are of another version or kind.
pub fn read(bytes: &[u8]) -> Result<Network<'_>, Error> {
    let mut input = Input { rest: bytes };
    let version = input.u32()?;
    if version != 6 {
        return Err(Error::Form(format!("version {version} of the binary form; 6 is known")));
    }
    let kind = input.text()?;
    if kind != "WhisperSpec" {
        return Err(Error::Form(format!("a network of kind {kind:?}; WhisperSpec is known")));
    }
    let _revision = input.u32()?;
    let count = input.u32()?;
    (0..count).map(|_| input.variable()).collect()
}

struct Input<'a> {
    rest: &'a [u8],
}

impl<'a> Input<'a> {
    fn take(&mut self, n: usize) -> Result<&'a [u8], Error> {
        let (taken, rest) = self
            .rest
            .split_at_checked(n)
            .ok_or_else(|| Error::Form("the file ends in the middle".to_owned()))?;
        self.rest = rest;
        Ok(taken)
    }

    fn array<const N: usize>(&mut self) -> Result<[u8; N], Error> {
        let mut out = [0; N];
        out.copy_from_slice(self.take(N)?);
        Ok(out)
    }

    fn u8(&mut self) -> Result<u8, Error> {
        Ok(u8::from_le_bytes(self.array()?))
    }

    fn u32(&mut self) -> Result<u32, Error> {
        Ok(u32::from_le_bytes(self.array()?))
    }

    // Length with the closing zero, then the letters.
    fn text(&mut self) -> Result<&'a str, Error> {
        let length = u16::from_le_bytes(self.array()?);
        let bytes = self.take(usize::from(length))?;
        std::str::from_utf8(bytes.strip_suffix(&[0]).unwrap_or(bytes))
            .map_err(|_| Error::Form("a name that is not text".to_owned()))
    }

    fn variable(&mut self) -> Result<(String, Tensor<'a>), Error> {
        let name = self.text()?.to_owned();
        let rank = self.u8()?;
        let shape = (0..rank)
            .map(|_| self.u32().map(|d| d as usize))
            .collect::<Result<Vec<usize>, Error>>()?;
        let kind = self.u8()?;
        let length = self.u32()? as usize;
        let data = self.take(length)?;
        let (numbers, width) = match kind {
            0 => (Numbers::F32(data), 4),
            4 => (Numbers::F16(data), 2),
            other => return Ok((name, Tensor { shape, numbers: Numbers::Other(other) })),
        };
        let expected = shape.iter().try_fold(width, |n: usize, &d| n.checked_mul(d));
        if expected != Some(length) {
            return Err(Error::Form(format!("{name}: {length} bytes for the shape {shape:?}")));
        }
        Ok((name, Tensor { shape, numbers }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tiny() -> Vec<u8> {
        let mut b = Vec::new();
        b.extend(6u32.to_le_bytes());
        b.extend(12u16.to_le_bytes());
        b.extend(b"WhisperSpec\0");
        b.extend(3u32.to_le_bytes());
        b.extend(1u32.to_le_bytes());
        b.extend(2u16.to_le_bytes());
        b.extend(b"w\0");
        b.push(2);
        b.extend(1u32.to_le_bytes());
        b.extend(2u32.to_le_bytes());
        b.push(4);
        b.extend(4u32.to_le_bytes());
        b.extend(f16::from_f32(0.5).to_le_bytes());
        b.extend(f16::from_f32(-2.0).to_le_bytes());
        b
    }

    #[test]
    fn reads_a_half_precision_matrix() {
        let bytes = tiny();
        let network = read(&bytes).unwrap();
        assert_eq!(network["w"].shape, [1, 2]);
        assert_eq!(network["w"].to_f32().unwrap(), [0.5, -2.0]);
    }

    #[test]
    fn every_cut_is_an_error_and_no_panic() {
        let bytes = tiny();
        for end in 0..bytes.len() {
            assert!(matches!(read(&bytes[..end]), Err(Error::Form(_))), "cut at {end}");
        }
    }

    #[test]
    fn a_shape_that_does_not_fit_its_bytes_is_refused() {
        let mut bytes = tiny();
        let dimension = bytes.len() - 4 - 4 - 1 - 4;
        bytes[dimension] = 200;
        assert!(read(&bytes).unwrap_err().to_string().contains("shape"));
    }
}
