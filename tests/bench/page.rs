//! How long the page takes from a key to the finished frame: some 2,000 keys in songs of 240, 2,400 and 10,000 lines, drawn at 120x40.
//!
//! `cargo bench --bench page` (or `-- 240`, for one length) prints, for each length, the median, the 99th part of a hundred and the longest, in milliseconds.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a measurement that prints"
)]

use breathmark::desk::Desk;
use breathmark::formats::yaml::read::read;
use breathmark::tui::app::{App, Event};
use breathmark::tui::keys::Key;
use breathmark::tui::look::Look;
use breathmark::tui::page::{FileState, Page};
use breathmark::tui::update::update;
use breathmark::tui::views::frame;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use std::fmt::Write as _;
use std::time::{Duration, Instant};

/// What is typed, over and over: words, chords, splitting, joining, moving, undoing.
const KEYS: &str = "<Down><Down><End> and on<Enter>the river ran to sea<Up><Home><Tab>Am<Right><Right><Right>G<Tab><Ctrl-Right>\
<Ctrl-Right>, no <Backspace><Backspace><Ctrl-Left><Enter><Backspace><Ctrl-Z><Ctrl-Z><Ctrl-Y><PageDown><PageDown><Alt-Down><PageUp><Ctrl-Down>\
<Down><Delete><Delete><Ctrl-Z><Ctrl-Z><Down>lantern light <Alt-Backspace>";

fn main() {
    println!(
        "{:>7} {:>6} {:>9} {:>9} {:>9}",
        "lines", "keys", "p50 ms", "p99 ms", "longest"
    );
    let asked: Vec<usize> = std::env::args()
        .filter_map(|text| text.parse().ok())
        .collect();
    let lengths = if asked.is_empty() {
        vec![240, 2_400, 10_000]
    } else {
        asked
    };
    for lines in lengths {
        let mut times = replay(lines, 2_000);
        times.sort_unstable();
        let at = |part: usize| {
            times[(times.len() * part / 100).min(times.len() - 1)].as_secs_f64() * 1000.0
        };
        println!(
            "{lines:>7} {:>6} {:>9.3} {:>9.3} {:>9.3}",
            times.len(),
            at(50),
            at(99),
            at(100)
        );
    }
}

fn replay(lines: usize, keys: usize) -> Vec<Duration> {
    let mut app = App::new(Look::FULL, (120, 40));
    app.page = Some(Page::new(
        Desk::new(read(&song(lines)).unwrap().song),
        FileState::default(),
    ));
    let mut terminal = Terminal::new(TestBackend::new(120, 40)).unwrap();
    let mut times = Vec::with_capacity(keys);
    for key in pressed().cycle().take(keys) {
        let begun = Instant::now();
        let effects = update(&mut app, Event::Key(key, Duration::ZERO));
        terminal
            .draw(|found| {
                if let Some(cursor) = frame::draw(&app, found.buffer_mut()) {
                    found.set_cursor_position(cursor);
                }
            })
            .unwrap();
        times.push(begun.elapsed());
        drop(effects);
    }
    times
}

fn pressed() -> impl Iterator<Item = Key> + Clone {
    let mut keys = Vec::new();
    let mut rest = KEYS;
    while let Some(letter) = rest.chars().next() {
        let (name, after) = match rest.strip_prefix('<') {
            Some(named) => named.split_once('>').unwrap(),
            None => rest.split_at(letter.len_utf8()),
        };
        keys.push(Key::parse(name).unwrap());
        rest = after;
    }
    keys.into_iter()
}

/// Verses of four lines to one tune, the first with chords, the others borrowing; every third verse has chords of its own.
fn song(lines: usize) -> String {
    let words = [
        "She rang the bell at the water's edge",
        "and no one answered, no lantern moved",
        "The tide went out and the stars came in",
        "and she stood where the ferry had been",
    ];
    let mut text = String::from(
        "title: Long\nkey: Em\nmeter: 3/4\ntempo: 96\ntunes:\n  verse:\n    - \"B,2 | E4 F2 | G4 F2 | E4 D2 | B,4\"\n    - \"B,2 | E4 F2 | G4 A2 | B4 A2 | G4\"\nsections:\n",
    );
    for verse in 0..lines / 4 {
        writeln!(
            text,
            "  - label: Verse {}\n    kind: verse\n    lines:",
            verse + 1
        )
        .unwrap();
        for (index, lyric) in words.iter().enumerate() {
            if verse % 3 == 0 {
                writeln!(text, "      - chords: \"    Em       C           Am      B7\"\n        lyric: \"{lyric}\"").unwrap();
            } else {
                writeln!(text, "      - lyric: \"{lyric} {}\"", (verse + index) % 7).unwrap();
            }
        }
    }
    text
}
