//! A list to browse: a header that stays, rows of one height, and only the rows in sight are built.
//!
//! The screen keeps a [`Listing`] and the rows, sorted and worded; the widget tells it what happened as an [`Event`].
//! The whole list is one stop of the Tab key: arrows, Page Up and Down, Home and End move the selection, Enter opens it.

use super::fitted::fitted;
use super::mark::{Mark, mark};
use super::press::Press;
use super::prose;
use crate::window::theme::{self, Chosen, size, space};
use iced::alignment::Horizontal;
use iced::keyboard::key::Named;
use iced::widget::scrollable::AbsoluteOffset;
use iced::widget::{button, column, container, keyed_column, operation, responsive, row, scrollable, text};
use iced::{Alignment, Element, Length, Padding, Task};
use std::rc::Rc;

/// Height of a row, pixels at 100 %.
pub const ROW_HEIGHT: f32 = 36.0;
/// Room kept at the right for the bar, so that it never lies over a figure.
const GUTTER: f32 = 16.0;
/// Rows built above and below those in sight.
const SPARE_ROWS: usize = 4;

/// Which way a column is sorted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    /// Smallest first.
    Rising,
    /// Largest first.
    Falling,
}

/// What a list keeps between frames.
#[derive(Debug, Clone, PartialEq)]
pub struct Listing {
    id: &'static str,
    offset: f32,
    height: f32,
    selected: Option<usize>,
    sort: (usize, Order),
}

/// What happened in a list.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Event {
    /// It was scrolled, or its height changed; pixels.
    Scrolled {
        /// From the top.
        offset: f32,
        /// Of what is in sight.
        height: f32,
    },
    /// The heading of a column was pressed.
    Heading(usize),
    /// A row was pressed.
    Pressed(usize),
    /// A key moved the selection.
    Key(Named),
    /// Enter was pressed.
    Enter,
}

/// What the screen does about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reaction {
    /// Nothing.
    None,
    /// Sort the rows anew, by [`Listing::sort`].
    Sort,
    /// Another row is selected.
    Selected(usize),
    /// Open the row: pressed when it was selected already, or Enter.
    Opened(usize),
}

impl Listing {
    /// A list sorted by its first column. `id` is unique in the window.
    pub fn new(id: &'static str) -> Self {
        Self { id, offset: 0.0, height: 0.0, selected: None, sort: (0, Order::Rising) }
    }

    /// The column the rows are sorted by, and which way.
    pub fn sort(&self) -> (usize, Order) {
        self.sort
    }

    /// Sorts by a column from the start.
    pub fn sort_by(&mut self, column: usize, order: Order) {
        self.sort = (column, order);
    }

    /// The selected row.
    pub fn selected(&self) -> Option<usize> {
        self.selected
    }

    /// Selects a row, or none; call [`Listing::show`] to bring it into sight.
    pub fn select(&mut self, row: Option<usize>) {
        self.selected = row;
    }

    /// Scrolls so that the selected row is in sight.
    pub fn show<Message: Send + 'static>(&mut self) -> Task<Message> {
        let Some(row) = self.selected else { return Task::none() };
        let top = row_top(row);
        let wanted = if top < self.offset {
            top
        } else if self.height > 0.0 && top + ROW_HEIGHT > self.offset + self.height {
            top + ROW_HEIGHT - self.height
        } else {
            return Task::none();
        };
        self.offset = wanted;
        operation::scroll_to(self.id, AbsoluteOffset { x: 0.0, y: wanted })
    }

    /// Puts the focus on the list, so that arrows move in it.
    pub fn focus<Message: Send + 'static>(&self) -> Task<Message> {
        operation::focus(format!("{}-keys", self.id))
    }

    /// Takes note of an event in a list of `total` rows; says what to do about it and how to scroll.
    pub fn update<Message: Send + 'static>(&mut self, event: Event, total: usize) -> (Reaction, Task<Message>) {
        match event {
            Event::Scrolled { offset, height } => {
                self.offset = offset;
                self.height = height;
                (Reaction::None, Task::none())
            }
            Event::Heading(column) => {
                let order = match self.sort {
                    (sorted, Order::Rising) if sorted == column => Order::Falling,
                    _ => Order::Rising,
                };
                self.sort = (column, order);
                (Reaction::Sort, Task::none())
            }
            Event::Pressed(row) if row < total => {
                let again = self.selected == Some(row);
                self.selected = Some(row);
                (if again { Reaction::Opened(row) } else { Reaction::Selected(row) }, Task::none())
            }
            Event::Pressed(_) => (Reaction::None, Task::none()),
            Event::Enter => match self.selected {
                Some(row) if row < total => (Reaction::Opened(row), Task::none()),
                _ => (Reaction::None, Task::none()),
            },
            Event::Key(key) => match self.moved(key, total) {
                Some(row) => {
                    self.selected = Some(row);
                    (Reaction::Selected(row), self.show())
                }
                None => (Reaction::None, Task::none()),
            },
        }
    }

    fn moved(&self, key: Named, total: usize) -> Option<usize> {
        let last = total.checked_sub(1)?;
        let page = rows_in(self.height).max(1);
        let row = match (key, self.selected) {
            (Named::Home, _) | (Named::ArrowDown | Named::PageDown, None) => 0,
            (Named::End, _) | (Named::ArrowUp | Named::PageUp, None) => last,
            (Named::ArrowDown, Some(row)) => row.saturating_add(1),
            (Named::ArrowUp, Some(row)) => row.saturating_sub(1),
            (Named::PageDown, Some(row)) => row.saturating_add(page),
            (Named::PageUp, Some(row)) => row.saturating_sub(page),
            _ => return None,
        };
        Some(row.min(last))
    }
}

#[allow(clippy::cast_precision_loss)] // rows stay far below 2^23
fn row_top(row: usize) -> f32 {
    row as f32 * ROW_HEIGHT
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // never negative: `max` above the cast
fn rows_in(height: f32) -> usize {
    (height / ROW_HEIGHT).max(0.0) as usize
}

/// The rows that are built: the first, and how many.
fn window(offset: f32, height: f32, total: usize) -> (usize, usize) {
    let first = rows_in(offset).saturating_sub(SPARE_ROWS).min(total);
    let length = rows_in(height).saturating_add(2 * SPARE_ROWS + 2).min(total - first);
    (first, length)
}

type CellOf<'a, Row, Message> = Box<dyn Fn(&'a Row) -> Element<'a, Message> + 'a>;

/// One column: its heading, its width, and how a row's cell looks.
pub struct Column<'a, Row, Message> {
    title: &'a str,
    width: Length,
    align: Horizontal,
    sortable: bool,
    cell: CellOf<'a, Row, Message>,
}

impl<'a, Row, Message: 'a> Column<'a, Row, Message> {
    /// A column of anything.
    pub fn new(title: &'a str, width: impl Into<Length>, cell: impl Fn(&'a Row) -> Element<'a, Message> + 'a) -> Self {
        Self { title, width: width.into(), align: Horizontal::Left, sortable: true, cell: Box::new(cell) }
    }

    /// A column of words; too long ones end in an ellipsis.
    pub fn words(title: &'a str, width: impl Into<Length>, cell: impl Fn(&'a Row) -> &'a str + 'a) -> Self {
        Self::new(title, width, move |row| fitted(cell(row)).into())
    }

    /// A column of figures, at the right.
    pub fn figures(title: &'a str, width: impl Into<Length>, cell: impl Fn(&'a Row) -> &'a str + 'a) -> Self {
        Self { align: Horizontal::Right, ..Self::new(title, width, move |row| prose::amount(cell(row)).into()) }
    }

    /// Its content and heading lie at the right.
    #[must_use]
    pub fn right(mut self) -> Self {
        self.align = Horizontal::Right;
        self
    }

    /// Its heading cannot be pressed.
    #[must_use]
    pub fn unsorted(mut self) -> Self {
        self.sortable = false;
        self
    }
}

/// The list itself; fills the height it is given.
pub fn listing<'a, Row: 'a, Message: Clone + 'a>(
    state: &'a Listing,
    columns: Vec<Column<'a, Row, Message>>,
    rows: &'a [Row],
    on_event: impl Fn(Event) -> Message + 'a,
) -> Element<'a, Message> {
    let on_event = Rc::new(on_event);
    let heading = row(columns.iter().enumerate().map(|(index, column)| {
        heading_of(index, column, state.sort, column.sortable.then(|| on_event(Event::Heading(index))))
    }))
    .spacing(space::TWO)
    .padding(Padding::from([0.0, space::ONE]).right(GUTTER));
    let keys = Rc::clone(&on_event);
    let body = responsive(move |area| {
        let (first, length) = window(state.offset, area.height, rows.len());
        let shown = rows.get(first..first + length).unwrap_or_default();
        let built = keyed_column(shown.iter().enumerate().map(|(index, data)| {
            let index = first + index;
            (index, row_of(data, &columns, state.selected == Some(index), on_event(Event::Pressed(index))))
        }));
        let before = row_top(first);
        let after = row_top(rows.len().saturating_sub(first + length));
        let scrolled = Rc::clone(&on_event);
        scrollable(column![iced::widget::space().height(before), built, iced::widget::space().height(after)])
            .id(state.id)
            .width(Length::Fill)
            .height(Length::Fill)
            .style(theme::scroll)
            .on_scroll(move |viewport| {
                scrolled(Event::Scrolled { offset: viewport.absolute_offset().y, height: viewport.bounds().height })
            })
            .into()
    });
    let body = Press::new(body)
        .id(format!("{}-keys", state.id))
        .keyboard_only()
        .on_press_maybe((!rows.is_empty()).then(|| keys(Event::Enter)))
        .on_key(move |key| {
            matches!(
                key,
                Named::ArrowDown | Named::ArrowUp | Named::PageDown | Named::PageUp | Named::Home | Named::End
            )
            .then(|| keys(Event::Key(key)))
        })
        .width(Length::Fill)
        .height(Length::Fill)
        .padding(0.0)
        .style(theme::row(Chosen::No));
    column![heading, iced::widget::rule::horizontal(1).style(theme::hairline), body].height(Length::Fill).into()
}

fn heading_of<'a, Row, Message: Clone + 'a>(
    index: usize,
    column: &Column<'a, Row, Message>,
    sort: (usize, Order),
    on_press: Option<Message>,
) -> Element<'a, Message> {
    let sign = (sort.0 == index && on_press.is_some()).then(|| {
        mark(match sort.1 {
            Order::Rising => Mark::Rising,
            Order::Falling => Mark::Falling,
        })
    });
    let words = text(column.title).size(size::SMALL).font(theme::STRONG).style(theme::quiet);
    let words = row![words.wrapping(text::Wrapping::None), sign].spacing(space::HALF).align_y(Alignment::Center);
    if on_press.is_none() {
        return container(words)
            .align_x(column.align)
            .width(column.width)
            .height(theme::TARGET)
            .align_y(Alignment::Center)
            .into();
    }
    let align = match column.align {
        Horizontal::Left => Alignment::Start,
        Horizontal::Center => Alignment::Center,
        Horizontal::Right => Alignment::End,
    };
    Press::new(words)
        .on_press_maybe(on_press)
        .align(align)
        .width(column.width)
        .height(theme::TARGET)
        .padding(0.0)
        .style(theme::row(Chosen::No))
        .into()
}

fn row_of<'a, Row, Message: Clone + 'a>(
    data: &'a Row,
    columns: &[Column<'a, Row, Message>],
    selected: bool,
    on_press: Message,
) -> Element<'a, Message> {
    let cells = row(columns
        .iter()
        .map(|column| container((column.cell)(data)).width(column.width).align_x(column.align).clip(true).into()))
    .spacing(space::TWO)
    .align_y(Alignment::Center);
    button(container(cells).center_y(Length::Fill))
        .on_press(on_press)
        .padding(Padding::from([0.0, space::ONE]).right(GUTTER))
        .width(Length::Fill)
        .height(ROW_HEIGHT)
        .style(theme::row(Chosen::from(selected)))
        .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn update(listing: &mut Listing, event: Event, total: usize) -> Reaction {
        listing.update::<()>(event, total).0
    }

    #[test]
    fn only_the_rows_in_sight_are_built() {
        assert_eq!(window(0.0, 720.0, 10_000), (0, 30));
        assert_eq!(window(36_000.0, 720.0, 10_000), (996, 30));
        assert_eq!(window(1e9, 720.0, 10_000), (10_000, 0));
        assert_eq!(window(0.0, 720.0, 3), (0, 3));
        assert_eq!(window(0.0, 720.0, 0), (0, 0));
        assert_eq!(window(-50.0, -1.0, 5), (0, 5));
    }

    #[test]
    fn keys_move_the_selection_and_stay_inside() {
        let mut list = Listing::new("test");
        let _ = update(&mut list, Event::Scrolled { offset: 0.0, height: 360.0 }, 25);
        assert_eq!(update(&mut list, Event::Key(Named::ArrowUp), 25), Reaction::Selected(24));
        assert_eq!(update(&mut list, Event::Key(Named::ArrowDown), 25), Reaction::Selected(24));
        assert_eq!(update(&mut list, Event::Key(Named::Home), 25), Reaction::Selected(0));
        assert_eq!(update(&mut list, Event::Key(Named::PageDown), 25), Reaction::Selected(10));
        assert_eq!(update(&mut list, Event::Key(Named::PageUp), 25), Reaction::Selected(0));
        assert_eq!(update(&mut list, Event::Key(Named::Tab), 25), Reaction::None);
        assert_eq!(update(&mut list, Event::Enter, 25), Reaction::Opened(0));
        assert_eq!(update(&mut list, Event::Key(Named::ArrowDown), 0), Reaction::None);
        assert_eq!(update(&mut list, Event::Enter, 0), Reaction::None);
    }

    #[test]
    fn pressing_a_heading_twice_turns_the_order_round() {
        let mut list = Listing::new("test");
        assert_eq!(update(&mut list, Event::Heading(2), 5), Reaction::Sort);
        assert_eq!(list.sort(), (2, Order::Rising));
        let _ = update(&mut list, Event::Heading(2), 5);
        assert_eq!(list.sort(), (2, Order::Falling));
        let _ = update(&mut list, Event::Heading(1), 5);
        assert_eq!(list.sort(), (1, Order::Rising));
    }

    #[test]
    fn pressing_the_selected_row_opens_it() {
        let mut list = Listing::new("test");
        assert_eq!(update(&mut list, Event::Pressed(3), 5), Reaction::Selected(3));
        assert_eq!(update(&mut list, Event::Pressed(3), 5), Reaction::Opened(3));
        assert_eq!(update(&mut list, Event::Pressed(9), 5), Reaction::None);
    }
}
