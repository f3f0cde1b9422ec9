//! Kilns, their days, loads and test tiles through actions: what they write, what they refuse, what undo takes back.

#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic, clippy::unwrap_used)]

mod rig;

use enamelwright::actions::{self, Action, Added, DoorOpened, NewBatch, OVERRIDE_WORDS, Outcome, Refusal, snapshot};
use enamelwright::costing::load_check::shelf_area;
use enamelwright::kiln::day::DayBasis;
use enamelwright::measure::{Decimal, Money, Unit};
use enamelwright::studio::{
    BatchId, BatchRecord, BatchState, BenchDeed, Buying, Charged, Design, DesignId, ElectricKiln, EnamelKind,
    FiringResult, FittedHeat, Follows, HeatSource, Item, ItemDetails, ItemId, Kiln, KilnDay, KilnId, Load, LoadId,
    LossCause, LossKind, Metal, PieceId, Step, StepKind, TestTile, TileId, Timed, Verdict,
};
use proptest::prelude::*;
use rig::{Rig, day, decimal, electric, time};
use std::collections::BTreeMap;
use std::ops::{Deref, DerefMut};

/// A book whose kilns are worked.
struct Bench {
    rig: Rig,
}

impl Deref for Bench {
    type Target = Rig;

    fn deref(&self) -> &Rig {
        &self.rig
    }
}

impl DerefMut for Bench {
    fn deref_mut(&mut self) -> &mut Rig {
        &mut self.rig
    }
}

impl Bench {
    fn new() -> Self {
        Self { rig: Rig::new("2026-10-14 18:00:00") }
    }

    // Here too, so that what is done may be asked of the bench itself.
    fn perform(&mut self, action: Action) -> Result<Outcome, Refusal> {
        self.rig.perform(action)
    }

    fn undo(&mut self) -> String {
        self.rig.undo().unwrap().name
    }

    fn redo(&mut self) -> String {
        self.rig.redo().unwrap().name
    }

    fn kiln(&mut self, name: &str) -> KilnId {
        self.save_kiln(kiln(name))
    }

    fn torch(&mut self) -> KilnId {
        self.save_kiln(Kiln { heat: HeatSource::Torch, ..kiln("Bench torch") })
    }

    fn batch_of(&mut self, design: DesignId, pieces: u32) -> BatchId {
        let new = NewBatch { design, name: String::new(), pieces, date: day("2026-10-14"), note: String::new() };
        match self.added(Action::StartBatch(new)) {
            Added::Batch(id) => id,
            other => panic!("{other:?}"),
        }
    }

    /// A batch of a design of two firings.
    fn batch(&mut self, code: &str, pieces: u32) -> BatchId {
        let design = self.save_design(design(code), Follows::default());
        self.batch_of(design, pieces)
    }

    fn record(&self, batch: BatchId) -> BatchRecord {
        snapshot(&self.book).unwrap().batch(batch).unwrap().clone()
    }

    fn deeds(&self, batch: BatchId) -> Vec<BenchDeed> {
        self.record(batch).entries.into_iter().map(|entry| entry.deed).collect()
    }

    fn pieces(&self, batch: BatchId) -> Vec<PieceId> {
        self.record(batch).pieces.iter().map(|piece| piece.id).collect()
    }

    /// All pieces of batches at a step, as a load of a kiln from 10:00.
    fn load(&self, kiln: KilnId, batches: &[BatchId], step: usize, celsius: &str) -> Load {
        let mut charge = Vec::new();
        for batch in batches {
            let record = self.record(*batch);
            let area_cm2 = shelf_area(&record.batch.plan).unwrap();
            charge.extend(record.pieces.iter().map(|piece| Charged {
                piece: piece.id,
                batch: *batch,
                step,
                area_cm2,
                result: None,
            }));
        }
        Load {
            kiln,
            closed_at: time("2026-10-14 10:00:00"),
            opened_at: None,
            set_celsius: decimal(celsius),
            read_celsius: None,
            asked_minutes: decimal("2.5"),
            attended_minutes: None,
            charge,
            override_words: String::new(),
            note: String::new(),
        }
    }

    /// The same, fired already: three minutes, all good.
    fn fired(&self, kiln: KilnId, batches: &[BatchId], step: usize, from: &str) -> Load {
        let mut load = self.load(kiln, batches, step, "780");
        load.closed_at = time(from);
        load.opened_at = Some(time(from) + chrono::Duration::minutes(3));
        load.charge.iter_mut().for_each(|charged| charged.result = Some(FiringResult::Good));
        load
    }

    fn close(&mut self, load: Load) -> LoadId {
        match self.added(Action::CloseDoor(load)) {
            Added::Load(id) => id,
            other => panic!("{other:?}"),
        }
    }

    fn log(&mut self, load: Load) -> LoadId {
        match self.added(Action::LogLoad(load)) {
            Added::Load(id) => id,
            other => panic!("{other:?}"),
        }
    }

    /// All that loads and batches hold, to compare.
    fn all(&self) -> String {
        let now = snapshot(&self.book).unwrap();
        let loads = actions::loads(&self.book, day("2000-01-01"), day("2100-01-01")).unwrap();
        format!("{:?} {:?} {:?} {loads:?}", now.batches, now.firing, now.tiles)
    }
}

fn kiln(name: &str) -> Kiln {
    rig::kiln(name, electric())
}

fn fire(name: &str, celsius: &str, attended: &str) -> Step {
    rig::fire(name, celsius, 6, attended)
}

/// Discs fired at 780 and again at 770 °C.
fn design(code: &str) -> Design {
    rig::design(code, vec![fire("Base firing", "780", "6"), fire("Gloss firing", "770", "4")])
}

/// The same with a joint that flows at that temperature.
fn soldered(code: &str, flow: &str) -> Design {
    let mut design = design(code);
    design.blank.solder_flow_c = Some(decimal(flow));
    design
}

fn opened(load: LoadId, results: Vec<(PieceId, FiringResult)>) -> DoorOpened {
    DoorOpened {
        load,
        at: time("2026-10-14 10:02:45"),
        read_celsius: Some(decimal("776")),
        attended_minutes: None,
        results,
        note: String::new(),
    }
}

fn cracked() -> FiringResult {
    FiringResult::Lost { cause: LossCause::Cracked, kind: LossKind::Normal }
}

#[test]
fn a_load_of_two_batches_writes_to_each_what_is_its() {
    let mut bench = Bench::new();
    let fen = bench.kiln("Fen");
    let mut light = design("LIGHT");
    light.steps[0] = fire("Base firing", "785", "4");
    let light = bench.save_design(light, Follows { labour: true, overhead: true, ..Follows::default() });
    let (one, two) = (bench.batch("DARK", 2), bench.batch_of(light, 1));
    let before = bench.all();
    let load = bench.load(fen, &[two, one], 0, "782");
    let (first, second, third) = (bench.pieces(one)[0], bench.pieces(one)[1], bench.pieces(two)[0]);

    let closed = bench.perform(Action::CloseDoor(load)).unwrap();
    assert_eq!(closed.name, "Close the door on 3 pieces at 782 °C");
    let Some(Added::Load(id)) = closed.added else { panic!("{closed:?}") };
    assert_eq!(bench.deeds(one).len(), 1);
    assert_eq!(
        bench.name(Action::AskMinutes { load: id, minutes: decimal("2.75") }),
        "Ask 2:45 in the heat of the load in Fen"
    );
    bench.assert_sound();

    let name = bench.name(Action::OpenDoor(opened(id, vec![(second, cracked()), (third, FiringResult::Again)])));
    assert_eq!(name, "Load of 3 pieces: 1 good, 1 to go in again, 1 cracked");
    let worked = |pieces: Vec<PieceId>, minutes: &str, labour: &str, overhead: &str| BenchDeed::Worked {
        step: 0,
        pieces,
        minutes: decimal(minutes),
        labour_per_hour: decimal(labour),
        overhead_per_hour: decimal(overhead),
        how: Timed::Planned,
    };
    // Six and four minutes as planned, shared over three pieces.
    assert_eq!(
        bench.deeds(one)[1..],
        [
            BenchDeed::Fired { step: 0, pieces: vec![first, second], load: id },
            worked(vec![first, second], "6.666667", "24", "6.5"),
            BenchDeed::Passed { step: 0, pieces: vec![first] },
            BenchDeed::Lost {
                step: 0,
                pieces: vec![second],
                cause: LossCause::Cracked,
                kind: LossKind::Normal,
                load: Some(id),
                note: String::new(),
            },
        ]
    );
    let rates = snapshot(&bench.book).unwrap();
    let studio = (rates.rates.labour_per_hour.amount(), rates.overhead_per_hour().unwrap());
    assert_eq!(
        bench.deeds(two)[1..],
        [
            BenchDeed::Fired { step: 0, pieces: vec![third], load: id },
            worked(vec![third], "3.333333", &studio.0.to_string(), &studio.1.to_string()),
        ]
    );
    let kept = actions::load(&bench.book, id).unwrap().unwrap().load;
    assert_eq!(kept.opened_at, Some(time("2026-10-14 10:02:45")));
    assert_eq!((kept.asked_minutes, kept.read_celsius), (decimal("2.75"), Some(decimal("776"))));
    bench.assert_sound();

    let after = bench.all();
    for _ in 0..3 {
        bench.undo();
    }
    assert_eq!(bench.all(), before);
    for _ in 0..3 {
        bench.redo();
    }
    assert_eq!(bench.all(), after);
    bench.assert_sound();
}

#[test]
fn a_batch_whose_last_piece_is_lost_is_finished() {
    let mut bench = Bench::new();
    let fen = bench.kiln("Fen");
    let batch = bench.batch("DARK", 2);
    let mut load = bench.fired(fen, &[batch], 0, "2026-10-14 10:00:00");
    load.attended_minutes = Some(Decimal::ZERO);
    load.charge.iter_mut().for_each(|charged| charged.result = Some(cracked()));
    assert_eq!(bench.name(Action::LogLoad(load)), "Load of 2 pieces: 2 cracked");
    let heads = snapshot(&bench.book).unwrap();
    assert!(heads.batch(batch).is_none());
    bench.undo();
    assert_eq!(bench.record(batch).batch.state, BatchState::Open);
    bench.assert_sound();
}

#[test]
fn firing_past_a_stop_needs_the_words_and_keeps_them() {
    let mut bench = Bench::new();
    let fen = bench.kiln("Fen");
    let design = bench.save_design(soldered("LOOP", "778"), Follows::default());
    let (plain, joint) = (bench.batch("DARK", 1), bench.batch_of(design, 2));
    let before = bench.all();
    let mut load = bench.load(fen, &[plain, joint], 0, "780");
    let said = bench.refused(Action::CloseDoor(load.clone()));
    assert_eq!(
        said,
        "Temperature set: 780 °C was given; piece 1 of batch 2 and 1 more: fired at 780 °C, and the weakest solder joint \
         flows at 778 °C: the joint can let go; up to 740 °C is accepted (piece 1 of batch 2: its weakest solder joint \
         flows at 778 °C, less the margin of 38 °C), or “fire anyway” typed to fire past it"
    );
    load.override_words = "yes".to_owned();
    assert_eq!(bench.refused(Action::CloseDoor(load.clone())), said);
    assert_eq!(bench.all(), before);
    load.override_words = " Fire Anyway ".to_owned();
    let id = bench.close(load);
    assert_eq!(actions::load(&bench.book, id).unwrap().unwrap().load.override_words, OVERRIDE_WORDS);
    bench.perform(Action::OpenDoor(opened(id, Vec::new()))).unwrap();

    // The kiln's own hottest is a stop as well; words that override nothing are not kept.
    let mut load = bench.load(fen, &[plain], 1, "1001");
    load.closed_at = time("2026-10-14 11:00:00");
    let said = bench.refused(Action::CloseDoor(load.clone()));
    assert!(said.contains("set to 1001 °C, and Fen can hold 1000 °C at most"), "{said}");
    load.set_celsius = decimal("770");
    load.override_words = OVERRIDE_WORDS.to_owned();
    let id = bench.close(load);
    assert_eq!(actions::load(&bench.book, id).unwrap().unwrap().load.override_words, "");
    bench.assert_sound();
}

#[test]
fn a_load_that_cannot_be_is_refused_and_leaves_nothing() {
    let mut bench = Bench::new();
    let (fen, torch) = (bench.kiln("Fen"), bench.torch());
    let (batch, big) = (bench.batch("DARK", 2), bench.batch("MANY", 11));
    let good = bench.load(fen, &[batch], 0, "780");
    let before = bench.all();
    let with = |change: &dyn Fn(&mut Load)| {
        let mut load = good.clone();
        change(&mut load);
        load
    };
    let cases: Vec<(Load, &str)> = vec![
        (with(&|load| load.set_celsius = decimal("99")), "Temperature set: 99 °C was given; a number 100 to 1400 °C"),
        (with(&|load| load.read_celsius = Some(decimal("-1"))), "Temperature read: -1 °C"),
        (with(&|load| load.asked_minutes = Decimal::ZERO), "Minutes: 0 min was given; a number above 0 to 1440 min"),
        (with(&|load| load.attended_minutes = Some(decimal("0.0000001"))), "Hands-on minutes: "),
        (with(&|load| load.charge.clear()), "Pieces: 0 was given; 1 to 1,000 pieces are accepted"),
        (with(&|load| load.charge.push(load.charge[0].clone())), "Pieces: piece row 1 twice was given"),
        (with(&|load| load.charge[0].step = 1), "Pieces: piece 1 of batch 1, which waits for step 1 was given"),
        (with(&|load| load.charge[0].step = 7), "Pieces: piece 1 of batch 1 at step 8"),
        (with(&|load| load.charge[0].batch = big), "Pieces: piece row 1 of batch 2, which is not in it"),
        (with(&|load| load.charge[1].area_cm2 = decimal("7.068583")), "Area on the shelf: 7.068583 cm² for piece 2"),
        (with(&|load| load.opened_at = Some(load.closed_at)), "Door opened: "),
        (with(&|load| load.charge[1].result = Some(FiringResult::Good)), "Result: "),
        (with(&|load| load.kiln = torch), "Pieces: 2 was given; one piece is accepted: Bench torch is a torch"),
        (with(&|load| load.kiln = KilnId(99)), "there is no kiln with row 99"),
        (
            with(&|load| load.closed_at = time("2026-10-13 10:00:00")),
            "Door closed: 2026-10-13 was given; 2026-10-14 or",
        ),
        (bench.load(fen, &[big], 0, "780"), "Pieces: 99 cm² of pieces was given; up to 90 cm², the shelf of Fen"),
    ];
    for (load, said) in cases {
        let refusal = bench.refused(Action::CloseDoor(load));
        assert!(refusal.starts_with(said), "{refusal}");
    }
    let fired = bench.fired(fen, &[batch], 0, "2026-10-14 10:00:00");
    let mut early = fired.clone();
    early.opened_at = Some(early.closed_at);
    let mut long = fired.clone();
    long.opened_at = Some(time("2026-10-17 10:00:00"));
    let mut open = fired.clone();
    open.charge[0].result = None;
    for (load, said) in
        [(early, "Door opened: "), (long, "Door opened: "), (open, "Result: "), (good.clone(), "Door opened")]
    {
        let refusal = bench.refused(Action::LogLoad(load));
        assert!(refusal.starts_with(said), "{refusal}");
    }
    assert_eq!(bench.all(), before);

    // A door is opened once, after it was closed, with results of what is inside.
    let id = bench.close(good);
    let mut again = bench.load(fen, &[big], 0, "780");
    again.charge.truncate(1);
    assert!(bench.refused(Action::CloseDoor(again.clone())).contains("open it first"));
    again.kiln = torch;
    again.charge = bench.load(torch, &[batch], 0, "780").charge[..1].to_vec();
    assert!(bench.refused(Action::CloseDoor(again)).contains("which is in the kiln"));
    let stranger = bench.pieces(big)[0];
    for results in [vec![(stranger, cracked())], vec![(PieceId(1), cracked()), (PieceId(1), cracked())]] {
        assert!(bench.refused(Action::OpenDoor(opened(id, results))).starts_with("Result: "));
    }
    let early = DoorOpened { at: time("2026-10-14 10:00:00"), ..opened(id, Vec::new()) };
    assert!(bench.refused(Action::OpenDoor(early)).starts_with("Door opened: "));
    bench.perform(Action::OpenDoor(opened(id, Vec::new()))).unwrap();
    assert!(
        bench.refused(Action::OpenDoor(opened(id, Vec::new()))).contains("was opened at 2026-10-14 10:02:45 already")
    );
    bench.assert_sound();
}

#[test]
fn no_two_loads_are_in_one_kiln_together() {
    let mut bench = Bench::new();
    let (fen, other) = (bench.kiln("Fen"), bench.kiln("Marsh"));
    let batches: Vec<BatchId> = ["A", "B", "C", "D", "E"].iter().map(|code| bench.batch(code, 1)).collect();
    let first = bench.fired(fen, &batches[..1], 0, "2026-10-14 10:00:00");
    bench.log(first);
    for from in ["2026-10-14 09:58:00", "2026-10-14 10:00:00", "2026-10-14 10:02:59"] {
        let load = bench.fired(fen, &batches[1..2], 0, from);
        let said = bench.refused(Action::LogLoad(load));
        assert!(said.contains("the door was closed on one at 2026-10-14 10:00:00"), "{said}");
    }
    for (place, from) in [(1, "2026-10-14 09:57:00"), (2, "2026-10-14 10:03:00")] {
        let load = bench.fired(fen, &batches[place..=place], 0, from);
        bench.log(load);
    }
    let load = bench.fired(other, &batches[3..4], 0, "2026-10-14 10:01:00");
    bench.log(load);
    // Nothing is written down after a door that is still closed.
    let load = Load { closed_at: time("2026-10-14 10:30:00"), ..bench.load(fen, &batches[4..5], 0, "780") };
    bench.close(load);
    let late = bench.fired(fen, &batches[..1], 1, "2026-10-14 10:40:00");
    assert!(bench.refused(Action::LogLoad(late)).contains("is still closed"));
    bench.assert_sound();
}

#[test]
fn a_torch_takes_one_piece_and_costs_nothing() {
    let mut bench = Bench::new();
    let torch = bench.torch();
    let batch = bench.batch("DARK", 1);
    let load = bench.fired(torch, &[batch], 0, "2026-10-14 10:00:00");
    let id = bench.log(load);
    let account = actions::load_account(&bench.book, id).unwrap().unwrap();
    assert_eq!(account.basis, Some(DayBasis::Torch));
    assert_eq!(account.pieces[0].share.energy, Money::ZERO);
    assert_eq!(account.pieces[0].share.hot_hours, Decimal::ZERO);
    let day = KilnDay { kiln: torch, ..kiln_day(torch) };
    assert!(bench.refused(Action::SaveKilnDay { id: None, day }).contains("a torch has no days"));
    let changed = Action::SaveKiln { id: Some(torch), kiln: kiln("Bench torch") };
    assert!(bench.refused(changed).starts_with("What heats: kiln was given; torch is accepted"));
}

fn kiln_day(kiln: KilnId) -> KilnDay {
    KilnDay {
        kiln,
        date: day("2026-10-14"),
        on_at: time("2026-10-14 08:30:00"),
        hot_at: Some(time("2026-10-14 09:15:00")),
        off_at: Some(time("2026-10-14 12:00:00")),
        hold_celsius: decimal("780"),
        meter_kwh: Some(decimal("5.4")),
        note: String::new(),
    }
}

#[test]
fn a_kiln_day_is_written_once_a_date_and_its_loads_bear_all_of_it() {
    let mut bench = Bench::new();
    let fen = bench.kiln("Fen");
    let day_of = kiln_day(fen);
    let save = |id, day: &KilnDay| Action::SaveKilnDay { id, day: day.clone() };
    assert_eq!(bench.name(save(None, &day_of)), "Kiln day of 14 October");
    bench.perform(save(None, &KilnDay { note: "windy".to_owned(), ..day_of.clone() })).unwrap();
    let cases = [
        (KilnDay { on_at: time("2026-10-13 23:00:00"), ..day_of.clone() }, "Switched on: 2026-10-13 23:00:00"),
        (KilnDay { hot_at: Some(time("2026-10-14 08:00:00")), ..day_of.clone() }, "At heat: 2026-10-14 08:00:00"),
        (KilnDay { off_at: Some(time("2026-10-14 09:00:00")), ..day_of.clone() }, "Switched off: 2026-10-14 09:00:00"),
        (KilnDay { hold_celsius: decimal("1001"), ..day_of.clone() }, "Holds: 1001 °C"),
        (KilnDay { meter_kwh: Some(decimal("-1")), ..day_of.clone() }, "Meter: -1 kWh"),
        (
            KilnDay {
                date: day("2026-10-15"),
                on_at: time("2026-10-15 08:00:00"),
                hot_at: None,
                off_at: Some(time("2026-10-18 08:00:00")),
                ..day_of.clone()
            },
            "Switched off: 2026-10-18 08:00:00",
        ),
    ];
    bench.at = time("2026-10-20 18:00:00");
    for (day, said) in cases {
        let refusal = bench.refused(save(None, &day));
        assert!(refusal.starts_with(said), "{refusal}");
    }
    let (one, two) = (bench.batch("DARK", 3), bench.batch("LIGHT", 2));
    let load = bench.fired(fen, &[one, two], 0, "2026-10-14 10:00:00");
    let first = bench.log(load);
    let load = bench.fired(fen, &[two], 1, "2026-10-14 11:00:00");
    bench.log(load);

    let days = actions::kiln_days(&bench.book, fen, day("2026-10-14"), day("2026-10-14")).unwrap();
    assert_eq!(days.len(), 1);
    assert_eq!(days[0].written.as_ref().unwrap().day.note, "windy");
    let account = days[0].account.as_ref().unwrap();
    assert_eq!((account.kwh, account.basis), (decimal("5.4"), DayBasis::Metered));
    assert!(days[0].curve.is_some());
    let energy = account.loads.iter().fold(Money::ZERO, |sum, load| sum.plus(load.energy).unwrap());
    let wear = account.loads.iter().fold(Money::ZERO, |sum, load| sum.plus(load.wear).unwrap());
    assert_eq!((energy, wear), (account.energy, account.wear));

    let load = actions::load_account(&bench.book, first).unwrap().unwrap();
    let part = load.part.unwrap();
    assert_eq!(load.minutes_in_heat, Some(decimal("3")));
    assert_eq!(load.pieces.iter().map(|line| line.share.kwh).sum::<Decimal>(), part.kwh);
    let borne = load.pieces.iter().fold(Money::ZERO, |sum, line| sum.plus(line.share.energy).unwrap());
    assert_eq!(borne, part.energy);
    assert_eq!((load.pieces[4].batch_number, load.pieces[4].place, &*load.pieces[4].step_name), (2, 2, "Base firing"));

    let readings = actions::meter_readings(&bench.book, fen).unwrap();
    assert_eq!((readings.len(), readings[0].openings, readings[0].kwh), (1, 2, decimal("5.4")));
    let hours = actions::hot_hours(&bench.book, fen, day("2026-10-14")).unwrap().unwrap();
    // 8:30 to 12:00.
    assert_eq!(hours.elements.used, decimal("3.5"));
    bench.assert_sound();
}

#[test]
fn a_kilns_figures_are_checked_one_by_one() {
    let mut bench = Bench::new();
    let fen = bench.kiln("Fen");
    let with = |change: &dyn Fn(&mut ElectricKiln)| {
        let mut heat = electric();
        change(&mut heat);
        Kiln { heat: HeatSource::Electric(Box::new(heat)), ..kiln("Marsh") }
    };
    let cases: Vec<(Kiln, &str)> = vec![
        (with(&|kiln| kiln.rated_kw = Decimal::ZERO), "Rated power: 0 kW was given; a number above 0 to 100 kW"),
        (with(&|kiln| kiln.duty = Decimal::ONE), "Share of time on: 1 was given; a number above 0 and below 1 is"),
        (with(&|kiln| kiln.warm_up_minutes = decimal("1441")), "Minutes to heat up: 1441 min"),
        (with(&|kiln| kiln.working_celsius = decimal("20")), "Working temperature: 20 °C"),
        (with(&|kiln| kiln.room_celsius = decimal("61")), "Room: 61 °C was given; a number -20 to 60 °C is accepted"),
        (with(&|kiln| kiln.rated_max_celsius = decimal("790")), "Rated maximum: 790 °C was given; the working"),
        (with(&|kiln| kiln.shelf_cm2 = Decimal::ZERO), "Shelf: 0 cm²"),
        (with(&|kiln| kiln.furniture_g = decimal("-1")), "Shelf and trivets: -1 g"),
        (with(&|kiln| kiln.door_kwh = decimal("11")), "Heat through the door: 11 kWh"),
        (with(&|kiln| kiln.elements_since = day("1899-12-31")), "Elements renewed: 1899-12-31"),
        (kiln("fen"), "Name: fen is taken"),
        (kiln(" "), "Name: nothing was given"),
    ];
    for (kiln, said) in cases {
        let refusal = bench.refused(Action::SaveKiln { id: None, kiln });
        assert!(refusal.starts_with(said), "{refusal}");
    }
    let fitted = FittedHeat {
        capacity_kwh_per_k: decimal("0.0021"),
        loss_kw_per_k: decimal("0.0018"),
        door_kwh: Decimal::ZERO,
        readings: 6,
        accepted: day("2026-10-14"),
    };
    let fit = |fitted| Action::AcceptFit { kiln: fen, fitted };
    assert_eq!(bench.name(fit(Some(fitted.clone()))), "Use the figures of 6 meter readings for kiln Fen");
    let few = FittedHeat { readings: 3, ..fitted.clone() };
    assert!(bench.refused(fit(Some(few))).starts_with("Meter readings: 3 was given; four readings or more"));
    let none = FittedHeat { loss_kw_per_k: Decimal::ZERO, ..fitted };
    assert!(bench.refused(fit(Some(none))).starts_with("Loss: 0 kW/K was given; a number above 0"));
    assert_eq!(bench.name(fit(None)), "Use the three measurements of kiln Fen again");
    assert!(bench.refused(fit(None)).contains("uses its three measurements already"));
    let aside = Kiln { retired: true, ..kiln("Fen") };
    assert_eq!(bench.name(Action::SaveKiln { id: Some(fen), kiln: aside }), "Set kiln Fen aside");
    let batch = bench.batch("DARK", 1);
    let load = bench.load(fen, &[batch], 0, "780");
    assert!(bench.refused(Action::CloseDoor(load)).starts_with("Kiln: Fen was given; a kiln or torch that is not set"));
}

fn enamel(bench: &mut Bench, name: &str) -> ItemId {
    let item = Item {
        reference: String::new(),
        name: name.to_owned(),
        unit: Unit::Gram,
        details: ItemDetails::Enamel {
            enamel: EnamelKind::Opaque,
            swatch: [104, 120, 84],
            mesh: "80".to_owned(),
            fusing: None,
            firing_c: None,
        },
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: String::new(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: false,
        retired: false,
        buying: Buying::default(),
    };
    match bench.added(Action::SaveItem { id: None, item }) {
        Added::Item(id) => id,
        other => panic!("{other:?}"),
    }
}

fn tile(layers: Vec<ItemId>) -> TestTile {
    TestTile {
        date: day("2026-10-14"),
        metal: Metal::Copper,
        layers,
        celsius: decimal("780"),
        minutes: decimal("2.5"),
        firings: 2,
        verdict: Verdict::Open,
        colour_words: "moss, a little grey".to_owned(),
        colour: Some([104, 120, 84]),
        note: String::new(),
        load: None,
        retired: false,
    }
}

/// The smallest thing that begins like a PNG, told apart by its last byte.
fn png(last: u8) -> Vec<u8> {
    [b"\x89PNG\r\n\x1a\n".as_slice(), &[last]].concat()
}

#[test]
fn tiles_loads_and_designs_keep_their_own_photos() {
    let mut bench = Bench::new();
    let fen = bench.kiln("Fen");
    let (green, flux) = (enamel(&mut bench, "Fen green"), enamel(&mut bench, "Soft flux"));
    let design = bench.save_design(design("DARK"), Follows::default());
    let batch = bench.batch_of(design, 1);
    let load = bench.fired(fen, &[batch], 0, "2026-10-14 10:00:00");
    let load = bench.log(load);
    let outcome = bench.perform(Action::SaveTile { id: None, tile: tile(vec![flux, green]) }).unwrap();
    assert_eq!(outcome.name, "Add test tile: Fen green over Soft flux on copper, 780 °C");
    let Some(Added::Tile(id)) = outcome.added else { panic!("{outcome:?}") };

    // The three hold the same picture; each keeps its own.
    let picture = Some(png(1));
    bench.perform(Action::SetPhoto { id: design, png: picture.clone() }).unwrap();
    assert_eq!(
        bench.name(Action::SetTilePhoto { tile: id, png: picture.clone() }),
        "Give a test tile of 14 October a photo"
    );
    assert_eq!(bench.name(Action::SetLoadPhoto { load, png: picture.clone() }), "Give the load of 14 October a photo");
    bench.perform(Action::SetPhoto { id: design, png: None }).unwrap();
    assert_eq!(actions::tile_photo(&bench.book, id).unwrap(), picture);
    assert_eq!(actions::load_photo(&bench.book, load).unwrap(), picture);
    bench.perform(Action::SetTilePhoto { tile: id, png: Some(png(2)) }).unwrap();
    bench.perform(Action::SetLoadPhoto { load, png: None }).unwrap();
    assert_eq!(actions::tile_photo(&bench.book, id).unwrap(), Some(png(2)));
    bench.undo();
    bench.undo();
    assert_eq!(actions::load_photo(&bench.book, load).unwrap(), picture);
    assert_eq!(actions::tile_photo(&bench.book, id).unwrap(), picture);
    bench.assert_sound();

    let no_picture = |png: Vec<u8>| Action::SetTilePhoto { tile: id, png: Some(png) };
    assert!(bench.refused(no_picture(b"GIF89a".to_vec())).starts_with("Photo: 6 bytes that are no picture"));
    let mut huge = png(1);
    huge.resize(5 * 1024 * 1024 + 1, 0);
    assert!(bench.refused(no_picture(huge)).ends_with("a picture of up to 5 MB is accepted"));
    let missing = Action::SetTilePhoto { tile: TileId(9), png: None };
    assert_eq!(bench.refused(missing), "there is no test tile with row 9");
}

#[test]
fn a_tile_is_of_enamels_and_of_a_heat() {
    let mut bench = Bench::new();
    let green = enamel(&mut bench, "Fen green");
    let good = tile(vec![green, green]);
    let cases = [
        (TestTile { layers: Vec::new(), ..good.clone() }, "Layers: 0 was given; 1 to 20 layers"),
        (TestTile { layers: vec![ItemId(99)], ..good.clone() }, "there is no item with row 99"),
        (TestTile { celsius: decimal("1401"), ..good.clone() }, "Temperature: 1401 °C"),
        (TestTile { minutes: Decimal::ZERO, ..good.clone() }, "Minutes: 0 min"),
        (TestTile { firings: 0, ..good.clone() }, "Firings: 0 was given; 1 to 50 firings"),
        (TestTile { load: Some(LoadId(5)), ..good.clone() }, "there is no load with row 5"),
    ];
    for (tile, said) in cases {
        let refusal = bench.refused(Action::SaveTile { id: None, tile });
        assert!(refusal.starts_with(said), "{refusal}");
    }
    let Added::Tile(id) = bench.added(Action::SaveTile { id: None, tile: good.clone() }) else { panic!() };
    let judged = TestTile { verdict: Verdict::Use, ..good.clone() };
    let name = bench.name(Action::SaveTile { id: Some(id), tile: judged.clone() });
    assert_eq!(name, "Change test tile: Fen green over Fen green on copper, 780 °C");
    let aside = TestTile { retired: true, ..judged.clone() };
    assert!(bench.name(Action::SaveTile { id: Some(id), tile: aside }).starts_with("Set test tile aside: "));
    bench.undo();
    assert_eq!(snapshot(&bench.book).unwrap().tiles[0].tile, judged);
    bench.assert_sound();
}

#[test]
fn the_planner_is_asked_for_every_firing_ahead() {
    let mut bench = Bench::new();
    let fen = bench.kiln("Fen");
    let mut with_rest = design("REST");
    let mut clean = fire("Clean", "0", "0");
    (clean.kind, clean.setup_minutes, clean.minutes_per_piece) = (StepKind::Clean, decimal("3"), decimal("2"));
    let mut dry = clean.clone();
    dry.kind = StepKind::Dry;
    with_rest.steps.splice(1..1, [clean, dry]);
    let with_rest = bench.save_design(with_rest, Follows::default());
    let batch = bench.batch_of(with_rest, 4);
    let joint = bench.save_design(soldered("LOOP", "760"), Follows::default());
    let joint = bench.batch_of(joint, 1);
    let question = actions::plan_ask(&bench.book, fen, time("2026-10-14 09:30:00")).unwrap().unwrap();
    assert_eq!((question.ask.begins_minute, question.ask.hottest_c), (570, 1000));
    assert_eq!(question.ask.begins_at_c, None);
    assert_eq!(question.ask.pieces.len(), 4);
    let first = &question.ask.pieces[0];
    let firing = first.firings[0];
    assert_eq!((firing.lowest_c, firing.highest_c, firing.ceiling_c), (770, 790, 1000));
    assert_eq!((firing.shortest, firing.longest), (120, 180));
    // 5 min of cooling, 3 + 4 × 2 of cleaning for the four of them, 3 + 2 of drying.
    assert_eq!((firing.rest, first.firings[1].rest, first.ready), (21 * 60, 0, 570 * 60));
    let named = &question.pieces[&first.key];
    assert_eq!((named.batch, &named.steps[..]), (batch, &[0, 3][..]));
    // Planned above the flow point of its joint.
    assert_eq!(question.left_out.len(), 1);
    assert_eq!(question.left_out[0].piece, bench.pieces(joint)[0]);
    assert_eq!(question.left_out[0].why, "piece 1 of batch 2: nothing suits the firing at step 1 in this kiln");

    // Pieces in the kiln come out when their minutes are over.
    let mut load = bench.load(fen, &[batch], 0, "780");
    load.charge.truncate(1);
    bench.close(load);
    let question = actions::plan_ask(&bench.book, fen, time("2026-10-14 10:01:00")).unwrap().unwrap();
    let inside = &question.ask.pieces[0];
    // 10:02:30, 5 min of cooling, 3 + 2 and 3 + 2 minutes.
    assert_eq!((inside.firings.len(), inside.ready), (1, 36_150 + 15 * 60));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// Costing method, section 9: a firing at or above a joint's flow point, at or above the solidus less 20 °C, or above
    /// what the kiln can hold is a stop.
    #[test]
    fn no_load_without_the_words_breaks_a_ceiling(
        flow in proptest::option::of(650_i64..1000),
        metal in prop::sample::select(Metal::ALL.to_vec()),
        planned in 690_i64..900,
        set in 690_i64..1100,
        words in any::<bool>(),
    ) {
        let mut bench = Bench::new();
        let fen = bench.kiln("Fen");
        let mut plan = design("DARK");
        plan.blank.metal = metal;
        plan.blank.solder_flow_c = flow.map(Decimal::from);
        plan.steps[0] = fire("Base firing", &planned.to_string(), "6");
        let plan = bench.save_design(plan, Follows::default());
        let batch = bench.batch_of(plan, 1);
        let mut load = bench.fired(fen, &[batch], 0, "2026-10-14 10:00:00");
        load.set_celsius = Decimal::from(set);
        if words {
            load.override_words = OVERRIDE_WORDS.to_owned();
        }
        let set = Decimal::from(set);
        let breaks = flow.is_some_and(|flow| set >= Decimal::from(flow))
            || set >= metal.solidus_celsius() - Decimal::from(20)
            || set > decimal("1000");
        match bench.perform(Action::LogLoad(load)) {
            Ok(Outcome { added: Some(Added::Load(id)), .. }) => {
                let kept = actions::load(&bench.book, id).unwrap().unwrap().load.override_words;
                prop_assert!(!breaks || words);
                prop_assert_eq!(kept, if breaks { OVERRIDE_WORDS } else { "" });
            }
            Ok(other) => prop_assert!(false, "{other:?}"),
            Err(refusal) => prop_assert!(breaks && !words, "{refusal}"),
        }
        bench.assert_sound();
    }
}

#[test]
fn rates_of_a_load_hold_where_no_day_is_written_down() {
    let mut bench = Bench::new();
    let fen = bench.kiln("Fen");
    let batch = bench.batch("DARK", 2);
    let load = bench.fired(fen, &[batch], 0, "2026-10-14 10:00:00");
    let id = bench.log(load);
    let account = actions::load_account(&bench.book, id).unwrap().unwrap();
    let rates = snapshot(&bench.book).unwrap().rates.clone();
    assert_eq!(account.basis, Some(DayBasis::Rates));
    assert_eq!(account.part.unwrap().kwh, rates.kwh_per_load);
    let by_piece: BTreeMap<PieceId, Decimal> = account.pieces.iter().map(|line| (line.piece, line.share.kwh)).collect();
    assert_eq!(by_piece.values().sum::<Decimal>(), rates.kwh_per_load);
}
