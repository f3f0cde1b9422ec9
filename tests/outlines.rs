//! Outlines out of SVG files and open shares of stencils, against the independent geometry library `geo` and published
//! values (`tests/data/i_shapes_and_packing.csv`, each row with its source), and the two tasks of the command line.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "the helpers of a test may stop it"
)]

use enamelwright::costing::coverage::{Lying, open_share};
use enamelwright::costing::geometry;
use enamelwright::exchange::outline_file::{self, OutlineFile, OutlineFileProblem, Scale};
use enamelwright::measure::{Decimal, exact};
use enamelwright::studio::{Blank, Metal, Outline, Thickness};
use geo::{AffineOps, AffineTransform, Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon};
use proptest::prelude::*;
use rust_decimal::prelude::ToPrimitive;
use serde_json::Value;
use std::process::Command;

// ---------------------------------------------------------------------------------------------- reading

fn svg(body: &str) -> Vec<u8> {
    format!("<svg xmlns='http://www.w3.org/2000/svg' width='500mm' height='500mm' viewBox='0 0 500 500'>{body}</svg>")
        .into_bytes()
}

fn read(body: &str) -> OutlineFile {
    outline_file::read(&svg(body), Scale::AsWritten).unwrap_or_else(|problem| panic!("{body}: {problem}"))
}

/// Area as the program shows it, mm².
fn area(outline: &Outline) -> f64 {
    let blank = Blank {
        metal: Metal::Copper,
        thickness: Thickness::Gauge(18),
        outline: outline.clone(),
        dome_height_mm: Decimal::ZERO,
        holes_mm: Vec::new(),
        solder_flow_c: None,
        count: 1,
    };
    geometry::measure(&blank).unwrap().flat_cm2.to_f64().unwrap() * 100.0
}

/// The rings of canonical path text, every curve followed by a thousand chords.
fn rings(outline: &Outline) -> Vec<Vec<Coord<f64>>> {
    let Outline::Path { svg } = outline else { panic!("{outline:?}") };
    let mut rings: Vec<Vec<Coord<f64>>> = Vec::new();
    let mut words = svg.split(' ').peekable();
    while let Some(command) = words.next() {
        let mut numbers = Vec::new();
        while let Some(number) = words.peek().and_then(|word| word.parse::<f64>().ok()) {
            numbers.push(number);
            words.next();
        }
        let points: Vec<Coord<f64>> = numbers.chunks(2).map(|pair| Coord { x: pair[0], y: pair[1] }).collect();
        match (command, &points[..]) {
            ("M", [to]) => rings.push(vec![*to]),
            ("L", [to]) => rings.last_mut().unwrap().push(*to),
            ("C", [first, second, to]) => {
                let ring = rings.last_mut().unwrap();
                let from = *ring.last().unwrap();
                for step in 1..=1000 {
                    let t = f64::from(step) / 1000.0;
                    let s = 1.0 - t;
                    ring.push(
                        from * (s * s * s)
                            + *first * (3.0 * s * s * t)
                            + *second * (3.0 * s * t * t)
                            + *to * (t * t * t),
                    );
                }
            }
            ("Z", []) => {}
            other => panic!("{other:?} in {svg}"),
        }
    }
    rings
}

/// By even-odd, which is the exclusive or of all rings.
fn shape(outline: &Outline) -> MultiPolygon<f64> {
    rings(outline).into_iter().fold(MultiPolygon::new(Vec::new()), |shape, ring| {
        shape.xor(&MultiPolygon::from(Polygon::new(LineString::new(ring), Vec::new())))
    })
}

fn polygon(points: &[[f64; 2]]) -> Polygon<f64> {
    Polygon::new(points.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect(), Vec::new())
}

#[track_caller]
fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected}");
}

// ---------------------------------------------------------------------------------------------- areas

#[test]
fn published_areas_of_paths_are_met_through_a_file() {
    let mut reader =
        csv::Reader::from_path(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/i_shapes_and_packing.csv")).unwrap();
    let mut seen = 0;
    for row in reader.records() {
        let row = row.unwrap();
        let (id, inputs, expected) = (&row[0], &row[2], &row[3]);
        if !id.starts_with("I-SVG-") {
            continue;
        }
        seen += 1;
        let inputs: Value = serde_json::from_str(inputs).unwrap();
        let path = inputs["svg"].as_str().unwrap();
        let found = outline_file::read(&svg(&format!("<path d='{path}'/>")), Scale::AsWritten);
        if id == "I-SVG-CROSS" {
            assert!(matches!(found, Err(OutlineFileProblem::Shape { .. })), "{id}: {found:?}");
            continue;
        }
        let file = found.unwrap();
        let expected: f64 = expected.parse().unwrap();
        // The row's 1e-5 of the area; and coordinates to 0.001 mm move an edge by 0.0005 mm at most.
        let edge: f64 = 4.0 * expected.sqrt() * 0.0005;
        near(area(&file.whole()), expected, 1e-5 * expected + edge, id);
        near(shape(&file.whole()).unsigned_area(), area(&file.whole()), 1e-5 * expected, id);
    }
    assert_eq!(seen, 10);
}

/// Closed examples of SVG 1.1 (Second Edition), sections 8.3 and 9 (from memory).
const W3C: [&str; 6] = [
    "<path d='M 100 100 L 300 100 L 200 300 z'/>",
    "<path d='M300,200 h-150 a150,150 0 1,0 150,-150 z'/>",
    "<path d='M275,175 v-150 a150,150 0 0,0 -150,150 z'/>",
    "<polygon points='350,75 379,161 469,161 397,215 423,301 350,250 277,301 303,215 231,161 321,161'/>",
    "<rect x='100' y='100' width='400' height='200' rx='50'/>",
    "<ellipse transform='translate(250 200) rotate(-30)' rx='150' ry='60'/>",
];

#[test]
fn examples_of_the_standard_have_the_areas_of_an_independent_library() {
    let pi = std::f64::consts::PI;
    // Elementary geometry; the star is left to the other library.
    let known = [
        Some(20_000.0),
        Some(0.75 * pi * 22_500.0),
        Some(0.25 * pi * 22_500.0),
        None,
        Some(80_000.0 - (4.0 - pi) * 2_500.0),
        Some(pi * 9_000.0),
    ];
    for (body, known) in W3C.iter().zip(known) {
        let file = read(body);
        let found = area(&file.whole());
        near(found, shape(&file.whole()).unsigned_area(), 1e-6 * found, body);
        if let Some(known) = known {
            near(found, known, 2e-5 * known, body);
        }
    }
}

#[test]
fn a_mass_is_area_times_thickness_times_density() {
    // A disc of 30 mm of 18 gauge copper: 706.858 mm² × 1.024 mm × 8.96 g/cm³ (gauge: ASTM B258).
    let file = read("<circle cx='100' cy='100' r='15'/>");
    let blank = Blank {
        metal: Metal::Copper,
        thickness: Thickness::Gauge(18),
        outline: file.whole(),
        dome_height_mm: Decimal::ZERO,
        holes_mm: Vec::new(),
        solder_flow_c: None,
        count: 1,
    };
    let mass = geometry::measure(&blank).unwrap().mass_g.to_f64().unwrap();
    near(mass, 706.858 * 1.0237 * 8.96 / 1000.0, 0.003, "mass");
}

// ---------------------------------------------------------------------------------------------- properties

/// Corners around a middle, so that the polygon does not cross itself.
fn star() -> impl Strategy<Value = Vec<[f64; 2]>> {
    (proptest::collection::vec(10_u32..100, 3..12), 0_i32..60, 0_i32..60).prop_map(|(reaches, x, y)| {
        let count = f64::from(u32::try_from(reaches.len()).unwrap());
        (0_u32..)
            .zip(reaches)
            .map(|(index, reach)| {
                let angle = std::f64::consts::TAU * f64::from(index) / count;
                let round = |value: f64| (value * 1000.0).round() / 1000.0;
                [
                    round(200.0 + f64::from(x) + f64::from(reach) * angle.cos()),
                    round(200.0 + f64::from(y) + f64::from(reach) * angle.sin()),
                ]
            })
            .collect()
    })
}

fn points(corners: &[[f64; 2]]) -> String {
    corners.iter().map(|[x, y]| format!("{x},{y} ")).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_moved_and_turned_polygon_has_the_area_of_an_independent_library(
        corners in star(), turn in -180.0..180.0_f64, (across, down) in (0.2..3.0_f64, 0.2..3.0_f64),
    ) {
        let body = format!(
            "<g transform='translate(20 -10) rotate({turn})'><polygon transform='scale({across} {down})' points='{}'/></g>",
            points(&corners)
        );
        let file = read(&body);
        let turned = AffineTransform::scale(across, down, Coord { x: 0.0, y: 0.0 })
            .rotated(turn, Coord { x: 0.0, y: 0.0 })
            .translated(20.0, -10.0);
        let expected = polygon(&corners).affine_transform(&turned).unsigned_area();
        let found = area(&file.whole());
        // Single precision of the reader and 0.001 mm of the writer over the edge's length.
        prop_assert!((found - expected).abs() <= 0.002 * expected.sqrt() * 6.0 + 1e-5 * expected, "{found} {expected}");
    }

    #[test]
    fn open_shares_are_those_of_an_independent_library(
        openings in proptest::collection::vec(star(), 1..5), blank in star(),
    ) {
        let outline = |corners: &[[f64; 2]]| Outline::Polygon {
            points_mm: corners
                .iter()
                .map(|point| point.map(|value| exact::round(Decimal::from_f64_retain(value).unwrap(), 3)))
                .collect(),
        };
        let outlines: Vec<Outline> = openings.iter().map(|corners| outline(corners)).collect();
        let found = open_share(&outlines, &outline(&blank), Lying::AsDrawn).unwrap().to_f64().unwrap();
        let open = openings
            .iter()
            .map(|corners| MultiPolygon::from(polygon(corners)))
            .reduce(|all, one| all.union(&one))
            .unwrap();
        let blank = MultiPolygon::from(polygon(&blank));
        let expected = open.intersection(&blank).unsigned_area() / blank.unsigned_area();
        prop_assert!((found - expected).abs() <= 1e-4, "{found} {expected}");
    }

    #[test]
    fn what_is_written_is_read_back_the_same(corners in star()) {
        let file = read(&format!("<polygon points='{}'/>", points(&corners)));
        let Outline::Path { svg } = file.whole() else { panic!() };
        prop_assert_eq!(read(&format!("<path d='{svg}'/>")).shapes, file.shapes);
    }

    #[test]
    fn files_of_any_kind_never_panic(text in "[<>/a-z0-9=' \"&;#()%.-]{0,200}", path in "[MmLlCcAaQqZzHhVvSsTt0-9 ,.eE+-]{0,80}") {
        let _ = outline_file::read(text.as_bytes(), Scale::AsWritten);
        let _ = outline_file::read(&svg(&format!("<path d='{path}'/>")), Scale::AsWritten);
        let _ = outline_file::read(
            format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='{path}' width='{path}'><g transform='{path}'><rect width='1' height='1'/></g></svg>").as_bytes(),
            Scale::LongSideMm(Decimal::TEN),
        );
    }
}

// ---------------------------------------------------------------------------------------------- command line

struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> String {
        let path = self.0.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        path.to_str().unwrap().to_owned()
    }

    /// Status, standard output, standard error.
    fn run(&self, arguments: &[&str]) -> (i32, String, String) {
        let output = Command::new(env!("CARGO_BIN_EXE_enamelwright"))
            .current_dir(self.0.path())
            .env("HOME", self.0.path())
            .env("XDG_DATA_HOME", self.0.path())
            .args(arguments)
            .output()
            .unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        (output.status.code().unwrap_or(-1), text(output.stdout), text(output.stderr))
    }

    fn json(&self, arguments: &[&str]) -> Value {
        let (status, out, errors) = self.run(&[arguments, &["--format", "json"]].concat());
        assert_eq!(status, 0, "{errors}");
        serde_json::from_str(&out).unwrap()
    }
}

fn ring() -> Vec<u8> {
    svg(
        "<circle cx='20' cy='20' r='15'/><circle cx='20' cy='20' r='6'/><rect x='60' y='60' width='10' height='10' stroke='red'/>",
    )
}

#[test]
fn outline_prints_area_mass_and_the_text_for_a_design_file() {
    let folder = Folder::new();
    let file = folder.file("ring.svg", ring());
    let (status, out, errors) = folder.run(&["outline", &file, "--metal", "copper", "--gauge", "18"]);
    assert_eq!(status, 0, "{errors}");
    assert!(out.starts_with("2 blanks, 65 × 65 mm together\n"), "{out}");
    assert!(out.contains("M 60 60 L 70 60 L 70 70 L 60 70 Z"), "{out}");
    assert!(errors.contains("middle of the line is the outline"), "{errors}");
    let answer = folder.json(&["outline", &file, "--gauge", "18"]);
    // I-RING-1 of the published values: 593.761012 mm².
    near(answer["blanks"][0]["area_cm2"].as_str().unwrap().parse().unwrap(), 5.937_610_12, 5e-4, "the ring");
    near(answer["blanks"][1]["mass_g"].as_str().unwrap().parse().unwrap(), 1.0237 * 0.896, 5e-4, "the square");
    assert_eq!(folder.json(&["outline", &file])["mass_g"], Value::Null);
    // The text is an outline of a design file.
    let design = include_str!("data/lantern-drop.toml").replace(
        "{ shape = \"drop\", height_mm = 38, width_mm = 24 }",
        &format!("{{ shape = \"path\", svg = {:?} }}", answer["blanks"][1]["outline"].as_str().unwrap()),
    );
    let (status, _, errors) = folder.run(&["cost", &folder.file("square.toml", design)]);
    assert_eq!(status, 0, "{errors}");
}

#[test]
fn the_examples_of_the_first_steps_are_right() {
    let folder = Folder::new();
    let leaf = folder.file("leaf.svg", include_str!("data/leaf.svg"));
    let fern = folder.file("fern.svg", include_str!("data/fern.svg"));
    // Two segments of a circle of 29 mm on a chord of 50 mm, less a hole of 2 mm (elementary geometry).
    let half = (25.0_f64 / 29.0).asin();
    let leaf_mm2 = 29.0 * 29.0 * (2.0 * half - (2.0 * half).sin()) - std::f64::consts::PI;
    let answer = folder.json(&["outline", &leaf, "--metal", "copper", "--gauge", "18"]);
    near(answer["area_cm2"].as_str().unwrap().parse().unwrap(), leaf_mm2 / 100.0, 5e-4, "the leaf");
    // Seven ellipses of 8 by 2.4 mm, all on the metal.
    let answer = folder.json(&["stencil", &fern, "--outline", &leaf]);
    let open_mm2 = 7.0 * std::f64::consts::PI * 4.0 * 1.2;
    near(answer["share"].as_str().unwrap().parse().unwrap(), open_mm2 / leaf_mm2, 1e-4, "the fern");
}

#[test]
fn outline_asks_for_a_size_and_takes_one_in_inches() {
    let folder = Folder::new();
    let file = folder.file(
        "leaf.svg",
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><rect width='8' height='4'/></svg>",
    );
    let (status, out, errors) = folder.run(&["outline", &file]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(errors.contains("how long its longer side is (--long-side LENGTH)"), "{errors}");
    let answer = folder.json(&["outline", &file, "--long-side", "1 1/2 in"]);
    assert_eq!((&answer["width_mm"], &answer["height_mm"]), (&Value::from("38.1"), &Value::from("19.05")));
    for arguments in [&["outline", "none.svg"][..], &["outline", &file, "--long-side", "0"]] {
        let (status, out, errors) = folder.run(arguments);
        assert_eq!((status, out.as_str()), (2, ""), "{errors}");
        assert!(!errors.contains("panicked"), "{errors}");
    }
}

#[test]
fn stencil_measures_a_drawing_by_its_edge_by_a_drawn_blank_and_by_a_design() {
    let folder = Folder::new();
    let framed =
        folder.file("framed.svg", svg("<rect width='40' height='40'/><rect x='10' y='10' width='20' height='20'/>"));
    assert_eq!(folder.json(&["stencil", &framed])["share"], "0.25");
    let loose = folder.file("loose.svg", svg("<rect x='10' y='10' width='20' height='20'/>"));
    let (status, _, errors) = folder.run(&["stencil", &loose]);
    assert_eq!(status, 2);
    assert!(errors.contains("--blank DESIGNFILE or --outline"), "{errors}");
    let blank = folder.file("blank.svg", svg("<rect x='20' width='20' height='40'/>"));
    assert_eq!(folder.json(&["stencil", &loose, "--outline", &blank])["share"], "0.25");
    // 4 mm² in the middle of a drop of 38 × 24 mm: I-DROP's formula gives 567.7 mm².
    let small = folder.file("small.svg", svg("<rect x='10' y='10' width='2' height='2'/>"));
    let design = folder.file("drop.toml", include_str!("data/lantern-drop.toml"));
    let answer = folder.json(&["stencil", &small, "--blank", &design]);
    let (radius, long) = (12.0_f64, 26.0_f64);
    let drop = radius * radius * (std::f64::consts::PI - (radius / long).acos())
        + radius * (long * long - radius * radius).sqrt();
    near(answer["share"].as_str().unwrap().parse().unwrap(), 4.0 / drop, 1e-4, "drop");
    let (status, _, errors) = folder.run(&["stencil", &framed, "--threshold", "80"]);
    assert_eq!(status, 2);
    assert!(errors.contains("--threshold is for photos"), "{errors}");
    let (_, out, _) = folder.run(&["stencil", &framed]);
    assert_eq!(out, "Open share 25 % (0.25), 1 opening\n");
}

#[test]
fn stencil_measures_a_photo_and_writes_what_it_took_it_for() {
    let folder = Folder::new();
    let drawn = image::GrayImage::from_fn(400, 200, |column, _| image::Luma([if column < 100 { 230 } else { 30 }]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    drawn.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    let photo = folder.file("photo.png", bytes.into_inner());
    let answer = folder.json(&["stencil", &photo, "--picture", "seen.png"]);
    assert_eq!((&answer["share"], &answer["kind"]), (&Value::from("0.25"), &Value::from("photo")));
    assert_eq!(answer["histogram"].as_array().unwrap().len(), 256);
    let seen = image::open(folder.0.path().join("seen.png")).unwrap().to_luma8();
    assert_eq!((seen.dimensions(), seen.get_pixel(99, 0).0[0], seen.get_pixel(100, 0).0[0]), ((400, 200), 255, 0));
    assert_eq!(folder.json(&["stencil", &photo, "--open", "dark"])["share"], "0.75");
    assert_eq!(folder.json(&["stencil", &photo, "--crop", "0,0,200,200"])["share"], "0.5");
    assert_eq!(folder.json(&["stencil", &photo, "--threshold", "255"])["share"], "0");
    let (_, out, _) = folder.run(&["stencil", &photo]);
    assert!(out.starts_with("Open share 25 % (0.25), threshold "), "{out}");
    for arguments in [&["--crop", "300,0,200,200"][..], &["--crop", "1,2,3"], &["--long-side", "30"]] {
        let (status, out, errors) = folder.run(&[&["stencil", &photo][..], arguments].concat());
        assert_eq!((status, out.as_str()), (2, ""), "{arguments:?}: {errors}");
    }
}
