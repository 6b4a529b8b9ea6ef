//! The order in which a word's sounds are sought: the song's words, lists of ours, the dictionary, rules, the estimate.

use super::phone::{Sound, Stress};
use super::spelling::{Mark, Spelling};
use super::syllables::count;
use super::{
    SongWords, Source, affixes, dictionary, estimate, lists, numbers, parts, stress, sung, written,
};

/// A way to say a word, with the plain letters at which its parts begin.
#[derive(Clone, Debug)]
pub(super) struct Said {
    pub(super) sounds: Vec<Sound>,
    pub(super) cost: u32,
    pub(super) why: &'static str,
    pub(super) starts: Vec<usize>,
    pub(super) guessed: bool,
    /// What each syllable is said as, where the letters do not say it; else empty.
    pub(super) spoken: Vec<String>,
}

/// All ways, the default first.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) said: Vec<Said>,
    pub(super) from: Source,
}

/// Where to look.
#[derive(Clone, Copy, Debug)]
pub(super) struct Search<'a> {
    pub(super) song: &'a SongWords,
    /// Whether the dictionary may be asked.
    pub(super) listed: bool,
}

/// Derivations of derivations stop here.
const DEEPEST: usize = 4;

impl Said {
    fn new(word: &str, sounds: Vec<Sound>, cost: u32, why: &'static str, bounds: &[usize]) -> Self {
        let (starts, guessed) = if sounds.is_empty() {
            (vec![0], false)
        } else {
            let parts = parts::break_word(word, &sounds, bounds);
            (parts.starts, parts.guessed)
        };
        Self {
            sounds,
            cost,
            why,
            starts,
            guessed,
            spoken: Vec::new(),
        }
    }
}

impl Found {
    fn one(
        word: &str,
        sounds: Vec<Sound>,
        why: &'static str,
        bounds: &[usize],
        from: Source,
    ) -> Self {
        Self {
            said: vec![Said::new(word, sounds, 0, why, bounds)],
            from,
        }
    }

    /// The default's sounds.
    pub(super) fn into_sounds(self) -> Vec<Sound> {
        self.said
            .into_iter()
            .next()
            .map(|said| said.sounds)
            .unwrap_or_default()
    }
}

impl Search<'_> {
    /// The ways to say a word as it stands in a row.
    pub(super) fn find(&self, spelling: &Spelling<'_>) -> Found {
        let plain = spelling.plain.as_str();
        let word = plain.trim_matches(|sign| {
            !is_spoken(sign) && !matches!(sign, '\'' | '&' | '%' | '+' | '@' | '$' | '£' | '€')
        });
        let lead = plain.find(word).unwrap_or(0);
        let mut found = self.find_marked(word, spelling, lead);
        if lead > 0 {
            for start in found
                .said
                .iter_mut()
                .flat_map(|said| said.starts.iter_mut().skip(1))
            {
                *start += lead;
            }
        }
        found
    }

    fn find_marked(&self, word: &str, spelling: &Spelling<'_>, lead: usize) -> Found {
        if let Some(found) = self.song_word(word) {
            return found;
        }
        let grave = spelling
            .marks
            .iter()
            .find(|(at, mark)| *mark == Mark::Grave && plain_is(word, at.wrapping_sub(lead), b'e'));
        if let Some((at, _)) = grave
            && let Some(found) = self.grave(word, at - lead)
        {
            return found;
        }
        let last = (lead + word.len()).checked_sub(1);
        let acute_end = spelling
            .marks
            .iter()
            .any(|(at, mark)| *mark == Mark::Acute && Some(*at) == last);
        if acute_end && word.ends_with('e') {
            return self.acute(word);
        }
        if self.is_spelled_out(spelling.word, word) {
            return letters(word);
        }
        let found = self.find_plain(word, 0);
        if found.from == Source::Estimate
            && let Some((at, _)) = spelling
                .marks
                .iter()
                .find(|(at, mark)| *mark == Mark::Diaeresis && at.wrapping_sub(lead) < word.len())
        {
            return self.apart(word, at - lead);
        }
        found
    }

    /// The ways to say a word of plain letters.
    pub(super) fn find_plain(&self, word: &str, depth: usize) -> Found {
        if !word
            .bytes()
            .any(|byte| is_spoken(char::from(byte)) || matches!(byte, b'&' | b'%' | b'+' | b'@'))
        {
            return Found::one(word, Vec::new(), "no letters", &[], Source::Rule);
        }
        if let Some(found) = self.song_word(word) {
            return found;
        }
        if word.trim_matches('-').contains('-') && depth < DEEPEST {
            return self.hyphenated(word, depth);
        }
        if word.bytes().any(|byte| byte.is_ascii_digit()) {
            return self.figures(word, depth);
        }
        if let Some(listed) = lists::fixed(word) {
            return several(word, &listed, "list", Source::Rule);
        }
        if let Some(sounds) = written::wordless(word) {
            return Found::one(word, sounds, "interjection", &[], Source::Rule);
        }
        if self.listed {
            let listed: Vec<Vec<Sound>> = dictionary::lookup(word)
                .map(|said| said.sounds().collect())
                .collect();
            if !listed.is_empty() {
                return several(word, &listed, "dictionary", Source::Dictionary);
            }
        }
        if written::is_vowelless(word) && word.len() < 5 {
            return letters(word);
        }
        if let Some(found) = self.by_rule(word, depth) {
            return found;
        }
        several(
            word,
            &estimate::readings(word),
            "estimate",
            Source::Estimate,
        )
    }

    /// Sounds of a word that a rule may build on; `None` if it is not listed.
    pub(super) fn known(&self, word: &str) -> Option<Vec<Sound>> {
        if let Some(found) = self.song_word(word) {
            return Some(found.into_sounds());
        }
        if let Some(listed) = lists::fixed(word) {
            return listed.into_iter().next();
        }
        if !self.listed {
            return None;
        }
        let listed = dictionary::lookup(word);
        let first = listed.clone().next()?.sounds().collect();
        // A piece is sung as the word by itself would be: *fire-light*.
        Some(sung::usual(word, first, || {
            listed.map(|said| said.sounds().collect()).collect()
        }))
    }

    /// As [`Search::known`], or else whatever the other ways give.
    pub(super) fn sounds(&self, word: &str, depth: usize) -> Vec<Sound> {
        if depth >= DEEPEST {
            return estimate::sounds(word);
        }
        self.known(word)
            .unwrap_or_else(|| self.find_plain(word, depth + 1).into_sounds())
    }

    fn by_rule(&self, word: &str, depth: usize) -> Option<Found> {
        if depth >= DEEPEST {
            return None;
        }
        if let Some(elided) = written::spoken(word, self, depth) {
            return Some(Found {
                said: vec![Said::new(
                    word,
                    elided.sounds,
                    0,
                    elided.why,
                    &elided.bounds,
                )],
                from: if elided.sure {
                    Source::Rule
                } else {
                    Source::Estimate
                },
            });
        }
        if let Some(shorter) = written::unstretched(word, |word| self.known(word).is_some()) {
            let found = self.find_plain(&shorter, depth + 1);
            let from = found.from;
            return Some(Found::one(
                word,
                found.into_sounds(),
                "stretched",
                &[],
                from,
            ));
        }
        let derived = affixes::derive(word, self, depth)?;
        let mut found = several(word, &[derived.sounds], derived.why, Source::Rule);
        for said in &mut found.said {
            let parts = parts::break_word(word, &said.sounds, &derived.bounds);
            (said.starts, said.guessed) = (parts.starts, parts.guessed);
        }
        Some(found)
    }

    fn song_word(&self, word: &str) -> Option<Found> {
        let said = self.song.get(word)?;
        // What the song says is read without the song's words, so that two entries cannot send each other in circles.
        let nothing = SongWords::default();
        let search = Search {
            song: &nothing,
            listed: true,
        };
        let plain = Spelling::new(said).plain;
        let hyphenless: String = plain.chars().filter(|letter| *letter != '-').collect();
        let found = search.find_plain(&plain, 0);
        let own = found.said.into_iter().next()?;
        let mut as_song = Said::new(word, own.sounds, 0, "the song's words", &[]);
        if hyphenless == word && plain.contains('-') {
            // The song's hyphens part the word's own letters.
            let hyphens_before = |start: usize| {
                plain
                    .bytes()
                    .take(start)
                    .filter(|byte| *byte == b'-')
                    .count()
            };
            as_song.starts = own
                .starts
                .iter()
                .map(|start| start - hyphens_before(*start))
                .collect();
            as_song.guessed = own.guessed;
        } else if hyphenless == word {
            (as_song.starts, as_song.guessed) = (own.starts, own.guessed);
        }
        Some(Found {
            said: vec![as_song],
            from: Source::Song,
        })
    }

    /// The writer's hyphens: parts of one word (*a-wand-'ring, moun-tains*), or words side by side (*well-worn*).
    fn hyphenated(&self, word: &str, depth: usize) -> Found {
        let pieces: Vec<&str> = word.split('-').filter(|piece| !piece.is_empty()).collect();
        let telephone = numbers::is_telephone(&pieces);
        let joined: String = pieces.concat();
        if self.listed
            && let Some(listed) = dictionary::lookup(word).next()
        {
            let bounds: Vec<usize> = word.match_indices('-').map(|(at, _)| at + 1).collect();
            return Found::one(
                word,
                listed.sounds().collect(),
                "dictionary",
                &bounds,
                Source::Dictionary,
            );
        }
        if let Some(sounds) = self.whole(&joined, pieces.len()) {
            let starts = piece_starts(word);
            if starts.len() == pieces.len() {
                let said = Said {
                    sounds,
                    cost: 0,
                    why: "parted by the writer",
                    starts,
                    guessed: false,
                    spoken: Vec::new(),
                };
                return Found {
                    said: vec![said],
                    from: Source::Rule,
                };
            }
        }
        let mut whole = Said {
            sounds: Vec::new(),
            cost: 0,
            why: "hyphened",
            starts: Vec::new(),
            guessed: false,
            spoken: Vec::new(),
        };
        let mut from = Source::Rule;
        let mut has_main = false;
        for (piece, start) in pieces.iter().zip(piece_starts(word)) {
            let found = if telephone {
                self.spelled_figures(piece)
            } else {
                self.piece(piece, depth)
            };
            if found.from == Source::Estimate {
                from = Source::Estimate;
            }
            let Some(mut said) = found.said.into_iter().next() else {
                continue;
            };
            if stress::is_function_word(piece) || has_main {
                lower_stress(&mut said.sounds, stress::is_function_word(piece));
            } else {
                has_main = said.sounds.iter().any(|sound| sound.is_stressed());
            }
            whole.sounds.extend(said.sounds);
            whole
                .starts
                .extend(said.starts.into_iter().map(|at| at + start));
            whole.guessed |= said.guessed;
            whole.spoken.extend(said.spoken);
        }
        if let Some(first) = whole.starts.first_mut() {
            *first = 0;
        }
        if whole.spoken.len() != whole.starts.len() {
            whole.spoken.clear();
        }
        if count(&whole.sounds) != whole.starts.len() {
            let letters = estimate::sounds(&joined);
            return Found::one(word, letters, "estimate", &[], Source::Estimate);
        }
        Found {
            said: vec![whole],
            from,
        }
    }

    /// The sounds of the joined word where it is known and can have just this many syllables.
    fn whole(&self, joined: &str, pieces: usize) -> Option<Vec<Sound>> {
        let known = self.known(joined).is_some() || joined.contains('\'');
        if !known {
            return None;
        }
        let found = self.find_plain(joined, DEEPEST - 1);
        let fits = found
            .said
            .into_iter()
            .find(|said| count(&said.sounds) == pieces)?;
        (found.from != Source::Estimate).then_some(fits.sounds)
    }

    fn piece(&self, piece: &str, depth: usize) -> Found {
        let letters = piece.trim_matches('\'');
        if written::is_wordless(letters) || matches!(piece, "hm" | "mm" | "m" | "n") {
            // *mm-hmm*: each piece is a syllable, its hum the vowel.
            let mut sounds = estimate::sounds(letters);
            sounds.dedup();
            sounds.retain(|sound| !sound.is_vowel());
            let hum = sounds.len().saturating_sub(1);
            sounds.splice(hum..hum, Sound::parse("AH0"));
            return Found::one(piece, sounds, "interjection", &[], Source::Rule);
        }
        let has_vowel = letters.bytes().any(|letter| {
            matches!(
                letter,
                b'a' | b'e' | b'i' | b'o' | b'u' | b'y' | b'#' | b'?' | b'0'..=b'9'
            )
        });
        if !has_vowel && self.known(piece).is_none() {
            // A stammer (*b-b-baby*) or a bare ending: the consonants with a neutral vowel.
            let mut sounds = estimate::sounds(letters);
            sounds.retain(|sound| !sound.is_vowel());
            sounds.extend(Sound::parse("AH0"));
            return Found::one(piece, sounds, "consonants", &[], Source::Rule);
        }
        self.find_plain(piece, depth + 1)
    }

    fn figures(&self, word: &str, depth: usize) -> Found {
        if let Some(wordings) = numbers::wordings(word) {
            let said = wordings.iter().enumerate().map(|(rank, words)| {
                self.spoken_words(word, words, if rank == 0 { 0 } else { sung::LISTED })
            });
            return Found {
                said: said.collect(),
                from: Source::Rule,
            };
        }
        // Letters and figures mixed: each run by itself.
        let mut found = Said {
            sounds: Vec::new(),
            cost: 0,
            why: "figures",
            starts: Vec::new(),
            guessed: false,
            spoken: Vec::new(),
        };
        let mut rest = word;
        let mut at = 0;
        while let Some(first) = rest.bytes().next() {
            let digit = first.is_ascii_digit();
            let end = rest
                .find(|sign: char| sign.is_ascii_digit() != digit)
                .unwrap_or(rest.len());
            let (run, behind) = rest.split_at_checked(end).unwrap_or((rest, ""));
            let run_found = if digit {
                let wordings = numbers::wordings(run).unwrap_or_default();
                Some(self.spoken_words(run, wordings.first().map_or(&[], Vec::as_slice), 0))
            } else if run.bytes().any(|byte| is_spoken(char::from(byte))) {
                let run_found = if run.len() == 1 || written::is_vowelless(run) {
                    letters(run)
                } else {
                    self.find_plain(run, depth + 1)
                };
                run_found.said.into_iter().next()
            } else {
                None
            };
            if let Some(said) = run_found {
                found.starts.extend(
                    said.starts
                        .into_iter()
                        .map(|start| (start + at).min(word.len())),
                );
                found.sounds.extend(said.sounds);
            }
            at += end;
            rest = behind;
        }
        if let Some(first) = found.starts.first_mut() {
            *first = 0;
        }
        Found {
            said: vec![found],
            from: Source::Rule,
        }
    }

    fn spelled_figures(&self, digits: &str) -> Found {
        let words: Vec<&str> = digits
            .split("")
            .filter(|digit| !digit.is_empty())
            .map(lists::digit)
            .collect();
        Found {
            said: vec![self.spoken_words(digits, &words, 0)],
            from: Source::Rule,
        }
    }

    /// Figures said as these words, one sign to each syllable as far as they go.
    fn spoken_words(&self, figures: &str, words: &[&str], cost: u32) -> Said {
        let search = Search {
            song: self.song,
            listed: true,
        };
        let (mut sounds, mut spoken) = (Vec::new(), Vec::new());
        for word in words {
            let found = search.find_plain(word, DEEPEST - 1);
            let Some(said) = found.said.into_iter().next() else {
                continue;
            };
            let spelling = Spelling::new(word);
            spoken.extend(
                spelling
                    .parts(&said.starts)
                    .into_iter()
                    .map(|part| part.1.to_string()),
            );
            sounds.extend(said.sounds);
        }
        let starts = (0..spoken.len())
            .map(|part| part.min(figures.len()))
            .collect();
        Said {
            sounds,
            cost,
            why: "figures",
            starts,
            guessed: false,
            spoken,
        }
    }

    /// Whether it is said letter by letter: single letters with stops or & between them (*U.S.*, *R&B*), or capitals
    /// that have no vowel or, short ones, only y, unless the word is known (*TV*, but *MY*).
    fn is_spelled_out(&self, written: &str, word: &str) -> bool {
        let bare = written
            .chars()
            .all(|sign| sign.is_ascii_alphabetic() || matches!(sign, '.' | '&'));
        let letters = written.chars().filter(char::is_ascii_alphabetic).count();
        if !bare || letters < 2 {
            return false;
        }
        if letters < written.len() {
            return written.split(['.', '&']).all(|piece| piece.len() < 2);
        }
        let capitals = written.bytes().all(|letter| letter.is_ascii_uppercase());
        let without_y: String = word.chars().filter(|letter| *letter != 'y').collect();
        let vowelless = written::is_vowelless(word)
            || (self.listed && letters < 4 && written::is_vowelless(&without_y));
        let known = lists::fixed(word).is_some()
            || written::is_wordless(word)
            || (self.listed && dictionary::has(word));
        capitals && vowelless && !known
    }

    /// A grave accent: the vowel of -ed is sounded (*blessèd*).
    fn grave(&self, word: &str, at: usize) -> Option<Found> {
        let bare = word.get(..at).filter(|base| !base.is_empty())?;
        let ending = word.get(at..)?;
        if ending != "ed" {
            return None;
        }
        let mut sounds = affixes::base_of(bare, self).unwrap_or_else(|| estimate::sounds(bare));
        sounds.extend(Sound::parse_all("IH0 D")?);
        Some(Found::one(
            word,
            sounds,
            "sounded -ed",
            &[parts::suffix_start(bare)],
            Source::Rule,
        ))
    }

    /// A final é or ê is said EY.
    fn acute(&self, word: &str) -> Found {
        let ends_in_ey = |sounds: &Vec<Sound>| {
            sounds
                .last()
                .is_some_and(|last| last.phone == super::phone::Phone::EY)
        };
        let listed = if self.listed {
            dictionary::lookup(word)
                .map(|said| said.sounds().collect())
                .find(ends_in_ey)
        } else {
            None
        };
        if let Some(sounds) = listed {
            return Found::one(word, sounds, "dictionary", &[], Source::Dictionary);
        }
        let base = word.get(..word.len() - 1).unwrap_or_default();
        let mut sounds = self.sounds(base, DEEPEST - 1);
        sounds.extend(Sound::parse("EY1"));
        Found::one(word, sounds, "accent", &[], Source::Estimate)
    }

    /// A diaeresis: the two vowels are said apart.
    fn apart(&self, word: &str, at: usize) -> Found {
        let (left, right) = word.split_at_checked(at).unwrap_or((word, ""));
        if left.is_empty() || !left.ends_with(['a', 'e', 'i', 'o', 'u']) {
            return self.find_plain(word, 0);
        }
        let mut sounds = estimate::sounds(left);
        sounds.extend(estimate::sounds(right));
        Found::one(word, sounds, "diaeresis", &[at], Source::Estimate)
    }
}

/// The listed ways and what singers make of them.
fn several(word: &str, listed: &[Vec<Sound>], why: &'static str, from: Source) -> Found {
    // A written elision is sung as it stands.
    let locked = word.contains('\'') && !word.ends_with("'s") && !word.ends_with("s'");
    let ways = if locked {
        listed
            .iter()
            .take(1)
            .map(|sounds| sung::Way {
                sounds: sounds.clone(),
                cost: 0,
                why,
            })
            .collect()
    } else {
        sung::ways(word, listed, why)
    };
    let said = ways
        .into_iter()
        .map(|way| Said::new(word, way.sounds, way.cost, way.why, &[]))
        .collect();
    Found { said, from }
}

fn is_spoken(sign: char) -> bool {
    sign.is_ascii_alphanumeric() || matches!(sign, '#' | '?')
}

fn plain_is(word: &str, at: usize, letter: u8) -> bool {
    word.as_bytes().get(at) == Some(&letter)
}

/// Where the pieces between hyphens begin.
fn piece_starts(word: &str) -> Vec<usize> {
    let mut starts = Vec::new();
    let mut at = 0;
    for piece in word.split('-') {
        if !piece.is_empty() {
            starts.push(at);
        }
        at += piece.len() + 1;
    }
    if let Some(first) = starts.first_mut() {
        *first = 0;
    }
    starts
}

/// The names of the letters in order.
fn letters(word: &str) -> Found {
    let mut said = Said {
        sounds: Vec::new(),
        cost: 0,
        why: "letters",
        starts: Vec::new(),
        guessed: false,
        spoken: Vec::new(),
    };
    for (at, letter) in word.char_indices() {
        let and = if letter == '&' {
            Sound::parse_all("AH0 N D")
        } else {
            None
        };
        let Some(sounds) = and.or_else(|| lists::letter(letter)) else {
            continue;
        };
        for part in 0..count(&sounds) {
            // The three syllables of W share its one sign.
            said.starts.push(if part == 0 { at } else { at + 1 });
        }
        said.sounds.extend(sounds);
    }
    if let Some(first) = said.starts.first_mut() {
        *first = 0;
    }
    Found {
        said: vec![said],
        from: Source::Rule,
    }
}

/// Main stress becomes secondary; in a function word none is left.
fn lower_stress(sounds: &mut [Sound], wholly: bool) {
    for sound in sounds.iter_mut().filter(|sound| sound.is_stressed()) {
        sound.stress = Some(if wholly {
            Stress::None
        } else {
            Stress::Secondary
        });
    }
}
