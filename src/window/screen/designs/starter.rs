//! A new design: a sensible route to begin with, made of what is in stock where there is something that fits.

use super::change::{fresh_id, material_of};
use crate::book::{Snapshot, StockRow};
use crate::costing::rates::{overhead_per_hour, wear_per_hour};
use crate::measure::{Decimal, Unit};
use crate::studio::{
    Blank, Coat, Design, DesignCode, Firing, Follows, ItemDetails, KilnRates, Material, MaterialId, MaterialKind,
    Metal, Outline, Rates, Side, Step, StepKind, Thickness, Use,
};

/// A code made from a name that no design has: its letters, or `D-1` and so on.
pub fn suggested_code(name: &str, snapshot: &Snapshot) -> String {
    let is_free = |code: &str| !snapshot.designs.iter().any(|design| design.design.code.as_str() == code);
    let words: Vec<String> = name
        .to_uppercase()
        .split_whitespace()
        .map(|word| word.chars().filter(char::is_ascii_alphanumeric).collect::<String>())
        .filter(|word| !word.is_empty())
        .collect();
    let base = match words.as_slice() {
        [] => return String::new(),
        [one] => one.chars().take(6).collect::<String>(),
        [first, rest @ ..] => {
            let first: String = first.chars().take(2).collect();
            let rest: String = rest.concat().chars().take(5).collect();
            format!("{first}-{rest}")
        }
    };
    if is_free(&base) {
        return base;
    }
    let short: String = base.chars().take(5).collect();
    (2..1000).map(|number| format!("{short}{number}")).find(|code| is_free(code)).unwrap_or_default()
}

struct Picked {
    materials: Vec<Material>,
    follows: Follows,
}

impl Picked {
    fn add(&mut self, row: Option<&StockRow>, snapshot: &Snapshot, plain: (&str, MaterialKind, Unit)) -> MaterialId {
        let taken: Vec<String> = self.materials.iter().map(|material| material.id.0.clone()).collect();
        let (name, kind, unit) = plain;
        let reference = row.map_or(name, |row| row.item.reference.as_str());
        let id = MaterialId(fresh_id(reference, taken.iter().map(String::as_str)));
        match row {
            Some(row) => {
                let price = snapshot.unit_price(row.id).unwrap_or_default();
                self.materials.push(material_of(row, id.clone(), price));
                let _ = self.follows.materials.insert(id.clone(), row.id);
            }
            None => self.materials.push(Material {
                id: id.clone(),
                name: name.to_owned(),
                kind,
                unit,
                price: Decimal::ZERO,
                fusing: None,
                lead_bearing: false,
                metal: None,
            }),
        }
        id
    }
}

/// The new design and what it takes from the studio.
pub fn starter(code: DesignCode, name: String, snapshot: &Snapshot) -> (Design, Follows) {
    let rates = &snapshot.rates;
    let stock = || snapshot.stock.iter().filter(|row| !row.item.retired);
    let enamel =
        |row: &&StockRow| matches!(row.item.details, ItemDetails::Enamel { .. }) && row.item.unit == Unit::Gram;
    let counter = stock().filter(enamel).find(|row| row.item.name.to_lowercase().contains("counter"));
    let base = stock().filter(enamel).find(|row| Some(row.id) != counter.map(|row| row.id) && !row.item.lead_bearing);
    let blank_row =
        stock().find(|row| matches!(row.item.details, ItemDetails::Blank { .. }) && row.item.unit == Unit::Each);
    let pack = stock().find(|row| matches!(row.item.details, ItemDetails::Packaging) && row.item.unit == Unit::Each);

    let mut picked = Picked {
        materials: Vec::new(),
        follows: Follows {
            labour: true,
            overhead: true,
            kiln: true,
            channels: rates.channels.iter().map(|channel| channel.id.clone()).collect(),
            ..Follows::default()
        },
    };
    let blank_id = picked.add(blank_row, snapshot, ("Blank", MaterialKind::Blank, Unit::Each));
    let counter_id = picked.add(counter, snapshot, ("Counter enamel", MaterialKind::Enamel, Unit::Gram));
    let base_id = picked.add(base, snapshot, ("Base enamel", MaterialKind::Enamel, Unit::Gram));
    let pack_id = picked.add(pack, snapshot, ("Box and card", MaterialKind::Packaging, Unit::Each));
    let zero = Decimal::ZERO;
    let design = Design {
        currency: snapshot.settings.currency,
        code,
        name,
        pieces: 12,
        for_children: false,
        rates: Rates {
            labour_per_hour: rates.labour_per_hour.amount(),
            overhead_per_hour: overhead_per_hour(rates).unwrap_or_default(),
            scrap_value: zero,
        },
        kiln: KilnRates {
            kwh_per_load: rates.kwh_per_load,
            price_per_kwh: rates.price_per_kwh.amount(),
            recovery_minutes: rates.recovery_minutes,
            wear_per_hour: wear_per_hour(rates).unwrap_or_default(),
            solder_margin_c: rates.solder_margin_c,
        },
        blank: blank_of(blank_row),
        materials: picked.materials,
        steps: route(blank_id, counter_id, base_id, pack_id),
        channels: rates.channels.clone(),
    };
    (design, picked.follows)
}

fn blank_of(row: Option<&StockRow>) -> Blank {
    let mut blank = Blank {
        metal: Metal::Copper,
        thickness: Thickness::Gauge(18),
        outline: Outline::Disc { diameter_mm: Decimal::from(30) },
        dome_height_mm: Decimal::ZERO,
        holes_mm: Vec::new(),
        solder_flow_c: None,
        count: 1,
    };
    if let Some(row) = row {
        let _ = take_shape(&mut blank, row);
    }
    blank
}

/// Gives a blank the metal, thickness and shape of one in stock; false when the item is not a blank.
pub fn take_shape(blank: &mut Blank, row: &StockRow) -> bool {
    let ItemDetails::Blank { metal, thickness, outline, dome_height_mm, holes_mm, solder_flow_c } = &row.item.details
    else {
        return false;
    };
    *blank = Blank {
        metal: *metal,
        thickness: *thickness,
        outline: outline.clone(),
        dome_height_mm: *dome_height_mm,
        holes_mm: holes_mm.clone(),
        solder_flow_c: *solder_flow_c,
        count: blank.count,
    };
    true
}

fn route(blank: MaterialId, counter: MaterialId, base: MaterialId, pack: MaterialId) -> Vec<Step> {
    let tenths = |value: i64| Decimal::new(value, 1);
    let step = |kind: StepKind, name: &str, per_piece: i64, good: i64| Step {
        kind,
        name: name.to_owned(),
        setup_minutes: Decimal::ZERO,
        minutes_per_piece: tenths(per_piece),
        good: Decimal::new(good, 2),
        uses: Vec::new(),
    };
    let coat = |side: Side, material: MaterialId| {
        StepKind::Coat(Coat {
            side,
            material,
            coverage: Decimal::ONE,
            coat_mg_per_cm2: Decimal::from(65),
            overspray: tenths(3),
            reclaimed: tenths(7),
        })
    };
    let fire = |celsius: i64| {
        StepKind::Fire(Firing {
            celsius: Decimal::from(celsius),
            minutes: tenths(25),
            pieces_per_load: 6,
            attended_minutes_per_load: Decimal::from(5),
        })
    };
    let one = |material: MaterialId| vec![Use { material, quantity: Decimal::ONE }];
    let mut first = step(StepKind::Prepare, "Saw and clean", 50, 100);
    first.setup_minutes = Decimal::TEN;
    first.uses = one(blank);
    let mut last = step(StepKind::Pack, "Box, tag and card", 20, 100);
    last.uses = one(pack);
    vec![
        first,
        step(coat(Side::Back, counter), "Counter enamel", 20, 100),
        step(fire(790), "Fire the counter enamel", 0, 99),
        step(StepKind::Clean, "Clean the front", 20, 100),
        step(coat(Side::Front, base), "Base coat", 20, 100),
        step(fire(780), "Fire the base", 0, 98),
        step(StepKind::Finish, "Stone the edge", 20, 100),
        last,
    ]
}
