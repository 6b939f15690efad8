//! Writes the file that the recogniser loads (whisper.cpp's ggml form).
//!
//! The form, little-endian: magic, eleven sizes, mel filters, vocabulary, and per tensor its rank,
//! length of name, type, dimensions (the fastest first), name and numbers.

use std::io::{self, Write};

use crate::convert::Named;
use crate::mel;
use crate::precision::{BLOCK, Precision};

/// The sizes of a network.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shape {
    /// Tokens.
    pub vocabulary: usize,
    /// Frames of sound.
    pub audio_context: usize,
    /// Tokens of text.
    pub text_context: usize,
    /// Numbers per frame or token.
    pub width: usize,
    /// Heads of attention.
    pub heads: usize,
    /// Layers of the encoder.
    pub audio_layers: usize,
    /// Layers of the decoder.
    pub text_layers: usize,
}

/// A network in the names of the file that is made.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights {
    /// Its sizes.
    pub shape: Shape,
    /// Its tensors, in the order of the file.
    pub tensors: Vec<Named>,
}

const MAGIC: i32 = 0x6767_6d6c;

/// Writes the file.
///
/// # Errors
/// What the writer says; [`io::ErrorKind::InvalidData`] when a size does not fit the form.
pub fn write(
    weights: &Weights,
    vocabulary: &[Vec<u8>],
    precision: Precision,
    out: &mut impl Write,
) -> io::Result<()> {
    let s = &weights.shape;
    int(out, MAGIC)?;
    for size in [
        s.vocabulary,
        s.audio_context,
        s.width,
        s.heads,
        s.audio_layers,
        s.text_context,
        s.width,
        s.heads,
        s.text_layers,
        mel::FILTERS,
    ] {
        count(out, size)?;
    }
    int(out, precision.file_type())?;
    count(out, mel::FILTERS)?;
    count(out, mel::BINS)?;
    floats(out, &mel::filters())?;
    count(out, vocabulary.len())?;
    for token in vocabulary {
        count(out, token.len())?;
        out.write_all(token)?;
    }
    weights.tensors.iter().try_for_each(|tensor| write_tensor(tensor, precision, out))
}

/// How a tensor is stored in a file of this precision: vectors, columns and positions in single
/// precision (`None`), convolutions in half, matrices in the file's own.
fn stored(tensor: &Named, precision: Precision) -> Option<Precision> {
    let position = tensor.name.ends_with("positional_embedding");
    match tensor.shape.len() {
        _ if position || tensor.name.ends_with("bias") => None,
        2 => Some(precision),
        3 => Some(Precision::F16),
        _ => None,
    }
}

fn write_tensor(tensor: &Named, precision: Precision, out: &mut impl Write) -> io::Result<()> {
    let stored = stored(tensor, precision);
    count(out, tensor.shape.len())?;
    count(out, tensor.name.len())?;
    int(out, stored.map_or(0, Precision::tensor_type))?;
    for &dimension in tensor.shape.iter().rev() {
        count(out, dimension)?;
    }
    out.write_all(tensor.name.as_bytes())?;
    let Some(stored) = stored else { return floats(out, &tensor.numbers) };
    let row = tensor.shape.last().copied().unwrap_or(1).max(1);
    if stored != Precision::F16 && !row.is_multiple_of(BLOCK) {
        return Err(invalid(format!("{}: rows of {row} are not whole blocks", tensor.name)));
    }
    let mut bytes = Vec::with_capacity(stored.bytes(tensor.numbers.len()));
    tensor.numbers.chunks(row).for_each(|row| stored.pack(row, &mut bytes));
    out.write_all(&bytes)
}

fn invalid(said: String) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, said)
}

fn int(out: &mut impl Write, value: i32) -> io::Result<()> {
    out.write_all(&value.to_le_bytes())
}

fn count(out: &mut impl Write, value: usize) -> io::Result<()> {
    int(out, i32::try_from(value).map_err(|e| invalid(e.to_string()))?)
}

fn floats(out: &mut impl Write, values: &[f32]) -> io::Result<()> {
    let bytes: Vec<u8> = values.iter().flat_map(|x| x.to_le_bytes()).collect();
    out.write_all(&bytes)
}
