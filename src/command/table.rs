//! Aligned tables of text.

/// Where a column's text stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Amounts.
    Right,
}

/// A table with a header, filled row by row and written in one go.
#[derive(Debug, Clone)]
pub struct Table {
    columns: Vec<(&'static str, Align)>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// An empty table with these columns.
    pub fn new(columns: &[(&'static str, Align)]) -> Self {
        Self { columns: columns.to_vec(), rows: Vec::new() }
    }

    /// Adds a row; a row shorter than the header ends in empty cells.
    pub fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.rows.push(cells.into_iter().map(|cell| one_line(&cell)).collect());
    }

    /// No rows.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

impl std::fmt::Display for Table {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let widths: Vec<usize> = self
            .columns
            .iter()
            .enumerate()
            .map(|(column, (header, _))| {
                let cells = self.rows.iter().filter_map(|row| row.get(column)).map(|cell| width(cell));
                cells.fold(width(header), usize::max)
            })
            .collect();
        let header: Vec<String> = self.columns.iter().map(|(header, _)| (*header).to_owned()).collect();
        for row in std::iter::once(&header).chain(&self.rows) {
            let mut line = String::new();
            for (index, (column_width, (_, align))) in widths.iter().zip(&self.columns).enumerate() {
                let cell = row.get(index).map_or("", String::as_str);
                let gap = " ".repeat(column_width.saturating_sub(width(cell)));
                if index > 0 {
                    line.push_str("  ");
                }
                match align {
                    Align::Left => line.extend([cell, gap.as_str()]),
                    Align::Right => line.extend([gap.as_str(), cell]),
                }
            }
            writeln!(f, "{}", line.trim_end())?;
        }
        Ok(())
    }
}

/// The text with control characters taken out, so that a name can neither break a line nor steer a terminal.
pub fn one_line(text: &str) -> String {
    text.chars().map(|character| if character.is_control() { ' ' } else { character }).collect()
}

/// How many columns of a terminal a text takes, near enough for alignment: marks that join the letter before them take
/// none; East Asian wide letters and emoji take two.
fn width(text: &str) -> usize {
    text.chars()
        .map(|character| match u32::from(character) {
            0x0300..=0x036F | 0x200B..=0x200F | 0x20D0..=0x20FF | 0xFE00..=0xFE0F | 0x1F3FB..=0x1F3FF => 0,
            0x1100..=0x115F
            | 0x2E80..=0x303E
            | 0x3041..=0xA4CF
            | 0xAC00..=0xD7A3
            | 0xF900..=0xFAFF
            | 0xFE30..=0xFE6F
            | 0xFF00..=0xFF60
            | 0xFFE0..=0xFFE6
            | 0x1F300..=0x1FAFF
            | 0x20000..=0x3FFFD => 2,
            _ => 1,
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_as_wide_as_their_widest_cell() {
        let mut table = Table::new(&[("Name", Align::Left), ("Value", Align::Right)]);
        table.row(["Fen green".to_owned(), "1.50".to_owned()]);
        table.row(["Oat".to_owned(), "1204.00".to_owned()]);
        assert_eq!(table.to_string(), "Name         Value\nFen green     1.50\nOat        1204.00\n");
    }

    #[test]
    fn wide_letters_count_twice_and_joined_marks_not_at_all() {
        assert_eq!(width("e\u{301}tal"), 4);
        assert_eq!(width("\u{7DD1}\u{8272}"), 4);
        assert_eq!(width("\u{1F41E}"), 2);
    }

    #[test]
    fn a_name_cannot_break_a_line() {
        let mut table = Table::new(&[("Name", Align::Left)]);
        table.row(["one\ntwo\u{1b}[31m".to_owned()]);
        assert_eq!(table.to_string(), "Name\none two [31m\n");
    }
}
