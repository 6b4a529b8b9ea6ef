//! The song's clock: seconds of every syllable, and the air through all of them.

use super::head::Head;
use super::{LineReading, Reading, SectionReading, SyllableTime};
use crate::music::quarters::Quarters;
use crate::singing::air::{After, Sounding, breathe};
use crate::song::column::Column;

/// The song's time so far.
#[derive(Default)]
pub(super) struct Clock<'a> {
    /// Where the next section begins, in seconds.
    pub(super) now: f64,
    /// The lines so far, without seconds.
    pub(super) lines: Vec<LineReading>,
    /// For each line whether its sense runs on, and its breath marks.
    pub(super) ends: Vec<(bool, &'a [Column])>,
    /// How many syllables they have.
    pub(super) syllables: usize,
}

impl Clock<'_> {
    /// A clock at 0.
    pub(super) fn with_room_for(lines: usize) -> Self {
        Self {
            lines: Vec::with_capacity(lines),
            ends: Vec::with_capacity(lines),
            ..Self::default()
        }
    }
}

/// Gives each syllable its seconds and each line its air.
pub(super) fn finish(head: Head, sections: Vec<SectionReading>, clock: Clock<'_>) -> Reading {
    let Clock {
        now,
        mut lines,
        ends,
        syllables,
    } = clock;
    // The song begins with its first event: a pickup before the first bar moves everything.
    let first = lines.first().and_then(|line| {
        Some((
            line.laid.syllables.first()?.start,
            sections.get(line.section)?,
        ))
    });
    let lead = match first {
        Some((start, section))
            if !start.is_positive() && lines.first().is_some_and(|line| line.origin_s <= 0.0) =>
        {
            section.setting.tempo.seconds(-start)
        }
        _ => 0.0,
    };
    let mut times: Vec<SyllableTime> = Vec::with_capacity(syllables);
    let mut soundings: Vec<Sounding> = Vec::with_capacity(syllables);
    for (index, line) in lines.iter_mut().enumerate() {
        line.origin_s += lead;
        let Some(section) = sections.get(line.section) else {
            continue;
        };
        let quarter = section.setting.tempo.seconds(Quarters::ONE);
        let count = line.laid.timings.len();
        for timing in &line.laid.timings {
            let start = line.origin_s + quarter * timing.start;
            let end = start + quarter * timing.length;
            times.push(SyllableTime {
                start_s: start,
                end_s: end,
                air: 0.0,
            });
            soundings.push(Sounding {
                start,
                end,
                last_note: quarter * timing.last_note,
                charge: timing.charge,
                flow: 1.0,
                line: index,
                after: After::Nothing,
                ends: timing.ends,
            });
        }
        let own = line.first_time..line.first_time + count;
        line.start_s = times
            .get(own.start)
            .filter(|_| count > 0)
            .map(|time| time.start_s);
        line.end_s = own
            .end
            .checked_sub(1)
            .and_then(|last| times.get(last))
            .filter(|_| count > 0)
            .map(|time| time.end_s);
        if let Some((runs_on, marks)) = ends.get(index) {
            mark_breaths(
                line,
                *runs_on,
                marks,
                soundings.get_mut(own).unwrap_or_default(),
            );
        }
    }
    let air = breathe(&soundings, head.voice);
    for (time, level) in times.iter_mut().zip(air.levels(&soundings, head.voice)) {
        time.air = level;
    }
    let bad_day = head.voice.on_a_bad_day();
    let worse = breathe(&soundings, bad_day).lines(&soundings, bad_day);
    for (found, worse) in air.lines(&soundings, head.voice).into_iter().zip(worse) {
        let Some(line) = lines.get_mut(found.line) else {
            continue;
        };
        line.air_left = Some(found.air_left);
        line.seconds_left = Some(found.seconds_left);
        line.verdict = Some(found.verdict);
        line.bad_day = Some(worse.verdict);
        let falls = found
            .falls_at
            .and_then(|index| line.laid.syllables.get(index.checked_sub(line.first_time)?));
        line.falls_at = falls
            .and_then(|syllable| line.laid.words.get(syllable.word))
            .map(|word| word.column);
    }
    let sections = sections
        .into_iter()
        .enumerate()
        .map(|(index, mut section)| {
            section.start_s = if index == 0 {
                0.0
            } else {
                section.start_s + lead
            };
            section.end_s += lead;
            section
        });
    Reading {
        head,
        sections: sections.collect(),
        lines,
        times,
        soundings,
        air,
        seconds: now + lead,
    }
}

/// Says after which syllables the singer breathes.
fn mark_breaths(line: &LineReading, runs_on: bool, marks: &[Column], soundings: &mut [Sounding]) {
    if !runs_on && let Some(last) = soundings.last_mut() {
        last.after = After::LineEnd;
    }
    for mark in marks {
        let before = line
            .laid
            .syllables
            .iter()
            .take_while(|syllable| syllable.column < *mark)
            .count();
        let sounding = before
            .checked_sub(1)
            .and_then(|index| soundings.get_mut(index));
        if let Some(sounding) = sounding.filter(|sounding| sounding.after == After::Nothing) {
            sounding.after = After::Mark;
        }
    }
}
