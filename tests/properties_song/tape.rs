//! Decisions in a row, from which songs, files and edits are made.

use proptest::prelude::*;

/// Decisions in a row, which proptest can shorten; behind its end all are 0.
pub(crate) struct Tape {
    decisions: Vec<u32>,
    at: usize,
}

impl Tape {
    pub(crate) fn new(decisions: Vec<u32>) -> Self {
        Self { decisions, at: 0 }
    }

    /// A number below `count`.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        let decision = self.decisions.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        usize::try_from(decision).unwrap() % count.max(1)
    }

    pub(crate) fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == count - 1
    }

    pub(crate) fn pick<T: Clone>(&mut self, from: &[T]) -> T {
        from[self.below(from.len())].clone()
    }
}

pub(crate) fn tape() -> impl Strategy<Value = Tape> {
    proptest::collection::vec(any::<u32>(), 0..300).prop_map(Tape::new)
}

impl std::fmt::Debug for Tape {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?}", self.decisions)
    }
}
