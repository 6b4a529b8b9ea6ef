//! How singers change a word's count of syllables: vowels that go, glides, words that are known to vary.

use super::dictionary;
use super::outlines::Outlines;
use super::phone::{Phone, Sound, Stress};
use super::syllables::count;
use super::written::take_out;
use Phone::*;

/// A way to sing a word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Way {
    pub(super) sounds: Vec<Sound>,
    pub(super) cost: u32,
    pub(super) why: &'static str,
}

/// Cost of another listed way, or of another count of a word that varies. All costs are our choice.
pub(super) const LISTED: u32 = 200;
const RULE: u32 = 500;
/// A v lost where *ne'er* is not written: dearer than sharing a note between two syllables, in song nobody does it unasked.
const LOST_V: u32 = 1200;
const SOUNDED_ED: u32 = 1200;
const DIAERESIS: u32 = 1500;

/// Words whose count varies, each row with its counts, the usual one first, and what another count costs.
#[rustfmt::skip]
const VARYING: &[(&[&str], &[usize], u32)] = &[
    (&["heaven", "even", "given", "driven", "risen", "stolen", "fallen", "broken"], &[2, 1], RULE),
    (&["seven"], &[2, 1], RULE),
    (&["ever", "never", "over"], &[2, 1], LOST_V),
    (&["eleven", "forgiven"], &[3, 2], RULE),
    (&["power", "flower", "tower", "shower", "bower"], &[2, 1], RULE),
    (&["fire", "hour", "our", "choir", "wire", "lyre", "prayer", "real", "tire", "mire", "sire", "hire", "squire", "flour", "sour", "scour"], &[1, 2], LISTED),
    (&["desire", "inspire", "entire", "admire", "empire", "aspire", "expire", "require", "acquire", "attire", "devour"], &[2, 3], LISTED),
    (&["higher", "friar", "liar", "iron", "spirit", "being", "poem", "quiet", "lion", "riot", "dial", "trial", "vial", "cruel", "jewel"], &[2, 1], LISTED),
    (&["every", "evening", "different", "chocolate", "business", "wednesday"], &[2, 3], LISTED),
    (&["general", "several", "favorite", "favourite", "interest", "camera", "separate", "desperate"], &[2, 3], LISTED),
    (&["family", "memory", "history", "mystery", "victory", "factory", "misery", "nursery", "slippery", "battery", "ivory"], &[3, 2], LISTED),
    (&["delivery", "ridiculous", "ordinary", "temperature", "literature"], &[4, 3], LISTED),
    (&["wandering", "murmuring", "gathering", "suffering", "lingering", "traveling", "travelling"], &[3, 2], LISTED),
    (&["comfortable", "vegetable"], &[3, 4], LISTED),
    (&["innocent", "president", "cabinet", "medicine", "animal", "enemy"], &[3, 2], LISTED),
    (&["diamond"], &[2, 3], LISTED),
    (&["ourselves", "ourself"], &[2, 3], LISTED),
    (&["temperate"], &[3, 2], LISTED),
    (&["violet", "violent"], &[3, 2], LISTED),
    (&["glorious", "curious", "furious", "serious", "tedious", "hideous", "various", "radiant"], &[3, 2], LISTED),
    (&["obedient", "experience"], &[4, 3], LISTED),
    (&["happier", "merrier", "carrier"], &[3, 2], LISTED),
    (&["warrior", "million", "union", "onion"], &[2, 3], LISTED),
    (&["alien", "usual", "actual"], &[3, 2], LISTED),
    (&["ocean", "patient"], &[2, 3], LISTED),
    (&["mirror", "squirrel"], &[2, 1], LISTED),
    (&["toward", "towards"], &[1, 2], LISTED),
    (&["beloved"], &[3, 2], LISTED),
    (&["blessed", "learned", "winged", "aged", "cursed"], &[1, 2], LISTED),
];

const VARYING_OUTLINES: Outlines = {
    let mut outlines = Outlines::NONE;
    let mut row = 0;
    while row < VARYING.len() {
        outlines = outlines.and(VARYING[row].0);
        row += 1;
    }
    outlines
};

/// Sung forms that no rule below gives.
#[rustfmt::skip]
const SOUNDS: &[(&str, &str)] = &[
    ("over", "AO1 R"), ("ever", "EH1 R"), ("never", "N EH1 R"), ("evening", "IY1 V AH0 N IH0 NG"),
    ("chocolate", "CH AO1 K AH0 L AH0 T"), ("business", "B IH1 Z IH0 N AH0 S"), ("wednesday", "W EH1 D AH0 N Z D EY2"),
    ("comfortable", "K AH1 M F T ER0 B AH0 L"), ("vegetable", "V EH1 JH AH0 T AH0 B AH0 L"),
    ("vegetable", "V EH1 JH T AH0 B AH0 L"), ("temperature", "T EH1 M P ER0 AH0 CH ER0"), ("temperature", "T EH1 M P R AH0 CH ER0"),
];

/// The ways to sing a word that is listed with these sounds, the default first at cost 0; no two alike.
pub(super) fn ways(word: &str, listed: &[Vec<Sound>], why: &'static str) -> Vec<Way> {
    let mut ways: Vec<Way> = Vec::with_capacity(4);
    let Some(usual) = listed.first() else {
        return ways;
    };
    if let Some((stem, counts, cost)) = varying(word) {
        let mut forms: Vec<Vec<Sound>> = listed.to_vec();
        let named = SOUNDS
            .iter()
            .filter(|row| row.0 == stem)
            .filter_map(|row| Sound::parse_all(row.1));
        forms.extend(named.map(|sounds| with_ending(sounds, word, stem)));
        forms.extend(longer(word, usual, true).into_iter().map(|form| form.0));
        for form in listed {
            forms.extend(shorter(form, true).into_iter().map(|form| form.0));
        }
        for wanted in counts {
            let added = if ways.is_empty() { 0 } else { *cost };
            if let Some(rank) = forms.iter().position(|form| count(form) == *wanted) {
                let reason = if rank < listed.len() { why } else { "sung so" };
                add(&mut ways, forms.swap_remove(rank), added, reason);
            }
        }
    }
    if is_of_le(word)
        && let Some(short) = listed.iter().find_map(|sounds| without_le(sounds))
    {
        add(&mut ways, short, 0, "sung so");
    }
    for sounds in listed {
        let cost = if ways.is_empty() { 0 } else { LISTED };
        add(&mut ways, sounds.clone(), cost, why);
    }
    let counts: Vec<usize> = ways.iter().map(|way| count(&way.sounds)).collect();
    for (sounds, rule) in shorter(usual, false) {
        if !counts.contains(&count(&sounds)) {
            add(&mut ways, sounds, RULE, rule);
        }
    }
    for (sounds, rule) in longer(word, usual, false) {
        if !counts.contains(&count(&sounds)) {
            add(
                &mut ways,
                sounds,
                if rule == "sounded -ed" {
                    SOUNDED_ED
                } else {
                    DIAERESIS
                },
                rule,
            );
        }
    }
    ways
}

/// The default sounds of a word that is listed with `first` and, where its count varies, with others.
pub(super) fn usual(
    word: &str,
    first: Vec<Sound>,
    listed: impl Fn() -> Vec<Vec<Sound>>,
) -> Vec<Sound> {
    if varying(word).is_none() && !is_of_le(word) {
        return first;
    }
    ways(word, &listed(), "")
        .into_iter()
        .next()
        .map_or(first, |way| way.sounds)
}

/// Whether a word is *trembl-ing*, *trembl-er*, from a verb in -le.
fn is_of_le(word: &str) -> bool {
    let word = word.strip_suffix('s').unwrap_or(word);
    let stem = word
        .strip_suffix("ing")
        .or_else(|| word.strip_suffix("er"))
        .or_else(|| word.strip_suffix("est"))
        .filter(|stem| stem.len() > 3);
    stem.is_some_and(|stem| {
        let after_consonant =
            matches!(stem.as_bytes(), [.., before, b'l'] if !b"aeiouylrw".contains(before));
        after_consonant && dictionary::has_with(stem, "e")
    })
}

/// *trem-bling* for *trem-bl-ing*; `None` where the sounds are not the latter.
fn without_le(sounds: &[Sound]) -> Option<Vec<Sound>> {
    let last = sounds.iter().rposition(|sound| sound.is_vowel())?;
    let at = last.checked_sub(2)?;
    let is_le = phone_at(sounds, at + 1) == Some(L)
        && phone_at(sounds, at) == Some(AH)
        && is_weak(sounds, at);
    let mut form = sounds.to_vec();
    is_le.then(|| form.remove(at)).map(|_| form)
}

fn add(ways: &mut Vec<Way>, sounds: Vec<Sound>, cost: u32, why: &'static str) {
    let same = |way: &Way| way.sounds.len() == sounds.len() && same_sung(&way.sounds, &sounds);
    if !ways.iter().any(same) {
        ways.push(Way { sounds, cost, why });
    }
}

/// Whether two ways differ only in the stress of a single syllable, or in AH0 for IH0.
fn same_sung(one: &[Sound], other: &[Sound]) -> bool {
    let single = count(one) == 1;
    one.iter().zip(other).all(|(a, b)| {
        let weak = a.is_unstressed_vowel()
            && b.is_unstressed_vowel()
            && matches!((a.phone, b.phone), (AH, IH) | (IH, AH));
        a == b || weak || (single && a.phone == b.phone)
    })
}

/// The row of a word, or of the word without -s, -'s, -ed.
fn varying(word: &str) -> Option<(&str, &'static [usize], &'static u32)> {
    let row_of = |stem: &str| {
        let row = || VARYING.iter().find(|row| row.0.contains(&stem));
        VARYING_OUTLINES.may_have(stem).then(row).flatten()
    };
    let stems = [
        Some(word),
        word.strip_suffix("'s"),
        word.strip_suffix('s'),
        word.strip_suffix("ed"),
        word.strip_suffix('d'),
    ];
    let (stem, row) = stems
        .into_iter()
        .flatten()
        .find_map(|stem| Some((stem, row_of(stem)?)))?;
    // An ending that is a syllable itself (*interested*) changes the counts.
    let syllabic = stem != word
        && stem.ends_with(['t', 'd', 's', 'e'])
        && !matches!(word.strip_prefix(stem), Some("d" | "s" | "'s"));
    (!syllabic).then_some((stem, row.1, &row.2))
}

/// The named form with the ending of an inflected word.
fn with_ending(mut sounds: Vec<Sound>, word: &str, stem: &str) -> Vec<Sound> {
    let Some(last) = sounds.last().copied() else {
        return sounds;
    };
    let ending = match word.strip_prefix(stem) {
        Some("s" | "'s") => super::written::plural(last),
        _ => "",
    };
    sounds.extend(Sound::parse_all(ending).unwrap_or_default());
    sounds
}

type Form = (Vec<Sound>, &'static str);

fn phone_at(sounds: &[Sound], at: usize) -> Option<Phone> {
    sounds.get(at).map(|sound| sound.phone)
}

fn is_weak(sounds: &[Sound], at: usize) -> bool {
    sounds
        .get(at)
        .is_some_and(|sound| sound.is_unstressed_vowel())
}

/// The ways to sing one syllable fewer. `known` words may lose what no rule lets others lose.
fn shorter(sounds: &[Sound], known: bool) -> Vec<Form> {
    let mut forms = Vec::new();
    for at in 1..sounds.len() {
        if !is_weak(sounds, at) {
            continue;
        }
        let rule = glide(sounds, at)
            .or_else(|| syncope(sounds, at, known))
            .or_else(|| hiatus(sounds, at, known))
            .or_else(|| ending(sounds, at, known));
        if let Some((form, rule)) = rule {
            forms.push((form, rule));
        }
    }
    forms
}

/// Synaeresis: i, u or o between a consonant and an unstressed vowel glides, *glor-yous*, *foll-wing* (Bysshe 1708).
fn glide(sounds: &[Sound], at: usize) -> Option<Form> {
    let glide = match phone_at(sounds, at)? {
        IY => Y,
        UW | OW => W,
        _ => return None,
    };
    let after_consonant =
        phone_at(sounds, at.checked_sub(1)?).is_some_and(|phone| !phone.is_vowel());
    let has_vowel_before = sounds.iter().take(at).any(|sound| sound.is_vowel());
    if !is_weak(sounds, at + 1) || !after_consonant || !has_vowel_before {
        return None;
    }
    let mut form = sounds.to_vec();
    *form.get_mut(at)? = Sound::new(glide, Stress::None);
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

/// Two vowels side by side run together: *high'r*, *flow'r*; for known words others too, *po'm*.
fn hiatus(sounds: &[Sound], at: usize, known: bool) -> Option<Form> {
    let first = sounds
        .get(at.checked_sub(1)?)
        .filter(|sound| sound.is_vowel())?;
    let gliding = matches!(first.phone, AY | AW) && first.is_stressed();
    let second = phone_at(sounds, at)?;
    let mergeable = known || (gliding && matches!(second, ER | AH | IH));
    if !mergeable || !first.is_stressed() || phone_at(sounds, at + 1).is_some_and(Phone::is_vowel) {
        return None;
    }
    let mut form = sounds.to_vec();
    take_out(&mut form, at);
    Some((form, "run together"))
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
fn longer(word: &str, sounds: &[Sound], known: bool) -> Vec<Form> {
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
                if next.is_vowel() && is_weak(sounds, at + 1) && at > 0 && has_gliding_i(word) =>
            {
                Some((at, IY, true))
            }
            // *na-ti-on*, *o-ce-an*.
            (Some(SH), Some(AH)) if is_weak(sounds, at + 1) && at > 0 && is_hushed(word) => {
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

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use crate::words::lists;

    fn counts(word: &str) -> Vec<(usize, u32)> {
        let listed: Vec<Vec<Sound>> = lists::fixed(word).unwrap_or_else(|| {
            dictionary::lookup(word)
                .map(|said| said.sounds().collect())
                .collect()
        });
        let listed = if listed.is_empty() { vec![] } else { listed };
        ways(word, &listed, "dictionary")
            .iter()
            .map(|way| (count(&way.sounds), way.cost))
            .collect()
    }

    #[test]
    fn every_row_gives_its_counts() {
        for (words, wanted, cost) in VARYING {
            for word in *words {
                let found = counts(word);
                assert_eq!(found.first().copied(), Some((wanted[0], 0)), "{word}");
                for other in wanted.iter().skip(1) {
                    assert!(found.contains(&(*other, *cost)), "{word} {found:?}");
                }
            }
        }
    }

    #[test]
    fn no_word_has_two_rows() {
        let mut words: Vec<&str> = VARYING
            .iter()
            .flat_map(|row| row.0.iter().copied())
            .collect();
        let all = words.len();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), all);
    }

    #[test]
    fn rules_for_words_without_a_row() {
        assert_eq!(counts("temperance"), [(3, 0), (2, LISTED)]);
        assert_eq!(counts("slavery"), [(3, 0), (2, RULE)]);
        assert_eq!(counts("fabulous"), [(3, 0), (2, RULE)]);
        assert_eq!(counts("victorious"), [(4, 0), (3, RULE)]);
        assert_eq!(counts("following"), [(3, 0), (2, RULE)]);
        assert_eq!(counts("walked"), [(1, 0), (2, SOUNDED_ED)]);
        assert_eq!(counts("nation"), [(2, 0), (3, DIAERESIS)]);
        assert_eq!(counts("bed"), [(1, 0)]);
        assert_eq!(counts("indeed"), [(2, 0)]);
        assert_eq!(counts("powers"), [(2, 0), (1, RULE)]);
        assert_eq!(counts("hours"), [(1, 0), (2, LISTED)]);
    }

    #[test]
    fn a_stressed_vowel_never_goes() {
        assert_eq!(counts("sonorous").first(), Some(&(3, 0)));
        for (form, _) in shorter(&Sound::parse_all("D IH0 V AW1 R IH0 NG").unwrap(), false) {
            assert!(
                form.iter()
                    .any(|sound| sound.stress == Some(Stress::Primary))
            );
        }
    }
}
