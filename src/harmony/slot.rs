//! What the search is asked about: chords with their spans and the melody over them.

use crate::music::chord::Chord;
use crate::music::key::Key;
use crate::music::meter::Meter;
use crate::music::pitch::Pitch;
use crate::music::quarters::Quarters;

/// One written chord with its span and what is sung over it.
#[derive(Clone, Debug, PartialEq)]
pub struct Slot {
    /// The written chord; `None` where no chord sounds (`N.C.`), which no variant changes.
    pub base: Option<Chord>,
    /// The meter it stands in.
    pub meter: Meter,
    /// When it begins, counted from the downbeat of the section's first full bar; negative in a pickup.
    pub start: Quarters,
    /// How long it lasts; more than zero.
    pub length: Quarters,
    /// The notes that sound at any time within the span, in time order, each at its full written length: a note held over the
    /// next chord stands in both slots.
    pub notes: Vec<SlotNote>,
    /// Whether the tune has notes here. With `false`, `notes` is empty because nobody knows; with `true`, because nothing is sung.
    pub notes_known: bool,
    /// Whether a line of the song ends with this slot.
    pub line_end: bool,
}

impl Slot {
    /// The first moment that is no longer in the slot.
    #[must_use]
    pub fn end(&self) -> Quarters {
        self.start + self.length
    }
}

/// A sung note, or several tied to one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SlotNote {
    /// As the key and the chords are written (before capo and octave).
    pub pitch: Pitch,
    /// When it begins, counted as the slots are.
    pub start: Quarters,
    /// How long it lasts.
    pub length: Quarters,
}

/// A manner of playing, by which substitutions are offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Style {
    /// Fiddle tunes, mountain songs: drones, modal chords.
    OldTime,
    /// What a song that names none gets.
    Folk,
    /// Three chords and their dominants.
    Country,
    /// Sevenths that stay.
    Blues,
    /// Four-part song.
    Hymn,
    /// Everything.
    Jazz,
}

impl Style {
    /// All, with the word a song file has for each.
    pub const ALL: [(Self, &'static str); 6] = [
        (Self::OldTime, "old-time"),
        (Self::Folk, "folk"),
        (Self::Country, "country"),
        (Self::Blues, "blues"),
        (Self::Hymn, "hymn"),
        (Self::Jazz, "jazz"),
    ];

    /// Reads the word of a song file.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        let word = word.trim();
        Self::ALL
            .into_iter()
            .find(|(_, name)| name.eq_ignore_ascii_case(word))
            .map(|(style, _)| style)
    }

    /// The word of a song file.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL
            .into_iter()
            .find(|&(style, _)| style == self)
            .map_or("folk", |(_, word)| word)
    }
}

/// What holds for the whole section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting {
    /// The key the chords are written in.
    pub key: Key,
    /// The manner of playing.
    pub style: Style,
    /// The writer's words for the section's mood (`waiting`); they lean the choice. Empty where there are none.
    pub mood: String,
}
