//! The demo studio's papers that went out, through the same action a person's take.

use super::{Refusal, papers, piece_questions};
use crate::book::{Change, batch, design, document};
use crate::exchange::demo::papers::{DemoLineOf, DemoPaper};
use crate::measure::Money;
use crate::paper::Speech;
use crate::paper::statement_lines::{PieceFacts, from, line_of_design, line_of_piece};
use crate::studio::{BookDesign, DesignCode, DesignId, NumberedKind, NumberedPaper, PaperLine, Settings};
use std::collections::BTreeMap;

/// Sends the demo studio's papers out, oldest first.
pub(super) fn load(
    change: &Change<'_>,
    all: &[DemoPaper],
    designs: &BTreeMap<DesignCode, DesignId>,
) -> Result<(), Refusal> {
    let settings = document::settings(change.reader())?;
    for of in all {
        let lines = of
            .lines
            .iter()
            .map(|line| self::line(change, of.kind, &line.of, (line.quantity, line.price), &settings, designs));
        let paper = NumberedPaper {
            language: settings.paper_language,
            from: from(&settings),
            recipient: of.recipient.clone(),
            lines: lines.collect::<Result<_, Refusal>>()?,
            commission: of.commission,
            tax: of.tax,
            tax_name: of.tax_name.clone(),
            tax_in_price: false,
            freight: of.freight,
            days: of.days,
            terms: of.terms.clone(),
        };
        papers::issue(change, of.kind, of.date, &paper)?;
    }
    Ok(())
}

fn line(
    change: &Change<'_>,
    kind: NumberedKind,
    of: &DemoLineOf,
    (quantity, price): (u32, Money),
    settings: &Settings,
    designs: &BTreeMap<DesignCode, DesignId>,
) -> Result<PaperLine, Refusal> {
    let speech = Speech::plain(settings.paper_language);
    let find = |id: DesignId| -> Result<Option<BookDesign>, Refusal> { Ok(design::find(change.reader(), id)?) };
    match of {
        DemoLineOf::Design(code) => {
            let missing = || Refusal::Missing(format!("design {code} in the demo studio"));
            let book = find(*designs.get(code).ok_or_else(missing)?)?.ok_or_else(missing)?;
            Ok(line_of_design(&book, quantity, price, settings.length, speech))
        }
        DemoLineOf::Piece(number) => {
            let missing = || Refusal::Missing(format!("piece {number} in the demo studio"));
            let id = batch::piece_with_number(change.reader(), number)?.ok_or_else(missing)?;
            let story = piece_questions::read_story(change.reader(), id)?.ok_or_else(missing)?;
            let book = find(story.batch.design)?;
            let facts = PieceFacts {
                piece: &story.piece,
                name: &story.batch.name,
                batch: story.batch.number,
                firings: Some(story.fired()),
                design: book.as_ref(),
            };
            Ok(line_of_piece(&facts, kind, price, settings.length, speech))
        }
    }
}
