//! The words of the trade for each column (common practice, no source).

use super::Field;

/// The words of a field, in lower case with single spaces; the first is its own.
pub(super) const fn of(field: Field) -> &'static [&'static str] {
    match field {
        Field::Reference => {
            &["reference", "ref", "item ref", "item reference", "item code", "code", "our number", "id"]
        }
        Field::Name => &["name", "item name", "description", "item", "title", "what"],
        Field::Kind => &["kind", "type", "category", "group", "class"],
        Field::Unit => &["unit", "units", "uom", "unit of measure", "measure", "kept in"],
        Field::Metal => &["metal", "material", "alloy"],
        Field::Thickness => &["thickness", "gauge", "gage", "ga", "wire gauge", "diameter"],
        Field::Size => &["size", "sheet size", "dimensions", "length x width"],
        Field::Outer => &["outer diameter", "outer", "od", "outside diameter", "tube diameter"],
        Field::Wall => &["wall", "wall thickness"],
        Field::Outline => &["outline", "shape", "form"],
        Field::Dome => &["dome", "dome height"],
        Field::Holes => &["holes", "hole", "drilled"],
        Field::SolderFlow => &["solder flow", "flow point", "flow", "flows at", "solder flows at"],
        Field::Enamel => &["enamel", "enamel type", "transparency", "opacity"],
        Field::Colour => &["colour", "color", "swatch", "hex"],
        Field::Mesh => &["mesh", "grind", "grain size"],
        Field::Fusing => &["fusing", "fusing class", "hardness", "expansion class"],
        Field::FiresFrom => &["fires from", "lowest firing", "firing low", "min firing", "firing from"],
        Field::FiresTo => &["fires to", "highest firing", "firing high", "max firing", "firing to"],
        Field::Maker => &["maker", "manufacturer", "brand", "made by"],
        Field::MakerNumber => &[
            "maker s number",
            "maker number",
            "maker no",
            "colour number",
            "color number",
            "part number",
            "product number",
        ],
        Field::Supplier => &["supplier", "vendor", "from", "bought from", "bought at", "shop"],
        Field::Shelf => &["shelf", "location", "place", "where", "drawer", "bin"],
        Field::ReorderLevel => &["reorder level", "reorder point", "reorder", "minimum", "min", "low at", "min stock"],
        Field::Lead => &["bears lead", "lead", "lead bearing", "leaded", "contains lead"],
        Field::Retired => &["set aside", "retired", "discontinued", "inactive"],
        Field::Note => &["note", "notes", "remark", "remarks", "comment", "comments", "memo"],
        Field::Date => &["date", "day", "on", "when", "received on", "counted on", "invoice date", "date received"],
        Field::Item => &[
            "item",
            "reference",
            "ref",
            "item ref",
            "item reference",
            "item code",
            "code",
            "item name",
            "name",
            "description",
        ],
        Field::Movement => &["movement", "movement type", "kind", "type", "action", "transaction", "in out", "what"],
        Field::Quantity => &[
            "quantity", "qty", "amount", "counted", "count", "on hand", "weight", "pieces", "number", "received",
            "stock",
        ],
        Field::Pack => &["pack", "sold in", "bought in", "pack size"],
        Field::PackQuantity => &["pack quantity", "in a pack", "pack holds", "quantity in a pack"],
        Field::LeastPacks => &["fewest packs", "minimum packs", "smallest order", "minimum order"],
        Field::LeadDays => &["lead days", "lead time", "lead time days", "days to come"],
        Field::Cost => {
            &["cost", "total cost", "landed cost", "total", "line total", "paid", "value", "total landed cost"]
        }
        Field::Price => {
            &["price of one", "unit price", "price", "unit cost", "price each", "cost each", "each", "price per unit"]
        }
        Field::Lot => &["maker s lot", "lot", "lot number", "lot no", "batch", "batch number", "batch no"],
    }
}

/// A heading as words are compared: lower case, letters and figures only, single spaces, nothing in brackets.
pub(super) fn plain(text: &str) -> String {
    let mut depth = 0_u32;
    let mut plain = String::new();
    for letter in text.chars().flat_map(char::to_lowercase) {
        match letter {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            letter if depth == 0 && letter.is_alphanumeric() => plain.push(letter),
            _ if depth == 0 && !plain.is_empty() && !plain.ends_with(' ') => plain.push(' '),
            _ => {}
        }
    }
    plain.trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_are_compared_by_their_words() {
        assert_eq!(plain("  Maker's\n Number: "), "maker s number");
        assert_eq!(plain("Qty. (oz)"), "qty");
        assert_eq!(plain("COÛT"), "coût");
        assert_eq!(plain("(mm)"), "");
    }
}
