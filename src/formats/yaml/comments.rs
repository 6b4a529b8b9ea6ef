//! The comments of an entry: none may be lost when its value is written anew.

use super::tree::{Pair, Shape, Style, Tree, end_of_line, next_line, parse};

/// All comments of an entry: above it, in its value, and behind that.
pub(super) fn all_comments(text: &str) -> Vec<String> {
    let mut comments = Vec::new();
    if let Some(pair) = only_pair(text) {
        comments_between(text, 0, pair.key.start, &mut comments);
        comments.append(&mut comments_in(text, pair.colon, &pair.value));
        comments_between(text, pair.value.end, text.len(), &mut comments);
    } else {
        comments_between(text, 0, text.len(), &mut comments);
    }
    comments
}

pub(super) fn has_comments(text: &str, pair: &Pair) -> bool {
    let above = text.get(..pair.key.start).unwrap_or_default();
    let behind = text.get(pair.value.end..).unwrap_or_default();
    above.contains('#')
        || behind.contains('#')
        || !comments_in(text, pair.colon, &pair.value).is_empty()
}

/// The comments between a byte and the end of a value that begins behind it.
pub(super) fn comments_in(text: &str, from: usize, tree: &Tree) -> Vec<String> {
    let mut comments = Vec::new();
    let mut at = from;
    collect_comments(text, tree, &mut at, &mut comments);
    comments_between(text, at, tree.end, &mut comments);
    comments
}

fn collect_comments(text: &str, tree: &Tree, at: &mut usize, comments: &mut Vec<String>) {
    match &tree.shape {
        Shape::Scalar { style, .. } => {
            comments_between(text, *at, tree.start, comments);
            if matches!(style, Style::Literal | Style::Folded) {
                let end = end_of_line(text, tree.start).min(tree.end);
                comments_between(text, tree.start, end, comments);
            }
            *at = tree.end;
        }
        Shape::List { items, .. } => {
            for item in items {
                collect_comments(text, &item.value, at, comments);
            }
        }
        Shape::Map { pairs, .. } => {
            for pair in pairs {
                collect_comments(text, &pair.key, at, comments);
                collect_comments(text, &pair.value, at, comments);
            }
        }
    }
}

/// The comments of a stretch that holds no values.
pub(super) fn comments_between(text: &str, from: usize, to: usize, comments: &mut Vec<String>) {
    let stretch = text.get(from..to).unwrap_or_default();
    for line in stretch.split(['\n', '\r']) {
        if let Some((_, comment)) = line.split_once('#') {
            comments.push(format!("#{}", comment.trim_end()));
        }
    }
}

/// The comment lines and blank lines above an entry's key, and the rest.
pub(super) fn lead_and_key(text: &str) -> (&str, &str) {
    let mut at = 0;
    while at < text.len() {
        let line = text.get(at..end_of_line(text, at)).unwrap_or_default();
        let line = line.trim_start();
        if !line.is_empty() && !line.starts_with('#') {
            break;
        }
        at = next_line(text, at);
    }
    text.split_at_checked(at).unwrap_or((text, ""))
}

pub(super) fn only_pair(text: &str) -> Option<Pair> {
    match parse(text).ok()?.root?.shape {
        Shape::Map { pairs, .. } => pairs.into_iter().next(),
        Shape::Scalar { .. } | Shape::List { .. } => None,
    }
}
