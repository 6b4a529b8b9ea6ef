//! The sections in the order sung: whose lines, to which tune, in what setting.

use super::head::{self, Head, Setting, ValueProblem};
use crate::song::field::Field;
use crate::song::kind::{kind_of, label_of};
use crate::song::{NodeId, Section, Song};
use std::collections::HashMap;
use std::sync::Arc;

/// A section as it will be sung.
#[derive(Debug)]
pub struct SungSection<'a> {
    /// Its own identity.
    pub id: NodeId,
    /// The section whose lines are sung.
    pub source: &'a Section,
    /// What it is called.
    pub label: String,
    /// `verse` and so on.
    pub kind: String,
    /// The index of its tune in the song's, where one with that name is written down.
    pub tune: Option<usize>,
    /// The tune's name, where there is one.
    pub tune_name: Option<String>,
    /// Sections with the same name here are sung alike.
    pub tie: Arc<str>,
    /// Its setting.
    pub setting: Setting,
    /// Its bars where it has no lines.
    pub wordless_bars: Option<i64>,
}

/// The sections in the order sung. Notes in `problems` what makes no sense: a setting, or an `again` that names no section with
/// words of its own (such a section is sung with its own lines, if any).
pub fn sections<'a>(
    song: &'a Song,
    head: &Head,
    problems: &mut Vec<ValueProblem>,
) -> Vec<SungSection<'a>> {
    let mut known = Vec::new();
    let mut labelled = HashMap::new();
    for section in &song.sections {
        if section.values.get(Field::Again).is_none() {
            labelled.entry(label_of(section)).or_insert(section);
        }
    }
    song.sections
        .iter()
        .map(|section| sung(song, head, section, &labelled, &mut known, problems))
        .collect()
}

fn sung<'a>(
    song: &'a Song,
    head: &Head,
    section: &'a Section,
    labelled: &HashMap<String, &'a Section>,
    known: &mut Vec<Arc<str>>,
    problems: &mut Vec<ValueProblem>,
) -> SungSection<'a> {
    let source = match section.values.get(Field::Again).map(str::trim) {
        Some(wanted) => labelled.get(wanted).copied().unwrap_or_else(|| {
            problems.push(ValueProblem {
                node: section.id,
                field: Field::Again,
                found: wanted.to_owned(),
                expected: "it has to be the label of a section that has lines of its own",
            });
            section
        }),
        None => section,
    };
    let own = |field| {
        section
            .values
            .get(field)
            .or_else(|| source.values.get(field))
            .map(str::trim)
            .filter(|text| !text.is_empty())
    };
    let kind = own(Field::Kind).map_or_else(|| kind_of(source), ToOwned::to_owned);
    let named = own(Field::Tune).map(ToOwned::to_owned);
    let wanted = named.clone().unwrap_or_else(|| kind.clone());
    let tune = song.tunes.iter().position(|tune| tune.name == wanted);
    if tune.is_none()
        && !song.tunes.is_empty()
        && let Some(found) = &named
        && std::ptr::eq(source, section)
    {
        problems.push(ValueProblem {
            node: section.id,
            field: Field::Tune,
            found: found.clone(),
            expected: "it has to be the name of one of the song's tunes",
        });
    }
    let tie = known
        .iter()
        .find(|tie| ***tie == *wanted)
        .cloned()
        .unwrap_or_else(|| {
            let tie: Arc<str> = wanted.as_str().into();
            known.push(Arc::clone(&tie));
            tie
        });
    let setting = if std::ptr::eq(source, section) {
        head::of_section(head, song, section, problems)
    } else {
        // What the section sung again was in holds unless this one says otherwise.
        let inner = head::of_section(head, song, source, &mut Vec::new());
        head::of_section(
            &Head {
                setting: inner,
                ..head.clone()
            },
            song,
            section,
            problems,
        )
    };
    let wordless_bars = own(Field::Bars).and_then(|text| head::whole(text, 1, 999));
    SungSection {
        id: section.id,
        source,
        label: own(Field::Label).map_or_else(|| label_of(source), ToOwned::to_owned),
        kind,
        tune,
        tune_name: named.or_else(|| tune.map(|_| wanted.clone())),
        tie,
        setting,
        wordless_bars,
    }
}
