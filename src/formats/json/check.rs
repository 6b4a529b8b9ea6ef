//! What `check` answers.

use super::Number;
use crate::reading::rhymes::{Inside, inside};
use crate::reading::{LineReading, Reading, SectionReading};
use crate::singing::air::{Breath, From, breathe};
use crate::singing::breaths::{breath_plan, with_breath};
use crate::warnings::{Severity, Warning, WayOut};
use crate::words::SongWords;
use serde::Serialize;

/// The answer of `check`.
#[derive(Debug, Serialize)]
#[expect(
    missing_docs,
    reason = "the keys are those of the published shape, described at the top"
)]
pub struct Check {
    pub title: String,
    pub seconds: Number,
    pub sections: Vec<CheckSection>,
    pub lines: Vec<CheckLine>,
    pub breaths: Vec<CheckBreath>,
    pub warnings: Vec<CheckWarning>,
    pub remarks: Vec<CheckWarning>,
}

/// A section in `check`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct CheckSection {
    pub section: usize,
    pub label: String,
    pub kind: String,
    pub tune: Option<String>,
    pub start_s: Number,
    pub end_s: Number,
    pub rhyme_scheme: Option<String>,
    pub stanza: Option<CheckStanza>,
}

/// The form that the verses of a section's tune share.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct CheckStanza {
    pub syllables: Vec<usize>,
    pub stresses: Vec<usize>,
    pub name: Option<String>,
}

/// A line in `check`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct CheckLine {
    pub section: usize,
    pub line: usize,
    pub lyric: String,
    pub syllables: usize,
    pub wanted: Option<usize>,
    pub start_s: Option<Number>,
    pub end_s: Option<Number>,
    pub air_left: Option<Number>,
    pub seconds_left: Option<Number>,
    pub verdict: Option<&'static str>,
    pub bad_day: Option<&'static str>,
    pub falls_at: Option<usize>,
    pub syllable_times: Vec<CheckSyllable>,
    pub inside: Vec<CheckInside>,
}

/// A word inside a line that rhymes, in `check`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct CheckInside {
    pub word: String,
    pub with: String,
    pub next_line: bool,
}

/// A syllable in `check`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct CheckSyllable {
    pub syllable: String,
    pub column: usize,
    pub start_s: Number,
    pub end_s: Number,
    pub midi: Option<i16>,
    pub stress: u8,
}

/// A breath in `check`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct CheckBreath {
    pub section: usize,
    pub line: usize,
    pub column: usize,
    pub after: String,
    pub from: &'static str,
    pub at_s: Number,
    pub length_s: Number,
    pub air_before: Number,
    pub air_after: Number,
}

/// A warning or remark in `check`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct CheckWarning {
    pub section: Option<usize>,
    pub line: Option<usize>,
    pub kind: &'static str,
    pub message: String,
    pub remedies: Vec<CheckRemedy>,
}

/// A way out in `check`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct CheckRemedy {
    pub kind: &'static str,
    pub text: String,
    pub value: Option<Number>,
    pub unit: Option<&'static str>,
    pub column: Option<usize>,
    pub air_left: Option<Number>,
    pub verdict: Option<&'static str>,
    pub seconds: Option<Number>,
}

/// What `check` answers for a song with these words of its own.
#[must_use]
pub fn check(
    lyrics: &dyn Fn(&LineReading) -> String,
    own: &SongWords,
    reading: &Reading,
    warnings: &[(Warning, Vec<WayOut>)],
) -> Check {
    let of = |severity| {
        warnings
            .iter()
            .filter(move |(warning, _)| warning.severity() == severity)
            .map(|(warning, ways)| check_warning(warning, ways))
            .collect()
    };
    Check {
        title: reading.head.title.clone(),
        seconds: Number(reading.seconds),
        sections: reading
            .sections
            .iter()
            .enumerate()
            .map(|(index, section)| CheckSection {
                section: index + 1,
                label: section.label.clone(),
                kind: section.kind.clone(),
                tune: section.tune.clone(),
                start_s: Number(section.start_s),
                end_s: Number(section.end_s),
                rhyme_scheme: section.rhymes.letters(),
                stanza: check_stanza(reading, section),
            })
            .collect(),
        lines: reading
            .lines
            .iter()
            .enumerate()
            .map(|(index, line)| CheckLine {
                inside: inside(reading, index, own)
                    .into_iter()
                    .map(check_inside)
                    .collect(),
                ..check_line(lyrics(line), reading, line)
            })
            .collect(),
        breaths: check_breaths(reading),
        warnings: of(Severity::Warning),
        remarks: of(Severity::Remark),
    }
}

fn check_stanza(reading: &Reading, section: &SectionReading) -> Option<CheckStanza> {
    let stanza = reading.stanza(section);
    (!stanza.0.is_empty()).then(|| CheckStanza {
        name: stanza.name(),
        syllables: stanza.0.iter().map(|line| line.syllables).collect(),
        stresses: stanza.0.iter().map(|line| line.beats).collect(),
    })
}

fn check_line(lyric: String, reading: &Reading, line: &LineReading) -> CheckLine {
    let syllables = line.laid.syllables.iter().zip(reading.times_of(line));
    CheckLine {
        section: line.section + 1,
        line: line.line + 1,
        lyric,
        syllables: line.laid.syllables.len(),
        wanted: line.wanted,
        start_s: line.start_s.map(Number),
        end_s: line.end_s.map(Number),
        air_left: line.air_left.map(Number),
        seconds_left: line.seconds_left.map(Number),
        verdict: line.verdict.map(|verdict| verdict.words()),
        bad_day: line.bad_day.map(|verdict| verdict.words()),
        falls_at: line.falls_at.map(|column| column.0),
        syllable_times: syllables
            .map(|(syllable, time)| CheckSyllable {
                syllable: syllable.text.clone(),
                column: syllable.column.0,
                start_s: Number(time.start_s),
                end_s: Number(time.end_s),
                midi: syllable.notes.first().map(|(pitch, _)| pitch.midi()),
                stress: syllable.stress,
            })
            .collect(),
        inside: Vec::new(),
    }
}

fn check_inside(found: Inside) -> CheckInside {
    CheckInside {
        word: found.word,
        with: found.with,
        next_line: found.next_line,
    }
}

fn check_breaths(reading: &Reading) -> Vec<CheckBreath> {
    let one = |breath: &Breath| -> Option<CheckBreath> {
        let (line, word, column) = reading.word_ending_at(breath.after)?;
        Some(CheckBreath {
            section: line.section + 1,
            line: line.line + 1,
            column: column.0,
            after: word.text.clone(),
            from: breath.from.name(),
            at_s: Number(breath.at),
            length_s: Number(breath.length),
            air_before: Number(breath.before),
            air_after: Number(breath.top),
        })
    };
    let mut breaths: Vec<_> = reading.air.breaths.iter().filter_map(one).collect();
    // Those that the program would add soften no verdict: their levels are of the song with all of them.
    let voice = reading.head.voice;
    let planned = breath_plan(&reading.soundings, voice);
    let song = planned
        .iter()
        .fold(reading.soundings.clone(), |song, after| {
            with_breath(&song, *after)
        });
    let added = breathe(&song, voice).breaths;
    let added = added.iter().filter(|breath| breath.from == From::Added);
    breaths.extend(added.filter_map(one));
    breaths.sort_by(|a, b| a.at_s.0.total_cmp(&b.at_s.0));
    breaths
}

fn check_warning(warning: &Warning, ways: &[WayOut]) -> CheckWarning {
    CheckWarning {
        section: warning.section.map(|section| section + 1),
        line: warning.line.map(|line| line + 1),
        kind: warning.kind.name(),
        message: warning.message.clone(),
        remedies: ways
            .iter()
            .map(|way| CheckRemedy {
                kind: way.kind,
                text: way.text.clone(),
                value: way.figure.map(|figure| Number(figure.value)),
                unit: way.figure.map(|figure| figure.unit),
                column: way.column.map(|column| column.0),
                air_left: way.after.air_left.map(Number),
                verdict: way.after.verdict.map(|verdict| verdict.words()),
                seconds: Some(Number(way.after.seconds)),
            })
            .collect(),
    }
}
