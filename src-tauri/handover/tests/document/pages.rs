//! What stands on which page.

use borespoke_core::judgement::{Conflict, Finding};
use borespoke_core::quantity::PressureUnit;

use crate::sample::{empty, flowing, full, laid_out, pages};

#[track_caller]
fn has(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "missing: {part}\nin: {text}");
    }
}

#[test]
fn a_six_cylinder_job_takes_two_pages() {
    assert_eq!(pages(&full(6)).len(), 2);
}

#[test]
fn the_first_page_answers_the_buyer() {
    let page = &pages(&full(6))[0];
    has(
        page,
        &[
            "Blue estate car, 1994",
            "Ada Example",
            "Is the engine sound enough for a long trip?",
            "firing order 1-3-5-2-4-6",
            "The exhaust valve does not close fully.",
            "very likely",
            "93 %",
            "Cylinder 1: Open it up from the top",
            "Carry on. Nothing here asks for work.",
            "Tap the valves and read the leak-down again, cylinder 1",
            "about 5 minutes",
            "What was not tested",
            "How much air escapes it when shut.",
            "all 6 cylinders",
            "It does not say whether to buy.",
            "The maker's manual, local rules and a licensed workshop come before this document.",
            "Air on a cylinder can turn the engine with force.",
        ],
    );
    assert_eq!(page.matches("nothing found").count(), 5 + 1, "five cylinders and the legend");
    assert_eq!(page.matches("needs work").count(), 1 + 1, "one cylinder and the legend");
}

#[test]
fn the_strip_stands_in_firing_order() {
    let page = &laid_out(&full(6))[0];
    let numbers = |line: &str| line.split_whitespace().collect::<Vec<_>>().join(" ");
    let order = page.lines().map(numbers).find(|line| line == "1 3 5 2 4 6");
    assert!(order.is_some(), "{page}");
}

#[test]
fn the_evidence_has_every_reading_with_its_unit_and_limit() {
    let page = &pages(&full(6))[1];
    has(
        page,
        &[
            "Cranking pressure, psi",
            "Leak-down, %",
            "92",
            "145",
            "55–58",
            "7.5",
            "exhaust",
            "dry soot",
            "L* 22 a* 4 b* 14",
            "spread 4.3",
            "Cranking pressure at least 75 % of the highest cylinder's",
            "US Army TM 5-4210-230-14&P-1",
            "common practice, no source",
        ],
    );
}

#[test]
fn findings_show_the_entries_behind_them() {
    let text = flowing(&full(6));
    has(
        &text,
        &[
            "Cylinder 1: burnt exhaust valve",
            "×12",
            "dry 92 psi, far below the others",
            "very likely, 93 %; before any reading 3 %",
            "(entry 1, heard, 97 % sure)",
            "Against it: nothing strong (and 1 weaker)",
            "If so: Look at the valves.",
            "Less likely: Cylinder 1: dirt under the exhaust valve, very unlikely, 6 %.",
        ],
    );
}

#[test]
fn three_findings_are_told_and_the_rest_named() {
    let mut data = full(6);
    let first = data.judgement.findings[0].clone();
    data.judgement.findings = (1..=6)
        .map(|n| Finding {
            cause: format!("cause number {n}"),
            plain: format!("Told number {n}."),
            ..first.clone()
        })
        .collect();
    let pages = pages(&data);
    has(&pages[0], &["Told number 3.", "3 less likely findings are named with the evidence."]);
    assert!(!pages[0].contains("Told number 4."));
    has(
        &pages[1..].join(" "),
        &["Cylinder 1: cause number 3, very likely", "cause number 6, very likely, 93 %."],
    );
}

#[test]
fn corrections_and_withdrawals_stay_visible() {
    let text = flowing(&full(6));
    has(
        &text,
        &[
            "Entry 7 corrected: cylinder 1: cranking pressure with oil 98 psi, now cylinder 1: \
             cranking pressure with oil 94 psi",
            "“no, ninety four”",
            "taken back: cylinder 6: cranking pressure with oil 200 psi",
            "“take that back”",
            "cylinder 1: “oil on the thread”",
        ],
    );
}

#[test]
fn contradictions_and_assumptions_are_told() {
    let mut data = full(6);
    let entry = data.log.entries()[0].id;
    data.judgement.conflicts.push(Conflict {
        cylinder: data.table.rows[3].cylinder,
        entries: [entry, entry],
        measure: 2.0,
        says: "146 psi and 60 % do not go together".to_owned(),
    });
    let text = flowing(&data);
    has(
        &text,
        &[
            "Cylinder 4: 146 psi and 60 % do not go together",
            "Whether the battery was charged was not said.",
        ],
    );
    assert_eq!(text.matches("look closer").count(), 1 + 1 + 1, "strip, legend and table");
}

#[test]
fn a_settled_case_says_why_testing_can_stop() {
    let mut data = full(6);
    data.judgement.next_steps.clear();
    data.judgement.settled = Some("No test would change the advice.".to_owned());
    has(&pages(&data)[0], &["No test would change the advice."]);
}

#[test]
fn conditions_and_testers_say_what_is_not_known() {
    let text = flowing(&full(6));
    has(
        &text,
        &[
            "Engine: at working temperature",
            "Battery: not noted",
            "gauge one: cranking gauge, marks every 5 psi, zero check: back to zero before use",
            "leak-down set, restrictor 1.02 mm, supply 80 psi, zero check: not checked",
        ],
    );
}

#[test]
fn every_page_has_its_number_the_job_and_the_mark_of_an_invented_one() {
    let data = full(18);
    let pages = pages(&data);
    for (i, page) in pages.iter().enumerate() {
        has(
            page,
            &[&format!("Page {} of {}", i + 1, pages.len()), &data.job_id, "Invented example"],
        );
    }
}

#[test]
fn a_real_job_does_not_carry_the_mark() {
    let mut data = full(6);
    data.job.invented = false;
    assert!(!flowing(&data).contains("Invented example"));
}

#[test]
fn times_are_on_the_clock_of_the_workshop() {
    let mut data = full(6);
    data.utc_offset = jiff::tz::Offset::constant(-8);
    has(&flowing(&data), &["24 November 2026, 01:12 (UTC-08)", "entry 8, 01:16:19"]);
}

#[test]
fn an_empty_job_says_so_and_claims_nothing() {
    let text = flowing(&empty(6));
    has(
        &text,
        &[
            "Nothing was measured, so nothing can be said about the engine.",
            "Cranking pressure: not done.",
            "Leak-down: not done.",
            "Spark plugs: not done.",
            "No tester was noted.",
        ],
    );
    assert_eq!(text.matches("not measured").count(), 6 + 1 + 6, "strip, legend and table");
    assert!(!text.contains("points to a fault."), "{text}");
}

#[test]
fn sound_readings_are_good_news_only_about_what_was_tested() {
    let mut data = full(6);
    data.judgement.findings.clear();
    has(
        &flowing(&data),
        &["Nothing that was measured points to a fault.", "says nothing about what was not"],
    );
}

#[test]
fn other_units_are_converted_and_what_was_said_stays() {
    let mut data = full(6);
    let bar = borespoke_core::quantity::StatedPressure::new(9.9, PressureUnit::Bar).unwrap();
    data.table.rows[5].dry = Some(borespoke_core::record::Stated::exactly(bar));
    has(&flowing(&data), &["144 (said 9.9 bar)"]);
}
