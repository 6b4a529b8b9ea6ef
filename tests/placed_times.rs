//! Lines without notes keep to time: whatever is written, syllables ascend, each gets time, and neighbours share what lies between them.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::music::{meter::Meter, quarters::Quarters};
use breathmark::singing::placement::{Frame, Pattern, Placement, place};
use breathmark::singing::ways::Way;
use breathmark::words::stress::Class;
use proptest::prelude::*;

fn any_line(words: usize) -> impl Strategy<Value = Vec<Vec<Way>>> {
    let way =
        (0_u32..2000, prop::collection::vec(0_usize..7, 0..5)).prop_map(|(cost, classes)| Way {
            cost,
            reduced: cost > 500,
            classes: classes.into_iter().map(|c| Class::ALL[c]).collect(),
        });
    prop::collection::vec(prop::collection::vec(way, 0..3), 0..words)
}

fn any_frame() -> impl Strategy<Value = Frame> {
    let meters = vec![
        "4/4", "3/4", "6/8", "2/2", "5/4", "12/8", "7/8", "2/4", "1/64", "64/1",
    ];
    let bars = vec![0, 1, 2, 3, 4, 5, 8, 999];
    (prop::sample::select(meters), prop::sample::select(bars)).prop_map(|(meter, bars)| Frame {
        meter: Meter::parse(meter).unwrap(),
        bars,
    })
}

proptest! {
    #[test]
    fn times_ascend_through_neighbours(
        lines in (any_line(14), any_line(14), any_line(60)),
        frames in (any_frame(), any_frame()),
        syllables in prop::option::of(0_usize..20),
        beats in prop::option::of(0_usize..6),
    ) {
        let pattern = Pattern { syllables, beats, strict: beats.is_some() };
        let first = place(&lines.0, frames.0, pattern);
        let song = [&first, &place(&lines.1, frames.1, pattern), &place(&lines.2, frames.0, pattern), &first];
        let mut origin = Quarters::ZERO;
        let mut end: Option<Quarters> = None;
        for (index, line) in song.iter().enumerate() {
            let before = index.checked_sub(1).map(|before| song[before]);
            let laid = line.set(before, song.get(index + 1).copied(), Quarters::EIGHTH);
            prop_assert_eq!(laid.syllables.len(), line.syllables.len());
            for sung in &laid.syllables {
                prop_assert!(end.is_none_or(|end| origin + sung.start >= end), "line {index}");
                prop_assert!(sung.length.is_positive(), "line {index}");
                end = Some(origin + sung.end());
            }
            origin += line.length();
        }
    }
}

/// So many syllables, every other one a word with stress.
fn placed(count: usize, meter: &str, bars: u16) -> Placement {
    let classes = [Class::Light, Class::Content];
    let way = |index: usize| Way {
        cost: 0,
        reduced: false,
        classes: vec![classes[index % 2]],
    };
    let line: Vec<_> = (0..count).map(|index| vec![way(index)]).collect();
    let meter = Meter::parse(meter).unwrap();
    place(&line, Frame { meter, bars }, Pattern::default())
}

#[test]
fn many_syllables_spread_over_the_bars_and_not_into_the_pickup() {
    for (meter, bars) in [("3/4", 4), ("4/4", 2), ("4/4", 4), ("6/8", 4)] {
        for count in [14, 20, 30, 45, 60, 100, 1000] {
            let placed = placed(count, meter, bars);
            let laid = placed.set(None, None, Quarters::EIGHTH);
            let first = laid.syllables[0].start;
            assert!(
                first >= -placed.length() / 4,
                "{count} in {meter} begin at {first}"
            );
            assert!(laid.syllables.iter().all(|s| s.length.is_positive()));
        }
    }
}

#[test]
fn one_syllable_takes_the_first_beat() {
    let laid = placed(1, "3/4", 4).set(None, None, Quarters::EIGHTH);
    let only = &laid.syllables[0];
    assert_eq!(
        (only.start, only.length),
        (Quarters::ZERO, Quarters::new(9, 2))
    );
    assert!(
        placed(0, "3/4", 4)
            .set(None, None, Quarters::EIGHTH)
            .syllables
            .is_empty()
    );
}
