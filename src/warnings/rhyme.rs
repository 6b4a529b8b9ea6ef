//! A line that rhymes with its own word, or that does not rhyme where the other verses do.
//!
//! Approximate rhymes are the custom of ballads, and older pairs (*love, prove*) that of hymns: both pass without a word.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric, line_of};
use crate::reading::rhymes::SectionRhymes;
use crate::reading::{Reading, SectionReading};
use crate::song::Song;
use crate::song::edit::Edit;
use crate::song::place::Row;
use crate::words::rhyme::kind::Kind as RhymeKind;
use crate::words::rhyme::search::{Wish, rhymes};

/// `rhyme`.
pub const RULE: Rule = Rule {
    kind: Kind::Rhyme,
    find,
    ways_out,
    example: "title: Rhyme\nsections:\n  - lines:\n      - She rang the bell beside the water\n      - and waited for the ferry\n      - nobody came across the deep\n      - there was no lamp on any ferry\n",
};

/// How many other verses have to rhyme in a place before the one that does not is remarked. Our choice.
const OTHERS: usize = 2;
/// How many words are tried as a way out.
const TRIED: usize = 6;
/// The rarest words that are offered: those of SCOWL's size 35.
const KNOWN: u8 = 2;

/// What is wrong with a line's rhyme, and the line that it should answer.
enum Fault {
    SameWord(usize),
    SameSounds(usize),
    Missing(usize),
}

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for (index, section) in reading.sections.iter().enumerate() {
        // What is sung again was said before.
        if section.id != section.source {
            continue;
        }
        let verses = verses(reading, index);
        for line in 0..section.lines.len() {
            let Some(fault) = fault(section, &verses, line) else {
                continue;
            };
            let Some(found) = reading.lines.get(section.lines.start + line) else {
                continue;
            };
            let Some(last) = found.laid.words.last() else {
                continue;
            };
            let word_of = |line: usize| {
                section
                    .rhymes
                    .ends
                    .get(line)
                    .map_or("", |end| end.word.as_str())
            };
            let message = match fault {
                Fault::SameWord(other) => {
                    format!(
                        "ends on the same word as line {}: \u{201c}{}\u{201d}",
                        other + 1,
                        last.text
                    )
                }
                Fault::SameSounds(other) => format!(
                    "\u{201c}{}\u{201d} sounds the same as \u{201c}{}\u{201d} in line {}",
                    last.text,
                    word_of(other),
                    other + 1
                ),
                Fault::Missing(other) => format!(
                    "\u{201c}{}\u{201d} does not rhyme with \u{201c}{}\u{201d} in line {}, where the other verses rhyme",
                    last.text,
                    word_of(other),
                    other + 1
                ),
            };
            warnings.push(Warning {
                kind: Kind::Rhyme,
                section: Some(index),
                line: Some(line),
                place: in_lyric(found.id, last.column),
                message,
            });
        }
    }
}

/// The other sections that are sung alike, with as many lines.
fn verses(reading: &Reading, index: usize) -> Vec<&SectionRhymes> {
    let Some(section) = reading.sections.get(index) else {
        return Vec::new();
    };
    let alike = |other: &&SectionReading| {
        other.id == other.source
            && other.id != section.id
            && other.tie == section.tie
            && other.lines.len() == section.lines.len()
    };
    let sections = reading.sections.iter().filter(alike);
    sections.map(|section| section.rhymes.as_ref()).collect()
}

fn fault(section: &SectionReading, verses: &[&SectionRhymes], line: usize) -> Option<Fault> {
    let rhymes = &section.rhymes;
    same(rhymes, line).or_else(|| missing(rhymes, verses, line))
}

/// A line whose rhymes are all the same word, or sound the same throughout. A whole line sung again is a refrain, and two words
/// the same at the end are meant.
fn same(rhymes: &SectionRhymes, line: usize) -> Option<Fault> {
    let own = rhymes.scheme.lines.get(line)?;
    let end = rhymes.ends.get(line)?;
    let members = || {
        let lines = rhymes.scheme.lines.iter().enumerate();
        lines
            .filter(|(other, found)| *other != line && found.letter == own.letter)
            .map(|(other, _)| other)
    };
    let identical = |other: usize| {
        rhymes
            .between(line, other)
            .is_some_and(|found| found.kind == RhymeKind::Identical)
    };
    if own.refrain || !members().all(identical) {
        return None;
    }
    let other = members().rfind(|other| *other < line)?;
    let before = rhymes.ends.get(other)?;
    if before.ends_alike(end) {
        return None;
    }
    Some(if before.word == end.word {
        Fault::SameWord(other)
    } else {
        Fault::SameSounds(other)
    })
}

/// A line that answers none, where it answers the same one in all other verses.
fn missing(rhymes: &SectionRhymes, verses: &[&SectionRhymes], line: usize) -> Option<Fault> {
    let own = rhymes.scheme.lines.get(line)?;
    if own.partner.is_some() || !rhymes.ends.get(line)?.has_words() || verses.len() < OTHERS {
        return None;
    }
    let partner = |verse: &&SectionRhymes| {
        let partner = verse.scheme.lines.get(line)?.partner?;
        (partner < line).then_some(partner)
    };
    let usual = verses.first().and_then(partner)?;
    if !verses.iter().all(|verse| partner(verse) == Some(usual))
        || !rhymes.ends.get(usual)?.has_words()
    {
        return None;
    }
    let found = rhymes.between(line, usual)?;
    (found.kind == RhymeKind::None && !found.historic).then_some(Fault::Missing(usual))
}

/// Words that rhyme there, put in the place of the line's last word.
fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let reading = asking.reading;
    let Some((section, line)) = warning
        .section
        .and_then(|section| reading.sections.get(section))
        .zip(warning.line)
    else {
        return Vec::new();
    };
    let index = warning.section.unwrap_or_default();
    let (Some(fault), Some(found)) = (
        fault(section, &verses(reading, index), line),
        line_of(reading, warning),
    ) else {
        return Vec::new();
    };
    let (Fault::SameWord(other) | Fault::SameSounds(other) | Fault::Missing(other)) = fault;
    let (Some(with), Some(end), Some(last)) = (
        section.rhymes.ends.get(other),
        section.rhymes.ends.get(line),
        found.laid.words.last(),
    ) else {
        return Vec::new();
    };
    let stresses = end.ending().stresses();
    let wish = Wish {
        stresses: &stresses,
        except: &with.word,
        enough: 0,
        syllables: Some(stresses.len()),
    };
    let mut ways = Vec::new();
    let rhyming = rhymes(with.ending(), wish).into_iter().filter(|found| {
        found.rank <= KNOWN
            && found.fits
            && !matches!(found.kind, RhymeKind::Identical | RhymeKind::Light)
    });
    for found in rhyming.take(TRIED) {
        if asking.stopped() {
            break;
        }
        let edit = Edit::Splice {
            node: warning.place.node,
            row: Row::Lyric,
            at: last.column,
            remove: last.end().0 - last.column.0,
            insert: found.word.clone(),
        };
        let text = format!("end the line on \u{201c}{}\u{201d}", found.word);
        ways.extend(asking.way(warning, "rhyme", text, edit));
    }
    ways
}
