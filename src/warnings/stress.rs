//! A weak syllable on a strong place, and the stress beside it on a weak one.

mod pickup;

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric, line_of};
use crate::reading::{LineReading, Reading};
use crate::song::column::{Column, part_of};
use crate::song::edit::{Edit, Value};
use crate::song::{NodeId, Song};
use crate::words::{SongWords, as_song_says, read};

/// `stress`.
pub const RULE: Rule = Rule {
    kind: Kind::Stress,
    find,
    ways_out,
    example: "title: Stress\nmeter: 4/4\ntempo: 100\ntunes:\n  verse:\n    - \"C D E F G A B c\"\nsections:\n  - lines: [And lantern water swinging over it]\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for line in &reading.lines {
        // One remark a line: the worst of it; where syllables and notes hardly fit, that is said instead.
        if line.laid.misfits > super::notes::MOST {
            continue;
        }
        let found = &line.laid.conflicts;
        let Some(conflict) = found.iter().max_by_key(|conflict| conflict.wrenched) else {
            continue;
        };
        let (Some(weak), Some(stressed)) = (
            line.laid.syllables.get(conflict.weak),
            line.laid.syllables.get(conflict.stressed),
        ) else {
            continue;
        };
        let word = line.laid.words.get(weak.word);
        let message = if conflict.wrenched {
            format!(
                "\u{201c}{}\u{201d} is sung against its stress: \u{201c}{}\u{201d} falls on a strong beat, \u{201c}{}\u{201d} on a weak one",
                word.map_or("", |word| word.text.as_str()),
                weak.text,
                stressed.text
            )
        } else {
            format!(
                "\u{201c}{}\u{201d} falls on the downbeat, and \u{201c}{}\u{201d} beside it between the beats",
                weak.text, stressed.text
            )
        };
        warnings.push(Warning {
            kind: Kind::Stress,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, weak.column),
            message,
        });
    }
}

/// A light syllable less or more before the place, a longer or shorter pickup, a rest before the notes, another reading of a word, another
/// wording: each tried in the whole song.
fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let Some(line) = line_of(asking.reading, warning).cloned() else {
        return Vec::new();
    };
    let written = asking.song().line(warning.place.node);
    let Some(lyric) = written.map(|written| written.lyric.clone()) else {
        return Vec::new();
    };
    let mut ways = Vec::new();
    if let Some((word, rest)) = without_first(&line, &lyric) {
        let edit = lyric_edit(&line, rest);
        ways.extend(asking.way(
            warning,
            "pickup",
            format!("leave out \u{201c}{word}\u{201d} at the beginning"),
            edit,
        ));
    }
    ways.extend(pickup::moved_bar_lines(asking, warning, &line));
    ways.extend(pickup::moved_rest(asking, warning, &line));
    ways.extend(one_more(asking, warning, &line, &lyric));
    ways.extend(other_readings(asking, warning, &line));
    ways.extend(asking.wordings(warning));
    ways
}

fn lyric_edit(line: &LineReading, lyric: String) -> Edit {
    Edit::Set {
        node: line.id,
        value: Value::Lyric(lyric),
    }
}

/// The lyric without its first word, where that is a light one that the sense can do without: *and*, *but*, *so*, *for*, *then*, *oh*.
fn without_first(line: &LineReading, lyric: &str) -> Option<(String, String)> {
    const DISPENSABLE: [&str; 10] = [
        "and", "but", "so", "for", "then", "oh", "o", "well", "now", "yet",
    ];
    let first = line.laid.words.first()?;
    let second = line.laid.words.get(1)?;
    DISPENSABLE
        .contains(&first.text.to_lowercase().as_str())
        .then(|| {
            let rest = part_of(lyric, second.column, Column::end_of(lyric));
            (first.text.clone(), rest.to_owned())
        })
}

/// A word of the line up to the place said otherwise in the whole song: the first that helps.
fn other_readings(
    asking: &mut Asking<'_>,
    warning: &Warning,
    line: &LineReading,
) -> Option<WayOut> {
    let words = line.laid.words.iter();
    let before = words.filter(|word| word.column <= warning.place.column);
    let says = before.flat_map(|word| {
        let word = word.text.to_lowercase();
        let readings = read(&word, &SongWords::default()).readings;
        let other = readings.into_iter().skip(1);
        let said: Vec<_> = other.filter_map(|way| as_song_says(&word, &way)).collect();
        said.into_iter().map(move |said| (word.clone(), said))
    });
    let mut says = says.collect::<Vec<_>>().into_iter();
    says.find_map(|(word, said)| {
        let text = format!("sing \u{201c}{word}\u{201d} as {said}, here and everywhere");
        let edit = Edit::Set {
            node: NodeId::SONG,
            value: Value::Word(word, Some(said)),
        };
        asking.way(warning, "reading", text, edit)
    })
}

/// One light syllable more before a word, from the line's beginning to the place: an aim for the writer.
fn one_more(
    asking: &mut Asking<'_>,
    warning: &Warning,
    line: &LineReading,
    lyric: &str,
) -> Option<WayOut> {
    let places = line
        .laid
        .words
        .iter()
        .filter(|word| word.column <= warning.place.column);
    for word in places {
        let (before, after) = (
            part_of(lyric, Column(0), word.column),
            part_of(lyric, word.column, Column::end_of(lyric)),
        );
        let edit = lyric_edit(line, format!("{before}the {after}"));
        let text = format!(
            "put one light syllable more before \u{201c}{}\u{201d}",
            word.text
        );
        if let Some(mut way) = asking.way(warning, "syllables", text, edit) {
            way.edit = None; // which word, only the writer knows
            return Some(way.with_figure(1.0, "syllables"));
        }
    }
    None
}
