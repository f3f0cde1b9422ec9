//! What phrases are for: the groups she finds them in, and which of them the law has a word in.

/// What a phrase is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Purpose {
    /// Care cards.
    Care,
    /// Lead, children, work with lead-bearing enamel.
    Cautions,
    /// What a piece is made of, and how often it was fired.
    Made,
    /// The metals.
    Metals,
    /// Titles of papers and headings.
    Headings,
    /// Tags and earring cards.
    Tags,
    /// Jars and drawers.
    Jars,
    /// Certificates and stall signs.
    Signs,
    /// Columns, sums and lines that several papers share.
    Columns,
    /// Price lists, order forms, invoices.
    Selling,
    /// Consignment notes.
    Consignment,
    /// Units, and marks between parts.
    Marks,
}

impl Purpose {
    /// Every one, in the order they are shown.
    pub const ALL: [Self; 12] = [
        Self::Care,
        Self::Cautions,
        Self::Made,
        Self::Metals,
        Self::Headings,
        Self::Tags,
        Self::Jars,
        Self::Signs,
        Self::Columns,
        Self::Selling,
        Self::Consignment,
        Self::Marks,
    ];

    /// The words on screen.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Care => "Care",
            Self::Cautions => "Cautions",
            Self::Made => "What it is made of",
            Self::Metals => "Metals",
            Self::Headings => "Titles and headings",
            Self::Tags => "Tags and earring cards",
            Self::Jars => "Jars and drawers",
            Self::Signs => "Certificates and signs",
            Self::Columns => "Columns and sums",
            Self::Selling => "Price lists, orders, invoices",
            Self::Consignment => "Consignment notes",
            Self::Marks => "Units and marks",
        }
    }

    /// The name on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Care => "care",
            Self::Cautions => "cautions",
            Self::Made => "made",
            Self::Metals => "metals",
            Self::Headings => "headings",
            Self::Tags => "tags",
            Self::Jars => "jars",
            Self::Signs => "signs",
            Self::Columns => "columns",
            Self::Selling => "selling",
            Self::Consignment => "consignment",
            Self::Marks => "marks",
        }
    }

    /// The purpose of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|purpose| purpose.name() == name)
    }

    /// What a phrase is for, by its name. What is not known to be for one paper is taken to be shared by several.
    pub fn of(phrase: &str) -> Self {
        const JARS: [&str; 9] =
            ["enamel-", "fusing-", "mesh", "fires-at", "lot-of", "tare-of", "net-of", "contains-lead", "kind-"];
        const SELLING: [&str; 8] =
            ["price-list", "valid-from", "order-", "deliver-by", "invoice", "due-", "prices-with", "thanks"];
        const CONSIGNMENT: [&str; 5] = ["consignment-", "commission-", "return-", "received-", "signature-"];
        const TAGS: [&str; 5] = ["per-", "set-of", "earrings", "ear-wires", "made-by"];
        const SIGNS: [&str; 7] =
            ["certificate", "piece-number", "finished-on", "place-and-date", "sign-", "one-of-a-kind", "by-hand"];
        let begins = |any: &[&str]| any.iter().any(|start| phrase.starts_with(start));
        match phrase {
            "list-comma" => Self::Marks,
            "lead-at-work" => Self::Cautions,
            "gauge-of" | "size-of" | "shelf-of" => Self::Jars,
            "due-to-maker" => Self::Consignment,
            "signature" => Self::Signs,
            _ if begins(&["caution-"]) => Self::Cautions,
            _ if begins(&["care-", "bare-"]) => Self::Care,
            _ if begins(&["metal-", "ground-", "of-"]) => Self::Metals,
            _ if begins(&["glass-", "findings-", "chain", "cord", "times-", "fired-"]) => Self::Made,
            _ if begins(&["paper-", "heading-"]) => Self::Headings,
            _ if begins(&["unit-"]) => Self::Marks,
            _ if begins(&CONSIGNMENT) => Self::Consignment,
            _ if begins(&SELLING) => Self::Selling,
            _ if begins(&SIGNS) => Self::Signs,
            _ if begins(&TAGS) => Self::Tags,
            _ if begins(&JARS) => Self::Jars,
            _ => Self::Columns,
        }
    }
}

/// The law has a word in what this phrase says: lead, children, the maker’s own terms of goods on consignment.
pub fn is_legal(phrase: &str) -> bool {
    phrase.starts_with("caution-") || matches!(phrase, "contains-lead" | "lead-at-work" | "consignment-terms")
}

/// What she is told before she replaces such a phrase.
pub const LEGAL: &str = "Local rules decide what must be said here, on lead and on pieces for children above all. Words \
                         of your own are your own responsibility: read the rules of the place you sell in, and the \
                         maker’s safety data sheet, before you replace these.";

#[cfg(test)]
mod tests {
    use super::super::phrases;
    use super::*;

    #[test]
    fn every_group_has_phrases_and_its_own_name() {
        for purpose in Purpose::ALL {
            assert!(phrases().any(|phrase| Purpose::of(phrase) == purpose), "{purpose:?}");
            assert_eq!(Purpose::from_name(purpose.name()), Some(purpose));
        }
        assert_eq!(Purpose::from_name("poems"), None);
    }

    #[test]
    fn phrases_are_found_where_one_looks_for_them() {
        for (phrase, purpose) in [
            ("care-worn", Purpose::Care),
            ("bare-copper", Purpose::Care),
            ("caution-lead", Purpose::Cautions),
            ("ground-fine-silver", Purpose::Metals),
            ("fired-once", Purpose::Made),
            ("heading-story", Purpose::Headings),
            ("enamel-opaque", Purpose::Jars),
            ("order-number", Purpose::Selling),
            ("due-to-maker", Purpose::Consignment),
            ("due-other", Purpose::Selling),
            ("signature", Purpose::Signs),
            ("signature-maker", Purpose::Consignment),
            ("total", Purpose::Columns),
            ("unit-inch", Purpose::Marks),
        ] {
            assert_eq!(Purpose::of(phrase), purpose, "{phrase}");
        }
        let legal: Vec<&str> = phrases().filter(|phrase| is_legal(phrase)).collect();
        assert_eq!(legal, ["caution-lead", "caution-children", "contains-lead", "lead-at-work", "consignment-terms"]);
    }
}
