//! What a word that is not listed may sound like, from its letters.
//!
//! Words are estimated by the trained model. What it does not know, letters without any vowel and signs, is read by rules
//! of English spelling from left to right, the longest group of letters first; then one main stress by the ending and the
//! number of syllables. Our table.

use super::model::{self, table::Table};
use super::phone::{Phone, Sound, Stress};
use super::syllables::count;
use Phone::*;

/// Letters of a group and the sounds they stand for.
type Spelled = (&'static str, &'static [Phone]);

/// Groups at the end of a word.
#[rustfmt::skip]
const ENDINGS: &[Spelled] = &[
    ("ically", &[IH, K, L, IY]), ("ying", &[AY, IH, NG]), ("uing", &[UW, IH, NG]), ("eing", &[IY, IH, NG]), ("iation", &[IY, EY, SH, AH, N]), ("iations", &[IY, EY, SH, AH, N, Z]), ("iest", &[IY, AH, S, T]), ("ier", &[IY, ER]),
    ("ean", &[IY, AH, N]), ("ion", &[Y, AH, N]), ("ions", &[Y, AH, N, Z]), ("ologies", &[AA, L, AH, JH, IY, Z]), ("ology", &[AA, L, AH, JH, IY]), ("tions", &[SH, AH, N, Z]), ("tion", &[SH, AH, N]),
    ("ssion", &[SH, AH, N]), ("sion", &[ZH, AH, N]), ("cious", &[SH, AH, S]), ("tious", &[SH, AH, S]), ("cial", &[SH, AH, L]),
    ("tial", &[SH, AH, L]), ("cian", &[SH, AH, N]), ("cient", &[SH, AH, N, T]), ("ture", &[CH, ER]), ("sure", &[ZH, ER]),
    ("shire", &[SH, ER]), ("borough", &[B, ER, OW]), ("cester", &[S, T, ER]), ("mouth", &[M, AH, TH]), ("wick", &[W, IH, K]),
    ("bury", &[B, EH, R, IY]), ("ough", &[OW]), ("que", &[K]), ("gue", &[G]), ("ques", &[K, S]), ("ous", &[AH, S]), ("ey", &[IY]), ("eys", &[IY, Z]),
    ("ies", &[IY, Z]), ("ie", &[IY]), ("y", &[IY]), ("ys", &[IY, Z]), ("mb", &[M]), ("ism", &[IH, Z, AH, M]), ("age", &[IH, JH]),
    ("ings", &[IH, NG, Z]), ("ing", &[IH, NG]), ("a", &[AH]), ("as", &[AH, Z]), ("o", &[OW]), ("os", &[OW, Z]), ("i", &[IY]), ("u", &[UW]), ("é", &[EY]),
];

/// Groups at the beginning of a word.
#[rustfmt::skip]
const OPENINGS: &[Spelled] = &[("kn", &[N]), ("gn", &[N]), ("wr", &[R]), ("ps", &[S]), ("pt", &[T]), ("mn", &[N]), ("x", &[Z]), ("wh", &[W]), ("y", &[Y]), ("rh", &[R])];

/// Groups anywhere.
#[rustfmt::skip]
const GROUPS: &[Spelled] = &[
    ("augh", &[AO]), ("eigh", &[EY]), ("ough", &[AO]), ("igh", &[AY]), ("tch", &[CH]), ("dg", &[JH]), ("sch", &[SH]), ("eau", &[OW]),
    ("oar", &[AO, R]), ("oor", &[AO, R]), ("our", &[AO, R]), ("air", &[EH, R]), ("ear", &[IH, R]), ("eer", &[IH, R]), ("ier", &[IY, ER]),
    ("ch", &[CH]), ("ck", &[K]), ("gh", &[G]), ("ph", &[F]), ("sh", &[SH]), ("th", &[TH]), ("qu", &[K, W]), ("ng", &[NG]), ("nk", &[NG, K]),
    ("zh", &[ZH]), ("kh", &[K]), ("ts", &[T, S]), ("bb", &[B]), ("cc", &[K]), ("dd", &[D]), ("ff", &[F]), ("gg", &[G]), ("kk", &[K]), ("ll", &[L]), ("mm", &[M]),
    ("nn", &[N]), ("pp", &[P]), ("rr", &[R]), ("ss", &[S]), ("tt", &[T]), ("vv", &[V]), ("zz", &[Z]), ("ai", &[EY]), ("ay", &[EY]),
    ("au", &[AO]), ("aw", &[AO]), ("ea", &[IY]), ("ee", &[IY]), ("ei", &[IY]), ("eu", &[Y, UW]), ("ew", &[UW]), ("ey", &[EY]), ("oa", &[OW]),
    ("oe", &[OW]), ("oi", &[OY]), ("oo", &[UW]), ("ou", &[AW]), ("ow", &[OW]), ("oy", &[OY]), ("ue", &[UW]), ("ui", &[UW]), ("ie", &[IY]),
    ("ae", &[EY]), ("ah", &[AA]), ("eh", &[EH]), ("oh", &[OW]), ("uh", &[AH]), ("ooh", &[UW]), ("aa", &[AA]),
    ("ar", &[AA, R]), ("er", &[ER]), ("ir", &[ER]), ("or", &[AO, R]), ("ur", &[ER]), ("yr", &[ER]),
    ("b", &[B]), ("c", &[K]), ("d", &[D]), ("f", &[F]), ("g", &[G]), ("h", &[HH]), ("j", &[JH]), ("k", &[K]), ("l", &[L]), ("m", &[M]), ("n", &[N]),
    ("p", &[P]), ("q", &[K]), ("r", &[R]), ("s", &[S]), ("t", &[T]), ("v", &[V]), ("w", &[W]), ("x", &[K, S]), ("z", &[Z]),
];

/// Groups behind the first syllable.
#[rustfmt::skip]
const INNER: &[Spelled] = &[
    ("tion", &[SH, AH, N]), ("ssion", &[SH, AH, N]), ("sion", &[ZH, AH, N]), ("cian", &[SH, AH, N]), ("sian", &[ZH, AH, N]),
    ("tial", &[SH, AH, L]), ("cial", &[SH, AH, L]), ("tious", &[SH, AH, S]), ("cious", &[SH, AH, S]),
];

/// What a silent e may stand before inside a word.
#[rustfmt::skip]
const BEHIND_SILENT_E: &[&str] = &[
    "ful", "land", "less", "ly", "man", "men", "ment", "ness", "some", "ton", "town", "ville", "ward", "wood",
];

/// Longer texts are read only so far.
const LONGEST: usize = 400;

/// How much less likely than the first a second reading may be, in thousandths of a nat: half as likely. Our choice.
const AS_GOOD: u32 = 693;

/// Plausible sounds of a word in plain lower-case letters, with one main stress. Never empty where there is a letter.
#[must_use]
pub fn sounds(word: &str, table: Option<&Table<'_>>) -> Vec<Sound> {
    readings(word, table).into_iter().next().unwrap_or_default()
}

/// As [`sounds`], likeliest first: further readings only where they have another number of syllables and are at least
/// half as likely as the first. Never empty.
#[must_use]
pub fn readings(word: &str, table: Option<&Table<'_>>) -> Vec<Vec<Sound>> {
    let word = word.get(..LONGEST).unwrap_or(word);
    let is_plain = word
        .bytes()
        .all(|letter| letter.is_ascii_lowercase() || letter == b'\'');
    if !is_plain || !word.bytes().any(|letter| is_vowel(Some(&letter))) {
        return vec![by_rules(word)];
    }
    let mut best: Vec<model::Estimate> = Vec::new();
    let estimates = table.map_or_else(
        || model::estimate(word),
        |table| model::estimate_with(table, word),
    );
    for estimate in estimates {
        let good = best
            .first()
            .is_none_or(|first| estimate.cost <= first.cost + AS_GOOD);
        let new = |other: &model::Estimate| count(&other.sounds) != count(&estimate.sounds);
        if good && best.iter().all(new) {
            best.push(estimate);
        }
    }
    if best.is_empty() {
        return vec![by_rules(word)];
    }
    best.into_iter().map(|estimate| estimate.sounds).collect()
}

fn by_rules(word: &str) -> Vec<Sound> {
    let letters: Vec<u8> = word
        .bytes()
        .filter(|letter| letter.is_ascii_alphabetic() || matches!(letter, b'#' | b'?'))
        .take(LONGEST)
        .collect();
    let mut sounds: Vec<Sound> = Vec::new();
    let mut at = 0;
    while at < letters.len() {
        at += read_at(&letters, at, &mut sounds);
    }
    sounds.dedup_by(|a, b| !a.is_vowel() && a == b);
    set_stress(&letters, &mut sounds);
    sounds
}

fn is_vowel(letter: Option<&u8>) -> bool {
    matches!(letter, Some(b'a' | b'e' | b'i' | b'o' | b'u' | b'y'))
}

/// Reads one group of letters; gives how many letters it has.
fn read_at(letters: &[u8], at: usize, sounds: &mut Vec<Sound>) -> usize {
    let rest = letters.get(at..).unwrap_or_default();
    let has_vowel = sounds.iter().any(|sound| sound.is_vowel());
    let add = |sounds: &mut Vec<Sound>, phones: &[Phone]| {
        sounds.extend(phones.iter().map(|phone| Sound::new(*phone, Stress::None)))
    };
    if has_vowel {
        let ending = ENDINGS.iter().find(|row| row.0.as_bytes() == rest);
        if let Some((_, phones)) = ending {
            add(sounds, phones);
            return rest.len();
        }
        if let Some(phones) = silent_end(letters, at, sounds) {
            add(sounds, phones);
            return rest.len();
        }
    }
    if has_vowel
        && let Some((group, phones)) = INNER.iter().find(|row| rest.starts_with(row.0.as_bytes()))
    {
        add(sounds, phones);
        return group.len();
    }
    let after_consonant = sounds.last().is_some_and(|sound| !sound.is_vowel());
    if let [b'e', behind @ ..] = rest
        && has_vowel
        && after_consonant
        && BEHIND_SILENT_E
            .iter()
            .any(|suffix| behind.starts_with(suffix.as_bytes()))
    {
        return 1;
    }
    if at == 0
        && let Some((group, phones)) = OPENINGS
            .iter()
            .find(|row| rest.starts_with(row.0.as_bytes()) && is_vowel(rest.get(row.0.len())))
    {
        add(sounds, phones);
        return group.len();
    }
    let soft = matches!(rest.get(1), Some(b'e' | b'i' | b'y'));
    match rest {
        [b'c', ..] if soft => add(sounds, &[S]),
        [b'g', b'e' | b'y', ..] if at > 0 => add(sounds, &[JH]),
        [b's', next, ..] if is_vowel(Some(next)) && at > 0 && is_vowel(letters.get(at - 1)) => {
            add(sounds, &[Z])
        }
        [b'y', next, ..] if is_vowel(Some(next)) && at > 0 && is_vowel(letters.get(at - 1)) => {
            add(sounds, &[Y])
        }
        // *orange*: the g is soft, so that no ng is heard.
        [b'n', b'g', b'e', ..] => add(sounds, &[N]),
        [b'?', ..] => add(
            sounds,
            if sounds.last().is_some_and(|sound| !sound.is_vowel()) {
                &[AH]
            } else {
                &[T]
            },
        ),
        [b'#', ..] => add(sounds, &[T, AA]),
        // Before a vowel behind it, r belongs there: *clarin-et*.
        [vowel @ (b'a' | b'e' | b'i' | b'o' | b'u'), b'r', next, ..] if is_vowel(Some(next)) => {
            let phone = if *vowel == b'a' { EH } else { short(*vowel) };
            add(sounds, &[if *vowel == b'o' { AO } else { phone }]);
        }
        _ => {
            if let Some((group, phones)) =
                GROUPS.iter().find(|row| rest.starts_with(row.0.as_bytes()))
            {
                add(sounds, phones);
                return group.len();
            }
            let letter = rest.first().copied().unwrap_or(b'e');
            let next_is_vowel = is_vowel(rest.get(1));
            let before_silent_e = !next_is_vowel && rest.get(2) == Some(&b'e') && rest.len() == 3;
            let open = before_silent_e
                || rest
                    .get(1..)
                    .is_some_and(|behind| behind.starts_with(b"tion"));
            let last = rest.len() == 1;
            add(
                sounds,
                if open || last || next_is_vowel {
                    long(letter)
                } else {
                    std::slice::from_ref(short_ref(letter))
                },
            );
        }
    }
    1
}

/// -e, -es, -ed and -le at the end, where the e is not a vowel of its own.
fn silent_end(letters: &[u8], at: usize, sounds: &[Sound]) -> Option<&'static [Phone]> {
    let last = sounds.last()?;
    let before = letters.get(at.checked_sub(1)?)?;
    match letters.get(at..)? {
        [b'e'] => Some(&[]),
        [b'l', b'e'] if !is_vowel(Some(before)) && *before != b'l' && *before != b'r' => {
            Some(&[AH, L])
        }
        [b'l', b'e', b's'] if !is_vowel(Some(before)) && *before != b'l' && *before != b'r' => {
            Some(&[AH, L, Z])
        }
        [b'l', b'e', b'd'] if !is_vowel(Some(before)) && *before != b'l' && *before != b'r' => {
            Some(&[AH, L, D])
        }
        [b'r', b'e'] if matches!(before, b'b' | b'c' | b'd' | b't') => Some(&[ER]),
        [b'r', b'e', b's'] if matches!(before, b'b' | b'c' | b'd' | b't') => Some(&[ER, Z]),
        [b'e', b'd'] if last.is_vowel() && matches!(before, b'w' | b'y') => Some(&[D]),
        [b'e', b's'] if !last.phone.is_sibilant() && !last.is_vowel() => {
            Some(if last.phone.is_voiced() { &[Z] } else { &[S] })
        }
        [b'e', b'd'] if !matches!(last.phone, T | D) && !last.is_vowel() => {
            Some(if last.phone.is_voiced() { &[D] } else { &[T] })
        }
        [b's'] if !last.phone.is_sibilant() => {
            Some(if last.phone.is_voiced() { &[Z] } else { &[S] })
        }
        _ => None,
    }
}

fn short(letter: u8) -> Phone {
    *short_ref(letter)
}

fn short_ref(letter: u8) -> &'static Phone {
    match letter {
        b'a' => &AE,
        b'e' => &EH,
        b'o' => &AA,
        b'u' => &AH,
        _ => &IH,
    }
}

fn long(letter: u8) -> &'static [Phone] {
    match letter {
        b'a' => &[EY],
        b'e' => &[IY],
        b'o' => &[OW],
        b'u' => &[UW],
        b'y' => &[AY],
        _ => &[IY],
    }
}

/// Puts the main stress where English most often has it, and weakens the short vowels without it.
fn set_stress(letters: &[u8], sounds: &mut [Sound]) {
    let vowels: Vec<usize> = sounds
        .iter()
        .enumerate()
        .filter(|(_, sound)| sound.is_vowel())
        .map(|(at, _)| at)
        .collect();
    let total = count(sounds);
    let ends = |ending: &str| letters.ends_with(ending.as_bytes());
    let begins = |opening: &str| letters.starts_with(opening.as_bytes());
    let from_end = |back: usize| total.saturating_sub(back + 1);
    let main = if ends("tion")
        || ends("sion")
        || ends("tions")
        || ends("ic")
        || ends("cian")
        || ends("cial")
        || ends("tial")
        || ends("cious")
    {
        from_end(1)
    } else if ends("ity") || ends("ology") || ends("ical") || ends("graphy") || ends("ian") {
        from_end(2)
    } else if total == 2
        && ["be", "re", "de", "a", "en", "un", "con", "ex"]
            .iter()
            .any(|prefix| begins(prefix))
        && !ends("er")
        && !ends("y")
    {
        1
    } else {
        total.saturating_sub(3)
    };
    for (index, at) in vowels.iter().enumerate() {
        let Some(sound) = sounds.get_mut(*at) else {
            continue;
        };
        if index == main {
            sound.stress = Some(Stress::Primary);
        } else {
            let weak = match sound.phone {
                AE | AA | AH | EH => AH,
                phone => phone,
            };
            *sound = Sound::new(weak, Stress::None);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::dictionary;

    fn check(word: &str, expected: &str) {
        let sounds: Vec<String> = by_rules(word).iter().map(Sound::to_string).collect();
        assert_eq!(sounds.join(" "), expected, "{word}");
    }

    #[test]
    fn spelling_rules_give_the_likely_sounds() {
        check("blick", "B L IH1 K");
        check("trane", "T R EY1 N");
        check("snation", "S N EY1 SH AH0 N");
        check("drabble", "D R AE1 B AH0 L");
    }

    /// The words of the dictionary were not used to learn anything, but their spellings were looked at.
    #[test]
    fn nearly_all_words_get_a_count_that_the_dictionary_lists() {
        let (mut all, mut right) = (0, 0);
        for entry in dictionary::entries()
            .step_by(23)
            .filter(|entry| entry.word.bytes().all(|letter| letter.is_ascii_lowercase()))
        {
            let listed = entry.pronunciations;
            let estimated = count(&by_rules(&entry.word));
            all += 1;
            right += usize::from(
                listed
                    .into_iter()
                    .any(|said| count(&said.sounds().collect::<Vec<_>>()) == estimated),
            );
        }
        assert!(right * 100 > all * 93, "{right} of {all}");
    }

    #[test]
    fn every_letter_gives_a_sound() {
        for letter in ('a'..='z')
            .map(String::from)
            .chain(["#".into(), "?".into()])
        {
            assert!(!sounds(&letter, None).is_empty(), "{letter}");
        }
        assert!(sounds(&"b".repeat(100_000), None).len() <= LONGEST);
    }
}
