//! Orders as programs receive them.

use book::{
    Amount, Event, KeptInspection, KeptRecord, Message, Need, Order, OrderLine, OrderList, Photo, ReadingChange,
    Revision,
};
use schemars::JsonSchema;
use serde::Serialize;

/// A page of orders.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct OrderPage {
    /// The orders.
    pub orders: Vec<OrderSummary>,
    /// Where the next page begins: the parameter `from`; null at the end.
    pub next: Option<String>,
    /// Whether the search stopped before it had looked at every order of this page.
    pub cut_short: bool,
}

/// How an order stands.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct OrderSummary {
    /// The number that the book gave; it never changes.
    pub number: i64,
    /// The shop's reference, from the sheet.
    pub reference: String,
    /// Who ordered.
    pub customer: String,
    /// How to reach them.
    pub contact: String,
    /// The vehicle, as its owner calls it.
    pub vehicle: String,
    /// When it is wanted.
    pub due: Option<String>,
    /// What the sheet calls the axle.
    pub axle: String,
    /// Where it stands.
    pub state: &'static str,
    /// Since when.
    pub state_since: String,
    /// The revision that stands. Whoever changes the order names it as `seen_revision`.
    pub revision: i64,
    /// The revision that was approved to cut.
    pub approved_revision: Option<i64>,
    /// The reason with which `ask` was overruled.
    pub overruled: Option<String>,
    /// `cut`, `ask`, `stop` or `unreadable`.
    pub verdict: &'static str,
    /// The chance that the shafts fit; null while something is missing.
    pub fit_probability: Option<f64>,
    /// The reading that is most to be doubted.
    pub doubt: Option<String>,
    /// The mark of the catalog that the latest review went by.
    pub catalog_mark: String,
    /// When that was.
    pub reviewed_at: String,
    /// When the order came in.
    pub placed_at: String,
    /// Who took it in.
    pub placed_by: String,
    /// When it last changed.
    pub changed_at: String,
}

/// An order with its sheet and where it may go.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct OrderWithSheet {
    /// How it stands.
    #[serde(flatten)]
    pub order: OrderSummary,
    /// The sheet of the revision that stands, as it was written.
    pub sheet: String,
    /// Where it may go from here.
    pub moves: Vec<PossibleMove>,
}

/// A move that the rules allow.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct PossibleMove {
    /// The state to go to.
    pub to: &'static str,
    /// Who may.
    pub roles: Vec<&'static str>,
    /// `nothing`, `reason`, `verdict` (cut, or ask overruled with a reason) or `no stop`.
    pub needs: &'static str,
}

/// A message.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct MessageWritten {
    /// Its number in the book.
    pub number: i64,
    /// When.
    pub at: String,
    /// Who wrote it, or wrote it down.
    pub who: String,
    /// `from customer`, `to customer` or `note`.
    pub direction: &'static str,
    /// What it says.
    pub words: String,
}

/// A photo, without its picture.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct PhotoKept {
    /// Its number in the book.
    pub number: i64,
    /// When it came in.
    pub at: String,
    /// Who sent it.
    pub who: String,
    /// What the file was called.
    pub name: String,
    /// What it shows.
    pub caption: String,
    /// `image/jpeg` or `image/png`.
    pub media_type: String,
    /// In pixels.
    pub width: i64,
    /// In pixels.
    pub height: i64,
    /// In bytes.
    pub size: i64,
    /// SHA-256 of the picture.
    pub sha256: String,
}

/// A size that was measured on a finished shaft.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct SizeInspected {
    /// The revision that was made.
    pub revision: i64,
    /// When it was measured.
    pub at: String,
    /// By whom.
    pub who: String,
    /// Which dimension.
    pub dimension: &'static str,
    /// `left` or `right`, where the sides differ.
    pub side: Option<&'static str>,
    /// As it was read and written.
    pub written: String,
    /// The size.
    pub size: wire::Length,
    /// Whether it lay within the limits.
    pub passed: bool,
}

/// Something that the floor wrote down beside the sizes of a shaft.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct RecordWritten {
    /// The revision that was made.
    pub revision: i64,
    /// When it was written down.
    pub at: String,
    /// By whom.
    pub who: String,
    /// `heat_number`, `size_over_pins`, `bearing_press_force` or `ring_press_force`.
    pub kind: &'static str,
    /// `left` or `right`.
    pub side: Option<&'static str>,
    /// As it was written.
    pub written: String,
    /// The size over pins.
    pub size: Option<wire::Length>,
    /// The diameter of the pins.
    pub pin: Option<wire::Length>,
    /// The force in newtons.
    pub newtons: Option<f64>,
    /// Whether it was as the review asks; none where it asks nothing.
    pub passed: Option<bool>,
}

/// Everything that happened to an order.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct History {
    /// The revisions, the first one first.
    pub revisions: Vec<RevisionKept>,
    /// Every value that a reading took.
    pub readings: Vec<ReadingChanged>,
    /// The events of the log.
    pub events: Vec<EventKept>,
}

/// One revision.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct RevisionKept {
    /// Its number, counted from one within the order.
    pub revision: i64,
    /// The revision that it was built on; 0 for the first.
    pub base: i64,
    /// When.
    pub at: String,
    /// Who.
    pub who: String,
    /// Why.
    pub reason: String,
    /// The sheet as it was written.
    pub sheet: String,
}

/// One value that a reading took.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ReadingChanged {
    /// The revision that changed it.
    pub revision: i64,
    /// Which reading.
    pub measurand: String,
    /// `left`, `right` or nothing.
    pub side: String,
    /// What it said before; null where it is new.
    pub was: Option<String>,
    /// What it says from then on; null where it was taken out.
    pub becomes: Option<String>,
}

/// One event of the log.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct EventKept {
    /// Its place in the log.
    pub sequence: i64,
    /// When.
    pub at: String,
    /// Who.
    pub who: String,
    /// What happened.
    pub kind: &'static str,
    /// The particulars.
    pub body: serde_json::Value,
    /// The hash that chains it to the one before.
    pub hash: String,
}

impl From<OrderList> for OrderPage {
    fn from(list: OrderList) -> Self {
        Self {
            orders: list.lines.into_iter().map(OrderSummary::from).collect(),
            next: list.next.map(book::Cursor::text),
            cut_short: list.cut_short,
        }
    }
}

impl From<OrderLine> for OrderSummary {
    fn from(line: OrderLine) -> Self {
        Self {
            number: line.number,
            reference: line.reference,
            customer: line.details.customer,
            contact: line.details.contact,
            vehicle: line.details.vehicle,
            due: line.details.due.map(|date| date.to_string()),
            axle: line.axle,
            state: line.state.key(),
            state_since: line.state_since.to_string(),
            revision: line.revision,
            approved_revision: line.approved_revision,
            overruled: line.overruled,
            verdict: line.judgement.words(),
            fit_probability: line.fit,
            doubt: line.doubt,
            catalog_mark: line.catalog_mark,
            reviewed_at: line.reviewed_at.to_string(),
            placed_at: line.placed_at.to_string(),
            placed_by: line.placed_by,
            changed_at: line.changed_at.to_string(),
        }
    }
}

impl From<Order> for OrderWithSheet {
    fn from(order: Order) -> Self {
        let needs = |need| match need {
            Need::Nothing => "nothing",
            Need::Reason => "reason",
            Need::Verdict => "verdict",
            Need::NoStop => "no stop",
            Need::Measured => "measured sizes",
        };
        let moves = order.line.state.moves().map(|one| PossibleMove {
            to: one.to.key(),
            roles: one.roles.iter().map(|role| role.words()).collect(),
            needs: needs(one.needs),
        });
        Self { moves: moves.collect(), sheet: order.sheet, order: order.line.into() }
    }
}

impl From<Message> for MessageWritten {
    fn from(one: Message) -> Self {
        let (at, direction) = (one.at.to_string(), one.direction.words());
        Self { number: one.number, at, who: one.who, direction, words: one.words }
    }
}

impl From<Photo> for PhotoKept {
    fn from(one: Photo) -> Self {
        Self {
            number: one.number,
            at: one.at.to_string(),
            who: one.who,
            name: one.name,
            caption: one.caption,
            media_type: one.media_type,
            width: one.width,
            height: one.height,
            size: one.size,
            sha256: one.digest,
        }
    }
}

impl From<KeptInspection> for SizeInspected {
    fn from(one: KeptInspection) -> Self {
        Self {
            revision: one.revision,
            at: one.at.to_string(),
            who: one.who,
            dimension: one.kind.key(),
            side: one.side.map(axle::Side::words),
            written: one.written,
            size: one.size.into(),
            passed: one.passed,
        }
    }
}

impl From<KeptRecord> for RecordWritten {
    fn from(one: KeptRecord) -> Self {
        let (size, pin, newtons) = match one.record.amount {
            Amount::None => (None, None, None),
            Amount::Newtons(newtons) => (None, None, Some(newtons)),
            Amount::OverPins { size, pin } => (Some(size.into()), Some(pin.into()), None),
        };
        Self {
            revision: one.revision,
            at: one.at.to_string(),
            who: one.who,
            kind: one.record.kind.key(),
            side: one.record.side.map(axle::Side::words),
            written: one.record.written,
            size,
            pin,
            newtons,
            passed: one.record.passed,
        }
    }
}

impl From<Revision> for RevisionKept {
    fn from(one: Revision) -> Self {
        let (revision, base, at) = (one.revision, one.base, one.at.to_string());
        Self { revision, base, at, who: one.who, reason: one.reason, sheet: one.sheet }
    }
}

impl From<ReadingChange> for ReadingChanged {
    fn from(one: ReadingChange) -> Self {
        let (was, becomes) = (one.was, one.becomes);
        Self { revision: one.revision, measurand: one.measurand, side: one.side, was, becomes }
    }
}

impl From<Event> for EventKept {
    fn from(one: Event) -> Self {
        let (at, kind) = (one.at.to_string(), one.kind.words());
        Self { sequence: one.sequence, at, who: one.who, kind, body: one.body, hash: one.hash }
    }
}
