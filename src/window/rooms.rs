//! All the rooms of an open book, and the one on screen.

use super::app::Message;
use super::desk::{Answer, Desk};
use super::screen::{
    Action, Destination, Room, batches, bench, buying, carrying, counting, cutting, designs, kiln, kilns, orders,
    papers, pieces, pinning, planning, prices, printers, rates, setup, shop_papers, stock, tiles, weighing, wording,
};
use super::shared::Shared;
use super::shortcut::{Command, RoomName};
use iced::{Element, Subscription};

/// What the root is asked for, with the messages of any room made messages of the root.
pub(super) type Wish = Action<Message>;

/// A room, made when it is first entered. While another is on screen it keeps its state, and looks at what changed in
/// the book only when it is entered again.
struct Kept<R> {
    room: Option<R>,
    stale: bool,
}

impl<R> Default for Kept<R> {
    fn default() -> Self {
        Self { room: None, stale: false }
    }
}

impl<R: Room> Kept<R> {
    /// The room as the book is now.
    fn at_hand(&mut self, shared: &Shared) -> &mut R {
        if std::mem::take(&mut self.stale)
            && let Some(room) = &mut self.room
        {
            room.refresh(shared);
        }
        self.room.get_or_insert_with(|| R::new(shared))
    }

    /// The room as it was last looked at; none before it is entered.
    fn seen(&self) -> Option<&R> {
        self.room.as_ref()
    }
}

/// An open book with its rooms. Every room keeps its state while another is on screen.
pub(super) struct Studio {
    pub(super) desk: Desk,
    pub(super) shared: Shared,
    pub(super) room: RoomName,
    bench: Kept<bench::State>,
    stock: Kept<stock::State>,
    designs: Kept<designs::State>,
    prices: Kept<prices::State>,
    papers: Kept<papers::State>,
    rates: Kept<rates::State>,
    setup: Kept<setup::State>,
    orders: Kept<orders::State>,
    weighing: Kept<weighing::State>,
    counting: Kept<counting::State>,
    cutting: Kept<cutting::State>,
    buying: Kept<buying::State>,
    carrying: Kept<carrying::State>,
    batches: Kept<batches::State>,
    kiln: Kept<kiln::State>,
    pieces: Kept<pieces::State>,
    planning: Kept<planning::State>,
    kilns: Kept<kilns::State>,
    tiles: Kept<tiles::State>,
    pinning: Kept<pinning::State>,
    shop_papers: Kept<shop_papers::State>,
    wording: Kept<wording::State>,
    printers: Kept<printers::State>,
}

/// A message of one of the rooms.
#[derive(Debug, Clone)]
pub enum RoomMessage {
    /// Of the bench.
    Bench(bench::Message),
    /// Of the stock.
    Stock(stock::Message),
    /// Of the designs.
    Designs(designs::Message),
    /// Of the prices.
    Prices(prices::Message),
    /// Of the papers.
    Papers(papers::Message),
    /// Of the rates.
    Rates(rates::Message),
    /// Of Setup.
    Setup(setup::Message),
    /// Of the room of that name.
    Orders(orders::Message),
    /// Of the room of that name.
    Weighing(weighing::Message),
    /// Of the room of that name.
    Counting(counting::Message),
    /// Of the room of that name.
    Cutting(cutting::Message),
    /// Of the room of that name.
    Buying(buying::Message),
    /// Of the room of that name.
    Carrying(carrying::Message),
    /// Of the room of that name.
    Batches(batches::Message),
    /// Of the room of that name.
    Kiln(kiln::Message),
    /// Of the room of that name.
    Pieces(pieces::Message),
    /// Of the room of that name.
    KilnPlan(planning::Message),
    /// Of the room of that name.
    Kilns(kilns::Message),
    /// Of the room of that name.
    Tiles(tiles::Message),
    /// Of the room of that name.
    PaperDesigns(pinning::Message),
    /// Of the room of that name.
    ShopPapers(shop_papers::Message),
    /// Of the room of that name.
    Wording(wording::Message),
    /// Of the room of that name.
    Printers(printers::Message),
}

/// Does the same with the room of that name, whatever its type: `$room` is its state, `$wrap` makes its message one
/// of [`RoomMessage`].
macro_rules! with_room {
    ($studio:expr, $name:expr, |$room:ident, $wrap:ident| $body:expr) => {
        match $name {
            RoomName::Bench => with_room!(@arm $studio, bench, Bench, $room, $wrap, $body),
            RoomName::Stock => with_room!(@arm $studio, stock, Stock, $room, $wrap, $body),
            RoomName::Designs => with_room!(@arm $studio, designs, Designs, $room, $wrap, $body),
            RoomName::Prices => with_room!(@arm $studio, prices, Prices, $room, $wrap, $body),
            RoomName::Papers => with_room!(@arm $studio, papers, Papers, $room, $wrap, $body),
            RoomName::Rates => with_room!(@arm $studio, rates, Rates, $room, $wrap, $body),
            RoomName::Setup => with_room!(@arm $studio, setup, Setup, $room, $wrap, $body),
            RoomName::Orders => with_room!(@arm $studio, orders, Orders, $room, $wrap, $body),
            RoomName::Weighing => with_room!(@arm $studio, weighing, Weighing, $room, $wrap, $body),
            RoomName::Counting => with_room!(@arm $studio, counting, Counting, $room, $wrap, $body),
            RoomName::Cutting => with_room!(@arm $studio, cutting, Cutting, $room, $wrap, $body),
            RoomName::Buying => with_room!(@arm $studio, buying, Buying, $room, $wrap, $body),
            RoomName::Carrying => with_room!(@arm $studio, carrying, Carrying, $room, $wrap, $body),
            RoomName::Batches => with_room!(@arm $studio, batches, Batches, $room, $wrap, $body),
            RoomName::Kiln => with_room!(@arm $studio, kiln, Kiln, $room, $wrap, $body),
            RoomName::Pieces => with_room!(@arm $studio, pieces, Pieces, $room, $wrap, $body),
            RoomName::KilnPlan => with_room!(@arm $studio, planning, KilnPlan, $room, $wrap, $body),
            RoomName::Kilns => with_room!(@arm $studio, kilns, Kilns, $room, $wrap, $body),
            RoomName::Tiles => with_room!(@arm $studio, tiles, Tiles, $room, $wrap, $body),
            RoomName::PaperDesigns => with_room!(@arm $studio, pinning, PaperDesigns, $room, $wrap, $body),
            RoomName::ShopPapers => with_room!(@arm $studio, shop_papers, ShopPapers, $room, $wrap, $body),
            RoomName::Wording => with_room!(@arm $studio, wording, Wording, $room, $wrap, $body),
            RoomName::Printers => with_room!(@arm $studio, printers, Printers, $room, $wrap, $body),
        }
    };
    (@arm $studio:expr, $field:ident, $variant:ident, $room:ident, $wrap:ident, $body:expr) => {{
        let $room = $studio.$field.at_hand(&$studio.shared);
        #[allow(unused_variables)]
        let $wrap = RoomMessage::$variant;
        $body
    }};
}

/// The same for a look at a room, with what it gives where the room was never entered.
macro_rules! see_room {
    ($studio:expr, $name:expr, |$room:ident, $wrap:ident| $body:expr) => {
        match $name {
            RoomName::Bench => see_room!(@arm $studio, bench, Bench, $room, $wrap, $body),
            RoomName::Stock => see_room!(@arm $studio, stock, Stock, $room, $wrap, $body),
            RoomName::Designs => see_room!(@arm $studio, designs, Designs, $room, $wrap, $body),
            RoomName::Prices => see_room!(@arm $studio, prices, Prices, $room, $wrap, $body),
            RoomName::Papers => see_room!(@arm $studio, papers, Papers, $room, $wrap, $body),
            RoomName::Rates => see_room!(@arm $studio, rates, Rates, $room, $wrap, $body),
            RoomName::Setup => see_room!(@arm $studio, setup, Setup, $room, $wrap, $body),
            RoomName::Orders => see_room!(@arm $studio, orders, Orders, $room, $wrap, $body),
            RoomName::Weighing => see_room!(@arm $studio, weighing, Weighing, $room, $wrap, $body),
            RoomName::Counting => see_room!(@arm $studio, counting, Counting, $room, $wrap, $body),
            RoomName::Cutting => see_room!(@arm $studio, cutting, Cutting, $room, $wrap, $body),
            RoomName::Buying => see_room!(@arm $studio, buying, Buying, $room, $wrap, $body),
            RoomName::Carrying => see_room!(@arm $studio, carrying, Carrying, $room, $wrap, $body),
            RoomName::Batches => see_room!(@arm $studio, batches, Batches, $room, $wrap, $body),
            RoomName::Kiln => see_room!(@arm $studio, kiln, Kiln, $room, $wrap, $body),
            RoomName::Pieces => see_room!(@arm $studio, pieces, Pieces, $room, $wrap, $body),
            RoomName::KilnPlan => see_room!(@arm $studio, planning, KilnPlan, $room, $wrap, $body),
            RoomName::Kilns => see_room!(@arm $studio, kilns, Kilns, $room, $wrap, $body),
            RoomName::Tiles => see_room!(@arm $studio, tiles, Tiles, $room, $wrap, $body),
            RoomName::PaperDesigns => see_room!(@arm $studio, pinning, PaperDesigns, $room, $wrap, $body),
            RoomName::ShopPapers => see_room!(@arm $studio, shop_papers, ShopPapers, $room, $wrap, $body),
            RoomName::Wording => see_room!(@arm $studio, wording, Wording, $room, $wrap, $body),
            RoomName::Printers => see_room!(@arm $studio, printers, Printers, $room, $wrap, $body),
        }
    };
    (@arm $studio:expr, $field:ident, $variant:ident, $room:ident, $wrap:ident, $body:expr) => {{
        let $wrap = |message| Message::Room(RoomMessage::$variant(message));
        $studio.$field.seen().map(|$room| $body)
    }};
}

/// An action of a room as one of the root.
fn lift<M: Send + 'static>(action: Action<M>, wrap: fn(M) -> RoomMessage) -> Wish {
    action.map(move |message| Message::Room(wrap(message)))
}

impl Studio {
    /// The rooms of a book just opened.
    pub(super) fn new(desk: Desk, shared: Shared) -> Self {
        let mut studio = Self {
            bench: Kept::default(),
            stock: Kept::default(),
            designs: Kept::default(),
            prices: Kept::default(),
            papers: Kept::default(),
            rates: Kept::default(),
            setup: Kept::default(),
            orders: Kept::default(),
            weighing: Kept::default(),
            counting: Kept::default(),
            cutting: Kept::default(),
            buying: Kept::default(),
            carrying: Kept::default(),
            batches: Kept::default(),
            kiln: Kept::default(),
            pieces: Kept::default(),
            planning: Kept::default(),
            kilns: Kept::default(),
            tiles: Kept::default(),
            pinning: Kept::default(),
            shop_papers: Kept::default(),
            wording: Kept::default(),
            printers: Kept::default(),
            room: RoomName::Bench,
            desk,
            shared,
        };
        studio.mind_the_kiln();
        studio
    }

    /// While a load fires, its clock and its sound run whichever page is on screen, and after a start too: the kiln's room
    /// is at hand, entered or not. Without one nothing is done but to stop them.
    fn mind_the_kiln(&mut self) {
        if !self.shared.snapshot.firing.is_empty() || self.kiln.seen().is_some_and(kiln::State::counts) {
            let _ = self.kiln.at_hand(&self.shared);
        }
    }

    /// A room's message; the room it came from, and what it wants.
    pub(super) fn update(&mut self, message: RoomMessage) -> (RoomName, Wish) {
        let shared = &self.shared;
        match message {
            RoomMessage::Bench(message) => {
                (RoomName::Bench, lift(self.bench.at_hand(shared).update(message, shared), RoomMessage::Bench))
            }
            RoomMessage::Stock(message) => {
                (RoomName::Stock, lift(self.stock.at_hand(shared).update(message, shared), RoomMessage::Stock))
            }
            RoomMessage::Designs(message) => {
                (RoomName::Designs, lift(self.designs.at_hand(shared).update(message, shared), RoomMessage::Designs))
            }
            RoomMessage::Prices(message) => {
                (RoomName::Prices, lift(self.prices.at_hand(shared).update(message, shared), RoomMessage::Prices))
            }
            RoomMessage::Papers(message) => {
                (RoomName::Papers, lift(self.papers.at_hand(shared).update(message, shared), RoomMessage::Papers))
            }
            RoomMessage::Rates(message) => {
                (RoomName::Rates, lift(self.rates.at_hand(shared).update(message, shared), RoomMessage::Rates))
            }
            RoomMessage::Setup(message) => {
                (RoomName::Setup, lift(self.setup.at_hand(shared).update(message, shared), RoomMessage::Setup))
            }
            RoomMessage::Orders(message) => {
                (RoomName::Orders, lift(self.orders.at_hand(shared).update(message, shared), RoomMessage::Orders))
            }
            RoomMessage::Weighing(message) => {
                (RoomName::Weighing, lift(self.weighing.at_hand(shared).update(message, shared), RoomMessage::Weighing))
            }
            RoomMessage::Counting(message) => {
                (RoomName::Counting, lift(self.counting.at_hand(shared).update(message, shared), RoomMessage::Counting))
            }
            RoomMessage::Cutting(message) => {
                (RoomName::Cutting, lift(self.cutting.at_hand(shared).update(message, shared), RoomMessage::Cutting))
            }
            RoomMessage::Buying(message) => {
                (RoomName::Buying, lift(self.buying.at_hand(shared).update(message, shared), RoomMessage::Buying))
            }
            RoomMessage::Carrying(message) => {
                (RoomName::Carrying, lift(self.carrying.at_hand(shared).update(message, shared), RoomMessage::Carrying))
            }
            RoomMessage::Batches(message) => {
                (RoomName::Batches, lift(self.batches.at_hand(shared).update(message, shared), RoomMessage::Batches))
            }
            RoomMessage::Kiln(message) => {
                (RoomName::Kiln, lift(self.kiln.at_hand(shared).update(message, shared), RoomMessage::Kiln))
            }
            RoomMessage::Pieces(message) => {
                (RoomName::Pieces, lift(self.pieces.at_hand(shared).update(message, shared), RoomMessage::Pieces))
            }
            RoomMessage::KilnPlan(message) => {
                (RoomName::KilnPlan, lift(self.planning.at_hand(shared).update(message, shared), RoomMessage::KilnPlan))
            }
            RoomMessage::Kilns(message) => {
                (RoomName::Kilns, lift(self.kilns.at_hand(shared).update(message, shared), RoomMessage::Kilns))
            }
            RoomMessage::Tiles(message) => {
                (RoomName::Tiles, lift(self.tiles.at_hand(shared).update(message, shared), RoomMessage::Tiles))
            }
            RoomMessage::PaperDesigns(message) => (
                RoomName::PaperDesigns,
                lift(self.pinning.at_hand(shared).update(message, shared), RoomMessage::PaperDesigns),
            ),
            RoomMessage::ShopPapers(message) => (
                RoomName::ShopPapers,
                lift(self.shop_papers.at_hand(shared).update(message, shared), RoomMessage::ShopPapers),
            ),
            RoomMessage::Wording(message) => {
                (RoomName::Wording, lift(self.wording.at_hand(shared).update(message, shared), RoomMessage::Wording))
            }
            RoomMessage::Printers(message) => {
                (RoomName::Printers, lift(self.printers.at_hand(shared).update(message, shared), RoomMessage::Printers))
            }
        }
    }

    /// The book changed: the room on screen words its rows anew, the others when they are entered.
    pub(super) fn refresh(&mut self) {
        self.bench.stale = true;
        self.stock.stale = true;
        self.designs.stale = true;
        self.prices.stale = true;
        self.papers.stale = true;
        self.rates.stale = true;
        self.setup.stale = true;
        self.orders.stale = true;
        self.weighing.stale = true;
        self.counting.stale = true;
        self.cutting.stale = true;
        self.buying.stale = true;
        self.carrying.stale = true;
        self.batches.stale = true;
        self.kiln.stale = true;
        self.pieces.stale = true;
        self.planning.stale = true;
        self.kilns.stale = true;
        self.tiles.stale = true;
        self.pinning.stale = true;
        self.shop_papers.stale = true;
        self.wording.stale = true;
        self.printers.stale = true;
        with_room!(self, self.room, |_room, wrap| ());
        self.mind_the_kiln();
    }

    /// What the room on screen asks after that.
    pub(super) fn refreshed(&mut self) -> Wish {
        with_room!(self, self.room, |room, wrap| lift(room.refreshed(&self.shared), wrap))
    }

    /// An answer for the room that asked.
    pub(super) fn answered(&mut self, name: RoomName, answer: Answer) -> Wish {
        with_room!(self, name, |room, wrap| lift(room.answered(answer, &self.shared), wrap))
    }

    /// A command for the room on screen.
    pub(super) fn command(&mut self, command: Command) -> Wish {
        with_room!(self, self.room, |room, wrap| lift(room.command(command, &self.shared), wrap))
    }

    /// Gives the field being typed in its former text back, in the room on screen.
    pub(super) fn revert(&mut self) -> bool {
        with_room!(self, self.room, |room, wrap| room.revert(&self.shared))
    }

    /// The room on screen does again what it took back last.
    pub(super) fn again(&mut self) -> bool {
        with_room!(self, self.room, |room, wrap| room.again(&self.shared))
    }

    /// Opens a page.
    pub(super) fn open(&mut self, destination: &Destination) -> Wish {
        self.room = room_of(destination);
        with_room!(self, self.room, |room, wrap| lift(room.open(destination, &self.shared), wrap))
    }

    /// The page of the room on screen.
    pub(super) fn view(&self) -> Element<'_, Message> {
        see_room!(self, self.room, |room, wrap| room.view(&self.shared).map(wrap))
            .unwrap_or_else(|| iced::widget::space().into())
    }

    /// What lies over that page.
    pub(super) fn modal(&self) -> Option<Element<'_, Message>> {
        see_room!(self, self.room, |room, wrap| room.modal(&self.shared).map(|over| over.map(wrap))).flatten()
    }

    /// What the rooms listen to.
    pub(super) fn subscription(&self) -> Subscription<Message> {
        let listening = |name| see_room!(self, name, |room, wrap| room.subscription().map(wrap));
        Subscription::batch(RoomName::ALL.into_iter().filter_map(listening))
    }
}

/// The room a page belongs to.
fn room_of(destination: &Destination) -> RoomName {
    match destination {
        Destination::Bench => RoomName::Bench,
        Destination::Stock | Destination::Item(_) | Destination::LowStock => RoomName::Stock,
        Destination::Designs | Destination::Design(_) => RoomName::Designs,
        Destination::Prices => RoomName::Prices,
        Destination::Papers | Destination::PapersOf(_) => RoomName::Papers,
        Destination::Rates => RoomName::Rates,
        Destination::Setup => RoomName::Setup,
        Destination::Orders => RoomName::Orders,
        Destination::Weighing => RoomName::Weighing,
        Destination::Counting => RoomName::Counting,
        Destination::Cutting => RoomName::Cutting,
        Destination::Buying => RoomName::Buying,
        Destination::Carrying => RoomName::Carrying,
        Destination::Batches | Destination::Batch(_) | Destination::BatchNumber(_) | Destination::NewBatch(_) => {
            RoomName::Batches
        }
        Destination::Kiln | Destination::Load(_) => RoomName::Kiln,
        Destination::Pieces | Destination::Piece(_) | Destination::FindPiece(_) => RoomName::Pieces,
        Destination::KilnPlan => RoomName::KilnPlan,
        Destination::Kilns => RoomName::Kilns,
        Destination::Tiles | Destination::TileOf(_) => RoomName::Tiles,
        Destination::PaperDesigns | Destination::PaperDesign(_) | Destination::LabelOf(_) => RoomName::PaperDesigns,
        Destination::ShopPapers => RoomName::ShopPapers,
        Destination::Wording => RoomName::Wording,
        Destination::Printers => RoomName::Printers,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_room_is_where_its_page_leads() {
        for name in RoomName::ALL {
            assert_eq!(room_of(&name.destination()), name);
        }
    }
}
