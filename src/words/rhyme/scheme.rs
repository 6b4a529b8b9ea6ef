//! The rhyme scheme of a section: which line ends belong together.

use super::kind::{Kind, Rhyme, SLANT};
use super::line_end::LineEnd;
use std::borrow::Borrow;

/// Lines further apart than this do not answer each other any more, unless they are the same throughout.
const REACH: usize = 12;

/// From here on a near rhyme (family, added) is heard as one even where nothing asks for it. Our choice.
const NEAR: f64 = 0.8;

/// What a quatrain's second couplet needs once the first rhymes, or the other way round. Our choice.
const COUPLET: f64 = 0.7;
/// What lines 1 and 3 of a quatrain need: in ballads they are not asked to rhyme, and come near by chance. Our choice.
const BALLAD: f64 = 0.85;

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
/// Full rhymes are joined first, in quatrains also older ones of lines 2 and 4 (*love, prove*); then lines left alone that come near
/// each other; then, in quatrains, those whose places ask for it: 2 and 4 before 1 and 3 before neighbours. The order is our choice.
///
/// ```
/// use breathmark::words::{SongWords, line::line, rhyme::{line_end::LineEnd, scheme::scheme}};
/// let ends = ["In Scarlet town where I was born", "There was a fair maid dwelling", "Made every youth cry well away", "Her name was Barbara Allen"]
///     .map(|row| LineEnd::of(&line(row, &SongWords::default())));
/// assert_eq!(scheme(&ends).letters(), "abcb");
/// ```
#[must_use]
pub fn scheme<E: Borrow<LineEnd>>(ends: &[E]) -> Scheme {
    let mut joining = Joining::new(ends);
    joining.refrains();
    joining.full();
    let quatrains = ends.len().is_multiple_of(4);
    for first in (0..ends.len()).step_by(4).filter(|_| quatrains) {
        joining.join_near(first + 1, first + 3, f64::INFINITY);
    }
    joining.near(quatrains);
    for first in (0..ends.len()).step_by(4).filter(|_| quatrains) {
        joining.quatrain(first);
    }
    joining.finish()
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

    /// Joins full rhymes, the nearest first; groups meet only where each line rhymes with each. A word with two sounds (*again*)
    /// thus does not tie together what has nothing in common.
    fn full(&mut self) {
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
                        self.rhyme(one, other)
                            .is_none_or(|rhyme| rhyme.kind.is_full())
                    })
                });
            if fits {
                self.join(one, other);
            }
        }
    }

    fn near(&mut self, quatrains: bool) {
        let mut pairs: Vec<_> = self
            .pairs()
            .filter(|(one, other, rhyme)| {
                let ballad = quatrains && one.is_multiple_of(4) && *other == one + 2;
                matches!(rhyme.kind, Kind::Family | Kind::Added)
                    && rhyme.score >= if ballad { BALLAD } else { NEAR }
            })
            .collect();
        pairs.sort_by(|a, b| b.2.score.total_cmp(&a.2.score).then(a.0.cmp(&b.0)));
        for (one, other, _) in pairs {
            if self.is_alone(one) && self.is_alone(other) {
                self.join(one, other);
            }
        }
    }

    /// Joins what comes near in the places of abcb, then of abab, then of aabb.
    fn quatrain(&mut self, first: usize) {
        let [a, b, c, d] = [first, first + 1, first + 2, first + 3];
        let answers = |joining: &Self, one, other| joining.group_of(one) == joining.group_of(other);
        self.join_near(b, d, SLANT);
        if answers(self, b, d) {
            self.join_near(a, c, BALLAD);
        }
        if answers(self, c, d) {
            self.join_near(a, b, COUPLET);
        }
        if answers(self, a, b) {
            self.join_near(c, d, COUPLET);
        }
    }

    /// Joins two lines left alone that rhyme by older custom, or come near enough.
    fn join_near(&mut self, one: usize, other: usize, least: f64) {
        let near = self.rhyme(one, other).is_some_and(|rhyme| {
            rhyme.historic || (rhyme.kind != Kind::None && rhyme.score >= least)
        });
        if near && self.is_alone(one) && self.is_alone(other) {
            self.join(one, other);
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
