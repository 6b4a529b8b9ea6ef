//! What the verses sung to one tune share, from the default readings and without feedback.

use super::memory::Memory;
use super::order::SungSection;
use super::read::SungLine;
use crate::singing::underlay::underlay;
use std::collections::HashMap;
use std::sync::Arc;

/// What the verses share, for each tune and line of it.
pub(super) struct Shared(HashMap<(Arc<str>, usize), Common>);

/// What the verses share in one line.
#[derive(Default)]
pub(super) struct Common {
    /// The median of the verses' syllable counts, where two or more have the line.
    pub(super) count: Option<usize>,
    /// Which notes began a syllable in the first verse.
    pub(super) habit: Option<Arc<[bool]>>,
    counts: Vec<usize>,
}

impl Shared {
    /// Asks each line of the song once, however often it is sung.
    pub(super) fn of(order: &[SungSection<'_>], sung: &[SungLine<'_>], memory: &Memory) -> Self {
        let mut shared: HashMap<(Arc<str>, usize), Common> = HashMap::new();
        for line in sung {
            let Some(section) = order
                .get(line.section)
                .filter(|section| section.id == section.source.id)
            else {
                continue;
            };
            let common = shared
                .entry((Arc::clone(&section.tie), line.place))
                .or_default();
            if line.slot.count > 0 {
                common.counts.push(line.slot.count);
            }
            if let (Some(prepared), None) = (&line.prepared, &common.habit) {
                let ways = memory.words_of(line.slot).ways.iter();
                let usual: Vec<_> = ways
                    .map(|ways| ways.iter().take(1).cloned().collect())
                    .collect();
                let found = underlay(&usual, &prepared.places, None);
                common.habit = found.map(|found| found.habit.into());
            }
        }
        #[expect(
            clippy::iter_over_hash_type,
            reason = "each is sorted by itself; the order shows nowhere"
        )]
        for common in shared.values_mut() {
            if common.counts.len() > 1 {
                let middle = (common.counts.len() - 1) / 2;
                common.count = Some(*common.counts.select_nth_unstable(middle).1);
            }
        }
        Self(shared)
    }

    /// What the lines at this place of this tune share.
    pub(super) fn get(&self, tie: &Arc<str>, place: usize) -> Option<&Common> {
        self.0.get(&(Arc::clone(tie), place))
    }
}
