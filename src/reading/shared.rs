//! What the verses sung to one tune share, from the default readings and without feedback.

use super::memory::Memory;
use super::order::SungSection;
use super::read::SungLine;
use crate::singing::stanza::Shape;
use crate::singing::underlay::underlay;
use std::collections::HashMap;
use std::sync::Arc;

/// What the verses share, for each tune and line of it.
pub(super) struct Shared(HashMap<(Arc<str>, usize), Common>);

/// What the verses share in one line.
#[derive(Default)]
pub(super) struct Common {
    /// The medians of the verses' syllables and stresses.
    pub(super) shape: Shape,
    /// How many verses have the line.
    pub(super) verses: usize,
    /// Whether they keep its number of syllables.
    pub(super) strict: bool,
    /// Which notes began a syllable in the first verse.
    pub(super) habit: Option<Arc<[bool]>>,
    shapes: Vec<Shape>,
}

impl Common {
    /// How many syllables the line has in the other verses, where there are any.
    pub(super) fn count(&self) -> Option<usize> {
        (self.verses > 1).then_some(self.shape.syllables)
    }
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
            if line.slot.shape.syllables > 0 {
                common.shapes.push(line.slot.shape);
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
            common.verses = common.shapes.len();
            common.shape = Shape {
                syllables: median(&mut common.shapes, |shape| shape.syllables),
                beats: median(&mut common.shapes, |shape| shape.beats),
            };
            common.strict = is_kept(&common.shapes, common.shape.syllables);
        }
        Self(shared)
    }

    /// What the lines at this place of this tune share.
    pub(super) fn get(&self, tie: &Arc<str>, place: usize) -> Option<&Common> {
        self.0.get(&(Arc::clone(tie), place))
    }
}

/// Whether so many verses have a number of syllables that it is meant: three of four, of three at least two. Our choice.
fn is_kept(shapes: &[Shape], syllables: usize) -> bool {
    let keep = shapes.iter().filter(|shape| shape.syllables == syllables);
    let (keep, all) = (keep.count(), shapes.len());
    all >= 3 && (keep * 4 >= all * 3 || keep + 1 == all)
}

/// The median of one number of the shapes, of two middle ones the lower; 0 where there is no shape.
fn median(shapes: &mut [Shape], number: fn(&Shape) -> usize) -> usize {
    let Some(middle) = shapes.len().checked_sub(1).map(|last| last / 2) else {
        return 0;
    };
    number(shapes.select_nth_unstable_by_key(middle, number).1)
}
