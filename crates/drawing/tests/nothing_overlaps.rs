//! On hundreds of simulated orders no text stands on another, and no line runs through one.
//!
//! The check looks at the finished display list alone, with its own geometry, and knows nothing of how it was laid out.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use axle::simulate::{Chance, People, Zeal, draw_vehicle, measure};
use axle::{AccessHole, Catalog, Review, Sheet, Side};
use drawing::{Drawing, Item, Numbers, Point, Rectangle, Request, Standard, Units, View, draw, with_balloons};
use quantity::millimetres;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

const VIEWS: [View; 4] = [View::Shaft, View::Flange, View::Housing, View::Pair];
const LOOKS: [(Standard, Units); 4] = [
    (Standard::Iso, Units::Millimetre),
    (Standard::Asme, Units::Inch),
    (Standard::Asme, Units::Dual { inches_first: true }),
    (Standard::Iso, Units::Dual { inches_first: false }),
];

fn order(number: u64, zeal: Zeal, catalog: &Catalog) -> Option<(Sheet, Review)> {
    let mut source = StdRng::seed_from_u64(41_000 + number);
    let mut even = || source.random_range(f64::EPSILON..1.0);
    let mut chance = Chance::new(&mut even);
    let differential = chance.weighted(&catalog.differentials, |_| 1.0).unwrap();
    let vehicle = draw_vehicle(catalog, differential, &mut chance)?;
    let mut sheet = measure(&vehicle, catalog, zeal, &People::default(), &mut chance).sheet;
    // Every third flange has an access hole, every sixth with its own circle.
    if number.is_multiple_of(3) {
        let circle = number.is_multiple_of(6).then_some(millimetres(100.0));
        sheet.parts.access_hole = Some(AccessHole::Round { diameter: millimetres(24.0), circle });
    }
    let review = axle::review(&sheet, catalog).unwrap();
    Some((sheet, review))
}

/// Twice the signed area of a triangle: its sign says on which side of the line a point lies.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

fn cross(a: (Point, Point), b: (Point, Point)) -> bool {
    let apart = |p: f64, q: f64| (p > 0.0 && q < 0.0) || (p < 0.0 && q > 0.0);
    apart(turn(a.0, a.1, b.0), turn(a.0, a.1, b.1)) && apart(turn(b.0, b.1, a.0), turn(b.0, b.1, a.1))
}

/// Whether a line has a point inside of a room: an end of it, or a crossing with a diagonal.
fn runs_through(room: &Rectangle, line: (Point, Point)) -> bool {
    let inside = |p: Point| room.left < p.x && p.x < room.right && room.bottom < p.y && p.y < room.top;
    let corner = |x, y| Point { x, y };
    let diagonals = [
        (corner(room.left, room.bottom), corner(room.right, room.top)),
        (corner(room.left, room.top), corner(room.right, room.bottom)),
    ];
    inside(line.0) || inside(line.1) || diagonals.iter().any(|diagonal| cross(*diagonal, line))
}

fn faults(drawing: &Drawing) -> Vec<String> {
    let (mut texts, mut lines) = (Vec::new(), Vec::new());
    for item in &drawing.items {
        item.each_text(&mut |text| texts.push((text.words.clone(), text.room())));
        item.each_stroke(&mut |from, to| lines.push((from, to)));
    }
    let paper = Rectangle { left: 0.0, bottom: 0.0, right: drawing.style.paper.0, top: drawing.style.paper.1 };
    let mut faults = Vec::new();
    for (index, (words, room)) in texts.iter().enumerate() {
        for (other, second) in &texts[index + 1..] {
            if room.left < second.right
                && second.left < room.right
                && room.bottom < second.top
                && second.bottom < room.top
            {
                faults.push(format!("\"{words}\" stands on \"{other}\""));
            }
        }
        if let Some((from, to)) = lines.iter().find(|line| runs_through(room, **line)) {
            faults.push(format!("a line from {from:?} to {to:?} runs through \"{words}\""));
        }
        if room.left < paper.left || room.right > paper.right || room.bottom < paper.bottom || room.top > paper.top {
            faults.push(format!("\"{words}\" runs over the edge of the paper"));
        }
    }
    for (from, to) in &lines {
        for point in [from, to] {
            if point.x < 0.0 || point.y < 0.0 || point.x > paper.right || point.y > paper.top {
                faults.push(format!("a line runs over the edge of the paper at {point:?}"));
            }
        }
    }
    faults
}

fn request(view: View, side: Side, look: (Standard, Units)) -> Request<'static> {
    Request { view, side, standard: look.0, units: look.1, date: "2026-11-25", revision: "1", approved: false }
}

/// Draws so many orders in every view and look; returns how many drawings there were and how many left something off.
fn look_at(orders: u64, zeal: Zeal) -> (usize, usize) {
    let catalog = Catalog::shipped().unwrap();
    let (mut drawings, mut lacking) = (0, 0);
    for number in 0..orders {
        let Some((sheet, review)) = order(number, zeal, &catalog) else { continue };
        for view in VIEWS {
            let side = if number % 2 == 0 { Side::Left } else { Side::Right };
            // Every order in two looks, so that all four come up for every kind of order.
            for look in [LOOKS[number as usize % 4], LOOKS[(number as usize + 1) % 4]] {
                let drawing = draw(&sheet, &review, &request(view, side, look));
                let found = faults(&drawing);
                assert!(found.is_empty(), "order {number}, {view:?}, {look:?}: {found:#?}");
                drawings += 1;
                let mut says_no_room = false;
                for item in &drawing.items {
                    item.each_text(&mut |text| says_no_room |= text.words.starts_with("No room on the picture"));
                }
                if says_no_room {
                    println!("order {number}, {view:?}, {look:?}, scale {}: {}", drawing.scale, no_room(&drawing));
                }
                lacking += usize::from(says_no_room);
                with_balloons_too(drawing, number);
            }
        }
    }
    (drawings, lacking)
}

/// A drawing with balloons keeps everything that it had and has a circle for each dimension and each note that asks for
/// something, none of them over anything.
fn with_balloons_too(mut drawing: Drawing, number: u64) {
    let before = drawing.items.clone();
    let balloons = with_balloons(&mut drawing, &mut Numbers::default());
    assert!(drawing.items.starts_with(&before));
    let found = faults(&drawing);
    assert!(found.is_empty(), "order {number}, with balloons: {found:#?}");
    let mut numbered = before.iter().filter(|item| matches!(item, Item::Note(_))).count();
    for item in &before {
        item.each_dimension(&mut |_| numbered += 1);
    }
    assert_eq!(balloons.len(), numbered);
    let crowded: Vec<_> = balloons.iter().filter(|balloon| !balloon.drawn).collect();
    assert!(crowded.is_empty(), "order {number}: no room for {crowded:?}");
    let circles = drawing.items[before.len()..].iter().filter_map(|item| match item {
        Item::Circle { centre, radius, .. } => Some((*centre, *radius)),
        _ => None,
    });
    for (centre, radius) in circles {
        let around = Rectangle::around(centre, centre).grown(radius);
        for item in &before {
            item.each_text(&mut |text| {
                assert!(!text.room().overlaps(&around), "order {number}: a balloon over {}", text.words)
            });
        }
    }
}

#[test]
fn nothing_overlaps_on_orders_with_every_reading() {
    let (drawings, lacking) = look_at(130, Zeal::Full);
    println!("{drawings} drawings, {lacking} without room for everything");
    assert!(drawings >= 900, "{drawings}");
    // Everything is on the picture but on one in a hundred, which says so on its face.
    assert!(lacking * 100 <= drawings, "{lacking} of {drawings}");
}

#[test]
fn nothing_overlaps_on_orders_with_few_readings() {
    let (drawings, lacking) = look_at(80, Zeal::Lean);
    println!("{drawings} drawings, {lacking} without room for everything");
    assert!(drawings >= 600, "{drawings}");
    assert!(lacking * 100 <= drawings, "{lacking} of {drawings}");
}

#[test]
fn the_check_sees_what_it_is_to_see() {
    let room = Rectangle { left: 0.0, bottom: 0.0, right: 10.0, top: 4.0 };
    let at = |x, y| Point { x, y };
    assert!(runs_through(&room, (at(-5.0, 2.0), at(15.0, 2.5))));
    assert!(runs_through(&room, (at(5.0, 2.0), at(5.0, 9.0))));
    assert!(!runs_through(&room, (at(-5.0, 5.0), at(15.0, 5.0))));
}

/// What a drawing says that it has no room for, as far as it stands in the first line.
fn no_room(drawing: &Drawing) -> String {
    let mut said = String::new();
    for item in &drawing.items {
        item.each_text(&mut |text| {
            if text.words.starts_with("No room on the picture") {
                said.clone_from(&text.words);
            }
        });
    }
    said
}
