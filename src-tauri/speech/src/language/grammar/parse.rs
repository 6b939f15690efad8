//! The rules as a parser: the few cheapest ways to read a run of words.

use std::collections::HashMap;
use std::rc::Rc;

use super::node::{Event, Figure, Node};
use super::rules::Rules;
use crate::language::number::{Decimal, cylinder_at, numbers_at};
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
const WAYS: usize = 8;
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
    let mut parser = Parser { rules, words, known: HashMap::new() };
    let mut found: Vec<(usize, Vec<Parsed>)> = Vec::new();
    // Sorted by end and then by cost.
    for way in parser.rule(rules.start, 0).iter() {
        let parsed = Parsed { events: way.events.clone(), cost: way.cost };
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
    events: Vec<Event>,
}

struct Parser<'p> {
    rules: &'p Rules,
    words: &'p [Word],
    known: HashMap<(usize, usize), Rc<[Way]>>,
}

impl Parser<'_> {
    fn rule(&mut self, place: usize, at: usize) -> Rc<[Way]> {
        if let Some(known) = self.known.get(&(place, at)) {
            return Rc::clone(known);
        }
        // A rule that begins with itself finds nothing the second time round, and so ends.
        self.known.insert((place, at), Rc::from([]));
        let ways: Rc<[Way]> = cheapest(self.ways(&self.rules.nodes[place], at)).into();
        self.known.insert((place, at), Rc::clone(&ways));
        ways
    }

    fn ways(&mut self, node: &Node, at: usize) -> Vec<Way> {
        match node {
            Node::Words { tokens, .. } => self.literal(tokens, at).into_iter().collect(),
            Node::Figure(figure) => self.figure(*figure, at),
            Node::Mark(mark) => vec![Way { end: at, cost: 0.0, events: vec![Event::Mark(*mark)] }],
            Node::Pause => vec![empty(at)],
            Node::HardPause => {
                let paused = self.words.get(at).is_some_and(|word| word.pause);
                vec![Way { cost: if paused { 0.0 } else { PAUSE_MISSING }, ..empty(at) }]
            }
            Node::AfterPause => {
                let paused = at == 0 || self.words.get(at).is_some_and(|word| word.pause);
                vec![Way { cost: if paused { 0.0 } else { NO_PAUSE_BEFORE }, ..empty(at) }]
            }
            Node::Cost(cost) => vec![Way { cost: *cost, ..empty(at) }],
            Node::Sequence(nodes) => self.sequence(nodes, at),
            Node::Either(nodes) => {
                let mut ways = Vec::new();
                for node in nodes {
                    ways.extend(self.ways(node, at));
                }
                cheapest(ways)
            }
            Node::Optional(node) => {
                let mut ways = self.ways(node, at);
                ways.push(empty(at));
                ways
            }
            Node::Repeated { node, at_least_once } => self.repeated(node, *at_least_once, at),
            Node::Rule(place) => self.rule(*place, at).to_vec(),
            Node::HeardOnly(node) => {
                let mut ways = self.ways(node, at);
                for way in ways.iter_mut().filter(|way| way.end > at) {
                    way.cost += HEARD_ONLY;
                }
                ways
            }
            Node::Only(_, node) => self.ways(node, at),
        }
    }

    fn literal(&self, tokens: &[String], at: usize) -> Option<Way> {
        let mut cost = 0.0;
        for (offset, token) in tokens.iter().enumerate() {
            let word = self.words.get(at + offset)?;
            if !word.is(token) {
                return None;
            }
            if word.stop && offset > 0 {
                cost += STOP_INSIDE;
            }
        }
        Some(Way { cost, ..empty(at + tokens.len()) })
    }

    fn figure(&self, figure: Figure, at: usize) -> Vec<Way> {
        match figure {
            Figure::Cylinder => cylinder_at(self.words, at)
                .into_iter()
                .filter_map(|heard| {
                    let event = Event::Cylinder(heard.value.as_whole()?);
                    Some(Way { end: heard.end, cost: heard.cost, events: vec![event] })
                })
                .collect(),
            Figure::Stroke => numbers_at(self.words, at)
                .into_iter()
                .filter_map(|heard| {
                    let event = Event::Stroke(heard.value.as_whole()?);
                    Some(Way { end: heard.end, cost: heard.cost, events: vec![event] })
                })
                .collect(),
            Figure::Glued => self.glued(at),
            _ => numbers_at(self.words, at)
                .into_iter()
                .map(|heard| Way {
                    end: heard.end,
                    cost: heard.cost,
                    events: vec![Event::Number(heard.value)],
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
                let events = vec![
                    Event::Cylinder(cylinder.parse().ok()?),
                    Event::Number(Decimal::whole(reading.parse().ok()?)),
                ];
                Some(Way { end: at + 1, cost: 0.0, events })
            })
            .collect()
    }

    fn sequence(&mut self, nodes: &[Node], at: usize) -> Vec<Way> {
        let mut ways = vec![empty(at)];
        for node in nodes {
            ways = self.go_on(&ways, node);
            if ways.is_empty() {
                break;
            }
        }
        ways
    }

    fn repeated(&mut self, node: &Node, at_least_once: bool, at: usize) -> Vec<Way> {
        let mut found = if at_least_once { Vec::new() } else { vec![empty(at)] };
        let mut ways = vec![empty(at)];
        loop {
            let shortest = ways.iter().map(|way| way.end).min().unwrap_or(at);
            ways = self.go_on(&ways, node);
            // A round that reads no words would go on for ever.
            ways.retain(|way| way.end > shortest);
            if ways.is_empty() {
                return cheapest(found);
            }
            found.extend(ways.iter().cloned());
        }
    }

    fn go_on(&mut self, ways: &[Way], node: &Node) -> Vec<Way> {
        let mut next = Vec::new();
        // Ways that end at the same word go on alike.
        let mut tails: HashMap<usize, Vec<Way>> = HashMap::new();
        for way in ways {
            let tails = tails.entry(way.end).or_insert_with(|| self.ways(node, way.end));
            for tail in tails.iter() {
                let mut events = way.events.clone();
                events.extend_from_slice(&tail.events);
                next.push(Way { end: tail.end, cost: way.cost + tail.cost, events });
            }
        }
        cheapest(next)
    }
}

fn empty(at: usize) -> Way {
    Way { end: at, cost: 0.0, events: Vec::new() }
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
            there |= other.events == way.events;
        }
        if count < WAYS && !there {
            kept.push(way);
        }
    }
    kept
}
