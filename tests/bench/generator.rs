//! Ten years of a studio, always the same: every name is invented, every number comes from [`Numbers`].
//!
//! All of it goes through the actions a person's entries go through. Lots are received many to an action; the book has
//! no action for many movements out, so that each of those is one, with its own commit.

use crate::batches;
use crate::goods::{self, Entry, Good};
use crate::routes;
use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, Action, ActionKey, Added, Order, Outcome, Receipt, Taking};
use enamelwright::book::Book;
use enamelwright::measure::{Decimal, Money, Quantity};
use enamelwright::studio::{DesignId, MovementKind};
use std::path::Path;
use std::time::Instant;

/// Lots of one action; the book takes 10,000 at most.
const LOTS_OF_AN_ACTION: usize = 5_000;

/// How much there is in a book.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Size {
    /// What it is called; another content needs another name, so that a kept book is not taken for it.
    pub(crate) name: &'static str,
    /// Designs, of twelve materials each.
    pub(crate) designs: u32,
    /// Items of stock, of ten lots and a hundred movements each.
    pub(crate) items: u32,
    /// Batches made, a multiple of five, each five in twenty loads.
    pub(crate) batches: u32,
}

impl Size {
    /// 500 designs, 2,000 items, 20,000 lots, 200,000 movements, 3,000 batches made, 12,000 loads.
    pub(crate) const TEN_YEARS: Self = Self { name: "ten-years-2", designs: 500, items: 2_000, batches: 3_000 };
    /// Just enough to try the benchmarks.
    pub(crate) const SMALL: Self = Self { name: "small-2", designs: 40, items: 120, batches: 30 };
}

/// Numbers that look thrown but are the same each time: xorshift64* (Vigna, 2016).
#[derive(Debug)]
pub(crate) struct Numbers(u64);

impl Numbers {
    /// Where the row of numbers begins; any but 0 would do.
    const START: u64 = 0x9e37_79b9_7f4a_7c15;

    pub(crate) const fn new() -> Self {
        Self(Self::START)
    }

    /// The next one below `limit`, which is above 0.
    pub(crate) fn below(&mut self, limit: u32) -> u32 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let mixed = self.0.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 32;
        u32::try_from((mixed * u64::from(limit)) >> 32).expect("below a limit of 32 bits")
    }

    /// One from `least` to `most`.
    pub(crate) fn between(&mut self, least: u32, most: u32) -> i64 {
        i64::from(least + self.below(most - least + 1))
    }

    /// One of several.
    pub(crate) fn one_of<'a, T: ?Sized>(&mut self, several: &[&'a T]) -> &'a T {
        let count = u32::try_from(several.len()).expect("a short list");
        several[usize::try_from(self.below(count)).expect("a short list")]
    }
}

/// Makes the book; it appears under its name only when it is whole.
pub(crate) fn make(at: &Path, size: Size) {
    let begun = Instant::now();
    eprintln!("making {} ({} designs, {} items, {} batches) …", size.name, size.designs, size.items, size.batches);
    let beside = at.with_file_name("being-made.studiobook");
    for ending in ["", "-wal", "-shm"] {
        let mut name = beside.as_os_str().to_owned();
        name.push(ending);
        // Left from a run that was broken off, or not there.
        let _ = std::fs::remove_file(name);
    }
    let mut maker = Maker { book: Book::create(&beside).expect("a new book"), orders: 0 };
    let mut numbers = Numbers::new();
    maker.name_the_studio();
    let goods = maker.add_items(size, &mut numbers);
    let designs = maker.add_designs(size, &goods, &mut numbers);
    let entries = goods::entries(&goods, &mut numbers);
    maker.receive(&goods, &entries);
    maker.move_out(&goods, &entries);
    let moved = begun.elapsed().as_secs_f64();
    batches::work(&mut maker, size, &designs, &mut numbers);
    eprintln!("  batches and loads in {:.0} s", begun.elapsed().as_secs_f64() - moved);
    let found = actions::check(&maker.book).expect("the book is checked").problems;
    assert!(found.is_empty(), "the check finds {found:?}");
    drop(maker);
    std::fs::rename(&beside, at).expect("the book gets its name");
    eprintln!("made in {:.0} s", begun.elapsed().as_secs_f64());
}

/// The book being made.
pub(crate) struct Maker {
    pub(crate) book: Book,
    orders: u128,
}

impl Maker {
    pub(crate) fn perform(&mut self, action: Action, day: NaiveDate) -> Outcome {
        self.orders += 1;
        let order = Order { key: ActionKey(self.orders), at: noon(day) };
        actions::perform(&mut self.book, action, order).expect("the action is carried out")
    }

    fn name_the_studio(&mut self) {
        let snapshot = actions::snapshot(&self.book).expect("a snapshot");
        let mut settings = (*snapshot.settings).clone();
        "Tidewrack Enamels".clone_into(&mut settings.studio_name);
        "Skerry Bay".clone_into(&mut settings.studio_place);
        let _ = self.perform(Action::SaveSettings(settings), goods::first_day());
    }

    fn add_items(&mut self, size: Size, numbers: &mut Numbers) -> Vec<Good> {
        (0..size.items)
            .map(|index| {
                let mut good = goods::good(index, numbers);
                let action = Action::SaveItem { id: None, item: good.item.clone() };
                let Some(Added::Item(id)) = self.perform(action, goods::first_day()).added else {
                    panic!("an item was to be added")
                };
                good.id = id;
                good
            })
            .collect()
    }

    fn add_designs(&mut self, size: Size, goods: &[Good], numbers: &mut Numbers) -> Vec<DesignId> {
        let rates = actions::snapshot(&self.book).expect("a snapshot").rates;
        (0..size.designs)
            .map(|index| {
                let (design, follows) = routes::design(index, goods, &rates, numbers);
                let action = Action::SaveDesign { id: None, design, follows, notes: String::new() };
                let Some(Added::Design(id)) = self.perform(action, goods::first_day()).added else {
                    panic!("a design was to be added")
                };
                id
            })
            .collect()
    }

    fn receive(&mut self, goods: &[Good], entries: &[Entry]) {
        let receipts: Vec<Receipt> = entries
            .iter()
            .filter(|entry| entry.kind == MovementKind::Receipt)
            .map(|entry| {
                let good = &goods[entry.good];
                let quantity = tenths(entry.tenths);
                Receipt {
                    item: good.id,
                    date: entry.day,
                    quantity,
                    typed: format!("{quantity} {}", good.item.unit),
                    cost: Money::new(Decimal::new(entry.cents, 2)).expect("two decimals"),
                    lot_number: format!("{}-{}", entry.day.format("%y%m"), entry.good),
                    supplier: good.item.supplier.clone(),
                    note: String::new(),
                }
            })
            .collect();
        for lots in receipts.chunks(LOTS_OF_AN_ACTION) {
            let day = lots.last().map_or_else(goods::first_day, |lot| lot.date);
            let _ = self.perform(Action::Receive(lots.to_vec()), day);
        }
    }

    fn move_out(&mut self, goods: &[Good], entries: &[Entry]) {
        // Kept along the way for counts, which say what is there and not what is missing.
        let mut on_hand = vec![0_i64; goods.len()];
        let mut done = 0_usize;
        for entry in entries {
            let there = &mut on_hand[entry.good];
            if entry.kind == MovementKind::Receipt {
                *there += entry.tenths;
                continue;
            }
            *there -= entry.tenths;
            let quantity = tenths(if entry.kind == MovementKind::Count { *there } else { entry.tenths });
            let good = &goods[entry.good];
            let taking = Taking {
                item: good.id,
                date: entry.day,
                quantity,
                typed: format!("{quantity} {}", good.item.unit),
                note: entry.note.to_owned(),
            };
            let action = match entry.kind {
                MovementKind::WriteOff => Action::WriteOff(taking),
                MovementKind::Return => Action::Return { taking, lot: None },
                MovementKind::Count => Action::Count(taking),
                MovementKind::Issue | MovementKind::Receipt | MovementKind::WashBack => Action::Issue(taking),
            };
            let _ = self.perform(action, entry.day);
            done += 1;
            if done.is_multiple_of(20_000) {
                eprintln!("  {done} movements out");
            }
        }
    }
}

fn noon(day: NaiveDate) -> NaiveDateTime {
    day.and_hms_opt(12, 0, 0).expect("a time")
}

/// A quantity from tenths of its unit.
pub(crate) fn tenths(tenths: i64) -> Quantity {
    Quantity::new(Decimal::new(tenths, 1)).expect("one decimal")
}
