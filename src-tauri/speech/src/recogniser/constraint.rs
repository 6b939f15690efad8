//! Holding the recogniser to a pattern, token by token.

use std::collections::HashMap;
use std::sync::Arc;

use regex_automata::hybrid::LazyStateID;
use regex_automata::hybrid::dfa::{Cache, DFA};
use regex_automata::nfa::thompson;
use regex_automata::util::start;
use regex_automata::util::syntax;
use regex_automata::{Anchored, MatchKind};
use thiserror::Error;

use super::vocabulary::{Token, Vocabulary};

/// Why a pattern cannot be held to.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum PatternError {
    /// It is not a pattern.
    #[error("the pattern of what can be said is broken: {0}")]
    Broken(String),
    /// Its automaton grew too large.
    #[error("the pattern of what can be said has too many states")]
    TooLarge,
}

/// Room for the automaton's states. They are made when they are first come to, so a clip needs few.
const ROOM: usize = 64 << 20;

/// A token that may come next, and the state it leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Step {
    pub(super) token: Token,
    pub(super) to: LazyStateID,
}

/// What may come after a state.
#[derive(Debug)]
pub(super) struct Allowed {
    /// The tokens.
    pub(super) steps: Vec<Step>,
    /// Whether the text may end.
    pub(super) end: bool,
}

/// A pattern as an automaton over the bytes of the recogniser's tokens.
pub struct Constraint {
    dfa: DFA,
    cache: Cache,
    vocabulary: Arc<Vocabulary>,
    allowed: HashMap<LazyStateID, Arc<Allowed>>,
    alive: HashMap<LazyStateID, bool>,
}

impl Constraint {
    pub(super) fn new(pattern: &str, vocabulary: Arc<Vocabulary>) -> Result<Self, PatternError> {
        let dfa = DFA::builder()
            .configure(
                DFA::config()
                    // Every way on is kept, not only the first that matches.
                    .match_kind(MatchKind::All)
                    .cache_capacity(ROOM)
                    .skip_cache_capacity_check(true)
                    // States are remembered here, so none may be thrown away: rather give up.
                    .minimum_cache_clear_count(Some(0)),
            )
            .syntax(syntax::Config::new().unicode(false).utf8(false))
            .thompson(thompson::Config::new().utf8(false))
            .build(pattern)
            .map_err(|e| PatternError::Broken(e.to_string()))?;
        let cache = dfa.create_cache();
        Ok(Self { dfa, cache, vocabulary, allowed: HashMap::new(), alive: HashMap::new() })
    }

    /// Where a text begins.
    pub(super) fn start(&mut self) -> Result<LazyStateID, PatternError> {
        let config = start::Config::new().anchored(Anchored::Yes);
        self.dfa.start_state(&mut self.cache, &config).map_err(|_| PatternError::TooLarge)
    }

    /// Whether the text may end in a state.
    pub(super) fn may_end(&mut self, state: LazyStateID) -> Result<bool, PatternError> {
        let end = self.dfa.next_eoi_state(&mut self.cache, state);
        Ok(end.map_err(|_| PatternError::TooLarge)?.is_match())
    }

    /// Whether a text can still come to an end from a state. The automaton tells of a match one
    /// byte late, so the state after a byte too many is not dead, but leads nowhere.
    fn is_alive(&mut self, state: LazyStateID) -> Result<bool, PatternError> {
        if let Some(&known) = self.alive.get(&state) {
            return Ok(known);
        }
        let mut alive = self.may_end(state)?;
        for byte in 0..=u8::MAX {
            if alive {
                break;
            }
            let to = self.dfa.next_state(&mut self.cache, state, byte);
            let to = to.map_err(|_| PatternError::TooLarge)?;
            alive = !(to.is_dead() || to.is_quit());
        }
        self.alive.insert(state, alive);
        Ok(alive)
    }

    /// What may come after a state, the tokens in the order of their numbers.
    pub(super) fn allowed(&mut self, state: LazyStateID) -> Result<Arc<Allowed>, PatternError> {
        if let Some(known) = self.allowed.get(&state) {
            return Ok(Arc::clone(known));
        }
        let vocabulary = Arc::clone(&self.vocabulary);
        let mut steps = Vec::new();
        // The tree of the vocabulary is walked along with the automaton, and left wherever the
        // automaton is dead.
        let mut open = vec![(0, state)];
        while let Some((at, state)) = open.pop() {
            let branch = vocabulary.branch(at);
            if !branch.tokens.is_empty() && self.is_alive(state)? {
                steps.extend(branch.tokens.iter().map(|&token| Step { token, to: state }));
            }
            for &(byte, next) in &branch.next {
                let to = self
                    .dfa
                    .next_state(&mut self.cache, state, byte)
                    .map_err(|_| PatternError::TooLarge)?;
                if !(to.is_dead() || to.is_quit()) {
                    open.push((next, to));
                }
            }
        }
        steps.sort_unstable_by_key(|step| step.token);
        let end = self.may_end(state)?;
        let allowed = Arc::new(Allowed { steps, end });
        self.allowed.insert(state, Arc::clone(&allowed));
        Ok(allowed)
    }
}

#[cfg(test)]
mod tests {
    use super::super::vocabulary::tests::small;
    use super::*;

    const WORDS: [&str; 10] = [" one", " two", " o", "ne", "1", " 1", " 14", "0", "5", "."];

    fn constraint(pattern: &str) -> Constraint {
        Constraint::new(pattern, Arc::new(small(&WORDS))).unwrap()
    }

    fn allowed(constraint: &mut Constraint, state: LazyStateID) -> (Vec<&'static str>, bool) {
        let allowed = constraint.allowed(state).unwrap();
        let words = allowed.steps.iter().map(|s| WORDS[usize::try_from(s.token).unwrap()]);
        (words.collect(), allowed.end)
    }

    fn after(constraint: &mut Constraint, from: LazyStateID, word: &str) -> Option<LazyStateID> {
        let allowed = constraint.allowed(from).unwrap();
        allowed.steps.iter().find(|step| step.token == token(word)).map(|step| step.to)
    }

    fn token(word: &str) -> Token {
        Token::try_from(WORDS.iter().position(|w| *w == word).unwrap()).unwrap()
    }

    #[test]
    fn a_word_may_be_come_to_by_any_pieces() {
        let mut constraint = constraint(" one");
        let start = constraint.start().unwrap();
        assert_eq!(allowed(&mut constraint, start), (vec![" one", " o"], false));
        let half = after(&mut constraint, start, " o").unwrap();
        assert_eq!(allowed(&mut constraint, half), (vec!["ne"], false));
        let whole = after(&mut constraint, half, "ne").unwrap();
        assert_eq!(allowed(&mut constraint, whole), (vec![], true));
        assert_eq!(after(&mut constraint, start, " one"), Some(whole));
    }

    #[test]
    fn what_matches_already_may_go_on() {
        let mut constraint = constraint(" 1(?:|4(?:0|5))\\.?");
        let start = constraint.start().unwrap();
        let one = after(&mut constraint, start, " 1").unwrap();
        assert_eq!(allowed(&mut constraint, one), (vec!["."], true));
        let fourteen = after(&mut constraint, start, " 14").unwrap();
        assert_eq!(allowed(&mut constraint, fourteen), (vec!["0", "5"], false));
        assert_eq!(after(&mut constraint, one, " two"), None);
    }

    #[test]
    fn numbers_of_a_kind_meet_in_one_state() {
        let mut constraint = constraint(" 1?(?:[0-9]|4[0-9])\\.");
        let start = constraint.start().unwrap();
        let short = after(&mut constraint, start, " 14").unwrap();
        let nought = after(&mut constraint, short, "0");
        let five = after(&mut constraint, short, "5");
        assert_eq!(nought, five);
    }

    #[test]
    fn a_broken_pattern_is_an_error() {
        let broken = Constraint::new(" (one", Arc::new(small(&WORDS)));
        assert!(matches!(broken, Err(PatternError::Broken(_))));
    }
}
