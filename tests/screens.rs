//! What the writer sees: a song, keys, and the screen as text. A `^` under a row is the cursor.

#![allow(clippy::unwrap_used, reason = "tests")]

mod page;

use breathmark::tui::app::Event;
use breathmark::tui::look::Look;
use page::{FERRY, Writer};

fn check(name: &str, size: (u16, u16), keys: &str) {
    let mut writer = Writer::opens(FERRY, size);
    writer.types(keys);
    insta::assert_snapshot!(name, writer.sees());
}

#[test]
fn a_song_as_it_opens() {
    check("opened_80x24", (80, 24), "");
    check("opened_60x20", (60, 20), "");
    check("opened_120x40", (120, 40), "");
    check("opened_300x24", (300, 24), "");
}

#[test]
fn a_song_without_signs_and_colours() {
    let mut writer = Writer::opens_looking(FERRY, (80, 24), Look::PLAIN);
    writer.types("<F2>");
    let (buf, _) = writer.drawn();
    for cell in buf.content() {
        assert!(cell.symbol().is_ascii(), "{}", cell.symbol());
        assert_eq!(cell.fg, ratatui::style::Color::Reset);
        assert_eq!(cell.bg, ratatui::style::Color::Reset);
    }
    insta::assert_snapshot!("plain_80x24", writer.sees());
}

/// No figure, verdict or mark is told by its colour alone.
#[test]
fn colour_changes_no_sign() {
    for keys in ["", "<F2><Down>", "<F3><Down>", "<F4><Down>", "<F1>"] {
        let mut with = Writer::opens(FERRY, (120, 40));
        let mut without = Writer::opens_looking(
            FERRY,
            (120, 40),
            Look {
                signs: true,
                colour: false,
            },
        );
        with.types(keys);
        without.types(keys);
        assert_eq!(with.sees(), without.sees());
    }
}

#[test]
fn lists_over_the_foot_and_beside_the_lyric() {
    check(
        "warnings_80x24",
        (80, 24),
        "<Ctrl-End><Up><End>, a ferry and a rope and a lamp<F2>",
    );
    check(
        "warnings_120x40",
        (120, 40),
        "<Ctrl-End><Up><End>, a ferry and a rope and a lamp<F2><Down>",
    );
    check("variants_80x24", (80, 24), "<F3><Down>");
    check("variants_120x40", (120, 40), "<F3><Down><Right>");
    check("actions_60x20", (60, 20), "<F1>chord");
    check("actions_120x40", (120, 40), "<F1>wording");
    check("aside_80x24", (80, 24), "<F6>");
    check("rhymes_80x24", (80, 24), "<Down><Down><End><F4><Down>");
    check("rhymes_120x40", (120, 40), "<Down><Down><End><F4><Down>");
}

#[test]
fn rows_that_are_opened() {
    check("other_wordings_80x24", (80, 24), "<F8><Down>");
    check("details_80x24", (80, 24), "<F7>");
    check("section_details_80x24", (80, 24), "<Up><Up><F7>");
    check("song_details_80x24", (80, 24), "<Alt-I>");
    check("borrowed_80x24", (80, 24), "<Ctrl-End><Up><Up><Tab>");
}

#[test]
fn close_chords_spread_the_lyric() {
    check(
        "spread_80x24",
        (80, 24),
        "<Up><Right><Right><Right><Right><Right><Right>m7b5<Right><Right>G",
    );
}

#[test]
fn a_long_line_goes_along_with_the_cursor() {
    check(
        "long_60x20",
        (60, 20),
        "<End>, and nobody there to see her go",
    );
}

#[test]
fn questions_in_the_status_line() {
    check("unsaved_80x24", (80, 24), "Oh <Ctrl-Q>");
    check("find_80x24", (80, 24), "<Ctrl-F>river");
    check("tempo_80x24", (80, 24), "<F9><Space><Space>");
}

#[test]
fn below_its_size_the_page_says_what_it_needs() {
    let mut writer = Writer::opens(FERRY, (80, 24));
    writer.happens(Event::Size(40, 12));
    writer.types("Oh ");
    insta::assert_snapshot!("small_40x12", writer.sees());
    assert_eq!(
        writer.lyric(0, 0),
        "Oh She rang the bell at the water's edge"
    );
    writer.happens(Event::Size(1, 1));
    writer.sees();
    writer.happens(Event::Size(0, 0));
    writer.sees();
}

/// Any size can be drawn at any moment, with any list open, and the cursor lies on the screen.
#[test]
fn every_size_can_be_drawn() {
    for keys in [
        "",
        "<F1>",
        "<F2><Down>",
        "<F3><Down>",
        "<F4><Down>",
        "<F6>",
        "<Alt-I>",
        "<F8>",
        "<Ctrl-F>a",
        "<F9>",
        "<Ctrl-Q>",
    ] {
        let mut writer = Writer::opens(FERRY, (80, 24));
        writer.types(keys);
        for (columns, rows) in [
            (60, 20),
            (61, 21),
            (72, 20),
            (99, 20),
            (100, 20),
            (100, 60),
            (300, 100),
            (60, 100),
            (200, 21),
        ] {
            writer.happens(Event::Size(columns, rows));
            let (_, cursor) = writer.drawn();
            if let Some((x, y)) = cursor {
                assert!(x < columns && y < rows, "{keys} {columns}x{rows}");
            }
        }
    }
}
