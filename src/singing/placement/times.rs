//! A scanned line in time: its pickup, its beats, what its last syllable leaves free.

use super::{Placement, grid};
use crate::music::meter::Tempo;
use crate::music::quarters::Quarters;
use crate::singing::underlay::{Sung, SungNote, Underlay};
use crate::singing::voice;

impl Placement {
    /// How long the pickup is: it lies in the end of the slot before. Where the line before needs that time for its own last
    /// syllables, it is pressed together.
    #[must_use]
    pub fn pickup_length(&self, before: Option<&Self>) -> Quarters {
        let count = self.pickup();
        let usual = grid::pickup(self.frame.unit(), count)
            .first()
            .map_or(Quarters::ZERO, |first| -*first);
        let Some(before) = before else { return usual };
        let shares = count + before.trailing() + 1;
        let room = before.frame.length() - before.last_beat();
        let share = room * whole(count) / whole(shares);
        if usual <= share {
            return usual;
        }
        // A pressed pickup still keeps to the grid where it can.
        let fine = self.frame.unit() / 4;
        let steps = (share / fine).floor();
        if steps > 0 { fine * steps } else { share }
    }

    /// When the last beat that a syllable carries falls, from the slot's beginning.
    fn last_beat(&self) -> Quarters {
        let last = self.on.iter().rev().find_map(|on| *on).unwrap_or(0);
        self.frame.span() * whole(last)
    }

    /// The syllables in time. Each sounds to the next; the last one until `gap` before the next line's first syllable or the slot's end, and
    /// where the line's last beat is silent, for one and a half line beats at most. `before` and `after` are the neighbours that are placed in bars too.
    ///
    /// `gap` gives the time of a breath: half a beat, a whole one in fast songs (our choice, see [`line_end_gap`]); nothing where the sense runs on.
    #[must_use]
    pub fn set(&self, before: Option<&Self>, after: Option<&Self>, gap: Quarters) -> Underlay {
        let end = self.frame.length()
            - after.map_or(Quarters::ZERO, |next| next.pickup_length(Some(self)));
        let starts = self.starts(before, end);
        let mut underlay = Underlay {
            syllables: Vec::with_capacity(starts.len()),
            notes: Vec::with_capacity(starts.len()),
            cost: self.cost,
            wanted: self.wanted,
            habit: Vec::new(),
        };
        for (index, (chosen, &start)) in self.syllables.iter().zip(&starts).enumerate() {
            let length = starts
                .get(index + 1)
                .map_or_else(|| self.last_length(start, end, gap), |next| *next - start);
            underlay.notes.push(SungNote {
                pitch: None,
                start,
                length,
            });
            underlay.syllables.push(Sung {
                word: chosen.word,
                way: chosen.way,
                syllable: chosen.syllable,
                start,
                length,
                notes: index..index + 1,
                strength: self.frame.meter.strength(start),
                class: chosen.class,
            });
        }
        underlay
    }

    fn last_length(&self, start: Quarters, end: Quarters, gap: Quarters) -> Quarters {
        let room = end - start;
        // Where the gap leaves less than half, the syllable keeps half.
        let length = (room - gap).max(room / 2);
        if self.beats_used() < self.frame.beats() {
            length.min(self.frame.span() * 3 / 2)
        } else {
            length
        }
    }

    fn starts(&self, before: Option<&Self>, end: Quarters) -> Vec<Quarters> {
        let (unit, span) = (self.frame.unit(), self.frame.span());
        let count = self.pickup();
        let mut starts = grid::pickup(unit, count);
        let length = self.pickup_length(before);
        if starts.first().is_some_and(|first| -*first > length) {
            starts = (0..count)
                .map(|index| -length * whole(count - index) / whole(count))
                .collect();
        }
        let mut index = count;
        while index < self.on.len() {
            let beat = self.on.get(index).copied().flatten().unwrap_or(0);
            let lights = self
                .on
                .iter()
                .skip(index + 1)
                .take_while(|on| on.is_none())
                .count();
            let at = span * whole(beat);
            let is_last = index + 1 + lights == self.on.len();
            let mut offsets = grid::between(span, unit, lights);
            let room = end - at;
            if is_last && offsets.last().is_some_and(|last| *last >= room) {
                offsets = (1..=lights)
                    .map(|light| room * whole(light) / whole(lights + 1))
                    .collect();
            }
            starts.push(at);
            starts.extend(offsets.into_iter().map(|offset| at + offset));
            index += 1 + lights;
        }
        starts
    }
}

/// How long before the next line a line's last syllable ends where it has no notes: half a beat, or a whole beat where half
/// of one is less than the shortest rest in which a singer breathes.
#[must_use]
pub fn line_end_gap(tempo: Tempo) -> Quarters {
    let half = tempo.beat / 2;
    if tempo.seconds(half) < voice::MIN_REST {
        tempo.beat
    } else {
        half
    }
}

fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::super::{Frame, Pattern, place};
    use super::*;
    use crate::music::meter::Meter;
    use crate::singing::ways::Way;
    use crate::words::stress::Class;
    use proptest::prelude::*;

    fn frame(meter: &str, bars: u16) -> Frame {
        Frame {
            meter: Meter::parse(meter).unwrap(),
            bars,
        }
    }

    fn line(classes: &[&[Class]]) -> Vec<Vec<Way>> {
        classes
            .iter()
            .map(|classes| {
                vec![Way {
                    cost: 0,
                    classes: classes.to_vec(),
                    reduced: false,
                }]
            })
            .collect()
    }

    /// Starts as "bar:beat" of the meter, the pickup's bar being 0.
    fn shown(underlay: &Underlay, meter: Meter) -> String {
        let shown = underlay.syllables.iter().map(|sung| {
            let bar = (sung.start / meter.bar()).floor();
            let within = sung.start.modulo(meter.bar()) / meter.unit() + Quarters::ONE;
            format!("{}:{within}", bar + 1)
        });
        shown.collect::<Vec<_>>().join(" ")
    }

    use Class::{Content as C, Function as F, Light as L, Primary as P, Unstressed as U};

    /// She rang the bell at the water's edge.
    fn rang() -> Vec<Vec<Way>> {
        line(&[&[F], &[C], &[L], &[C], &[F], &[L], &[P, U], &[C]])
    }

    #[test]
    fn a_line_is_placed_in_its_bars() {
        for (meter, bars, expected) in [
            ("3/4", 4, "0:3 1:1 1:3 2:1 2:2 2:3 3:1 3:3 4:1"),
            ("4/4", 2, "0:4 1:1 1:2 1:3 1:4 1:9/2 2:1 2:2 2:3"),
            ("6/8", 2, "0:6 1:1 1:3 1:4 1:5 1:6 2:1 2:3 2:4"),
            ("4/4", 4, "0:4 1:1 1:3 2:1 2:3 2:4 3:1 3:3 4:1"),
        ] {
            let frame = frame(meter, bars);
            let placed = place(&rang(), frame, Pattern::default());
            assert_eq!(
                shown(&placed.set(None, None, Quarters::new(1, 2)), frame.meter),
                expected,
                "{meter}"
            );
        }
    }

    #[test]
    fn the_last_syllable_leaves_time_for_a_breath() {
        let waltz = frame("3/4", 4);
        let placed = place(&rang(), waltz, Pattern::default());
        let tempo = Tempo {
            per_minute: 96.0,
            beat: Quarters::ONE,
        };
        assert_eq!(line_end_gap(tempo), Quarters::new(1, 2));
        assert_eq!(
            line_end_gap(Tempo {
                per_minute: 126.0,
                ..tempo
            }),
            Quarters::ONE
        );
        let last = |after, gap| {
            placed
                .set(None, after, gap)
                .syllables
                .last()
                .cloned()
                .unwrap()
        };
        // The next line has a pickup of one beat: 11.5 beats are sung from the own pickup on.
        let sung = last(Some(&placed), line_end_gap(tempo));
        assert_eq!(
            (sung.start, sung.length),
            (Quarters::from(9), Quarters::new(3, 2))
        );
        assert_eq!(last(None, Quarters::ZERO).length, Quarters::from(3));
        // A silent last beat: one line beat and a half.
        let three = place(
            &line(&[&[L], &[C], &[L], &[C], &[L], &[C]]),
            waltz,
            Pattern::default(),
        );
        assert_eq!(three.beats_used(), 3);
        let sung = three
            .set(None, None, Quarters::new(1, 2))
            .syllables
            .last()
            .cloned()
            .unwrap();
        assert_eq!(
            (sung.start, sung.length),
            (Quarters::from(6), Quarters::new(9, 2))
        );
    }

    #[test]
    fn a_pickup_makes_room_for_the_end_of_the_line_before() {
        let two = frame("4/4", 2);
        // Four beats and two syllables more, before three syllables of pickup.
        let before = place(
            &line(&[&[P, U], &[P, U], &[P, U], &[P, U, Class::Remote]]),
            two,
            Pattern::default(),
        );
        assert_eq!((before.beats_used(), before.trailing()), (4, 2));
        let after = place(
            &line(&[&[L], &[L], &[F], &[C], &[L], &[C], &[L], &[C], &[L], &[C]]),
            two,
            Pattern::default(),
        );
        assert_eq!(after.pickup(), 3);
        let first = before.set(None, Some(&after), Quarters::new(1, 2));
        let second = after.set(Some(&before), None, Quarters::new(1, 2));
        let end = first.syllables.last().unwrap().end();
        assert!(end <= two.length() + second.syllables[0].start);
        assert_eq!(after.pickup_length(Some(&before)), Quarters::ONE);
    }

    fn any_line() -> impl Strategy<Value = Vec<Vec<Way>>> {
        let way = (0_u32..2000, prop::collection::vec(0_usize..7, 0..5));
        prop::collection::vec(prop::collection::vec(way, 0..3), 0..20).prop_map(|line| {
            let way = |(cost, classes): (u32, Vec<usize>)| Way {
                reduced: cost > 500,
                cost,
                classes: classes.into_iter().map(|c| Class::ALL[c]).collect(),
            };
            line.into_iter()
                .map(|ways| ways.into_iter().map(way).collect())
                .collect()
        })
    }

    proptest! {
        #[test]
        fn every_syllable_gets_time_and_lines_follow_one_another(
            lines in prop::collection::vec(any_line(), 1..4),
            meter in prop::sample::select(vec!["3/4", "4/4", "6/8", "2/4", "5/4", "12/8", "2/2"]),
            bars in 0_u16..9,
            syllables in prop::option::of(0_usize..15),
            beats in prop::option::of(0_usize..6),
            gap in 0_i64..4,
        ) {
            let frame = frame(meter, bars);
            let placed: Vec<_> = lines.iter().map(|line| place(line, frame, Pattern { syllables, beats, strict: beats.is_some() })).collect();
            let mut end: Option<Quarters> = None;
            for (index, placement) in placed.iter().enumerate() {
                prop_assert_eq!(placement.on.len(), placement.syllables.len());
                let before = index.checked_sub(1).and_then(|b| placed.get(b));
                let underlay = placement.set(before, placed.get(index + 1), Quarters::new(gap, 2));
                prop_assert_eq!(underlay.syllables.len(), placement.syllables.len());
                let slot = frame.length() * i64::try_from(index).unwrap();
                for sung in &underlay.syllables {
                    prop_assert!(sung.length.is_positive());
                    prop_assert!(end.is_none_or(|end| end <= slot + sung.start), "{:?} {:?}", end, sung);
                    end = Some(slot + sung.end());
                }
                prop_assert!(end.is_none_or(|end| end <= slot + frame.length()));
            }
        }
    }
}
