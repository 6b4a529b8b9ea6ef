//! The promise that nothing is lost, kept on a real disk: with links, permissions, pipes, and processes that are killed.

#![cfg(unix)]
#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::notebook::disk::clean;
use breathmark::notebook::draft::{Drafts, Standing};
use breathmark::notebook::draft_writer::DraftWriter;
use breathmark::notebook::lock::{Taken, take};
use breathmark::notebook::open::{bytes, open, resolve};
use breathmark::notebook::save::{export, keep_both, save};
use breathmark::notebook::signals::{Signal, listen};
use breathmark::wording::message::Message;
use std::fs::{self, Permissions};
use std::io::{BufRead, BufReader, Write};
use std::os::unix::fs::{PermissionsExt, symlink};
use std::os::unix::net::UnixListener;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::channel;
use std::time::Duration;
use tempfile::{TempDir, tempdir};

fn song(text: &str) -> (TempDir, PathBuf) {
    let folder = tempdir().unwrap();
    let path = folder.path().join("ferry.yaml");
    fs::write(&path, text).unwrap();
    (folder, path)
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let name = |entry: std::io::Result<fs::DirEntry>| entry.unwrap().file_name();
    let mut names: Vec<_> = entries.map(name).collect();
    names.sort();
    names
        .into_iter()
        .map(|name| name.into_string().unwrap())
        .collect()
}

fn fine(_: &str) -> Result<(), Message> {
    Ok(())
}

#[test]
fn a_link_stays_a_link_and_the_permissions_stay() {
    let (folder, real) = song("old");
    let elsewhere = tempdir().unwrap();
    let link = elsewhere.path().join("link.yaml");
    symlink(&real, &link).unwrap();
    for mode in [0o664, 0o600, 0o640, 0o755] {
        fs::set_permissions(&real, Permissions::from_mode(mode)).unwrap();
        let opened = open(&link).unwrap();
        assert_eq!(opened.path, link);
        assert_eq!(opened.resolved, fs::canonicalize(&real).unwrap());

        let text = format!("\u{feff}new {mode:o}\r\n");
        save(&opened.resolved, &text, fine).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(open(&link).unwrap().text, text);
        assert_eq!(
            fs::metadata(&real).unwrap().permissions().mode() & 0o7777,
            mode
        );
    }
    assert_eq!(names(folder.path()), ["ferry.yaml"]);
    assert_eq!(names(elsewhere.path()), ["link.yaml"]);
}

#[test]
fn a_file_meant_to_stay_as_it_is_stays() {
    let (folder, path) = song("old");
    fs::set_permissions(&path, Permissions::from_mode(0o444)).unwrap();
    let message = save(&path, "new", fine).unwrap_err().to_string();
    assert!(
        message.starts_with("ferry.yaml: not saved; read-only"),
        "{message}"
    );
    assert_eq!(fs::read_to_string(&path).unwrap(), "old");
    fs::set_permissions(&path, Permissions::from_mode(0o644)).unwrap();
    assert!(save(&path, "new", fine).is_ok());
    assert_eq!(names(folder.path()), ["ferry.yaml"]);
}

#[test]
fn a_song_with_the_longest_name_is_saved() {
    let folder = tempdir().unwrap();
    let path = folder.path().join(format!("{}.yaml", "f".repeat(250)));
    fs::write(&path, "old").unwrap();
    save(&path, "new", fine).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "new");
    let beside = keep_both(&path, "mine").unwrap();
    assert_eq!(fs::read_to_string(beside).unwrap(), "mine");
}

#[test]
fn a_folder_that_is_gone_is_told_and_saving_works_when_it_is_back() {
    let (folder, path) = song("old");
    let inside = folder.path().join("notebook");
    fs::create_dir(&inside).unwrap();
    let path = {
        let moved = inside.join("ferry.yaml");
        fs::rename(path, &moved).unwrap();
        moved
    };
    fs::remove_dir_all(&inside).unwrap();
    let message = save(&path, "new", fine).unwrap_err().to_string();
    assert!(message.contains("the folder is gone"), "{message}");
    fs::create_dir(&inside).unwrap();
    save(&path, "new", fine).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "new");
    assert_eq!(names(&inside), ["ferry.yaml"]);
}

#[test]
fn a_folder_in_the_songs_place_is_told() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("ferry.yaml");
    fs::create_dir(&path).unwrap();
    let message = save(&path, "new", fine).unwrap_err().to_string();
    assert!(message.contains("in its place is a folder"), "{message}");
}

#[test]
fn both_texts_are_kept() {
    let (folder, path) = song("theirs");
    let first = keep_both(&path, "mine").unwrap();
    let second = keep_both(&path, "mine too").unwrap();
    assert_eq!(
        names(folder.path()),
        ["ferry-mine-1.yaml", "ferry-mine-2.yaml", "ferry.yaml"]
    );
    let text = |path: &Path| fs::read_to_string(path).unwrap();
    assert_eq!(
        [text(&path), text(&first), text(&second)],
        ["theirs", "mine", "mine too"]
    );
}

/// What opening a path says; a path that keeps us waiting is an error of its own.
fn refusal(path: &Path) -> String {
    let (tell, told) = channel();
    let given = path.to_owned();
    std::thread::spawn(move || {
        let message = open(&given).unwrap_err();
        assert_eq!(bytes(&given, 1024).unwrap_err(), message);
        tell.send(message.to_string()).unwrap();
    });
    // The limit only keeps a broken test from hanging.
    told.recv_timeout(Duration::from_secs(60)).unwrap()
}

#[test]
fn whatever_is_no_file_is_refused_by_name() {
    let folder = tempdir().unwrap();
    let inside = |name: &str| folder.path().join(name);
    let check = |path: &Path, expected: &str| {
        let message = refusal(path);
        assert!(
            message.starts_with(&format!("{}: ", path.display())),
            "{message}"
        );
        assert!(message.contains(expected), "{message}");
    };
    let pipe = inside("pipe.yaml");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    check(&pipe, "this is a pipe");
    let socket = inside("socket.yaml");
    let _listener = UnixListener::bind(&socket).unwrap();
    check(&socket, "this is a socket");
    check(Path::new("/dev/zero"), "this is a device");
    check(folder.path(), "this is a folder");
    check(&inside("none.yaml"), "there is no such file");
    symlink(inside("none.yaml"), inside("dangling.yaml")).unwrap();
    check(
        &inside("dangling.yaml"),
        "leads to a file that is not there",
    );
    symlink(inside("loop.yaml"), inside("loop.yaml")).unwrap();
    check(&inside("loop.yaml"), "link loop");
    symlink(&pipe, inside("link.yaml")).unwrap();
    check(&inside("link.yaml"), "this is a pipe");
    fs::write(inside("plain"), "").unwrap();
    check(&inside("plain").join("ferry.yaml"), "no folder");
    check(&inside(&"f".repeat(300)), "name is too long");
}

#[test]
fn without_permission_that_is_what_is_said() {
    let (_folder, path) = song("old");
    fs::set_permissions(&path, Permissions::from_mode(0o000)).unwrap();
    // Permissions do not bind the system's administrator.
    match fs::read_to_string(&path) {
        Ok(text) => assert_eq!(open(&path).unwrap().text, text),
        Err(_) => assert!(refusal(&path).contains("no permission to read it")),
    }
}

#[test]
fn a_song_that_is_gone_still_has_its_drafts_name() {
    let (folder, path) = song("old");
    let link = folder.path().join("link");
    symlink(folder.path(), &link).unwrap();
    let before = resolve(&link.join("ferry.yaml"));
    fs::remove_file(&path).unwrap();
    assert_eq!(resolve(&link.join("ferry.yaml")), before);
    assert_eq!(
        before,
        fs::canonicalize(folder.path()).unwrap().join("ferry.yaml")
    );
}

#[test]
fn an_export_goes_to_files_and_devices() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("ferry.txt");
    export(&path, b"one").unwrap();
    export(&path, b"two").unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"two");
    assert_eq!(names(folder.path()), ["ferry.txt"]);
    export(Path::new("/dev/null"), b"one").unwrap();
    assert!(export(folder.path(), b"one").is_err());
    if cfg!(target_os = "linux") {
        let message = export(Path::new("/dev/full"), b"one")
            .unwrap_err()
            .to_string();
        assert!(
            message.starts_with("/dev/full: not saved; the disk is full"),
            "{message}"
        );
    }
}

/// Another process of this test, which does only what the named test below says.
struct Other(Child);

impl Other {
    fn start(task: &str, song: &Path) -> (Self, BufReader<std::process::ChildStdout>) {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", task, "--ignored", "--nocapture"])
            .env("SONG", song)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let rows = BufReader::new(child.stdout.take().unwrap());
        (Self(child), rows)
    }
}

impl Drop for Other {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Reads what another process says until the row comes so many times.
fn hear(rows: &mut impl BufRead, row: &str, times: usize) {
    let heard = rows
        .lines()
        .map_while(Result::ok)
        .filter(|heard| heard.ends_with(row));
    assert_eq!(heard.take(times).count(), times);
}

fn say(row: &str) {
    let mut out = std::io::stdout();
    writeln!(out, "{row}").unwrap();
    out.flush().unwrap();
}

/// Its song, and the folder that stands for the place of drafts; `None` where no test has started this part.
fn given() -> Option<(PathBuf, PathBuf)> {
    let song = PathBuf::from(std::env::var_os("SONG")?);
    let state = song.with_file_name("state");
    Some((song, state))
}

/// Until the one who started us closes our input, or is gone.
fn wait_for_the_other() {
    let _ = std::io::stdin().read_line(&mut String::new());
}

const LONG: usize = 300_000;

#[test]
#[ignore = "a part that another test plays in a process of its own"]
fn part_saves_until_killed() {
    let Some((song, _)) = given() else { return };
    for turn in 0.. {
        let letter = if turn % 2 == 0 { "a" } else { "b" };
        save(&song, &letter.repeat(LONG), fine).unwrap();
        say("saved");
    }
}

#[test]
fn a_killed_save_leaves_a_whole_song_and_nothing_after_the_next_session() {
    let (folder, path) = song(&"b".repeat(LONG));
    for saves in 1..8 {
        let (other, mut rows) = Other::start("part_saves_until_killed", &path);
        hear(&mut rows, "saved", saves);
        drop(other);
        let text = open(&path).unwrap().text;
        assert_eq!(text.len(), LONG);
        assert!(text.chars().all(|c| c == 'a') || text.chars().all(|c| c == 'b'));
        clean(folder.path());
        assert_eq!(names(folder.path()), ["ferry.yaml"]);
    }
}

#[test]
#[ignore = "a part that another test plays in a process of its own"]
fn part_holds_the_song() {
    let Some((song, state)) = given() else { return };
    let taken = take(&state, &song);
    assert!(matches!(taken, Taken::Ours(_)));
    say("held");
    wait_for_the_other();
}

#[test]
fn a_second_window_reads_only_and_a_killed_one_lets_go() {
    let (folder, path) = song("old");
    let state = folder.path().join("state");
    let (other, mut rows) = Other::start("part_holds_the_song", &path);
    hear(&mut rows, "held", 1);
    assert!(matches!(take(&state, &path), Taken::AlreadyOpen));
    drop(other);
    assert!(matches!(take(&state, &path), Taken::Ours(_)));
    assert_eq!(names(folder.path()), ["ferry.yaml", "state"]);
}

#[test]
#[ignore = "a part that another test plays in a process of its own"]
fn part_types_until_a_signal() {
    let Some((song, state)) = given() else { return };
    let opened = open(&song).unwrap();
    let writer = DraftWriter::start(Drafts::open(&state), &song, &opened.stamp, |_| {}).unwrap();
    let flush = writer.flush();
    let _listening = listen(move |signal: Signal| {
        flush.now().unwrap();
        std::process::exit(i32::from(signal.exit_code()));
    })
    .unwrap();
    writer.put("unsaved words".to_owned(), "2:3".to_owned());
    say("typed");
    wait_for_the_other();
}

#[test]
fn a_signal_ends_the_session_with_the_words_on_the_disk() {
    for (name, code) in [("TERM", 143), ("HUP", 129), ("INT", 130)] {
        let (folder, path) = song("old");
        let (mut other, mut rows) = Other::start("part_types_until_a_signal", &path);
        // Waiting for a process closes its input, which would end this one too.
        let _input = other.0.stdin.take();
        hear(&mut rows, "typed", 1);
        let process = other.0.id().to_string();
        let sent = Command::new("kill").args(["-s", name, &process]).status();
        assert!(sent.unwrap().success());
        assert_eq!(other.0.wait().unwrap().code(), Some(code));

        let drafts = Drafts::open(&folder.path().join("state"));
        let draft = drafts.find(&path).unwrap().unwrap();
        assert_eq!(
            (draft.text.as_str(), draft.cursor.as_str()),
            ("unsaved words", "2:3")
        );
        let opened = open(&path).unwrap();
        assert_eq!(opened.text, "old");
        assert_eq!(draft.standing(&opened), Standing::Newer);
    }
}
