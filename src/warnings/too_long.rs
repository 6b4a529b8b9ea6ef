//! A stretch that no breath holds.

use super::asking::Asking;
use super::{After, Kind, Rule, Warning, WayOut, in_lyric, line_of};
use crate::reading::laid::LaidWord;
use crate::reading::{LineReading, Reading};
use crate::singing::air::{Stretch, Verdict};
use crate::singing::voice::{FLOOR, FULL};
use crate::song::column::Column;
use crate::song::edit::{Edit, Value};
use crate::song::field::Field;
use crate::song::{NodeId, Song, line_edits};
use crate::wording::figure::{counted, short_number};

/// `too_long`.
pub const RULE: Rule = Rule {
    kind: Kind::TooLong,
    find,
    ways_out,
    example: "title: Long\nmeter: 4/4\ntempo: 60\nbars: 5\nsections:\n  - lines:\n      - lyric: The lamp was lit and the lamp was gone and the rain went over the wall\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for stretch in reading
        .air
        .stretches
        .iter()
        .filter(|stretch| stretch.verdict == Verdict::TooLong)
    {
        let Some(line) = reading.line_at(stretch.last) else {
            continue;
        };
        let sung = stretch.need * reading.head.voice.steady_note;
        let most = (FULL - FLOOR) * reading.head.voice.steady_note;
        let since = begun(reading, stretch.first, line);
        warnings.push(Warning {
            kind: Kind::TooLong,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, line.falls_at.unwrap_or_default()),
            message: format!(
                "no breath holds this{since}: it takes {} s of air, a full breath gives {} s",
                short_number(sung),
                short_number(most)
            ),
        });
    }
}

/// `, begun in Verse 1, line 2` where a stretch that ends in this line begins in another.
pub fn begun(reading: &Reading, first: usize, last: &LineReading) -> String {
    let first = reading
        .line_at(first)
        .filter(|first| first.id != last.id || first.section != last.section);
    first.map_or_else(String::new, |first| {
        let section = reading.sections.get(first.section);
        let label = section.map_or("", |section| section.label.as_str());
        format!(", begun in {label}, line {}", first.line + 1)
    })
}

/// Ways out of a line that takes more air than there is: those within the words, fewer bars, a faster tempo, quieter sounds.
pub fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let mut ways = within_words(asking, warning, 3);
    ways.extend(two_lines(asking, warning));
    ways.extend(fewer_bars(asking, warning));
    ways.extend(faster(asking, warning));
    ways.extend(quieter(asking, warning));
    ways
}

/// Ways that leave tune and tempo as they are: up to `most` breath marks; before them an end to running on and other wordings where
/// the line is then easy, else behind them.
pub fn within_words(asking: &mut Asking<'_>, warning: &Warning, most: usize) -> Vec<WayOut> {
    let breaths = breaths(asking, warning, most);
    let others = line_end(asking, warning)
        .into_iter()
        .chain(asking.wordings(warning));
    let is_easy =
        |way: &WayOut| way.after.remains.is_empty() && way.after.verdict == Some(Verdict::Easy);
    let (mut ways, others): (Vec<_>, Vec<_>) = others.partition(is_easy);
    ways.extend(breaths);
    ways.extend(others);
    ways
}

/// The stretch that touches the warning's line with the worst verdict, and the lines it runs through.
fn stretch_of(reading: &Reading, warning: &Warning) -> Option<Stretch> {
    let line = line_of(reading, warning)?;
    let own = line.first_time..line.first_time + line.laid.syllables.len();
    let touching = reading
        .air
        .stretches
        .iter()
        .filter(|stretch| stretch.first < own.end && stretch.last >= own.start);
    touching
        .max_by(|a, b| a.verdict.cmp(&b.verdict).then(b.end.total_cmp(&a.end)))
        .copied()
}

/// Breath marks after words of the stretch that better its verdict and bring no new trouble: where the sense breaks before
/// elsewhere, then by verdict, then nearest the middle. Within what belongs together only where no other place helps.
fn breaths(asking: &mut Asking<'_>, warning: &Warning, most: usize) -> Vec<WayOut> {
    let reading = asking.reading;
    let Some(stretch) = stretch_of(reading, warning) else {
        return Vec::new();
    };
    let sounding = |index: usize| reading.soundings.get(index);
    let middle = f64::midpoint(
        sounding(stretch.first).map_or(0.0, |s| s.start),
        sounding(stretch.last).map_or(0.0, |s| s.end),
    );
    let mut places: Vec<(u8, usize)> = (stretch.first..stretch.last)
        .filter_map(|index| {
            let (line, _, column) = reading.word_ending_at(index)?;
            // A breath at a line's end is no mark.
            let ends = Some(index) == last_of(reading, line);
            let written = asking.song().line(line.id).filter(|_| !ends)?;
            Some((sense_break(&written.lyric, column), index))
        })
        .collect();
    places.sort_unstable();
    let mut ways = Vec::new();
    for places in places.chunk_by(|a, b| a.0 == b.0) {
        if places.first().is_some_and(|(sense, _)| *sense == WITHIN) && !ways.is_empty() {
            break;
        }
        let mut alike: Vec<(WayOut, Verdict, f64)> = Vec::new();
        for (_, index) in places {
            if asking.stopped() || ways.len() >= most {
                return ways;
            }
            let Some(way) = breath_after(asking, warning, *index) else {
                continue;
            };
            let verdict = way.after.verdict.unwrap_or(Verdict::Easy);
            if (verdict < stretch.verdict || verdict == Verdict::Easy)
                && way.after.remains.is_empty()
            {
                let away = sounding(*index).map_or(0.0, |s| (s.end - middle).abs());
                alike.push((way, verdict, away));
            }
        }
        alike.sort_by(|a, b| a.1.cmp(&b.1).then(a.2.total_cmp(&b.2)));
        let room = most - ways.len();
        ways.extend(alike.into_iter().take(room).map(|(way, ..)| way));
    }
    ways
}

/// A breath mark after the word that ends with that syllable.
fn breath_after(asking: &mut Asking<'_>, warning: &Warning, index: usize) -> Option<WayOut> {
    let (line, word, column) = asking.reading.word_ending_at(index)?;
    let written = asking.song().line(line.id)?;
    let edit = with_mark(written, column)?;
    let is_same = |other: &&LaidWord| other.text.to_lowercase() == word.text.to_lowercase();
    let alike = line.laid.words.iter().filter(is_same);
    let earlier = alike.clone().filter(|other| other.column < word.column);
    let which = match (alike.clone().count(), earlier.count()) {
        (1, _) => "",
        (_, 0) => "the first ",
        (_, 1) => "the second ",
        (_, 2) => "the third ",
        (count, earlier) if earlier + 1 == count => "the last ",
        _ => "a later ",
    };
    let elsewhere = if warning.section == Some(line.section) && warning.line == Some(line.line) {
        String::new()
    } else {
        format!(" in line {}", line.line + 1)
    };
    let text = format!(
        "breathe after {which}\u{201c}{}\u{201d}{elsewhere}",
        word.text
    );
    let way = asking.way(warning, "breath", text, edit)?;
    Some(way.at(column))
}

fn with_mark(line: &crate::song::Line, column: Column) -> Option<Edit> {
    let mut marks = line.marks.clone();
    let at = marks.binary_search(&column).err()?;
    marks.insert(at, column);
    Some(Edit::Set {
        node: line.id,
        value: Value::Marks(marks),
    })
}

/// A breath within what belongs together.
const WITHIN: u8 = 3;

/// Words that begin a clause or phrase.
const BEGINS: &[&str] = &[
    "and", "but", "or", "nor", "for", "so", "yet", "that", "who", "which", "when", "where",
    "while", "till", "until", "as", "if", "than", "then", "with", "from", "by", "to", "in", "on",
    "at", "of", "like", "through", "upon", "into", "beneath", "before", "after", "because",
    "though", "since", "without",
];

/// Words that belong to what follows: articles, prepositions, joining words, subjects, helping verbs.
const BINDS: &[&str] = &[
    "the", "a", "an", "of", "to", "in", "on", "at", "by", "for", "from", "with", "my", "your",
    "his", "her", "its", "our", "their", "and", "or", "nor", "but", "no", "not", "every", "this",
    "that", "these", "those", "as", "than", "if", "when", "till", "until", "upon", "into",
    "through", "beneath", "i", "you", "he", "she", "we", "they", "it", "who", "which", "is", "are",
    "was", "were", "be", "been", "am", "has", "have", "had", "do", "does", "did", "will", "would",
    "shall", "should", "can", "could", "may", "might", "must", "don't", "didn't", "won't", "can't",
    "couldn't", "wouldn't", "never", "so", "too", "very", "o", "oh", "one", "own", "old", "i'm",
    "i'll", "you're", "he'd", "she'd", "they'd",
];

/// Words that belong to what stands before them: objects, and adverbs that go with a verb.
const WITH_WORD_BEFORE: &[&str] = &[
    "me", "him", "them", "us", "thee", "out", "up", "off", "away", "down", "back",
];

/// Those of [`BINDS`] that can be adverbs as well.
const ADVERBS: &[&str] = &["on", "in", "by", "through"];

/// How well a breath goes with the sense: 0 after a stop or comma, 1 before a word that begins a clause or phrase, 2 elsewhere,
/// [`WITHIN`] what belongs together: between an article, a preposition, a subject or a helping verb and what follows. Common
/// practice, no source; the lists are ours.
fn sense_break(lyric: &str, column: Column) -> u8 {
    let before = crate::song::column::part_of(lyric, Column(0), column);
    let after = crate::song::column::part_of(lyric, column, Column::end_of(lyric));
    let stops = |c: char| ",;:.!?\u{2014}\u{2013}".contains(c);
    if before.trim_end().ends_with(stops) || after.trim_start().starts_with(stops) {
        return 0;
    }
    let last = before
        .split_whitespace()
        .last()
        .unwrap_or("")
        .to_lowercase();
    let next = after.split_whitespace().next().unwrap_or("").to_lowercase();
    let bound = WITH_WORD_BEFORE.contains(&next.as_str())
        || last.ends_with("'s")
        || last.ends_with("\u{2019}s");
    if bound {
        return WITHIN;
    }
    let begins = BEGINS.contains(&next.as_str());
    // *came on | at dawn*: what stands before a preposition is no preposition.
    let is_adverb = begins && ADVERBS.contains(&last.as_str());
    if BINDS.contains(&last.as_str()) && !is_adverb {
        WITHIN
    } else if begins {
        1
    } else {
        2
    }
}

/// A breath at the end of the line before or of this one, where the sense was marked to run on.
fn line_end(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    let stretch = stretch_of(asking.reading, warning)?;
    let lines = (stretch.first..=stretch.last).filter_map(|index| {
        asking
            .reading
            .line_at(index)
            .map(|line| (line.id, line.line))
    });
    let mut lines: Vec<_> = lines.collect();
    lines.dedup();
    lines.pop();
    lines.into_iter().rev().find_map(|(id, number)| {
        let edit = Edit::Set {
            node: id,
            value: Value::Field(Field::RunOn, None),
        };
        asking.way(
            warning,
            "line_end",
            format!(
                "breathe at the end of line {}: let the sense end there",
                number + 1
            ),
            edit,
        )
    })
}

/// From so many syllables on a line may be meant as two: ballad lines have six to eight, long lines up to fourteen. Our choice.
const TWO_LINES: usize = 12;

/// Two lines of one without notes, where the sense breaks nearest its middle: each of as many bars as it had, or of half as many.
pub fn two_lines(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    let line = line_of(asking.reading, warning)?;
    let count = line.laid.syllables.len();
    if !line.laid.notes.is_empty() || count < TWO_LINES {
        return None;
    }
    let (id, lyric) = (line.id, asking.song().line(line.id)?.lyric.clone());
    let sung = |word: usize| {
        let syllables = line.laid.syllables.iter();
        syllables.filter(|syllable| syllable.word <= word).count()
    };
    let words = line.laid.words.iter().enumerate();
    let pairs = words.zip(line.laid.words.iter().skip(1));
    let mut places: Vec<_> = pairs
        .map(|((at, word), next)| {
            let sense = sense_break(&lyric, word.end());
            (
                sense,
                sung(at).abs_diff(count - count / 2),
                &word.text,
                next.column,
            )
        })
        .filter(|(_, away, ..)| away * 4 <= count)
        .collect();
    places.sort_by_key(|(sense, away, ..)| (*sense, *away));
    let bars = (line.laid.length / line.laid.meter.bar()).floor();
    places.into_iter().take(3).find_map(|(.., word, column)| {
        let text = format!("make two lines of it after \u{201c}{word}\u{201d}");
        let step = line_edits::split(asking.song(), id, column).ok()?;
        let whole = asking.way(warning, "two_lines", text.clone(), step.edit.clone());
        whole.or_else(|| {
            let of = |node, bars: i64| Edit::Set {
                node,
                value: Value::Field(Field::Bars, Some(bars.to_string())),
            };
            let (first, second) = ((bars + 1) / 2, bars / 2);
            let edit = Edit::Group(vec![step.edit, of(id, first), of(step.cursor.node, second)]);
            let text = format!("{text}, of {first} and {second} bars");
            asking
                .way(warning, "two_lines", text, edit)
                .filter(|_| second > 0)
        })
    })
}

/// A bar or more less for a line without notes.
fn fewer_bars(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    let line = line_of(asking.reading, warning)?;
    if !line.laid.notes.is_empty() {
        return None;
    }
    let (id, bars) = (line.id, (line.laid.length / line.laid.meter.bar()).floor());
    (1..bars).rev().find_map(|fewer| {
        let edit = Edit::Set {
            node: id,
            value: Value::Field(Field::Bars, Some(fewer.to_string())),
        };
        let bars = counted(usize::try_from(fewer).unwrap_or(0), "bar", "bars");
        asking
            .way(warning, "bars", format!("sing the line in {bars}"), edit)
            .map(|way| way.with_figure(fewer as f64, "bars"))
    })
}

/// The slowest whole tempo at which the warning is gone, up to a third faster: beyond that it is another song (our choice).
pub fn faster(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    faster_than(asking, warning, 4.0 / 3.0)
}

/// The whole tempo nearest to the present one, towards `factor` of it, at which the warning is gone.
pub fn faster_than(asking: &mut Asking<'_>, warning: &Warning, factor: f64) -> Option<WayOut> {
    let section = warning
        .section
        .and_then(|index| asking.reading.sections.get(index))?;
    let own = asking
        .song()
        .section(section.id)
        .is_some_and(|written| written.values.get(Field::Tempo).is_some());
    let node = if own { section.id } else { NodeId::SONG };
    let now = section.setting.tempo.per_minute;
    let edit = |tempo: i32| Edit::Set {
        node,
        value: Value::Field(Field::Tempo, Some(tempo.to_string())),
    };
    #[expect(
        clippy::cast_possible_truncation,
        reason = "tempos lie between 10 and 400"
    )]
    let (mut short, mut enough) = (
        now.round() as i32,
        ((now * factor).round() as i32).clamp(10, 400),
    );
    asking.trial(warning, &edit(enough))?;
    while short.abs_diff(enough) > 1 {
        if asking.stopped() {
            return None;
        }
        let between = i32::midpoint(short, enough);
        if asking.trial(warning, &edit(between)).is_some() {
            enough = between;
        } else {
            short = between;
        }
    }
    let text = format!(
        "sing it at {enough} beats a minute or {}",
        if factor > 1.0 { "faster" } else { "slower" }
    );
    Some(
        asking
            .way(warning, "tempo", text, edit(enough))?
            .with_figure(f64::from(enough), "beats a minute"),
    )
}

/// A line that would have to lose more sounds than this is another line.
const MOST_LOST: u32 = 4;

/// How many of its costliest sounds the stretch would have to lose, where that is enough: an aim for the writer, tried through
/// the whole song without them.
pub fn quieter(asking: &mut Asking<'_>, warning: &Warning) -> Option<WayOut> {
    let reading = asking.reading;
    let stretch = stretch_of(reading, warning)?;
    let mut costs: Vec<(f64, usize)> = (stretch.first..=stretch.last)
        .filter_map(|index| Some((index, reading.syllable_at(index)?.1)))
        .flat_map(|(index, syllable)| syllable.costs.iter().map(move |cost| (*cost, index)))
        .collect();
    costs.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let mut soundings = reading.soundings.clone();
    let voice = reading.head.voice;
    for (lost, (cost, index)) in (1..=MOST_LOST).zip(costs) {
        if let Some(sounding) = soundings.get_mut(index) {
            sounding.charge -= cost;
        }
        let air = crate::singing::air::breathe(&soundings, voice);
        let now = air
            .stretch_of(stretch.first)
            .and_then(|index| air.stretches.get(index))?;
        if now.verdict < stretch.verdict && now.verdict < Verdict::NoTime {
            let sounds = counted(
                usize::try_from(lost).unwrap_or(0),
                "breathy sound",
                "breathy sounds",
            );
            let line = air
                .lines(&soundings, voice)
                .into_iter()
                .find(|line| Some(line.line) == soundings.get(stretch.last).map(|s| s.line))?;
            let way = WayOut {
                kind: "sounds",
                text: format!("find words with {sounds} fewer (h costs most, then s, sh, f, th)"),
                figure: None,
                column: None,
                edit: None,
                after: After {
                    verdict: Some(line.verdict),
                    air_left: Some(line.air_left),
                    seconds: reading.seconds,
                    remains: Vec::new(),
                },
            };
            return Some(way.with_figure(f64::from(lost), "sounds"));
        }
    }
    None
}

/// The last syllable of a line, by its index in the song.
fn last_of(reading: &Reading, line: &LineReading) -> Option<usize> {
    debug_assert!(
        line.first_time <= reading.times.len(),
        "a line's syllables are the reading's"
    );
    (line.first_time + line.laid.syllables.len()).checked_sub(1)
}
