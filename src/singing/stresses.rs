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
/// // "sailor" with its second syllable on the downbeat
/// let line = [beaten(Class::Primary, 0, Strength::Beat), beaten(Class::Unstressed, 0, Strength::Downbeat)];
/// let found = conflicts(&line);
/// assert!(found[0].wrenched && found[0].weak == 1 && found[0].stressed == 0);
/// ```
#[must_use]
pub fn conflicts(line: &[Beaten]) -> Vec<Conflict> {
    let weak = |at: usize| {
        let own = line.get(at)?;
        let in_word = |other: &usize| line.get(*other).is_some_and(|o| o.word == own.word);
        match own.class {
            Class::Unstressed if own.strength >= Strength::Middle => {
                let main = (0..line.len()).filter(in_word).find(|&other| {
                    line.get(other).is_some_and(|other| {
                        other.class == Class::Primary && other.strength <= Strength::Beat
                    })
                })?;
                Some(Conflict {
                    weak: at,
                    stressed: main,
                    wrenched: true,
                })
            }
            Class::Light if own.strength == Strength::Downbeat => {
                let beside = [at.checked_sub(1), at.checked_add(1)];
                let stressed = beside.into_iter().flatten().find(|&other| {
                    line.get(other).is_some_and(|other| {
                        matches!(other.class, Class::Primary | Class::Content)
                            && other.strength <= Strength::Half
                    })
                })?;
                Some(Conflict {
                    weak: at,
                    stressed,
                    wrenched: false,
                })
            }
            _ => None,
        }
    };
    (0..line.len()).filter_map(weak).collect()
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
    }
}
