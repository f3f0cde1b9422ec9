//! Designs and their prices.

use crate::costing::price_sheet::{PriceRow, Tickets};
use crate::exchange::table::made::{Column, ColumnKind, Table, Value};
use crate::measure::{Currency, Decimal};
use crate::studio::{BookDesign, PriceList, StepKind};

fn column(heading: &'static str, kind: ColumnKind) -> Column {
    Column::new(heading, kind)
}

fn whole(count: usize) -> Value {
    Value::Number(Decimal::from(count))
}

/// Designs, in the order given. A design as a whole goes out as a design file.
pub fn designs(designs: &[BookDesign]) -> Table {
    let rows = designs
        .iter()
        .map(|book| {
            let design = &book.design;
            let firings = design.steps.iter().filter(|step| matches!(step.kind, StepKind::Fire(_))).count();
            vec![
                Value::text(design.code.as_str()),
                Value::text(&design.name),
                Value::Number(Decimal::from(design.pieces)),
                Value::text(design.blank.metal.words()),
                whole(design.steps.len()),
                whole(firings),
                whole(design.channels.len()),
                Value::Flag(design.for_children),
                Value::Flag(design.materials.iter().any(|material| material.lead_bearing)),
                Value::Flag(book.retired),
                Value::text(&book.notes),
            ]
        })
        .collect();
    Table {
        name: "Designs".to_owned(),
        columns: vec![
            column("code", ColumnKind::Text),
            column("name", ColumnKind::Text),
            column("pieces a batch", ColumnKind::Number),
            column("metal", ColumnKind::Text),
            column("steps", ColumnKind::Number),
            column("firings", ColumnKind::Number),
            column("channels", ColumnKind::Number),
            column("for children", ColumnKind::Flag),
            column("bears lead", ColumnKind::Flag),
            column("set aside", ColumnKind::Flag),
            column("notes", ColumnKind::Text),
        ],
        rows,
    }
}

/// Every design on every channel as it is priced now; a design or channel without a price has the reason instead.
pub fn prices(priced: &[PriceRow], tickets: Tickets, currency: Currency) -> Table {
    let cash = ColumnKind::Money { digits: currency.digits() };
    let mut rows = Vec::new();
    for row in priced {
        let head = || [Value::text(row.design.code.as_str()), Value::text(&row.design.name)];
        let costing = match &row.answer {
            Ok(costing) => costing,
            Err(error) => {
                let mut cells = head().to_vec();
                cells.resize(7, Value::Empty);
                cells.push(Value::text(error.to_string()));
                rows.push(cells);
                continue;
            }
        };
        for (channel, price) in row.channels() {
            let offered = row.offered(&channel.id, tickets);
            let reason = price.priced.as_ref().err().map(ToString::to_string);
            let mut cells = head().to_vec();
            cells.extend([
                Value::text(&channel.name),
                Value::Number(costing.cost.full),
                Value::maybe(offered.as_ref(), |priced| Value::Number(priced.ticket)),
                Value::maybe(offered.as_ref(), |priced| Value::Number(priced.price_before_tax)),
                Value::maybe(offered.as_ref(), |priced| Value::Number(priced.profit)),
                Value::maybe(reason, Value::Text),
            ]);
            rows.push(cells);
        }
    }
    Table {
        name: "Prices".to_owned(),
        columns: vec![
            column("code", ColumnKind::Text),
            column("name", ColumnKind::Text),
            column("channel", ColumnKind::Text),
            column("full cost", cash),
            column("ticket", cash),
            column("price before tax", cash),
            column("profit", cash),
            column("why there is no price", ColumnKind::Text),
        ],
        rows,
    }
}

/// Accepted tickets of all price lists, in the order given.
pub fn accepted(lists: &[PriceList], currency: Currency) -> Table {
    let cash = ColumnKind::Money { digits: currency.digits() };
    let rows = lists
        .iter()
        .flat_map(|list| {
            list.lines.iter().map(move |line| {
                vec![
                    Value::Date(list.date),
                    Value::text(&list.name),
                    Value::text(line.code.as_str()),
                    Value::text(&line.name),
                    Value::text(&line.channel_name),
                    Value::Number(line.ticket),
                    Value::Number(line.full_cost.amount()),
                    Value::Flag(line.common),
                ]
            })
        })
        .collect();
    Table {
        name: "Accepted prices".to_owned(),
        columns: vec![
            column("date", ColumnKind::Date),
            column("list", ColumnKind::Text),
            column("code", ColumnKind::Text),
            column("name", ColumnKind::Text),
            column("channel", ColumnKind::Text),
            column("ticket", cash),
            column("full cost", cash),
            column("common ticket", ColumnKind::Flag),
        ],
        rows,
    }
}
