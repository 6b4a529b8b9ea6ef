//! A gap too short to breathe in, said once, with the lines that it starves.

use super::asking::Asking;
use super::too_long::{faster, quieter, two_lines, within_words};
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::{LineReading, Reading};
use crate::singing::breaths::gap_needed;
use crate::song::Song;
use crate::song::edit::{Edit, Value};
use crate::song::field::Field;
use crate::wording::figure::short_number;

/// `no_time_to_breathe`.
pub const RULE: Rule = Rule {
    kind: Kind::NoTimeToBreathe,
    find,
    ways_out,
    example: "title: Starved\nmeter: 4/4\ntempo: 72\nvoice: {steady_note: 14}\ntunes:\n  verse:\n    - \"C2 D2 E2 F2 | G2 F2 E2 DC\"\nsections:\n  - lines:\n      - She rang the bell at noon again\n      - and nobody was there to hear\n      - and nobody will come again\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for starved in reading.air.starved(&reading.soundings) {
        let Some(breath) = reading.air.breaths.get(starved.breath) else {
            continue;
        };
        let Some((line, word, column)) = reading.word_ending_at(breath.after) else {
            continue;
        };
        let needed = reading
            .air
            .stretches
            .get(starved.breath + 1)
            .and_then(|next| gap_needed(breath.before, next.need, reading.head.voice));
        let needs = needed.map_or_else(String::new, |needed| {
            format!("; the next phrase needs {} s", short_number(needed))
        });
        let (first, last) = (
            reading.lines.get(starved.first_line),
            reading.lines.get(starved.last_line),
        );
        let touched = first.zip(last).map_or_else(String::new, |(first, last)| {
            lines_in_words(reading, first, last)
        });
        warnings.push(Warning {
            kind: Kind::NoTimeToBreathe,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, column),
            message: format!(
                "the gap after \u{201c}{}\u{201d} is too short to breathe in: {} s there{needs}; without air: {touched}",
                word.text,
                short_number(breath.gap),
            ),
        });
    }
}

/// `Verse 1, lines 2 to 4`.
fn lines_in_words(reading: &Reading, first: &LineReading, last: &LineReading) -> String {
    let label = |line: &LineReading| {
        reading
            .sections
            .get(line.section)
            .map_or("", |section| section.label.as_str())
    };
    if first.section != last.section {
        format!(
            "{}, line {} to {}, line {}",
            label(first),
            first.line + 1,
            label(last),
            last.line + 1
        )
    } else if first.line == last.line {
        format!("{}, line {}", label(first), first.line + 1)
    } else {
        format!(
            "{}, lines {} to {}",
            label(first),
            first.line + 1,
            last.line + 1
        )
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let mut ways: Vec<WayOut> = more_gap(asking, warning).into_iter().collect();
    ways.extend(within_words(asking, warning, 2));
    ways.extend(two_lines(asking, warning));
    ways.extend(faster(asking, warning));
    ways.extend(quieter(asking, warning));
    ways
}

/// More time in the gap: a beat, or else a bar, of rest after the phrase, or one bar more where there are no notes.
fn more_gap(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    let reading = asking.reading;
    let line = super::line_of(reading, warning)?;
    let section = reading.sections.get(line.section)?;
    let setting = &section.setting;
    if line.laid.notes.is_empty() {
        let bars = (line.laid.length / setting.meter.bar()).floor() + 1;
        let edit = Edit::Set {
            node: line.id,
            value: Value::Field(Field::Bars, Some(bars.to_string())),
        };
        let text = format!("give the line {bars} bars: one more to breathe in");
        let more = setting.tempo.seconds(setting.meter.bar());
        return Some(
            asking
                .way(warning, "gap", text, edit)?
                .with_figure(more, "s"),
        );
    }
    let song_tune = asking
        .song()
        .tunes
        .iter()
        .find(|tune| Some(&tune.name) == section.tune.as_ref())?;
    let (name, phrases) = (song_tune.name.clone(), song_tune.phrases.clone());
    let index = line.line % phrases.len().max(1);
    for (rest, words) in [
        (setting.meter.unit(), "a beat"),
        (setting.meter.bar(), "a bar"),
    ] {
        let mut longer = phrases.clone();
        let phrase = longer.get_mut(index)?;
        *phrase = format!("{} z{}", phrase.trim_end(), rest * 2); // lengths count eighths
        let edit = Edit::Set {
            node: crate::song::NodeId::SONG,
            value: Value::Tune(name.clone(), Some(longer)),
        };
        let text = format!(
            "rest {words} longer after phrase {} of the tune, in every verse sung to it",
            index + 1
        );
        if let Some(way) = asking.way(warning, "gap", text, edit) {
            return Some(way.with_figure(setting.tempo.seconds(rest), "s"));
        }
    }
    None
}
