//! The window. Nothing is computed here: a number on screen comes from the same function as on paper and on the
//! command line. One thread owns the book ([`desk`]); rooms ([`screen`]) show a [`Snapshot`](crate::book::Snapshot).

pub mod app;
pub mod clock;
pub mod desk;
pub mod draw;
pub mod find;
mod help;
pub mod machine;
mod rooms;
pub mod screen;
pub mod shared;
pub mod shortcut;
pub mod theme;
pub mod toast;
pub mod widget;
mod wire;
pub mod work;

pub use desk::{Answer, Request};
pub use rooms::RoomMessage;
pub use screen::{Action, Destination, Notice, Room};
pub use shared::Shared;
pub use shortcut::Command;

use std::path::PathBuf;

/// Opens the window on a book: the one given, the one opened last, or the one at the platform's default place. Returns
/// when the window is closed.
///
/// # Errors
///
/// Without a display, a sentence that says so and names what the command line can do instead.
pub fn run(book: Option<PathBuf>) -> Result<(), String> {
    if !has_display() {
        return Err(no_display("no display was found (neither WAYLAND_DISPLAY nor DISPLAY is set)"));
    }
    let places = app::places(book);
    let boot = move || app::App::new(places.clone(), clock::Clock::system());
    let mut application = iced::application(boot, app::App::update, app::App::view)
        .title(app::App::title)
        .theme(app::App::theme)
        .style(app::App::style)
        .scale_factor(app::App::scale)
        .subscription(app::App::subscription)
        .default_font(theme::REGULAR)
        .window(iced::window::Settings {
            size: iced::Size::new(1280.0, 800.0),
            min_size: Some(iced::Size::new(480.0, 360.0)),
            icon: icon(),
            platform_specific: platform(),
            ..iced::window::Settings::default()
        });
    for face in crate::paper::fonts::ALL {
        application = application.font(face);
    }
    application.run().map_err(|error| no_display(&error.to_string()))
}

/// The program's own icon: an enamel drop on a wire.
fn icon() -> Option<iced::window::Icon> {
    let picture = image::load_from_memory(include_bytes!("../../assets/icon/enamelwright-128.png")).ok()?.into_rgba8();
    let (width, height) = picture.dimensions();
    iced::window::icon::from_rgba(picture.into_raw(), width, height).ok()
}

/// The name by which the desktop entry and the window find each other.
#[cfg(target_os = "linux")]
fn platform() -> iced::window::settings::PlatformSpecific {
    iced::window::settings::PlatformSpecific {
        application_id: "enamelwright".to_owned(),
        ..iced::window::settings::PlatformSpecific::default()
    }
}

#[cfg(not(target_os = "linux"))]
fn platform() -> iced::window::settings::PlatformSpecific {
    iced::window::settings::PlatformSpecific::default()
}

/// On Linux and its like a window needs a display server; elsewhere there always is one.
fn has_display() -> bool {
    if cfg!(any(target_os = "windows", target_os = "macos")) {
        return true;
    }
    ["WAYLAND_DISPLAY", "WAYLAND_SOCKET", "DISPLAY"]
        .into_iter()
        .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}

fn no_display(reason: &str) -> String {
    format!(
        "the window cannot be opened: {reason}.\nWithout a window the same work is done by command-line tasks: new, demo, \
         cost, design, stock, prices, print, backup, restore, check. See `enamelwright --help`."
    )
}
