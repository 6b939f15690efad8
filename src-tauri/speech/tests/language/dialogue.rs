//! What meanings do to a job's log, and what is said and asked.

use borespoke_core::engine::{Engine, FiringOrder};
use borespoke_core::record::{
    Act, Bore, CylinderTable, Digest, Entry, EntryId, Log, Look, Observation, Origin, Valves,
};
use borespoke_speech::dialogue::{Answer, Cue, Effect, Question, Refusal, context, reply};
use borespoke_speech::language::{Context, Expect, Language, Meaning, Which};
use jiff::Timestamp;
use uuid::Uuid;

use crate::contexts::{cranked, cylinder, leaked, six};

/// A job that is talked through: every clear act goes into the log.
struct Talk {
    engine: Engine,
    log: Log,
    expect: Expect,
    said: Vec<String>,
    cues: Vec<Cue>,
}

impl Talk {
    fn new(expect: Expect) -> Self {
        let engine = Engine::new(FiringOrder::new([1, 5, 3, 6, 2, 4]).unwrap(), None).unwrap();
        Self { engine, log: Log::new(), expect, said: Vec::new(), cues: Vec::new() }
    }

    fn context(&self) -> Context {
        context(&self.engine, &self.log, self.expect)
    }

    fn log(&mut self, act: Act) {
        let id = EntryId(Uuid::from_u128(self.log.entries().len() as u128 + 1));
        let (at, origin) = (Timestamp::UNIX_EPOCH, Origin::Typed);
        self.log.append(Entry { id, at, origin, act }).unwrap();
    }

    fn say(&mut self, text: &str) {
        let context = self.context();
        let heard = Language::new(&context).understand(text);
        assert!(heard.problems.is_empty(), "{text}: {:?}", heard.problems);
        for meaning in &heard.meanings {
            let answer = reply(&context, &self.log, meaning).unwrap();
            if let Effect::Log(act) = answer.effect {
                self.log(act);
            }
            self.said.push(answer.words);
            self.cues.push(answer.cue);
        }
    }

    fn table(&self) -> Vec<String> {
        let table = CylinderTable::new(&self.engine, &self.log);
        let cell = |value: Option<String>| value.unwrap_or_else(|| "-".to_owned());
        table
            .rows
            .iter()
            .map(|row| {
                let dry = cell(row.dry.map(|read| read.value.value().to_string()));
                let wet = cell(row.wet.map(|read| read.value.value().to_string()));
                format!("{dry}/{wet}")
            })
            .collect()
    }
}

#[test]
fn a_round_of_cranking_pressures_follows_the_firing_order() {
    let mut talk = Talk::new(Expect::Cranking);
    for text in ["one fifty", "155", "one forty-five", "one sixty", "cylinder two, one ten", "150"]
    {
        talk.say(text);
    }
    // Firing order 1-5-3-6-2-4.
    assert_eq!(talk.table(), ["150/-", "110/-", "145/-", "150/-", "155/-", "160/-"]);
    assert_eq!(talk.context().bore, Bore::Wet);
    talk.say("cylinder two, one forty");
    assert_eq!(talk.table()[1], "110/140");
}

#[test]
fn a_cylinder_named_out_of_order_is_not_asked_for_again() {
    let mut talk = Talk::new(Expect::Cranking);
    talk.say("cylinder five, one fifty");
    talk.say("cylinder one, one fifty");
    assert_eq!(talk.context().next, Some(cylinder(3)));
}

#[test]
fn corrections_point_at_what_is_meant() {
    let mut talk = Talk::new(Expect::Cranking);
    talk.say("cylinder one, one fifty");
    talk.say("cylinder two, one ten");
    talk.say("no, one twenty");
    assert_eq!(talk.table()[..2], ["150/-", "120/-"]);
    talk.say("correction, cylinder one, one forty");
    assert_eq!(talk.table()[..2], ["140/-", "120/-"]);
    talk.say("sorry, that was cylinder three");
    assert_eq!(talk.table()[..3], ["-/-", "120/-", "140/-"]);
    talk.say("scratch that, cylinder four is one thirty");
    assert_eq!(talk.table()[..4], ["-/-", "120/-", "-/-", "130/-"]);
}

#[test]
fn a_correction_displaces_only_what_it_can_be_of() {
    let mut talk = Talk::new(Expect::Anything);
    talk.say("cylinder one, 150 psi");
    talk.say("cylinder two, 8 percent leak");
    talk.say("note the belt squeals");
    // Cylinder three has no pressure, and the last thing said was no pressure: it is a reading.
    talk.say("no, cylinder three is 140 psi");
    assert_eq!(talk.table()[..3], ["150/-", "-/-", "140/-"]);
    // The last reading is meant, not the remark after it.
    talk.say("note it is cold in here");
    talk.say("take that back");
    assert_eq!(talk.table()[..3], ["150/-", "-/-", "-/-"]);
}

#[test]
fn taking_back_and_saying_again() {
    let mut talk = Talk::new(Expect::Cranking);
    talk.say("cylinder one, one fifty");
    talk.say("same again");
    assert_eq!(talk.table()[4], "150/-");
    talk.say("take that back");
    assert_eq!(talk.table()[4], "-/-");
    talk.say("cylinder two, same as cylinder one");
    assert_eq!(talk.table()[1], "150/-");
    talk.say("forget cylinder one");
    assert_eq!(talk.table()[..2], ["-/-", "150/-"]);
    assert_eq!(
        talk.cues,
        [Cue::Accepted, Cue::Accepted, Cue::Changed, Cue::Accepted, Cue::Changed]
    );
}

#[test]
fn both_readings_in_a_breath_and_the_unit_put_right() {
    let mut talk = Talk::new(Expect::Cranking);
    talk.say("cylinder two one ten dry, one forty wet");
    assert_eq!(talk.table()[1], "110/140");
    talk.say("cylinder three ten bar");
    assert_eq!(talk.context().pressure_unit.symbol(), "bar");
    talk.say("no, psi");
    assert_eq!(talk.context().pressure_unit.symbol(), "psi");
}

#[test]
fn the_phone_says_back_what_it_wrote() {
    let mut talk = Talk::new(Expect::LeakDown);
    talk.say("cylinder three, twenty-three percent");
    talk.say("hissing at the tailpipe");
    talk.say("after tapping, about twelve");
    talk.say("no, fourteen");
    talk.say("cylinder one, twenty-three, twenty-four");
    talk.say("take that back");
    talk.say("cylinder five, seventy-two over eighty");
    talk.say("cylinder four, ten point five bar wet");
    talk.say("plug two is sooty and worn");
    talk.say("plug two gap point nine millimetres");
    assert_eq!(
        talk.said,
        [
            "cylinder three, twenty-three percent",
            "cylinder three, air at the exhaust",
            "cylinder three, about twelve percent, after tapping",
            "cylinder three, fourteen percent, after tapping, corrected",
            "cylinder one, twenty-three to twenty-four percent",
            "taken back: cylinder one, twenty-three to twenty-four percent",
            "cylinder five, seventy-two over eighty",
            "cylinder four, ten point five bar, wet",
            "cylinder two, plug dry soot, worn",
            "cylinder two, gap point nine millimetres",
        ]
    );
}

#[test]
fn a_corrected_look_keeps_its_picture() {
    let mut talk = Talk::new(Expect::Plugs);
    let picture = Digest::from_bytes([7; 32]);
    talk.log(Act::Observe {
        observation: Observation::Look(Look {
            cylinder: cylinder(2),
            signs: Vec::new(),
            picture: Some(picture),
            figures: None,
        }),
    });
    talk.say("no, plug two is oily");
    let standing = talk.log.in_force();
    let [(_, Observation::Look(look))] = standing[..] else { panic!("{standing:?}") };
    assert_eq!(look.picture, Some(picture));
    assert_eq!(look.signs.len(), 1);
}

#[test]
fn pointing_at_nothing_is_refused() {
    let empty = Log::new();
    let refusal = |meaning: Meaning| reply(&six(Expect::Cranking), &empty, &meaning).unwrap_err();
    assert_eq!(refusal(Meaning::Withdraw(Which::Last)), Refusal::NothingEarlier);
    assert_eq!(
        refusal(Meaning::Withdraw(Which::Cylinder(cylinder(3)))),
        Refusal::NothingAbout(cylinder(3))
    );
    let again = Meaning::Repeat { cylinder: cylinder(2), like: Which::Last };
    assert_eq!(refusal(again), Refusal::NothingEarlier);
}

fn question(context: &Context, one: &str, two: &str) -> Question {
    let language = Language::new(context);
    let meanings: Vec<_> =
        [one, two].iter().flat_map(|text| language.understand(text).meanings).collect();
    Question::new(&meanings)
}

#[test]
fn only_what_differs_is_asked() {
    let ask = |one, two| question(&leaked(), one, two).words();
    assert_eq!(
        ask("cylinder three 90%", "cylinder three 19%"),
        "cylinder three: ninety or nineteen?"
    );
    assert_eq!(
        ask("cylinder three 20%", "cylinder two 20%"),
        "twenty percent: cylinder three or cylinder two?"
    );
    assert_eq!(
        ask("cylinder three 30%", "cylinder two 13%"),
        "cylinder three, thirty percent, or cylinder two, thirteen percent?"
    );
    let ask = |one, two| question(&cranked(), one, two).words();
    assert_eq!(
        ask("cylinder three 150", "cylinder three 250"),
        "cylinder three: one fifty or two fifty?"
    );
    assert_eq!(
        ask("cylinder three 150 dry", "cylinder three 150 wet"),
        "cylinder three: one fifty psi or one fifty psi, wet?"
    );
}

#[test]
fn the_answer_picks_one() {
    let context = leaked();
    let asked = question(&context, "cylinder three 90%", "cylinder three 19%");
    let rows = [
        (" Ninety.", Answer::Picked(0)),
        (" 90%.", Answer::Picked(0)),
        (" nineteen", Answer::Picked(1)),
        (" 19 percent", Answer::Picked(1)),
        (" No, nineteen.", Answer::Picked(1)),
        (" Yes, ninety.", Answer::Picked(0)),
        (" The first one.", Answer::Picked(0)),
        (" Second.", Answer::Picked(1)),
        (" Cylinder 3, 19%.", Answer::Picked(1)),
        (" Neither.", Answer::Neither),
        (" No.", Answer::Neither),
        (" Yes.", Answer::Unclear),
        (" What?", Answer::Unclear),
        (" Pass me the rag.", Answer::Unclear),
    ];
    for (text, want) in rows {
        assert_eq!(asked.answer(&context, text), want, "{text}");
    }
    let Answer::Instead(said) = asked.answer(&context, " Cylinder 3, 50%.") else { panic!() };
    assert!(said.is_clear());
    let one = Question::new(&asked.offered()[..1]);
    assert_eq!(one.answer(&context, " Yes."), Answer::Picked(0));
    assert_eq!(one.answer(&context, " No."), Answer::Neither);
}

#[test]
fn the_answer_picks_a_cylinder() {
    let context = leaked();
    let asked = question(&context, "cylinder three 20%", "cylinder two 20%");
    assert_eq!(asked.answer(&context, " Two."), Answer::Picked(1));
    assert_eq!(asked.answer(&context, " Cylinder 3."), Answer::Picked(0));
    assert_eq!(asked.answer(&context, " Twenty."), Answer::Unclear);
}

#[test]
fn the_answers_match_their_pattern() {
    let asked = question(&leaked(), "cylinder three 90%", "cylinder three 19%");
    let pattern = regex_automata::meta::Regex::new(&format!("^(?:{})$", asked.pattern())).unwrap();
    for text in [" Ninety.", " 19%.", " nineteen percent", " The first one.", " Neither."] {
        assert!(pattern.is_match(text), "{text}");
    }
    assert!(!pattern.is_match(" Fifty."));
}

#[test]
fn what_goes_on_about_a_cylinder_stays_with_it() {
    let mut talk = Talk::new(Expect::LeakDown);
    talk.say("cylinder three, thirty percent");
    talk.say("after tapping twelve");
    talk.say("nothing");
    let cylinders: Vec<_> = talk
        .log
        .in_force()
        .iter()
        .map(|(_, observation)| observation.cylinder().unwrap().number())
        .collect();
    assert_eq!(cylinders, [3, 3, 3]);
    assert!(matches!(
        talk.log.in_force()[1].1,
        Observation::LeakDown(read) if read.valves == Valves::Tapped
    ));
}
