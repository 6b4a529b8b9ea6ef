//! Where the parts of which a word is made begin: prefixes, suffixes, second words.

use super::super::dictionary;
use super::super::outlines::Outlines;
use super::super::phone::{Phone, Sound};
use super::is_vowel_letter;

/// The bounds given, and those of the prefixes, suffixes and second words that the letters show.
pub(super) fn word_bounds(word: &str, sounds: &[Sound], given: &[usize]) -> Vec<usize> {
    let mut bounds = given.to_vec();
    if word.len() > 4 && word.starts_with("mc") {
        bounds.push(2);
    }
    let is_you = sounds.first().is_some_and(|sound| sound.phone == Phone::Y);
    for prefix in ["un", "dis", "mis", "with", "out", "up", "trans"] {
        if word.bytes().next() != prefix.bytes().next() {
            continue;
        }
        let rest = word.strip_prefix(prefix).unwrap_or_default().as_bytes();
        let opens = rest.len() > 2
            && !(prefix == "trans" && rest.first().is_some_and(|letter| is_vowel_letter(*letter)));
        if opens && !is_you {
            bounds.push(prefix.len());
        }
    }
    let mut stem = word
        .strip_suffix("'s")
        .or_else(|| word.strip_suffix("s'"))
        .unwrap_or(word);
    if let Some(base) = stem
        .strip_suffix("es")
        .filter(|base| base.len() > 2 && has_syllabic_s(sounds))
    {
        bounds.push(base.len());
        stem = base;
    } else {
        stem = stem.strip_suffix('s').unwrap_or(stem);
    }
    bounds.extend(second_word(stem, sounds));
    for ending in ["ing", "er"] {
        // *trem-bling*, *strug-gler*, but *tick-ling*.
        if let Some(base) = stem
            .strip_suffix(ending)
            .filter(|base| base.len() > 3 && is_of_le(base))
        {
            bounds.push(base.len() - if base.ends_with("ckl") { 1 } else { 2 });
        }
    }
    // *mean-ing-ful*, *in-creas-ing-ly*.
    for _ in 0..3 {
        let Some((base, bound)) = suffix(stem) else {
            break;
        };
        bounds.push(bound);
        stem = base;
    }
    bounds
}

/// *hous-es*: -es that is a syllable, behind a hiss.
fn has_syllabic_s(sounds: &[Sound]) -> bool {
    matches!(sounds, [.., before, vowel, last] if before.phone.is_sibilant() && vowel.is_unstressed_vowel() && last.phone == Phone::Z)
}

/// A suffix and whether it may stand behind these letters.
type Suffix = (&'static str, fn(&str) -> bool);

/// The longer ones first.
#[rustfmt::skip]
const SUFFIXES: &[Suffix] = &[
    ("ness", any), ("less", any), ("ful", any), ("ment", any), ("ship", any), ("hood", any), ("ward", any), ("some", any), ("ly", is_before_ly),
    ("ings", is_verb), ("ing", is_verb), ("ance", is_before_ance), ("ence", is_before_ance), ("able", is_long_word), ("ish", is_whole_word),
    ("ist", is_whole_word), ("ism", is_whole_word), ("ize", is_before_ize), ("ized", is_before_ize), ("izing", is_before_ize), ("istic", is_whole_word), ("ous", is_whole_word), ("ed", is_verb), ("er", is_agent),
    ("est", is_adjective), ("en", is_bare), ("al", is_before_al), ("y", is_noun),
];

/// The last suffix: what stands before it, and where it begins.
fn suffix(stem: &str) -> Option<(&str, usize)> {
    let last = stem.bytes().next_back();
    let same_end = |row: &&Suffix| row.0.bytes().next_back() == last;
    let mut ending_so = SUFFIXES.iter().filter(same_end);
    ending_so.find_map(|(suffix, stands_behind)| {
        let base = stem.strip_suffix(suffix)?;
        let bound = if *suffix == "y" {
            behind_doubling(base)
        } else {
            without_doubling(base)
        };
        (base.len() > 2 && stands_behind(base)).then_some((base, bound))
    })
}

/// Words that often stand second in a compound, in their order. Our list.
#[rustfmt::skip]
const SECOND: &[&str] = &[
    "apple", "at", "back", "bell", "bird", "board", "boat", "body", "bone", "book", "born", "break", "by", "child", "dance",
    "day", "dog", "door", "down", "dream", "east", "end", "ever", "eye", "fall", "father", "field", "fire", "fish", "flower",
    "foot", "hand", "head", "heart", "hill", "hole", "home", "house", "in", "land", "life", "light", "line", "long", "man",
    "mark", "moon", "more", "mother", "night", "of", "on", "one", "out", "over", "place", "port", "rain", "ring", "road",
    "room", "sand", "sea", "self", "shine", "ship", "shore", "side", "song", "star", "stone", "storm", "sun", "thing", "time",
    "times", "to", "tree", "under", "upon", "wards", "ware", "water", "way", "well", "west", "where", "while", "wich", "wide",
    "wife", "wind", "with", "wood", "word", "work", "world", "yard",
];

const SECOND_OUTLINES: Outlines = Outlines::NONE.and(SECOND);

/// The dictionary wavers between AA and AO.
fn plain(sound: Sound) -> Phone {
    match sound.phone {
        Phone::AA => Phone::AO,
        phone => phone,
    }
}

/// Where the second word begins: the sounds have to be those of the two.
fn second_word(word: &str, sounds: &[Sound]) -> Option<usize> {
    (3..word.len().saturating_sub(1)).find(|at| {
        let Some((left, right)) = word.split_at_checked(*at) else {
            return false;
        };
        if !SECOND_OUTLINES.may_have(right) || SECOND.binary_search(&right).is_err() {
            return false;
        }
        let phones = |word: &str| -> Vec<Vec<Phone>> {
            let listed = dictionary::lookup(word);
            listed
                .map(|said| said.sounds().map(plain).collect())
                .collect()
        };
        let seconds = phones(right);
        phones(left).iter().any(|left| {
            seconds.iter().any(|right| {
                let both = left.iter().chain(right);
                left.len() + right.len() <= sounds.len()
                    && both
                        .zip(sounds)
                        .all(|(phone, sound)| *phone == plain(*sound))
            })
        })
    })
}

/// Where the suffix begins: behind the base, or between the letters doubled for it (*run-ning*, but *call-ing*).
fn without_doubling(base: &str) -> usize {
    match base.as_bytes() {
        [.., a, b] if a == b && !is_vowel_letter(*a) => {
            let own = matches!(a, b'l' | b's' | b'f' | b'z') && dictionary::has(base);
            base.len() - usize::from(!own)
        }
        _ => base.len(),
    }
}

/// Whether the letters are those of a verb in -le without its e: *trembl*.
fn is_of_le(base: &str) -> bool {
    let after_consonant = matches!(base.as_bytes(), [.., before, b'l'] if !is_vowel_letter(*before) && !b"lrw".contains(before));
    after_consonant && dictionary::has_with(base, "e")
}

/// Behind a doubled letter's first half, always.
fn behind_doubling(base: &str) -> usize {
    match base.as_bytes() {
        [.., a, b] if a == b && !is_vowel_letter(*a) => base.len() - 1,
        _ => base.len(),
    }
}

fn any(_: &str) -> bool {
    true
}

/// *sim-ply* and *prob-a-bly* have their consonant with the l.
fn is_before_ly(base: &str) -> bool {
    !base.ends_with(['p', 'f', 'b'])
}

fn is_whole_word(base: &str) -> bool {
    base.len() > 3
        && !matches!(base, "cons" | "dent" | "publ")
        && !base.ends_with("ic")
        && dictionary::has(base)
}

/// A word of four letters or more, with its last e or without.
fn is_long_word(base: &str) -> bool {
    base.len() > 3 && (dictionary::has(base) || dictionary::has_with(base, "e"))
}

fn is_before_ize(base: &str) -> bool {
    base.ends_with('l') && dictionary::has(base)
}

/// *per-son-al*, *ar-riv-al*; but *mu-si-cal*, *fes-ti-val*, *u-ni-ver-sal*.
fn is_before_al(base: &str) -> bool {
    let verb = base.ends_with(['s', 'v']) && !base.ends_with("rs") && !base.ends_with("tiv");
    base == "person" || (verb && is_long_word(base))
}

/// *ap-pear-ance*, *dif-fer-ence*; but *im-por-tance*.
fn is_before_ance(base: &str) -> bool {
    let open = matches!(base.as_bytes(), [.., before, b'r'] if is_vowel_letter(*before));
    open && is_long_word(base)
}

fn is_verb(base: &str) -> bool {
    let rest = || {
        let prefixes = ["un", "out", "over", "re", "mis"];
        let rest = prefixes.iter().find_map(|prefix| base.strip_prefix(prefix));
        rest.filter(|rest| rest.len() > 3)
    };
    !is_of_le(base) && (is_listed_verb(base) || rest().is_some_and(is_listed_verb))
}

fn is_listed_verb(base: &str) -> bool {
    let undoubled = base.len() - 1;
    dictionary::has(base)
        || dictionary::has_with(base, "e")
        || (without_doubling(base) == undoubled
            && base.get(..undoubled).is_some_and(dictionary::has))
}

/// Letters before -er that are no verb or adjective, though they look like one. Our list.
const NO_AGENTS: &[&str] = &[
    "bann", "chart", "corn", "form", "furth", "lett", "mann", "mast", "numb", "off", "powd",
    "rend", "tend",
];

fn is_agent(base: &str) -> bool {
    !NO_AGENTS.contains(&base)
        && is_verb(base)
        && (dictionary::has_with(base, "ing") || dictionary::has_with(base, "est"))
}

fn is_adjective(base: &str) -> bool {
    base != "temp" && is_verb(base) && dictionary::has_with(base, "er")
}

/// *gold-en*, *dark-en*, *tak-en*; but *bro-ken*.
fn is_bare(base: &str) -> bool {
    if matches!(
        base,
        "bat" | "gard" | "hast" | "hav" | "kitch" | "lint" | "list" | "op"
    ) {
        return false;
    }
    let whole = dictionary::has(base) && dictionary::has_with(base, "s");
    whole
        || (dictionary::has_with(base, "e")
            && dictionary::has_with(base, "ing")
            && !base.ends_with("ok"))
}

fn is_noun(base: &str) -> bool {
    base.len() > 3
        && !matches!(
            base,
            "part" | "wear" | "drear" | "count" | "pant" | "bell" | "full" | "cher" | "bount"
        )
        && dictionary::has(base)
        && dictionary::has_with(base, "s")
        && dictionary::has_with(base, "ing")
}

/// Where a suffix behind this stem begins: behind it, or between the letters that were doubled for it.
pub(in super::super) fn suffix_start(stem: &str) -> usize {
    without_doubling(stem)
}
