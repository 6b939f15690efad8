//! Reads the rules. Their notation stands at the head of `english.rules`.

use std::collections::HashMap;
use std::sync::LazyLock;

use thiserror::Error;

use super::branch::{Branch, Vocabulary, branches};
use super::mark::Mark;
use super::node::{Figure, Node, When};
use crate::language::words::{Token, words};

/// The rules of one language.
#[derive(Debug)]
pub(crate) struct Rules {
    pub(super) nodes: Vec<Node>,
    pub(super) branches: Vec<Branch>,
    pub(super) vocabulary: Vocabulary,
    /// The rule that a whole utterance is.
    pub(super) start: usize,
}

/// What is wrong with the rules.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("rule {rule}: {what}")]
pub(crate) struct RuleError {
    rule: String,
    what: String,
}

/// The rules of `english.rules`.
pub(crate) fn english() -> &'static Rules {
    static ENGLISH: LazyLock<Rules> = LazyLock::new(|| {
        // The text is part of the program and a test reads it.
        Rules::read(include_str!("english.rules")).unwrap_or_else(|error| panic!("{error}"))
    });
    &ENGLISH
}

impl Rules {
    pub(crate) fn read(text: &str) -> Result<Self, RuleError> {
        let mut sources: Vec<(String, String)> = Vec::new();
        for line in text.lines() {
            let line = line.split_once("# ").map_or(line, |(before, _)| before);
            if line.trim().is_empty() || line == "#" {
                continue;
            }
            match (line.starts_with(' '), sources.last_mut(), line.split_once(" = ")) {
                (true, Some((_, body)), _) => {
                    body.push(' ');
                    body.push_str(line);
                }
                (false, _, Some((name, body))) => {
                    sources.push((name.trim().to_owned(), body.to_owned()));
                }
                _ => return Err(error(line, "a line is neither a rule nor goes on with one")),
            }
        }
        let places: HashMap<&str, usize> =
            sources.iter().enumerate().map(|(place, (name, _))| (name.as_str(), place)).collect();
        let nodes: Vec<Node> = sources
            .iter()
            .map(|(name, body)| Reader::new(name, body, &places)?.whole())
            .collect::<Result<_, _>>()?;
        let start =
            *places.get("utterance").ok_or_else(|| error("utterance", "there is no such rule"))?;
        let (branches, vocabulary) = branches(&nodes);
        Ok(Self { nodes, branches, vocabulary, start })
    }
}

fn error(rule: &str, what: impl Into<String>) -> RuleError {
    RuleError { rule: rule.to_owned(), what: what.into() }
}

struct Reader<'r> {
    rule: &'r str,
    pieces: Vec<String>,
    at: usize,
    places: &'r HashMap<&'r str, usize>,
}

impl<'r> Reader<'r> {
    fn new(
        rule: &'r str,
        body: &str,
        places: &'r HashMap<&'r str, usize>,
    ) -> Result<Self, RuleError> {
        Ok(Self { rule, pieces: pieces(rule, body)?, at: 0, places })
    }

    fn peek(&self) -> Option<&str> {
        self.pieces.get(self.at).map(String::as_str)
    }

    fn whole(&mut self) -> Result<Node, RuleError> {
        let node = self.either()?;
        match self.peek() {
            None => Ok(node),
            Some(piece) => Err(error(self.rule, format!("\"{piece}\" is out of place"))),
        }
    }

    fn either(&mut self) -> Result<Node, RuleError> {
        let mut ways = vec![self.sequence()?];
        while self.peek() == Some("|") {
            self.at += 1;
            ways.push(self.sequence()?);
        }
        Ok(if ways.len() == 1 { ways.remove(0) } else { Node::Either(ways) })
    }

    fn sequence(&mut self) -> Result<Node, RuleError> {
        let mut nodes = Vec::new();
        while let Some(piece) = self.peek() {
            if piece == "|" || piece == ")" {
                break;
            }
            nodes.push(self.repeated()?);
        }
        match nodes.len() {
            0 => Err(error(self.rule, "a way with nothing in it")),
            1 => Ok(nodes.remove(0)),
            _ => Ok(Node::Sequence(nodes)),
        }
    }

    fn repeated(&mut self) -> Result<Node, RuleError> {
        if self.peek() == Some("~") {
            self.at += 1;
            return Ok(Node::HeardOnly(Box::new(self.repeated()?)));
        }
        if let Some(name) = self.peek().and_then(|piece| piece.strip_prefix('@')) {
            let when = When::named(name)
                .ok_or_else(|| error(self.rule, format!("there is no state @{name}")))?;
            self.at += 1;
            // The state holds for all that follows in this way.
            return Ok(Node::Only(when, Box::new(self.sequence()?)));
        }
        let mut node = self.atom()?;
        while let Some(piece @ ("?" | "*" | "+")) = self.peek() {
            node = match piece {
                "?" => Node::Optional(Box::new(node)),
                "*" => Node::Repeated { node: Box::new(node), at_least_once: false },
                _ => Node::Repeated { node: Box::new(node), at_least_once: true },
            };
            self.at += 1;
        }
        Ok(node)
    }

    fn atom(&mut self) -> Result<Node, RuleError> {
        let piece = self.peek().unwrap_or_default().to_owned();
        self.at += 1;
        let missing = |what: &str| error(self.rule, format!("there is no {what} {piece}"));
        let inner = |open: usize| piece.get(open..piece.len() - 1).unwrap_or_default();
        match piece.chars().next() {
            Some('(') => {
                let node = self.either()?;
                if self.peek() != Some(")") {
                    return Err(error(self.rule, "a bracket is not closed"));
                }
                self.at += 1;
                Ok(node)
            }
            Some(',') => Ok(Node::Pause),
            Some(';') => Ok(Node::HardPause),
            Some(':') => Ok(Node::AfterPause),
            Some('<') => {
                let place = self.places.get(inner(1)).ok_or_else(|| missing("rule"))?;
                Ok(Node::Rule(*place))
            }
            Some('{') => Mark::named(inner(1)).map(Node::Mark).ok_or_else(|| missing("mark")),
            Some('#') => {
                Figure::named(&piece[1..]).map(Node::Figure).ok_or_else(|| missing("quantity"))
            }
            Some('!') => piece[1..].parse().map(Node::Cost).map_err(|_| missing("cost")),
            Some('^') => Ok(literal(piece.trim_start_matches('^').trim_matches('"'), true)),
            Some('"') => Ok(literal(piece.trim_matches('"'), false)),
            Some(c) if c.is_alphabetic() => Ok(literal(&piece, false)),
            _ => Err(error(self.rule, format!("\"{piece}\" is out of place"))),
        }
    }
}

fn literal(printed: &str, joined: bool) -> Node {
    let seen = if printed.ends_with("no.") { vec!["no.".to_owned()] } else { Vec::new() };
    let plain = printed.trim_end_matches("no.");
    let mut tokens: Vec<String> = words(plain)
        .into_iter()
        .map(|word| match word.token {
            Token::Plain(text) => text,
            Token::Figure { value, .. } => value.to_string(),
        })
        .collect();
    tokens.extend(seen);
    // "'s" alone has no stem to split from.
    if printed == "'s" {
        tokens = vec!["is".to_owned()];
    }
    Node::Words { printed: printed.to_owned(), tokens, joined }
}

fn pieces(rule: &str, body: &str) -> Result<Vec<String>, RuleError> {
    let mut found = Vec::new();
    let mut rest = body.trim_start();
    while let Some(first) = rest.chars().next() {
        let length = match first {
            '(' | ')' | '|' | '?' | '*' | '+' | ',' | ';' | ':' | '~' => Some(1),
            '"' => rest[1..].find('"').map(|end| end + 2),
            '^' => rest.get(2..).and_then(|tail| tail.find('"')).map(|end| end + 3),
            '<' => rest.find('>').map(|end| end + 1),
            '{' => rest.find('}').map(|end| end + 1),
            _ => {
                let name = |c: char| c.is_alphanumeric() || matches!(c, '-' | '\'' | '.');
                let end = rest[first.len_utf8()..].find(|c: char| !name(c));
                Some(end.map_or(rest.len(), |end| end + first.len_utf8()))
            }
        };
        let length = length.ok_or_else(|| error(rule, format!("{first} is not closed")))?;
        found.push(rest[..length].to_owned());
        rest = rest[length..].trim_start();
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_english_rules_can_be_read() {
        Rules::read(include_str!("english.rules")).unwrap();
    }

    #[test]
    fn a_mistake_in_the_rules_is_named() {
        let rows = [
            ("utterance = <nothing>", "rule utterance: there is no rule <nothing>"),
            ("utterance = ( a", "rule utterance: a bracket is not closed"),
            ("utterance = {odd}", "rule utterance: there is no mark {odd}"),
            ("utterance = #odd", "rule utterance: there is no quantity #odd"),
            ("utterance = @odd a", "rule utterance: there is no state @odd"),
            ("utterance = a | ", "rule utterance: a way with nothing in it"),
            ("utterance = a )", "rule utterance: \")\" is out of place"),
            ("other = a", "rule utterance: there is no such rule"),
        ];
        for (text, want) in rows {
            assert_eq!(Rules::read(text).unwrap_err().to_string(), want, "{text}");
        }
    }
}
