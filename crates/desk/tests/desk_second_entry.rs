//! A paper that is entered a second time, blind, and held against its first keying.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod desk_under_test;

use book::{ReviewedSheet, Role};

use desk_under_test::{catalog, demo, desk_with_accounts, open_desk};

/// What the paper says for each field of the second entry.
fn second_entry(sheet: &ReviewedSheet) -> Vec<(String, String)> {
    let value = |value: &axle::Value| match value {
        axle::Value::Count(count) => count.to_string(),
        axle::Value::Length(all) => all.iter().map(|one| one.text().to_owned()).collect::<Vec<_>>().join("; "),
    };
    let readings = sheet.sheet.readings.iter().enumerate();
    let mut fields: Vec<_> = readings.map(|(at, one)| (format!("r{at}"), value(&one.value))).collect();
    fields.push(("revision".to_owned(), "1".to_owned()));
    fields
}

fn borrowed(fields: &[(String, String)]) -> Vec<(&str, &str)> {
    fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect()
}

#[tokio::test]
async fn a_second_entry_is_blind_and_the_paper_decides() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    let (own, other) = (desk.sign_in(Role::Desk).await, desk.sign_in(Role::Owner).await);
    assert_eq!(
        desk.get_as(Some(&own), "/orders/1/second-entry").await.status,
        403,
        "who keyed first is not the second"
    );
    let blank = desk.get_as(Some(&other), "/orders/1/second-entry").await.text();
    let sheet = ReviewedSheet::read("sheet", &demo("01-hay-truck"), catalog()).unwrap();
    let places =
        ["left overall length", "left brake offset", "flange thickness", "register diameter", "number of spline teeth"];
    let places: Vec<usize> = places.iter().map(|words| blank.find(&format!(">{words}")).unwrap()).collect();
    assert!(places.is_sorted(), "the readings stand as on the form: {places:?}");
    for hidden in ["2.7790", "3.149", "6 5/8", "1.4226"] {
        assert!(!blank.contains(hidden), "{hidden} can be seen");
    }
    let mut fields = second_entry(&sheet);
    let same = desk.post_as(Some(&other), "/orders/1/second-entry", &borrowed(&fields)).await;
    assert_eq!(same.status, 303);
    assert!(desk.book().messages(1).await.unwrap()[0].words.contains("all as they were keyed first"));

    let commas: Vec<_> = fields.iter().map(|(name, value)| (name.clone(), value.replace(';', ","))).collect();
    assert!(commas != fields, "there are repeats");
    let same = desk.post_as(Some(&other), "/orders/1/second-entry", &borrowed(&commas)).await;
    assert_eq!(same.status, 303);
    assert!(desk.book().messages(1).await.unwrap()[1].words.contains("all as they were keyed first"));

    let at_of = |wanted: axle::Measurand| sheet.sheet.readings.iter().position(|one| one.measurand == wanted).unwrap();
    let (thickness, bore) = (at_of(axle::Measurand::FlangeThickness), at_of(axle::Measurand::WheelBore));
    fields[thickness].1 = "0.412".to_owned();
    fields[bore].1 = "2.768".to_owned();
    let differ = desk.post_as(Some(&other), "/orders/1/second-entry", &borrowed(&fields)).await.text();
    assert!(differ.contains("2 readings differ") && differ.contains("0.421 in") && differ.contains("0.412 in"));
    assert!(
        desk.book().messages(1).await.unwrap()[2].words.contains("flange thickness: first 0.421 in, second 0.412 in")
    );

    fields.push((format!("decide{thickness}"), "second".to_owned()));
    let half = desk.post_as(Some(&other), "/orders/1/second-entry/decide", &borrowed(&fields)).await;
    assert_eq!(half.status, 422, "the bore is not decided");
    fields.push((format!("decide{bore}"), "unclear".to_owned()));
    let decided = borrowed(&fields);
    let settled = desk.post_as(Some(&other), "/orders/1/second-entry/decide", &decided).await;
    assert_eq!(settled.status, 303);
    assert!(settled.header("location").starts_with("/orders/1/messages?direction=to%20customer&words="));
    let order = desk.book().order(1).await.unwrap();
    assert_eq!(order.line.revision, 2);
    assert_eq!(order.sheet, demo("01-hay-truck").replacen("\"0.421\"", "\"0.412\"", 1), "nothing else was touched");
    let reason = &desk.book().revision(1, 2).await.unwrap().reason;
    assert_eq!(reason, "second entry against the paper: flange thickness is 0.412 in and not 0.421 in");
    assert_eq!(desk.post_as(Some(&other), "/orders/1/second-entry/decide", &decided).await.status, 403, "keyed by now");
}

/// Two people, one of whom changes the order on purpose while nobody has looked at the paper a second time.
#[tokio::test]
async fn a_second_entry_is_held_against_the_first_keying_and_not_against_what_was_changed_since() {
    let desk = desk_with_accounts().await;
    let line = desk.place("01-hay-truck").await;
    let other = desk.sign_in(Role::Owner).await;
    desk.revise(&line, "0.421", "0.422").await;
    let sheet = ReviewedSheet::read("sheet", &demo("01-hay-truck"), catalog()).unwrap();
    let at = sheet.sheet.readings.iter().position(|one| one.measurand == axle::Measurand::FlangeThickness).unwrap();
    let mut fields = second_entry(&sheet);
    fields.iter_mut().find(|(name, _)| name == "revision").unwrap().1 = "2".to_owned();

    // The paper says what was keyed from it first: no difference, and the change is told beside it.
    let same = desk.post_as(Some(&other), "/orders/1/second-entry", &borrowed(&fields)).await;
    assert_eq!(same.status, 303);
    let told = desk.book().messages(1).await.unwrap().pop().unwrap().words;
    assert!(told.contains("with revision 1") && told.contains("all as they were keyed first"), "{told}");
    assert!(
        told.contains("flange thickness, from 0.421 in to 0.422 in since revision 2 (Wenna Tarrow: read again)"),
        "{told}"
    );

    // The first hand slipped as well: the paper decides about the slip, and the change on purpose stays.
    fields[at].1 = "0.412".to_owned();
    let differ = desk.post_as(Some(&other), "/orders/1/second-entry", &borrowed(&fields)).await.text();
    assert!(differ.contains("1 reading differs") && differ.contains("0.421 in") && differ.contains("0.412 in"));
    assert!(differ.contains("changed on purpose meanwhile: 0.422 in since revision 2"), "{differ}");
    fields.push((format!("decide{at}"), "second".to_owned()));
    let settled = desk.post_as(Some(&other), "/orders/1/second-entry/decide", &borrowed(&fields)).await;
    assert_eq!(settled.header("location"), "/orders/1/history");
    assert_eq!(desk.book().order(1).await.unwrap().line.revision, 2, "no third revision");
    let told = desk.book().messages(1).await.unwrap().pop().unwrap().words;
    assert!(told.contains("0.412 in, as was keyed second; the order was changed on purpose"), "{told}");

    // What was keyed with the second revision is a paper of its own, with that reading alone.
    let page = desk.get_as(Some(&other), "/orders/1/second-entry?keyed=2").await.text();
    assert!(page.contains("name=\"r0\"") && !page.contains("name=\"r1\"") && !page.contains("0.422"), "{page}");
    assert_eq!(desk.get_as(Some(&other), "/orders/1/second-entry?keyed=3").await.status, 404);
}

#[tokio::test]
async fn what_cannot_be_read_in_a_second_entry_is_said_beside_it() {
    let desk = open_desk().await;
    let line = desk.place("01-hay-truck").await;
    assert!(desk.get("/orders/1/second-entry").await.text().contains("This desk is open"));
    let faulty = desk.post("/orders/1/second-entry", &[("revision", "1"), ("r0", "thirty")]).await;
    assert_eq!(faulty.status, 422);
    assert!(faulty.text().contains("value=\"thirty\"") && faulty.text().contains("id=\"r0-fault\""));
    assert!(faulty.text().contains("commas or semicolons"));
    desk.revise(&line, "0.421", "0.422").await;
    assert_eq!(desk.post("/orders/1/second-entry", &[("revision", "1"), ("r0", "2.175")]).await.status, 409);
}
