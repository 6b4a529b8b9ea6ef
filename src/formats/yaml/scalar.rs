//! Texts as YAML: bare where that is safe and reads as a text, else in quotes.

use super::keys::Kind;
use super::tree::Style;
use std::fmt::Write as _;

/// A text for the first time in the file.
pub(super) fn written(text: &str, kind: Kind, flow: bool) -> String {
    match kind {
        Kind::Value | Kind::Words if bare(text, kind, flow) => text.to_owned(),
        Kind::Value | Kind::Words | Kind::Row => quoted(text),
    }
}

/// A text in place of another one, in the same quotes if they can hold it.
pub(super) fn in_style(text: &str, style: Style, kind: Kind, flow: bool) -> String {
    match style {
        Style::Plain if bare(text, kind, flow) => text.to_owned(),
        Style::Single if text.chars().all(is_plain) => single(text),
        Style::Empty => written(text, kind, flow),
        Style::Plain | Style::Single | Style::Double | Style::Literal | Style::Folded => {
            double(text)
        }
    }
}

/// A key of a map.
pub(super) fn key(text: &str) -> String {
    if bare(text, Kind::Words, true) {
        text.to_owned()
    } else {
        quoted(text)
    }
}

/// Double quotes, or single ones where that spares escapes.
fn quoted(text: &str) -> String {
    let escapes = text.contains(['"', '\\']) && !text.contains('\'');
    if escapes && text.chars().all(is_plain) {
        single(text)
    } else {
        double(text)
    }
}

fn single(text: &str) -> String {
    format!("'{}'", text.replace('\'', "''"))
}

fn double(text: &str) -> String {
    let mut written = String::from("\"");
    for sign in text.chars() {
        match sign {
            '"' => written.push_str("\\\""),
            '\\' => written.push_str("\\\\"),
            '\n' => written.push_str("\\n"),
            '\r' => written.push_str("\\r"),
            '\t' => written.push_str("\\t"),
            _ if is_plain(sign) => written.push(sign),
            _ => {
                let number = u32::from(sign);
                // Writing to a string cannot fail.
                let _ = match number {
                    0..=0xFF => write!(written, "\\x{number:02X}"),
                    0x100..=0xFFFF => write!(written, "\\u{number:04X}"),
                    _ => write!(written, "\\U{number:08X}"),
                };
            }
        }
    }
    written.push('"');
    written
}

/// Whether a sign stands for itself in any editor: no control character, nothing that is invisible or turns the direction of writing.
/// Joiners and variation selectors belong to the signs beside them and stay.
pub(super) fn is_plain(sign: char) -> bool {
    !sign.is_control()
        && !matches!(
            sign,
            '\u{200B}'
                | '\u{200E}'
                | '\u{200F}'
                | '\u{061C}'
                | '\u{2028}'..='\u{202E}'
                | '\u{2060}'..='\u{206F}'
                | '\u{FEFF}'
                | '\u{FFF9}'..='\u{FFFF}'
                | '\u{1FFFE}'
                | '\u{1FFFF}'
                | '\u{E0000}'..='\u{E007F}'
        )
}

/// Whether the text can stand without quotes and is read back as it is, by YAML 1.1 readers too.
fn bare(text: &str, kind: Kind, flow: bool) -> bool {
    let Some(first) = text.chars().next() else {
        return false;
    };
    let indicator = match first {
        '-' => {
            kind != Kind::Value
                || !text
                    .get(1..)
                    .is_some_and(|rest| rest.starts_with(|sign: char| sign.is_ascii_digit()))
        }
        '?' | ':' | ',' | '[' | ']' | '{' | '}' | '#' | '&' | '*' | '!' | '|' | '>' | '\''
        | '"' | '%' | '@' | '`' => true,
        _ => first.is_whitespace(),
    };
    !indicator
        && !text.ends_with(char::is_whitespace)
        && !text.ends_with(':')
        && text.chars().all(is_plain)
        && !text.contains(": ")
        && !text.contains(" #")
        && !(flow && text.contains([',', '[', ']', '{', '}', ':']))
        && !text.starts_with("...")
        && (kind == Kind::Value || reads_as_text(text))
}

/// Whether no YAML reader takes the bare text for a number, a date, a truth value or nothing.
fn reads_as_text(text: &str) -> bool {
    const WORDS: &[&str] = &[
        "y", "yes", "n", "no", "on", "off", "true", "false", "null", "~", "=", "<<", ".inf",
        "-.inf", "+.inf", ".nan",
    ];
    let lower = text.to_ascii_lowercase();
    let like_number = text.starts_with(|sign: char| sign.is_ascii_digit() || "+-.".contains(sign))
        && text.chars().any(|sign| sign.is_ascii_digit())
        && text
            .chars()
            .all(|sign| sign.is_ascii_hexdigit() || "xXoO_.:eE+-TtZz ".contains(sign));
    !WORDS.contains(&lower.as_str()) && !like_number
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quotes_stand_where_they_are_needed() {
        for (text, kind, expected) in [
            ("Verse 1", Kind::Words, "Verse 1"),
            (
                "she calls, and nobody comes",
                Kind::Words,
                "she calls, and nobody comes",
            ),
            ("no", Kind::Words, "\"no\""),
            ("On", Kind::Words, "\"On\""),
            ("12", Kind::Words, "\"12\""),
            ("1:30", Kind::Words, "\"1:30\""),
            ("2nd verse", Kind::Words, "2nd verse"),
            ("", Kind::Words, "\"\""),
            ("  Em", Kind::Words, "\"  Em\""),
            ("She said: come", Kind::Words, "\"She said: come\""),
            ("sky # grey", Kind::Words, "\"sky # grey\""),
            ("'Twas night", Kind::Words, "\"'Twas night\""),
            (
                "\"Come in,\" said she",
                Kind::Words,
                "'\"Come in,\" said she'",
            ),
            ("96", Kind::Value, "96"),
            ("-1", Kind::Value, "-1"),
            ("- 1", Kind::Value, "\"- 1\""),
            ("true", Kind::Value, "true"),
            ("She rang", Kind::Row, "\"She rang\""),
            (
                "a\u{1b}\u{7f}\u{85}\u{200b}\u{e0041}",
                Kind::Row,
                "\"a\\x1B\\x7F\\x85\\u200B\\U000E0041\"",
            ),
            ("👩\u{200d}👧", Kind::Words, "👩\u{200d}👧"),
        ] {
            assert_eq!(written(text, kind, false), expected);
        }
        assert_eq!(written("a, b", Kind::Words, true), "\"a, b\"");
    }

    #[test]
    fn a_style_is_kept_where_it_holds_the_text() {
        assert_eq!(in_style("it's", Style::Single, Kind::Row, false), "'it''s'");
        assert_eq!(
            in_style("a\tb", Style::Single, Kind::Row, false),
            "\"a\\tb\""
        );
        assert_eq!(
            in_style("the sky", Style::Plain, Kind::Row, false),
            "the sky"
        );
        assert_eq!(
            in_style("the sky: grey", Style::Plain, Kind::Row, false),
            "\"the sky: grey\""
        );
    }
}
