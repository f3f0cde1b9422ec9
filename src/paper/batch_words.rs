//! How pieces of a batch are named on paper and on the command line, and the code that opens a batch.

use crate::studio::{Piece, PieceId};
use std::collections::BTreeMap;

/// What a batch's symbol begins with; its number follows.
pub const BATCH_SYMBOL: &str = "enamelwright:batch/";

/// What the symbol of a batch's bench sheet holds.
pub fn batch_symbol(number: u32) -> String {
    format!("{BATCH_SYMBOL}{number}")
}

/// The number of the batch a scanned or typed code means; none where it is no such code.
pub fn batch_of_symbol(text: &str) -> Option<u32> {
    number_after(text.trim(), BATCH_SYMBOL)
}

/// The number of the batch a person means who scanned its code or typed `batch 14` or `#14`; none for anything else. A
/// bare number is none: it may be meant for many things.
pub fn batch_named(text: &str) -> Option<u32> {
    let text = text.trim();
    [BATCH_SYMBOL, "batch", "#"].into_iter().find_map(|head| number_after(text, head))
}

/// The number from 1 after a beginning, as digits; noughts before it change nothing.
fn number_after(text: &str, head: &str) -> Option<u32> {
    // A scanner set to another keyboard may give capitals.
    let found = text.get(..head.len()).filter(|found| found.eq_ignore_ascii_case(head))?;
    let number = text.get(found.len()..)?.trim();
    if !number.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    number.parse().ok().filter(|number| *number > 0)
}

/// Each piece's name in its batch: its place, `3`. Where batches were put together and two have one place, the later ones
/// in the book are `3b`, `3c` and so on. In the order of their rows.
pub fn piece_names(pieces: &[Piece]) -> Vec<(PieceId, String)> {
    let mut sorted: Vec<&Piece> = pieces.iter().collect();
    sorted.sort_by_key(|piece| piece.id);
    let mut seen: BTreeMap<u32, u32> = BTreeMap::new();
    sorted
        .into_iter()
        .map(|piece| {
            let times = seen.entry(piece.place).or_default();
            let name = format!("{}{}", piece.place, suffix(*times));
            *times += 1;
            (piece.id, name)
        })
        .collect()
}

/// Nothing, `b`, `c` … `z`, then `a27` and on.
fn suffix(times: u32) -> String {
    match times {
        0 => String::new(),
        1..=25 => char::from_u32(u32::from('a') + times).map(String::from).unwrap_or_default(),
        more => format!("a{}", more + 1),
    }
}

/// Names with runs drawn together: `1–6, 9`. In the order given.
pub fn spans<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let mut parts: Vec<(String, Option<(u32, u32)>)> = Vec::new();
    for name in names {
        let number: Option<u32> = name.parse().ok();
        if let (Some(number), Some((_, Some((_, last))))) = (number, parts.last_mut())
            && last.checked_add(1) == Some(number)
        {
            *last = number;
            continue;
        }
        parts.push((name.to_owned(), number.map(|number| (number, number))));
    }
    let words: Vec<String> = parts
        .into_iter()
        .flat_map(|(name, run)| match run {
            Some((first, last)) if first == last => vec![name],
            // Two that follow each other are no run yet.
            Some((first, last)) if first.checked_add(1) == Some(last) => vec![first.to_string(), last.to_string()],
            Some((first, last)) => vec![format!("{first}–{last}")],
            None => vec![name],
        })
        .collect();
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::BatchId;

    fn piece(id: i64, place: u32) -> Piece {
        Piece {
            id: PieceId(id),
            batch: BatchId(1),
            place,
            number: None,
            finished: None,
            second: false,
            note: String::new(),
        }
    }

    #[test]
    fn pieces_are_named_by_place_and_told_apart_after_a_merge() {
        let pieces = [piece(9, 1), piece(1, 1), piece(2, 2), piece(12, 1)];
        let names: Vec<(i64, String)> = piece_names(&pieces).into_iter().map(|(id, name)| (id.0, name)).collect();
        let wanted = [(1, "1"), (2, "2"), (9, "1b"), (12, "1c")];
        assert_eq!(names, wanted.map(|(id, name)| (id, name.to_owned())));
    }

    #[test]
    fn runs_of_places_are_drawn_together() {
        assert_eq!(spans(["1", "2", "3", "5", "6", "9", "9b"]), "1–3, 5, 6, 9, 9b");
        assert_eq!(spans([]), "");
    }

    #[test]
    fn only_a_batch_code_opens_a_batch() {
        assert_eq!(batch_of_symbol(&batch_symbol(14)), Some(14));
        assert_eq!(batch_of_symbol(" ENAMELWRIGHT:BATCH/14\n"), Some(14));
        assert_eq!(batch_of_symbol("enamelwright:batch/014"), Some(14));
        for other in ["enamelwright:batch/", "enamelwright:batch/0", "enamelwright:batch/-1", "batch/14", "14", "é"] {
            assert_eq!(batch_of_symbol(other), None, "{other}");
        }
    }

    #[test]
    fn a_person_names_a_batch_by_its_code_or_its_number() {
        for typed in ["enamelwright:batch/14", "Batch 14", "batch14", "#14", "# 014", " BATCH 0014 "] {
            assert_eq!(batch_named(typed), Some(14), "{typed}");
        }
        for typed in ["14", "batch", "batches", "batch 0", "enamelwright:batch/", "batch 14b", "batch +14", "#"] {
            assert_eq!(batch_named(typed), None, "{typed}");
        }
    }
}
