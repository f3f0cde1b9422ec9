//! An SVG file checked against its limits and written anew with nothing but shapes and what places them.

use super::{OutlineFileProblem, Remark};
use std::collections::HashMap;
use usvg::roxmltree::{Document, Node, ParsingOptions};

/// Most elements of the file, and most shapes and groups once every `use` is followed.
const MOST_ELEMENTS: usize = 20_000;
/// Most bytes of path data once every `use` is followed.
const MOST_PATH_BYTES: usize = 8_000_000;
/// Deepest nesting, `use` included.
const DEEPEST: usize = 100;
/// Most bytes of style sheets.
const MOST_STYLE_BYTES: usize = 32_000;
/// Most bytes of a document type with entities, and most references in such a file.
const MOST_ENTITY_BYTES: usize = 4_000;
const MOST_REFERENCES: usize = 64;

/// Shapes are drawn this much larger and scaled back: the reader turns arcs into curves to a tenth of a unit.
const MAGNIFIED: f64 = 10_000.0;
const SCALED_BACK: &str = "scale(0.0001)";

/// What the root's width and height say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Size {
    /// Nothing.
    None,
    /// Pixels.
    Pixels,
    /// A length.
    Length,
}

/// The file written anew.
#[derive(Debug)]
pub(super) struct Plain {
    pub(super) svg: String,
    pub(super) size: Size,
    pub(super) remarks: Vec<Remark>,
}

/// Checks a file and writes it anew.
pub(super) fn plain(text: &str) -> Result<Plain, OutlineFileProblem> {
    refuse_entities(text)?;
    let options = ParsingOptions { allow_dtd: true, nodes_limit: 10 * 20_000, ..ParsingOptions::default() };
    let document =
        Document::parse_with_options(text, options).map_err(|error| OutlineFileProblem::NotSvg(error.to_string()))?;
    let root = document.root_element();
    if !is_svg(root, "svg") {
        return Err(OutlineFileProblem::NotSvg(format!(
            "its first element is {:?}; accepted is svg",
            root.tag_name().name()
        )));
    }
    refuse_excess(&document)?;
    let mut writer = Writer::default();
    writer.element(root, true)?;
    let mut remarks = Vec::new();
    let counted = [
        (writer.texts, Remark::Texts as fn(usize) -> Remark),
        (writer.pictures, Remark::Pictures),
        (writer.effects, Remark::Effects),
    ];
    remarks.extend(counted.into_iter().filter(|(count, _)| *count > 0).map(|(count, remark)| remark(count)));
    if writer.styled_transforms {
        remarks.push(Remark::StyledTransforms);
    }
    Ok(Plain { svg: writer.svg, size: size(root), remarks })
}

fn refused(what: String, accepted: &'static str) -> OutlineFileProblem {
    OutlineFileProblem::Refused { what, accepted }
}

/// Entities multiply: a file that declares some may be small only.
fn refuse_entities(text: &str) -> Result<(), OutlineFileProblem> {
    let Some(start) = text.find("<!DOCTYPE") else { return Ok(()) };
    let declared = text.get(start..).unwrap_or_default();
    if !declared.contains("<!ENTITY") {
        return Ok(());
    }
    let length = declared.find("]>").unwrap_or(declared.len());
    let references = text.bytes().filter(|byte| *byte == b'&').count();
    if length > MOST_ENTITY_BYTES || references > MOST_REFERENCES {
        return Err(refused(
            format!("it declares entities in {length} bytes and has {references} references"),
            "are files without entities, or with few and short ones",
        ));
    }
    Ok(())
}

fn is_svg(node: Node<'_, '_>, name: &str) -> bool {
    node.is_element() && matches!(node.tag_name().namespace(), None | Some(SVG)) && node.tag_name().name() == name
}

const SVG: &str = "http://www.w3.org/2000/svg";
const XLINK: &str = "http://www.w3.org/1999/xlink";

/// Walks the drawing as it is once every `use` is followed, and refuses what is too much.
fn refuse_excess(document: &Document<'_>) -> Result<(), OutlineFileProblem> {
    let elements = document.descendants().filter(Node::is_element).count();
    if elements > MOST_ELEMENTS {
        return Err(refused(format!("it has {elements} elements"), "are at most 20000"));
    }
    let style: usize = document
        .descendants()
        .filter(|node| is_svg(*node, "style"))
        .flat_map(|node| node.children())
        .filter_map(|node| node.text())
        .map(str::len)
        .sum();
    if style > MOST_STYLE_BYTES {
        return Err(refused(format!("its style sheets have {style} bytes"), "are at most 32000"));
    }
    let mut named: HashMap<&str, Node<'_, '_>> = HashMap::new();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            named.entry(id).or_insert(node);
        }
    }
    let mut waiting = vec![(document.root_element(), 1_usize)];
    let (mut count, mut bytes) = (0_usize, 0_usize);
    while let Some((node, depth)) = waiting.pop() {
        count += 1;
        bytes += node.attribute("d").map_or(0, str::len) + node.attribute("points").map_or(0, str::len);
        if depth > DEEPEST {
            return Err(refused(format!("its elements are nested more than {DEEPEST} deep"), "is nesting up to 100"));
        }
        if count > MOST_ELEMENTS || bytes > MOST_PATH_BYTES {
            return Err(refused(
                "it draws more than can be followed once every use is counted".to_owned(),
                "are at most 20000 elements and 8 MB of path data",
            ));
        }
        if is_svg(node, "use") {
            let target = link(node).and_then(|href| href.strip_prefix('#')).and_then(|id| named.get(id));
            waiting.extend(target.map(|target| (*target, depth + 1)));
        } else {
            waiting.extend(node.children().filter(Node::is_element).map(|child| (child, depth + 1)));
        }
    }
    Ok(())
}

fn link<'a>(node: Node<'a, '_>) -> Option<&'a str> {
    node.attribute("href").or_else(|| node.attribute((XLINK, "href"))).map(str::trim)
}

fn size(root: Node<'_, '_>) -> Size {
    use svgtypes::LengthUnit;
    let units = ["width", "height"].into_iter().filter_map(|side| {
        let length: svgtypes::Length = root.attribute(side)?.trim().parse().ok()?;
        match length.unit {
            LengthUnit::Percent | LengthUnit::Em | LengthUnit::Ex => None,
            LengthUnit::None | LengthUnit::Px => Some(Size::Pixels),
            LengthUnit::Mm | LengthUnit::Cm | LengthUnit::In | LengthUnit::Pt | LengthUnit::Pc => Some(Size::Length),
        }
    });
    units.fold(Size::None, |found, unit| if unit == Size::Length || found == Size::None { unit } else { found })
}

/// Attributes of groups, `use` and the root that place what is in them or say whether it is drawn.
const PLACING: [&str; 23] = [
    "id",
    "class",
    "transform",
    "transform-origin",
    "x",
    "y",
    "width",
    "height",
    "viewBox",
    "preserveAspectRatio",
    "display",
    "visibility",
    "fill",
    "stroke",
    "stroke-width",
    "color",
    "font-size",
    "requiredFeatures",
    "requiredExtensions",
    "systemLanguage",
    "opacity",
    "version",
    "overflow",
];
/// Attributes of a shape that its own element keeps beside its measures; the rest goes on the group around it.
const SHOWING: [&str; 5] = ["class", "fill", "stroke", "stroke-width", "color"];

#[derive(Debug, Default)]
struct Writer {
    svg: String,
    texts: usize,
    pictures: usize,
    effects: usize,
    styled_transforms: bool,
}

impl Writer {
    fn element(&mut self, node: Node<'_, '_>, root: bool) -> Result<(), OutlineFileProblem> {
        let name = node.tag_name().name();
        if !is_svg(node, name) {
            return Ok(());
        }
        match name {
            "svg" | "g" | "a" | "defs" | "symbol" | "use" | "switch" => {
                self.note_effects(node);
                self.open(if name == "a" { "g" } else { name });
                if root {
                    self.attribute("xmlns", SVG);
                }
                self.placing(node, &[]);
                if name == "use" {
                    if let Some(href) = link(node) {
                        self.attribute("href", href);
                    }
                    self.svg.push_str("/>");
                    return Ok(());
                }
                self.svg.push('>');
                for child in node.children().filter(Node::is_element) {
                    self.element(child, false)?;
                }
                self.close(if name == "a" { "g" } else { name });
            }
            "path" => self.shape(node, &["d"])?,
            "rect" => self.shape(node, &["x", "y", "width", "height", "rx", "ry"])?,
            "circle" => self.shape(node, &["cx", "cy", "r"])?,
            "ellipse" => self.shape(node, &["cx", "cy", "rx", "ry"])?,
            "line" => self.shape(node, &["x1", "y1", "x2", "y2"])?,
            "polyline" | "polygon" => self.shape(node, &["points"])?,
            "text" => self.texts += 1,
            "image" | "foreignObject" => self.pictures += 1,
            "style" => self.style_sheet(node),
            _ => {}
        }
        Ok(())
    }

    fn open(&mut self, name: &str) {
        self.svg.push('<');
        self.svg.push_str(name);
    }

    fn close(&mut self, name: &str) {
        self.svg.push_str("</");
        self.svg.push_str(name);
        self.svg.push('>');
    }

    fn attribute(&mut self, name: &str, value: &str) {
        self.svg.push(' ');
        self.svg.push_str(name);
        self.svg.push_str("=\"");
        self.escaped(value);
        self.svg.push('"');
    }

    fn escaped(&mut self, text: &str) {
        for character in text.chars() {
            match character {
                '&' => self.svg.push_str("&amp;"),
                '<' => self.svg.push_str("&lt;"),
                '>' => self.svg.push_str("&gt;"),
                '"' => self.svg.push_str("&quot;"),
                other => self.svg.push(other),
            }
        }
    }

    /// The attributes that place and show, but for those named.
    fn placing(&mut self, node: Node<'_, '_>, without: &[&str]) {
        for name in PLACING.into_iter().filter(|name| !without.contains(name)) {
            if let Some(value) = node.attribute(name) {
                self.attribute(name, &without_links(value));
            }
        }
        self.style(node);
    }

    /// Of a style attribute what says whether a shape is drawn.
    fn style(&mut self, node: Node<'_, '_>) {
        let Some(style) = node.attribute("style") else { return };
        let mut kept = String::new();
        for declaration in style.split(';') {
            let Some((name, value)) = declaration.split_once(':') else { continue };
            match name.trim() {
                "transform" => self.styled_transforms = true,
                "clip-path" | "mask" | "filter" if value.trim() != "none" => self.effects += 1,
                name @ ("fill" | "stroke" | "stroke-width" | "display" | "visibility" | "color") => {
                    kept.push_str(&format!("{name}:{};", without_links(value.trim())));
                }
                _ => {}
            }
        }
        if !kept.is_empty() {
            self.attribute("style", &kept);
        }
    }

    fn note_effects(&mut self, node: Node<'_, '_>) {
        let set = |name: &&str| node.attribute(*name).is_some_and(|value| value.trim() != "none");
        self.effects += ["clip-path", "mask", "filter"].iter().filter(|name| set(name)).count();
    }

    /// A shape in a group that has its place, magnified inside it and scaled back.
    fn shape(&mut self, node: Node<'_, '_>, measures: &[&str]) -> Result<(), OutlineFileProblem> {
        self.note_effects(node);
        self.open("g");
        self.placing(node, &["x", "y", "width", "height"]);
        self.svg.push('>');
        self.open(node.tag_name().name());
        self.attribute("transform", SCALED_BACK);
        for name in SHOWING {
            if let Some(value) = node.attribute(name) {
                self.attribute(name, &without_links(value));
            }
        }
        self.style(node);
        for name in measures {
            if let Some(value) = node.attribute(*name) {
                let magnified = match *name {
                    "d" => magnified_path(value),
                    "points" => magnified_points(value),
                    _ => magnified_length(value),
                }
                .ok_or_else(|| not_followed(name, value))?;
                self.attribute(name, &magnified);
            }
        }
        self.svg.push_str("/>");
        self.close("g");
        Ok(())
    }

    /// A style sheet without links to paint servers, clip paths or pictures.
    fn style_sheet(&mut self, node: Node<'_, '_>) {
        self.svg.push_str("<style>");
        for text in node.children().filter_map(|child| child.text()) {
            self.styled_transforms |= text.contains("transform");
            self.effects += text.matches("filter:").count();
            // A filter without its definition would hide what it stands on.
            self.escaped(&without_links(text).replace("filter:", "x-filter:"));
        }
        self.svg.push_str("</style>");
    }
}

/// `url(…)` replaced by a plain colour: whatever fills a shape, it is filled.
fn without_links(value: &str) -> String {
    let mut kept = String::with_capacity(value.len());
    let mut rest = value;
    while let Some(at) = rest.find("url(") {
        let (before, link) = rest.split_at(at);
        kept.push_str(before);
        kept.push_str("black");
        rest = link.split_once(')').map_or("", |(_, after)| after);
    }
    kept.push_str(rest);
    kept
}

fn not_followed(name: &str, value: &str) -> OutlineFileProblem {
    let mut shown: String = value.chars().take(60).collect();
    if shown.len() < value.len() {
        shown.push('…');
    }
    refused(format!("{name}={shown:?} cannot be followed"), "are SVG 1.1 path data, points and lengths")
}

/// A measure magnified; none where it is absurd.
fn magnified(value: f64) -> Option<f64> {
    (value.abs() <= LARGEST).then_some(value * MAGNIFIED)
}

/// Far beyond any drawing, and far within what the reader can hold.
const LARGEST: f64 = 1e9;

/// A length with its unit.
fn magnified_length(value: &str) -> Option<String> {
    let length: svgtypes::Length = value.trim().parse().ok()?;
    let number = value.trim().trim_end_matches(|character: char| character.is_ascii_alphabetic() || character == '%');
    let unit = value.trim().get(number.len()..)?;
    Some(format!("{}{unit}", magnified(length.number)?))
}

fn magnified_points(value: &str) -> Option<String> {
    svgtypes::PointsParser::from(value).map(|(x, y)| Some(format!("{},{} ", magnified(x)?, magnified(y)?))).collect()
}

fn magnified_path(value: &str) -> Option<String> {
    use svgtypes::PathSegment as P;
    let mut path = String::with_capacity(value.len() * 2);
    for segment in svgtypes::PathParser::from(value) {
        let segment = segment.ok()?;
        path.push(char::from(segment.command()));
        let mut numbers = |numbers: &[f64]| {
            numbers.iter().try_for_each(|number| {
                path.push_str(&format!("{} ", magnified(*number)?));
                Some(())
            })
        };
        match segment {
            P::MoveTo { x, y, .. } | P::LineTo { x, y, .. } | P::SmoothQuadratic { x, y, .. } => numbers(&[x, y])?,
            P::HorizontalLineTo { x, .. } => numbers(&[x])?,
            P::VerticalLineTo { y, .. } => numbers(&[y])?,
            P::CurveTo { x1, y1, x2, y2, x, y, .. } => numbers(&[x1, y1, x2, y2, x, y])?,
            P::SmoothCurveTo { x2, y2, x, y, .. } => numbers(&[x2, y2, x, y])?,
            P::Quadratic { x1, y1, x, y, .. } => numbers(&[x1, y1, x, y])?,
            P::EllipticalArc { rx, ry, x_axis_rotation, large_arc, sweep, x, y, .. } => {
                numbers(&[rx, ry])?;
                let turn = if x_axis_rotation.abs() <= LARGEST { x_axis_rotation } else { return None };
                path.push_str(&format!("{turn} {} {} ", u8::from(large_arc), u8::from(sweep)));
                path.push_str(&format!("{} {} ", magnified(x)?, magnified(y)?));
            }
            P::ClosePath { .. } => {}
        }
    }
    Some(path)
}
