//! Rates and kiln: the studio's, or the design's own.

use super::blank_view::close;
use super::change::Change;
use super::field::Field;
use super::hand::Hand;
use super::input::{beside, figure};
use super::page::Page;
use super::page_view::summary;
use super::room::Message;
use crate::measure::{Preferences, display};
use crate::window::Shared;
use crate::window::screen::Destination;
use crate::window::theme::{Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, prose};
use iced::widget::{column, row};
use iced::{Alignment, Element};

/// The editor of rates and kiln.
pub fn view<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let follows = &page.draft.content.follows;
    let difference = display::temperature_label(&Preferences::from(shared.settings()));
    let tick_of = |words: &'a str, follows: bool, change: fn(bool) -> Change| {
        tick(words, Chosen::from(follows), Some(Message::Change(change(!follows))))
    };
    let shown = |words: &'a str| -> Element<'a, Message> { prose::strong(words).into() };
    let labour = row![
        tick_of("Labour is the studio’s", follows.labour, Change::FollowLabour),
        if follows.labour { shown(&page.rows.labour) } else { figure(page, Field::Labour, "Labour", "an hour") }
    ]
    .spacing(space::TWO)
    .align_y(Alignment::Center);
    let overhead = row![
        tick_of("Overhead is the studio’s", follows.overhead, Change::FollowOverhead),
        if follows.overhead {
            shown(&page.rows.overhead)
        } else {
            figure(page, Field::Overhead, "Overhead", "an hour")
        }
    ]
    .spacing(space::TWO)
    .align_y(Alignment::Center);
    let kiln_figures: Element<'a, Message> = if follows.kiln {
        shown(&page.rows.kiln)
    } else {
        beside(
            vec![
                figure(page, Field::KwhPerLoad, "Energy", "kWh a load"),
                figure(page, Field::PricePerKwh, "Price", "a kWh"),
                figure(page, Field::Recovery, "Recovery", "min a load"),
                figure(page, Field::Wear, "Wear", "a hot hour"),
            ],
            narrow,
        )
    };
    let kiln = column![tick_of("Kiln figures are the studio’s", follows.kiln, Change::FollowKiln), kiln_figures]
        .spacing(space::HALF);
    let own = beside(
        vec![
            figure(page, Field::Scrap, "A lost piece gives back", "each"),
            figure(page, Field::SolderMargin, "Stay below the solder’s flow by", difference),
        ],
        narrow,
    );
    let more = widget::link("How the studio’s rates come about").on_press(Message::Go(Destination::Rates));
    let top: Element<'a, Message> = if narrow {
        column![labour, overhead].spacing(space::ONE).into()
    } else {
        row![labour, overhead].spacing(space::FOUR).into()
    };
    let body = column![top, kiln, own, more].spacing(space::TWO);
    widget::panel_with("Rates and kiln", summary(page), close(Hand::Rates), body)
}
