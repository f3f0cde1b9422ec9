//! What the order in the form comes to: every line landed, as it is typed.

use super::form::{Field, Form};
use super::read::Reader;
use super::words;
use crate::costing::landed::{InvoicedLine, LandedLine, LandedOrder, invoice_total, landed_costs, unit_price};
use crate::measure::{Decimal, Money, Preferences, Quantity, display};

/// Words anew what every line costs landed; lines without a price are left out until they have one.
pub(super) fn look_ahead(form: &mut Form, preferences: &Preferences) {
    form.sum.clear();
    form.trouble = None;
    for line in &mut form.lines {
        line.landed.clear();
        line.how.clear();
        line.moves = None;
    }
    let Some((order, places)) = invoiced(form, preferences) else { return };
    let lines = match landed_costs(&order) {
        Ok(lines) => lines,
        Err(problems) => {
            let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
            form.trouble = Some(said.join("; "));
            return;
        }
    };
    let packs: Vec<Option<(Quantity, Quantity)>> = {
        let with = Reader { form, preferences };
        let pair = |place: &usize| {
            let line = with.form.lines.get(*place)?;
            Some((with.packs(line).ok()?, with.pack(line).ok()?.quantity))
        };
        places.iter().map(pair).collect()
    };
    for ((place, landed), packs) in places.iter().zip(&lines).zip(packs) {
        let Some(line) = form.lines.get_mut(*place) else { continue };
        line.landed = display::money(landed.total.amount(), preferences);
        line.how = how(landed, preferences);
        if let Some(price) = packs.and_then(|(packs, pack)| unit_price(landed.total, packs, pack)) {
            let unit = display::unit_price(price, line.unit, preferences);
            line.how = if line.how.is_empty() { unit } else { format!("{} · {unit}", line.how) };
        }
        line.moves = line.was.filter(|was| *was != landed.total).map(|was| {
            format!(
                "It cost {} when it came: its lots are corrected, and what was issued from them follows.",
                display::money(was.amount(), preferences)
            )
        });
    }
    form.sum = sum(&order, places.len() < form.lines.len(), preferences);
}

/// The order as far as its prices can be read, and the places of those lines.
fn invoiced(form: &Form, preferences: &Preferences) -> Option<(LandedOrder, Vec<usize>)> {
    let with = Reader { form, preferences };
    let mut places = Vec::new();
    let mut lines = Vec::new();
    for (place, line) in form.lines.iter().enumerate() {
        if let Ok(price) = with.price(line) {
            let weight = with.weight(line).ok().flatten();
            places.push(place);
            lines.push(InvoicedLine { price: price.amount(), weight_g: weight.map(Quantity::amount) });
        }
    }
    if lines.is_empty() {
        return None;
    }
    let charge = |field| with.charge(field).ok().map(Money::amount);
    let order = LandedOrder {
        lines,
        freight: charge(Field::Freight)?,
        duty: charge(Field::Duty)?,
        discount: charge(Field::Discount)?,
        spread: form.spread,
        currency: with.currency().ok()?,
        rate: with.rate().ok()?,
        book_currency: preferences.currency,
    };
    Some((order, places))
}

/// The parts of a landed cost: `price $10.00 + freight $1.20 − discount $0.50`; nothing where it is the price alone.
pub(super) fn how(landed: &LandedLine, preferences: &Preferences) -> String {
    let parts = [
        ("+ freight", landed.freight),
        ("+ duty", landed.duty),
        ("\u{2212} discount", landed.discount),
        ("+ rounding", landed.rounding),
    ];
    let parts: Vec<String> = parts
        .into_iter()
        .filter(|(_, amount)| !amount.is_zero())
        .map(|(name, amount)| format!(" {name} {}", display::money(amount.amount(), preferences)))
        .collect();
    if parts.is_empty() {
        return String::new();
    }
    format!("price {}{}", display::money(landed.price.amount(), preferences), parts.concat())
}

/// What all lines add up to, and how that comes about in another currency.
pub(super) fn sum(order: &LandedOrder, partly: bool, preferences: &Preferences) -> String {
    let Ok(total) = invoice_total(order) else { return String::new() };
    let total = display::money(total.amount(), preferences);
    let told = match invoice_total(&order.in_its_own_currency()) {
        Ok(own) if order.currency != order.book_currency => {
            let own = words::money(own.amount(), order.currency, preferences);
            format!("{own} at {} is {total}", rate(order.rate, preferences))
        }
        _ => total,
    };
    if partly {
        format!("So far the lines that have a price add up to {told}")
    } else {
        format!("The lines add up to the invoice: {told}")
    }
}

fn rate(rate: Decimal, preferences: &Preferences) -> String {
    display::number(rate, 0, 9, preferences.numbers)
}
