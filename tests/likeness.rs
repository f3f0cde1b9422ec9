//! The preview on screen and the printed page are the same picture: the preview's marks drawn as the screen draws them, the
//! PDF drawn by a renderer that shares no code with the writer, compared point by point; and every placed thing read back
//! from its PDF where the layout has it.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::many_single_char_names,
    reason = "the helpers of a test may stop it; the printed figures are for people"
)]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "points of a picture are small whole numbers"
)]

mod paper_examples;
mod pdf_reader;
mod rendered;

use enamelwright::paper::cards::{CardStyle, PaperSize};
use enamelwright::paper::page::{Colour, Document, Item, MM_PER_POINT, Page, Paint, Segment};
use enamelwright::paper::pdf;
use enamelwright::paper::pinned::ready;
use enamelwright::paper::preview::{Mark, Outliner};
use enamelwright::studio::{Language, Turn};
use paper_examples::{every_kind, properties, usual};
use rendered::{Picture, render, whole};

/// Points of the screen to the inch at which they are compared.
const DPI: f64 = 150.0;
/// Two points differ that are further apart than this in red, green or blue.
const FAR: u8 = 96;
/// The most points of those with ink on or beside them that may differ: edges of letters. Measured beforehand on papers of
/// this kind with another renderer at 400 dpi: 0.8 % of all points.
const MOST_SHARE: f64 = 0.01;

// ---------------------------------------------------------------------------------------------- the screen's picture

/// The marks of a page drawn by the rasteriser the window draws with.
fn screen(page: &Page, marks: &[Mark], dpi: f64) -> Picture {
    let [_, _, width, height] = whole([page.width_mm, page.height_mm], dpi);
    let scale = (dpi / 25.4) as f32;
    let mut map = tiny_skia::Pixmap::new(width as u32, height as u32).unwrap();
    map.fill(tiny_skia::Color::WHITE);
    for mark in marks {
        let mut path = tiny_skia::PathBuilder::new();
        let at = |[x, y]: [f64; 2]| (x as f32 * scale, y as f32 * scale);
        for segment in &mark.path {
            match *segment {
                Segment::Move(to) => path.move_to(at(to).0, at(to).1),
                Segment::Line(to) => path.line_to(at(to).0, at(to).1),
                Segment::Cubic(one, other, to) => {
                    let ((a, b), (c, d), (x, y)) = (at(one), at(other), at(to));
                    path.cubic_to(a, b, c, d, x, y);
                }
                Segment::Close => path.close(),
            }
        }
        let Some(path) = path.finish() else { continue };
        let paint = |Colour([red, green, blue]): Colour| {
            let mut paint = tiny_skia::Paint::default();
            paint.set_color_rgba8(red, green, blue, 255);
            paint
        };
        let as_it_is = tiny_skia::Transform::identity();
        match (&mark.picture, mark.paint) {
            (Some(placed), _) => {
                let pixels = placed.image.to_pixels().unwrap();
                let mut image = tiny_skia::Pixmap::new(pixels.width(), pixels.height()).unwrap();
                for (to, from) in image.pixels_mut().iter_mut().zip(pixels.pixels()) {
                    let [red, green, blue, cover] = from.0;
                    *to = tiny_skia::ColorU8::from_rgba(red, green, blue, cover).premultiply();
                }
                let [left_top, right_top, left_foot] = placed.corners().map(at);
                let (wide, high) = (pixels.width() as f32, pixels.height() as f32);
                let transform = tiny_skia::Transform::from_row(
                    (right_top.0 - left_top.0) / wide,
                    (right_top.1 - left_top.1) / wide,
                    (left_foot.0 - left_top.0) / high,
                    (left_foot.1 - left_top.1) / high,
                    left_top.0,
                    left_top.1,
                );
                let quality = tiny_skia::FilterQuality::Bilinear;
                let paint = tiny_skia::PixmapPaint { quality, ..Default::default() };
                map.draw_pixmap(0, 0, image.as_ref(), &paint, transform, None);
            }
            (None, Paint::Fill(colour)) => {
                map.fill_path(&path, &paint(colour), tiny_skia::FillRule::Winding, as_it_is, None);
            }
            (None, Paint::Line { colour, width_mm, dash_mm }) => {
                let dash = dash_mm.and_then(|[dash, gap]| {
                    tiny_skia::StrokeDash::new(vec![dash as f32 * scale, gap as f32 * scale], 0.0)
                });
                let stroke = tiny_skia::Stroke { width: width_mm as f32 * scale, dash, ..Default::default() };
                map.stroke_path(&path, &paint(colour), &stroke, as_it_is, None);
            }
        }
    }
    let pixels = map.pixels().iter().map(|pixel| [pixel.red(), pixel.green(), pixel.blue()]).collect();
    Picture { width, height, pixels }
}

/// How many points differ when the second picture is moved by whole points, and how many have ink.
fn differing(one: &Picture, other: &Picture, [dx, dy]: [i64; 2]) -> [usize; 2] {
    let (width, height) = (one.width as i64, one.height as i64);
    let (mut differ, mut inked) = (0, 0);
    for y in 2..height - 2 {
        let from = (y * width) as usize;
        let there = ((y + dy) * width + dx) as usize;
        let (row, moved) = (&one.pixels[from + 2..from + one.width - 2], &other.pixels[there + 2..]);
        for (a, b) in row.iter().zip(moved) {
            if *a == [255; 3] && *b == [255; 3] {
                continue;
            }
            inked += 1;
            let apart = a.iter().zip(b).map(|(a, b)| a.abs_diff(*b)).max().unwrap_or(0);
            differ += usize::from(apart > FAR);
        }
    }
    [differ, inked]
}

/// Points that differ, and with ink, of all pages; the shift of one point at which they differ least.
fn compared(name: &str, document: &Document, shown: &Document) -> ([usize; 2], usize, [i64; 2]) {
    let bytes = pdf::write(document, &properties()).unwrap();
    let mut outliner = Outliner::new();
    let mut sums = [0_usize; 9];
    let (mut inked, mut points) = (0, 0);
    let shifts: Vec<[i64; 2]> = (-1..=1).flat_map(|y| (-1..=1).map(move |x| [x, y])).collect();
    for (number, page) in shown.pages.iter().enumerate().take(2) {
        let marks = outliner.marks(page);
        let screen = screen(page, &marks, DPI);
        let printed = render(&bytes, number, DPI, whole([page.width_mm, page.height_mm], DPI), [0.0; 2]);
        if let Some(folder) = std::env::var_os("ENAMELWRIGHT_PICTURES") {
            let folder = std::path::Path::new(&folder);
            screen.keep(&folder.join(format!("{name}-{number}-screen.png")));
            printed.keep(&folder.join(format!("{name}-{number}-printed.png")));
        }
        points += screen.pixels.len();
        for (sum, shift) in sums.iter_mut().zip(&shifts) {
            let [differ, with_ink] = differing(&screen, &printed, *shift);
            *sum += differ;
            if *shift == [0, 0] {
                inked += with_ink;
            }
        }
    }
    let best = (0..9).min_by_key(|at| sums[*at]).unwrap();
    let best = if sums[4] == sums[best] { 4 } else { best };
    ([sums[4], inked], points, shifts[best])
}

#[track_caller]
fn check(name: &str, document: &Document) {
    let ([differ, inked], points, best) = compared(name, document, document);
    let share = differ as f64 / points as f64;
    println!("{name}: {differ} of {points} points differ ({:.3} %), {inked} with ink", share * 100.0);
    assert_eq!(best, [0, 0], "{name} is moved");
    assert!(share <= MOST_SHARE, "{name}: {differ} of {points} points differ");
    // A page that is mostly empty must not hide a thing that is missing.
    assert!(differ as f64 <= inked as f64 * MOST_INK_SHARE, "{name}: {differ} of {inked} points with ink differ");
}

/// The most of the points with ink that may differ.
const MOST_INK_SHARE: f64 = 0.06;

#[test]
fn a_paper_of_every_kind_is_printed_as_it_is_shown() {
    for (name, document) in every_kind(&usual, PaperSize::A4) {
        check(&name, &document.unwrap());
    }
}

#[test]
fn cards_are_printed_as_they_are_shown_in_every_language() {
    for language in Language::ALL {
        let document = paper_examples::cards(&usual, CardStyle::Flat, &[language]).unwrap();
        check(language.name(), &document);
    }
}

#[test]
fn turned_words_pictures_and_symbols_are_printed_as_they_are_shown() {
    for ready in ready::all()
        .into_iter()
        .filter(|ready| ready.design.name.contains("fold-over") || ready.design.name.contains("tag"))
    {
        for turn in [Turn::Quarter, Turn::Half, Turn::ThreeQuarters] {
            let mut design = ready.design.clone();
            for pinned in &mut design.pinned {
                pinned.turn = turn;
            }
            let document = paper_examples::pinned(&design, &usual).unwrap();
            check(&format!("{} {turn:?}", design.name), &document);
        }
    }
}

#[test]
fn a_thing_that_stands_elsewhere_on_screen_is_noticed() {
    // Moved by 0.3 mm: two points of the picture. Each kind of thing on a page, one at a time.
    let document = paper_examples::tags(
        &usual,
        paper_examples::sheet([450, 270], [1, 1], false),
        enamelwright::paper::Symbology::Qr,
    )
    .unwrap();
    let as_it_is = compared("tag", &document, &document).0[0];
    for number in 0..document.pages[0].items.len() {
        // Lines to cut along are paler than what is counted; their places are read back below.
        if matches!(&document.pages[0].items[number], Item::Shape(shape) if matches!(shape.paint, Paint::Line { colour: Colour::CUT, .. }))
        {
            continue;
        }
        for (dx, dy) in [(0.3, 0.0), (0.0, 0.3), (-0.3, 0.0)] {
            let mut moved = document.clone();
            let item = &mut moved.pages[0].items[number];
            // By hand: a symbol that is moved by the layout goes onto the dots of its printer.
            *item = match item.moved(dx, dy) {
                Item::Symbol(symbol) => {
                    let Item::Symbol(from) = &document.pages[0].items[number] else { panic!("a symbol") };
                    Item::Symbol(enamelwright::paper::page::PlacedSymbol {
                        x_mm: from.x_mm + dx,
                        y_mm: from.y_mm + dy,
                        ..symbol
                    })
                }
                other => other,
            };
            let differ = compared("moved tag", &document, &moved).0[0];
            assert!(differ > as_it_is + 40, "item {number} by {dx} {dy}: {differ} points differ, {as_it_is} as it is");
        }
    }
    // All of it moved: another shift fits better, or the share is too large.
    let mut moved = document.clone();
    for item in &mut moved.pages[0].items {
        *item = item.moved(0.3, 0.0);
    }
    let ([differ, inked], ..) = compared("moved tag", &document, &moved);
    assert!(differ as f64 > inked as f64 * MOST_INK_SHARE, "{differ} of {inked} points with ink differ");
}

// ---------------------------------------------------------------------------------------------- places

/// Everything of the PDF is where the layout has it, to a tenth of a millimetre, and nothing is missing or added.
fn check_places(name: &str, document: &Document) {
    const NEAR_MM: f64 = 0.1;
    let pages = pdf_reader::read(&pdf::write(document, &properties()).unwrap());
    assert_eq!(pages.len(), document.pages.len(), "{name}");
    for (page, laid) in pages.iter().zip(&document.pages) {
        let mm = |[x, y]: [f64; 2]| [x * MM_PER_POINT, laid.height_mm - y * MM_PER_POINT];
        let near =
            |one: [f64; 2], other: [f64; 2]| (one[0] - other[0]).abs() < NEAR_MM && (one[1] - other[1]).abs() < NEAR_MM;
        for (points, side) in page.size_pt.iter().zip([laid.width_mm, laid.height_mm]) {
            assert!((points * MM_PER_POINT - side).abs() < 0.001, "{name}: a page of {points} points");
        }
        let (mut texts, mut pictures, mut rectangles, mut paths) =
            (page.texts.iter().zip(&page.lengths), page.pictures.iter(), page.rectangles.iter(), page.paths.iter());
        for item in &laid.items {
            match item {
                Item::Text(run) => {
                    let ((text, at), end) = texts.next().unwrap_or_else(|| panic!("{name}: no {}", run.text()));
                    assert_eq!(*text, run.text(), "{name}");
                    let first = &run.glyphs[0];
                    assert!(near(mm(*at), run.at(first.x_mm, first.rise_mm)), "{name}: {text} begins at {:?}", mm(*at));
                    let last = run.glyphs.last().unwrap();
                    // How far the pen has come along the line; EAN digits stand in cells wider than they are.
                    let along = end * MM_PER_POINT;
                    let cells =
                        run.glyphs.len() > 1 && run.width_mm - last.x_mm > 2.0 * run.width_mm / run.glyphs.len() as f64;
                    let wanted = run.width_mm - first.x_mm;
                    assert!(
                        along > last.x_mm - first.x_mm && (cells || along < wanted + NEAR_MM),
                        "{name}: {text} ends {along} mm on, not {wanted}"
                    );
                }
                Item::Shape(shape) => {
                    let path = paths.next().unwrap_or_else(|| panic!("{name}: a shape is missing"));
                    let wanted: Vec<[f64; 2]> = shape
                        .path
                        .iter()
                        .flat_map(|segment| match *segment {
                            Segment::Move(point) | Segment::Line(point) => vec![point],
                            Segment::Cubic(one, other, point) => vec![one, other, point],
                            Segment::Close => Vec::new(),
                        })
                        .collect();
                    assert_eq!(path.points.len(), wanted.len(), "{name}");
                    for (point, wanted) in path.points.iter().zip(wanted) {
                        assert!(near(mm(*point), wanted), "{name}: {:?}, not {wanted:?}", mm(*point));
                    }
                    let width = if let Paint::Line { width_mm, .. } = shape.paint { Some(width_mm) } else { None };
                    assert_eq!(path.line_pt.is_some(), width.is_some(), "{name}: filled or drawn");
                    if let (Some(points), Some(width)) = (path.line_pt, width) {
                        assert!((points * MM_PER_POINT - width).abs() < 0.01, "{name}: a line of {points} points");
                    }
                    let (Paint::Fill(Colour(colour)) | Paint::Line { colour: Colour(colour), .. }) = shape.paint;
                    for (read, wanted) in path.colour.iter().zip(colour) {
                        assert!(
                            (read * 255.0 - f64::from(wanted)).abs() < 0.5,
                            "{name}: {:?}, not {colour:?}",
                            path.colour
                        );
                    }
                }
                Item::Symbol(symbol) => {
                    for dark in &symbol.art.dark {
                        let [x, y, width, height] = *rectangles.next().unwrap();
                        let wanted = [
                            symbol.x_mm + f64::from(dark.column) * symbol.module_mm,
                            symbol.y_mm + f64::from(dark.row + dark.rows) * symbol.row_mm,
                        ];
                        assert!(near(mm([x, y]), wanted), "{name}: a module at {:?}, not {wanted:?}", mm([x, y]));
                        let (wide, high) =
                            (f64::from(dark.columns) * symbol.module_mm, f64::from(dark.rows) * symbol.row_mm);
                        let size = [width * MM_PER_POINT, height * MM_PER_POINT];
                        assert!((size[0] - wide).abs() < 0.02 && (size[1] - high).abs() < 0.02, "{name}: {size:?}");
                    }
                }
                Item::Picture(placed) => {
                    let [a, b, c, d, x, y] = pictures.next().unwrap().matrix;
                    let corners = [[c + x, d + y], [a + c + x, b + d + y], [x, y]];
                    for (corner, wanted) in corners.into_iter().zip(placed.corners()) {
                        assert!(
                            near(mm(corner), wanted),
                            "{name}: a picture's corner at {:?}, not {wanted:?}",
                            mm(corner)
                        );
                    }
                }
            }
        }
        let left = (texts.count(), pictures.count(), rectangles.count(), paths.count());
        assert_eq!(left, (0, 0, 0, 0), "{name}: more is printed than was laid out");
    }
}

#[test]
fn everything_placed_is_read_back_where_it_is() {
    for (name, document) in [PaperSize::A4, PaperSize::LETTER].into_iter().flat_map(|paper| every_kind(&usual, paper)) {
        check_places(&name, &document.unwrap());
    }
    for ready in ready::all() {
        check_places(&ready.design.name, &paper_examples::pinned(&ready.design, &usual).unwrap());
    }
    for language in Language::ALL {
        for style in CardStyle::ALL {
            check_places(language.name(), &paper_examples::cards(&usual, style, &[language]).unwrap());
        }
    }
}
