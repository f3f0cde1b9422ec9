//! Reads what a PDF says, where; shares no code with the writer.

#![allow(dead_code, reason = "not every test asks for every figure")]

use hayro_syntax::Pdf;
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Array, Dict, Number, Object, Stream};
use std::collections::BTreeMap;

/// A page as it was read.
#[derive(Debug, Default)]
pub(crate) struct ReadPage {
    /// Width and height, points.
    pub(crate) size_pt: [f64; 2],
    /// Text with the left end of its baseline, in points from the bottom left.
    pub(crate) texts: Vec<(String, [f64; 2])>,
    /// Right end of each text's pen.
    pub(crate) ends: Vec<f64>,
    /// How far each text's pen has come, points.
    pub(crate) lengths: Vec<f64>,
    /// Which way each text runs: right and up.
    pub(crate) ways: Vec<[f64; 2]>,
    /// Filled rectangles: x, y, width, height in points.
    pub(crate) rectangles: Vec<[f64; 4]>,
    /// Filled and drawn paths other than rectangles.
    pub(crate) paths: Vec<ReadPath>,
    /// Pictures.
    pub(crate) pictures: Vec<ReadPicture>,
}

/// A path as it was read.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ReadPath {
    /// Every point that is named, control points too, in points.
    pub(crate) points: Vec<[f64; 2]>,
    /// The width of the line in points; none for a filled path.
    pub(crate) line_pt: Option<f64>,
    /// Red, green and blue, 0 to 1.
    pub(crate) colour: [f64; 3],
}

/// A picture as it was read.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ReadPicture {
    /// The name the page calls it by.
    pub(crate) name: String,
    /// What brings the unit square to its place, points.
    pub(crate) matrix: [f64; 6],
    /// Width and height, pixels.
    pub(crate) size: [i64; 2],
    /// The bytes of its stream, as they are stored.
    pub(crate) stored: Vec<u8>,
    /// It has a soft mask.
    pub(crate) masked: bool,
}

/// Reads a `ToUnicode` map (ISO 32000-1, 9.10.3): `bfchar` and `bfrange` lines.
fn to_unicode(map: &str) -> BTreeMap<u16, String> {
    let text_of = |hex: &str| {
        let units: Vec<u16> =
            (0..hex.len() / 4).map(|at| u16::from_str_radix(&hex[at * 4..at * 4 + 4], 16).unwrap()).collect();
        String::from_utf16(&units).unwrap()
    };
    let mut found = BTreeMap::new();
    let mut kind = "";
    for line in map.lines() {
        let hex: Vec<&str> = line.split(['<', '>']).skip(1).step_by(2).collect();
        if line.contains("endbf") {
            kind = "";
        } else if line.contains("beginbfchar") {
            kind = "char";
        } else if line.contains("beginbfrange") {
            kind = "range";
        } else if kind == "char" && hex.len() == 2 {
            found.insert(u16::from_str_radix(hex[0], 16).unwrap(), text_of(hex[1]));
        } else if kind == "range" && hex.len() >= 3 {
            let [first, last] = [hex[0], hex[1]].map(|code| u16::from_str_radix(code, 16).unwrap());
            for code in first..=last {
                let text = if line.contains('[') {
                    text_of(hex[2 + usize::from(code - first)])
                } else {
                    let mut units: Vec<u16> = text_of(hex[2]).encode_utf16().collect();
                    *units.last_mut().unwrap() += code - first;
                    String::from_utf16(&units).unwrap()
                };
                found.insert(code, text);
            }
        }
    }
    found
}

struct ReadFont {
    unicode: BTreeMap<u16, String>,
    widths: BTreeMap<u16, f64>,
    embedded: bool,
    name: String,
}

fn read_font(font: &Dict<'_>) -> ReadFont {
    let map = font.get::<Stream<'_>>("ToUnicode").unwrap().decoded().unwrap().into_owned();
    let below = font.get::<Array<'_>>("DescendantFonts").unwrap().iter::<Dict<'_>>().next().unwrap();
    let mut widths = BTreeMap::new();
    let mut first = 0;
    for object in below.get::<Array<'_>>("W").unwrap().iter::<Object<'_>>() {
        match object {
            Object::Number(number) => first = u16::try_from(number.as_i64()).unwrap(),
            Object::Array(list) => {
                for (at, width) in (first..).zip(list.iter::<Number>()) {
                    widths.insert(at, width.as_f64());
                }
            }
            other => panic!("not a width: {other:?}"),
        }
    }
    ReadFont {
        unicode: to_unicode(&String::from_utf8(map).unwrap()),
        widths,
        embedded: below.get::<Dict<'_>>("FontDescriptor").unwrap().get::<Stream<'_>>("FontFile2").is_some(),
        name: font.get::<hayro_syntax::object::Name<'_>>("BaseFont").unwrap().as_str().to_owned(),
    }
}

fn numbers(operands: &[Object<'_>]) -> Vec<f64> {
    operands
        .iter()
        .filter_map(|object| if let Object::Number(number) = object { Some(number.as_f64()) } else { None })
        .collect()
}

/// Reads a PDF; texts must be in embedded subset fonts and turned by quarters at most.
pub(crate) fn read(bytes: &[u8]) -> Vec<ReadPage> {
    let file = Pdf::new(bytes.to_vec()).expect("a PDF");
    let mut pages = Vec::new();
    for page in file.pages().iter() {
        let media = page.media_box();
        let mut found = ReadPage { size_pt: [media.x1 - media.x0, media.y1 - media.y0], ..ReadPage::default() };
        let mut fonts: BTreeMap<String, ReadFont> = BTreeMap::new();
        let (mut font, mut size, mut line) = (String::new(), 0.0, [0.0; 2]);
        let mut way = [1.0, 0.0];
        let mut matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
        let mut stack = Vec::new();
        let mut pending: Vec<[f64; 4]> = Vec::new();
        let mut path: Vec<[f64; 2]> = Vec::new();
        let (mut line_width, mut fill, mut stroke) = (1.0, [0.0; 3], [0.0; 3]);
        let of = |values: &[f64]| if let [red, green, blue] = *values { [red, green, blue] } else { [values[0]; 3] };
        let mut run: Option<(String, [f64; 2], f64, f64)> = None;
        let mut operations = UntypedIter::new(page.page_stream().unwrap());
        while let Some(operation) = operations.next() {
            let operands: Vec<Object<'_>> = operation.operands().cloned().collect();
            let values = numbers(&operands);
            match &operation.operator[..] {
                b"q" => stack.push(matrix),
                b"Q" => matrix = stack.pop().unwrap(),
                b"cm" => {
                    let before = matrix;
                    let by =
                        |along: f64, up: f64| [along * before[0] + up * before[2], along * before[1] + up * before[3]];
                    let (right, up) = (by(values[0], values[1]), by(values[2], values[3]));
                    let moved = by(values[4], values[5]);
                    matrix = [right[0], right[1], up[0], up[1], moved[0] + before[4], moved[1] + before[5]];
                }
                b"re" => pending.push([
                    matrix[4] + matrix[0] * values[0],
                    matrix[5] + matrix[3] * values[1],
                    matrix[0] * values[2],
                    matrix[3] * values[3],
                ]),
                b"m" | b"l" | b"c" => {
                    let place = |at: &[f64]| {
                        let [along, up] = [at[0], at[1]];
                        [along * matrix[0] + up * matrix[2] + matrix[4], along * matrix[1] + up * matrix[3] + matrix[5]]
                    };
                    path.extend(values.chunks(2).map(place));
                }
                b"f" => {
                    found.rectangles.append(&mut pending);
                    let points = std::mem::take(&mut path);
                    if !points.is_empty() {
                        found.paths.push(ReadPath { points, line_pt: None, colour: fill });
                    }
                }
                b"S" => {
                    let points = std::mem::take(&mut path);
                    found.paths.push(ReadPath { points, line_pt: Some(line_width), colour: stroke });
                }
                b"w" => line_width = values[0],
                b"g" | b"rg" => fill = of(&values),
                b"G" | b"RG" => stroke = of(&values),
                b"Tf" => {
                    let Object::Name(name) = &operands[0] else { panic!("a font's name") };
                    font = name.as_str().to_owned();
                    size = values[0];
                    if !fonts.contains_key(&font) {
                        let read = read_font(&page.resources().get_font(name).unwrap());
                        assert!(read.embedded, "{font} is embedded");
                        assert_eq!(read.name.find('+'), Some(6), "{} is a subset", read.name);
                        fonts.insert(font.clone(), read);
                    }
                }
                b"Tm" => {
                    way = [values[0], values[1]];
                    let up = [values[2], values[3]];
                    // A quarter, a half or three: right and up stay at right angles, and as long.
                    let off = [way[0].abs() + way[1].abs() - 1.0, up[0] + way[1], up[1] - way[0]];
                    assert!(off.iter().all(|off| off.abs() < 1.0e-9), "{way:?} {up:?}");
                    line = [values[4], values[5]];
                }
                b"BT" => run = None,
                b"ET" => {
                    let (text, at, end, length) = run.take().expect("text between BT and ET");
                    found.lengths.push(length);
                    found.texts.push((text, at));
                    found.ends.push(end);
                    found.ways.push(way);
                }
                b"Tj" | b"TJ" => {
                    let (text, from, end, length) = run.get_or_insert_with(|| (String::new(), line, 0.0, 0.0));
                    let mut pen = line[0];
                    let parts: Vec<Object<'_>> = match &operands[0] {
                        Object::Array(list) => list.iter::<Object<'_>>().collect(),
                        other => vec![other.clone()],
                    };
                    for part in parts {
                        match part {
                            Object::Number(number) => pen -= number.as_f64() / 1000.0 * size,
                            Object::String(codes) => {
                                for code in codes.as_bytes().chunks(2) {
                                    let code = u16::from_be_bytes([code[0], code[1]]);
                                    assert_ne!(code, 0, "no box for a missing glyph");
                                    let font = &fonts[&font];
                                    // A mark without a text of its own belongs to the letter before it.
                                    text.push_str(font.unicode.get(&code).map_or("", String::as_str));
                                    pen += font.widths[&code] / 1000.0 * size;
                                }
                            }
                            other => panic!("not text: {other:?}"),
                        }
                    }
                    *end = pen;
                    *length = (line[0] - from[0]) * way[0] + (line[1] - from[1]) * way[1] + pen - line[0];
                }
                b"Do" => {
                    let Object::Name(name) = &operands[0] else { panic!("a picture's name") };
                    let stream = page.resources().get_x_object(name).unwrap();
                    let side = |key: &str| stream.dict().get::<Number>(key).unwrap().as_i64();
                    found.pictures.push(ReadPicture {
                        name: name.as_str().to_owned(),
                        matrix,
                        size: [side("Width"), side("Height")],
                        stored: stream.raw_data().into_owned(),
                        masked: stream.dict().get::<Stream<'_>>("SMask").is_some(),
                    });
                }
                _ => {}
            }
        }
        pages.push(found);
    }
    pages
}
