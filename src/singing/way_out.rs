//! Ways out of a stretch that cannot be sung: what would have to change, computed.
//!
//! Each changes a copy of the song's list and follows the air through the whole of it again, since a remedy here may starve a
//! line elsewhere. None changes which note a syllable is sung on; who offers a way out that does reads the line anew.

use super::air::{After, Air, Ends, LineAir, Sounding, Verdict, breathe};
use super::voice::{EPSILON, FLOOR, FULL, TURN, Voice};
use std::ops::RangeInclusive;

/// Seconds of gap before a stretch from which it is no longer [`Verdict::NoTime`]: the rest, and what the note before gives. `None`
/// where no gap is enough, since the stretch needs more than a full breath.
///
/// ```
/// # use breathmark::singing::{voice::Voice, way_out::gap_needed};
/// let gap = gap_needed(7.6 / 18.0, 5.0 / 18.0, Voice::timed(18.0)).unwrap();
/// assert!((gap - 0.4651).abs() < 5e-5);
/// ```
#[must_use]
pub fn gap_needed(need: f64, before: f64, voice: Voice) -> Option<f64> {
    let missing = (need + FLOOR - before).max(0.0);
    (need <= FULL - FLOOR + EPSILON).then(|| missing / voice.refill.max(0.01) + TURN)
}

/// The song `factor` times as fast; what consonants cost stays.
#[must_use]
pub fn at_tempo(song: &[Sounding], factor: f64) -> Vec<Sounding> {
    song.iter()
        .map(|s| Sounding {
            start: s.start / factor,
            end: s.end / factor,
            last_note: s.last_note / factor,
            ..*s
        })
        .collect()
}

/// The song with so many seconds of rest more after a syllable.
#[must_use]
pub fn with_rest(song: &[Sounding], after: usize, seconds: f64) -> Vec<Sounding> {
    let mut song = song.to_vec();
    for s in song.iter_mut().skip(after.saturating_add(1)) {
        s.start += seconds;
        s.end += seconds;
    }
    song
}

/// The song with a proposed breath after a syllable; a breath that is there already stays what it is.
#[must_use]
pub fn with_breath(song: &[Sounding], after: usize) -> Vec<Sounding> {
    let mut song = song.to_vec();
    if let Some(s) = song.get_mut(after).filter(|s| s.after == After::Nothing) {
        s.after = After::Added;
    }
    song
}

/// The song with syllables that cost so many seconds less in their consonants, none less than nothing.
#[must_use]
pub fn with_less_charge(
    song: &[Sounding],
    syllables: RangeInclusive<usize>,
    mut seconds: f64,
) -> Vec<Sounding> {
    let mut song = song.to_vec();
    for s in song.get_mut(syllables).unwrap_or_default() {
        let less = s.charge.min(seconds).max(0.0);
        s.charge -= less;
        seconds -= less;
    }
    song
}

/// Whether a change ends what was wrong with some lines and breaks no other: afterwards none of them lacks air, and no line lacks
/// air that did not before.
#[must_use]
pub fn mends(lines: RangeInclusive<usize>, before: &[LineAir], after: &[LineAir]) -> bool {
    after.iter().all(|line| {
        let was = before
            .iter()
            .find(|b| b.line == line.line)
            .map(|b| b.verdict);
        line.verdict < Verdict::NoTime
            || (!lines.contains(&line.line) && was.is_some_and(|was| was >= line.verdict))
    })
}

/// Seconds of rest more after a syllable from which `enough` holds, to a hundredth above; `None` where eight seconds are too few.
pub fn rest_needed(
    song: &[Sounding],
    voice: Voice,
    after: usize,
    mut enough: impl FnMut(&Air, &[Sounding]) -> bool,
) -> Option<f64> {
    let mut holds = |hundredths: u16| {
        let rested = with_rest(song, after, f64::from(hundredths) / 100.0);
        enough(&breathe(&rested, voice), &rested)
    };
    first_of(800, &mut holds).map(|hundredths| f64::from(hundredths) / 100.0)
}

/// The slowest whole tempo above `per_minute` from which `enough` holds, up to twice as fast. Tempos are tried one by one: gaps
/// shrink with the lines, so that a faster tempo is not always easier.
pub fn tempo_needed(
    song: &[Sounding],
    voice: Voice,
    per_minute: f64,
    mut enough: impl FnMut(&Air, &[Sounding]) -> bool,
) -> Option<f64> {
    let mut tempo = per_minute.floor() + 1.0;
    while tempo <= per_minute * 2.0 {
        let faster = at_tempo(song, tempo / per_minute);
        if enough(&breathe(&faster, voice), &faster) {
            return Some(tempo);
        }
        tempo += 1.0;
    }
    None
}

/// How many sounds fewer, dearest first, save so many seconds of steady note: `charges` are what each costs. `None` where all of
/// them together are too few.
#[must_use]
pub fn costly_sounds_fewer(charges: &[f64], seconds: f64) -> Option<usize> {
    let mut charges = charges.to_vec();
    charges.sort_by(|a, b| b.total_cmp(a));
    let mut saved = 0.0;
    if seconds <= 0.0 {
        return Some(0);
    }
    charges
        .iter()
        .position(|charge| {
            saved += charge;
            saved >= seconds - EPSILON
        })
        .map(|index| index + 1)
}

/// A place for a breath inside a stretch, and what would come of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BreathPlace {
    /// The syllable after which to breathe; a word or a clause ends with it.
    pub after: usize,
    /// What ends there.
    pub ends: Ends,
    /// The worse verdict of the two parts.
    pub verdict: Verdict,
    /// The lower of the levels at which the two parts end.
    pub air_left: f64,
}

/// Where in a stretch a breath would help, best first: by verdict, then after a clause rather than after a word, then by the air left.
/// Places after which either part still lacks air stand last.
#[must_use]
pub fn breath_places(
    song: &[Sounding],
    voice: Voice,
    air: &Air,
    stretch: usize,
) -> Vec<BreathPlace> {
    let Some(long) = air.stretches.get(stretch) else {
        return Vec::new();
    };
    let mut places: Vec<BreathPlace> = (long.first..long.last)
        .filter(|&after| song.get(after).is_some_and(|s| s.ends != Ends::Nothing))
        .filter_map(|after| {
            let air = breathe(&with_breath(song, after), voice);
            let (left, right) = (air.stretches.get(stretch)?, air.stretches.get(stretch + 1)?);
            Some(BreathPlace {
                after,
                ends: song.get(after)?.ends,
                verdict: left.verdict.max(right.verdict),
                air_left: left.end.min(right.end),
            })
        })
        .collect();
    places.sort_by(|a, b| {
        a.verdict
            .cmp(&b.verdict)
            .then(b.ends.cmp(&a.ends))
            .then(b.air_left.total_cmp(&a.air_left))
    });
    places
}

/// Breaths that would make a song singable, each after a word: the syllables after which they come. Stretches that lack air are
/// mended from the first to the last, each with the fewest breaths; one that no breath mends is left as it is.
#[must_use]
pub fn breath_plan(song: &[Sounding], voice: Voice) -> Vec<usize> {
    let mut song = song.to_vec();
    let mut added = Vec::new();
    let mut stretch = 0;
    let mut air = breathe(&song, voice);
    while let Some(found) = air.stretches.get(stretch) {
        if found.verdict < Verdict::NoTime {
            stretch += 1;
            continue;
        }
        let places = breath_places(&song, voice, &air, stretch);
        // Where one breath is not enough, the latest place that the first part reaches leaves least to the next.
        let place = places
            .iter()
            .find(|p| p.verdict < Verdict::NoTime)
            .or_else(|| {
                let reached = |p: &&BreathPlace| {
                    let air = breathe(&with_breath(&song, p.after), voice);
                    air.stretches
                        .get(stretch)
                        .is_some_and(|s| s.verdict < Verdict::NoTime)
                };
                places.iter().filter(reached).max_by_key(|p| p.after)
            });
        if let Some(place) = place {
            added.push(place.after);
            song = with_breath(&song, place.after);
            air = breathe(&song, voice);
        }
        stretch += 1;
    }
    added.sort_unstable();
    added
}

/// The first number from 1 to `most` for which a condition holds that goes on holding from there.
fn first_of(most: u16, holds: &mut impl FnMut(u16) -> bool) -> Option<u16> {
    if !holds(most) {
        return None;
    }
    let (mut below, mut above) = (0, most);
    while above - below > 1 {
        let middle = below + (above - below) / 2;
        if holds(middle) {
            above = middle;
        } else {
            below = middle;
        }
    }
    Some(above)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    /// Syllables of half a second each, one line of `count` after another, no rests.
    fn song(counts: &[usize]) -> Vec<Sounding> {
        let mut song = Vec::new();
        for (line, &count) in counts.iter().enumerate() {
            for index in 0..count {
                let start = f64::from(u32::try_from(song.len()).unwrap()) * 0.5;
                let last = index + 1 == count;
                song.push(Sounding {
                    start,
                    end: start + 0.5,
                    last_note: 0.5,
                    charge: 0.05,
                    flow: 1.0,
                    line,
                    after: if last { After::LineEnd } else { After::Nothing },
                    ends: if last || index == 11 {
                        Ends::Clause
                    } else if index % 2 == 0 {
                        Ends::Word
                    } else {
                        Ends::Nothing
                    },
                });
            }
        }
        song
    }

    #[test]
    fn a_breath_after_a_clause_comes_first() {
        // A short rest at the comma, in which nobody breathes unasked.
        let song = with_rest(&song(&[26]), 11, 0.2);
        let voice = Voice::timed(18.0);
        let air = breathe(&song, voice);
        assert_eq!(air.worst(), Verdict::TooLong);
        let places = breath_places(&song, voice, &air, 0);
        assert_eq!(places[0].after, 11);
        assert!(places[0].verdict < Verdict::NoTime);
        assert!(places.iter().all(|p| song[p.after].ends != Ends::Nothing));
        assert_eq!(breath_plan(&song, voice), [11]);
    }

    #[test]
    fn a_plan_mends_what_several_breaths_can_mend() {
        let song = song(&[60, 8]);
        let voice = Voice::timed(18.0);
        let plan = breath_plan(&song, voice);
        let mut mended = song.clone();
        for after in plan {
            mended = with_breath(&mended, after);
        }
        assert!(breathe(&song, voice).worst() == Verdict::TooLong);
        assert!(breathe(&mended, voice).worst() < Verdict::NoTime);
    }

    #[test]
    fn rest_and_tempo_end_what_they_are_said_to_end() {
        let song = song(&[14, 14, 14, 14, 14]);
        let voice = Voice::timed(20.0);
        let before = breathe(&song, voice);
        let lines = before.lines(&song, voice);
        let starved = before.starved(&song)[0];
        let wrong = starved.first_line..=starved.last_line;
        let after = before.breaths[starved.breath].after;
        let aim = |air: &Air, song: &[Sounding]| {
            air.stretches
                .iter()
                .skip(starved.breath)
                .take(2)
                .all(|s| s.verdict < Verdict::NoTime)
                && !song.is_empty()
        };
        let rest = rest_needed(&song, voice, after, aim).unwrap();
        let evaluate = |rest: f64| {
            let rested = with_rest(&song, after, rest);
            aim(&breathe(&rested, voice), &rested)
        };
        assert!(evaluate(rest) && !evaluate(rest - 0.011));

        let tempo = tempo_needed(&song, voice, 90.0, |air, song| {
            mends(wrong.clone(), &lines, &air.lines(song, voice))
        });
        if let Some(tempo) = tempo {
            let faster = at_tempo(&song, tempo / 90.0);
            assert!(breathe(&faster, voice).worst() < Verdict::NoTime);
        }
    }

    #[test]
    fn costly_sounds_are_counted_dearest_first() {
        assert_eq!(costly_sounds_fewer(&[0.14, 0.02, 0.187], 0.15), Some(1));
        assert_eq!(costly_sounds_fewer(&[0.14, 0.02, 0.187], 0.3), Some(2));
        assert_eq!(costly_sounds_fewer(&[0.14, 0.02], 0.3), None);
        assert_eq!(costly_sounds_fewer(&[], 0.0), Some(0));
        let song = with_less_charge(&song(&[4]), 1..=2, 0.07);
        let charges: Vec<_> = song.iter().map(|s| s.charge).collect();
        assert!(charges[1].abs() < 1e-12 && (charges[2] - 0.03).abs() < 1e-12);
    }
}
