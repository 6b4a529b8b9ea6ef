//! What takes too long for a key: answered by a thread with a copy of the song, and dropped when nobody waits any more.

use crate::harmony::variant::{Change, Variant, row_text};
use crate::harmony::vary::{Wish, vary};
use crate::notebook::folder::Entry;
use crate::reading::Reading;
use crate::reading::memory::Memory;
use crate::reading::read::read;
use crate::reading::repeats::{self, Repeat};
use crate::reading::slots::{self, PlacedSlot};
use crate::song::Song;
use crate::song::edit::Edit;
use crate::warnings::asking::Asking;
use crate::warnings::{Warning, WayOut, ways_out};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Sender, channel};
use std::thread;

/// How many variants are offered.
const VARIANTS: usize = 8;

/// What the worker is asked.
#[derive(Clone, Debug, PartialEq)]
pub enum Question {
    /// The ways out of a warning.
    WaysOut(Warning),
    /// Other chords for the section of that index.
    Variants(usize),
    /// Other chords for every repeat of that section's tune.
    Plan(usize),
    /// What a folder's songs are like.
    Songs(Vec<Entry>),
}

/// What the worker answers.
#[derive(Clone, Debug)]
pub enum Answer {
    /// Ways out, best first.
    WaysOut(Vec<WayOut>),
    /// Variants, best first.
    Variants(Vec<Offer>),
    /// A variant for each repeat of a tune, in the order sung, with the index of its section.
    Plan(Vec<(usize, Offer)>),
    /// One of the folder's songs, by its number in the question.
    Song(usize, SongFacts),
}

/// A variant of a section's chords, ready to be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// The chords of each slot in order, and whether they differ from the written ones.
    pub chords: Vec<OfferedSlot>,
    /// What changes, and why.
    pub changes: Vec<Change>,
    /// The word for its effect.
    pub effect: &'static str,
    /// A sentence about the whole.
    pub summary: String,
    /// The edit that takes it; `None` where it changes no row.
    pub edit: Option<Edit>,
}

/// A slot of a variant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OfferedSlot {
    /// The index of its line in the section.
    pub line: usize,
    /// As written.
    pub base: String,
    /// In this variant.
    pub chord: String,
    /// Whether the two differ.
    pub changed: bool,
}

/// What the contents tell of a song.
#[derive(Clone, Debug, PartialEq)]
pub struct SongFacts {
    /// Its title.
    pub title: String,
    /// Its key.
    pub key: String,
    /// Its length in seconds.
    pub seconds: f64,
    /// How many warnings it earns.
    pub warnings: usize,
    /// Why it cannot be opened, where that is so.
    pub trouble: Option<String>,
}

/// A question with what is needed to answer it.
pub struct Asked {
    /// Its number; the next one is higher.
    pub number: u64,
    /// The song as it was, and what was read of it before.
    pub song: Option<(Song, Memory)>,
    /// What is asked.
    pub question: Question,
}

/// The thread that answers, one question after the other; only the latest counts.
pub struct Worker {
    questions: Sender<Asked>,
    latest: Arc<AtomicU64>,
}

impl Worker {
    /// Begins to wait for questions. `told` is called from the thread with a question's number and each of its answers.
    ///
    /// # Errors
    /// Where the system gives no thread.
    pub fn start(told: impl Fn(u64, Answer) + Send + 'static) -> std::io::Result<Self> {
        let (questions, asked) = channel::<Asked>();
        let latest = Arc::new(AtomicU64::new(0));
        let newest = Arc::clone(&latest);
        thread::Builder::new()
            .name("worker".to_owned())
            .spawn(move || {
                for asked in asked {
                    let number = asked.number;
                    let stop = || newest.load(Ordering::Relaxed) != number;
                    if !stop() {
                        answer(asked, &stop, &mut |answer| told(number, answer));
                    }
                }
            })?;
        Ok(Self { questions, latest })
    }

    /// Asks; older questions are dropped.
    pub fn ask(&self, asked: Asked) {
        self.latest.store(asked.number, Ordering::Relaxed);
        // The thread ends only with the program.
        let _ = self.questions.send(asked);
    }

    /// Drops the question that is being answered.
    pub fn stop(&self) {
        self.latest.store(u64::MAX, Ordering::Relaxed);
    }
}

/// Answers a question; nothing is told once `stop` says so.
pub fn answer(asked: Asked, stop: &dyn Fn() -> bool, told: &mut dyn FnMut(Answer)) {
    match (asked.question, asked.song) {
        (Question::WaysOut(warning), Some((song, mut memory))) => {
            let reading = read(&song, &mut memory);
            let mut asking = Asking::new(song, &reading, memory, stop);
            let ways = ways_out(&mut asking, &warning);
            if !stop() {
                told(Answer::WaysOut(ways));
            }
        }
        (Question::Variants(section), Some((song, mut memory))) => {
            if let Some(offers) = offers(&song, &mut memory, section, stop) {
                told(Answer::Variants(offers));
            }
        }
        (Question::Plan(section), Some((song, mut memory))) => {
            if let Some(offers) = plan(&song, &mut memory, section, stop) {
                told(Answer::Plan(offers));
            }
        }
        (Question::Songs(entries), _) => {
            for (index, entry) in entries.iter().enumerate() {
                if stop() {
                    return;
                }
                told(Answer::Song(index, super::songs::facts(&entry.path)));
            }
        }
        (Question::WaysOut(_) | Question::Variants(_) | Question::Plan(_), None) => {}
    }
}

/// The variants of a section, apart from a neighbour that has other chords; `None` where `stop` said so before the end.
fn offers(
    song: &Song,
    memory: &mut Memory,
    section: usize,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Offer>> {
    let reading = read(song, memory);
    let Some(found) = reading.sections.get(section) else {
        return Some(Vec::new());
    };
    let placed = slots::of_section(&reading, section);
    let bare: Vec<_> = placed.iter().map(|placed| placed.slot.clone()).collect();
    let setting = slots::setting(&reading, song, found);
    let neighbour = repeats::neighbour(&reading, section, &placed);
    let wish = Wish {
        apart_from: neighbour.as_deref(),
        ..Wish::of(VARIANTS)
    };
    let variants = vary(&bare, &setting, wish, stop)?.variants;
    let offers = variants
        .into_iter()
        .map(|variant| offer(&reading, section, &placed, variant));
    Some(offers.collect())
}

/// A variant for each repeat of the section's tune; `None` where `stop` said so before the end.
fn plan(
    song: &Song,
    memory: &mut Memory,
    section: usize,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<(usize, Offer)>> {
    let reading = read(song, memory);
    let Some(found) = reading.sections.get(section) else {
        return Some(Vec::new());
    };
    let repeats = repeats::of_tune(&reading, song, &found.tie);
    let variants = repeats::planned(&repeats, true, stop)?;
    // One that sings another's lines again has no rows of its own to write.
    let own = |repeat: &Repeat| {
        let section = reading.sections.get(repeat.section);
        section.is_some_and(|section| section.id == section.source)
    };
    let planned = repeats.into_iter().zip(variants);
    let planned = planned.filter(|(repeat, _)| own(repeat));
    let offers = planned.map(|(repeat, variant)| {
        let offer = offer(&reading, repeat.section, &repeat.placed, variant);
        (repeat.section, offer)
    });
    Some(offers.collect())
}

fn offer(reading: &Reading, section: usize, placed: &[PlacedSlot], variant: Variant) -> Offer {
    let chords = placed.iter().enumerate().map(|(index, placed)| {
        let changed = variant.changes.iter().any(|change| change.slot == index);
        let sounding = variant.chords.get(index).map_or(&[][..], Vec::as_slice);
        OfferedSlot {
            line: placed.line,
            base: placed.text.clone(),
            chord: if changed {
                row_text(sounding)
            } else {
                placed.text.clone()
            },
            changed,
        }
    });
    Offer {
        chords: chords.collect(),
        edit: slots::taken(reading, section, placed, &variant),
        changes: variant.changes,
        effect: variant.effect,
        summary: variant.summary,
    }
}
