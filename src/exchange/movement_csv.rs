//! A movement file as comma-separated values (RFC 4180), with the headings `date,item,movement,quantity,unit,cost,note`
//! in any order; unit, cost and note may be left out.

use super::movement_file::{Column, Fault, MovementRow, MovementSheet, RowProblem};

/// Reads the texts of a file.
///
/// # Errors
/// Every heading that is missing, unknown or twice, and every row that is not text or has more cells than the headings.
pub fn read(bytes: &[u8]) -> Result<MovementSheet, Vec<RowProblem>> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(bytes);
    let mut problems = Vec::new();
    let mut headings: Option<Vec<Heading>> = None;
    let mut sheet = MovementSheet::default();
    let mut record = csv::ByteRecord::new();
    let mut lines = Lines { bytes, at: 0, line: 1 };
    loop {
        match reader.read_byte_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => {
                problems.push(problem(1, "file", error.to_string()));
                break;
            }
        }
        let row = lines.of(record.position().map_or(0, csv::Position::byte));
        let mut texts = Vec::with_capacity(record.len());
        for (place, cell) in record.iter().enumerate() {
            match std::str::from_utf8(cell) {
                Ok(text) => texts.push(text),
                Err(_) => {
                    let column = heading_at(headings.as_deref(), place);
                    problems.push(problem(row, &column, "it is not text in UTF-8; save the file as UTF-8".to_owned()));
                    texts.push("");
                }
            }
        }
        match &headings {
            None if texts.iter().all(|text| text.trim().is_empty()) => {}
            None => headings = Some(read_headings(row, &texts, &mut problems)),
            Some(columns) => sheet.rows.push(read_row(row, &texts, columns, &mut problems)),
        }
    }
    if headings.is_none() && problems.is_empty() {
        let words = format!("the file is empty; a first row {} is needed", names());
        problems.push(problem(1, "file", words));
    }
    if problems.is_empty() { Ok(sheet) } else { Err(problems) }
}

fn names() -> String {
    Column::ALL.map(Column::name).join(",")
}

/// What stands above a column.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Heading {
    Known(Column),
    Unknown,
    Empty,
}

/// Lines counted as records are read, from 1. A reader's own count leaves out empty lines before a record.
struct Lines<'a> {
    bytes: &'a [u8],
    at: usize,
    line: usize,
}

impl Lines<'_> {
    /// The line of the record that is read from that byte on.
    fn of(&mut self, byte: u64) -> usize {
        let mut start = usize::try_from(byte).unwrap_or(usize::MAX).min(self.bytes.len());
        while self.bytes.get(start).is_some_and(|byte| matches!(byte, b'\r' | b'\n')) {
            start += 1;
        }
        let passed = self.bytes.get(self.at..start).unwrap_or_default();
        let next = |place: usize| passed.get(place + 1).or_else(|| self.bytes.get(start));
        let ends = passed.iter().enumerate().filter(|(place, byte)| match **byte {
            b'\n' => true,
            b'\r' => next(*place) != Some(&b'\n'),
            _ => false,
        });
        self.line += ends.count();
        self.at = start;
        self.line
    }
}

fn heading_at(headings: Option<&[Heading]>, place: usize) -> String {
    match headings.and_then(|headings| headings.get(place)) {
        Some(Heading::Known(column)) => column.name().to_owned(),
        _ => format!("cell {}", place + 1),
    }
}

fn read_headings(row: usize, texts: &[&str], problems: &mut Vec<RowProblem>) -> Vec<Heading> {
    let mut columns: Vec<Heading> = Vec::with_capacity(texts.len());
    for (place, text) in texts.iter().enumerate() {
        let name = text.trim().to_lowercase();
        let known = Column::ALL.into_iter().find(|column| column.name() == name).map(Heading::Known);
        let column = known.unwrap_or(if name.is_empty() { Heading::Empty } else { Heading::Unknown });
        let at = format!("cell {}", place + 1);
        if column == Heading::Unknown {
            problems.push(problem(row, &at, format!("the heading {text:?} is not one of {}", names())));
        }
        if known.is_some() && columns.contains(&column) {
            problems.push(problem(row, &at, format!("the heading {text:?} stands there twice")));
        }
        columns.push(column);
    }
    for column in Column::ALL {
        if column.is_needed() && !columns.contains(&Heading::Known(column)) {
            let words = format!("there is no such heading; a first row {} is needed", names());
            problems.push(problem(row, column.name(), words));
        }
    }
    columns
}

fn read_row(row: usize, texts: &[&str], columns: &[Heading], problems: &mut Vec<RowProblem>) -> MovementRow {
    let mut read = MovementRow { row, ..MovementRow::default() };
    for (place, text) in texts.iter().enumerate() {
        match columns.get(place) {
            Some(Heading::Known(column)) => {
                let cells = Column::ALL.iter().zip(&mut read.texts);
                for (_, cell) in cells.filter(|(one, _)| *one == column) {
                    *cell = (*text).to_owned();
                }
            }
            // Told of already, once for the whole column.
            Some(Heading::Unknown) => {}
            Some(Heading::Empty) | None if text.trim().is_empty() => {}
            Some(Heading::Empty) | None => {
                let words = format!("{text:?} stands under no heading; a text with a comma in it is put in quotes");
                problems.push(problem(row, &format!("cell {}", place + 1), words));
            }
        }
    }
    read
}

fn problem(row: usize, column: &str, text: String) -> RowProblem {
    RowProblem { row, column: column.to_owned(), text, fault: Fault::File }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_may_stand_in_any_order() {
        let text = "\u{feff}Item,date,movement,quantity\r\n\r\n\"Oil, gold\",2026-01-05,count,3\r\nEN-1,2026-01-06\r\n";
        let sheet = read(text.as_bytes()).unwrap();
        assert_eq!(sheet.rows.len(), 2);
        assert_eq!(sheet.rows[0].row, 3);
        assert_eq!(sheet.rows[0].texts, ["2026-01-05", "Oil, gold", "count", "3", "", "", ""].map(str::to_owned));
        assert_eq!(sheet.rows[1].texts, ["2026-01-06", "EN-1", "", "", "", "", ""].map(str::to_owned));
    }

    #[test]
    fn what_is_no_such_table_is_refused_with_its_place() {
        let said = |bytes: &[u8]| read(bytes).unwrap_err().iter().map(ToString::to_string).collect::<Vec<_>>();
        assert_eq!(
            said(b""),
            ["row 1, file: the file is empty; a first row date,item,movement,quantity,unit,cost,note is needed"]
        );
        let all = said(b"date,item,colour,item,quantity\n2026-01-05,A,b,,1,\xff\n");
        assert_eq!(all.len(), 4, "{all:?}");
        assert!(all[0].starts_with("row 1, cell 3: the heading \"colour\""), "{all:?}");
        assert!(all[1].starts_with("row 1, cell 4: the heading \"item\" stands there twice"), "{all:?}");
        assert!(all[2].starts_with("row 1, movement: there is no such heading"), "{all:?}");
        assert_eq!(all[3], "row 2, cell 6: it is not text in UTF-8; save the file as UTF-8");
        let extra = said(b"date,item,movement,quantity\n2026-01-05,A,count,1,5\n");
        assert!(extra[0].starts_with("row 2, cell 5: \"5\" stands under no heading"), "{extra:?}");
    }
}
