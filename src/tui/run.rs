//! The loop: one channel for keys, answers, signals and news of the draft; frames; effects carried out.

mod ending;
mod files;

use self::ending::{SharedFlush, flush_now, stop_cleanly};
use super::app::{App, Effect, Event, Then};
use super::disk::OnDisk;
use super::keys::Key;
use super::look::Look;
use super::page::Draft;
use super::screen::{Screen, give_back};
use super::update::update;
use super::worker::{Answer, Asked, Question, Worker};
use crate::formats::yaml::write::write;
use crate::notebook::draft::Drafts;
use crate::notebook::draft_writer::News;
use crate::notebook::signals::{Signal, listen};
use crate::notebook::{folder, state};
use crate::song::Song;
use crate::wording::message::Message;
use crossterm::event::{self, Event as Typed, MouseButton, MouseEventKind};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

/// How often the file is looked at when nothing happens.
const TICK: Duration = Duration::from_millis(700);
/// How many events may come before a frame is drawn.
const BURST: usize = 128;
/// How long a signal waits for the loop before its own thread ends the program.
const PATIENCE: Duration = Duration::from_millis(900);

/// All that the loop hears.
enum Heard {
    Typed(Typed),
    /// The terminal is gone.
    Silence,
    Answer(u64, Answer),
    News(News),
    Signal(Signal),
}

/// Opens the page of a song, or the contents of a folder, until the writer leaves. Gives the exit code.
///
/// # Errors
/// A message where the song or folder cannot be opened, or the terminal cannot be set up.
pub fn run(path: &Path) -> Result<u8, Message> {
    let (heard, hears) = channel();
    let mut session = Session::open(path, heard.clone())?;
    let no_terminal =
        |error: std::io::Error| Message::new(format!("the terminal cannot be set up; {error}"));
    // Before the terminal is ours, so that it is given back even if a thread stops at once.
    stop_cleanly(&session.flush);
    let screen = Screen::take().map_err(no_terminal)?;
    session.app.size = screen.size().map_err(no_terminal)?;
    let ended = Arc::clone(&session.flush);
    let to_loop = heard.clone();
    let _signals = listen(move |signal| {
        // The loop writes the draft and ends; where it does not answer, this thread does both.
        let _ = to_loop.send(Heard::Signal(signal));
        thread::sleep(PATIENCE);
        flush_now(&ended);
        give_back();
        std::process::exit(i32::from(signal.exit_code()));
    });
    listen_to_terminal(heard);
    session.go(screen, &hears)
}

fn listen_to_terminal(heard: Sender<Heard>) {
    thread::spawn(move || {
        loop {
            let next = event::read().map_or(Heard::Silence, Heard::Typed);
            let last = matches!(next, Heard::Silence);
            if heard.send(next).is_err() || last {
                return;
            }
        }
    });
}

/// The program while it runs: its state, and what it holds outside.
struct Session {
    app: App,
    file: Option<OnDisk>,
    /// The folder of the contents.
    folder: PathBuf,
    state: Option<PathBuf>,
    heard: Sender<Heard>,
    worker: Option<Worker>,
    flush: SharedFlush,
    begun: Instant,
    /// The writer was told that no draft can be kept, and may leave all the same.
    told_no_draft: bool,
}

impl Session {
    fn open(path: &Path, heard: Sender<Heard>) -> Result<Self, Message> {
        let look = Look::from_environment(|name| std::env::var(name).ok());
        let state = state::folder().ok();
        if let Some(state) = &state {
            Drafts::open(state).clean();
        }
        let to_loop = heard.clone();
        let worker = Worker::start(move |number, answer| {
            // The loop has ended: nobody waits any more.
            let _ = to_loop.send(Heard::Answer(number, answer));
        });
        let mut session = Self {
            app: App::new(look, (80, 24)),
            file: None,
            folder: if path.is_dir() {
                path.to_owned()
            } else {
                folder_of(path)
            },
            state,
            heard,
            worker: worker.ok(),
            flush: Arc::new(Mutex::new(None)),
            begun: Instant::now(),
            told_no_draft: false,
        };
        if path.is_dir() {
            session.show_contents()?;
        } else {
            session.open_song(path)?;
        }
        Ok(session)
    }

    fn go(mut self, mut screen: Screen, hears: &Receiver<Heard>) -> Result<u8, Message> {
        let mut looked = Instant::now();
        loop {
            // Asked anew for each frame: a change of size is told to nobody before the terminal is listened to.
            if let Ok(size) = screen.size() {
                self.app.size = size;
            }
            self.app.settle();
            if screen.draw(&self.app).is_err() {
                return Ok(self.end(0));
            }
            self.give_draft();
            let first = match hears.recv_timeout(TICK) {
                Ok(first) => Some(first),
                Err(RecvTimeoutError::Timeout) => None,
                Err(RecvTimeoutError::Disconnected) => return Ok(self.end(0)),
            };
            let more = hears.try_iter().take(BURST);
            for heard in first.into_iter().chain(more) {
                if let Some(code) = self.hear(heard, &mut screen) {
                    drop(screen);
                    return Ok(self.end(code));
                }
            }
            if looked.elapsed() >= TICK {
                looked = Instant::now();
                self.look_at_file();
            }
        }
    }

    /// Takes one thing in; gives the exit code where it ends the program.
    fn hear(&mut self, heard: Heard, screen: &mut Screen) -> Option<u8> {
        let at = self.begun.elapsed();
        let event = match heard {
            Heard::Typed(Typed::Key(key)) => Event::Key(Key::of(&key)?, at),
            Heard::Typed(Typed::Paste(text)) => Event::Paste(text),
            Heard::Typed(Typed::Resize(columns, rows)) => Event::Size(columns, rows),
            Heard::Typed(Typed::Mouse(mouse)) => match mouse.kind {
                MouseEventKind::Down(MouseButton::Left) => Event::Click {
                    x: mouse.column,
                    y: mouse.row,
                    dragged: false,
                },
                MouseEventKind::Drag(MouseButton::Left) => Event::Click {
                    x: mouse.column,
                    y: mouse.row,
                    dragged: true,
                },
                MouseEventKind::ScrollDown => Event::Wheel(true),
                MouseEventKind::ScrollUp => Event::Wheel(false),
                _ => return None,
            },
            Heard::Typed(Typed::FocusGained | Typed::FocusLost) => return None,
            Heard::Answer(number, answer) => Event::Answer(number, answer),
            Heard::News(news) => {
                self.news(news);
                return None;
            }
            Heard::Silence => return Some(self.stop(129)),
            Heard::Signal(signal) => return Some(self.stop(signal.exit_code())),
        };
        let effects = update(&mut self.app, event);
        effects
            .into_iter()
            .find_map(|effect| self.carry_out(effect, screen))
    }

    /// The draft is written before the program ends from outside.
    fn stop(&mut self, code: u8) -> u8 {
        self.give_draft();
        flush_now(&self.flush);
        code
    }

    fn news(&mut self, news: News) {
        let Some(page) = &mut self.app.page else {
            return;
        };
        match news {
            News::Written(_) => {
                if page.file.draft == Draft::NotKept {
                    page.file.draft = Draft::Quiet;
                }
            }
            News::Failed(message) => {
                page.file.draft = Draft::NotKept;
                self.app.warn(message.to_string());
            }
        }
    }

    fn carry_out(&mut self, effect: Effect, screen: &Screen) -> Option<u8> {
        match effect {
            Effect::Save(then) => {
                if self.save()
                    && let Some(then) = then
                {
                    return self.go_on(then);
                }
            }
            Effect::KeepBoth => self.keep_both(),
            Effect::Go(then) => return self.leave_draft(then),
            Effect::DropDraft => self.drop_draft(),
            Effect::Ask(number, question) => self.ask(number, question),
            Effect::Stop => {
                if let Some(worker) = &self.worker {
                    worker.stop();
                }
            }
            // A terminal without a clipboard loses nothing: the text is ours as well.
            Effect::Copy(text) => drop(screen.copy(&text)),
            Effect::Open(path) => {
                if let Err(message) = self.open_song(&path) {
                    self.app.warn(message.to_string());
                }
            }
            Effect::NewSong(title) => {
                let made = folder::create_song(&self.folder, &title, &write(&Song::new(&title)));
                if let Err(message) = made.and_then(|path| self.open_song(&path)) {
                    self.app.warn(message.to_string());
                }
            }
        }
        None
    }

    fn go_on(&mut self, then: Then) -> Option<u8> {
        match then {
            Then::Leave => Some(0),
            Then::Contents => {
                self.close_song();
                if let Err(message) = self.show_contents() {
                    self.app.warn(message.to_string());
                }
                None
            }
        }
    }

    fn ask(&mut self, number: u64, question: Question) {
        let song = self
            .app
            .page
            .as_ref()
            .map(|page| (page.desk.song().clone(), page.desk.memory().clone()));
        match &self.worker {
            Some(worker) => worker.ask(Asked {
                number,
                song,
                question,
            }),
            None => self
                .app
                .warn("The system gives no further thread; this cannot be computed now."),
        }
    }

    fn end(mut self, code: u8) -> u8 {
        self.close_song();
        code
    }
}

fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}
