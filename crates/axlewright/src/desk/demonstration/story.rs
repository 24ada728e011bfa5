//! What became of the orders of the demonstration: an invented shop in the middle of its weeks. Everybody here is invented.

use axle::DimensionKind;
use book::{Direction, State};

/// Somebody who does something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doer {
    /// Takes orders in and decides.
    Desk,
    /// Turns and grinds.
    Turner,
    /// Measures what was made.
    Inspector,
    /// The customer of the order.
    Customer,
}

/// One thing that somebody did. Each is one event of the log.
#[derive(Debug, Clone, Copy)]
pub enum Deed {
    /// The order moved, perhaps with a reason.
    Move(State, Option<&'static str>),
    /// Something was written.
    Write(Direction, &'static str),
    /// The first of the readings that were wrong at first was put right, for this reason: read again and written anew, or, where the
    /// story says so, left as it was written and taken as what somebody confirmed.
    Correct(&'static str),
    /// The shafts were measured; one size may lie outside of its limits.
    Measure(Option<DimensionKind>),
}

/// When: so many working days ago, at this hour and minute. Within the last day, so many minutes ago.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// Working days ago, hour, minute, in universal time.
    Days(i64, i8, i8),
    /// Minutes ago.
    Minutes(i64),
}

/// The story of one order.
#[derive(Debug)]
pub struct Story {
    /// The beginning of its file's name.
    pub file: &'static str,
    /// Who ordered.
    pub customer: &'static str,
    /// How to reach them.
    pub contact: &'static str,
    /// What they call the vehicle.
    pub vehicle: &'static str,
    /// In how many working days it is wanted; none where nobody said.
    pub due: Option<i64>,
    /// When it came in.
    pub placed: When,
    /// What the sheet said at first: its text now, and what stood there before it was put right.
    pub earlier: &'static [(&'static str, &'static str)],
    /// The reading that was not written anew: how the sheet of the demonstration has it, and how the order has it in the end, as it was
    /// written, with what it is taken as and who confirmed that.
    pub confirmed: Option<(&'static str, &'static str)>,
    /// What happened then.
    pub deeds: &'static [(When, Doer, Deed)],
}

use Deed::{Correct, Measure, Move, Write};
use Direction::{FromCustomer, Note, ToCustomer};
use Doer::{Customer, Desk, Inspector, Turner};
use State::{Approved, Closed, InWork, Inspected, Questioned, Received, Remade, Shipped};
use When::{Days, Minutes};

/// The stories, the oldest order first.
pub const STORIES: [Story; 26] = [
    Story {
        file: "01",
        customer: "Tamsin Orrel",
        contact: "at the weir, mornings",
        vehicle: "the hay truck",
        due: Some(-9),
        placed: Days(26, 8, 20),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(26, 9, 5), Desk, Move(Approved, None)),
            (
                Days(26, 9, 10),
                Desk,
                Write(ToCustomer, "Everything agrees. We cut this week; the shafts are with you on the day you named."),
            ),
            (Days(24, 7, 40), Turner, Move(InWork, None)),
            (Days(20, 14, 15), Inspector, Measure(None)),
            (Days(20, 14, 30), Inspector, Move(Inspected, None)),
            (Days(19, 10, 0), Desk, Move(Shipped, None)),
            (
                Days(12, 9, 30),
                Customer,
                Write(FromCustomer, "Both are in, nothing rubs, the brakes are even. Thank you."),
            ),
            (Days(12, 11, 0), Desk, Move(Closed, None)),
        ],
    },
    Story {
        file: "02",
        customer: "Piet Aldane",
        contact: "letters to the market hall",
        vehicle: "the market wagon",
        due: Some(-4),
        placed: Days(23, 10, 15),
        earlier: &[("journal_diameter      = { value = \"1.3788\"", "journal_diameter      = { value = \"1.3878\"")],
        confirmed: Some((
            "value = \"1.3788\"",
            "value = \"1.3878\", taken_as = \"1.3788\", taken_by = \"Wenna Tarrow\", confirmed_by = \"the machinist\"",
        )),
        deeds: &[
            (Days(23, 10, 40), Desk, Move(Questioned, None)),
            (
                Days(23, 10, 45),
                Desk,
                Write(
                    ToCustomer,
                    "The journal reads larger than any bearing that fits the housing. Could the machinist take it once more?",
                ),
            ),
            (
                Days(22, 8, 10),
                Customer,
                Write(FromCustomer, "He says 1.3788, he had swapped two digits when he wrote it down."),
            ),
            (
                Days(22, 8, 30),
                Desk,
                Correct("confirmed by the machinist: two digits of the journal were swapped, and 1.3878 meant 1.3788"),
            ),
            (Days(22, 8, 35), Desk, Move(Approved, None)),
            (Days(17, 7, 30), Turner, Move(InWork, None)),
            (Days(13, 13, 20), Inspector, Measure(None)),
            (Days(13, 13, 40), Inspector, Move(Inspected, None)),
            (Days(12, 9, 0), Desk, Move(Shipped, None)),
            (Days(6, 15, 0), Desk, Move(Closed, None)),
        ],
    },
    Story {
        file: "03",
        customer: "Quarry at Stone Fold",
        contact: "the smithy, through the gate",
        vehicle: "the quarry tug",
        due: Some(3),
        placed: Days(21, 9, 0),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(21, 11, 20), Desk, Move(Approved, None)),
            (Days(18, 8, 0), Turner, Move(InWork, None)),
            (Days(14, 15, 10), Inspector, Measure(None)),
            (Days(14, 15, 20), Inspector, Move(Inspected, None)),
            (Days(13, 9, 30), Desk, Move(Shipped, None)),
            (
                Days(3, 8, 15),
                Customer,
                Write(
                    FromCustomer,
                    "The crate fell from the lift and the left shaft is bent. We need it once more, at our cost.",
                ),
            ),
            (Days(3, 9, 0), Desk, Move(Remade, Some("bent in transport by the customer, who pays for another one"))),
        ],
    },
    Story {
        file: "04",
        customer: "Arwel Stokes",
        contact: "leave word at the sawmill",
        vehicle: "the firewood hauler",
        due: Some(2),
        placed: Days(17, 13, 5),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(17, 13, 30), Desk, Move(Approved, None)),
            (Days(9, 7, 50), Turner, Move(InWork, None)),
            (Days(2, 10, 5), Inspector, Measure(None)),
            (Days(2, 10, 20), Inspector, Move(Inspected, None)),
            (
                Days(2, 10, 25),
                Inspector,
                Write(Note, "Ready to be packed. The new lock rings lie in the box with the bearings."),
            ),
        ],
    },
    Story {
        file: "05",
        customer: "Orchard of Lowen Vale",
        contact: "the press house, evenings",
        vehicle: "the orchard runabout",
        due: Some(12),
        placed: Days(8, 9, 45),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(8, 10, 30), Desk, Move(Questioned, None)),
            (
                Days(8, 10, 35),
                Desk,
                Write(
                    ToCustomer,
                    "Both lengths may have been read from the wrong face of the flange. Please hold the tape against the face where the drum sits, and say what it reads.",
                ),
            ),
            (
                Days(5, 16, 40),
                Customer,
                Write(
                    FromCustomer,
                    "The runabout is out in the far field until the end of the week; we measure when it is back.",
                ),
            ),
        ],
    },
    Story {
        file: "06",
        customer: "Ferry House",
        contact: "the landing, any day",
        vehicle: "the shuttle",
        due: Some(5),
        placed: Days(12, 8, 30),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(12, 9, 0), Desk, Move(Approved, None)),
            (Days(3, 7, 35), Turner, Move(InWork, None)),
            (Days(1, 11, 10), Turner, Measure(Some(DimensionKind::RegisterDiameter))),
            (
                Days(1, 11, 15),
                Turner,
                Write(Note, "The register came out large. There is stock to take another pass; I do that first thing."),
            ),
        ],
    },
    Story {
        file: "07",
        customer: "Jenifer Harrow",
        contact: "the forge behind the chapel",
        vehicle: "a bare housing for a trailer",
        due: Some(9),
        placed: Days(9, 14, 0),
        earlier: &[],
        confirmed: None,
        deeds: &[(Days(9, 15, 20), Desk, Move(Approved, None))],
    },
    Story {
        file: "08",
        customer: "Boat Yard at Low Tarn",
        contact: "the slipway",
        vehicle: "the lake tender's trailer",
        due: Some(6),
        placed: Days(10, 10, 10),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(10, 11, 0), Desk, Move(Approved, None)),
            (
                Days(10, 11, 5),
                Desk,
                Write(
                    ToCustomer,
                    "The new discs sit further out than the old drums did; the shafts are cut for the discs.",
                ),
            ),
            (Days(2, 8, 0), Turner, Move(InWork, None)),
        ],
    },
    Story {
        file: "09",
        customer: "Bram Kestle",
        contact: "the hut at the foot of the hill",
        vehicle: "the hill racer",
        due: Some(-2),
        placed: Days(16, 16, 0),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(15, 8, 20), Desk, Move(Approved, None)),
            (Days(11, 7, 45), Turner, Move(InWork, None)),
            (Days(7, 12, 0), Inspector, Measure(None)),
            (Days(7, 12, 10), Inspector, Move(Inspected, None)),
            (Days(6, 9, 15), Desk, Move(Shipped, None)),
        ],
    },
    Story {
        file: "10",
        customer: "Mill at Sallow End",
        contact: "the loading door",
        vehicle: "the feed van",
        due: Some(1),
        placed: Days(7, 9, 20),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (
                Days(7, 9, 50),
                Desk,
                Write(
                    ToCustomer,
                    "One more reading of the length would settle it: from the face to the end, with a rule that has millimetres.",
                ),
            ),
            (
                Days(6, 13, 0),
                Customer,
                Write(
                    FromCustomer,
                    "The van is loaded and cannot be lifted before the end of the month. We take the risk.",
                ),
            ),
            (
                Days(6, 13, 30),
                Desk,
                Move(Approved, Some("the customer cannot measure again in time and takes the risk in writing")),
            ),
        ],
    },
    Story {
        file: "11",
        customer: "Ysolde Penrow",
        contact: "the hives on the heath",
        vehicle: "the apiary truck",
        due: Some(15),
        placed: Days(6, 8, 0),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(6, 8, 40), Desk, Move(Questioned, None)),
            (
                Days(6, 8, 45),
                Desk,
                Write(
                    ToCustomer,
                    "A start. Next please: the length of each shaft, and how deep the bearing's bore is in the housing end.",
                ),
            ),
        ],
    },
    Story {
        file: "12",
        customer: "Corwin Thrale",
        contact: "the shed by the strip",
        vehicle: "the quarter-mile car",
        due: None,
        placed: Days(6, 15, 10),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(5, 9, 0), Desk, Move(Questioned, None)),
            (
                Days(5, 9, 10),
                Desk,
                Write(
                    ToCustomer,
                    "As it is ordered the parts do not slide on over one another. A smaller spline, or a larger bearing, would do; which shall it be?",
                ),
            ),
        ],
    },
    Story {
        file: "13",
        customer: "Elowen Marrick",
        contact: "writes letters",
        vehicle: "the camper",
        due: Some(4),
        placed: Days(11, 12, 30),
        earlier: &[("wheel_bore            = { value = 66.60", "wheel_bore            = { value = 66.06")],
        confirmed: None,
        deeds: &[
            (Days(11, 14, 0), Desk, Correct("digits of the wheel's bore were swapped on the way to the desk")),
            (Days(11, 14, 5), Desk, Move(Approved, None)),
            (Days(5, 7, 40), Turner, Move(InWork, None)),
            (Days(1, 9, 10), Inspector, Measure(None)),
            (Days(1, 9, 20), Inspector, Move(Inspected, None)),
        ],
    },
    Story {
        file: "14",
        customer: "Ranch at Three Wells",
        contact: "the bunk house",
        vehicle: "the ranch hauler",
        due: Some(11),
        placed: Days(5, 10, 0),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(5, 10, 30), Desk, Move(Questioned, None)),
            (
                Days(5, 10, 35),
                Desk,
                Write(
                    ToCustomer,
                    "One of the lengths does not agree with the rest. Please take the left shaft again, with its flange flat against a wall.",
                ),
            ),
            (
                Days(1, 15, 30),
                Customer,
                Write(FromCustomer, "Came out the same twice, 31 7/8. It is the right one that we are not sure of."),
            ),
        ],
    },
    Story {
        file: "15",
        customer: "Salt House",
        contact: "the pans",
        vehicle: "the salt wagon",
        due: Some(8),
        placed: Days(5, 14, 45),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(4, 8, 15), Desk, Move(Questioned, None)),
            (
                Days(4, 8, 20),
                Desk,
                Write(
                    ToCustomer,
                    "Lock rings are pressed on once. We send new ones with the shafts; the old ones must not be used again.",
                ),
            ),
        ],
    },
    Story {
        file: "16",
        customer: "Hill Climb Fellows",
        contact: "the tower, race days",
        vehicle: "the climbing car",
        due: Some(20),
        placed: Days(4, 11, 0),
        earlier: &[],
        confirmed: None,
        deeds: &[(
            Days(4, 11, 40),
            Desk,
            Write(
                Note,
                "The spline is too small for that engine. Morwen calls them about a larger side gear before anything is written.",
            ),
        )],
    },
    Story {
        file: "17",
        customer: "Harl Bowden",
        contact: "on the road, leave word at home",
        vehicle: "the fence-builder's flatbed",
        due: Some(7),
        placed: Days(4, 9, 30),
        earlier: &[],
        confirmed: None,
        deeds: &[(Days(4, 10, 5), Desk, Move(Approved, None))],
    },
    Story {
        file: "18",
        customer: "Peat Works at Dun Moor",
        contact: "the weigh house",
        vehicle: "the peat carrier",
        due: Some(14),
        placed: Days(3, 8, 50),
        earlier: &[],
        confirmed: None,
        deeds: &[],
    },
    Story {
        file: "19",
        customer: "Brick Yard at Clay Lane",
        contact: "the kiln office",
        vehicle: "the tipper",
        due: None,
        placed: Days(9, 9, 10),
        earlier: &[],
        confirmed: None,
        deeds: &[
            (Days(9, 10, 0), Desk, Write(ToCustomer, "Ready to cut as soon as you say so.")),
            (Days(7, 14, 0), Customer, Write(FromCustomer, "The tipper is sold. Please leave it.")),
            (Days(7, 14, 20), Desk, Move(Closed, Some("the customer has sold the vehicle"))),
        ],
    },
    Story {
        file: "20",
        customer: "Wilmot Garth",
        contact: "the well field",
        vehicle: "the water tug",
        due: Some(4),
        placed: Days(8, 13, 15),
        earlier: &[],
        confirmed: None,
        deeds: &[(Days(8, 14, 0), Desk, Move(Approved, None)), (Days(1, 7, 30), Turner, Move(InWork, None))],
    },
    Story {
        file: "21",
        customer: "Seed Barn at Over Field",
        contact: "the scales",
        vehicle: "the seed wagon",
        due: Some(10),
        placed: Days(3, 10, 20),
        earlier: &[],
        confirmed: None,
        deeds: &[(Days(3, 13, 10), Desk, Move(Approved, None))],
    },
    Story {
        file: "22",
        customer: "Kitto Reedman",
        contact: "the boat house",
        vehicle: "the reed cutter",
        due: Some(13),
        placed: Days(2, 9, 0),
        earlier: &[("trapped_thickness     = 1.73", "trapped_thickness     = 1.37")],
        confirmed: None,
        deeds: &[
            (Days(1, 8, 10), Desk, Correct("the ferryman read the trapped thickness out once more")),
            (Days(1, 8, 20), Desk, Move(Questioned, None)),
            (
                Days(1, 8, 25),
                Desk,
                Write(
                    ToCustomer,
                    "The ferryman and the smith differ by two millimetres on one side. Who measured with the flange off?",
                ),
            ),
            (Minutes(95), Customer, Write(FromCustomer, "The smith did.")),
            (Minutes(80), Desk, Move(Received, None)),
        ],
    },
    Story {
        file: "23",
        customer: "Dairy at Church Green",
        contact: "before seven",
        vehicle: "the milk float",
        due: Some(16),
        placed: Days(2, 13, 40),
        earlier: &[],
        confirmed: None,
        deeds: &[],
    },
    Story {
        file: "24",
        customer: "Odo Fennimore",
        contact: "the potters' row",
        vehicle: "the kiln loader",
        due: Some(18),
        placed: Days(1, 10, 5),
        earlier: &[],
        confirmed: None,
        deeds: &[],
    },
    Story {
        file: "25",
        customer: "Bakery at Dial Corner",
        contact: "the back door",
        vehicle: "the bread van",
        due: Some(9),
        placed: Minutes(130),
        earlier: &[],
        confirmed: None,
        deeds: &[],
    },
    Story {
        file: "26",
        customer: "Lanner and Daughters",
        contact: "on tour, letters to the guild hall",
        vehicle: "the camp kitchen",
        due: Some(21),
        placed: Minutes(25),
        earlier: &[],
        confirmed: None,
        deeds: &[],
    },
];
