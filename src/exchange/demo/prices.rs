//! The demo studio's earlier accepted price lists. What was accepted is kept as it was, so the tickets and costs stand
//! in the file and are not computed from today's figures.

use super::table::{Row, Tables};
use super::{DemoDesign, DemoPriceLine, DemoPriceList, DemoProblem, days_before};
use crate::studio::StudioRates;
use chrono::NaiveDate;

/// Reads the lists, oldest first; a list is the rows of one day and name that follow each other.
pub(super) fn read(
    today: NaiveDate,
    designs: &[DemoDesign],
    rates: &StudioRates,
) -> Result<Vec<DemoPriceList>, DemoProblem> {
    let tables = Tables::read("prices.txt", include_str!("../../../assets/demo/prices.txt"))?;
    let mut lists: Vec<DemoPriceList> = Vec::new();
    for row in tables.rows("price")? {
        let date = days_before(today, row)?;
        let name = row.text("list")?;
        let line = line(row, designs, rates)?;
        match lists.last_mut().filter(|list| list.date == date && list.name == name) {
            Some(list) => list.lines.push(line),
            None => lists.push(DemoPriceList { date, name: name.to_owned(), lines: vec![line] }),
        }
    }
    Ok(lists)
}

fn line(row: &Row, designs: &[DemoDesign], rates: &StudioRates) -> Result<DemoPriceLine, DemoProblem> {
    let code = row.text("design")?;
    let design = designs
        .iter()
        .map(|demo| &demo.design)
        .find(|design| design.code.as_str() == code)
        .ok_or_else(|| row.problem(format!("no design {code}")))?;
    let id = row.text("channel")?;
    let channel = rates
        .channels
        .iter()
        .find(|channel| channel.id.0 == id)
        .ok_or_else(|| row.problem(format!("no channel {id}")))?;
    Ok(DemoPriceLine {
        code: design.code.clone(),
        name: design.name.clone(),
        channel: channel.id.clone(),
        channel_name: channel.name.clone(),
        ticket: row.number("ticket")?,
        full_cost: row.money("full cost")?,
        common: row.parsed("common", "common or empty", |text| match text {
            "common" => Some(true),
            "" => Some(false),
            _ => None,
        })?,
    })
}
