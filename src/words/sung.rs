//! How singers change a word's count of syllables: vowels that go, glides, words that are known to vary.

mod forms;
mod varying;

use super::dictionary;
use super::phone::{Phone, Sound};
use super::syllables::count;
use Phone::*;
use forms::{has_r_alone, longer, phone_at, r_alone, shorter, weak};
use varying::{named, row_of};

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
/// What a rule makes of a word that no list names: of two words the one that is known to give way does.
const BY_RULE: u32 = 550;
const SOUNDED_ED: u32 = 1200;
const DIAERESIS: u32 = 1500;

/// The ways to sing a word that is listed with these sounds, the default first at cost 0; no two alike.
pub(super) fn ways(word: &str, listed: &[Vec<Sound>], why: &'static str) -> Vec<Way> {
    let mut ways: Vec<Way> = Vec::with_capacity(4);
    let without_er = has_r_alone(word).then(|| {
        let plain = |sounds: &Vec<Sound>| r_alone(sounds).unwrap_or_else(|| sounds.clone());
        listed.iter().map(plain).collect::<Vec<_>>()
    });
    let listed = without_er.as_deref().unwrap_or(listed);
    let Some(usual) = listed.first() else {
        return ways;
    };
    if let Some((stem, counts, cost)) = row_of(word) {
        let mut forms: Vec<Vec<Sound>> = listed.to_vec();
        forms.extend(named(word, stem));
        forms.extend(longer(word, usual, true).into_iter().map(|form| form.0));
        for form in listed {
            forms.extend(shorter(word, form, true).into_iter().map(|form| form.0));
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
    for (sounds, rule) in shorter(word, usual, false) {
        if !counts.contains(&count(&sounds)) {
            add(&mut ways, sounds, BY_RULE, rule);
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
    if row_of(word).is_none() && !is_of_le(word) && !has_r_alone(word) {
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
    let is_le =
        phone_at(sounds, at + 1) == Some(L) && phone_at(sounds, at) == Some(AH) && weak(sounds, at);
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

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::varying::VARYING;
    use super::*;
    use crate::words::lists;
    use crate::words::phone::Stress;

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
        assert_eq!(counts("slavery"), [(3, 0), (2, BY_RULE)]);
        assert_eq!(counts("fabulous"), [(3, 0), (2, BY_RULE)]);
        assert_eq!(counts("victorious"), [(4, 0), (3, BY_RULE)]);
        assert_eq!(counts("following"), [(3, 0), (2, BY_RULE)]);
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
        for (form, _) in shorter(
            "",
            &Sound::parse_all("D IH0 V AW1 R IH0 NG").unwrap(),
            false,
        ) {
            assert!(
                form.iter()
                    .any(|sound| sound.stress == Some(Stress::Primary))
            );
        }
    }
}
