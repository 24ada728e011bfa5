//! Tells the stories of the demonstration to a book, through the book's own functions and in the order in which things happened.

use std::collections::BTreeSet;

use axle::{Dimension, DimensionKind, FigureKind, Side};
use book::{
    Amount, Book, BookError, Details, InspectedSize, MarkedCatalog, MoveRequest, Person, RecordKind, ReviewedSheet,
    Role, WorkRecord,
};
use desk::DeskError;
use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use quantity::{LengthExt, LengthUnit, LoadKind, POUND_FORCE_N, read_length, read_load};

use super::ORDERS;
use super::story::{Deed, Doer, STORIES, Story, When};

/// The sizes that the inspector takes.
const MEASURED: [DimensionKind; 6] = [
    DimensionKind::OverallLength,
    DimensionKind::ShoulderDistance,
    DimensionKind::RegisterDiameter,
    DimensionKind::JournalDiameter,
    DimensionKind::RingSeatDiameter,
    DimensionKind::SealJournalDiameter,
];

/// One thing that is to happen: placing the order where there is no deed.
struct Happening {
    at: Timestamp,
    story: &'static Story,
    /// The place among the events of its order.
    place: usize,
    deed: Option<(Doer, Deed)>,
}

/// Tells every story, and goes on where an earlier telling was broken off. An order that somebody has changed meanwhile stays as
/// they left it. `progress` hears how many of how many things have happened.
///
/// # Errors
///
/// The book refuses to take an order in.
pub async fn tell(
    book: &Book,
    catalog: &MarkedCatalog,
    now: Timestamp,
    progress: impl Fn(usize, usize),
) -> Result<(), DeskError> {
    let happenings = happenings(now);
    let mut left_alone = BTreeSet::new();
    for (done, happening) in happenings.iter().enumerate() {
        progress(done, happenings.len());
        let text = sheet_of(happening.story);
        let reference = reference_of(text);
        let known = match book.order_by_reference(&reference).await {
            Ok(order) => Some(order.line),
            Err(BookError::NotFound { .. }) => None,
            Err(error) => return Err(error.into()),
        };
        let Some((doer, deed)) = happening.deed else {
            if known.is_none() {
                let reviewed = reviewed(happening.story, happening.story.earlier.len(), catalog).await?;
                book.place(
                    &reviewed,
                    &details(happening.story, now),
                    &person(Doer::Desk, happening.story),
                    happening.at,
                )
                .await?;
            }
            continue;
        };
        let Some(line) = known else { continue };
        if left_alone.contains(&line.number) || book.events(line.number).await?.len() > happening.place {
            continue;
        }
        let who = person(doer, happening.story);
        let outcome = match deed {
            Deed::Move(to, reason) => {
                let request = MoveRequest { seen_revision: line.revision, from: line.state, to, reason };
                book.move_order(line.number, request, &who, happening.at).await.map(|_| ())
            }
            Deed::Write(direction, words) => {
                book.write_message(line.number, direction, words, &who, happening.at).await.map(|_| ())
            }
            Deed::Correct(reason) => {
                let still_wrong = happening.story.earlier.len().saturating_sub(corrections_before(happening) + 1);
                let reviewed = reviewed(happening.story, still_wrong, catalog).await?;
                let details = details(happening.story, now);
                book.revise(line.number, line.revision, &reviewed, &details, reason, &who, happening.at)
                    .await
                    .map(|_| ())
            }
            Deed::Measure(outside) => {
                let reviewed = reviewed(happening.story, 0, catalog).await?;
                let sizes = measured(&reviewed, outside);
                let records = written_down(&reviewed, line.number);
                book.inspect(line.number, line.revision, &sizes, &records, &who, happening.at).await
            }
        };
        if let Err(error) = outcome {
            tracing::warn!(order = reference, problem = %error, "the demonstration leaves this order as it is");
            left_alone.insert(line.number);
        }
    }
    Ok(())
}

/// Everything that happens, in the order of time.
fn happenings(now: Timestamp) -> Vec<Happening> {
    let mut all: Vec<Happening> = STORIES
        .iter()
        .flat_map(|story| {
            let placed = Happening { at: moment(story.placed, now), story, place: 0, deed: None };
            let deeds = story.deeds.iter().zip(1..).map(move |((when, doer, deed), place)| Happening {
                at: moment(*when, now),
                story,
                place,
                deed: Some((*doer, *deed)),
            });
            std::iter::once(placed).chain(deeds)
        })
        .collect();
    all.sort_by(|one, other| one.at.cmp(&other.at).then(one.place.cmp(&other.place)));
    all
}

fn moment(when: When, now: Timestamp) -> Timestamp {
    match when {
        When::Minutes(ago) => now.saturating_sub(SignedDuration::from_mins(ago)).unwrap_or(now),
        When::Days(days, hour, minute) => {
            let time = jiff::civil::time(hour, minute, 0, 0);
            TimeZone::UTC.to_timestamp(working_day(today(now), -days).to_datetime(time)).unwrap_or(now)
        }
    }
}

fn today(now: Timestamp) -> Date {
    TimeZone::UTC.to_datetime(now).date()
}

/// The working day so many working days later, or earlier where the number is negative.
fn working_day(from: Date, days: i64) -> Date {
    let mut day = from;
    let mut left = days.abs();
    while left > 0 {
        let next = if days < 0 { day.yesterday() } else { day.tomorrow() };
        let Ok(next) = next else { return day };
        day = next;
        if !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) {
            left -= 1;
        }
    }
    day
}

fn sheet_of(story: &Story) -> &'static str {
    ORDERS.iter().find(|(name, _)| name.starts_with(story.file)).map_or("", |(_, text)| text)
}

/// A sheet of the demonstration as its order has it in the end.
fn in_the_end(story: &Story, text: &str) -> String {
    story.confirmed.map_or_else(|| text.to_owned(), |(sheet, order)| text.replacen(sheet, order, 1))
}

/// The reference, which stands in the sheet as in every sheet of the demonstration.
fn reference_of(text: &str) -> String {
    let line = text.lines().find(|line| line.starts_with("reference")).unwrap_or_default();
    line.split('"').nth(1).unwrap_or_default().to_owned()
}

/// The sheet while so many of its readings were still wrong, reviewed on a thread that answers no pages.
async fn reviewed(story: &'static Story, wrong: usize, catalog: &MarkedCatalog) -> Result<ReviewedSheet, DeskError> {
    let mut text = sheet_of(story).to_owned();
    if wrong == 0 {
        text = in_the_end(story, &text);
    }
    for (now, earlier) in story.earlier.iter().rev().take(wrong) {
        text = text.replacen(now, earlier, 1);
    }
    let catalog = catalog.clone();
    let name = story.file;
    tokio::task::spawn_blocking(move || ReviewedSheet::read(name, &text, &catalog))
        .await
        .map_err(|error| DeskError::Failed { problem: format!("the review of order {name} broke off: {error}") })?
        .map_err(DeskError::from)
}

/// How many corrections of the same order came before this one.
fn corrections_before(happening: &Happening) -> usize {
    let before = happening.story.deeds.iter().take(happening.place.saturating_sub(1));
    before.filter(|(_, _, deed)| matches!(deed, Deed::Correct(_))).count()
}

fn details(story: &Story, now: Timestamp) -> Details {
    Details {
        customer: story.customer.to_owned(),
        contact: story.contact.to_owned(),
        vehicle: story.vehicle.to_owned(),
        due: story.due.map(|days| working_day(today(now), days)),
    }
}

fn person(doer: Doer, story: &Story) -> Person {
    match doer {
        Doer::Desk => Person::new("Wenna Tarrow", Role::Desk),
        Doer::Turner => Person::new("Jory Pell", Role::Floor),
        Doer::Inspector => Person::new("Derwa Nance", Role::Floor),
        Doer::Customer => Person::guest(story.customer),
    }
}

/// What an inspector reads on shafts that came out well: each size a little off what was to be cut, one perhaps beyond its limits.
fn measured(reviewed: &ReviewedSheet, outside: Option<DimensionKind>) -> Vec<InspectedSize> {
    let unit = reviewed.sheet.unit.unwrap_or(LengthUnit::Inch);
    let wanted = reviewed.review.dimensions.iter().filter(|dimension| MEASURED.contains(&dimension.kind));
    wanted.enumerate().filter_map(|(place, dimension)| size(dimension, place, unit, outside)).collect()
}

/// What the floor writes down beside the sizes of each shaft: one heat for each, a spline in the middle of its limits, and rings that
/// took a little more than the least force.
fn written_down(reviewed: &ReviewedSheet, order: i64) -> Vec<WorkRecord> {
    let review = &reviewed.review;
    let inch = reviewed.sheet.unit.unwrap_or(LengthUnit::Inch) == LengthUnit::Inch;
    let sides: &[Side] = if reviewed.sheet.wanted.is_empty() { &[Side::Left] } else { &reviewed.sheet.wanted };
    let mut records = Vec::new();
    for (side, place) in sides.iter().copied().zip(0_i32..) {
        let mut add = |kind, written: String, amount, passed| {
            records.push(WorkRecord { kind, side: Some(side), written, amount, passed });
        };
        add(RecordKind::HeatNumber, format!("H-{}", 4100 + 7 * order + i64::from(place)), Amount::None, None);
        if let Some((spline, over)) = review.fitted.spline.as_ref().and_then(|spline| Some((spline, spline.over_pins?)))
        {
            let middle = (over.least + over.most) / 2.0;
            let text =
                if inch { format!("{:.4} in", middle.inches()) } else { format!("{:.3} mm", middle.millimetres()) };
            if let Ok(read) = read_length(&text, None) {
                let inside = over.least <= read.value() && read.value() <= over.most;
                let amount = Amount::OverPins { size: read.value(), pin: over.pin };
                add(RecordKind::SizeOverPins, text, amount, spline.class.map(|_| inside));
            }
        }
        if reviewed.sheet.fitting.bearings_by_shop == Some(false) {
            continue;
        }
        let least = review.proof.figures.iter().find(|figure| figure.kind == FigureKind::RingPressOn);
        for (kind, least, above) in [
            (RecordKind::BearingPressForce, None, 11_000.0),
            (RecordKind::RingPressForce, least.map(|figure| figure.harsh), 3_500.0),
        ] {
            let newtons = least.unwrap_or(0.0) + above + 400.0 * f64::from(place);
            let written = if inch {
                format!("{:.0} lbf", 10.0 * (newtons / POUND_FORCE_N / 10.0).round())
            } else {
                format!("{:.1} kN", newtons / 1000.0)
            };
            if let Ok(newtons) = read_load(&written, LoadKind::Force) {
                add(kind, written, Amount::Newtons(newtons), least.map(|least| newtons >= least));
            }
        }
    }
    records
}

/// Fifths of the way from the size to cut to a limit, one after the other.
const OFF: [i8; 7] = [1, -2, 3, 0, -1, 2, -3];

fn size(
    dimension: &Dimension,
    place: usize,
    unit: LengthUnit,
    outside: Option<DimensionKind>,
) -> Option<InspectedSize> {
    let mut fifths = f64::from(OFF[place % OFF.len()]);
    if outside == Some(dimension.kind) {
        fifths = 8.0;
    }
    let limit = if fifths < 0.0 { dimension.least } else { dimension.most };
    let size = dimension.cut + (limit - dimension.cut) * (fifths.abs() / 5.0);
    let is_long = matches!(dimension.kind, DimensionKind::OverallLength | DimensionKind::ShoulderDistance);
    let text = match (unit, is_long) {
        (LengthUnit::Inch, true) => format!("{:.3} in", size.inches()),
        (LengthUnit::Inch, false) => format!("{:.4} in", size.inches()),
        (_, true) => format!("{:.2} mm", size.millimetres()),
        (_, false) => format!("{:.3} mm", size.millimetres()),
    };
    let written = read_length(&text, None).ok()?;
    let passed = dimension.least <= written.value() && written.value() <= dimension.most;
    Some(InspectedSize { kind: dimension.kind, side: dimension.side, written, passed })
}

#[cfg(test)]
mod tests {
    use book::{Book, ListRequest, MarkedCatalog, RecordKind, State};
    use jiff::Timestamp;

    use super::{STORIES, happenings, sheet_of, tell};

    fn now() -> Timestamp {
        "2026-03-04T14:20:00Z".parse().unwrap()
    }

    #[test]
    fn every_order_has_its_story_and_every_correction_its_place_in_the_sheet() {
        for (story, (name, text)) in STORIES.iter().zip(super::ORDERS) {
            assert!(name.starts_with(story.file), "{name}");
            for (becomes, was) in story.earlier {
                assert!(text.contains(becomes) && !text.contains(was), "{name}: {becomes}");
            }
            if let Some((sheet, order)) = story.confirmed {
                assert!(text.contains(sheet) && !text.contains(order), "{name}: {sheet}");
            }
        }
        let all = happenings(now());
        assert!(all.iter().all(|one| one.at <= now()));
        for story in &STORIES {
            let places: Vec<usize> =
                all.iter().filter(|one| one.story.file == story.file).map(|one| one.place).collect();
            assert!(places.is_sorted(), "order {}", story.file);
            assert!(!sheet_of(story).is_empty());
        }
    }

    #[tokio::test]
    async fn the_stories_are_told_whole_and_only_once() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("orders.db").display().to_string();
        let book = Book::open(&place, now()).await.unwrap();
        let catalog = MarkedCatalog::new(catalog::Catalog::shipped().unwrap());
        tell(&book, &catalog, now(), |_, _| {}).await.unwrap();
        let events = book.latest_events(1_000).await.unwrap();
        let deeds: usize = STORIES.iter().map(|story| story.deeds.len()).sum();
        assert_eq!(events.len(), 26 + deeds, "every deed is one event, and none was refused");
        assert!(events.is_sorted_by(|newer, older| newer.at >= older.at), "the log is in the order of time");
        let counts = book.count_by_state().await.unwrap();
        assert!(
            State::ALL.iter().all(|state| counts.iter().any(|(one, count)| one == state && *count > 0)),
            "{counts:?}"
        );
        let shuttle = book.order_by_reference("Q-0106").await.unwrap().line.number;
        let measured = book.inspections(shuttle).await.unwrap();
        assert_eq!(measured.iter().filter(|size| !size.passed).count(), 1, "{measured:?}");
        let written = book.work_records(shuttle).await.unwrap();
        assert!(written.iter().any(|one| one.record.kind == RecordKind::HeatNumber), "{written:?}");
        for line in book.list(&ListRequest { at_most: 50, ..ListRequest::default() }).await.unwrap().lines {
            let order = book.order(line.number).await.unwrap();
            let mut ends = STORIES.iter().map(|story| super::in_the_end(story, sheet_of(story)));
            assert!(ends.any(|text| text == order.sheet), "{} ends as its story says", line.reference);
        }
        let wagon = book.order_by_reference("Q-0102").await.unwrap();
        assert!(wagon.sheet.contains("confirmed_by = \"the machinist\""), "{}", wagon.sheet);
        assert_eq!(wagon.line.judgement, book::Judgement::Cut);
        tell(&book, &catalog, now(), |_, _| {}).await.unwrap();
        assert_eq!(book.latest_events(1_000).await.unwrap().len(), events.len());
        assert!(book.check(None).await.unwrap().is_sound());
    }
}
