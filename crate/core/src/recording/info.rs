//! The `LIST` chunk of kind `INFO`: pairs of four letters and text.

use super::facts::Field;
use super::text::fixed_text;

/// Entries beyond this many are not looked at; the standard defines 23.
const MAX_ENTRIES: usize = 256;

/// The entries, or nothing where the list is of another kind. A last entry that is
/// cut off keeps what is there of it.
pub(super) fn parse(body: &[u8]) -> Vec<Field> {
    let mut fields = Vec::new();
    let Some(mut rest) = body.strip_prefix(b"INFO") else {
        return fields;
    };
    while let Some((head, after)) = rest.split_at_checked(8)
        && fields.len() < MAX_ENTRIES
    {
        let (id, size) = head.split_at(4);
        let size = size.try_into().map_or(0, u32::from_le_bytes) as usize;
        let value = fixed_text(after.get(..size.min(after.len())).unwrap_or_default());
        if !value.is_empty() {
            fields.push(Field {
                key: format!("INFO|{}", id.escape_ascii()),
                value,
            });
        }
        // A writer that left the pad byte out has the next letters in its place.
        let pad = size % 2 == 1 && after.get(size) == Some(&0);
        rest = after.get(size + usize::from(pad)..).unwrap_or_default();
    }
    fields
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(body: &[u8]) -> Vec<String> {
        parse(body)
            .into_iter()
            .map(|field| format!("{}={}", field.key, field.value))
            .collect()
    }

    #[test]
    fn reads_odd_entries_with_and_without_their_pad_byte() {
        let padded = b"INFOIART\x03\0\0\0abc\0ISFT\x02\0\0\0de";
        let unpadded = b"INFOIART\x03\0\0\0abcISFT\x02\0\0\0de";
        assert_eq!(keys(padded), ["INFO|IART=abc", "INFO|ISFT=de"]);
        assert_eq!(keys(unpadded), ["INFO|IART=abc", "INFO|ISFT=de"]);
    }

    #[test]
    fn keeps_what_is_there_of_an_entry_that_is_cut_off() {
        assert_eq!(keys(b"INFOIART\xff\xff\xff\xffabc"), ["INFO|IART=abc"]);
        assert_eq!(keys(b"INFOIART\x03"), [""; 0]);
    }

    #[test]
    fn leaves_lists_of_another_kind_alone() {
        assert_eq!(keys(b"adtllabl\x04\0\0\0abcd"), [""; 0]);
    }

    #[test]
    fn stops_after_more_entries_than_the_standard_has() {
        let body = [
            b"INFO".to_vec(),
            b"IART\x02\0\0\0ab".repeat(MAX_ENTRIES + 5),
        ]
        .concat();
        assert_eq!(parse(&body).len(), MAX_ENTRIES);
    }
}
