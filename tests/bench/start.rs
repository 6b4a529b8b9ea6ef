//! From the program's start to its first whole frame, in a pseudo-terminal; and the memory of the open page.
//!
//! `cargo bench --bench start`. On a busy machine other programs are measured along; `chrt -f 1` before the binary keeps them out.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a bench, which prints what it measured"
)]

use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use std::io::{Read, Write as _};
use std::path::Path;
use std::time::{Duration, Instant};

const RUNS: usize = 20;
const KEYS: usize = 200;
const SONG: &str = "demo/the-last-house-on-the-round.yaml";
const SIZE: PtySize = PtySize {
    rows: 40,
    cols: 120,
    pixel_width: 0,
    pixel_height: 0,
};
/// What ends a frame: the end of a synchronized update.
const FRAME_ENDS: &[u8] = b"\x1b[?2026l";

/// What one run of the program took.
struct Run {
    first_frame: Duration,
    /// In kilobytes, where the system tells: after the first frame, and after [`KEYS`] keys.
    memory: [Option<u64>; 2],
}

fn main() {
    let mut runs: Vec<Run> = (0..RUNS).map(|_| run()).collect();
    runs.sort_by_key(|run| run.first_frame);
    let ms = |run: &Run| run.first_frame.as_secs_f64() * 1000.0;
    let (median, worst) = (ms(&runs[RUNS / 2]), ms(&runs[RUNS - 1]));
    println!("start to first frame: median {median:.1} ms, worst {worst:.1} ms of {RUNS}");
    for (index, when) in ["the first frame", "200 keys"].iter().enumerate() {
        let most = runs.iter().filter_map(|run| run.memory[index]).max();
        if let Some(most) = most {
            println!("memory after {when}: {:.1} MB", most as f64 / 1024.0);
        }
    }
}

fn run() -> Run {
    let root = tempfile::tempdir().unwrap();
    let song = root.path().join("song.yaml");
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(SONG), &song).unwrap();
    let pair = native_pty_system().openpty(SIZE).unwrap();
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_breathmark"));
    command.env_clear();
    command.env("HOME", root.path());
    command.env("XDG_STATE_HOME", root.path().join("state"));
    command.env("TERM", "xterm-256color");
    command.env("LC_ALL", "C.UTF-8");
    command.arg(&song);
    let mut reader = pair.master.try_clone_reader().unwrap();
    let mut writer = pair.master.take_writer().unwrap();
    let begun = Instant::now();
    let mut child = pair.slave.spawn_command(command).unwrap();
    drop(pair.slave);
    until_frame(&mut reader);
    let first_frame = begun.elapsed();
    let process = child.process_id().unwrap();
    let first = resident(process);
    // One key a frame, as a writer types; letters, so that every figure is reckoned anew.
    for key in b"and on the moor ".iter().cycle().take(KEYS) {
        writer.write_all(&[*key]).unwrap();
        until_frame(&mut reader);
    }
    let after = resident(process);
    child.kill().unwrap();
    child.wait().unwrap();
    Run {
        first_frame,
        memory: [first, after],
    }
}

/// Reads until a frame has ended.
fn until_frame(reader: &mut impl Read) {
    let mut seen = Vec::new();
    let mut buffer = [0; 64 * 1024];
    while !seen
        .windows(FRAME_ENDS.len())
        .any(|bytes| bytes == FRAME_ENDS)
    {
        let read = reader.read(&mut buffer).unwrap();
        assert!(
            read > 0,
            "the program ended: {}",
            String::from_utf8_lossy(&seen)
        );
        seen.extend_from_slice(&buffer[..read]);
    }
}

/// The memory of a process that is in use, in kilobytes, as Linux tells it.
fn resident(process: u32) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let row = status.lines().find_map(|row| row.strip_prefix("VmRSS:"))?;
    row.split_whitespace().next()?.parse().ok()
}
