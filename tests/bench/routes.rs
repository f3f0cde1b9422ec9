//! Designs of twelve materials, all taken from stock, and fifteen steps.

use crate::generator::Numbers;
use crate::goods::{Good, OF_A_SET};
use enamelwright::measure::{Currency, Decimal};
use enamelwright::studio::{
    Blank, Coat, Design, DesignCode, Firing, Follows, ItemDetails, KilnRates, Material, MaterialId, MaterialKind,
    Metal, Outline, Rates, Side, Step, StepKind, StudioRates, Thickness, Use,
};

const PLACES: [&str; 12] =
    ["Lantern", "Harbour", "Marsh", "Skerry", "Dune", "Quay", "Wren", "Fern", "Thrift", "Gale", "Shingle", "Beacon"];
const SHAPES: [&str; 8] = ["drop", "stud", "bowl", "brooch", "leaf", "pendant", "tile", "button"];

/// The design of that index and what it takes from the studio: rates, channels, and the price of each material.
pub(crate) fn design(index: u32, goods: &[Good], rates: &StudioRates, numbers: &mut Numbers) -> (Design, Follows) {
    let sets = u32::try_from(goods.len()).expect("some thousand goods") / OF_A_SET;
    let taken: Vec<&Good> = (0..OF_A_SET)
        .map(|place| {
            let at = numbers.below(sets) * OF_A_SET + place;
            &goods[usize::try_from(at).expect("some thousand goods")]
        })
        .collect();
    let follows = Follows {
        labour: true,
        overhead: true,
        kiln: true,
        channels: rates.channels.iter().map(|channel| channel.id.clone()).collect(),
        materials: (0_usize..).zip(&taken).map(|(place, good)| (id(place), good.id)).collect(),
    };
    let design = Design {
        currency: Currency::USD,
        code: DesignCode::new(&format!("D-{index:04}")).expect("a code"),
        name: format!("{} {}", numbers.one_of(&PLACES), numbers.one_of(&SHAPES)),
        pieces: 6 + numbers.below(19),
        for_children: false,
        rates: Rates {
            labour_per_hour: Decimal::from(22),
            overhead_per_hour: Decimal::from(4),
            scrap_value: Decimal::new(2, 1),
        },
        kiln: KilnRates {
            kwh_per_load: Decimal::new(4, 1),
            price_per_kwh: Decimal::new(18, 2),
            recovery_minutes: Decimal::from(4),
            wear_per_hour: Decimal::new(185, 3),
            solder_margin_c: Decimal::from(38),
        },
        blank: blank(index, numbers),
        materials: taken.iter().enumerate().map(|(place, good)| material(place, good)).collect(),
        steps: steps(numbers),
        channels: rates.channels.clone(),
    };
    (design, follows)
}

fn id(place: usize) -> MaterialId {
    MaterialId(format!("material-{}", place + 1))
}

fn material(place: usize, good: &Good) -> Material {
    let (kind, fusing, metal) = match &good.item.details {
        ItemDetails::Blank { metal, .. } => (MaterialKind::Blank, None, Some(*metal)),
        ItemDetails::Enamel { fusing, .. } => (MaterialKind::Enamel, *fusing, None),
        ItemDetails::Finding { metal } => (MaterialKind::Finding, None, *metal),
        ItemDetails::Solder { .. } => (MaterialKind::Solder, None, None),
        ItemDetails::Packaging => (MaterialKind::Packaging, None, None),
        _ => (MaterialKind::Consumable, None, None),
    };
    Material {
        id: id(place),
        name: good.item.name.clone(),
        kind,
        unit: good.item.unit,
        price: Decimal::new(good.price_e4, 4),
        fusing,
        lead_bearing: false,
        metal,
    }
}

fn blank(index: u32, numbers: &mut Numbers) -> Blank {
    let wide = Decimal::from(numbers.between(18, 40));
    let long = Decimal::from(numbers.between(45, 60));
    let (outline, dome) = match index % 4 {
        0 => (Outline::Disc { diameter_mm: wide }, 3),
        1 => (Outline::Drop { height_mm: long, width_mm: wide }, 3),
        2 => (Outline::Ellipse { length_mm: long, width_mm: wide }, 0),
        _ => (Outline::Rectangle { length_mm: long, width_mm: wide, corner_mm: Decimal::from(2) }, 0),
    };
    Blank {
        metal: Metal::Copper,
        thickness: Thickness::Gauge(18),
        outline,
        dome_height_mm: Decimal::from(dome),
        holes_mm: vec![Decimal::new(15, 1)],
        solder_flow_c: None,
        count: 1,
    }
}

/// Five coats and five firings; every material is used. Materials go by their place in a set.
fn steps(numbers: &mut Numbers) -> Vec<Step> {
    let mut steps = vec![step("Saw, dome, clean", StepKind::Prepare, 80, 100, &[0, 6, 9])];
    for (coat, enamel) in (1_usize..=5).enumerate() {
        let side = if coat == 0 { Side::Back } else { Side::Front };
        let kind = StepKind::Coat(Coat {
            side,
            material: id(enamel),
            coverage: if coat == 0 || coat == 1 { Decimal::ONE } else { Decimal::new(numbers.between(20, 90), 2) },
            coat_mg_per_cm2: Decimal::from(numbers.between(50, 75)),
            overspray: Decimal::new(3, 1),
            reclaimed: Decimal::new(7, 1),
        });
        steps.push(step(&format!("Coat {}", coat + 1), kind, numbers.between(10, 40), 100, &[]));
        let heat = StepKind::Fire(Firing {
            celsius: Decimal::from(790 - 10 * i64::try_from(coat).expect("a few coats")),
            minutes: Decimal::new(numbers.between(15, 33), 1),
            pieces_per_load: 4 + numbers.below(5),
            attended_minutes_per_load: Decimal::from(5),
        });
        steps.push(step(&format!("Fire {}", coat + 1), heat, 0, numbers.between(95, 99), &[]));
    }
    steps.push(step("Stone the edge", StepKind::Finish, 20, 100, &[]));
    steps.push(step("Clean", StepKind::Clean, 15, 100, &[10]));
    steps.push(step("Assemble and check", StepKind::Assemble, 30, 100, &[7, 8]));
    steps.push(step("Box, tag and card", StepKind::Pack, 20, 100, &[11]));
    steps
}

/// A step from tenths of a minute a piece and hundredths that leave it good; one of each material it uses.
fn step(name: &str, kind: StepKind, tenths: i64, hundredths: i64, uses: &[usize]) -> Step {
    Step {
        kind,
        name: name.to_owned(),
        setup_minutes: Decimal::from(5),
        minutes_per_piece: Decimal::new(tenths, 1),
        good: Decimal::new(hundredths, 2),
        uses: uses.iter().map(|place| Use { material: id(*place), quantity: Decimal::ONE }).collect(),
    }
}
