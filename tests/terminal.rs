//! The real binary in a pseudo-terminal: what a writer sees, keeps, and what the terminal is sent.

#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::print_stderr,
    reason = "a test may stop, and says why it skips"
)]

#[path = "terminal/window.rs"]
mod window;

#[path = "terminal/story.rs"]
mod story;

#[path = "terminal/kept.rs"]
mod kept;

#[path = "terminal/sent.rs"]
mod sent;
