//! Makes text of a job fit for print. Everything said or typed may hold anything: line breaks,
//! marks that turn the writing direction round, characters no font here has.

/// Printed for a character that no font of the document has.
const NO_GLYPH: char = '□';
/// An unbroken run longer than this may be broken anywhere, or it would leave its column. A job's
/// identity and the firing order of 18 cylinders stay whole.
const LONGEST_RUN: usize = 44;
/// More marks than this on one letter are not writing; they would run over the lines above.
const MOST_MARKS: usize = 2;
/// Where a line may break without a hyphen.
const BREAK: char = '\u{200b}';

/// `text` on one line, with only what can be printed. `has_glyph` says whether a font has a
/// character.
pub fn printable(text: &str, has_glyph: impl Fn(char) -> bool) -> String {
    let mut out = String::with_capacity(text.len());
    let (mut run, mut marks) = (0, 0);
    for c in text.chars() {
        if c.is_whitespace() {
            if !out.is_empty() && !out.ends_with(' ') {
                out.push(' ');
            }
            run = 0;
            continue;
        }
        if is_unwritable(c) {
            continue;
        }
        if is_mark(c) {
            marks += 1;
            if marks > MOST_MARKS || out.is_empty() {
                continue;
            }
        } else {
            marks = 0;
        }
        let c = if has_glyph(c) { c } else { NO_GLYPH };
        // One box for a whole emoji, which may be a chain of many characters.
        if c == NO_GLYPH && out.ends_with(NO_GLYPH) {
            continue;
        }
        run += 1;
        if run > LONGEST_RUN && !is_mark(c) {
            out.push(BREAK);
            run = 1;
        }
        out.push(c);
    }
    out.truncate(out.trim_end().len());
    out
}

/// At most `most` characters of `text`, with a sign where it was cut.
pub fn shortened(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        None => text.to_owned(),
        Some((end, _)) => format!("{} …", text[..end].trim_end()),
    }
}

/// Controls, direction marks, invisible joiners and selectors, private use: nothing to print, or
/// forbidden in an archived PDF (ISO 19005-3, 6.2.11.7).
fn is_unwritable(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{ad}'
                | '\u{61c}'
                | '\u{180e}'
                | '\u{200b}'..='\u{200f}'
                | '\u{202a}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{e000}'..='\u{f8ff}'
                | '\u{fe00}'..='\u{fe0f}'
                | '\u{feff}'
                | '\u{fff0}'..='\u{fffb}'
                | '\u{fffe}'..='\u{ffff}'
                | '\u{e0000}'..='\u{10ffff}'
        )
}

/// Combining diacritical marks, the blocks of that name.
const fn is_mark(c: char) -> bool {
    matches!(
        c,
        '\u{300}'..='\u{36f}' | '\u{1ab0}'..='\u{1aff}' | '\u{1dc0}'..='\u{1dff}'
            | '\u{20d0}'..='\u{20ff}' | '\u{fe20}'..='\u{fe2f}'
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(text: &str) -> String {
        printable(text, |_| true)
    }

    #[test]
    fn lines_and_tabs_become_one_space() {
        assert_eq!(all("  a\r\n\n b\tc "), "a b c");
    }

    #[test]
    fn a_mark_that_turns_the_direction_is_dropped() {
        assert_eq!(all("paid \u{202e}051\u{202c} now"), "paid 051 now");
    }

    #[test]
    fn a_chain_of_unknown_characters_is_one_box() {
        assert_eq!(printable("Ann \u{1f469}\u{200d}\u{1f527}!", |c| c.is_ascii()), "Ann □!");
    }

    #[test]
    fn a_long_run_can_be_broken() {
        let run = "x".repeat(100);
        let out = all(&run);
        assert_eq!(out.replace(BREAK, ""), run);
        assert!(out.split(BREAK).all(|part| part.len() <= LONGEST_RUN));
    }

    #[test]
    fn a_pile_of_marks_is_cut_to_two() {
        assert_eq!(all("e\u{301}\u{302}\u{303}\u{304}r"), "e\u{301}\u{302}r");
    }

    #[test]
    fn a_long_text_is_cut_with_a_sign() {
        assert_eq!(shortened("äöü ß", 4), "äöü …");
        assert_eq!(shortened("äöü", 3), "äöü");
    }
}
