//! The spoken language of the job: what can be said now, and what was said.
//!
//! One description, two users: the recogniser is held to [`Language::pattern`], and
//! [`Language::understand`] reads what was heard, both from the same rules and the same state of
//! the job. What makes no sense becomes a remark, never a reading.

mod context;
mod doubt;
mod draft;
mod fact;
mod grammar;
mod meaning;
pub(crate) mod number;
mod observed;
mod prior;
mod problem;
mod settle;
mod understand;
pub(crate) mod words;

#[cfg(test)]
mod round_trip;

pub use context::{Context, Expect, Plausible, Span};
pub use meaning::{Fact, Meaning, Statement, Which};
pub use number::{Decimal, confusable, say, say_cylinder, styles};
pub use problem::Problem;
pub use understand::Understood;

/// What can be said in one state of a job.
#[derive(Debug)]
pub struct Language {
    context: Context,
    pattern: String,
}

impl Language {
    /// The language of this state of the job.
    #[must_use]
    pub fn new(context: &Context) -> Self {
        let pattern = grammar::pattern(grammar::english(), context);
        Self { context: context.clone(), pattern }
    }

    /// The state it was made for.
    #[must_use]
    pub const fn context(&self) -> &Context {
        &self.context
    }

    /// A pattern, in the syntax of the `regex` crate and without anchors, of every way the
    /// recogniser prints a whole utterance that can be made now. It begins with a space, as the
    /// recogniser's first word does.
    #[must_use]
    pub fn pattern(&self) -> &str {
        &self.pattern
    }

    /// What a text means. Every act comes with its values checked; what made no sense is a remark,
    /// and `problems` say why.
    #[must_use]
    pub fn understand(&self, text: &str) -> Understood {
        understand::understand(&self.context, text)
    }

    /// The natural logarithm of how likely this is to be said now, before anything was heard. Only
    /// differences mean something.
    #[must_use]
    pub fn weight(&self, meaning: &Meaning) -> f64 {
        prior::weight(&self.context, meaning)
    }

    /// The same of several acts in one breath.
    #[must_use]
    pub fn weight_of_all(&self, meanings: &[Meaning]) -> f64 {
        prior::weight_of_all(&self.context, meanings)
    }

    /// A sentence that can be said now, as the recogniser may print it. `pick(n)` chooses a number
    /// below `n`.
    pub fn sample(&self, pick: &mut dyn FnMut(usize) -> usize) -> String {
        grammar::sample(grammar::english(), &self.context, pick).0
    }
}
