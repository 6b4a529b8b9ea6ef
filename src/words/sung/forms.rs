//! One syllable fewer, one syllable more: what singers do to the sounds of a word.

use crate::words::dictionary;
use crate::words::phone::{Phone, Sound, Stress};
use crate::words::written::take_out;
use Phone::*;

pub(super) type Form = (Vec<Sound>, &'static str);

pub(super) fn phone_at(sounds: &[Sound], at: usize) -> Option<Phone> {
    sounds.get(at).map(|sound| sound.phone)
}

pub(super) fn weak(sounds: &[Sound], at: usize) -> bool {
    sounds
        .get(at)
        .is_some_and(|sound| sound.is_unstressed_vowel())
}

/// The ways to sing one syllable fewer. `known` words may lose what no rule lets others lose.
pub(super) fn shorter(word: &str, sounds: &[Sound], known: bool) -> Vec<Form> {
    let mut forms = Vec::new();
    for at in 1..sounds.len() {
        if !weak(sounds, at) {
            continue;
        }
        let rule = glide(sounds, at)
            .or_else(|| syncope(sounds, at, known))
            .or_else(|| hiatus(word, sounds, at, known))
            .or_else(|| ending(sounds, at, known));
        if let Some((form, rule)) = rule {
            forms.push((form, rule));
        }
    }
    forms
}

/// Synaeresis: i, u or o between a consonant and an unstressed vowel glides, *glor-yous*, *foll-wing* (Bysshe 1708).
fn glide(sounds: &[Sound], at: usize) -> Option<Form> {
    let next = sounds.get(at + 1)?;
    let (glide, vowel) = match phone_at(sounds, at)? {
        IY => (Y, at + 1),
        UW | OW => (W, at + 1),
        // *tempestuous*, which the dictionary writes with a W of its own.
        AH if next.phone == W => (W, at + 2),
        _ => return None,
    };
    let after_consonant =
        phone_at(sounds, at.checked_sub(1)?).is_some_and(|phone| !phone.is_vowel());
    let has_vowel_before = sounds.iter().take(at).any(|sound| sound.is_vowel());
    // *ex-pa-tiate*: a secondary stress, too.
    let is_ate = next.phone == EY && next.stress == Some(Stress::Secondary);
    if !(weak(sounds, vowel) || is_ate) || !after_consonant || !has_vowel_before {
        return None;
    }
    let mut form = sounds.to_vec();
    form.splice(at..vowel, [Sound::new(glide, Stress::None)]);
    Some((form, "glide"))
}

/// Syncope: the vowel behind a stressed syllable goes before r, less often before l m n v s, and another unstressed
/// vowel, *wand'ring*, *fam'ly* (Bysshe 1708; Abbott, A Shakespearian Grammar, 1870, §§ 467-468).
fn syncope(sounds: &[Sound], at: usize, known: bool) -> Option<Form> {
    let phone = phone_at(sounds, at)?;
    let before = sounds.get(..at)?;
    let previous = before.iter().rposition(|sound| sound.is_vowel())?;
    let stressed = before
        .get(previous)
        .is_some_and(|sound| sound.is_stressed());
    if !stressed || previous + 1 == at {
        return None;
    }
    let next = match phone {
        ER => at + 1,
        AH | IH | UH => at + 2,
        _ => return None,
    };
    let next_vowel = sounds.get(next).filter(|sound| sound.is_vowel())?;
    if next_vowel.is_stressed() && !(known && next_vowel.stress == Some(Stress::Secondary)) {
        return None;
    }
    let dropped_before = phone_at(sounds, at + 1)?;
    if phone != ER
        && (dropped_before.is_vowel()
            || !(known || matches!(dropped_before, R | L | M | N | V | S)))
    {
        return None;
    }
    let mut form = sounds.to_vec();
    take_out(&mut form, at);
    // *fab'lous*: the glide before the vowel goes too.
    if phone_at(&form, at - 1) == Some(Y) && previous + 2 < at {
        form.remove(at - 1);
    }
    Some((form, "syncope"))
}

/// Two vowels side by side run together: *high'r*, *flow'r*, *fi'ry*; *goest*, *dieth*; for known words others too, *po'm*.
fn hiatus(word: &str, sounds: &[Sound], at: usize, known: bool) -> Option<Form> {
    let first = sounds
        .get(at.checked_sub(1)?)
        .filter(|sound| sound.is_vowel())?;
    let gliding = matches!(first.phone, AY | AW) && first.is_stressed();
    let second = phone_at(sounds, at)?;
    let is_verb = word.ends_with("est") || word.ends_with("eth");
    let mergeable = known || (gliding && matches!(second, ER | AH | IH)) || is_verb;
    let next = sounds.get(at + 1).filter(|next| next.is_vowel());
    let parted = next.is_none_or(|next| second == ER && next.is_unstressed_vowel());
    if !mergeable || !first.is_stressed() || !parted {
        return None;
    }
    let mut form = sounds.to_vec();
    take_out(&mut form, at);
    Some((form, "run together"))
}

/// Whether the r of a word stands right behind its i, y or ou, so that nobody sings the syllable that the dictionary may have there:
/// *de-sir-ing*.
pub(super) fn has_r_alone(word: &str) -> bool {
    let spelled = ["iri", "yri", "ouri", "iry"];
    spelled.iter().any(|letters| word.contains(letters))
}

/// The sounds without that syllable; `None` where they have none.
pub(super) fn r_alone(sounds: &[Sound]) -> Option<Vec<Sound>> {
    let is_behind_glide = |&at: &usize| {
        sounds
            .get(at.wrapping_sub(1))
            .is_some_and(|before| before.is_stressed() && matches!(before.phone, AY | AW))
            && phone_at(sounds, at) == Some(ER)
            && weak(sounds, at + 1)
    };
    let at = (1..sounds.len()).find(is_behind_glide)?;
    let mut form = sounds.to_vec();
    take_out(&mut form, at);
    Some(form)
}

/// The last vowel of *heav'n*, *spir't*, *mirr'r*: only where it is known to go.
fn ending(sounds: &[Sound], at: usize, known: bool) -> Option<Form> {
    let behind = sounds.get(at + 1..)?;
    if !known || behind.iter().any(|sound| sound.is_vowel()) || behind.len() > 2 {
        return None;
    }
    let mut form = sounds.to_vec();
    take_out(&mut form, at);
    if phone_at(&form, at) == Some(R) && phone_at(&form, at.checked_sub(1)?) == Some(R) {
        form.remove(at);
    }
    Some((form, "run together"))
}

/// The ways to sing one syllable more.
pub(super) fn longer(word: &str, sounds: &[Sound], known: bool) -> Vec<Form> {
    let mut forms = Vec::new();
    forms.extend(sounded_ed(word, sounds));
    for at in 0..sounds.len() {
        let (here, next) = (phone_at(sounds, at), phone_at(sounds, at + 1));
        let inserted = match (here, next) {
            // *fi-re*, *ou-r*.
            (Some(AY | AW), Some(R)) if !phone_at(sounds, at + 2).is_some_and(Phone::is_vowel) => {
                Some((at + 1, ER, true))
            }
            // *mil-li-on*.
            (Some(Y), Some(next))
                if next.is_vowel() && weak(sounds, at + 1) && at > 0 && has_gliding_i(word) =>
            {
                Some((at, IY, true))
            }
            // *na-ti-on*, *o-ce-an*.
            (Some(SH), Some(AH)) if weak(sounds, at + 1) && at > 0 && is_hushed(word) => {
                Some((at + 1, IY, false))
            }
            // *re-al*, *di-a-mond*.
            (Some(IY), Some(L)) | (Some(AY), Some(M)) if known => Some((at + 1, AH, false)),
            _ => None,
        };
        if let Some((place, phone, replaces)) = inserted {
            let mut form = sounds.to_vec();
            let vowel = Sound::new(phone, Stress::None);
            match form.get_mut(place) {
                Some(sound) if replaces => *sound = vowel,
                _ => form.insert(place.min(form.len()), vowel),
            }
            forms.push((form, "diaeresis"));
        }
    }
    forms
}

/// The Y of *million* is an i, that of *fabulous* is a u.
fn has_gliding_i(word: &str) -> bool {
    ["ia", "ie", "io", "ea", "eo"]
        .iter()
        .any(|letters| word.contains(letters))
}

fn is_hushed(word: &str) -> bool {
    ["ti", "ci", "si", "ce"]
        .iter()
        .any(|letters| word.contains(letters))
}

/// -ed sung as a syllable: *walk-ed*.
fn sounded_ed(word: &str, sounds: &[Sound]) -> Option<Form> {
    let stem = word
        .strip_suffix("ed")
        .filter(|stem| stem.len() > 2 && !stem.ends_with(['e', 'i']))?;
    let (last, before) = sounds.split_last()?;
    let silent = matches!(last.phone, T | D)
        && before.last().is_some_and(|sound| {
            !(sound.is_unstressed_vowel() && matches!(sound.phone, IH | AH)) && sound.phone != EH
        });
    let is_verb = dictionary::has(stem)
        || dictionary::has_with(stem, "e")
        || stem.get(..stem.len() - 1).is_some_and(dictionary::has);
    if !silent || !is_verb {
        return None;
    }
    let mut form = before.to_vec();
    form.extend([Sound::new(IH, Stress::None), Sound::new(D, Stress::None)]);
    Some((form, "sounded -ed"))
}
