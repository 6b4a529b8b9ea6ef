//! How a file is recognised: its times and place on the disk, and a sum over its text.

use std::fs::Metadata;
use std::time::SystemTime;

/// What a file was like when its text was read or written.
///
/// Two equal stamps are of one file with the same content, as far as the system tells; two with an equal [`Stamp::sum`] are of the
/// same text, wherever it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    outside: Outside,
    sum: u64,
}

/// What the system tells of a file without its being read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Outside {
    modified: Option<SystemTime>,
    length: u64,
    /// Device, inode, and the time at which either was last changed: a copied modification time deceives nobody.
    identity: (u64, u64, i64, i64),
}

impl Outside {
    /// What the metadata of a file tell.
    pub(super) fn of(metadata: &Metadata) -> Self {
        Self {
            modified: metadata.modified().ok(),
            length: metadata.len(),
            identity: identity(metadata),
        }
    }
}

#[cfg(unix)]
fn identity(metadata: &Metadata) -> (u64, u64, i64, i64) {
    use std::os::unix::fs::MetadataExt;
    (
        metadata.dev(),
        metadata.ino(),
        metadata.ctime(),
        metadata.ctime_nsec(),
    )
}

#[cfg(not(unix))]
fn identity(_: &Metadata) -> (u64, u64, i64, i64) {
    (0, 0, 0, 0)
}

impl Stamp {
    /// The stamp of a file with these metadata that holds this text.
    pub(super) fn new(metadata: &Metadata, text: &str) -> Self {
        Self {
            outside: Outside::of(metadata),
            sum: sum(text.as_bytes()),
        }
    }

    /// Whether the system still tells the same of the file.
    pub(super) fn seen_as(&self, metadata: &Metadata) -> bool {
        self.outside == Outside::of(metadata)
    }

    /// When the file was last written, where the disk keeps it.
    #[must_use]
    pub fn modified(&self) -> Option<SystemTime> {
        self.outside.modified
    }

    /// A sum over the text, the same for the same text on every machine.
    #[must_use]
    pub fn sum(&self) -> u64 {
        self.sum
    }
}

/// The 64-bit FNV-1a sum (Fowler, Noll and Vo; Eastlake et al., The FNV Non-Cryptographic Hash Algorithm, Internet-Draft, section 2).
///
/// Tells apart texts and paths that differ by chance, not ones made to collide. A change of one byte always changes it.
pub(super) fn sum(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |sum, byte| {
        (sum ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::sum;

    #[test]
    fn the_sum_is_the_published_one() {
        // Check values of the draft, appendix C.
        assert_eq!(sum(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(sum(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(sum(b"foobar"), 0x8594_4171_f739_67e8);
    }
}
