//! `vary`: variants of a section's chords over its unchanged melody.

use super::args::VaryArgs;
use super::output::Output;
use super::{Ended, song_file};
use crate::formats::json;
use crate::harmony::vary::{Wish, vary};
use crate::reading::memory::Memory;
use crate::reading::read::read;
use crate::reading::repeats;
use crate::reading::slots;
use crate::reading::{Reading, SectionReading};
use crate::song::Song;
use crate::wording::figure::short_number;
use crate::wording::message::Message;
use std::collections::BTreeSet;

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
    let answer = json::vary::vary(index, section, &placed, &found);
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

/// A variant for each repeat of each tune (or of one section's), in the order sung; sections without chords are left out.
fn plan(
    song: &Song,
    reading: &Reading,
    label: Option<&str>,
    output: &mut Output,
) -> Result<Ended, Message> {
    let only = label.map(|label| wanted(reading, label)).transpose()?;
    let ties: BTreeSet<&str> = match only {
        Some((_, only)) => [&*only.tie].into(),
        None => reading
            .sections
            .iter()
            .map(|section| &*section.tie)
            .collect(),
    };
    let mut answer = json::vary::Plan { plan: Vec::new() };
    for tie in ties {
        let repeats = repeats::of_tune(reading, song, tie);
        let variants = repeats::planned(&repeats, false, &|| false).unwrap_or_default();
        for (repeat, variant) in repeats.iter().zip(&variants) {
            if let Some(section) = reading.sections.get(repeat.section) {
                let planned = json::vary::planned(repeat.section, section, &repeat.placed, variant);
                answer.plan.push(planned);
            }
        }
    }
    answer.plan.sort_by_key(|section| section.section);
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
