//! Files kept with an order: read, and written out again, off the window's thread.

use crate::exchange::file_out;
use crate::studio::{Attachment, AttachmentId};
use crate::window::widget::Entry;
use iced::Task;
use iced::futures::channel::oneshot;
use std::fs;
use std::io::Read;
use std::path::Path;
use std::path::PathBuf;

/// Largest file that is kept, bytes; the book refuses more too.
const LIMIT: u64 = 5 * 1024 * 1024;

/// The file that shall be kept with the order in hand.
#[derive(Debug, Clone, Default)]
pub(super) struct Files {
    pub(super) path: Entry,
    pub(super) problem: Option<String>,
}

/// A copy of a kept file that shall be written.
#[derive(Debug, Clone)]
pub(super) struct Saving {
    pub(super) id: AttachmentId,
    pub(super) name: String,
    pub(super) path: Entry,
    /// The system's dialog has asked whether a file there may be replaced.
    pub(super) replace: bool,
    pub(super) problem: Option<String>,
    /// Its bytes were asked for.
    pub(super) asked: bool,
}

/// Runs work that blocks on a thread of its own.
fn apart<T: Send + 'static>(work: impl FnOnce() -> Result<T, String> + Send + 'static) -> Task<Result<T, String>> {
    let (sender, receiver) = oneshot::channel();
    let started = std::thread::Builder::new().name("file".to_owned()).spawn(move || {
        let _ = sender.send(work());
    });
    Task::future(async move {
        let _ = started.map_err(|error| error.to_string())?;
        receiver.await.map_err(|_| "the work was broken off".to_owned())?
    })
}

/// Reads a file to be kept, off the window's thread.
pub(super) fn read(path: PathBuf) -> Task<Result<Attachment, String>> {
    apart(move || read_now(&path))
}

fn read_now(path: &Path) -> Result<Attachment, String> {
    let told = |error: std::io::Error| match error.kind() {
        std::io::ErrorKind::NotFound => format!("there is no file at {}: write the path of one", path.display()),
        std::io::ErrorKind::PermissionDenied => format!("{} may not be read: permission denied", path.display()),
        _ => format!("{}: {error}", path.display()),
    };
    let found = fs::metadata(path).map_err(told)?;
    if !found.is_file() {
        return Err(format!("{} is not a file: write the path of one", path.display()));
    }
    let too_large = |size: u64| format!("{} has {} kB: at most 5 MB are kept", path.display(), size.div_ceil(1_000));
    if found.len() > LIMIT {
        return Err(too_large(found.len()));
    }
    let mut bytes = Vec::new();
    // It may have grown since it was looked at.
    fs::File::open(path).and_then(|file| file.take(LIMIT + 1).read_to_end(&mut bytes)).map_err(told)?;
    if bytes.is_empty() {
        return Err(format!("{} is empty: choose a file with something in it", path.display()));
    }
    let size = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
    if size > LIMIT {
        return Err(too_large(size));
    }
    let name = path.file_name().map_or_else(|| "file".to_owned(), |name| name.to_string_lossy().into_owned());
    let media_type = media_type(&name).to_owned();
    Ok(Attachment { name, media_type, bytes })
}

/// Writes a copy, off the window's thread; what was done as a sentence.
pub(super) fn write(path: PathBuf, replace: bool, file: Attachment) -> Task<Result<String, String>> {
    apart(move || {
        if !replace && path.exists() {
            return Err(format!("{} is there already: write another name", path.display()));
        }
        file_out::write(&path, &file.bytes).map_err(|problem| problem.to_string())?;
        Ok(format!("Saved {} to {}", file.name, path.display()))
    })
}

/// The media type of a file by the end of its name (the registry of media types of the Internet Assigned Numbers
/// Authority); bytes of any kind where it is not known.
fn media_type(name: &str) -> &'static str {
    let end = name.rsplit_once('.').map(|(_, end)| end.to_lowercase()).unwrap_or_default();
    match end.as_str() {
        "pdf" => "application/pdf",
        "jpg" | "jpeg" => "image/jpeg",
        "png" => "image/png",
        "webp" => "image/webp",
        "heic" => "image/heic",
        "gif" => "image/gif",
        "tif" | "tiff" => "image/tiff",
        "txt" => "text/plain",
        "csv" => "text/csv",
        "html" | "htm" => "text/html",
        "eml" => "message/rfc822",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_read_with_its_name_and_kind_and_a_large_or_missing_one_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("Invoice 12.PDF");
        fs::write(&path, b"%PDF-1.7").unwrap();
        let file = read_now(&path).unwrap();
        assert_eq!((file.name.as_str(), file.media_type.as_str()), ("Invoice 12.PDF", "application/pdf"));
        fs::write(&path, vec![0; 5 * 1024 * 1024 + 1]).unwrap();
        assert!(read_now(&path).unwrap_err().ends_with("has 5243 kB: at most 5 MB are kept"));
        fs::write(&path, b"").unwrap();
        assert!(read_now(&path).unwrap_err().contains("is empty"));
        assert!(read_now(&folder.path().join("none.pdf")).unwrap_err().starts_with("there is no file at"));
        assert!(read_now(folder.path()).unwrap_err().contains("is not a file"));
    }
}
