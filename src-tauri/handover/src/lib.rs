//! Findings in, the buyer's document out.
