//! Utterance by utterance. Spoken forms, and forms the recogniser prints.

use borespoke_core::quantity::PressureUnit;
use borespoke_speech::language::{Context, Expect, Language, Meaning};

use crate::contexts::{cranked, cylinder, in_unit, leaked, six};
use crate::notation::understood;

fn check(context: &Context, rows: &[(&str, &str)]) {
    let language = Language::new(context);
    let wrong: Vec<String> = rows
        .iter()
        .filter_map(|(text, want)| {
            let got = understood(&language.understand(text));
            (got != *want).then(|| format!("{text:?}\n  want {want}\n  got  {got}"))
        })
        .collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}

#[test]
fn a_cranking_pressure_in_every_style() {
    check(
        &cranked(),
        &[
            (" Cylinder 3, 145 psi.", "[3] 145 psi"),
            (" Cylinder three 145 psi", "[3] 145 psi"),
            (" Cylinder 3: 145 PSI.", "[3] 145 psi"),
            ("cylinder three one forty-five", "[3] 145 psi"),
            ("cylinder three one forty five pounds", "[3] 145 psi"),
            ("cylinder three, one hundred and forty-five psi", "[3] 145 psi"),
            ("cylinder three, a hundred and five", "[3] 105 psi"),
            ("cylinder three, one-ten", "[3] 110 psi"),
            ("cylinder three two oh nine", "[3] 209 psi"),
            ("cylinder three one hundred ten", "[3] 110 psi"),
            ("Cylinder 3, 1-45 P.S.I.", "[3] 145 psi"),
            ("Cylinder 3, 1 45", "[3] 145 psi"),
            ("Cylinder 3, 100 and 45 psi", "[3] 145 psi"),
            ("number two, one ten", "[2] 110 psi"),
            ("Number 2, 110.", "[2] 110 psi"),
            ("No. 2, 110.", "[2] 110 psi"),
            ("pot four one sixty", "[4] 160 psi"),
            ("hole six, one fifty-five", "[6] 155 psi"),
            ("cyl 6 155", "[6] 155 psi"),
            ("Cylinder for 160 psi", "[4] 160 psi"),
            ("Cylinder to 160 psi", "[2] 160 psi"),
            ("Cylinder too 160 psi", "[2] 160 psi"),
            ("Cylinder won, 150.", "[1] 150 psi"),
            ("Cylinder tree 150", "[3] 150 psi"),
            ("Cylinder 2145 psi", "[2] 145 psi"),
            ("Cylinder 3.145 psi", "[3] 145 psi"),
            ("145 psi", "(5) 145 psi"),
            ("One forty-five.", "(5) 145 psi"),
            (" 145.", "(5) 145 psi"),
            ("one forty-five on cylinder three", "[3] 145 psi"),
            ("145 psi on number 3", "[3] 145 psi"),
            ("Three, one forty-five", "[3] 145 psi"),
            ("3: 145", "[3] 145 psi"),
            ("okay, cylinder three is one forty-five", "[3] 145 psi"),
            ("So cylinder three reads 145 psi.", "[3] 145 psi"),
            ("cylinder three is showing one forty-five psi", "[3] 145 psi"),
            ("Cylinder three's at one forty-five", "[3] 145 psi"),
            ("cylinder three about one forty", "[3] ~140 psi"),
            ("cylinder three, call it one forty", "[3] ~140 psi"),
            ("cylinder three roughly one forty psi", "[3] ~140 psi"),
            ("cylinder three one forty or so", "[3] ~140 psi"),
            ("cylinder three one forty, one forty-five", "[3] 140 psi to 145 psi"),
            ("cylinder three between one forty and one forty-five", "[3] 140 psi to 145 psi"),
            ("cylinder three 140 to 145 psi", "[3] 140 psi to 145 psi"),
            ("cylinder three 140-145 psi", "[3] 140 psi to 145 psi"),
            ("cylinder three one forty wet", "[3] 140 psi wet"),
            ("cylinder three wet one forty", "[3] 140 psi wet"),
            ("cylinder three dry one ten", "[3] 110 psi"),
            ("cylinder three one forty with oil", "[3] 140 psi wet"),
            ("first stroke sixty", "(5) 60 psi after 1"),
            ("cylinder two first stroke sixty psi", "[2] 60 psi after 1"),
            ("cylinder two sixty on the first stroke", "[2] 60 psi after 1"),
            ("cylinder two after 3 strokes 120 psi", "[2] 120 psi after 3"),
            ("cylinder two stroke two ninety", "[2] 90 psi after 2"),
            ("cylinder three ten point five bar", "[3] 10.5 bar"),
            ("Cylinder 3, 10.5 bar.", "[3] 10.5 bar"),
            ("cylinder three, point eight bar", "[3] 0.8 bar"),
            ("Cylinder 3, .8 bar", "[3] 0.8 bar"),
            ("cylinder three nine and a half bar", "[3] 9.5 bar"),
            ("cylinder three twelve hundred kay pea ay", "[3] 1200 kPa"),
            ("cylinder three twelve hundred kilopascals", "[3] 1200 kPa"),
            ("Cylinder 3, 1,034 kPa.", "[3] 1034 kPa"),
            ("Cylinder 3, one thousand and thirty-four kPa", "[3] 1034 kPa"),
            ("cylinder three ten kilos", "[3] 10 kgf/cm2"),
            ("Cylinder 3, 10.5 kg", "[3] 10.5 kgf/cm2"),
            ("cylinder three compression one forty", "[3] 140 psi"),
            ("cylinder three zero psi", "[3] 0 psi"),
            ("cylinder four is low, one fifty-three psi", "[4] 153 psi"),
            ("cylinder number six comes up at one fifty", "[6] 150 psi"),
            ("I've got one fifty on number three", "[3] 150 psi"),
            ("cylinder three six oh psi", "[3] 60 psi"),
            ("that's one fifty", "(5) 150 psi"),
            ("two reads one five one psi", "[2] 151 psi"),
            ("three, ninety-nine wet", "[3] 99 psi wet"),
            ("cylinder three one four five psi", "[3] 145 psi"),
        ],
    );
}

/// "One, six fifty" is printed like a number of thousands.
#[test]
fn a_comma_between_digits_is_not_decided_by_the_printer() {
    check(
        &in_unit(PressureUnit::Kilopascal),
        &[
            ("1,650 kPa", "remark; !either [1] 650 kPa or (5) 1650 kPa"),
            ("Cylinder 3, 1,034 kPa.", "[3] 1034 kPa"),
            ("Cylinder 1, 650 kPa.", "[1] 650 kPa"),
        ],
    );
}

#[test]
fn the_unit_in_hand_is_taken_when_none_is_said() {
    check(&in_unit(PressureUnit::Bar), &[("cylinder three ten point five", "[3] 10.5 bar")]);
    check(&in_unit(PressureUnit::Kilopascal), &[("cylinder three ten fifty", "[3] 1050 kPa")]);
    check(&in_unit(PressureUnit::KgfPerCm2), &[("Cylinder 3, 11.5", "[3] 11.5 kgf/cm2")]);
}

#[test]
fn several_readings_in_one_breath() {
    check(
        &cranked(),
        &[
            ("cylinder two one ten dry, one forty wet", "[2] 110 psi; (2) 140 psi wet"),
            ("Number two, one ten dry, one forty wet.", "[2] 110 psi; (2) 140 psi wet"),
            ("Cylinder 2, 110 dry, 140 wet.", "[2] 110 psi; (2) 140 psi wet"),
            ("Cylinder 2. 110 dry. 140 wet.", "[2] 110 psi; (2) 140 psi wet"),
            ("cylinder two 110 dry and 140 wet psi", "[2] 110 psi; (2) 140 psi wet"),
            ("cylinder two dry one ten wet one forty", "[2] 110 psi; (2) 140 psi wet"),
            ("one: one fifty, two: one forty-five", "[1] 150 psi; [2] 145 psi"),
            (" One, 150. Two, 145. Three, 160.", "[1] 150 psi; [2] 145 psi; [3] 160 psi"),
            (
                "cylinder one 150, cylinder two 145, cylinder three 160",
                "[1] 150 psi; [2] 145 psi; [3] 160 psi",
            ),
            ("Cylinder 1, 150. Cylinder 2, 145.", "[1] 150 psi; [2] 145 psi"),
            (
                "cylinder one first stroke sixty, second stroke one ten, final one fifty",
                "[1] 60 psi after 1; (1) 110 psi after 2; (1) 150 psi",
            ),
            ("cylinder three 150 psi and cylinder four 20 percent", "[3] 150 psi; [4] 20 %"),
        ],
    );
}

#[test]
fn corrections() {
    check(
        &cranked(),
        &[
            ("no, one forty", "correct last: (1) 140 psi"),
            (" No, 140.", "correct last: (1) 140 psi"),
            (" No. 140.", "correct last: (1) 140 psi"),
            ("sorry, one forty", "correct last: (1) 140 psi"),
            ("make that one forty", "correct last: (1) 140 psi"),
            ("No, make that 140.", "correct last: (1) 140 psi"),
            ("sorry, make that one forty psi", "correct last: (1) 140 psi"),
            ("correction on cylinder three, one forty", "correct [3]: [3] 140 psi"),
            ("correct number three to one forty psi", "correct [3]: [3] 140 psi"),
            ("Change cylinder 3 to 140.", "correct [3]: [3] 140 psi"),
            ("cylinder three should be one forty", "correct [3]: [3] 140 psi"),
            ("make cylinder three one forty", "correct [3]: [3] 140 psi"),
            ("correction, one forty", "correct last: (1) 140 psi"),
            ("Correction: 140.", "correct last: (1) 140 psi"),
            ("no wait, one forty", "correct last: (1) 140 psi"),
            ("I mean one forty", "correct last: (1) 140 psi"),
            ("not one fifty, one forty", "correct last: (1) 140 psi"),
            ("no, cylinder three is one ten", "correct [3]: [3] 110 psi"),
            ("scratch that, cylinder three is one ten", "correct [3]: [3] 110 psi"),
            ("correction cylinder three one ten", "correct [3]: [3] 110 psi"),
            ("no, cylinder two", "correct last: [2] 150 psi"),
            ("sorry, that was cylinder four", "correct last: [4] 150 psi"),
            ("that was cylinder four", "correct last: [4] 150 psi"),
            // Said of the next one as well as of the last.
            ("that's cylinder four", "skip to 4"),
            ("sorry, wet", "correct last: (1) 150 psi wet"),
            ("that was wet", "correct last: (1) 150 psi wet"),
            ("no, one forty wet", "correct last: (1) 140 psi wet"),
            ("sorry, kPa", "correct last: (1) 150 kPa"),
            ("no, about one forty", "correct last: (1) ~140 psi"),
            ("cylinder two one fifty, no, one forty", "[2] 140 psi"),
            ("Cylinder 2, 150. No, 140.", "[2] 140 psi"),
            ("one fifty, no, one forty", "(5) 140 psi"),
            ("one fifty, sorry, one forty", "(5) 140 psi"),
            ("cylinder two one forty bar, no, psi", "[2] 140 psi"),
            ("cylinder three one fifty, no, cylinder four, one fifty", "[4] 150 psi"),
            ("cylinder three one fifty, no, cylinder four", "[4] 150 psi"),
            ("cylinder two 150 psi, sorry, wet", "[2] 150 psi wet"),
            ("no", "remark; !correction unclear"),
            ("no wait", "remark; !correction unclear"),
            ("Cylinder 2, 150. No, wait.", "remark; !correction unclear"),
        ],
    );
    check(
        &leaked(),
        &[
            ("no, twelve", "correct last: (1) 12 %"),
            ("sorry, 12%", "correct last: (1) 12 %"),
            ("No, 12.", "correct last: (1) 12 %"),
        ],
    );
    check(&six(Expect::Cranking), &[("no, one forty", "remark; !nothing earlier")]);
}

#[test]
fn a_leak_down_in_every_style() {
    check(
        &leaked(),
        &[
            (" Cylinder 3, 23%.", "[3] 23 %"),
            ("Cylinder three, 23 percent.", "[3] 23 %"),
            ("cylinder three twenty-three per cent", "[3] 23 %"),
            ("cylinder three twenty three", "[3] 23 %"),
            ("cylinder three twenty-three, twenty-four", "[3] 23 % to 24 %"),
            ("cylinder three twenty-three, twenty-four percent", "[3] 23 % to 24 %"),
            ("Cylinder 3, 23-24%.", "[3] 23 % to 24 %"),
            ("Cylinder 3, 20-3%.", "[3] 23 %"),
            ("between twenty and twenty-two percent on cylinder four", "[4] 20 % to 22 %"),
            ("Cylinder 3 nine and a half percent", "[3] 9.5 %"),
            ("Cylinder 3, 9.5%", "[3] 9.5 %"),
            ("cylinder three leak twenty-three", "[3] 23 %"),
            ("leak-down on cylinder three, twenty-three", "[3] 23 %"),
            ("number three is losing 23 percent", "[3] 23 %"),
            ("cylinder three leak down 23 percent", "[3] 23 %"),
            ("cylinder three leakage is about 20%", "[3] ~20 %"),
            ("twenty-three percent", "(5) 23 %"),
            ("23.", "(5) 23 %"),
            ("after tapping twelve percent", "(1) 12 % tapped"),
            ("seventeen, eighteen percent on cylinder three", "[3] 17 % to 18 %"),
            ("Leak-down on six, two percent.", "[6] 2 %"),
            ("six, two percent", "[6] 2 %"),
            // A range, or a cylinder and its number: not to be decided here.
            ("that's four, five percent", "remark; !unlikely"),
            ("six, four, five", "remark; !unlikely"),
            ("cylinder three twelve percent after tapping", "[3] 12 % tapped"),
            ("cylinder three thirty percent, after tapping twelve", "[3] 30 %; (3) 12 % tapped"),
            ("cylinder three seventy-two over eighty", "[3] 72 psi of 80 psi"),
            ("Cylinder 3, 72 / 80.", "[3] 72 psi of 80 psi"),
            ("Cylinder 3, 72/80 psi", "[3] 72 psi of 80 psi"),
            ("hissing at the tailpipe", "(1) air exhaust"),
            ("Hissing at the tail pipe.", "(1) air exhaust"),
            ("air in the oil filler", "(1) air oil filler"),
            ("bubbles in the radiator", "(1) air coolant"),
            ("air at the intake", "(1) air intake"),
            ("air out of the dipstick", "(1) air oil filler"),
            ("hissing from the next plug hole", "(1) air next plug hole"),
            ("air at the fitting", "(1) air fitting"),
            ("nothing", "(1) air nowhere"),
            ("no air", "(1) air nowhere"),
            ("cylinder three air at the exhaust", "[3] air exhaust"),
            (
                "cylinder three twenty-three percent, hissing at the tailpipe",
                "[3] 23 %; (3) air exhaust",
            ),
            ("air at the intake and the exhaust", "(1) air intake; (1) air exhaust"),
            ("I can hear it in the intake", "(1) air intake"),
            ("air coming out of the dipstick tube on number three", "[3] air oil filler"),
            ("on cylinder three the air comes out of the throttle body", "[3] air intake"),
            ("it's blowing out of the exhaust pipe", "(1) air exhaust"),
        ],
    );
}

#[test]
fn plugs() {
    check(
        &six(Expect::Plugs),
        &[
            ("Plug three is sooty.", "[3] dry soot"),
            ("number three's black and oily", "[3] wet with oil"),
            ("plug 2, wet with fuel", "[2] wet with fuel"),
            ("plug two white and blistered", "[2] burnt white"),
            ("plug four is tan", "[4] normal"),
            ("Plug four looks good.", "[4] normal"),
            ("plug four is fine", "[4] normal"),
            ("cylinder four grey", "[4] normal"),
            ("cylinder four glazed", "[4] glazed"),
            ("plug five gap bridged", "[5] gap bridged"),
            ("plug five white ash", "[5] ash"),
            ("plug five has white ash", "[5] ash"),
            ("plug five melted electrode", "[5] melted"),
            ("plug five cracked insulator", "[5] cracked"),
            ("plug five specks of metal", "[5] metal specks"),
            ("plug five sooty and worn", "[5] dry soot + worn"),
            ("sooty", "(1) dry soot"),
            ("number three plug is covered in ash", "[3] ash"),
            ("the plug from cylinder three, this one is black, dry carbon", "[3] dry soot"),
            ("this one is bridged across the gap", "(1) gap bridged"),
            ("gap on cylinder three, thirty-five thou", "[3] gap 35 thou"),
            ("plug gap on number three is one point one millimetre", "[3] gap 1.1 mm"),
            ("oily and worn", "(1) wet with oil + worn"),
            ("plug one black", "remark [1]; !plug unclear"),
            ("good", "remark; !unlikely"),
            ("gap thirty-five thou", "(1) gap 35 thou"),
            ("Gap 35 thou.", "(1) gap 35 thou"),
            ("cylinder two gap point nine millimetres", "[2] gap 0.9 mm"),
            ("plug two gap 0.9 mm", "[2] gap 0.9 mm"),
            ("plug two gap thirty-five", "[2] gap 35 thou"),
            ("plug two thirty-five thou", "[2] gap 35 thou"),
            ("plug two sooty, gap forty thou", "[2] dry soot; (2) gap 40 thou"),
        ],
    );
}

#[test]
fn the_other_acts() {
    check(
        &cranked(),
        &[
            ("take that back", "withdraw last"),
            (" Take that back.", "withdraw last"),
            ("delete the last", "withdraw last"),
            ("delete the last one", "withdraw last"),
            ("scratch that", "withdraw last"),
            ("undo", "withdraw last"),
            ("forget cylinder three", "withdraw [3]"),
            ("delete cylinder 3", "withdraw [3]"),
            ("no, take that back", "withdraw last"),
            ("same again", "again 5 as last"),
            ("Same.", "again 5 as last"),
            ("cylinder four same again", "again 4 as last"),
            ("cylinder four, same as cylinder two", "again 4 as [2]"),
            ("skip to cylinder five", "skip to 5"),
            ("Skip to 5.", "skip to 5"),
            ("go to number two", "skip to 2"),
            ("cylinder five", "skip to 5"),
            ("skip", "skip"),
            ("next cylinder", "skip"),
            ("what's next", "next step"),
            ("What's next?", "next step"),
            ("what should I do next", "next step"),
            ("stop listening", "stop"),
            ("switch to bar", "unit bar"),
            ("take that back, cylinder three one ten", "withdraw last; [3] 110 psi"),
            ("cylinder three one ten. Take that back.", ""),
        ],
    );
}

#[test]
fn what_cannot_be_is_refused() {
    check(
        &cranked(),
        &[
            ("cylinder seven one forty", "remark; !no such cylinder"),
            ("cylinder 7, 145 psi", "remark; !no such cylinder"),
            ("cylinder three 900 percent", "remark [3]; !out of range"),
            ("cylinder three minus five psi", "remark [3]; !out of range"),
            ("Cylinder 3, -5 psi", "remark [3]; !out of range"),
            ("cylinder three 5000 psi", "remark [3]; !out of range"),
            ("cylinder zero one forty", "remark; !no such cylinder"),
        ],
    );
    check(
        &six(Expect::Anything),
        &[
            ("cylinder three forty-five", "remark [3]; !either [3] 45 psi or [3] 45 %"),
            ("cylinder three one forty-five", "[3] 145 psi"),
            ("Cylinder 3, 23%.", "[3] 23 %"),
            ("plug three is sooty", "[3] dry soot"),
        ],
    );
}

const SMALL_TALK: [&str; 38] = [
    "I'll be there at three forty-five",
    "I'll be there at 3:45.",
    "pass me the fourteen millimetre",
    "Pass me the 14mm.",
    "number two son called",
    "my number two son called at one ten",
    "the radio says it's going to rain",
    "did you order the gaskets for the other car",
    "he wants one hundred and fifty for it",
    "it's done about one forty thousand miles",
    "can you turn the compressor off",
    "that bolt goes to forty-five foot pounds",
    "the customer is coming at ten thirty",
    "call me back on 07700 900145",
    "That's $145 for the head gasket.",
    "two sugars please",
    "give me five minutes",
    "I had a six cylinder one once",
    "Thank you.",
    "You",
    "see you on Monday the twenty-third",
    "the exhaust is hanging off",
    "there's oil all over the floor",
    "is cylinder three the one at the back",
    "cylinder three had new rings last year",
    "I told him cylinder three was 145 last year",
    "about a hundred quid",
    "ninety percent of them fail there",
    "testing one two three",
    "where did I put the ten mil socket",
    "no idea",
    "no I don't think so",
    "sorry mate I can't hear you",
    "wait for me",
    "the white one",
    "nice and clean in here",
    "good morning",
    "it was fine last week",
];

#[test]
fn small_talk_is_never_a_reading() {
    for context in [cranked(), leaked(), six(Expect::Plugs), six(Expect::Anything)] {
        let language = Language::new(&context);
        let wrong: Vec<_> = SMALL_TALK
            .iter()
            .map(|text| (text, language.understand(text)))
            .filter(|(_, heard)| heard.meanings.iter().any(Meaning::is_act))
            .map(|(text, heard)| format!("{text:?}: {}", understood(&heard)))
            .collect();
        assert!(wrong.is_empty(), "{:?}\n{}", context.expect, wrong.join("\n"));
    }
}

#[test]
fn what_is_not_speech_is_nothing() {
    check(
        &cranked(),
        &[("", ""), (" [BLANK_AUDIO]", ""), (" (wind blowing)", ""), ("...", ""), (" - ", "")],
    );
}

#[test]
fn a_remark_keeps_its_cylinder_and_its_words() {
    let language = Language::new(&cranked());
    let heard = language.understand(" Cylinder three had new rings last year.");
    let want = Meaning::Remark {
        cylinder: Some(cylinder(3)),
        text: "Cylinder three had new rings last year".to_owned(),
    };
    assert_eq!(heard.meanings, [want]);
}

#[test]
fn talk_beside_a_reading_stays_talk() {
    check(
        &cranked(),
        &[
            ("Cylinder 3, 145 psi. Pass me the rag.", "[3] 145 psi; remark"),
            ("Hold this. Cylinder 3, 145 psi.", "remark; [3] 145 psi"),
        ],
    );
}

#[test]
fn two_readings_of_one_kind_in_a_breath_are_not_taken() {
    check(
        &cranked(),
        &[
            ("cylinder six, 7 psi, cylinder six, 205 psi", "remark; !two readings of 6"),
            ("cylinder six, 120 psi dry, 140 psi wet", "[6] 120 psi; (6) 140 psi wet"),
            ("cylinder six, 120, no, 140 psi", "[6] 140 psi"),
        ],
    );
}
