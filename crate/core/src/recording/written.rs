//! Chunks as this project writes them.

use super::guano::VERSION;
use super::labels::{Label, relabelled};

/// A chunk of a RIFF file, filled up to whole words (RIFF 1991).
pub(crate) fn chunk(id: &[u8; 4], mut body: Vec<u8>) -> Vec<u8> {
    let length = u32::try_from(body.len()).unwrap_or(u32::MAX);
    if body.len() % 2 == 1 {
        body.push(0);
    }
    let mut bytes = id.to_vec();
    bytes.extend(length.to_le_bytes());
    bytes.extend(body);
    bytes
}

/// Text that can stand in a line of metadata.
pub(crate) fn one_line(text: &str) -> String {
    text.replace(['\r', '\n', '\0'], " ")
}

/// A chunk of GUANO 1.0 metadata with these fields, and labels as a labelled copy has them.
pub(crate) fn guano_chunk(fields: &[(&str, String)], labels: &[Label], version: &str) -> Vec<u8> {
    let mut text = format!("{VERSION}: 1.0\n");
    for (key, value) in fields {
        text.push_str(&format!("{key}: {}\n", one_line(value)));
    }
    let bare = text.into_bytes();
    let body = relabelled(&bare, labels, version).unwrap_or(bare);
    chunk(b"guan", body)
}
