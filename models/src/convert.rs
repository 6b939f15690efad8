//! From the network's variables as fetched to the tensors of the file that is made: other names,
//! and the fused query, key and value rows taken apart.

use crate::ctranslate2::{Network, Tensor};
use crate::error::Error;
use crate::ggml::{Shape, Weights};

/// A tensor of the file that is made.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// Its name there.
    pub name: String,
    /// Dimensions, the slowest first.
    pub shape: Vec<usize>,
    /// The numbers.
    pub numbers: Vec<f32>,
}

/// Converts a whole network.
///
/// # Errors
/// [`Error::Form`] when a variable is missing or of another shape than the network needs.
pub fn convert(network: &Network<'_>) -> Result<Weights, Error> {
    let (vocabulary, width) = matrix(get(network, "decoder/embeddings/weight")?)?;
    let (audio_context, _) = matrix(get(network, "encoder/position_encodings/encodings")?)?;
    let (text_context, _) = matrix(get(network, "decoder/position_encodings/encodings")?)?;
    let layers = |side: &str| {
        (0..network.len())
            .take_while(|i| network.contains_key(&layer(side, *i, "ffn/linear_0/bias")))
            .count()
    };
    let shape = Shape {
        vocabulary,
        audio_context,
        text_context,
        width,
        // Every Whisper network has heads 64 wide.
        heads: width / 64,
        audio_layers: layers("encoder"),
        text_layers: layers("decoder"),
    };
    let mut out = Out { network, width, tensors: Vec::new() };
    out.copy("encoder.positional_embedding", "encoder/position_encodings/encodings")?;
    out.linear("encoder.conv1", "encoder/conv1")?;
    out.linear("encoder.conv2", "encoder/conv2")?;
    for i in 0..shape.audio_layers {
        let block = format!("encoder.blocks.{i}");
        out.norm(&format!("{block}.attn_ln"), &layer("encoder", i, "self_attention/layer_norm"))?;
        out.self_attention(&format!("{block}.attn"), &layer("encoder", i, "self_attention"))?;
        out.feed_forward(&block, &layer("encoder", i, "ffn"))?;
    }
    out.norm("encoder.ln_post", "encoder/layer_norm")?;
    out.copy("decoder.positional_embedding", "decoder/position_encodings/encodings")?;
    out.copy("decoder.token_embedding.weight", "decoder/embeddings/weight")?;
    for i in 0..shape.text_layers {
        let block = format!("decoder.blocks.{i}");
        out.norm(&format!("{block}.attn_ln"), &layer("decoder", i, "self_attention/layer_norm"))?;
        out.self_attention(&format!("{block}.attn"), &layer("decoder", i, "self_attention"))?;
        out.norm(&format!("{block}.cross_attn_ln"), &layer("decoder", i, "attention/layer_norm"))?;
        out.cross_attention(&format!("{block}.cross_attn"), &layer("decoder", i, "attention"))?;
        out.feed_forward(&block, &layer("decoder", i, "ffn"))?;
    }
    out.norm("decoder.ln", "decoder/layer_norm")?;
    Ok(Weights { shape, tensors: out.tensors })
}

fn layer(side: &str, i: usize, part: &str) -> String {
    format!("{side}/layer_{i}/{part}")
}

fn get<'n, 'a>(network: &'n Network<'a>, name: &str) -> Result<&'n Tensor<'a>, Error> {
    network.get(name).ok_or_else(|| Error::Form(format!("{name} is missing")))
}

fn matrix(tensor: &Tensor<'_>) -> Result<(usize, usize), Error> {
    match tensor.shape[..] {
        [rows, columns] => Ok((rows, columns)),
        _ => Err(Error::Form(format!("a matrix with the shape {:?}", tensor.shape))),
    }
}

struct Out<'n, 'a> {
    network: &'n Network<'a>,
    width: usize,
    tensors: Vec<Named>,
}

impl Out<'_, '_> {
    fn put(&mut self, name: String, shape: Vec<usize>, numbers: Vec<f32>) {
        self.tensors.push(Named { name, shape, numbers });
    }

    fn copy(&mut self, to: &str, from: &str) -> Result<(), Error> {
        let tensor = get(self.network, from)?;
        let numbers = tensor.to_f32()?;
        let mut shape = tensor.shape.clone();
        // The loader wants the biases of the convolutions as a column.
        if to.starts_with("encoder.conv") && shape.len() == 1 {
            shape.push(1);
        }
        self.put(to.to_owned(), shape, numbers);
        Ok(())
    }

    fn linear(&mut self, to: &str, from: &str) -> Result<(), Error> {
        self.copy(&format!("{to}.weight"), &format!("{from}/weight"))?;
        self.copy(&format!("{to}.bias"), &format!("{from}/bias"))
    }

    fn norm(&mut self, to: &str, from: &str) -> Result<(), Error> {
        self.copy(&format!("{to}.weight"), &format!("{from}/gamma"))?;
        self.copy(&format!("{to}.bias"), &format!("{from}/beta"))
    }

    fn feed_forward(&mut self, block: &str, from: &str) -> Result<(), Error> {
        self.norm(&format!("{block}.mlp_ln"), &format!("{from}/layer_norm"))?;
        self.linear(&format!("{block}.mlp.0"), &format!("{from}/linear_0"))?;
        self.linear(&format!("{block}.mlp.2"), &format!("{from}/linear_1"))
    }

    /// Takes one fused layer apart; `parts` name its rows, a width each, in order. A key has no
    /// bias in this network (the fused one holds zeros there).
    fn apart(&mut self, to: &str, from: &str, parts: &[&str]) -> Result<(), Error> {
        let weight = get(self.network, &format!("{from}/weight"))?;
        let (rows, columns) = matrix(weight)?;
        let weights = weight.to_f32()?;
        let biases = get(self.network, &format!("{from}/bias"))?.to_f32()?;
        let width = self.width;
        if rows != width * parts.len() || columns != width || biases.len() != rows {
            return Err(Error::Form(format!("{from}: {rows} by {columns} is not {parts:?}")));
        }
        let split = weights.chunks(width * columns).zip(biases.chunks(width));
        for (part, (weights, biases)) in parts.iter().zip(split) {
            self.put(format!("{to}.{part}.weight"), vec![width, columns], weights.to_vec());
            if *part != "key" {
                self.put(format!("{to}.{part}.bias"), vec![width], biases.to_vec());
            } else if biases.iter().any(|&b| b != 0.0) {
                return Err(Error::Form(format!("{from}: the key has a bias")));
            }
        }
        Ok(())
    }

    fn self_attention(&mut self, to: &str, from: &str) -> Result<(), Error> {
        self.apart(to, &format!("{from}/linear_0"), &["query", "key", "value"])?;
        self.linear(&format!("{to}.out"), &format!("{from}/linear_1"))
    }

    fn cross_attention(&mut self, to: &str, from: &str) -> Result<(), Error> {
        self.apart(to, &format!("{from}/linear_0"), &["query"])?;
        self.apart(to, &format!("{from}/linear_1"), &["key", "value"])?;
        self.linear(&format!("{to}.out"), &format!("{from}/linear_2"))
    }
}
