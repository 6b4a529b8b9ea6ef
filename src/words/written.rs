//! Words whose writing already says how they are sung: contractions, dropped letters, elisions, stretched vowels,
//! sounds without a vowel. What is written so has one reading.

use super::phone::{Phone, Sound, Stress};
use super::search::Search;
use super::syllables::is_onset;
use super::{estimate, lists, parts};

/// What a written elision gives.
pub(super) struct Spoken {
    pub(super) sounds: Vec<Sound>,
    pub(super) why: &'static str,
    /// Letters at which a part of the word begins.
    pub(super) bounds: Vec<usize>,
    /// Whether the word behind it is known.
    pub(super) sure: bool,
}

impl Spoken {
    fn new(sounds: Vec<Sound>, why: &'static str, bounds: Vec<usize>) -> Self {
        Self {
            sounds,
            why,
            bounds,
            sure: true,
        }
    }
}

/// Sounds that are no words, each letter once.
#[rustfmt::skip]
const WORDLESS: &[&str] = &[
    "br", "f", "ft", "gr", "h", "hm", "hmf", "hmp", "hmph", "hst", "m", "mh", "mhm", "mph", "n", "nh", "pf", "pft", "ph", "pst", "r", "s", "sh",
    "sht", "st", "t", "th", "tsk", "z",
];

/// Whether this is a sound that is no word, however stretched: *mmm*, *shhh*, *psst*. A lone letter is a letter.
pub(super) fn is_wordless(word: &str) -> bool {
    if word.len() < 2 || !is_vowelless(word) {
        return false;
    }
    let mut letters: Vec<u8> = word.bytes().collect();
    letters.dedup();
    WORDLESS.iter().any(|row| row.as_bytes() == letters)
}

/// Whether the word has no vowel letter and no y, nor a letter of another script.
pub(super) fn is_vowelless(word: &str) -> bool {
    !word.is_empty()
        && word.bytes().all(|letter| {
            letter.is_ascii_lowercase()
                && !matches!(letter, b'a' | b'e' | b'i' | b'o' | b'u' | b'y')
        })
}

/// The sounds of *mmm*, *hmm*, *shh*, *psst*: consonants, one syllable. `None` for anything else.
pub(super) fn wordless(word: &str) -> Option<Vec<Sound>> {
    if !is_wordless(word) || lists::fixed(word).is_some() || super::dictionary::has(word) {
        return None;
    }
    let mut letters: Vec<u8> = word.bytes().collect();
    letters.dedup();
    let mut sounds: Vec<Sound> = estimate::sounds(&String::from_utf8_lossy(&letters), None);
    sounds.retain(|sound| !sound.is_vowel());
    (!sounds.is_empty()).then_some(sounds)
}

/// The word with every letter that stands three times or more reduced: to two if that is known, else to one.
/// `None` where no letter does.
pub(super) fn unstretched(word: &str, known: impl Fn(&str) -> bool) -> Option<String> {
    let single = squeezed(word, 1);
    let double = squeezed(word, 2);
    if double == word {
        return None;
    }
    // A stretched end is more often a single letter: *sooo*, *nooo*, *heyyy*; not *seee*.
    let open = matches!(
        single.as_str(),
        "so" | "no"
            | "go"
            | "oh"
            | "me"
            | "he"
            | "we"
            | "she"
            | "be"
            | "who"
            | "do"
            | "to"
            | "you"
            | "hey"
            | "ah"
            | "my"
    );
    if (open && known(&single)) || !known(&double) {
        let one_by_one = known(&single).then_some(single);
        return Some(one_by_one.unwrap_or(double));
    }
    Some(double)
}

/// Runs of three and more cut down to `keep`.
fn squeezed(word: &str, keep: usize) -> String {
    let letters: Vec<char> = word.chars().collect();
    letters
        .chunk_by(|a, b| a == b)
        .flat_map(|run| {
            run.iter()
                .take(if run.len() > 2 { keep } else { run.len() })
        })
        .collect()
}

/// The sounds of a word that is written with an apostrophe, or that has lost its g.
pub(super) fn spoken(word: &str, search: &Search<'_>, depth: usize) -> Option<Spoken> {
    if !word.contains('\'') {
        return lost_g(word, search);
    }
    if let Some(inner) = quoted(word)
        && search.known(inner).is_some()
    {
        return Some(Spoken::new(search.sounds(inner, depth), "word", Vec::new()));
    }
    ending(word, search, depth)
        .or_else(|| lost_g(word, search))
        .or_else(|| beginning(word, search, depth))
        .or_else(|| restored(word, search))
        .or_else(|| edges(word, search, depth))
        .or_else(|| Some(bare(word)))
}

/// The word without apostrophes at both ends, or at its end.
fn quoted(word: &str) -> Option<&str> {
    let inner = word.trim_matches('\'');
    (inner.len() < word.len() && !inner.contains('\'') && !inner.is_empty())
        .then_some(inner)
        .filter(|_| word.ends_with('\'') && !word.ends_with("in'"))
}

/// n't, 'd, 've, 'll, 're, 's, 'm, 'st, 't, and several of them in turn (*shouldn't've*).
fn ending(word: &str, search: &Search<'_>, depth: usize) -> Option<Spoken> {
    for suffix in [
        "n't", "'ve", "'ll", "'re", "'st", "'dst", "'em", "'d", "'s", "'m", "'t",
    ] {
        let Some(base) = word
            .strip_suffix(suffix)
            .filter(|base| base.len() > usize::from(suffix == "'t"))
        else {
            continue;
        };
        let is_bare = !base
            .bytes()
            .any(|letter| matches!(letter, b'a' | b'e' | b'i' | b'o' | b'u' | b'y'));
        if (base.starts_with('\'') && base.len() < 2) || (suffix == "'m" && is_bare) {
            continue;
        }
        let mut sounds = match suffix {
            "'d" => past_base(base, search).unwrap_or_else(|| search.sounds(base, depth)),
            "'st" | "'dst" => {
                super::affixes::base_of(base, search).unwrap_or_else(|| search.sounds(base, depth))
            }
            _ => search.sounds(base, depth),
        };
        let last = *sounds.last()?;
        let added = added(suffix, last, base);
        let syllabic = added.contains("AH0") || added.contains("ER0") || added.contains("IH0");
        sounds.extend(Sound::parse_all(added)?);
        // n't begins its own part with the n: *did-n't*; the others with their apostrophe.
        let bounds = if syllabic {
            vec![base.len()]
        } else {
            Vec::new()
        };
        let why = if suffix == "'d" || suffix == "'st" {
            "written elision"
        } else {
            "contraction"
        };
        return Some(Spoken::new(sounds, why, bounds));
    }
    if let Some(base) = word.strip_suffix("s'") {
        let plural = format!("{base}s");
        return Some(Spoken::new(
            search.sounds(&plural, depth),
            "possessive",
            Vec::new(),
        ));
    }
    None
}

fn added(suffix: &str, last: Sound, base: &str) -> &'static str {
    // *river'll* has its vowel: ER is one, but ends in r.
    let after_vowel = last.is_vowel() && last.phone != Phone::ER;
    match suffix {
        "n't" => "AH0 N T",
        "'ve" if after_vowel => "V",
        "'ve" => "AH0 V",
        "'ll" if after_vowel => "L",
        "'ll" => "AH0 L",
        "'re" if last.is_vowel() => "R",
        "'re" => "ER0",
        "'em" => "AH0 M",
        "'d" if matches!(last.phone, Phone::T | Phone::D) && !is_poetic(base) => "AH0 D",
        "'d" => past(last),
        "'s" => plural(last),
        "'m" => "M",
        "'st" | "'dst" => "S T",
        _ => "T",
    }
}

/// A stem that the contraction left without its e (*lov'd*) is a verb; then 'd is -ed.
fn past_base(base: &str, search: &Search<'_>) -> Option<Vec<Sound>> {
    search
        .known(base)
        .or_else(|| super::affixes::base_of(base, search))
}

fn is_poetic(base: &str) -> bool {
    base.contains('\'')
}

/// The ending -ed after this sound, without a vowel unless it needs one: IH0 D after T and D, T after other voiceless
/// sounds, else D. Every grammar of English.
pub(super) fn past(last: Sound) -> &'static str {
    match last.phone {
        Phone::T | Phone::D => "IH0 D",
        phone if phone.is_voiced() => "D",
        _ => "T",
    }
}

/// The ending -s after this sound: IH0 Z after hissing ones, S after other voiceless ones, else Z.
pub(super) fn plural(last: Sound) -> &'static str {
    match last.phone {
        phone if phone.is_sibilant() => "IH0 Z",
        phone if phone.is_voiced() => "Z",
        _ => "S",
    }
}

/// *singin'*, *singin*: -ing with N.
fn lost_g(word: &str, search: &Search<'_>) -> Option<Spoken> {
    let stem = word
        .strip_suffix("in'")
        .or_else(|| word.strip_suffix("in"))
        .filter(|stem| stem.len() > 1)?;
    let stem = stem.trim_start_matches('\'');
    let full = format!("{stem}ing");
    let mut sounds = match search.known(&full) {
        Some(sounds) => sounds,
        None if word.ends_with('\'') => super::affixes::suffixed(&full, search, 2).map_or_else(
            || estimate::sounds(&full, search.model),
            |derived| derived.sounds,
        ),
        None => return None,
    };
    let last = sounds.last_mut()?;
    if last.phone != Phone::NG {
        return None;
    }
    last.phone = Phone::N;
    Some(Spoken::new(
        sounds,
        "-in'",
        vec![parts::bounds::suffix_start(stem)],
    ))
}

/// o'er-, th', t', d', l', o', m' before a word.
fn beginning(word: &str, search: &Search<'_>, depth: usize) -> Option<Spoken> {
    let (head, sounds) = [
        ("o'er", "AO1 R"),
        ("ne'er", "N EH1 R"),
        ("e'er", "EH1 R"),
        ("th'", "DH"),
        ("t'", "T"),
        ("d'", "D"),
        ("l'", "L"),
        ("j'", "ZH"),
        ("qu'", "K"),
        ("y'", "Y"),
        ("o'", "OW0"),
        ("i'", "IH0"),
        ("m'", "M AH0 K"),
        ("s'", "S"),
        ("g'", "G"),
        ("c'", "K"),
        ("b'", "B"),
        ("p'", "P"),
    ]
    .into_iter()
    .find(|(head, _)| word.starts_with(head) && word.len() > head.len() + 1)?;
    let rest = word.get(head.len()..)?;
    let mut joined = Sound::parse_all(sounds)?;
    let bounds = if joined.iter().any(|sound| sound.is_vowel()) {
        vec![head.len()]
    } else {
        Vec::new()
    };
    joined.extend(search.sounds(rest, depth));
    // *th'* and *t'* never have a vowel again.
    if !matches!(head, "th'" | "t'") {
        separate_onset(&mut joined);
    }
    Some(Spoken {
        sure: search.known(rest).is_some(),
        ..Spoken::new(joined, "written elision", bounds)
    })
}

/// The vowel that an apostrophe stands for is put back, the word is looked up, and the vowel's sound is taken out again.
fn restored(word: &str, search: &Search<'_>) -> Option<Spoken> {
    let at = word.find('\'').filter(|at| *at > 0)?;
    let (left, right) = (word.get(..at)?, word.get(at + 1..)?);
    if right.is_empty() || right.contains('\'') {
        return None;
    }
    let letters = [
        "e", "o", "i", "a", "u", "ou", "v", "h", "ve", "g", "t", "th", "w", "ai",
    ];
    let full = |lost: &str| format!("{left}{lost}{right}");
    let listed = letters
        .iter()
        .find_map(|lost| Some((lost, search.known(&full(lost))?)));
    let (lost, sounds) = listed.or_else(|| {
        letters
            .iter()
            .find_map(|lost| Some((lost, super::affixes::derive(&full(lost), search, 1)?.sounds)))
    })?;
    let mut sounds = without_sound_of(&full(lost), at..at + lost.len(), sounds);
    if at < 3 {
        separate_onset(&mut sounds);
    }
    Some(Spoken::new(sounds, "written elision", Vec::new()))
}

/// A neutral vowel behind the first sound where the consonants cannot open a syllable: *g'day*, *y'see*, *b'fore*, but
/// *s'pose*, *th'unjust*.
fn separate_onset(sounds: &mut Vec<Sound>) {
    let opening: Vec<Phone> = sounds
        .iter()
        .map(|sound| sound.phone)
        .take_while(|phone| !phone.is_vowel())
        .collect();
    if opening.len() > 1 && opening.len() < sounds.len() && !is_onset(&opening) {
        sounds.insert(1, Sound::new(Phone::AH, Stress::None));
    }
}

/// Takes out the unstressed vowel that these letters stand for; an ER leaves its R. A stressed vowel stays.
fn without_sound_of(
    word: &str,
    letters: std::ops::Range<usize>,
    mut sounds: Vec<Sound>,
) -> Vec<Sound> {
    let Some((groups, _)) = super::align::align(word.as_bytes(), &sounds) else {
        return sounds;
    };
    let at = groups.iter().zip(&sounds).position(|(group, sound)| {
        sound.is_unstressed_vowel() && group.start < letters.end && group.end > letters.start
    });
    if let Some(at) = at {
        // *wand'red*: between consonants r is a vowel still.
        let beside_vowel = [at.checked_sub(1), Some(at + 1)]
            .into_iter()
            .flatten()
            .any(|near| sounds.get(near).is_some_and(|sound| sound.is_vowel()));
        let is_er = sounds.get(at).is_some_and(|sound| sound.phone == Phone::ER);
        if !is_er || beside_vowel {
            take_out(&mut sounds, at);
        }
    }
    sounds
}

/// Takes out a vowel; an ER leaves its R.
pub(super) fn take_out(sounds: &mut Vec<Sound>, at: usize) {
    match sounds.get_mut(at) {
        Some(sound) if sound.phone == Phone::ER => *sound = Sound::new(Phone::R, Stress::None),
        Some(_) => {
            sounds.remove(at);
        }
        None => {}
    }
}

/// A lost first h ('ouse), a stray sign in front or behind.
fn edges(word: &str, search: &Search<'_>, depth: usize) -> Option<Spoken> {
    let bare = word.trim_matches('\'');
    if bare.is_empty() || bare.len() == word.len() || bare.contains('\'') {
        return None;
    }
    let with_h = format!("h{bare}");
    if word.starts_with('\'')
        && is_h_dropped(bare, search)
        && let Some(sounds) = search.known(&with_h)
    {
        let sounds = sounds
            .into_iter()
            .skip_while(|sound| sound.phone == Phone::HH)
            .collect();
        return Some(Spoken::new(sounds, "lost h", Vec::new()));
    }
    let known = search.known(bare).is_some();
    Some(Spoken {
        sure: known,
        ..Spoken::new(search.sounds(bare, depth), "word", Vec::new())
    })
}

/// Words that stand in the dictionary without their h, too, but are meant with it behind an apostrophe.
fn is_h_dropped(bare: &str, search: &Search<'_>) -> bool {
    let opens_with_vowel = bare.starts_with(['a', 'e', 'i', 'o', 'u', 'y']);
    let meant = matches!(
        bare,
        "ad" | "ard"
            | "art"
            | "as"
            | "ave"
            | "arm"
            | "air"
            | "eart"
            | "ead"
            | "ear"
            | "eat"
            | "ell"
            | "ere"
            | "er"
            | "im"
            | "is"
            | "ill"
            | "it"
            | "old"
            | "ole"
            | "ome"
            | "ope"
            | "ouse"
            | "ow"
            | "urt"
    );
    opens_with_vowel && (meant || search.known(bare).is_none())
}

/// Nothing known: the letters without their apostrophes.
fn bare(word: &str) -> Spoken {
    let letters: String = word.chars().filter(|letter| *letter != '\'').collect();
    Spoken {
        sure: false,
        ..Spoken::new(estimate::sounds(&letters, None), "estimate", Vec::new())
    }
}
