//! A writer's way through the page, key by key; what the keys do to the song, and that undo takes it back.

#![allow(clippy::needless_pass_by_value, clippy::unwrap_used, reason = "tests")]

mod page;

use breathmark::song::field::{FIELDS, Owner};
use breathmark::song::place::Row;
use breathmark::tui::app::{Asking, Effect, Event, Then};
use breathmark::tui::lists::List;
use page::{FERRY, Writer};

const SIZE: (u16, u16) = (100, 30);

/// Types keys into the ferry song, compares what `seen` tells, then undoes everything and compares with the start.
fn check<T: PartialEq + std::fmt::Debug>(keys: &str, seen: impl Fn(&Writer) -> T, expected: T) {
    let mut writer = Writer::opens(FERRY, SIZE);
    let before = writer.yaml();
    writer.types(keys);
    assert_eq!(seen(&writer), expected, "{keys}");
    let after = writer.yaml();
    let mut steps = 0;
    while writer.said() != "Nothing to undo." {
        writer.types("<Ctrl-Z>");
        steps += 1;
    }
    assert_eq!(writer.yaml(), before, "{keys}");
    assert!(!writer.page().desk.unsaved(), "{keys}");
    for _ in 1..steps {
        writer.types("<Ctrl-Y>");
    }
    assert_eq!(writer.yaml(), after, "{keys}");
}

fn lyrics(writer: &Writer) -> Vec<String> {
    let sections = &writer.page().song().sections;
    sections
        .iter()
        .flat_map(|section| section.lines.iter().map(|line| line.lyric.clone()))
        .collect()
}

fn first(writer: &Writer) -> (Option<String>, String) {
    (writer.chords(0, 0), writer.lyric(0, 0).to_owned())
}

fn line(chords: &str, lyric: &str) -> (Option<String>, String) {
    (Some(chords.to_owned()), lyric.to_owned())
}

#[test]
fn words_are_typed_and_their_chords_go_along() {
    check(
        "Oh ",
        first,
        line(
            "       Em       C           Am      B7",
            "Oh She rang the bell at the water's edge",
        ),
    );
    check(
        "<End>!",
        first,
        line(
            "    Em       C           Am      B7",
            "She rang the bell at the water's edge!",
        ),
    );
    check(
        "<Delete><Delete><Delete>He",
        first,
        line(
            "   Em       C           Am      B7",
            "He rang the bell at the water's edge",
        ),
    );
    check(
        "<Ctrl-Right><Alt-Delete>",
        first,
        line(
            "    Em  C           Am      B7",
            "She the bell at the water's edge",
        ),
    );
    check(
        "<Ctrl-Right><Ctrl-Right><Alt-Backspace>",
        |writer| writer.lyric(0, 0).to_owned(),
        "She the bell at the water's edge".to_owned(),
    );
    check(
        "<Shift-Right><Shift-Right><Shift-Right>He",
        |writer| writer.lyric(0, 0).to_owned(),
        "He rang the bell at the water's edge".to_owned(),
    );
}

#[test]
fn chords_are_typed_and_no_other_moves() {
    check(
        "<Up><Right><Right><Right><Right><Delete><Delete>G7",
        first,
        line(
            "    G7       C           Am      B7",
            "She rang the bell at the water's edge",
        ),
    );
    check(
        "<Tab><Tab><Tab>D",
        first,
        line(
            "D   Em       C           Am      B7",
            "She rang the bell at the water's edge",
        ),
    );
    check(
        "<Tab><Right><Right><Right><Right><Alt-Right>",
        first,
        line(
            "     Em      C           Am      B7",
            "She rang the bell at the water's edge",
        ),
    );
}

#[test]
fn a_comma_in_a_chord_row_is_a_breath_mark() {
    let marks = |writer: &Writer| {
        writer.page().song().sections[0].lines[0]
            .marks
            .iter()
            .map(|mark| mark.0)
            .collect::<Vec<_>>()
    };
    let to_17 = "<Right>".repeat(17);
    check(&format!("{to_17}<Tab>,"), marks, vec![17]);
    check(&format!("{to_17}<Tab>,<Backspace>"), marks, vec![]);
}

#[test]
fn lines_are_split_joined_begun_and_left() {
    check(
        "<Ctrl-Right><Ctrl-Right><Ctrl-Right><Enter>",
        |writer| lyrics(writer)[..2].to_vec(),
        vec![
            "She rang the".to_owned(),
            "bell at the water's edge".to_owned(),
        ],
    );
    check("<Down><Down><Backspace>", |writer| lyrics(writer).len(), 3);
    check(
        "<End><Enter>in the rain",
        |writer| lyrics(writer)[1].clone(),
        "in the rain".to_owned(),
    );
    check(
        "<Down><Down><End><Enter><Enter>no one",
        |writer| writer.page().song().sections[1].lines[0].lyric.clone(),
        "no one".to_owned(),
    );
    check(
        "<Down><Down><End><Delete>",
        |writer| lyrics(writer).len(),
        4,
    );
}

#[test]
fn a_borrowed_row_is_copied_by_its_first_edit() {
    let rows = |writer: &Writer| (writer.chords(2, 0), writer.chords(2, 1));
    check("<Ctrl-End><Up><Up><Home><Tab>", rows, (None, None));
    check(
        "<Ctrl-End><Up><Up><Home><Tab>G",
        rows,
        (
            Some("G   Em        C           Am         B7".to_owned()),
            None,
        ),
    );
    check("<Ctrl-End><Up><Up><Home><Tab>G<Alt-C>", rows, (None, None));
}

#[test]
fn wordings_are_kept_swapped_and_written() {
    let both = |writer: &Writer| {
        (
            writer.lyric(0, 0).to_owned(),
            writer.page().song().sections[0].lines[0].others.clone(),
        )
    };
    let (bell, rope) = (
        "She rang the bell at the water's edge".to_owned(),
        "She pulled the rope at the water's edge".to_owned(),
    );
    check(
        "<F8><Down><Enter>",
        both,
        (rope.clone(), vec![bell.clone()]),
    );
    check("<Alt-W>", both, (rope.clone(), vec![bell.clone()]));
    check(
        "<Alt-K>",
        both,
        (bell.clone(), vec![rope.clone(), bell.clone()]),
    );
    check(
        "<Down><Down><F8>or none",
        |writer| writer.page().song().sections[0].lines[1].others.clone(),
        vec!["or none".to_owned()],
    );
    check(
        "<Down><Down><F8><F8>",
        |writer| writer.page().song().sections[0].lines[1].others.clone(),
        vec![],
    );
}

#[test]
fn lines_and_sections_are_moved_set_aside_and_brought_back() {
    check(
        "<Alt-Down>",
        |writer| lyrics(writer)[1].clone(),
        "She rang the bell at the water's edge".to_owned(),
    );
    check(
        "<Up><Up><Alt-Down>",
        |writer| writer.page().song().sections[1].lines.len(),
        2,
    );
    check(
        "<Alt-A>",
        |writer| {
            (
                lyrics(writer).len(),
                writer.page().song().sections[0].set_aside.len(),
            )
        },
        (3, 1),
    );
    check(
        "<Alt-A><F6><Enter>",
        |writer| {
            (
                lyrics(writer).len(),
                writer.page().song().sections[0].set_aside.len(),
            )
        },
        (4, 0),
    );
    check(
        "<Up><Up><Alt-A>",
        |writer| {
            (
                writer.page().song().sections.len(),
                writer.page().song().set_aside.len(),
            )
        },
        (3, 1),
    );
    check("<Alt-G>", |writer| writer.page().song().sections.len(), 5);
    check(
        "<Alt-N>she waits",
        |writer| writer.page().song().sections[1].lines[0].lyric.clone(),
        "she waits".to_owned(),
    );
}

#[test]
fn copied_lines_are_pasted_with_their_chords() {
    check(
        "<Ctrl-C><Down><Down><Home><Ctrl-V>",
        |writer| writer.chords(0, 1),
        Some("    Em       C           Am      B7".to_owned()),
    );
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("<Shift-Down><Shift-Down><Ctrl-C>");
    assert!(
        writer.app.clip.contains("Em       C"),
        "{}",
        writer.app.clip
    );
    assert!(writer.app.clip.contains("no lantern moved"));
    assert!(matches!(writer.effects.as_slice(), [Effect::Copy(_)]));
    writer.types("<Down><Down><Down><End>");
    writer.happens(Event::Paste(
        "\n    Am\nthe river rose\u{1b}[2J\r\n".to_owned(),
    ));
    assert!(
        writer.yaml().contains("the river rose[2J"),
        "{}",
        writer.yaml()
    );
}

#[test]
fn a_way_out_is_tried_on_the_page_and_taken() {
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("<Down><Down><Down><Down><Down><Alt-I>");
    let before = writer.page().song().clone();
    writer.types("<Esc><Ctrl-Home><F2>");
    let warned = writer.page().desk.warnings().len();
    assert!(warned > 0);
    writer.types("<Down><Up><Esc>");
    assert_eq!(writer.page().song(), &before);
    assert!(writer.app.list.is_none() && writer.page().preview.is_none());
}

#[test]
fn a_variant_is_tried_taken_and_put_back() {
    let mut writer = Writer::opens(FERRY, SIZE);
    let before = writer.yaml();
    writer.types("<F3><Down>");
    let tried = writer.page().song().sections[0].lines[0].chords.clone();
    assert_ne!(tried, writer.page().desk.song().sections[0].lines[0].chords);
    assert_eq!(writer.yaml(), before);
    writer.types("<Enter>");
    assert_eq!(writer.page().desk.song().sections[0].lines[0].chords, tried);
    writer.types("<Ctrl-Z>");
    assert_eq!(writer.yaml(), before);
    writer.types("<F3><Down><Down><Esc>");
    assert_eq!(writer.yaml(), before);
}

#[test]
fn the_tempo_is_tapped() {
    check(
        "<F9><Space><Space><Space><Enter>",
        |writer| writer.yaml().contains("tempo: 120"),
        true,
    );
    check(
        "<F9><Esc>",
        |writer| writer.yaml().contains("tempo: 96"),
        true,
    );
    check(
        "<F9><Enter>",
        |writer| writer.yaml().contains("tempo: 96"),
        true,
    );
}

#[test]
fn the_tune_is_written_in_the_songs_details() {
    let of_song = FIELDS.iter().filter(|row| row.2.contains(&Owner::Song));
    let to_tune = format!("<Alt-I>{}", "<Down>".repeat(of_song.count()));
    let tunes = |writer: &Writer| -> Vec<(String, Vec<String>)> {
        let tunes = writer.page().song().tunes.iter();
        tunes
            .map(|tune| (tune.name.clone(), tune.phrases.clone()))
            .collect()
    };
    let known = tunes(&Writer::opens(FERRY, SIZE));
    let mut longer = known.clone();
    longer[0].1[0].push_str(" z2");
    check(&format!("{to_tune}<End> z2"), tunes, longer);
    let mut more = known.clone();
    let count = more[0].1.len();
    more[0].1.push("E4 F2".to_owned());
    check(
        &format!("{to_tune}{}E4 F2", "<Down>".repeat(count)),
        tunes,
        more,
    );
    let mut writer = Writer::opens(
        "title: T\nsections:\n  - kind: refrain\n    lines: [Oh my]\n",
        SIZE,
    );
    writer.types(&format!("{to_tune}C4 | "));
    assert_eq!(
        tunes(&writer),
        [("refrain".to_owned(), vec!["C4 | ".to_owned()])]
    );
    writer.types("<Backspace><Backspace><Backspace><Backspace><Backspace>");
    assert!(tunes(&writer).is_empty());
    assert!(!writer.yaml().contains("tunes"));
}

#[test]
fn phrases_are_parted_and_joined() {
    let of_song = FIELDS.iter().filter(|row| row.2.contains(&Owner::Song));
    let to_tune = format!("<Alt-I>{}", "<Down>".repeat(of_song.count()));
    let phrases = |writer: &Writer| writer.page().song().tunes[0].phrases.clone();
    let whole = phrases(&Writer::opens(FERRY, SIZE));
    let parted = vec!["B,2".to_owned(), "| E4 F2 | G4 F2 | E4 D2 | B,4".to_owned()];
    let right = "<Right><Right><Right><Right>";
    check(&format!("{to_tune}{right}<Enter>"), phrases, parted);
    check(
        &format!("{to_tune}{right}<Enter><Backspace>"),
        phrases,
        whole.clone(),
    );
    check(
        &format!("{to_tune}<End><Enter>c4<Enter><Backspace>"),
        phrases,
        [whole, vec!["c4".to_owned()]].concat(),
    );
}

#[test]
fn an_emptied_tune_keeps_its_row_between_others() {
    let two = "title: T\ntunes:\n  verse: [C4]\n  chorus: [D4]\nsections:\n  - kind: verse\n    lines: [Oh my]\n  - kind: chorus\n    lines: [Oh no]\n";
    let of_song = FIELDS.iter().filter(|row| row.2.contains(&Owner::Song));
    let to_tune = format!("<Alt-I>{}", "<Down>".repeat(of_song.count()));
    let mut writer = Writer::opens(two, SIZE);
    writer.types(&format!("{to_tune}<Delete><Delete><Delete><Delete>E4"));
    let tunes = &writer.page().song().tunes;
    assert_eq!(
        (tunes[0].name.as_str(), tunes[0].phrases.as_slice()),
        ("verse", &["E4".to_owned()][..])
    );
    assert_eq!(tunes[1].phrases, ["D4"]);
    let mut writer = Writer::opens(two, SIZE);
    writer.types(&format!("{to_tune}<Delete><Delete>"));
    let again = Writer::opens(&writer.yaml(), SIZE);
    assert_eq!(again.page().song().tunes, writer.page().song().tunes);
}

#[test]
fn chords_are_planned_for_every_repeat() {
    let verse = |label: &str| {
        format!(
            "  - label: {label}\n    kind: verse\n    lines:\n      - {{chords: \"G    C    G   D\", lyric: \"one two three four five six\"}}\n      - {{chords: \"G    C    D   G\", lyric: \"ten nine eight seven six five\"}}\n"
        )
    };
    let song = format!(
        "title: T\nkey: G\nmeter: 4/4\nsections:\n{}{}{}{}  - again: B\n",
        verse("A"),
        verse("B"),
        verse("C"),
        verse("D")
    );
    let mut writer = Writer::opens(&song, SIZE);
    let rows = |writer: &Writer| -> Vec<_> {
        let sections = writer.page().song().sections.iter();
        sections
            .filter(|section| !section.lines.is_empty())
            .map(|section| {
                section
                    .lines
                    .iter()
                    .map(|line| line.chords.clone())
                    .collect::<Vec<_>>()
            })
            .collect()
    };
    let before = rows(&writer);
    writer.types("<Alt-P><Down><Enter>");
    let after = rows(&writer);
    assert_eq!(after[0], before[0], "the tune has to be learned");
    for (one, next) in after.iter().zip(&after[1..]) {
        assert_ne!(one, next, "neighbours differ");
    }
    writer.types("<Ctrl-Z>");
    assert_eq!(rows(&writer), before);
    // One repeat alone, and the list of a neighbour of a varied verse.
    writer.types("<Alt-P><Down><Down><Down><Enter>");
    assert_eq!(rows(&writer)[2..], before[2..]);
    assert_ne!(rows(&writer)[1], before[1]);
    let varied = rows(&writer)[1].clone();
    writer.types("<Ctrl-Down><Ctrl-Down><F3>");
    let Some(List::Variants(list)) = &writer.app.list else {
        panic!("no list");
    };
    let count = list.offers.as_ref().unwrap().len();
    assert!(count > 3);
    for chosen in 1..=count {
        let mut other = Writer::opens(&writer.yaml(), SIZE);
        other.types(&format!(
            "<Ctrl-Down><Ctrl-Down><F3>{}<Enter>",
            "<Down>".repeat(chosen)
        ));
        assert_ne!(rows(&other)[2], varied);
    }
}

#[test]
fn the_steady_note_is_timed() {
    // Half a second a key.
    check(
        "<Alt-L><Space><Up><Up><Up><Up><Up><Up><Up><Up><Up><Space><Enter>",
        |writer| writer.yaml().contains("steady_note: 5"),
        true,
    );
    check(
        "<Alt-L><Space><Space><Enter>",
        |writer| !writer.yaml().contains("steady_note: 0"),
        true,
    );
}

#[test]
fn every_value_can_be_typed() {
    check(
        "<Alt-I><Down><End>b",
        |writer| writer.yaml().contains("key: Emb"),
        true,
    );
    check("<F7>6", |writer| writer.yaml().contains("bars: 6"), true);
    check(
        "<Up><Up><F7><Down><Down>waiting",
        |writer| writer.yaml().contains("mood: waiting"),
        true,
    );
    check(
        "<Up><Up><Home><Home><End> of five",
        |writer| writer.yaml().contains("label: Verse 1 of five"),
        true,
    );
}

#[test]
fn leaving_asks_only_where_words_are_unsaved() {
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("<Ctrl-Q>");
    assert_eq!(writer.effects, [Effect::Go(Then::Leave)]);
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("x<Ctrl-Q>");
    assert_eq!(writer.app.asking, Some(Asking::Unsaved(Then::Leave)));
    writer.types("<Esc>y");
    assert!(writer.lyric(0, 0).starts_with("xy"));
    writer.types("<Ctrl-Q>n<Ctrl-Q><Enter>");
    assert_eq!(
        writer.effects,
        [Effect::Go(Then::Leave), Effect::Save(Some(Then::Leave))]
    );
}

#[test]
fn a_changed_file_is_written_over_by_no_first_save() {
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("x");
    writer.app.page.as_mut().unwrap().file.changed = true;
    writer.types("<Ctrl-S>");
    assert!(writer.said().contains("changed"), "{}", writer.said());
    assert_eq!(writer.effects, []);
    assert!(writer.sees().contains("changed"));
    writer.types("<Ctrl-S>");
    assert_eq!(writer.effects, [Effect::KeepBoth]);
}

#[test]
fn a_second_window_reads_only() {
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.app.page.as_mut().unwrap().file.read_only = true;
    let before = writer.yaml();
    writer.types("x<Enter><Delete><Ctrl-V><Alt-N><F9><Space><Enter><Ctrl-S><Ctrl-Z>");
    assert_eq!(writer.yaml(), before);
    assert!(writer.sees().contains("already open"));
    writer.types("<Ctrl-Q>");
    assert_eq!(writer.effects, [Effect::Go(Then::Leave)]);
}

#[test]
fn what_is_searched_is_found_and_opened() {
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("<Ctrl-F>pulled");
    assert_eq!(writer.page().cursor.place.row, Row::Other(0));
    writer.types("<Esc><Ctrl-F>verse<Enter>");
    writer.types("<Esc><Ctrl-F>nowhere");
    assert!(writer.said().contains("is not in the song"));
}

#[test]
fn the_list_of_actions_does_what_is_chosen() {
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("<F1>sing this section once more<Enter>");
    assert_eq!(writer.page().song().sections.len(), 5);
    writer.types("<Ctrl-Z><F1>no such thing at all<Enter><Esc>");
    assert!(writer.app.list.is_none());
}

#[test]
fn an_empty_song_can_be_written_from_nothing() {
    let mut writer = Writer::opens("title: New\nsections: []\n", SIZE);
    writer.types("<Alt-N>She rang<Enter>and none came");
    assert_eq!(lyrics(&writer), ["She rang", "and none came"]);
    let mut writer = Writer::opens(
        "title: New\nsections:\n  - {label: Verse 1, kind: verse}\n",
        SIZE,
    );
    writer.types("<Enter>Oh");
    assert_eq!(lyrics(&writer), ["Oh"]);
}

#[test]
fn a_rhyme_is_sought_for_the_end_of_a_line_and_taken() {
    let mut writer = Writer::opens(FERRY, SIZE);
    let before = writer.yaml();
    // Line 2 is asked to rhyme with line 1, and the lyric's last word makes room.
    writer.types("<Down><Down><End><F4>");
    let Some(List::Rhymes(list)) = &writer.app.list else {
        panic!("the rhymes are open");
    };
    assert_eq!(list.targets[list.target].word(), "edge");
    let best = list.found[0].word.clone();
    assert!(list.found.iter().take(6).any(|found| found.word == "hedge"));
    writer.types("<Down>");
    assert_eq!(writer.yaml(), before);
    writer.types("<Enter>");
    assert_eq!(
        writer.lyric(0, 1),
        format!("and no one answered, no lantern {best}")
    );
    assert_eq!(
        writer.page().desk.reading().sections[0]
            .rhymes
            .scheme
            .letters(),
        "aa"
    );
    writer.types("<Ctrl-Z>");
    assert_eq!(writer.yaml(), before);
    // Right asks for the word itself; Esc leaves the line as it was.
    writer.types("<F4><Right><Right><Down><Esc>");
    assert_eq!(writer.yaml(), before);
}

#[test]
fn a_rhyme_is_added_behind_the_last_word() {
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("<Down><Down><End> by a <F4><Down><Enter>");
    assert!(
        writer
            .lyric(0, 1)
            .starts_with("and no one answered, no lantern moved by a ")
    );
    assert_eq!(
        writer.page().desk.reading().sections[0]
            .rhymes
            .scheme
            .letters(),
        "aa"
    );
    // A heading has no word to rhyme with.
    writer.types("<Ctrl-Up><F4>");
    assert!(writer.app.list.is_none() && writer.said().contains("no word"));
}

/// "every" is sung in two or in three (Bysshe 1708, The Art of English Poetry, of words "of more than two syllables"): the writer says which.
#[test]
fn a_word_is_said_as_the_writer_says() {
    let mut writer = Writer::opens(FERRY, SIZE);
    writer.types("<Down><Down><End> every");
    let before = writer.yaml();
    let syllables = |writer: &Writer| {
        writer.page().desk.reading().lines[1]
            .laid
            .syllables
            .iter()
            .filter(|syllable| "every".contains(syllable.text.as_str()))
            .count()
    };
    assert_eq!(syllables(&writer), 2);
    writer.types("<F5>");
    let Some(List::Said(list)) = &writer.app.list else {
        panic!("the list is open");
    };
    assert_eq!(list.word, "every");
    let three = list.ways.iter().position(|(_, count)| *count == 3).unwrap();
    writer.types(&"<Down>".repeat(three + 1));
    assert_eq!(writer.yaml(), before);
    writer.types("<Enter>");
    assert!(
        writer.yaml().contains("every: ev-er-y"),
        "{}",
        writer.yaml()
    );
    assert_eq!(syllables(&writer), 3);
    writer.types("<Ctrl-Z>");
    assert_eq!(writer.yaml(), before);

    // Another way, typed; with nothing typed the song says nothing of it any more.
    writer.types("<F5><Up><Enter>");
    assert!(writer.app.asking.is_none() && writer.app.list.is_none());
    writer.types("<F5>");
    let last = match &writer.app.list {
        Some(List::Said(list)) => list.ways.len() + 1,
        _ => panic!("the list is open"),
    };
    writer.types(&"<Down>".repeat(last));
    writer.types("<Enter>ev-ry<Enter>");
    assert!(writer.yaml().contains("every: ev-ry"));
    assert_eq!(syllables(&writer), 2);
    writer.types("<F5>");
    writer.types(&"<Down>".repeat(last));
    writer
        .types("<Enter><Backspace><Backspace><Backspace><Backspace><Backspace><Backspace><Enter>");
    assert_eq!(writer.yaml().replace("words: {}\n", ""), before);
}
