//! The header as understood: each value typed, or its default.

use crate::music::key::Key;
use crate::music::meter::{Meter, Tempo};
use crate::music::pitch::Pitch;
use crate::music::quarters::Quarters;
use crate::singing::voice::Voice;
use crate::song::field::{Field, Values};
use crate::song::{NodeId, Section, Song};

/// What a song or a section is sung in.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// As fingered; what sounds is higher by the capo.
    pub key: Key,
    /// The meter.
    pub meter: Meter,
    /// Beats a minute, and what a beat is.
    pub tempo: Tempo,
    /// Bars that a line without notes takes.
    pub bars: i64,
    /// Semitones from what is written to what sounds.
    pub capo: i16,
}

/// The song's header as understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// The title; empty where there is none.
    pub title: String,
    /// What the song is sung in where a section says nothing else.
    pub setting: Setting,
    /// The singer.
    pub voice: Voice,
    /// The singer's lowest and highest note, as sounding; `None` where not given.
    pub range: Option<(Pitch, Pitch)>,
    /// Octaves from the tune as written to the voice.
    pub octave: i16,
    /// The style whose substitutions come first.
    pub style: crate::harmony::slot::Style,
    /// The header values for which a default serves, because nothing was written or what was makes no sense.
    pub defaults: Vec<Field>,
    /// The values that make no sense.
    pub problems: Vec<ValueProblem>,
}

/// A value that makes no sense, for which the default serves meanwhile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ValueProblem {
    /// Whose value.
    pub node: NodeId,
    /// Under which key.
    pub field: Field,
    /// What was typed.
    pub found: String,
    /// What it has to be.
    pub expected: &'static str,
}

/// Reads values of one node and notes those that make no sense.
struct Reader<'a> {
    node: NodeId,
    values: &'a Values,
    problems: &'a mut Vec<ValueProblem>,
}

impl Reader<'_> {
    fn read<T>(
        &mut self,
        field: Field,
        expected: &'static str,
        parse: impl FnOnce(&str) -> Option<T>,
    ) -> Option<T> {
        let text = self.values.get(field)?.trim();
        if text.is_empty() {
            return None;
        }
        let value = parse(text);
        if value.is_none() {
            self.problems.push(ValueProblem {
                node: self.node,
                field,
                found: text.to_owned(),
                expected,
            });
        }
        value
    }

    /// What stands under key, meter, tempo, bars and capo, over the setting in force.
    fn setting(&mut self, outer: &Setting, song_beat: Option<Quarters>) -> Setting {
        let key = self.read(
            Field::Key,
            "it has to be a key, such as Em, Bb, Ador or D dorian",
            Key::parse,
        );
        let meter = self.read(
            Field::Meter,
            "it has to be a meter, such as 3/4 or 6/8",
            Meter::parse,
        );
        let tempo = self.read(
            Field::Tempo,
            "it has to be beats a minute, from 10 to 400, such as 96",
            |text| number(text, 10.0, 400.0),
        );
        let bars = self.read(
            Field::Bars,
            "it has to be a whole number of bars, from 1 to 999",
            |text| whole(text, 1, 999),
        );
        let capo = self.read(Field::Capo, "it has to be a fret, from 0 to 12", |text| {
            whole(text, 0, 12)
        });
        let (new_meter, new_bars) = (
            meter.unwrap_or(outer.meter),
            // Another meter brings its own usual bars.
            bars.or_else(|| meter.is_none().then_some(outer.bars)),
        );
        let beat = song_beat.unwrap_or_else(|| new_meter.beat());
        Setting {
            key: key.unwrap_or(outer.key),
            meter: new_meter,
            tempo: Tempo {
                per_minute: tempo.unwrap_or(outer.tempo.per_minute),
                beat,
            },
            bars: new_bars.unwrap_or_else(|| usual_bars(new_meter)),
            capo: capo
                .and_then(|capo| i16::try_from(capo).ok())
                .unwrap_or(outer.capo),
        }
    }
}

/// The bars that a line takes where nothing says so: four in meters of three, else two.
#[must_use]
pub fn usual_bars(meter: Meter) -> i64 {
    if meter.beats() == 3 { 4 } else { 2 }
}

/// A finite number between two bounds.
#[must_use]
pub fn number(text: &str, least: f64, most: f64) -> Option<f64> {
    text.parse::<f64>()
        .ok()
        .filter(|value| (least..=most).contains(value))
}

/// A whole number between two bounds.
#[must_use]
pub fn whole(text: &str, least: i64, most: i64) -> Option<i64> {
    text.parse::<i64>()
        .ok()
        .filter(|value| (least..=most).contains(value))
}

/// `3/8` of a whole note, as quarters.
fn note_value(text: &str) -> Option<Quarters> {
    let (above, below) = text.split_once('/')?;
    let (above, below) = (whole(above.trim(), 1, 64)?, whole(below.trim(), 1, 64)?);
    Some(Quarters::new(4 * above, below))
}

/// `A2-E4`: two notes, the lower first.
fn range(text: &str) -> Option<(Pitch, Pitch)> {
    let cleaned = text
        .replace(['\u{2013}', '\u{2014}', '\u{2212}'], "-")
        .replace(" to ", "-");
    let (low, high) = cleaned.split_once('-')?;
    let (low, high) = (Pitch::parse(low.trim())?, Pitch::parse(high.trim())?);
    (low.midi() < high.midi()).then_some((low, high))
}

/// Whether a typed value says yes; `None` where it says neither yes nor no.
#[must_use]
pub fn yes_or_no(text: &str) -> Option<bool> {
    match text.trim().to_lowercase().as_str() {
        "true" | "yes" | "on" => Some(true),
        "false" | "no" | "off" | "" => Some(false),
        _ => None,
    }
}

/// Reads a song's header.
#[must_use]
pub fn read(song: &Song) -> Head {
    let mut problems = Vec::new();
    let mut reader = Reader {
        node: NodeId::SONG,
        values: &song.values,
        problems: &mut problems,
    };
    let beat = reader.read(
        Field::Beat,
        "it has to be a note value, such as 1/4 or 3/8",
        note_value,
    );
    let bare = Setting {
        key: Key::C_MAJOR,
        meter: Meter::COMMON,
        tempo: Tempo {
            per_minute: 96.0,
            beat: Meter::COMMON.beat(),
        },
        bars: usual_bars(Meter::COMMON),
        capo: 0,
    };
    let setting = reader.setting(&bare, beat);
    let usual = Voice::default();
    let steady_note = reader.read(
        Field::SteadyNote,
        "it has to be seconds, from 3 to 90, such as 22",
        |text| number(text, 3.0, 90.0),
    );
    let refill = reader.read(
        Field::Refill,
        "it has to be lungfuls a second, from 0.4 to 0.9, such as 0.7",
        |text| number(text, 0.4, 0.9),
    );
    let voice = Voice {
        steady_note: steady_note.unwrap_or(usual.steady_note),
        refill: refill.unwrap_or(usual.refill),
        ..usual
    };
    let range = reader.read(
        Field::Range,
        "it has to be the lowest and the highest note, such as A2-E4",
        range,
    );
    let octave = reader.read(
        Field::Octave,
        "it has to be whole octaves, from -3 to 3",
        |text| whole(text, -3, 3),
    );
    let style = reader.read(
        Field::Style,
        "it has to be old-time, folk, country, blues, hymn or jazz",
        crate::harmony::slot::Style::parse,
    );
    reader.read(
        Field::Recorded,
        "it has to be `whole` or `in parts`",
        |text| matches!(text, "whole" | "in parts").then_some(()),
    );
    reader.read(
        Field::Tuning,
        "it has to be the open strings from low to high, such as E2 A2 D3 G3 B3 E4",
        |text| {
            let strings = text.split([' ', ',']).filter(|string| !string.is_empty());
            strings.map(Pitch::parse).collect::<Option<Vec<_>>>()
        },
    );
    let shown = [Field::Key, Field::Meter, Field::Tempo, Field::SteadyNote];
    Head {
        title: song.values.get(Field::Title).unwrap_or("").to_owned(),
        setting,
        voice,
        range,
        octave: octave
            .and_then(|octave| i16::try_from(octave).ok())
            .unwrap_or(0),
        style: style.unwrap_or(crate::harmony::slot::Style::Folk),
        defaults: shown
            .into_iter()
            .filter(|field| {
                let written = song.values.get(*field).map_or("", str::trim);
                written.is_empty() || problems.iter().any(|problem| problem.field == *field)
            })
            .collect(),
        problems,
    }
}

/// Reads a section's own values over the song's setting.
#[must_use]
pub fn of_section(
    head: &Head,
    song: &Song,
    section: &Section,
    problems: &mut Vec<ValueProblem>,
) -> Setting {
    let beat = song.values.get(Field::Beat).and_then(note_value);
    Reader {
        node: section.id,
        values: &section.values,
        problems,
    }
    .setting(&head.setting, beat)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    fn head(values: &[(Field, &str)]) -> Head {
        let mut song = Song::new("T");
        for (field, text) in values {
            song.values.set(*field, Some((*text).to_owned()));
        }
        read(&song)
    }

    #[test]
    fn bars_follow_the_meter() {
        for (meter, bars) in [("3/4", 4), ("9/8", 4), ("4/4", 2), ("6/8", 2), ("2/4", 2)] {
            assert_eq!(head(&[(Field::Meter, meter)]).setting.bars, bars, "{meter}");
        }
        assert_eq!(
            head(&[(Field::Meter, "3/4"), (Field::Bars, "8")])
                .setting
                .bars,
            8
        );
    }

    #[test]
    fn nonsense_is_noted_and_the_default_serves() {
        let head = head(&[
            (Field::Tempo, "fast"),
            (Field::Meter, "0/4"),
            (Field::Capo, "-1"),
            (Field::SteadyNote, ".inf"),
        ]);
        assert_eq!(
            head.problems
                .iter()
                .map(|problem| problem.field)
                .collect::<Vec<_>>(),
            [Field::Meter, Field::Tempo, Field::Capo, Field::SteadyNote]
        );
        assert!((head.setting.tempo.per_minute - 96.0).abs() < f64::EPSILON);
        assert_eq!(head.setting.meter, Meter::COMMON);
    }

    #[test]
    fn ranges_are_two_notes() {
        let (low, high) = range("A2-E4").unwrap();
        assert_eq!((low.midi(), high.midi()), (45, 64));
        assert_eq!(range("E4-A2"), None);
        assert_eq!(range("low"), None);
    }

    #[test]
    fn the_beat_is_the_songs_own_where_it_says_so() {
        assert_eq!(
            head(&[(Field::Meter, "6/8")]).setting.tempo.beat,
            Quarters::new(3, 2)
        );
        assert_eq!(
            head(&[(Field::Meter, "6/8"), (Field::Beat, "1/8")])
                .setting
                .tempo
                .beat,
            Quarters::new(1, 2)
        );
    }
}
