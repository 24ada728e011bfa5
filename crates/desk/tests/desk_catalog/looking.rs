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
