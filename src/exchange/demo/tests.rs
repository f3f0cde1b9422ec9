//! The demo studio holds what every page needs, and its parts fit together.

use super::{DemoStudio, demo};
use crate::measure::{Decimal, Unit};
use crate::studio::{ItemKind, Metal, MovementKind, NumberedKind, StepKind};
use chrono::{Datelike, NaiveDate, Weekday};
use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;

type Checked = Result<(), Box<dyn Error>>;

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, 14).unwrap()
}

fn studio() -> Result<DemoStudio, Box<dyn Error>> {
    Ok(demo(today())?)
}

/// What is on hand of each item after its movements, by plain adding; `Err` names the first item that runs below zero.
fn on_hand(studio: &DemoStudio) -> Result<BTreeMap<&str, Decimal>, String> {
    let mut stock: BTreeMap<&str, Decimal> = BTreeMap::new();
    for movement in &studio.movements {
        let left = stock.entry(&movement.item).or_default();
        let quantity = movement.quantity.amount();
        *left = match movement.kind {
            MovementKind::Receipt | MovementKind::WashBack => *left + quantity,
            MovementKind::Count => quantity,
            MovementKind::Issue | MovementKind::Return | MovementKind::WriteOff => *left - quantity,
        };
        if left.is_sign_negative() && !left.is_zero() {
            return Err(format!("{} is {left} on {}", movement.item, movement.date));
        }
    }
    Ok(stock)
}

#[test]
fn the_studio_is_as_rich_as_it_is_meant_to_be() -> Checked {
    let studio = studio()?;
    let of_kind = |kind| studio.items.iter().filter(|item| item.details.kind() == kind).count();
    assert_eq!(of_kind(ItemKind::Enamel), 40);
    assert_eq!(of_kind(ItemKind::Blank), 15);
    for kind in ItemKind::ALL {
        assert!(of_kind(kind) > 0, "no {}", kind.name());
    }
    assert!(studio.movements.iter().filter(|movement| movement.kind == MovementKind::Receipt).count() >= 60);
    for kind in MovementKind::ALL {
        assert!(studio.movements.iter().any(|movement| movement.kind == kind), "no {}", kind.name());
    }
    assert_eq!(studio.jars.len(), 12);
    assert!(studio.items.iter().filter(|item| item.buying.pack.is_some()).count() >= 15);
    assert_eq!(studio.designs.len(), 12);
    assert_eq!(studio.rates.channels.len(), 4);
    assert_eq!(studio.price_lists.len(), 2);
    assert_eq!(studio.sheets.len(), 3);
    for kind in NumberedKind::ALL {
        assert!(studio.papers.iter().any(|paper| paper.kind == kind), "no {}", kind.name());
    }
    assert!(studio.papers.is_sorted_by_key(|paper| paper.date));
    Ok(())
}

#[test]
fn the_designs_differ_as_a_studios_designs_do() -> Checked {
    let studio = studio()?;
    let designs = || studio.designs.iter().map(|demo| &demo.design);
    let firings: BTreeSet<usize> = designs()
        .map(|design| design.steps.iter().filter(|step| matches!(step.kind, StepKind::Fire(_))).count())
        .collect();
    assert_eq!(firings, (2..=8).collect());
    assert!(designs().any(|design| design.blank.metal == Metal::Copper));
    assert!(designs().any(|design| design.blank.metal == Metal::FineSilver));
    assert!(designs().any(|design| design.blank.dome_height_mm.is_zero()));
    assert!(designs().any(|design| !design.blank.dome_height_mm.is_zero()));
    assert!(designs().any(|design| !design.blank.holes_mm.is_empty()));
    assert!(designs().any(|design| design.blank.solder_flow_c.is_some()));
    assert!(designs().any(|design| design.blank.count == 2));
    for design in designs().filter(|design| design.for_children) {
        assert!(design.materials.iter().all(|material| !material.lead_bearing), "{}", design.code);
    }
    assert!(designs().any(|design| design.for_children));
    Ok(())
}

#[test]
fn every_material_of_every_design_is_in_stock_as_the_design_says() -> Checked {
    let studio = studio()?;
    for demo in &studio.designs {
        let design = &demo.design;
        assert_eq!(demo.links.len(), design.materials.len(), "{}", design.code);
        for (material, (id, reference)) in design.materials.iter().zip(&demo.links) {
            assert_eq!(&material.id, id);
            let item = studio.items.iter().find(|item| item.reference == *reference);
            let item = item.ok_or_else(|| format!("{reference} is not in stock"))?;
            assert_eq!(item.name, material.name, "{reference}");
            assert_eq!(item.unit, material.unit, "{reference}");
            assert_eq!(item.lead_bearing, material.lead_bearing, "{reference}");
        }
        assert!(demo.follows.channels.len() >= 3, "{}", design.code);
    }
    Ok(())
}

#[test]
fn stock_never_runs_below_zero_and_a_few_items_are_low() -> Checked {
    let studio = studio()?;
    let stock = on_hand(&studio)?;
    let low = studio.items.iter().filter(|item| {
        let left = stock.get(item.reference.as_str()).copied().unwrap_or_default();
        item.reorder_level.is_some_and(|level| left <= level.amount())
    });
    assert!((5..=20).contains(&low.count()));
    Ok(())
}

/// The pound of 453.59237 g, the ounce of a sixteenth of it, the inch of 25.4 mm and the foot of twelve: NIST Special
/// Publication 811, Appendix B.
#[test]
fn quantities_are_what_was_typed() -> Checked {
    let studio = studio()?;
    let unit_of: BTreeMap<&str, Unit> = studio.items.iter().map(|item| (item.reference.as_str(), item.unit)).collect();
    for movement in &studio.movements {
        let typed = movement.typed.as_str();
        let (figure, word) = match typed.strip_prefix("pack of ") {
            Some(count) => (count, ""),
            None => typed.split_once(' ').unwrap_or((typed, "")),
        };
        let factor = match (unit_of.get(movement.item.as_str()), word) {
            (Some(Unit::Gram), "lb") => "453.59237",
            (Some(Unit::Gram), "oz") => "28.349523125",
            (Some(Unit::Millimetre), "in") => "25.4",
            (Some(Unit::Millimetre), "ft") => "304.8",
            (Some(Unit::Millimetre), "cm") => "10",
            (Some(Unit::Millimetre), "m") | (Some(Unit::Millilitre), "l") => "1000",
            (Some(Unit::Each), "" | "sheet" | "sheets" | "pair" | "pairs")
            | (Some(Unit::Gram), "g")
            | (Some(Unit::Millimetre), "mm")
            | (Some(Unit::Millilitre), "ml") => "1",
            other => return Err(format!("{typed}: {other:?}").into()),
        };
        let expected = Decimal::from_str_exact(figure)? * Decimal::from_str_exact(factor)?;
        assert_eq!(movement.quantity.amount(), expected.normalize(), "{} {typed}", movement.item);
    }
    Ok(())
}

#[test]
fn days_follow_the_day_of_loading() -> Checked {
    let studio = studio()?;
    let fair = studio.settings.fair_date.ok_or("no fair")?;
    assert_eq!(fair.weekday(), Weekday::Sat);
    assert!((6..=12).contains(&(fair - today()).num_days()));
    let first = studio.movements.first().ok_or("no movement")?;
    let last = studio.movements.last().ok_or("no movement")?;
    assert!((last.date - first.date).num_days() > 380 && last.date < today());
    assert!(studio.movements.is_sorted_by_key(|movement| movement.date));
    assert!(studio.price_lists.iter().all(|list| list.date < today()));
    let leap = NaiveDate::from_ymd_opt(2028, 2, 29).ok_or("no such day")?;
    let later = demo(leap)?;
    assert_eq!(later.movements.len(), studio.movements.len());
    assert_eq!(later.designs, studio.designs);
    Ok(())
}

#[test]
fn a_day_at_the_edge_of_the_calendar_is_refused_plainly() {
    let problem = demo(NaiveDate::MIN).unwrap_err();
    assert!(problem.to_string().contains("is not a date"), "{problem}");
    let problem = demo(NaiveDate::MAX).unwrap_err();
    assert!(problem.to_string().contains("no Saturday"), "{problem}");
}

#[test]
fn loading_twice_gives_the_same_studio() -> Checked {
    assert_eq!(studio()?, studio()?);
    Ok(())
}

#[test]
fn the_common_ticket_is_one_ticket_on_all_retail_channels() -> Checked {
    let studio = studio()?;
    for list in &studio.price_lists {
        let mut tickets: BTreeMap<&str, BTreeSet<Decimal>> = BTreeMap::new();
        for line in &list.lines {
            let channel =
                studio.rates.channels.iter().find(|channel| channel.id == line.channel).ok_or("no channel")?;
            assert_eq!(channel.retail, line.common, "{} {}", list.name, line.code);
            assert!(line.ticket > line.full_cost.amount(), "{} {}", list.name, line.code);
            if line.common {
                tickets.entry(line.code.as_str()).or_default().insert(line.ticket);
            }
        }
        assert!(tickets.values().all(|tickets| tickets.len() == 1), "{}", list.name);
    }
    Ok(())
}
