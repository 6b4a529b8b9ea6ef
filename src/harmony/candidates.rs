//! What can stand in each slot, with its cost and its reason.

use super::cost;
use super::fit::{self, NoteKind};
use super::melody::{Melody, Part};
use super::mood;
use super::rules::{Offer, Place, RULES, Rule, Spot};
use super::slot::{Setting, Slot, Style};
use super::variant::{Around, Candidate, Family, Sounding, row_text};
use crate::music::chord::Chord;
use crate::music::interval::Interval;
use crate::music::pitch::Note;
use crate::music::quarters::Quarters;

/// So many candidates are kept for a slot, besides the written chord.
pub const KEPT: usize = 12;

/// So many of one family.
const KEPT_OF_A_FAMILY: usize = 2;

/// The candidates for each slot: first the chord as written, then what the rules offer, cheapest first.
#[must_use]
pub fn for_slots(slots: &[Slot], setting: &Setting) -> Vec<Vec<Candidate>> {
    by_rules(slots, setting, RULES)
}

/// The same with some of the rules.
#[must_use]
pub fn by_rules(slots: &[Slot], setting: &Setting, rules: &[&Rule]) -> Vec<Vec<Candidate>> {
    let melody = Melody::of(slots);
    (0..slots.len())
        .map(|at| for_slot(slots, at, setting, &melody, rules))
        .collect()
}

fn for_slot(
    slots: &[Slot],
    at: usize,
    setting: &Setting,
    melody: &Melody,
    rules: &[&Rule],
) -> Vec<Candidate> {
    let Some(slot) = slots.get(at) else {
        return Vec::new();
    };
    let mut kept = vec![as_written(slot)];
    let Some(base) = &slot.base else {
        return kept;
    };
    let neighbour = |at: Option<usize>| slots.get(at?).and_then(|slot| slot.base.as_ref());
    let parts = melody.within(slot.meter, slot.start, slot.end());
    let spot = Spot {
        setting,
        slot,
        base,
        before: neighbour(at.checked_sub(1)),
        next: neighbour(Some(at + 1)),
        first: at == 0,
        begins_line: at
            .checked_sub(1)
            .and_then(|b| slots.get(b))
            .is_none_or(|b| b.line_end),
        place: place(slots, at, setting),
        melody,
        parts: &parts,
    };
    let mut found: Vec<Candidate> = Vec::new();
    for rule in rules {
        let Some(style) = cost::style(rule.idiom, setting.style) else {
            continue;
        };
        for offer in (rule.offer)(&spot) {
            if let Some(candidate) = priced(&spot, rule, offer, style) {
                found.push(candidate);
            }
        }
    }
    // Stable: of equal costs the plainer rule comes first.
    found.sort_by_key(|candidate| candidate.cost);
    for candidate in found {
        let twin = |other: &Candidate| {
            let same = other.chords == candidate.chords;
            same && (other.around == candidate.around || other.around == Around::ANY)
        };
        let family = kept.iter().filter(|c| c.family == candidate.family).count();
        if kept.len() <= KEPT && family < KEPT_OF_A_FAMILY && !kept.iter().any(twin) {
            kept.push(candidate);
        }
    }
    kept
}

fn as_written(slot: &Slot) -> Candidate {
    let chords = slot.base.iter().map(|chord| Sounding {
        chord: chord.clone(),
        after: Quarters::ZERO,
    });
    Candidate {
        chords: chords.collect(),
        family: Family::AsWritten,
        rule: Family::AsWritten.word(),
        word: "",
        cost: 0,
        why: String::new(),
        difference: 0,
        around: Around::ANY,
    }
}

/// What the ends of lines ask of a slot.
fn place(slots: &[Slot], at: usize, setting: &Setting) -> Place {
    let above_tonic = |at: usize| {
        let root = slots.get(at)?.base.as_ref()?.root();
        Some((12 + root.class() - setting.key.tonic().class()) % 12)
    };
    let ends = |at: usize| slots.get(at).is_some_and(|slot| slot.line_end) || at + 1 == slots.len();
    let (home, dominant) = (Some(0), Some(7));
    if at + 1 == slots.len() {
        Place::SectionEnd
    } else if ends(at) {
        match above_tonic(at) {
            root if root == dominant => Place::HalfCadence,
            root if root == home && at > 0 && above_tonic(at - 1) == dominant => Place::Close,
            _ => Place::LineEnd,
        }
    } else if ends(at + 1) && above_tonic(at) == dominant && above_tonic(at + 1) == home {
        Place::BeforeClose
    } else {
        Place::Inside
    }
}

/// Whether the place lets a chord pass that a rule of this family offers.
fn place_allows(spot: &Spot, family: Family, chords: &[Sounding]) -> bool {
    let same_root = chords.iter().all(|s| s.chord.root() == spot.base.root());
    let inverted = chords
        .iter()
        .any(|s| s.chord.is_inverted() && !spot.base.is_inverted());
    let colours = matches!(family, Family::Colour | Family::Drone);
    match spot.place {
        Place::Inside | Place::BeforeClose => true,
        // A question stays one.
        Place::HalfCadence => same_root && colours,
        Place::SectionEnd => {
            let home_in_other_light = family == Family::Mixture && same_root;
            same_root && !inverted && chords.len() == 1 && (colours || home_in_other_light)
        }
        Place::Close => !inverted && (same_root || family == Family::Function),
        Place::LineEnd => !inverted && chords.len() == 1,
    }
}

/// The offer as a candidate, or `None` where it clashes with the melody or the place does not allow it.
fn priced(spot: &Spot, rule: &Rule, offer: Offer, style: i64) -> Option<Candidate> {
    let changes = offer.chords.iter().any(|s| s.chord != *spot.base);
    if !changes || !place_allows(spot, rule.family, &offer.chords) {
        return None;
    }
    let excess = excess(spot, &offer.chords)?;
    let unheard = !spot.slot.notes_known && !rule.free;
    let crowded = offer.chords.len() > 1 && spot.slot.length < spot.slot.meter.bar();
    let surcharges = [
        (crowded, cost::CROWDED_BAR),
        (unheard, cost::UNHEARD),
        (mood::asks_for(&spot.setting.mood, rule.word), -cost::MOOD),
    ];
    let surcharge: i64 = surcharges
        .iter()
        .filter(|(holds, _)| *holds)
        .map(|(_, cost)| cost)
        .sum();
    let mut around = offer.around;
    // Never both a line's last chord and the one before.
    let ends_line = matches!(
        spot.place,
        Place::Close | Place::HalfCadence | Place::LineEnd
    );
    let new_root = offer.chords.last().map(|s| s.chord.root()) != Some(spot.base.root());
    around.before_as_written |= ends_line && new_root;
    Some(Candidate {
        cost: rule.cost
            + offer.extra
            + style
            + excess
            + surcharge
            + cost::steps_within(&offer.chords),
        why: why(spot, rule, &offer, unheard),
        family: rule.family,
        rule: rule.name,
        word: rule.word,
        difference: rule.difference,
        around,
        chords: offer.chords,
    })
}

/// From this weight and length on a note and another form of it in the chord are heard against each other.
const HEARD_AGAINST: (i64, Quarters) = (30, Quarters::EIGHTH);

/// Whether the melody sings one form of a letter while the chord sounds another, F# over F A C: a false relation. The blues lives
/// on it.
fn false_relation(spot: &Spot, parts: &[Part], chord: &Chord) -> bool {
    let other_form = |note: Note| {
        let tones = chord.notes();
        tones
            .iter()
            .any(|t| t.step == note.step && t.alter != note.alter)
            && !tones.contains(&note)
    };
    let (weight, length) = HEARD_AGAINST;
    spot.setting.style != Style::Blues
        && parts
            .iter()
            .any(|p| p.weight >= weight && p.length >= length && other_form(p.pitch.note))
}

/// How much worse than the written chord it fits, twice, in thousandths; `None` where it clashes.
fn excess(spot: &Spot, chords: &[Sounding]) -> Option<i64> {
    let (slot, meter) = (spot.slot, spot.slot.meter);
    let mut sum = fit::Misfit::default();
    for (at, sounding) in chords.iter().enumerate() {
        let next = chords.get(at + 1);
        let end = next.map_or(slot.end(), |next| slot.start + next.after);
        let parts = spot.melody.within(meter, slot.start + sounding.after, end);
        if false_relation(spot, &parts, &sounding.chord) {
            return None;
        }
        let next = next.map(|s| &s.chord).or(spot.next);
        sum = sum.and(fit::misfit(&parts, &sounding.chord, next, meter)?);
    }
    // What the writer wrote may clash: then nothing can fit worse.
    let written = fit::misfit(spot.parts, spot.base, spot.next, meter).map(fit::Misfit::share);
    let worse = written.map_or(Quarters::ZERO, |written| sum.share() - written);
    Some((worse.max(Quarters::ZERO) * 2000 + Quarters::new(1, 2)).floor())
}

/// "Am for C: relative minor (darker); E (strong) is its fifth".
fn why(spot: &Spot, rule: &Rule, offer: &Offer, unheard: bool) -> String {
    let mut why = format!(
        "{} for {}: {}",
        row_text(&offer.chords),
        spot.base,
        rule.name
    );
    if !rule.word.is_empty() {
        why.push_str(&format!(" ({})", rule.word));
    }
    if !offer.because.is_empty() {
        why.push_str(&format!(", {}", offer.because));
    }
    if unheard {
        why.push_str("; if the tune allows");
    } else if let Some(note) = note_clause(spot, &offer.chords) {
        why.push_str(&format!("; {note}"));
    }
    why
}

/// What the weightiest note of the melody is to the new chord.
fn note_clause(spot: &Spot, chords: &[Sounding]) -> Option<String> {
    let (at, sounding) = chords
        .iter()
        .enumerate()
        .rev()
        .find(|(_, s)| s.chord != *spot.base)?;
    let (slot, next) = (spot.slot, chords.get(at + 1));
    let end = next.map_or(slot.end(), |next| slot.start + next.after);
    let parts = spot
        .melody
        .within(slot.meter, slot.start + sounding.after, end);
    let weighty = |part: &&Part| (part.length * part.weight, part.weight);
    // Of equal ones the first: `max_by_key` would give the last.
    let part = parts.iter().rev().max_by_key(weighty)?;
    let next = next.map(|s| &s.chord).or(spot.next);
    let kind = fit::kind_of(part, &sounding.chord, next, slot.meter);
    let strength = if part.is_strong() { " (strong)" } else { "" };
    let role = match kind {
        NoteKind::ChordTone => format!("is {}", tone_name(&sounding.chord, part)),
        NoteKind::Tension => match interval_name(&sounding.chord, part) {
            Some("third") if sounding.chord.third().is_none() => "sings its third".to_owned(),
            Some(name) => format!("lies at ease above it, a {name}"),
            None => "lies at ease above it".to_owned(),
        },
        NoteKind::Passing => "passes by".to_owned(),
        NoteKind::Neighbour => "is a step aside and back".to_owned(),
        NoteKind::Suspension => "is held over and resolves".to_owned(),
        NoteKind::Appoggiatura => "leans in and resolves by step".to_owned(),
        NoteKind::Escape => "slips away".to_owned(),
        NoteKind::Anticipation => "is the next chord's, early".to_owned(),
        NoteKind::Unexplained | NoteKind::Clash => "rubs against it".to_owned(),
    };
    Some(format!("{}{strength} {role}", part.pitch.note))
}

fn tone_name(chord: &Chord, part: &Part) -> String {
    let class = part.class();
    let tone = chord
        .intervals()
        .iter()
        .find(|t| t.above(chord.root()).class() == class);
    let name = match tone.map(|t| t.degree) {
        Some(1) => "root",
        Some(2) => "second",
        Some(3) => "third",
        Some(4) => "fourth",
        Some(5) => "fifth",
        Some(6) => "sixth",
        Some(7) => "seventh",
        Some(9) => "ninth",
        Some(11) => "eleventh",
        Some(13) => "thirteenth",
        _ => "bass",
    };
    format!("its {name}")
}

fn interval_name(chord: &Chord, part: &Part) -> Option<&'static str> {
    Some(
        match Interval::between(chord.root(), part.pitch.note).degree {
            2 => "ninth",
            3 => "third",
            4 => "fourth",
            5 => "fifth",
            6 => "sixth",
            7 => "seventh",
            _ => return None,
        },
    )
}
