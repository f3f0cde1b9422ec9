//! Photos of loads and test tiles: PNG, scaled down by the faces before they come here.

use super::Refusal;
use super::limits::refuse;

/// What a PNG file begins with (PNG specification, second edition, section 5.2).
const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";

/// Largest photo, bytes.
const MOST_BYTES: usize = 5 * 1024 * 1024;

/// Accepts a photo.
pub(super) fn accept(png: &[u8]) -> Result<(), Refusal> {
    if !png.starts_with(SIGNATURE) {
        return Err(refuse("Photo", format!("{} bytes that are no picture", png.len()), "a PNG picture is accepted"));
    }
    if png.len() > MOST_BYTES {
        return Err(refuse("Photo", format!("{} bytes", png.len()), "a picture of up to 5 MB is accepted"));
    }
    Ok(())
}
