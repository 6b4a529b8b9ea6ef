//! A stretch that no breath holds.

use super::asking::Asking;
use super::{After, Kind, Rule, Warning, WayOut, in_lyric, line_of};
use crate::reading::{LineReading, Reading};
use crate::singing::air::{Stretch, Verdict};
use crate::singing::voice::{FLOOR, FULL};
use crate::song::column::Column;
use crate::song::edit::{Edit, Value};
use crate::song::field::Field;
use crate::song::{NodeId, Song};
use crate::wording::figure::{counted, short_number};

/// `too_long`.
pub const RULE: Rule = Rule {
    kind: Kind::TooLong,
    find,
    ways_out,
    example: "title: Long\nmeter: 4/4\ntempo: 60\nbars: 5\nsections:\n  - lines:\n      - lyric: The lamp was lit and the lamp was gone and the rain went over the wall\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for stretch in reading
        .air
        .stretches
        .iter()
        .filter(|stretch| stretch.verdict == Verdict::TooLong)
    {
        let Some(line) = reading.line_at(stretch.last) else {
            continue;
        };
        let sung = stretch.need * reading.head.voice.steady_note;
        let most = (FULL - FLOOR) * reading.head.voice.steady_note;
        let from = reading
            .line_at(stretch.first)
            .filter(|first| (first.section, first.line) != (line.section, line.line));
        let since = from.map_or_else(String::new, |first| {
            let section = reading
                .sections
                .get(first.section)
                .map_or("", |section| section.label.as_str());
            format!(", begun in {section}, line {}", first.line + 1)
        });
        warnings.push(Warning {
            kind: Kind::TooLong,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, line.falls_at.unwrap_or_default()),
            message: format!(
                "no breath holds this{since}: it takes {} s of air, a full breath gives {} s",
                short_number(sung),
                short_number(most)
            ),
        });
    }
}

/// Ways out of a line that takes more air than there is: those within the words, fewer bars, a faster tempo, quieter sounds.
pub fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let mut ways = within_words(asking, warning, 3);
    ways.extend(fewer_bars(asking, warning));
    ways.extend(faster(asking, warning));
    ways.extend(quieter(asking, warning));
    ways
}

/// Ways that leave tune and tempo as they are, best first: up to `most` breath marks, an end to running on, another wording.
pub fn within_words(asking: &mut Asking<'_>, warning: &Warning, most: usize) -> Vec<WayOut> {
    let mut ways = breaths(asking, warning, most);
    ways.extend(line_end(asking, warning));
    ways.extend(asking.wordings(warning));
    ways.sort_by_key(|way| (way.after.remains.len(), way.after.verdict));
    ways
}

/// The stretch that touches the warning's line with the worst verdict, and the lines it runs through.
fn stretch_of(reading: &Reading, warning: &Warning) -> Option<Stretch> {
    let line = line_of(reading, warning)?;
    let own = line.first_time..line.first_time + line.laid.syllables.len();
    let touching = reading
        .air
        .stretches
        .iter()
        .filter(|stretch| stretch.first < own.end && stretch.last >= own.start);
    touching
        .max_by(|a, b| a.verdict.cmp(&b.verdict).then(b.end.total_cmp(&a.end)))
        .copied()
}

/// Breath marks after words of the stretch, the best ones: fewest new troubles, best verdict, at a stop in the sense, nearest the middle.
fn breaths(asking: &mut Asking<'_>, warning: &Warning, most: usize) -> Vec<WayOut> {
    let Some(stretch) = stretch_of(asking.reading, warning) else {
        return Vec::new();
    };
    let sounding = |index: usize| asking.reading.soundings.get(index);
    let middle = f64::midpoint(
        sounding(stretch.first).map_or(0.0, |s| s.start),
        sounding(stretch.last).map_or(0.0, |s| s.end),
    );
    let mut found: Vec<(WayOut, (usize, Verdict, u8, u64))> = Vec::new();
    for index in stretch.first..stretch.last {
        if asking.stopped() {
            break;
        }
        let Some((line, word, column)) = asking.reading.word_ending_at(index) else {
            continue;
        };
        if Some(index) == last_of(asking.reading, line) {
            continue; // a breath at a line's end is no mark
        }
        let (id, place, word) = (line.id, (line.section, line.line), word.text.clone());
        let Some(written) = asking.song().line(id) else {
            continue;
        };
        let Some(edit) = with_mark(written, column) else {
            continue;
        };
        let sense = sense_break(&written.lyric, column);
        let distance = asking
            .reading
            .soundings
            .get(index)
            .map_or(0.0, |s| (s.end - middle).abs());
        let elsewhere = if warning.section == Some(place.0) && warning.line == Some(place.1) {
            String::new()
        } else {
            format!(" in line {}", place.1 + 1)
        };
        let Some(way) = asking.way(
            warning,
            "breath",
            format!("breathe after \u{201c}{word}\u{201d}{elsewhere}"),
            edit,
        ) else {
            continue;
        };
        let verdict = way.after.verdict.unwrap_or(Verdict::Easy);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "milliseconds of a song, not negative"
        )]
        let rank = (
            way.after.remains.len(),
            verdict,
            sense,
            (distance * 1000.0) as u64,
        );
        found.push((way.at(column), rank));
    }
    found.sort_by_key(|(_, rank)| *rank);
    found.into_iter().take(most).map(|(way, _)| way).collect()
}

fn with_mark(line: &crate::song::Line, column: Column) -> Option<Edit> {
    let mut marks = line.marks.clone();
    let at = marks.binary_search(&column).err()?;
    marks.insert(at, column);
    Some(Edit::Set {
        node: line.id,
        value: Value::Marks(marks),
    })
}

/// How well a breath goes with the sense: 0 after a stop or comma, 1 before a word that begins a clause or phrase, 2 elsewhere,
/// 3 between an article or preposition and its noun.
fn sense_break(lyric: &str, column: Column) -> u8 {
    let before = crate::song::column::part_of(lyric, Column(0), column);
    let after = crate::song::column::part_of(lyric, column, Column::end_of(lyric));
    let stops = |c: char| ",;:.!?\u{2014}\u{2013}".contains(c);
    if before.trim_end().ends_with(stops) || after.trim_start().starts_with(stops) {
        return 0;
    }
    let last = before
        .split_whitespace()
        .last()
        .unwrap_or("")
        .to_lowercase();
    let next = after.split_whitespace().next().unwrap_or("").to_lowercase();
    const BEGINS: [&str; 26] = [
        "and", "but", "or", "nor", "for", "so", "yet", "that", "who", "which", "when", "where",
        "while", "till", "until", "as", "if", "than", "then", "with", "from", "by", "to", "in",
        "on", "at",
    ];
    const BINDS: [&str; 27] = [
        "the", "a", "an", "of", "to", "in", "on", "at", "by", "for", "from", "with", "my", "your",
        "his", "her", "its", "our", "their", "and", "or", "but", "no", "every", "this", "that",
        "as",
    ];
    if BINDS.contains(&last.as_str()) {
        3
    } else if BEGINS.contains(&next.as_str()) {
        1
    } else {
        2
    }
}

/// A breath at the end of the line before or of this one, where the sense was marked to run on.
fn line_end(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    let stretch = stretch_of(asking.reading, warning)?;
    let lines = (stretch.first..=stretch.last).filter_map(|index| {
        asking
            .reading
            .line_at(index)
            .map(|line| (line.id, line.line))
    });
    let mut lines: Vec<_> = lines.collect();
    lines.dedup();
    lines.pop();
    lines.into_iter().rev().find_map(|(id, number)| {
        let edit = Edit::Set {
            node: id,
            value: Value::Field(Field::RunOn, None),
        };
        asking.way(
            warning,
            "line_end",
            format!(
                "breathe at the end of line {}: let the sense end there",
                number + 1
            ),
            edit,
        )
    })
}

/// A bar or more less for a line without notes.
fn fewer_bars(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    let line = line_of(asking.reading, warning)?;
    if !line.laid.notes.is_empty() {
        return None;
    }
    let (id, bars) = (line.id, (line.laid.length / line.laid.meter.bar()).floor());
    (1..bars).rev().find_map(|fewer| {
        let edit = Edit::Set {
            node: id,
            value: Value::Field(Field::Bars, Some(fewer.to_string())),
        };
        let bars = counted(usize::try_from(fewer).unwrap_or(0), "bar", "bars");
        asking
            .way(warning, "bars", format!("sing the line in {bars}"), edit)
            .map(|way| way.with_figure(fewer as f64, "bars"))
    })
}

/// The slowest whole tempo, up to twice the present one, at which the warning is gone.
pub fn faster(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    faster_than(asking, warning, 2.0)
}

/// The whole tempo nearest to the present one, towards `factor` of it, at which the warning is gone.
pub fn faster_than(asking: &mut Asking<'_>, warning: &Warning, factor: f64) -> Option<WayOut> {
    let section = warning
        .section
        .and_then(|index| asking.reading.sections.get(index))?;
    let own = asking
        .song()
        .section(section.id)
        .is_some_and(|written| written.values.get(Field::Tempo).is_some());
    let node = if own { section.id } else { NodeId::SONG };
    let now = section.setting.tempo.per_minute;
    let edit = |tempo: i32| Edit::Set {
        node,
        value: Value::Field(Field::Tempo, Some(tempo.to_string())),
    };
    #[expect(
        clippy::cast_possible_truncation,
        reason = "tempos lie between 10 and 400"
    )]
    let (mut short, mut enough) = (
        now.round() as i32,
        ((now * factor).round() as i32).clamp(10, 400),
    );
    asking.trial(warning, &edit(enough))?;
    while short.abs_diff(enough) > 1 {
        if asking.stopped() {
            return None;
        }
        let between = i32::midpoint(short, enough);
        if asking.trial(warning, &edit(between)).is_some() {
            enough = between;
        } else {
            short = between;
        }
    }
    let text = format!(
        "sing it at {enough} beats a minute or {}",
        if factor > 1.0 { "faster" } else { "slower" }
    );
    Some(
        asking
            .way(warning, "tempo", text, edit(enough))?
            .with_figure(f64::from(enough), "beats a minute"),
    )
}

/// How many of its costliest sounds the stretch would have to lose, where that is enough: an aim for the writer, tried through
/// the whole song without them.
pub fn quieter(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    let reading = asking.reading;
    let stretch = stretch_of(reading, warning)?;
    let mut costs: Vec<(f64, usize)> = (stretch.first..=stretch.last)
        .filter_map(|index| Some((index, reading.syllable_at(index)?.1)))
        .flat_map(|(index, syllable)| syllable.costs.iter().map(move |cost| (*cost, index)))
        .collect();
    costs.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let mut soundings = reading.soundings.clone();
    let voice = reading.head.voice;
    for (lost, (cost, index)) in (1_u32..).zip(costs) {
        if let Some(sounding) = soundings.get_mut(index) {
            sounding.charge -= cost;
        }
        let air = crate::singing::air::breathe(&soundings, voice);
        let now = air
            .stretch_of(stretch.first)
            .and_then(|index| air.stretches.get(index))?;
        if now.verdict < stretch.verdict && now.verdict < Verdict::NoTime {
            let sounds = counted(
                usize::try_from(lost).unwrap_or(0),
                "breathy sound",
                "breathy sounds",
            );
            let line = air
                .lines(&soundings, voice)
                .into_iter()
                .find(|line| Some(line.line) == soundings.get(stretch.last).map(|s| s.line))?;
            let way = WayOut {
                kind: "sounds",
                text: format!("find words with {sounds} fewer (h costs most, then s, sh, f, th)"),
                figure: None,
                column: None,
                edit: None,
                after: After {
                    verdict: Some(line.verdict),
                    air_left: Some(line.air_left),
                    seconds: reading.seconds,
                    remains: Vec::new(),
                },
            };
            return Some(way.with_figure(f64::from(lost), "sounds"));
        }
    }
    None
}

/// The last syllable of a line, by its index in the song.
fn last_of(reading: &Reading, line: &LineReading) -> Option<usize> {
    debug_assert!(
        line.first_time <= reading.times.len(),
        "a line's syllables are the reading's"
    );
    (line.first_time + line.laid.syllables.len()).checked_sub(1)
}
