//! A window: the real binary in a pseudo-terminal, its keys, its screen, its end.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read as _, Write};
use std::num::NonZeroU16;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// How long a condition may take to come true; only a broken program needs that long.
const PATIENCE: Duration = Duration::from_secs(20);

const FRAME_BEGINS: &[u8] = b"\x1b[?2026h";
const FRAME_ENDS: &[u8] = b"\x1b[?2026l";

/// A writer's desk: a folder with songs, and one for what outlives a session.
pub(crate) struct Desk {
    root: TempDir,
}

impl Desk {
    pub(crate) fn new() -> Self {
        let root = tempfile::tempdir().unwrap();
        std::fs::create_dir(root.path().join("songs")).unwrap();
        Self { root }
    }

    /// A desk with a song of that text.
    pub(crate) fn with(name: &str, text: &str) -> (Self, PathBuf) {
        let desk = Self::new();
        let path = desk.songs().join(name);
        std::fs::write(&path, text).unwrap();
        (desk, path)
    }

    pub(crate) fn songs(&self) -> PathBuf {
        self.root.path().join("songs")
    }

    pub(crate) fn state(&self) -> PathBuf {
        self.root.path().join("state/breathmark")
    }

    /// The names in the songs' folder, in order.
    pub(crate) fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = std::fs::read_dir(self.songs())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    /// The environment in which every program of this desk runs.
    pub(crate) fn environment(&self) -> [(&'static str, PathBuf); 4] {
        [
            ("HOME", self.root.path().join("home")),
            ("XDG_STATE_HOME", self.root.path().join("state")),
            ("TERM", PathBuf::from("xterm-256color")),
            ("LC_ALL", PathBuf::from("C.UTF-8")),
        ]
    }

    /// Opens a window on a path; `None`, with the reason printed, where the system gives no pseudo-terminal.
    pub(crate) fn open(&self, path: &Path, size: (u16, u16)) -> Option<Window> {
        let pair = match native_pty_system().openpty(pty_size(size)) {
            Ok(pair) => pair,
            Err(error) => {
                eprintln!("skipped: no pseudo-terminal can be opened here: {error}");
                return None;
            }
        };
        let before = settings(pair.master.as_ref());
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_breathmark"));
        command.env_clear();
        for (name, value) in self.environment() {
            command.env(name, value);
        }
        command.cwd(self.root.path());
        command.arg(path);
        let child = pair.slave.spawn_command(command).unwrap();
        // Else the terminal would never end for its reader.
        drop(pair.slave);
        let reader = pair.master.try_clone_reader().unwrap();
        let seen = Arc::new((Mutex::new(Seen::new(size)), Condvar::new()));
        let shared = Arc::clone(&seen);
        thread::spawn(move || read_all(reader, &shared));
        Some(Window {
            writer: Some(pair.master.take_writer().unwrap()),
            master: Some(pair.master),
            child,
            seen,
            before,
        })
    }
}

/// What came out of the terminal.
struct Seen {
    parser: vt100::Parser,
    raw: Vec<u8>,
    /// The screen after the last whole frame.
    text: String,
    over: bool,
    /// The start of a sign whose other bytes have not come yet.
    begun: Vec<u8>,
}

impl Seen {
    fn new(size: (u16, u16)) -> Self {
        Self {
            parser: vt100::Parser::new(cells(size.1), cells(size.0), 0),
            raw: Vec::new(),
            text: String::new(),
            over: false,
            begun: Vec::new(),
        }
    }

    fn take(&mut self, bytes: &[u8]) {
        self.raw.extend_from_slice(bytes);
        self.begun.extend_from_slice(bytes);
        let whole = self.begun.len() - unfinished(&self.begun);
        // A terminal gives the replacement character a cell, the parser gives it none.
        let text = String::from_utf8_lossy(&self.begun[..whole]).replace('\u{fffd}', "?");
        self.parser.process(text.as_bytes());
        self.begun.drain(..whole);
        // A frame is shown at one stroke, so that nobody sees half of it.
        if last(&self.raw, FRAME_BEGINS) <= last(&self.raw, FRAME_ENDS) {
            self.publish();
        }
    }

    fn publish(&mut self) {
        let screen = self.parser.screen();
        let rows = screen.rows(0, screen.size().1.get());
        self.text = rows.fold(String::new(), |text, row| text + row.trim_end() + "\n");
    }
}

/// How many bytes at the end begin a sign in UTF-8 without ending it.
fn unfinished(bytes: &[u8]) -> usize {
    match std::str::from_utf8(bytes) {
        Err(error) if error.error_len().is_none() => bytes.len() - error.valid_up_to(),
        _ => 0,
    }
}

fn last(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes
        .windows(wanted.len())
        .rposition(|window| window == wanted)
}

/// A test that failed while it held the lock leaves it to its window's end.
fn lock(seen: &(Mutex<Seen>, Condvar)) -> MutexGuard<'_, Seen> {
    seen.0.lock().unwrap_or_else(PoisonError::into_inner)
}

fn read_all(mut reader: Box<dyn std::io::Read + Send>, seen: &(Mutex<Seen>, Condvar)) {
    let mut buffer = [0; 16 * 1024];
    loop {
        let read = reader.read(&mut buffer).unwrap_or(0);
        let mut guard = lock(seen);
        guard.take(&buffer[..read]);
        guard.over = read == 0;
        seen.1.notify_all();
        if read == 0 {
            return;
        }
    }
}

pub(crate) struct Window {
    master: Option<Box<dyn MasterPty + Send>>,
    writer: Option<Box<dyn Write + Send>>,
    child: Box<dyn Child + Send + Sync>,
    seen: Arc<(Mutex<Seen>, Condvar)>,
    /// The terminal's settings before the program took it.
    before: String,
}

fn settings(master: &dyn MasterPty) -> String {
    format!("{:?}", master.get_termios())
}

impl Window {
    /// Types text and named keys: `Oh<Enter><Ctrl-S>`.
    pub(crate) fn types(&mut self, keys: &str) -> &mut Self {
        let mut rest = keys;
        let mut bytes = Vec::new();
        while let Some((text, named)) = rest.split_once('<') {
            bytes.extend_from_slice(text.as_bytes());
            let (name, after) = named.split_once('>').unwrap();
            bytes.extend(key(name));
            rest = after;
        }
        bytes.extend_from_slice(rest.as_bytes());
        self.sends(&bytes)
    }

    pub(crate) fn sends(&mut self, bytes: &[u8]) -> &mut Self {
        let writer = self.writer.as_mut().unwrap();
        writer.write_all(bytes).unwrap();
        writer.flush().unwrap();
        self
    }

    /// Waits until the screen is as wanted, and gives it as text.
    ///
    /// Panics with the last screen where that takes too long, or the program ends meanwhile.
    pub(crate) fn waits(&self, what: &str, wanted: impl Fn(&str) -> bool) -> String {
        let changed = &self.seen.1;
        let until = Instant::now() + PATIENCE;
        let mut seen = lock(&self.seen);
        loop {
            if wanted(&seen.text) {
                return seen.text.clone();
            }
            let left = until.saturating_duration_since(Instant::now());
            assert!(
                !left.is_zero() && !seen.over,
                "waited for {what}; the screen is\n{}",
                seen.text
            );
            seen = changed.wait_timeout(seen, left).unwrap().0;
        }
    }

    /// Waits until some text is on the screen.
    pub(crate) fn shows(&self, text: &str) -> String {
        self.waits(text, |screen| screen.contains(text))
    }

    /// Waits until some text has gone from the screen.
    pub(crate) fn hides(&self, text: &str) -> String {
        self.waits(&format!("no {text}"), |screen| !screen.contains(text))
    }

    /// Waits until one row holds all of the texts, and gives that row.
    pub(crate) fn row_with(&self, texts: &[&str]) -> String {
        let holds = |row: &&str| texts.iter().all(|text| row.contains(text));
        let screen = self.waits(&format!("a row with {texts:?}"), |screen| {
            screen.lines().any(|row| holds(&row))
        });
        screen.lines().find(holds).unwrap().to_owned()
    }

    pub(crate) fn screen(&self) -> String {
        lock(&self.seen).text.clone()
    }

    /// Every byte that the program sent so far.
    pub(crate) fn raw(&self) -> Vec<u8> {
        lock(&self.seen).raw.clone()
    }

    pub(crate) fn resizes(&mut self, size: (u16, u16)) -> &mut Self {
        let master = self.master.as_ref().unwrap();
        let mut seen = lock(&self.seen);
        seen.parser
            .screen_mut()
            .set_size(cells(size.1), cells(size.0));
        master.resize(pty_size(size)).unwrap();
        drop(seen);
        self
    }

    /// Sends a signal by its name, such as `KILL`.
    pub(crate) fn signal(&self, name: &str) {
        let process = self.process().to_string();
        let sent = Command::new("kill").args(["-s", name, &process]).status();
        assert!(sent.unwrap().success());
    }

    pub(crate) fn process(&self) -> u32 {
        self.child.process_id().unwrap()
    }

    /// Waits for the program's end; gives its exit code, and how long it took.
    pub(crate) fn ends(&mut self) -> (u32, Duration) {
        let begun = Instant::now();
        let changed = &self.seen.1;
        let mut seen = lock(&self.seen);
        while !seen.over {
            assert!(
                begun.elapsed() < PATIENCE,
                "the program does not end; the screen is\n{}",
                seen.text
            );
            seen = changed.wait_timeout(seen, PATIENCE).unwrap().0;
        }
        drop(seen);
        let code = self.child.wait().unwrap().exit_code();
        (code, begun.elapsed())
    }

    /// Leaves with Ctrl-Q where nothing is unsaved.
    pub(crate) fn leaves(mut self) {
        self.types("<Ctrl-Q>");
        assert_eq!(self.ends().0, 0);
        self.gave_the_terminal_back();
    }

    /// The terminal is as it was: its settings, the usual screen, a cursor, no mouse, no bracketed paste.
    pub(crate) fn gave_the_terminal_back(&self) {
        let after = settings(self.master.as_deref().unwrap());
        assert_eq!(after, self.before);
        let seen = lock(&self.seen);
        let screen = seen.parser.screen();
        assert!(!screen.alternate_screen());
        assert!(!screen.hide_cursor());
        assert!(!screen.bracketed_paste());
        assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
        // The parser does not keep line wrap.
        assert!(last(&seen.raw, b"\x1b[?7h") > last(&seen.raw, b"\x1b[?7l"));
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn pty_size((cols, rows): (u16, u16)) -> PtySize {
    PtySize {
        rows,
        cols,
        pixel_width: 0,
        pixel_height: 0,
    }
}

fn cells(number: u16) -> NonZeroU16 {
    NonZeroU16::new(number).unwrap()
}

/// What a terminal of the xterm family sends for a key (Xterm Control Sequences, Moy, Gildea, Dickey, "PC-Style Function Keys").
fn key(name: &str) -> Vec<u8> {
    let (mut modifiers, mut rest) = (1, name);
    let (mut ctrl, mut alt) = (false, false);
    while let Some((modifier, after)) = rest.split_once('-').filter(|(_, after)| !after.is_empty())
    {
        modifiers += match modifier {
            "Shift" => 1,
            "Alt" => 2,
            "Ctrl" => 4,
            _ => panic!("no key is called {name}"),
        };
        ctrl |= modifier == "Ctrl";
        alt |= modifier == "Alt";
        rest = after;
    }
    let letter = |sign: char| match (sign, modifiers) {
        (sign, 1) => format!("\x1b[{sign}"),
        (sign, _) => format!("\x1b[1;{modifiers}{sign}"),
    };
    let number = |number: u8| match modifiers {
        1 => format!("\x1b[{number}~"),
        _ => format!("\x1b[{number};{modifiers}~"),
    };
    let plain = |byte: u8| {
        let byte = if ctrl { byte & 0x1f } else { byte };
        let escape: &[u8] = if alt { b"\x1b" } else { b"" };
        [escape, &[byte]].concat()
    };
    match rest {
        "Enter" => plain(b'\r'),
        "Esc" => plain(0x1b),
        "Tab" => plain(b'\t'),
        "Space" => plain(b' '),
        "Backspace" => plain(0x7f),
        "Up" => letter('A').into_bytes(),
        "Down" => letter('B').into_bytes(),
        "Right" => letter('C').into_bytes(),
        "Left" => letter('D').into_bytes(),
        "End" => letter('F').into_bytes(),
        "Home" => letter('H').into_bytes(),
        "Delete" => number(3).into_bytes(),
        "PageUp" => number(5).into_bytes(),
        "PageDown" => number(6).into_bytes(),
        "F1" | "F2" | "F3" | "F4" => format!("\x1bO{}", (b'O' + digit(rest)) as char).into_bytes(),
        "F6" | "F7" | "F8" => number(11 + digit(rest)).into_bytes(),
        "F9" => number(20).into_bytes(),
        _ => plain(rest.to_ascii_lowercase().as_bytes()[0]),
    }
}

fn digit(name: &str) -> u8 {
    name.as_bytes()[1] - b'0'
}
