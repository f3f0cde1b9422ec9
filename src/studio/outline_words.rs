//! An outline in a line of words, as the command line and spreadsheets have it: `disc 30`, `polygon 0,0 30,0 15,26`.

use super::outline::Outline;
use crate::measure::Decimal;

/// What [`read`] takes.
pub const ACCEPTED: &str = "disc DIAMETER, ellipse LENGTH WIDTH, rectangle LENGTH WIDTH [CORNER], drop HEIGHT WIDTH, \
     polygon X,Y X,Y X,Y … or path SVG are accepted, in mm";

/// The outline of a line of words; lengths in mm with a decimal point.
///
/// # Errors
/// A sentence with what was given and what is accepted. Whether the figures make an outline is not looked at.
pub fn read(text: &str) -> Result<Outline, String> {
    let refused = || format!("{text:?} was given; {ACCEPTED}");
    let number = |text: &str| Decimal::from_str_exact(text).map_err(|_| refused());
    let (shape, rest) = text.trim().split_once(char::is_whitespace).ok_or_else(refused)?;
    let rest = rest.trim();
    if shape == "path" {
        return Ok(Outline::Path { svg: rest.to_owned() });
    }
    if shape == "polygon" {
        let corner = |pair: &str| {
            let (x, y) = pair.split_once(',').ok_or_else(refused)?;
            Ok([number(x)?, number(y)?])
        };
        return Ok(Outline::Polygon { points_mm: rest.split_whitespace().map(corner).collect::<Result<_, String>>()? });
    }
    let figures: Vec<Decimal> = rest.split_whitespace().map(number).collect::<Result<_, _>>()?;
    match (shape, figures.as_slice()) {
        ("disc", &[diameter_mm]) => Ok(Outline::Disc { diameter_mm }),
        ("ellipse", &[length_mm, width_mm]) => Ok(Outline::Ellipse { length_mm, width_mm }),
        ("rectangle", &[length_mm, width_mm]) => {
            Ok(Outline::Rectangle { length_mm, width_mm, corner_mm: Decimal::ZERO })
        }
        ("rectangle", &[length_mm, width_mm, corner_mm]) => Ok(Outline::Rectangle { length_mm, width_mm, corner_mm }),
        ("drop", &[height_mm, width_mm]) => Ok(Outline::Drop { height_mm, width_mm }),
        _ => Err(refused()),
    }
}

/// The line of words that [`read`] gives the same outline for.
pub fn write(outline: &Outline) -> String {
    match outline {
        Outline::Disc { diameter_mm } => format!("disc {diameter_mm}"),
        Outline::Ellipse { length_mm, width_mm } => format!("ellipse {length_mm} {width_mm}"),
        Outline::Rectangle { length_mm, width_mm, corner_mm } if corner_mm.is_zero() => {
            format!("rectangle {length_mm} {width_mm}")
        }
        Outline::Rectangle { length_mm, width_mm, corner_mm } => {
            format!("rectangle {length_mm} {width_mm} {corner_mm}")
        }
        Outline::Drop { height_mm, width_mm } => format!("drop {height_mm} {width_mm}"),
        Outline::Polygon { points_mm } => {
            let corners: Vec<String> = points_mm.iter().map(|[x, y]| format!("{x},{y}")).collect();
            format!("polygon {}", corners.join(" "))
        }
        Outline::Path { svg } => format!("path {svg}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_outline_is_read_as_it_is_written() {
        for text in [
            "disc 30",
            "ellipse 40 25.5",
            "rectangle 40 20",
            "rectangle 40 20 3",
            "drop 40 25",
            "polygon 0,0 30,0 15,-26.5",
            "path M 0 0 L 10 0 L 5 8 Z",
        ] {
            assert_eq!(write(&read(text).unwrap()), text);
        }
        for wrong in ["disc", "disc x", "disc 1 2", "square 3", "polygon 1 2", ""] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
    }
}
