//! The first bytes: which container this is, or what else the file seems to be.

use super::{ReadError, Source, read};

/// The kinds of container that hold WAV data.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Container {
    /// RIFF with 32-bit sizes.
    Riff,
    /// EBU Tech 3306, 64-bit sizes in `ds64`.
    Rf64,
    /// ITU-R BS.2088, 64-bit sizes in `ds64`.
    Bw64,
}

impl Container {
    /// The name that people see.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Riff => "WAV",
            Self::Rf64 => "RF64",
            Self::Bw64 => "BW64",
        }
    }
}

/// How many bytes are looked at to name a file that is not WAV.
const LOOK: u64 = 512;

const CONVERT: &str = "Save it as WAV with 16-bit PCM in a sound editor or converter, at the same \
                       sampling rate, and open that.";
const WRONG_FILE: &str = "Choose the recording itself; if this should be one, copy it from the \
                          card once more.";

/// Container and the size that its first header states.
pub(super) fn recognise(source: &impl Source) -> Result<(Container, u32), ReadError> {
    let length = source.len();
    if length == 0 {
        return Err(ReadError::Empty);
    }
    let mut head = vec![0; length.min(LOOK) as usize];
    read(source, 0, &mut head)?;
    let container = match head.get(..4) {
        Some(b"RIFF") => Some(Container::Riff),
        Some(b"RF64") => Some(Container::Rf64),
        Some(b"BW64") => Some(Container::Bw64),
        _ => None,
    };
    let (Some(container), Some(size), Some(form)) = (container, head.get(4..8), head.get(8..12))
    else {
        return Err(not_wav(&head, length));
    };
    if form != b"WAVE" {
        return Err(not_wav(&head, length));
    }
    let size = size.try_into().map_or(0, u32::from_le_bytes);
    Ok((container, size))
}

fn not_wav(head: &[u8], length: u64) -> ReadError {
    let (seems, advice) = describe(head);
    if length < 12 && (seems == UNKNOWN.0 || seems == TEXT.0) {
        return ReadError::TooShort { length };
    }
    ReadError::NotWav { seems, advice }
}

const UNKNOWN: (&str, &str) = ("nothing that is known here", WRONG_FILE);
const TEXT: (&str, &str) = ("a text file", WRONG_FILE);

/// First bytes of kinds of file that people keep beside recordings.
const KINDS: &[(usize, &[u8], &str, &str)] = &[
    (0, b"fLaC", "a FLAC file", CONVERT),
    (0, b"riff\x2e\x91\xcf\x11", "a W64 file", CONVERT),
    (0, b"RIFX", "a WAV file in big-endian byte order", CONVERT),
    (8, b"AIFF", "an AIFF file", CONVERT),
    (8, b"AIFC", "an AIFF file", CONVERT),
    (0, b"OggS", "an Ogg file", CONVERT),
    (0, b"ID3", "an MP3 file", LOSSY),
    (4, b"ftyp", "an MP4 or M4A file", LOSSY),
    (0, b".snd", "an AU file", CONVERT),
    (0, b"caff", "a CAF file", CONVERT),
    (8, b"AVI ", "an AVI video", WRONG_FILE),
    (
        0,
        b"PK\x03\x04",
        "a ZIP archive",
        "Unpack it and open the recordings inside.",
    ),
    (
        0,
        b"\x1f\x8b",
        "a gzip archive",
        "Unpack it and open the recordings inside.",
    ),
    (
        0,
        b"7z\xbc\xaf",
        "a 7z archive",
        "Unpack it and open the recordings inside.",
    ),
    (0, b"\x89PNG", "a PNG picture", WRONG_FILE),
    (0, b"\xff\xd8\xff", "a JPEG picture", WRONG_FILE),
    (0, b"%PDF", "a PDF document", WRONG_FILE),
];
const LOSSY: &str = "Look for the original recording: this kind of file throws away ultrasound, and \
                     converting it does not bring it back.";

/// What the bytes look like, and what to do about it.
fn describe(head: &[u8]) -> (&'static str, &'static str) {
    let known = KINDS
        .iter()
        .find(|(at, bytes, _, _)| head.get(*at..).is_some_and(|rest| rest.starts_with(bytes)));
    if let Some((_, _, seems, advice)) = known {
        return (seems, advice);
    }
    if head.iter().all(|&byte| byte == 0) {
        return (
            "nothing but zeros",
            "The recorder reserved the space but never wrote it, or the card is failing: copy the \
             file once more, then check the card.",
        );
    }
    // An MPEG audio frame starts with eleven set bits; layer and rate must not be reserved.
    if let [0xff, second, third, ..] = head
        && second & 0xe0 == 0xe0
        && second & 0x06 != 0
        && third & 0xf0 != 0xf0
    {
        return ("an MP3 file", LOSSY);
    }
    if is_text(head) { TEXT } else { UNKNOWN }
}

fn is_text(head: &[u8]) -> bool {
    let readable = match std::str::from_utf8(head) {
        Ok(_) => true,
        // The look may end inside a character.
        Err(error) => error.error_len().is_none() && error.valid_up_to() > 0,
    };
    readable
        && !head
            .iter()
            .any(|&byte| byte < 9 || (14..32).contains(&byte))
}
