//! The fields beside the paper: raw texts, read on every change into the paper as it is drawn.

use crate::measure::{Decimal, LengthUnit, ParseProblem, Preferences, edit, parse};
use crate::studio::{Fold, Ink, PaperDesign, Pinned, SymbolOf, What};
use crate::window::widget::Entry;
use std::collections::BTreeMap;

/// A field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// The paper's name.
    Name,
    /// The paper's width.
    PaperWidth,
    /// The paper's height.
    PaperHeight,
    /// The radius of its corners.
    Corner,
    /// Where it is folded.
    Fold,
    /// A hole's centre from the left.
    HoleAcross(usize),
    /// A hole's centre from the top.
    HoleDown(usize),
    /// A hole's diameter.
    HoleDiameter(usize),
    /// Left edge of the selected thing.
    Left,
    /// Its top edge.
    Top,
    /// Its width.
    Width,
    /// Its height.
    Height,
    /// Her words.
    Words,
    /// The text a symbol holds.
    Holds,
    /// The largest size of type.
    Most,
    /// The smallest.
    Least,
    /// Most lines.
    Lines,
    /// A colour of hers, six digits of base 16.
    Colour,
}

impl Field {
    /// The name the focus is sent to.
    pub fn id(self) -> String {
        match self {
            Self::HoleAcross(hole) => format!("pinning-hole-across-{hole}"),
            Self::HoleDown(hole) => format!("pinning-hole-down-{hole}"),
            Self::HoleDiameter(hole) => format!("pinning-hole-diameter-{hole}"),
            other => format!("pinning-{other:?}").to_lowercase(),
        }
    }

    /// Its label.
    pub(super) const fn label(self) -> &'static str {
        match self {
            Self::Name => "Name",
            Self::PaperWidth | Self::Width => "Width",
            Self::PaperHeight | Self::Height => "Height",
            Self::Corner => "Corner",
            Self::Fold => "Fold at",
            Self::HoleAcross(_) => "Across",
            Self::HoleDown(_) => "Down",
            Self::HoleDiameter(_) => "Diameter",
            Self::Left => "From the left",
            Self::Top => "From the top",
            Self::Words => "Words",
            Self::Holds => "Text it holds",
            Self::Most => "At most",
            Self::Least => "At least",
            Self::Lines => "Lines",
            Self::Colour => "Colour",
        }
    }

    /// Its unit.
    pub(super) const fn unit(self) -> &'static str {
        match self {
            Self::Name | Self::Words | Self::Holds | Self::Lines => "",
            Self::Most | Self::Least => "pt",
            Self::Colour => "RRGGBB",
            _ => "mm",
        }
    }
}

/// Bare numbers are millimetres here, whatever Setup says.
fn in_millimetres(preferences: &Preferences) -> Preferences {
    Preferences { length: LengthUnit::Millimetre, ..*preferences }
}

/// The texts of the fields.
#[derive(Debug, Default)]
pub(super) struct Fields {
    entries: BTreeMap<Field, Entry>,
    problems: BTreeMap<Field, String>,
}

impl Fields {
    /// Fills every field in but the one being typed in.
    pub(super) fn fill(
        &mut self,
        paper: &PaperDesign,
        selected: Option<usize>,
        typing: Option<Field>,
        preferences: &Preferences,
    ) {
        let kept = typing.and_then(|field| self.entries.remove(&field).map(|entry| (field, entry)));
        self.problems.retain(|field, _| Some(*field) == typing);
        self.entries =
            texts(paper, selected, preferences).into_iter().map(|(field, text)| (field, Entry::new(text))).collect();
        if let Some((field, entry)) = kept {
            let _ = self.entries.insert(field, entry);
        }
    }

    pub(super) fn text(&self, field: Field) -> &str {
        self.entries.get(&field).map_or("", Entry::text)
    }

    pub(super) fn problem(&self, field: Field) -> Option<&str> {
        self.problems.get(&field).map(String::as_str)
    }

    /// A field holds something that cannot be read.
    pub(super) fn are_wrong(&self) -> bool {
        !self.problems.is_empty()
    }

    /// Takes what was typed; the paper with it where it can be read.
    pub(super) fn type_in(
        &mut self,
        field: Field,
        text: String,
        paper: &PaperDesign,
        selected: Option<usize>,
        preferences: &Preferences,
    ) -> Option<PaperDesign> {
        let mut changed = paper.clone();
        let read = write(field, &text, &mut changed, selected, &in_millimetres(preferences));
        self.entries.entry(field).or_default().type_in(text);
        match read {
            Ok(()) => {
                let _ = self.problems.remove(&field);
                Some(changed)
            }
            Err(problem) => {
                let _ = self.problems.insert(field, problem);
                None
            }
        }
    }
}

fn texts(paper: &PaperDesign, selected: Option<usize>, preferences: &Preferences) -> Vec<(Field, String)> {
    let number = |value: Decimal| edit::edit_number(value, preferences);
    let mut texts = vec![
        (Field::Name, paper.name.clone()),
        (Field::PaperWidth, number(paper.width_mm)),
        (Field::PaperHeight, number(paper.height_mm)),
        (Field::Corner, number(paper.corner_mm)),
    ];
    if let Some(Fold::Upright(at) | Fold::Across(at)) = paper.fold {
        texts.push((Field::Fold, number(at)));
    }
    for (place, hole) in paper.holes.iter().enumerate() {
        texts.push((Field::HoleAcross(place), number(hole.x_mm)));
        texts.push((Field::HoleDown(place), number(hole.y_mm)));
        texts.push((Field::HoleDiameter(place), number(hole.diameter_mm)));
    }
    let Some(thing) = selected.and_then(|place| paper.pinned.get(place)) else { return texts };
    texts.extend([
        (Field::Left, number(thing.x_mm)),
        (Field::Top, number(thing.y_mm)),
        (Field::Width, number(thing.width_mm)),
        (Field::Height, number(thing.height_mm)),
        (Field::Most, number(thing.set.most_pt)),
        (Field::Least, number(thing.set.least_pt)),
        (Field::Lines, thing.set.lines.to_string()),
    ]);
    match &thing.what {
        What::Words(words) => texts.push((Field::Words, words.clone())),
        What::Symbol { of: SymbolOf::Text(text), .. } => texts.push((Field::Holds, text.clone())),
        _ => {}
    }
    if let Ink::Own([red, green, blue]) = thing.set.ink {
        texts.push((Field::Colour, format!("{red:02x}{green:02x}{blue:02x}")));
    }
    texts
}

fn told<T>(read: Result<T, ParseProblem>) -> Result<T, String> {
    read.map_err(|problem| problem.to_string())
}

/// A length in a range, both ends accepted.
fn length(text: &str, [least, most]: [Decimal; 2], preferences: &Preferences) -> Result<Decimal, String> {
    let value = told(parse::parse_length_mm(text, preferences))?;
    if value < least || value > most {
        return Err(format!("{} mm was typed; {least} to {most} mm is accepted", text.trim()));
    }
    Ok(value)
}

fn write(
    field: Field,
    text: &str,
    paper: &mut PaperDesign,
    selected: Option<usize>,
    preferences: &Preferences,
) -> Result<(), String> {
    let range = |least: i64, most: i64| [Decimal::from(least), Decimal::from(most)];
    let tenth = Decimal::new(1, 1);
    match field {
        Field::Name => text.clone_into(&mut paper.name),
        Field::PaperWidth => paper.width_mm = length(text, range(8, 420), preferences)?,
        Field::PaperHeight => paper.height_mm = length(text, range(6, 420), preferences)?,
        Field::Corner => {
            let most = crate::paper::arrange::most_corner(paper);
            paper.corner_mm = length(text, [Decimal::ZERO, most], preferences)?;
        }
        Field::Fold => match &mut paper.fold {
            Some(Fold::Upright(at)) => {
                *at = length(text, [tenth, paper.width_mm.saturating_sub(tenth)], preferences)?;
            }
            Some(Fold::Across(at)) => {
                *at = length(text, [tenth, paper.height_mm.saturating_sub(tenth)], preferences)?;
            }
            None => {}
        },
        Field::HoleAcross(hole) | Field::HoleDown(hole) | Field::HoleDiameter(hole) => {
            let (width, height) = (paper.width_mm, paper.height_mm);
            let Some(hole) = paper.holes.get_mut(hole) else { return Ok(()) };
            match field {
                Field::HoleAcross(_) => {
                    hole.x_mm = length(text, [tenth, width.saturating_sub(tenth)], preferences)?;
                }
                Field::HoleDown(_) => {
                    hole.y_mm = length(text, [tenth, height.saturating_sub(tenth)], preferences)?;
                }
                _ => hole.diameter_mm = length(text, [tenth, width.min(height)], preferences)?,
            }
        }
        _ => {
            let Some(thing) = selected.and_then(|place| paper.pinned.get_mut(place)) else { return Ok(()) };
            write_thing(field, text, thing, preferences)?;
        }
    }
    Ok(())
}

fn write_thing(field: Field, text: &str, thing: &mut Pinned, preferences: &Preferences) -> Result<(), String> {
    let tenth = Decimal::new(1, 1);
    let far = Decimal::from(420);
    match field {
        Field::Left => thing.x_mm = length(text, [Decimal::ZERO, far], preferences)?,
        Field::Top => thing.y_mm = length(text, [Decimal::ZERO, far], preferences)?,
        Field::Width => thing.width_mm = length(text, [tenth, far], preferences)?,
        Field::Height => thing.height_mm = length(text, [tenth, far], preferences)?,
        Field::Most | Field::Least => {
            let points = told(parse::parse_number(text.trim_end_matches("pt"), preferences))?;
            if points < Decimal::from(4) || points > Decimal::from(400) {
                return Err(format!("{} pt was typed; 4 to 400 pt is accepted", text.trim()));
            }
            if field == Field::Most {
                if points < thing.set.least_pt {
                    return Err(format!("{points} pt is below the smallest, {} pt", thing.set.least_pt));
                }
                thing.set.most_pt = points;
            } else {
                if points > thing.set.most_pt {
                    return Err(format!("{points} pt is above the largest, {} pt", thing.set.most_pt));
                }
                thing.set.least_pt = points;
            }
        }
        Field::Lines => thing.set.lines = told(parse::parse_count(text, 1..=100, preferences))?,
        Field::Words => {
            if let What::Words(words) = &mut thing.what {
                text.clone_into(words);
            }
        }
        Field::Holds => {
            if let What::Symbol { of: SymbolOf::Text(held), .. } = &mut thing.what {
                text.clone_into(held);
            }
        }
        Field::Colour => {
            let digits = text.trim().trim_start_matches('#');
            let part = |at: usize| digits.get(at..at + 2).and_then(|two| u8::from_str_radix(two, 16).ok());
            match (digits.len(), part(0), part(2), part(4)) {
                (6, Some(red), Some(green), Some(blue)) => thing.set.ink = Ink::Own([red, green, blue]),
                _ => return Err(format!("{} was typed; six digits 0–9, a–f are accepted, e.g. 7a3b2e", text.trim())),
            }
        }
        _ => {}
    }
    Ok(())
}
