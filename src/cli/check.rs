//! `check`: every line's syllables, seconds, air and verdict; every breath; warnings and remarks.

use super::output::Output;
use super::{Ended, song_file};
use crate::desk;
use crate::formats::json;
use crate::formats::yaml::read::Opened;
use crate::reading::memory::Memory;
use crate::reading::read::read;
use crate::reading::{LineReading, Reading};
use crate::singing::air::Verdict;
use crate::song::Song;
use crate::warnings::asking::Asking;
use crate::warnings::{self, Severity, Warning, WayOut};
use crate::wording::figure::{counted, short_number};
use crate::wording::message::Message;
use crate::words::SongWords;
use std::path::Path;

/// Checks the song in that file.
///
/// # Errors
/// Where the file cannot be opened or is no song, or the output not written.
pub fn run(path: &Path, output: &mut Output) -> Result<Ended, Message> {
    let Opened { song, findings } = song_file::load(path)?;
    let mut memory = Memory::default();
    let reading = read(&song, &mut memory);
    let mut found = warnings::all(&song, &reading);
    found.extend(
        findings
            .iter()
            .map(|finding| desk::remark_of(finding, &reading)),
    );
    for warning in &mut found {
        desk::name_the_line(&song, warning);
    }
    let warned = found
        .iter()
        .any(|warning| warning.severity() == Severity::Warning);
    let never = || false;
    let mut asking = Asking::new(song.clone(), &reading, memory, &never);
    let told: Vec<(Warning, Vec<WayOut>)> = found
        .into_iter()
        .map(|warning| {
            let ways = warnings::ways_out(&mut asking, &warning);
            (warning, ways)
        })
        .collect();
    if output.json() {
        let lyric = |line: &LineReading| {
            song.line(line.id)
                .map_or_else(String::new, |line| line.lyric.clone())
        };
        let words = song.words.iter();
        let own = SongWords::new(words.map(|(word, said)| (word.as_str(), said.as_str())));
        output.value(&json::check::check(&lyric, &own, &reading, &told))?;
    } else {
        print(&song, &reading, &told, output);
    }
    Ok(if warned { Ended::Warned } else { Ended::Fine })
}

fn print(song: &Song, reading: &Reading, told: &[(Warning, Vec<WayOut>)], output: &mut Output) {
    let setting = &reading.head.setting;
    output.row(&format!(
        "{}   {}  {}  {} beats a minute   {}",
        reading.head.title,
        setting.key,
        setting.meter,
        short_number(setting.tempo.per_minute),
        clock(reading.seconds)
    ));
    for section in &reading.sections {
        output.row("");
        let scheme = section
            .rhymes
            .letters()
            .filter(|_| section.rhymes.has_rhymes());
        output.row(
            format!(
                "{}  {}  {}",
                section.label,
                clock(section.start_s),
                scheme.unwrap_or_default()
            )
            .trim_end(),
        );
        for line in reading.lines.get(section.lines.clone()).unwrap_or(&[]) {
            output.row(&row(song, line));
        }
    }
    let (warnings, remarks): (Vec<_>, Vec<_>) = told
        .iter()
        .partition(|(warning, _)| warning.severity() == Severity::Warning);
    for (title, list) in [
        (counted(warnings.len(), "warning", "warnings"), &warnings),
        (counted(remarks.len(), "remark", "remarks"), &remarks),
    ] {
        output.row("");
        output.row(&title);
        for (warning, ways) in list {
            let place = warning.place_in_words(reading);
            output.row(&if place.is_empty() {
                format!("  {}", warning.message)
            } else {
                format!("  {place}: {}", warning.message)
            });
            for way in ways {
                let verdict = way.after.verdict.map(Verdict::words);
                let verdict = verdict.map_or_else(String::new, |verdict| format!("{verdict}; "));
                output.row(&format!(
                    "    - {} ({verdict}the song {})",
                    way.text,
                    clock(way.after.seconds)
                ));
            }
        }
    }
}

fn row(song: &Song, line: &LineReading) -> String {
    let lyric = song.line(line.id).map_or("", |line| line.lyric.as_str());
    let syllables = line.laid.syllables.len();
    let count = match line.wanted {
        Some(wanted) if wanted != syllables => format!("{syllables} on {wanted}"),
        _ => syllables.to_string(),
    };
    let seconds = line
        .start_s
        .zip(line.end_s)
        .map_or_else(String::new, |(start, end)| format!("{:.1} s", end - start));
    let air = line
        .air_left
        .map_or_else(String::new, |air| format!("air {air:.2}"));
    let verdict = line
        .verdict
        .filter(|verdict| *verdict != Verdict::Easy)
        .map_or("", Verdict::words);
    format!("{count:<9} {lyric:<48} {seconds:>7}  {air:<9} {verdict}")
        .trim_end()
        .to_owned()
}

/// Minutes and seconds, `4:12`.
fn clock(seconds: f64) -> String {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a song's seconds, not negative"
    )]
    let whole = seconds.round().max(0.0) as u64;
    format!("{}:{:02}", whole / 60, whole % 60)
}
