//! Where sound is kept on its way: an unnamed file, which is gone when it is
//! closed. Sound goes through it block by block, so that is where a run that
//! was asked to stop ends in the midst of a long track.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom, Write};

use crate::stop::Stop;

/// An unnamed file of a run.
#[derive(Debug)]
pub struct Scratch {
    file: File,
    stop: Stop,
}

impl Scratch {
    /// An empty one.
    pub fn new(stop: &Stop) -> io::Result<Scratch> {
        Ok(Scratch {
            file: tempfile::tempfile()?,
            stop: stop.clone(),
        })
    }

    /// The file, for whoever reads it to its end.
    pub fn into_file(self) -> File {
        self.file
    }

    fn file(&mut self) -> io::Result<&mut File> {
        if self.stop.is_asked() {
            return Err(io::Error::other("stopped"));
        }
        Ok(&mut self.file)
    }
}

impl Read for Scratch {
    fn read(&mut self, bytes: &mut [u8]) -> io::Result<usize> {
        self.file()?.read(bytes)
    }
}

impl Write for Scratch {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.file()?.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file()?.flush()
    }
}

impl Seek for Scratch {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.file()?.seek(to)
    }
}
