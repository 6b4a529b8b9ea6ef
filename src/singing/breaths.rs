//! Breaths and gaps that would make a stretch singable, computed.
//!
//! Each breath is tried on a copy of the song's list, through the whole of it, since a remedy here may starve a line elsewhere. Ways out
//! that change words or time read the song anew and are found where the warnings are.

use super::air::{After, Air, Ends, Sounding, Verdict, breathe};
use super::voice::{EPSILON, FLOOR, FULL, TURN, Voice};

/// Seconds of gap before a stretch from which it is no longer [`Verdict::NoTime`]: the rest, and what the note before gives. `None`
/// where no gap is enough, since the stretch needs more than a full breath.
///
/// ```
/// # use breathmark::singing::{breaths::gap_needed, voice::Voice};
/// let gap = gap_needed(7.6 / 18.0, 5.0 / 18.0, Voice::timed(18.0)).unwrap();
/// assert!((gap - 0.4651).abs() < 5e-5);
/// ```
#[must_use]
pub fn gap_needed(need: f64, before: f64, voice: Voice) -> Option<f64> {
    let missing = (need + FLOOR - before).max(0.0);
    (need <= FULL - FLOOR + EPSILON).then(|| missing / voice.refill.max(0.01) + TURN)
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
        let mut song = song(&[26]);
        for sounding in song.iter_mut().skip(12) {
            sounding.start += 0.2;
            sounding.end += 0.2;
        }
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
}
