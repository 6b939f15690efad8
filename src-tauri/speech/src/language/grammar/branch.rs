//! The rules prepared for the parser: words as numbers, and for every branch the words it can begin
//! with, so that a branch that cannot match is not tried.

use std::collections::HashMap;

use super::mark::Mark;
use super::node::{Figure, Node};

/// A branch of the rules.
#[derive(Debug)]
pub(super) struct Branch {
    pub(super) kind: Kind,
    pub(super) first: First,
}

#[derive(Debug)]
pub(super) enum Kind {
    Nothing,
    Literal(Vec<u32>),
    Figure(Figure),
    Mark(Mark),
    HardPause,
    AfterPause,
    Cost(f64),
    Sequence(Vec<Branch>),
    Either(Vec<Branch>),
    Repeated { body: Box<Branch>, at_least_once: bool },
    Rule(usize),
    HeardOnly(Box<Branch>),
}

/// What a branch can begin with.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct First {
    /// A bit for each word of the vocabulary.
    words: Vec<u64>,
    number: bool,
    /// It can be passed without a word.
    empty: bool,
}

impl First {
    fn empty() -> Self {
        Self { empty: true, ..Self::default() }
    }

    fn word(word: u32) -> Self {
        let mut first = Self::default();
        let place = word as usize / 64;
        first.words.resize(place + 1, 0);
        first.words[place] |= 1 << (word % 64);
        first
    }

    fn join(&mut self, other: &Self) {
        if self.words.len() < other.words.len() {
            self.words.resize(other.words.len(), 0);
        }
        for (mine, theirs) in self.words.iter_mut().zip(&other.words) {
            *mine |= theirs;
        }
        self.number |= other.number;
        self.empty |= other.empty;
    }

    /// Whether a branch that begins so can match at a word: `word` is its number in the vocabulary,
    /// `number` whether a number can begin there.
    pub(super) fn fits(&self, word: Option<u32>, number: bool) -> bool {
        self.empty
            || (number && self.number)
            || word.is_some_and(|word| {
                self.words.get(word as usize / 64).is_some_and(|bits| bits >> (word % 64) & 1 == 1)
            })
    }
}

/// The words of the rules, numbered.
#[derive(Debug, Default)]
pub(super) struct Vocabulary(HashMap<String, u32>);

impl Vocabulary {
    pub(super) fn number(&self, word: &str) -> Option<u32> {
        self.0.get(word).copied()
    }

    fn add(&mut self, word: &str) -> u32 {
        let next = u32::try_from(self.0.len()).unwrap_or(u32::MAX);
        *self.0.entry(word.to_owned()).or_insert(next)
    }
}

/// All rules as branches.
pub(super) fn branches(nodes: &[Node]) -> (Vec<Branch>, Vocabulary) {
    let mut vocabulary = Vocabulary::default();
    let mut branches: Vec<_> = nodes.iter().map(|node| grow(node, &mut vocabulary)).collect();
    // What a rule begins with depends on other rules: go round until nothing more is found.
    let mut known = vec![First::default(); branches.len()];
    loop {
        for branch in &mut branches {
            settle(branch, &known);
        }
        let next: Vec<_> = branches.iter().map(|branch| branch.first.clone()).collect();
        if next == known {
            return (branches, vocabulary);
        }
        known = next;
    }
}

fn grow(node: &Node, vocabulary: &mut Vocabulary) -> Branch {
    let mut all = |nodes: &[Node]| nodes.iter().map(|node| grow(node, vocabulary)).collect();
    let kind = match node {
        Node::Pause => Kind::Nothing,
        Node::HardPause => Kind::HardPause,
        Node::AfterPause => Kind::AfterPause,
        Node::Cost(cost) => Kind::Cost(*cost),
        Node::Mark(mark) => Kind::Mark(*mark),
        Node::Figure(figure) => Kind::Figure(*figure),
        Node::Rule(place) => Kind::Rule(*place),
        Node::Sequence(nodes) => Kind::Sequence(all(nodes)),
        Node::Either(nodes) => Kind::Either(all(nodes)),
        Node::Words { tokens, .. } => {
            Kind::Literal(tokens.iter().map(|token| vocabulary.add(token)).collect())
        }
        Node::Optional(node) => {
            let nothing = Branch { kind: Kind::Nothing, first: First::empty() };
            Kind::Either(vec![grow(node, vocabulary), nothing])
        }
        Node::Repeated { node, at_least_once } => {
            Kind::Repeated { body: Box::new(grow(node, vocabulary)), at_least_once: *at_least_once }
        }
        Node::HeardOnly(node) => Kind::HeardOnly(Box::new(grow(node, vocabulary))),
        // What the recogniser is held to does not bind the parser.
        Node::Only(_, node) => return grow(node, vocabulary),
    };
    Branch { kind, first: First::default() }
}

/// Works out what a branch begins with, given what the rules are known to begin with.
fn settle(branch: &mut Branch, known: &[First]) {
    branch.first = match &mut branch.kind {
        Kind::Nothing | Kind::Mark(_) | Kind::HardPause | Kind::AfterPause | Kind::Cost(_) => {
            First::empty()
        }
        Kind::Literal(words) => words.first().map_or_else(First::empty, |&word| First::word(word)),
        Kind::Figure(_) => First { number: true, ..First::default() },
        Kind::Rule(place) => known[*place].clone(),
        Kind::HeardOnly(body) => {
            settle(body, known);
            body.first.clone()
        }
        Kind::Repeated { body, at_least_once } => {
            settle(body, known);
            let mut first = body.first.clone();
            first.empty |= !*at_least_once;
            first
        }
        Kind::Either(ways) => {
            let mut first = First::default();
            for way in ways {
                settle(way, known);
                first.join(&way.first);
            }
            first
        }
        Kind::Sequence(parts) => {
            let mut first = First::empty();
            for part in parts {
                settle(part, known);
                if first.empty {
                    first.empty = false;
                    first.join(&part.first);
                }
            }
            first
        }
    };
}
