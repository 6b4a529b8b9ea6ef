//! Lines of hymns and poems whose metre is stated or beyond doubt: their syllables, which of them carry the beats, and where their stresses
//! fall on notes. The table stands in `tests/reference/`; where the metre counts no syllables (anapaests), its number is empty.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod table;

use breathmark::music::{meter::Meter, meter::Strength, quarters::Quarters, tune::Phrase};
use breathmark::singing::placement::{Frame, Pattern, Placement, place};
use breathmark::singing::stresses::{Beaten, Conflict, conflicts};
use breathmark::singing::underlay::{Underlay, places::Places, underlay};
use breathmark::singing::ways;
use breathmark::words::{SongWords, line::line, stress::Class};
use table::rows;

struct Verse {
    text: String,
    foot: String,
    syllables: Option<usize>,
}

fn verses() -> Vec<Verse> {
    let rows = rows(include_str!("reference/verse.csv"));
    let verse = |[text, foot, syllables, _, _]: [String; 5]| Verse {
        text,
        foot,
        syllables: syllables.parse().ok(),
    };
    rows.into_iter().map(verse).collect()
}

fn placed(verse: &Verse, meter: &str, bars: u16) -> Placement {
    let frame = Frame {
        meter: Meter::parse(meter).unwrap(),
        bars,
    };
    let pattern = Pattern {
        syllables: verse.syllables,
        strict: true,
        ..Pattern::default()
    };
    let words = line(&verse.text, &SongWords::default());
    place(&ways::of_line(&words), frame, pattern)
}

#[test]
fn lines_have_the_syllables_of_their_metre() {
    let mut wrong = Vec::new();
    for verse in verses() {
        let count = placed(&verse, "4/4", 2).syllables.len();
        if verse.syllables.is_some_and(|wanted| wanted != count) {
            wrong.push(format!("{count}: {}", verse.text));
        }
    }
    assert!(wrong.len() < 4, "{wrong:#?}");
}

/// The syllables that carry the beats by the metre; anapaests count back from the last stress.
fn feet(verse: &Verse, placed: &Placement) -> Vec<usize> {
    let count = placed.syllables.len();
    match verse.foot.as_str() {
        "iamb" => (1..count).step_by(2).collect(),
        "troch" => (0..count).step_by(2).collect(),
        _ => {
            let stressed = |class| matches!(class, Class::Primary | Class::Content);
            let last = placed.syllables.iter().rposition(|s| stressed(s.class));
            let mut feet: Vec<usize> = (0..=last.unwrap()).rev().step_by(3).take(4).collect();
            feet.reverse();
            feet
        }
    }
}

#[test]
fn beats_fall_where_the_metre_has_them() {
    for (meter, bars, five) in [
        ("4/4", 2, false),
        ("3/4", 4, false),
        ("6/8", 2, false),
        ("9/8", 4, false),
        ("12/8", 1, false),
        ("3/4", 5, true),
        ("4/4", 3, true),
        ("9/8", 2, true),
    ] {
        let (mut all, mut wrong) = (0, Vec::new());
        for verse in verses() {
            let is_long = verse.syllables.is_some_and(|count| count >= 10);
            let placed = placed(&verse, meter, bars);
            let regular = match verse.foot.as_str() {
                "iamb" => [6, 8, 10].contains(&placed.syllables.len()),
                "troch" => placed.syllables.len() < 9,
                _ => true,
            };
            if is_long != five || !regular {
                continue;
            }
            let beats = placed.on.iter().enumerate();
            let beats = beats.filter(|(_, on)| on.is_some()).map(|(at, _)| at);
            let feet = feet(&verse, &placed);
            // The first foot of an iambic line may be turned round.
            let beyond_first = |beats: &[usize]| beats.get(1..).map(<[usize]>::to_vec);
            let beats: Vec<usize> = beats.collect();
            let turned = verse.foot == "iamb"
                && beats.first() == Some(&0)
                && beyond_first(&beats) == beyond_first(&feet);
            all += 1;
            if beats != feet && !turned {
                wrong.push(verse.text);
            }
        }
        assert!(
            all > 20 && wrong.len() * if five { 7 } else { 12 } < all,
            "{meter}: {all} {wrong:#?}"
        );
    }
}

fn found(underlay: &Underlay) -> Vec<Conflict> {
    let sung = underlay.syllables.iter();
    let beaten = sung.map(|sung| Beaten {
        class: sung.class,
        word: sung.word,
        strength: sung.strength,
    });
    conflicts(&beaten.collect::<Vec<_>>())
}

#[test]
fn main_stresses_stand_on_strong_places_where_there_are_no_notes() {
    for (meter, bars) in [
        ("4/4", 2),
        ("3/4", 4),
        ("6/8", 2),
        ("9/8", 4),
        ("12/8", 1),
        ("12/8", 2),
    ] {
        let (mut all, mut weak) = (0, Vec::new());
        for verse in verses() {
            if verse.syllables.is_none_or(|count| count >= 10) {
                continue;
            }
            let set = placed(&verse, meter, bars).set(None, None, Quarters::ZERO);
            let main = set.syllables.iter().filter(|s| s.class == Class::Primary);
            for sung in main {
                all += 1;
                if sung.strength < Strength::Middle {
                    weak.push(verse.text.clone());
                }
            }
            assert_eq!(found(&set), [], "{meter}: {}", verse.text);
        }
        assert!(weak.len() * 100 <= all, "{meter}: {all} {weak:#?}");
    }
}

/// St Anne (Croft 1708, from memory): its first two phrases.
const ST_ANNE: [(usize, &str); 2] = [
    (8, "G2 | E2 A2 G2 c2 | c2 B2 c2"),
    (6, "G2 | c2 G2 A2 ^F2 | G6"),
];

fn on_st_anne(text: &str, syllables: Option<usize>) -> Option<Underlay> {
    let (_, tune) = ST_ANNE
        .iter()
        .find(|(count, _)| Some(*count) == syllables)?;
    let places = Places::of(&Phrase::read(tune, [0; 7], Meter::COMMON), Meter::COMMON);
    let words = line(text, &SongWords::default());
    underlay(&ways::of_line(&words), &places, None)
}

#[test]
fn iambic_lines_earn_no_remark_on_a_tune_of_their_metre_and_broken_ones_do() {
    let (mut sung, mut remarked, mut broken, mut heard) = (0, Vec::new(), 0, 0);
    for verse in verses().iter().filter(|verse| verse.foot == "iamb") {
        let Some(set) = on_st_anne(&verse.text, verse.syllables) else {
            continue;
        };
        sung += 1;
        if !found(&set).is_empty() {
            remarked.push(verse.text.clone());
        }
        // Two words change places: broken where the main stress of a longer word inside the line leaves its strong place.
        let words: Vec<&str> = verse.text.split(' ').collect();
        for at in 1..words.len().saturating_sub(1) {
            let mut words = words.clone();
            words.swap(at, at + 1);
            let set = on_st_anne(&words.join(" "), verse.syllables).unwrap();
            let inside = |s: &&_| set.syllables.first() != Some(*s);
            let mut main = set.syllables.iter().filter(|s| s.class == Class::Primary);
            if main.any(|s| inside(&s) && s.strength < Strength::Middle) {
                broken += 1;
                heard += usize::from(!found(&set).is_empty());
            }
        }
    }
    assert!(sung > 60 && remarked.len() < 2, "{sung} {remarked:#?}");
    assert!(
        broken > 15 && heard * 10 > broken * 9,
        "{heard} of {broken}"
    );
}
