//! What the jars of an item hold, and which of them must be weighed.

use crate::measure::{Quantity, TooLarge};
use crate::studio::{BookJar, ItemId, JarId};

/// The jars of an item, label by label, that were never weighed and are not among those that are weighed now: what there
/// is of the item cannot be told before they are. A jar set aside holds none of it.
pub fn never_weighed(item: ItemId, jars: &[BookJar], is_read: impl Fn(JarId) -> bool) -> Vec<&BookJar> {
    let in_use = jars.iter().filter(|jar| jar.jar.item == item && !jar.jar.retired);
    in_use.filter(|jar| jar.latest.is_none() && !is_read(jar.id)).collect()
}

/// What a jar is expected to hold, g: the only one of its item what the book says there is, `on_hand`; one of several what
/// it held when it was weighed last, and nothing can be expected of one that never was.
///
/// # Errors
/// [`TooLarge`] where what it held does not fit.
pub fn expected_in(jar: &BookJar, jars: &[BookJar], on_hand: Quantity) -> Result<Option<Quantity>, TooLarge> {
    let others = jars.iter().any(|other| other.id != jar.id && other.jar.item == jar.jar.item && !other.jar.retired);
    if others { held_last(jar) } else { Ok(Some(on_hand)) }
}

/// What a jar held when it was weighed last, g, 0 or more; none where it never was.
///
/// # Errors
/// [`TooLarge`] where it does not fit.
pub fn held_last(jar: &BookJar) -> Result<Option<Quantity>, TooLarge> {
    // A tare that was changed since may be above what the jar weighed before: then it was empty.
    jar.latest.map(|latest| Ok(latest.gross.minus(jar.jar.tare)?.max(Quantity::ZERO))).transpose()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{Jar, Weighing};
    use chrono::NaiveDate;

    fn grams(amount: i64) -> Quantity {
        Quantity::new(amount.into()).unwrap()
    }

    fn jar(id: i64, item: i64, tare: i64, gross: Option<i64>) -> BookJar {
        let date = NaiveDate::from_ymd_opt(2026, 3, 14).unwrap();
        BookJar {
            id: JarId(id),
            jar: Jar { item: ItemId(item), label: format!("A{id}"), tare: grams(tare), retired: false },
            latest: gross.map(|gross| Weighing { date, gross: grams(gross), movement: None }),
        }
    }

    #[test]
    fn one_of_several_jars_is_expected_to_hold_what_it_held() {
        let jars = [jar(1, 1, 200, Some(260)), jar(2, 1, 200, None), jar(3, 2, 150, None), jar(4, 1, 300, Some(260))];
        let expected = |jar: &BookJar| expected_in(jar, &jars, grams(75)).unwrap();
        assert_eq!(jars.each_ref().map(expected), [Some(grams(60)), None, Some(grams(75)), Some(grams(0))]);
        let waiting = |read: i64| -> Vec<i64> {
            never_weighed(ItemId(1), &jars, |id| id.0 == read).iter().map(|jar| jar.id.0).collect()
        };
        assert_eq!((waiting(1), waiting(2)), (vec![2], vec![]));
    }
}
