//! What is meant by a few typed letters: a jar by its label or by what is in it, an item by its name or reference.

/// Something that can be meant.
#[derive(Debug, Clone)]
pub(super) struct Known<Id> {
    pub(super) id: Id,
    /// What the field holds once it is meant: a jar's label, an item's name.
    pub(super) word: String,
    /// What else is known of it: a jar's item, an item's reference.
    pub(super) more: String,
    folded: String,
    all: String,
}

impl<Id: Copy> Known<Id> {
    pub(super) fn new(id: Id, word: &str, more: &str, found_by: &str) -> Self {
        Self {
            id,
            word: word.to_owned(),
            more: more.to_owned(),
            folded: word.to_lowercase(),
            all: format!("{word} {more} {found_by}").to_lowercase(),
        }
    }

    /// How well a text means it, the less the better; none where it does not.
    fn rank(&self, typed: &str) -> Option<u8> {
        if self.folded == typed {
            return Some(0);
        }
        if self.folded.starts_with(typed) {
            return Some(1);
        }
        let begins = |part: &str| self.all.split_whitespace().any(|word| word.starts_with(part));
        if typed.split_whitespace().all(begins) {
            return Some(2);
        }
        typed.split_whitespace().all(|part| self.all.contains(part)).then_some(3)
    }
}

/// The places of what is meant, the best first, at most `most`; what is as good as another in the order known. Nothing typed
/// means nothing.
pub(super) fn meant<Id: Copy>(typed: &str, known: &[Known<Id>], most: usize) -> Vec<usize> {
    let typed = typed.trim().to_lowercase();
    if typed.is_empty() {
        return Vec::new();
    }
    let mut found: Vec<(u8, usize)> =
        known.iter().enumerate().filter_map(|(place, one)| one.rank(&typed).map(|rank| (rank, place))).collect();
    found.sort_unstable();
    found.truncate(most);
    found.into_iter().map(|(_, place)| place).collect()
}

/// The label that is likely next: the number at its end and one, with as many digits.
pub(super) fn next_label(label: &str) -> Option<String> {
    let digits = label.chars().rev().take_while(char::is_ascii_digit).count();
    let (before, number) = label.split_at_checked(label.len().checked_sub(digits)?)?;
    let next = number.parse::<u64>().ok()?.checked_add(1)?;
    Some(format!("{before}{next:0digits$}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_comes_before_a_name_and_a_beginning_before_a_middle() {
        let known = [
            Known::new(1, "B1-10", "Fen green", "EN-017"),
            Known::new(2, "B1-1", "Lagoon", "EN-018"),
            Known::new(3, "F-02", "Old rose", "EN-040"),
            Known::new(4, "C2", "Fern green", "EN-007"),
        ];
        let ids = |typed: &str| -> Vec<i32> {
            meant(typed, &known, 3).into_iter().filter_map(|place| known.get(place)).map(|one| one.id).collect()
        };
        assert_eq!(ids("b1-1"), [2, 1]);
        assert_eq!(ids("f"), [3, 1, 4]);
        assert_eq!(ids("fe gr"), [1, 4]);
        assert_eq!(ids("goo"), [2]);
        assert_eq!(ids("en-040"), [3]);
        assert!(ids("zinc").is_empty() && ids("  ").is_empty());
    }

    #[test]
    fn the_next_label_keeps_its_zeros() {
        assert_eq!(next_label("A3-07").as_deref(), Some("A3-08"));
        assert_eq!(next_label("A3-99").as_deref(), Some("A3-100"));
        assert_eq!(next_label("Émail"), None);
        assert_eq!(next_label(""), None);
    }
}
