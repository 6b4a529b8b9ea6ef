//! Reading a song: words, what the verses share, each line on its notes or beats, chords, clock, air.

use super::head::{self, Head, ValueProblem};
use super::laid::{Laid, LaidNote, LaidSyllable, LaidWord};
use super::memory::{LaidFrom, LineWords, Memory, On, Prepared};
use super::order::{self, SungSection};
use super::{LineReading, Reading, SectionReading, SyllableTime};
use crate::music::quarters::Quarters;
use crate::singing::air::{After, Ends, Sounding, breathe};
use crate::singing::charge;
use crate::singing::placement::{self, Frame, Pattern, Placement};
use crate::singing::underlay::{Underlay, underlay};
use crate::song::column::Column;
use crate::song::field::Field;
use crate::song::{Line, Song};
use crate::words::phone::Phone;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Reads a song. Lines that are as they were when `memory` last saw them are not worked out anew.
#[must_use]
pub fn read(song: &Song, memory: &mut Memory) -> Reading {
    let mut head = head::read(song);
    let mut problems = std::mem::take(&mut head.problems);
    let order = order::sections(song, &head, &mut problems);
    memory.begin(song);
    let shared = Shared::of(song, &order, memory);
    let bound = bind(song, &order, &shared, memory, &mut problems);
    let mut clock = Clock::default();
    let mut sections = Vec::with_capacity(order.len());
    for (index, section) in order.iter().enumerate() {
        let first = clock.lines.len();
        let start_s = clock.now;
        lay_section(song, section, index, &bound, memory, &mut clock);
        sections.push(SectionReading {
            id: section.id,
            source: section.source.id,
            label: section.label.clone(),
            kind: section.kind.clone(),
            tune: section.tune_name.clone(),
            phrases: phrases(song, section),
            tie: Arc::clone(&section.tie),
            setting: section.setting.clone(),
            lines: first..clock.lines.len(),
            start_s,
            end_s: clock.now,
        });
    }
    memory.end(clock.lines.len());
    borrow_chords(&mut clock.lines, &sections, memory);
    head.problems = problems;
    finish(head, sections, clock)
}

/// What the verses share, from the default readings and without feedback: how many syllables a line has, which notes begin one.
struct Shared {
    patterns: BTreeMap<(usize, usize), Common>,
    ties: Vec<Arc<str>>,
}

/// What the verses share in one line.
#[derive(Default)]
struct Common {
    counts: Vec<usize>,
    habit: Option<Arc<[bool]>>,
}

impl Shared {
    fn of(song: &Song, order: &[SungSection<'_>], memory: &mut Memory) -> Self {
        let mut shared = Self {
            patterns: BTreeMap::new(),
            ties: Vec::new(),
        };
        for section in order
            .iter()
            .filter(|section| section.id == section.source.id)
        {
            let tie = shared.tie(&section.tie);
            for (index, line) in section.source.lines.iter().enumerate() {
                let words = memory.words(line.id, &line.lyric);
                let prepared = phrase_of(song, section, index, memory);
                let place = prepared
                    .as_ref()
                    .map_or(index, |_| index % phrases(song, section).max(1));
                let pattern = shared.patterns.entry((tie, place)).or_default();
                let count: usize = words
                    .words
                    .iter()
                    .filter_map(|word| word.readings.default_reading())
                    .map(|reading| reading.count())
                    .sum();
                if count > 0 {
                    pattern.counts.push(count);
                }
                if let (Some(prepared), None) = (&prepared, &pattern.habit) {
                    let usual: Vec<_> = words
                        .ways
                        .iter()
                        .map(|ways| ways.iter().take(1).cloned().collect())
                        .collect();
                    pattern.habit =
                        underlay(&usual, &prepared.places, None).map(|found| found.habit.into());
                }
            }
        }
        for pattern in shared.patterns.values_mut() {
            pattern.counts.sort_unstable();
        }
        shared
    }

    fn tie(&mut self, name: &Arc<str>) -> usize {
        self.ties
            .iter()
            .position(|tie| tie == name)
            .unwrap_or_else(|| {
                self.ties.push(Arc::clone(name));
                self.ties.len() - 1
            })
    }

    fn get(&self, name: &Arc<str>, place: usize) -> Option<&Common> {
        let tie = self.ties.iter().position(|tie| tie == name)?;
        self.patterns.get(&(tie, place))
    }
}

impl Common {
    /// The median count of the verses, where two or more have the line.
    fn count(&self) -> Option<usize> {
        self.counts
            .get((self.counts.len().checked_sub(1)?) / 2)
            .copied()
            .filter(|_| self.counts.len() > 1)
    }
}

fn phrases(song: &Song, section: &SungSection<'_>) -> usize {
    section
        .tune
        .and_then(|tune| song.tunes.get(tune))
        .map_or(0, |tune| tune.phrases.len())
}

fn phrase_of(
    song: &Song,
    section: &SungSection<'_>,
    line: usize,
    memory: &mut Memory,
) -> Option<Arc<Prepared>> {
    let tune = song.tunes.get(section.tune?)?;
    let text = tune.phrases.get(line.checked_rem(tune.phrases.len())?)?;
    let prepared = memory.phrase(text, section.setting.key.signature(), section.setting.meter);
    prepared.phrase.length.is_positive().then_some(prepared)
}

/// A line bound to what it is sung on.
struct Bound<'a> {
    section: usize,
    number: usize,
    line: &'a Line,
    runs_on: bool,
    on: Ground,
    habit: Option<Arc<[bool]>>,
    wanted: Option<usize>,
}

/// What a line is sung on, before its neighbours are known.
enum Ground {
    Notes(Arc<Prepared>),
    Beats(Arc<Placement>),
}

impl Bound<'_> {
    fn placed(&self) -> Option<Arc<Placement>> {
        match &self.on {
            Ground::Beats(placed) => Some(Arc::clone(placed)),
            Ground::Notes(_) => None,
        }
    }
}

/// Binds each line to its phrase, or to the beats of its bars.
fn bind<'a>(
    song: &Song,
    order: &[SungSection<'a>],
    shared: &Shared,
    memory: &mut Memory,
    problems: &mut Vec<ValueProblem>,
) -> Vec<Bound<'a>> {
    let mut bound = Vec::new();
    for (index, section) in order.iter().enumerate() {
        for (number, line) in section.source.lines.iter().enumerate() {
            let words = memory.words(line.id, &line.lyric);
            let prepared = phrase_of(song, section, number, memory);
            let place = prepared
                .as_ref()
                .map_or(number, |_| number % phrases(song, section).max(1));
            let pattern = shared.get(&section.tie, place);
            let mut note = |field: Field, expected: &'static str| {
                let found = line.values.get(field).unwrap_or_default().to_owned();
                let problem = ValueProblem {
                    node: line.id,
                    field,
                    found,
                    expected,
                };
                if !problems.contains(&problem) {
                    problems.push(problem);
                }
            };
            let typed = line
                .values
                .get(Field::Bars)
                .map(str::trim)
                .filter(|text| !text.is_empty());
            let bars = typed.and_then(|text| head::whole(text, 1, 999));
            if typed.is_some() && bars.is_none() {
                note(
                    Field::Bars,
                    "it has to be a whole number of bars, from 1 to 999",
                );
            }
            let runs_on = line
                .values
                .get(Field::RunOn)
                .map_or(Some(false), head::yes_or_no);
            if runs_on.is_none() {
                note(Field::RunOn, "it has to be true or false");
            }
            let syllables = pattern.and_then(Common::count);
            let wanted = prepared
                .as_ref()
                .map(|prepared| prepared.places.wanted())
                .or(syllables);
            let on = if let Some(prepared) = prepared {
                Ground::Notes(prepared)
            } else {
                let bars = u16::try_from(bars.unwrap_or(section.setting.bars)).unwrap_or(1);
                let frame = Frame {
                    meter: section.setting.meter,
                    bars,
                };
                let Some(placed) = memory.placed(
                    line.id,
                    frame,
                    Pattern {
                        syllables,
                        beats: None,
                    },
                ) else {
                    continue;
                };
                Ground::Beats(placed)
            };
            bound.push(Bound {
                section: index,
                number,
                line,
                runs_on: runs_on.unwrap_or(false),
                on,
                habit: pattern.and_then(|pattern| pattern.habit.clone()),
                wanted: wanted.filter(|_| !words.words.is_empty()),
            });
        }
    }
    bound
}

/// The song's time so far.
#[derive(Default)]
struct Clock {
    now: f64,
    lines: Vec<LineReading>,
    /// For each line whether its sense runs on, and its breath marks.
    ends: Vec<(bool, Vec<Column>)>,
    syllables: usize,
}

fn lay_section(
    song: &Song,
    section: &SungSection<'_>,
    index: usize,
    bound: &[Bound<'_>],
    memory: &mut Memory,
    clock: &mut Clock,
) {
    let tempo = section.setting.tempo;
    let mut origin = Quarters::ZERO;
    let first = clock.lines.len();
    for (place, line) in bound
        .iter()
        .enumerate()
        .skip(first)
        .take_while(|(_, line)| line.section == index)
    {
        // Neighbours share the time between them, unless a section without words lies there.
        let beside = |other: Option<usize>| {
            let other = other.and_then(|other| bound.get(other))?;
            (other.section.abs_diff(index) <= 1)
                .then(|| other.placed())
                .flatten()
        };
        let from = LaidFrom {
            meter: section.setting.meter,
            on: match &line.on {
                Ground::Notes(prepared) => On::Notes(Arc::clone(prepared)),
                Ground::Beats(placed) => On::Beats {
                    placed: Arc::clone(placed),
                    before: beside(place.checked_sub(1)),
                    after: beside(Some(place + 1)),
                    gap: if line.runs_on {
                        Quarters::ZERO
                    } else {
                        placement::line_end_gap(tempo)
                    },
                },
            },
            habit: line.habit.clone(),
        };
        let Some(laid) = memory.laid(line.line.id, &from, |words| lay(words, &from)) else {
            continue;
        };
        let row = match &line.line.chords {
            Some(row) => memory.row(line.line.id, row, &laid, tempo.beat),
            None => Arc::default(),
        };
        clock.ends.push((line.runs_on, line.line.marks.clone()));
        clock.lines.push(LineReading {
            id: line.line.id,
            section: index,
            line: line.number,
            phrase: if let Ground::Notes(prepared) = &line.on {
                Some(Arc::clone(&prepared.phrase))
            } else {
                None
            },
            lyric_end: memory.words(line.line.id, &line.line.lyric).end,
            origin,
            first_time: clock.syllables,
            origin_s: clock.now + tempo.seconds(origin),
            start_s: None,
            end_s: None,
            chords: Arc::clone(&row.sounding),
            row,
            borrows: None,
            wanted: line.wanted,
            air_left: None,
            seconds_left: None,
            verdict: None,
            bad_day: None,
            falls_at: None,
            laid: Arc::clone(&laid),
        });
        clock.syllables += laid.syllables.len();
        origin += laid.length;
    }
    if section.source.lines.is_empty() {
        origin = wordless(song, section, memory);
    }
    clock.now += tempo.seconds(origin);
}

/// How long a section without lines lasts: its bars; else its tune, where that is written down; else nothing.
fn wordless(song: &Song, section: &SungSection<'_>, memory: &mut Memory) -> Quarters {
    match section.wordless_bars {
        Some(bars) => section.setting.meter.bar() * bars,
        None => (0..phrases(song, section))
            .filter_map(|phrase| phrase_of(song, section, phrase, memory))
            .map(|prepared| prepared.phrase.length)
            .sum(),
    }
}

/// Lays a line on its notes, or on the beats of its bars.
fn lay(words: &LineWords, from: &LaidFrom) -> Laid {
    let (found, phrase, length) = match &from.on {
        On::Notes(prepared) => (
            underlay(&words.ways, &prepared.places, from.habit.as_deref()),
            Some(prepared),
            prepared.phrase.length,
        ),
        On::Beats {
            placed,
            before,
            after,
            gap,
        } => (
            Some(placed.set(before.as_deref(), after.as_deref(), *gap)),
            None,
            placed.length(),
        ),
    };
    let found = found.as_ref();
    let notes = phrase.iter().flat_map(|prepared| &prepared.phrase.notes);
    Laid {
        syllables: found.map_or_else(Vec::new, |found| {
            found
                .syllables
                .iter()
                .filter_map(|sung| syllable(words, found, sung))
                .collect()
        }),
        words: words
            .words
            .iter()
            .enumerate()
            .map(|(index, word)| laid_word(words, word, index, found))
            .collect(),
        length,
        downbeat: phrase.map_or(Quarters::ZERO, |prepared| prepared.phrase.pickup),
        meter: from.meter,
        notes: notes
            .filter_map(|note| {
                Some(LaidNote {
                    pitch: note.pitch?,
                    start: note.start,
                    length: note.length,
                })
            })
            .collect(),
        places: phrase.map(|prepared| prepared.places.wanted()),
        misfits: phrase.and(found).map_or(0, Underlay::additions),
        cost: found.map_or(0, |found| found.cost),
    }
}

fn laid_word(
    words: &LineWords,
    word: &crate::words::line::WordReadings,
    index: usize,
    found: Option<&Underlay>,
) -> LaidWord {
    let way = found
        .and_then(|found| found.syllables.iter().find(|sung| sung.word == index))
        .map_or(0, |sung| sung.way);
    let reading = word.readings.readings.get(way);
    LaidWord {
        text: word.text.clone(),
        column: Column(word.column),
        stop: words.stops.get(index).copied().unwrap_or(false),
        estimated: word.readings.is_estimate(),
        why: reading
            .filter(|_| way > 0)
            .map(|reading| reading.why.to_owned()),
    }
}

fn syllable(
    words: &LineWords,
    found: &Underlay,
    sung: &crate::singing::underlay::Sung,
) -> Option<LaidSyllable> {
    let word = words.words.get(sung.word)?;
    let reading = word.readings.readings.get(sung.way)?;
    let syllable = reading.syllables.get(sung.syllable)?;
    Some(LaidSyllable {
        text: syllable.text.clone(),
        column: Column(word.column + syllable.column),
        word: sung.word,
        start: sung.start,
        length: sung.length,
        notes: found
            .notes_of(sung)
            .iter()
            .filter_map(|note| Some((note.pitch?, note.length)))
            .collect(),
        class: sung.class,
        stress: syllable.stress.digit(),
        is_closed: syllable
            .sounds
            .iter()
            .any(|sound| matches!(sound.phone, Phone::IY | Phone::UW | Phone::IH | Phone::UH)),
        strength: sung.strength,
        costs: charge::costs(&syllable.sounds, sung.syllable == 0),
    })
}

/// Lets a line without chords of its own borrow those of the same line in the first section sung to the same tune.
fn borrow_chords(lines: &mut [LineReading], sections: &[SectionReading], memory: &mut Memory) {
    for (index, section) in sections.iter().enumerate() {
        for place in section.lines.clone() {
            let Some(line) = lines.get(place).filter(|line| line.chords.is_empty()) else {
                continue;
            };
            let number = line.line;
            let sources = sections
                .iter()
                .take(index)
                .filter(|other| other.tie == section.tie);
            let mut from = sources.filter_map(|other| {
                let count = other.lines.len();
                let number = if section.phrases > 0 {
                    number % section.phrases
                } else {
                    number
                };
                (number < count).then_some(other.lines.start + number)
            });
            let lent = from.find_map(|from| {
                lines
                    .get(from)
                    .filter(|found| !found.chords.is_empty() && found.borrows.is_none())
            });
            // Within one section, a line sung to a phrase for the second time borrows from the first.
            let within = || {
                let first = number.checked_rem(section.phrases)?;
                lines
                    .get(section.lines.start + first)
                    .filter(|found| first < number && !found.chords.is_empty())
            };
            let Some(lent) = lent.or_else(within) else {
                continue;
            };
            let chords = memory.borrowed(line.id, &lent.chords, &lent.laid, &line.laid);
            let borrows = Some(lent.borrows.unwrap_or(lent.id));
            if let Some(line) = lines.get_mut(place) {
                line.chords = chords;
                line.borrows = borrows;
            }
        }
    }
}

fn finish(head: Head, sections: Vec<SectionReading>, clock: Clock) -> Reading {
    let Clock {
        now,
        mut lines,
        ends,
        ..
    } = clock;
    // The song begins with its first event: a pickup before the first bar moves everything.
    let first = lines.first().and_then(|line| {
        Some((
            line.laid.syllables.first()?.start,
            sections.get(line.section)?,
        ))
    });
    let lead = match first {
        Some((start, section))
            if !start.is_positive() && lines.first().is_some_and(|line| line.origin_s <= 0.0) =>
        {
            section.setting.tempo.seconds(-start)
        }
        _ => 0.0,
    };
    let mut times: Vec<SyllableTime> = Vec::new();
    let mut soundings: Vec<Sounding> = Vec::new();
    for (index, line) in lines.iter_mut().enumerate() {
        line.origin_s += lead;
        let Some(section) = sections.get(line.section) else {
            continue;
        };
        let tempo = section.setting.tempo;
        let count = line.laid.syllables.len();
        for (number, syllable) in line.laid.syllables.iter().enumerate() {
            let start = line.origin_s + tempo.seconds(syllable.start);
            let end = start + tempo.seconds(syllable.length);
            let last_note = syllable
                .notes
                .last()
                .map_or(end - start, |(_, length)| tempo.seconds(*length));
            times.push(SyllableTime {
                start_s: start,
                end_s: end,
                air: 0.0,
            });
            soundings.push(Sounding {
                start,
                end,
                last_note,
                charge: syllable.costs.iter().sum(),
                flow: 1.0,
                line: index,
                after: After::Nothing,
                ends: ends_with(&line.laid, number),
            });
        }
        let own = line.first_time..line.first_time + count;
        line.start_s = times
            .get(own.start)
            .filter(|_| count > 0)
            .map(|time| time.start_s);
        line.end_s = own
            .end
            .checked_sub(1)
            .and_then(|last| times.get(last))
            .filter(|_| count > 0)
            .map(|time| time.end_s);
        if let Some((runs_on, marks)) = ends.get(index) {
            mark_breaths(
                line,
                *runs_on,
                marks,
                soundings.get_mut(own).unwrap_or_default(),
            );
        }
    }
    let air = breathe(&soundings, head.voice);
    for (time, level) in times.iter_mut().zip(air.levels(&soundings, head.voice)) {
        time.air = level;
    }
    let bad_day = head.voice.on_a_bad_day();
    let worse = breathe(&soundings, bad_day).lines(&soundings, bad_day);
    for (found, worse) in air.lines(&soundings, head.voice).into_iter().zip(worse) {
        let Some(line) = lines.get_mut(found.line) else {
            continue;
        };
        line.air_left = Some(found.air_left);
        line.seconds_left = Some(found.seconds_left);
        line.verdict = Some(found.verdict);
        line.bad_day = Some(worse.verdict);
        let falls = found
            .falls_at
            .and_then(|index| line.laid.syllables.get(index.checked_sub(line.first_time)?));
        line.falls_at = falls
            .and_then(|syllable| line.laid.words.get(syllable.word))
            .map(|word| word.column);
    }
    let sections = sections
        .into_iter()
        .enumerate()
        .map(|(index, mut section)| {
            section.start_s = if index == 0 {
                0.0
            } else {
                section.start_s + lead
            };
            section.end_s += lead;
            section
        });
    Reading {
        head,
        sections: sections.collect(),
        lines,
        times,
        soundings,
        air,
        seconds: now + lead,
    }
}

/// Says after which syllables the singer breathes.
fn mark_breaths(line: &LineReading, runs_on: bool, marks: &[Column], soundings: &mut [Sounding]) {
    if !runs_on && let Some(last) = soundings.last_mut() {
        last.after = After::LineEnd;
    }
    for mark in marks {
        let before = line
            .laid
            .syllables
            .iter()
            .take_while(|syllable| syllable.column < *mark)
            .count();
        let sounding = before
            .checked_sub(1)
            .and_then(|index| soundings.get_mut(index));
        if let Some(sounding) = sounding.filter(|sounding| sounding.after == After::Nothing) {
            sounding.after = After::Mark;
        }
    }
}

fn ends_with(laid: &Laid, number: usize) -> Ends {
    let Some(syllable) = laid.syllables.get(number) else {
        return Ends::Nothing;
    };
    if laid
        .syllables
        .get(number + 1)
        .is_some_and(|next| next.word == syllable.word)
    {
        Ends::Nothing
    } else if laid.words.get(syllable.word).is_some_and(|word| word.stop) {
        Ends::Clause
    } else {
        Ends::Word
    }
}
