//! Sections and lines out of the tree.

use super::content::Owned;
use super::read::{Reader, Region, first_of};
use super::tree::{Pair, Shape, Style, Tree};
use super::values::plain_text;
use crate::song::field::{Owner, Values};
use crate::song::{Line, Section};
use crate::wording::message::Message;
use std::sync::Arc;

impl Reader<'_> {
    pub(super) fn section(&mut self, region: Region<'_>) -> Result<Section, Message> {
        self.refuse_too_many(region)?;
        let mut section = Section {
            id: self.song.new_id(),
            values: Values::default(),
            lines: Vec::new(),
            set_aside: Vec::new(),
            slice: None,
        };
        let pairs: &[Pair] = match &region.tree.shape {
            Shape::Map { pairs, .. } => pairs,
            Shape::Scalar {
                style: Style::Empty,
                ..
            } => &[],
            Shape::Scalar { .. } | Shape::List { .. } => {
                return Err(self.refuse(
                    region.tree,
                    "a section has to be a map of keys, such as `label: Verse 1`",
                    "Write a key and a colon before it.",
                ));
            }
        };
        let mut slice = self.slice_of(region);
        let cuts = self.cuts(region, pairs);
        for (index, pair) in pairs.iter().enumerate() {
            let cut = cuts
                .as_ref()
                .and_then(|cuts| match cuts.get(index..index + 2)? {
                    [from, to] => Some((*from, *to)),
                    _ => None,
                });
            let to = cut.map_or(pair.value.end, |(_, to)| to);
            let key = pair.key.text().unwrap_or_default();
            let end = if key == "lines" || key == "set_aside" {
                let regions = self.regions(pair, cut, section.id)?;
                for region in &regions {
                    let line = self.line(*region)?;
                    if key == "lines" {
                        section.lines.push(line);
                    } else {
                        section.set_aside.push(line);
                    }
                }
                first_of(&regions, cut, to)
            } else {
                self.field(pair, Owner::Section, section.id, &mut section.values);
                to
            };
            if let Some((from, _)) = cut {
                let entry = self.entry(pair, from, end);
                slice.entries.push(entry);
            }
        }
        self.finish(&mut slice, region, Owned::Section(&section));
        section.slice = Some(Arc::new(slice));
        Ok(section)
    }

    pub(super) fn line(&mut self, region: Region<'_>) -> Result<Line, Message> {
        self.refuse_too_many(region)?;
        let mut line = self.song.new_line("");
        let pairs: &[Pair] = match &region.tree.shape {
            Shape::Map { pairs, .. } => pairs,
            Shape::Scalar { style, text } => {
                line.lyric = plain_text(text, *style);
                self.look_at_words(line.id, "lyric", region.tree, region.dash);
                &[]
            }
            Shape::List { .. } => {
                return Err(self.refuse(
                    region.tree,
                    "a line has to be its words, or a map of keys such as `lyric: She rang the bell`",
                    "Put words that begin with a bracket or a dash in quotes.",
                ));
            }
        };
        let mut slice = self.slice_of(region);
        let cuts = self.cuts(region, pairs);
        for (index, pair) in pairs.iter().enumerate() {
            self.line_pair(pair, &mut line)?;
            if let Some([from, to]) = cuts.as_ref().and_then(|cuts| cuts.get(index..index + 2)) {
                let entry = self.entry(pair, *from, *to);
                slice.entries.push(entry);
            }
        }
        self.finish(&mut slice, region, Owned::Line(&line));
        line.slice = Some(Arc::new(slice));
        Ok(line)
    }

    pub(super) fn line_pair(&mut self, pair: &Pair, line: &mut Line) -> Result<(), Message> {
        let key = pair.key.text().unwrap_or_default();
        match key {
            "lyric" => {
                line.lyric = self.text_of(&pair.value).unwrap_or_default();
                if !matches!(pair.value.shape, Shape::Scalar { .. }) {
                    self.one_text(pair, line.id);
                }
                self.look_at_words(line.id, key, &pair.value, pair.colon);
            }
            "chords" => {
                line.chords = self.chords(pair, line.id)?;
                self.look_at_words(line.id, key, &pair.value, pair.colon);
            }
            "marks" => line.marks = self.marks(pair, line.id),
            "others" => {
                line.others = match &pair.value.shape {
                    Shape::List { items, .. } => items
                        .iter()
                        .map(|item| self.text_of(&item.value).unwrap_or_default())
                        .collect(),
                    Shape::Scalar { .. } | Shape::Map { .. } => {
                        self.text_of(&pair.value).into_iter().collect()
                    }
                };
            }
            _ => self.field(pair, Owner::Line, line.id, &mut line.values),
        }
        Ok(())
    }
}

/// Whether a node that was set aside is a line.
pub(super) fn is_line(tree: &Tree) -> bool {
    let Shape::Map { pairs, .. } = &tree.shape else {
        return true;
    };
    let keys: Vec<&str> = pairs.iter().filter_map(|pair| pair.key.text()).collect();
    reads_as_line(&keys)
}

/// Whether the keys of a node that was set aside are a line's: by those that only a line or only a section has.
pub(super) fn reads_as_line(keys: &[&str]) -> bool {
    let has = |telling: &[&str]| keys.iter().any(|key| telling.contains(key));
    let section = [
        "label",
        "kind",
        "again",
        "tune",
        "key",
        "meter",
        "tempo",
        "capo",
        "happens",
        "mood",
        "played",
        "lines",
        "set_aside",
    ];
    has(&["lyric", "chords"]) || !has(&section) && has(&["marks", "others", "sound", "run_on"])
}
