//! What the system asks of the program: to end.

use crate::wording::message::Message;
use std::thread::JoinHandle;

/// A wish of the system or of another program that this one end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Signal {
    /// `SIGTERM`: the machine goes down, or somebody asks.
    Terminate,
    /// `SIGHUP`: the terminal is gone.
    HangUp,
    /// `SIGINT` from outside; the key Ctrl-C is none where the terminal hands over its keys.
    Interrupt,
}

impl Signal {
    /// The exit code by which a shell knows that the program ended on this signal: 128 and the signal's number.
    #[must_use]
    pub fn exit_code(self) -> u8 {
        match self {
            Self::HangUp => 129,
            Self::Interrupt => 130,
            Self::Terminate => 143,
        }
    }
}

/// A thread that listens for signals, until this is dropped.
pub struct Listening {
    #[cfg(unix)]
    handle: signal_hook::iterator::Handle,
    thread: Option<JoinHandle<()>>,
}

/// Tells of each signal instead of ending the program; `told` is called from a thread of its own and may take its time.
/// Where the system has no signals, nothing is ever told.
///
/// *Errors* where the system takes no listener.
pub fn listen(told: impl FnMut(Signal) + Send + 'static) -> Result<Listening, Message> {
    #[cfg(unix)]
    {
        unix::listen(told).map_err(|error| {
            Message::new(format!(
                "the end of the terminal cannot be noticed: {error}"
            ))
            .next("Save often.")
        })
    }
    #[cfg(not(unix))]
    {
        drop(told);
        Ok(Listening { thread: None })
    }
}

#[cfg(unix)]
mod unix {
    use super::{Listening, Signal};
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use std::io;
    use std::thread;

    pub(super) fn listen(
        mut told: impl FnMut(Signal) + Send + 'static,
    ) -> Result<Listening, io::Error> {
        let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT])?;
        let handle = signals.handle();
        let thread = thread::Builder::new()
            .name("signals".to_owned())
            .spawn(move || {
                for number in &mut signals {
                    match number {
                        SIGTERM => told(Signal::Terminate),
                        SIGHUP => told(Signal::HangUp),
                        SIGINT => told(Signal::Interrupt),
                        _ => {}
                    }
                }
            })?;
        Ok(Listening {
            handle,
            thread: Some(thread),
        })
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        #[cfg(unix)]
        self.handle.close();
        if let Some(thread) = self.thread.take()
            && thread.thread().id() != std::thread::current().id()
        {
            let _ = thread.join();
        }
    }
}
