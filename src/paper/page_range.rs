//! Some pages of a paper, as one types them: `2-5,7`.

use super::page::Document;
use std::collections::{BTreeMap, BTreeSet};

/// The last page number that can be typed.
const MOST: usize = 100_000;

/// Pages as they were typed, from 1, each once and in the paper's order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PageRange {
    /// First and last of each part; without a last it goes to the end.
    parts: Vec<(usize, Option<usize>)>,
}

/// Why pages cannot be taken, a sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PagesProblem {
    /// Not pages at all.
    #[error("Pages: {0:?} was given; accepted are page numbers from 1 and ranges of them, such as 2-5,7 or 3-")]
    Typed(String),
    /// A page the paper does not have.
    #[error("Pages: {asked} was given; this paper has {}, accepted is 1 to {pages}", counted(*pages))]
    Beyond {
        /// Asked for.
        asked: usize,
        /// The paper's pages.
        pages: usize,
    },
}

fn counted(pages: usize) -> String {
    if pages == 1 { "one page".to_owned() } else { format!("{pages} pages") }
}

impl PageRange {
    /// Reads pages: numbers from 1 and ranges of them with a comma between, such as `2-5,7`; `3-` is the third and all that
    /// follow. Blanks do not matter.
    ///
    /// # Errors
    /// When it is anything else, or a range runs backwards.
    pub fn parse(text: &str) -> Result<Self, PagesProblem> {
        let problem = || PagesProblem::Typed(text.trim().to_owned());
        let number = |part: &str| -> Result<usize, PagesProblem> {
            let part = part.trim();
            let digits = !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
            let number = part.parse().ok().filter(|number| digits && (1..=MOST).contains(number));
            number.ok_or_else(problem)
        };
        let read = |part: &str| match part.split_once(['-', '–']) {
            None => number(part).map(|page| (page, Some(page))),
            Some((first, last)) if last.trim().is_empty() => number(first).map(|first| (first, None)),
            Some((first, last)) => {
                let (first, last) = (number(first)?, number(last)?);
                if last < first { Err(problem()) } else { Ok((first, Some(last))) }
            }
        };
        Ok(Self { parts: text.split(',').map(read).collect::<Result<_, _>>()? })
    }

    /// The pages of a paper of so many pages, from 1, in order, each once.
    ///
    /// # Errors
    /// When it has no such page.
    pub fn pages(&self, count: usize) -> Result<BTreeSet<usize>, PagesProblem> {
        let mut chosen = BTreeSet::new();
        for (first, last) in &self.parts {
            let asked = last.unwrap_or(*first);
            if asked > count {
                return Err(PagesProblem::Beyond { asked, pages: count });
            }
            chosen.extend(*first..=last.unwrap_or(count));
        }
        Ok(chosen)
    }

    /// The document cut to these pages; its warnings stay, for they are of the whole.
    ///
    /// # Errors
    /// When it has no such page.
    pub fn of(&self, document: &Document) -> Result<Document, PagesProblem> {
        let chosen = self.pages(document.pages.len())?;
        let pages = (1..).zip(&document.pages).filter(|(number, _)| chosen.contains(number));
        Ok(Document { pages: pages.map(|(_, page)| page.clone()).collect(), warnings: document.warnings.clone() })
    }
}

/// How many labels of each of the job's tags stand on the pages of a document, by their place in the job.
pub fn labels_of(document: &Document) -> BTreeMap<usize, u32> {
    let mut labels = BTreeMap::new();
    for place in document.pages.iter().flat_map(|page| &page.places) {
        let count: &mut u32 = labels.entry(place.entry).or_default();
        *count = count.saturating_add(1);
    }
    labels
}

/// The label of the sheet that is free next once these pages of a job were printed, from 1; 1 is a fresh sheet. None
/// where the begun sheet is still as it was: neither the page that used it up nor the one that begins another was printed.
/// Without a range the whole job was.
///
/// # Errors
/// When the job has no such page.
pub fn next_label(
    document: &Document,
    range: Option<&PageRange>,
    labels_on_sheet: u32,
) -> Result<Option<u32>, PagesProblem> {
    let count = document.pages.len();
    let printed = range.map_or_else(|| Ok((1..=count).collect()), |range| range.pages(count))?;
    let last = document.pages.last().and_then(|page| page.places.last());
    Ok(match last {
        Some(place) if printed.contains(&count) => Some(place.number % labels_on_sheet.max(1) + 1),
        Some(_) if printed.contains(&1) => Some(1),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::page::{Page, Place, Rect};
    use proptest::prelude::*;

    fn pages(text: &str, count: usize) -> Vec<usize> {
        PageRange::parse(text).unwrap().pages(count).unwrap().into_iter().collect()
    }

    /// Three pages of two labels; the last has one.
    fn job() -> Document {
        let rect = Rect { x_mm: 0.0, y_mm: 0.0, width_mm: 10.0, height_mm: 10.0 };
        let place = |number, entry| Place { rect, number, entry, items: 0..0 };
        let page = |places| Page { places, ..Page::default() };
        Document {
            pages: vec![
                page(vec![place(1, 0), place(2, 0)]),
                page(vec![place(1, 0), place(2, 1)]),
                page(vec![place(1, 1)]),
            ],
            warnings: Vec::new(),
        }
    }

    #[test]
    fn pages_are_numbers_and_ranges_in_the_papers_order() {
        assert_eq!(pages("2-5,7", 9), [2, 3, 4, 5, 7]);
        assert_eq!(pages(" 7 , 2 – 3, 2", 9), [2, 3, 7]);
        assert_eq!(pages("3-", 5), [3, 4, 5]);
        assert_eq!(pages("1", 1), [1]);
    }

    #[test]
    fn what_is_no_page_is_told_with_what_would_be() {
        for wrong in ["", "0", "5-2", "a", "1,,2", "-3", "1-2-3", "+1", "1.5", "100001", "99999999999999999999"] {
            let told = PageRange::parse(wrong).unwrap_err().to_string();
            assert!(told.contains(&format!("{wrong:?}")) && told.contains("such as 2-5,7"), "{told}");
        }
        let told = PageRange::parse("2-9").unwrap().pages(4).unwrap_err().to_string();
        assert_eq!(told, "Pages: 9 was given; this paper has 4 pages, accepted is 1 to 4");
        assert!(PageRange::parse("2-").unwrap().pages(1).is_err());
    }

    #[test]
    fn the_labels_and_the_begun_sheet_follow_from_what_was_printed() {
        let job = job();
        let of = |text: &str| {
            let range = PageRange::parse(text).unwrap();
            let labels: Vec<_> = labels_of(&range.of(&job).unwrap()).into_iter().collect();
            (labels, next_label(&job, Some(&range), 2).unwrap())
        };
        assert_eq!(of("1-3"), (vec![(0, 3), (1, 2)], Some(2)));
        assert_eq!(next_label(&job, None, 2), Ok(Some(2)));
        // The begun sheet went through, the last did not: a fresh one is next.
        assert_eq!(of("1"), (vec![(0, 2)], Some(1)));
        assert_eq!(of("2"), (vec![(0, 1), (1, 1)], None));
        assert_eq!(of("3"), (vec![(1, 1)], Some(2)));
    }

    proptest! {
        /// A range and the rest of the pages are the whole, each page once.
        #[test]
        fn a_range_and_the_rest_are_the_whole(count in 2_usize..40, cut in 1_usize..39) {
            prop_assume!(cut < count);
            let first = pages(&format!("1-{cut}"), count);
            let rest = pages(&format!("{}-", cut + 1), count);
            prop_assert_eq!([first, rest].concat(), (1..=count).collect::<Vec<_>>());
        }
    }
}
