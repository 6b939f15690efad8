//! Engines of every size, both papers.

use borespoke_handover::{Paper, typeset};

use crate::sample::{empty, full, laid_out, pages, text_of, tool};

#[test]
fn engines_of_every_size_fit_their_pages() {
    for (cylinders, most) in [(1, 2), (2, 2), (4, 2), (6, 2), (8, 3), (12, 3), (18, 4)] {
        let data = full(cylinders);
        let (pages, laid_out) = (pages(&data), laid_out(&data));
        assert!(pages.len() <= most, "{cylinders} cylinders: {} pages", pages.len());
        assert!(pages[0].contains("come before this document"), "{cylinders} cylinders: page 1");
        // Up to eight stand side by side, more one under the other.
        let side_by_side = laid_out.concat().lines().any(|line| {
            let words: Vec<_> = line.split_whitespace().collect();
            let numbers: Vec<_> = (1..=cylinders).map(|number| number.to_string()).collect();
            words.first() == Some(&"Cylinder") && words[1..] == numbers
        });
        assert_eq!(side_by_side, cylinders <= 8, "{cylinders} cylinders side by side");
        for cylinder in (1..=cylinders).filter(|_| !side_by_side) {
            let row = format!("{cylinder} ");
            let found = laid_out.concat().lines().any(|line| line.trim_start().starts_with(&row));
            assert!(found, "{cylinders} cylinders: no row of {cylinder}");
        }
    }
}

#[test]
fn an_empty_job_of_every_size_is_a_document() {
    for cylinders in [1, 6, 18] {
        assert_eq!(pages(&empty(cylinders)).len(), 2);
    }
}

#[test]
fn the_paper_is_the_one_asked_for() {
    // ISO 216: 210 by 297 mm; ASME Y14.1: 8.5 by 11 inches; a point is 1/72 inch.
    for (paper, size) in [(Paper::A4, "595.276 x 841.89 pts"), (Paper::Letter, "612 x 792 pts")] {
        let pdf = typeset(&full(6), paper).unwrap();
        let info = String::from_utf8(tool("pdfinfo", &["{}"], &pdf)).unwrap();
        assert!(info.contains(size), "{info}");
        assert!(text_of(&pdf, &[]).len() <= 3);
    }
}
