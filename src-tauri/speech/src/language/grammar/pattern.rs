//! The rules as one pattern: everything that can be printed of what can be said now.

use borespoke_core::quantity::{LengthUnit, PressureUnit};

use super::node::{Figure, Node, When};
use super::rules::Rules;
use crate::language::context::{Context, Expect, Span};
use crate::language::number::{decimal_pattern, either_case, whole_pattern};

/// The pattern of a whole utterance, in the syntax of the `regex` crate, without anchors. It begins
/// with the space that the recogniser prints before the first word, and ends with a full stop or
/// without.
pub(crate) fn pattern(rules: &Rules, context: &Context) -> String {
    let body = Printer { rules, context }.print(&rules.nodes[rules.start]).unwrap_or_default();
    format!("{body}[.!?]?")
}

/// Whether the recogniser is held to it in this state of the job.
pub(super) fn holds(when: When, context: &Context) -> bool {
    let expects = |expect: &[Expect]| expect.contains(&context.expect);
    let pressure = expects(&[Expect::Cranking, Expect::Anything]);
    let in_hand = |unit: PressureUnit| context.pressure_unit == unit;
    let bare = expects(&[Expect::Cranking])
        || (expects(&[Expect::Anything]) && context.pressure_unit.decimals() == 0);
    // A unit in hand comes with the bare number, but where that is held to be large.
    let with_unit = |unit: PressureUnit| !(expects(&[Expect::Cranking]) && in_hand(unit));
    match when {
        When::Psi => with_unit(PressureUnit::Psi),
        When::Kilopascal => {
            with_unit(PressureUnit::Kilopascal)
                && (in_hand(PressureUnit::Kilopascal) || (pressure && in_hand(PressureUnit::Bar)))
        }
        When::Bar => with_unit(PressureUnit::Bar) && (pressure || in_hand(PressureUnit::Bar)),
        When::Kgf => with_unit(PressureUnit::KgfPerCm2) && in_hand(PressureUnit::KgfPerCm2),
        When::BarePressure => bare,
        When::UnitPercent => !expects(&[Expect::LeakDown]),
        When::BarePercent | When::TwoGauge => expects(&[Expect::LeakDown]),
        When::Air => expects(&[Expect::LeakDown, Expect::Anything]),
        When::Plugs | When::Gap => expects(&[Expect::Plugs, Expect::Anything]),
    }
}

/// The numbers that the recogniser is held to: the span, and how many digits behind the point.
pub(super) fn span(figure: Figure, context: &Context) -> Option<(Span, u32)> {
    let plausible = &context.plausible;
    let pressure = |unit: PressureUnit| {
        (plausible.cranking(unit), u32::try_from(unit.decimals()).unwrap_or_default())
    };
    Some(match figure {
        Figure::Cylinder => (Span::new(1.0, context.engine.cylinder_count() as f64), 0),
        Figure::Stroke => (Span::new(1.0, 12.0), 0),
        Figure::Pressure => {
            let (mut span, places) = pressure(context.pressure_unit);
            if context.expect == Expect::Anything {
                // A bare number up to a hundred could as well be a percentage.
                span.least = span.least.max(101.0);
            }
            (span, places)
        }
        Figure::Psi => pressure(PressureUnit::Psi),
        Figure::Kilopascal => pressure(PressureUnit::Kilopascal),
        Figure::Bar => pressure(PressureUnit::Bar),
        Figure::Kgf => pressure(PressureUnit::KgfPerCm2),
        Figure::Gauge => (Span::new(0.0, 150.0), 0),
        Figure::Percent => (plausible.leak_percent, 1),
        Figure::Thou => (plausible.gap(LengthUnit::Thou), 0),
        Figure::Millimetre => (plausible.gap(LengthUnit::Millimetre), 2),
        Figure::Bare | Figure::Glued => return None,
    })
}

struct Printer<'p> {
    rules: &'p Rules,
    context: &'p Context,
}

impl Printer<'_> {
    /// The pattern of a node; `None` when the recogniser is not held to it now.
    fn print(&self, node: &Node) -> Option<String> {
        match node {
            Node::Words { printed, joined: true, .. } => Some(escape(printed)),
            Node::Words { printed, joined: false, .. } => {
                Some(format!(" {}", either_case(&escape(printed))))
            }
            Node::Figure(figure) => self.number(*figure),
            Node::Mark(_) | Node::Cost(_) | Node::AfterPause => Some(String::new()),
            Node::Pause => Some("[,.:;]?".to_owned()),
            Node::HardPause => Some("[,.:;]".to_owned()),
            Node::Sequence(nodes) => nodes.iter().map(|node| self.print(node)).collect(),
            Node::Either(nodes) => {
                let ways: Vec<_> = nodes.iter().filter_map(|node| self.print(node)).collect();
                (!ways.is_empty()).then(|| format!("(?:{})", ways.join("|")))
            }
            Node::Optional(node) => Some(self.print(node).map_or_else(String::new, optional)),
            Node::Repeated { node, at_least_once } => match (self.print(node), at_least_once) {
                (Some(body), true) => Some(format!("(?:{body})+")),
                (Some(body), false) => Some(format!("(?:{body})*")),
                (None, true) => None,
                (None, false) => Some(String::new()),
            },
            Node::Rule(place) => self.print(&self.rules.nodes[*place]),
            Node::HeardOnly(node) => node.may_be_empty().then(String::new),
            Node::Only(when, node) => {
                holds(*when, self.context).then(|| self.print(node)).flatten()
            }
        }
    }

    fn number(&self, figure: Figure) -> Option<String> {
        let (span, places) = span(figure, self.context)?;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "spans are of readings: not below nought and small"
        )]
        let scaled = |value: f64, scale: f64| (value * scale) as u32;
        let pattern = match places {
            0 => whole_pattern(scaled(span.least.ceil(), 1.0), scaled(span.most, 1.0)),
            1 => decimal_pattern(scaled(span.least, 100.0), scaled(span.most, 100.0), 10),
            _ => decimal_pattern(scaled(span.least, 100.0), scaled(span.most, 100.0), 1),
        };
        (!pattern.is_empty()).then(|| format!(" {pattern}"))
    }
}

fn optional(body: String) -> String {
    if body.is_empty() { body } else { format!("(?:{body})?") }
}

fn escape(text: &str) -> String {
    text.replace('.', "\\.")
}
