//! The parts of a workbook, which is an archive of XML files. All of it is
//! unpacked once and thrown away, before anybody trusts what it says of its size.

use std::io::{Cursor, ErrorKind, Read};

use zip::ZipArchive;

use super::{UNPACKED, Wrong};

pub struct Parts<'a>(&'a [u8]);

/// # Errors
/// It is no archive, is damaged, or unpacks to more than is read.
pub fn open(bytes: &[u8]) -> Result<Parts<'_>, Wrong> {
    const COMPOUND: [u8; 8] = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];
    if bytes.starts_with(&COMPOUND) {
        // The name of a stream in it, in letters of two bytes.
        let locked: Vec<u8> = "EncryptedPackage".encode_utf16().flat_map(u16::to_le_bytes).collect();
        let locked = bytes.windows(locked.len()).any(|found| found == locked);
        return Err(if locked { Wrong::Encrypted } else { Wrong::Old });
    }
    if bytes.is_empty() {
        return Err(Wrong::Damaged("it is empty".into()));
    }
    if !bytes.starts_with(b"PK") {
        return Err(Wrong::Other);
    }
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| damaged("its list of parts cannot be read"))?;
    let mut total = 0;
    let mut buffer = vec![0; 1 << 16];
    for at in 0..archive.len() {
        let mut part = match archive.by_index(at) {
            Ok(part) => part,
            Err(zip::result::ZipError::UnsupportedArchive(_) | zip::result::ZipError::InvalidPassword) => {
                return Err(Wrong::Encrypted);
            }
            Err(_) => return Err(damaged("a part of it cannot be read")),
        };
        loop {
            match part.read(&mut buffer) {
                Ok(0) => break,
                Ok(read) => total += read as u64,
                Err(error) if error.kind() == ErrorKind::Interrupted => {}
                Err(_) => return Err(damaged("a part of it is not as it was written")),
            }
            if total > UNPACKED {
                return Err(Wrong::Large(format!("it unpacks to over {} MB", UNPACKED >> 20)));
            }
        }
    }
    Ok(Parts(bytes))
}

impl Parts<'_> {
    /// A part by its path in the archive.
    pub fn text(&self, path: &str) -> Option<String> {
        let mut archive = ZipArchive::new(Cursor::new(self.0)).ok()?;
        let mut bytes = Vec::new();
        archive.by_name(path.trim_start_matches('/')).ok()?.take(UNPACKED).read_to_end(&mut bytes).ok()?;
        Some(String::from_utf8_lossy(&bytes).into_owned())
    }
}

pub fn damaged(how: &str) -> Wrong {
    Wrong::Damaged(how.into())
}
