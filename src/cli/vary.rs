//! `vary`: variants of a section's chords over its unchanged melody.

use super::args::VaryArgs;
use super::output::Output;
use super::{Ended, song_file};
use crate::formats::json;
use crate::harmony::variant::Sounding;
use crate::harmony::vary::{Wish, vary};
use crate::reading::memory::Memory;
use crate::reading::read::read;
use crate::reading::slots;
use crate::reading::{Reading, SectionReading};
use crate::song::Song;
use crate::wording::figure::short_number;
use crate::wording::message::Message;
use std::collections::BTreeMap;

/// Answers for one section, or with `--plan` for all repeats of its tune.
///
/// # Errors
/// Where the file cannot be opened or is no song, no section has that label, or the output is not written.
pub fn run(args: &VaryArgs, output: &mut Output) -> Result<Ended, Message> {
    let song = song_file::load(&args.song)?.song;
    let reading = read(&song, &mut Memory::default());
    let never = || false;
    if args.plan {
        return plan(&song, &reading, args.section.as_deref(), output);
    }
    let (index, section) = wanted(&reading, args.section.as_deref().unwrap_or(""))?;
    let placed = slots::of_section(&reading, index);
    let setting = slots::setting(&reading, &song, section);
    let bare: Vec<_> = placed.iter().map(|placed| placed.slot.clone()).collect();
    let found = vary(&bare, &setting, Wish::of(usize::from(args.count)), &never)
        .ok_or_else(|| Message::new("the search was stopped").next("Ask again."))?;
    let answer = json::vary(index, section, &placed, &found);
    if output.json() {
        output.value(&answer)?;
    } else {
        output.row(&format!(
            "{}: {}",
            answer.label,
            answer
                .slots
                .iter()
                .map(|slot| slot.base.as_str())
                .collect::<Vec<_>>()
                .join("  ")
        ));
        if answer.variants.is_empty() {
            output.row("no variant: the section has no chords, or nothing else fits its melody");
        }
        for variant in &answer.variants {
            output.row("");
            output.row(&format!(
                "{:>6}  {}",
                short_number(variant.cost.0),
                variant.chords.join("  ")
            ));
            output.row(&format!("        {}", variant.summary));
            for change in &variant.changes {
                output.row(&format!("        {}", change.why));
            }
        }
    }
    Ok(Ended::Fine)
}

fn wanted<'a>(reading: &'a Reading, label: &str) -> Result<(usize, &'a SectionReading), Message> {
    let exact = reading
        .sections
        .iter()
        .enumerate()
        .find(|(_, section)| section.label == label);
    let folded = || {
        reading
            .sections
            .iter()
            .enumerate()
            .find(|(_, section)| section.label.to_lowercase() == label.to_lowercase())
    };
    exact.or_else(folded).ok_or_else(|| {
        let labels: Vec<_> = reading
            .sections
            .iter()
            .map(|section| section.label.as_str())
            .collect();
        Message::new(format!("no section is called \"{label}\""))
            .next(format!("There are: {}.", labels.join(", ")))
    })
}

/// A variant for each repeat of a tune: the first as written, since the tune has to be learned, the last as written, since home has
/// to be known again; those between each differ from the written chords and from the verse before.
fn plan(
    song: &Song,
    reading: &Reading,
    label: Option<&str>,
    output: &mut Output,
) -> Result<Ended, Message> {
    let only = label
        .map(|label| wanted(reading, label))
        .transpose()?
        .map(|(_, section)| section.tie.clone());
    let mut answer = json::Plan { plan: Vec::new() };
    let mut before: BTreeMap<&str, Vec<Vec<Sounding>>> = BTreeMap::new();
    for (index, section) in reading.sections.iter().enumerate() {
        if only.as_ref().is_some_and(|tie| *tie != section.tie) {
            continue;
        }
        let placed = slots::of_section(reading, index);
        if placed.is_empty() {
            continue;
        }
        let bare: Vec<_> = placed.iter().map(|placed| placed.slot.clone()).collect();
        let last = !reading
            .sections
            .iter()
            .skip(index + 1)
            .any(|other| other.tie == section.tie && !other.lines.is_empty());
        let same_length = before
            .get(&*section.tie)
            .filter(|chords| chords.len() == bare.len());
        let found = match same_length {
            Some(apart_from) if !last => {
                let wish = Wish {
                    apart_from: Some(apart_from),
                    ..Wish::of(1)
                };
                vary(
                    &bare,
                    &slots::setting(reading, song, section),
                    wish,
                    &|| false,
                )
                .and_then(|found| found.variants.into_iter().next())
            }
            _ => None,
        };
        let variant = found.unwrap_or_else(|| slots::as_written(&placed));
        answer
            .plan
            .push(json::planned(index, section, &placed, &variant));
        before.insert(&section.tie, variant.chords);
    }
    if output.json() {
        output.value(&answer)?;
    } else {
        for section in &answer.plan {
            output.row(&format!(
                "{:<16} {}",
                section.label,
                section.chords.join("  ")
            ));
        }
    }
    Ok(Ended::Fine)
}
