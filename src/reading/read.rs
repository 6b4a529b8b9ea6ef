//! Reading a song: words, what the verses share, each line on its notes or beats, chords, clock, air.

use super::clock::{self, Clock};
use super::head::{self, ValueProblem};
use super::lay::lay;
use super::memory::{LaidFrom, Memory, On, Prepared, Slot};
use super::order::{self, SungSection};
use super::rhymes;
use super::shared::{Common, Shared};
use super::{LineReading, Reading, SectionReading};
use crate::music::quarters::Quarters;
use crate::singing::placement::{self, Frame, Pattern, Placement};
use crate::singing::stanza::Shape;
use crate::song::field::Field;
use crate::song::{Line, Song};
use std::collections::HashMap;
use std::sync::Arc;

/// Reads a song. Lines that are as they were when `memory` last saw them are not worked out anew.
#[must_use]
pub fn read(song: &Song, memory: &mut Memory) -> Reading {
    let mut head = head::read(song);
    let mut problems = std::mem::take(&mut head.problems);
    let order = order::sections(song, &head, &mut problems);
    memory.begin(song);
    let sung = sung_lines(song, &order, memory);
    let shared = Shared::of(&order, &sung, memory);
    let bound = bind(&order, sung, &shared, memory, &mut problems);
    let mut clock = Clock::with_room_for(bound.len());
    let mut sections = Vec::with_capacity(order.len());
    for (index, section) in order.iter().enumerate() {
        let first = clock.lines.len();
        let start_s = clock.now;
        lay_section(song, section, index, &bound, memory, &mut clock);
        let own = bound.get(first..clock.lines.len()).unwrap_or_default();
        sections.push(SectionReading {
            id: section.id,
            source: section.source.id,
            label: section.label.clone(),
            kind: section.kind.clone(),
            tune: section.tune_name.clone(),
            phrases: phrases(song, section).len(),
            tie: Arc::clone(&section.tie),
            setting: section.setting.clone(),
            rhymes: memory.rhymes(section.source.id, own.iter().map(|line| line.sung.slot)),
            lines: first..clock.lines.len(),
            start_s,
            end_s: clock.now,
        });
    }
    memory.end(clock.lines.len());
    rhymes::keep_form(&mut sections, memory);
    borrow_chords(&mut clock.lines, &sections, &bound, memory);
    head.problems = problems;
    clock::finish(head, sections, clock)
}

/// A line that is sung, with what is known of it alone.
pub(super) struct SungLine<'a> {
    /// The index of its section.
    pub(super) section: usize,
    /// Its index in the section.
    pub(super) number: usize,
    /// Which line of the tune it is, or of the section where no notes are known.
    pub(super) place: usize,
    /// As written.
    pub(super) line: &'a Line,
    /// Where its words are remembered.
    pub(super) slot: Slot,
    /// The notes it is sung to.
    pub(super) prepared: Option<Arc<Prepared>>,
}

/// A line bound to what it is sung on.
struct Bound<'a> {
    sung: SungLine<'a>,
    runs_on: bool,
    /// Its beats, where no notes are known.
    placed: Option<Arc<Placement>>,
    habit: Option<Arc<[bool]>>,
    wanted: Option<usize>,
    /// What the verses have here, and how many there are.
    verses: (Shape, usize),
}

fn phrases<'a>(song: &'a Song, section: &SungSection<'_>) -> &'a [String] {
    section
        .tune
        .and_then(|tune| song.tunes.get(tune))
        .map_or(&[], |tune| &tune.phrases)
}

/// The phrases of the section's tune; `None` for one in which no time passes.
fn prepared(
    song: &Song,
    section: &SungSection<'_>,
    memory: &mut Memory,
) -> Vec<Option<Arc<Prepared>>> {
    let setting = &section.setting;
    let one = |text: &String| {
        let prepared = memory.phrase(text, setting.key.signature(), setting.meter);
        prepared.phrase.length.is_positive().then_some(prepared)
    };
    phrases(song, section).iter().map(one).collect()
}

/// All lines in the order sung.
fn sung_lines<'a>(
    song: &Song,
    order: &[SungSection<'a>],
    memory: &mut Memory,
) -> Vec<SungLine<'a>> {
    let mut sung = Vec::with_capacity(order.iter().map(|s| s.source.lines.len()).sum());
    for (index, section) in order.iter().enumerate() {
        let phrases = prepared(song, section, memory);
        for (number, line) in section.source.lines.iter().enumerate() {
            let phrase = number.checked_rem(phrases.len());
            let prepared = phrase.and_then(|phrase| phrases.get(phrase)?.clone());
            sung.push(SungLine {
                section: index,
                number,
                place: phrase.filter(|_| prepared.is_some()).unwrap_or(number),
                line,
                slot: memory.words(line.id, &line.lyric),
                prepared,
            });
        }
    }
    sung
}

/// Binds each line to its phrase, or to the beats of its bars.
fn bind<'a>(
    order: &[SungSection<'a>],
    sung: Vec<SungLine<'a>>,
    shared: &Shared,
    memory: &mut Memory,
    problems: &mut Vec<ValueProblem>,
) -> Vec<Bound<'a>> {
    let mut bound = Vec::with_capacity(sung.len());
    for sung in sung {
        let Some(section) = order.get(sung.section) else {
            continue;
        };
        let (runs_on, bars) = line_values(sung.line, problems);
        let common = shared.get(&section.tie, sung.place);
        let syllables = common.and_then(Common::count);
        let placed = sung.prepared.is_none().then(|| {
            let frame = Frame {
                meter: section.setting.meter,
                bars: u16::try_from(bars.unwrap_or(section.setting.bars)).unwrap_or(1),
            };
            let pattern = Pattern {
                syllables,
                beats: None,
                strict: common.is_some_and(|common| common.strict),
            };
            memory.placed(sung.slot, frame, pattern)
        });
        let wanted = match &sung.prepared {
            Some(prepared) => Some(prepared.places.wanted()),
            None => syllables,
        };
        bound.push(Bound {
            wanted: wanted.filter(|_| !sung.slot.wordless),
            sung,
            runs_on,
            placed,
            habit: common.and_then(|common| common.habit.clone()),
            verses: common.map_or((Shape::default(), 0), |common| {
                (common.shape, common.verses)
            }),
        });
    }
    bound
}

/// Whether a line runs on and how many bars it has, as far as that makes sense; the rest is noted.
fn line_values(line: &Line, problems: &mut Vec<ValueProblem>) -> (bool, Option<i64>) {
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
    (runs_on.unwrap_or(false), bars)
}

fn lay_section<'a>(
    song: &Song,
    section: &SungSection<'_>,
    index: usize,
    bound: &[Bound<'a>],
    memory: &mut Memory,
    clock: &mut Clock<'a>,
) {
    let tempo = section.setting.tempo;
    let mut origin = Quarters::ZERO;
    let first = clock.lines.len();
    for (place, line) in bound
        .iter()
        .enumerate()
        .skip(first)
        .take_while(|(_, line)| line.sung.section == index)
    {
        // Neighbours share the time between them, unless a section without words lies there.
        let beside = |other: Option<usize>| {
            let other = other.and_then(|other| bound.get(other))?;
            (other.sung.section.abs_diff(index) <= 1)
                .then(|| other.placed.clone())
                .flatten()
        };
        let on = match (&line.sung.prepared, &line.placed) {
            (Some(prepared), _) => On::Notes(Arc::clone(prepared)),
            (None, Some(placed)) => On::Beats {
                placed: Arc::clone(placed),
                before: beside(place.checked_sub(1)),
                after: beside(Some(place + 1)),
                gap: if line.runs_on {
                    Quarters::ZERO
                } else {
                    placement::line_end_gap(tempo)
                },
            },
            (None, None) => continue,
        };
        let from = LaidFrom {
            meter: section.setting.meter,
            on,
            habit: line.habit.clone(),
        };
        let written = line.sung.line;
        let laid = memory.laid(line.sung.slot, &from, |words| lay(words, &from));
        let row = match &written.chords {
            Some(row) => memory.row(line.sung.slot, row, &laid, tempo.beat),
            None => Arc::default(),
        };
        clock.ends.push((line.runs_on, &written.marks));
        clock.lines.push(LineReading {
            id: written.id,
            section: index,
            line: line.sung.number,
            phrase: line
                .sung
                .prepared
                .as_ref()
                .map(|prepared| Arc::clone(&prepared.phrase)),
            lyric_end: line.sung.slot.end,
            origin,
            first_time: clock.syllables,
            origin_s: clock.now + tempo.seconds(origin),
            start_s: None,
            end_s: None,
            chords: Arc::clone(&row.sounding),
            row,
            borrows: None,
            wanted: line.wanted,
            shape: line.sung.slot.shape,
            verses_shape: line.verses.0,
            verses: line.verses.1,
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
        None => prepared(song, section, memory)
            .iter()
            .flatten()
            .map(|prepared| prepared.phrase.length)
            .sum(),
    }
}

/// Lets a line without chords of its own borrow those of the same line in the first section sung to the same tune.
fn borrow_chords(
    lines: &mut [LineReading],
    sections: &[SectionReading],
    bound: &[Bound<'_>],
    memory: &mut Memory,
) {
    // For each tune and line of it, the first line of the song with chords of its own, and the section it stands in.
    let mut lenders: HashMap<(Arc<str>, usize), usize> = HashMap::new();
    for section in sections {
        for place in section.lines.clone() {
            let Some(line) = lines.get(place).filter(|line| line.chords.is_empty()) else {
                continue;
            };
            let number = line.line;
            let asked = number.checked_rem(section.phrases).unwrap_or(number);
            // Within one section, a line sung to a phrase for the second time borrows from the first.
            let within = || {
                let first = section.lines.start + number.checked_rem(section.phrases)?;
                lines
                    .get(first)
                    .filter(|found| first < place && !found.chords.is_empty())
            };
            let lent = lenders.get(&(Arc::clone(&section.tie), asked));
            let Some(lent) = lent.and_then(|lent| lines.get(*lent)).or_else(within) else {
                continue;
            };
            let Some(slot) = bound.get(place).map(|bound| bound.sung.slot) else {
                continue;
            };
            let chords = memory.borrowed(slot, &lent.chords, &lent.laid, &line.laid);
            let borrows = Some(lent.borrows.unwrap_or(lent.id));
            if let Some(line) = lines.get_mut(place) {
                line.chords = chords;
                line.borrows = borrows;
            }
        }
        for place in section.lines.clone() {
            let own = lines
                .get(place)
                .filter(|line| !line.chords.is_empty() && line.borrows.is_none());
            if let Some(line) = own {
                let key = (Arc::clone(&section.tie), line.line);
                lenders.entry(key).or_insert(place);
            }
        }
    }
}
