//! Shaping: text to glyphs, broken into lines that fit.
//!
//! Only the faces of [`super::fonts`] take part, so every machine gets the same lines. A character the built-in family
//! has no glyph for is taken from the Japanese type, where that is at hand.

use super::fonts::{self, Japanese};
use super::page::{Face, Glyph, MM_PER_POINT};
use super::warning::PaperProblem;
use crate::studio::Language;
use cosmic_text::{
    Align, Attrs, AttrsList, Family, FontSystem, LayoutLine, ShapeLine, Shaping, Style, Weight, Wrap, fontdb,
};
use std::collections::{BTreeSet, HashMap};
use std::rc::Rc;
use std::sync::Arc;

/// Characters of a text that are looked at; what comes after could not be printed on any label.
const MOST_CHARACTERS: usize = 2_000;
/// Marks that may stand on one letter; more would climb out of the line.
const MOST_MARKS: usize = 2;
/// Shaped texts kept for the next label.
const MOST_KEPT: usize = 4_096;
/// The size one-line measures are kept at, in points.
const UNIT_PT: f64 = 100.0;
/// Slack when a line is compared with its width, in millimetres.
const SLACK_MM: f64 = 0.002;

/// Shapes text; keeps what it has shaped.
pub struct Shaper {
    system: FontSystem,
    ids: Vec<(fontdb::ID, Face)>,
    faces: Vec<(Face, ttf_parser::Face<'static>)>,
    kept: HashMap<(Face, String), Rc<Shaped>>,
}

impl std::fmt::Debug for Shaper {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Shaper").field("kept", &self.kept.len()).finish_non_exhaustive()
    }
}

/// A text shaped at no particular size.
#[derive(Debug)]
pub(super) struct Shaped {
    /// The text that can be printed: spaces collapsed, characters without a glyph left out.
    pub(super) text: String,
    /// Characters left out.
    pub(super) missing: BTreeSet<char>,
    /// The text was longer than is looked at.
    pub(super) shortened: bool,
    line: Option<ShapeLine>,
    /// All of it on one line at [`UNIT_PT`]; a line's measures grow with its size.
    unit: Option<Line>,
}

/// A line at a size.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) glyphs: Arc<[Glyph]>,
    pub(super) width_mm: f64,
    /// Where the line ends in the text, in bytes.
    end: usize,
    /// The line ends inside a word.
    pub(super) breaks_word: bool,
}

/// A text in its lines.
#[derive(Debug, Clone)]
pub(super) struct Fitted {
    pub(super) lines: Vec<Line>,
    /// Some of the text is gone.
    pub(super) cut: bool,
}

impl Line {
    fn scaled(&self, factor: f64) -> Self {
        let glyphs = self
            .glyphs
            .iter()
            .map(|glyph| Glyph { x_mm: glyph.x_mm * factor, rise_mm: glyph.rise_mm * factor, ..glyph.clone() })
            .collect();
        Self { glyphs, width_mm: self.width_mm * factor, ..*self }
    }
}

impl Default for Shaper {
    fn default() -> Self {
        Self::new()
    }
}

impl Shaper {
    /// A shaper with the built-in faces.
    pub fn new() -> Self {
        Self::of(&Face::ALL)
    }

    /// A shaper that sets Japanese too.
    pub fn with_japanese(_at_hand: Japanese) -> Self {
        let mut faces = Face::ALL.to_vec();
        faces.extend(Face::JAPANESE);
        Self::of(&faces)
    }

    /// Whether it has the letters of a language.
    ///
    /// # Errors
    /// For Japanese, where the type for it was not handed over.
    pub fn can_write(&self, language: Language) -> Result<(), PaperProblem> {
        if language != Language::Japanese || self.faces.iter().any(|(face, _)| *face == Face::Japanese) {
            return Ok(());
        }
        Err(PaperProblem::NoJapaneseType {
            files: fonts::JAPANESE_FILES.join(" and "),
            places: "the folder of the program".to_owned(),
        })
    }

    fn of(wanted: &[Face]) -> Self {
        let mut database = fontdb::Database::new();
        let mut ids = Vec::new();
        let mut faces = Vec::new();
        for face in wanted.iter().copied() {
            let loaded = database.load_font_source(fontdb::Source::Binary(Arc::new(face.bytes())));
            ids.extend(loaded.iter().map(|id| (*id, face)));
            faces.extend(ttf_parser::Face::parse(face.bytes(), 0).ok().map(|parsed| (face, parsed)));
        }
        let system = FontSystem::new_with_locale_and_db("en".to_owned(), database);
        Self { system, ids, faces, kept: HashMap::new() }
    }

    /// Shapes a text in a face, or finds it among those shaped before.
    pub(super) fn shape(&mut self, face: Face, text: &str) -> Rc<Shaped> {
        let key = (face, text.to_owned());
        if let Some(shaped) = self.kept.get(&key) {
            return Rc::clone(shaped);
        }
        if self.kept.len() >= MOST_KEPT {
            self.kept.clear();
        }
        let shaped = Rc::new(self.shape_anew(face, text));
        self.kept.insert(key, Rc::clone(&shaped));
        shaped
    }

    fn shape_anew(&mut self, face: Face, text: &str) -> Shaped {
        let mut missing = BTreeSet::new();
        let shortened = text.chars().nth(MOST_CHARACTERS).is_some();
        let mut text = clean(text, &mut missing);
        // Leaving characters out can bring others together that have no glyph as a pair, so look again.
        for _ in 0..4 {
            if text.is_empty() {
                break;
            }
            let line = self.shape_line(face, &text);
            let bad = clusters_without_glyph(&line);
            if bad.is_empty() {
                let mut shaped = Shaped { text, missing, shortened, line: Some(line), unit: None };
                shaped.unit = self.lines_of(&shaped, face, UNIT_PT, 1.0e6).into_iter().next();
                return shaped;
            }
            text = self.without(face, &text, &bad, &mut missing);
        }
        missing.extend(text.chars().filter(|character| !character.is_whitespace()));
        Shaped { text: String::new(), missing, shortened, line: None, unit: None }
    }

    fn shape_line(&mut self, face: Face, text: &str) -> ShapeLine {
        let attributes = attributes(face);
        let mut list = AttrsList::new(&attributes);
        for (at, character) in text.char_indices() {
            if self.needs_japanese(face, character) {
                list.add_span(at..at + character.len_utf8(), &japanese_attributes(face));
            }
        }
        ShapeLine::new(&mut self.system, text, &list, Shaping::Advanced, 4)
    }

    fn has(&self, face: Face, character: char) -> bool {
        self.faces.iter().any(|(known, parsed)| *known == face && parsed.glyph_index(character).is_some())
    }

    /// The face has no glyph for it, and the Japanese type has.
    fn needs_japanese(&self, face: Face, character: char) -> bool {
        !character.is_ascii()
            && self.faces.len() > Face::ALL.len()
            && !self.has(face, character)
            && self.has(japanese_of(face), character)
    }

    /// The text without the characters of bad clusters that the face has no glyph for.
    fn without(&self, face: Face, text: &str, bad: &BTreeSet<(usize, usize)>, missing: &mut BTreeSet<char>) -> String {
        let has = |character: char| self.has(face, character) || self.needs_japanese(face, character);
        let mut kept = String::with_capacity(text.len());
        for (at, character) in text.char_indices() {
            let cluster = bad.iter().find(|(start, end)| (*start..*end).contains(&at));
            let whole_cluster_known =
                cluster.and_then(|(start, end)| text.get(*start..*end)).is_some_and(|part| part.chars().all(has));
            if cluster.is_some() && (whole_cluster_known || !has(character)) {
                missing.insert(character);
            } else {
                kept.push(character);
            }
        }
        clean(&kept, missing)
    }

    /// The width of a text on one line at a size.
    pub(super) fn width(&mut self, face: Face, text: &str, size_pt: f64) -> Option<f64> {
        self.shape(face, text).unit.as_ref().map(|unit| unit.width_mm * size_pt / UNIT_PT)
    }

    /// The lines of a text at a size and width, as many as it takes.
    pub(super) fn lines(&mut self, face: Face, text: &str, size_pt: f64, width_mm: f64) -> Vec<Line> {
        let shaped = self.shape(face, text);
        self.lines_of(&shaped, face, size_pt, width_mm)
    }

    fn lines_of(&self, shaped: &Shaped, face: Face, size_pt: f64, width_mm: f64) -> Vec<Line> {
        let Some(line) = &shaped.line else { return Vec::new() };
        if let Some(unit) = &shaped.unit
            && unit.width_mm * size_pt / UNIT_PT <= width_mm
        {
            return vec![unit.scaled(size_pt / UNIT_PT)];
        }
        // The shaper works in single precision; a page is far below the size where that shows.
        #[allow(clippy::cast_possible_truncation)]
        let (size, width) = (size_pt as f32, (width_mm.max(0.0) / MM_PER_POINT) as f32);
        line.layout(size, Some(width), Wrap::WordOrGlyph, Some(Align::Left), None)
            .iter()
            .filter_map(|layout| self.line_of(layout, &shaped.text, face))
            .collect()
    }

    fn line_of(&self, layout: &LayoutLine, text: &str, face: Face) -> Option<Line> {
        let inked = layout
            .glyphs
            .iter()
            .rposition(|glyph| text.get(glyph.start..glyph.end).is_some_and(|part| !part.trim().is_empty()))?;
        let laid = layout.glyphs.get(..=inked)?;
        let left = laid.first().map_or(0.0, |glyph| f64::from(glyph.x));
        let mut glyphs = Vec::with_capacity(laid.len());
        let mut at = 0;
        while let Some(first) = laid.get(at) {
            let range = (first.start, first.end);
            let count = laid.get(at..)?.iter().take_while(|glyph| (glyph.start, glyph.end) == range).count();
            let texts = cluster_texts(text.get(first.start..first.end).unwrap_or_default(), count);
            for (glyph, part) in laid.get(at..at + count)?.iter().zip(texts) {
                let size = f64::from(glyph.font_size);
                glyphs.push(Glyph {
                    face: self.ids.iter().find(|(id, _)| *id == glyph.font_id).map_or(face, |(_, known)| *known),
                    id: glyph.glyph_id,
                    x_mm: (f64::from(glyph.x) - left + size * f64::from(glyph.x_offset)) * MM_PER_POINT,
                    rise_mm: (size * f64::from(glyph.y_offset) - f64::from(glyph.y)) * MM_PER_POINT,
                    text: part,
                });
            }
            at += count;
        }
        let width = laid.iter().map(|glyph| f64::from(glyph.x) + f64::from(glyph.w)).fold(0.0, f64::max) - left;
        let end = layout.glyphs.iter().map(|glyph| glyph.end).max().unwrap_or(0);
        let breaks_word = text.get(..end).and_then(|part| part.chars().next_back()).is_some_and(is_of_word)
            && text.get(end..).and_then(|rest| rest.chars().next()).is_some_and(is_of_word);
        Some(Line { glyphs: glyphs.into(), width_mm: width * MM_PER_POINT, end, breaks_word })
    }

    /// A text in at most `most` lines, shortened with an ellipsis where it must be. No lines at all when not even
    /// one character fits.
    pub(super) fn fit(&mut self, face: Face, text: &str, size_pt: f64, width_mm: f64, most: usize) -> Fitted {
        let shaped = self.shape(face, text);
        let lines = self.lines_of(&shaped, face, size_pt, width_mm);
        let fits = |lines: &[Line]| {
            !lines.is_empty() && lines.len() <= most && lines.iter().all(|line| line.width_mm <= width_mm + SLACK_MM)
        };
        if shaped.text.is_empty() {
            return Fitted { lines: Vec::new(), cut: false };
        }
        if fits(&lines) && !shaped.shortened {
            return Fitted { lines, cut: false };
        }
        let limit = most.checked_sub(1).and_then(|last| lines.get(last)).map_or(shaped.text.len(), |line| line.end);
        let stops: Vec<usize> =
            shaped.text.char_indices().map(|(at, _)| at).filter(|at| *at > 0 && *at <= limit).collect();
        // The longest beginning that fits with its ellipsis.
        let (mut low, mut high) = (0, stops.len());
        let mut best = Vec::new();
        while low < high {
            let middle = usize::midpoint(low, high);
            let Some(stop) = stops.get(middle) else { break };
            let start = shaped.text.get(..*stop).unwrap_or_default().trim_end();
            let tried = self.shape_anew(face, &format!("{start}…"));
            let lines = self.lines_of(&tried, face, size_pt, width_mm);
            if fits(&lines) {
                best = lines;
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        Fitted { lines: best, cut: true }
    }

    /// How far the ink of a line reaches at a size, in millimetres: left of its origin, above its baseline, right of its
    /// origin, below its baseline. All of it nothing for a line without ink.
    pub(super) fn reach(&self, line: &Line, size_pt: f64) -> [f64; 4] {
        let mut found: Option<[f64; 4]> = None;
        for glyph in line.glyphs.iter() {
            let Some((_, parsed)) = self.faces.iter().find(|(face, _)| *face == glyph.face) else { continue };
            let Some(bounds) = parsed.glyph_bounding_box(ttf_parser::GlyphId(glyph.id)) else { continue };
            let scale = size_pt * MM_PER_POINT / f64::from(parsed.units_per_em());
            let here = [
                -(glyph.x_mm + f64::from(bounds.x_min) * scale),
                f64::from(bounds.y_max) * scale + glyph.rise_mm,
                glyph.x_mm + f64::from(bounds.x_max) * scale,
                -f64::from(bounds.y_min) * scale - glyph.rise_mm,
            ];
            let [left, above, right, below] = found.unwrap_or(here);
            let [l, a, r, b] = here;
            found = Some([left.max(l), above.max(a), right.max(r), below.max(b)]);
        }
        found.unwrap_or_default()
    }

    /// How far the ink of a line reaches above and below its baseline at a size, in millimetres.
    pub(super) fn ink(&self, line: &Line, size_pt: f64) -> [f64; 2] {
        let mut reach = [0.0_f64, 0.0_f64];
        for glyph in line.glyphs.iter() {
            let Some((_, parsed)) = self.faces.iter().find(|(face, _)| *face == glyph.face) else { continue };
            let Some(bounds) = parsed.glyph_bounding_box(ttf_parser::GlyphId(glyph.id)) else { continue };
            let scale = size_pt * MM_PER_POINT / f64::from(parsed.units_per_em());
            let [above, below] = &mut reach;
            *above = above.max(f64::from(bounds.y_max) * scale + glyph.rise_mm);
            *below = below.max(-f64::from(bounds.y_min) * scale - glyph.rise_mm);
        }
        reach
    }
}

/// One text a glyph: character by character where the counts agree, else all of it with the first glyph.
fn cluster_texts(cluster: &str, glyphs: usize) -> Vec<Arc<str>> {
    // A no-break space copies as a space, so that searching for the words finds them.
    let plain = |text: &str| Arc::from(if text == "\u{a0}" { " " } else { text });
    let letter = |character: char| plain(character.encode_utf8(&mut [0; 4]));
    if cluster.chars().count() == glyphs {
        cluster.chars().map(letter).collect()
    } else if glyphs > 1 && cluster.chars().count() > glyphs {
        // A letter that took up some of its marks: the rest of the marks have glyphs of their own.
        let taken = cluster.chars().count() - glyphs + 1;
        let first: String = cluster.chars().take(taken).collect();
        std::iter::once(Arc::from(first)).chain(cluster.chars().skip(taken).map(letter)).collect()
    } else {
        std::iter::once(plain(cluster)).chain(std::iter::repeat_with(|| Arc::from(""))).take(glyphs).collect()
    }
}

fn attributes(face: Face) -> Attrs<'static> {
    Attrs::new()
        .family(Family::Name(fonts::FAMILY))
        .weight(match face {
            Face::Regular | Face::Italic | Face::Japanese => Weight::NORMAL,
            Face::Semibold => Weight::SEMIBOLD,
            Face::Bold | Face::JapaneseBold => Weight::BOLD,
        })
        .style(if face == Face::Italic { Style::Italic } else { Style::Normal })
}

/// The Japanese face that goes with a face; Japanese has no slanted one.
const fn japanese_of(face: Face) -> Face {
    match face {
        Face::Regular | Face::Italic | Face::Japanese => Face::Japanese,
        Face::Semibold | Face::Bold | Face::JapaneseBold => Face::JapaneseBold,
    }
}

fn japanese_attributes(face: Face) -> Attrs<'static> {
    Attrs::new().family(Family::Name(fonts::JAPANESE_FAMILY)).weight(match japanese_of(face) {
        Face::JapaneseBold => Weight::BOLD,
        _ => Weight::NORMAL,
    })
}

fn clusters_without_glyph(line: &ShapeLine) -> BTreeSet<(usize, usize)> {
    line.spans
        .iter()
        .flat_map(|span| &span.words)
        .flat_map(|word| &word.glyphs)
        .filter(|glyph| glyph.glyph_id == 0)
        .map(|glyph| (glyph.start, glyph.end))
        .collect()
}

/// A letter or figure that is parted from its neighbours only at a space; Japanese is parted between any two.
fn is_of_word(character: char) -> bool {
    character.is_alphanumeric() && u32::from(character) < 0x2e80
}

fn is_mark(character: char) -> bool {
    matches!(u32::from(character),
        0x0300..=0x036f | 0x0483..=0x0489 | 0x0591..=0x05bd | 0x064b..=0x065f | 0x1ab0..=0x1aff
        | 0x1dc0..=0x1dff | 0x20d0..=0x20ff | 0xfe20..=0xfe2f)
}

/// Letters of scripts that read from right to left, by their blocks (Unicode standard annex 9, table 4: classes R and AL).
/// The Japanese type has some of them, but no paper is written in them, and their pen would run off the page to the left.
fn reads_leftwards(character: char) -> bool {
    matches!(
        u32::from(character),
        0x0590..=0x08ff | 0xfb1d..=0xfdff | 0xfe70..=0xfeff | 0x1_0800..=0x1_0fff | 0x1_e800..=0x1_efff
    )
}

/// Characters that have no shape of their own: joiners, direction marks, variation selectors, tags, soft hyphen.
fn is_invisible(character: char) -> bool {
    matches!(u32::from(character),
        0x00ad | 0x034f | 0x061c | 0x115f..=0x1160 | 0x17b4..=0x17b5 | 0x180b..=0x180f | 0x200b..=0x200f
        | 0x202a..=0x202e | 0x2060..=0x206f | 0xfe00..=0xfe0f | 0xfeff | 0xfff0..=0xfffb | 0xe0000..=0xe0fff)
}

/// The text on one line: every kind of white space and control becomes one space, invisible characters go, marks are
/// limited.
fn clean(text: &str, missing: &mut BTreeSet<char>) -> String {
    let mut kept = String::with_capacity(text.len().min(MOST_CHARACTERS * 4));
    let mut marks = 0;
    for character in text.chars().take(MOST_CHARACTERS) {
        if is_invisible(character) {
            continue;
        }
        if reads_leftwards(character) {
            missing.insert(character);
            continue;
        }
        if matches!(character, '\u{a0}' | '\u{202f}' | '\u{2007}') {
            kept.push('\u{a0}');
            marks = 0;
        } else if character.is_whitespace() || character.is_control() {
            if !kept.is_empty() && !kept.ends_with(' ') {
                kept.push(' ');
            }
            marks = 0;
        } else if is_mark(character) {
            marks += 1;
            if marks <= MOST_MARKS && !kept.is_empty() {
                kept.push(character);
            } else {
                missing.insert(character);
            }
        } else {
            kept.push(character);
            marks = 0;
        }
    }
    kept.trim().to_owned()
}
