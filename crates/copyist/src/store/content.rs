//! What goes into a file: bytes, or an open file too long to hold.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;

use super::hash::Hash;
use super::regular;
use crate::run_file::RunFile;

/// What goes into a file.
#[derive(Debug, Clone, Copy)]
pub enum Content<'a> {
    Bytes(&'a [u8]),
    /// From its beginning on.
    File(&'a RunFile),
}

impl Content<'_> {
    pub fn length(self) -> io::Result<u64> {
        match self {
            Content::Bytes(bytes) => Ok(bytes.len() as u64),
            Content::File(file) => file.length(),
        }
    }

    pub fn hash(self) -> io::Result<Hash> {
        match self {
            Content::Bytes(bytes) => Ok(Hash::of(bytes)),
            Content::File(mut file) => {
                file.seek(SeekFrom::Start(0))?;
                Hash::of_all(file)
            }
        }
    }

    /// Writes all of it.
    pub fn write(self, out: &mut impl Write) -> io::Result<()> {
        match self {
            Content::Bytes(bytes) => out.write_all(bytes),
            Content::File(mut file) => {
                file.seek(SeekFrom::Start(0))?;
                io::copy(&mut file, out)?;
                Ok(())
            }
        }
    }

    /// Whether a file holds the very same; its hash if it doesn't.
    pub fn compared(self, path: &Path, hash: Hash) -> io::Result<Option<Hash>> {
        match self {
            Content::Bytes(bytes) => {
                let old = regular::read(path)?;
                Ok((old != bytes).then(|| Hash::of(&old)))
            }
            Content::File(file) => {
                regular::refuse_endless(path)?;
                let old = Hash::of_all(file.beside(File::open(path)?))?;
                Ok((old != hash).then_some(old))
            }
        }
    }
}

impl Hash {
    /// A file's, piece by piece.
    pub fn of_file(path: &Path) -> io::Result<Hash> {
        regular::refuse_endless(path)?;
        Hash::of_all(File::open(path)?)
    }

    fn of_all(mut from: impl Read) -> io::Result<Hash> {
        let mut hasher = super::hash::Hasher::default();
        let mut piece = vec![0; 1 << 16];
        loop {
            match from.read(&mut piece)? {
                0 => return Ok(hasher.finish()),
                count => hasher.take_in(&piece[..count]),
            }
        }
    }
}
