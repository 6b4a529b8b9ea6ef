//! A line that rhymes with its own word, or that does not rhyme where the other verses do.
//!
//! Approximate rhymes are the custom of ballads, and older pairs (*love, prove*) that of hymns: both pass without a word.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric, line_of};
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
    // What is sung again was said before.
    for verses in alike(reading) {
        for (section, line) in verses
            .iter()
            .flat_map(|section| (0..section.lines.len()).map(move |line| (section, line)))
        {
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
                section: Some(found.section),
                line: Some(line),
                place: in_lyric(found.id, last.column),
                message,
            });
        }
    }
}

/// Sections that are sung alike, with as many lines.
type Verses<'a> = Vec<&'a SectionReading>;

/// All sections with words of their own, those that are sung alike together.
fn alike(reading: &Reading) -> Vec<Verses<'_>> {
    let mut groups: Vec<Verses<'_>> = Vec::new();
    for section in reading
        .sections
        .iter()
        .filter(|section| section.id == section.source)
    {
        let like = |group: &&mut Verses<'_>| {
            group.first().is_some_and(|first| {
                first.lines.len() == section.lines.len() && first.tie == section.tie
            })
        };
        match groups.iter_mut().find(like) {
            Some(group) => group.push(section),
            None => groups.push(vec![section]),
        }
    }
    groups
}

fn fault(section: &SectionReading, verses: &Verses<'_>, line: usize) -> Option<Fault> {
    let rhymes = &section.rhymes;
    let Some(other) = rhymes.same_as.get(line).copied().flatten() else {
        return missing(section, verses, line).map(Fault::Missing);
    };
    let word = |line: usize| rhymes.ends.get(line).map(|end| &end.word);
    Some(if word(line) == word(other) {
        Fault::SameWord(other)
    } else {
        Fault::SameSounds(other)
    })
}

/// The line that a line does not answer although it does in all other verses.
fn missing(section: &SectionReading, verses: &Verses<'_>, line: usize) -> Option<usize> {
    let rhymes = &section.rhymes;
    let own = rhymes.scheme.lines.get(line)?;
    if own.partner.is_some() || verses.len() <= OTHERS || !rhymes.ends.get(line)?.has_words() {
        return None;
    }
    let partner = |verse: &SectionReading| {
        let partner = verse.rhymes.scheme.lines.get(line)?.partner?;
        (partner < line).then_some(partner)
    };
    let mut others = verses.iter().filter(|verse| verse.id != section.id);
    let usual = others.next().and_then(|verse| partner(verse))?;
    if !others.all(|verse| partner(verse) == Some(usual)) || !rhymes.ends.get(usual)?.has_words() {
        return None;
    }
    let found = rhymes.between(line, usual)?;
    (found.kind == RhymeKind::None && !found.historic).then_some(usual)
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
    let groups = alike(reading);
    let verses = groups
        .iter()
        .find(|verses| verses.iter().any(|verse| verse.id == section.id));
    let (Some(fault), Some(found)) = (
        verses.and_then(|verses| fault(section, verses, line)),
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
        fitting: true,
        except: &with.word,
        enough: 0,
        syllables: Some(stresses.len()),
    };
    let mut ways = Vec::new();
    let rhyming = rhymes(with.ending(), wish).into_iter().filter(|found| {
        found.rank <= KNOWN && !matches!(found.kind, RhymeKind::Identical | RhymeKind::Light)
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
