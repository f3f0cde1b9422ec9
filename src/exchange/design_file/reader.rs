//! From TOML to a design. Kinds of value and keys are checked here; ranges are those of [`crate::costing::validate`].

use super::fields::{Absent, Places, Source, Table};
use super::{DesignFileProblem, FORMAT, MOST_BYTES};
use crate::costing::validate::{quoted, validate};
use crate::measure::{Currency, Decimal, Unit};
use crate::studio::{
    Band, Blank, Channel, ChannelId, Coat, Design, DesignCode, Firing, Fusing, KilnRates, Material, MaterialId,
    MaterialKind, Metal, Outline, Rates, Side, Step, StepKind, Target, Thickness, Use,
};
use toml_edit::Document;

pub(super) fn read(text: &str) -> Result<Design, Vec<DesignFileProblem>> {
    let mut source = Source::new(text);
    if text.len() > MOST_BYTES {
        let reason = format!("has {} bytes; accepted are at most {MOST_BYTES}", text.len());
        source.tell(1, "file", reason);
        return Err(source.finish(Vec::new()));
    }
    let document = match Document::parse(text) {
        Ok(document) => document,
        Err(error) => {
            let line = source.line_at(error.span().map_or(text.len(), |span| span.start));
            let reason = error.message().lines().collect::<Vec<_>>().join(", ");
            let key = source.key_on(line);
            source.tell(line, key, format!("not valid TOML: {reason}"));
            return Err(source.finish(Vec::new()));
        }
    };
    let design = design(&mut source, &Source::root(document.as_table()));
    let ranges = validate(&design);
    let problems = source.finish(ranges);
    if problems.is_empty() { Ok(design) } else { Err(problems) }
}

const ZERO: Absent<Decimal> = Absent::Default(Decimal::ZERO);
const ONE: Absent<Decimal> = Absent::Default(Decimal::ONE);
/// Stands in for a required number that is not there: in every range.
const REQUIRED: Absent<Decimal> = Absent::Missing(Decimal::ONE);

fn design(source: &mut Source<'_>, root: &Table<'_>) -> Design {
    source.known(root, &["format", "currency", "design", "rates", "kiln", "blank", "material", "step", "channel"]);
    source.choice(root, "format", true, &[FORMAT], |text| (text == FORMAT).then_some(()));
    let currency = currency(source, root);
    let head = source.section(root, "design", "the table [design] is missing");
    let head = head.as_ref();
    if let Some(head) = head {
        source.known(head, &["code", "name", "pieces", "for_children"]);
    }
    let rates = rates(source, root);
    let kiln = kiln(source, root);
    let blank = blank(source, root);
    let mut materials = Vec::new();
    for table in source.tables(root, "material") {
        materials.push(material(source, &table));
    }
    let mut steps = Vec::new();
    for table in source.tables(root, "step") {
        steps.push(step(source, &table));
    }
    let mut channels = Vec::new();
    for table in source.tables(root, "channel") {
        channels.push(channel(source, &table));
    }
    Design {
        currency,
        code: code(source, head),
        name: head.and_then(|head| source.text(head, "name")).unwrap_or_default(),
        pieces: head.map_or(1, |head| source.count(head, "pieces", Absent::Missing(1))),
        for_children: head.is_some_and(|head| source.flag(head, "for_children", false)),
        rates,
        kiln,
        blank,
        materials,
        steps,
        channels,
    }
}

/// What stands in for a currency or a code that could not be read; such a design is never given out.
#[allow(clippy::expect_used)] // both are constants that the tests of their types hold valid
fn placeholders() -> (Currency, DesignCode) {
    (
        Currency::from_code("USD").expect("USD is a currency of ISO 4217"),
        DesignCode::new("X").expect("one capital letter is a code"),
    )
}

fn currency(source: &mut Source<'_>, root: &Table<'_>) -> Currency {
    let Some(text) = source.text(root, "currency") else { return placeholders().0 };
    Currency::from_code(&text).unwrap_or_else(|_| {
        let reason = format!("is {}; accepted is a currency code of ISO 4217 such as USD or EUR", quoted(&text));
        source.refuse(root, "currency", reason);
        placeholders().0
    })
}

fn code(source: &mut Source<'_>, head: Option<&Table<'_>>) -> DesignCode {
    let Some((head, text)) = head.and_then(|head| source.text(head, "code").map(|text| (head, text))) else {
        return placeholders().1;
    };
    DesignCode::new(&text).unwrap_or_else(|error| {
        source.refuse(head, "code", format!("is {}; {error}", quoted(&text)));
        placeholders().1
    })
}

fn rates(source: &mut Source<'_>, root: &Table<'_>) -> Rates {
    let Some(table) = source.section(root, "rates", "the table [rates] is missing") else {
        let zero = Decimal::ZERO;
        return Rates { labour_per_hour: zero, overhead_per_hour: zero, scrap_value: zero };
    };
    source.known(&table, &["labour_per_hour", "overhead_per_hour", "scrap_value"]);
    Rates {
        labour_per_hour: source.decimal(&table, "labour_per_hour", Places::Money, REQUIRED),
        overhead_per_hour: source.decimal(&table, "overhead_per_hour", Places::Money, REQUIRED),
        scrap_value: source.decimal(&table, "scrap_value", Places::Money, ZERO),
    }
}

/// How far a firing stays below a solder's flow point unless set otherwise, °C of difference.
pub(super) const SOLDER_MARGIN_C: Decimal = Decimal::from_parts(38, 0, 0, false, 0);

fn kiln(source: &mut Source<'_>, root: &Table<'_>) -> KilnRates {
    let Some(table) = source.section(root, "kiln", "the table [kiln] is missing") else {
        let zero = Decimal::ZERO;
        return KilnRates {
            kwh_per_load: zero,
            price_per_kwh: zero,
            recovery_minutes: zero,
            wear_per_hour: zero,
            solder_margin_c: zero,
        };
    };
    source.known(&table, &["kwh_per_load", "price_per_kwh", "recovery_minutes", "wear_per_hour", "solder_margin_c"]);
    KilnRates {
        kwh_per_load: source.decimal(&table, "kwh_per_load", Places::Other, REQUIRED),
        price_per_kwh: source.decimal(&table, "price_per_kwh", Places::Money, REQUIRED),
        recovery_minutes: source.decimal(&table, "recovery_minutes", Places::Other, ZERO),
        wear_per_hour: source.decimal(&table, "wear_per_hour", Places::Money, ZERO),
        solder_margin_c: source.decimal(&table, "solder_margin_c", Places::Other, Absent::Default(SOLDER_MARGIN_C)),
    }
}

/// Stands in for an outline that could not be read.
const PLAIN_DISC: Outline = Outline::Disc { diameter_mm: Decimal::ONE_THOUSAND };

fn blank(source: &mut Source<'_>, root: &Table<'_>) -> Blank {
    let Some(table) = source.section(root, "blank", "the table [blank] is missing") else {
        return Blank {
            metal: Metal::Copper,
            thickness: Thickness::Gauge(18),
            outline: PLAIN_DISC,
            dome_height_mm: Decimal::ZERO,
            holes_mm: Vec::new(),
            solder_flow_c: None,
            count: 1,
        };
    };
    source.known(
        &table,
        &["metal", "gauge", "thickness_mm", "outline", "dome_height_mm", "holes_mm", "solder_flow_c", "count"],
    );
    Blank {
        metal: source
            .choice(&table, "metal", true, &Metal::ALL.map(Metal::name), Metal::from_name)
            .unwrap_or(Metal::Copper),
        thickness: thickness(source, &table),
        outline: outline(source, &table),
        dome_height_mm: source.decimal(&table, "dome_height_mm", Places::Other, ZERO),
        holes_mm: source.decimals(&table, "holes_mm"),
        solder_flow_c: source.optional_decimal(&table, "solder_flow_c", Places::Other, false),
        count: source.count(&table, "count", Absent::Default(1)),
    }
}

fn thickness(source: &mut Source<'_>, table: &Table<'_>) -> Thickness {
    let gauge = source.optional_decimal(table, "gauge", Places::Other, false);
    let stated = source.optional_decimal(table, "thickness_mm", Places::Other, false);
    match (table.has("gauge"), table.has("thickness_mm")) {
        (true, true) => source.refuse(table, "thickness_mm", "stands beside gauge; accepted is exactly one of the two"),
        (false, false) => {
            source.refuse(table, "gauge", "is missing; accepted is exactly one of gauge and thickness_mm")
        }
        _ => {}
    }
    if let Some(number) = gauge {
        let whole = number.is_integer().then(|| i8::try_from(number).ok()).flatten();
        return Thickness::Gauge(whole.unwrap_or_else(|| {
            let reason = format!("{} is out of range; accepted is a whole number, −3 (0000) to 40", number.normalize());
            source.refuse(table, "gauge", reason);
            18
        }));
    }
    stated.map_or(Thickness::Gauge(18), Thickness::ThicknessMm)
}

const SHAPES: [&str; 6] = ["disc", "ellipse", "rectangle", "drop", "polygon", "path"];

fn outline(source: &mut Source<'_>, blank: &Table<'_>) -> Outline {
    let missing = "is missing; accepted is a table such as { shape = \"disc\", diameter_mm = 30 }";
    let Some(table) = source.section(blank, "outline", missing) else { return PLAIN_DISC };
    let shape = source.choice(&table, "shape", true, &SHAPES, |text| SHAPES.into_iter().find(|&shape| shape == text));
    let Some(shape) = shape else { return PLAIN_DISC };
    let length = |source: &mut Source<'_>, key: &str| source.decimal(&table, key, Places::Other, REQUIRED);
    match shape {
        "disc" => {
            source.known(&table, &["shape", "diameter_mm"]);
            Outline::Disc { diameter_mm: length(source, "diameter_mm") }
        }
        "ellipse" => {
            source.known(&table, &["shape", "length_mm", "width_mm"]);
            Outline::Ellipse { length_mm: length(source, "length_mm"), width_mm: length(source, "width_mm") }
        }
        "rectangle" => {
            source.known(&table, &["shape", "length_mm", "width_mm", "corner_mm"]);
            Outline::Rectangle {
                length_mm: length(source, "length_mm"),
                width_mm: length(source, "width_mm"),
                corner_mm: source.decimal(&table, "corner_mm", Places::Other, ZERO),
            }
        }
        "drop" => {
            source.known(&table, &["shape", "height_mm", "width_mm"]);
            Outline::Drop { height_mm: length(source, "height_mm"), width_mm: length(source, "width_mm") }
        }
        "polygon" => {
            source.known(&table, &["shape", "points_mm"]);
            Outline::Polygon { points_mm: source.points(&table, "points_mm") }
        }
        _ => {
            source.known(&table, &["shape", "svg"]);
            Outline::Path { svg: source.text(&table, "svg").unwrap_or_default() }
        }
    }
}

fn material(source: &mut Source<'_>, table: &Table<'_>) -> Material {
    source.known(table, &["id", "name", "kind", "unit", "price", "fusing", "lead_bearing", "metal"]);
    let kind = |text: &str| MaterialKind::ALL.into_iter().find(|kind| kind.name() == text);
    let fusing = |text: &str| Fusing::ALL.into_iter().find(|class| class.name() == text);
    Material {
        id: MaterialId(source.text(table, "id").unwrap_or_default()),
        name: source.text(table, "name").unwrap_or_default(),
        kind: source
            .choice(table, "kind", true, &MaterialKind::ALL.map(MaterialKind::name), kind)
            .unwrap_or(MaterialKind::Enamel),
        unit: source.choice(table, "unit", true, &Unit::ALL.map(Unit::name), Unit::from_name).unwrap_or(Unit::Gram),
        price: source.decimal(table, "price", Places::Money, REQUIRED),
        fusing: source.choice(table, "fusing", false, &Fusing::ALL.map(Fusing::name), fusing),
        lead_bearing: source.flag(table, "lead_bearing", false),
        metal: source.choice(table, "metal", false, &Metal::ALL.map(Metal::name), Metal::from_name),
    }
}

const KINDS: [&str; 8] = ["prepare", "clean", "coat", "dry", "fire", "finish", "assemble", "pack"];
const STEP_KEYS: [&str; 6] = ["kind", "name", "setup_minutes", "minutes_per_piece", "good", "uses"];
const COAT_KEYS: [&str; 6] = ["side", "material", "coverage", "coat_mg_per_cm2", "overspray", "reclaimed"];
const FIRE_KEYS: [&str; 4] = ["celsius", "minutes", "pieces_per_load", "attended_minutes_per_load"];

fn step(source: &mut Source<'_>, table: &Table<'_>) -> Step {
    let kind = source.choice(table, "kind", true, &KINDS, |text| KINDS.into_iter().find(|&kind| kind == text));
    let own: &[&[&str]] = match kind {
        Some("coat") => &[&STEP_KEYS, &COAT_KEYS],
        Some("fire") => &[&STEP_KEYS, &FIRE_KEYS],
        Some(_) => &[&STEP_KEYS],
        // What the step was meant to be is not known, so keys of any kind may stand.
        None => &[&STEP_KEYS, &COAT_KEYS, &FIRE_KEYS],
    };
    source.known(table, &own.concat());
    Step {
        kind: match kind {
            Some("coat") => StepKind::Coat(coat(source, table)),
            Some("fire") => StepKind::Fire(firing(source, table)),
            Some("clean") => StepKind::Clean,
            Some("dry") => StepKind::Dry,
            Some("finish") => StepKind::Finish,
            Some("assemble") => StepKind::Assemble,
            Some("pack") => StepKind::Pack,
            _ => StepKind::Prepare,
        },
        name: source.text(table, "name").unwrap_or_default(),
        setup_minutes: source.decimal(table, "setup_minutes", Places::Other, ZERO),
        minutes_per_piece: source.decimal(table, "minutes_per_piece", Places::Other, ZERO),
        good: source.decimal(table, "good", Places::Other, ONE),
        uses: uses(source, table),
    }
}

fn uses(source: &mut Source<'_>, table: &Table<'_>) -> Vec<Use> {
    let mut uses = Vec::new();
    for table in source.tables(table, "uses") {
        source.known(&table, &["material", "quantity"]);
        uses.push(Use {
            material: MaterialId(source.text(&table, "material").unwrap_or_default()),
            quantity: source.decimal(&table, "quantity", Places::Other, REQUIRED),
        });
    }
    uses
}

fn coat(source: &mut Source<'_>, table: &Table<'_>) -> Coat {
    let side = |text: &str| match text {
        "front" => Some(Side::Front),
        "back" => Some(Side::Back),
        _ => None,
    };
    Coat {
        side: source.choice(table, "side", true, &["front", "back"], side).unwrap_or(Side::Front),
        material: MaterialId(source.text(table, "material").unwrap_or_default()),
        coverage: source.decimal(table, "coverage", Places::Other, ONE),
        coat_mg_per_cm2: source.decimal(table, "coat_mg_per_cm2", Places::Other, REQUIRED),
        overspray: source.decimal(table, "overspray", Places::Other, ZERO),
        reclaimed: source.decimal(table, "reclaimed", Places::Other, ZERO),
    }
}

fn firing(source: &mut Source<'_>, table: &Table<'_>) -> Firing {
    Firing {
        celsius: source.decimal(table, "celsius", Places::Other, REQUIRED),
        minutes: source.decimal(table, "minutes", Places::Other, REQUIRED),
        pieces_per_load: source.count(table, "pieces_per_load", Absent::Missing(1)),
        attended_minutes_per_load: source.decimal(table, "attended_minutes_per_load", Places::Other, ZERO),
    }
}

fn channel(source: &mut Source<'_>, table: &Table<'_>) -> Channel {
    source.known(
        table,
        &[
            "id",
            "name",
            "retail",
            "commission",
            "card_fee",
            "card_fee_fixed",
            "tax",
            "tax_in_price",
            "selling_cost",
            "target",
            "price_points",
        ],
    );
    Channel {
        id: ChannelId(source.text(table, "id").unwrap_or_default()),
        name: source.text(table, "name").unwrap_or_default(),
        retail: source.flag(table, "retail", true),
        commission: source.decimal(table, "commission", Places::Other, ZERO),
        card_fee: source.decimal(table, "card_fee", Places::Other, ZERO),
        card_fee_fixed: source.decimal(table, "card_fee_fixed", Places::Money, ZERO),
        tax: source.decimal(table, "tax", Places::Other, ZERO),
        tax_in_price: source.flag(table, "tax_in_price", false),
        selling_cost: source.decimal(table, "selling_cost", Places::Money, ZERO),
        target: target(source, table),
        price_points: bands(source, table),
    }
}

fn target(source: &mut Source<'_>, channel: &Table<'_>) -> Target {
    let fallback = Target::Markup(Decimal::ZERO);
    let wanted = "accepted is exactly one of margin, markup and hourly, such as { margin = \"0.35\" }";
    let Some(table) = source.section(channel, "target", &format!("is missing; {wanted}")) else { return fallback };
    source.known(&table, &["margin", "markup", "hourly"]);
    let margin = source.optional_decimal(&table, "margin", Places::Other, false);
    let markup = source.optional_decimal(&table, "markup", Places::Other, false);
    let hourly = source.optional_decimal(&table, "hourly", Places::Money, false);
    let stated = ["margin", "markup", "hourly"].into_iter().filter(|key| table.has(key)).count();
    if stated != 1 {
        source.refuse(channel, "target", format!("has {stated} of them; {wanted}"));
    }
    margin.map(Target::Margin).or(markup.map(Target::Markup)).or(hourly.map(Target::Hourly)).unwrap_or(fallback)
}

fn bands(source: &mut Source<'_>, channel: &Table<'_>) -> Vec<Band> {
    let mut bands = Vec::new();
    let tables = source.tables(channel, "price_points");
    if tables.is_empty()
        && channel.table.get("price_points").and_then(toml_edit::Item::as_array).is_some_and(toml_edit::Array::is_empty)
    {
        source.refuse(channel, "price_points", "is empty; accepted is at least one band, or no key for the minor unit");
    }
    for table in tables {
        source.known(&table, &["up_to", "step", "less"]);
        bands.push(Band {
            up_to: source.optional_decimal(&table, "up_to", Places::Money, false),
            step: source.decimal(&table, "step", Places::Money, REQUIRED),
            less: source.decimal(&table, "less", Places::Money, ZERO),
        });
    }
    bands
}
