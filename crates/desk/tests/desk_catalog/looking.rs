//! What the catalog shows: every kind and row, every size and load in both systems of units, and what is to be checked.

use crate::desk_under_test::open_desk;
use crate::links;

const KINDS: [&str; 13] = [
    "bearings",
    "housing-ends",
    "splines",
    "bolt-circles",
    "studs",
    "brakes",
    "differentials",
    "steels",
    "instruments",
    "mistakes",
    "measurands",
    "inquiries",
    "loads",
];

#[tokio::test]
async fn every_kind_and_every_row_can_be_looked_at() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let first = desk.get("/catalog").await;
    assert_eq!(first.status, 200);
    let mut rows = 0;
    for kind in KINDS {
        assert!(first.text().contains(&format!("href=\"/catalog/{kind}\"")), "{kind}");
        let table = desk.get(&format!("/catalog/{kind}")).await;
        assert_eq!(table.status, 200, "{kind}");
        let links = links(&table.text(), &format!("/catalog/{kind}/"));
        assert!(links.len() > 2, "{kind}");
        for link in links {
            let page = desk.get(&link).await;
            assert_eq!(page.status, 200, "{link}");
            rows += 1;
        }
    }
    assert!(rows > 200);
    let bearings = desk.get("/catalog/bearings").await.text();
    // 1.532 in is 38.9128 mm, and 80 mm are 3.14961 in.
    assert!(bearings.contains("1.532&quot;") && bearings.contains("38.913 mm"));
    assert!(bearings.contains("80 mm") && bearings.contains("3.1496 in"));
    // What is loaded stands in both systems as well: 500 kg are 1102.3 lb, 830 MPa are 120.4 ksi (NIST SP 811, appendix B.8).
    let loads = desk.get("/catalog/loads").await.text();
    for (metric, inch) in
        [("500 kg", "1102 lb"), ("220 N·m", "162 lb·ft"), ("100000 km", "62137 mi"), ("830 MPa", "120.4 ksi")]
    {
        let both = format!("{metric}</span> <span class=\"other\">{inch}");
        assert!(loads.contains(&both), "{metric}: {inch}");
    }
}

#[tokio::test]
async fn what_is_from_memory_is_counted_be_it_a_row_or_a_part_of_one() {
    let desk = open_desk().await;
    let shipped = catalog::Catalog::shipped().unwrap();
    let from_memory = |source: &catalog::Source| *source == catalog::Source::FromMemory;
    let rows = shipped.bearings.iter().filter(|row| from_memory(&row.source)).count();
    let rated = |row: &&catalog::Bearing| row.rating.as_ref().is_some_and(|rating| from_memory(&rating.source));
    let only_rated = shipped.bearings.iter().filter(|row| !from_memory(&row.source)).filter(rated).count();
    assert!(rows > 0 && only_rated > 0);
    let page = desk.get("/catalog").await.text();
    let line = page.split("href=\"/catalog/bearings\"").nth(1).unwrap().split("</tr>").next().unwrap();
    assert!(line.contains(&format!("data-label=\"to check\">{}<", rows + only_rated)), "{line}");
    let name = &shipped.bearings.iter().find(|row| !from_memory(&row.source) && rated(row)).unwrap().name;
    let row = desk.get(&format!("/catalog/bearings/{}", name.replace(' ', "%20"))).await.text();
    assert!(row.contains("Nobody has seen its rating in print"), "{row}");
}
