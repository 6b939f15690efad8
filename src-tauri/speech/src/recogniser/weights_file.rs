//! Whether a file is whole weights, by its form, before the network's loader sees it.
//!
//! The loader takes a file that ends in the middle of its last tensor, and trusts the sizes it
//! reads. Here every size is held against what is there. Numbers that were changed in place are not
//! found: for that the file's sum is checked where it is made and where it is copied.
//!
//! The form is whisper.cpp's: magic, eleven sizes, mel filters, vocabulary, then tensors to the end
//! of the file, all little-endian.

use std::io::{self, Read, Seek, SeekFrom};

/// "ggml", as the loader reads it.
const MAGIC: u32 = 0x6767_6d6c;
const SIZES: usize = 11;
/// Bounds far above any published network, far below what could hurt.
const MOST_FILTERS: u64 = 1 << 20;
const MOST_TOKENS: u32 = 1 << 18;
const MOST_NAME: u32 = 1 << 10;
const MOST_DIMENSIONS: u32 = 4;

/// Whether the file is whole.
///
/// # Errors
/// What is wrong with it, as [`io::ErrorKind::InvalidData`] or [`io::ErrorKind::UnexpectedEof`].
pub(super) fn check(mut file: impl Read + Seek) -> io::Result<()> {
    let length = file.seek(SeekFrom::End(0))?;
    file.rewind()?;
    let mut file = Walk { file: io::BufReader::new(file), at: 0, length };
    if file.number()? != MAGIC {
        return Err(wrong("it does not begin as weights do"));
    }
    for _ in 0..SIZES {
        if i32::try_from(file.number()?).is_err() {
            return Err(wrong("a size in its head is negative"));
        }
    }
    let filters = u64::from(file.number()?) * u64::from(file.number()?);
    if filters > MOST_FILTERS {
        return Err(wrong("its sound filters are too many"));
    }
    file.pass(filters * 4)?;
    let tokens = file.number()?;
    if tokens > MOST_TOKENS {
        return Err(wrong("its vocabulary is too large"));
    }
    for _ in 0..tokens {
        let bytes = file.number()?;
        if bytes > MOST_NAME {
            return Err(wrong("a word of its vocabulary is too long"));
        }
        file.pass(bytes.into())?;
    }
    let mut tensors = 0_u32;
    while file.at < file.length {
        file.tensor()?;
        tensors += 1;
    }
    if tensors == 0 { Err(wrong("it has no numbers")) } else { Ok(()) }
}

fn wrong(what: &str) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, what)
}

struct Walk<F> {
    file: io::BufReader<F>,
    at: u64,
    length: u64,
}

impl<F: Read + Seek> Walk<F> {
    fn number(&mut self) -> io::Result<u32> {
        let mut bytes = [0; 4];
        self.file.read_exact(&mut bytes)?;
        self.at += 4;
        Ok(u32::from_le_bytes(bytes))
    }

    fn pass(&mut self, bytes: u64) -> io::Result<()> {
        if bytes > self.length - self.at {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
        self.at += bytes;
        // No wrap: a file is shorter than that.
        self.file.seek_relative(i64::try_from(bytes).map_err(io::Error::other)?)
    }

    fn tensor(&mut self) -> io::Result<()> {
        let dimensions = self.number()?;
        let name = self.number()?;
        let kind = self.number()?;
        if !(1..=MOST_DIMENSIONS).contains(&dimensions) || name > MOST_NAME {
            return Err(wrong("the head of a tensor is damaged"));
        }
        let mut numbers = 1_u64;
        for _ in 0..dimensions {
            numbers = numbers
                .checked_mul(self.number()?.into())
                .filter(|&numbers| numbers > 0)
                .ok_or_else(|| wrong("a tensor's size is not one"))?;
        }
        self.pass(name.into())?;
        // Numbers in a block, and bytes of it.
        let (block, bytes) = match kind {
            0 => (1, 4),
            1 => (1, 2),
            2 => (32, 18),
            3 => (32, 20),
            6 => (32, 22),
            7 => (32, 24),
            8 => (32, 34),
            _ => return Err(wrong("a tensor is of an unknown type")),
        };
        if numbers % block != 0 {
            return Err(wrong("a tensor is not whole blocks"));
        }
        let bytes =
            (numbers / block).checked_mul(bytes).ok_or_else(|| wrong("a tensor is too large"))?;
        self.pass(bytes)
    }
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use proptest::prelude::*;

    use super::*;

    /// A file of the form with two small tensors.
    fn whole() -> Vec<u8> {
        let mut bytes = Vec::new();
        let number = |n: u32, bytes: &mut Vec<u8>| bytes.extend(n.to_le_bytes());
        number(MAGIC, &mut bytes);
        (0..11).for_each(|n| number(n, &mut bytes));
        number(2, &mut bytes);
        number(3, &mut bytes);
        bytes.extend([0; 24]);
        number(1, &mut bytes);
        number(2, &mut bytes);
        bytes.extend(b"hi");
        for (kind, size) in [(1, 64), (8, 34)] {
            for n in [1, 4, kind, 32] {
                number(n, &mut bytes);
            }
            bytes.extend(b"name");
            bytes.extend(vec![7; size]);
        }
        bytes
    }

    #[test]
    fn whole_weights_pass() {
        check(Cursor::new(whole())).unwrap();
    }

    #[test]
    fn weights_cut_anywhere_are_refused_but_for_a_whole_tensor() {
        let whole = whole();
        // Without its last tensor a file is still of the form: the loader counts them.
        let last = 16 + 4 + 34;
        for length in (0..whole.len()).filter(|&length| length != whole.len() - last) {
            assert!(check(Cursor::new(&whole[..length])).is_err(), "{length}");
        }
    }

    proptest! {
        #[test]
        fn no_bytes_at_all_can_hurt(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
            let _ = check(Cursor::new(&bytes));
            let mut file = whole();
            for (at, byte) in bytes.iter().enumerate() {
                let place = (at * 31 + usize::from(*byte)) % file.len();
                file[place] = *byte;
            }
            let _ = check(Cursor::new(file));
        }
    }
}
