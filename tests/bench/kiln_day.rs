//! A kiln day planned: 120 pieces with three firings each ahead.

use crate::measures::{Case, Report, timed};
use crate::studio::Studio;
use enamelwright::kiln::plan::{Firing, HeatTimes, KilnPlan, PieceAhead, PlanAsk, USUAL_EFFORT, plan};
use enamelwright::measure::Decimal;
use std::cell::LazyCell;

const TEN_DESIGNS: Case = Case { name: "kiln-day-10-designs", target: "<= 2,000 ms CPU, 5 % of the bound", runs: 5 };
const FIVE_DESIGNS: Case = Case { name: "kiln-day-5-designs", target: "<= 2,000 ms CPU, 5 % of the bound", runs: 5 };
const ALL_OTHER: Case = Case { name: "kiln-day-all-other", target: "<= 2,000 ms CPU, 5 % of the bound", runs: 5 };

pub(crate) const CASES: &[&Case] = &[&TEN_DESIGNS, &FIVE_DESIGNS, &ALL_OTHER];

const PIECES: u64 = 120;
const MORNING: i64 = 8 * 3_600;

/// 120 pieces of so many designs: heats from 740 to 800 °C, each twenty degrees wide, and rests of 40 to 70 minutes.
fn ask(designs: u32) -> PlanAsk {
    let of_each = PIECES / u64::from(designs);
    let mut pieces = Vec::new();
    for group in 0..designs {
        let step = i32::try_from(group % 13).expect("a small number");
        let firing = |hotter: i32, rest: u32| {
            let middle = 745 + (step * 5 + hotter) % 56;
            let shortest = 90 + 15 * (group % 4);
            Firing {
                lowest_c: middle - 10,
                highest_c: middle + 10,
                ceiling_c: 820,
                shortest,
                longest: shortest + 60,
                rest,
            }
        };
        let firings = vec![firing(40, 2_400 + 120 * (group % 5)), firing(15, 3_000 + 60 * (group % 7)), firing(0, 0)];
        let area_cm2 = Decimal::new(60 + 7 * i64::from(group % 11), 1);
        for number in 0..of_each {
            let key = u64::from(group) * 1_000 + number;
            pieces.push(PieceAhead { key, group, area_cm2, ready: MORNING, firings: firings.clone() });
        }
    }
    PlanAsk {
        shelf_cm2: Decimal::from(420),
        door_seconds: 240,
        heat: HeatTimes { capacity_kwh_per_k: 0.001_355, loss_kw_per_k: 0.000_923, rated_kw: 1.8, room_c: 20.0 },
        begins_at_c: None,
        hottest_c: 1_050,
        begins_minute: 480,
        pieces,
    }
}

pub(crate) fn run(report: &Report, _: &LazyCell<Studio>) {
    for (case, designs) in [(&TEN_DESIGNS, 10), (&FIVE_DESIGNS, 5), (&ALL_OTHER, 120)] {
        if !report.wants(case) {
            continue;
        }
        let ask = ask(designs);
        let planned = |()| -> KilnPlan { plan(&ask, USUAL_EFFORT, &mut |_| true).expect("a plan") };
        let (laps, found) = timed(case, || (), planned);
        let gap = found.gap_percent(ask.begins());
        report.times(case, &laps, &format!("{} loads, {gap:.1} % above the bound", found.loads.len()));
    }
}
