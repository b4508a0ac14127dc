//! What a file is known by, whatever it is called: the SHA-256 of its bytes.

use sha2::{Digest, Sha256};

use super::{ReadError, Source, read};

/// Bytes that one step reads: short enough to stop at once, long enough that a browser's cost per slice does not show.
const STEP_BYTES: u64 = 4 << 20;

/// The SHA-256 (FIPS 180-4) of everything in a source, taken step by step, so that the memory does not grow with the
/// file and the work can be stopped.
#[derive(Debug, Default)]
pub struct ContentHash {
    digest: Sha256,
    done_bytes: u64,
    buffer: Vec<u8>,
}

impl ContentHash {
    /// Takes the next bytes in; returns whether these were the last.
    ///
    /// # Errors
    /// Fails where the source fails.
    pub fn step(&mut self, source: &impl Source) -> Result<bool, ReadError> {
        let count = STEP_BYTES.min(source.len().saturating_sub(self.done_bytes));
        self.buffer.resize(count as usize, 0);
        read(source, self.done_bytes, &mut self.buffer)?;
        self.digest.update(&self.buffer);
        self.done_bytes += count;
        Ok(self.done_bytes >= source.len())
    }

    /// Bytes that were taken in so far.
    #[must_use]
    pub fn done_bytes(&self) -> u64 {
        self.done_bytes
    }

    /// The hash of what was taken in so far, as 64 small hexadecimal digits.
    #[must_use]
    pub fn hex(&self) -> String {
        let digest = self.digest.clone().finalize();
        digest.iter().map(|byte| format!("{byte:02x}")).collect()
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::*;

    fn hashed(bytes: &[u8]) -> String {
        let mut hash = ContentHash::default();
        while !hash.step(&bytes).unwrap() {}
        assert_eq!(hash.done_bytes(), bytes.len() as u64);
        hash.hex()
    }

    /// NIST, Examples with Intermediate Values, SHA-256: one block, and a million times `a`.
    #[test]
    fn agrees_with_the_standards_examples() {
        assert_eq!(
            hashed(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert_eq!(
            hashed(&vec![b'a'; 1_000_000]),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"
        );
        assert_eq!(
            hashed(b""),
            "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
        );
    }

    #[test]
    fn is_the_same_in_several_steps_as_in_one() {
        let long: Vec<u8> = (0..STEP_BYTES * 2 + 5).map(|n| (n % 251) as u8).collect();
        let whole = Sha256::digest(&long);
        let whole: String = whole.iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hashed(&long), whole);
    }
}
