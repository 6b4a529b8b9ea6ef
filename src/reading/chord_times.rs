//! When the chords of a row sound.

use super::laid::Laid;
use crate::music::chord::{Chord, Unread};
use crate::music::chord_row::Token;
use crate::music::quarters::Quarters;
use crate::song::chord_row::ChordRow;
use crate::song::column::Column;
use std::sync::Arc;

/// A chord as it sounds in a line.
#[derive(Clone, Debug, PartialEq)]
pub struct SoundingChord {
    /// As typed.
    pub text: String,
    /// The chord; `None` for N.C.
    pub chord: Option<Chord>,
    /// The index of its token in the row it stands in; a bar repeated by `%` gives the index of the sign.
    pub token: usize,
    /// When it begins, in the line's own time.
    pub start: Quarters,
    /// Until the next chord of the line, or the line's end.
    pub length: Quarters,
}

/// A line's own chord row as understood.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RowReading {
    /// Its chords as they sound.
    pub sounding: Arc<[SoundingChord]>,
    /// How many chords lie past the line's end and never sound.
    pub lost: usize,
    /// The tokens that are nothing of a chord row: the column, and why.
    pub unread: Vec<(Column, Unread)>,
}

/// Reads a line's own chord row.
///
/// A chord belongs to the syllable whose first letter is nearest (equally near: the later one) and sounds from the beat in which
/// that syllable begins, or from the syllable itself where that beat has a chord already. Chords past the last syllable take the
/// next bar lines; more of them than bars share the beats that are left. A row with `|` is timed by its bars.
#[must_use]
pub fn own(row: &ChordRow, laid: &Laid, lyric_end: Column, beat: Quarters) -> RowReading {
    let mut tokens: Vec<(usize, Column, Token)> = Vec::with_capacity(row.0.len());
    let mut unread = Vec::new();
    for (index, token) in row.0.iter().enumerate() {
        match Token::parse(&token.text) {
            Ok(read) => tokens.push((index, token.column, read)),
            Err(why) => unread.push((token.column, why)),
        }
    }
    let mut timed = if tokens
        .iter()
        .any(|(_, _, token)| matches!(token, Token::BarLine))
    {
        by_bars(&tokens, laid)
    } else {
        by_syllables(&tokens, laid, lyric_end, beat)
    };
    timed.sort_by_key(|&(start, ..)| start);
    let sounding = timed
        .iter()
        .filter(|(start, ..)| *start < laid.length)
        .count();
    let lost = timed.len() - sounding;
    timed.truncate(sounding);
    let chords = timed
        .into_iter()
        .map(|(start, token, chord)| SoundingChord {
            text: row
                .0
                .get(token)
                .map_or_else(String::new, |found| found.text.clone()),
            chord,
            token,
            start,
            length: Quarters::ZERO,
        })
        .collect();
    RowReading {
        sounding: lasting(chords, laid.length).into(),
        lost,
        unread,
    }
}

/// The chords of another line's row at the same bars and beats of this line.
#[must_use]
pub fn borrowed(chords: &[SoundingChord], from: &Laid, laid: &Laid) -> Vec<SoundingChord> {
    let moved = chords.iter().map(|chord| SoundingChord {
        start: chord.start - from.downbeat + laid.downbeat,
        ..chord.clone()
    });
    lasting(
        moved.filter(|chord| chord.start < laid.length).collect(),
        laid.length,
    )
}

/// Lets each chord last until the next.
fn lasting(mut chords: Vec<SoundingChord>, end: Quarters) -> Vec<SoundingChord> {
    let mut next = end;
    for chord in chords.iter_mut().rev() {
        chord.length = next - chord.start;
        next = chord.start;
    }
    chords
}

type Timed = (Quarters, usize, Option<Chord>);

fn chord_of(token: &Token) -> Option<Option<Chord>> {
    match token {
        Token::Chord(chord) => Some(Some(chord.clone())),
        Token::NoChord => Some(None),
        Token::BarLine | Token::RepeatBar | Token::HoldOn | Token::Times(_) => None,
    }
}

fn by_syllables(
    tokens: &[(usize, Column, Token)],
    laid: &Laid,
    lyric_end: Column,
    beat: Quarters,
) -> Vec<Timed> {
    let beat_of = |moment: Quarters| ((moment - laid.downbeat) / beat).floor();
    let first = laid
        .syllables
        .first()
        .map_or(laid.downbeat, |syllable| syllable.start.min(laid.downbeat));
    let mut timed: Vec<Timed> = Vec::new();
    let mut past: Vec<(usize, Option<Chord>)> = Vec::new();
    let mut taken: Option<i64> = None;
    for (index, column, token) in tokens {
        let Some(chord) = chord_of(token) else {
            continue;
        };
        let nearest = laid
            .syllables
            .iter()
            .rev()
            .min_by_key(|syllable| syllable.column.0.abs_diff(column.0));
        let Some(syllable) = nearest.filter(|_| *column < lyric_end) else {
            past.push((*index, chord));
            continue;
        };
        let number = beat_of(syllable.start);
        let last = timed.last().map(|&(start, ..)| start);
        let mut start = if taken.is_some_and(|taken| taken >= number) {
            syllable.start
        } else {
            (laid.downbeat + beat * number).max(first)
        };
        if let Some(last) = last.filter(|&last| start <= last) {
            start = last + (syllable.start + syllable.length - last) / 2; // a second chord on the same syllable
        }
        taken = Some(number);
        timed.push((start, *index, chord));
    }
    let starts = past_the_end(
        past.len(),
        laid,
        timed.last().map(|&(start, ..)| start),
        beat,
    );
    timed.extend(
        past.into_iter()
            .zip(starts)
            .map(|((index, chord), start)| (start, index, chord)),
    );
    timed
}

/// When `count` chords behind the last syllable begin.
fn past_the_end(
    count: usize,
    laid: &Laid,
    last_chord: Option<Quarters>,
    beat: Quarters,
) -> Vec<Quarters> {
    let after = laid
        .syllables
        .last()
        .map(|syllable| syllable.start)
        .into_iter()
        .chain(last_chord)
        .max();
    let on = |unit: Quarters| -> Vec<Quarters> {
        let mut moments = Vec::new();
        let mut moment = laid.downbeat;
        while moment < laid.length && moments.len() < 4096 {
            if after.is_none_or(|after| moment > after) {
                moments.push(moment);
            }
            moment += unit;
        }
        moments
    };
    let bars = on(laid.meter.bar());
    if count <= bars.len() {
        return bars.into_iter().take(count).collect();
    }
    let beats = on(beat);
    if count <= beats.len() {
        return (0..count)
            .filter_map(|index| beats.get(index * beats.len() / count).copied())
            .collect();
    }
    let parts = i64::try_from(count).unwrap_or(i64::MAX);
    let (start, shares, skip) = match (beats.first(), after) {
        (Some(&beat), _) => (beat, parts, 0),
        (None, Some(after)) => (after, parts + 1, 1),
        (None, None) => (laid.downbeat, parts, 0),
    };
    let share = (laid.length - start) / shares;
    (0..parts)
        .map(|index| start + share * (index + skip))
        .collect()
}

fn by_bars(tokens: &[(usize, Column, Token)], laid: &Laid) -> Vec<Timed> {
    let mut bars: Vec<Vec<&(usize, Column, Token)>> = vec![Vec::new()];
    for token in tokens {
        match (&token.2, bars.last_mut()) {
            (Token::BarLine, _) => bars.push(Vec::new()),
            (_, Some(bar)) => bar.push(token),
            (_, None) => {}
        }
    }
    let opens_with_line = matches!(tokens.first(), Some((_, _, Token::BarLine)));
    if opens_with_line {
        bars.remove(0);
    }
    if bars.last().is_some_and(Vec::is_empty) {
        bars.pop();
    }
    let bar = laid.meter.bar();
    let bar_count = -((laid.downbeat - laid.length) / bar).floor(); // a bar begun counts
    let pickup = laid
        .syllables
        .first()
        .map_or(Quarters::ZERO, |syllable| laid.downbeat - syllable.start);
    let in_pickup = !opens_with_line
        && pickup.is_positive()
        && i64::try_from(bars.len()).unwrap_or(0) > bar_count;
    let mut timed: Vec<Timed> = Vec::new();
    let mut before: Vec<Timed> = Vec::new();
    let mut start = if in_pickup {
        laid.downbeat - pickup
    } else {
        laid.downbeat
    };
    for (index, tokens) in bars.iter().enumerate() {
        let length = if in_pickup && index == 0 { pickup } else { bar };
        let repeat = match tokens.as_slice() {
            [(index, _, Token::RepeatBar)] => Some(*index),
            _ => None,
        };
        let this: Vec<Timed> = if let Some(sign) = repeat {
            before
                .iter()
                .map(|(offset, _, chord)| (*offset, sign, chord.clone()))
                .collect()
        } else {
            let places: Vec<_> = tokens
                .iter()
                .filter(|(.., token)| !matches!(token, Token::Times(_)))
                .collect();
            let share = length / i64::try_from(places.len().max(1)).unwrap_or(1);
            (0..)
                .zip(places)
                .filter_map(|(place, (index, _, token))| {
                    Some((share * place, *index, chord_of(token)?))
                })
                .collect()
        };
        timed.extend(
            this.iter()
                .map(|(offset, token, chord)| (start + *offset, *token, chord.clone())),
        );
        before = this;
        start += length;
    }
    timed
}
