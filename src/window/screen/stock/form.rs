//! The form of an item: what is typed and chosen in it. `read` makes an item of it.

use super::words::{thickness_entry, usual_unit};
use crate::book::StockRow;
use crate::measure::{Decimal, Preferences, Unit, edit};
use crate::studio::{EnamelKind, Fusing, Item, ItemDetails, ItemId, ItemKind, Metal, Outline, Pack};
use crate::window::widget::Entry;
use std::collections::BTreeMap;

/// A field of the form that is typed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// The item's name.
    Name,
    /// Her reference.
    Reference,
    /// Gauge or thickness.
    Thickness,
    /// Length of a sheet.
    SheetLength,
    /// Width of a sheet.
    SheetWidth,
    /// Outer diameter of a tube.
    Outer,
    /// Wall of a tube.
    Wall,
    /// Diameter, length or height of a blank.
    Long,
    /// Width of a blank.
    Short,
    /// Corner radius of a rectangle.
    Corner,
    /// Corners of a polygon.
    Points,
    /// An SVG path.
    Path,
    /// Height of the dome.
    Dome,
    /// Diameters of drilled holes.
    Holes,
    /// Flow point of a soldered bail.
    Joint,
    /// Flow point of a solder.
    Flow,
    /// The enamel's colour.
    Swatch,
    /// Mesh.
    Mesh,
    /// Lowest firing temperature.
    Low,
    /// Highest firing temperature.
    High,
    /// Reorder level.
    Reorder,
    /// Maker.
    Maker,
    /// The maker's own number.
    MakerNumber,
    /// Supplier.
    Supplier,
    /// Shelf.
    Shelf,
    /// Note.
    Note,
    /// The pack it is bought in.
    Pack,
    /// Days from ordering to having it.
    LeadDays,
    /// Fewest packs the supplier sends.
    LeastPacks,
}

impl Field {
    /// In reading order.
    pub(super) const ALL: [Self; 29] = [
        Self::Name,
        Self::Reference,
        Self::Thickness,
        Self::SheetLength,
        Self::SheetWidth,
        Self::Outer,
        Self::Wall,
        Self::Long,
        Self::Short,
        Self::Corner,
        Self::Points,
        Self::Path,
        Self::Dome,
        Self::Holes,
        Self::Joint,
        Self::Flow,
        Self::Swatch,
        Self::Mesh,
        Self::Low,
        Self::High,
        Self::Reorder,
        Self::Maker,
        Self::MakerNumber,
        Self::Supplier,
        Self::Shelf,
        Self::Note,
        Self::Pack,
        Self::LeadDays,
        Self::LeastPacks,
    ];

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("stock-{self:?}").to_lowercase()
    }
}

/// The outlines a blank can have, without their measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A disc.
    Disc,
    /// An ellipse.
    Ellipse,
    /// A rectangle.
    Rectangle,
    /// A drop.
    Drop,
    /// A polygon.
    Polygon,
    /// A path of its own.
    Path,
}

impl Shape {
    /// In the order they are offered.
    pub(super) const ALL: [(Self, &'static str); 6] = [
        (Self::Disc, "disc"),
        (Self::Ellipse, "oval"),
        (Self::Rectangle, "rectangle"),
        (Self::Drop, "drop"),
        (Self::Polygon, "corners"),
        (Self::Path, "drawn"),
    ];
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// Another kind of item.
    Kind(ItemKind),
    /// Another unit.
    Unit(Unit),
    /// Another metal; none is one not known here.
    Metal(Option<Metal>),
    /// Another outline.
    Shape(Shape),
    /// Transparent, opaque, opalescent, clear.
    Enamel(EnamelKind),
    /// Another fusing class, or none known.
    Fusing(Option<Fusing>),
    /// Bears lead, or not: turned round.
    Lead,
    /// Set aside, or not: turned round.
    Aside,
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Form {
    /// The item being changed; none adds one.
    pub(super) id: Option<ItemId>,
    pub(super) title: String,
    entries: BTreeMap<Field, Entry>,
    pub(super) kind: ItemKind,
    pub(super) unit: Unit,
    /// It has movements, so its unit stays.
    pub(super) unit_fixed: bool,
    pub(super) metal: Option<Metal>,
    pub(super) shape: Shape,
    pub(super) enamel: EnamelKind,
    pub(super) fusing: Option<Fusing>,
    pub(super) lead: bool,
    pub(super) aside: bool,
    /// The pack the item came with and the unit it was read in: left as it is, it is not read anew.
    pub(super) pack: Option<(Pack, Unit)>,
    /// It was submitted once: what is missing is told from now on.
    pub(super) tried: bool,
    /// Why the book refused it.
    pub(super) refusal: Option<String>,
}

impl Form {
    /// An empty form for a new item of that kind. What a kind must have and is not dangerous to guess stands there
    /// already: starting points to be typed over, no advice.
    pub(super) fn new(kind: ItemKind, preferences: &Preferences) -> Self {
        let length = |tenths: i64| edit::edit_length(Decimal::new(tenths, 1), preferences);
        let mut form = Self {
            id: None,
            title: "New item".to_owned(),
            entries: BTreeMap::new(),
            kind,
            unit: usual_unit(kind),
            unit_fixed: false,
            metal: Some(Metal::Copper),
            shape: Shape::Disc,
            enamel: EnamelKind::Opaque,
            fusing: None,
            lead: false,
            aside: false,
            pack: None,
            tried: false,
            refusal: None,
        };
        for (field, text) in [
            (Field::Thickness, "18 ga".to_owned()),
            (Field::Outer, length(60)),
            (Field::Wall, length(5)),
            (Field::Long, length(250)),
            (Field::Short, length(180)),
            (Field::Corner, length(0)),
            (Field::Dome, length(0)),
            (Field::Swatch, "#8a8f94".to_owned()),
        ] {
            form.set(field, text);
        }
        form
    }

    /// The form filled with an item.
    pub(super) fn of(row: &StockRow, preferences: &Preferences) -> Self {
        let item = &row.item;
        let mut form = Self::new(item.details.kind(), preferences);
        form.id = Some(row.id);
        form.title = item.name.clone();
        form.unit = item.unit;
        form.unit_fixed = row.last_moved.is_some();
        form.lead = item.lead_bearing;
        form.aside = item.retired;
        for (field, text) in [
            (Field::Name, &item.name),
            (Field::Reference, &item.reference),
            (Field::Maker, &item.maker),
            (Field::MakerNumber, &item.maker_number),
            (Field::Supplier, &item.supplier),
            (Field::Shelf, &item.shelf),
            (Field::Note, &item.note),
        ] {
            form.set(field, text.clone());
        }
        if let Some(level) = item.reorder_level {
            form.set(Field::Reorder, edit::edit_quantity(level.amount(), item.unit, preferences));
        }
        form.fill_buying(item);
        form.fill_details(item, preferences);
        form
    }

    fn fill_buying(&mut self, item: &Item) {
        let buying = &item.buying;
        self.pack = buying.pack.clone().map(|pack| (pack, item.unit));
        if let Some(pack) = &buying.pack {
            self.set(Field::Pack, pack.words.clone());
        }
        for (field, count) in [(Field::LeadDays, buying.lead_days), (Field::LeastPacks, buying.minimum_order_packs)] {
            self.set(field, count.map(|count| count.to_string()).unwrap_or_default());
        }
    }

    fn fill_details(&mut self, item: &Item, preferences: &Preferences) {
        let length = |mm: Decimal| edit::edit_length(mm, preferences);
        let heat = |celsius: Decimal| edit::edit_temperature(celsius, preferences);
        match &item.details {
            ItemDetails::Sheet { metal, thickness, size_mm } => {
                self.metal = Some(*metal);
                self.set(Field::Thickness, edit::edit_thickness(thickness_entry(*thickness), preferences));
                if let Some([long, wide]) = size_mm {
                    self.set(Field::SheetLength, length(*long));
                    self.set(Field::SheetWidth, length(*wide));
                }
            }
            ItemDetails::Wire { metal, thickness } => {
                self.metal = Some(*metal);
                self.set(Field::Thickness, edit::edit_thickness(thickness_entry(*thickness), preferences));
            }
            ItemDetails::Tube { metal, outer_mm, wall_mm } => {
                self.metal = Some(*metal);
                self.set(Field::Outer, length(*outer_mm));
                self.set(Field::Wall, length(*wall_mm));
            }
            ItemDetails::Blank { metal, thickness, outline, dome_height_mm, holes_mm, solder_flow_c } => {
                self.metal = Some(*metal);
                self.set(Field::Thickness, edit::edit_thickness(thickness_entry(*thickness), preferences));
                self.set(Field::Dome, length(*dome_height_mm));
                let holes: Vec<String> = holes_mm.iter().map(|hole| length(*hole)).collect();
                self.set(Field::Holes, holes.join("; "));
                self.set(Field::Joint, solder_flow_c.map(heat).unwrap_or_default());
                self.fill_outline(outline, preferences);
            }
            ItemDetails::Enamel { enamel, swatch: [red, green, blue], mesh, fusing, firing_c } => {
                self.enamel = *enamel;
                self.fusing = *fusing;
                self.set(Field::Swatch, format!("#{red:02x}{green:02x}{blue:02x}"));
                self.set(Field::Mesh, mesh.clone());
                if let Some([low, high]) = firing_c {
                    self.set(Field::Low, heat(*low));
                    self.set(Field::High, heat(*high));
                }
            }
            ItemDetails::Finding { metal } => self.metal = *metal,
            ItemDetails::Solder { flow_c } => self.set(Field::Flow, heat(*flow_c)),
            ItemDetails::Consumable | ItemDetails::Packaging => {}
        }
    }

    fn fill_outline(&mut self, outline: &Outline, preferences: &Preferences) {
        let length = |mm: &Decimal| edit::edit_length(*mm, preferences);
        let (shape, long, short) = match outline {
            Outline::Disc { diameter_mm } => (Shape::Disc, Some(diameter_mm), None),
            Outline::Ellipse { length_mm, width_mm } => (Shape::Ellipse, Some(length_mm), Some(width_mm)),
            Outline::Rectangle { length_mm, width_mm, corner_mm } => {
                self.set(Field::Corner, length(corner_mm));
                (Shape::Rectangle, Some(length_mm), Some(width_mm))
            }
            Outline::Drop { height_mm, width_mm } => (Shape::Drop, Some(height_mm), Some(width_mm)),
            Outline::Polygon { points_mm } => {
                let number = |value: &Decimal| edit::edit_number(*value, preferences);
                let corners: Vec<String> =
                    points_mm.iter().map(|[x, y]| format!("{} {}", number(x), number(y))).collect();
                self.set(Field::Points, corners.join("; "));
                (Shape::Polygon, None, None)
            }
            Outline::Path { svg } => {
                self.set(Field::Path, svg.clone());
                (Shape::Path, None, None)
            }
        };
        self.shape = shape;
        if let Some(long) = long {
            self.set(Field::Long, length(long));
        }
        if let Some(short) = short {
            self.set(Field::Short, length(short));
        }
    }

    fn set(&mut self, field: Field, text: String) {
        self.entries.entry(field).or_default().set(text);
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        self.entries.get(&field).map_or("", Entry::text)
    }

    /// What a field holds, without blanks at its ends.
    pub(super) fn trimmed(&self, field: Field) -> &str {
        self.text(field).trim()
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        match change {
            Change::Typed(field, text) => self.entries.entry(field).or_default().type_in(text),
            Change::Kind(kind) => {
                let usual = self.unit == usual_unit(self.kind);
                self.kind = kind;
                if !self.unit_fixed && (usual || kind == ItemKind::Enamel) {
                    self.unit = usual_unit(kind);
                }
                if kind != ItemKind::Finding && self.metal.is_none() {
                    self.metal = Some(Metal::Copper);
                }
            }
            Change::Unit(unit) => self.unit = unit,
            Change::Metal(metal) => self.metal = metal,
            Change::Shape(shape) => self.shape = shape,
            Change::Enamel(enamel) => self.enamel = enamel,
            Change::Fusing(fusing) => self.fusing = fusing,
            Change::Lead => self.lead = !self.lead,
            Change::Aside => self.aside = !self.aside,
        }
    }

    /// Gives every field its former text back; true when that changed something.
    #[allow(clippy::unnecessary_fold)] // `any` would stop at the first; every field goes back
    pub(super) fn revert(&mut self) -> bool {
        self.entries.values_mut().fold(false, |reverted, entry| entry.revert() || reverted)
    }

    /// The fields that count for what is chosen, in reading order.
    pub(super) fn used(&self) -> impl Iterator<Item = Field> + '_ {
        Field::ALL.into_iter().filter(|field| self.uses(*field))
    }

    /// True when a field counts for what is chosen.
    pub(super) fn uses(&self, field: Field) -> bool {
        let blank = self.kind == ItemKind::Blank;
        match field {
            Field::Name
            | Field::Reference
            | Field::Reorder
            | Field::Maker
            | Field::MakerNumber
            | Field::Supplier
            | Field::Shelf
            | Field::Note
            | Field::Pack
            | Field::LeadDays
            | Field::LeastPacks => true,
            Field::Thickness => matches!(self.kind, ItemKind::Sheet | ItemKind::Wire | ItemKind::Blank),
            Field::SheetLength | Field::SheetWidth => self.kind == ItemKind::Sheet,
            Field::Outer | Field::Wall => self.kind == ItemKind::Tube,
            Field::Long => blank && !matches!(self.shape, Shape::Polygon | Shape::Path),
            Field::Short => blank && matches!(self.shape, Shape::Ellipse | Shape::Rectangle | Shape::Drop),
            Field::Corner => blank && self.shape == Shape::Rectangle,
            Field::Points => blank && self.shape == Shape::Polygon,
            Field::Path => blank && self.shape == Shape::Path,
            Field::Dome | Field::Holes | Field::Joint => blank,
            Field::Flow => self.kind == ItemKind::Solder,
            Field::Swatch | Field::Mesh | Field::Low | Field::High => self.kind == ItemKind::Enamel,
        }
    }
}
