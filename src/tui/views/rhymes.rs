//! The words that rhyme, for the place under the cursor.

use super::list::{first_shown, frame, item, note};
use crate::tui::app::{App, Areas};
use crate::tui::cells::wrapped;
use crate::tui::rhymes::{Rhymes, Target};
use crate::wording::figure::counted;
use crate::words::rhyme::search::Found;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::cmp::Ordering;

/// Draws the list; the page shows the word that is chosen.
pub fn draw(app: &App, list: &Rhymes, areas: Areas, buf: &mut Buffer) {
    let title = match list.targets.get(list.target) {
        Some(Target::End(line, word)) if *line == list.line => {
            format!("Rhymes with \u{201c}{word}\u{201d}, the end of this line")
        }
        Some(Target::End(line, word)) => format!(
            "Rhymes with \u{201c}{word}\u{201d}, the end of line {}",
            line + 1
        ),
        Some(Target::Itself(word)) => format!("Rhymes with \u{201c}{word}\u{201d} itself"),
        None => return,
    };
    let area = frame(app, areas, &title, buf);
    let inside = inside(list);
    let below = u16::try_from(wrapped(&inside, area.width.saturating_sub(2)).len()).unwrap_or(1);
    let below = if inside.is_empty() {
        0
    } else {
        below + u16::from(areas.beside)
    };
    let shown = Rect {
        height: area.height.saturating_sub(below),
        ..area
    };
    let at = list.chosen.map_or(0, |index| index + 1);
    let first = first_shown(at, usize::from(shown.height));
    for (index, y) in (first..=list.found.len()).zip(shown.top()..shown.bottom()) {
        match index.checked_sub(1).and_then(|index| list.found.get(index)) {
            None if list.found.is_empty() => note(
                app,
                shown,
                y,
                "The dictionary has no word that rhymes.",
                buf,
            ),
            None => {
                let written = if list.word.is_empty() {
                    "as written".to_owned()
                } else {
                    format!("as written: {}", list.word)
                };
                item(app, shown, y, at == 0, &written, "", buf);
            }
            Some(found) => {
                let between = app.look.between();
                let place = standing(found, list.place.len());
                let remark = format!("{}{between}{place}", found.kind.name());
                item(app, shown, y, at == index, &found.word, &remark, buf);
            }
        }
    }
    if below > 0 {
        note(
            app,
            area,
            area.bottom().saturating_sub(below) + u16::from(areas.beside),
            &inside,
            buf,
        );
    }
}

/// How a word stands in its place, which has so many syllables.
fn standing(found: &Found, syllables: usize) -> String {
    let off = counted(found.syllables.abs_diff(syllables), "syllable", "syllables");
    match found.syllables.cmp(&syllables) {
        Ordering::Greater => format!("{off} too many"),
        Ordering::Less => format!("{off} too few"),
        Ordering::Equal if found.fits => counted(syllables, "syllable", "syllables"),
        Ordering::Equal => "off the beat".to_owned(),
    }
}

/// What rhymes inside the line.
fn inside(list: &Rhymes) -> String {
    let pairs: Vec<String> = list
        .inside
        .iter()
        .map(|found| {
            let place = if found.next_line {
                " in the next line"
            } else {
                ""
            };
            format!(
                "\u{201c}{}\u{201d} with \u{201c}{}\u{201d}{place}",
                found.word, found.with
            )
        })
        .collect();
    if pairs.is_empty() {
        String::new()
    } else {
        format!("Inside this line: {}.", pairs.join(", "))
    }
}
