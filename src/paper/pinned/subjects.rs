//! What papers are made of: designs with their finished pieces, jars of enamel, items in drawers; in one order and under
//! one name for every face.

use super::super::cards::PLAIN_BAND;
use super::facts::{Facts, StudioWords, facts_of_design, facts_of_item, facts_of_piece};
use crate::measure::Money;
use crate::studio::{
    BatchId, BookJar, ChannelId, Design, DesignId, Item, ItemDetails, ItemId, JarId, PaperKind, Piece, PieceId,
};
use chrono::NaiveDate;
use std::collections::BTreeMap;
use std::sync::Arc;

/// One thing a paper is made of.
#[derive(Debug, Clone)]
pub struct Subject {
    /// What it is called in lists: name and code, number or jar.
    pub words: String,
    /// All that can be pinned.
    pub facts: Facts,
    /// The design; its photo is the one that is shown.
    pub design: Option<DesignId>,
    /// The finished piece.
    pub piece: Option<PieceId>,
    /// The item of stock.
    pub item: Option<ItemId>,
    /// The jar it stands in.
    pub jar: Option<JarId>,
    /// The channel its ticket is of.
    pub channel: Option<ChannelId>,
    /// Stops of its route, each a sentence.
    pub stops: Vec<String>,
}

/// A design as papers see it.
#[derive(Debug, Clone)]
pub struct DesignMaking {
    /// Its row.
    pub id: DesignId,
    /// The design.
    pub design: Arc<Design>,
    /// The colour of its band.
    pub colour: [u8; 3],
    /// The ticket with its channel.
    pub ticket: Option<(Money, ChannelId)>,
    /// Its EAN-13.
    pub trade_number: Option<String>,
    /// Stops of its route, each a sentence.
    pub stops: Vec<String>,
}

/// An item of stock as papers see it.
#[derive(Debug, Clone)]
pub struct ItemMaking<'a> {
    /// Its row.
    pub id: ItemId,
    /// The item.
    pub item: &'a Item,
    /// The jars it stands in that are not set aside.
    pub jars: Vec<&'a BookJar>,
    /// The number of the lot that came last.
    pub lot: Option<String>,
    /// Its EAN-13.
    pub trade_number: Option<String>,
}

/// Finished pieces, and the plans of their batches: a piece is what the plan of its batch says, whatever became of the
/// design since.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Finished {
    /// The numbered pieces, newest first.
    pub pieces: Vec<Piece>,
    /// Design and plan of each of their batches.
    pub plans: BTreeMap<BatchId, (DesignId, Arc<Design>)>,
}

/// All there is to make papers of.
#[derive(Debug)]
pub struct Makings<'a> {
    /// Designs, in the order they are listed.
    pub designs: &'a [DesignMaking],
    /// Finished pieces.
    pub finished: &'a Finished,
    /// Items, in the order they are listed.
    pub items: &'a [ItemMaking<'a>],
    /// The studio.
    pub studio: &'a Arc<StudioWords>,
    /// The day papers are printed.
    pub today: NaiveDate,
}

/// Everything a paper of a kind can be made of; empty where there is nothing yet. Jars stand on jar labels, other items on
/// drawer labels, designs each with its finished pieces on every other paper.
pub fn subjects(kind: PaperKind, makings: &Makings<'_>) -> Vec<Subject> {
    let is_enamel = |making: &&ItemMaking<'_>| matches!(making.item.details, ItemDetails::Enamel { .. });
    match kind {
        PaperKind::Jar => makings.items.iter().filter(is_enamel).flat_map(|making| of_jars(making, makings)).collect(),
        PaperKind::Drawer => makings
            .items
            .iter()
            .filter(|making| !is_enamel(making))
            .map(|making| of_item(making, None, makings))
            .collect(),
        _ => of_designs(makings),
    }
}

fn of_designs(makings: &Makings<'_>) -> Vec<Subject> {
    let mut pieces: BTreeMap<DesignId, Vec<(&Piece, &Arc<Design>)>> = BTreeMap::new();
    for piece in &makings.finished.pieces {
        if let Some((design, plan)) = makings.finished.plans.get(&piece.batch) {
            pieces.entry(*design).or_default().push((piece, plan));
        }
    }
    let mut all = Vec::with_capacity(makings.designs.len() + makings.finished.pieces.len());
    for making in makings.designs {
        let of = |facts: Facts, named: &str, piece: Option<PieceId>| Subject {
            words: format!("{} · {named}", making.design.name),
            facts: Facts {
                ticket: making.ticket.as_ref().map(|(ticket, _)| *ticket),
                trade_number: making.trade_number.clone(),
                ..facts
            },
            design: Some(making.id),
            piece,
            item: None,
            jar: None,
            channel: making.ticket.as_ref().map(|(_, channel)| channel.clone()),
            stops: making.stops.clone(),
        };
        let facts = facts_of_design(&making.design, making.colour, makings.studio);
        all.push(of(Facts { date: Some(makings.today), ..facts }, making.design.code.as_str(), None));
        for (piece, plan) in pieces.get(&making.id).into_iter().flatten() {
            let Some(number) = &piece.number else { continue };
            let facts = facts_of_piece(piece, plan, making.colour, makings.studio);
            all.push(of(facts, number, Some(piece.id)));
        }
    }
    all
}

/// Each jar of an enamel; the item itself where it stands in none.
fn of_jars(making: &ItemMaking<'_>, makings: &Makings<'_>) -> Vec<Subject> {
    if making.jars.is_empty() {
        return vec![of_item(making, None, makings)];
    }
    making.jars.iter().map(|jar| of_item(making, Some(jar), makings)).collect()
}

fn of_item(making: &ItemMaking<'_>, jar: Option<&BookJar>, makings: &Makings<'_>) -> Subject {
    let facts = facts_of_item(making.item, jar.map(|jar| &jar.jar), making.lot.clone(), makings.studio);
    let named = jar.map_or(facts.code.as_str(), |jar| jar.jar.label.as_str());
    Subject {
        words: format!("{} · {named}", facts.name),
        facts: Facts { trade_number: making.trade_number.clone(), date: Some(makings.today), ..facts },
        design: None,
        piece: None,
        item: Some(making.id),
        jar: jar.map(|jar| jar.id),
        channel: None,
        stops: Vec::new(),
    }
}

/// Stands in while there is nothing in the book.
pub fn example(studio: &Arc<StudioWords>, today: NaiveDate) -> Subject {
    Subject {
        words: "An example, as there is nothing in the book yet".to_owned(),
        facts: Facts {
            name: "Example".to_owned(),
            code: "EXAMPLE-1".to_owned(),
            piece_number: None,
            trade_number: None,
            ticket: None,
            design: None,
            item: None,
            photo: None,
            colour: PLAIN_BAND,
            date: Some(today),
            studio: Arc::clone(studio),
        },
        design: None,
        piece: None,
        item: None,
        jar: None,
        channel: None,
        stops: Vec::new(),
    }
}
