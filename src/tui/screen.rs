//! The terminal: taken over, drawn to, and given back whatever happens.

use super::app::App;
use super::views::frame;
use crossterm::event::{
    DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, EnableMouseCapture,
};
use crossterm::terminal::{
    BeginSynchronizedUpdate, EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen,
};
use crossterm::{cursor, execute, queue, terminal};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use std::io::{self, Stdout, Write as _, stdout};
use std::sync::atomic::{AtomicBool, Ordering};

/// Whether the terminal is ours, so that it is given back once.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// The terminal while it is ours.
pub struct Screen {
    terminal: Terminal<CrosstermBackend<Stdout>>,
}

impl Screen {
    /// Takes the terminal over.
    ///
    /// # Errors
    /// Where the terminal cannot be set up; it is then as it was.
    pub fn take() -> io::Result<Self> {
        terminal::enable_raw_mode()?;
        TAKEN.store(true, Ordering::SeqCst);
        let entered = execute!(
            stdout(),
            EnterAlternateScreen,
            EnableBracketedPaste,
            EnableMouseCapture,
            terminal::DisableLineWrap
        );
        let terminal = entered.and_then(|()| Terminal::new(CrosstermBackend::new(stdout())));
        match terminal {
            Ok(terminal) => Ok(Self { terminal }),
            Err(error) => {
                give_back();
                Err(error)
            }
        }
    }

    /// Its columns and rows.
    ///
    /// # Errors
    /// Where the terminal does not tell.
    pub fn size(&self) -> io::Result<(u16, u16)> {
        self.terminal.size().map(|size| (size.width, size.height))
    }

    /// Draws what has changed, shown at one stroke.
    ///
    /// # Errors
    /// Where the terminal is gone.
    pub fn draw(&mut self, app: &App) -> io::Result<()> {
        queue!(stdout(), BeginSynchronizedUpdate)?;
        let drawn = self.terminal.draw(|found| {
            let cursor = frame::draw(app, found.buffer_mut());
            if let Some(cursor) = cursor {
                found.set_cursor_position(cursor);
            }
        });
        drawn?;
        execute!(stdout(), EndSynchronizedUpdate)
    }

    /// Gives text to the terminal's clipboard (OSC 52), where it has one.
    ///
    /// # Errors
    /// Where the terminal is gone.
    pub fn copy(&self, text: &str) -> io::Result<()> {
        let mut out = stdout();
        write!(out, "\x1b]52;c;{}\x1b\\", base64(text.as_bytes()))?;
        out.flush()
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

/// Gives the terminal back as it was; safe to be called from anywhere, and more than once.
pub fn give_back() {
    if TAKEN.swap(false, Ordering::SeqCst) {
        // Each step is tried: a terminal that is gone needs none of them.
        let _ = execute!(
            stdout(),
            EndSynchronizedUpdate,
            DisableMouseCapture,
            DisableBracketedPaste,
            terminal::EnableLineWrap,
            LeaveAlternateScreen,
            cursor::Show
        );
        let _ = terminal::disable_raw_mode();
    }
}

/// Bytes as RFC 4648 (Josefsson 2006, section 4) writes them in base 64.
#[must_use]
pub fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let bits = (0..3).fold(0_u32, |bits, index| {
            bits << 8 | u32::from(three.get(index).copied().unwrap_or(0))
        });
        for place in 0..4_usize {
            let sign = usize::try_from(bits >> (18 - 6 * place) & 63)
                .ok()
                .and_then(|index| SIGNS.get(index));
            text.push(match sign {
                Some(sign) if place <= three.len() => char::from(*sign),
                _ => '=',
            });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::base64;

    /// The vectors of RFC 4648, section 10.
    #[test]
    fn base64_is_as_published() {
        for (text, expected) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(text.as_bytes()), expected);
        }
    }
}
