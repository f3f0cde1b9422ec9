//! Which pages of a paper are printed: `2-5,7`.

use std::collections::BTreeSet;

/// Why a choice of pages cannot be followed, a sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PageRangeProblem {
    /// It is not a choice of pages.
    #[error("{0:?} is no page: pages such as 2-5,7 are accepted, or nothing for all")]
    NotUnderstood(String),
    /// A range whose end lies before its beginning.
    #[error("{from}-{to} ends before it begins: {to}-{from} is accepted")]
    Backwards {
        /// Its first page.
        from: usize,
        /// Its last.
        to: usize,
    },
    /// The paper has no such page.
    #[error("there is no page {page}: 1 to {pages} is accepted")]
    NoSuchPage {
        /// The page asked for.
        page: usize,
        /// Pages of the paper.
        pages: usize,
    },
}

/// A choice of pages: numbers from 1 and ranges with commas between them. A range may leave its beginning or its end out;
/// nothing at all is every page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PageRange {
    /// First and last; without a last to the end. None for every page.
    parts: Vec<(usize, Option<usize>)>,
}

impl PageRange {
    /// Reads a choice as typed, such as `2-5, 7`.
    ///
    /// # Errors
    /// When it cannot be understood, or a range runs backwards.
    pub fn parse(text: &str) -> Result<Self, PageRangeProblem> {
        if text.trim().is_empty() {
            return Ok(Self::default());
        }
        let parts = text.split([',', ';']).map(|part| {
            let number = |digits: &str| {
                let digits = digits.trim();
                let plain = digits.bytes().all(|byte| byte.is_ascii_digit());
                let page = digits.parse().ok().filter(|page| plain && *page > 0);
                page.ok_or_else(|| PageRangeProblem::NotUnderstood(part.trim().to_owned()))
            };
            let part = part.trim();
            match part.split_once(['-', '–']) {
                Some((from, to)) if from.trim().is_empty() => Ok((1, Some(number(to)?))),
                Some((from, to)) if to.trim().is_empty() => Ok((number(from)?, None)),
                Some((from, to)) => match (number(from)?, number(to)?) {
                    (from, to) if from > to => Err(PageRangeProblem::Backwards { from, to }),
                    (from, to) => Ok((from, Some(to))),
                },
                None => number(part).map(|page| (page, Some(page))),
            }
        });
        Ok(Self { parts: parts.collect::<Result<_, _>>()? })
    }

    /// The pages of a paper of so many pages that are chosen, each once and in the order of the paper.
    ///
    /// # Errors
    /// When one is asked for that the paper does not have.
    pub fn of(&self, pages: usize) -> Result<BTreeSet<usize>, PageRangeProblem> {
        if self.parts.is_empty() {
            return Ok((1..=pages).collect());
        }
        let mut chosen = BTreeSet::new();
        for (from, to) in &self.parts {
            let to = to.unwrap_or(pages);
            if let Some(page) = [*from, to].into_iter().find(|page| *page > pages) {
                return Err(PageRangeProblem::NoSuchPage { page, pages });
            }
            chosen.extend(*from..=to);
        }
        Ok(chosen)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> Vec<usize> {
        PageRange::parse(text).unwrap().of(9).unwrap().into_iter().collect()
    }

    #[test]
    fn numbers_and_ranges_are_pages_in_order_and_each_once() {
        // The form of the `-P page-list` of `lp`, Common UNIX Printing System manual; common practice in print dialogues.
        assert_eq!(of("2-5,7"), [2, 3, 4, 5, 7]);
        assert_eq!(of(" 7 , 2 – 3, 3"), [2, 3, 7]);
        assert_eq!(of("8-"), [8, 9]);
        assert_eq!(of("-2"), [1, 2]);
        assert_eq!(of(" "), (1..=9).collect::<Vec<_>>());
    }

    #[test]
    fn what_no_paper_has_is_refused_with_what_is_accepted() {
        let refused = |text: &str| PageRange::parse(text).and_then(|range| range.of(9)).unwrap_err().to_string();
        assert!(refused("10").contains("1 to 9"));
        assert!(refused("2-10").contains("1 to 9"));
        assert!(refused("12-").contains("1 to 9"));
        assert!(refused("5-2").contains("2-5 is accepted"));
        for nonsense in ["0", "a", "2,,3", "-", "1.5", "+3", "2--3", "99999999999999999999999"] {
            assert!(refused(nonsense).contains("2-5,7"), "{nonsense}");
        }
    }
}
