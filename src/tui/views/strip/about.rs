//! What stands at the foot where the cursor is in no line: what a section comes to, what a value is for, what a phrase holds.

use crate::music::tune::Phrase;
use crate::reading::SectionReading;
use crate::song::field::Field;
use crate::song::place::Row;
use crate::tui::cells::{put, wrapped};
use crate::tui::look::{Look, Role};
use crate::tui::page::Page;
use crate::tui::rows::{PageRow, line_of, section_of};
use crate::tui::views::figures::seconds;
use crate::wording::figure::{counted, short_number};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Under a heading, what the section comes to; under a value, what it is for.
pub(super) fn about(look: Look, page: &Page, row: Option<PageRow>, area: Rect, buf: &mut Buffer) {
    let quiet = look.style(Role::Quiet);
    let mut y = area.y + 1;
    let line = row.and_then(line_of);
    let section = row.and_then(section_of);
    if let Some(read) = section.and_then(|section| page.reading().sections.get(section)) {
        let label = match line {
            Some((_, line)) => format!(" {}, line {} ", read.label, line + 1),
            None => format!(" {} ", read.label),
        };
        put(buf, area.x + 1, area.y, area.right(), &label, quiet);
        if line.is_none() {
            let lines = counted(read.lines.len(), "line", "lines");
            let text = format!(
                "{}{}{lines}{}{}",
                read.kind,
                look.between(),
                look.between(),
                seconds(read.end_s - read.start_s)
            );
            put(buf, area.x + 1, y, area.right(), &text, quiet);
            y += 1;
            for text in wrapped(&form(page, read), area.width.saturating_sub(2)) {
                if y < area.bottom() {
                    put(buf, area.x + 1, y, area.right(), &text, quiet);
                    y += 1;
                }
            }
        }
    }
    let said = match page.cursor.place.row {
        Row::Value(field) => says(field).to_owned(),
        Row::Phrase(tune, phrase) => notes_of(page, tune, phrase),
        _ => String::new(),
    };
    for text in wrapped(&said, area.width.saturating_sub(2)) {
        if y < area.bottom() {
            put(buf, area.x + 1, y, area.right(), &text, quiet);
            y += 1;
        }
    }
}

/// The form that the verses share; empty where a line has no words.
fn form(page: &Page, read: &SectionReading) -> String {
    let stanza = page.reading().stanza(read);
    if stanza.0.iter().any(|line| line.syllables == 0) || stanza.0.is_empty() {
        return String::new();
    }
    let name = stanza
        .name()
        .map_or_else(String::new, |name| format!(": {name}"));
    format!(
        "The verses have {} syllables and {} stresses{name}.",
        stanza.syllables(),
        stanza.beats()
    )
}

/// What a value is for, in a sentence.
const fn says(field: Field) -> &'static str {
    match field {
        Field::Title => "What the song is called.",
        Field::Key => "The key as fingered: Em, Bb, Ador, D dorian.",
        Field::Meter => "The meter: 3/4, 6/8.",
        Field::Tempo => "Beats a minute. F9 taps it.",
        Field::Beat => "What a beat is, as a note value: 1/4, 3/8. Left empty, the meter says it.",
        Field::Bars => "How many bars a line takes where the tune is not written down.",
        Field::Capo => "The fret of the capo; key, tune and chords are written as fingered.",
        Field::Instrument => "Guitar, six-string banjo: for the shapes of chords.",
        Field::Tuning => "The open strings from low to high: E2 A2 D3 G3 B3 E4.",
        Field::Style => {
            "Which substitutions come first: old-time, folk, country, blues, hymn, jazz."
        }
        Field::SteadyNote => {
            "How many seconds you hold one steady note after a full breath. Time it once; all air is reckoned from it."
        }
        Field::Range => "Your lowest and highest note as they sound: A2-E4.",
        Field::Octave => "-1 where the tune is written an octave above your voice.",
        Field::Refill => "How fast a breath fills, in lungfuls a second, from 0.4 to 0.9.",
        Field::Due => "The day by which the song has to be done.",
        Field::SecondsADay => "How many seconds of pictures a day of shooting gives.",
        Field::Recorded => "whole, or in parts: then a long phrase may be sung in two takes.",
        Field::Label => "What the section is called.",
        Field::Kind => "verse, chorus, refrain, bridge, intro, interlude, outro.",
        Field::Tune => {
            "The tune that the section is sung to; without one, the tune called as its kind."
        }
        Field::Again => "The section that is sung once more here.",
        Field::Happens => "What happens here, for you alone.",
        Field::Mood => "The mood leans the choice of chords.",
        Field::Picture => "What is seen here.",
        Field::Played => "Who plays here, and how.",
        Field::Sound => "What is heard here besides the song.",
        Field::RunOn => "true where the sense runs on into the next line: no breath at its end.",
    }
}

/// What a phrase comes to, or what in it cannot be read; how phrases are written where it is empty.
fn notes_of(page: &Page, tune: usize, phrase: usize) -> String {
    let song = page.song();
    let found = song.tunes.get(tune);
    let text = found.and_then(|tune| tune.phrases.get(phrase));
    let reading = page.reading();
    let sung = reading
        .sections
        .iter()
        .find(|section| section.tune.as_ref() == found.map(|tune| &tune.name));
    let setting = sung.map_or(&reading.head.setting, |section| &section.setting);
    let Some(text) = text.filter(|text| !text.trim().is_empty()) else {
        return "A phrase of the tune for each line, in ABC notation: C is middle C, c an octave above, C, below; ^F sharp, _B flat; C2 a quarter, C an eighth; z a rest; | a bar line. Every verse is sung to it.".to_owned();
    };
    let read = Phrase::read(text, setting.key.signature(), setting.meter);
    if let Some(problem) = read.problems.first() {
        return format!("column {}: {}", problem.column + 1, problem.what);
    }
    let pitches = || read.notes.iter().filter_map(|note| note.pitch);
    let (low, high) = (
        pitches().min_by_key(|p| p.midi()),
        pitches().max_by_key(|p| p.midi()),
    );
    let range = low
        .zip(high)
        .map_or_else(String::new, |(low, high)| format!(", {low} to {high}"));
    format!(
        "{}{range}; length in beats {}, before the first bar {}.",
        counted(read.sung_notes(), "note to sing on", "notes to sing on"),
        short_number((read.length / setting.tempo.beat).to_f64()),
        short_number((read.pickup / setting.tempo.beat).to_f64()),
    )
}
