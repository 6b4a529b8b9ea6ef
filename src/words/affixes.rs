//! Words built from listed ones: suffixes, prefixes, two words in one.

use super::dictionary;
use super::lists;
use super::parts;
use super::phone::{Phone, Sound, Stress};
use super::relatives;
use super::search::Search;
use super::stress;
use super::syllables::count;
use super::written::{past, plural};

/// A word put together from known pieces.
pub(super) struct Derived {
    pub(super) sounds: Vec<Sound>,
    /// Letters at which a piece begins.
    pub(super) bounds: Vec<usize>,
    pub(super) why: &'static str,
}

/// Suffix, its sounds, and how its base is spelled. Those whose sounds depend on the base have none here.
#[rustfmt::skip]
const SUFFIXES: &[(&str, &str, Base)] = &[
    ("'s", "", Base::Whole), ("s", "", Base::Plural), ("ed", "", Base::Vowel), ("ing", "IH0 NG", Base::Vowel),
    ("ness", "N AH0 S", Base::Consonant), ("less", "L AH0 S", Base::Consonant), ("ful", "F AH0 L", Base::Consonant),
    ("edly", "IH0 D L IY0", Base::Vowel), ("ally", "L IY0", Base::Ic),
    ("fully", "F AH0 L IY0", Base::Consonant), ("lessly", "L AH0 S L IY0", Base::Consonant),
    ("ward", "W ER0 D", Base::Consonant), ("wards", "W ER0 D Z", Base::Consonant), ("ship", "SH IH2 P", Base::Consonant),
    ("hood", "HH UH2 D", Base::Consonant), ("dom", "D AH0 M", Base::Consonant), ("some", "S AH0 M", Base::Consonant),
    ("like", "L AY2 K", Base::Consonant), ("wise", "W AY2 Z", Base::Consonant), ("ment", "M AH0 N T", Base::Consonant),
    ("man", "M AH0 N", Base::Whole), ("men", "M IH0 N", Base::Whole), ("let", "L AH0 T", Base::Consonant),
    ("est", "IH0 S T", Base::Vowel), ("eth", "IH0 TH", Base::Vowel), ("er", "ER0", Base::Vowel),
    ("able", "AH0 B AH0 L", Base::Vowel), ("ly", "", Base::Ly), ("ish", "IH0 SH", Base::Vowel), ("y", "IY0", Base::Vowel),
    ("ie", "IY0", Base::Vowel), ("en", "AH0 N", Base::Vowel), ("ism", "IH2 Z AH0 M", Base::Vowel), ("ist", "IH0 S T", Base::Vowel),
];

#[derive(Clone, Copy, PartialEq, Eq)]
enum Base {
    /// The letters before the suffix as they stand.
    Whole,
    /// -s, -es, -ies.
    Plural,
    /// Before a vowel: a silent e was dropped, a consonant doubled, y turned to i.
    Vowel,
    /// Before a consonant: y turned to i.
    Consonant,
    /// -ly: after -le and -ll too.
    Ly,
    /// -ally: after -ic.
    Ic,
}

/// A base has to be a word of the language, no name, for some affixes: SCOWL's sizes up to 70.
const COMMON: u8 = 4;

/// At this depth an affix is only taken from a word that is listed.
const DEEPEST: usize = 2;

/// Prefix, sounds.
#[rustfmt::skip]
const PREFIXES: &[(&str, &str)] = &[
    ("un", "AH0 N"), ("dis", "D IH0 S"), ("mis", "M IH0 S"), ("fore", "F AO1 R"), ("re", "R IY0"), ("over", "OW1 V ER0"),
    ("out", "AW1 T"), ("under", "AH1 N D ER0"), ("non", "N AA1 N"), ("up", "AH1 P"), ("be", "B IH0"), ("inter", "IH2 N T ER0"),
    ("super", "S UW1 P ER0"), ("anti", "AE2 N T IY0"), ("semi", "S EH1 M IY0"), ("counter", "K AW1 N T ER0"),
    ("sub", "S AH1 B"), ("mid", "M IH1 D"), ("pre", "P R IY0"), ("ever", "EH1 V ER0"), ("mc", "M AH0 K"), ("mac", "M AH0 K"),
    ("en", "EH0 N"), ("a", "AH0"),
];

/// The sounds of a word from those of its base and an affix, or from two words; `None` where no base is known.
pub(super) fn derive(word: &str, search: &Search<'_>, depth: usize) -> Option<Derived> {
    if word.len() < 4
        || word.len() > 40
        || depth > 3
        || !word
            .bytes()
            .all(|letter| letter.is_ascii_lowercase() || letter == b'\'')
    {
        return None;
    }
    relatives::base(word, search)
        .map(|base| sung_as_pieces(base, word, search))
        .or_else(|| suffixed(word, search, DEEPEST))
        .or_else(|| adverb(word, search))
        .or_else(|| prefixed(word, search, DEEPEST))
        .or_else(|| inflected(word, search, depth))
        .or_else(|| relatives::sibling(word, search))
        .or_else(|| compound(word, search))
        .or_else(|| suffixed(word, search, depth))
        .or_else(|| prefixed(word, search, depth))
        .or_else(|| place(word, search))
}

/// A piece is sung as the word by itself would be, which relatives do not tell: *fire-light* in two though *firelighter* is
/// listed with four.
fn sung_as_pieces(base: Derived, word: &str, search: &Search<'_>) -> Derived {
    let mut phones: Vec<Phone> = Vec::with_capacity(base.sounds.len());
    for sound in &base.sounds {
        let glides = sound.phone == Phone::ER
            && sound.is_unstressed_vowel()
            && phones.last().is_some_and(|last| last.is_vowel());
        phones.push(if glides { Phone::R } else { sound.phone });
    }
    let same = |pieces: &Derived| {
        pieces
            .sounds
            .iter()
            .map(|sound| sound.phone)
            .eq(phones.iter().copied())
    };
    compound(word, search).filter(same).unwrap_or(base)
}

/// With the -s of a noun or verb that is derived itself.
fn inflected(word: &str, search: &Search<'_>, depth: usize) -> Option<Derived> {
    word.ends_with('s')
        .then(|| suffixed(word, search, depth))
        .flatten()
}

/// The sounds of a verb or adjective whose spelling a suffix has changed: *lov* is *love*, *runn* is *run*.
pub(super) fn base_of(stem: &str, search: &Search<'_>) -> Option<Vec<Sound>> {
    bases(stem, Base::Vowel)
        .into_iter()
        .find_map(|base| search.known(&base))
}

/// The spellings that the base of a stem may have, likeliest first.
fn bases(stem: &str, base: Base) -> Vec<String> {
    let mut bases = Vec::new();
    match base {
        Base::Whole => bases.push(stem.to_string()),
        Base::Consonant => {
            bases.push(stem.to_string());
            bases.extend(stem.strip_suffix('i').map(|short| format!("{short}y")));
        }
        Base::Ic => bases.extend(stem.ends_with("ic").then(|| stem.to_string())),
        Base::Plural => {
            bases.extend(stem.strip_suffix("ie").map(|short| format!("{short}y")));
            bases.push(stem.to_string());
            bases.extend(stem.strip_suffix('e').map(str::to_string));
            bases.extend(stem.strip_suffix("ve").map(|short| format!("{short}f")));
        }
        Base::Vowel => {
            let doubled = matches!(stem.as_bytes(), [.., a, b] if a == b && !matches!(a, b'a' | b'e' | b'i' | b'o' | b'u'));
            if doubled && !stem.ends_with(['l', 's', 'f', 'z']) {
                bases.extend(stem.get(..stem.len() - 1).map(str::to_string));
            }
            bases.push(stem.to_string());
            if !doubled {
                bases.push(format!("{stem}e"));
            }
            if doubled {
                bases.extend(stem.get(..stem.len() - 1).map(str::to_string));
            }
            bases.extend(stem.strip_suffix('i').map(|short| format!("{short}y")));
            bases.extend(stem.strip_suffix('k').map(str::to_string));
        }
        Base::Ly => {
            bases.push(stem.to_string());
            bases.extend(stem.strip_suffix('i').map(|short| format!("{short}y")));
            bases.push(format!("{stem}le"));
            bases.push(format!("{stem}l"));
        }
    }
    bases
}

pub(super) fn suffixed(word: &str, search: &Search<'_>, depth: usize) -> Option<Derived> {
    for (suffix, sounds, base) in SUFFIXES {
        let Some(stem) = word.strip_suffix(suffix).filter(|stem| stem.len() > 1) else {
            continue;
        };
        if *suffix == "s" && stem.ends_with(['s', 'u', 'i']) {
            continue;
        }
        if *suffix == "y" && stem.ends_with(['a', 'e', 'o', 'u']) {
            continue;
        }
        let mut spellings = bases(stem, *base);
        if *base == Base::Vowel && relatives::wants_e(stem) {
            spellings.sort_by_key(|spelled| !spelled.ends_with('e'));
        }
        // Names come last: *traverse*, not *Travers*, is in *traversed*.
        spellings
            .sort_by_cached_key(|spelled| search.rank(spelled).is_none_or(|rank| rank > COMMON));
        for spelled in spellings {
            let is_name = search.rank(&spelled).is_some_and(|rank| rank > COMMON);
            if is_name
                && matches!(
                    *suffix,
                    "y" | "ie" | "en" | "er" | "est" | "ish" | "ist" | "ism"
                )
                || !has_vowel(&spelled)
            {
                continue;
            }
            let short =
                spelled.len() < 3 && !matches!(*suffix, "s" | "'s" | "ed" | "ing" | "est" | "eth");
            if short
                || (spelled.len() < 4
                    && matches!(*suffix, "y" | "ie" | "en" | "er" | "man" | "men" | "let"))
            {
                continue;
            }
            let known = search.known(&spelled).or_else(|| {
                let may_nest =
                    depth < DEEPEST && spelled.len() > 5 && !matches!(*suffix, "y" | "ie" | "en");
                may_nest
                    .then(|| derive(&spelled, search, depth + 1))
                    .flatten()
                    .map(|derived| derived.sounds)
            });
            let Some(base_sounds) =
                known.filter(|known| known.iter().any(|sound| sound.is_vowel()))
            else {
                continue;
            };
            let without = count(&base_sounds);
            let base = with_verb_ending(base_sounds, suffix, &spelled, stem);
            let sounds = add_suffix(suffix, sounds, base, &spelled)?;
            // *tem-pests*: where the suffix is no syllable, no part begins with it.
            let begins_part = count(&sounds) > without;
            return Some(Derived {
                sounds,
                bounds: begins_part
                    .then(|| parts::bounds::suffix_start(stem))
                    .into_iter()
                    .collect(),
                why: "suffix",
            });
        }
    }
    None
}

fn has_vowel(word: &str) -> bool {
    word.contains(['a', 'e', 'i', 'o', 'u', 'y'])
}

/// The base as it sounds before this suffix: verbs in -ate with their full vowel, which nouns of the same letters have not;
/// V for the F of *scarf* in *scarves*.
fn with_verb_ending(mut base: Vec<Sound>, suffix: &str, spelled: &str, stem: &str) -> Vec<Sound> {
    if let [.., vowel, last] = base.as_mut_slice() {
        if spelled.ends_with("ate")
            && matches!(suffix, "ed" | "ing" | "er")
            && last.phone == Phone::T
            && vowel.is_unstressed_vowel()
        {
            *vowel = Sound::new(Phone::EY, Stress::Secondary);
        }
        if suffix == "s" && spelled.ends_with('f') && stem.ends_with("ve") && last.phone == Phone::F
        {
            *last = Sound::new(Phone::V, Stress::None);
        }
    }
    base
}

fn add_suffix(
    suffix: &str,
    sounds: &str,
    mut base: Vec<Sound>,
    spelled: &str,
) -> Option<Vec<Sound>> {
    let last = *base.last()?;
    let added = match suffix {
        "'s" | "s" => plural(last),
        "ed" => past(last),
        // *marked-ly* in three, but *bewildered-ly*.
        "edly" if ends_weakly(&base) => "D L IY0",
        "ly" => {
            // *gently*: the AH0 L of -le goes; after L one L is enough.
            if spelled.ends_with("le") && last.phone == Phone::L && spelled.len() > 3 {
                base.pop();
                base.pop_if(|sound| sound.is_unstressed_vowel());
            } else if last.phone == Phone::L {
                base.pop();
                // *magically*: of -ical only the consonants stay.
                if spelled.ends_with("ical") {
                    base.pop_if(|sound| sound.is_unstressed_vowel());
                }
            }
            "L IY0"
        }
        _ => sounds,
    };
    let begins_with_vowel = Sound::parse_all(added)?
        .first()
        .is_some_and(|sound| sound.is_vowel());
    // *handling*, *rippled*: the neutral vowel of -le goes before a vowel.
    if begins_with_vowel
        && spelled.ends_with("le")
        && last.phone == Phone::L
        && !spelled.ends_with("ole")
    {
        let before = base.len().checked_sub(2)?;
        let removable = base
            .get(before)
            .is_some_and(|sound| sound.is_unstressed_vowel());
        if removable && matches!(suffix, "ing" | "er" | "est" | "y") {
            base.remove(before);
        }
    }
    base.extend(Sound::parse_all(added)?);
    Some(base)
}

/// Whether the last vowel has no stress and no T or D follows it.
fn ends_weakly(sounds: &[Sound]) -> bool {
    let vowel = sounds.iter().rev().find(|sound| sound.is_vowel());
    let last = sounds.last().map(|sound| sound.phone);
    vowel.is_some_and(|sound| sound.is_unstressed_vowel())
        && !matches!(last, Some(Phone::T | Phone::D))
}

/// *where-of*, *there-with*: the weight is on the second word.
fn adverb(word: &str, search: &Search<'_>) -> Option<Derived> {
    let (first, second) = ["where", "there", "here"]
        .iter()
        .find_map(|first| Some((first, word.strip_prefix(first)?)))?;
    let is_preposition = matches!(
        second,
        "about"
            | "after"
            | "at"
            | "by"
            | "from"
            | "in"
            | "into"
            | "of"
            | "on"
            | "to"
            | "under"
            | "unto"
            | "upon"
            | "with"
            | "withal"
    );
    let mut sounds = search.known(first)?;
    for sound in sounds.iter_mut().filter(|sound| sound.is_stressed()) {
        sound.stress = Some(Stress::Secondary);
    }
    sounds.extend(search.known(second)?);
    is_preposition.then(|| Derived {
        sounds,
        bounds: vec![first.len()],
        why: "compound",
    })
}

fn prefixed(word: &str, search: &Search<'_>, depth: usize) -> Option<Derived> {
    for (prefix, sounds) in PREFIXES {
        let shortest = match *prefix {
            "a" | "en" | "be" | "re" => 5,
            "mc" | "mac" => 3,
            _ => 4,
        };
        let Some(base) = word
            .strip_prefix(prefix)
            .filter(|base| base.len() >= shortest)
        else {
            continue;
        };
        let is_name = search.rank(base).is_some_and(|rank| rank > COMMON);
        if is_name && !matches!(*prefix, "mc" | "mac") {
            continue;
        }
        let known = search.known(base).or_else(|| {
            let may_nest = depth < DEEPEST && base.len() > 4;
            may_nest
                .then(|| suffixed(base, search, depth + 1))
                .flatten()
                .map(|derived| derived.sounds)
        });
        let Some(base_sounds) = known.filter(|known| known.iter().any(|sound| sound.is_vowel()))
        else {
            continue;
        };
        let mut joined = Sound::parse_all(sounds)?;
        if joined
            .iter()
            .any(|sound| sound.stress == Some(Stress::Primary))
        {
            for sound in joined.iter_mut().filter(|sound| sound.is_stressed()) {
                sound.stress = Some(Stress::Secondary);
            }
        }
        joined.extend(base_sounds);
        return Some(Derived {
            sounds: joined,
            bounds: vec![prefix.len()],
            why: "prefix",
        });
    }
    None
}

/// Short words that often make the first half of a compound; other halves need four letters.
#[rustfmt::skip]
const SHORT_HALVES: &[&str] = &[
    "air", "all", "any", "bed", "big", "bow", "box", "boy", "car", "cat", "cow", "cup", "day", "dew", "dog", "ear", "egg",
    "eve", "eye", "far", "fen", "fir", "fog", "fox", "gun", "hen", "her", "him", "hop", "hot", "ice", "ink", "ivy", "jaw",
    "key", "law", "lit", "log", "low", "man", "men", "mud", "new", "oak", "oar", "off", "oil", "old", "one", "out", "owl", "pen",
    "pig", "pin", "pot", "rag", "red", "rye", "sea", "sky", "son", "sun", "tea", "tin", "tip", "toe", "top", "toy", "tub",
    "war", "wax", "way", "wet",
];

/// Whether a word bends as common words do and names do not: *score* has *scored*, *scor* nothing.
fn is_common(word: &str) -> bool {
    let stem = word.strip_suffix(['e', 'y']).unwrap_or(word);
    let bent = |ending: &str| dictionary::has(&format!("{stem}{ending}"));
    SHORT_HALVES.contains(&word)
        || lists::fixed(word).is_some()
        || ["ing", "ed", "ly", "er", "ier", "ness", "less", "ful"]
            .into_iter()
            .any(bent)
        || dictionary::has(&format!("{word}s"))
        || dictionary::has(&format!("un{word}"))
        || dictionary::has(&format!("{word}{}ing", word.chars().last().unwrap_or('e')))
        || stress::is_function_word(word)
        || word.ends_with(['s', 'd', 'g', 'r', 'n'])
            && ["s", "ed", "ing", "er", "en"].into_iter().any(|ending| {
                word.strip_suffix(ending).is_some_and(|base| {
                    base.len() > 2
                        && (dictionary::has(base) || dictionary::has(&format!("{base}e")))
                })
            })
}

/// Endings of place names and how they are said, in the order of the words. Common practice, no source.
#[rustfmt::skip]
const PLACES: &[(&str, &str)] = &[
    ("borough", "B ER0 OW0"), ("brough", "B R AH0"), ("burgh", "B ER0 OW0"), ("bury", "B EH2 R IY0"), ("cester", "S T ER0"), ("field", "F IY2 L D"),
    ("ford", "F ER0 D"), ("ham", "AH0 M"), ("land", "L AH0 N D"), ("mouth", "M AH0 TH"), ("shire", "SH ER0"), ("stead", "S T EH2 D"), ("ton", "T AH0 N"),
    ("ville", "V IH0 L"), ("wick", "W IH0 K"), ("worth", "W ER0 TH"),
];

/// A place name of a listed name and an ending.
fn place(word: &str, search: &Search<'_>) -> Option<Derived> {
    let (name, ending, sounds) = PLACES.iter().find_map(|(ending, sounds)| {
        let name = word.strip_suffix(ending).filter(|name| name.len() > 2)?;
        Some((name, ending, sounds))
    })?;
    let mut joined = search.known(name)?;
    joined.extend(Sound::parse_all(sounds)?);
    Some(Derived {
        sounds: joined,
        bounds: vec![word.len() - ending.len()],
        why: "place name",
    })
}

/// Two common words in one: main stress on the first, the second's lowered. Of several cuts the most even one counts.
fn compound(word: &str, search: &Search<'_>) -> Option<Derived> {
    let is_half = |half: &str| half.len() > 3 || SHORT_HALVES.contains(&half);
    let mut cuts: Vec<usize> = (3..word.len().saturating_sub(2)).collect();
    let is_word = |half: &str| {
        SHORT_HALVES.contains(&half) || search.rank(half).is_some_and(|rank| rank <= COMMON)
    };
    cuts.sort_by_key(|cut| {
        let words = word
            .split_at_checked(*cut)
            .is_some_and(|(left, right)| is_word(left) && is_word(right));
        (!words, cut.abs_diff(word.len() - cut))
    });
    for cut in cuts {
        let Some((left, right)) = word.split_at_checked(cut) else {
            continue;
        };
        if !is_half(left) || !is_half(right) {
            continue;
        }
        let Some((mut sounds, mut second)) = search.known(left).zip(search.known(right)) else {
            continue;
        };
        if !is_common(left) || !is_common(right) {
            continue;
        }
        for sound in second.iter_mut().filter(|sound| sound.is_stressed()) {
            sound.stress = Some(Stress::Secondary);
        }
        sounds.extend(second);
        return Some(Derived {
            sounds,
            bounds: vec![cut],
            why: "compound",
        });
    }
    None
}
