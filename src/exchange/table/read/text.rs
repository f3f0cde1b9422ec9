//! Bytes of a text file as text: UTF-8 with or without its mark, UTF-16 with its mark, else Windows-1252.

use super::ReadProblem;
use std::borrow::Cow;

/// Told where neither a mark nor UTF-8 said what the letters are.
pub(super) const GUESSED: &str = "the file does not say how its letters are written; it was read as Western European \
     (Windows-1252). If letters look wrong, save it as UTF-8.";

/// Told where a pair of UTF-16 was torn.
pub(super) const TORN: &str = "some letters of the file are damaged and were read as \u{fffd}";

/// What Windows-1252 has from 0x80 to 0x9F; elsewhere it is Unicode's first 256. The five places it leaves open are read
/// as the control characters of the same number (the WHATWG Encoding Standard's index, from memory).
const WINDOWS_1252: [char; 32] = [
    '\u{20ac}', '\u{81}', '\u{201a}', '\u{192}', '\u{201e}', '\u{2026}', '\u{2020}', '\u{2021}', '\u{2c6}', '\u{2030}',
    '\u{160}', '\u{2039}', '\u{152}', '\u{8d}', '\u{17d}', '\u{8f}', '\u{90}', '\u{2018}', '\u{2019}', '\u{201c}',
    '\u{201d}', '\u{2022}', '\u{2013}', '\u{2014}', '\u{2dc}', '\u{2122}', '\u{161}', '\u{203a}', '\u{153}', '\u{9d}',
    '\u{17e}', '\u{178}',
];

/// The text, and a remark where something should be known about it.
pub(super) fn decode(bytes: &[u8]) -> Result<(Cow<'_, str>, Option<&'static str>), ReadProblem> {
    if let Some(rest) = bytes.strip_prefix(&[0xff, 0xfe]) {
        return Ok(utf16(rest, u16::from_le_bytes));
    }
    if let Some(rest) = bytes.strip_prefix(&[0xfe, 0xff]) {
        return Ok(utf16(rest, u16::from_be_bytes));
    }
    let bytes = bytes.strip_prefix(&[0xef, 0xbb, 0xbf]).unwrap_or(bytes);
    if bytes.contains(&0) {
        return Err(ReadProblem::NotText);
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok((Cow::Borrowed(text), None)),
        Err(_) => Ok((Cow::Owned(bytes.iter().map(|byte| windows_1252(*byte)).collect()), Some(GUESSED))),
    }
}

fn windows_1252(byte: u8) -> char {
    let place = usize::from(byte).checked_sub(0x80);
    place.and_then(|place| WINDOWS_1252.get(place)).copied().unwrap_or(char::from(byte))
}

fn utf16(bytes: &[u8], number: fn([u8; 2]) -> u16) -> (Cow<'static, str>, Option<&'static str>) {
    let (pairs, odd) = bytes.as_chunks::<2>();
    let units = pairs.iter().map(|pair| number(*pair));
    let mut torn = !odd.is_empty();
    let text = char::decode_utf16(units)
        .map(|letter| {
            letter.unwrap_or_else(|_| {
                torn = true;
                char::REPLACEMENT_CHARACTER
            })
        })
        .collect();
    (Cow::Owned(text), torn.then_some(TORN))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_way_of_writing_letters_gives_the_same_text() {
        let text = "émail €\u{201c}";
        let little: Vec<u8> = "\u{feff}émail €\u{201c}".encode_utf16().flat_map(u16::to_le_bytes).collect();
        let big: Vec<u8> = "\u{feff}émail €\u{201c}".encode_utf16().flat_map(u16::to_be_bytes).collect();
        let marked = [b"\xef\xbb\xbf", text.as_bytes()].concat();
        for bytes in [text.as_bytes(), &marked, &little, &big] {
            assert_eq!(decode(bytes).unwrap(), (Cow::Borrowed(text), None));
        }
        // Windows code page 1252: e acute E9, euro 80, left double quotation mark 93 (from memory of the code page).
        assert_eq!(decode(b"\xe9mail \x80\x93").unwrap(), (Cow::Borrowed(text), Some(GUESSED)));
    }

    #[test]
    fn torn_pairs_are_told_and_noughts_are_no_text() {
        assert_eq!(decode(b"\xff\xfe\x00\xd8A\x00").unwrap(), (Cow::Borrowed("\u{fffd}A"), Some(TORN)));
        assert_eq!(decode(b"\xff\xfeA\x00B").unwrap().1, Some(TORN));
        assert_eq!(decode(b"a\0b"), Err(ReadProblem::NotText));
    }
}
