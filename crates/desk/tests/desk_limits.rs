//! One size has one pair of limits: on the page of the order, at the bench, and on the drawing.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

mod desk_under_test;

use std::collections::BTreeMap;

use axle::{DimensionKind, Side};
use desk_under_test::{catalog, demo, open_desk};
use drawing::{Item, Request, ShaftShape, Standard, Units, View, draw};

/// The text between two marks, the first time that they stand there.
fn between<'t>(text: &'t str, from: &str, to: &str) -> Option<&'t str> {
    text.split_once(from)?.1.split_once(to).map(|(inside, _)| inside)
}

/// Dimension and side, and the limits in the unit that leads.
type Limits = BTreeMap<(&'static str, Option<Side>), String>;

fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ").trim().to_owned()
}

/// The limits on the page of the order: the third cell of the row that shows the dimension.
fn on_the_sheet(page: &str, wanted: &[(DimensionKind, Option<Side>)]) -> Limits {
    let table = between(page, "<table class=\"sizes\">", "</table>").unwrap();
    let row = |kind: DimensionKind, side: Option<Side>| {
        let side = side.map(|side| format!(" data-side=\"{}\"", side.words())).unwrap_or_default();
        let row = between(table, &format!("<tr data-shows=\"{}\"{side}>", kind.key()), "</tr>").unwrap();
        plain(row.split("<td class=\"number\">").nth(1).unwrap().split('<').next().unwrap())
    };
    wanted.iter().map(|(kind, side)| ((kind.key(), *side), row(*kind, *side))).collect()
}

/// The limits at the bench, where what is alike is measured on every shaft.
fn at_the_bench(page: &str, wanted: &[(DimensionKind, Option<Side>)]) -> Limits {
    let rows: Vec<(String, String)> = page
        .split("<tr><th scope=\"row\">")
        .skip(1)
        .map(|row| {
            let words = row.split("</th>").next().unwrap().to_owned();
            (words, plain(between(row, "<td class=\"limits\">", "<").unwrap_or_default()))
        })
        .collect();
    let mut found = Limits::new();
    for (kind, side) in wanted {
        let words = side.map_or_else(|| kind.words().to_owned(), |side| format!("{}, {}", kind.words(), side.words()));
        let mut alike: Vec<&String> = rows
            .iter()
            .filter(|(row, _)| {
                row.to_lowercase() == words || (side.is_none() && row.to_lowercase().starts_with(&format!("{words}, ")))
            })
            .map(|(_, limits)| limits)
            .collect();
        alike.dedup();
        assert_eq!(alike.len(), 1, "{words}: {rows:?}");
        found.insert((kind.key(), *side), alike[0].clone());
    }
    found
}

/// What stands on the drawings of one side, as limits: `2.355–2.364`.
fn on_the_drawings(
    sheet: &axle::Sheet,
    review: &axle::Review,
    side: Side,
    standard: Standard,
    units: Units,
) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    for view in [View::Shaft, View::Flange] {
        let request = Request { view, side, standard, units, date: "2026-03-02", revision: "1", approved: true };
        for item in draw(sheet, review, &request).items {
            let Item::Dimension(one) = item else { continue };
            let words: Vec<String> = one
                .items
                .iter()
                .filter_map(
                    |item| if let Item::Text(text) = item { Some(text.words.replace(['⌀', ' '], "")) } else { None },
                )
                .collect();
            if let Some(limits) = as_limits(&words) {
                found.insert(one.name, limits);
            }
        }
    }
    found
}

/// Limits out of any manner in which a drawing writes them; none of a size for reference or an exact one.
fn as_limits(words: &[String]) -> Option<String> {
    let written = |text: &str, like: &str| {
        let number: f64 = text.parse().ok()?;
        let places = like.split('.').nth(1)?.len();
        let text = format!("{number:.places$}");
        Some(if like.starts_with('.') { text.trim_start_matches('0').to_owned() } else { text })
    };
    let first = words.first()?;
    let first = first.rsplit('×').next().unwrap_or(first);
    if let Some((middle, room)) = first.split_once('±') {
        let (middle_is, room) = (middle.parse::<f64>().ok()?, room.parse::<f64>().ok()?);
        let of = |value: f64| written(&value.to_string(), middle);
        return Some(format!("{}–{}", of(middle_is - room)?, of(middle_is + room)?));
    }
    if first.contains('–') {
        return Some(first.to_owned());
    }
    let (most, least) = (first, words.get(1)?);
    let is_number = |text: &str| text.parse::<f64>().is_ok();
    (is_number(most) && is_number(least)).then(|| format!("{least}–{most}"))
}

#[tokio::test]
async fn sheet_bench_and_drawing_show_the_same_limits() {
    let folder = format!("{}/../../demo/orders", env!("CARGO_MANIFEST_DIR"));
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    names.sort();
    let desk = open_desk().await;
    let mut drawn = 0;
    for name in &names {
        let line = desk.place(name).await;
        let sheet = axle::read_sheet(name, &demo(name), catalog().catalog()).unwrap();
        let review = axle::review_without_questions(&sheet, catalog().catalog()).unwrap();
        let wanted: Vec<_> = review.dimensions.iter().map(|one| (one.kind, one.side)).collect();
        if wanted.is_empty() {
            continue;
        }
        let sheet_page = desk.get(&format!("/orders/{}", line.number)).await.text();
        let floor_page = desk.get(&format!("/orders/{}/floor", line.number)).await.text();
        let (shown, made) = (on_the_sheet(&sheet_page, &wanted), at_the_bench(&floor_page, &wanted));
        assert_eq!(shown, made, "{name}");
        let inches = axle::leading(&sheet) == quantity::Leading::Inches;
        let (standard, units) = if inches { (Standard::Asme, Units::Inch) } else { (Standard::Iso, Units::Millimetre) };
        for side in [Side::Left, Side::Right] {
            let drawings = on_the_drawings(&sheet, &review, side, standard, units);
            let shape = ShaftShape::of(&review, side);
            for ((key, of), limits) in shown.iter().filter(|((_, of), _)| of.is_none_or(|of| of == side)) {
                let narrow = !limits.contains('–');
                if let Some(drawn_as) = drawings.get(*key).filter(|_| !narrow) {
                    let unit = if inches { " in" } else { " mm" };
                    assert_eq!(&format!("{drawn_as}{unit}"), limits, "{name}, {key} {of:?}, {:?}", shape.side);
                    drawn += 1;
                }
            }
        }
    }
    assert!(drawn > 200, "most dimensions stand on the drawings with their limits: {drawn}");
}
