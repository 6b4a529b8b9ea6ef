//! Header values: what was typed, under the key it was typed for.

/// A key of the song file that holds one value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the names are the file's own keys")]
pub enum Field {
    Title,
    Key,
    Meter,
    Tempo,
    Beat,
    Bars,
    Capo,
    Instrument,
    Tuning,
    Style,
    SteadyNote,
    Range,
    Octave,
    Refill,
    Due,
    SecondsADay,
    Recorded,
    Label,
    Kind,
    Tune,
    Again,
    Happens,
    Mood,
    Picture,
    Played,
    Sound,
    RunOn,
}

/// Where a key may stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Owner {
    /// The song.
    Song,
    /// A section.
    Section,
    /// A line.
    Line,
}

/// A row of the table of keys: the key, how the file spells it (a dot parts a map from its key), and where it may stand.
type Row = (Field, &'static str, &'static [Owner]);

use Owner::{Line, Section, Song};

/// All keys that hold one value, in the order in which a new file writes them.
pub const FIELDS: &[Row] = &[
    (Field::Title, "title", &[Song]),
    (Field::Label, "label", &[Section]),
    (Field::Kind, "kind", &[Section]),
    (Field::Again, "again", &[Section]),
    (Field::Tune, "tune", &[Section]),
    (Field::Key, "key", &[Song, Section]),
    (Field::Meter, "meter", &[Song, Section]),
    (Field::Tempo, "tempo", &[Song, Section]),
    (Field::Beat, "beat", &[Song]),
    (Field::Bars, "bars", &[Song, Section, Line]),
    (Field::Capo, "capo", &[Song, Section]),
    (Field::Instrument, "instrument", &[Song]),
    (Field::Tuning, "tuning", &[Song]),
    (Field::Style, "style", &[Song]),
    (Field::SteadyNote, "voice.steady_note", &[Song]),
    (Field::Range, "voice.range", &[Song]),
    (Field::Octave, "voice.octave", &[Song]),
    (Field::Refill, "voice.refill", &[Song]),
    (Field::Due, "due", &[Song]),
    (Field::SecondsADay, "seconds_a_day", &[Song]),
    (Field::Recorded, "recorded", &[Song]),
    (Field::Happens, "happens", &[Section]),
    (Field::Mood, "mood", &[Section]),
    (Field::Picture, "picture", &[Section, Line]),
    (Field::Played, "played", &[Section]),
    (Field::Sound, "sound", &[Line]),
    (Field::RunOn, "run_on", &[Line]),
];

impl Field {
    /// The key as the file spells it.
    #[must_use]
    pub fn name(self) -> &'static str {
        FIELDS
            .iter()
            .find(|row| row.0 == self)
            .map_or("", |row| row.1)
    }

    /// The field that a key names where it stands; `None` for keys the design does not know there.
    #[must_use]
    pub fn named(name: &str, owner: Owner) -> Option<Self> {
        FIELDS
            .iter()
            .find(|row| row.1 == name && row.2.contains(&owner))
            .map(|row| row.0)
    }
}

/// Values as typed, by key. Whether one makes sense is asked when the song is read, never here.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Values(Vec<(Field, String)>);

impl Values {
    /// What was typed for the key.
    #[must_use]
    pub fn get(&self, field: Field) -> Option<&str> {
        self.0
            .iter()
            .find(|(found, _)| *found == field)
            .map(|(_, text)| text.as_str())
    }

    /// Sets or clears a value, and gives what stood there.
    pub fn set(&mut self, field: Field, text: Option<String>) -> Option<String> {
        let index = self.0.binary_search_by_key(&field, |(found, _)| *found);
        match (index, text) {
            (Ok(index), Some(text)) => self
                .0
                .get_mut(index)
                .map(|entry| std::mem::replace(&mut entry.1, text)),
            (Ok(index), None) => Some(self.0.remove(index).1),
            (Err(index), Some(text)) => {
                self.0.insert(index, (field, text));
                None
            }
            (Err(_), None) => None,
        }
    }

    /// The values there are, ordered by key.
    pub fn iter(&self) -> impl Iterator<Item = (Field, &str)> {
        self.0.iter().map(|(field, text)| (*field, text.as_str()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_is_in_the_table_once() {
        for (index, row) in FIELDS.iter().enumerate() {
            assert!(
                FIELDS
                    .iter()
                    .skip(index + 1)
                    .all(|other| other.0 != row.0 && other.1 != row.1),
                "{}",
                row.1
            );
            assert_eq!(row.0.name(), row.1);
        }
        assert_eq!(Field::named("tempo", Owner::Line), None);
    }

    #[test]
    fn values_are_set_and_cleared() {
        let mut values = Values::default();
        assert_eq!(values.set(Field::Tempo, Some("fast".into())), None);
        assert_eq!(
            values.set(Field::Tempo, Some("96".into())).as_deref(),
            Some("fast")
        );
        assert_eq!(values.set(Field::Tempo, None).as_deref(), Some("96"));
        assert_eq!(values, Values::default());
    }
}
