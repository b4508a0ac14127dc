//! Files as a source of bytes.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::Path;

use dusklens_core::recording::Source;

/// A file that is read where it is asked for, and never as a whole.
#[derive(Debug)]
pub(crate) struct FileSource {
    file: File,
    length: u64,
}

impl FileSource {
    /// Opens a file for reading.
    ///
    /// # Errors
    /// Fails where there is no such file, where it may not be read, and for a folder.
    pub(crate) fn open(path: &Path) -> io::Result<Self> {
        let file = File::open(path)?;
        let metadata = file.metadata()?;
        if metadata.is_dir() {
            return Err(io::Error::new(
                io::ErrorKind::IsADirectory,
                "this is a folder; name the recordings in it",
            ));
        }
        Ok(Self {
            file,
            length: metadata.len(),
        })
    }
}

impl Source for FileSource {
    fn len(&self) -> u64 {
        self.length
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> io::Result<()> {
        let mut file = &self.file;
        file.seek(SeekFrom::Start(offset))?;
        file.read_exact(buffer)
    }
}
