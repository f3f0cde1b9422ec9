//! Bytes as letters (RFC 4648, section 4).

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// Bytes as letters, with padding.
pub(super) fn encode(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let bits = group.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte)) << (8 * (3 - group.len()));
        for place in 0..4 {
            let value = usize::try_from(bits >> (18 - 6 * place) & 0x3f).unwrap_or_default();
            let letter = LETTERS.get(value).filter(|_| place <= group.len());
            text.push(letter.map_or('=', |letter| char::from(*letter)));
        }
    }
    text
}

/// The bytes of letters; white space is passed over. None where they are not what [`encode`] gives.
pub(super) fn decode(text: &str) -> Option<Vec<u8>> {
    let letters: Vec<u8> = text.bytes().filter(|byte| !byte.is_ascii_whitespace()).collect();
    if !letters.len().is_multiple_of(4) {
        return None;
    }
    let mut bytes = Vec::with_capacity(letters.len() / 4 * 3);
    let groups = letters.len() / 4;
    for (number, group) in letters.chunks(4).enumerate() {
        let padding = group.iter().rev().take_while(|letter| **letter == b'=').count();
        if padding > 2 || (padding > 0 && number + 1 < groups) {
            return None;
        }
        let mut bits = 0_u32;
        for letter in group.iter().take(4 - padding) {
            let value = LETTERS.iter().position(|known| known == letter)?;
            bits = bits << 6 | u32::try_from(value).ok()?;
        }
        let [_, first, second, third] = (bits << (6 * padding)).to_be_bytes();
        let whole = [first, second, third];
        // Bits beyond the last byte must be nothing, so that each content has one text.
        if whole.iter().skip(3 - padding).any(|byte| *byte != 0) {
            return None;
        }
        bytes.extend(whole.iter().take(3 - padding));
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10.
    #[test]
    fn the_published_examples_hold() {
        for (plain, letters) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(encode(plain.as_bytes()), letters);
            assert_eq!(decode(letters).as_deref(), Some(plain.as_bytes()));
        }
        for wrong in ["Zg", "Zg=", "Zh==", "Z===", "Zm9v!AAA", "Zg==Zm9v"] {
            assert_eq!(decode(wrong), None, "{wrong}");
        }
    }
}
