//! A file or folder: typed as a path, or chosen in the system's dialog where the machine has one.

use super::button::quiet_button;
use super::field::field;
use crate::window::theme::space;
use iced::widget::row;
use iced::{Alignment, Element, Task};
use std::path::PathBuf;

/// A field for a path with a button beside it that asks the system (see [`ask`]). The typed path is always enough.
pub fn path_field<'a, Message: Clone + 'a>(
    label: &'a str,
    value: &'a str,
    error: Option<String>,
    on_input: impl Fn(String) -> Message + 'a,
    on_submit: Option<Message>,
    on_browse: Option<Message>,
) -> Element<'a, Message> {
    let mut typed =
        field(label, value).placeholder("a path, e.g. ~/studio/book.studiobook").error(error).on_input(on_input);
    if let Some(message) = on_submit {
        typed = typed.on_submit(message);
    }
    row![Element::from(typed), on_browse.map(|message| quiet_button("Choose…").on_press(message))]
        .spacing(space::ONE)
        .align_y(Alignment::End)
        .into()
}

/// What to ask the system's dialog for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// A file that is there.
    Open,
    /// A file to write.
    Save,
    /// A folder that is there.
    Folder,
}

/// Asks the system for a path. `None` when the person thinks better of it, or the machine has no dialog.
/// `extensions` are without a dot; empty means any.
pub fn ask(
    wanted: Wanted,
    title: &str,
    suggested: &str,
    kind: &str,
    extensions: &'static [&'static str],
) -> Task<Option<PathBuf>> {
    let mut dialog = rfd::AsyncFileDialog::new().set_title(title);
    if !suggested.is_empty() {
        dialog = dialog.set_file_name(suggested);
    }
    if !extensions.is_empty() {
        dialog = dialog.add_filter(kind, extensions);
    }
    Task::future(async move {
        let answer = match wanted {
            Wanted::Open => dialog.pick_file().await,
            Wanted::Save => dialog.save_file().await,
            Wanted::Folder => dialog.pick_folder().await,
        };
        answer.map(|file| file.path().to_owned())
    })
}

/// A typed path with a leading `~` replaced by the home folder; `None` when nothing was typed.
pub fn typed_path(text: &str) -> Option<PathBuf> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    let home = directories::BaseDirs::new().map(|dirs| dirs.home_dir().to_owned());
    Some(match (text.strip_prefix('~'), home) {
        (Some(""), Some(home)) => home,
        (Some(rest), Some(home)) if rest.starts_with(['/', '\\']) => home.join(rest.trim_start_matches(['/', '\\'])),
        _ => PathBuf::from(text),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_typed_path_is_taken_as_it_is() {
        assert_eq!(typed_path("  "), None);
        assert_eq!(typed_path(" /a/b c.pdf "), Some(PathBuf::from("/a/b c.pdf")));
        assert_eq!(typed_path("~wren/x"), Some(PathBuf::from("~wren/x")));
        if let Some(home) = directories::BaseDirs::new().map(|dirs| dirs.home_dir().to_owned()) {
            assert_eq!(typed_path("~/x.pdf"), Some(home.join("x.pdf")));
        }
    }
}
