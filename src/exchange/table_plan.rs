//! A table that was looked at becomes a plan: what the rows would do to a book that holds the items of a [`Shelf`].

use super::movement_file::{self, Fault, ImportPlan, MovementRow, MovementSheet, Planned, RowProblem, Shelf};
use super::table::preview::{self, Found, Line, Preview, Problem};
use super::table::{Field, Heading, Mapping};
use crate::measure::NumberStyle;
use crate::studio::Item;
use std::collections::{BTreeMap, BTreeSet};

/// A table as it would be brought in.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TablePlan {
    /// What would come in, and every problem of the file by row; nothing may come in while there is one.
    pub planned: Planned,
    /// What should be known but stops nothing, by row.
    pub remarks: Vec<RowProblem>,
}

/// Puts what was found in a table against the book.
///
/// Lines become movements, with items to be made where the book has none of that name. Items become new items; one whose
/// reference (or, without a reference, whose name) the book has already is left out, and told.
pub fn plan(looked: &Preview, heading: &Heading, mapping: &Mapping, name: &str, shelf: &Shelf) -> TablePlan {
    let told = |problem: &Problem| told(problem, heading);
    let mut remarks: Vec<RowProblem> = looked.remarks.iter().map(told).collect();
    let mut planned = match &looked.found {
        Found::Lines(lines) => movements(lines, heading, mapping, name, shelf),
        Found::Items(items) => {
            let mut planned = Planned::default();
            planned.plan = new_items(items, name, shelf, &mut remarks);
            planned
        }
    };
    planned.problems.extend(looked.problems.iter().map(told));
    planned.problems.sort_by_key(|problem| problem.row);
    remarks.sort_by_key(|remark| remark.row);
    TablePlan { planned, remarks }
}

fn movements(lines: &[Line], heading: &Heading, mapping: &Mapping, name: &str, shelf: &Shelf) -> Planned {
    let rows = lines.iter().map(|line| MovementRow { row: place(line.row), texts: line.texts() }).collect();
    let sheet = MovementSheet { labels: preview::labels(heading, mapping), rows };
    // The texts of a line have a decimal point, however the file writes numbers.
    let shelf = Shelf { numbers: NumberStyle::Point, ..shelf.clone() };
    let mut planned = movement_file::read(&sheet, name, &shelf);
    let by_row: BTreeMap<usize, &Line> = lines.iter().map(|line| (place(line.row), line)).collect();
    let says_supplier = mapping.column(Field::Supplier).is_some();
    for movement in &mut planned.plan.movements {
        if let Some(line) = by_row.get(&movement.row) {
            movement.lot_number.clone_from(&line.lot_number);
            movement.supplier = says_supplier.then(|| line.supplier.clone());
        }
    }
    planned
}

fn new_items(items: &[(u32, Item)], name: &str, shelf: &Shelf, remarks: &mut Vec<RowProblem>) -> ImportPlan {
    let (mut references, mut names) = (BTreeSet::new(), BTreeSet::new());
    for (_, reference, name, _) in &shelf.items {
        references.insert(reference.to_lowercase());
        names.insert(name.to_lowercase());
    }
    let mut plan = ImportPlan { name: name.to_owned(), ..ImportPlan::default() };
    for (row, item) in items {
        let by_name = item.reference.is_empty();
        let (known, field, text) =
            if by_name { (&names, Field::Name, &item.name) } else { (&references, Field::Reference, &item.reference) };
        if known.contains(&text.to_lowercase()) {
            remarks.push(RowProblem {
                row: place(*row),
                column: field.heading().to_owned(),
                text: format!("{text:?} is in the book already; the row is left out"),
                fault: Fault::Book,
            });
        } else {
            plan.new_items.push(item.clone());
        }
    }
    plan
}

fn told(problem: &Problem, heading: &Heading) -> RowProblem {
    let column = match (problem.place.column, problem.field) {
        (Some(column), _) => preview::label(heading, column),
        (None, Some(field)) => field.heading().to_owned(),
        (None, None) => "headings".to_owned(),
    };
    RowProblem { row: place(problem.place.row), column, text: problem.words.clone(), fault: Fault::File }
}

fn place(row: u32) -> usize {
    usize::try_from(row).unwrap_or(usize::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::movement_file::ImportItem;
    use crate::exchange::table::columns::DecimalMark;
    use crate::exchange::table::{Flow, ImportKind, read};
    use crate::measure::{Currency, Unit};
    use crate::studio::ItemId;

    fn shelf() -> Shelf {
        Shelf {
            items: vec![(ItemId(1), "EN-1".to_owned(), "Fen green".to_owned(), Unit::Gram)],
            currency: Currency::USD,
            numbers: NumberStyle::Comma,
            closed_until: None,
        }
    }

    fn planned(text: &str, kind: ImportKind, numbers: DecimalMark) -> TablePlan {
        let workbook = read(text.as_bytes(), "shelf.csv", &mut |_| Flow::Go).unwrap();
        let heading = Heading::find(&workbook.sheets[0]).unwrap();
        let mapping = Mapping { numbers, ..Mapping::guess(kind, &heading) };
        let looked = preview::preview(&workbook.sheets[0], &heading, &mapping, Currency::USD, None);
        plan(&looked, &heading, &mapping, "shelf.csv", &shelf())
    }

    #[test]
    fn lines_become_movements_with_lot_and_supplier() {
        let text = "date;item;qty (oz);paid;lot;from\n2026-03-01;fen green;1,5;12,50;L-7;Tidewater\n\
                    2026-03-01;Pumice;2 kg;3;;\n";
        let plan = planned(text, ImportKind::Receipts, DecimalMark::Comma).planned;
        assert_eq!(plan.problems, []);
        let first = &plan.plan.movements[0];
        // One and a half ounces of 28.349523125 g.
        assert_eq!((first.item, first.quantity.to_string().as_str()), (ImportItem::Known(ItemId(1)), "42.524284688"));
        assert_eq!((first.lot_number.as_str(), first.supplier.as_deref()), ("L-7", Some("Tidewater")));
        assert_eq!(plan.plan.new_items[0].unit, Unit::Gram);
        assert_eq!(plan.plan.movements[1].supplier.as_deref(), Some(""));
    }

    #[test]
    fn problems_of_the_table_and_of_the_book_stand_together_by_row() {
        let text = "date,item,movement,quantity,unit\n2026-03-01,EN-1,receipt,1,g\n1/2/2026,EN-1,issue,1,g\n\
                    2026-03-01,EN-1,issue,1,mm\n";
        let plan = planned(text, ImportKind::Movements, DecimalMark::Point).planned;
        let said: Vec<String> = plan.problems.iter().map(ToString::to_string).collect();
        assert_eq!(said.len(), 3, "{said:?}");
        assert!(said[0].starts_with("row 2, cost: nothing is written"), "{said:?}");
        assert!(said[1].starts_with("row 3, column A (date): \"1/2/2026\" may be"), "{said:?}");
        assert!(said[2].starts_with("row 4, column E (unit): \"mm\" was given"), "{said:?}");
    }

    #[test]
    fn items_the_book_has_are_left_out_and_told() {
        let text = "ref,name,kind\nen-1,Other,enamel\n,FEN GREEN,enamel\nCO-7,Pumice,\n";
        let plan = planned(text, ImportKind::Items, DecimalMark::Point);
        assert_eq!(plan.planned.problems, []);
        let names: Vec<&str> = plan.planned.plan.new_items.iter().map(|item| item.name.as_str()).collect();
        assert_eq!((names, plan.planned.plan.movements.len()), (vec!["Pumice"], 0));
        let rows: Vec<usize> = plan.remarks.iter().map(|remark| remark.row).collect();
        assert_eq!(rows, [2, 3]);
        assert!(plan.remarks[0].text.contains("is in the book already"));
    }
}
