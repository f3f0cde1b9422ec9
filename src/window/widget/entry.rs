//! What a field holds: the text as it is typed, and the text to go back to.

/// The raw text of a field with the text it had when it was last settled. A screen parses [`Entry::text`] on every
/// change and shows what is wrong under the field; nothing is ever reformatted under a typing hand.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Entry {
    text: String,
    settled: String,
}

impl Entry {
    /// A field that starts with a text.
    pub fn new(text: impl Into<String>) -> Self {
        let text = text.into();
        Self { settled: text.clone(), text }
    }

    /// What it holds now, as typed.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What it holds now, without blanks at its ends.
    pub fn trimmed(&self) -> &str {
        self.text.trim()
    }

    /// True with nothing but blanks.
    pub fn is_empty(&self) -> bool {
        self.trimmed().is_empty()
    }

    /// A person typed.
    pub fn type_in(&mut self, text: impl Into<String>) {
        self.text = text.into();
    }

    /// What was typed was accepted: this is the text to go back to from now on.
    pub fn settle(&mut self) {
        self.settled.clone_from(&self.text);
    }

    /// The program fills it in.
    pub fn set(&mut self, text: impl Into<String>) {
        *self = Self::new(text);
    }

    /// Differs from what it was.
    pub fn is_changed(&self) -> bool {
        self.text != self.settled
    }

    /// Goes back to what it was; true when that changed something.
    pub fn revert(&mut self) -> bool {
        let changed = self.is_changed();
        if changed {
            self.text.clone_from(&self.settled);
        }
        changed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reverting_gives_back_the_settled_text_once() {
        let mut entry = Entry::new("2 oz");
        entry.type_in("2 ozz");
        assert!(entry.is_changed());
        assert!(entry.revert());
        assert_eq!(entry.text(), "2 oz");
        assert!(!entry.revert());
        entry.type_in(" 3 oz ");
        entry.settle();
        assert_eq!(entry.trimmed(), "3 oz");
        assert!(!entry.revert());
        assert_eq!(entry.text(), " 3 oz ");
    }
}
