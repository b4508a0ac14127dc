//! Where bytes come from.

use std::io;
use std::rc::Rc;

/// Something with a length that can be read at an offset: a file, a browser's
/// file slice, a test's bytes.
///
/// A recording is read in slices through this, so that memory follows what is
/// looked at and not the size of the file.
pub trait Source {
    /// Length in bytes.
    fn len(&self) -> u64;

    /// Whether there is not a single byte.
    fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Fills `buffer` with the bytes from `offset` on.
    ///
    /// # Errors
    /// Fails where the bytes cannot all be had.
    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> io::Result<()>;
}

/// Several may read the same one.
impl<S: Source> Source for Rc<S> {
    fn len(&self) -> u64 {
        (**self).len()
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> io::Result<()> {
        (**self).read_at(offset, buffer)
    }
}

impl Source for &[u8] {
    fn len(&self) -> u64 {
        <[u8]>::len(self) as u64
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> io::Result<()> {
        let bytes = usize::try_from(offset)
            .ok()
            .and_then(|start| self.get(start..start.checked_add(buffer.len())?))
            .ok_or(io::ErrorKind::UnexpectedEof)?;
        buffer.copy_from_slice(bytes);
        Ok(())
    }
}

impl Source for Vec<u8> {
    fn len(&self) -> u64 {
        self.as_slice().len() as u64
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> io::Result<()> {
        self.as_slice().read_at(offset, buffer)
    }
}
