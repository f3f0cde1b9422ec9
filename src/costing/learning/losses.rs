//! What pieces are lost of: rows for lists and plots.

use crate::costing::batch::{BatchNow, Standing};
use crate::studio::{
    BatchId, BatchRecord, BenchDeed, DesignId, ItemId, KilnId, LoadId, LossCause, LossKind, MaterialId, PieceId,
    StepKind,
};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Pieces lost at one time in one way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LossRow {
    /// The day.
    pub date: NaiveDate,
    /// The batch.
    pub batch: BatchId,
    /// Its number.
    pub batch_number: u32,
    /// Its design.
    pub design: DesignId,
    /// The design's code when the batch began.
    pub code: String,
    /// The step, from 0; one past the last for pieces that were done.
    pub step: usize,
    /// The step's name; empty for pieces that were done.
    pub step_name: String,
    /// The enamel of the last coat up to that step: its name in the plan.
    pub enamel: Option<String>,
    /// Where it is kept in stock, its item.
    pub item: Option<ItemId>,
    /// The kiln of the load it happened in.
    pub kiln: Option<KilnId>,
    /// Of what.
    pub cause: LossCause,
    /// Usual or not.
    pub kind: LossKind,
    /// The pieces.
    pub pieces: Vec<PieceId>,
    /// What was noted.
    pub note: String,
    /// The batch was given up.
    pub given_up: bool,
}

/// A batch's losses from one day to another, both included, in order. `kilns` says which kiln a load was in.
pub fn loss_rows(
    record: &BatchRecord,
    kilns: &BTreeMap<LoadId, KilnId>,
    (from, to): (NaiveDate, NaiveDate),
) -> Vec<LossRow> {
    let mut rows: Vec<LossRow> = Vec::new();
    let mut now = BatchNow::before(record);
    for entry in &record.entries {
        let within = entry.date >= from && entry.date <= to;
        match &entry.deed {
            BenchDeed::Lost { step, pieces, cause, kind, load, note } if within => {
                let kiln = load.and_then(|load| kilns.get(&load)).copied();
                let how = (*cause, *kind);
                rows.push(LossRow { kiln, note: note.clone(), ..row(record, entry.date, *step, how, pieces.clone()) });
            }
            BenchDeed::Abandoned { pieces, why } if within => {
                let mut steps: BTreeMap<usize, Vec<PieceId>> = BTreeMap::new();
                for piece in pieces {
                    let step = match now.standing(*piece) {
                        Some(Standing::At(step)) => step,
                        _ => record.batch.plan.steps.len(),
                    };
                    steps.entry(step).or_default().push(*piece);
                }
                for (step, pieces) in steps {
                    let how = (LossCause::Other, LossKind::Abnormal);
                    let plain = row(record, entry.date, step, how, pieces);
                    rows.push(LossRow { note: why.clone(), given_up: true, ..plain });
                }
            }
            _ => {}
        }
        // What cannot have happened is the check's to say.
        let _ = now.take(entry);
    }
    rows
}

fn row(
    record: &BatchRecord,
    date: NaiveDate,
    step: usize,
    (cause, kind): (LossCause, LossKind),
    pieces: Vec<PieceId>,
) -> LossRow {
    let plan = &record.batch.plan;
    let coat: Option<&MaterialId> = plan.steps.iter().take(step + 1).rev().find_map(|step| match &step.kind {
        StepKind::Coat(coat) => Some(&coat.material),
        _ => None,
    });
    LossRow {
        date,
        batch: record.id,
        batch_number: record.batch.number,
        design: record.batch.design,
        code: plan.code.as_str().to_owned(),
        step,
        step_name: plan.steps.get(step).map(|step| step.name.clone()).unwrap_or_default(),
        enamel: coat
            .and_then(|id| plan.materials.iter().find(|material| material.id == *id))
            .map(|material| material.name.clone()),
        item: coat.and_then(|id| record.batch.stock.get(id)).copied(),
        kiln: None,
        cause,
        kind,
        pieces,
        note: String::new(),
        given_up: false,
    }
}

/// By what losses are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LossBy {
    /// By design.
    Design,
    /// By the step's name.
    Step,
    /// By the enamel of the last coat.
    Enamel,
    /// By kiln.
    Kiln,
    /// By cause.
    Cause,
}

/// What a bar stands for.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum LossOf {
    /// A design and its code.
    Design(DesignId, String),
    /// A step by name.
    Step(String),
    /// An enamel by name.
    Enamel(String),
    /// A kiln.
    Kiln(KilnId),
    /// A cause.
    Cause(LossCause),
    /// No such thing was in play: no coat yet, no load, or done already.
    None,
}

/// A bar of a plot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LossBar {
    /// What it stands for.
    pub of: LossOf,
    /// Pieces by cause, each above 0.
    pub causes: BTreeMap<LossCause, u32>,
    /// Of the pieces, how many were lost abnormally.
    pub abnormal: u32,
    /// All pieces.
    pub pieces: u32,
}

/// Counts losses, the most first; of equal ones in the order of what they stand for.
pub fn bars(rows: &[LossRow], by: LossBy) -> Vec<LossBar> {
    let mut bars: BTreeMap<LossOf, LossBar> = BTreeMap::new();
    for row in rows {
        let of = match by {
            LossBy::Design => LossOf::Design(row.design, row.code.clone()),
            LossBy::Step if row.step_name.is_empty() => LossOf::None,
            LossBy::Step => LossOf::Step(row.step_name.clone()),
            LossBy::Enamel => row.enamel.clone().map_or(LossOf::None, LossOf::Enamel),
            LossBy::Kiln => row.kiln.map_or(LossOf::None, LossOf::Kiln),
            LossBy::Cause => LossOf::Cause(row.cause),
        };
        let pieces = u32::try_from(row.pieces.len()).unwrap_or(u32::MAX);
        if pieces == 0 {
            continue;
        }
        let bar =
            bars.entry(of.clone()).or_insert_with(|| LossBar { of, causes: BTreeMap::new(), abnormal: 0, pieces: 0 });
        *bar.causes.entry(row.cause).or_default() += pieces;
        bar.pieces += pieces;
        if row.kind == LossKind::Abnormal {
            bar.abnormal += pieces;
        }
    }
    let mut bars: Vec<LossBar> = bars.into_values().collect();
    bars.sort_by_key(|bar| std::cmp::Reverse(bar.pieces));
    bars
}
