//! Whatever makes the desk less careful is saved only by the owner, with a tick and a reason, whichever way it comes.

use std::time::Duration;

use book::{EventKind, Role};

use crate::desk_under_test::{DeskUnderTest, desk_with_accounts, open_desk};

type Fields<'t> = Vec<(&'t str, &'t str)>;

/// The address of a proposed change, once its effect is worked out, and its page.
pub async fn proposed(
    desk: &DeskUnderTest,
    session: Option<&str>,
    path: &str,
    fields: &Fields<'_>,
) -> (String, String) {
    let entered = desk.post_as(session, path, fields).await;
    assert_eq!(entered.status, 303, "{path}: {}", entered.text());
    let address = entered.header("location").to_owned();
    for _ in 0..200 {
        let page = desk.get_as(session, &address).await;
        if page.header("refresh").is_empty() {
            return (address, page.text());
        }
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
    panic!("the effect is never known");
}

fn own(desk: &DeskUnderTest, file: &str) -> String {
    std::fs::read_to_string(desk.folder.path().join("shop").join("catalog").join(file)).unwrap_or_default()
}

/// The change asks for a tick and a reason, and takes neither alone.
async fn asks(desk: &DeskUnderTest, address: &str, page: &str, file: &str) {
    let before = own(desk, file);
    assert!(
        page.contains("less careful") && page.contains("name=\"understood\"") && page.contains("name=\"reason\""),
        "{page}"
    );
    let save = format!("{address}/save");
    for too_little in [
        vec![],
        vec![("understood", "yes")],
        vec![("reason", "so be it")],
        vec![("understood", "yes"), ("reason", " ")],
    ] {
        let refused = desk.post(&save, &too_little).await;
        assert_eq!(refused.status, 422, "{}", refused.text());
        assert_eq!(own(desk, file), before);
    }
    assert_eq!(desk.post(&save, &[("understood", "yes"), ("reason", "agreed with the owner")]).await.status, 303);
    assert_ne!(own(desk, file), before);
    let last = desk.book().latest_events(50).await.unwrap();
    let noted = last.iter().find(|event| event.kind == EventKind::CatalogChanged).unwrap();
    assert_eq!(noted.body["reason"], "agreed with the owner");
    assert!(!noted.body["less_careful"].as_array().unwrap().is_empty());
}

#[tokio::test]
async fn every_way_to_be_less_careful_asks_the_same() {
    let source = ("source", "shop: tried out");
    let tolerances = |shoulder| {
        vec![
            ("overall_length", "1/32\""),
            ("shoulder_distance", shoulder),
            ("register_diameter", "0.0015\""),
            ("seat_diameter", "0.0005\""),
            ("free_size", "1/64\""),
            ("hole_position", "0.012\""),
            source,
        ]
    };
    let steel = |grade, treatment, hardened| {
        vec![("steel_grade", grade), ("steel_treatment", treatment), ("induction_hardened", hardened), source]
    };
    let strengths = vec![("row", "1541, hot-rolled"), ("tensile_strength", "900"), ("yield_strength", "700"), source];
    let bound = vec![("row", "street, axle_load"), ("mild", "400 kg"), ("harsh", "800 kg"), source];
    let ways: [(&str, Fields<'_>, &str); 6] = [
        ("/settings/change/tolerances", tolerances("0.001\""), "settings.toml"),
        ("/settings/change/tolerances", tolerances("0.020\""), "settings.toml"),
        ("/settings/change/proof", steel("300M", "quenched and tempered, least values", "yes"), "settings.toml"),
        ("/settings/change/proof.yield_safety", vec![("value", "1.1"), source], "settings.toml"),
        ("/catalog/change/steels", strengths, "steels.toml"),
        ("/catalog/change/loads", bound, "loads.toml"),
    ];
    for (path, fields, file) in ways {
        let desk = open_desk().await;
        let (address, page) = proposed(&desk, None, path, &fields).await;
        asks(&desk, &address, &page, file).await;
    }
}

#[tokio::test]
async fn beliefs_that_doubt_less_ask_as_well() {
    let desk = open_desk().await;
    let form = desk.get("/settings/change/beliefs").await.text();
    let value = |name: &str| {
        let head = form.split(&format!("name=\"{name}\"")).nth(1).unwrap_or_else(|| panic!("{name}: {form}"));
        let head = head.split('>').next().unwrap();
        head.split("value=\"").nth(1).unwrap().split('"').next().unwrap().replace("&quot;", "\"")
    };
    let names: Vec<&str> = form.split(" name=\"").skip(1).map(|part| part.split('"').next().unwrap()).collect();
    let mut fields: Vec<(String, String)> = Vec::new();
    for name in names.into_iter().filter(|name| !["source", "viewport", "description", "color-scheme"].contains(name)) {
        if form.contains(&format!("<textarea id=\"{name}\""))
            || !form.split(&format!("name=\"{name}\"")).nth(1).unwrap().split('>').next().unwrap().contains("value=")
        {
            continue;
        }
        fields.push((name.to_owned(), value(name)));
    }
    for (name, value) in &mut fields {
        if name == "unlisted_part" {
            *value = "0.001".to_owned();
        }
    }
    fields.push(("source".to_owned(), "shop: tried out".to_owned()));
    let fields: Fields<'_> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    let (address, page) = proposed(&desk, None, "/settings/change/beliefs", &fields).await;
    assert!(page.contains("how often a part is in no row of the catalog from 0.03 to 0.001"), "{page}");
    asks(&desk, &address, &page, "settings.toml").await;
}

#[tokio::test]
async fn going_back_is_asked_about_like_going_there() {
    let desk = open_desk().await;
    let safety = |value| vec![("value", value), ("source", "shop: agreed")];
    let (address, page) = proposed(&desk, None, "/settings/change/proof.yield_safety", &safety("1.6")).await;
    assert!(!page.contains("less careful"), "{page}");
    assert_eq!(desk.post(&format!("{address}/save"), &[]).await.status, 303);
    for way in ["/settings/undo", "/settings/drop/proof.yield_safety"] {
        let (address, page) = proposed(&desk, None, way, &vec![]).await;
        assert!(page.contains("against yielding falls from 1.6 to 1.25"), "{page}");
        assert!(own(&desk, "settings.toml").contains("1.6"));
        assert_eq!(desk.post(&format!("{address}/save"), &[("understood", "yes")]).await.status, 422);
        assert_eq!(desk.post(&format!("{address}/discard"), &[]).await.status, 303);
    }
    let (address, page) = proposed(&desk, None, "/settings/undo", &vec![]).await;
    asks(&desk, &address, &page, "settings.toml").await;
}

#[tokio::test]
async fn an_undo_never_goes_over_what_somebody_wrote_meanwhile() {
    let desk = open_desk().await;
    let safety = |value| vec![("value", value), ("source", "shop: agreed")];
    let (address, _) = proposed(&desk, None, "/settings/change/proof.yield_safety", &safety("1.6")).await;
    assert_eq!(desk.post(&format!("{address}/save"), &[]).await.status, 303);
    let (undo, _) = proposed(&desk, None, "/settings/undo", &vec![]).await;
    let (address, _) = proposed(&desk, None, "/settings/change/proof.fatigue_safety", &safety("1.7")).await;
    assert_eq!(desk.post(&format!("{address}/save"), &[]).await.status, 303);
    let refused = desk.post(&format!("{undo}/save"), &[("understood", "yes"), ("reason", "back")]).await;
    assert_eq!(refused.status, 422, "{}", refused.text());
    assert!(own(&desk, "settings.toml").contains("1.7"));
}

#[tokio::test]
async fn only_the_owner_makes_the_desk_less_careful() {
    let desk = desk_with_accounts().await;
    let (clerk, owner) = (desk.sign_in(Role::Desk).await, desk.sign_in(Role::Owner).await);
    let fields = vec![
        ("row", "1541, hot-rolled"),
        ("tensile_strength", "900"),
        ("yield_strength", "350"),
        ("source", "shop: a leaflet"),
    ];
    let (address, page) = proposed(&desk, Some(&clerk), "/catalog/change/steels", &fields).await;
    assert!(page.contains("Only the owner may save it") && !page.contains("name=\"understood\""), "{page}");
    let answer = [("understood", "yes"), ("reason", "a leaflet says so")];
    assert_eq!(desk.post_as(Some(&clerk), &format!("{address}/save"), &answer).await.status, 403);
    assert_eq!(desk.post_as(Some(&owner), &format!("{address}/save"), &answer).await.status, 303);
}
