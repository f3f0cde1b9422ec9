//! Files of the design page: design files in and out, photos in. Read and written off the window's thread.

use crate::exchange::design_file;
use crate::studio::Design;
use iced::Task;
use iced::futures::channel::oneshot;
use image::imageops::FilterType;
use image::{ImageFormat, ImageReader, Limits};
use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Largest design file that is read, bytes.
pub const DESIGN_FILE_LIMIT: u64 = 1_000_000;
/// Largest photo file that is read, bytes.
pub const PHOTO_FILE_LIMIT: u64 = 60_000_000;
/// Largest width and height of a photo that is read, pixels.
pub const PHOTO_SIDE_LIMIT: u32 = 16_000;
/// Memory a photo may take while it is read, bytes.
const PHOTO_MEMORY: u64 = 800_000_000;
/// Longest side a photo is kept at, pixels.
pub const PHOTO_SIDE: u32 = 1024;

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

/// Comes back after a pause.
pub fn pause(length: Duration) -> Task<()> {
    apart(move || {
        std::thread::sleep(length);
        Ok(())
    })
    .map(|_| ())
}

fn told(path: &Path, error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => format!("there is no file at {}", path.display()),
        std::io::ErrorKind::PermissionDenied => format!("{} may not be used: permission denied", path.display()),
        std::io::ErrorKind::StorageFull => "the disk is full: nothing was written".to_owned(),
        _ => format!("{}: {error}", path.display()),
    }
}

fn checked_size(path: &Path, limit: u64) -> Result<(), String> {
    let found = fs::metadata(path).map_err(|error| told(path, &error))?;
    if !found.is_file() {
        return Err(format!("{} is not a file", path.display()));
    }
    if found.len() > limit {
        let (size, limit) = (found.len() / 1_000_000, limit / 1_000_000);
        return Err(format!("{} has {size} MB: choose one of {limit} MB or less", path.display()));
    }
    Ok(())
}

/// Reads a design file; every problem is told, at most twelve.
pub fn read_design(path: &Path) -> Result<Design, String> {
    checked_size(path, DESIGN_FILE_LIMIT)?;
    let text = fs::read_to_string(path).map_err(|error| match error.kind() {
        std::io::ErrorKind::InvalidData => format!("{} is not a text file", path.display()),
        _ => told(path, &error),
    })?;
    design_file::read(&text).map_err(|problems| {
        let mut lines: Vec<String> = problems.iter().take(12).map(ToString::to_string).collect();
        if problems.len() > lines.len() {
            lines.push(format!("and {} more", problems.len() - lines.len()));
        }
        if lines.is_empty() {
            lines.push(format!("{} is not a design file", path.display()));
        }
        lines.join("\n")
    })
}

/// Reads a design file, off the window's thread.
pub fn import(path: PathBuf) -> Task<Result<Box<Design>, String>> {
    apart(move || read_design(&path).map(Box::new))
}

/// What to do about a file that is there already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Existing {
    /// Leave it, and say so.
    Keep,
    /// Write over it.
    Replace,
}

/// Writes a design file by way of a second file, so that a full disk leaves the old one whole.
pub fn write_design(path: &Path, design: &Design, existing: Existing) -> Result<(), String> {
    if existing == Existing::Keep && path.exists() {
        return Err(format!("{} is there already", path.display()));
    }
    let mut fresh = path.as_os_str().to_owned();
    fresh.push(".new");
    let fresh = PathBuf::from(fresh);
    let written = fs::write(&fresh, design_file::write(design)).and_then(|()| fs::rename(&fresh, path));
    written.map_err(|error| {
        let _ = fs::remove_file(&fresh);
        told(path, &error)
    })
}

/// Writes a design file, off the window's thread.
pub fn export(path: PathBuf, design: Design, existing: Existing) -> Task<Result<PathBuf, String>> {
    apart(move || write_design(&path, &design, existing).map(|()| path))
}

/// Reads a picture and scales it down; PNG bytes of at most [`PHOTO_SIDE`] pixels a side.
pub fn read_photo(path: &Path) -> Result<Vec<u8>, String> {
    checked_size(path, PHOTO_FILE_LIMIT)?;
    let no_picture = || format!("{} is not a picture that can be read: choose a JPEG or PNG file", path.display());
    let opened = ImageReader::open(path).and_then(ImageReader::with_guessed_format);
    let mut reader = opened.map_err(|error| told(path, &error))?;
    if reader.format().is_none() {
        return Err(no_picture());
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(PHOTO_SIDE_LIMIT);
    limits.max_image_height = Some(PHOTO_SIDE_LIMIT);
    limits.max_alloc = Some(PHOTO_MEMORY);
    reader.limits(limits);
    let picture = reader.decode().map_err(|error| match error {
        image::ImageError::Limits(_) => format!(
            "{} is larger than {PHOTO_SIDE_LIMIT} pixels a side or than memory allows: scale it down first",
            path.display()
        ),
        _ => no_picture(),
    })?;
    let picture = if picture.width() > PHOTO_SIDE || picture.height() > PHOTO_SIDE {
        picture.resize(PHOTO_SIDE, PHOTO_SIDE, FilterType::CatmullRom)
    } else {
        picture
    };
    let mut png = Cursor::new(Vec::new());
    let plain = image::DynamicImage::ImageRgba8(picture.to_rgba8());
    plain.write_to(&mut png, ImageFormat::Png).map_err(|error| error.to_string())?;
    Ok(png.into_inner())
}

/// Reads a picture, off the window's thread.
pub fn photo(path: PathBuf) -> Task<Result<Vec<u8>, String>> {
    apart(move || read_photo(&path))
}

/// A kept photo, ready to show.
pub fn shown(png: &[u8]) -> Result<iced::widget::image::Handle, String> {
    let picture = image::load_from_memory_with_format(png, ImageFormat::Png)
        .map_err(|_| "the photo in the book cannot be shown".to_owned())?
        .to_rgba8();
    Ok(iced::widget::image::Handle::from_rgba(picture.width(), picture.height(), picture.into_raw()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_not_a_picture() -> std::io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("photo.jpg");
        fs::write(&path, "a recipe for blue")?;
        let problem = read_photo(&path).expect_err("a text is refused");
        assert!(problem.contains("is not a picture"), "{problem}");
        let problem = read_photo(&folder.path().join("none.png")).expect_err("nothing is there");
        assert!(problem.contains("there is no file"), "{problem}");
        Ok(())
    }

    #[test]
    fn a_large_picture_is_scaled_down() -> Result<(), Box<dyn std::error::Error>> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("drop.png");
        image::RgbImage::from_pixel(2000, 500, image::Rgb([30, 60, 90])).save(&path)?;
        let kept = image::load_from_memory(&read_photo(&path)?)?;
        assert_eq!((kept.width(), kept.height()), (1024, 256));
        assert_eq!(kept.to_rgb8().get_pixel(500, 100), &image::Rgb([30, 60, 90]));
        Ok(())
    }

    #[test]
    fn a_picture_larger_than_the_limit_is_refused_before_it_is_read() -> Result<(), Box<dyn std::error::Error>> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("long.png");
        image::GrayImage::new(PHOTO_SIDE_LIMIT + 1, 2).save(&path)?;
        let problem = read_photo(&path).expect_err("it is too wide");
        assert!(problem.contains("larger than"), "{problem}");
        Ok(())
    }
}
