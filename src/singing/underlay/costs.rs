//! What a setting costs, in thousandths. All sizes are our choice, tried on two dozen lines of old songs.

use crate::music::meter::Strength;
use crate::words::stress::Class;

/// Each note added to a syllable that is unstressed, a function word or a light one costs so much more.
pub const LIGHT_MELISMA: u32 = 300;

/// An added syllable on a note, where all parts last a unit of the meter or more.
pub const SPLIT_INTO_BEATS: u32 = 1000;

/// An added syllable on a note, where all parts last half a unit or more.
pub const SPLIT_INTO_HALVES: u32 = 1300;

/// An added syllable on a note, where a part is shorter than half a unit.
pub const SPLIT_FINER: u32 = 2500;

/// A note that now begins a syllable and did not in the first verse, or the reverse. Mild, since English strophes differ in slurs (Dell
/// and Halle 2009).
pub const HABIT: u32 = 500;

/// A syllable that begins under a written slur, where syllables would else be left over.
pub const SLUR_SHARED: u32 = 500;

/// A syllable that goes on after a rest.
pub const OVER_A_REST: u32 = 4000;

/// A syllable in the rest before the first note.
pub const BEFORE_THE_FIRST_NOTE: u32 = 800;

/// A syllable of this class that begins on a moment of this strength.
#[must_use]
pub const fn start(class: Class, strength: Strength) -> u32 {
    use Class::{Content, Function, Light, Primary, Remote, Secondary, Unstressed};
    let on_downbeat = match class {
        Primary | Content => 0,
        Secondary => 400,
        Function | Remote => 800,
        Light => 1800,
        Unstressed => 3000,
    };
    match (strength, class) {
        (Strength::Downbeat, _) => on_downbeat,
        (Strength::Middle, _) => on_downbeat * 7 / 10,
        (Strength::Beat, Primary) => 1500,
        (Strength::Beat, Content) => 600,
        (Strength::Beat, Secondary) => 200,
        (Strength::Half | Strength::Between, Primary) => 2500,
        (Strength::Half | Strength::Between, Content) => 1200,
        (Strength::Half | Strength::Between, Secondary) => 400,
        (_, Function | Light | Unstressed | Remote) => 0,
    }
}

/// A note added to a syllable, by the strength of the moment in which the note begins.
#[must_use]
pub const fn melisma(strength: Strength) -> u32 {
    match strength {
        Strength::Between => 200,
        Strength::Half => 400,
        Strength::Beat => 1600,
        Strength::Middle => 3000,
        Strength::Downbeat => 4000,
    }
}

/// Whether a melisma on this class costs [`LIGHT_MELISMA`] more.
#[must_use]
pub const fn is_light(class: Class) -> bool {
    matches!(class, Class::Unstressed | Class::Function | Class::Light)
}
