//! What belongs to this machine and not to a book: look, text size, and the book opened last. One small TOML file in
//! the platform's folder for settings; a file that cannot be read counts as none.

use super::theme::{DARK, LIGHT, Palette};
use std::path::{Path, PathBuf};

/// Which look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Look {
    /// As the system has it.
    #[default]
    System,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

impl Look {
    /// Every look, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::System, Self::Light, Self::Dark];

    /// The word for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::System => "As the system",
            Self::Light => "Light",
            Self::Dark => "Dark",
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Self::System => "system",
            Self::Light => "light",
            Self::Dark => "dark",
        }
    }

    /// Its palette, where the system has the dark look or not.
    pub fn palette(self, system: iced::theme::Mode) -> &'static Palette {
        match (self, system) {
            (Self::Dark, _) | (Self::System, iced::theme::Mode::Dark) => &DARK,
            _ => &LIGHT,
        }
    }
}

/// Least and greatest text size, per cent.
pub const TEXT_PERCENT: (u16, u16) = (100, 200);

/// Look, text size, last book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Machine {
    /// Light, dark, or as the system.
    pub look: Look,
    /// Text size in per cent, 100 to 200.
    pub text_percent: u16,
    /// The book opened last.
    pub last_book: Option<PathBuf>,
}

impl Default for Machine {
    fn default() -> Self {
        Self { look: Look::default(), text_percent: 100, last_book: None }
    }
}

impl Machine {
    /// Text size as a factor.
    pub fn scale(&self) -> f32 {
        f32::from(self.text_percent) / 100.0
    }

    /// With a text size, kept between 100 and 200 per cent.
    #[must_use]
    pub fn with_text_percent(mut self, percent: u16) -> Self {
        self.text_percent = percent.clamp(TEXT_PERCENT.0, TEXT_PERCENT.1);
        self
    }

    /// Reads a settings file; whatever is missing or not understood has its default.
    pub fn read(file: &Path) -> Self {
        let text = std::fs::read_to_string(file).unwrap_or_default();
        Self::from_toml(&text)
    }

    fn from_toml(text: &str) -> Self {
        let Ok(table) = text.parse::<toml_edit::DocumentMut>() else { return Self::default() };
        let word = |key: &str| table.get(key).and_then(toml_edit::Item::as_str);
        let look = Look::ALL.into_iter().find(|look| Some(look.name()) == word("look")).unwrap_or_default();
        let percent = table.get("text_percent").and_then(toml_edit::Item::as_integer).unwrap_or(100);
        Self { look, text_percent: 100, last_book: word("last_book").map(PathBuf::from) }
            .with_text_percent(u16::try_from(percent).unwrap_or(100))
    }

    fn to_toml(&self) -> String {
        let mut table = toml_edit::DocumentMut::new();
        let _ = table.insert("look", toml_edit::value(self.look.name()));
        let _ = table.insert("text_percent", toml_edit::value(i64::from(self.text_percent)));
        if let Some(book) = self.last_book.as_ref().and_then(|path| path.to_str()) {
            let _ = table.insert("last_book", toml_edit::value(book));
        }
        table.to_string()
    }

    /// Writes the settings file, by way of a second file so that a pulled plug leaves the old or the new one.
    pub fn write(&self, file: &Path) -> std::io::Result<()> {
        if let Some(folder) = file.parent() {
            std::fs::create_dir_all(folder)?;
        }
        let fresh = file.with_extension("toml.new");
        std::fs::write(&fresh, self.to_toml())?;
        std::fs::rename(&fresh, file)
    }
}

fn folders() -> Option<directories::ProjectDirs> {
    directories::ProjectDirs::from("", "", "enamelwright")
}

/// Where the settings file of this machine lies; none on a machine without a home.
pub fn settings_file() -> Option<PathBuf> {
    folders().map(|folders| folders.config_dir().join("window.toml"))
}

/// Where the book lies when nobody says otherwise; none on a machine without a home.
pub fn default_book() -> Option<PathBuf> {
    folders().map(|folders| folders.data_dir().join("studio.studiobook"))
}

/// Where papers lie that are opened in the viewer or sent to a printer; none on a machine without a home.
pub fn papers_folder() -> Option<PathBuf> {
    folders().map(|folders| folders.data_dir().join("papers"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_back() -> std::io::Result<()> {
        let folder = tempfile::tempdir()?;
        let file = folder.path().join("deep/er/window.toml");
        assert_eq!(Machine::read(&file), Machine::default());
        let machine = Machine {
            look: Look::Dark,
            text_percent: 150,
            last_book: Some(PathBuf::from("/home/wren/a \"fine\" book.studiobook")),
        };
        machine.write(&file)?;
        assert_eq!(Machine::read(&file), machine);
        Ok(())
    }

    #[test]
    fn nonsense_counts_as_the_default() {
        assert_eq!(Machine::from_toml("look = ["), Machine::default());
        assert_eq!(Machine::from_toml("look = \"plaid\"\ntext_percent = 7000"), {
            Machine { text_percent: 200, ..Machine::default() }
        });
        assert_eq!(Machine::from_toml("text_percent = -3").text_percent, 100);
    }
}
