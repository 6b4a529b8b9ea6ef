//! The keys of the song file: their order, how their values are written, and which one a misspelt key may mean.

use crate::song::field::{FIELDS, Owner};

/// How a value is written where nothing says otherwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A number, a key, a date: bare wherever that can be read.
    Value,
    /// Words: bare unless a reader could take them for something else.
    Words,
    /// A row whose blanks count, in double quotes.
    Row,
}

/// The keys of a node in the order in which they are written.
pub(super) fn keys_of(owner: Owner) -> Vec<&'static str> {
    let (before, behind): (&[&str], &[&str]) = match owner {
        Owner::Song => (&[], &["words", "tunes", "sections", "set_aside"]),
        Owner::Section => (&[], &["lines", "set_aside"]),
        Owner::Line => (&["chords", "lyric", "marks"], &["others"]),
    };
    let mut keys = before.to_vec();
    for (_, name, owners) in FIELDS {
        if owners.contains(&owner) {
            let name = name.split('.').next().unwrap_or(name);
            if keys.last() != Some(&name) {
                keys.push(name);
            }
        }
    }
    keys.extend(behind);
    keys
}

/// How the values of a key are written.
pub(super) fn kind_of(key: &str) -> Kind {
    match key {
        "chords" | "lyric" | "marks" | "others" | "tunes" => Kind::Row,
        "title" | "label" | "kind" | "again" | "tune" | "happens" | "mood" | "picture"
        | "played" | "sound" | "style" | "instrument" | "words" => Kind::Words,
        _ => Kind::Value,
    }
}

/// The known key that an unknown one may mean.
pub(super) fn nearest(key: &str, owner: Owner) -> Option<&'static str> {
    let plain = key.to_lowercase().replace(['-', ' '], "_");
    let allowed = if plain.chars().count() > 4 { 2 } else { 1 };
    keys_of(owner)
        .into_iter()
        .filter(|known| known.len().abs_diff(plain.len()) <= 2)
        .map(|known| (distance(&plain, known), known))
        .filter(|(distance, _)| *distance <= allowed)
        .min()
        .map(|(_, known)| known)
}

/// The nodes on which a key may stand.
pub(super) fn owners_of(key: &str) -> Vec<Owner> {
    [Owner::Song, Owner::Section, Owner::Line]
        .into_iter()
        .filter(|owner| keys_of(*owner).contains(&key))
        .collect()
}

/// How many signs have to be put in, taken out or replaced (Levenshtein 1966).
fn distance(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let one = one.chars().take(40);
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (index, sign) in one.enumerate() {
        let mut before = index;
        if let Some(first) = row.first_mut() {
            *first = index + 1;
        }
        let mut left = index + 1;
        for (cell, found) in row.iter_mut().skip(1).zip(&other) {
            let replaced = before + usize::from(*found != sign);
            before = *cell;
            left = replaced.min(left + 1).min(*cell + 1);
            *cell = left;
        }
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_stand_in_order() {
        let song = keys_of(Owner::Song);
        assert_eq!(song.first(), Some(&"title"));
        assert_eq!(song.iter().filter(|key| **key == "voice").count(), 1);
        assert_eq!(song.last(), Some(&"set_aside"));
        assert_eq!(
            keys_of(Owner::Line),
            [
                "chords", "lyric", "marks", "bars", "picture", "sound", "run_on", "others"
            ]
        );
    }

    #[test]
    fn a_misspelt_key_is_guessed() {
        for (typed, owner, meant) in [
            ("lyrics", Owner::Line, Some("lyric")),
            ("run-on", Owner::Line, Some("run_on")),
            ("Tempo", Owner::Song, Some("tempo")),
            ("temop", Owner::Song, Some("tempo")),
            ("colour", Owner::Song, None),
            ("tempo", Owner::Line, None),
        ] {
            assert_eq!(nearest(typed, owner), meant, "{typed}");
        }
        assert_eq!(owners_of("tempo"), [Owner::Song, Owner::Section]);
    }
}
