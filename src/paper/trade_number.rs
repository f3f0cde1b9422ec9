//! EAN-13, the number of a trade item (GS1 General Specifications, section 7.9: check digits).

/// The check digit of twelve digits: three times the sum of every second one from the right, and the others; what is
/// missing to the next ten. None where they are not twelve digits.
pub fn check_digit(twelve: &str) -> Option<u32> {
    if twelve.len() != 12 {
        return None;
    }
    let mut sum = 0;
    for (place, letter) in twelve.chars().enumerate() {
        let digit = letter.to_digit(10)?;
        sum += if place % 2 == 0 { digit } else { digit * 3 };
    }
    Some((10 - sum % 10) % 10)
}

/// Thirteen digits of which the last is the check digit of the others.
pub fn is_ean13(number: &str) -> bool {
    if number.len() != 13 || !number.bytes().all(|byte| byte.is_ascii_digit()) {
        return false;
    }
    let (twelve, last) = number.split_at(12);
    check_digit(twelve) == last.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// GS1's own worked example of the check digit, GTIN-13 629104150021 3 (GS1 “How to calculate a check digit
    /// manually”, from memory).
    #[test]
    fn the_published_example_checks() {
        assert_eq!(check_digit("629104150021"), Some(3));
        assert!(is_ean13("6291041500213"));
        for wrong in ["6291041500214", "629104150021", "62910415002１3", "", "abcdefghijklm"] {
            assert!(!is_ean13(wrong), "{wrong}");
        }
    }
}
