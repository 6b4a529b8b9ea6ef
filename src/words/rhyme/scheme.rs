//! The rhyme scheme of a section: which line ends belong together.

use super::kind::{Kind, Rhyme};
use super::line_end::LineEnd;
use super::stanza::{self, Form, Habit, Heard, QUATRAIN, pairs_of};
use std::borrow::Borrow;

/// Lines further apart than this do not answer each other any more, unless they are the same throughout.
const REACH: usize = 12;

/// From here on a near rhyme (family, added) is heard as one even where nothing asks for it. Our choice.
const NEAR: f64 = 0.8;

/// The scheme of a section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scheme {
    /// Its lines in order.
    pub lines: Vec<Rhymed>,
}

/// What a line's end answers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rhymed {
    /// The number of its letter: 0 for a.
    pub letter: usize,
    /// The nearest line with the same letter, the ones before first; `None` where none answers it.
    pub partner: Option<usize>,
    /// What they have in common.
    pub kind: Kind,
    /// Whether they only come near.
    pub near: bool,
    /// Whether a line with the same words throughout stands in the section, too.
    pub refrain: bool,
}

impl Scheme {
    /// A letter a line, in order of appearance: `abcb`. A line that nothing answers has a letter of its own, one without words
    /// too, so that letters and lines keep step. After z come A to Z, then they begin again.
    #[must_use]
    pub fn letters(&self) -> String {
        self.lines.iter().map(|line| letter(line.letter)).collect()
    }
}

impl Scheme {
    /// The sign of a line as the page shows it: its letter, a capital where the whole line is sung again.
    #[must_use]
    pub fn sign(&self, line: usize) -> Option<char> {
        let line = self.lines.get(line)?;
        let sign = letter(line.letter);
        Some(if line.refrain {
            sign.to_ascii_uppercase()
        } else {
            sign
        })
    }

    /// The form that most stanzas of some sections have.
    #[must_use]
    pub fn habit<'a>(sections: impl IntoIterator<Item = &'a Self>) -> Option<Habit> {
        Habit::of(sections.into_iter().flat_map(Self::forms))
    }

    /// The forms of its quatrains, where its lines are a multiple of four; else that of all its lines.
    fn forms(&self) -> impl Iterator<Item = Form> {
        let stanzas = self.lines.chunks(stanza_length(self.lines.len()));
        stanzas.map(|lines| stanza::form_of(lines.iter().map(|line| line.letter)))
    }

    /// The scheme as the page shows it, with a stroke where a line only comes near the one that it answers: `abcb'`.
    #[must_use]
    pub fn shown(&self) -> String {
        let mut text = String::new();
        for (index, line) in self.lines.iter().enumerate() {
            text.extend(self.sign(index));
            if line.near && line.partner.is_some_and(|partner| partner < index) {
                text.push('\'');
            }
        }
        text
    }
}

/// The sign of a letter's number.
#[must_use]
pub fn letter(number: usize) -> char {
    let signs = ('a'..='z').chain('A'..='Z');
    signs.clone().nth(number % signs.count()).unwrap_or('a')
}

/// The scheme of lines with these ends.
///
/// Where they are a multiple of four, each four get the likeliest form of a quatrain; what rhymes fully from one quatrain to the
/// other is joined after that. Else full rhymes are joined first, then lines left alone that come near each other. A stanza keeps the
/// form that most of the others have where it can be heard in it: what rhymes beside it does by chance.
///
/// ```
/// use breathmark::words::{SongWords, line::line, rhyme::{line_end::LineEnd, scheme::scheme}};
/// let ends = ["In Scarlet town where I was born", "There was a fair maid dwelling", "Made every youth cry well away", "Her name was Barbara Allen"]
///     .map(|row| LineEnd::of(&line(row, &SongWords::default())));
/// assert_eq!(scheme(&ends).letters(), "abcb");
/// ```
#[must_use]
pub fn scheme<E: Borrow<LineEnd>>(ends: &[E]) -> Scheme {
    let alone = Joining::new(ends).join_all(None);
    let habit = Scheme::habit([&alone]);
    let kept = habit.and_then(|habit| scheme_kept(ends, &alone, &habit));
    kept.unwrap_or(alone)
}

/// The scheme of a section once the habit of those that are sung alike is known; `None` where that changes nothing.
#[must_use]
pub fn scheme_kept<E: Borrow<LineEnd>>(ends: &[E], own: &Scheme, habit: &Habit) -> Option<Scheme> {
    if own.forms().all(|form| habit.is_form(&form)) {
        return None;
    }
    let kept = Joining::new(ends).join_all(Some(habit));
    (kept != *own).then_some(kept)
}

struct Joining<'a, E> {
    ends: &'a [E],
    /// For each line what it has in common with the ones after it, as far as they reach.
    rhymes: Vec<Vec<Rhyme>>,
    /// For each line the first line of its group.
    group: Vec<usize>,
}

impl<'a, E: Borrow<LineEnd>> Joining<'a, E> {
    fn new(ends: &'a [E]) -> Self {
        let after = |index: usize| ends.iter().skip(index + 1).take(REACH);
        let rhymes = ends
            .iter()
            .enumerate()
            .map(|(index, end)| {
                after(index)
                    .map(|other| end.borrow().rhyme(other.borrow()))
                    .collect()
            })
            .collect();
        Self {
            ends,
            rhymes,
            group: (0..ends.len()).collect(),
        }
    }

    fn end(&self, index: usize) -> Option<&LineEnd> {
        self.ends.get(index).map(Borrow::borrow)
    }

    fn group_of(&self, index: usize) -> usize {
        self.group.get(index).copied().unwrap_or(index)
    }

    fn is_alone(&self, index: usize) -> bool {
        self.members(self.group_of(index)).count() == 1
    }

    fn members(&self, group: usize) -> impl Iterator<Item = usize> {
        let all = self.group.iter().enumerate();
        all.filter(move |(_, own)| **own == group)
            .map(|(index, _)| index)
    }

    fn rhyme(&self, one: usize, other: usize) -> Option<Rhyme> {
        let (first, second) = (one.min(other), one.max(other));
        let place = second.checked_sub(first + 1)?;
        self.rhymes.get(first)?.get(place).copied()
    }

    fn join(&mut self, one: usize, other: usize) {
        let (a, b) = (self.group_of(one), self.group_of(other));
        for group in &mut self.group {
            if *group == a.max(b) {
                *group = a.min(b);
            }
        }
    }

    fn pairs(&self) -> impl Iterator<Item = (usize, usize, Rhyme)> {
        let rows = self.rhymes.iter().enumerate();
        rows.flat_map(|(one, row)| {
            row.iter()
                .enumerate()
                .map(move |(place, rhyme)| (one, one + 1 + place, *rhyme))
        })
    }

    fn refrains(&mut self) {
        for one in 0..self.ends.len() {
            let again = (0..one).find(|before| {
                self.end(*before)
                    .zip(self.end(one))
                    .is_some_and(|(a, b)| a.repeats(b))
            });
            if let Some(before) = again {
                self.join(before, one);
            }
        }
    }

    /// Joins what rhymes; stanzas are held to the habit.
    fn join_all(mut self, habit: Option<&Habit>) -> Scheme {
        self.refrains();
        let length = stanza_length(self.ends.len());
        if length == QUATRAIN {
            for first in (0..self.ends.len()).step_by(QUATRAIN) {
                let heard = |one, other| self.heard(first + one, first + other);
                let form = stanza::of_quatrain(heard);
                let kept = habit.and_then(|habit| habit.kept(&form, heard));
                self.join_as(first, kept.unwrap_or(&form));
            }
            self.full();
        } else {
            self.full();
            self.near();
            let own = stanza::form_of(self.group.iter().copied());
            let heard = |one, other| self.heard(one, other);
            if let Some(form) = habit.and_then(|habit| habit.kept(&own, heard)) {
                self.group = (0..self.ends.len()).collect();
                self.refrains();
                self.join_as(0, form);
            }
        }
        self.finish()
    }

    /// What two lines have in common; none where they are too far apart.
    fn heard(&self, one: usize, other: usize) -> Heard {
        let ends = self.end(one).zip(self.end(other));
        match ends {
            Some((a, b)) if a.repeats(b) => Heard::Refrain,
            Some((a, b)) if a.ends_on_word_of(b) => Heard::SameWord {
                light: a.ends_lightly(),
            },
            _ => Heard::Words(self.rhyme(one, other).unwrap_or(Rhyme::NONE)),
        }
    }

    fn join_as(&mut self, first: usize, form: &[usize]) {
        for (one, other) in pairs_of(form) {
            self.join(first + one, first + other);
        }
    }

    /// Joins full rhymes, the nearest first; groups meet only where each line rhymes with each. A word with two sounds (*again*)
    /// thus does not tie together what has nothing in common. What a quatrain's form keeps apart stays so.
    fn full(&mut self) {
        let quatrains = stanza_length(self.ends.len()) == QUATRAIN;
        let mut pairs: Vec<_> = self
            .pairs()
            .filter(|(.., rhyme)| rhyme.kind.is_full())
            .collect();
        pairs.sort_by_key(|(one, other, rhyme)| (rhyme.kind == Kind::Light, other - one, *one));
        for (one, other, _) in pairs {
            let (a, b) = (self.group_of(one), self.group_of(other));
            let fits = a == b
                || self.members(a).all(|one| {
                    self.members(b).all(|other| {
                        !(quatrains && one / QUATRAIN == other / QUATRAIN)
                            && self
                                .rhyme(one, other)
                                .is_none_or(|rhyme| rhyme.kind.is_full())
                    })
                });
            if fits {
                self.join(one, other);
            }
        }
    }

    /// Joins lines left alone that come near each other, the nearest first.
    fn near(&mut self) {
        let mut pairs: Vec<_> = self
            .pairs()
            .filter(|(.., rhyme)| {
                matches!(rhyme.kind, Kind::Family | Kind::Added) && rhyme.score >= NEAR
            })
            .collect();
        pairs.sort_by(|a, b| b.2.score.total_cmp(&a.2.score).then(a.0.cmp(&b.0)));
        for (one, other, _) in pairs {
            if self.is_alone(one) && self.is_alone(other) {
                self.join(one, other);
            }
        }
    }

    fn finish(self) -> Scheme {
        let mut seen: Vec<usize> = Vec::new();
        let mut lines = Vec::with_capacity(self.ends.len());
        for index in 0..self.ends.len() {
            let group = self.group_of(index);
            let letter = seen.iter().position(|known| *known == group);
            let letter = letter.unwrap_or_else(|| {
                seen.push(group);
                seen.len() - 1
            });
            let partner = self
                .members(group)
                .filter(|other| *other != index)
                .min_by_key(|other| (*other > index, other.abs_diff(index)));
            let common = partner.and_then(|partner| self.rhyme(index, partner));
            let is_again = |other: usize| {
                self.end(index)
                    .zip(self.end(other))
                    .is_some_and(|(a, b)| a.repeats(b))
            };
            lines.push(Rhymed {
                letter,
                partner,
                kind: common.map_or(Kind::None, |rhyme| rhyme.kind),
                near: common.is_some_and(|rhyme| !rhyme.kind.is_full()),
                refrain: self
                    .members(group)
                    .any(|other| other != index && is_again(other)),
            });
        }
        Scheme { lines }
    }
}

/// How many lines of so many are one stanza.
fn stanza_length(lines: usize) -> usize {
    if lines.is_multiple_of(QUATRAIN) {
        QUATRAIN
    } else {
        lines
    }
}
