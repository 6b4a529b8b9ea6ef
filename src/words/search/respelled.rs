//! Words that are listed in another spelling: without their apostrophe, or as British books print them.

use super::super::affixes;
use super::super::phone::{Phone, Sound};
use super::Search;

/// British letters and the American ones of the dictionary; those that begin with `-` stand at the end only.
#[rustfmt::skip]
const BRITISH: &[(&str, &str)] = &[
    ("our", "or"), ("-ise", "ize"), ("-ised", "ized"), ("-ises", "izes"), ("-ising", "izing"), ("-iser", "izer"), ("-isers", "izers"),
    ("isation", "ization"), ("-yse", "yze"), ("-ysed", "yzed"), ("-ysing", "yzing"), ("-lled", "led"), ("-lling", "ling"),
    ("-ller", "ler"), ("-llers", "lers"), ("-re", "er"), ("-res", "ers"), ("-red", "ered"), ("ae", "e"), ("oeuvre", "euver"), ("oe", "e"),
    ("-ogue", "og"), ("enqu", "inqu"), ("-ence", "ense"), ("-xion", "ction"), ("-eable", "able"), ("-dgement", "dgment"), ("lful", "llful"),
    ("-wards", "ward"),
];

/// The sounds of the word as it is listed otherwise, and the rule.
pub(super) fn find(
    word: &str,
    search: &Search<'_>,
    depth: usize,
) -> Option<(Vec<Sound>, &'static str)> {
    contraction(word, search)
        .map(|sounds| (sounds, "contraction"))
        .or_else(|| british(word, search, depth).map(|sounds| (sounds, "other spelling")))
}

/// *dont*, *theyre*, *didn*.
fn contraction(word: &str, search: &Search<'_>) -> Option<Vec<Sound>> {
    for (without, with) in [("nt", "n't"), ("re", "'re"), ("ve", "'ve"), ("ll", "'ll")] {
        let contracted = word
            .strip_suffix(without)
            .filter(|stem| stem.len() > 1)
            .map(|stem| format!("{stem}{with}"));
        if let Some(sounds) = contracted.and_then(|word| search.known(&word)) {
            return Some(sounds);
        }
    }
    let cut = word.strip_suffix('\'').unwrap_or(word);
    let mut sounds = search.known(&format!("{cut}'t"))?;
    (cut.ends_with('n') && sounds.pop_if(|last| last.phone == Phone::T).is_some()).then_some(sounds)
}

fn british(word: &str, search: &Search<'_>, depth: usize) -> Option<Vec<Sound>> {
    let spelled = BRITISH
        .iter()
        .filter_map(|(from, to)| match from.strip_prefix('-') {
            Some(ending) => Some(format!("{}{to}", word.strip_suffix(ending)?)),
            None => word
                .find(from)
                .filter(|at| at + 4 < word.len())
                .map(|_| word.replacen(from, to, 1)),
        });
    // Short words with oe and ae are others: *goest*.
    let spelled: Vec<String> = spelled
        .filter(|other| other.len() > 4 && other != word)
        .collect();
    spelled
        .iter()
        .filter(|other| search.rank(other).is_some_and(|rank| rank < 7))
        .find_map(|other| search.known(other))
        .or_else(|| {
            let rich = spelled.iter().filter(|other| other.len() > 6);
            rich.clone()
                .find_map(|other| affixes::suffixed(other, search, depth.max(2)))
                .map(|derived| derived.sounds)
        })
}
