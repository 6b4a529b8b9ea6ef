//! Pasted text of several stanzas: each becomes a section.

use super::column::Column;
use super::edit::{Edit, EditError, List, Step, Value};
use super::field::Field;
use super::kind::KINDS;
use super::line_edits::{position_of, start_of};
use super::paste::rows_of;
use super::{NodeId, Song, paste, section_edits};

/// A stanza of pasted text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Stanza {
    /// Its heading as written, and the kind that it names.
    heading: Option<(String, &'static str)>,
    /// Its rows.
    rows: String,
}

impl Stanza {
    fn is_empty(&self) -> bool {
        self.rows.trim().is_empty()
    }
}

/// Whether pasted text has more than one stanza, or one under a heading. `is_chord_row` tells chord rows from words.
#[must_use]
pub fn has_stanzas(text: &str, is_chord_row: impl Fn(&str) -> bool) -> bool {
    let stanzas = stanzas_of(text, &is_chord_row);
    let headed = |stanza: &Stanza| stanza.heading.is_some() && !stanza.is_empty();
    stanzas.len() > 1 || stanzas.iter().any(headed)
}

/// The step that pastes stanzas, its cursor behind the last: the first stanza at a line's column where one is given, each of the others as
/// a section behind the section. A heading (`Verse 2:`, `[Chorus]`) is the section's label, and of the first only where the section has
/// no words yet; a stanza without heading is of the same kind as the section before. `is_chord_row` tells chord rows from words.
///
/// # Errors
/// The section or line is not in the song, or the column not in its lyric.
pub fn pasted(
    song: &Song,
    section: NodeId,
    at: Option<(NodeId, Column)>,
    text: &str,
    is_chord_row: impl Fn(&str) -> bool,
) -> Result<Step, EditError> {
    let mut trial = song.clone();
    let mut edits = Vec::new();
    let mut apply = |trial: &mut Song, edit: Edit| -> Result<(), EditError> {
        trial.apply(&edit)?;
        edits.push(edit);
        Ok(())
    };
    let mut last = section;
    let mut cursor = None;
    let mut at = at;
    for stanza in stanzas_of(text, &is_chord_row) {
        if let Some((label, _)) = stanza.heading.as_ref().filter(|_| stanza.is_empty())
            && let Some(step) = section_edits::again_after(&trial, last, label)
        {
            last = step.cursor.node;
            apply(&mut trial, step.edit)?;
            cursor = Some(step.cursor);
            at = None;
            continue;
        }
        let (line, column) = match at
            .take()
            .filter(|_| stanza.heading.is_none() || is_blank(&trial, last))
        {
            Some(at) => at,
            None => {
                let own = trial
                    .section(last)
                    .and_then(|found| found.values.get(Field::Kind));
                let kind = stanza.heading.as_ref().map(|(_, kind)| *kind).or(own);
                let step = section_edits::new_after(&trial, last, kind.unwrap_or("verse"))?;
                apply(&mut trial, step.edit)?;
                (step.cursor.node, Column(0))
            }
        };
        last = match position_of(&trial, line)?.list {
            List::Lines(section) => section,
            List::Sections | List::SetAside | List::LinesSetAside(_) => last,
        };
        if let Some((label, kind)) = stanza.heading {
            for (field, text) in [(Field::Label, label.as_str()), (Field::Kind, kind)] {
                let value = Value::Field(field, Some(text.to_owned()));
                apply(&mut trial, Edit::Set { node: last, value })?;
            }
        }
        let step = paste::into_lyric(&trial, line, column, &stanza.rows, &is_chord_row)?;
        apply(&mut trial, step.edit)?;
        cursor = Some(step.cursor);
    }
    let first = || {
        song.section(section)
            .and_then(|section| section.lines.first())
    };
    let cursor = cursor.or_else(|| first().map(|line| start_of(line.id)));
    Ok(Step {
        edit: Edit::Group(edits),
        cursor: cursor.ok_or(EditError::NoSuchNode(section))?,
    })
}

/// Whether a section has no words yet.
fn is_blank(song: &Song, section: NodeId) -> bool {
    song.section(section).is_some_and(|section| {
        section
            .lines
            .iter()
            .all(|line| line.lyric.trim().is_empty())
    })
}

/// Stanzas are parted by headings and empty rows; where every stanza would be a single row of words, empty rows part nothing.
fn stanzas_of(text: &str, is_chord_row: &impl Fn(&str) -> bool) -> Vec<Stanza> {
    let mut stanzas = vec![Stanza::default()];
    let mut ended = false;
    for row in &rows_of(text) {
        let heading = heading_of(row);
        if row.trim().is_empty() {
            ended = true;
            continue;
        }
        let is_open = stanzas.last().is_some_and(|last| !last.is_empty());
        if heading.is_some() || (ended && is_open) {
            stanzas.push(Stanza::default());
        }
        ended = false;
        if let Some(last) = stanzas.last_mut() {
            if heading.is_some() {
                last.heading = heading;
            } else {
                last.rows.push_str(row);
                last.rows.push('\n');
            }
        }
    }
    stanzas.retain(|stanza| stanza.heading.is_some() || !stanza.is_empty());
    let single = |stanza: &Stanza| {
        let lyrics = stanza.rows.lines().filter(|row| !is_chord_row(row));
        stanza.heading.is_none() && lyrics.count() < 2
    };
    if stanzas.len() > 1 && stanzas.iter().all(single) {
        let rows = stanzas.iter().map(|stanza| stanza.rows.as_str()).collect();
        return vec![Stanza {
            heading: None,
            rows,
        }];
    }
    stanzas
}

/// `Verse 2:`, `[Chorus]`, `Refrain`: a kind of section with a number or alone, as lyric sheets write it (common practice, no source).
fn heading_of(row: &str) -> Option<(String, &'static str)> {
    let row = row.trim();
    let bare = row
        .strip_prefix('[')
        .and_then(|row| row.strip_suffix(']'))
        .unwrap_or(row);
    let bare = bare.strip_suffix(':').unwrap_or(bare).trim();
    let (word, rest) = bare.split_once(' ').unwrap_or((bare, ""));
    let kind = KINDS.iter().find(|kind| word.eq_ignore_ascii_case(kind))?;
    let numbered = rest.trim().chars().all(|sign| sign.is_ascii_digit());
    numbered.then(|| (bare.to_owned(), *kind))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    /// The labels, kinds and lyrics of the song after text was pasted at the start of its first line, and undoing restores it.
    fn after(lyric: &str, text: &str) -> Vec<(String, String, Vec<String>)> {
        let mut song = Song::new("Ferry");
        lyric.clone_into(&mut song.sections[0].lines[0].lyric);
        let (section, line) = (song.sections[0].id, song.sections[0].lines[0].id);
        let before = song.clone();
        let at = Some((line, Column(0)));
        let step = pasted(&song, section, at, text, |row| row.trim() == "Em").unwrap();
        let back = song.apply(&step.edit).unwrap();
        assert!(song.has_place(step.cursor));
        let value = |section: &crate::song::Section, field| {
            section.values.get(field).unwrap_or_default().to_owned()
        };
        let sections = song.sections.iter().map(|section| {
            let lyrics = section.lines.iter().map(|line| line.lyric.clone());
            (
                value(section, Field::Label),
                value(section, Field::Kind),
                lyrics.collect(),
            )
        });
        let sections = sections.collect();
        song.apply(&back).unwrap();
        assert_eq!(song, before);
        sections
    }

    fn section(label: &str, kind: &str, lyrics: &[&str]) -> (String, String, Vec<String>) {
        let lyrics = lyrics.iter().map(|text| (*text).to_owned()).collect();
        (label.to_owned(), kind.to_owned(), lyrics)
    }

    #[test]
    fn empty_rows_part_sections() {
        let found = after("", "  Em\nShe rang\nno one came\n\nThe tide\nwent out\n");
        assert_eq!(
            found[0],
            section("Verse 1", "verse", &["She rang", "no one came"])
        );
        assert_eq!(
            found[1],
            section("Verse 2", "verse", &["The tide", "went out"])
        );
    }

    #[test]
    fn headings_are_labels() {
        let found = after("", "[Chorus]\nRow on\nVerse 3:\n\nThe tide\nwent out");
        assert_eq!(found[0], section("Chorus", "chorus", &["Row on"]));
        assert_eq!(
            found[1],
            section("Verse 3", "verse", &["The tide", "went out"])
        );
        let found = after(
            "",
            "[Chorus]\nRow on\nrow on\n\nVerse 1\nThe tide\n\n[Chorus]",
        );
        assert_eq!(found.len(), 3);
        assert!(found[2].2.is_empty());
        assert_eq!(after("", "[Chorus]\rRow on\r\rVerse 3\rThe tide").len(), 2);
        let found = after("She rang", "Chorus\nRow on");
        assert_eq!(found[0].2, ["She rang"]);
        assert_eq!(found[1], section("Chorus", "chorus", &["Row on"]));
    }

    #[test]
    fn rows_set_wide_apart_are_one_section() {
        assert_eq!(after("", "She rang\n\nno one came\n\nthe tide").len(), 1);
        let over = "Em\nShe rang\n\nEm\nno one came\n\nEm\nthe tide";
        assert_eq!(after("", over).len(), 1);
        let plain = |text| !has_stanzas(text, |row| row.trim() == "Em");
        assert!(plain("She rang\n\nno one came"));
        assert!(plain("Verse follows verse\nand row on row"));
        assert!(plain("bridge"));
    }
}
