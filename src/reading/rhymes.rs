//! How the lines of a section rhyme, and what a line is asked to rhyme with.

use super::laid::Laid;
use super::memory::Memory;
use super::{LineReading, Reading, SectionReading};
use crate::music::meter::Strength;
use crate::words::phone::Stress;
use crate::words::rhyme::Habit;
use crate::words::rhyme::ending::Ending;
use crate::words::rhyme::kind::{Kind, Rhyme, rhyme};
use crate::words::rhyme::line_end::LineEnd;
use crate::words::rhyme::scheme::{Scheme, scheme, scheme_kept};
use crate::words::stress::Class;
use crate::words::{SongWords, read};
use std::sync::Arc;

/// How the lines of a section rhyme.
#[derive(Clone, Debug, Default)]
pub struct SectionRhymes {
    /// How each line ends.
    pub ends: Vec<Arc<LineEnd>>,
    /// Which ends belong together.
    pub scheme: Scheme,
    /// For each line an earlier one that ends in the same sounds, where it answers no other. A whole line sung again is a refrain,
    /// and two words the same at the end are meant: both are left out.
    pub same_as: Vec<Option<usize>>,
}

/// A word inside a line that rhymes.
#[derive(Clone, Debug, PartialEq)]
pub struct Inside {
    /// The word.
    pub word: String,
    /// What it rhymes with.
    pub with: String,
    /// Whether that stands in the next line, not at the end of this one.
    pub next_line: bool,
}

/// From here on a word inside a line is heard to rhyme. Our choice.
const HEARD: f64 = 0.9;

impl SectionRhymes {
    pub(super) fn of(ends: Vec<Arc<LineEnd>>) -> Self {
        Self::with(scheme(&ends), ends)
    }

    /// The same section held to a form.
    pub(super) fn kept(own: &Arc<Self>, habit: &Habit) -> Arc<Self> {
        match scheme_kept(&own.ends, &own.scheme, habit) {
            Some(kept) => Arc::new(Self::with(kept, own.ends.clone())),
            None => Arc::clone(own),
        }
    }

    fn with(scheme: Scheme, ends: Vec<Arc<LineEnd>>) -> Self {
        let mut rhymes = Self {
            scheme,
            ends,
            same_as: Vec::new(),
        };
        rhymes.same_as = (0..rhymes.ends.len())
            .map(|line| rhymes.same(line))
            .collect();
        rhymes
    }

    fn same(&self, line: usize) -> Option<usize> {
        let own = self.scheme.lines.get(line)?;
        let members = || {
            let lines = self.scheme.lines.iter().enumerate();
            lines.filter(|(other, found)| *other != line && found.letter == own.letter)
        };
        let other = own
            .partner
            .filter(|partner| *partner < line && own.kind == Kind::Identical)?;
        let identical = |other: usize| {
            self.between(line, other)
                .is_some_and(|found| found.kind == Kind::Identical)
        };
        let meant = own.refrain || self.ends.get(line)?.ends_alike(self.ends.get(other)?);
        (!meant && members().all(|(other, _)| identical(other))).then_some(other)
    }

    /// The scheme in letters, `abcb`; `None` for a section without words.
    #[must_use]
    pub fn letters(&self) -> Option<String> {
        let has_words = self.ends.iter().any(|end| end.has_words());
        has_words.then(|| self.scheme.letters())
    }

    /// Whether any two lines rhyme.
    #[must_use]
    pub fn has_rhymes(&self) -> bool {
        self.scheme.lines.iter().any(|line| line.partner.is_some())
    }

    /// What two lines' ends have in common.
    #[must_use]
    pub fn between(&self, one: usize, other: usize) -> Option<Rhyme> {
        Some(self.ends.get(one)?.rhyme(self.ends.get(other)?))
    }
}

/// Holds sections that are sung alike, with as many lines, to the form that most of them have, where it can be heard in them.
pub(super) fn keep_form(sections: &mut [SectionReading], memory: &mut Memory) {
    let alike = |one: &SectionReading, other: &SectionReading| {
        one.lines.len() == other.lines.len() && one.tie == other.tie
    };
    for index in 0..sections.len() {
        let (before, rest) = sections.split_at_mut(index);
        let Some(first) = rest.first() else { continue };
        if before.iter().any(|section| alike(section, first)) {
            continue;
        }
        let group = || rest.iter().filter(|section| alike(section, first));
        if group().nth(1).is_none() {
            continue; // held to its own form already
        }
        let own = group().filter(|section| section.id == section.source);
        let Some(habit) = Scheme::habit(own.map(|section| &section.rhymes.scheme)) else {
            continue;
        };
        let tie = Arc::clone(&first.tie);
        let lines = first.lines.len();
        for section in rest
            .iter_mut()
            .filter(|section| section.lines.len() == lines && section.tie == tie)
        {
            section.rhymes = memory.kept_form(section.source, &section.rhymes, &habit);
        }
    }
}

/// The lines of a section that one of its lines may be asked to rhyme with, first the one that is asked for: the line that it
/// answers already, else the one that it answers in the other verses, else line 2 for line 4 and the like; then the others, the
/// nearest first.
#[must_use]
pub fn answers(reading: &Reading, section: usize, line: usize) -> Vec<usize> {
    let Some(found) = reading.sections.get(section) else {
        return Vec::new();
    };
    let own = |section: &SectionReading| {
        section
            .rhymes
            .scheme
            .lines
            .get(line)
            .and_then(|line| line.partner)
    };
    let usual = || {
        let alike = reading.sections.iter();
        let mut alike =
            alike.filter(|other| other.tie == found.tie && other.lines.len() == found.lines.len());
        alike.find_map(own)
    };
    let by_custom = || match line % 4 {
        0 => None,
        1 => line.checked_sub(1),
        _ => line.checked_sub(2),
    };
    let asked = own(found).or_else(usual).or_else(by_custom);
    let mut others: Vec<usize> = (0..found.lines.len())
        .filter(|other| {
            *other != line
                && found
                    .rhymes
                    .ends
                    .get(*other)
                    .is_some_and(|end| end.has_words())
        })
        .collect();
    others.sort_by_key(|other| (Some(*other) != asked, other.abs_diff(line), *other));
    others
}

/// The stresses that a line asks of a word in the place of one of its own, or behind its last one, a syllable each.
///
/// The number is that of the word, with what the tune or the other verses want more or fewer of; a word is to have its main stress
/// where the beat is no weaker than beside it. Where the number changes or no word stood there, the stresses are those of `like`,
/// counted from its end, and every second syllable before.
#[must_use]
pub fn place_for(line: &LineReading, word: Option<usize>, like: &[Stress]) -> Vec<Stress> {
    let syllables = line.laid.syllables.iter();
    let own: Vec<Strength> = syllables
        .filter(|syllable| Some(syllable.word) == word)
        .map(|syllable| syllable.strength)
        .collect();
    let stood = if own.is_empty() {
        like.len()
    } else {
        own.len()
    };
    let count = line.wanted.map_or(stood, |wanted| {
        (wanted + own.len()).saturating_sub(line.laid.syllables.len())
    });
    let count = if count == 0 { stood.max(1) } else { count };
    if count == own.len() {
        let no_weaker = |at: usize, other: Option<usize>| {
            let beside = other.and_then(|other| own.get(other));
            own.get(at) >= beside
        };
        let strong = |at: usize| no_weaker(at, at.checked_sub(1)) && no_weaker(at, Some(at + 1));
        return (0..count).map(strong).map(stressed).collect();
    }
    let main = like.iter().rposition(|stress| *stress == Stress::Primary);
    let behind = main.map_or(0, |main| like.len() - 1 - main);
    (0..count)
        .rev()
        .map(|from_end| stressed(from_end >= behind && (from_end - behind).is_multiple_of(2)))
        .collect()
}

const fn stressed(strong: bool) -> Stress {
    if strong {
        Stress::Primary
    } else {
        Stress::None
    }
}

/// The words inside a line that rhyme with its end, or with the word at the same moment of the next line.
#[must_use]
pub fn inside(reading: &Reading, line: usize, own: &SongWords) -> Vec<Inside> {
    let laid_of = |index: usize| {
        let line = reading.lines.get(index)?;
        Some((line.section, &line.laid))
    };
    let Some((section, laid)) = laid_of(line) else {
        return Vec::new();
    };
    let next = laid_of(line + 1).filter(|(other, _)| *other == section);
    let Some(last) = laid.words.len().checked_sub(1) else {
        return Vec::new();
    };
    let ending = |laid: &Laid, word: usize| {
        let text = &laid.words.get(word)?.text;
        Some((text.clone(), Ending::of_word(&read(text, own))))
    };
    let mut found: Vec<Inside> = Vec::new();
    let heavy = |class: Class| matches!(class, Class::Primary | Class::Content);
    for syllable in laid
        .syllables
        .iter()
        .filter(|syllable| heavy(syllable.class) && syllable.word < last)
    {
        let opposite = next.and_then(|(_, next)| {
            let there = next
                .syllables
                .iter()
                .find(|other| other.start == syllable.start && heavy(other.class))?;
            Some((ending(next, there.word)?, true))
        });
        let at_end = ending(laid, last).map(|end| (end, false));
        let Some((word, own_ending)) = ending(laid, syllable.word) else {
            continue;
        };
        for ((with, other), next_line) in at_end.into_iter().chain(opposite) {
            let heard = rhyme(&own_ending, &other).score >= HEARD;
            let same = word.to_lowercase() == with.to_lowercase();
            if heard
                && !same
                && !found
                    .iter()
                    .any(|known| known.word == word && known.with == with)
            {
                found.push(Inside {
                    word: word.clone(),
                    with,
                    next_line,
                });
            }
        }
    }
    found
}
