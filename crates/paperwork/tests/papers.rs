//! The papers of invented orders: that they are made, what they hold, and what is said when they cannot be.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use axle::{Catalog, DimensionKind, Review, Sheet, Side, Verdict};
use drawing::Units;
use paperwork::pages::{Certificate, Confirmation, Drawings, InspectionReport, MeasuringSheet, Purpose, Traveler};
use paperwork::{Approval, Found, FoundWhat, Job, PAPERS, PageSize, Paper, Press, PressError, Shop, ShopDetails};
use placed::Date;

struct Order {
    catalog: Catalog,
    sheet: Sheet,
    review: Review,
    shop: ShopDetails,
}

impl Order {
    fn of_text(text: &str) -> Self {
        let catalog = Catalog::shipped().unwrap();
        let sheet = axle::read_sheet("sheet.toml", text, &catalog).unwrap();
        let review = axle::review(&sheet, &catalog).unwrap();
        let shop = ShopDetails { name: "Ostermere Shaft Works".to_owned(), ..ShopDetails::default() };
        Self { catalog, sheet, review, shop }
    }

    fn demo(name: &str) -> Self {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders").join(name);
        Self::of_text(&std::fs::read_to_string(path).unwrap())
    }

    fn job<'a>(&'a self, approval: Approval<'a>) -> Job<'a> {
        Job {
            sheet: &self.sheet,
            review: &self.review,
            catalog: &self.catalog,
            shop: &self.shop,
            date: Date::new(2026, 11, 25).unwrap(),
            revision: "1",
            page_size: PageSize::Letter,
            units: Units::Inch,
            approval,
            found: &[],
        }
    }
}

/// An order that says nothing but its name.
fn empty() -> Order {
    Order::of_text("[order]\nreference = \"KB-0001\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n")
}

const APPROVED: Approval<'_> = Approval::By { name: "Tove Lind", overruling: None };

#[test]
fn the_packet_is_the_same_bytes_every_time_and_so_is_each_paper() {
    let order = Order::demo("02-market-wagon.toml");
    let job = order.job(Approval::NotYet);
    let (one, other) = (Press::new(&Shop::default()), Press::new(&Shop::default()));
    let packet = one.press(&job, &PAPERS).unwrap();
    assert_eq!(packet.warnings, Vec::<String>::new());
    assert!(packet.pdf.starts_with(b"%PDF-1.7"));
    assert_eq!(packet.pdf, other.press(&job, &PAPERS).unwrap().pdf);
    // A press that has set other papers in between sets the same ones again.
    let single: usize = PAPERS.iter().map(|paper| one.press(&job, &[*paper]).unwrap().pages).sum();
    assert_eq!(single, packet.pages);
    assert_eq!(packet.pdf, one.press(&job, &PAPERS).unwrap().pdf);
}

#[test]
fn an_order_that_lacks_nearly_everything_still_gets_its_papers() {
    let order = empty();
    let press = Press::new(&Shop::default());
    for units in [Units::Millimetre, Units::Dual { inches_first: true }] {
        let job = Job { units, page_size: PageSize::A4, ..order.job(Approval::NotYet) };
        assert!(press.press(&job, &PAPERS).unwrap().pages >= PAPERS.len());
    }
    let confirmation = Confirmation::of(&order.job(Approval::NotYet));
    assert!(!confirmation.unknown.is_empty());
    assert!(confirmation.groups.iter().flat_map(|group| &group.sizes).any(|size| size.mark == "unknown"));
}

#[test]
fn only_an_order_that_may_be_cut_is_approved_without_a_reason_and_one_that_stops_never() {
    let overruled = Approval::By { name: "Tove Lind", overruling: Some("read again by telephone") };
    for (name, verdict, plain, with_reason) in [
        ("02-market-wagon.toml", Verdict::Cut, true, true),
        ("10-feed-van.toml", Verdict::Ask, false, true),
        ("12-drag-car.toml", Verdict::Stop, false, false),
    ] {
        let order = Order::demo(name);
        assert_eq!(order.review.verdict, verdict, "{name}");
        assert_eq!(order.job(APPROVED).approved_by().is_some(), plain, "{name}");
        assert_eq!(order.job(overruled).approved_by().is_some(), with_reason, "{name}");
        assert_eq!(order.job(Approval::NotYet).approved_by(), None);
    }
}

#[test]
fn a_reading_that_is_not_believed_stands_with_before_and_after() {
    let order = Order::demo("02-market-wagon.toml");
    let confirmation = Confirmation::of(&order.job(Approval::NotYet));
    assert_eq!(confirmation.changed.len(), 1);
    let changed = &confirmation.changed[0];
    assert_eq!((changed.what.as_str(), changed.before.as_str()), ("Overall length, left", "27 1/16\""));
    let sizes: Vec<_> = confirmation.groups.iter().flat_map(|group| &group.sizes).collect();
    let left = sizes.iter().find(|size| size.what == "Overall length, left").unwrap();
    assert_eq!((left.mark, left.before.as_deref()), ("changed by us", Some("27 1/16\"")));
    let right = sizes.iter().find(|size| size.what == "Overall length, right").unwrap();
    assert_eq!((right.mark, right.before.as_deref()), ("measured", None));
}

#[test]
fn the_numbers_of_the_inspection_report_are_those_of_the_balloons() {
    let order = Order::demo("02-market-wagon.toml");
    let job = order.job(Approval::NotYet);
    let drawings = Drawings::of(&job);
    let report = InspectionReport::of(&job, &drawings);
    assert_eq!(report.shafts.len(), 2);
    for sheet in &drawings.sheets {
        for balloon in &sheet.balloons {
            assert!(balloon.drawn, "{}: {}", sheet.title, balloon.name);
            assert!(sheet.svg.contains(&format!("aria-label=\"{}\"", balloon.number)));
        }
    }
    for shaft in &report.shafts {
        let mut numbers: Vec<u32> = shaft.rows.iter().filter_map(|row| row.number).collect();
        // What one label says stands in rows one below the other, with one number.
        let shared = ["Finish of the journal", "Finish of the ring seat", "Finish of the seal journal"];
        for (own, what) in ["Journal diameter", "Ring seat diameter", "Seal journal diameter"].iter().zip(shared) {
            let at = shaft.rows.iter().position(|row| row.what == *own).unwrap();
            assert_eq!((&*shaft.rows[at + 1].what, shaft.rows[at + 1].number), (what, shaft.rows[at].number));
        }
        for note in ["Flange fillet", "Shoulder fillet", "Runout, wheel face to journal", "Hardness of the case"] {
            assert!(shaft.rows.iter().any(|row| row.what == note && row.number.is_some()), "{note}");
        }
        numbers.dedup();
        assert_eq!(numbers, (1..=u32::try_from(numbers.len()).unwrap()).collect::<Vec<_>>());
        let length = shaft.rows.iter().find(|row| row.what == "Overall length").unwrap();
        assert_eq!(length.gauge, "length bar");
    }
}

#[test]
fn the_measuring_sheet_holds_what_the_order_needs_and_nothing_else() {
    let rows = |sheet: &MeasuringSheet| -> Vec<(usize, String, bool)> {
        let rows = sheet.groups.iter().flat_map(|group| &group.rows);
        rows.map(|row| (row.number, row.what.clone(), row.required)).collect()
    };
    // Nothing is read: everything that a shop wants to know, with what it cannot do without.
    let order = empty();
    let sheet = MeasuringSheet::of(&order.job(Approval::NotYet));
    let all = rows(&sheet);
    assert_eq!(sheet.purpose, Purpose::Everything);
    assert!(all.len() > 30, "{}", all.len());
    assert!(all.iter().any(|(_, what, required)| *required && what == "Number of spline teeth"));
    assert_eq!(all.iter().map(|row| row.0).collect::<Vec<_>>(), (1..=all.len()).collect::<Vec<_>>());
    // The review asks: what it asks.
    let order = Order::demo("11-apiary-truck.toml");
    let sheet = MeasuringSheet::of(&order.job(Approval::NotYet));
    assert_eq!(sheet.purpose, Purpose::Asked);
    let asked = rows(&sheet);
    assert!((3..12).contains(&asked.len()), "{asked:?}");
    assert!(asked.iter().any(|(_, what, required)| *required && what == "Register diameter"), "{asked:?}");
    // Nothing is asked: the lengths, and the reading that is not believed.
    let order = Order::demo("22-reed-cutter.toml");
    let sheet = MeasuringSheet::of(&order.job(Approval::NotYet));
    assert_eq!(sheet.purpose, Purpose::SecondLook);
    let doubted = order.review.readings.iter().filter(|reading| reading.probability_mistaken > 0.5).count();
    let looked_at = rows(&sheet);
    assert!((doubted..=doubted + 3).contains(&looked_at.len()), "{looked_at:?}");
    assert!(looked_at.iter().all(|(_, _, required)| !required));
}

#[test]
fn the_spline_is_cut_soft_and_the_seats_are_ground_hard() {
    let order = Order::demo("02-market-wagon.toml");
    let traveler = Traveler::of(&order.job(Approval::NotYet));
    let place = |words: &str| traveler.operations.iter().position(|step| step.what.starts_with(words)).unwrap();
    let route = [
        "Take the blank",
        "Cut the spline",
        "Induction harden",
        "Temper",
        "Grind the seats",
        "Magnetic",
        "Retainer",
        "Inspect",
    ];
    let places: Vec<usize> = route.iter().map(|words| place(words)).collect();
    assert!(places.is_sorted(), "{places:?}");
    assert!(traveler.operations.windows(2).all(|pair| pair[0].number < pair[1].number));
}

#[test]
fn the_certificate_lists_every_blank() {
    let order = Order::demo("02-market-wagon.toml");
    let certificate = Certificate::of(&order.job(APPROVED));
    let blanks = certificate
        .groups
        .iter()
        .flat_map(|group| &group.rows)
        .filter(|row| row.values.iter().any(Option::is_none))
        .count();
    assert_eq!(certificate.blanks.len(), blanks);
    assert!(certificate.blanks.contains(&"heat number".to_owned()));
}

/// What the floor found on the left shaft: a journal that was out and is in, the heat, and the ring.
fn found() -> Vec<Found> {
    let of = |what, words: &str, passes, who: &str| Found {
        what,
        side: Some(Side::Left),
        words: words.to_owned(),
        passes,
        who: who.to_owned(),
        day: "2026-03-04".to_owned(),
    };
    let journal = FoundWhat::Size(DimensionKind::JournalDiameter);
    vec![
        of(journal, "1.5 in", Some(false), "Jory Pell"),
        of(journal, "1.3788 in", Some(true), "Derwa Nance"),
        of(FoundWhat::Size(DimensionKind::RaceDistance), "2.9 in", Some(true), "Derwa Nance"),
        of(FoundWhat::HeatNumber, "H-4711", None, "Jory Pell"),
        of(FoundWhat::RingPressForce, "9000 lbf (40.0 kN)", Some(true), "Derwa Nance"),
    ]
}

#[test]
fn what_was_measured_stands_on_the_inspection_report_with_who_and_when() {
    let order = Order::demo("02-market-wagon.toml");
    let found = found();
    let job = Job { found: &found, ..order.job(APPROVED) };
    let report = InspectionReport::of(&job, &Drawings::of(&job));
    let shaft = |side: &str| report.shafts.iter().find(|shaft| shaft.side == side).unwrap();
    let row = |side: &str, what: &str| shaft(side).rows.iter().find(|row| row.what == what).unwrap().clone();
    let journal = row("left", "Journal diameter").found;
    assert_eq!(
        journal.iter().map(|one| (one.words.as_str(), one.passes)).collect::<Vec<_>>(),
        [("1.3788 in", Some(true)), ("1.5 in", Some(false))]
    );
    assert_eq!(journal[0].by, "Derwa Nance, 2026-03-04");
    assert_eq!(row("left", "Press force of the lock ring").found.len(), 1);
    // The drawing has no balloon for it, and it is not left out.
    let race = row("left", "Race distance");
    assert!(race.number.is_none() && race.requirement.contains(" in") && race.found.len() == 1, "{race:?}");
    assert_eq!((shaft("left").heat.as_deref(), shaft("right").heat.as_deref()), (Some("H-4711"), None));
    assert!(shaft("right").rows.iter().all(|row| row.found.is_empty()), "nobody has measured it");
    let papers = [Paper::InspectionReport, Paper::Certificate];
    let press = Press::new(&Shop::default());
    assert_ne!(press.press(&job, &papers).unwrap().pdf, press.press(&order.job(APPROVED), &papers).unwrap().pdf);
}

#[test]
fn the_certificate_carries_what_was_kept_and_blanks_are_those_of_any_shaft() {
    let order = Order::demo("02-market-wagon.toml");
    let found = found();
    let certificate = Certificate::of(&Job { found: &found, ..order.job(APPROVED) });
    let rows: Vec<_> = certificate.groups.iter().flat_map(|group| &group.rows).collect();
    let values = |what: &str| rows.iter().find(|row| row.what == what).unwrap().values.clone();
    assert_eq!(values("Heat number"), [Some("H-4711".to_owned()), None]);
    assert_eq!(values("Sizes as measured"), [Some("2 sizes, within limits".to_owned()), None]);
    assert!(certificate.blanks.contains(&"heat number".to_owned()), "the right shaft has none yet");
    assert_eq!(values("Drawing and revision")[0], values("Drawing and revision")[1]);
}

#[test]
fn a_fault_in_a_template_names_template_and_line() {
    let order = Order::demo("02-market-wagon.toml");
    let text = "#import \"/frame.typ\": *\n#paper(\"Certificate\")[\n  #no-such-thing\n]\n";
    let shop = Shop { templates: vec![("certificate.typ".to_owned(), text.to_owned())], ..Shop::default() };
    let error = Press::new(&shop).press(&order.job(Approval::NotYet), &[Paper::Certificate]).unwrap_err();
    let PressError::Templates(faults) = &error else { panic!("{error}") };
    assert_eq!((faults[0].template.as_str(), faults[0].place), ("certificate.typ", Some((3, 4))));
    assert!(error.to_string().starts_with("certificate.typ:3:4: unknown variable: no-such-thing"), "{error}");
}

#[test]
fn a_template_that_belongs_to_no_paper_is_a_warning() {
    let order = Order::demo("02-market-wagon.toml");
    let shop = Shop { templates: vec![("invoice.typ".to_owned(), String::new())], ..Shop::default() };
    let pressed = Press::new(&shop).press(&order.job(Approval::NotYet), &[Paper::PartsList]).unwrap();
    assert!(pressed.warnings[0].starts_with("invoice.typ: no paper has a template of this name"));
}

#[test]
fn text_in_any_script_is_set_or_stood_in_for() {
    let mut order = Order::demo("02-market-wagon.toml");
    order.sheet.axle = Some("ось № 5, 车轴, \u{202e}\u{1f600} #let x = [".to_owned());
    order.review.reference = "Q/01\\02 #\"{}\u{4e2d}".to_owned();
    order.shop.name = "Žďár & Søn <b>".to_owned();
    let press = Press::new(&Shop::default());
    assert!(press.press(&order.job(Approval::NotYet), &PAPERS).is_ok());
}

#[test]
fn a_correction_stands_before_and_after_and_says_whether_anybody_confirmed_it() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders/02-market-wagon.toml");
    let text = std::fs::read_to_string(path).unwrap();
    let taken = |confirmed: &str| {
        let reading = "value = \"1.3788\"";
        assert!(text.contains(reading));
        let corrected = format!("value = \"1.3878\", taken_as = \"1.3788\", taken_by = \"Wenna\"{confirmed}");
        let order = Order::of_text(&text.replace(reading, &corrected));
        Confirmation::of(&order.job(Approval::NotYet))
    };
    let of_journal = |confirmation: &Confirmation| {
        let row = confirmation.changed.iter().find(|row| row.what.contains("journal")).unwrap();
        (row.before.clone(), row.after.clone(), row.why.clone(), row.sure.clone())
    };
    let confirmed = taken(", confirmed_by = \"the machinist\"");
    let (before, after, why, sure) = of_journal(&confirmed);
    assert_eq!((before.as_str(), after.as_str()), ("1.3878", "1.3788"));
    assert_eq!((why.as_str(), sure.as_str()), ("Confirmed by the machinist.", "confirmed"));
    let size =
        confirmed.groups.iter().flat_map(|group| &group.sizes).find(|size| size.what == "Journal diameter").unwrap();
    assert_eq!((size.mark, size.before.as_deref()), ("changed by us", Some("1.3878")));

    let (before, after, why, _) = of_journal(&taken(""));
    assert_eq!((before.as_str(), after.as_str()), ("1.3878", "1.3788"));
    assert!(why.contains("you have not confirmed it"), "{why}");
}
