//! What the window shows, and what it listens to.

use super::{App, Message, Stage};
use crate::window::shortcut::{self, Command};
use crate::window::theme::{self, space};
use crate::window::widget::{self, modal};
use crate::window::{find, help, screen::welcome, toast, wire};
use iced::keyboard::key::Named;
use iced::keyboard::{self, Key};
use iced::widget::{bottom_right, column, container, row, stack};
use iced::{Element, Length, Subscription};
use std::time::Duration;

impl App {
    /// The whole window.
    pub fn view(&self) -> Element<'_, Message> {
        let page: Element<'_, Message> = match &self.stage {
            Stage::Opening(path) => container(
                column![widget::title("Enamelwright"), widget::quiet(format!("Opening {} …", path.display()))]
                    .spacing(space::ONE),
            )
            .center(Length::Fill)
            .into(),
            Stage::Welcome(page) => {
                let narrow = if self.page_size().width < 760.0 { welcome::Narrow::Yes } else { welcome::Narrow::No };
                page.view(narrow).map(Message::Welcome)
            }
            Stage::Trouble(page) => page.view().map(Message::Trouble),
            Stage::Studio(studio) => {
                let banner = studio.shared.read_only().then(|| {
                    container(widget::body("This book is open to look at only: nothing can be changed in it."))
                        .padding([space::ONE, space::THREE])
                        .width(Length::Fill)
                        .style(theme::banner)
                });
                row![wire::wire(&studio.shared, studio.room), column![banner, studio.view()].width(Length::Fill)].into()
            }
        };
        let over = if self.help {
            Some(help::view())
        } else if let Some(find) = &self.find {
            Some(find.view().map(Message::Find))
        } else if let Stage::Studio(studio) = &self.stage {
            studio.modal()
        } else {
            None
        };
        let toasts = bottom_right(self.toasts.view().map(Message::Toast)).padding(space::TWO);
        stack![modal::modal(page, over, Message::Command(Command::Back)), toasts].into()
    }

    /// What the window listens to. No clock runs but while a toast counts its seconds.
    pub fn subscription(&self) -> Subscription<Message> {
        let mut all = vec![
            keyboard::listen().filter_map(|event| shortcut::from_event(&event)).map(Message::Command),
            iced::window::resize_events().map(|(_, size)| Message::Resized(size)),
            iced::system::theme_changes().map(Message::System),
        ];
        if self.toasts.is_counting() {
            all.push(iced::time::every(Duration::from_secs(1)).map(|_| Message::Toast(toast::Message::Second)));
        }
        if self.find.is_some() {
            all.push(
                keyboard::listen()
                    .filter_map(|event| arrow(&event))
                    .map(|step| Message::Find(find::Message::Move(step))),
            );
        }
        if let Stage::Studio(studio) = &self.stage {
            all.push(studio.subscription());
        }
        Subscription::batch(all)
    }
}

fn arrow(event: &keyboard::Event) -> Option<find::Step> {
    match event {
        keyboard::Event::KeyPressed { key: Key::Named(Named::ArrowDown), .. } => Some(find::Step::Down),
        keyboard::Event::KeyPressed { key: Key::Named(Named::ArrowUp), .. } => Some(find::Step::Up),
        _ => None,
    }
}
