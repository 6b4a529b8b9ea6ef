//! What the terminal is sent, at any size, whatever a song's file holds; and what happens where there is no terminal.

use crate::window::Desk;
use std::fs;
use std::process::{Command, Output, Stdio};

const DEMO: &str = include_str!("../../demo/the-last-house-on-the-round.yaml");

#[test]
fn any_size_at_any_moment() {
    let (desk, path) = Desk::with("round.yaml", DEMO);
    let Some(mut window) = desk.open(&path, (80, 24)) else {
        return;
    };
    window.shows("Nan Carrow");
    let sizes = [
        (300, 24),
        (100, 24),
        (99, 30),
        (60, 20),
        (59, 20),
        (60, 19),
        (20, 5),
        (5, 2),
        (1, 1),
        (20, 5),
        (61, 21),
        (300, 80),
        (120, 40),
    ];
    let mut typed = String::new();
    for (keys, open) in [
        ("", "Verse"),
        ("<F2>", "Warning"),
        ("<F3>", "as written"),
        ("<F1>", "search"),
        ("<F7>", "bars"),
        ("<F9>", "Tap"),
        ("<Ctrl-F>", "Find:"),
    ] {
        window.types(keys).shows(open);
        for size in sizes {
            window.resizes(size).types("<Right>");
        }
        // A size that was not there before tells that all of them were seen.
        window.resizes((21, 6)).shows("Here are 21 and 6.");
        window.resizes((80, 24)).shows(open);
        if keys == "<F7>" {
            window.types(keys).hides(" picture ");
        } else if !keys.is_empty() {
            window.types("<Esc>").hides(open);
        }
        // Too small for the page, which says what it needs; a key still counts.
        window.resizes((22, 6)).shows("needs 60");
        window.types("<Ctrl-Home><Home>");
        let number = typed.len().to_string();
        window.types(&number);
        typed.insert_str(0, &number);
        window.resizes((80, 24));
        window.waits(&typed, |screen| screen.contains(&typed));
    }
    window.types("<Ctrl-Q>").shows("Unsaved");
    window.types("n");
    assert_eq!(window.ends().0, 0);
    window.gave_the_terminal_back();
}

#[test]
fn a_size_that_changes_while_it_starts_counts() {
    let (desk, path) = Desk::with("round.yaml", DEMO);
    let Some(mut window) = desk.open(&path, (80, 24)) else {
        return;
    };
    window.resizes((20, 5)).shows("needs 60");
    window.resizes((80, 24)).shows("Nan Carrow");
    window.leaves();
}

/// Whatever a terminal could obey, or be deceived by.
const HOSTILE: &[&str] = &[
    "\u{1b}]0;title\u{7}",
    "\u{1b}]52;c;aGk=\u{1b}\\\\",
    "\u{1b}P1$r\u{1b}\\\\",
    "\u{1b}_apc\u{1b}\\\\",
    "\u{1b}[2J",
    "\u{7}",
    "\u{7f}",
    "\u{9d}0;t\u{9c}",
    "\u{9b}2J",
    "\u{202e}",
    "\u{2066}",
    "\u{200b}",
    "\u{2060}",
    "\u{feff}",
    "\u{2028}",
    "\u{2029}",
    "\u{e0041}",
    "\u{200d}",
    "\u{fe0f}",
];

/// A song full of it, as YAML may hold it: escaped in double quotes.
fn hostile_song() -> String {
    let escaped: String = HOSTILE
        .iter()
        .flat_map(|text| text.chars())
        .map(|sign| format!("\\U{:08X}", u32::from(sign)))
        .collect();
    format!(
        "title: \"Ti{escaped}tle\"
key: \"E{escaped}m\"
tempo: \"{escaped}\"
style: \"{escaped}\"
words: {{\"{escaped}\": \"{escaped}\"}}
tunes:
  verse: [\"E2 {escaped} G\"]
\"{escaped}\": 1
sections:
  - label: \"Verse{escaped} 1\"
    kind: verse
    happens: \"{escaped}\"
    mood: \"{escaped}\"
    picture: \"{escaped}\"
    lines:
      - chords: \"E{escaped}m    G\"
        lyric: \"She{escaped} rang the bell\"
        others: [\"a{escaped}b\"]
        sound: \"{escaped}\"
      - chords: [[0, \"A{escaped}m\"], [4, \"{escaped}\"]]
        lyric: \"and none {escaped} came\"
    set_aside: [{{lyric: \"{escaped}\"}}]
"
    )
}

/// Panics where bytes hold what no terminal may be sent: OSC, DCS, APC, BEL, C1, DEL, bidi controls, invisible signs, tags.
fn harmless(bytes: &[u8], where_from: &str) {
    let text = String::from_utf8_lossy(bytes);
    for begin in ["\u{1b}]", "\u{1b}P", "\u{1b}_", "\u{1b}^", "\u{1b}X"] {
        assert!(!text.contains(begin), "{where_from}: {begin:?}");
    }
    for sign in text.chars() {
        let bad = matches!(
            sign,
            '\u{7}' | '\u{7f}'..='\u{9f}'
                | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{061c}'
                | '\u{2028}'..='\u{202e}' | '\u{2060}' | '\u{2066}'..='\u{2069}'
                | '\u{feff}' | '\u{e0000}'..='\u{e007f}'
        );
        assert!(!bad, "{where_from}: {sign:?}");
    }
}

#[test]
fn no_file_speaks_to_the_terminal() {
    // A file's name holds all but what no name can.
    let name: String = HOSTILE.iter().flat_map(|text| text.chars()).collect();
    let name = format!("s{}.yaml", name.replace(['/', '\0'], ""));
    let (desk, path) = Desk::with(&name, &hostile_song());
    let Some(mut window) = desk.open(&path, (120, 40)) else {
        return;
    };
    window.shows("rang the bell");
    // Through all rows and lists, with the file's name said on saving.
    for keys in [
        "<Down><Down><Down><Up><Up><Up><Up>",
        "<F7>",
        "<F7>",
        "<Alt-I>",
        "<Alt-I>",
        "<Down><F8>",
        "<F8>",
    ] {
        window.types(keys);
    }
    for (keys, open) in [
        ("<F2>", "of "),
        ("<F3>", "Variants"),
        ("<F6>", "Set aside"),
        ("<F1>", "search"),
    ] {
        window.types(keys).shows(open);
        window.types("<Right><Down>");
        window.types("<Esc>").hides(open);
    }
    window.types("x<Ctrl-S>").shows("Saved in");
    let _ = fs::write(&path, hostile_song());
    window.shows("was changed");
    window.types("<Ctrl-O>").shows("1 song");
    window.types("<Ctrl-Q>");
    assert_eq!(window.ends().0, 0);
    harmless(&window.raw(), "page");
    // Joiners and variation selectors pass.
    let sent = window.raw();
    let sent = String::from_utf8_lossy(&sent);
    assert!(sent.contains('\u{200d}') && sent.contains('\u{fe0f}'));

    let checked = without_terminal(&desk, &["check".as_ref(), path.as_os_str()]);
    harmless(&checked.stdout, "check");
    harmless(&checked.stderr, "check's messages");
    assert!(!checked.stdout.contains(&0x1b) && !checked.stderr.contains(&0x1b));
    let gone = without_terminal(&desk, &[path.with_extension("none").as_os_str()]);
    assert_eq!(gone.status.code(), Some(2));
    harmless(&gone.stderr, "a message");
    assert!(!gone.stderr.contains(&0x1b));
}

fn without_terminal(desk: &Desk, arguments: &[&std::ffi::OsStr]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_breathmark"))
        .args(arguments)
        .env_clear()
        .envs(desk.environment())
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

#[test]
fn without_a_terminal_a_song_is_checked() {
    let (desk, path) = Desk::with("round.yaml", DEMO);
    let checked = without_terminal(&desk, &["check".as_ref(), path.as_os_str()]);
    let opened = without_terminal(&desk, &[path.as_os_str()]);
    assert_eq!(opened.status.code(), Some(0));
    assert_eq!(opened.stdout, checked.stdout);
    let said = String::from_utf8(opened.stderr).unwrap();
    assert!(said.contains("terminal"), "{said}");
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(!desk.state().exists());
}

#[test]
fn a_closed_pipe_is_a_quiet_end() {
    let (desk, path) = Desk::with("round.yaml", DEMO);
    let mut child = Command::new(env!("CARGO_BIN_EXE_breathmark"))
        .arg(&path)
        .env_clear()
        .envs(desk.environment())
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let ended = child.wait_with_output().unwrap();
    // Ended by itself, not by a panic, and with nothing to say of the pipe.
    assert!(ended.status.code().is_some_and(|code| code != 101));
    let said = String::from_utf8(ended.stderr).unwrap();
    assert!(said.lines().all(|row| row.contains("terminal")), "{said}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_device_is_told() {
    let (desk, path) = Desk::with("round.yaml", DEMO);
    let full = fs::File::options().write(true).open("/dev/full").unwrap();
    let ended = Command::new(env!("CARGO_BIN_EXE_breathmark"))
        .arg(&path)
        .env_clear()
        .envs(desk.environment())
        .stdin(Stdio::null())
        .stdout(full)
        .output()
        .unwrap();
    assert_eq!(ended.status.code(), Some(2));
    assert!(!ended.stderr.is_empty());
}
