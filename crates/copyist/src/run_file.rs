//! A file that a run reads or writes for long: sound on its way, a SoundFont,
//! a track on its way to its place. It goes by block by block, so that is where
//! a run that was asked to stop ends in the midst of it.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom, Write};

use crate::stop::Stop;
use crate::stopped::Stopped;

/// A file that ends in an error once its run is asked to stop.
#[derive(Debug)]
pub struct RunFile {
    file: File,
    stop: Stop,
}

impl RunFile {
    /// An open file.
    pub fn new(file: File, stop: &Stop) -> RunFile {
        RunFile {
            file,
            stop: stop.clone(),
        }
    }

    /// An empty one without a name, which is gone when it is closed.
    pub fn unnamed(stop: &Stop) -> io::Result<RunFile> {
        Ok(RunFile::new(tempfile::tempfile()?, stop))
    }

    /// Another file of the same run.
    pub fn beside(&self, file: File) -> RunFile {
        RunFile::new(file, &self.stop)
    }

    /// Bytes in it.
    pub fn length(&self) -> io::Result<u64> {
        Ok(self.file.metadata()?.len())
    }

    fn file(&self) -> io::Result<&File> {
        if self.stop.is_asked() {
            return Err(io::Error::other(Stopped));
        }
        Ok(&self.file)
    }
}

impl Read for &RunFile {
    fn read(&mut self, bytes: &mut [u8]) -> io::Result<usize> {
        self.file()?.read(bytes)
    }
}

impl Write for &RunFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.file()?.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file()?.flush()
    }
}

impl Seek for &RunFile {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.file()?.seek(to)
    }
}

impl Read for RunFile {
    fn read(&mut self, bytes: &mut [u8]) -> io::Result<usize> {
        (&*self).read(bytes)
    }
}

impl Write for RunFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        (&*self).write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        (&*self).flush()
    }
}

impl Seek for RunFile {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        (&*self).seek(to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stopped::is_stopped;

    #[test]
    fn a_file_ends_when_its_run_is_asked_to_stop() {
        let stop = Stop::default();
        let mut file = RunFile::unnamed(&stop).unwrap();
        file.write_all(b"sound").unwrap();
        file.seek(SeekFrom::Start(0)).unwrap();
        let mut one = [0];
        file.read_exact(&mut one).unwrap();
        stop.ask();
        for error in [
            file.read_exact(&mut one).unwrap_err(),
            file.write_all(b"more").unwrap_err(),
            file.seek(SeekFrom::Start(0)).unwrap_err(),
        ] {
            assert!(is_stopped(&error), "{error}");
        }
        assert!(!is_stopped(&io::Error::other("stopped")));
    }
}
