//! The short code on the buyer's page: enough to tell one sealed set of entries from another by
//! eye or with a camera.

use std::fmt;
use std::fmt::Write as _;

use borespoke_core::record::Digest;
use qrcode::{Color, EcLevel, QrCode};

use super::canonical;

/// Letters and digits that are not mistaken for one another (Crockford's base 32: no I, L, O, U).
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Bytes of the digest that the code shows: 80 bits, 16 characters.
const BYTES: usize = 10;

/// The code of a key and the end of a chain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Code(String);

impl Code {
    /// The code of what this key sealed with this last link.
    #[must_use]
    pub fn new(key: &Digest, head: &Digest) -> Self {
        let digest = canonical::digest("borespoke code 1", &[key.as_bytes(), head.as_bytes()]);
        Self(grouped(&digest.as_bytes()[..BYTES]))
    }

    /// The QR code (ISO/IEC 18004) as a drawing (SVG). `None` only if the text did not fit one,
    /// which 16 characters do.
    pub(crate) fn drawing(&self) -> Option<String> {
        // Capitals, digits, colon and hyphen: the alphanumeric mode, the smallest there is.
        let content = format!("BORESPOKE:{self}");
        let drawn = QrCode::with_error_correction_level(content, EcLevel::M).ok()?;
        Some(svg(&drawn))
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Bytes in base 32, in groups of four: "7K2M-Q0XA-…".
pub fn grouped(bytes: &[u8]) -> String {
    let mut text = String::new();
    let (mut held, mut bits) = (0_u32, 0_u32);
    let mut written = 0;
    for &byte in bytes {
        held = (held << 8) | u32::from(byte);
        bits += 8;
        while bits >= 5 {
            bits -= 5;
            if written > 0 && written % 4 == 0 {
                text.push('-');
            }
            text.push(char::from(ALPHABET[((held >> bits) & 31) as usize]));
            held &= (1 << bits) - 1;
            written += 1;
        }
    }
    text
}

/// One path, a rectangle per run of dark modules, inside the quiet zone of four modules that the
/// standard asks for.
fn svg(drawn: &QrCode) -> String {
    const QUIET: usize = 4;
    let width = drawn.width();
    let modules = drawn.to_colors();
    let mut path = String::new();
    for (y, row) in modules.chunks(width).enumerate() {
        let mut x = 0;
        while x < width {
            let run = row[x..].iter().take_while(|module| **module == Color::Dark).count();
            if run > 0 {
                // Writing into a string does not fail.
                let _ = write!(path, "M{} {}h{run}v1h-{run}z", x + QUIET, y + QUIET);
            }
            x += run.max(1);
        }
    }
    let side = width + 2 * QUIET;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" width=\"{side}\" \
         height=\"{side}\"><path d=\"{path}\" fill=\"#000\"/></svg>"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn eighty_bits_are_sixteen_characters_in_fours() {
        assert_eq!(grouped(&[0; 10]), "0000-0000-0000-0000");
        assert_eq!(grouped(&[0xff; 10]), "ZZZZ-ZZZZ-ZZZZ-ZZZZ");
        assert_eq!(grouped(&[0b0000_1000, 0, 0, 0, 0]), "1000-0000");
    }

    #[test]
    fn another_key_or_another_end_gives_another_code() {
        let digest = |byte| Digest::from_bytes([byte; 32]);
        let code = Code::new(&digest(1), &digest(2));
        assert_ne!(code, Code::new(&digest(1), &digest(3)));
        assert_ne!(code, Code::new(&digest(3), &digest(2)));
    }
}
