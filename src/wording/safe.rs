//! Text from a file, a file's name or a paste, made harmless for what shows or reads it.

use std::borrow::Cow;
use std::fmt::Write as _;

/// What a character does to a terminal that shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Effect {
    /// It is shown, or joins and varies what is shown.
    Shown,
    /// It moves on: a tab, a line's end.
    Space,
    /// It may begin or end a sequence that the terminal obeys (C0, DEL, C1).
    Control,
    /// It takes no cell and changes the order or the meaning of its neighbours.
    Hidden,
}

/// Sorts a character by the Unicode Standard's lists: control codes (chapter 23.1), layout controls (23.2), deprecated
/// format characters (23.3), specials (23.8) and tag characters (23.9).
fn effect(character: char) -> Effect {
    match character {
        '\t' | '\n' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}' => Effect::Space,
        '\u{00}'..='\u{1f}' | '\u{7f}'..='\u{9f}' => Effect::Control,
        '\u{061c}'
        | '\u{200b}'
        | '\u{200e}'
        | '\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'
        | '\u{2066}'..='\u{206f}'
        | '\u{feff}'
        | '\u{e0000}'..='\u{e007f}' => Effect::Hidden,
        _ => Effect::Shown,
    }
}

/// The text as one row that a terminal only shows.
///
/// Tabs and line ends become spaces; each other control character (C0 with ESC and BEL, DEL, C1) becomes `U+FFFD`, so that it is
/// seen; bidi controls, zero-width spaces, word joiners, byte order marks and tag characters are left out.
/// Joiners and variation selectors pass. What remains of a sequence is plain text.
///
/// ```
/// # use breathmark::wording::safe::for_terminal;
/// assert_eq!(for_terminal("red\u{1b}[31m\tbell\u{7}\u{200b}"), "red\u{fffd}[31m bell\u{fffd}");
/// ```
#[must_use]
pub fn for_terminal(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    let mut last = None;
    for character in text.chars() {
        match effect(character) {
            Effect::Shown => safe.push(character),
            // A carriage return and a line feed end one line: one space.
            Effect::Space if character == '\n' && last == Some('\r') => {}
            Effect::Space => safe.push(' '),
            Effect::Control => safe.push(char::REPLACEMENT_CHARACTER),
            Effect::Hidden => {}
        }
        last = Some(character);
    }
    safe
}

/// Several rows, parted by line feeds, each made safe as by [`for_terminal`]: the last guard before a whole answer is printed.
#[must_use]
pub fn rows_for_terminal(text: &str) -> String {
    text.split('\n')
        .map(for_terminal)
        .collect::<Vec<_>>()
        .join("\n")
}

/// Serialized JSON with every character escaped that is not seen where the JSON is shown: C0, DEL, C1, bidi controls, zero-width
/// characters with the joiners, line and paragraph separators, tag characters (as a surrogate pair).
///
/// A reader of the JSON gets the same texts. Line feeds, tabs and spaces between values stay; inside texts a serializer has escaped
/// them already.
///
/// ```
/// # use breathmark::wording::safe::for_json;
/// assert_eq!(for_json("[\"a\u{7f}\u{200b}\u{e0041}\"]\n"), "[\"a\\u007f\\u200b\\udb40\\udc41\"]\n");
/// ```
#[must_use]
pub fn for_json(json: &str) -> Cow<'_, str> {
    let is_plain = |byte: u8| byte.is_ascii() && !byte.is_ascii_control();
    // Without a way out at the first other byte, many bytes are looked at together.
    if json
        .bytes()
        .fold(true, |plain, byte| plain & is_plain(byte))
    {
        return Cow::Borrowed(json);
    }
    let mut safe = String::with_capacity(json.len());
    for character in json.chars() {
        let escaped = match character {
            '\n' | '\r' | '\t' => false,
            '\u{200c}' | '\u{200d}' => true,
            other => effect(other) != Effect::Shown,
        };
        if escaped {
            for unit in character.encode_utf16(&mut [0; 2]) {
                // Writing to a text cannot fail.
                let _ = write!(safe, "\\u{unit:04x}");
            }
        } else {
            safe.push(character);
        }
    }
    Cow::Owned(safe)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{for_json, for_terminal, rows_for_terminal};
    use proptest::prelude::*;

    /// Whether the design's list of what never reaches a terminal holds the character, written apart from the code above.
    fn forbidden(character: char) -> bool {
        let point = u32::from(character);
        character.is_control()
            || [
                0x061c, 0x200b, 0x200e, 0x200f, 0x2028, 0x2029, 0x2060, 0xfeff,
            ]
            .contains(&point)
            || (0x202a..=0x202e).contains(&point)
            || (0x2066..=0x2069).contains(&point)
            || (0xe0000..=0xe007f).contains(&point)
    }

    #[test]
    fn no_character_of_unicode_slips_through() {
        for character in ('\0'..=char::MAX).filter(|c| forbidden(*c)) {
            let text = format!("a{character}b");
            assert!(
                !for_terminal(&text).chars().any(forbidden),
                "{:x}",
                u32::from(character)
            );
            let json = serde_json::to_string(&text).unwrap();
            let safe = for_json(&json);
            assert!(!safe.chars().any(forbidden), "{:x}", u32::from(character));
            assert_eq!(serde_json::from_str::<String>(&safe).unwrap(), text);
        }
    }

    #[test]
    fn what_writing_needs_passes() {
        for text in [
            "She rang the bell",
            "क्‍ष",
            "👩‍👩‍👧",
            "❤\u{fe0f}",
            "نم‌ای",
            "e\u{301}",
            "♭𝄫 ’tis",
            "a\u{a0}b",
        ] {
            assert_eq!(for_terminal(text), text);
        }
    }

    #[test]
    fn line_ends_part_rows_or_become_spaces() {
        assert_eq!(for_terminal("a\r\nb\nc\rd"), "a b c d");
        assert_eq!(rows_for_terminal("a\tb\nc\u{1b}c\n"), "a b\nc\u{fffd}c\n");
    }

    proptest! {
        #[test]
        fn json_says_the_same(texts in proptest::collection::vec(any::<String>(), 0..4)) {
            let json = serde_json::to_string_pretty(&texts).unwrap();
            let safe = for_json(&json);
            prop_assert_eq!(serde_json::from_str::<Vec<String>>(&safe).unwrap(), texts);
        }

        #[test]
        fn safe_text_stays_as_it_is(text in any::<String>()) {
            let once = for_terminal(&text);
            prop_assert!(!once.chars().any(forbidden));
            prop_assert_eq!(for_terminal(&once), once);
        }
    }
}
