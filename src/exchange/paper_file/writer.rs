//! From a paper to TOML: stable, readable, exact.

use super::super::base64;
use super::super::design_file::writer::{number, text};
use super::{FORMAT, FilePicture, MOST_PICTURE_BYTES, PLAIN, WriteProblem};
use crate::measure::Decimal;
use crate::studio::{
    Across, Down, Fold, Ink, PaperDesign, PictureId, Pinned, SymbolKind, SymbolOf, Turn, Weight, What,
};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Letters of a picture to a line.
const LINE: usize = 76;

pub(super) fn write(design: &PaperDesign, pictures: &[(PictureId, FilePicture)]) -> Result<String, WriteProblem> {
    let carried = carried(design, pictures)?;
    let mut page = Page(String::new());
    page.pair("format", &text(FORMAT));
    page.pair("name", &text(&design.name));
    page.pair("kind", &text(design.kind.name()));
    page.number("width_mm", design.width_mm);
    page.number("height_mm", design.height_mm);
    match design.fold {
        Some(Fold::Upright(at)) => page.number("fold_upright_mm", at),
        Some(Fold::Across(at)) => page.number("fold_across_mm", at),
        None => {}
    }
    if !design.corner_mm.is_zero() {
        page.number("corner_mm", design.corner_mm);
    }
    let languages: Vec<String> = design.languages.iter().map(|language| text(language.tag())).collect();
    page.pair("languages", &format!("[{}]", languages.join(", ")));
    for hole in &design.holes {
        page.table("hole");
        page.number("x_mm", hole.x_mm);
        page.number("y_mm", hole.y_mm);
        page.number("diameter_mm", hole.diameter_mm);
    }
    for pinned in &design.pinned {
        page.pinned(pinned, &carried);
    }
    for (name, picture) in carried.values() {
        page.table("picture");
        page.pair("name", &text(name));
        page.picture(&picture.png);
    }
    Ok(page.0)
}

/// The pinned pictures by row, each under a name no other has.
fn carried<'a>(
    design: &PaperDesign,
    pictures: &'a [(PictureId, FilePicture)],
) -> Result<BTreeMap<PictureId, (String, &'a FilePicture)>, WriteProblem> {
    let mut carried: BTreeMap<PictureId, (String, &'a FilePicture)> = BTreeMap::new();
    for pinned in &design.pinned {
        let What::Picture(id) = pinned.what else { continue };
        let found = pictures.iter().find(|(row, _)| *row == id).map(|(_, picture)| picture);
        let picture = found.ok_or(WriteProblem::Missing(id.0))?;
        if picture.png.len() > MOST_PICTURE_BYTES {
            return Err(WriteProblem::TooLarge { name: picture.name.clone(), bytes: picture.png.len() });
        }
        let taken = |name: &str| carried.iter().any(|(row, (known, _))| *row != id && known == name);
        let name = std::iter::once(picture.name.clone())
            .chain((2_u32..).map(|number| format!("{} {number}", picture.name)))
            .find(|name| !taken(name));
        carried.insert(id, (name.unwrap_or_default(), picture));
    }
    Ok(carried)
}

struct Page(String);

impl Page {
    fn table(&mut self, name: &str) {
        let _ = write!(self.0, "\n[[{name}]]\n");
    }

    fn pair(&mut self, key: &str, value: &str) {
        let _ = writeln!(self.0, "{key} = {value}");
    }

    fn number(&mut self, key: &str, value: Decimal) {
        self.pair(key, &number(value));
    }

    fn picture(&mut self, png: &[u8]) {
        self.0.push_str("png = \"\"\"\n");
        for (number, letter) in base64::encode(png).chars().enumerate() {
            if number > 0 && number.is_multiple_of(LINE) {
                self.0.push('\n');
            }
            self.0.push(letter);
        }
        self.0.push_str("\n\"\"\"\n");
    }

    fn pinned(&mut self, pinned: &Pinned, carried: &BTreeMap<PictureId, (String, &FilePicture)>) {
        self.table("pinned");
        match &pinned.what {
            What::Words(words) => {
                self.pair("what", "\"words\"");
                self.pair("words", &text(words));
            }
            What::Phrase(name) => {
                self.pair("what", "\"phrase\"");
                self.pair("phrase", &text(name));
            }
            What::Picture(id) => {
                self.pair("what", "\"picture\"");
                self.pair("picture", &text(carried.get(id).map_or("", |(name, _)| name)));
            }
            What::Symbol { kind, of } => {
                self.pair("what", "\"symbol\"");
                self.pair("symbol", &text(symbol(*kind)));
                match of {
                    SymbolOf::Code => self.pair("of", "\"code\""),
                    SymbolOf::PieceNumber => self.pair("of", "\"piece-number\""),
                    SymbolOf::Number => self.pair("of", "\"number\""),
                    SymbolOf::Text(own) => {
                        self.pair("of", "\"text\"");
                        self.pair("text", &text(own));
                    }
                }
            }
            plain => {
                let name = PLAIN.iter().find(|(_, what)| what == plain).map_or("", |(name, _)| *name);
                self.pair("what", &text(name));
            }
        }
        self.number("x_mm", pinned.x_mm);
        self.number("y_mm", pinned.y_mm);
        self.number("width_mm", pinned.width_mm);
        self.number("height_mm", pinned.height_mm);
        if pinned.turn != Turn::None {
            self.pair("turn", &text(turn(pinned.turn)));
        }
        let set = &pinned.set;
        if set.weight != Weight::Regular {
            self.pair("weight", &text(weight(set.weight)));
        }
        self.number("most_pt", set.most_pt);
        self.number("least_pt", set.least_pt);
        if set.lines != 1 {
            self.pair("lines", &set.lines.to_string());
        }
        if set.across != Across::Left {
            self.pair("across", &text(across(set.across)));
        }
        if set.down != Down::Top {
            self.pair("down", &text(down(set.down)));
        }
        match set.ink {
            Ink::Black => {}
            Ink::Grey => self.pair("ink", "\"grey\""),
            Ink::White => self.pair("ink", "\"white\""),
            Ink::Piece => self.pair("ink", "\"piece\""),
            Ink::Own([red, green, blue]) => self.pair("ink", &format!("\"#{red:02x}{green:02x}{blue:02x}\"")),
        }
    }
}

pub(super) const fn symbol(kind: SymbolKind) -> &'static str {
    match kind {
        SymbolKind::Qr => "qr",
        SymbolKind::DataMatrix => "data-matrix",
        SymbolKind::Code128 => "code-128",
        SymbolKind::Ean13 => "ean-13",
    }
}

pub(super) const fn turn(turn: Turn) -> &'static str {
    match turn {
        Turn::None => "none",
        Turn::Quarter => "quarter",
        Turn::Half => "half",
        Turn::ThreeQuarters => "three-quarters",
    }
}

pub(super) const fn weight(weight: Weight) -> &'static str {
    match weight {
        Weight::Regular => "regular",
        Weight::Semibold => "semibold",
        Weight::Bold => "bold",
    }
}

pub(super) const fn across(across: Across) -> &'static str {
    match across {
        Across::Left => "left",
        Across::Middle => "middle",
        Across::Right => "right",
    }
}

pub(super) const fn down(down: Down) -> &'static str {
    match down {
        Down::Top => "top",
        Down::Middle => "middle",
        Down::Bottom => "bottom",
    }
}
