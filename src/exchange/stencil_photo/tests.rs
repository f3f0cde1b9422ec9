use super::*;
use image::{DynamicImage, GrayImage, ImageFormat, Luma, Rgba, RgbaImage};
use proptest::prelude::*;
use rust_decimal::prelude::ToPrimitive;
use std::f64::consts::PI;

fn png(picture: impl Into<DynamicImage>) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.into().write_to(&mut bytes, ImageFormat::Png).unwrap();
    bytes.into_inner()
}

fn jpeg(picture: impl Into<DynamicImage>) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.into().write_to(&mut bytes, ImageFormat::Jpeg).unwrap();
    bytes.into_inner()
}

/// Noise that is the same every time.
fn noise(state: &mut u32) -> i32 {
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    i32::try_from(*state % 41).unwrap() - 20
}

/// A dark stencil with round light openings, edges softened as a lens does by four by four samples a pixel.
fn stencil(side: u32, radius: f64, dark: u8, light: u8) -> GrayImage {
    let middle = f64::from(side) / 2.0;
    GrayImage::from_fn(side, side, |column, row| {
        let mut open = 0.0;
        for sample in 0..16_u32 {
            let x = f64::from(column) + f64::from(sample % 4) / 4.0 + 0.125 - middle;
            let y = f64::from(row) + f64::from(sample / 4) / 4.0 + 0.125 - middle;
            if x.hypot(y) < radius {
                open += 1.0 / 16.0;
            }
        }
        // Light is mixed as light: sRGB there and back by its power alone is near enough for an edge.
        let [dark, light] = [dark, light].map(|level| (f64::from(level) / 255.0).powf(2.2));
        Luma([level((dark + (light - dark) * open).powf(1.0 / 2.2))])
    })
}

fn share(bytes: &[u8], looking: &Looking) -> f64 {
    read(bytes).unwrap().reading(looking).unwrap().share.to_f64().unwrap()
}

#[test]
fn a_round_opening_of_known_share_is_met_within_half_a_percent() {
    for radius in [40.0, 90.0, 140.0] {
        let truth = PI * radius * radius / (300.0 * 300.0);
        let drawn = stencil(300, radius, 40, 220);
        assert!((share(&png(drawn.clone()), &Looking::default()) - truth).abs() < 0.005, "{radius}");
        assert!((share(&jpeg(drawn), &Looking::default()) - truth).abs() < 0.005, "{radius}");
        let turned = stencil(300, radius, 220, 40);
        let looking = Looking { open: Open::Dark, ..Looking::default() };
        assert!((share(&png(turned), &looking) - truth).abs() < 0.005, "{radius}");
    }
}

#[test]
fn noise_of_a_telephone_does_not_move_the_share() {
    let mut state = 2_463_534_242;
    let mut drawn = stencil(300, 100.0, 60, 200);
    for pixel in drawn.pixels_mut() {
        pixel.0 = [u8::try_from((i32::from(pixel.0[0]) + noise(&mut state)).clamp(0, 255)).unwrap()];
    }
    let reading = read(&png(drawn)).unwrap().reading(&Looking::default()).unwrap();
    let truth = PI * 100.0 * 100.0 / 90_000.0;
    assert!((reading.share.to_f64().unwrap() - truth).abs() < 0.005, "{}", reading.share);
    assert_eq!(reading.remarks, []);
}

#[test]
fn uneven_light_is_a_limit_and_is_told() {
    // Light falls off to a sixth across the photo, the stencil takes away half of it.
    let drawn = GrayImage::from_fn(300, 300, |column, row| {
        let light = 1.0 - f64::from(column) / 360.0;
        let open = (column / 30 + row / 30) % 2 == 0;
        Luma([level((light * if open { 1.0 } else { 0.5 }).powf(1.0 / 2.2))])
    });
    let reading = read(&png(drawn)).unwrap().reading(&Looking::default()).unwrap();
    assert!(reading.remarks.contains(&Remark::LittleContrast), "{:?} {}", reading.remarks, reading.share);
}

#[test]
fn otsus_threshold_is_the_one_that_parts_best() {
    // Two modes with an empty valley: the middle of the valley.
    let mut histogram = [0; LEVELS];
    histogram[50] = 100;
    histogram[151] = 300;
    assert_eq!(otsu(&histogram).map(|(threshold, _)| threshold), Some(100));
    // By hand: levels 0, 1, 2, 3 with 4, 1, 1, 4 elements: parting after 1 leaves w = 1/2, means 0.2 and 2.8, between
    // 1/4 · 2.6² = 1.69; after 0: w = 0.4, means 0 and 2.5, between 0.24 · 2.5² = 1.5. Variance 1.85.
    let mut histogram = [0; LEVELS];
    histogram[..4].copy_from_slice(&[4, 1, 1, 4]);
    let (threshold, parted) = otsu(&histogram).unwrap();
    assert_eq!(threshold, 1);
    assert!((parted - 1.69 / 1.85).abs() < 1e-12, "{parted}");
    let mut single = [0; LEVELS];
    single[7] = 9;
    assert_eq!(otsu(&single), None);
    // An even spread over a range of 1: the halves lie 1/4 from its middle, 1/16 of a variance of 1/12 (by hand).
    let (_, parted) = otsu(&[7; LEVELS]).unwrap();
    assert!((parted - 0.75).abs() < 1e-4, "{parted}");
}

#[test]
fn crop_blank_and_threshold_are_kept_to() {
    // Left half light, right half dark, with a band in between.
    let drawn = GrayImage::from_fn(200, 100, |column, _| {
        Luma([if column < 100 {
            250
        } else if column < 150 {
            140
        } else {
            10
        }])
    });
    let photo = read(&png(drawn)).unwrap();
    let reading = photo.reading(&Looking { threshold: Some(200), ..Looking::default() }).unwrap();
    assert_eq!((reading.share, reading.threshold), (Decimal::new(5, 1), 200));
    // sRGB 140 is 0.26 of full light (IEC 61966-2-1), level 67.
    let reading = photo.reading(&Looking { threshold: Some(60), ..Looking::default() }).unwrap();
    assert_eq!(reading.share, Decimal::new(75, 2));
    assert_eq!((reading.histogram[67], reading.counted), (5_000, 20_000));
    let crop = Some(Crop { left: 100, top: 0, width: 100, height: 50 });
    let reading = photo.reading(&Looking { crop, ..Looking::default() }).unwrap();
    assert_eq!((reading.share, reading.width, reading.height), (Decimal::new(5, 1), 100, 50));
    assert_eq!(reading.picture.len(), 100 * 50 * 4);
    assert_eq!((&reading.picture[..4], &reading.picture[99 * 4..100 * 4]), (&[255; 4][..], &[0, 0, 0, 255][..]));
    // A disc in the middle: π/4 of the square around it is counted.
    let blank = Some(Outline::Disc { diameter_mm: Decimal::from(30) });
    let reading = photo.reading(&Looking { blank, ..Looking::default() }).unwrap();
    let truth = PI / 4.0 * 10_000.0;
    assert!((f64::from(u32::try_from(reading.counted).unwrap()) - truth).abs() < 0.005 * truth, "{}", reading.counted);
    assert_eq!(&reading.picture[..4], &[128, 128, 128, 255]);
    for crop in [Crop { left: 150, top: 0, width: 51, height: 10 }, Crop { left: 0, top: 0, width: 0, height: 10 }] {
        let refused = photo.reading(&Looking { crop: Some(crop), ..Looking::default() }).unwrap_err();
        assert!(matches!(refused, PhotoProblem::Crop { .. }), "{refused}");
    }
}

#[test]
fn a_large_photo_is_averaged_as_light() {
    // Chequered in single pixels: half the light, level 128, whatever the averaging.
    let drawn = GrayImage::from_fn(4_002, 40, |column, row| {
        Luma([if column >= 2_001 {
            0
        } else if (column + row) % 2 == 0 {
            255
        } else {
            0
        }])
    });
    let photo = read(&png(drawn)).unwrap();
    assert_eq!(photo.measured(), (1_334, 14, 3));
    let reading = photo.reading(&Looking::default()).unwrap();
    assert!((reading.share - Decimal::new(5, 1)).abs() < Decimal::new(5, 3), "{}", reading.share);
}

#[test]
fn what_is_see_through_is_not_counted() {
    let drawn = RgbaImage::from_fn(90, 30, |column, _| match column / 30 {
        0 => Rgba([255, 255, 255, 255]),
        1 => Rgba([0, 0, 0, 255]),
        _ => Rgba([255, 255, 255, 0]),
    });
    let reading = read(&png(drawn)).unwrap().reading(&Looking::default()).unwrap();
    assert_eq!((reading.share, reading.counted), (Decimal::new(5, 1), 1_800));
    assert_eq!(reading.remarks, [Remark::SeeThrough]);
}

#[test]
fn what_is_no_photo_is_refused_in_words() {
    assert_eq!(read(b"a recipe for blue"), Err(PhotoProblem::NoPicture));
    assert_eq!(read(&png(GrayImage::new(20, 20))[..60]), Err(PhotoProblem::NoPicture));
    assert_eq!(read(&png(GrayImage::new(MOST_SIDE + 1, 2))), Err(PhotoProblem::TooWide));
    let plain = read(&png(GrayImage::new(20, 20))).unwrap();
    assert_eq!(plain.reading(&Looking::default()), Err(PhotoProblem::Flat));
    let small = read(&png(GrayImage::new(3, 3))).unwrap();
    assert_eq!(small.reading(&Looking::default()), Err(PhotoProblem::Nothing));
}

proptest! {
    #[test]
    fn light_and_dark_openings_make_a_whole(levels in proptest::collection::vec(any::<u8>(), 64..256), threshold in any::<u8>()) {
        let width = u32::try_from(levels.len()).unwrap();
        let drawn = GrayImage::from_raw(width, 1, levels).unwrap();
        let photo = read(&png(drawn)).unwrap();
        let of = |open| photo.reading(&Looking { threshold: Some(threshold), open, ..Looking::default() });
        if let (Ok(light), Ok(dark)) = (of(Open::Light), of(Open::Dark)) {
            prop_assert!((light.share + dark.share - Decimal::ONE).abs() <= Decimal::new(1, 4));
            prop_assert_eq!(light.counted, u64::from(width));
        }
    }

    #[test]
    fn bytes_of_any_kind_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let _ = read(&bytes);
        let mut begun = png(GrayImage::new(16, 16));
        let at = bytes.len() % begun.len();
        begun.truncate(at);
        begun.extend(&bytes);
        let _ = read(&begun);
    }
}
