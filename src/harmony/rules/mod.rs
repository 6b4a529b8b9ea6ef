//! The substitutions that are offered: a file each, and this list of them.
//!
//! A rule looks at one slot (a [`Spot`]) and offers chords for it; what it needs around it in the same variant it states as
//! [`Around`], and the search sees to it. The melody is guarded behind the rules: no offer that clashes with it passes.
//! Grades, costs and words of effect are our choice, checked against the counts that a rule's source names.

pub mod added_tone;
pub mod back_door;
pub mod bass_note;
pub mod chromatic_third;
pub mod deceptive;
pub mod dorian_four;
pub mod double_plagal;
pub mod early_arrival;
pub mod flat_seven;
pub mod flat_six;
pub mod flat_three;
pub mod four_for_five;
pub mod four_for_home;
pub mod held_fourth;
pub mod hold_over;
pub mod leading_tone;
pub mod minor_five;
pub mod minor_four;
pub mod mixolydian_neighbour;
pub mod open_fifth;
pub mod passing_diminished;
pub mod pedal_bass;
pub mod picardy;
pub mod plagal;
pub mod relative_minor;
pub mod secondary_dominant;
pub mod seventh;
pub mod split;
pub mod third_above;
pub mod tritone;
pub mod two_five;
pub mod two_for_four;

use super::melody::{Melody, Part};
use super::slot::{Setting, Slot};
use super::variant::{Around, Family, Sounding};
use crate::music::chord::{Chord, kinds};
use crate::music::key::Key;
use crate::music::pitch::Note;
use crate::music::quarters::Quarters;

/// A substitution as accompanists know it.
pub struct Rule {
    /// Its trade name.
    pub name: &'static str,
    /// The kind of change.
    pub family: Family,
    /// What it does to the song, in a word or two.
    pub word: &'static str,
    /// How common it is in each style, in the order of [`super::slot::Style::ALL`]: 3 everyday, 2 known, 1 rare, 0 not offered.
    pub idiom: [u8; 6],
    /// What it asks of the ear, in thousandths of a relative minor.
    pub cost: i64,
    /// How far it goes from the written chord, 1 to 4.
    pub difference: u8,
    /// Whether any melody passes it that fits at all: it says nothing about particular notes.
    pub free: bool,
    /// Where it is known from.
    pub source: &'static str,
    /// What it offers for a slot.
    pub offer: fn(&Spot) -> Vec<Offer>,
    /// A slot where it offers something.
    pub pro: Example,
    /// A slot like it where it does not, for the melody's or the neighbours' sake.
    pub contra: Example,
}

/// A slot for showing a rule at work.
pub struct Example {
    /// As ABC writes keys.
    pub key: &'static str,
    /// Chords, a bar of 4/4 each; `/` ends a line.
    pub chords: &'static str,
    /// The slot in question, from 0.
    pub slot: usize,
    /// Its melody: pitches with their lengths in quarters; `-` for a rest.
    pub melody: &'static str,
    /// The chords that are offered, or are not.
    pub chord: &'static str,
}

/// All rules, the plainest first.
pub const RULES: &[&Rule] = &[
    &seventh::RULE,
    &bass_note::RULE,
    &added_tone::RULE,
    &held_fourth::RULE,
    &open_fifth::RULE,
    &relative_minor::RULE,
    &third_above::RULE,
    &two_for_four::RULE,
    &four_for_five::RULE,
    &four_for_home::RULE,
    &leading_tone::RULE,
    &deceptive::RULE,
    &plagal::RULE,
    &flat_seven::RULE,
    &minor_five::RULE,
    &double_plagal::RULE,
    &dorian_four::RULE,
    &mixolydian_neighbour::RULE,
    &picardy::RULE,
    &minor_four::RULE,
    &flat_six::RULE,
    &flat_three::RULE,
    &secondary_dominant::RULE,
    &two_five::RULE,
    &passing_diminished::RULE,
    &tritone::RULE,
    &back_door::RULE,
    &chromatic_third::RULE,
    &split::RULE,
    &hold_over::RULE,
    &early_arrival::RULE,
    &pedal_bass::RULE,
];

/// What a rule offers for a slot.
#[derive(Clone, Debug)]
pub struct Offer {
    /// The chords in time order.
    pub chords: Vec<Sounding>,
    /// What has to stand around it.
    pub around: Around,
    /// Thousandths on top of the rule's cost.
    pub extra: i64,
    /// What more there is to say about it; empty where the rule's name says all.
    pub because: String,
}

impl Offer {
    /// One chord for the whole slot.
    #[must_use]
    pub fn whole(chord: Chord) -> Self {
        Self::made(vec![Sounding {
            chord,
            after: Quarters::ZERO,
        }])
    }

    /// Two chords, the second after some time.
    #[must_use]
    pub fn split(first: Chord, second: Chord, after: Quarters) -> Self {
        let first = Sounding {
            chord: first,
            after: Quarters::ZERO,
        };
        Self::made(vec![
            first,
            Sounding {
                chord: second,
                after,
            },
        ])
    }

    const fn made(chords: Vec<Sounding>) -> Self {
        Self {
            chords,
            around: Around::ANY,
            extra: 0,
            because: String::new(),
        }
    }

    /// Only where one of these roots follows (bits from C).
    #[must_use]
    pub const fn before_roots(mut self, roots: u16) -> Self {
        self.around.next = roots;
        self
    }

    /// Only where one of these roots stands before.
    #[must_use]
    pub const fn after_roots(mut self, roots: u16) -> Self {
        self.around.before = roots;
        self
    }

    /// Only where the chord before stays as written.
    #[must_use]
    pub const fn after_the_written(mut self) -> Self {
        self.around.before_as_written = true;
        self
    }

    /// Only where the next chord stays as written.
    #[must_use]
    pub const fn before_the_written(mut self) -> Self {
        self.around.next_as_written = true;
        self
    }

    /// Not for two neighbouring slots that were written the same.
    #[must_use]
    pub const fn once(mut self) -> Self {
        self.around.once = true;
        self
    }

    /// Dearer by so much.
    #[must_use]
    pub const fn dearer(mut self, extra: i64) -> Self {
        self.extra = extra;
        self
    }

    /// With a reason of its own.
    #[must_use]
    pub fn because(mut self, reason: impl Into<String>) -> Self {
        self.because = reason.into();
        self
    }
}

/// What the end of a line or section asks of its last slot and the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// In the middle of things.
    Inside,
    /// A line ends on the dominant: a question.
    HalfCadence,
    /// The dominant before a line ends on the tonic.
    BeforeClose,
    /// A line ends on the tonic after its dominant.
    Close,
    /// A line ends otherwise.
    LineEnd,
    /// The section ends.
    SectionEnd,
}

/// A slot as the rules see it.
pub struct Spot<'a> {
    /// What holds for the section.
    pub setting: &'a Setting,
    /// The slot.
    pub slot: &'a Slot,
    /// Its written chord.
    pub base: &'a Chord,
    /// The written chord of the slot before.
    pub before: Option<&'a Chord>,
    /// The written chord of the next slot.
    pub next: Option<&'a Chord>,
    /// Whether it is the section's first.
    pub first: bool,
    /// Whether it is the first of a line.
    pub begins_line: bool,
    /// Where it stands in the line.
    pub place: Place,
    /// The melody of the section.
    pub melody: &'a Melody,
    /// What is sung over it.
    pub parts: &'a [Part],
}

impl Spot<'_> {
    /// The key.
    #[must_use]
    pub const fn key(&self) -> Key {
        self.setting.key
    }

    /// Whether the key's third is minor.
    #[must_use]
    pub const fn in_minor(&self) -> bool {
        self.setting.key.is_minor()
    }

    /// Semitones of a note above the tonic, 0 to 11.
    #[must_use]
    pub fn above_tonic(&self, note: Note) -> u8 {
        (12 + note.class() - self.key().tonic().class()) % 12
    }

    /// Whether the written chord has a major third and its root so many semitones above the tonic.
    #[must_use]
    pub fn is_major_on(&self, semitones: u8) -> bool {
        self.base.is_major() && self.above_tonic(self.base.root()) == semitones
    }

    /// The same with a minor third.
    #[must_use]
    pub fn is_minor_on(&self, semitones: u8) -> bool {
        self.base.is_minor() && self.above_tonic(self.base.root()) == semitones
    }

    /// Whether the written chord is the tonic's, major or minor.
    #[must_use]
    pub fn is_home(&self) -> bool {
        self.above_tonic(self.base.root()) == 0
    }

    /// Whether the written chord is the major chord on the fifth degree.
    #[must_use]
    pub fn is_dominant(&self) -> bool {
        self.is_major_on(7)
    }

    /// Whether a note so many semitones above the tonic is sung here and strong.
    #[must_use]
    pub fn sings(&self, semitones: u8) -> bool {
        self.parts
            .iter()
            .any(|part| part.is_strong() && self.above_tonic(part.pitch.note) == semitones)
    }

    /// Whether one of these is sung and strong.
    #[must_use]
    pub fn sings_any(&self, semitones: &[u8]) -> bool {
        semitones.iter().any(|&s| self.sings(s))
    }

    /// Whether what is sung and strong is among these; also where nothing is sung.
    #[must_use]
    pub fn sings_only(&self, semitones: &[u8]) -> bool {
        self.parts
            .iter()
            .filter(|part| part.is_strong())
            .all(|part| semitones.contains(&self.above_tonic(part.pitch.note)))
    }

    /// Whether a note so many semitones above the written root is sung and strong.
    #[must_use]
    pub fn sings_over_root(&self, semitones: u8) -> bool {
        self.sings((self.above_tonic(self.base.root()) + semitones) % 12)
    }

    /// The triad of that third and a perfect fifth on a root: `true` for major.
    #[must_use]
    pub fn triad(root: Note, major: bool) -> Option<Chord> {
        Self::of_kind(root, if major { "major" } else { "minor" })
    }

    /// The chord of a named kind on a root.
    #[must_use]
    pub fn of_kind(root: Note, kind: &str) -> Option<Chord> {
        let kind = kinds::KINDS.iter().find(|k| k.name == kind)?;
        Some(Chord::of_kind(root, kind))
    }

    /// Whether all notes of a chord belong to the key's scale.
    #[must_use]
    pub fn is_in_key(&self, chord: &Chord) -> bool {
        let scale = self.key().scale();
        chord.notes().iter().all(|note| scale.contains(note))
    }

    /// Roots by their semitones above the tonic, as bits from C.
    #[must_use]
    pub fn roots(&self, semitones: &[u8]) -> u16 {
        let tonic = self.key().tonic().class();
        semitones
            .iter()
            .fold(0, |bits, s| bits | 1 << ((tonic + s) % 12))
    }

    /// A root as bits from C.
    #[must_use]
    pub fn root_bit(root: Note) -> u16 {
        1 << root.class()
    }

    /// The middle of the slot, if both halves are at least two beats long (three eighths in compound meters) and begin on a beat.
    #[must_use]
    pub fn middle(&self) -> Option<Quarters> {
        let beat = self.slot.meter.beat();
        let least = if self.slot.meter.is_compound() {
            beat
        } else {
            beat * 2
        };
        // In threes the second chord takes the last beat or two; two beats are enough for the first there.
        let half = if self.slot.meter.numerator() == 3 && self.slot.length == self.slot.meter.bar()
        {
            beat * 2
        } else {
            self.slot.length / 2
        };
        let rest = self.slot.length - half;
        let on_beat = (self.slot.start + half).modulo(beat).is_zero();
        let long_enough = half >= least && (rest >= least || self.slot.meter.numerator() == 3);
        (on_beat && long_enough && rest.is_positive()).then_some(half)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;
    use crate::harmony::slot::Style;
    use crate::harmony::variant::row_text;
    use crate::harmony::{candidates, examples};

    /// What one rule offers in an example, in the style that knows it best.
    fn offered(rule: &Rule, example: &Example) -> Vec<String> {
        let best = rule.idiom.iter().max().unwrap();
        let style = rule.idiom.iter().position(|grade| grade == best).unwrap();
        let setting = examples::setting(example.key, Style::ALL[style].0);
        let mut slots = examples::slots(example.chords);
        examples::sing(&mut slots, example.slot, example.melody);
        candidates::by_rules(&slots, &setting, &[rule])[example.slot][1..]
            .iter()
            .map(|candidate| row_text(&candidate.chords))
            .collect()
    }

    #[test]
    fn every_rule_offers_its_pro_and_not_its_contra() {
        for rule in RULES {
            let pro = offered(rule, &rule.pro);
            assert!(
                pro.contains(&rule.pro.chord.to_owned()),
                "{}: {pro:?}",
                rule.name
            );
            let contra = offered(rule, &rule.contra);
            assert!(
                !contra.contains(&rule.contra.chord.to_owned()),
                "{}: {contra:?}",
                rule.name
            );
        }
    }

    #[test]
    fn rules_are_complete_and_told_apart() {
        let mut names: Vec<_> = RULES.iter().map(|rule| rule.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), RULES.len());
        for rule in RULES {
            assert!(
                !rule.source.is_empty() && !rule.word.is_empty(),
                "{}",
                rule.name
            );
            assert!(
                rule.idiom.iter().any(|&grade| grade > 0) && rule.idiom.iter().all(|&g| g <= 3)
            );
            assert!(
                (1..=4).contains(&rule.difference) && rule.cost > 0,
                "{}",
                rule.name
            );
        }
    }
}
