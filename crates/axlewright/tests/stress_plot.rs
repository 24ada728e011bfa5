//! The picture of stress and safety along the shaft, read back from its SVG and held against the proof.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use axle::{CaseProof, LoadCase, Review, StationProof};
use catalog::Catalog;
use drawing::stress_plot;
use quantity::Leading;
use roxmltree::{Document, Node};

fn orders() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders");
    let mut orders: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    orders.sort();
    assert!(orders.len() >= 10);
    orders
}

fn review(path: &Path, catalog: &Catalog) -> (Review, Leading) {
    let text = std::fs::read_to_string(path).unwrap();
    let sheet = axle::read_sheet(&path.display().to_string(), &text, catalog).unwrap();
    (axle::review(&sheet, catalog).unwrap(), axle::leading(&sheet))
}

/// The order with the most open inputs, which the manual shows.
fn wagon() -> (Review, String) {
    let catalog = Catalog::shipped().unwrap();
    let path = orders().into_iter().find(|path| path.ends_with("02-market-wagon.toml")).unwrap();
    let (review, leading) = review(&path, &catalog);
    let picture = stress_plot(&review, leading).unwrap();
    (review, picture)
}

fn number(node: Node<'_, '_>, key: &str) -> f64 {
    node.attribute(key).unwrap().parse().unwrap()
}

fn key(case: LoadCase) -> &'static str {
    match case {
        LoadCase::Straight => "straight",
        LoadCase::Launch => "launch",
        LoadCase::Braking => "braking",
        LoadCase::CornerOuter => "corner_outer",
        LoadCase::CornerInner => "corner_inner",
        LoadCase::Bump => "bump",
        LoadCase::Towing => "towing",
    }
}

/// The points of the curve of a panel and case.
fn curve(document: &Document<'_>, panel: &str, case: LoadCase) -> Option<Vec<(f64, f64)>> {
    let id = format!("{panel}-{}", key(case));
    let group = document.descendants().find(|node| node.attribute("id") == Some(&id))?;
    let line = group.descendants().find(|node| node.has_tag_name("polyline"))?;
    let points = line.attribute("points")?.split(' ').map(|pair| {
        let (x, y) = pair.split_once(',').unwrap();
        (x.parse().unwrap(), y.parse().unwrap())
    });
    Some(points.collect())
}

/// Ticks at the left edge of a panel: place and number. The panels lie below each other.
fn ticks(document: &Document<'_>, top: f64, bottom: f64) -> Vec<(f64, f64)> {
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    let left = texts.filter(|node| node.attribute("text-anchor") == Some("end") && number(*node, "x") < 100.0);
    let mut ticks: Vec<(f64, f64)> = left
        .filter_map(|node| Some((number(node, "y") - 4.0, node.text()?.parse().ok()?)))
        .filter(|(y, _)| (top - 1.0..=bottom + 1.0).contains(y))
        .collect();
    ticks.sort_by(|one, other| one.1.total_cmp(&other.1));
    ticks
}

/// Upper and lower edge of each panel, by its clip.
fn edges(document: &Document<'_>) -> BTreeMap<String, (f64, f64)> {
    let clips = document.descendants().filter(|node| node.has_tag_name("clipPath"));
    clips
        .map(|clip| {
            let inside = clip.children().find(|node| node.has_tag_name("rect")).unwrap();
            let top = number(inside, "y");
            let key = clip.attribute("id").unwrap().trim_start_matches("within-").to_owned();
            (key, (top, top + number(inside, "height")))
        })
        .collect()
}

fn stations(case: &CaseProof) -> Vec<StationProof> {
    let mut stations = case.stations.clone();
    stations.sort_by(|one, other| one.at_mm.total_cmp(&other.at_mm));
    stations
}

/// Reads every curve of a panel back by the panel's own ticks. Half a pixel's hundredth is what the file rounds away.
fn hold_curves(
    review: &Review,
    document: &Document<'_>,
    panel: &str,
    by_ratio: bool,
    of: impl Fn(&StationProof) -> Option<f64>,
) -> usize {
    let (top, bottom) = edges(document)[panel];
    let ticks = ticks(document, top, bottom);
    let (first, last) = (ticks[0], ticks[ticks.len() - 1]);
    let scale = |value: f64| if by_ratio { value.ln() } else { value };
    let y =
        |value: f64| first.0 + (scale(value) - scale(first.1)) / (scale(last.1) - scale(first.1)) * (last.0 - first.0);
    let mut held = 0;
    for case in &review.proof.cases {
        let stations = stations(case);
        let values: Option<Vec<f64>> = stations.iter().map(&of).collect();
        let points = curve(document, panel, case.case);
        assert_eq!(values.is_some(), points.is_some(), "{panel} {:?}", case.case);
        let (Some(values), Some(points)) = (values, points) else { continue };
        assert_eq!(values.len(), points.len());
        for (value, (_, drawn)) in values.into_iter().zip(points) {
            let expected = y(value);
            if expected >= top {
                assert!((drawn - expected).abs() < 0.02, "{panel} {:?}: {value} at {drawn}, not {expected}", case.case);
                held += 1;
            } else {
                assert!(drawn < top, "{panel} {:?}: {value} must run off above", case.case);
            }
        }
    }
    held
}

#[test]
fn every_curve_shows_the_values_of_the_proof() {
    let (review, picture) = wagon();
    let document = Document::parse(&picture).unwrap();
    // Inches lead on this order, so that the left axis is in ksi: 6.894757 MPa (NIST SP 811).
    let stresses = hold_curves(&review, &document, "stress", false, |one| Some(one.stress_mpa / 6.894_757_293));
    let yields = hold_curves(&review, &document, "yield", true, |one| Some(one.yield_safety));
    let fatigues = hold_curves(&review, &document, "fatigue", true, |one| one.fatigue_safety);
    // Six cases of eight sections; some safeties run off.
    assert!(stresses == 48 && yields > 30 && fatigues > 30, "{stresses}, {yields}, {fatigues}");
}

#[test]
fn every_section_stands_at_its_distance() {
    let (review, picture) = wagon();
    let document = Document::parse(&picture).unwrap();
    let points = curve(&document, "stress", LoadCase::Launch).unwrap();
    let launch = review.proof.cases.iter().find(|case| case.case == LoadCase::Launch).unwrap();
    // The millimetres of the lower axis, up to the change of scale, give the scale of the crowded end.
    let lowest = edges(&document)["fatigue"].1;
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    let centred: Vec<(f64, f64)> = texts
        .filter(|node| node.attribute("text-anchor") == Some("middle") && number(*node, "y") > lowest + 40.0)
        .filter_map(|node| Some((number(node, "x"), node.text()?.parse().ok()?)))
        .collect();
    let (zero, twenty) = (centred[0], centred[1]);
    assert_eq!((zero.1, twenty.1), (0.0, 20.0));
    for (station, (x, _)) in stations(launch).iter().zip(points).take(6) {
        let expected = zero.0 + station.at_mm / 20.0 * (twenty.0 - zero.0);
        assert!((x - expected).abs() < 0.05, "{}: {x}, not {expected}", station.section);
        let named = document.descendants().any(|node| node.text() == Some(station.section));
        assert!(named, "{} is named", station.section);
    }
}

#[test]
fn the_least_safety_is_a_line_with_its_number() {
    let (review, picture) = wagon();
    let document = Document::parse(&picture).unwrap();
    for (panel, kind) in [("yield", axle::ProofKind::Yield), ("fatigue", axle::ProofKind::Fatigue)] {
        let required = review.proof.checks.iter().find(|check| check.kind == kind).unwrap().required;
        let (top, bottom) = edges(&document)[panel];
        let line = document
            .descendants()
            .find(|node| node.attribute("class") == Some("least") && (top..bottom).contains(&number(*node, "y1")))
            .unwrap();
        let (first, last) = {
            let ticks = ticks(&document, top, bottom);
            (ticks[0], ticks[ticks.len() - 1])
        };
        let expected = first.0 + (required / first.1).ln() / (last.1 / first.1).ln() * (last.0 - first.0);
        assert!((number(line, "y1") - expected).abs() < 0.02);
        let label = format!("least {required:.2}");
        assert!(document.descendants().any(|node| node.text() == Some(&label)));
    }
}

/// The box that a text takes at most, by the height of its class.
fn text_box(node: Node<'_, '_>) -> (f64, f64, f64, f64) {
    let height = match node.attribute("class").unwrap() {
        "title" => 18.0,
        "small" => 11.5,
        _ => 12.5,
    };
    let width = node.text().unwrap_or_default().chars().count() as f64 * height * 0.56;
    let (x, y) = (number(node, "x"), number(node, "y"));
    let left = match node.attribute("text-anchor").unwrap() {
        "start" => x,
        "middle" => x - width / 2.0,
        _ => x - width,
    };
    (left, y - 0.75 * height, left + width, y + 0.2 * height)
}

#[test]
fn every_order_gives_sound_xml_in_which_no_words_meet_or_leave_the_paper() {
    let catalog = Catalog::shipped().unwrap();
    for path in orders() {
        let (review, leading) = review(&path, &catalog);
        let Some(picture) = stress_plot(&review, leading) else {
            assert!(review.proof.cases.is_empty(), "{}", path.display());
            continue;
        };
        let document = Document::parse(&picture).unwrap();
        let paper = document.root_element();
        let texts: Vec<Node<'_, '_>> = document.descendants().filter(|node| node.has_tag_name("text")).collect();
        let boxes: Vec<_> = texts.iter().map(|node| text_box(*node)).collect();
        for (index, one) in boxes.iter().enumerate() {
            let words = texts[index].text().unwrap();
            assert!(one.0 >= 0.0 && one.2 <= number(paper, "width"), "{}: {words:?} leaves the paper", path.display());
            for (other_index, other) in boxes.iter().enumerate().skip(index + 1) {
                let apart = one.2 <= other.0 || other.2 <= one.0 || one.3 <= other.1 || other.3 <= one.1;
                assert!(apart, "{}: {words:?} meets {:?}", path.display(), texts[other_index].text());
            }
        }
        for case in &review.proof.cases {
            let listed = texts.iter().filter(|node| node.text() == Some(case.case.words())).count();
            assert_eq!(listed, 3, "{} stands beside each panel", case.case.words());
        }
    }
}

#[test]
fn no_two_load_cases_look_alike_without_their_colour() {
    let (_, picture) = wagon();
    let document = Document::parse(&picture).unwrap();
    let marks = document.descendants().filter(|node| node.attribute("class").is_some_and(|c| c.starts_with("mark ")));
    let mut shapes: BTreeMap<&str, &str> = BTreeMap::new();
    for mark in marks {
        let before = shapes.insert(mark.attribute("class").unwrap(), mark.attribute("d").unwrap());
        assert!(before.is_none_or(|before| before == mark.attribute("d").unwrap()));
    }
    let mut different: Vec<&&str> = shapes.values().collect();
    different.sort();
    different.dedup();
    assert_eq!((shapes.len(), different.len()), (6, 6));
    assert!(picture.contains("@media (prefers-color-scheme:dark)"));
}

#[test]
fn each_panel_says_where_its_worst_stands() {
    let (review, picture) = wagon();
    let document = Document::parse(&picture).unwrap();
    let weakest =
        review.proof.cases.iter().min_by(|a, b| a.yield_safety.harsh.total_cmp(&b.yield_safety.harsh)).unwrap();
    let words = format!("weakest: {} ({})", weakest.weakest, weakest.case.words());
    let said: Vec<_> = document.descendants().filter(|node| node.text() == Some(&words)).collect();
    let (top, _) = edges(&document)["yield"];
    assert!(said.iter().any(|node| (number(*node, "y") - (top - 9.0)).abs() < 0.02), "{words}");
}

#[test]
fn metric_sheets_lead_with_megapascals_and_millimetres() {
    let (review, _) = wagon();
    let picture = stress_plot(&review, Leading::Millimetres).unwrap();
    let document = Document::parse(&picture).unwrap();
    let place = |words: &str| document.descendants().find(|node| node.text() == Some(words)).unwrap();
    assert!(number(place("MPa"), "x") < number(place("ksi"), "x"));
    assert!(number(place("mm"), "y") < number(place("in"), "y"));
}
