//! What an event does: a new state, and effects for others to carry out. Knows no terminal, no disk, no clock.

use super::app::{App, Asking, Effect, Event, Then};
use super::commands::{Action, Focus};
use super::keys::{Key, Meaning, is_motion};
use super::lists::{self, List};
use super::{asking, contents, finding, structure, typing};
use crate::song::NodeId;
use crate::song::edit::{Edit, Value};
use crate::song::field::Field;
use crate::song::place::Row;
use std::time::Duration;

/// Lets an event happen.
pub fn update(app: &mut App, event: Event) -> Vec<Effect> {
    let effects = match event {
        Event::Key(key, at) => key_pressed(app, key, at),
        Event::Paste(text) => {
            pasted(app, &text);
            Vec::new()
        }
        Event::Click { x, y, dragged } => {
            clicked(app, x, y, dragged);
            Vec::new()
        }
        Event::Wheel(down) => turned(app, down),
        Event::Size(columns, rows) => {
            app.size = (columns, rows);
            Vec::new()
        }
        Event::Answer(number, answer) => {
            if number == app.asked {
                app.waiting = false;
                lists::answered(app, answer);
            }
            Vec::new()
        }
    };
    app.settle();
    effects
}

fn key_pressed(app: &mut App, key: Key, at: Duration) -> Vec<Effect> {
    let focus = app.focus();
    let Some(meaning) = key.meaning(focus) else {
        return Vec::new();
    };
    app.said = None;
    match meaning {
        Meaning::Type(letter) => typed(app, letter),
        Meaning::Do(action) => act(app, action, focus, at),
        Meaning::Select(action) => {
            walk(app, action, true);
            Vec::new()
        }
    }
}

fn typed(app: &mut App, letter: char) -> Vec<Effect> {
    match app.focus() {
        Focus::Lyric | Focus::Chords | Focus::Heading | Focus::Other => {
            change(app, |page| {
                typing::insert(page, letter.encode_utf8(&mut [0; 4]))
            });
            Vec::new()
        }
        Focus::List => lists::typed(app, letter),
        Focus::Field => {
            asking::typed(app, letter);
            Vec::new()
        }
        Focus::Contents => {
            contents::typed(app, letter);
            Vec::new()
        }
        Focus::Asking | Focus::Tapping => Vec::new(),
    }
}

/// Does an action where it counts; also for the list of actions, which does what is chosen in it.
pub fn act(app: &mut App, action: Action, focus: Focus, at: Duration) -> Vec<Effect> {
    match focus {
        Focus::Asking | Focus::Field | Focus::Tapping => {
            if action == Action::Leave {
                return leave(app, Then::Leave);
            }
            return asking::act(app, action, at);
        }
        Focus::List if !matches!(action, Action::Save | Action::Leave) => {
            if let Some(effects) = lists::act(app, action) {
                return effects;
            }
        }
        Focus::Contents => {
            if let Some(effects) = contents::act(app, action) {
                return effects;
            }
        }
        _ => {}
    }
    match action {
        Action::Save => return save(app),
        Action::Leave => return leave(app, Then::Leave),
        Action::OpenContents => return leave(app, Then::Contents),
        Action::Help => return lists::open_actions(app, focus),
        Action::Warnings => return lists::open_warnings(app),
        Action::Variants => return lists::open_variants(app),
        Action::Plan => return super::plan::open(app),
        Action::Rhymes => return super::rhymes::open(app),
        Action::Said => return super::said::open(app),
        Action::AsideList => return lists::open_aside(app),
        Action::TapTempo => app.asking = Some(Asking::Tempo(vec![at])),
        Action::TimeNote => app.asking = Some(Asking::SteadyNote(Default::default())),
        Action::Find => app.asking = Some(Asking::Find(String::new())),
        Action::DropDraft => return vec![Effect::DropDraft],
        Action::Close => close(app),
        Action::Copy => return copy(app),
        Action::Cut => {
            let effects = copy(app);
            change(app, typing::cut);
            return effects;
        }
        Action::Paste => {
            let text = app.clip.clone();
            pasted(app, &text);
        }
        Action::Undo | Action::Redo => undo(app, action == Action::Redo),
        motion if is_motion(motion) => walk(app, motion, false),
        other => {
            if let Some(said) = change(app, |page| structure::act(page, other)).flatten() {
                app.say(said);
            }
        }
    }
    Vec::new()
}

/// Makes an edit that was offered, the cursor staying where it is; says why where that is not possible. Gives whether it was made.
pub fn take(app: &mut App, edit: &Edit) -> bool {
    let taken = change(app, |page| {
        let place = page.cursor.place;
        page.edit(edit, Some(place))
    });
    taken.is_some()
}

/// Makes the edit that gives the song's header a value; as [`take`].
pub fn set_in_head(app: &mut App, field: Field, text: String) -> bool {
    let edit = Edit::Set {
        node: NodeId::SONG,
        value: Value::Field(field, Some(text)),
    };
    take(app, &edit)
}

/// Changes the page's song, and says why where that is not possible.
pub fn change<T>(
    app: &mut App,
    make: impl FnOnce(&mut super::page::Page) -> Result<T, crate::song::edit::EditError>,
) -> Option<T> {
    let page = app.page.as_mut()?;
    if page.file.read_only {
        app.warn("This song is already open in another window; here it can only be read.");
        return None;
    }
    match make(page) {
        Ok(made) => Some(made),
        Err(error) => {
            app.warn(format!("That cannot be done here: {error}."));
            None
        }
    }
}

fn walk(app: &mut App, action: Action, select: bool) {
    let height = usize::from(app.areas().page.height);
    if let Some(page) = &mut app.page {
        page.walk(action, height, select);
    }
}

fn undo(app: &mut App, redo: bool) {
    let moved = change(app, |page| Ok(page.turn_back(redo)));
    if moved == Some(false) {
        app.say(if redo {
            "Nothing to redo."
        } else {
            "Nothing to undo."
        });
    }
}

fn copy(app: &mut App) -> Vec<Effect> {
    let Some(text) = app.page.as_ref().and_then(typing::copied) else {
        return Vec::new();
    };
    app.clip.clone_from(&text);
    vec![Effect::Copy(text)]
}

fn close(app: &mut App) {
    if let Some(page) = &mut app.page {
        page.cursor.anchor = None;
    }
}

fn save(app: &mut App) -> Vec<Effect> {
    let Some(page) = &mut app.page else {
        return Vec::new();
    };
    if page.file.read_only {
        app.warn("This song is already open in another window; it is saved there.");
        return Vec::new();
    }
    if page.file.changed && !page.file.told_changed {
        page.file.told_changed = true;
        let name = page.file.name.clone();
        app.warn(format!(
            "{name} was changed by another program. Ctrl-S again keeps both texts."
        ));
        return Vec::new();
    }
    if page.file.changed {
        return vec![Effect::KeepBoth];
    }
    vec![Effect::Save(None)]
}

fn leave(app: &mut App, then: Then) -> Vec<Effect> {
    let unsaved = app
        .page
        .as_ref()
        .is_some_and(|page| page.desk.unsaved() && !page.file.read_only);
    if unsaved {
        app.asking = Some(Asking::Unsaved(then));
        Vec::new()
    } else {
        app.asking = None;
        vec![Effect::Go(then)]
    }
}

/// Pasted text goes where a key would go.
fn pasted(app: &mut App, text: &str) {
    app.said = None;
    match app.focus() {
        Focus::Lyric | Focus::Chords | Focus::Heading | Focus::Other => {
            change(app, |page| typing::paste(page, text));
        }
        Focus::Field => text
            .chars()
            .filter(|letter| !letter.is_control())
            .for_each(|letter| asking::typed(app, letter)),
        Focus::List | Focus::Asking | Focus::Tapping | Focus::Contents => {}
    }
}

fn clicked(app: &mut App, x: u16, y: u16, dragged: bool) {
    let areas = app.areas();
    if app.asking.is_some() || app.contents.is_some() {
        return;
    }
    let Some(page) = &mut app.page else { return };
    let inside = areas.page;
    if y < inside.top() || y >= inside.bottom() || x >= inside.right() {
        return;
    }
    let row = page.top + usize::from(y - inside.top());
    let Some(place) = page.with_sheet(|sheet| sheet.place_at(row, x)) else {
        return;
    };
    let anchor = dragged.then(|| page.cursor.anchor.unwrap_or(page.cursor.place));
    page.cursor = super::cursor::Cursor {
        anchor,
        ..super::cursor::Cursor::at(place, row)
    };
    page.desk.end_run();
}

fn turned(app: &mut App, down: bool) -> Vec<Effect> {
    match app.focus() {
        Focus::Lyric | Focus::Chords | Focus::Heading | Focus::Other => {
            for _ in 0..3 {
                walk(app, if down { Action::Down } else { Action::Up }, false);
            }
            Vec::new()
        }
        Focus::List => {
            lists::act(app, if down { Action::Next } else { Action::Previous }).unwrap_or_default()
        }
        Focus::Contents => contents::act(app, if down { Action::Next } else { Action::Previous })
            .unwrap_or_default(),
        Focus::Asking | Focus::Field | Focus::Tapping => Vec::new(),
    }
}

/// Goes on with a search from the cursor.
pub fn find(app: &mut App, wanted: &str, from_next: bool) {
    let Some(page) = &mut app.page else { return };
    let found = finding::find(page.song(), page.cursor.place, wanted, from_next);
    match found {
        Some(place) if place.row == Row::Chords => page.go_to_column(place),
        Some(place) => page.go_to(place),
        None if wanted.is_empty() => {}
        None => app.say(format!("\u{201c}{wanted}\u{201d} is not in the song.")),
    }
}

/// Whether a list that is open shows actions, so that it takes the whole page where there is no room beside it.
#[must_use]
pub const fn shows_actions(list: &List) -> bool {
    matches!(list, List::Actions(_))
}
