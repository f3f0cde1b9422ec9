//! A look at the XML of a workbook before the library that reads it sees it: every element closes, no document type
//! declares anything, and what an ODS sheet repeats stays within the limits.

use super::{CELL_LIMIT, ROW_LIMIT, ReadProblem, TEXT_LIMIT};

/// Deepest nesting; workbooks stay below twenty.
const DEPTH: usize = 200;

/// One tag.
struct Tag<'a> {
    name: &'a [u8],
    attributes: &'a [u8],
    kind: TagKind,
    /// Where it begins and where what follows it begins.
    at: usize,
    after: usize,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum TagKind {
    Open,
    Close,
    Whole,
}

/// The tags of an XML part in order.
struct Tags<'a> {
    xml: &'a [u8],
    at: usize,
}

impl<'a> Tags<'a> {
    fn next(&mut self) -> Result<Option<Tag<'a>>, &'static str> {
        loop {
            let rest = self.xml.get(self.at..).unwrap_or_default();
            let Some(ahead) = rest.iter().position(|byte| *byte == b'<') else { return Ok(None) };
            let at = self.at + ahead;
            let rest = rest.get(ahead..).unwrap_or_default();
            let skipped = if rest.starts_with(b"<!--") {
                find(rest, 4, b"-->")
            } else if rest.starts_with(b"<![CDATA[") {
                find(rest, 9, b"]]>")
            } else if rest.starts_with(b"<?") {
                find(rest, 2, b"?>")
            } else if rest.starts_with(b"<!") {
                return Err("it declares a document type, which a workbook never does");
            } else {
                let length = tag_length(rest).ok_or("a tag never ends")?;
                self.at = at + length;
                return Ok(Some(tag(rest.get(1..length - 1).unwrap_or_default(), at, self.at)));
            };
            self.at = at + skipped.ok_or("a remark never ends")?;
        }
    }
}

/// Where what follows `end` begins, searched from `from`.
fn find(bytes: &[u8], from: usize, end: &[u8]) -> Option<usize> {
    let place = bytes.get(from..)?.windows(end.len()).position(|window| window == end)?;
    Some(from + place + end.len())
}

/// Length of the tag the bytes begin with; a `>` inside quotation marks does not end it.
fn tag_length(bytes: &[u8]) -> Option<usize> {
    let mut quote = None;
    for (at, byte) in bytes.iter().enumerate().skip(1) {
        match (quote, byte) {
            (Some(open), byte) if open == *byte => quote = None,
            (Some(_), _) => {}
            (None, b'"' | b'\'') => quote = Some(*byte),
            (None, b'>') => return Some(at + 1),
            (None, b'<') => return None,
            (None, _) => {}
        }
    }
    None
}

/// The tag with this between its angle brackets.
fn tag(inside: &[u8], at: usize, after: usize) -> Tag<'_> {
    let (inside, kind) = match (inside.strip_prefix(b"/"), inside.strip_suffix(b"/")) {
        (Some(rest), _) => (rest, TagKind::Close),
        (None, Some(rest)) => (rest, TagKind::Whole),
        (None, None) => (inside, TagKind::Open),
    };
    let end = inside.iter().position(u8::is_ascii_whitespace).unwrap_or(inside.len());
    let (name, attributes) = inside.split_at_checked(end).unwrap_or((inside, b""));
    Tag { name, attributes, kind, at, after }
}

impl Tag<'_> {
    fn is(&self, name: &str) -> bool {
        self.name == name.as_bytes()
    }

    /// The number of an attribute, at most `most`; 1 where it has none, `most` where it cannot be read.
    fn times(&self, name: &str, most: usize) -> usize {
        match attribute(self.attributes, name) {
            None => 1,
            Some(value) => std::str::from_utf8(value)
                .ok()
                .and_then(|text| text.trim().parse().ok())
                .map_or(most, |n: usize| n.min(most)),
        }
    }
}

/// The value of the attribute of that name.
fn attribute<'a>(attributes: &'a [u8], name: &str) -> Option<&'a [u8]> {
    let mut rest = attributes;
    loop {
        let equals = rest.iter().position(|byte| *byte == b'=')?;
        let key = rest.get(..equals)?.trim_ascii();
        let value = rest.get(equals + 1..)?.trim_ascii_start();
        let (quote, value) = value.split_first()?;
        let end = value.iter().position(|byte| byte == quote)?;
        if key == name.as_bytes() {
            return value.get(..end);
        }
        rest = value.get(end + 1..)?;
    }
}

/// Checks that every element closes, in order.
pub(super) fn check(part: &str, xml: &[u8]) -> Result<(), ReadProblem> {
    let problem = |words: &str| ReadProblem::Damaged(format!("its part {part:?} is damaged: {words}"));
    if xml.starts_with(&[0xff, 0xfe]) || xml.starts_with(&[0xfe, 0xff]) {
        return Err(problem("it is written in UTF-16, which is not read here"));
    }
    let mut tags = Tags { xml, at: 0 };
    let mut open: Vec<&[u8]> = Vec::new();
    while let Some(tag) = tags.next().map_err(problem)? {
        match tag.kind {
            TagKind::Open => {
                open.push(tag.name);
                if open.len() > DEPTH {
                    return Err(problem("its elements stand too deep in one another"));
                }
            }
            TagKind::Close if open.pop() != Some(tag.name) => {
                return Err(problem("its elements do not close in order"));
            }
            TagKind::Close | TagKind::Whole => {}
        }
    }
    if open.is_empty() { Ok(()) } else { Err(problem("it ends before its elements do")) }
}

/// What the rows and cells of ODS sheets come to once their repeats are written out.
#[derive(Default)]
struct Spread {
    rows: usize,
    width: usize,
    blank_rows: usize,
    /// Of the row: its repeats, cells so far, cells to the last used one, bytes.
    repeats: usize,
    cells: usize,
    used: usize,
    row_bytes: usize,
    /// Of the cell: its repeats and where it begins.
    cell: Option<(usize, usize)>,
}

/// Checks that the sheets of an ODS file stay within the limits, repeats written out.
pub(super) fn check_repeats(xml: &[u8]) -> Result<(), ReadProblem> {
    const MOST_ROWS: usize = 1_048_576;
    const MOST_COLUMNS: usize = 16_384;
    let problem = |words: &str| ReadProblem::Damaged(words.to_owned());
    let mut tags = Tags { xml, at: 0 };
    let mut spread = Spread::default();
    let (mut cells, mut bytes) = (0_usize, 0_usize);
    let mut name = String::new();
    while let Some(tag) = tags.next().map_err(problem)? {
        let opens = tag.kind != TagKind::Close;
        let closes = tag.kind != TagKind::Open;
        if tag.is("table:table") {
            if opens {
                spread = Spread::default();
                name =
                    String::from_utf8_lossy(attribute(tag.attributes, "table:name").unwrap_or_default()).into_owned();
            }
            if closes {
                cells = cells.saturating_add(spread.rows.saturating_mul(spread.width));
            }
        } else if tag.is("table:table-row") {
            if opens {
                spread.repeats = tag.times("table:number-rows-repeated", MOST_ROWS);
                (spread.cells, spread.used, spread.row_bytes) = (0, 0, 0);
            }
            if closes && spread.used == 0 {
                spread.blank_rows = spread.blank_rows.saturating_add(spread.repeats);
            } else if closes {
                spread.rows = spread.rows.saturating_add(spread.blank_rows).saturating_add(spread.repeats);
                spread.blank_rows = 0;
                spread.width = spread.width.max(spread.used);
                bytes = bytes.saturating_add(spread.row_bytes.saturating_mul(spread.repeats));
                if spread.repeats > ROW_LIMIT {
                    return Err(ReadProblem::TooManyRows { sheet: name });
                }
            }
        } else if tag.is("table:table-cell") || tag.is("table:covered-table-cell") {
            if opens {
                let repeats = tag.times("table:number-columns-repeated", MOST_COLUMNS);
                let holds = tag.kind == TagKind::Open || find(tag.attributes, 0, b"office:").is_some();
                let holds = holds || find(tag.attributes, 0, b"table:formula").is_some();
                spread.cells = spread.cells.saturating_add(repeats);
                if holds {
                    spread.used = spread.cells;
                }
                spread.cell = Some((repeats, tag.at));
            }
            if closes && let Some((repeats, at)) = spread.cell.take() {
                let length = tag.after.saturating_sub(at);
                spread.row_bytes = spread.row_bytes.saturating_add(length.saturating_mul(repeats));
            }
        } else if tag.is("text:s") && opens {
            let repeats = spread.cell.map_or(1, |(repeats, _)| repeats);
            let spaces = tag.times("text:c", usize::MAX);
            spread.row_bytes = spread.row_bytes.saturating_add(spaces.saturating_mul(repeats));
        }
        if cells > CELL_LIMIT || spread.rows.saturating_mul(spread.width) > CELL_LIMIT {
            return Err(ReadProblem::TooManyCells);
        }
        // Markup counts here too, so twice the text is allowed.
        if bytes > TEXT_LIMIT.saturating_mul(2) || spread.row_bytes > TEXT_LIMIT.saturating_mul(2) {
            return Err(ReadProblem::TooMuchText);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn elements_close_in_order_and_nothing_is_declared() {
        let good = br#"<?xml version="1.0"?><!-- < --><a b="x > y"><c/><![CDATA[<d>]]></a>"#;
        assert_eq!(check("p", good), Ok(()));
        for wrong in ["<a><b></a></b>", "<a>", "</a>", "<a", "<!-- ", "<a b='>", "<!DOCTYPE a [<!ENTITY b \"c\">]><a/>"]
        {
            assert!(check("p", wrong.as_bytes()).is_err(), "{wrong}");
        }
        assert!(check("p", "<a>".repeat(500).as_bytes()).is_err());
    }

    fn sheet(rows: &str) -> Vec<u8> {
        format!("<table:table table:name=\"x\">{rows}</table:table>").into_bytes()
    }

    #[test]
    fn repeats_are_written_out_before_they_are_believed() {
        let blank = "<table:table-row table:number-rows-repeated=\"1048576\"><table:table-cell \
                     table:number-columns-repeated=\"16384\"/></table:table-row>";
        let cell = "<table:table-cell office:value-type=\"string\"><text:p>a</text:p></table:table-cell>";
        let row = format!("<table:table-row>{cell}</table:table-row>");
        assert_eq!(check_repeats(&sheet(&format!("{row}{blank}"))), Ok(()), "blank rows at the end cost nothing");
        let many = row.replace("<table:table-row>", "<table:table-row table:number-rows-repeated=\"300000\">");
        assert_eq!(check_repeats(&sheet(&many)), Err(ReadProblem::TooManyRows { sheet: "x".to_owned() }));
        let wide = many.replace("300000", "100000").replace("-cell ", "-cell table:number-columns-repeated=\"100\" ");
        assert_eq!(check_repeats(&sheet(&wide)), Err(ReadProblem::TooManyCells));
        let spaces = row.replace("<text:p>a", "<text:p><text:s text:c=\"4000000000\"/>");
        assert_eq!(check_repeats(&sheet(&spaces)), Err(ReadProblem::TooMuchText));
    }
}
