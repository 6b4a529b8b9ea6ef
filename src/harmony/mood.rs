//! What the writer's words for a mood ask of the chords.
//!
//! The words and what they lean to are our choice.

/// Words of mood, and the words of effect (see [`super::rules::Rule::word`]) that suit them.
const LEANINGS: &[(&[&str], &[&str])] = &[
    (
        &[
            "dark", "sad", "grief", "griev", "mourn", "death", "dead", "night", "sorrow", "lone",
            "loss", "lost", "bitter",
        ],
        &["darker", "ache", "grief", "older", "resigned", "bare"],
    ),
    (
        &[
            "light", "hope", "bright", "joy", "glad", "morning", "love", "warm", "merry",
        ],
        &["lift", "wide", "glow", "light at the close", "wonder"],
    ),
    (
        &[
            "wait", "still", "quiet", "calm", "slow", "silen", "rest", "peace",
        ],
        &[
            "held back",
            "calm",
            "waiting",
            "suspense",
            "bare",
            "floating",
        ],
    ),
    (
        &[
            "storm", "fear", "hurr", "run", "anger", "angry", "rage", "fight", "chase", "restless",
            "wild",
        ],
        &["push", "hurry", "rough", "climb", "eager", "tighter"],
    ),
    (
        &[
            "old", "ancient", "legend", "past", "memor", "ghost", "strange", "dream", "eerie",
        ],
        &[
            "old", "older", "strange", "sway", "wonder", "wistful", "bare",
        ],
    ),
    (
        &[
            "tender", "gentle", "soft", "wistful", "longing", "yearn", "doubt", "turn", "question",
        ],
        &[
            "softer",
            "wistful",
            "lean",
            "turn",
            "not yet",
            "ache",
            "unresolved",
        ],
    ),
    (
        &[
            "farewell", "bless", "goodbye", "parting", "home", "end", "prayer",
        ],
        &[
            "resigned",
            "blessing",
            "calm",
            "light at the close",
            "rolling home",
        ],
    ),
];

/// Whether a mood asks for an effect: both are free words, the effect several with commas.
///
/// ```
/// # use breathmark::harmony::mood::asks_for;
/// assert!(asks_for("she waits by the water", "waiting"));
/// assert!(!asks_for("", "waiting"));
/// ```
#[must_use]
pub fn asks_for(mood: &str, effect: &str) -> bool {
    let mood = mood.to_lowercase();
    let words: Vec<&str> = mood
        .split(|c: char| !c.is_alphabetic())
        .filter(|w| !w.is_empty())
        .collect();
    let effects: Vec<&str> = effect.split(',').map(str::trim).collect();
    let named = effects.iter().any(|effect| words.contains(effect));
    named
        || LEANINGS
            .iter()
            .filter(|(beginnings, _)| {
                words
                    .iter()
                    .any(|w| beginnings.iter().any(|b| w.starts_with(b)))
            })
            .any(|(_, wanted)| effects.iter().any(|effect| wanted.contains(effect)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::harmony::rules::RULES;

    #[test]
    fn every_leaning_reaches_a_rule() {
        for (beginnings, wanted) in LEANINGS {
            for beginning in *beginnings {
                assert!(
                    RULES.iter().any(|rule| asks_for(beginning, rule.word)),
                    "{beginning}"
                );
            }
            let known = |effect: &&&str| {
                RULES
                    .iter()
                    .any(|r| r.word.split(", ").any(|w| w == **effect))
            };
            assert!(wanted.iter().any(|effect| known(&effect)), "{wanted:?}");
        }
    }
}
