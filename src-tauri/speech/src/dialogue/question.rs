//! Asking back: two readings that are both likely, the question, and the answer to it.

use super::read_back::{fact, spoken_statement};
use crate::language::number::{cylinder_at, decimals_printed, numbers_at, whole_printed};
use crate::language::words::{Word, words};
use crate::language::{
    Context, Decimal, Expect, Fact, Language, Meaning, Statement, Understood, say, say_cylinder,
};

/// A question with the readings it offers.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    offered: Vec<Meaning>,
}

/// The answer to a question.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// One of the offered readings, by its place.
    Picked(usize),
    /// None of them; it will be said again.
    Neither,
    /// Something else was said instead, and clearly.
    Instead(Understood),
    /// No answer that could be made out.
    Unclear,
}

const FIRST: [&str; 6] =
    ["first", "the first", "first one", "the first one", "former", "the former"];
const SECOND: [&str; 8] = [
    "second",
    "the second",
    "second one",
    "the second one",
    "latter",
    "the latter",
    "the last one",
    "the other one",
];
const NEITHER: [&str; 8] = [
    "neither",
    "none",
    "neither of them",
    "no neither",
    "none of them",
    "wrong",
    "neither one",
    "both wrong",
];
const YES: [&str; 8] =
    ["yes", "yeah", "yep", "right", "correct", "yes please", "that is right", "yes it is"];
const NO: [&str; 4] = ["no", "nope", "no it is not", "no wrong"];

impl Question {
    /// Asks which of the offered readings was said; of more than two, the first two.
    #[must_use]
    pub fn new(offered: &[Meaning]) -> Self {
        Self { offered: offered.iter().take(2).cloned().collect() }
    }

    /// The readings offered, likeliest first.
    #[must_use]
    pub fn offered(&self) -> &[Meaning] {
        &self.offered
    }

    /// The question in words: "cylinder three: ninety or nineteen?". Only what differs is asked.
    #[must_use]
    pub fn words(&self) -> String {
        match &self.offered[..] {
            [] => "say that again?".to_owned(),
            [one] => format!("{}?", described(one)),
            [one, two, ..] => match (statement(one), statement(two)) {
                (Some(a), Some(b)) => difference(a, b),
                _ => format!("{}, or {}?", described(one), described(two)),
            },
        }
    }

    /// A pattern of the answers, as the recogniser prints them. To be joined with the pattern of
    /// the language, for who says the whole reading again.
    #[must_use]
    pub fn pattern(&self) -> String {
        let mut ways: Vec<String> = [&FIRST[..], &SECOND[..], &NEITHER[..], &YES[..], &NO[..]]
            .into_iter()
            .flatten()
            .map(|answer| (*answer).to_owned())
            .collect();
        for said in self.offered.iter().filter_map(statement) {
            ways.extend(said.fact.number().map(printed).unwrap_or_default());
            let cylinder = u32::from(said.cylinder.number());
            ways.extend(whole_printed(cylinder).iter().map(|n| format!("cylinder {n}")));
        }
        ways.sort();
        ways.dedup();
        let cased: Vec<String> = ways
            .iter()
            .map(|way| crate::language::number::either_case(&way.replace('.', "\\.")))
            .collect();
        format!(" (?:{})(?: percent|%| psi| PSI)?[.!?]?", cased.join("|"))
    }

    /// What was answered.
    #[must_use]
    pub fn answer(&self, context: &Context, text: &str) -> Answer {
        let heard = words(text);
        let plain = plain(&heard);
        let is = |list: &[&str]| list.contains(&plain.as_str());
        let count = self.offered.len();
        if is(&FIRST) && count > 0 {
            return Answer::Picked(0);
        }
        if is(&SECOND) && count > 1 {
            return Answer::Picked(1);
        }
        if is(&NEITHER) || is(&NO) {
            return Answer::Neither;
        }
        if is(&YES) {
            // "yes" to "this or that?" does not say which.
            return if count == 1 { Answer::Picked(0) } else { Answer::Unclear };
        }
        if let Some(picked) = self.picked_by_number(&heard) {
            return Answer::Picked(picked);
        }
        let understood = Language::new(&self.asked_of(context)).understand(text);
        match (understood.is_clear(), &understood.meanings[..]) {
            // Asked for the cylinder, only the cylinder is an answer.
            (true, [said])
                if statement(said).is_some_and(|said| !said.named) && self.asks_for_cylinder() =>
            {
                Answer::Unclear
            }
            (true, [said]) => self
                .offered
                .iter()
                .position(|offered| same(offered, said))
                .map_or(Answer::Instead(understood), Answer::Picked),
            (true, _) => Answer::Instead(understood),
            (false, _) => Answer::Unclear,
        }
    }

    /// The number, or the cylinder, of exactly one of the offered readings.
    fn picked_by_number(&self, heard: &[Word]) -> Option<usize> {
        // "yes, ninety", "no, nineteen": the number is the answer.
        const LEAD: [&str; 6] = ["yes", "yeah", "no", "it", "is", "the"];
        const UNITS: [&str; 8] =
            ["percent", "psi", "pounds", "bar", "kpa", "kilopascals", "thou", "mm"];
        let from = heard.iter().take_while(|word| LEAD.iter().any(|lead| word.is(lead))).count();
        let ends = |at: usize| {
            at == heard.len()
                || (at + 1 == heard.len() && UNITS.iter().any(|unit| heard[at].is(unit)))
        };
        let numbers: Vec<Decimal> = numbers_at(heard, from)
            .into_iter()
            .filter(|number| ends(number.end))
            .map(|number| number.value)
            .collect();
        let by_value = self.only(|said| said.fact.number().is_some_and(|n| numbers.contains(&n)));
        by_value.or_else(|| {
            let at = if heard.get(from).is_some_and(|word| word.is("cylinder") || word.is("number"))
            {
                from + 1
            } else {
                from
            };
            let cylinders: Vec<Decimal> = cylinder_at(heard, at)
                .into_iter()
                .filter(|number| number.end == heard.len())
                .map(|number| number.value)
                .collect();
            self.only(|said| cylinders.contains(&Decimal::whole(u32::from(said.cylinder.number()))))
        })
    }

    fn asks_for_cylinder(&self) -> bool {
        let mut cylinders = self.offered.iter().filter_map(statement).map(|said| said.cylinder);
        cylinders.next().is_some_and(|first| cylinders.any(|other| other != first))
    }

    fn only(&self, fits: impl Fn(&Statement) -> bool) -> Option<usize> {
        let mut places = (0..self.offered.len())
            .filter(|&place| statement(&self.offered[place]).is_some_and(&fits));
        match (places.next(), places.next()) {
            (Some(place), None) => Some(place),
            _ => None,
        }
    }

    /// The state of the job while the question is open: what is offered is what is expected.
    fn asked_of(&self, context: &Context) -> Context {
        let Some(said) = self.offered.iter().find_map(statement) else { return context.clone() };
        let expect = match said.fact {
            Fact::Cranking { .. } => Expect::Cranking,
            Fact::LeakDown { .. } | Fact::TwoGauge { .. } | Fact::Air { .. } => Expect::LeakDown,
            Fact::Plug { .. } | Fact::Gap { .. } => Expect::Plugs,
        };
        Context { expect, next: Some(said.cylinder), ..context.clone() }
    }
}

const fn statement(meaning: &Meaning) -> Option<&Statement> {
    match meaning {
        Meaning::State(statement) | Meaning::Correct { statement, .. } => Some(statement),
        _ => None,
    }
}

/// Whether the answer says what was offered, however it names the cylinder.
fn same(offered: &Meaning, said: &Meaning) -> bool {
    match (statement(offered), statement(said)) {
        (Some(offered), Some(said)) => {
            offered.cylinder == said.cylinder && offered.fact == said.fact
        }
        _ => offered == said,
    }
}

fn plain(heard: &[Word]) -> String {
    use crate::language::words::Token;
    let words: Vec<&str> = heard
        .iter()
        .map(|word| match &word.token {
            Token::Plain(text) => text.as_str(),
            Token::Figure { whole, .. } => whole.as_str(),
        })
        .collect();
    words.join(" ")
}

fn printed(number: Decimal) -> Vec<String> {
    match number.as_whole() {
        Some(n) => whole_printed(n),
        None => u32::try_from(number.thousandths() / 10).map(decimals_printed).unwrap_or_default(),
    }
}

fn described(meaning: &Meaning) -> String {
    match meaning {
        Meaning::State(statement) => spoken_statement(statement),
        Meaning::Correct { statement, .. } => {
            format!("correct to {}", spoken_statement(statement))
        }
        Meaning::Withdraw(_) => "take it back".to_owned(),
        Meaning::Repeat { cylinder, .. } => {
            format!("cylinder {}, same again", say_cylinder(*cylinder))
        }
        Meaning::Skip { to: Some(to) } => format!("on to cylinder {}", say_cylinder(*to)),
        Meaning::Skip { to: None } => "on to the next cylinder".to_owned(),
        Meaning::Unit(unit) => format!("readings in {}", super::read_back::unit_words(*unit)),
        Meaning::NextStep => "the next step".to_owned(),
        Meaning::StopListening => "stop listening".to_owned(),
        Meaning::Remark { .. } => "a remark".to_owned(),
    }
}

/// Asks for what differs: the number, the cylinder, or all of it.
fn difference(a: &Statement, b: &Statement) -> String {
    let cylinder = say_cylinder(a.cylinder);
    if a.fact == b.fact {
        return format!(
            "{}: cylinder {cylinder} or cylinder {}?",
            fact(&a.fact),
            say_cylinder(b.cylinder)
        );
    }
    if a.cylinder != b.cylinder {
        return format!("{}, or {}?", spoken_statement(a), spoken_statement(b));
    }
    let (one, two) = (fact(&a.fact), fact(&b.fact));
    // Where only the number differs, only the number is asked.
    if let (Some(x), Some(y)) = (a.fact.number(), b.fact.number()) {
        let (x, y) = (say(x), say(y));
        let rest = (one.strip_prefix(&x), two.strip_prefix(&y));
        if x != y && rest.0.is_some() && rest.0 == rest.1 {
            return format!("cylinder {cylinder}: {x} or {y}?");
        }
    }
    format!("cylinder {cylinder}: {one} or {two}?")
}
