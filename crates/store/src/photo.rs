//! What is a photo of a job? A name, a kind told by its first bytes, and bytes told apart by their SHA-256.
//! Sources: ITU-T T.81 (JPEG), ISO/IEC 15948 (PNG), RFC 9649 (WebP), ISO/IEC 23008-12 (HEIC), FIPS 180-4 (SHA-256). Sizes in bytes.

use std::fmt;
use std::str::FromStr;

use crate::job::Moment;

/// Longest name of a photo, in characters.
const LONGEST_NAME: usize = 200;

/// What a photo is called within its job: one line with a letter or a digit in it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PhotoName(String);

impl PhotoName {
    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// The text cannot be the name of a photo.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "not a name of a photo: expected one line of at most {LONGEST_NAME} characters, with a letter or a digit in it \
     and no space at either end"
)]
pub struct BadName;

impl FromStr for PhotoName {
    type Err = BadName;

    fn from_str(text: &str) -> Result<Self, BadName> {
        let right = text.chars().count() <= LONGEST_NAME
            && text.trim() == text
            && text.chars().any(char::is_alphanumeric)
            && !text.chars().any(char::is_control);
        right.then(|| Self(text.to_owned())).ok_or(BadName)
    }
}

/// What can be kept as a photo. A drawing that could carry a script is not among it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// JPEG.
    Jpeg,
    /// Portable Network Graphics.
    Png,
    /// WebP.
    Webp,
    /// High Efficiency Image File, as telephones write it.
    Heic,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 4] = [Self::Jpeg, Self::Png, Self::Webp, Self::Heic];

    /// So many first bytes tell every kind.
    pub const HEAD: usize = 12;

    /// The kind whose files begin like this.
    #[must_use]
    pub fn told_by(head: &[u8]) -> Option<Self> {
        match head {
            [0xff, 0xd8, 0xff, ..] => Some(Self::Jpeg),
            [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', ..] => Some(Self::Png),
            [
                b'R',
                b'I',
                b'F',
                b'F',
                _,
                _,
                _,
                _,
                b'W',
                b'E',
                b'B',
                b'P',
                ..,
            ] => Some(Self::Webp),
            [_, _, _, _, b'f', b't', b'y', b'p', brand @ ..] => brand
                .first_chunk::<4>()
                .filter(|brand| {
                    matches!(
                        *brand,
                        b"heic"
                            | b"heix"
                            | b"heim"
                            | b"heis"
                            | b"hevc"
                            | b"hevx"
                            | b"mif1"
                            | b"msf1"
                    )
                })
                .map(|_| Self::Heic),
            _ => None,
        }
    }

    /// Its media type.
    #[must_use]
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
            Self::Webp => "image/webp",
            Self::Heic => "image/heic",
        }
    }

    /// The kind with this media type.
    #[must_use]
    pub fn of_media_type(text: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|kind| kind.media_type().eq_ignore_ascii_case(text))
    }

    /// How its files end, without the dot.
    #[must_use]
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
            Self::Webp => "webp",
            Self::Heic => "heic",
        }
    }
}

/// What bytes are told apart by: their SHA-256 in 64 lower-case hexadecimal digits.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Sha256(String);

impl Sha256 {
    pub(crate) fn of(digest: impl AsRef<[u8]>) -> Self {
        Self(digest.as_ref().iter().map(|b| format!("{b:02x}")).collect())
    }

    /// The digits.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Sha256 {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The text is no SHA-256.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("not a SHA-256: expected 64 hexadecimal digits in lower case")]
pub struct BadSha256;

impl FromStr for Sha256 {
    type Err = BadSha256;

    fn from_str(text: &str) -> Result<Self, BadSha256> {
        let right =
            text.len() == 64 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        right.then(|| Self(text.to_owned())).ok_or(BadSha256)
    }
}

/// A photo of a job, as the store keeps it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Photo {
    /// Counts the photos of the job from 1, those that were taken again or removed among them.
    pub number: u32,
    /// Its name.
    pub name: PhotoName,
    /// Its kind.
    pub kind: Kind,
    /// Its size in bytes.
    pub bytes: u64,
    /// What its bytes are told apart by.
    pub sha256: Sha256,
    /// When it was kept.
    pub at: Moment,
    /// When it was removed or another one took its name.
    pub removed: Option<Moment>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const HEADS: [(&[u8], Option<Kind>); 11] = [
        (b"\xff\xd8\xff\xe0\0\x10JFIF\0\0", Some(Kind::Jpeg)),
        (b"\x89PNG\r\n\x1a\n\0\0\0\x0d", Some(Kind::Png)),
        (b"RIFF\x01\x02\x03\x04WEBP", Some(Kind::Webp)),
        (b"\0\0\0\x18ftypheic", Some(Kind::Heic)),
        (b"\0\0\0\x18ftypmif1", Some(Kind::Heic)),
        (b"\0\0\0\x18ftypisom", None),
        (b"RIFF\x01\x02\x03\x04WAVE", None),
        (b"GIF89a\0\0\0\0\0\0", None),
        (b"<svg xmlns=\"http", None),
        (b"<?xml version=\"1", None),
        (b"", None),
    ];

    #[test]
    fn a_kind_is_told_by_its_first_bytes() {
        for (head, kind) in HEADS {
            assert_eq!(Kind::told_by(head), kind, "{head:?}");
        }
    }

    proptest! {
        /// What follows the head does not matter; a head that was cut short is no kind, or is the kind already.
        #[test]
        fn the_head_alone_decides(n in 0..HEADS.len(), cut in 0..=Kind::HEAD, tail in proptest::collection::vec(any::<u8>(), 0..40)) {
            let (head, kind) = HEADS[n];
            let head = &head[..head.len().min(Kind::HEAD)];
            if head.len() == Kind::HEAD {
                prop_assert_eq!(Kind::told_by(&[head, &tail].concat()), kind);
            }
            let short = Kind::told_by(&head[..cut.min(head.len())]);
            prop_assert!(short.is_none() || short == kind);
        }
    }

    #[test]
    fn a_name_is_one_line_with_something_to_read_in_it() {
        let longest = "x".repeat(LONGEST_NAME);
        for name in [
            "Garage subpanel: cover off",
            "½ open",
            "a/b",
            "配电箱",
            &longest,
        ] {
            assert_eq!(name.parse::<PhotoName>().unwrap().as_str(), name);
        }
        let longer = "x".repeat(LONGEST_NAME + 1);
        for name in ["", " ", ".", "..", "a\nb", " a", "a ", "a\0", &longer] {
            assert_eq!(name.parse::<PhotoName>(), Err(BadName), "{name:?}");
        }
    }
}
