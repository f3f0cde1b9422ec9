use super::*;
use crate::costing::coverage::{Lying, open_share};
use crate::costing::samples::decimal;

fn svg(head: &str, body: &str) -> Vec<u8> {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" {head}>{body}</svg>"
    )
    .into_bytes()
}

const MM: &str = "width=\"100mm\" height=\"80mm\" viewBox=\"0 0 100 80\"";

fn texts(file: &OutlineFile) -> Vec<&str> {
    file.shapes
        .iter()
        .map(|shape| match shape {
            Outline::Path { svg } => svg.as_str(),
            other => panic!("{other:?}"),
        })
        .collect()
}

/// Area in mm², through the mass of a sheet: what the program shows.
fn area(outline: &Outline) -> f64 {
    use rust_decimal::prelude::ToPrimitive;
    let mut blank = crate::costing::samples::lantern_drop().blank;
    blank.outline = outline.clone();
    blank.holes_mm.clear();
    crate::costing::geometry::measure(&blank).unwrap().flat_cm2.to_f64().unwrap() * 100.0
}

#[track_caller]
fn refused(bytes: &[u8]) -> OutlineFileProblem {
    read(bytes, Scale::AsWritten).expect_err("it is refused")
}

#[test]
fn lines_come_out_as_exact_canonical_text() {
    let file = read(&svg(MM, "<path d='m5,5 l30,0 0,20.1234 -30,0z'/>"), Scale::AsWritten).unwrap();
    assert_eq!(texts(&file), ["M 5 5 L 35 5 L 35 25.123 L 5 25.123 Z"]);
    assert_eq!((file.width_mm, file.height_mm), (decimal("30"), decimal("20.123")));
    assert_eq!(file.remarks, []);
    // What was written is read as it is, and writing it again changes nothing.
    let again = read(&svg(MM, &format!("<path d='{}'/>", texts(&file)[0])), Scale::AsWritten).unwrap();
    assert_eq!(again.shapes, file.shapes);
}

#[test]
fn the_size_is_what_width_and_height_say() {
    // The inch is 25.4 mm; CSS Values and Units, 6.2: 96 px, 72 pt, 6 pc to the inch.
    for (head, expected) in [
        ("width='10mm' height='10mm' viewBox='0 0 10 10'", "10"),
        ("width='1cm' height='1cm' viewBox='0 0 10 10'", "10"),
        ("width='1in' height='1in' viewBox='0 0 10 10'", "25.4"),
        ("width='72pt' height='72pt' viewBox='0 0 10 10'", "25.4"),
        ("width='6pc' height='6pc' viewBox='0 0 10 10'", "25.4"),
        ("width='96' height='96' viewBox='0 0 10 10'", "25.4"),
        ("width='96px' viewBox='0 0 10 10'", "25.4"),
        ("height='20mm' viewBox='0 0 10 10'", "20"),
    ] {
        let file = read(&svg(head, "<rect width='10' height='10'/>"), Scale::AsWritten).unwrap();
        assert_eq!(file.width_mm, decimal(expected), "{head}");
    }
    // Without a view box the numbers are pixels.
    let file = read(&svg("width='50mm' height='50mm'", "<rect width='96' height='48'/>"), Scale::AsWritten).unwrap();
    assert_eq!((file.width_mm, file.height_mm), (decimal("25.4"), decimal("12.7")));
    let file = read(&svg("width='96' height='96'", "<rect width='96' height='48'/>"), Scale::AsWritten).unwrap();
    assert_eq!(file.remarks, [Remark::Pixels]);
}

#[test]
fn a_file_without_a_size_asks_for_one() {
    for head in ["viewBox='0 0 10 10'", "", "width='100%' height='100%' viewBox='0 0 10 10'"] {
        let bytes = svg(head, "<rect x='1' width='8' height='4'/>");
        assert_eq!(refused(&bytes), OutlineFileProblem::NoSize, "{head}");
        let file = read(&bytes, Scale::LongSideMm(decimal("38"))).unwrap();
        assert_eq!((file.width_mm, file.height_mm), (decimal("38"), decimal("19")), "{head}");
    }
    // The longer side is what the curves reach, not their control points: the parabola is 20 long and 10 high.
    let file = read(&svg("", "<path d='M0,0 Q10,20 20,0 Z'/>"), Scale::LongSideMm(decimal("40"))).unwrap();
    assert_eq!((file.width_mm, file.height_mm), (decimal("40"), decimal("20")));
    for side in ["0", "-3", "10001"] {
        let problem = read(&svg("", "<rect width='8' height='4'/>"), Scale::LongSideMm(decimal(side))).unwrap_err();
        assert_eq!(problem, OutlineFileProblem::LongSide(decimal(side)));
    }
}

#[test]
fn transforms_use_and_basic_shapes_are_followed() {
    let file = read(
        &svg(
            MM,
            "<defs><path id='t' d='M0 0 H10 V5 H0 Z'/><g id='two'><use href='#t'/><use xlink:href='#t' y='10'/></g></defs>
             <use href='#two' x='20' y='3'/>
             <g transform='translate(50 50) rotate(90)'><g transform='scale(2)'><use href='#t'/></g></g>
             <polygon points='0,60 10,60 0,70'/>
             <symbol id='s' viewBox='0 0 1 1'><rect width='1' height='1'/></symbol>
             <use href='#s' x='80' y='60' width='10' height='10'/>",
        ),
        Scale::AsWritten,
    )
    .unwrap();
    assert_eq!(
        texts(&file),
        [
            "M 20 3 L 30 3 L 30 8 L 20 8 Z",
            "M 20 13 L 30 13 L 30 18 L 20 18 Z",
            "M 50 50 L 50 70 L 40 70 L 40 50 Z",
            "M 0 60 L 10 60 L 0 70 Z",
            "M 80 60 L 90 60 L 90 70 L 80 70 Z",
        ]
    );
    let round = "<circle cx='20' cy='20' r='10'/><ellipse cx='60' cy='20' rx='20' ry='10'/>
                 <rect x='10' y='40' width='40' height='20' rx='3'/><circle cx='80%' cy='55' r='2mm'/>";
    let file = read(&svg("width='100mm' height='80mm' viewBox='0 0 100 80'", round), Scale::AsWritten).unwrap();
    let pixel = 96.0 / 25.4;
    let expected = [
        std::f64::consts::PI * 100.0,
        std::f64::consts::PI * 200.0,
        800.0 - (4.0 - std::f64::consts::PI) * 9.0,
        // `2mm` in user units is 2 × 96/25.4 of them, whatever a user unit is (SVG 1.1, 7.10).
        std::f64::consts::PI * (2.0 * pixel) * (2.0 * pixel),
    ];
    for (shape, expected) in file.shapes.iter().zip(expected) {
        assert!((area(shape) - expected).abs() <= 5e-5 * expected, "{} {expected}", area(shape));
    }
}

#[test]
fn what_is_not_followed_is_told() {
    let file = read(
        &svg(
            MM,
            "<style>.cut{fill:none;stroke:#f00} .gone{display:none}</style>
             <path class='cut' d='M0 0 H10 V10 H0 Z'/>
             <path class='gone' d='M0 0 H10 V10 H0 Z'/>
             <g fill='none'><path d='M0 20 H10 V30 H0 Z'/></g>
             <path style='fill:url(#nothing)' d='M20 0 H30 V10 H20'/>
             <line x1='0' y1='0' x2='50' y2='50' stroke='black'/>
             <text x='5' y='5'>drop</text><image width='10' height='10' href='file:///etc/hostname'/>
             <rect x='40' width='5' height='5' mask='url(#m)' filter='url(#f)'/>",
        ),
        Scale::AsWritten,
    )
    .unwrap();
    assert_eq!(
        texts(&file),
        ["M 0 0 L 10 0 L 10 10 L 0 10 Z", "M 20 0 L 30 0 L 30 10 L 20 10 Z", "M 40 0 L 45 0 L 45 5 L 40 5 Z"]
    );
    assert_eq!(
        file.remarks,
        [
            Remark::Texts(1),
            Remark::Pictures(1),
            Remark::Effects(2),
            Remark::LinesHaveNoWidth(1),
            Remark::NotDrawn(1),
            Remark::EncloseNothing(1),
            Remark::Closed(1),
        ]
    );
    let problem = refused(&svg(MM, "<text>drop</text>"));
    assert!(problem.to_string().contains("turn letters into paths"), "{problem}");
}

#[test]
fn shapes_inside_others_are_holes_of_a_blank_and_openings_of_a_stencil() {
    let ring =
        "<circle cx='20' cy='20' r='15'/><circle cx='20' cy='20' r='5'/><rect x='50' y='10' width='10' height='10'/>";
    let file = read(&svg(MM, ring), Scale::AsWritten).unwrap();
    let blanks = file.blanks().unwrap();
    assert_eq!(blanks.len(), 2);
    let expected = std::f64::consts::PI * 200.0;
    assert!((area(&blanks[0]) - expected).abs() < 1e-4 * expected);
    assert!((area(&file.whole()) - expected - 100.0).abs() < 1e-4 * expected);
    let stencil = file.stencil().unwrap();
    assert_eq!((stencil.edges.len(), stencil.openings.len()), (1, 2));
    let share = open_share(&stencil.openings[..1], &stencil.edges[0], Lying::AsDrawn).unwrap();
    // (5/15)².
    assert!((share - decimal("0.1111")).abs() <= decimal("0.0001"), "{share}");
    let loose = read(&svg(MM, "<rect width='5' height='5'/><rect x='10' width='5' height='5'/>"), Scale::AsWritten);
    let stencil = loose.unwrap().stencil().unwrap();
    assert_eq!((stencil.edges.len(), stencil.openings.len()), (0, 2));
}

#[test]
fn shapes_that_overlap_are_openings_but_no_blanks() {
    let file =
        read(&svg(MM, "<rect width='10' height='10'/><rect x='5' y='5' width='10' height='10'/>"), Scale::AsWritten)
            .unwrap();
    let problem = file.blanks().unwrap_err();
    assert!(problem.to_string().contains("crosses or touches itself"), "{problem}");
    let stencil = file.stencil().unwrap();
    let blank = Outline::Path { svg: "M0 0 H20 V20 H0Z".to_owned() };
    assert_eq!(open_share(&stencil.openings, &blank, Lying::AsDrawn).unwrap(), decimal("0.4375"));
}

#[test]
fn a_shape_drawn_as_a_fill_and_again_as_a_line_is_one() {
    let file = read(
        &svg(MM, "<rect width='10' height='10'/><rect width='10' height='10' fill='none' stroke='red'/>"),
        Scale::AsWritten,
    )
    .unwrap();
    assert_eq!(file.blanks().unwrap().len(), 1);
    assert_eq!(file.remarks, [Remark::LinesHaveNoWidth(1), Remark::DrawnAgain(1)]);
}

#[test]
fn what_is_no_outline_is_refused_in_words() {
    for (body, words) in [
        ("<path d='M0 0 L10 10 L10 0 L0 10 Z'/>", "crosses"),
        ("<path d='M0 0 H10 V10 H0 Z é'/>", "cannot be followed"),
        ("<path d='M0 0 L1e400 0 L0 5Z'/>", "cannot be followed"),
        ("<path d='M0 0 L9e9 0 L0 5Z'/>", "cannot be followed"),
        ("<circle r='NaN'/>", "cannot be followed"),
        ("<rect width='1e8' height='1e8'/>", "farther than 1000000 mm"),
        ("", "no shape"),
    ] {
        let problem = refused(&svg(MM, body)).to_string();
        assert!(problem.contains(words), "{body}: {problem}");
    }
    assert_eq!(refused(&[0xff, 0xfe, 0x00]), OutlineFileProblem::NotText);
    assert!(matches!(refused(b"hello"), OutlineFileProblem::NotSvg(_)));
    assert!(matches!(refused(b"<html/>"), OutlineFileProblem::NotSvg(_)));
    assert_eq!(refused(&vec![b' '; MOST_BYTES + 1]), OutlineFileProblem::TooLarge(MOST_BYTES + 1));
    for head in ["width='0' height='0'", "width='-5mm' height='5mm'", "width='5mm' height='5mm' viewBox='0 0 0 0'"] {
        let _ = read(&svg(head, "<rect width='1' height='1'/>"), Scale::AsWritten);
    }
}

#[test]
fn hostile_files_are_refused_in_time() {
    let deep = "<g>".repeat(30_000) + "<rect width='1' height='1'/>" + &"</g>".repeat(30_000);
    assert!(matches!(refused(&svg(MM, &deep)), OutlineFileProblem::Refused { .. } | OutlineFileProblem::NotSvg(_)));
    let deep = "<g>".repeat(2_000) + "<rect width='1' height='1'/>" + &"</g>".repeat(2_000);
    assert!(matches!(refused(&svg(MM, &deep)), OutlineFileProblem::Refused { .. }));
    // Each level uses the one before ten times.
    let mut bomb = "<g id='l0'><rect width='1' height='1'/></g>".to_owned();
    for level in 1..12 {
        let uses = format!("<use href='#l{}'/>", level - 1).repeat(10);
        bomb.push_str(&format!("<g id='l{level}'>{uses}</g>"));
    }
    assert!(matches!(refused(&svg(MM, &bomb)), OutlineFileProblem::Refused { .. }));
    // One that uses itself.
    let circle = "<g id='a'><use href='#b'/></g><g id='b'><use href='#a'/></g>";
    assert!(matches!(refused(&svg(MM, circle)), OutlineFileProblem::Refused { .. }));
    let mut entities = "<!DOCTYPE svg [<!ENTITY e0 'lol'>".to_owned();
    for level in 1..10 {
        let references = format!("&e{};", level - 1).repeat(10);
        entities.push_str(&format!("<!ENTITY e{level} '{references}'>"));
    }
    entities.push_str("]><svg xmlns='http://www.w3.org/2000/svg'><text>&e9;</text></svg>");
    assert!(matches!(refused(entities.as_bytes()), OutlineFileProblem::Refused { .. }));
    let many = "<rect width='1' height='1'/>".repeat(25_000);
    assert!(matches!(refused(&svg(MM, &many)), OutlineFileProblem::Refused { .. }));
    let markers = "<marker id='m'><path d='M0 0h1v1z' marker-mid='url(#m)'/></marker>
                   <path marker-mid='url(#m)' d='M0 0 H10 V10 H5 Z'/>";
    assert_eq!(read(&svg(MM, markers), Scale::AsWritten).unwrap().shapes.len(), 1);
    let teeth: String = (0..30_000).map(|tooth| format!("L{} {} ", f64::from(tooth) / 400.0, tooth % 2)).collect();
    let problem = refused(&svg(MM, &format!("<path d='M0 -5 {teeth} L80 -5Z'/>")));
    assert!(problem.to_string().contains("too fine"), "{problem}");
}

#[test]
fn a_few_short_entities_are_followed() {
    let text = "<?xml version='1.0'?><!DOCTYPE svg [<!ENTITY ns 'http://www.w3.org/2000/svg'>]>
                <svg xmlns='&ns;' width='10mm' height='10mm' viewBox='0 0 10 10'><rect width='4' height='4'/></svg>";
    assert_eq!(read(text.as_bytes(), Scale::AsWritten).unwrap().width_mm, decimal("4"));
}
