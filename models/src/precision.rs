//! How the matrices of the network are stored, and the packing of numbers into ggml's blocks.
//!
//! The layouts follow `ggml-common.h` and `quantize_row_*_ref` of `ggml-quants.c` (ggml as in
//! whisper.cpp 1.8.3), so that the files are the ones that library's own tools would make.

use std::fmt;

use half::f16;
use serde::Deserialize;

/// How a matrix is stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Precision {
    /// Half-precision floats, as fetched.
    F16,
    /// Blocks of 32: a scale and 8-bit integers.
    Q8_0,
    /// Blocks of 32: a scale, an offset and 5-bit integers.
    Q5_1,
}

/// Numbers in a block of the quantised forms.
pub const BLOCK: usize = 32;

impl Precision {
    /// ggml's number for the type of a tensor.
    #[must_use]
    pub const fn tensor_type(self) -> i32 {
        match self {
            Self::F16 => 1,
            Self::Q5_1 => 7,
            Self::Q8_0 => 8,
        }
    }

    /// ggml's number for a whole file, with the version of the quantised layouts (2) in the
    /// thousands.
    #[must_use]
    pub const fn file_type(self) -> i32 {
        match self {
            Self::F16 => 1,
            Self::Q8_0 => 2007,
            Self::Q5_1 => 2009,
        }
    }

    /// Packs a row of numbers and appends it. For the quantised forms the row must be whole
    /// blocks; what is left over is not written, and [`crate::ggml`] checks that nothing is.
    pub fn pack(self, row: &[f32], out: &mut Vec<u8>) {
        match self {
            Self::F16 => {
                out.extend(row.iter().flat_map(|&x| f16::from_f32(x).to_le_bytes()));
            }
            Self::Q8_0 => row.as_chunks::<BLOCK>().0.iter().for_each(|b| pack_q8_0(b, out)),
            Self::Q5_1 => row.as_chunks::<BLOCK>().0.iter().for_each(|b| pack_q5_1(b, out)),
        }
    }

    /// Bytes that `n` numbers take.
    #[must_use]
    pub const fn bytes(self, n: usize) -> usize {
        match self {
            Self::F16 => n * 2,
            Self::Q8_0 => n / BLOCK * (2 + BLOCK),
            Self::Q5_1 => n / BLOCK * (2 + 2 + 4 + BLOCK / 2),
        }
    }
}

impl fmt::Display for Precision {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::F16 => "f16",
            Self::Q8_0 => "q8_0",
            Self::Q5_1 => "q5_1",
        })
    }
}

fn inverse(scale: f32) -> f32 {
    if scale == 0.0 { 0.0 } else { 1.0 / scale }
}

#[expect(clippy::cast_possible_truncation, reason = "scaled into -127..=127 just before")]
fn pack_q8_0(block: &[f32; BLOCK], out: &mut Vec<u8>) {
    let largest = block.iter().fold(0f32, |m, x| m.max(x.abs()));
    let scale = largest / 127.0;
    let inverse = inverse(scale);
    out.extend(f16::from_f32(scale).to_le_bytes());
    out.extend(block.iter().map(|x| ((x * inverse).round() as i8).cast_unsigned()));
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "scaled into 0..=31 just before"
)]
fn pack_q5_1(block: &[f32; BLOCK], out: &mut Vec<u8>) {
    let least = block.iter().copied().fold(f32::INFINITY, f32::min);
    let most = block.iter().copied().fold(f32::NEG_INFINITY, f32::max);
    let scale = (most - least) / 31.0;
    let inverse = inverse(scale);
    let level = |x: f32| ((x - least) * inverse + 0.5) as u8;
    let (low, high) = block.split_at(BLOCK / 2);
    let mut fifth = 0u32;
    let mut nibbles = [0u8; BLOCK / 2];
    for (j, ((&x0, &x1), nibble)) in low.iter().zip(high).zip(&mut nibbles).enumerate() {
        let (x0, x1) = (level(x0), level(x1));
        *nibble = (x0 & 0x0f) | ((x1 & 0x0f) << 4);
        fifth |= u32::from(x0 >> 4 & 1) << j;
        fifth |= u32::from(x1 >> 4 & 1) << (j + BLOCK / 2);
    }
    out.extend(f16::from_f32(scale).to_le_bytes());
    out.extend(f16::from_f32(least).to_le_bytes());
    out.extend(fifth.to_le_bytes());
    out.extend(nibbles);
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn half(bytes: &[u8]) -> f32 {
        f16::from_le_bytes([bytes[0], bytes[1]]).to_f32()
    }

    fn unpack(precision: Precision, b: &[u8]) -> Vec<f32> {
        match precision {
            Precision::F16 => b.chunks(2).map(half).collect(),
            Precision::Q8_0 => {
                b[2..].iter().map(|q| f32::from(q.cast_signed()) * half(b)).collect()
            }
            Precision::Q5_1 => {
                let fifth = u32::from_le_bytes([b[4], b[5], b[6], b[7]]);
                (0..BLOCK)
                    .map(|i| {
                        let byte = b[8 + i % 16];
                        let nibble = if i < 16 { byte & 15 } else { byte >> 4 };
                        let level = u32::from(nibble) | (fifth >> i & 1) << 4;
                        half(&b[2..]) + half(b) * level as f32
                    })
                    .collect()
            }
        }
    }

    proptest! {
        // Half a step of the block, and the rounding of scale and offset to half precision.
        #[test]
        fn unpacked_is_within_a_step(block in prop::array::uniform32(-4.0f32..4.0)) {
            for (precision, levels) in [(Precision::Q8_0, 127.0), (Precision::Q5_1, 31.0)] {
                let mut bytes = Vec::new();
                precision.pack(&block, &mut bytes);
                prop_assert_eq!(bytes.len(), precision.bytes(BLOCK));
                let step = 8.0 / levels;
                for (x, y) in block.iter().zip(unpack(precision, &bytes)) {
                    prop_assert!((x - y).abs() <= step * 0.5 + 0.01, "{precision}: {x} {y}");
                }
            }
        }
    }

    #[test]
    fn known_blocks() {
        let mut ramp = [0f32; BLOCK];
        for (i, x) in ramp.iter_mut().enumerate() {
            *x = i as f32;
        }
        let mut q8 = Vec::new();
        Precision::Q8_0.pack(&ramp, &mut q8);
        // 31/127 as a half is 0x33d0 (0.24414); 1 over it is 4.0968, so 1.0 becomes 4.
        assert_eq!(&q8[..5], &[0xd0, 0x33, 0, 4, 8]);
        assert_eq!(q8[33], 127);
        let mut q5 = Vec::new();
        Precision::Q5_1.pack(&ramp, &mut q5);
        // Scale 1, offset 0: level i for number i; the fifth bit is set from 16 on.
        assert_eq!(&q5[..8], &[0x00, 0x3c, 0, 0, 0x00, 0x00, 0xff, 0xff]);
        assert_eq!(&q5[8..11], &[0x00, 0x11, 0x22]);
    }

    #[test]
    fn a_block_of_zeros_stays_zeros() {
        for precision in [Precision::Q8_0, Precision::Q5_1] {
            let mut bytes = Vec::new();
            precision.pack(&[0.0; BLOCK], &mut bytes);
            assert!(unpack(precision, &bytes).iter().all(|&x| x == 0.0));
        }
    }
}
