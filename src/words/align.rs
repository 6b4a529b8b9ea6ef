//! Which letters of a word stand for which of its sounds: the cheapest path through letters and sounds.
//!
//! The costs are our choice, in thousandths. A group of letters costs the same however long it is, so that *igh* beats
//! three single letters; rarer spellings of a sound cost more; silent letters cost most.

use super::phone::{Phone, Sound};
use Phone::*;

/// The letters of one sound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(super) struct Group {
    /// First letter.
    pub(super) start: usize,
    /// Behind the last letter. Silent letters stand between this and the next group's start.
    pub(super) end: usize,
    /// Whether the sound before is spelled by the same letters (x for K S).
    pub(super) shares: bool,
}

/// Longer words are not aligned; none that is sung is as long.
const LONGEST: usize = 40;
const GROUP: u32 = 300;
/// Added for the rank of a spelling among those of its sound: 100 times its square root.
const RANKS: [u32; 16] = [
    0, 100, 141, 173, 200, 224, 245, 265, 283, 300, 316, 332, 346, 361, 374, 387,
];
const TWO_SOUNDS: u32 = 900;
const SILENT_E: u32 = 700;
const SILENT_LIKELY: u32 = 1300;
const SILENT: u32 = 1900;
const NO_LETTER: u32 = 2500;

/// Spellings of each sound, the commonest first. Our table, for the spelling of English.
#[rustfmt::skip]
fn spellings(phone: Phone) -> &'static [&'static str] {
    match phone {
        AA => &["o", "a", "ah", "ea", "e", "au", "ho", "aa"],
        AE => &["a", "ai", "au", "i", "ea"],
        AH => &["a", "e", "o", "u", "i", "ou", "oo", "y", "ai", "ei", "eo", "oe", "ea", "ia", "au", "ah"],
        AO => &["o", "a", "au", "aw", "ou", "oa", "augh", "ough", "oo", "eo", "ho"],
        AW => &["ou", "ow", "ough", "au", "hou", "ao"],
        AY => &["i", "y", "igh", "ie", "ye", "uy", "ey", "eigh", "ei", "ai", "eye", "ay", "ia"],
        EH => &["e", "ea", "a", "ai", "ie", "ay", "ei", "eo", "u", "ae", "he"],
        ER => &["er", "or", "ar", "ur", "ir", "ear", "our", "re", "ure", "ro", "err", "irr", "urr", "eur", "yr", "her"],
        EY => &["a", "ai", "ay", "ei", "ey", "ea", "eigh", "e", "aigh", "et", "ae", "ee", "au"],
        IH => &["i", "e", "y", "a", "u", "ui", "ea", "ee", "ie", "ai", "ei", "o", "ia", "hi"],
        IY => &["y", "e", "ee", "ea", "i", "ie", "ey", "ei", "eo", "ay", "ae", "oe", "eigh", "is"],
        OW => &["o", "ow", "oa", "oe", "ou", "ough", "eau", "ew", "au", "oh", "ot", "oo"],
        OY => &["oi", "oy", "uoy", "eu"],
        UH => &["oo", "u", "ou", "o", "oul"],
        UW => &["oo", "u", "ew", "ue", "ou", "o", "ui", "oe", "wo", "ough", "eu", "ieu", "ooh", "w"],
        P => &["p", "pp", "ph"],
        B => &["b", "bb", "pb", "bu"],
        T => &["t", "tt", "ed", "ght", "th", "bt", "pt", "ct", "cht", "d"],
        D => &["d", "dd", "ed", "ld", "dh"],
        K => &["c", "k", "ck", "ch", "cc", "q", "qu", "cq", "cqu", "kk", "kh", "lk", "x", "g"],
        G => &["g", "gg", "gh", "gu"],
        CH => &["ch", "tch", "t", "c", "ti", "cc", "tsch"],
        JH => &["g", "j", "dg", "dge", "d", "gg", "dj", "gi", "ge", "di"],
        F => &["f", "ff", "ph", "gh", "lf"],
        V => &["v", "f", "vv", "w", "ph"],
        TH => &["th", "t"],
        DH => &["th"],
        S => &["s", "ss", "c", "sc", "st", "ps", "z", "sw", "sch", "ts", "cs"],
        Z => &["s", "z", "zz", "x", "ss", "cz", "ts"],
        SH => &["sh", "ti", "ch", "ci", "ssi", "si", "s", "ss", "c", "t", "sch", "sci", "ce", "xi", "chs", "sc"],
        ZH => &["si", "s", "g", "z", "zi", "j", "ti"],
        HH => &["h", "wh", "j"],
        M => &["m", "mm", "mb", "mn", "lm", "gm", "nm"],
        N => &["n", "nn", "kn", "gn", "mn", "pn", "nd"],
        NG => &["ng", "n", "ngue"],
        L => &["l", "ll", "sl"],
        R => &["r", "rr", "wr", "rh", "rrh"],
        W => &["w", "wh", "u", "o"],
        Y => &["y", "i", "u", "j", "e", "ll"],
    }
}

/// Letters that stand for a sound and a second one.
#[rustfmt::skip]
fn doubles(phone: Phone) -> &'static [(Phone, &'static str)] {
    match phone {
        K => &[(S, "x"), (S, "xc"), (S, "cs"), (SH, "x"), (SH, "xi")],
        G => &[(Z, "x")],
        T => &[(S, "z"), (S, "zz")],
        Y => &[
            (UW, "u"), (UW, "ew"), (UW, "eau"), (UW, "ue"), (UW, "eu"), (UW, "ui"), (UW, "iew"), (UW, "ieu"), (AH, "u"), (UH, "u"),
            (ER, "ur"), (ER, "ure"), (IH, "u"),
        ],
        W => &[(AH, "o"), (AA, "oi"), (AY, "oi")],
        AH => &[(L, "le"), (L, "l"), (M, "m"), (N, "n")],
        AY => &[(ER, "ire"), (ER, "yre"), (ER, "ir"), (ER, "yr")],
        AW => &[(ER, "our"), (ER, "ower"), (ER, "oar")],
        ER => &[(R, "err")],
        _ => &[],
    }
}

/// Silent letters and a step without one, in the low byte of a cell: letters taken, and 16 times the sounds taken.
struct Grid {
    cells: Vec<u32>,
    width: usize,
}

impl Grid {
    fn cost(&self, letters: usize, sounds: usize) -> Option<u32> {
        let cell = *self.cells.get(letters * self.width + sounds)?;
        (cell != u32::MAX).then_some(cell >> 8)
    }

    fn offer(&mut self, letters: usize, sounds: usize, cost: u32, step: u32) {
        if let Some(cell) = self.cells.get_mut(letters * self.width + sounds) {
            *cell = (*cell).min(cost << 8 | step);
        }
    }
}

/// The letters of each sound, or `None` where the word is too long or nothing agrees; the second is whether the letters
/// can hardly be read as these sounds.
pub(super) fn align(letters: &[u8], sounds: &[Sound]) -> Option<(Vec<Group>, bool)> {
    if letters.is_empty() || sounds.is_empty() || letters.len() > LONGEST || sounds.len() > LONGEST
    {
        return None;
    }
    let width = sounds.len() + 1;
    let mut grid = Grid {
        cells: vec![u32::MAX; (letters.len() + 1) * width],
        width,
    };
    grid.offer(0, 0, 0, 0);
    let limit = u32::try_from(700 * sounds.len() + 2000).unwrap_or(u32::MAX);
    // Far worse ways are not followed.
    let hopeless = limit.saturating_mul(2);
    for at in 0..=letters.len() {
        for spoken in 0..=sounds.len() {
            if let Some(cost) = grid.cost(at, spoken).filter(|cost| *cost < hopeless) {
                take_steps(&mut grid, letters, sounds, at, spoken, cost);
            }
        }
    }
    let total = grid.cost(letters.len(), sounds.len())?;
    let groups = trace(&grid, letters.len(), sounds.len());
    Some((groups, total > limit))
}

fn take_steps(
    grid: &mut Grid,
    letters: &[u8],
    sounds: &[Sound],
    at: usize,
    spoken: usize,
    cost: u32,
) {
    let rest = letters.get(at..).unwrap_or_default();
    if let Some(letter) = rest.first() {
        grid.offer(at + 1, spoken, cost + silent(*letter), 1);
    }
    let Some(sound) = sounds.get(spoken) else {
        return;
    };
    for (rank, spelling) in spellings(sound.phone).iter().enumerate() {
        if begins(rest, spelling) {
            let added = GROUP + RANKS.get(rank).copied().unwrap_or(400);
            grid.offer(
                at + spelling.len(),
                spoken + 1,
                cost + added,
                step(spelling.len(), 1),
            );
        }
    }
    grid.offer(at, spoken + 1, cost + NO_LETTER, step(0, 1));
    let Some(second) = sounds.get(spoken + 1) else {
        return;
    };
    for (phone, spelling) in doubles(sound.phone) {
        if *phone == second.phone && begins(rest, spelling) {
            grid.offer(
                at + spelling.len(),
                spoken + 2,
                cost + TWO_SOUNDS,
                step(spelling.len(), 2),
            );
        }
    }
}

/// Whether the letters begin with this spelling; most differ in the first letter already.
fn begins(letters: &[u8], spelling: &str) -> bool {
    letters.first() == spelling.as_bytes().first() && letters.starts_with(spelling.as_bytes())
}

fn step(letters: usize, sounds: u32) -> u32 {
    u32::try_from(letters).unwrap_or(0) + 16 * sounds
}

fn silent(letter: u8) -> u32 {
    match letter {
        b'e' => SILENT_E,
        b'\'' | b'h' | b'g' | b'u' | b'w' => SILENT_LIKELY,
        _ => SILENT,
    }
}

fn trace(grid: &Grid, letters: usize, sounds: usize) -> Vec<Group> {
    let mut groups = vec![Group::default(); sounds];
    let (mut at, mut spoken) = (letters, sounds);
    while at > 0 || spoken > 0 {
        let cell = grid
            .cells
            .get(at * grid.width + spoken)
            .copied()
            .unwrap_or(0);
        let taken = usize::try_from(cell & 15).unwrap_or(0);
        let said = usize::try_from((cell & 255) / 16).unwrap_or(0);
        if taken == 0 && said == 0 {
            break;
        }
        let start = at.saturating_sub(taken);
        for back in 0..said {
            if let Some(group) = spoken
                .checked_sub(back + 1)
                .and_then(|index| groups.get_mut(index))
            {
                *group = Group {
                    start,
                    end: at,
                    shares: said == 2 && back == 0,
                };
            }
        }
        at = start;
        spoken = spoken.saturating_sub(said);
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(word: &str, sounds: &str, expected: &str) {
        let sounds = Sound::parse_all(sounds).unwrap_or_default();
        let groups = align(word.as_bytes(), &sounds)
            .map(|found| found.0)
            .unwrap_or_default();
        let texts: Vec<&str> = groups
            .iter()
            .filter_map(|group| word.get(group.start..group.end))
            .collect();
        assert_eq!(texts.join(" "), expected, "{word}");
    }

    #[test]
    fn letters_find_their_sounds() {
        check("night", "N AY1 T", "n igh t");
        check("water", "W AO1 T ER0", "w a t er");
        check("nation", "N EY1 SH AH0 N", "n a ti o n");
        check("table", "T EY1 B AH0 L", "t a b le le");
        check("evening", "IY1 V N IH0 NG", "e v n i ng");
        check("box", "B AA1 K S", "b o x x");
        check("castle", "K AE1 S AH0 L", "c a st le le");
        check("of", "AH1 V", "o f");
        check("heav'n", "HH EH1 V N", "h ea v n");
    }

    #[test]
    fn anything_can_be_aligned_unless_it_is_long() {
        assert!(
            align(b"qqq", &Sound::parse_all("M AH0").unwrap_or_default())
                .is_some_and(|found| found.1)
        );
        assert_eq!(
            align(&[b'a'; 41], &Sound::parse_all("M AH0").unwrap_or_default()),
            None
        );
        assert_eq!(align(b"", &[]), None);
    }
}
