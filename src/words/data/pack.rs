//! The build script: packs the pronouncing dictionary so that the program parses nothing when it starts.
//!
//! Words are sorted and stand in blocks of 16. An entry is: letters shared with the word before (none at the start of a
//! block) and, in the upper three bits, how common the word is; number of further letters, these letters, number of bytes that
//! follow, then for each pronunciation its number of sounds and a code a sound. A second file
//! holds for each block the first eight letters of its first word, noughts where it has fewer, and where the block begins,
//! four bytes, low byte first.

use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;
use std::{env, fs};

#[path = "../phone.rs"]
#[expect(
    dead_code,
    unreachable_pub,
    reason = "the packer needs only names and codes"
)]
mod phone;

const BLOCK: usize = 16;
/// Five bits hold so many shared letters.
const SHARED: usize = 31;
/// The rank of names and of words that no list of common words has.
const UNCOMMON: u8 = 7;

#[expect(
    clippy::print_stdout,
    reason = "this is how a build script speaks to cargo"
)]
fn main() -> Result<(), Box<dyn Error>> {
    let root = env::var("CARGO_MANIFEST_DIR")?;
    let words = Path::new(&root).join("src/words");
    for file in [
        "data/cmudict.dict",
        "data/common-words.txt",
        "data/pack.rs",
        "phone.rs",
    ] {
        println!("cargo::rerun-if-changed={}", words.join(file).display());
    }
    let text = fs::read_to_string(words.join("data/cmudict.dict"))?;
    let common = fs::read_to_string(words.join("data/common-words.txt"))?;
    let (blocks, starts) = pack(&entries(&text)?, &ranks(&common))?;
    let out = env::var("OUT_DIR")?;
    fs::write(Path::new(&out).join("dictionary.blocks"), blocks)?;
    fs::write(Path::new(&out).join("dictionary.starts"), starts)?;
    Ok(())
}

/// The codes of each way to say a word, by word.
type Entries<'a> = BTreeMap<&'a str, Vec<Vec<u8>>>;

/// The sounds of each word as codes, variants in the order of the file, which is that of their numbers.
fn entries(text: &str) -> Result<Entries<'_>, Box<dyn Error>> {
    let mut entries: Entries<'_> = BTreeMap::new();
    for (number, line) in text.lines().enumerate() {
        let without_comment = line.split(" #").next().unwrap_or(line);
        let mut fields = without_comment.split_whitespace();
        let Some(head) = fields.next() else { continue };
        let word = head.split('(').next().unwrap_or(head);
        let codes: Option<Vec<u8>> = fields
            .map(|name| phone::Sound::parse(name).map(phone::Sound::code))
            .collect();
        let codes = codes.ok_or_else(|| {
            format!(
                "cmudict.dict, line {}: a sound is not ARPAbet: {line}",
                number + 1
            )
        })?;
        entries.entry(word).or_default().push(codes);
    }
    Ok(entries)
}

/// The rank of each common word: 0 for those under the first heading, and so on.
fn ranks(text: &str) -> BTreeMap<&str, u8> {
    let mut rank: u8 = 0;
    let mut ranks = BTreeMap::new();
    let mut headings = 0;
    for line in text.lines() {
        if line.starts_with('[') {
            rank = headings;
            headings += 1;
        } else {
            ranks.insert(line, rank);
        }
    }
    ranks
}

fn pack(
    entries: &Entries<'_>,
    ranks: &BTreeMap<&str, u8>,
) -> Result<(Vec<u8>, Vec<u8>), Box<dyn Error>> {
    let (mut blocks, mut starts) = (Vec::new(), Vec::new());
    let mut before = "";
    for (number, (word, pronunciations)) in entries.iter().enumerate() {
        if number % BLOCK == 0 {
            let mut letters = word.as_bytes().to_vec();
            letters.resize(8, 0);
            starts.extend_from_slice(&letters);
            starts.extend_from_slice(&u32::try_from(blocks.len())?.to_le_bytes());
            before = "";
        }
        let shared = word
            .bytes()
            .zip(before.bytes())
            .take_while(|(a, b)| a == b)
            .count()
            .min(SHARED);
        let rank = ranks.get(word).copied().unwrap_or(UNCOMMON).min(UNCOMMON);
        let rest = word.as_bytes().get(shared..).unwrap_or_default();
        let mut body = Vec::new();
        for codes in pronunciations {
            body.push(u8::try_from(codes.len())?);
            body.extend_from_slice(codes);
        }
        let head = u8::try_from(shared)? | (rank << 5);
        blocks.extend_from_slice(&[head, u8::try_from(rest.len())?]);
        blocks.extend_from_slice(rest);
        blocks.push(u8::try_from(body.len())?);
        blocks.extend_from_slice(&body);
        before = word;
    }
    Ok((blocks, starts))
}
