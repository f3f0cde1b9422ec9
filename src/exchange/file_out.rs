//! A file out: whole or not at all.

use std::fs::{self, File, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};

/// Why a file was not written, as a sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{} cannot be written: {reason}", .path.display())]
pub struct FileProblem {
    /// Where it should have been written.
    pub path: PathBuf,
    /// Why not, and where there is one what to do about it.
    pub reason: String,
}

/// Writes a file under a temporary name beside its place, makes it durable, and gives it its name in one step: a
/// reader finds the old file or the new one, never half of one. A path that is no regular file (a pipe, a device) is
/// written to directly.
///
/// # Errors
/// When the path is a folder, its folder is missing, or the system does not let it be written. What was there before
/// is then still there.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), FileProblem> {
    let refuse = |reason: &str| FileProblem { path: path.to_owned(), reason: reason.to_owned() };
    let folder = folder_of(path);
    if path.is_dir() {
        return Err(refuse("it is a folder; give the name of a file in it"));
    }
    if !folder.is_dir() {
        return Err(refuse(&format!("there is no folder {}; make it first", folder.display())));
    }
    if path.exists() && !path.is_file() {
        let mut device = OpenOptions::new().write(true).open(path).map_err(|error| refuse(&error.to_string()))?;
        return device.write_all(bytes).map_err(|error| refuse(&error.to_string()));
    }
    let part = folder.join(format!(".enamelwright-{}.part", uuid::Uuid::new_v4()));
    // A link keeps pointing where it points; what it points to is replaced.
    let target = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let written = write_part(&part, bytes).and_then(|()| fs::rename(&part, target));
    if let Err(error) = written {
        // The half-written part is of no use to anyone; that it is gone matters less than why it was not finished.
        let _ = fs::remove_file(&part);
        return Err(refuse(&reason_of(&error)));
    }
    // Some systems cannot open a folder as a file; the name is then as durable as they make it.
    if let Ok(folder) = File::open(&folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

fn write_part(part: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(part)?;
    file.write_all(bytes)?;
    file.sync_all()
}

fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// The system's reason, in plain words for those that happen to people.
fn reason_of(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::PermissionDenied => "you may not write in that folder".to_owned(),
        std::io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        std::io::ErrorKind::ReadOnlyFilesystem => "the disk may only be read".to_owned(),
        _ => error.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_whole_and_leaves_nothing_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tags.pdf");
        write(&path, b"first").unwrap();
        write(&path, b"second").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_missing_folder_and_a_folder_are_refused_in_a_sentence() {
        let folder = tempfile::tempdir().unwrap();
        let missing = write(&folder.path().join("nowhere/tags.pdf"), b"x").unwrap_err();
        assert!(missing.reason.contains("there is no folder"), "{missing:?}");
        let taken = write(folder.path(), b"x").unwrap_err();
        assert!(taken.to_string().contains("it is a folder"), "{taken:?}");
    }
}
