//! Sentences to people: what is the matter, where, and what to do next.
//!
//! In: what a room found, as text and places. Out: a [`message::Message`], a [`figure::Figure`], text that is safe to print.
//! Never: printing (the doors do that), a file, a decision.

pub mod figure;
pub mod message;
pub mod safe;
