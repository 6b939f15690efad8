//! What a page says, in the order it is drawn.

use std::collections::HashMap;

use hayro_syntax::content::ops::TypedInstruction;
use hayro_syntax::object::stream::Stream;
use hayro_syntax::object::{MaybeRef, Object};
use hayro_syntax::page::Page;

/// More runs than this are not on one of our pages; a stranger's page is read no further.
const MOST_RUNS: usize = 3000;
/// Longer runs do not occur on our pages; a stranger's are cut.
const MOST_RUN: usize = 400;

/// The text of a page: a run per block of text.
pub fn runs(page: &Page<'_>) -> Vec<String> {
    let mut runs = Vec::new();
    let mut fonts = HashMap::new();
    let mut font: Option<Vec<u8>> = None;
    let mut run = String::new();
    let mut operations = page.typed_operations();
    while let Some(operation) = operations.next().filter(|_| runs.len() < MOST_RUNS) {
        let letters = font.as_ref().and_then(|name| fonts.get(name));
        match operation {
            TypedInstruction::TextFont(set) => {
                let name = set.0.as_ref().to_vec();
                fonts.entry(name.clone()).or_insert_with(|| {
                    let dict = page.resources().get_font(set.0);
                    let map = dict.and_then(|dict| dict.get::<Stream<'_>>("ToUnicode"));
                    map.and_then(|map| map.decoded().ok().map(|map| letters_of(&map)))
                        .unwrap_or_default()
                });
                font = Some(name);
            }
            TypedInstruction::ShowText(shown) => said(&mut run, shown.0.as_bytes(), letters),
            TypedInstruction::ShowTexts(shown) => {
                // Strings, and between them numbers that move the next one.
                for item in shown.0.raw_iter() {
                    if let MaybeRef::NotRef(Object::String(string)) = item {
                        said(&mut run, string.as_bytes(), letters);
                    }
                }
            }
            TypedInstruction::EndText(_) if !run.trim().is_empty() => {
                runs.push(std::mem::take(&mut run).trim().to_owned());
            }
            TypedInstruction::EndText(_) => run.clear(),
            _ => {}
        }
    }
    runs
}

/// Adds glyphs by their letters; one whose letter is not known is shown as such.
fn said(run: &mut String, glyphs: &[u8], letters: Option<&HashMap<u16, String>>) {
    for pair in glyphs.chunks(2) {
        if run.len() > MOST_RUN {
            return;
        }
        let glyph = pair.iter().fold(0, |number, &byte| (number << 8) | u16::from(byte));
        match letters.and_then(|letters| letters.get(&glyph)) {
            Some(letter) => run.push_str(letter),
            None => run.push(char::REPLACEMENT_CHARACTER),
        }
    }
}

/// The letters of a font's glyphs, from its `ToUnicode` (ISO 32000-1, 9.10.3). The typesetter
/// writes two bytes a glyph.
fn letters_of(map: &[u8]) -> HashMap<u16, String> {
    let text = String::from_utf8_lossy(map);
    let mut letters = HashMap::new();
    for (start, end, width) in [("beginbfchar", "endbfchar", 2), ("beginbfrange", "endbfrange", 3)]
    {
        for section in text.split(start).skip(1) {
            let section = section.split(end).next().unwrap_or_default();
            let words: Vec<Vec<u16>> = section
                .split('<')
                .skip(1)
                .filter_map(|part| part.split('>').next().map(units))
                .collect();
            for entry in words.chunks_exact(width) {
                let (Some(&first), Some(to)) = (entry[0].first(), entry.last()) else { continue };
                let last =
                    if width == 3 { entry[1].first().copied().unwrap_or(first) } else { first };
                for glyph in first..=last {
                    let mut to = to.clone();
                    if let Some(unit) = to.last_mut() {
                        *unit = unit.wrapping_add(glyph - first);
                    }
                    letters.insert(glyph, String::from_utf16_lossy(&to));
                }
            }
        }
    }
    letters
}

/// Hex digits as 16-bit units.
fn units(hex: &str) -> Vec<u16> {
    let digits: String = hex.chars().filter(char::is_ascii_hexdigit).collect();
    let unit = |four: &[u8]| {
        std::str::from_utf8(four).ok().and_then(|four| u16::from_str_radix(four, 16).ok())
    };
    digits.as_bytes().chunks(4).filter_map(unit).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn glyphs_get_the_letters_their_font_says() {
        let map = b"2 beginbfchar\n<0005> <0041>\n<0007> <00660069>\nendbfchar\n\
                    1 beginbfrange\n<0010> <0012> <0030>\nendbfrange";
        let letters = letters_of(map);
        let mut run = String::new();
        said(&mut run, &[0, 5, 0, 7, 0, 0x11, 0, 9], Some(&letters));
        assert_eq!(run, "Afi1\u{fffd}");
    }
}
