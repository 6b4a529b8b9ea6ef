//! Files that are no songs, each with the sentence it earns.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::formats::yaml::read::read;
use std::fs;
use std::path::Path;

const SENTENCES: &[(&str, &str)] = &[
    (
        "alias",
        "line 2, column 5: `&` at the beginning of a value names it for use elsewhere (an anchor); a song file has no anchors. Put the text in quotes if the `&` belongs to it; to sing a section again, write `again:` and its label.",
    ),
    (
        "ampersand_first",
        "line 3, column 16: `&` at the beginning of a value names it for use elsewhere (an anchor); a song file has no anchors. Put the text in quotes if the `&` belongs to it; to sing a section again, write `again:` and its label.",
    ),
    (
        "apostrophe_first",
        "line 3, column 9: an apostrophe at the beginning of a value opens a quotation, which does not end where the words do. Put the whole text in double quotes, as in \"'Twas night\".",
    ),
    (
        "apostrophe_twice",
        "line 3, column 44: an apostrophe at the beginning of a value opens a quotation, which does not end where the words do. Put the whole text in double quotes, as in \"'Twas night\".",
    ),
    (
        "bar_lines_bare",
        "line 3, column 17: a value that begins with `|` is a text over several rows. Put the row in double quotes, as in \"| Em | C |\".",
    ),
    (
        "brace_too_many",
        "line 1, column 22: the brackets `[ ]` and `{ }` do not match here. Close each one that is opened and part the values by commas; put a text that holds brackets in quotes.",
    ),
    (
        "brackets_open",
        "line 2, column 6: the brackets `[ ]` and `{ }` do not match here. Close each one that is opened and part the values by commas; put a text that holds brackets in quotes.",
    ),
    (
        "colon_within",
        "line 3, column 24: a colon with a blank behind it makes a key of the words before it. Put the whole text in double quotes, as in \"She said: come\"; or, if a key was meant, let it begin in the column of the keys above.",
    ),
    (
        "dashes_deep",
        "line 1, column 403: values are nested more than 200 deep here. A song needs eight. Look for brackets or dashes that nobody meant.",
    ),
    (
        "greater_first",
        "line 1, column 8: a value that begins with `>` is a text over several rows. Put the text in double quotes.",
    ),
    (
        "indent_astray",
        "line 3, column 4: this row does not begin in the column of those that it belongs to. Indent keys of one map alike, and dashes of one list alike.",
    ),
    (
        "key_twice",
        "line 4, column 1: the key `tempo` stands here twice; it is on line 2 already. Take one of them away.",
    ),
    (
        "laughs",
        "line 1, column 4: `&` at the beginning of a value names it for use elsewhere (an anchor); a song file has no anchors. Put the text in quotes if the `&` belongs to it; to sing a section again, write `again:` and its label.",
    ),
    (
        "list_for_a_line",
        "line 3, column 9: a list stands here; a line has to be its words, or a map of keys such as `lyric: She rang the bell`. Put words that begin with a bracket or a dash in quotes.",
    ),
    (
        "list_for_a_song",
        "line 1, column 1: a list stands here; a song file begins with keys, such as `title: The Ferry`. Write a key and a colon before it.",
    ),
    (
        "list_for_tunes",
        "line 1, column 8: a list stands here; `tunes` has to be a map of names, each with its phrases after dashes. Write a key and a colon before each entry, in place of its dash.",
    ),
    (
        "list_for_voice",
        "line 2, column 3: a list stands here; `voice` has to be a map of keys, such as `{range: A2-E4}`. Write a key and a colon before each entry, in place of its dash.",
    ),
    (
        "map_for_sections",
        "line 3, column 3: a map of keys stands here; `sections` has to be a list. Put a dash and a blank before each of its entries.",
    ),
    (
        "nested_deep",
        "line 1, column 262: values are nested more than 200 deep here. A song needs eight. Look for brackets or dashes that nobody meant.",
    ),
    (
        "percent_bare",
        "line 3, column 17: `%`, `@` and a backtick cannot begin a value. Put the text in double quotes.",
    ),
    (
        "quote_open",
        "line 1, column 8: the quotation that begins here has no end. Put a closing quote behind the last word.",
    ),
    (
        "quote_within",
        "line 3, column 27: words follow behind the closing quote. Put the whole text in single quotes, as in '\"Come in,\" said she', and write an apostrophe in it twice.",
    ),
    (
        "star_first",
        "line 3, column 16: `*` at the beginning of a value points to another place of the file (an alias); a song file has no aliases. Put the text in quotes if the `*` belongs to it; to sing a section again, write `again:` and its label.",
    ),
    (
        "tab_behind_colon",
        "line 1, column 8: a tab follows the colon. Put a blank in its place.",
    ),
    (
        "tab_indents",
        "line 2, column 2: a tab stands here. YAML indents with blanks; put blanks in its place.",
    ),
    (
        "text_for_a_section",
        "line 2, column 5: a text stands here; a section has to be a map of keys, such as `label: Verse 1`. Write a key and a colon before it.",
    ),
    (
        "two_documents",
        "line 2, column 1: a second document begins here; a song file holds one. Put what follows `---` into a file of its own.",
    ),
    (
        "words_alone",
        "line 1, column 1: a text stands here; a song file begins with keys, such as `title: The Ferry`. Write a key and a colon before it.",
    ),
];

#[test]
fn each_file_earns_its_sentence() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/invalid_songs");
    let mut files: Vec<String> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    files.sort();
    let mut found = Vec::new();
    for file in &files {
        let text = fs::read_to_string(folder.join(file)).unwrap();
        let error = read(&text).expect_err(file);
        found.push((file.trim_end_matches(".yaml"), error.to_string()));
    }
    let found: Vec<(&str, &str)> = found.iter().map(|(file, text)| (*file, &**text)).collect();
    assert_eq!(found, SENTENCES);
}

#[test]
fn a_file_too_large_says_where() {
    let text = format!("title: Ferry\n{}", "# a comment\n".repeat(400_000));
    assert_eq!(
        read(&text).unwrap_err().to_string(),
        "line 349526, column 4: the file is larger than 4 MiB; what follows here is past that. Divide it into several songs."
    );
}
