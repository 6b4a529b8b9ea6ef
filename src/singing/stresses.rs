//! Where the stress of the words and the beats of the bar disagree.
//!
//! That a stressed syllable stands on a strong place is the first aim of setting words (Hayes 2009, Textsetting as constraint conflict;
//! Palmer and Kelly 1992, Journal of Memory and Language 31: 525–542). A stress forced onto a weak syllable is what handbooks of prosody
//! call a wrenched accent, an old habit of ballads. How strong is too strong is our choice.

use crate::music::meter::Strength;
use crate::words::stress::Class;

/// A syllable of a line, as far as stress and beat go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Beaten {
    /// Its weight in the line.
    pub class: Class,
    /// Its word, from 0 in the line.
    pub word: usize,
    /// The strength of the moment in which it begins.
    pub strength: Strength,
}

/// A weak syllable on a strong place beside a stressed one on a weak place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// The weak syllable, from 0 in the line.
    pub weak: usize,
    /// The stressed one.
    pub stressed: usize,
    /// Whether both are of one word: the worse fault.
    pub wrenched: bool,
}

/// The conflicts of a line, in order of the weak syllables. Where every stress stands on a place at least as strong as the middle of
/// the bar, or no weak syllable does, there is none.
///
/// ```
/// # use breathmark::{music::meter::Strength, singing::stresses::{Beaten, conflicts}, words::stress::Class};
/// let beaten = |class, word, strength| Beaten { class, word, strength };
/// // "a sailor" with its second syllable on the downbeat
/// let line = [beaten(Class::Light, 0, Strength::Half), beaten(Class::Primary, 1, Strength::Beat), beaten(Class::Unstressed, 1, Strength::Downbeat)];
/// let found = conflicts(&line);
/// assert!(found[0].wrenched && found[0].weak == 2 && found[0].stressed == 1);
/// ```
#[must_use]
pub fn conflicts(line: &[Beaten]) -> Vec<Conflict> {
    let found = |at| wrenched(line, at).or_else(|| light(line, at));
    (0..line.len()).filter_map(found).collect()
}

/// A weaker syllable on a strong place whose own word has its main stress on a weak one.
fn wrenched(line: &[Beaten], at: usize) -> Option<Conflict> {
    let own = line.get(at)?;
    let beside = |main: usize| main.abs_diff(at) == 1;
    let is_weaker = |main: usize| match own.class {
        Class::Unstressed | Class::Remote => true,
        // *foot-STEPS*; farther off, as in *AN-ces-TRAL*, both have their beat.
        Class::Secondary => beside(main),
        _ => false,
    };
    let is_main = |&main: &usize| {
        let of_word = line.get(main).filter(|other| other.word == own.word);
        of_word.is_some_and(|other| {
            other.class == Class::Primary && other.strength <= Strength::Beat && is_weaker(main)
        })
    };
    let main = (0..line.len()).find(is_main)?;
    (own.strength >= Strength::Middle && !is_first_foot(line, main)).then_some(Conflict {
        weak: at,
        stressed: main,
        wrenched: true,
    })
}

/// Whether a stress opens the line on a full beat of the pickup: *Sorrow and love flow mingled down*. A first foot turned round is as old as
/// the verse (Attridge 1982, The Rhythms of English Poetry), and hymns are sung so.
fn is_first_foot(line: &[Beaten], main: usize) -> bool {
    let opens = line.first().map(|first| first.strength);
    main == 0 && opens == Some(Strength::Beat)
}

/// A light word on the downbeat beside a stress between the beats, or between two stresses on weaker places.
fn light(line: &[Beaten], at: usize) -> Option<Conflict> {
    let own = line.get(at)?;
    if own.class != Class::Light || own.strength != Strength::Downbeat {
        return None;
    }
    let strength = |other: usize| {
        let other = line.get(other)?;
        matches!(other.class, Class::Primary | Class::Content).then_some(other.strength)
    };
    let (before, after) = (at.checked_sub(1), at + 1);
    let between_beats = |&other: &usize| strength(other).is_some_and(|s| s <= Strength::Half);
    let on_beat = |other: usize| strength(other).is_some_and(|s| s <= Strength::Beat);
    let both =
        before.filter(|&before| on_beat(before) && on_beat(after) && !is_first_foot(line, before));
    let stressed = before
        .into_iter()
        .chain([after])
        .find(between_beats)
        .or(both)?;
    Some(Conflict {
        weak: at,
        stressed,
        wrenched: false,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use Class::{Content, Function, Light, Primary, Unstressed};
    use Strength::{Beat, Downbeat, Half, Middle};

    fn check(line: &[(Class, usize, Strength)], expected: &[(usize, usize)]) {
        let line: Vec<Beaten> = line
            .iter()
            .map(|&(class, word, strength)| Beaten {
                class,
                word,
                strength,
            })
            .collect();
        let found: Vec<_> = conflicts(&line)
            .iter()
            .map(|conflict| (conflict.weak, conflict.stressed))
            .collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn stress_on_strong_places_is_no_conflict() {
        check(
            &[
                (Function, 0, Beat),
                (Content, 1, Downbeat),
                (Light, 2, Beat),
                (Content, 3, Middle),
            ],
            &[],
        );
        // The first foot turned round, on a pickup of a whole beat.
        check(&[(Primary, 0, Beat), (Unstressed, 0, Downbeat)], &[]);
        // A stress on the middle of the bar with its weak syllable on the downbeat is sung every day.
        check(&[(Primary, 0, Middle), (Unstressed, 0, Downbeat)], &[]);
    }

    #[test]
    fn a_light_word_on_the_downbeat_beside_a_stress_between_the_beats() {
        check(
            &[(Content, 0, Half), (Light, 1, Downbeat), (Content, 2, Beat)],
            &[(1, 0)],
        );
        check(&[(Function, 0, Half), (Light, 1, Downbeat)], &[]);
        check(
            &[
                (Content, 0, Downbeat),
                (Content, 1, Beat),
                (Light, 2, Downbeat),
                (Content, 3, Beat),
            ],
            &[(2, 1)],
        );
        // *All the vain things*, the first foot turned round.
        check(
            &[(Content, 0, Beat), (Light, 1, Downbeat), (Content, 2, Beat)],
            &[],
        );
    }

    #[test]
    fn a_weaker_syllable_takes_the_strong_place_of_its_word() {
        use Class::{Remote, Secondary};
        let the = (Light, 0, Beat);
        check(
            &[the, (Primary, 1, Beat), (Unstressed, 1, Downbeat)],
            &[(2, 1)],
        );
        check(
            &[the, (Primary, 1, Beat), (Secondary, 1, Middle)],
            &[(2, 1)],
        );
        check(
            &[
                the,
                (Primary, 1, Half),
                (Unstressed, 1, Beat),
                (Remote, 1, Downbeat),
            ],
            &[(3, 1)],
        );
        check(&[the, (Primary, 1, Downbeat), (Secondary, 1, Middle)], &[]);
    }
}
