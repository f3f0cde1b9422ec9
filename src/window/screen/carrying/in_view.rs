//! How bringing a file in looks.

use super::Message;
use super::bringing::{Bringing, Change, Open, PATH, Stage};
use super::looked::{Looked, NewRow, ShownRow, Told};
use super::parts::{beside, progress};
use crate::exchange::table::columns::DecimalMark;
use crate::exchange::table::{DayOrder, ImportKind};
use crate::window::Shared;
use crate::window::desk::Watch;
use crate::window::theme::{self, space};
use crate::window::widget::listing::Event;
use crate::window::widget::{
    self, Column, Listing, Mark, choice, field, link, listing, panel, pick, primary, quiet_button,
};
use iced::widget::scrollable::{Direction, Scrollbar};
use iced::widget::{column, container, responsive, row, scrollable};
use iced::{Alignment, Element, Length};

/// Most rows of a list in sight at once.
const MOST_IN_SIGHT: u16 = 7;

/// Width of a column of the first rows.
const CELL: f32 = 132.0;

pub(super) fn body<'a>(bringing: &'a Bringing, shared: &'a Shared) -> Element<'a, Message> {
    match &bringing.stage {
        Stage::Asking => asking(bringing, shared),
        Stage::Reading(watch) => {
            let (done, all) = watch.progress();
            let share = share(done, all);
            let words = if all == 0 {
                "Reading the file …".to_owned()
            } else {
                format!("Reading the file: {}", percent(share))
            };
            panel("Bring in", "", progress(words, share, Some(Message::In(Change::Stop))))
        }
        Stage::Open(open) => opened(bringing, open, shared),
    }
}

fn asking<'a>(bringing: &'a Bringing, shared: &'a Shared) -> Element<'a, Message> {
    let path = row![
        Element::from(
            field("File", bringing.path.text())
                .id(PATH)
                .placeholder("a path, e.g. ~/studio/shelf.xlsx")
                .error(bringing.path_problem.as_deref())
                .on_input(|text| Message::In(Change::Path(text)))
                .on_submit(Message::In(Change::Read))
        ),
        quiet_button("Choose…").on_press(Message::In(Change::Browse)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::End);
    let read_only = shared.read_only().then(|| {
        widget::caution_line(
            Mark::Caution,
            "This book may only be looked at",
            Some("A file can be read, but nothing brought in.".to_owned()),
        )
    });
    let done = bringing.done.as_ref().map(|done| {
        row![
            widget::caution_line(Mark::Good, format!("{done}."), Some("Ctrl+Z takes all of it back.".to_owned())),
            link("See the stock").on_press(Message::Stock)
        ]
        .spacing(space::TWO)
    });
    let explained = widget::small(
        "CSV, XLSX or ODS, with a row of headings: items, receipts, counts, or movements of every kind (date, item, \
         movement, quantity, unit, cost, note). Reading it changes nothing; you see every row and every problem first.",
    );
    panel(
        "Bring in",
        "",
        column![done, read_only, path, explained, primary("Read the file").on_press(Message::In(Change::Read))]
            .spacing(space::ONE + space::HALF),
    )
}

#[allow(clippy::cast_precision_loss)] // a bar of some hundred pixels
fn share(done: usize, all: usize) -> f32 {
    if all == 0 { 0.0 } else { (done as f32 / all as f32).clamp(0.0, 1.0) }
}

fn percent(share: f32) -> String {
    format!("{:.0} %", share * 100.0)
}

fn bringing_in(watch: &Watch) -> Element<'_, Message> {
    let (done, all) = watch.progress();
    let words = match (done, all) {
        (_, 0) => "Bringing it in …".to_owned(),
        (done, all) if done == all => "Every row is written; the sums are checked …".to_owned(),
        (done, all) => format!("Bringing in row {done} of {all}"),
    };
    progress(words, share(done, all), Some(Message::In(Change::Stop)))
}

fn opened<'a>(bringing: &'a Bringing, open: &'a Open, shared: &'a Shared) -> Element<'a, Message> {
    let mut all: Vec<Element<'a, Message>> = vec![verdict(open, shared)];
    if open.bringing.is_none() {
        if !open.told.is_empty() {
            let subtitle = "mend them in the file or pick other columns; nothing comes in while there is one";
            let on = |event| Message::In(Change::Problems(event));
            all.push(panel("What stands in the way", subtitle, told(&bringing.problems, &open.told, on)));
        }
        all.push(reading(open));
        all.push(columns(open));
        if let Some(looked) = &open.looked {
            all.extend(found(bringing, looked));
        }
    }
    iced::widget::Column::with_children(all).spacing(space::TWO).into()
}

/// What would happen, and the button that does it.
fn verdict<'a>(open: &'a Open, shared: &'a Shared) -> Element<'a, Message> {
    if let Some(watch) = &open.bringing {
        return panel("Bring in", open.name.clone(), bringing_in(watch));
    }
    let looked = open.looked.as_deref().filter(|_| open.settled);
    let words: Element<'_, Message> = match (looked, open.told.len()) {
        (None, _) => widget::quiet("Looking at it …").into(),
        (Some(looked), 0) => widget::strong(looked.summary.as_str()).into(),
        (Some(_), 1) => widget::caution_line(Mark::Stop, "1 problem stands in the way", None),
        (Some(_), many) => widget::caution_line(Mark::Stop, format!("{many} problems stand in the way"), None),
    };
    let trouble = open.trouble.as_deref().map(|words| widget::caution_line(Mark::Caution, words, None));
    let ready = open.is_ready() && !shared.read_only();
    let buttons = row![
        primary("Bring it in").on_press_maybe(ready.then_some(Message::In(Change::Bring))),
        quiet_button("Another file").on_press(Message::In(Change::Close)),
    ]
    .spacing(space::ONE);
    let body = column![words, trouble, buttons].spacing(space::ONE + space::HALF);
    panel("Bring in", open.name.clone(), body)
}

/// How the file is read.
fn reading(open: &Open) -> Element<'_, Message> {
    let sheet: Option<Element<'_, Message>> = open.has_sheets().then(|| {
        let pick = pick("Sheet", &open.sheets, "a sheet", Some(&open.sheet), |sheet| Message::In(Change::Sheet(sheet)));
        container(pick).width(200).into()
    });
    let kinds = ImportKind::ALL.map(|kind| (kind, kind.name()));
    let heading = field("Headings in row", open.heading_row.text())
        .id("carrying-heading")
        .error(open.heading_problem.as_deref())
        .width(132)
        .figures()
        .on_input(|text| Message::In(Change::HeadingRow(text)));
    let marks = [(DecimalMark::Point, "1,250.5"), (DecimalMark::Comma, "1.250,5")];
    let days = [
        (None, "2026-03-14 or words"),
        (Some(DayOrder::DayMonthYear), "14/03/2026"),
        (Some(DayOrder::MonthDayYear), "03/14/2026"),
    ];
    let day: Option<Element<'_, Message>> = open.wants_day().then(|| {
        field("Day of its rows", open.day.text())
            .id("carrying-day")
            .hint("year-month-day")
            .error(open.day_problem.as_deref())
            .width(200)
            .on_input(|text| Message::In(Change::Day(text)))
            .into()
    });
    let kind = choice("What its rows are", kinds, Some(&open.mapping.kind), |kind| Message::In(Change::Kind(kind)));
    let numbers =
        choice("Numbers are written", marks, Some(&open.mapping.numbers), |mark| Message::In(Change::Numbers(mark)));
    let order = choice("Days are written", days, Some(&open.mapping.days), |days| Message::In(Change::Days(days)));
    let things: Vec<Element<'_, Message>> =
        sheet.into_iter().chain([kind, heading.into(), numbers]).chain([order]).chain(day).collect();
    let remarks = open.read_remarks().iter().map(|remark| widget::small(remark.as_str()).into());
    panel(
        "How it is read",
        "text in cells; a workbook's own numbers and days are taken as they are",
        column![beside(things), iced::widget::Column::with_children(remarks)].spacing(space::ONE),
    )
}

fn columns(open: &Open) -> Element<'_, Message> {
    let subtitle = if open.remembered {
        "as you picked them for a file like this before"
    } else {
        "as the headings suggest; what you pick is remembered for files like this"
    };
    let picks = open.picks.iter().map(|one| {
        let field = one.field;
        let list = pick(one.label.as_str(), &one.options, "not in the file", Some(&one.chosen), move |chosen| {
            Message::In(Change::Column(field, chosen))
        });
        container(list).width(188).into()
    });
    panel("Columns", subtitle, beside(picks))
}

/// What was found in the file.
fn found<'a>(bringing: &'a Bringing, looked: &'a Looked) -> Vec<Element<'a, Message>> {
    let mut all = Vec::new();
    if !looked.remarks.is_empty() {
        let on = |event| Message::In(Change::Remarks(event));
        all.push(panel("To know", "these stop nothing", told(&bringing.remarks, &looked.remarks, on)));
    }
    if !looked.new_items.is_empty() {
        let subtitle = "made by bringing the file in; change what they are afterwards in Stock";
        all.push(panel("New items", subtitle, new_items(bringing, looked)));
    }
    let shown = looked.shown.len();
    if shown > 0 {
        let lead = looked.shown.iter().any(|row| row.lead).then(|| {
            widget::caution_line(
                Mark::Caution,
                "Some of it bears lead",
                Some(
                    "Mind its dust when you weigh or sift it; keep it from children. Local rules on lead come first."
                        .to_owned(),
                ),
            )
        });
        let subtitle = format!("as they would be read; the first {shown} rows, empty where a cell has a problem");
        all.push(panel("Rows", subtitle, column![lead, first_rows(bringing, looked)].spacing(space::ONE)));
    }
    all
}

/// The height of a list with so many rows.
fn height(rows: usize) -> f32 {
    let rows = u16::try_from(rows).unwrap_or(u16::MAX).clamp(1, MOST_IN_SIGHT);
    theme::TARGET + 2.0 + f32::from(rows) * listing::ROW_HEIGHT
}

fn told<'a>(list: &'a Listing, rows: &'a [Told], on_event: impl Fn(Event) -> Message + 'a) -> Element<'a, Message> {
    let columns = vec![
        Column::figures("Row", 64, |row: &Told| row.row.as_str()).unsorted(),
        Column::words("Column", Length::FillPortion(2), |row: &Told| row.column.as_str()).unsorted(),
        Column::words("What", Length::FillPortion(7), |row: &Told| row.text.as_str()).unsorted(),
    ];
    let whole = list
        .selected()
        .and_then(|place| rows.get(place))
        .map(|row| widget::body(format!("Row {}, {}: {}", row.row, row.column, row.text)));
    column![container(listing::listing(list, columns, rows, on_event)).height(height(rows.len())), whole]
        .spacing(space::ONE)
        .into()
}

fn new_items<'a>(bringing: &'a Bringing, looked: &'a Looked) -> Element<'a, Message> {
    let columns = vec![
        Column::words("Name", Length::FillPortion(4), |row: &NewRow| row.name.as_str()).unsorted(),
        Column::words("Reference", Length::FillPortion(2), |row: &NewRow| {
            if row.reference.is_empty() { "the next free" } else { row.reference.as_str() }
        })
        .unsorted(),
        Column::words("Kind", 104, |row: &NewRow| row.kind).unsorted(),
        Column::words("Kept in", 64, |row: &NewRow| row.unit).unsorted(),
        Column::new("", 56, |row: &NewRow| lead_mark(row.lead)).unsorted(),
    ];
    let on = |event| Message::In(Change::NewItems(event));
    container(listing::listing(&bringing.new_items, columns, &looked.new_items, on))
        .height(height(looked.new_items.len()))
        .into()
}

fn lead_mark<'a>(lead: bool) -> Element<'a, Message> {
    if lead {
        container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip).into()
    } else {
        iced::widget::space().into()
    }
}

/// The first rows, as wide as their columns need: where that is more than the page, they are moved sideways.
fn first_rows<'a>(bringing: &'a Bringing, looked: &'a Looked) -> Element<'a, Message> {
    let count = u16::try_from(looked.headings.len()).unwrap_or(u16::MAX);
    let wanted = 64.0 + 56.0 + f32::from(count) * (CELL + space::TWO) + space::FOUR;
    let tall = height(looked.shown.len());
    container(responsive(move |area| {
        let mut columns = vec![Column::figures("Row", 48, |row: &ShownRow| row.row.as_str()).unsorted()];
        columns.extend(looked.headings.iter().enumerate().map(|(place, heading)| {
            Column::words(heading, Length::Fill, move |row: &ShownRow| row.texts.get(place).map_or("", String::as_str))
                .unsorted()
        }));
        columns.push(Column::new("", 48, |row: &ShownRow| lead_mark(row.lead)).unsorted());
        let list = listing::listing(&bringing.rows, columns, &looked.shown, |event| Message::In(Change::Rows(event)));
        let list = container(list).width(wanted.max(area.width)).height(tall);
        scrollable(list)
            .direction(Direction::Horizontal(Scrollbar::default()))
            .id("carrying-rows-across")
            .style(theme::scroll)
            .into()
    }))
    .height(tall + 14.0)
    .into()
}
