//! From TOML to a paper.

use super::super::base64;
use super::super::design_file::fields::{Absent, Places, Source, Table};
use super::writer::{across, down, symbol, turn, weight};
use super::{FORMAT, FilePicture, MOST_BYTES, MOST_PICTURE_BYTES, PLAIN, PaperFile, PaperFileProblem};
use crate::measure::Decimal;
use crate::paper::pinned::phrase::can_be_pinned;
use crate::studio::{
    Across, Down, Fold, Hole, Ink, Language, PaperDesign, PaperKind, PictureId, Pinned, SymbolKind, SymbolOf, TextSet,
    Turn, Weight, What,
};
use toml_edit::Document;

const ZERO: Absent<Decimal> = Absent::Default(Decimal::ZERO);
/// Stands in for a required number that is not there.
const REQUIRED: Absent<Decimal> = Absent::Missing(Decimal::ONE);
const SYMBOLS: [SymbolKind; 4] = [SymbolKind::Qr, SymbolKind::DataMatrix, SymbolKind::Code128, SymbolKind::Ean13];
const TURNS: [Turn; 4] = [Turn::None, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];
const WEIGHTS: [Weight; 3] = [Weight::Regular, Weight::Semibold, Weight::Bold];
const ACROSS: [Across; 3] = [Across::Left, Across::Middle, Across::Right];
const DOWN: [Down; 3] = [Down::Top, Down::Middle, Down::Bottom];

pub(super) fn read(text: &str) -> Result<PaperFile, Vec<PaperFileProblem>> {
    let mut source = Source::new(text);
    if text.len() > MOST_BYTES {
        source.tell(1, "file", format!("has {} bytes; accepted are at most {MOST_BYTES}", text.len()));
        return Err(source.finish(Vec::new()));
    }
    let document = match Document::parse(text) {
        Ok(document) => document,
        Err(error) => {
            let line = source.line_at(error.span().map_or(text.len(), |span| span.start));
            let reason = error.message().lines().collect::<Vec<_>>().join(", ");
            let key = source.key_on(line);
            source.tell(line, key, format!("not valid TOML: {reason}"));
            return Err(source.finish(Vec::new()));
        }
    };
    let root = Source::root(document.as_table());
    let pictures = pictures(&mut source, &root);
    let design = design(&mut source, &root, &pictures);
    let problems = source.finish(Vec::new());
    if problems.is_empty() { Ok(PaperFile { design, pictures }) } else { Err(problems) }
}

fn design(source: &mut Source<'_>, root: &Table<'_>, pictures: &[FilePicture]) -> PaperDesign {
    source.known(
        root,
        &[
            "format",
            "name",
            "kind",
            "width_mm",
            "height_mm",
            "fold_upright_mm",
            "fold_across_mm",
            "corner_mm",
            "languages",
            "hole",
            "pinned",
            "picture",
        ],
    );
    source.choice(root, "format", true, &[FORMAT], |text| (text == FORMAT).then_some(()));
    let kinds = PaperKind::ALL.map(PaperKind::name);
    let kind =
        source.choice(root, "kind", true, &kinds, |name| PaperKind::ALL.into_iter().find(|kind| kind.name() == name));
    let upright = source.optional_decimal(root, "fold_upright_mm", Places::Other, false);
    let over = source.optional_decimal(root, "fold_across_mm", Places::Other, false);
    if upright.is_some() && over.is_some() {
        source.refuse(root, "fold_across_mm", "stands beside fold_upright_mm; accepted is one fold");
    }
    PaperDesign {
        name: source.text(root, "name").unwrap_or_default(),
        kind: kind.unwrap_or(PaperKind::Tag),
        width_mm: source.decimal(root, "width_mm", Places::Other, REQUIRED),
        height_mm: source.decimal(root, "height_mm", Places::Other, REQUIRED),
        fold: upright.map(Fold::Upright).or(over.map(Fold::Across)),
        corner_mm: source.decimal(root, "corner_mm", Places::Other, ZERO),
        languages: languages(source, root),
        holes: holes(source, root),
        pinned: source.tables(root, "pinned").iter().map(|table| pinned(source, table, pictures)).collect(),
    }
}

fn languages(source: &mut Source<'_>, root: &Table<'_>) -> Vec<Language> {
    let tags = Language::ALL.map(Language::tag).join(", ");
    let Some(list) = root.table.get("languages").and_then(toml_edit::Item::as_array) else {
        source.refuse(root, "languages", format!("is no list; accepted is a list of one or two of {tags}"));
        return Vec::new();
    };
    let mut languages = Vec::new();
    for value in list {
        match value.as_str().and_then(Language::from_tag) {
            Some(language) => languages.push(language),
            None => source.refuse(root, "languages", format!("has {value}; accepted are {tags}")),
        }
    }
    languages
}

fn holes(source: &mut Source<'_>, root: &Table<'_>) -> Vec<Hole> {
    let mut holes = Vec::new();
    for table in source.tables(root, "hole") {
        source.known(&table, &["x_mm", "y_mm", "diameter_mm"]);
        holes.push(Hole {
            x_mm: source.decimal(&table, "x_mm", Places::Other, REQUIRED),
            y_mm: source.decimal(&table, "y_mm", Places::Other, REQUIRED),
            diameter_mm: source.decimal(&table, "diameter_mm", Places::Other, REQUIRED),
        });
    }
    holes
}

fn pictures(source: &mut Source<'_>, root: &Table<'_>) -> Vec<FilePicture> {
    let mut pictures: Vec<FilePicture> = Vec::new();
    for table in source.tables(root, "picture") {
        source.known(&table, &["name", "png"]);
        let name = source.text(&table, "name").unwrap_or_default();
        if pictures.iter().any(|picture| picture.name == name) {
            source.refuse(&table, "name", format!("{name:?} stands twice; accepted is a name for each picture"));
        }
        let png = source.text(&table, "png").unwrap_or_default();
        let png = match base64::decode(&png) {
            Some(png) if png.starts_with(b"\x89PNG\r\n\x1a\n") && png.len() <= MOST_PICTURE_BYTES => png,
            Some(_) => {
                source.refuse(&table, "png", "is not accepted; accepted is a PNG of up to 5 MB in base64");
                Vec::new()
            }
            None => {
                source.refuse(&table, "png", "is not base64 (RFC 4648); accepted is a PNG in base64");
                Vec::new()
            }
        };
        pictures.push(FilePicture { name, png });
    }
    pictures
}

/// One of a few named values; the first where the key is absent.
fn named<T: Copy, const N: usize>(
    source: &mut Source<'_>,
    table: &Table<'_>,
    key: &str,
    values: [T; N],
    name: impl Fn(T) -> &'static str,
) -> Option<T> {
    let names = values.map(&name);
    let found = source.choice(table, key, false, &names, |text| values.into_iter().find(|value| name(*value) == text));
    found.or_else(|| values.first().copied())
}

fn pinned(source: &mut Source<'_>, table: &Table<'_>, pictures: &[FilePicture]) -> Pinned {
    let mut keys = vec![
        "what",
        "x_mm",
        "y_mm",
        "width_mm",
        "height_mm",
        "turn",
        "weight",
        "most_pt",
        "least_pt",
        "lines",
        "across",
        "down",
        "ink",
    ];
    let what = what(source, table, pictures, &mut keys);
    source.known(table, &keys);
    Pinned {
        what,
        x_mm: source.decimal(table, "x_mm", Places::Other, REQUIRED),
        y_mm: source.decimal(table, "y_mm", Places::Other, REQUIRED),
        width_mm: source.decimal(table, "width_mm", Places::Other, REQUIRED),
        height_mm: source.decimal(table, "height_mm", Places::Other, REQUIRED),
        turn: named(source, table, "turn", TURNS, turn).unwrap_or_default(),
        set: TextSet {
            weight: named(source, table, "weight", WEIGHTS, weight).unwrap_or_default(),
            most_pt: source.decimal(table, "most_pt", Places::Other, REQUIRED),
            least_pt: source.decimal(table, "least_pt", Places::Other, REQUIRED),
            lines: source.count(table, "lines", Absent::Default(1)),
            across: named(source, table, "across", ACROSS, across).unwrap_or_default(),
            down: named(source, table, "down", DOWN, down).unwrap_or_default(),
            ink: source
                .choice(table, "ink", false, &["black", "grey", "white", "piece", "#rrggbb"], ink)
                .unwrap_or_default(),
        },
    }
}

fn what(source: &mut Source<'_>, table: &Table<'_>, pictures: &[FilePicture], keys: &mut Vec<&'static str>) -> What {
    let mut names: Vec<&str> = vec!["words", "phrase", "picture", "symbol"];
    names.extend(PLAIN.iter().map(|(name, _)| *name));
    let known = |name: &str| names.iter().copied().find(|known| *known == name).map(str::to_owned);
    let Some(name) = source.choice(table, "what", true, &names, known) else {
        keys.extend(["words", "phrase", "picture", "symbol", "of", "text"]);
        return What::Rule;
    };
    match name.as_str() {
        "words" => {
            keys.push("words");
            What::Words(source.text(table, "words").unwrap_or_default())
        }
        "phrase" => {
            keys.push("phrase");
            let name = source.text(table, "phrase");
            if name.as_ref().is_some_and(|name| !can_be_pinned(name)) {
                source.refuse(table, "phrase", "is not accepted; accepted is a phrase of papers that can be pinned");
            }
            What::Phrase(name.unwrap_or_default())
        }
        "picture" => {
            keys.push("picture");
            let name = source.text(table, "picture");
            let at = name.as_ref().and_then(|name| pictures.iter().position(|picture| picture.name == *name));
            if at.is_none() && name.is_some() {
                source.refuse(table, "picture", "is not in the file; accepted is the name of one of its pictures");
            }
            What::Picture(PictureId(at.and_then(|at| i64::try_from(at + 1).ok()).unwrap_or(0)))
        }
        "symbol" => {
            keys.extend(["symbol", "of"]);
            let kind = named(source, table, "symbol", SYMBOLS, symbol).unwrap_or(SymbolKind::Qr);
            let of = source.choice(table, "of", true, &["code", "piece-number", "number", "text"], |name| match name {
                "code" => Some(SymbolOf::Code),
                "piece-number" => Some(SymbolOf::PieceNumber),
                "number" => Some(SymbolOf::Number),
                "text" => Some(SymbolOf::Text(String::new())),
                _ => None,
            });
            let of = match of.unwrap_or(SymbolOf::Code) {
                SymbolOf::Text(_) => {
                    keys.push("text");
                    SymbolOf::Text(source.text(table, "text").unwrap_or_default())
                }
                other => other,
            };
            What::Symbol { kind, of }
        }
        plain => PLAIN.iter().find(|(name, _)| *name == plain).map_or(What::Rule, |(_, what)| what.clone()),
    }
}

fn ink(text: &str) -> Option<Ink> {
    match text {
        "black" => Some(Ink::Black),
        "grey" => Some(Ink::Grey),
        "white" => Some(Ink::White),
        "piece" => Some(Ink::Piece),
        other => {
            let digits = other.strip_prefix('#').filter(|digits| digits.len() == 6)?;
            let part = |range| u8::from_str_radix(digits.get(range)?, 16).ok();
            Some(Ink::Own([part(0..2)?, part(2..4)?, part(4..6)?]))
        }
    }
}
