//! The level of air through a whole song.
//!
//! A *stretch* runs from one breath to the next. Singing drains the level evenly, breathy consonants on top; a breath fills it
//! as far as the gap allows and no further than the next stretch asks. A linear lung and a constant flow are our choice: real
//! flow and effort change with the level. That a longer phrase gets a deeper breath is evidence (Winkworth et al. 1995, Journal of Speech
//! and Hearing Research 38: 124–144, all six speakers; Whalen and Kinsella-Shaw 1997, Phonetica 54: 138–152).

mod gap;
mod sounding;

pub use self::gap::{given_at_line_end, given_inside};
pub use self::sounding::{After, Ends, From, LOUD, Sounding, Verdict};

use self::gap::Gap;
use super::voice::{EASY, EPSILON, FLOOR, FULL, TURN, Voice, WORDLESS};

/// What is sung on one breath.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Its first syllable, as an index of the song's list.
    pub first: usize,
    /// Its last syllable.
    pub last: usize,
    /// Lungfuls that it uses.
    pub need: f64,
    /// Level at its beginning.
    pub top: f64,
    /// Level at its end; below zero where the air gives out.
    pub end: f64,
    /// How it is sung.
    pub verdict: Verdict,
}

/// A breath between two stretches. The first breath, before the song, is not among them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Breath {
    /// The syllable after which it comes.
    pub after: usize,
    /// What it comes from.
    pub from: From,
    /// When it begins, in seconds; it ends where the next note begins.
    pub at: f64,
    /// How long it takes, in seconds; never more than the gap.
    pub length: f64,
    /// Seconds there were for it: the rest, and what the note before can give.
    pub gap: f64,
    /// Seconds by which the note before is left early. The note is charged and shown as written all the same: our choice, simple and
    /// on the safe side.
    pub taken: f64,
    /// Level before it, 0 where the air had given out.
    pub before: f64,
    /// Level after it.
    pub top: f64,
    /// Level that the next stretch asks for.
    pub wanted: f64,
}

/// The level of air through a song.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Air {
    /// The stretches, in order; every syllable is in one.
    pub stretches: Vec<Stretch>,
    /// The breaths between them: breath `i` stands before stretch `i + 1`.
    pub breaths: Vec<Breath>,
}

/// The air of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineAir {
    /// The line.
    pub line: usize,
    /// Level at the end of its last syllable; below zero where the air gives out.
    pub air_left: f64,
    /// Seconds of plain singing from there to [`FLOOR`]; negative: seconds missing.
    pub seconds_left: f64,
    /// The worst verdict of the stretches that it shares in.
    pub verdict: Verdict,
    /// The first syllable of this line during which the level passes [`FLOOR`].
    pub falls_at: Option<usize>,
}

/// One gap that starves what follows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Starvation {
    /// The breath in it, as an index of [`Air::breaths`]: the shortest since the air last sufficed, of equals the last.
    pub breath: usize,
    /// The first line with no time to breathe.
    pub first_line: usize,
    /// The last one before the air suffices again.
    pub last_line: usize,
}

/// How a stretch is sung that uses `need`, begins at `top` and ends at `top - need`.
#[must_use]
pub fn verdict(need: f64, top: f64, comfortable: f64) -> Verdict {
    let end = top - need;
    if FULL - need < FLOOR - EPSILON {
        Verdict::TooLong
    } else if end < FLOOR - EPSILON {
        Verdict::NoTime
    } else if end < EASY - EPSILON || top > comfortable + EPSILON {
        Verdict::Tight
    } else {
        Verdict::Easy
    }
}

/// Follows the level of air through a song.
///
/// ```
/// # use breathmark::singing::{air::{After, Ends, Sounding, Verdict, breathe}, voice::Voice};
/// // Twelve beats at 96, and sh + dh + dh + z + j.
/// let line = Sounding {
///     start: 0.0, end: 7.5, last_note: 1.25, charge: 0.220, flow: 1.0, line: 0, after: After::LineEnd, ends: Ends::Clause,
/// };
/// let air = breathe(&[line], Voice::timed(22.0));
/// assert!((air.stretches[0].end - 0.3158).abs() < 5e-5);
/// assert_eq!(air.stretches[0].verdict, Verdict::Easy);
/// ```
#[must_use]
pub fn breathe(song: &[Sounding], voice: Voice) -> Air {
    let mut air = Air::default();
    let mut first = 0;
    let mut need = 0.0;
    // The breath before the stretch that is being added up; its depth is known when that stretch is.
    let mut waiting: Option<Gap> = None;
    for (index, sounding) in song.iter().enumerate() {
        need += voice.used(sounding.drain());
        let next = song.get(index + 1);
        let gap = next.map(|next| Gap::between(index, sounding, next));
        if gap.is_some_and(|gap| gap.from.is_none()) {
            continue;
        }
        air.close(first, index, need, waiting, voice);
        (first, need, waiting) = (index + 1, 0.0, gap);
    }
    air
}

impl Air {
    fn close(&mut self, first: usize, last: usize, need: f64, gap: Option<Gap>, voice: Voice) {
        let refill = voice.refill.max(0.01);
        let wanted = (need + EASY).max(voice.comfortable).min(FULL);
        let before = self.stretches.last().map_or(0.0, |s| s.end.max(0.0));
        let top = if let Some(gap) = gap {
            let time = gap.rest + gap.given;
            let filled = before + refill * (time - TURN).max(0.0);
            let rested = gap.rest >= WORDLESS - EPSILON;
            let top = if rested {
                before.max(wanted)
            } else {
                before.max(wanted.min(filled))
            };
            let length = time.min(TURN + (top - before) / refill);
            self.breaths.push(Breath {
                after: gap.after,
                from: gap.from.unwrap_or(From::Rest),
                at: gap.next_start - length,
                length,
                gap: time,
                taken: (length - gap.rest).max(0.0),
                before,
                top,
                wanted,
            });
            top
        } else {
            wanted
        };
        self.stretches.push(Stretch {
            first,
            last,
            need,
            top,
            end: top - need,
            verdict: verdict(need, top, voice.comfortable),
        });
    }

    /// The level at the end of each syllable.
    #[must_use]
    pub fn levels(&self, song: &[Sounding], voice: Voice) -> Vec<f64> {
        let mut levels = Vec::with_capacity(song.len());
        for stretch in &self.stretches {
            let mut level = stretch.top;
            for s in song.get(stretch.first..=stretch.last).unwrap_or_default() {
                level -= voice.used(s.drain());
                levels.push(level);
            }
        }
        levels
    }

    /// The air of each line that has syllables, in order.
    #[must_use]
    pub fn lines(&self, song: &[Sounding], voice: Voice) -> Vec<LineAir> {
        let mut lines: Vec<LineAir> = Vec::new();
        for stretch in &self.stretches {
            let mut level = stretch.top;
            // A stretch that begins below the floor falls at its first syllable.
            let mut fallen = false;
            for index in stretch.first..=stretch.last {
                let Some(s) = song.get(index) else { break };
                level -= voice.used(s.drain());
                let falls = !fallen && level < FLOOR - EPSILON;
                fallen |= falls;
                let seconds_left = voice.seconds_left(level);
                match lines.last_mut() {
                    Some(line) if line.line == s.line => {
                        line.air_left = level;
                        line.seconds_left = seconds_left;
                        line.verdict = line.verdict.max(stretch.verdict);
                        if falls {
                            line.falls_at = line.falls_at.or(Some(index));
                        }
                    }
                    _ => lines.push(LineAir {
                        line: s.line,
                        air_left: level,
                        seconds_left,
                        verdict: stretch.verdict,
                        falls_at: falls.then_some(index),
                    }),
                }
            }
        }
        lines
    }

    /// The gaps that starve lines, each said once. A gap starves all that follows until a breath gets what it wants.
    #[must_use]
    pub fn starved(&self, song: &[Sounding]) -> Vec<Starvation> {
        let mut starved: Vec<Starvation> = Vec::new();
        // The shortest gap since the air last sufficed, and whether it has been said.
        let mut shortest: Option<usize> = None;
        let mut said = false;
        for (index, stretch) in self.stretches.iter().enumerate() {
            if let Some(breath) = index.checked_sub(1).and_then(|b| self.breaths.get(b)) {
                if breath.top >= breath.wanted - EPSILON {
                    (shortest, said) = (None, false);
                } else {
                    let before = shortest.and_then(|s| self.breaths.get(s));
                    if !said && before.is_none_or(|b| breath.gap <= b.gap + EPSILON) {
                        shortest = Some(index - 1);
                    }
                }
            }
            if stretch.verdict != Verdict::NoTime {
                continue;
            }
            let line_of = |syllable: usize| song.get(syllable).map_or(0, |s| s.line);
            let (first_line, last_line) = (line_of(stretch.first), line_of(stretch.last));
            match (starved.last_mut(), shortest) {
                (Some(last), _) if said => last.last_line = last_line,
                (_, Some(breath)) => {
                    said = true;
                    starved.push(Starvation {
                        breath,
                        first_line,
                        last_line,
                    });
                }
                _ => {}
            }
        }
        starved
    }

    /// The worst verdict of all; `Easy` where nothing is sung.
    #[must_use]
    pub fn worst(&self) -> Verdict {
        self.stretches
            .iter()
            .map(|s| s.verdict)
            .max()
            .unwrap_or(Verdict::Easy)
    }

    /// The stretch that a syllable is sung in, as an index of [`Air::stretches`].
    #[must_use]
    pub fn stretch_of(&self, syllable: usize) -> Option<usize> {
        let index = self.stretches.partition_point(|s| s.last < syllable);
        self.stretches.get(index).map(|_| index)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Lines of one syllable each: (seconds sung, its last note, rest after it).
    pub(crate) fn lines(given: &[(f64, f64, f64)]) -> Vec<Sounding> {
        let mut at = 0.0;
        given
            .iter()
            .enumerate()
            .map(|(line, &(sung, last_note, rest))| {
                let start = at;
                at += sung + rest;
                Sounding {
                    start,
                    end: start + sung,
                    last_note,
                    charge: 0.0,
                    flow: 1.0,
                    line,
                    after: After::LineEnd,
                    ends: Ends::Clause,
                }
            })
            .collect()
    }

    #[test]
    fn nothing_sung_is_easy() {
        let air = breathe(&[], Voice::default());
        assert_eq!(air, Air::default());
        assert_eq!(air.worst(), Verdict::Easy);
        assert!(air.lines(&[], Voice::default()).is_empty());
    }

    #[test]
    fn a_breath_takes_no_more_than_it_needs() {
        let song = lines(&[(5.0, 1.5, 0.0), (5.0, 1.5, 0.0)]);
        let air = breathe(&song, Voice::timed(18.0));
        let breath = air.breaths[0];
        // One second could be taken; 5/18 of a lungful takes 0.397 s, and the turn.
        assert!((breath.gap - 1.0).abs() < 1e-9);
        assert!((breath.length - (0.1 + 5.0 / 18.0 / 0.7)).abs() < 1e-9);
        assert!((breath.at + breath.length - song[1].start).abs() < 1e-9);
        assert!((breath.taken - breath.length).abs() < 1e-9);
    }

    #[test]
    fn a_short_rest_inside_a_line_is_no_breath() {
        let mut song = lines(&[(2.0, 1.0, 0.24), (2.0, 1.0, 0.25), (2.0, 1.0, 0.0)]);
        for s in &mut song {
            s.line = 0;
            s.after = After::Nothing;
        }
        let air = breathe(&song, Voice::default());
        assert_eq!(air.breaths.len(), 1);
        assert_eq!((air.breaths[0].after, air.breaths[0].from), (1, From::Rest));
    }

    #[test]
    fn two_seconds_without_words_fill_the_lungs() {
        let song = lines(&[(10.0, 0.0, 2.0), (10.0, 0.0, 1.0), (10.0, 0.0, 0.0)]);
        let slow = Voice {
            refill: 0.1,
            ..Voice::timed(15.0)
        };
        let air = breathe(&song, slow);
        assert!((air.stretches[1].top - FULL).abs() < 1e-9);
        assert!(air.stretches[2].top < 0.5);
    }

    #[test]
    fn a_line_that_runs_on_shares_the_worst_verdict_and_shows_where_it_falls() {
        let mut song = lines(&[(8.0, 1.0, 0.0), (8.0, 1.0, 0.5), (2.0, 1.0, 0.0)]);
        song[0].after = After::Nothing;
        let voice = Voice::timed(20.0);
        let air = breathe(&song, voice);
        let lines = air.lines(&song, voice);
        assert_eq!(
            lines.iter().map(|l| l.verdict).collect::<Vec<_>>(),
            [Verdict::TooLong, Verdict::TooLong, Verdict::Easy]
        );
        assert_eq!(
            lines.iter().map(|l| l.falls_at).collect::<Vec<_>>(),
            [None, Some(1), None]
        );
        assert!((lines[0].air_left - (FULL - 0.4)).abs() < 1e-9);
        assert!((lines[1].seconds_left + 0.4444).abs() < 1e-4);
    }

    #[test]
    fn a_starving_gap_is_said_once_with_the_lines_it_touches() {
        // Long enough gaps everywhere but after the second line.
        let mut given = vec![(6.0, 1.2, 0.0); 8];
        given[1].1 = 0.3;
        let song = lines(&given);
        let voice = Voice {
            refill: 0.45,
            ..Voice::timed(18.0)
        };
        let air = breathe(&song, voice);
        assert_eq!(air.stretches[2].verdict, Verdict::NoTime);
        let starved = air.starved(&song);
        assert_eq!(starved.len(), 1);
        assert_eq!((starved[0].breath, starved[0].first_line), (1, 2));
        // Of equal gaps, the one before the first line that fails.
        let song = lines(&[(5.0, 0.5, 0.0); 8]);
        let starved = breathe(&song, Voice::timed(18.0)).starved(&song);
        assert_eq!(
            starved,
            [Starvation {
                breath: 2,
                first_line: 3,
                last_line: 7
            }]
        );
    }

    prop_compose! {
        pub(crate) fn any_song()(parts in prop::collection::vec((0.01_f64..6.0, 0.0_f64..1.0, 0.0_f64..0.6, 0_u8..8, 0.0_f64..2.5), 0..60)) -> Vec<Sounding> {
            let (mut at, mut line) = (0.0, 0);
            parts.into_iter().map(|(sung, last, charge, kind, rest)| {
                let start = at;
                let rest = if kind < 5 { 0.0 } else { rest };
                at += sung + rest;
                let sounding = Sounding {
                    start,
                    end: start + sung,
                    last_note: sung * last,
                    charge,
                    flow: if kind == 1 { LOUD } else { 1.0 },
                    line,
                    after: match kind { 2 => After::Mark, 3 | 7 => After::LineEnd, 4 => After::Added, _ => After::Nothing },
                    ends: if kind == 0 { Ends::Nothing } else { Ends::Word },
                };
                line += usize::from(matches!(kind, 3 | 7 | 6));
                sounding
            }).collect()
        }
    }

    proptest! {
        #[test]
        fn air_keeps_its_bounds(song in any_song(), steady in 5.0_f64..40.0, refill in 0.4_f64..0.9) {
            let voice = Voice { refill, ..Voice::timed(steady) };
            let air = breathe(&song, voice);
            prop_assert_eq!(air.breaths.len() + 1, air.stretches.len().max(1));
            let mut next = 0;
            for stretch in &air.stretches {
                prop_assert_eq!(stretch.first, next);
                next = stretch.last + 1;
                prop_assert!(stretch.top <= FULL + EPSILON && stretch.top >= 0.0);
                prop_assert!(stretch.end <= stretch.top);
            }
            prop_assert_eq!(next, song.len());
            for (breath, stretch) in air.breaths.iter().zip(air.stretches.iter().skip(1)) {
                prop_assert!(breath.before >= 0.0 && breath.top >= breath.before && breath.top <= FULL + EPSILON);
                prop_assert!(breath.length >= 0.0 && breath.length <= breath.gap + 1e-12);
                let next = song[stretch.first];
                prop_assert!((breath.at + breath.length - next.start).abs() < 1e-9);
                // The note before still sounds.
                prop_assert!(breath.at >= song[breath.after].start - 1e-9);
            }
            let levels = air.levels(&song, voice);
            prop_assert_eq!(levels.len(), song.len());
            for line in air.lines(&song, voice) {
                let last = song.iter().rposition(|s| s.line == line.line).unwrap();
                prop_assert!((levels[last] - line.air_left).abs() < 1e-9);
                prop_assert!(line.falls_at.is_none() || line.verdict >= Verdict::NoTime);
            }
            for starved in air.starved(&song) {
                prop_assert!(starved.breath < air.breaths.len() && starved.first_line <= starved.last_line);
            }
        }

        #[test]
        fn a_longer_rest_never_hurts(song in any_song(), more in 0.0_f64..3.0, at in 0_usize..60) {
            let voice = Voice::default();
            let before = breathe(&song, voice);
            let at = at.min(song.len());
            let mut rested = song.clone();
            for s in rested.iter_mut().skip(at) {
                s.start += more;
                s.end += more;
            }
            let after = breathe(&rested, voice);
            if after.stretches.len() == before.stretches.len() {
                for (b, a) in before.stretches.iter().zip(&after.stretches) {
                    prop_assert!(a.end >= b.end - 1e-9);
                }
            }
        }
    }
}
