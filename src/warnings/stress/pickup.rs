//! Stress and beat brought together by the tune's pickup: other bar lines over the same notes, or a rest at the other end of a phrase.

use super::find;
use crate::music::tune::Phrase;
use crate::music::tune::rebar::{barred, rest_moved};
use crate::reading::{LineReading, Reading};
use crate::song::edit::{Edit, Value};
use crate::song::{NodeId, Song};
use crate::warnings::asking::Asking;
use crate::warnings::{Warning, WayOut};
use crate::wording::figure::counted;

/// The bar lines of the tune moved, in every phrase by as much: more or fewer of its notes stand before the first full bar.
pub(super) fn moved_bar_lines(
    asking: &mut Asking<'_>,
    warning: &Warning,
    line: &LineReading,
) -> Option<WayOut> {
    let (name, _) = line.phrase_name(asking.reading)?;
    let (phrase, meter) = (line.phrase.as_ref()?, line.laid.meter);
    let section = asking.reading.sections.get(line.section)?;
    let signature = section.setting.key.signature();
    let written = asking.song().tunes.iter().find(|tune| tune.name == name)?;
    let starts = phrase.notes.iter().map(|note| note.start);
    let starts: Vec<_> = starts.take_while(|start| *start < meter.bar()).collect();
    let others = starts.into_iter().filter(|start| *start != phrase.pickup);
    let tunes = others.filter_map(|pickup| {
        let moved = |text: &String| {
            let own = Phrase::read(text, signature, meter).pickup;
            let pickup = (own + pickup - phrase.pickup).modulo(meter.bar());
            barred(text, signature, meter, pickup)
        };
        let before = phrase
            .notes
            .iter()
            .filter(|note| note.pitch.is_some() && note.start < pickup)
            .count();
        let phrases: Option<Vec<String>> = written.phrases.iter().map(moved).collect();
        Some((before, phrases?))
    });
    let tunes: Vec<_> = tunes.collect();
    tunes.into_iter().find_map(|(before, phrases)| {
        let text = if before == 0 {
            format!("begin the phrases of \u{201c}{name}\u{201d} on the downbeat: the bar lines move, the notes stay")
        } else {
            let notes = counted(before, "note", "notes");
            format!("let {notes} stand before the first bar line: in all of \u{201c}{name}\u{201d} the bar lines move, the notes stay")
        };
        tune_way(asking, warning, name, phrases, text)
    })
}

/// A rest of a note's length moved from one end of the phrase to the other, so that its notes come later or earlier.
pub(super) fn moved_rest(
    asking: &mut Asking<'_>,
    warning: &Warning,
    line: &LineReading,
) -> Option<WayOut> {
    let (name, index) = line.phrase_name(asking.reading)?;
    let section = asking.reading.sections.get(line.section)?;
    let signature = section.setting.key.signature();
    let written = asking.song().tunes.iter().find(|tune| tune.name == name)?;
    let meter = line.laid.meter;
    let by = line.laid.notes.first()?.length;
    let moved = |(to_front, text): (bool, &'static str)| {
        let own = written.phrases.get(index)?;
        let mut phrases = written.phrases.clone();
        *phrases.get_mut(index)? = rest_moved(own, signature, meter, by, to_front)?;
        Some((phrases, text))
    };
    let ends = [
        (
            true,
            "begin it later: a rest at the end of its phrase comes first",
        ),
        (
            false,
            "begin it earlier: a rest before its phrase comes last",
        ),
    ];
    let tunes: Vec<_> = ends.into_iter().filter_map(moved).collect();
    let mut tunes = tunes.into_iter();
    tunes.find_map(|(phrases, text)| tune_way(asking, warning, name, phrases, text.to_owned()))
}

/// A tune changed, where that ends the warning, brings none and leaves fewer stresses off their beats in all that is sung to it.
fn tune_way(
    asking: &mut Asking<'_>,
    warning: &Warning,
    name: &str,
    phrases: Vec<String>,
    text: String,
) -> Option<WayOut> {
    let edit = Edit::Set {
        node: NodeId::SONG,
        value: Value::Tune(name.to_owned(), Some(phrases)),
    };
    let remarks = |song: &Song, reading: &Reading| {
        let mut found = Vec::new();
        find(song, reading, &mut found);
        found.len()
    };
    let before = remarks(asking.song(), asking.reading);
    let after = asking.after(&edit, remarks)?;
    let way = asking.way(warning, "pickup", text, edit)?;
    (after < before && way.after.remains.is_empty()).then_some(way)
}
