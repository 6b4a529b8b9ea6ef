//! Signs in a key and a meter become notes in time.

use super::fault::{Fault, Problem};
use super::signs::{Placed, Sign, Written, signs};
use super::{Phrase, PhraseNote, Signature};
use crate::music::key::Key;
use crate::music::meter::Meter;
use crate::music::pitch::{Note, Pitch};
use crate::music::quarters::Quarters;

/// Reads a tune's body piece by piece. Bars, ties, slurs and groups go on from one [`Reader::read`] to the next, as they do
/// from one line of a tune to the next.
#[derive(Clone, Debug)]
pub struct Reader {
    signature: Signature,
    meter: Meter,
    unit: Quarters,
    /// Accidentals of this bar, by letter.
    accidentals: [Option<i8>; 7],
    moment: Quarters,
    notes: Vec<WrittenNote>,
    bar_lines: Vec<Quarters>,
    problems: Vec<Problem>,
    open_slurs: Vec<usize>,
    slurs: usize,
    tuplet: Option<Tuplet>,
    /// What the next note's length is multiplied by, and where the sign stands.
    broken: Option<(Quarters, usize)>,
    /// Whether a second voice is passed over until the next bar line.
    overlay: bool,
}

/// A note as written: tied ones are still apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WrittenNote {
    /// The note.
    pub note: PhraseNote,
    /// Whether a tie leads on from it.
    pub tied: bool,
}

/// All that was read.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Body {
    /// Notes and rests as written.
    pub notes: Vec<WrittenNote>,
    /// Where bar lines stand, ascending, each moment once.
    pub bar_lines: Vec<Quarters>,
    /// All lengths together.
    pub length: Quarters,
    /// What could not be read. Columns count in the text of the `read` that they came from.
    pub problems: Vec<Problem>,
}

#[derive(Clone, Copy, Debug)]
struct Tuplet {
    factor: Quarters,
    left: u8,
    of: u8,
    column: usize,
}

impl Reader {
    /// A reader at the beginning of a tune; `unit` is its unit note length.
    #[must_use]
    pub fn new(signature: Signature, meter: Meter, unit: Quarters) -> Self {
        Self {
            signature,
            meter,
            unit,
            accidentals: [None; 7],
            moment: Quarters::ZERO,
            notes: Vec::new(),
            bar_lines: Vec::new(),
            problems: Vec::new(),
            open_slurs: Vec::new(),
            slurs: 0,
            tuplet: None,
            broken: None,
            overlay: false,
        }
    }

    /// Changes the key signature from here on.
    pub fn set_signature(&mut self, signature: Signature) {
        self.signature = signature;
        self.accidentals = [None; 7];
    }

    /// Changes the meter from here on: it says how long a bar's rest is and what a group of five, seven or nine means.
    pub fn set_meter(&mut self, meter: Meter) {
        self.meter = meter;
    }

    /// Changes the unit note length from here on.
    pub fn set_unit(&mut self, unit: Quarters) {
        self.unit = unit;
    }

    /// How many notes and rests were read so far.
    #[must_use]
    pub fn len(&self) -> usize {
        self.notes.len()
    }

    /// Whether nothing was read so far.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.notes.is_empty()
    }

    /// Where the next note begins.
    #[must_use]
    pub fn moment(&self) -> Quarters {
        self.moment
    }

    /// Reads on.
    pub fn read(&mut self, text: &str) {
        let (signs, problems) = signs(text);
        let before = self.problems.len();
        self.problems.extend(problems);
        for placed in signs {
            self.sign(placed);
        }
        if let Some(new) = self.problems.get_mut(before..) {
            new.sort_by_key(|p| p.column);
        }
    }

    /// Gives what could not be read since the last time, and forgets it. Who reads line by line asks after each, since columns
    /// begin anew with every text.
    pub fn take_problems(&mut self) -> Vec<Problem> {
        std::mem::take(&mut self.problems)
    }

    /// Ends the tune: what is still open becomes a problem.
    #[must_use]
    pub fn finish(mut self) -> Body {
        self.end_tuplet();
        if let Some((_, column)) = self.broken {
            self.problem(column, Fault::LoneBroken);
        }
        for column in std::mem::take(&mut self.open_slurs) {
            self.problem(column, Fault::OpenSlur);
        }
        self.problems.sort_by_key(|p| p.column);
        Body {
            notes: self.notes,
            bar_lines: self.bar_lines,
            length: self.moment,
            problems: self.problems,
        }
    }

    fn problem(&mut self, column: usize, what: Fault) {
        self.problems.push(Problem { column, what });
    }

    fn sign(&mut self, Placed { column, sign }: Placed) {
        if self.overlay && sign != Sign::Bar {
            return;
        }
        match sign {
            Sign::Note(written, length) => {
                let pitch = self.pitch(written);
                self.push(column, Some(pitch), length * self.unit, false);
            }
            Sign::Chord(notes, length) => self.chord(column, &notes, length),
            Sign::Rest(length) => self.push(column, None, length * self.unit, false),
            Sign::BarRest(bars) => {
                self.push(column, None, self.meter.bar() * i64::from(bars), false);
            }
            Sign::Tie => {
                if let Some(last) = self.notes.last_mut() {
                    last.tied = last.note.pitch.is_some();
                }
            }
            Sign::Broken(by) => self.broken(column, by),
            Sign::SlurOpen => {
                if self.open_slurs.is_empty() {
                    self.slurs += 1;
                }
                self.open_slurs.push(column);
            }
            Sign::SlurClose => {
                if self.open_slurs.pop().is_none() {
                    self.problem(column, Fault::StraySlurEnd);
                }
            }
            Sign::Tuplet { p, q, r } => {
                self.end_tuplet();
                let q = q.unwrap_or_else(|| usual_time(p, self.meter));
                let r = r.unwrap_or(p);
                self.tuplet = Some(Tuplet {
                    factor: Quarters::new(i64::from(q), i64::from(p)),
                    left: r,
                    of: r,
                    column,
                });
            }
            Sign::Bar => {
                self.overlay = false;
                self.accidentals = [None; 7];
                if self.bar_lines.last() != Some(&self.moment) {
                    self.bar_lines.push(self.moment);
                }
            }
            Sign::Overlay => {
                self.overlay = true;
                self.problem(column, Fault::SecondVoice);
            }
            Sign::Field(letter, value) => self.field(column, letter, &value),
        }
    }

    fn pitch(&mut self, written: Written) -> Pitch {
        let Written {
            accidental,
            step,
            octave,
            ..
        } = written;
        let index = step.index();
        // A note tied over from the bar before keeps its accidental, without renewing it for others.
        let tied = self
            .notes
            .last()
            .filter(|last| last.tied)
            .and_then(|last| last.note.pitch);
        if let (None, Some(before)) = (accidental, tied)
            && before.note.step == step
            && before.octave == octave
        {
            return before;
        }
        let held = self.accidentals.get_mut(index);
        let signature = self.signature.get(index).copied().unwrap_or(0);
        let alter = match (accidental, held) {
            (Some(alter), Some(held)) => *held.insert(alter),
            (None, Some(Some(held))) => *held,
            _ => signature,
        };
        Pitch {
            note: Note { step, alter },
            octave,
        }
    }

    fn chord(&mut self, column: usize, notes: &[(Written, Quarters)], length: Quarters) {
        let pitches: Vec<_> = notes
            .iter()
            .map(|(written, _)| self.pitch(*written))
            .collect();
        let top = pitches.iter().copied().max_by_key(|pitch| pitch.midi());
        // Where lengths inside differ, the first note's counts (section 4.17).
        let inside = notes.first().map_or(Quarters::ONE, |(_, length)| *length);
        let tied = notes.iter().any(|(written, _)| written.tied);
        self.push(column, top, inside * length * self.unit, tied);
    }

    fn push(&mut self, column: usize, pitch: Option<Pitch>, length: Quarters, tied: bool) {
        let mut length = length;
        if let Some(tuplet) = &mut self.tuplet {
            length = length * tuplet.factor;
            tuplet.left -= 1;
            if tuplet.left == 0 {
                self.tuplet = None;
            }
        }
        if let Some((factor, _)) = self.broken.take() {
            length = length * factor;
        }
        let slur = pitch
            .filter(|_| !self.open_slurs.is_empty())
            .map(|_| self.slurs.saturating_sub(1));
        let note = PhraseNote {
            pitch,
            start: self.moment,
            length,
            slur,
            column,
        };
        self.notes.push(WrittenNote { note, tied });
        self.moment += length;
    }

    fn broken(&mut self, column: usize, by: i8) {
        let short = Quarters::new(1, 1 << by.unsigned_abs());
        let long = Quarters::from(2) - short;
        let (before, after) = if by > 0 { (long, short) } else { (short, long) };
        match self.notes.last_mut() {
            Some(last) if self.broken.is_none() => {
                last.note.length = last.note.length * before;
                let end = last.note.end();
                // A bar line between the two notes goes along.
                for line in self
                    .bar_lines
                    .iter_mut()
                    .filter(|line| **line == self.moment)
                {
                    *line = end;
                }
                self.moment = end;
                self.broken = Some((after, column));
            }
            _ => self.problem(column, Fault::LoneBroken),
        }
    }

    fn end_tuplet(&mut self) {
        if let Some(Tuplet {
            left, of, column, ..
        }) = self.tuplet.take()
        {
            let found = of - left;
            self.problem(column, Fault::ShortTuplet { wanted: of, found });
        }
    }

    fn field(&mut self, column: usize, letter: char, value: &str) {
        let read = match letter {
            'L' => unit_length(value).map(|unit| self.set_unit(unit)),
            'M' => Meter::parse(value).map(|meter| self.set_meter(meter)),
            'K' => Key::parse_beginning(value).map(|(key, _)| self.set_signature(key.signature())),
            // Names of parts, remarks, notes, rhythm, settings of other programs: no sound of their own.
            'P' | 'r' | 'N' | 'R' | 'I' | 'U' | 'm' => Some(()),
            _ => {
                return self.problem(column, Fault::Field(letter));
            }
        };
        if read.is_none() {
            self.problem(column, Fault::FieldValue(letter, value.to_owned()));
        }
    }
}

impl Body {
    /// The phrase: tied notes joined, slurs over single notes dropped, the pickup found.
    #[must_use]
    pub fn phrase(self, meter: Meter) -> Phrase {
        let first_bar = self
            .bar_lines
            .iter()
            .copied()
            .find(|line| line.is_positive());
        let mut notes = joined(self.notes);
        drop_single_slurs(&mut notes);
        Phrase {
            notes,
            pickup: first_bar
                .filter(|&line| line < meter.bar())
                .unwrap_or_default(),
            bar_lines: self.bar_lines,
            length: self.length,
            problems: self.problems,
        }
    }
}

/// Joins tied notes of one pitch; where two slurs meet in a joined note they become one.
fn joined(written: Vec<WrittenNote>) -> Vec<PhraseNote> {
    let mut notes: Vec<PhraseNote> = Vec::with_capacity(written.len());
    let mut open = false;
    let mut renamed: Option<(usize, usize)> = None;
    for WrittenNote { mut note, tied } in written {
        if let Some((from, to)) = renamed
            && note.slur == Some(from)
        {
            note.slur = Some(to);
        }
        match notes.last_mut() {
            Some(last) if open && same_sound(last.pitch, note.pitch) => {
                last.length += note.length;
                match (last.slur, note.slur) {
                    (Some(to), Some(from)) if from != to => renamed = Some((from, to)),
                    (None, slur) => last.slur = slur,
                    _ => {}
                }
            }
            _ => notes.push(note),
        }
        open = tied;
    }
    notes
}

fn same_sound(a: Option<Pitch>, b: Option<Pitch>) -> bool {
    matches!((a, b), (Some(a), Some(b)) if a.midi() == b.midi())
}

/// Numbers the slurs anew, those over one note left out.
fn drop_single_slurs(notes: &mut [PhraseNote]) {
    let slurs = notes
        .iter()
        .filter_map(|note| note.slur)
        .max()
        .map_or(0, |id| id + 1);
    let mut sizes = vec![0_usize; slurs];
    for id in notes.iter().filter_map(|note| note.slur) {
        if let Some(size) = sizes.get_mut(id) {
            *size += 1;
        }
    }
    let mut next = 0;
    let numbers: Vec<Option<usize>> = sizes
        .into_iter()
        .map(|size| {
            let kept = size > 1;
            next += usize::from(kept);
            kept.then(|| next - 1)
        })
        .collect();
    for note in notes {
        note.slur = note.slur.and_then(|id| numbers.get(id).copied().flatten());
    }
}

/// In the time of how many notes a group of `p` goes where the tune does not say (section 4.13).
const fn usual_time(p: u8, meter: Meter) -> u8 {
    match p {
        2 | 4 | 8 => 3,
        3 | 6 => 2,
        _ if meter.is_compound() => 3,
        _ => 2,
    }
}

/// Reads a unit note length such as `1/8`, as `L:` gives it: a fraction of a whole note, at most one, a power of two.
#[must_use]
pub fn unit_length(text: &str) -> Option<Quarters> {
    let (above, below) = text.trim().split_once('/').unwrap_or((text.trim(), "1"));
    let below: u16 = below.trim().parse().ok()?;
    let sound = above.trim() == "1" && below.is_power_of_two() && below <= 512;
    sound.then(|| Quarters::new(4, i64::from(below)))
}
