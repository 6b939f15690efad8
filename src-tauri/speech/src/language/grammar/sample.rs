//! Sentences made from the rules: what a corpus is spoken from and what the tests read back.

use super::node::{Event, Figure, Node};
use super::pattern::{holds, span};
use super::rules::Rules;
use crate::language::context::Context;
use crate::language::number::{Decimal, decimals_printed, whole_printed};

/// A sentence as it may be printed, and what it means. `pick(n)` chooses below `n`.
pub(crate) fn sample(
    rules: &Rules,
    context: &Context,
    pick: &mut dyn FnMut(usize) -> usize,
) -> (String, Vec<Event>) {
    let mut speaker =
        Speaker { rules, context, pick, text: String::new(), events: Vec::new(), repeats: 0 };
    speaker.speak(&rules.nodes[rules.start]);
    let (text, events) = (speaker.text, speaker.events);
    (text, events)
}

/// More rounds than this are not said in one breath.
const MOST_ROUNDS: usize = 5;

struct Speaker<'s> {
    rules: &'s Rules,
    context: &'s Context,
    pick: &'s mut dyn FnMut(usize) -> usize,
    text: String,
    events: Vec<Event>,
    repeats: usize,
}

impl Speaker<'_> {
    fn speak(&mut self, node: &Node) {
        match node {
            Node::Words { printed, joined, .. } => {
                if !joined {
                    self.text.push(' ');
                }
                self.text.push_str(printed);
            }
            Node::Figure(figure) => self.number(*figure),
            Node::Mark(mark) => self.events.push(Event::Mark(*mark)),
            Node::Pause => {
                let marks = ["", ",", ".", ":"];
                self.text.push_str(marks[(self.pick)(marks.len())]);
            }
            Node::HardPause => self.text.push(','),
            Node::Cost(_) | Node::AfterPause | Node::HeardOnly(_) => {}
            Node::Sequence(nodes) => nodes.iter().for_each(|node| self.speak(node)),
            Node::Either(nodes) => {
                let ways: Vec<_> = nodes.iter().filter(|node| self.sayable(node)).collect();
                if !ways.is_empty() {
                    let way = ways[(self.pick)(ways.len())];
                    self.speak(way);
                }
            }
            Node::Optional(node) => {
                if self.sayable(node) && (self.pick)(2) == 0 {
                    self.speak(node);
                }
            }
            Node::Repeated { node, at_least_once } => {
                if !self.sayable(node) {
                    return;
                }
                if *at_least_once {
                    self.speak(node);
                }
                while self.repeats < MOST_ROUNDS && (self.pick)(3) == 0 {
                    self.repeats += 1;
                    self.speak(node);
                }
            }
            Node::Rule(place) => self.speak(&self.rules.nodes[*place]),
            Node::Only(_, node) => self.speak(node),
        }
    }

    /// Whether the recogniser is held to it now.
    fn sayable(&self, node: &Node) -> bool {
        match node {
            Node::Figure(figure) => span(*figure, self.context).is_some(),
            Node::Sequence(nodes) => nodes.iter().all(|node| self.sayable(node)),
            Node::Either(nodes) => nodes.iter().any(|node| self.sayable(node)),
            Node::Words { .. }
            | Node::Mark(_)
            | Node::Cost(_)
            | Node::Pause
            | Node::HardPause
            | Node::AfterPause
            | Node::Optional(_)
            | Node::Repeated { at_least_once: false, .. } => true,
            Node::Repeated { node, .. } => self.sayable(node),
            Node::Rule(place) => self.sayable(&self.rules.nodes[*place]),
            Node::HeardOnly(node) => node.may_be_empty(),
            Node::Only(when, node) => holds(*when, self.context) && self.sayable(node),
        }
    }

    fn number(&mut self, figure: Figure) {
        let Some((span, places)) = span(figure, self.context) else { return };
        let step = match places {
            0 => 100,
            1 => 10,
            _ => 1,
        };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "spans are of readings: not below nought and small"
        )]
        let (least, most) = ((span.least * 100.0).ceil() as u32, (span.most * 100.0) as u32);
        let least = least.next_multiple_of(step);
        let count = (most.saturating_sub(least)) / step + 1;
        let hundredths = least + step * u32::try_from((self.pick)(count as usize)).unwrap_or(0);
        let forms = if places == 0 {
            whole_printed(hundredths / 100)
        } else {
            decimals_printed(hundredths)
        };
        let form = &forms[(self.pick)(forms.len())];
        self.text.push(' ');
        self.text.push_str(form);
        let value = Decimal::from_thousandths(i64::from(hundredths) * 10);
        self.events.push(match figure {
            Figure::Cylinder => Event::Cylinder(hundredths / 100),
            Figure::Stroke => Event::Stroke(hundredths / 100),
            _ => Event::Number(value),
        });
    }
}
