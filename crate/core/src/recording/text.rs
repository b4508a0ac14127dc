//! Text inside chunks, whose encoding nobody states.

/// Text up to the first NUL, trimmed. Bytes that are not UTF-8 are taken for Latin-1,
/// which is what older writers used.
pub(super) fn fixed_text(bytes: &[u8]) -> String {
    let end = bytes
        .iter()
        .position(|&byte| byte == 0)
        .unwrap_or(bytes.len());
    let bytes = bytes.get(..end).unwrap_or_default();
    match std::str::from_utf8(bytes) {
        Ok(text) => text.trim().to_owned(),
        Err(_) => bytes
            .iter()
            .map(|&byte| char::from(byte))
            .collect::<String>()
            .trim()
            .to_owned(),
    }
}

/// A finite number; a decimal comma is understood.
pub(super) fn number(text: &str) -> Option<f64> {
    text.trim()
        .replace(',', ".")
        .parse()
        .ok()
        .filter(|value: &f64| value.is_finite())
}
