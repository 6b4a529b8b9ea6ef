//! From what a terminal sends to what is to be done, by the place in which it was typed.

use super::commands::{Action, COMMANDS, Focus};
use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use std::fmt;

/// A key as the table names it: `Ctrl-S`, `Alt-Left`, `F2`, `a`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Key {
    /// What was pressed.
    pub code: KeyCode,
    /// Ctrl held.
    pub ctrl: bool,
    /// Alt held.
    pub alt: bool,
    /// Shift held; never set for characters, whose form says it.
    pub shift: bool,
}

/// What a key means where it was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// A character goes into the row, the search or the answer.
    Type(char),
    /// An action of the table.
    Do(Action),
    /// A motion that selects on its way.
    Select(Action),
}

const NAMED: &[(&str, KeyCode)] = &[
    ("Enter", KeyCode::Enter),
    ("Esc", KeyCode::Esc),
    ("Tab", KeyCode::Tab),
    ("Backspace", KeyCode::Backspace),
    ("Delete", KeyCode::Delete),
    ("Left", KeyCode::Left),
    ("Right", KeyCode::Right),
    ("Up", KeyCode::Up),
    ("Down", KeyCode::Down),
    ("Home", KeyCode::Home),
    ("End", KeyCode::End),
    ("PageUp", KeyCode::PageUp),
    ("PageDown", KeyCode::PageDown),
    ("Space", KeyCode::Char(' ')),
];

impl Key {
    /// Reads a key's name; `None` where it is none.
    #[must_use]
    pub fn parse(name: &str) -> Option<Self> {
        let (mut ctrl, mut alt, mut shift) = (false, false, false);
        let mut rest = name;
        while let Some((modifier, after)) =
            rest.split_once('-').filter(|(_, after)| !after.is_empty())
        {
            match modifier {
                "Ctrl" => ctrl = true,
                "Alt" => alt = true,
                "Shift" => shift = true,
                _ => return None,
            }
            rest = after;
        }
        let mut letters = rest.chars();
        let code = match (letters.next(), letters.next()) {
            // With Ctrl or Alt, terminals send the small letter; the table shows the capital that is on the key.
            (Some(letter), None) if ctrl || alt => KeyCode::Char(letter.to_ascii_lowercase()),
            (Some(letter), None) => KeyCode::Char(letter),
            _ => match rest
                .strip_prefix('F')
                .and_then(|number| number.parse().ok())
            {
                Some(number @ 1..=12) => KeyCode::F(number),
                _ => NAMED.iter().find(|(named, _)| *named == rest)?.1,
            },
        };
        Some(Self {
            code,
            ctrl,
            alt,
            shift,
        })
    }

    /// The key of a terminal's event; `None` for releases and keys that stand for nothing here.
    ///
    /// A plain terminal sends Backspace or Ctrl-H for the same key, and Enter or Ctrl-J; both are taken for the named one.
    #[must_use]
    pub fn of(event: &KeyEvent) -> Option<Self> {
        if event.kind == KeyEventKind::Release {
            return None;
        }
        let has = |modifier| event.modifiers.contains(modifier);
        let (mut ctrl, alt) = (has(KeyModifiers::CONTROL), has(KeyModifiers::ALT));
        let mut shift = has(KeyModifiers::SHIFT);
        let code = match event.code {
            KeyCode::Char('h') if ctrl => {
                ctrl = false;
                KeyCode::Backspace
            }
            KeyCode::Char('j' | 'm') if ctrl => {
                ctrl = false;
                KeyCode::Enter
            }
            KeyCode::Char('i') if ctrl => {
                ctrl = false;
                KeyCode::Tab
            }
            KeyCode::BackTab => {
                shift = true;
                KeyCode::Tab
            }
            KeyCode::Char(letter) if ctrl || alt => {
                shift = false;
                KeyCode::Char(letter.to_lowercase().next().unwrap_or(letter))
            }
            KeyCode::Char(letter) => {
                shift = false;
                KeyCode::Char(letter)
            }
            KeyCode::Backspace
            | KeyCode::Enter
            | KeyCode::Left
            | KeyCode::Right
            | KeyCode::Up
            | KeyCode::Down
            | KeyCode::Home
            | KeyCode::End
            | KeyCode::PageUp
            | KeyCode::PageDown
            | KeyCode::Tab
            | KeyCode::Delete
            | KeyCode::F(_)
            | KeyCode::Esc => event.code,
            _ => return None,
        };
        Some(Self {
            code,
            ctrl,
            alt,
            shift,
        })
    }

    /// What the key means in that place; `None` where it means nothing.
    #[must_use]
    pub fn meaning(self, focus: Focus) -> Option<Meaning> {
        let found = |key: Self| {
            COMMANDS.iter().find(|row| {
                row.places.contains(&focus)
                    && row.keys.iter().any(|name| Self::parse(name) == Some(key))
            })
        };
        if let Some(row) = found(self) {
            return Some(Meaning::Do(row.action));
        }
        match self.code {
            KeyCode::Char(letter) if !self.ctrl && !self.alt && !letter.is_control() => {
                Some(Meaning::Type(letter))
            }
            _ if self.shift => found(Self {
                shift: false,
                ..self
            })
            .map(|row| {
                if is_motion(row.action) {
                    Meaning::Select(row.action)
                } else {
                    Meaning::Do(row.action)
                }
            }),
            _ => None,
        }
    }
}

/// Whether the action only moves the cursor, so that with Shift it selects.
#[must_use]
pub const fn is_motion(action: Action) -> bool {
    matches!(
        action,
        Action::Left
            | Action::Right
            | Action::Up
            | Action::Down
            | Action::WordLeft
            | Action::WordRight
            | Action::RowStart
            | Action::RowEnd
            | Action::PageUp
            | Action::PageDown
            | Action::SongStart
            | Action::SongEnd
            | Action::SectionBefore
            | Action::SectionAfter
    )
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (held, name) in [
            (self.ctrl, "Ctrl-"),
            (self.alt, "Alt-"),
            (self.shift, "Shift-"),
        ] {
            if held {
                f.write_str(name)?;
            }
        }
        if let Some((name, _)) = NAMED.iter().find(|(_, code)| *code == self.code) {
            return f.write_str(name);
        }
        match self.code {
            KeyCode::F(number) => write!(f, "F{number}"),
            KeyCode::Char(letter) if self.ctrl || self.alt => {
                write!(f, "{}", letter.to_ascii_uppercase())
            }
            KeyCode::Char(letter) => write!(f, "{letter}"),
            _ => f.write_str("?"),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::*;

    fn sent(code: KeyCode, modifiers: KeyModifiers) -> Key {
        Key::of(&KeyEvent::new(code, modifiers)).unwrap()
    }

    #[test]
    fn terminals_differ_and_mean_the_same() {
        let check = |code, modifiers, name: &str| {
            assert_eq!(sent(code, modifiers).to_string(), name);
        };
        check(KeyCode::Char('s'), KeyModifiers::CONTROL, "Ctrl-S");
        check(KeyCode::Char('h'), KeyModifiers::CONTROL, "Backspace");
        check(KeyCode::Char('j'), KeyModifiers::CONTROL, "Enter");
        check(KeyCode::BackTab, KeyModifiers::SHIFT, "Shift-Tab");
        check(
            KeyCode::Char('K'),
            KeyModifiers::ALT | KeyModifiers::SHIFT,
            "Alt-K",
        );
        check(KeyCode::Char('A'), KeyModifiers::SHIFT, "A");
        check(
            KeyCode::Left,
            KeyModifiers::SHIFT | KeyModifiers::CONTROL,
            "Ctrl-Shift-Left",
        );
    }

    #[test]
    fn a_place_decides() {
        let enter = Key::parse("Enter").unwrap();
        assert_eq!(
            enter.meaning(Focus::Lyric),
            Some(Meaning::Do(Action::Enter))
        );
        assert_eq!(enter.meaning(Focus::List), Some(Meaning::Do(Action::Take)));
        let n = Key::parse("n").unwrap();
        assert_eq!(n.meaning(Focus::Lyric), Some(Meaning::Type('n')));
        assert_eq!(
            n.meaning(Focus::Asking),
            Some(Meaning::Do(Action::LeaveWithoutSaving))
        );
    }

    #[test]
    fn shift_selects() {
        let key = Key::parse("Ctrl-Shift-Left").unwrap();
        assert_eq!(
            key.meaning(Focus::Lyric),
            Some(Meaning::Select(Action::WordLeft))
        );
        let key = Key::parse("Shift-F1").unwrap();
        assert_eq!(key.meaning(Focus::Lyric), Some(Meaning::Do(Action::Help)));
    }

    #[test]
    fn unknown_keys_mean_nothing() {
        assert_eq!(Key::parse("Ctrl-Oops"), None);
        assert_eq!(Key::parse("Meta-X"), None);
        assert_eq!(Key::parse("Ctrl-P").unwrap().meaning(Focus::Lyric), None);
        assert_eq!(
            Key::of(&KeyEvent::new(KeyCode::CapsLock, KeyModifiers::NONE)),
            None
        );
    }
}
