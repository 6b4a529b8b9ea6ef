//! A writer at the page, without a terminal: types keys, sees the screen as text.

#![allow(
    clippy::unwrap_used,
    dead_code,
    reason = "tests; each file uses its own part"
)]

use breathmark::desk::Desk;
use breathmark::formats::yaml::read::read;
use breathmark::formats::yaml::write::write;
use breathmark::tui::app::{App, Effect, Event};
use breathmark::tui::keys::Key;
use breathmark::tui::look::Look;
use breathmark::tui::page::{FileState, Page};
use breathmark::tui::update::update;
use breathmark::tui::views::frame;
use breathmark::tui::worker::{Asked, answer};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::time::Duration;

/// A writer, the page before them, and what would have been done outside.
pub(crate) struct Writer {
    pub(crate) app: App,
    pub(crate) effects: Vec<Effect>,
    now: Duration,
}

impl Writer {
    /// Opens a song written as YAML on a screen of that size.
    pub(crate) fn opens(yaml: &str, size: (u16, u16)) -> Self {
        Self::opens_looking(yaml, size, Look::FULL)
    }

    pub(crate) fn opens_looking(yaml: &str, size: (u16, u16), look: Look) -> Self {
        let song = read(yaml).unwrap().song;
        let mut app = App::new(look, size);
        let file = FileState {
            name: "song.yaml".to_owned(),
            ..FileState::default()
        };
        app.page = Some(Page::new(Desk::new(song), file));
        app.settle();
        Self {
            app,
            effects: Vec::new(),
            now: Duration::ZERO,
        }
    }

    /// Types text and named keys: `She rang<Enter><Ctrl-Z>`; `<lt>` is the sign itself.
    pub(crate) fn types(&mut self, keys: &str) -> &mut Self {
        let mut rest = keys;
        while !rest.is_empty() {
            let (key, after) = match rest.strip_prefix('<') {
                Some(named) => {
                    let (name, after) = named.split_once('>').unwrap();
                    let key = if name == "lt" {
                        Key::parse("<")
                    } else {
                        Key::parse(name)
                    };
                    (
                        key.unwrap_or_else(|| panic!("no key is called {name}")),
                        after,
                    )
                }
                None => {
                    let letter = rest.chars().next().unwrap();
                    (
                        Key::parse(&letter.to_string()).unwrap(),
                        rest.split_at(letter.len_utf8()).1,
                    )
                }
            };
            self.presses(key);
            rest = after;
        }
        self
    }

    /// Presses a key half a second after the one before.
    pub(crate) fn presses(&mut self, key: Key) {
        self.now += Duration::from_millis(500);
        self.happens(Event::Key(key, self.now));
    }

    pub(crate) fn happens(&mut self, event: Event) {
        for effect in update(&mut self.app, event) {
            self.carries_out(effect);
        }
    }

    /// Questions are answered at once, as the worker would answer them; the rest is kept for the test to see.
    fn carries_out(&mut self, effect: Effect) {
        let Effect::Ask(number, question) = effect else {
            self.effects.push(effect);
            return;
        };
        let song = self
            .app
            .page
            .as_ref()
            .map(|page| (page.desk.song().clone(), page.desk.memory().clone()));
        let mut answers = Vec::new();
        answer(
            Asked {
                number,
                song,
                question,
            },
            &|| false,
            &mut |answer| answers.push(answer),
        );
        for answer in answers {
            self.happens(Event::Answer(number, answer));
        }
    }

    pub(crate) fn page(&self) -> &Page {
        self.app.page.as_ref().unwrap()
    }

    /// The lyric of a line.
    pub(crate) fn lyric(&self, section: usize, line: usize) -> &str {
        &self.page().song().sections[section].lines[line].lyric
    }

    /// The chord row of a line as text, where it has one.
    pub(crate) fn chords(&self, section: usize, line: usize) -> Option<String> {
        let row = self.page().song().sections[section].lines[line]
            .chords
            .as_ref()?;
        row.to_text()
    }

    /// The song as its file would hold it.
    pub(crate) fn yaml(&self) -> String {
        write(self.page().desk.song())
    }

    pub(crate) fn said(&self) -> &str {
        self.app.said.as_ref().map_or("", |said| &said.text)
    }

    /// The screen, drawn into a buffer.
    pub(crate) fn drawn(&self) -> (Buffer, Option<(u16, u16)>) {
        let mut buf = Buffer::empty(Rect::new(0, 0, self.app.size.0, self.app.size.1));
        let cursor = frame::draw(&self.app, &mut buf);
        (buf, cursor)
    }

    /// The screen as text, `\u{2588}`-free where signs are plain; the cursor as `_` under its cell, in a row of its own.
    pub(crate) fn sees(&self) -> String {
        let (buf, cursor) = self.drawn();
        let mut text = String::new();
        for y in 0..buf.area.height {
            let mut row = String::new();
            let mut x = 0;
            while x < buf.area.width {
                let symbol = buf[(x, y)].symbol();
                row.push_str(symbol);
                x += breathmark::tui::cells::width(symbol).max(1);
            }
            text.push_str(row.trim_end());
            text.push('\n');
            if let Some((x, _)) = cursor.filter(|cursor| cursor.1 == y) {
                text.push_str(&" ".repeat(usize::from(x)));
                text.push_str("^\n");
            }
        }
        text
    }
}

/// The ferryman's song: a tune, a borrowed row, other wordings, something set aside.
pub(crate) const FERRY: &str = r#"title: The Ferry at Low Water
key: Em
meter: 3/4
tempo: 96
voice: {steady_note: 22}
tunes:
  verse:
    - "B,2 | E4 F2 | G4 F2 | E4 D2 | B,4"
sections:
  - label: Verse 1
    kind: verse
    happens: she calls the ferry and nobody comes
    lines:
      - chords: "    Em       C           Am      B7"
        lyric:  "She rang the bell at the water's edge"
        others: ["She pulled the rope at the water's edge"]
      - chords: "    Em                  C"
        lyric:  "and no one answered, no lantern moved"
        marks:  "                    ,"
  - {kind: interlude, bars: 8}
  - label: Verse 2
    kind: verse
    lines:
      - lyric: "The tide went out and the stars came in"
      - lyric: "but the one who had rowed her over was gone"
    set_aside:
      - lyric: "and the river said nothing at all"
  - {again: Verse 1}
"#;
