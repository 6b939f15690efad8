//! The rules as a parser: the few cheapest ways to read a run of words.

use std::collections::{BTreeMap, HashMap};
use std::rc::Rc;

use super::branch::{Branch, Kind};
use super::node::{Event, Figure};
use super::rules::Rules;
use super::trail::Trail;
use crate::language::number::{Decimal, Heard, cylinder_at, numbers_at};
use crate::language::words::{Token, Word};

/// One way to read a run of words.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Parsed {
    /// The marks and numbers along the way.
    pub(crate) events: Vec<Event>,
    /// How unlikely it is that this way was meant; 0 is plain.
    pub(crate) cost: f64,
}

/// Ways kept per end of a piece; the cheapest are kept.
const WAYS: usize = 6;
/// A way this much dearer than the cheapest to the same end is given up.
const TOO_DEAR: f64 = 4.5;
/// A word that the recogniser is not held to is a little less likely.
const HEARD_ONLY: f64 = 0.1;
/// A pause that should be there and is not.
const PAUSE_MISSING: f64 = 2.0;
/// A pause that would have been likely before.
const NO_PAUSE_BEFORE: f64 = 1.0;
/// A full stop where no pause is foreseen.
const STOP_INSIDE: f64 = 0.2;

/// The cheapest ways to read `words`, or the first few of them, as one utterance: by how many words
/// are read, and then cheapest first. The number of words must be bounded by the caller: the work
/// grows with its square.
pub(crate) fn parse(rules: &Rules, words: &[Word]) -> Vec<(usize, Vec<Parsed>)> {
    let numbered = words
        .iter()
        .map(|word| match &word.token {
            Token::Plain(text) => rules.vocabulary.number(text),
            Token::Figure { .. } => None,
        })
        .collect();
    let numbers = (0..words.len()).map(|at| Numbers::at(words, at)).collect();
    let mut parser = Parser { rules, words, numbered, numbers, known: HashMap::new() };
    let mut found: Vec<(usize, Vec<Parsed>)> = Vec::new();
    // Sorted by end and then by cost.
    for way in parser.rule(rules.start, 0).iter() {
        let parsed = Parsed { events: way.trail.events(), cost: way.cost };
        match found.last_mut() {
            Some((end, ways)) if *end == way.end => ways.push(parsed),
            _ => found.push((way.end, vec![parsed])),
        }
    }
    found
}

#[derive(Debug, Clone)]
struct Way {
    end: usize,
    cost: f64,
    trail: Trail,
}

struct Parser<'p> {
    rules: &'p Rules,
    words: &'p [Word],
    /// The words by their number in the vocabulary.
    numbered: Vec<Option<u32>>,
    /// The numbers that begin at each word.
    numbers: Vec<Numbers>,
    known: HashMap<(usize, usize), Rc<[Way]>>,
}

/// The numbers that begin at one word.
struct Numbers {
    cylinders: Vec<Heard>,
    values: Vec<Heard>,
    /// Whether anything that counts as a number can begin here.
    any: bool,
}

impl Numbers {
    fn at(words: &[Word], at: usize) -> Self {
        let (cylinders, values) = (cylinder_at(words, at), numbers_at(words, at));
        let figure = matches!(words[at].token, Token::Figure { .. });
        let any = figure || !cylinders.is_empty() || !values.is_empty();
        Self { cylinders, values, any }
    }
}

impl Parser<'_> {
    fn rule(&mut self, place: usize, at: usize) -> Rc<[Way]> {
        if let Some(known) = self.known.get(&(place, at)) {
            return Rc::clone(known);
        }
        // A rule that begins with itself finds nothing the second time round, and so ends.
        self.known.insert((place, at), Rc::from([]));
        let ways: Rc<[Way]> = cheapest(self.ways(&self.rules.branches[place], at)).into();
        self.known.insert((place, at), Rc::clone(&ways));
        ways
    }

    fn fits(&self, branch: &Branch, at: usize) -> bool {
        let number = self.numbers.get(at).is_some_and(|numbers| numbers.any);
        branch.first.fits(self.numbered.get(at).copied().flatten(), number)
    }

    fn ways(&mut self, branch: &Branch, at: usize) -> Vec<Way> {
        if !self.fits(branch, at) {
            return Vec::new();
        }
        match &branch.kind {
            Kind::Nothing => vec![empty(at)],
            Kind::Literal(tokens) => self.literal(tokens, at).into_iter().collect(),
            Kind::Figure(figure) => self.figure(*figure, at),
            Kind::Mark(mark) => {
                vec![Way { trail: Trail::one(Event::Mark(*mark)), ..empty(at) }]
            }
            Kind::HardPause => {
                let paused = self.words.get(at).is_some_and(|word| word.pause);
                vec![Way { cost: if paused { 0.0 } else { PAUSE_MISSING }, ..empty(at) }]
            }
            Kind::AfterPause => {
                let paused = at == 0 || self.words.get(at).is_some_and(|word| word.pause);
                vec![Way { cost: if paused { 0.0 } else { NO_PAUSE_BEFORE }, ..empty(at) }]
            }
            Kind::Cost(cost) => vec![Way { cost: *cost, ..empty(at) }],
            Kind::Sequence(parts) => self.sequence(parts, at),
            Kind::Either(branches) => {
                let mut ways = Vec::new();
                for branch in branches {
                    ways.extend(self.ways(branch, at));
                }
                cheapest(ways)
            }
            Kind::Repeated { body, at_least_once } => self.repeated(body, *at_least_once, at),
            Kind::Rule(place) => self.rule(*place, at).to_vec(),
            Kind::HeardOnly(body) => {
                let mut ways = self.ways(body, at);
                for way in ways.iter_mut().filter(|way| way.end > at) {
                    way.cost += HEARD_ONLY;
                }
                ways
            }
        }
    }

    fn literal(&self, tokens: &[u32], at: usize) -> Option<Way> {
        let mut cost = 0.0;
        for (offset, token) in tokens.iter().enumerate() {
            if *self.numbered.get(at + offset)? != Some(*token) {
                return None;
            }
            if self.words[at + offset].stop && offset > 0 {
                cost += STOP_INSIDE;
            }
        }
        Some(Way { cost, ..empty(at + tokens.len()) })
    }

    fn figure(&self, figure: Figure, at: usize) -> Vec<Way> {
        match figure {
            Figure::Cylinder => self.numbers[at]
                .cylinders
                .iter()
                .filter_map(|heard| {
                    let event = Event::Cylinder(heard.value.as_whole()?);
                    Some(Way { end: heard.end, cost: heard.cost, trail: Trail::one(event) })
                })
                .collect(),
            Figure::Stroke => self.numbers[at]
                .values
                .iter()
                .filter_map(|heard| {
                    let event = Event::Stroke(heard.value.as_whole()?);
                    Some(Way { end: heard.end, cost: heard.cost, trail: Trail::one(event) })
                })
                .collect(),
            Figure::Glued => self.glued(at),
            _ => self.numbers[at]
                .values
                .iter()
                .map(|heard| Way {
                    end: heard.end,
                    cost: heard.cost,
                    trail: Trail::one(Event::Number(heard.value)),
                })
                .collect(),
        }
    }

    /// "2145" behind "cylinder": 2 and 145. "3.23": 3 and 23.
    fn glued(&self, at: usize) -> Vec<Way> {
        let Some(Word { token: Token::Figure { whole, broken, .. }, .. }) = self.words.get(at)
        else {
            return Vec::new();
        };
        let splits: Vec<(&str, &str)> = match (whole.len(), broken.len()) {
            (4, 0) => vec![whole.split_at(1)],
            (5, 0) => vec![whole.split_at(2)],
            (1 | 2, 2 | 3) => vec![(whole, broken)],
            _ => Vec::new(),
        };
        splits
            .into_iter()
            .filter(|(_, reading)| !reading.starts_with('0'))
            .filter_map(|(cylinder, reading)| {
                let cylinder = Trail::one(Event::Cylinder(cylinder.parse().ok()?));
                let reading = Event::Number(Decimal::whole(reading.parse().ok()?));
                let trail = cylinder.joined(&Trail::one(reading));
                Some(Way { trail, ..empty(at + 1) })
            })
            .collect()
    }

    fn sequence(&mut self, parts: &[Branch], at: usize) -> Vec<Way> {
        let mut ways = vec![empty(at)];
        for part in parts {
            ways = self.go_on(&ways, part);
            if ways.is_empty() {
                break;
            }
        }
        ways
    }

    fn repeated(&mut self, body: &Branch, at_least_once: bool, at: usize) -> Vec<Way> {
        // Ends in ascending order: when one is taken, all the ways to it are known, and only the
        // cheapest of them go on.
        let mut open = BTreeMap::from([(at, vec![empty(at)])]);
        let mut found = Vec::new();
        while let Some((end, ways)) = open.pop_first() {
            let ways = cheapest(ways);
            for way in self.go_on(&ways, body) {
                // A round that reads no words would go on for ever.
                if way.end > end {
                    open.entry(way.end).or_default().push(way);
                }
            }
            if end > at || !at_least_once {
                found.extend(ways);
            }
        }
        found
    }

    fn go_on(&mut self, ways: &[Way], branch: &Branch) -> Vec<Way> {
        let mut next = Vec::new();
        // Ways that end at the same word go on alike.
        let mut tails: HashMap<usize, Vec<Way>> = HashMap::new();
        for way in ways {
            let tails = tails.entry(way.end).or_insert_with(|| self.ways(branch, way.end));
            for tail in tails.iter() {
                let trail = way.trail.joined(&tail.trail);
                next.push(Way { end: tail.end, cost: way.cost + tail.cost, trail });
            }
        }
        cheapest(next)
    }
}

fn empty(at: usize) -> Way {
    Way { end: at, cost: 0.0, trail: Trail::default() }
}

/// The cheapest few ways for each end, each set of events once.
fn cheapest(mut ways: Vec<Way>) -> Vec<Way> {
    if ways.len() < 2 {
        return ways;
    }
    ways.sort_by(|a, b| a.end.cmp(&b.end).then(a.cost.total_cmp(&b.cost)));
    let mut kept: Vec<Way> = Vec::with_capacity(ways.len());
    for way in ways {
        let same_end = kept.iter().rev().take_while(|other| other.end == way.end);
        let (mut count, mut there) = (0, false);
        for other in same_end {
            count += 1;
            there |= other.trail == way.trail;
        }
        let dear = kept
            .len()
            .checked_sub(count)
            .and_then(|first| kept.get(first))
            .is_some_and(|first| count > 0 && way.cost - first.cost > TOO_DEAR);
        if count < WAYS && !there && !dear {
            kept.push(way);
        }
    }
    kept
}
