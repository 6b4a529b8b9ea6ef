//! Where a node stands in its song, and the lists that hold nodes.

use super::edit::{EditError, List, Position};
use super::field::{Owner, Values};
use super::{Line, Node, NodeId, Section, Song};

impl Song {
    /// The list and the place in it where a node stands; `None` where the song does not hold it.
    #[must_use]
    pub fn position_of(&self, node: NodeId) -> Option<Position> {
        let at = |list, index| Some(Position { list, index });
        let in_section = |section: &Section| {
            let line = |line: &Line| line.id == node;
            if let Some(index) = section.lines.iter().position(line) {
                at(List::Lines(section.id), index)
            } else {
                let index = section.set_aside.iter().position(line)?;
                at(List::LinesSetAside(section.id), index)
            }
        };
        for (index, section) in self.sections.iter().enumerate() {
            if section.id == node {
                return at(List::Sections, index);
            }
            if let Some(position) = in_section(section) {
                return Some(position);
            }
        }
        self.set_aside
            .iter()
            .enumerate()
            .find_map(|(index, found)| {
                if found.id() == node {
                    return at(List::SetAside, index);
                }
                match found {
                    Node::Section(section) => in_section(section),
                    Node::Line(_) => None,
                }
            })
    }

    /// The values of the song, a section or a line.
    #[must_use]
    pub fn values_of(&self, node: NodeId) -> Option<&Values> {
        if node == NodeId::SONG {
            Some(&self.values)
        } else if let Some(section) = self.section(node) {
            Some(&section.values)
        } else {
            self.line(node).map(|line| &line.values)
        }
    }

    /// What a node is, in the table of keys.
    #[must_use]
    pub fn owner_of(&self, node: NodeId) -> Option<Owner> {
        if node == NodeId::SONG {
            Some(Owner::Song)
        } else if self.section(node).is_some() {
            Some(Owner::Section)
        } else {
            self.line(node).map(|_| Owner::Line)
        }
    }

    /// The section that holds a line, also set aside; `None` for lines that the song itself has set aside.
    #[must_use]
    pub fn section_of(&self, line: NodeId) -> Option<&Section> {
        match self.position_of(line)?.list {
            List::Lines(section) | List::LinesSetAside(section) => self.section(section),
            List::Sections | List::SetAside => None,
        }
    }

    pub(super) fn values_mut(&mut self, node: NodeId) -> Option<&mut Values> {
        if node == NodeId::SONG {
            Some(&mut self.values)
        } else if self.section(node).is_some() {
            self.section_mut(node).map(|section| &mut section.values)
        } else {
            self.line_mut(node).map(|line| &mut line.values)
        }
    }

    pub(super) fn section_mut(&mut self, id: NodeId) -> Option<&mut Section> {
        let aside = self.set_aside.iter_mut().filter_map(|node| match node {
            Node::Section(section) => Some(section),
            Node::Line(_) => None,
        });
        self.sections
            .iter_mut()
            .chain(aside)
            .find(|section| section.id == id)
    }

    pub(super) fn line_mut(&mut self, id: NodeId) -> Option<&mut Line> {
        let Position { list, index } = self.position_of(id)?;
        match list {
            List::Lines(section) => self.section_mut(section)?.lines.get_mut(index),
            List::LinesSetAside(section) => self.section_mut(section)?.set_aside.get_mut(index),
            List::SetAside => match self.set_aside.get_mut(index)? {
                Node::Line(line) => Some(line),
                Node::Section(_) => None,
            },
            List::Sections => None,
        }
    }

    /// Puts a node into a list.
    pub(super) fn put(&mut self, to: Position, node: Node) -> Result<(), EditError> {
        self.accepts(to, &node)?;
        let missing = EditError::NoSuchPosition(to);
        match (to.list, node) {
            (List::Sections, Node::Section(section)) => self.sections.insert(to.index, section),
            (List::SetAside, node) => self.set_aside.insert(to.index, node),
            (List::Lines(id), Node::Line(line)) => {
                let section = self.section_mut(id).ok_or(missing)?;
                section.lines.insert(to.index, line);
            }
            (List::LinesSetAside(id), Node::Line(line)) => {
                let section = self.section_mut(id).ok_or(missing)?;
                section.set_aside.insert(to.index, line);
            }
            _ => return Err(EditError::WrongList(to)),
        }
        Ok(())
    }

    /// Whether a node can be put there.
    pub(super) fn accepts(&self, to: Position, node: &Node) -> Result<(), EditError> {
        let missing = EditError::NoSuchPosition(to);
        let (length, fits) = match to.list {
            List::Sections => (self.sections.len(), matches!(node, Node::Section(_))),
            List::SetAside => (self.set_aside.len(), true),
            List::Lines(id) | List::LinesSetAside(id) => {
                let section = self.section(id).ok_or(missing)?;
                let lines = match to.list {
                    List::LinesSetAside(_) => &section.set_aside,
                    List::Lines(_) | List::Sections | List::SetAside => &section.lines,
                };
                (lines.len(), matches!(node, Node::Line(_)))
            }
        };
        if !fits {
            Err(EditError::WrongList(to))
        } else if to.index > length {
            Err(missing)
        } else {
            Ok(())
        }
    }

    /// Takes a node out of its list, and tells where it stood.
    pub(super) fn take(&mut self, id: NodeId) -> Result<(Position, Node), EditError> {
        let missing = EditError::NoSuchNode(id);
        let from = self.position_of(id).ok_or(missing)?;
        let node = match from.list {
            List::Sections => Node::Section(self.sections.remove(from.index)),
            List::SetAside => self.set_aside.remove(from.index),
            List::Lines(section) => {
                let section = self.section_mut(section).ok_or(missing)?;
                Node::Line(section.lines.remove(from.index))
            }
            List::LinesSetAside(section) => {
                let section = self.section_mut(section).ok_or(missing)?;
                Node::Line(section.set_aside.remove(from.index))
            }
        };
        Ok((from, node))
    }
}
