//! From a design to TOML: stable, readable, exact.

use super::FORMAT;
use super::reader::SOLDER_MARGIN_C;
use crate::measure::Decimal;
use crate::measure::money::MONEY_PLACES;
use crate::measure::quantity::QUANTITY_PLACES;
use crate::studio::{
    Band, Blank, Channel, Coat, Design, Firing, Fusing, KilnRates, Material, Metal, Outline, Rates, Side, Step,
    StepKind, Target, Thickness, Use,
};

pub(super) fn write(design: &Design) -> String {
    let mut page = Page::default();
    page.pair("format", &text(FORMAT));
    page.pair("currency", &text(design.currency.code()));
    page.table("[design]");
    page.pair("code", &text(design.code.as_str()));
    page.pair("name", &text(&design.name));
    page.pair("pieces", &design.pieces.to_string());
    page.flag("for_children", design.for_children, false);
    page.rates(&design.rates);
    page.kiln(&design.kiln);
    page.blank(&design.blank);
    for material in &design.materials {
        page.material(material);
    }
    for step in &design.steps {
        page.step(step);
    }
    for channel in &design.channels {
        page.channel(channel);
    }
    page.text
}

#[derive(Default)]
struct Page {
    text: String,
}

impl Page {
    fn table(&mut self, header: &str) {
        self.text.push('\n');
        self.text.push_str(header);
        self.text.push('\n');
    }

    fn pair(&mut self, key: &str, value: &str) {
        self.text.push_str(key);
        self.text.push_str(" = ");
        self.text.push_str(value);
        self.text.push('\n');
    }

    fn flag(&mut self, key: &str, value: bool, default: bool) {
        if value != default {
            self.pair(key, if value { "true" } else { "false" });
        }
    }

    fn money(&mut self, key: &str, value: Decimal, default: Option<Decimal>) {
        if default != Some(value) {
            self.pair(key, &money(value));
        }
    }

    fn number(&mut self, key: &str, value: Decimal, default: Option<Decimal>) {
        if default != Some(value) {
            self.pair(key, &number(value));
        }
    }

    fn rates(&mut self, rates: &Rates) {
        self.table("[rates]");
        self.money("labour_per_hour", rates.labour_per_hour, None);
        self.money("overhead_per_hour", rates.overhead_per_hour, None);
        self.money("scrap_value", rates.scrap_value, ZERO);
    }

    fn kiln(&mut self, kiln: &KilnRates) {
        self.table("[kiln]");
        self.number("kwh_per_load", kiln.kwh_per_load, None);
        self.money("price_per_kwh", kiln.price_per_kwh, None);
        self.number("recovery_minutes", kiln.recovery_minutes, ZERO);
        self.money("wear_per_hour", kiln.wear_per_hour, ZERO);
        self.number("solder_margin_c", kiln.solder_margin_c, Some(SOLDER_MARGIN_C));
    }

    fn blank(&mut self, blank: &Blank) {
        self.table("[blank]");
        self.pair("metal", &text(blank.metal.name()));
        match blank.thickness {
            Thickness::Gauge(number) => self.pair("gauge", &number.to_string()),
            Thickness::ThicknessMm(value) => self.number("thickness_mm", value, None),
        }
        self.pair("outline", &outline(&blank.outline));
        self.number("dome_height_mm", blank.dome_height_mm, ZERO);
        if !blank.holes_mm.is_empty() {
            let holes: Vec<String> = blank.holes_mm.iter().map(|&hole| number(hole)).collect();
            self.pair("holes_mm", &format!("[{}]", holes.join(", ")));
        }
        if let Some(flow) = blank.solder_flow_c {
            self.number("solder_flow_c", flow, None);
        }
        if blank.count != 1 {
            self.pair("count", &blank.count.to_string());
        }
    }

    fn material(&mut self, material: &Material) {
        self.table("[[material]]");
        self.pair("id", &text(&material.id.0));
        self.pair("name", &text(&material.name));
        self.pair("kind", &text(material.kind.name()));
        self.pair("unit", &text(material.unit.name()));
        self.money("price", material.price, None);
        if let Some(fusing) = material.fusing.map(Fusing::name) {
            self.pair("fusing", &text(fusing));
        }
        self.flag("lead_bearing", material.lead_bearing, false);
        if let Some(metal) = material.metal.map(Metal::name) {
            self.pair("metal", &text(metal));
        }
    }

    fn step(&mut self, step: &Step) {
        self.table("[[step]]");
        self.pair("kind", &text(step.kind.name()));
        self.pair("name", &text(&step.name));
        match &step.kind {
            StepKind::Coat(coat) => self.coat(coat),
            StepKind::Fire(firing) => self.firing(firing),
            _ => {}
        }
        self.number("setup_minutes", step.setup_minutes, ZERO);
        self.number("minutes_per_piece", step.minutes_per_piece, ZERO);
        self.number("good", step.good, ONE);
        if !step.uses.is_empty() {
            let used = |used: &Use| {
                format!("{{ material = {}, quantity = {} }}", text(&used.material.0), quoted_number(used.quantity))
            };
            let uses: Vec<String> = step.uses.iter().map(used).collect();
            self.pair("uses", &list(&uses));
        }
    }

    fn coat(&mut self, coat: &Coat) {
        let side = match coat.side {
            Side::Front => "front",
            Side::Back => "back",
        };
        self.pair("side", &text(side));
        self.pair("material", &text(&coat.material.0));
        self.number("coverage", coat.coverage, ONE);
        self.number("coat_mg_per_cm2", coat.coat_mg_per_cm2, None);
        self.number("overspray", coat.overspray, ZERO);
        self.number("reclaimed", coat.reclaimed, ZERO);
    }

    fn firing(&mut self, firing: &Firing) {
        self.number("celsius", firing.celsius, None);
        self.number("minutes", firing.minutes, None);
        self.pair("pieces_per_load", &firing.pieces_per_load.to_string());
        self.number("attended_minutes_per_load", firing.attended_minutes_per_load, ZERO);
    }

    fn channel(&mut self, channel: &Channel) {
        self.table("[[channel]]");
        self.pair("id", &text(&channel.id.0));
        self.pair("name", &text(&channel.name));
        self.flag("retail", channel.retail, true);
        self.number("commission", channel.commission, ZERO);
        self.number("card_fee", channel.card_fee, ZERO);
        self.money("card_fee_fixed", channel.card_fee_fixed, ZERO);
        self.number("tax", channel.tax, ZERO);
        self.flag("tax_in_price", channel.tax_in_price, false);
        self.money("selling_cost", channel.selling_cost, ZERO);
        let target = match channel.target {
            Target::Margin(value) => format!("margin = {}", quoted_number(value)),
            Target::Markup(value) => format!("markup = {}", quoted_number(value)),
            Target::Hourly(value) => format!("hourly = {}", money(value)),
        };
        self.pair("target", &format!("{{ {target} }}"));
        if !channel.price_points.is_empty() {
            let bands: Vec<String> = channel.price_points.iter().map(band).collect();
            self.pair("price_points", &list(&bands));
        }
    }
}

const ZERO: Option<Decimal> = Some(Decimal::ZERO);
const ONE: Option<Decimal> = Some(Decimal::ONE);

fn band(band: &Band) -> String {
    let mut pairs = Vec::new();
    if let Some(up_to) = band.up_to {
        pairs.push(format!("up_to = {}", money(up_to)));
    }
    pairs.push(format!("step = {}", money(band.step)));
    if !band.less.is_zero() {
        pairs.push(format!("less = {}", money(band.less)));
    }
    format!("{{ {} }}", pairs.join(", "))
}

/// A list of tables: on one line where there is one, else a line each.
fn list(tables: &[String]) -> String {
    match tables {
        [one] => format!("[{one}]"),
        many => format!("[\n    {},\n]", many.join(",\n    ")),
    }
}

fn outline(outline: &Outline) -> String {
    let pairs = match outline {
        Outline::Disc { diameter_mm } => format!("shape = \"disc\", diameter_mm = {}", number(*diameter_mm)),
        Outline::Ellipse { length_mm, width_mm } => {
            format!("shape = \"ellipse\", length_mm = {}, width_mm = {}", number(*length_mm), number(*width_mm))
        }
        Outline::Rectangle { length_mm, width_mm, corner_mm } => {
            let corner =
                if corner_mm.is_zero() { String::new() } else { format!(", corner_mm = {}", number(*corner_mm)) };
            format!(
                "shape = \"rectangle\", length_mm = {}, width_mm = {}{corner}",
                number(*length_mm),
                number(*width_mm)
            )
        }
        Outline::Drop { height_mm, width_mm } => {
            format!("shape = \"drop\", height_mm = {}, width_mm = {}", number(*height_mm), number(*width_mm))
        }
        Outline::Polygon { points_mm } => {
            let points: Vec<String> =
                points_mm.iter().map(|&[x, y]| format!("[{}, {}]", number(x), number(y))).collect();
            format!("shape = \"polygon\", points_mm = [{}]", points.join(", "))
        }
        Outline::Path { svg } => format!("shape = \"path\", svg = {}", text(svg)),
    };
    format!("{{ {pairs} }}")
}

/// Money as a text with the decimals it has.
fn money(value: Decimal) -> String {
    format!("\"{}\"", within(value, MONEY_PLACES))
}

/// A number that is no money: bare where it is whole, else a text.
pub(in crate::exchange) fn number(value: Decimal) -> String {
    let value = within(value, QUANTITY_PLACES);
    if value.scale() == 0 && i64::try_from(value).is_ok() { value.to_string() } else { format!("\"{value}\"") }
}

fn quoted_number(value: Decimal) -> String {
    format!("\"{}\"", within(value, QUANTITY_PLACES))
}

/// The same value without the zeros at its end that go beyond what a file may hold.
fn within(value: Decimal, places: u32) -> Decimal {
    if value.scale() > places { value.normalize() } else { value }
}

/// A text as a TOML basic string.
pub(in crate::exchange) fn text(value: &str) -> String {
    let mut quoted = String::with_capacity(value.len() + 2);
    quoted.push('"');
    for character in value.chars() {
        match character {
            '"' | '\\' => quoted.extend(['\\', character]),
            '\n' => quoted.push_str("\\n"),
            '\t' => quoted.push_str("\\t"),
            '\r' => quoted.push_str("\\r"),
            control if control.is_control() => quoted.push_str(&format!("\\u{:04X}", u32::from(control))),
            other => quoted.push(other),
        }
    }
    quoted.push('"');
    quoted
}
