//! Values for the first time in the file.

use super::keys::{Kind, kind_of};
use super::scalar::{key as written_key, written};
use crate::song::slice::Said;

/// A value, as it stands behind its key.
pub(super) enum Fresh {
    /// On the key's line; empty for no value.
    Behind(String),
    /// On lines of its own, without the last line break.
    Below(String),
}

/// A value of a key whose own column is `column`.
pub(super) fn value(key: &str, said: &Said, column: usize, flow: bool) -> Fresh {
    let inner = " ".repeat(column + 2);
    match said {
        Said::Nothing | Said::Nodes(_) => Fresh::Behind(String::new()),
        Said::Text(text) => Fresh::Behind(text_of(key, text, flow)),
        Said::List(items) if key == "others" && !flow => {
            let rows = items
                .iter()
                .map(|item| format!("{inner}- {}", in_brackets(item, Some(Kind::Row), false)));
            Fresh::Below(rows.collect::<Vec<_>>().join("\n"))
        }
        Said::Map(pairs) if key == "tunes" && !flow => {
            let rows = pairs
                .iter()
                .map(|(name, phrases)| format!("{inner}{}", tune(name, phrases, column + 2)));
            Fresh::Below(rows.collect::<Vec<_>>().join("\n"))
        }
        Said::List(_) | Said::Map(_) => Fresh::Behind(in_brackets(said, kind_within(key), flow)),
    }
}

/// A tune with its phrases, the first line without indentation.
pub(super) fn tune(name: &str, phrases: &Said, column: usize) -> String {
    let mut rows = format!("{}:", written_key(name));
    if let Said::List(phrases) = phrases {
        for phrase in phrases {
            rows.push('\n');
            rows.push_str(&" ".repeat(column + 2));
            rows.push_str("- ");
            rows.push_str(&in_brackets(phrase, Some(Kind::Row), false));
        }
    }
    rows
}

/// A text of a key.
pub(super) fn text_of(key: &str, text: &str, flow: bool) -> String {
    let strings: Vec<&str> = text.split(' ').collect();
    let is_list = key == "tuning"
        && strings.len() > 1
        && strings
            .iter()
            .all(|string| !string.is_empty() && written(string, Kind::Value, true) == *string);
    if is_list {
        format!("[{}]", strings.join(", "))
    } else {
        written(text, kind_of(key), flow)
    }
}

/// What kind the values within a key's list or map are; `None` where each is told by a key of its own.
pub(super) fn kind_within(key: &str) -> Option<Kind> {
    match key {
        "chords" | "marks" | "voice" => Some(Kind::Value),
        "others" | "tunes" => Some(Kind::Row),
        "words" => Some(Kind::Words),
        _ => None,
    }
}

/// A value in brackets, or a text.
pub(super) fn in_brackets(said: &Said, kind: Option<Kind>, flow: bool) -> String {
    match said {
        Said::Nothing | Said::Nodes(_) => String::new(),
        Said::Text(text) => written(text, kind.unwrap_or(Kind::Row), flow),
        Said::List(items) => {
            let items = items.iter().map(|item| in_brackets(item, kind, true));
            format!("[{}]", items.collect::<Vec<_>>().join(", "))
        }
        Said::Map(pairs) => {
            let pairs = pairs.iter().map(|(key, said)| pair(key, said, kind));
            format!("{{{}}}", pairs.collect::<Vec<_>>().join(", "))
        }
    }
}

/// A key and its value, in braces.
pub(super) fn pair(key: &str, said: &Said, kind: Option<Kind>) -> String {
    let value = match (kind, said) {
        (None, Said::Text(text)) => text_of(key, text, true),
        (None, _) => in_brackets(said, kind_within(key), true),
        (Some(kind), _) => in_brackets(said, Some(kind), true),
    };
    let key = written_key(key);
    if value.is_empty() {
        format!("{key}:")
    } else {
        format!("{key}: {value}")
    }
}
